//! Answers about marks of Marrowick, made by hand, that the tests of this room share.
//!
//! Somebody west of the day beacon looks east at the pine over it; the reserve lies south of the line, to the right.

use std::sync::Arc;

use takeline::landmark::{Landmark, LandmarkId};
use takeline::magnetic::OutsideMagneticModel;
use takeline::transit::{
    Calibration, CalibrationReason, ClearsReason, CompassPoint, CrossedPosition, Drift, Eye, FoundPair,
    LineOfPosition, LineOffset, LinePoint, MarkError, Meeting, Meets, Opens, PairQuestion, PairReason,
    PairScore, PlaceOfUse, Problem, ProblemReason, RangeLine, Sensitivity, Severity, Side, SideName,
    SidePairs, Stretch, Told, TransitQuestion, TransitReport, ViewedWater, ZoneOnLine, ZoneSide,
};
use takeline::zone::{Source, Zone, ZoneFile, ZoneId};
use takeline::{
    Arcminutes, ErrorEllipse, MagneticBearing, Metres, Position, SideKind, Tristate, TrueBearing,
    UncertaintySource, zone_file,
};

use super::headline::{Compass, Needle};

pub(super) fn metres(value: f64) -> Metres {
    Metres::new(value).unwrap()
}

pub(super) fn at(lat_deg: f64, lon_deg: f64) -> Position {
    Position::from_degrees(lat_deg, lon_deg).unwrap()
}

fn arcmin(value: f64) -> Arcminutes {
    Arcminutes::new(value).unwrap()
}

pub(super) fn beacon() -> Landmark {
    Landmark {
        id: LandmarkId("day-beacon".into()),
        kind: Some("beacon".into()),
        position_error_95: metres(2.0),
        position_error_source: UncertaintySource::Given,
        height: Some(metres(9.0)),
        fixed: Some(true),
        last_confirmed: Some("2026-03-14".parse().unwrap()),
        ..Landmark::at("Sallow Point Day Beacon", at(45.1252, -30.1310))
    }
}

pub(super) fn pine() -> Landmark {
    Landmark {
        kind: Some("tree".into()),
        height: Some(metres(41.0)),
        fixed: Some(false),
        comment: Some("A tree can fall.".into()),
        ..Landmark::at("Lone Pine", at(45.1255, -30.1120))
    }
}

pub(super) fn range_line() -> RangeLine {
    RangeLine::through(beacon(), pine()).unwrap()
}

pub(super) fn stretch() -> Stretch {
    Stretch::new(metres(500.0), metres(3000.0)).unwrap()
}

pub(super) fn point(line: &RangeLine, along_m: f64, signed_m: f64, doubt_m: f64) -> LinePoint {
    let position = line.at(metres(along_m));
    LinePoint {
        distance_from_front: metres(along_m),
        position,
        signed_distance: metres(signed_m),
        uncertainty_95: metres(doubt_m),
        nearest: line.beside(metres(along_m), metres(signed_m)),
        nearest_side: SideKind::Open,
    }
}

pub(super) fn file() -> Arc<ZoneFile> {
    Arc::new(ZoneFile {
        path: "marrowick.geojson".into(),
        sha256: "0123456789abcdef".repeat(4),
        edition: Some("2026-1".into()),
        ..ZoneFile::default()
    })
}

pub(super) fn sallow_cove(line: &RangeLine) -> ZoneOnLine {
    ZoneOnLine {
        zone_number: 0,
        id: ZoneId("sallow-cove".into()),
        name: "Sallow Cove Reserve".into(),
        clears: Tristate::Yes,
        worst: Some(point(line, 3000.0, 74.0, 15.0)),
        closest: Some(point(line, 2600.0, 73.0, 13.0)),
        near: Some(point(line, 500.0, 310.0, 4.0)),
        middle: Some(point(line, 1750.0, 192.0, 9.0)),
        far: Some(point(line, 3000.0, 74.0, 15.0)),
        meetings: vec![],
        inside: Some(Side::Right),
        in_force: Tristate::Yes,
        source: Source {
            instrument: "Marrowick Reserves Order 2019".into(),
            clause: Some("clause 4(2)".into()),
            retrieved: Some("2026-03-01".parse().unwrap()),
            ..Source::default()
        },
        proofread: None,
        file: file(),
    }
}

fn sensitivity(line: &RangeLine, along_m: f64) -> Sensitivity {
    let distance_from_front = metres(along_m);
    let eye = Eye::default();
    Sensitivity {
        distance_from_front,
        position: line.at(distance_from_front),
        arcmin_per_m: line.arcmin_per_metre(distance_from_front),
        offset_at_threshold: line.offset_for(distance_from_front, eye.threshold()),
        line_uncertainty_95: line.uncertainty_95(distance_from_front),
        // half a knot is 0.257 m/s
        seconds_to_threshold: line
            .offset_for(distance_from_front, eye.threshold())
            .map(|off| off.metres() / 0.257),
        rear_above_front: Some(true),
        rear_over_front: Some(arcmin(13.4)),
    }
}

