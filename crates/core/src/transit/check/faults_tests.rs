//! Each fault that a check can find, once where it is and once near by where it is not.

use super::scene_tests::{at, feature, has, line, mark, question, read, ring, zones};
use crate::transit::{
    CarriedBy, ClearsReason, CompassPoint, ProblemCode, ProblemReason, RangeLine, Severity, TransitQuestion,
    TransitReport, WorkingArea,
};
use crate::zone::{Extent, Status, ZoneSet};
use crate::{Metres, Tristate, TrueBearing, UncertaintySource};

/// A zone 120 m to the right of the line.
fn beside() -> ZoneSet {
    zones(&[&[(120.0, -4000.0), (1500.0, -4000.0), (1500.0, 500.0), (120.0, 500.0)]])
}

/// Marks of these heights, 1000 m apart.
fn tall(front_m: f64, rear_m: f64) -> RangeLine {
    tall_apart((front_m, rear_m), 1000.0)
}

fn tall_apart((front_m, rear_m): (f64, f64), separation_m: f64) -> RangeLine {
    let (mut front, mut rear) =
        (mark("beacon", at(0.0, 0.0), 2.0), mark("spire", at(0.0, separation_m), 2.0));
    (front.height, rear.height) = (Some(Metres::computed(front_m)), Some(Metres::computed(rear_m)));
    RangeLine::through(front, rear).unwrap()
}

fn problem_of(report: &TransitReport, code: ProblemCode) -> Option<(Severity, ProblemReason)> {
    let found = report.problems.iter().find(|problem| problem.code() == code);
    found.map(|problem| (problem.severity, problem.reason.clone()))
}

/// The parts of the stretch that a problem holds over, in whole metres.
fn parts(report: &TransitReport, code: ProblemCode) -> Option<Vec<[f64; 2]>> {
    let (severity, reason) = problem_of(report, code)?;
    let (ProblemReason::FrontHidesRearInPart { parts_m, .. }
    | ProblemReason::BelowHorizonInPart { parts_m, .. }) = reason
    else {
        return None;
    };
    assert_eq!(severity, Severity::Warning);
    Some(parts_m.into_iter().map(|ends| ends.map(f64::round)).collect())
}

fn bearing(degrees: f64) -> TrueBearing {
    TrueBearing::from_degrees(degrees).unwrap()
}

fn area(corners: &[(f64, f64)]) -> WorkingArea {
    WorkingArea::polygon(corners.iter().map(|(east_m, north_m)| at(*east_m, *north_m)).collect()).unwrap()
}

#[test]
fn a_front_mark_hides_the_rear_one_close_in_to_the_metre() {
    // 9.1·(D + 1000) − 19.1·D + D·(D + 1000)·1000/2R = 0 with R = 6 371 008.8/(1 − 0.13) = 7 323 000 m:
    // a = 1000/14 646 000 = 6.828e-5, b = −10 + 0.06828, c = 9100: D = (9.93172 − √(98.639 − 2.485))/(1.3656e-4) = 922 m
    let report = tall(10.0, 20.0).check(&beside(), &question(200.0, 2000.0));
    assert_eq!(parts(&report, ProblemCode::FrontHidesRear), Some(vec![[200.0, 922.0]]));
    let beyond = tall(10.0, 20.0).check(&beside(), &question(923.0, 2000.0));
    assert_eq!(problem_of(&beyond, ProblemCode::FrontHidesRear), None);
}

#[test]
fn a_front_mark_that_hides_the_rear_one_at_both_ends_says_so() {
    // slopes (hF − e)/D − (hR − e)/(D + S) + S/2R: equal twice where the rear mark is a little the higher; S = 20 km:
    // a = 1.3656e-3, b = −(hR − hF) + 27.31, c = (hF − e)·20 000
    let report = tall_apart((3.0, 60.0), 20_000.0).check(&beside(), &question(500.0, 21_000.0));
    // roots of 1.36556e-3·D² − 29.6888·D + 42 000: 1520.9 m and 20 220.0 m, by an independent calculation in Python
    let expected = vec![[500.0, 1521.0], [20_220.0, 21_000.0]];
    assert_eq!(parts(&report, ProblemCode::FrontHidesRear), Some(expected));
    let (_, reason) = problem_of(&report, ProblemCode::FrontHidesRear).unwrap();
    assert!(
        matches!(&reason, ProblemReason::FrontHidesRearInPart { front, rear, .. } if (front.as_str(), rear.as_str()) == ("beacon", "spire"))
    );
}

