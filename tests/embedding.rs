//! The library as another program meets it: values to keep as state, questions built up, a verdict to act on.

use std::error::Error;
use std::path::Path;

use takeline::track::{Audit, Auditor, CatchJoin, LogPlace, LoggedFix, TrackEvent, TrackSettings};
use takeline::zone_file::{self, WarningKind};
use takeline::{
    AccuracyKind, Assessment, Boundary, Fix, HorizontalUncertainty, Metres, Position, Question, TakeAnswer,
    Tristate, Undecided, WaterStatus, ZoneSet,
};

fn marrowick() -> Result<ZoneSet, Box<dyn Error>> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data/zones/marrowick.json");
    Ok(ZoneSet::from_geojson("marrowick.json", &std::fs::read(path)?)?)
}

fn fix(lat_deg: f64, lon_deg: f64) -> Result<Fix, Box<dyn Error>> {
    let uncertainty = HorizontalUncertainty::given(8.0, AccuracyKind::P95)?;
    Ok(Fix::new(Position::from_degrees(lat_deg, lon_deg)?, uncertainty).at("2026-07-01T06:25:00Z".parse()?))
}

fn logged(second: i64, lat_deg: f64, lon_deg: f64) -> Result<LoggedFix, Box<dyn Error>> {
    Ok(LoggedFix {
        position: Position::from_degrees(lat_deg, lon_deg)?,
        time: Some(jiff::Timestamp::from_second(1_782_880_000 + second)?),
        uncertainty: None,
        hdop: None,
        speed_m_per_s: None,
        time_between: None,
        jump_kn: None,
        place: LogPlace::default(),
    })
}

/// A screen of an app, which keeps what it needs and borrows nothing.
struct Screen {
    zones: ZoneSet,
    auditor: Auditor,
    seen: Vec<TrackEvent>,
}

#[test]
fn the_main_types_can_be_kept_and_sent_to_other_threads() {
    fn keeps<T: Send + Sync + 'static>() {}
    keeps::<ZoneSet>();
    keeps::<Boundary>();
    keeps::<Fix>();
    keeps::<Question>();
    keeps::<Assessment>();
    keeps::<Auditor>();
    keeps::<Audit>();
    keeps::<CatchJoin>();
    keeps::<TrackEvent>();
    keeps::<zone_file::LoadZonesError>();
}

#[test]
fn an_auditor_outlives_the_handle_it_was_made_from_and_goes_to_another_thread() -> Result<(), Box<dyn Error>>
{
    let zones = marrowick()?;
    let mut screen =
        Screen { auditor: Auditor::new(&zones, TrackSettings::default()), zones, seen: Vec::new() };
    for step in 0..60_i32 {
        let fix = logged(i64::from(step) * 10, 45.1170 + f64::from(step) * 1e-4, -30.1190)?;
        screen.seen.extend(screen.auditor.push(fix));
    }
    drop(screen.zones);
    let audit =
        std::thread::spawn(move || screen.auditor.finish()).join().map_err(|_| "the audit ended badly")?;
    assert!(audit.visits.iter().any(|visit| visit.zone.to_string() == "sallow-cove"), "{:?}", audit.visits);
    assert!(!screen.seen.is_empty());
    Ok(())
}

#[test]
fn a_clone_of_a_set_shares_its_zones() -> Result<(), Box<dyn Error>> {
    let zones = marrowick()?;
    assert!(std::ptr::eq(zones.zones(), zones.clone().zones()));
    Ok(())
}

#[test]
fn what_is_odd_about_a_file_stays_with_its_zones() -> Result<(), Box<dyn Error>> {
    let bytes = br#"{ "type": "FeatureCollection", "takeline": { "format": "takeline.zones/1" },
      "features": [ { "type": "Feature", "id": "cove", "geometry": { "type": "Polygon", "coordinates":
        [[[-30.13, 45.11], [-30.11, 45.11], [-30.11, 45.125], [-30.13, 45.125], [-30.13, 45.11]]] },
        "properties": { "name": "Cove", "edges": "rhumb", "take": "none", "source": { "instrument": "Order" } } } ] }"#;
    let one = ZoneSet::from_geojson("cove.json", bytes)?;
    let kinds: Vec<_> = one.warnings().iter().map(|warning| warning.kind).collect();
    assert_eq!(kinds, [WarningKind::DatumUnstated]);
    let files = [zone_file::read("one.json", bytes)?, zone_file::read("two.json", bytes)?];
    let both: ZoneSet = files.into_iter().collect();
    assert_eq!((both.zones().len(), both.warnings().len()), (2, 2));
    assert!(ZoneSet::default().zones().is_empty() && ZoneSet::default().warnings().is_empty());
    Ok(())
}

#[test]
fn a_verdict_names_the_zones_that_surely_bind() -> Result<(), Box<dyn Error>> {
    let zones = marrowick()?;
    let answer = zones.assess(&fix(45.1170, -30.1190)?, &Question::default().fish("pollack"));
    let verdict = answer.verdict();
    assert_eq!(verdict.water, WaterStatus::Closed);
    assert_eq!(verdict.binding[0].id.to_string(), "sallow-cove");
    assert!(verdict.one_of.is_empty() && verdict.is_settled());
    assert_eq!(answer.take[0].answer, TakeAnswer::Release);
    Ok(())
}

