//! Audits off Marrowick, made by hand, that the tests of text, JSON, GeoJSON and table share.

use jiff::civil::date;
use takeline::rule::TimeReason;
use takeline::track::{
    Audit, CatchEntry, CatchFinding, CatchPosition, Certainty, ClosestApproach, ConditionFinding,
    ConditionReason, Course, Crossing, DeepFixes, Direction, Evidence, Gap, LogPlace, LoggedFix,
    LoggedMoment, Motion, Quality, Reason, Speeds, Stop, SuspectFix, Suspicion, TrackPoint, TrackSettings,
    Visit, VisitSpan,
};
use takeline::zone::{ZoneId, ZoneSet};
use takeline::{Metres, Position, TakeAnswer, Tristate, binding, rule, zone_file};

use super::{AuditInput, AuditReport, InputKind, TrackNote};

const ZONES: &str = r#"{
  "type": "FeatureCollection",
  "takeline": { "format": "takeline.zones/1", "title": "Marrowick", "edition": "2026-1",
                "datum": "WGS 84", "time_zone": "UTC", "taxa": [], "groups": [] },
  "features": [
    { "type": "Feature", "id": "sallow-cove",
      "geometry": { "type": "Polygon", "coordinates": [[[-30.130, 45.110], [-30.117, 45.110],
                    [-30.117, 45.119], [-30.130, 45.119], [-30.130, 45.110]]] },
      "properties": { "name": "Sallow Cove Reserve", "edges": "geodesic", "take": "none", "crossing": { "allowed": false },
                      "source": { "instrument": "Marrowick Reserves Order 2019", "clause": "4(1)" } } },
    { "type": "Feature", "id": "ring-shoal",
      "geometry": { "type": "Polygon", "coordinates": [[[-30.100, 45.110], [-30.090, 45.110],
                    [-30.090, 45.119], [-30.100, 45.119], [-30.100, 45.110]]] },
      "properties": { "name": "Ring Shoal", "edges": "geodesic", "take": "none", "crossing": { "allowed": false },
                      "source": { "instrument": "Marrowick Reserves Order 2019" } } } ] }"#;

pub(crate) fn zones() -> ZoneSet {
    ZoneSet::new(zone_file::read("marrowick.geojson", ZONES.as_bytes()).unwrap().zones)
}

pub(crate) fn metres(value: f64) -> Metres {
    Metres::new(value).unwrap()
}

pub(crate) fn at(lat_deg: f64, lon_deg: f64) -> Position {
    Position::from_degrees(lat_deg, lon_deg).unwrap()
}

/// Minutes and seconds after 06:00 on the day of the trip.
pub(crate) fn moment(lat_deg: f64, lon_deg: f64, clock: &str) -> LoggedMoment {
    let time = format!("2026-07-25T06:{clock}Z").parse().unwrap();
    LoggedMoment { position: at(lat_deg, lon_deg), time: Some(time), between: None }
}

pub(crate) fn fix(instant: LoggedMoment, line: u64) -> LoggedFix {
    LoggedFix {
        position: instant.position,
        time: instant.time,
        uncertainty: None,
        hdop: None,
        speed_m_per_s: None,
        time_between: None,
        jump_kn: None,
        place: LogPlace { line, byte: 0, stretch: 0 },
    }
}

pub(crate) fn point(instant: LoggedMoment, line: u64) -> TrackPoint {
    TrackPoint { fix: fix(instant, line), standing: None, nearest: None, after_break: false }
}

/// Nothing visited, nothing near.
pub(crate) fn far_away() -> Audit {
    let first = moment(45.2, -30.3, "30:00");
    let last = moment(45.201, -30.3, "31:00");
    Audit {
        settings: TrackSettings::default(),
        quality: Quality { fixes: 2, first_time: first.time, last_time: last.time, ..Quality::default() },
        crossings: vec![],
        visits: vec![],
        closest_approaches: vec![],
        path: metres(111.0),
        gap_path: Metres::ZERO,
        sketch: vec![point(first, 2), point(last, 3)],
    }
}

pub(crate) fn never() -> Audit {
    let near = |id: &str, metres_off, clock| ClosestApproach {
        crossable: None,
        zone: ZoneId(id.into()),
        signed_distance: metres(metres_off),
        uncertainty_95: metres(10.0),
        at: moment(45.115, -30.1, clock),
    };
    let closest_approaches = vec![near("ring-shoal", 112.0, "31:10"), near("sallow-cove", 1240.0, "30:00")];
    Audit { closest_approaches, ..far_away() }
}