#[test]
fn a_short_part_of_the_stretch_counts_too() {
    // hidden over the nearest 2 m of 1800 m, which 65 even looks would pass over but for the first
    let report = tall(10.0, 20.0).check(&beside(), &question(920.0, 20_000.0));
    assert_eq!(parts(&report, ProblemCode::FrontHidesRear), Some(vec![[920.0, 922.0]]));
}

#[test]
fn marks_below_the_horizon_are_told_from_where() {
    // horizon 3631 m from 0.9 m; a mark 1.3 m high goes under at 3631 + √(2·7 322 998·1.3) = 3631 + 4363 = 7994 m
    let report = tall_apart((1.3, 90.0), 5000.0).check(&beside(), &question(200.0, 9000.0));
    assert_eq!(parts(&report, ProblemCode::BelowHorizon), Some(vec![[7994.0, 9000.0]]));
    let nearer = tall_apart((1.3, 90.0), 5000.0).check(&beside(), &question(200.0, 7990.0));
    assert_eq!(problem_of(&nearer, ProblemCode::BelowHorizon), None);
    let never = tall_apart((90.0, 0.5), 9000.0).check(&beside(), &question(200.0, 2000.0));
    let spire = ProblemReason::BelowHorizon { mark: "spire".to_owned(), eye_height_m: 0.9 };
    assert_eq!(problem_of(&never, ProblemCode::BelowHorizon), Some((Severity::Error, spire)));
    // a painted stone at the water's edge is in sight at 300 m
    let stone = tall(0.0, 20.0).check(&beside(), &question(200.0, 2000.0));
    assert_eq!(problem_of(&stone, ProblemCode::BelowHorizon), None);
}

#[test]
fn heights_not_given_are_told_for_each_mark() {
    let report = line(1000.0, 2.0).check(&beside(), &question(200.0, 2000.0));
    assert_eq!(report.problems.iter().filter(|one| one.code() == ProblemCode::HeightNotGiven).count(), 2);
    assert!(!has(&tall(5.0, 30.0).check(&beside(), &question(200.0, 2000.0)), ProblemCode::HeightNotGiven));
}

#[test]
fn an_eye_that_never_sees_the_marks_open_clears_nothing() {
    // S = 2·tan 5′·√(D·(D+S)) is where they stop: 30 m apart at 10.3 km
    let far_off = zones(&[&[(9000.0, -20_000.0), (9900.0, -20_000.0), (9900.0, 500.0), (9000.0, 500.0)]]);
    let report = line(30.0, 0.1).check(&far_off, &question(200.0, 10_500.0));
    let (severity, reason) = problem_of(&report, ProblemCode::MarksTooClose).unwrap();
    assert_eq!((severity, reason.code()), (Severity::Error, "marks-never-open"));
    assert_eq!(report.clears, Tristate::Undecided);
    let nearer = line(30.0, 0.1).check(&far_off, &question(200.0, 9000.0));
    assert_eq!(problem_of(&nearer, ProblemCode::MarksTooClose).unwrap().0, Severity::Warning);
    assert!(!has(&line(1000.0, 2.0).check(&beside(), &question(200.0, 2000.0)), ProblemCode::MarksTooClose));
}

