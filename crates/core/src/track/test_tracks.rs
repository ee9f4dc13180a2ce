//! Zones and logs that the tests of tracks share.

use std::sync::Arc;

use jiff::{SignedDuration, Timestamp};

use super::{Audit, Auditor, Certainty, LogOrder, LogPlace, LoggedFix, OrderedLog, TrackSettings};
use crate::geodesic::{direct, inverse};
use crate::rule::{Passage, Possession, Take, TakeRule, When};
use crate::zone::{Datum, Effective, Extent, LineBelongs, Source, Status, Zone, ZoneFile, ZoneId, ZoneSet};
use crate::{AccuracyKind, Boundary, EdgeModel, HorizontalUncertainty, Metres, PartSpec, Position, RingSpec};

pub(super) fn at(lat: f64, lon: f64) -> Position {
    Position::from_degrees(lat, lon).unwrap()
}

/// Noon of a day in July, and so many seconds.
pub(super) fn noon(seconds: f64) -> Timestamp {
    let noon: Timestamp = "2026-07-01T12:00:00Z".parse().unwrap();
    noon.checked_add(SignedDuration::try_from_secs_f64(seconds).unwrap()).unwrap()
}

pub(super) fn since_noon(time: Option<Timestamp>) -> f64 {
    time.unwrap().duration_since(noon(0.0)).as_secs_f64()
}

pub(super) fn zone(id: &str, corners: Vec<Position>, passage: Option<Passage>) -> Zone {
    let edges = vec![EdgeModel::Geodesic; corners.len()];
    let exterior = RingSpec { vertices: corners, edges, sides: Vec::new() };
    let boundary = Boundary::build(&[PartSpec::Polygon { exterior, holes: vec![] }]).unwrap();
    Zone {
        id: ZoneId(id.to_owned()),
        name: id.to_owned(),
        extent: Extent::Known(boundary),
        line_uncertainty: Metres::ZERO,
        datum: Datum::Wgs84,
        datum_is_of_the_file: true,
        line_belongs: LineBelongs::ToZone,
        time_zone: jiff::tz::TimeZone::UTC,
        status: Status::InForce,
        effective: Effective::default(),
        when: When::Always,
        rule: TakeRule {
            take: Take::Nothing,
            limits: Vec::new(),
            possession: Possession::Unstated,
            passage,
            binds: Vec::new(),
            conditions: Vec::new(),
        },
        overrides: Vec::new(),
        source: Source::default(),
        proofread: None,
        may_change_by_notice: false,
        as_published: Vec::new(),
        file: Arc::new(ZoneFile::default()),
    }
}

/// A strip that is so wide, with its west side through a place and 10 km to the north and south of it.
pub(super) fn strip(middle_west: Position, width_m: f64) -> Vec<Position> {
    let south_west = direct(middle_west, 180.0, 10_000.0);
    let north_west = direct(middle_west, 0.0, 10_000.0);
    let east = |place| direct(place, 90.0, width_m);
    vec![south_west, east(south_west), east(north_west), north_west]
}

pub(super) const HOME: (f64, f64) = (45.11, -30.12);

pub(super) fn fix(position: Position, seconds: f64, p95_m: f64) -> LoggedFix {
    LoggedFix {
        position,
        time: Some(noon(seconds)),
        uncertainty: Some(HorizontalUncertainty::given(p95_m, AccuracyKind::P95).unwrap()),
        hdop: None,
        speed_m_per_s: None,
        time_between: None,
        jump_kn: None,
        place: LogPlace::default(),
    }
}

pub(super) fn audit(zones: &ZoneSet, fixes: &[LoggedFix], settings: TrackSettings) -> Audit {
    let mut auditor = Auditor::new(zones, settings);
    for fix in fixes {
        let _events = auditor.push(*fix);
    }
    auditor.finish()
}

/// A kilometre wide, its west side through home.
pub(super) fn strip_zone() -> ZoneSet {
    ZoneSet::new(vec![zone("strip", strip(at(HOME.0, HOME.1), 1_000.0), None)])
}

/// The audit as the program makes it, of a log that is in order: boat by boat.
pub(super) fn audited_in(zones: &ZoneSet, log: &OrderedLog) -> Audit {
    let mut auditor = Auditor::new(zones, log.settings);
    for (boat, unplaced) in log.boats.iter().zip(&log.unplaced) {
        for record in unplaced {
            auditor.push_unplaced(record);
        }
        for fix in boat {
            auditor.push(*fix);
        }
        auditor.next_boat();
    }
    for seam in &log.seams {
        auditor.push_seam(seam);
    }
    let mut found = auditor.finish();
    found.quality.order = log.findings;
    found
}

/// The same of fixes that are put in order first.
pub(super) fn ordered_in(zones: &ZoneSet, fixes: &[LoggedFix], settings: TrackSettings) -> Audit {
    let mut order = LogOrder::new(settings);
    for fix in fixes {
        order.push(*fix);
    }
    audited_in(zones, &order.finish())
}

/// Against the strip, with nothing said of the boat.
pub(super) fn ordered(fixes: &[LoggedFix]) -> Audit {
    ordered_in(&strip_zone(), fixes, TrackSettings::default())
}

/// Northward at 2.5 m/s, so many metres west of the strip, from a time in seconds, a fix a second.
pub(super) fn beside(west_m: f64, from_s: f64, seconds: u32) -> Vec<LoggedFix> {
    let start = direct(at(HOME.0, HOME.1), 270.0, west_m);
    (0..seconds)
        .map(f64::from)
        .map(|passed_s| fix(direct(start, 0.0, 2.5 * (from_s + passed_s)), from_s + passed_s, 5.0))
        .collect()
}

/// Nothing certain, and not nothing.
#[track_caller]
pub(super) fn is_possible(found: &Audit) {
    assert!(!found.visits.is_empty(), "no visit");
    for visit in &found.visits {
        assert_eq!(visit.certainty, Certainty::Possible, "{visit:#?}");
    }
}

/// Fixes along a geodesic at an even speed, one each `every_s`, from a place before the strip's west side.
pub(super) fn eastward(
    (start_m, end_m): (f64, f64),
    m_per_s: f64,
    every_s: f64,
    p95_m: f64,
) -> Vec<LoggedFix> {
    let home = at(HOME.0, HOME.1);
    let start = direct(home, 270.0, -start_m);
    // one geodesic through home, not a line of constant bearing
    let line = inverse(start, home);
    let last_s = (end_m - start_m) / m_per_s;
    (0..100_000)
        .map(|step| f64::from(step) * every_s)
        .take_while(|seconds| *seconds <= last_s + 1e-9)
        .map(|seconds| fix(direct(start, line.azimuth_start_deg, m_per_s * seconds), seconds, p95_m))
        .collect()
}