#[test]
fn a_verdict_says_which_side_and_which_fish_are_open() -> Result<(), Box<dyn Error>> {
    let zones = marrowick()?;
    let answer = zones.assess(&fix(45.1150, -30.169_949)?, &Question::default().fish("whitebait"));
    let verdict = answer.verdict();
    assert_eq!(verdict.water, WaterStatus::Undecided);
    assert!(verdict.binding.is_empty() && !verdict.is_settled());
    assert!(verdict.undecided.iter().any(|open| matches!(open, Undecided::Side(_))), "{verdict:?}");
    assert!(verdict.undecided.iter().any(|open| matches!(open, Undecided::Fish(_))), "{verdict:?}");
    Ok(())
}

#[test]
fn a_verdict_leaves_a_distance_open_that_the_answer_leaves_open() -> Result<(), Box<dyn Error>> {
    let zones = marrowick()?;
    let mut left_open = 0;
    for distance_m in [1.0, 30.0, 100.0, 300.0, 340.0, 350.0, 360.0, 1_000.0] {
        let here = Fix::new(Position::from_degrees(45.1170, -30.1125)?, HorizontalUncertainty::assumed());
        let answer = zones.assess(&here, &Question::default().keeping_off(Metres::new(distance_m)?));
        let verdict = answer.verdict();
        assert_eq!(verdict.standoff_kept, answer.standoff_kept);
        let is_open = verdict.undecided.iter().any(|open| matches!(open, Undecided::Standoff));
        assert_eq!(is_open, answer.standoff_kept == Some(Tristate::Undecided), "{distance_m}");
        assert!(!(is_open && verdict.is_settled()));
        left_open += usize::from(is_open);
    }
    assert!(left_open > 0);
    Ok(())
}

#[test]
fn a_verdict_without_a_time_says_that_the_season_is_open() -> Result<(), Box<dyn Error>> {
    let zones = marrowick()?;
    let untimed = fix(45.1575, -30.1775)?.at_time(None);
    let answer = zones.assess(&untimed, &Question::default());
    let verdict = answer.verdict();
    assert!(verdict.undecided.iter().any(|open| matches!(open, Undecided::InForce(_))), "{verdict:?}");
    Ok(())
}

#[test]
fn a_verdict_doubts_a_position_that_a_slip_explains() -> Result<(), Box<dyn Error>> {
    let zones = marrowick()?;
    for (lat_deg, lon_deg) in [(0.0, 0.0), (-30.1190, 45.1170)] {
        let answer = zones.assess(&fix(lat_deg, lon_deg)?, &Question::default());
        let verdict = answer.verdict();
        assert_eq!(verdict.water, WaterStatus::Undecided);
        assert!(matches!(verdict.undecided[..], [Undecided::Position]), "{verdict:?}");
    }
    Ok(())
}

#[test]
fn a_verdict_out_at_sea_is_that_no_loaded_zone_applies() -> Result<(), Box<dyn Error>> {
    let answer = marrowick()?.assess(&fix(45.3, -30.5)?, &Question::default());
    let verdict = answer.verdict();
    assert_eq!(verdict.water, WaterStatus::Unzoned);
    assert!(verdict.binding.is_empty() && verdict.is_settled());
    Ok(())
}

/// Two no-take zones that share the meridian 30.13° W.
fn adjoining(second: &str) -> Result<ZoneSet, Box<dyn Error>> {
    let feature = |id: &str, west: f64, take: &str| {
        let east = west + 0.01;
        format!(
            r#"{{ "type": "Feature", "id": "{id}", "geometry": {{ "type": "Polygon", "coordinates":
                 [[[{west}, 45.10], [{east}, 45.10], [{east}, 45.12], [{west}, 45.12], [{west}, 45.10]]] }},
                 "properties": {{ "name": "{id}", "edges": "rhumb", "take": {take},
                                  "source": {{ "instrument": "Marrowick Waters Order" }} }} }}"#
        )
    };
    let text = format!(
        r#"{{ "type": "FeatureCollection", "takeline": {{ "format": "takeline.zones/1", "title": "Marrowick", "edition": "1",
             "datum": "WGS 84", "time_zone": "UTC",
             "taxa": [ {{ "id": "sprat", "scientific": "Sprattus sprattus", "names": ["sprat"] }} ], "groups": [] }},
             "features": [ {}, {} ] }}"#,
        feature("west", -30.14, r#""none""#),
        feature("east", -30.13, second)
    );
    Ok(ZoneSet::from_geojson("marrowick.json", text.as_bytes())?)
}

#[test]
fn closed_whichever_of_two_zones_it_is_in_is_settled() -> Result<(), Box<dyn Error>> {
    let zones = adjoining(r#""none""#)?;
    let answer = zones.assess(&fix(45.11, -30.13)?, &Question::default().fish("sprat"));
    let verdict = answer.verdict();
    assert_eq!(verdict.water, WaterStatus::Closed);
    let mut one_of: Vec<_> = verdict.one_of.iter().map(|zone| zone.id.to_string()).collect();
    one_of.sort();
    assert_eq!(one_of, ["east", "west"]);
    assert!(verdict.binding.is_empty() && verdict.is_settled(), "{verdict:?}");
    // which of them it is stays open all the same
    assert!(verdict.undecided.iter().all(|open| matches!(open, Undecided::Side(_))), "{verdict:?}");
    assert_eq!(answer.take[0].answer, TakeAnswer::Release);
    Ok(())
}

#[test]
fn a_border_of_which_one_side_is_closed_is_not_settled() -> Result<(), Box<dyn Error>> {
    let zones = adjoining(r#"{ "only": ["sprat"] }"#)?;
    let answer = zones.assess(&fix(45.11, -30.13)?, &Question::default());
    let verdict = answer.verdict();
    assert_eq!(verdict.water, WaterStatus::Undecided);
    assert!(verdict.one_of.is_empty() && !verdict.is_settled(), "{verdict:?}");
    Ok(())
}