#[test]
fn zones_on_the_far_side_are_no_fault_where_people_say_where_they_fish() {
    // an isle: open water to the south, where the marks are used, a zone to the north of both
    let north = zones(&[&[(-900.0, 1500.0), (900.0, 1500.0), (900.0, 4000.0), (-900.0, 4000.0)]]);
    let mut asked = question(2500.0, 5000.0);
    let swapped = |asked: &TransitQuestion| {
        problem_of(&line(1000.0, 2.0).check(&north, asked), ProblemCode::PerhapsSwapped).map(|found| found.0)
    };
    assert_eq!(swapped(&asked), Some(Severity::Error));
    asked.area = area(&[(-300.0, -5000.0), (300.0, -5000.0), (300.0, -2500.0), (-300.0, -2500.0)]);
    assert_eq!(swapped(&asked), None);
    // zones all round: nothing to wonder about
    let round = zones(&[
        &[(-900.0, 1500.0), (900.0, 1500.0), (900.0, 4000.0), (-900.0, 4000.0)],
        &[(-900.0, -4000.0), (-400.0, -4000.0), (-400.0, -1500.0), (-900.0, -1500.0)],
    ]);
    let report = line(1000.0, 2.0).check(&round, &question(2500.0, 5000.0));
    assert!(!has(&report, ProblemCode::PerhapsSwapped));
    // a zone that is only proposed makes nobody turn the marks round
    let mut proposed = north.zones().to_vec();
    proposed[0].status = Status::Proposed;
    let report = line(1000.0, 2.0).check(&ZoneSet::new(proposed), &question(2500.0, 5000.0));
    assert!(!has(&report, ProblemCode::PerhapsSwapped));
}

#[test]
fn a_working_area_behind_the_marks_or_between_them_is_an_error() {
    let between = [(-50.0, 300.0), (50.0, 300.0), (50.0, 600.0), (-50.0, 600.0)];
    let behind = [(-50.0, 1300.0), (50.0, 1300.0), (50.0, 1600.0), (-50.0, 1600.0)];
    let before = [(-50.0, -900.0), (50.0, -900.0), (50.0, -300.0), (-50.0, -300.0)];
    let expected = [Some(ProblemCode::BetweenMarks), Some(ProblemCode::MarksSwapped), None];
    for (corners, expected) in [between, behind, before].iter().zip(expected) {
        let mut asked = question(200.0, 2000.0);
        asked.area = area(corners);
        let report = line(1000.0, 2.0).check(&beside(), &asked);
        let codes = [ProblemCode::BetweenMarks, ProblemCode::MarksSwapped];
        assert_eq!(codes.into_iter().find(|code| has(&report, *code)), expected);
        assert_eq!(report.clears, if expected.is_some() { Tristate::Undecided } else { Tristate::Yes });
    }
}

#[test]
fn a_line_that_converges_on_the_boundary_is_told_and_a_parallel_one_is_not() {
    // 1000 m off at the near end; falls by tan 35° of the way
    let at_angle = |degrees: f64| {
        let slope = degrees.to_radians().tan();
        let east = |south_m: f64| 2000.0 - slope * south_m;
        zones(&[&[(east(-500.0), 500.0), (east(2500.0), -2500.0), (4000.0, -2500.0), (4000.0, 500.0)]])
    };
    let oblique = |degrees: f64| {
        let report = line(1000.0, 2.0).check(&at_angle(degrees), &question(200.0, 2000.0));
        problem_of(&report, ProblemCode::ObliqueToBoundary).map(|found| found.1)
    };
    let Some(ProblemReason::RunsObliquely { zone, angle_deg, far_signed_distance_m, .. }) = oblique(35.0)
    else {
        panic!("it runs obliquely")
    };
    assert_eq!((zone.as_str(), angle_deg.round()), ("Zone 0", 35.0));
    assert!(far_signed_distance_m > 0.0);
    assert_eq!(oblique(25.0), None);
}

#[test]
fn a_shallow_crossing_is_told_and_a_square_one_is_not() {
    let across = |degrees: f64| {
        let half_m = 3000.0 * degrees.to_radians().tan();
        // a side through the line 1000 m off
        zones(&[&[(half_m, 2000.0), (-half_m, -4000.0), (5000.0, -4000.0), (5000.0, 2000.0)]])
    };
    let told = |degrees: f64| {
        has(
            &line(1000.0, 2.0).check(&across(degrees), &question(500.0, 1500.0)),
            ProblemCode::ObliqueToBoundary,
        )
    };
    assert!(told(20.0) && !told(40.0));
}