pub(super) fn problem(severity: Severity, reason: ProblemReason) -> Problem {
    Problem { severity, reason }
}

/// The working area lies between the marks.
pub(super) fn between_the_marks() -> Problem {
    let (front, rear) = (beacon().name, pine().name);
    problem(Severity::Error, ProblemReason::BetweenMarks { place: PlaceOfUse::WorkingArea, front, rear })
}

/// Lone Pine can move.
pub(super) fn movable() -> Problem {
    problem(Severity::Warning, ProblemReason::MarkMovable { mark: pine().name, comment: pine().comment })
}

fn water() -> ViewedWater {
    let square = |lat_deg: f64, lon_deg: f64| {
        // clockwise, as nobody promises otherwise
        vec![
            at(lat_deg, lon_deg),
            at(lat_deg + 0.001, lon_deg),
            at(lat_deg + 0.001, lon_deg + 0.002),
            at(lat_deg, lon_deg + 0.002),
        ]
    };
    ViewedWater {
        inside: Side::Right,
        area_m2: 2_500_000.0,
        false_clear_open_m2: 0.0,
        false_clear_in_line_m2: 1234.5,
        inside_and_seen_m2: 640_000.0,
        forgone_m2: 152_340.0,
        open_in_line_m2: 20_400.0,
        open_and_clear_m2: 1_250_000.0,
        false_clear: vec![square(45.120, -30.150)],
        forgone: vec![square(45.122, -30.150), square(45.122, -30.145)],
    }
}

/// Keeps clear of the reserve by 74 m ±15 m, no time given.
pub(super) fn clear() -> TransitReport {
    let line = range_line();
    TransitReport {
        question: TransitQuestion::about(stretch()),
        bearing: line.bearing_at(stretch().middle()),
        magnetic: None,
        zones: vec![sallow_cove(&line)],
        clears: Tristate::Yes,
        clears_because: vec![],
        opens: Some(Opens { zone: 0, rear_shows: Side::Right, zone_lies: CompassPoint::South }),
        sensitivity: [500.0, 1750.0, 3000.0].map(|along_m| sensitivity(&line, along_m)).into(),
        water: Some(water()),
        problems: vec![
            movable(),
            problem(
                Severity::Note,
                ProblemReason::ErrorAssumed { mark: pine().name, uncertainty_95_m: 10.0 },
            ),
            problem(Severity::Note, ProblemReason::TerrainNotChecked),
        ],
        line,
    }
}

/// Enters the reserve at 640 m and leaves it again.
pub(crate) fn enters() -> TransitReport {
    let line = range_line();
    let meeting = |what, along_m: f64, angle_deg| Meeting {
        what,
        distance_from_front: metres(along_m),
        position: line.at(metres(along_m)),
        angle_deg,
        side: SideKind::Open,
    };
    let zone = ZoneOnLine {
        clears: Tristate::No,
        worst: Some(point(&line, 1200.0, -96.0, 7.0)),
        closest: Some(point(&line, 1200.0, -96.0, 7.0)),
        meetings: vec![meeting(Meets::Enters, 640.0, 34.4), meeting(Meets::Leaves, 2210.0, 81.0)],
        ..sallow_cove(&line)
    };
    TransitReport {
        clears: Tristate::No,
        clears_because: vec![ClearsReason::Enters {
            zone: "Sallow Cove Reserve".into(),
            distance_from_front_m: 640.0,
            side: SideKind::Open,
        }],
        zones: vec![zone],
        ..clear()
    }
}

/// 12 m off with a doubt of 31 m.
pub(super) fn undecided() -> TransitReport {
    let line = range_line();
    let zone = ZoneOnLine {
        clears: Tristate::Undecided,
        worst: Some(point(&line, 3000.0, 12.0, 31.0)),
        ..sallow_cove(&line)
    };
    TransitReport {
        clears: Tristate::Undecided,
        clears_because: vec![ClearsReason::WithinDoubt {
            zone: "Sallow Cove Reserve".into(),
            signed_distance_m: 12.0,
            uncertainty_95_m: 31.0,
            distance_from_front_m: 3000.0,
            side: SideKind::Open,
        }],
        zones: vec![zone],
        ..clear()
    }
}