pub(crate) fn visit(certainty: Certainty, evidence: Evidence) -> Visit {
    Visit {
        zone: ZoneId("sallow-cove".into()),
        zone_number: 0,
        certainty,
        evidence,
        is_suspect: false,
        off_the_way: None,
        span: VisitSpan::of(
            LoggedMoment {
                between: Some((
                    "2026-07-25T06:31:00Z".parse().unwrap(),
                    "2026-07-25T06:31:10Z".parse().unwrap(),
                )),
                ..moment(45.115, -30.117, "31:04")
            },
            moment(45.115, -30.117, "43:20"),
        ),
        certain_s: Some(if certainty == Certainty::Certain { 720.0 } else { 0.0 }),
        possible_s: Some(736.0),
        deepest: Some(metres(38.0)),
        deepest_uncertainty_95: metres(10.0),
        path: metres(960.0),
        deep: DeepFixes { count: 70, span: None },
        course: Course { way: metres(960.0), made_good: metres(900.0), ..Course::default() },
        gaps: 0,
        speeds: Some(Speeds { min_kn: 2.1, mean_kn: 2.6, max_kn: 3.0 }),
        stops: vec![Stop { from: moment(45.115, -30.1174, "35:00"), seconds: 130.0 }],
        crossings: vec![0],
        in_force: Tristate::Yes,
        in_force_because: vec![Reason::from(binding::Reason::Season {
            reason: TimeReason::ListedDay { date: date(2026, 7, 25) },
        })],
        in_force_certain_s: Some(if certainty == Certainty::Certain { 720.0 } else { 0.0 }),
        in_force_possible_s: Some(736.0),
        binds_certain_s: Some(if certainty == Certainty::Certain { 720.0 } else { 0.0 }),
        binds_possible_s: Some(736.0),
        binds: if certainty == Certainty::Certain { Tristate::Yes } else { Tristate::Undecided },
        binds_because: vec![],
        displaced_by: vec![],
        ruled: vec![],
        conditions: vec![ConditionFinding {
            condition: rule::Condition::Law { text: "gear stowed".into() },
            met: Tristate::Undecided,
            because: vec![ConditionReason::NotShownByTrack],
        }],
        movement: vec![Motion::Steady { speed_kn: 2.6, duration_s: 480.0 }],
    }
}

pub(crate) fn with(visits: Vec<Visit>) -> Audit {
    let crossing = Crossing {
        zone: ZoneId("sallow-cove".into()),
        direction: Direction::In,
        at: moment(45.115, -30.117, "31:04"),
    };
    let way = [
        moment(45.115, -30.112, "30:00"),
        moment(45.115, -30.1174, "35:00"),
        moment(45.115, -30.116, "44:00"),
    ];
    let spike = fix(moment(45.3, -30.5, "32:00"), 5);
    Audit {
        crossings: vec![crossing],
        visits,
        sketch: way.into_iter().zip(2..).map(|(instant, line)| point(instant, line)).collect(),
        quality: Quality {
            fixes: 4,
            first_time: way[0].time,
            last_time: way[2].time,
            suspects: vec![SuspectFix { fix: spike, suspicion: Suspicion::Spike, needed_kn: Some(812.4) }],
            counts: [0, 0, 1, 0, 0, 0, 0],
            gaps: vec![gap(way[1], way[2])],
            gap_count: 1,
            ..Quality::default()
        },
        ..never()
    }
}

pub(crate) fn gap(before: LoggedMoment, after: LoggedMoment) -> Gap {
    let metres_between = takeline::GeodesicSegment::between(before.position, after.position).length();
    let seconds = before.time.zip(after.time).map(|(from, to)| to.duration_since(from).as_secs_f64());
    Gap {
        before: fix(before, 3),
        after: fix(after, 4),
        seconds,
        metres: metres_between,
        impossible: false,
        between_trips: false,
        may_be_pause: true,
        open: None,
    }
}

pub(crate) fn report<'a>(audit: &'a Audit, zones: &'a ZoneSet) -> AuditReport<'a> {
    AuditReport {
        input: AuditInput { path: "morning.gpx".into(), sha256: Some("0a".repeat(32)), kind: InputKind::Log },
        audit,
        zones,
        notes: vec![],
        catches: None,
        catch_rows_unread: 0,
        command: "takeline track morning.gpx --zones marrowick.geojson".into(),
        trimmed: None,
    }
}

/// A cod under an answer, whose rule lets nothing be taken.
pub(crate) fn caught(answer: TakeAnswer) -> CatchFinding {
    let time = moment(45.115, -30.1174, "35:00").time;
    CatchFinding {
        entry: CatchEntry { time, kept: Some(true), ..CatchEntry::named(2, "cod") },
        position: CatchPosition::Given(at(45.115, -30.1174)),
        uncertainty: None,
        answer,
        because: vec![Reason::from(rule::Reason::NothingMayBeTaken)],
        conditions: vec![],
        settle: vec![],
        bags: vec![],
        made_in: vec![],
        carried: vec![],
        is_lowered_by_carrying: false,
    }
}

pub(crate) fn lost() -> TrackNote {
    TrackNote { line: 7, code: "row-unreadable", text: "lat is missing".into(), count: 1, leaves_out: true }
}