#[test]
fn a_drift_or_a_heading_along_the_line_is_told_with_a_bearing_below_360() {
    let mut asked = question(200.0, 2000.0);
    asked.drift.towards = Some(bearing(359.7));
    let report = line(1000.0, 2.0).check(&beside(), &asked);
    let (severity, reason) = problem_of(&report, ProblemCode::ObliqueToDrift).unwrap();
    let ProblemReason::ObliqueToDrift { carried_by: CarriedBy::Drift, bearing: towards, angle_deg } = reason
    else {
        panic!("{reason:?}")
    };
    assert_eq!((severity, towards.to_string().as_str()), (Severity::Warning, "000° true"));
    assert!((angle_deg - 0.3).abs() < 0.05, "{angle_deg}");
    asked.drift.towards = Some(bearing(40.0));
    assert!(!has(&line(1000.0, 2.0).check(&beside(), &asked), ProblemCode::ObliqueToDrift));
    asked.heading = Some(bearing(190.0));
    let (_, reason) =
        problem_of(&line(1000.0, 2.0).check(&beside(), &asked), ProblemCode::ObliqueToDrift).unwrap();
    let ProblemReason::ObliqueToDrift { carried_by: CarriedBy::Heading, angle_deg, .. } = reason else {
        panic!("{reason:?}")
    };
    assert!((angle_deg - 10.0).abs() < 0.05, "{angle_deg}");
}

#[test]
fn marks_that_move_or_that_nobody_confirms_are_told() {
    let (mut front, mut rear) = (mark("withy", at(0.0, 0.0), 2.0), mark("pine", at(0.0, 1000.0), 2.0));
    (front.fixed, rear.fixed) = (Some(false), Some(true));
    front.comment = Some("renewed each spring".to_owned());
    rear.last_confirmed = Some("2025-08-02".parse().unwrap());
    rear.position_error_source = UncertaintySource::Assumed;
    front.position_error_source = UncertaintySource::Given;
    let mut asked = question(200.0, 2000.0);
    asked.time = Some("2026-08-04T14:00:00Z".parse().unwrap());
    let line = RangeLine::through(front, rear).unwrap();
    let report = line.check(&beside(), &asked);
    assert_eq!(
        problem_of(&report, ProblemCode::MarkMovable),
        Some((
            Severity::Warning,
            ProblemReason::MarkMovable {
                mark: "withy".to_owned(),
                comment: Some("renewed each spring".to_owned())
            }
        ))
    );
    assert_eq!(
        problem_of(&report, ProblemCode::MarkUnconfirmed),
        Some((
            Severity::Warning,
            ProblemReason::MarkLongUnconfirmed {
                mark: "pine".to_owned(),
                last_confirmed: "2025-08-02".parse().unwrap()
            }
        ))
    );
    assert_eq!(
        problem_of(&report, ProblemCode::ErrorAssumed),
        Some((
            Severity::Note,
            ProblemReason::ErrorAssumed { mark: "pine".to_owned(), uncertainty_95_m: 2.0 }
        ))
    );
    // a day earlier the year, a leap year counted, is not over
    asked.time = Some("2026-08-03T14:00:00Z".parse().unwrap());
    let report = line.check(&beside(), &asked);
    assert_eq!(
        problem_of(&report, ProblemCode::MarkUnconfirmed),
        Some((Severity::Note, ProblemReason::MarkNeverConfirmed { mark: "withy".to_owned() }))
    );
}

