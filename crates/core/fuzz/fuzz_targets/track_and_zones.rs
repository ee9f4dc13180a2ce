//! Any track against any zones: an audit holds what it promises, and a track of one fix says what that fix says.
#![no_main]

use jiff::Timestamp;
use libfuzzer_sys::arbitrary::{self, Arbitrary};
use libfuzzer_sys::fuzz_target;
use takeline::track::{Audit, Auditor, Certainty, LogPlace, LoggedFix, TrackSettings};
use takeline::zone::ZoneSet;
use takeline::{AccuracyKind, Containment, Fix, HorizontalUncertainty, Position, Question};

const MOST_FIXES: usize = 60;
/// 2026-07-25T06:00:00Z.
const START_S: i64 = 1_784_959_200;

#[derive(Debug, Arbitrary)]
struct Voyage {
    boxes: [Square; 3],
    steps: Vec<Step>,
}

/// A square near Marrowick, in thousandths of a degree from its corner.
#[derive(Debug, Arbitrary)]
struct Square {
    south: u8,
    west: u8,
    side: u8,
    model: u8,
    hours: Option<(u8, u8)>,
}

#[derive(Debug, Arbitrary)]
struct Step {
    seconds: i16,
    is_timed: bool,
    breaks: bool,
    north: i8,
    east: i8,
    accuracy_m: Option<u8>,
}

impl Square {
    fn feature(&self, number: usize) -> String {
        let side = f64::from(self.side) / 1000.0 + 0.001;
        let (south, west) = (45.0 + f64::from(self.south) / 1000.0, -30.2 + f64::from(self.west) / 1000.0);
        let (north, east) = (south + side, west + side);
        let edges = ["geodesic", "rhumb", "lonlat"][usize::from(self.model % 3)];
        let when = self.hours.filter(|(from, to)| from % 24 != to % 24).map_or_else(String::new, |(from, to)| {
            format!(r#","when":{{"hours":{{"from":"{:02}:00","to":"{:02}:00"}}}}"#, from % 24, to % 24)
        });
        format!(
            r#"{{"type":"Feature","id":"square-{number}","geometry":{{"type":"Polygon","coordinates":
               [[[{west},{south}],[{east},{south}],[{east},{north}],[{west},{north}],[{west},{south}]]]}},"properties":
               {{"name":"Square","edges":"{edges}","take":"none"{when},"source":{{"instrument":"Fuzz Order"}}}}}}"#
        )
    }
}

impl Voyage {
    fn zones(&self) -> ZoneSet {
        let features: Vec<String> = self.boxes.iter().enumerate().map(|(number, one)| one.feature(number)).collect();
        let file = format!(
            r#"{{"type":"FeatureCollection","takeline":{{"format":"takeline.zones/1","datum":"WGS 84","time_zone":"UTC"}},
               "features":[{}]}}"#,
            features.join(",")
        );
        let loaded = takeline::zone_file::read("squares.json", file.as_bytes());
        ZoneSet::new(loaded.unwrap_or_else(|refused| panic!("{refused}\n{file}")).zones)
    }

    fn fixes(&self) -> Vec<LoggedFix> {
        let (mut at_s, mut lat_deg, mut lon_deg, mut stretch) = (START_S, 45.12, -30.1, 0);
        let steps = self.steps.iter().take(MOST_FIXES).enumerate();
        steps
            .map(|(number, step)| {
                at_s += i64::from(step.seconds) / 8;
                lat_deg += f64::from(step.north) / 20_000.0;
                lon_deg += f64::from(step.east) / 20_000.0;
                stretch += u32::from(step.breaks);
                LoggedFix {
                    position: Position::from_degrees(lat_deg, lon_deg).expect("near Marrowick"),
                    time: step.is_timed.then(|| Timestamp::from_second(at_s).expect("in this century")),
                    uncertainty: step.accuracy_m.map(|metres| {
                        let metres = f64::from(metres) + 1.0;
                        HorizontalUncertainty::given(metres, AccuracyKind::P95).expect("above zero")
                    }),
                    hdop: None,
                    time_between: None, jump_kn: None,
                    speed_m_per_s: None,
                    place: LogPlace { line: number as u64 + 1, byte: 0, stretch },
                }
            })
            .collect()
    }
}

fn audit(zones: &ZoneSet, fixes: &[LoggedFix]) -> Audit {
    let mut auditor = Auditor::new(zones, TrackSettings::default());
    for fix in fixes {
        auditor.push(*fix);
    }
    auditor.finish()
}

fuzz_target!(|voyage: Voyage| {
    let (zones, fixes) = (voyage.zones(), voyage.fixes());
    check(&audit(&zones, &fixes), fixes.len());
    if let Some(first) = fixes.first() {
        check_one(&zones, first);
    }
});

fn check(audit: &Audit, fixes: usize) {
    assert_eq!(audit.quality.fixes, fixes as u64);
    assert!(audit.path.metres().is_finite() && audit.path.metres() >= 0.0);
    for visit in &audit.visits {
        if let Some((entered, left)) = visit.entered().time.zip(visit.left().time) {
            assert!(entered <= left, "entered {entered}, left {left}");
        }
        for (certain_s, possible_s) in [
            (visit.certain_s, visit.possible_s),
            (visit.in_force_certain_s, visit.in_force_possible_s),
            (visit.in_force_certain_s, visit.certain_s),
            (visit.in_force_possible_s, visit.possible_s),
        ] {
            assert_eq!(certain_s.is_some(), possible_s.is_some(), "{visit:?}");
            let (certain_s, possible_s) = (certain_s.unwrap_or(0.0), possible_s.unwrap_or(0.0));
            assert!(certain_s >= 0.0 && certain_s <= possible_s + 1e-6, "{certain_s} s in {possible_s} s");
        }
        assert!(visit.deepest.is_some_and(|depth| depth.metres().is_finite()), "the line is known");
        assert!(visit.deepest_uncertainty_95.metres() >= 0.0);
        assert!(visit.crossings.iter().all(|number| *number < audit.crossings.len()));
    }
}

/// A track of one fix and that fix alone agree about every zone.
fn check_one(zones: &ZoneSet, logged: &LoggedFix) {
    let uncertainty = logged.uncertainty.unwrap_or_else(HorizontalUncertainty::assumed);
    let fix = Fix::new(logged.position, uncertainty).at_time(logged.time);
    let question = Question::default().listing_all_zones();
    let assessment = zones.assess(&fix, &question);
    let audit = audit(zones, std::slice::from_ref(logged));
    for finding in &assessment.zones {
        let visited = audit.visits.iter().find(|visit| visit.zone == finding.id).map(|visit| visit.certainty);
        let expected = match finding.containment {
            Containment::Inside => Some(Certainty::Certain),
            Containment::Outside => None,
            Containment::Undecided => Some(Certainty::Possible),
        };
        assert_eq!(visited, expected, "{}: {:?}", finding.id, finding.signed_distance);
    }
}
