//! The answer about a range line, on zones whose sides lie where plain arithmetic puts them.

use approx::assert_abs_diff_eq;

use super::scene_tests::{at, has, line, mark, question, zones};
use crate::landmark::Landmark;
use crate::transit::{
    ClearsReason, CompassPoint, Meets, ProblemCode, ProblemReason, RangeLine, Severity, Side,
};
use crate::{Metres, Position, Tristate, TrueBearing, ZoneSet};

#[test]
fn a_line_beside_a_straight_side_clears_by_the_distance_between_them() {
    // side 120 m to the east (to the right of who looks north)
    let zones = zones(&[&[(120.0, -4000.0), (1500.0, -4000.0), (1500.0, 500.0), (120.0, 500.0)]]);
    let report = line(1000.0, 5.0).check(&zones, &question(200.0, 2000.0));
    let zone = &report.zones[0];
    assert_eq!((report.clears, zone.inside), (Tristate::Yes, Some(Side::Right)));
    let worst = zone.worst.unwrap();
    // the margin is least at the far end, where the doubt is greatest: √((5·3)² + (5·2)²) = 18.0 of the marks, and
    // 5′·2000·3000/1000 = 8.73 m of the eye
    assert!((worst.distance_from_front.metres() - 2000.0).abs() < 0.01);
    assert!((worst.signed_distance.metres() - 120.0).abs() < 0.5, "{worst:?}");
    assert!((worst.uncertainty_95.metres() - (18.03 + 8.727)).abs() < 0.02, "{worst:?}");
    assert!(zone.meetings.is_empty());
    let opens = report.opens.unwrap();
    assert_eq!((opens.rear_shows, opens.zone_lies), (Side::Right, CompassPoint::East));
}

#[test]
fn clear_at_500_m_and_inside_at_1500_m() {
    // trade.md, tricky case 45: the side runs across the line at 45° and meets it 1000 m off
    let zones = zones(&[&[(-2000.0, -3000.0), (2000.0, -3000.0), (2000.0, 1000.0)]]);
    let report = line(1000.0, 5.0).check(&zones, &question(500.0, 1500.0));
    let zone = &report.zones[0];
    assert_eq!(report.clears, Tristate::No);
    assert_eq!(zone.meetings.len(), 1, "{:?}", zone.meetings);
    let meeting = zone.meetings[0];
    assert_eq!(meeting.what, Meets::Enters);
    assert!((meeting.distance_from_front.metres() - 1000.0).abs() < 0.5, "{meeting:?}");
    assert!((meeting.angle_deg - 45.0).abs() < 0.1, "{meeting:?}");
    // at the far end 500 m beyond the crossing the side is 500·sin 45° away
    let far = zone.far.unwrap().signed_distance.metres();
    assert!((far + 500.0 * 0.5_f64.sqrt()).abs() < 0.5, "{far}");
    let ClearsReason::Enters { zone, distance_from_front_m, .. } = &report.clears_because[0] else {
        panic!("{:?}", report.clears_because)
    };
    assert_eq!((zone.as_str(), distance_from_front_m.round()), ("Zone 0", 1000.0));
}

#[test]
fn a_margin_within_the_doubt_is_undecided() {
    let zones = zones(&[&[(15.0, -4000.0), (1500.0, -4000.0), (1500.0, 500.0), (15.0, 500.0)]]);
    let report = line(1000.0, 5.0).check(&zones, &question(200.0, 2000.0));
    assert_eq!(report.clears, Tristate::Undecided);
    assert_eq!(report.clears_because.len(), 1);
}

#[test]
fn the_worst_point_of_a_dent_between_the_ends_is_found() {
    // a spit that comes to 40 m of the line 1234 m off, and a side 400 m away elsewhere
    let ring = [
        (400.0, -4000.0),
        (1500.0, -4000.0),
        (1500.0, 500.0),
        (400.0, 500.0),
        (400.0, -1200.0),
        (40.0, -1234.0),
        (400.0, -1270.0),
    ];
    let report = line(1000.0, 1.0).check(&zones(&[&ring]), &question(200.0, 3000.0));
    let closest = report.zones[0].closest.unwrap();
    assert!((closest.distance_from_front.metres() - 1234.0).abs() < 0.2, "{closest:?}");
    assert!((closest.signed_distance.metres() - 40.0).abs() < 0.02, "{closest:?}");
}

#[test]
fn a_corner_that_touches_the_line_is_told() {
    let zones = zones(&[&[(0.0, -1000.0), (700.0, -1700.0), (700.0, -300.0)]]);
    let report = line(1000.0, 1.0).check(&zones, &question(500.0, 1500.0));
    let closest = report.zones[0].closest.unwrap();
    assert!(closest.signed_distance.metres().abs() < 2e-3, "{closest:?}");
    assert_eq!(report.clears, Tristate::Undecided);
}