#[test]
fn a_zone_across_the_line_or_all_round_it_counts_as_cutting_it() {
    let right: &[(f64, f64)] = &[(120.0, -4000.0), (1500.0, -4000.0), (1500.0, 500.0), (120.0, 500.0)];
    let round: &[(f64, f64)] = &[(-90.0, -9000.0), (90.0, -9000.0), (90.0, 9000.0), (-90.0, 9000.0)];
    let report = line(1000.0, 2.0).check(&zones(&[right, round]), &question(200.0, 2000.0));
    assert_eq!((report.clears, report.zones[0].name.as_str()), (Tristate::No, "Zone 1"));
    let deep: &[(f64, f64)] = &[(-900.0, -9000.0), (900.0, -9000.0), (900.0, 9000.0), (-900.0, 9000.0)];
    let report = line(1000.0, 2.0).check(&zones(&[deep, round]), &question(200.0, 2000.0));
    assert_eq!(
        problem_of(&report, ProblemCode::CutByAnotherZone).unwrap().1,
        ProblemReason::CutByAnotherZone { zone: "Zone 1".to_owned() }
    );
    let beyond: &[(f64, f64)] = &[(1600.0, -4000.0), (1700.0, -4000.0), (1700.0, 500.0), (1600.0, 500.0)];
    let report = line(1000.0, 2.0).check(&zones(&[right, beyond]), &question(200.0, 2000.0));
    assert!(!has(&report, ProblemCode::CutByAnotherZone) && !has(&report, ProblemCode::ZonesOnBothSides));
    assert_eq!((report.clears, report.zones.len()), (Tristate::Yes, 2));
}

#[test]
fn zones_out_of_force_or_only_proposed_are_left_out() {
    let across = [(-600.0, -1400.0), (600.0, -1400.0), (600.0, -900.0), (-600.0, -900.0)];
    for (change, expected) in [(0, Tristate::No), (1, Tristate::Yes), (2, Tristate::Yes), (3, Tristate::No)] {
        let mut found = zones(&[&across]).zones().to_vec();
        let mut asked = question(500.0, 2000.0);
        asked.time = Some("2026-06-01T10:00:00Z".parse().unwrap());
        match change {
            1 => found[0].status = Status::Proposed,
            2 => found[0].effective.from = Some("2026-06-01T10:00:01Z".parse().unwrap()),
            3 => found[0].effective.from = Some("2026-06-01T10:00:00Z".parse().unwrap()),
            _ => {}
        }
        let report = line(1000.0, 2.0).check(&ZoneSet::new(found), &asked);
        assert_eq!(report.clears, expected, "{change}");
        assert_eq!(has(&report, ProblemCode::NoZoneNear), expected == Tristate::Yes);
    }
    // the nearest zone that counts is named where a nearer one does not
    let mut two = zones(&[&across, &[(9000.0, -900.0), (9900.0, -900.0), (9900.0, 0.0)]]).zones().to_vec();
    two[0].status = Status::Repealed;
    let report = line(1000.0, 2.0).check(&ZoneSet::new(two), &question(500.0, 2000.0));
    assert_eq!(report.zones.iter().map(|zone| zone.name.as_str()).collect::<Vec<_>>(), ["Zone 1"]);
}

#[test]
fn a_zone_whose_line_is_not_known_leaves_all_near_it_undecided() {
    let unknown = |somewhere: Option<&[(f64, f64)]>| {
        let mut found = beside().zones().to_vec();
        let boundary = somewhere.map(|corners| {
            let WorkingArea::Within(boundary) = area(corners) else { panic!("a polygon") };
            boundary
        });
        let mut other = found[0].clone();
        other.name = "Cove Sanctuary".to_owned();
        other.extent = Extent::Unknown { somewhere_in: boundary, reason: "plan 2 not supplied".to_owned() };
        found.push(other);
        line(1000.0, 2.0).check(&ZoneSet::new(found), &question(200.0, 2000.0))
    };
    let report = unknown(None);
    assert_eq!(report.clears, Tristate::Undecided);
    let zone = || "Cove Sanctuary".to_owned();
    assert_eq!(report.clears_because, [ClearsReason::LineNotKnown { zone: zone() }]);
    assert_eq!(
        problem_of(&report, ProblemCode::ZoneLineNotKnown).unwrap().1,
        ProblemReason::ZoneLineNotKnown { zone: zone(), why: "plan 2 not supplied".to_owned() }
    );
    // the zone that is known still says its side
    assert_eq!(report.opens.unwrap().zone_lies, CompassPoint::East);
    // at 1500 m the doubt is 2·√(2.5² + 1.5²) + 5.45 = 11.3 m
    let near = [(-900.0, -1500.0), (-10.0, -1500.0), (-10.0, -500.0), (-900.0, -500.0)];
    assert_eq!(unknown(Some(&near)).clears, Tristate::Undecided);
    let off = [(-900.0, -1500.0), (-13.0, -1500.0), (-13.0, -500.0), (-900.0, -500.0)];
    let report = unknown(Some(&off));
    assert_eq!(report.clears, Tristate::Yes);
    assert!(!has(&report, ProblemCode::ZoneLineNotKnown));
}