/// The line of the reserve is on a plan that nobody supplied.
pub(super) fn line_unknown() -> TransitReport {
    let zone = ZoneOnLine {
        clears: Tristate::Undecided,
        worst: None,
        closest: None,
        near: None,
        middle: None,
        far: None,
        inside: None,
        ..sallow_cove(&range_line())
    };
    TransitReport { zones: vec![zone], opens: None, water: None, ..undecided() }
}

/// The marks are the wrong way round.
pub(super) fn swapped() -> TransitReport {
    let (place, front, rear) = (PlaceOfUse::WorkingArea, beacon().name, pine().name);
    let swapped = ProblemReason::MarksSwapped { place, front, rear };
    let mut report = TransitReport { clears: Tristate::Undecided, opens: None, water: None, ..clear() };
    report.problems.insert(0, problem(Severity::Error, swapped));
    report
}

/// A time that no model covers.
pub(super) fn outside_the_model() -> TransitReport {
    let time = "2031-07-25T06:30:00Z".parse().unwrap();
    let mut report = clear();
    report.question.time = Some(time);
    report.magnetic = Some(Err(OutsideMagneticModel { time, model: "WMM2025" }));
    report
}

/// The same on the line that runs over 180°, seen from the far side.
pub(super) fn over_180() -> TransitReport {
    let front = Landmark::at("Sallow Point Day Beacon", at(45.0, 179.98));
    let rear = Landmark::at("Lone Pine", at(45.0, 179.965));
    let line = RangeLine::through(front, rear).unwrap();
    let square = |lon_deg: [f64; 2]| {
        vec![at(45.0, lon_deg[0]), at(45.001, lon_deg[0]), at(45.001, lon_deg[1]), at(45.0, lon_deg[1])]
    };
    let water = ViewedWater { false_clear: vec![square([179.999, -179.999])], ..water() };
    TransitReport {
        bearing: line.bearing_at(stretch().middle()),
        zones: vec![sallow_cove(&line)],
        sensitivity: vec![],
        water: Some(water),
        line,
        ..clear()
    }
}

/// Names that drive terminals, markup and paths.
pub(super) const HOSTILE: &str = "</name><wpt> & \"pine\" \u{1b}[2J\u{0}\u{202e}\u{ffff}\nCLEARS";

pub(super) fn hostile() -> TransitReport {
    let named = |mark: Landmark| Landmark {
        name: HOSTILE.into(),
        kind: Some(HOSTILE.into()),
        comment: Some(HOSTILE.into()),
        ..mark
    };
    let line = RangeLine::through(named(beacon()), named(pine())).unwrap();
    let zone = ZoneOnLine { name: HOSTILE.into(), id: ZoneId(HOSTILE.into()), ..sallow_cove(&line) };
    TransitReport {
        line,
        zones: vec![zone],
        clears_because: vec![ClearsReason::LineNotKnown { zone: HOSTILE.into() }],
        problems: vec![problem(
            Severity::Warning,
            ProblemReason::MarkMovable { mark: HOSTILE.into(), comment: Some(HOSTILE.into()) },
        )],
        ..clear()
    }
}

pub(super) fn every_report() -> Vec<TransitReport> {
    vec![
        clear(),
        enters(),
        undecided(),
        line_unknown(),
        swapped(),
        outside_the_model(),
        over_180(),
        hostile(),
        TransitReport { zones: vec![], opens: None, water: None, ..clear() },
    ]
}

/// A compass with a variation of 12.3° west.
pub(super) fn compass(report: &TransitReport) -> Compass {
    Compass::Known(Needle {
        bearing: MagneticBearing::from_degrees(report.bearing.degrees() + 12.34).unwrap(),
        variation_deg: -12.34,
        standard_error: arcmin(24.0),
        time: "2026-07-25T06:30:00Z".parse().unwrap(),
    })
}

pub(super) fn towards_south() -> Drift {
    Drift { speed_kn: 0.8, towards: Some(TrueBearing::from_degrees(180.0).unwrap()) }
}

// pairs

const ZONES: &str = r#"{ "type": "FeatureCollection",
  "takeline": { "format": "takeline.zones/1", "title": "Marrowick", "edition": "2026-1",
                "datum": "WGS 84", "time_zone": "UTC", "taxa": [], "groups": [] },
  "features": [ { "type": "Feature", "id": "sallow-cove",
      "geometry": { "type": "Polygon", "coordinates": [[[-30.170, 45.110], [-30.137, 45.110],
                    [-30.137, 45.123], [-30.170, 45.123], [-30.170, 45.110]]] },
      "properties": { "name": "Sallow Cove Reserve", "edges": "geodesic", "take": "none",
                      "source": { "instrument": "Marrowick Reserves Order 2019", "clause": "4(1)" } } } ] }"#;

pub(super) fn zone() -> Zone {
    zone_file::read("marrowick.geojson", ZONES.as_bytes()).unwrap().zones.into_iter().next().unwrap()
}

