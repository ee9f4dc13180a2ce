//! A small app that embeds the library: it keeps an auditor as state, answers where the boat is, draws zones on a map, and
//! hands results on as JSON.

use std::error::Error;

use takeline::geo_types::MultiPolygon;
use takeline::jiff::Timestamp;
use takeline::track::{Auditor, LoggedFix, TrackEvent, TrackSettings};
use takeline::zone::Extent;
use takeline::{
    AccuracyKind, Boundary, EdgeModel, Fix, HorizontalUncertainty, Metres, Position, Question, Undecided,
    WaterStatus, ZoneSet,
};

/// From bytes and a fix to a verdict in five lines.
fn water(bytes: &[u8], here: Position) -> Result<WaterStatus, Box<dyn Error>> {
    let zones = ZoneSet::from_geojson("marrowick.json", bytes)?;
    let uncertainty = HorizontalUncertainty::given(5.0, AccuracyKind::P68)?;
    let fix = Fix::new(here, uncertainty).at("2026-07-01T05:30:00Z".parse()?);
    let answer = zones.assess(&fix, &Question::default().fish("sprat"));
    Ok(answer.verdict().water)
}

/// What the app keeps from one fix to the next, in a static or on another thread.
struct App {
    zones: ZoneSet,
    auditor: Auditor,
}

impl App {
    fn start(bytes: &[u8]) -> Result<Self, Box<dyn Error>> {
        let zones = ZoneSet::from_geojson("marrowick.json", bytes)?;
        let auditor = Auditor::new(&zones, TrackSettings::default());
        Ok(Self { zones, auditor })
    }

    fn on_fix(&mut self, fix: Fix) -> Vec<TrackEvent> {
        self.auditor.push(LoggedFix::from(fix))
    }

    /// The zones whose lines are known, to draw.
    fn map(&self) -> Result<Vec<MultiPolygon>, Box<dyn Error>> {
        let tolerance = Metres::new(1.0)?;
        let known = self.zones.zones().iter().filter(|zone| matches!(zone.extent, Extent::Known(_)));
        known.map(|zone| Ok(zone.outline(tolerance)?)).collect()
    }

    fn as_json(&self, fix: &Fix) -> Result<serde_json::Value, Box<dyn Error>> {
        Ok(serde_json::to_value(self.zones.assess(fix, &Question::default()))?)
    }
}

fn main() -> Result<(), Box<dyn Error>> {
    let bytes = std::fs::read(std::env::args().nth(1).ok_or("give a zone file")?)?;
    assert_eq!(water(&bytes, Position::from_degrees(45.1170, -30.1190)?)?, WaterStatus::Closed);
    assert_eq!(water(&bytes, Position::from_degrees(45.3000, -30.5000)?)?, WaterStatus::Unzoned);

    let mut app = std::thread::spawn(move || App::start(&bytes).map_err(|error| error.to_string()))
        .join()
        .map_err(|_| "the app did not start")??;
    let uncertainty = HorizontalUncertainty::assumed();
    let mut entered = 0;
    for second in 0..120_i32 {
        let position = Position::from_degrees(45.1170 + f64::from(second) * 1e-5, -30.1190)?;
        let time = Timestamp::from_second(1_782_880_000 + i64::from(second))?;
        let fix = Fix::new(position, uncertainty).at(time);
        let events = app.on_fix(fix);
        entered += events.iter().filter(|event| event.is_certain_entry()).count();
    }
    assert!(entered >= 1, "the boat lies inside");

    let map = app.map()?;
    assert!(map.len() >= 5, "only {} zones were drawn", map.len());
    for outline in &map {
        assert!(Boundary::from_multi_polygon(outline, EdgeModel::PlateCarree)?.area_m2() > 0.0);
    }

    let fix = Fix::new(Position::from_degrees(45.1575, -30.1775)?, uncertainty);
    let answer = app.zones.assess(&fix, &Question::default());
    assert!(answer.verdict().undecided.iter().any(|open| matches!(open, Undecided::InForce(_))));
    let written = app.as_json(&fix)?;
    assert_eq!(written["fix"]["position"]["latitude_deg"], 45.1575);
    assert!(written["zones"][0]["signed_distance_m"].is_number(), "{written}");
    println!("{written}");

    let audit = app.auditor.finish();
    assert!(audit.visits.iter().any(|visit| visit.zone.to_string() == "sallow-cove"));
    Ok(())
}