#[test]
fn edges_that_nobody_states_doubt_the_distance_where_their_readings_differ() {
    // a side of 60 km along a parallel: rhumb line and geodesic differ by L²·tan φ/8R, 70 m, at its middle
    let corners = [(-30_000.0, -60.0), (30_000.0, -60.0), (30_000.0, 9000.0), (-30_000.0, 9000.0)];
    let geometry = format!(r#""type": "Polygon", "coordinates": [{}]"#, ring(&corners));
    let zones = read(&[feature(0, &geometry, r#""edges": "unstated""#)]);
    let east =
        RangeLine::through(mark("front", at(-3000.0, -100.0), 1.0), mark("rear", at(-5000.0, -100.0), 1.0))
            .unwrap();
    let report = east.check(&zones, &question(2000.0, 4000.0));
    assert_eq!(report.clears, Tristate::Undecided, "{:?}", report.zones[0].worst);
    assert!(report.zones[0].worst.unwrap().uncertainty_95.metres() > 30.0);
}

#[test]
fn launching_inside_a_zone_is_a_note_even_where_no_zone_is_near_the_stretch() {
    let north = zones(&[&[(-900.0, 9000.0), (900.0, 9000.0), (900.0, 12_000.0), (-900.0, 12_000.0)]]);
    let mut asked = question(200.0, 2000.0);
    asked.launch = Some(at(0.0, 10_000.0));
    let report = line(1000.0, 2.0).check(&north, &asked);
    let (severity, reason) = problem_of(&report, ProblemCode::LaunchInsideZone).unwrap();
    let to_cross = vec![crate::rule::Condition::CrossingUnsaid];
    let inside = ProblemReason::LaunchInsideZone { zone: "Zone 0".to_owned(), to_cross };
    assert_eq!((severity, reason), (Severity::Note, inside));
    asked.launch = Some(at(0.0, 8000.0));
    assert!(!has(&line(1000.0, 2.0).check(&north, &asked), ProblemCode::LaunchInsideZone));
}

#[test]
fn a_low_sun_straight_behind_is_a_note() {
    // looking north-west at a sun that rises in the south-east: 21 December, about 09:50 UTC at 30°W, 0 to 5° high
    let marks =
        RangeLine::through(mark("front", at(0.0, 0.0), 2.0), mark("rear", at(-800.0, 1000.0), 2.0)).unwrap();
    let mut asked = question(200.0, 2000.0);
    asked.time = Some("2026-12-21T10:00:00Z".parse().unwrap());
    let report = marks.check(&beside(), &asked);
    assert_eq!(
        problem_of(&report, ProblemCode::SunBehind).unwrap().0,
        Severity::Note,
        "{:?}",
        report.problems
    );
    assert!(has(&report, ProblemCode::TerrainNotChecked));
}

#[test]
fn the_sun_is_asked_about_only_where_the_hour_is_known() {
    let mut asked = question(200.0, 2000.0);
    asked.time = Some("2026-12-21T02:00:00Z".parse().unwrap());
    assert!(has(&line(1000.0, 2.0).check(&beside(), &asked), ProblemCode::Dark));
    asked.hour_is_known = false;
    assert!(!has(&line(1000.0, 2.0).check(&beside(), &asked), ProblemCode::Dark));
}