pub(super) fn pair_question() -> PairQuestion {
    PairQuestion {
        launch: at(45.1182, -30.1217),
        range: metres(5000.0),
        reach: stretch(),
        eye: Eye::default(),
        zone_number: 0,
        at_most: 3,
        day: Some("2026-07-25".parse().unwrap()),
    }
}

pub(super) fn pair(clears: Tristate, margin_m: f64) -> FoundPair {
    let line = range_line();
    FoundPair {
        stretch: stretch(),
        clears,
        margin: metres(margin_m),
        forgone: metres(96.0),
        offset_at_threshold: line.offset_for(metres(3000.0), Eye::default().threshold()),
        line_uncertainty_95: line.uncertainty_95(metres(3000.0)),
        covers: 0.93,
        inside: Some(Side::Right),
        score: PairScore { margin: 0.9, sharpness: 0.8, robustness: 0.95, visibility: 0.7, coverage: 0.93 },
        because: vec![PairReason::RearShows { front: beacon().name, rear: pine().name }],
        problems: vec![],
        line,
    }
}

pub(super) fn side(faces: CompassPoint, pairs: Vec<FoundPair>) -> SidePairs {
    let name = SideName { faces, number: None };
    let corners = vec![at(45.123, -30.170), at(45.123, -30.137)];
    SidePairs { side: ZoneSide { name, kind: SideKind::Open, corners, length: metres(2596.0) }, pairs }
}

// fixes on the line

pub(super) fn calibration(told: Told) -> Calibration {
    let offset = |along_m: f64, right_m: f64, doubt_m: f64| LineOffset {
        distance_from_front: metres(along_m),
        to_the_right: metres(right_m),
        uncertainty_95: metres(doubt_m),
    };
    let error = |right_m: f64, doubt_m: f64, explains| MarkError {
        to_the_right: metres(right_m),
        uncertainty_95: metres(doubt_m),
        explains,
    };
    Calibration {
        stated: range_line(),
        shown: range_line(),
        fixes: 30,
        independent: 12,
        not_used: vec![3, 17],
        told,
        at_front: offset(0.0, 0.4, 3.1),
        at_rear: offset(-1495.0, -19.6, 4.7),
        at_fixes: vec![offset(600.0, 8.4, 2.8), offset(1400.0, 19.1, 2.5), offset(2600.0, 35.0, 5.2)],
        front_alone: error(11.0, 3.0, false),
        rear_alone: error(-20.1, 4.8, true),
        scatter: metres(4.4),
        bearing: range_line().bearing_at(metres(1400.0)),
        because: vec![CalibrationReason::OneMarkOff {
            mark: pine().name,
            other: beacon().name,
            to_the_right_m: -20.1,
            uncertainty_95_m: 4.8,
        }],
    }
}

// lines that cross

pub(super) fn crossed() -> CrossedPosition {
    CrossedPosition {
        position: at(45.1182, -30.1217),
        ellipse: ErrorEllipse {
            semi_major: metres(181.0),
            semi_minor: metres(96.0),
            major_bearing: TrueBearing::from_degrees(42.0).unwrap(),
        },
        drms: metres(74.0),
        radius_95: metres(129.0),
        angle_of_cut_deg: 88.0,
        residuals: vec![0.1, -0.6, 0.4],
        agree: true,
        others: vec![],
        others_radius_95: vec![],
        problems: vec![],
    }
}

/// The lines meet at two places, and nothing tells which is meant.
pub(super) fn crossed_twice() -> CrossedPosition {
    let bearing = TrueBearing::from_degrees(290.0).unwrap();
    let twice = ProblemReason::TwoPositionsFit { distance_m: 1200.0, bearing, told_apart: false };
    CrossedPosition {
        others: vec![at(45.12, -30.13)],
        others_radius_95: vec![metres(140.0)],
        problems: vec![problem(Severity::Warning, twice)],
        ..crossed()
    }
}

/// One line of each kind.
pub(super) fn lines() -> Vec<LineOfPosition> {
    let mark = |name, lat_deg, lon_deg| Landmark::at(name, at(lat_deg, lon_deg));
    vec![
        LineOfPosition::Transit { line: range_line(), eye: Eye::default() },
        LineOfPosition::Bearing {
            mark: mark("Gull Hill Mast", 45.1065, -30.1130),
            bearing: TrueBearing::from_degrees(152.0).unwrap(),
            standard_error_deg: 5.0,
        },
        LineOfPosition::HorizontalAngle {
            left: mark("Marrowick Chapel", 45.1210, -30.1050),
            right: mark("Gull Hill Mast", 45.1065, -30.1130),
            angle_deg: 76.5,
            standard_error_deg: 1.0,
        },
    ]
}