#[test]
fn a_zone_across_the_line_is_entered_and_left_and_has_no_side() {
    let zones = zones(&[&[(-600.0, -1400.0), (600.0, -1400.0), (600.0, -900.0), (-600.0, -900.0)]]);
    let report = line(1000.0, 1.0).check(&zones, &question(500.0, 2000.0));
    let what: Vec<_> = report.zones[0].meetings.iter().map(|meeting| meeting.what).collect();
    assert_eq!(what, [Meets::Enters, Meets::Leaves]);
    assert!(report.opens.is_none());
    assert!(has(&report, ProblemCode::ZonesOnBothSides));
}

#[test]
fn marks_exchanged_are_told_from_the_zones_and_from_the_heights() {
    let zones = zones(&[&[(120.0, -4000.0), (1500.0, -4000.0), (1500.0, -1000.0), (120.0, -1000.0)]]);
    let (mut front, mut rear) = (mark("front", at(0.0, 0.0), 2.0), mark("rear", at(0.0, 1000.0), 2.0));
    let exchanged = RangeLine::through(rear.clone(), front.clone()).unwrap();
    let report = exchanged.check(&zones, &question(1200.0, 3000.0));
    assert!(has(&report, ProblemCode::PerhapsSwapped), "{:?}", report.problems);
    assert_eq!(report.clears, Tristate::Undecided);
    // the lower mark behind the higher one
    (front.height, rear.height) = (Some(Metres::computed(40.0)), Some(Metres::computed(9.0)));
    let hidden = RangeLine::through(front, rear).unwrap().check(&zones, &question(200.0, 2000.0));
    let problem =
        hidden.problems.iter().find(|problem| problem.code() == ProblemCode::FrontHidesRear).unwrap();
    assert_eq!(problem.severity, Severity::Error);
    assert_eq!(hidden.clears, Tristate::Undecided);
}

#[test]
fn a_course_that_meets_the_line_behind_or_between_the_marks_is_told() {
    let zones = zones(&[&[(120.0, -4000.0), (1500.0, -4000.0), (1500.0, 500.0), (120.0, 500.0)]]);
    let mut asked = question(200.0, 2000.0);
    asked.heading = Some(TrueBearing::from_degrees(90.0).unwrap());
    for (north_m, expected) in
        [(500.0, Some(ProblemCode::BetweenMarks)), (1500.0, Some(ProblemCode::MarksSwapped)), (-800.0, None)]
    {
        asked.launch = Some(at(-700.0, north_m));
        let report = line(1000.0, 2.0).check(&zones, &asked);
        let found = [ProblemCode::BetweenMarks, ProblemCode::MarksSwapped];
        assert_eq!(found.into_iter().find(|code| has(&report, *code)), expected);
    }
}

#[test]
fn a_front_mark_that_hides_the_rear_one_close_in_names_the_distances() {
    // front 10 m high, rear 20 m high and 1000 m behind: from the eye's 0.9 m the front one stands higher while
    // 9.1/D > 19.1/(D+1000), curvature left out: D < 910 m
    let zones = zones(&[&[(120.0, -4000.0), (1500.0, -4000.0), (1500.0, 500.0), (120.0, 500.0)]]);
    let (mut front, mut rear) = (mark("front", at(0.0, 0.0), 2.0), mark("rear", at(0.0, 1000.0), 2.0));
    (front.height, rear.height) = (Some(Metres::computed(10.0)), Some(Metres::computed(20.0)));
    let report = RangeLine::through(front, rear).unwrap().check(&zones, &question(200.0, 2000.0));
    let problem =
        report.problems.iter().find(|problem| problem.code() == ProblemCode::FrontHidesRear).unwrap();
    assert_eq!(problem.severity, Severity::Warning);
    let ProblemReason::FrontHidesRearInPart { parts_m, .. } = &problem.reason else { panic!("{problem:?}") };
    let [[from_m, to_m]] = parts_m[..] else { panic!("{parts_m:?}") };
    assert_abs_diff_eq!(from_m, 200.0);
    assert!((900.0..1000.0).contains(&to_m), "{to_m}");
    let above: Vec<_> = report.sensitivity.iter().map(|one| one.rear_above_front).collect();
    assert_eq!(above, [Some(false), Some(true), Some(true)]);
}

#[test]
fn marks_30_m_apart_cannot_be_used_at_2_km() {
    // trade.md, tricky case 44: the line may be off by hundreds of metres
    let zones = zones(&[&[(900.0, -4000.0), (3500.0, -4000.0), (3500.0, 500.0), (900.0, 500.0)]]);
    let report = line(30.0, 10.0).check(&zones, &question(500.0, 2000.0));
    assert!(has(&report, ProblemCode::MarksTooClose));
    assert_ne!(report.clears, Tristate::Yes);
    let off_m = report.sensitivity[2].line_uncertainty_95.metres();
    assert!((900.0..1000.0).contains(&off_m), "{off_m}");
}

#[test]
fn the_drift_tells_how_long_the_line_takes_to_open() {
    let zones = zones(&[&[(120.0, -4000.0), (1500.0, -4000.0), (1500.0, 500.0), (120.0, 500.0)]]);
    let mut asked = question(200.0, 2000.0);
    asked.drift.towards = Some(TrueBearing::from_degrees(150.0).unwrap()); // 30° off the line
    let report = line(1000.0, 2.0).check(&zones, &asked);
    let far = report.sensitivity[2];
    // 8.727 m at half a knot (0.2572 m/s) and half of that across the line: 67.9 s
    assert!((far.seconds_to_threshold.unwrap() - 67.9).abs() < 0.3, "{far:?}");
}

#[test]
fn no_zone_near_shows_no_limit() {
    let zones = zones(&[&[(9000.0, -4000.0), (9500.0, -4000.0), (9500.0, 500.0), (9000.0, 500.0)]]);
    let report = line(1000.0, 2.0).check(&zones, &question(200.0, 2000.0));
    assert!(has(&report, ProblemCode::NoZoneNear));
    assert_eq!(report.zones.len(), 1); // the nearest one is named all the same
}

#[test]
fn no_zone_loaded_and_marks_likely_written_wrongly_clear_nothing() {
    let report = line(1000.0, 2.0).check(&ZoneSet::default(), &question(200.0, 2000.0));
    assert_eq!(report.clears, Tristate::Undecided);
    let zones = zones(&[&[(120.0, -4000.0), (1500.0, -4000.0), (1500.0, 500.0), (120.0, 500.0)]]);
    let there = line(1000.0, 2.0);
    let turned = |mark: &Landmark| {
        let (lat, lon) = (mark.position.latitude().degrees(), mark.position.longitude().degrees());
        Landmark { position: Position::from_degrees(lat, -lon).unwrap(), ..mark.clone() }
    };
    let report = RangeLine::through(turned(there.front()), turned(there.rear()))
        .unwrap()
        .check(&zones, &question(200.0, 2000.0));
    assert_eq!(report.clears, Tristate::Undecided);
    assert!(has(&report, ProblemCode::MarkLikelyMisread));
}

#[test]
fn the_sun_in_the_eyes_behind_and_gone_is_told() {
    // the direction of the sun itself is held to PyEphem (tests/data/sun); about noon it stands in the south, 12:01 UTC at
    // 30.1° W being 14:01, and at 45° N on 21 December no higher than 90 − 45.1 − 23.4 = 21.5°
    let zones = zones(&[&[(120.0, -4000.0), (1500.0, -4000.0), (1500.0, 500.0), (120.0, 500.0)]]);
    let told = |line: &RangeLine, time: &str| {
        let mut asked = question(200.0, 2000.0);
        asked.time = Some(time.parse().unwrap());
        let report = line.check(&zones, &asked);
        let light = [ProblemCode::SunInTheEyes, ProblemCode::SunBehind, ProblemCode::Dark];
        light.into_iter().find(|code| has(&report, *code))
    };
    let looking_north = line(1000.0, 2.0);
    let looking_south_west =
        RangeLine::through(mark("front", at(0.0, 0.0), 2.0), mark("rear", at(-1000.0, -1000.0), 2.0))
            .unwrap();
    assert_eq!(told(&looking_north, "2026-12-21T02:00:00Z"), Some(ProblemCode::Dark));
    assert_eq!(told(&looking_north, "2026-06-21T14:00:00Z"), None); // 68° high
    assert_eq!(told(&looking_south_west, "2026-12-21T17:00:00Z"), Some(ProblemCode::SunInTheEyes));
    assert_eq!(told(&looking_north, "2026-12-21T14:00:00Z"), None); // behind, but 21° high
}

#[test]
fn a_date_outside_the_magnetic_model_clears_nothing() {
    let zones = zones(&[&[(120.0, -4000.0), (1500.0, -4000.0), (1500.0, 500.0), (120.0, 500.0)]]);
    let mut asked = question(200.0, 2000.0);
    asked.time = Some("2030-06-01T12:00:00Z".parse().unwrap());
    let report = line(1000.0, 2.0).check(&zones, &asked);
    assert!(has(&report, ProblemCode::VariationNotKnown));
    assert_eq!(report.clears, Tristate::Undecided);
}
