//! Which side says inside, and when none does.

use super::scene_tests::{at, feature, has, line, mark, question, read, ring, zones};
use crate::transit::{ClearsReason, Meets, ProblemCode, RangeLine, Side, TransitReport, WorkingArea};
use crate::zone::ZoneSet;
use crate::{Metres, Tristate};

fn side(report: &TransitReport) -> Option<Side> {
    report.opens.as_ref().map(|opens| opens.rear_shows)
}

fn strip(half_width_m: f64) -> WorkingArea {
    WorkingArea::Strip { half_width: Metres::computed(half_width_m) }
}

/// A zone of one feature: coordinates of a polygon or multipolygon.
fn shaped(kind: &str, coordinates: &str) -> ZoneSet {
    let geometry = format!(r#""type": "{kind}", "coordinates": {coordinates}"#);
    read(&[feature(0, &geometry, r#""edges": "geodesic""#)])
}

#[test]
fn a_zone_straight_ahead_has_no_side() {
    // 300 m beyond the far end, as wide to the left as to the right, and with its nearest point 1 mm off the line
    let ahead = zones(&[&[
        (-900.0, -2800.0),
        (900.0, -2800.0),
        (900.0, -2300.0),
        (0.001, -2299.99),
        (-900.0, -2300.0),
    ]]);
    let report = line(1000.0, 5.0).check(&ahead, &question(200.0, 2000.0));
    assert_eq!(report.clears, Tristate::Yes);
    assert_eq!(report.zones[0].inside, None);
    assert_eq!(side(&report), None);
    assert!(has(&report, ProblemCode::ZonesOnBothSides), "{:?}", report.problems);
}

#[test]
fn a_zone_that_bends_round_the_line_has_no_side_once_its_other_limb_is_in_the_working_area() {
    // 100 m to the right all along; a limb of it 400 m to the left, joined far beyond
    let bent = [
        (100.0, 500.0),
        (100.0, -6000.0),
        (-400.0, -6000.0),
        (-400.0, 500.0),
        (-900.0, 500.0),
        (-900.0, -6500.0),
        (900.0, -6500.0),
        (900.0, 500.0),
    ];
    let bent = zones(&[&bent]);
    let mut asked = question(200.0, 2000.0);
    asked.area = strip(350.0);
    let narrow = line(1000.0, 5.0).check(&bent, &asked);
    assert_eq!((narrow.clears, side(&narrow)), (Tristate::Yes, Some(Side::Right)));
    assert!(!has(&narrow, ProblemCode::ZonesOnBothSides) && !has(&narrow, ProblemCode::FalseSafeWater));
    asked.area = strip(600.0);
    let wide = line(1000.0, 5.0).check(&bent, &asked);
    assert_eq!((wide.clears, side(&wide)), (Tristate::Yes, None));
    assert!(has(&wide, ProblemCode::ZonesOnBothSides));
}

#[test]
fn a_small_zone_on_the_clear_side_of_a_large_one_is_told() {
    // 20 m square, 300 m to the left; its 400 m² are a thousandth of the large zone's water here
    let large: &[(f64, f64)] = &[(100.0, -9000.0), (9000.0, -9000.0), (9000.0, 500.0), (100.0, 500.0)];
    let small: &[(f64, f64)] = &[(-320.0, -1000.0), (-300.0, -1000.0), (-300.0, -980.0), (-320.0, -980.0)];
    let report = line(1000.0, 5.0).check(&zones(&[large, small]), &question(200.0, 2000.0));
    assert_eq!((report.clears, side(&report)), (Tristate::Yes, Some(Side::Right)));
    assert!((report.water.as_ref().unwrap().false_clear_open_m2 - 400.0).abs() < 1.0);
    assert!(has(&report, ProblemCode::FalseSafeWater), "{:?}", report.problems);
    assert!(has(&report, ProblemCode::ZonesOnBothSides));
    let alone = line(1000.0, 5.0).check(&zones(&[large]), &question(200.0, 2000.0));
    assert!(!has(&alone, ProblemCode::FalseSafeWater) && !has(&alone, ProblemCode::ZonesOnBothSides));
}

#[test]
fn water_inside_from_which_the_eye_sees_no_opening_yet_is_told() {
    // marks on the zone's own edge, 100 m apart: 1500 m off the eye sees 35 m (5′·1500·1600/100), all of it inside
    let edge = zones(&[&[(0.0, -3000.0), (900.0, -3000.0), (900.0, 500.0), (0.0, 500.0)]]);
    let report = line(100.0, 2.0).check(&edge, &question(500.0, 1500.0));
    let problem =
        report.problems.iter().find(|problem| problem.code() == ProblemCode::FalseSafeWater).unwrap();
    assert_eq!(problem.reason.code(), "still-in-line");
    // beside it, with more margin than that, nothing is hidden
    let beside = zones(&[&[(60.0, -3000.0), (900.0, -3000.0), (900.0, 500.0), (60.0, 500.0)]]);
    assert!(!has(&line(100.0, 2.0).check(&beside, &question(500.0, 1500.0)), ProblemCode::FalseSafeWater));
}

#[test]
fn a_channel_between_two_zones_is_told() {
    let right: &[(f64, f64)] = &[(150.0, -4000.0), (900.0, -4000.0), (900.0, 500.0), (150.0, 500.0)];
    let left: &[(f64, f64)] = &[(-900.0, -4000.0), (-200.0, -4000.0), (-200.0, 500.0), (-900.0, 500.0)];
    let report = line(1000.0, 5.0).check(&zones(&[right, left]), &question(200.0, 2000.0));
    assert_eq!((report.clears, side(&report)), (Tristate::Yes, Some(Side::Right)));
    assert!(has(&report, ProblemCode::ZonesOnBothSides) && has(&report, ProblemCode::FalseSafeWater));
}

#[test]
fn a_pocket_of_open_water_beside_the_line_turns_the_sides_round() {
    // a zone 4 km wide with a hole in it; the line runs in the hole, 80 m from its right-hand and 900 m from its left edge
    let outer = ring(&[(-2000.0, -6000.0), (2000.0, -6000.0), (2000.0, 3000.0), (-2000.0, 3000.0)]);
    let hole = ring(&[(-900.0, -5000.0), (-900.0, 2000.0), (80.0, 2000.0), (80.0, -5000.0)]);
    let zones = shaped("Polygon", &format!("[{outer},{hole}]"));
    let report = line(1000.0, 5.0).check(&zones, &question(200.0, 2000.0));
    assert_eq!((report.clears, side(&report)), (Tristate::Yes, Some(Side::Right)));
    let closest = report.zones[0].closest.unwrap();
    assert!((closest.signed_distance.metres() - 80.0).abs() < 0.5, "{closest:?}");
    // and from inside the zone, the pocket to the left: what shows right is deeper inside
    let pocket = ring(&[(-900.0, -5000.0), (-900.0, 2000.0), (-80.0, 2000.0), (-80.0, -5000.0)]);
    let zones = shaped("Polygon", &format!("[{outer},{pocket}]"));
    let report = line(1000.0, 5.0).check(&zones, &question(200.0, 2000.0));
    assert_eq!((report.clears, side(&report)), (Tristate::No, Some(Side::Right)));
    let [ClearsReason::RunsInside { zone, signed_distance_m, .. }] = &report.clears_because[..] else {
        panic!("{:?}", report.clears_because)
    };
    assert!(zone == "Zone 0" && *signed_distance_m < 0.0, "{signed_distance_m}");
}

#[test]
fn a_zone_of_two_parts_on_either_side_has_no_side() {
    let right = ring(&[(150.0, -4000.0), (900.0, -4000.0), (900.0, 500.0), (150.0, 500.0)]);
    let left = ring(&[(-900.0, -4000.0), (-200.0, -4000.0), (-200.0, 500.0), (-900.0, 500.0)]);
    let zones = shaped("MultiPolygon", &format!("[[{right}],[{left}]]"));
    let report = line(1000.0, 5.0).check(&zones, &question(200.0, 2000.0));
    assert_eq!((report.clears, side(&report)), (Tristate::Yes, None));
    assert!(has(&report, ProblemCode::ZonesOnBothSides));
}

#[test]
fn a_line_inside_a_zone_all_along_says_where_deeper_lies() {
    // 60 m inside its left-hand edge
    let zones = zones(&[&[(-60.0, -6000.0), (3000.0, -6000.0), (3000.0, 3000.0), (-60.0, 3000.0)]]);
    let report = line(1000.0, 2.0).check(&zones, &question(200.0, 2000.0));
    assert_eq!((report.clears, side(&report)), (Tristate::No, Some(Side::Right)));
    assert!(report.zones[0].meetings.is_empty());
    // the 60 m to the left, less what the eye does not see, look clear and are not
    assert!(has(&report, ProblemCode::FalseSafeWater));
    let from_left = report.water.unwrap().false_clear_open_m2;
    assert!((60.0 * 1800.0 - 10.0 * 1800.0..60.0 * 1800.0).contains(&from_left), "{from_left}");
}

#[test]
fn a_zone_whose_side_changes_along_the_stretch_has_none() {
    // to the right close in, to the left farther out, joined beyond the far end
    let zigzag = [
        (100.0, 300.0),
        (100.0, -1000.0),
        (150.0, -3000.0),
        (-100.0, -3000.0),
        (-100.0, -1500.0),
        (-900.0, -1500.0),
        (-900.0, -4000.0),
        (900.0, -4000.0),
        (900.0, 300.0),
    ];
    let report = line(1000.0, 2.0).check(&zones(&[&zigzag]), &question(200.0, 2500.0));
    assert_eq!((report.clears, side(&report)), (Tristate::Yes, None));
    assert!(has(&report, ProblemCode::ZonesOnBothSides));
}

#[test]
fn a_line_along_the_edge_touches_once_and_knows_its_side() {
    for (east_m, expected) in [(1500.0, Side::Right), (-1500.0, Side::Left)] {
        let mut edge = vec![(0.0, -4000.0), (east_m, -4000.0), (east_m, 500.0), (0.0, 500.0)];
        if east_m < 0.0 {
            edge.reverse();
        }
        let report = line(1000.0, 2.0).check(&zones(&[&edge]), &question(200.0, 2000.0));
        let what: Vec<_> = report.zones[0].meetings.iter().map(|meeting| meeting.what).collect();
        assert_eq!((report.clears, what), (Tristate::Undecided, vec![Meets::Touches]));
        assert_eq!(side(&report), Some(expected));
    }
}

#[test]
fn a_ragged_edge_along_the_line_does_not_flicker() {
    // corners every 20 m, 4 mm to either side of the line in turn: as far as seven decimals of a degree are rounded
    let ragged =
        (0..150).map(|step| (if step % 2 == 0 { 0.004 } else { -0.004 }, -3000.0 + 20.0 * f64::from(step)));
    let ring: Vec<(f64, f64)> = ragged.chain([(1000.0, -20.0), (1000.0, -3000.0)]).collect();
    let report = line(1000.0, 2.0).check(&zones(&[&ring]), &question(200.0, 2000.0));
    assert_eq!(report.zones[0].meetings.len(), 1, "{:?}", report.zones[0].meetings);
    assert_eq!(report.clears, Tristate::Undecided);
}

#[test]
fn a_stretch_that_ends_on_the_boundary_touches_it() {
    let beyond = zones(&[&[(-500.0, -3000.0), (500.0, -3000.0), (500.0, -2000.0), (-500.0, -2000.0)]]);
    let report = line(1000.0, 2.0).check(&beyond, &question(200.0, 2000.0));
    let meetings = &report.zones[0].meetings;
    assert_eq!(meetings.iter().map(|meeting| meeting.what).collect::<Vec<_>>(), [Meets::Touches]);
    assert!((meetings[0].distance_from_front.metres() - 2000.0).abs() < 0.5, "{meetings:?}");
}

#[test]
fn a_tiny_zone_between_the_probes_is_entered_and_left() {
    // 20 m, on a stretch of 10 km
    let tiny = zones(&[&[(-5.0, -7013.0), (15.0, -7013.0), (15.0, -6993.0), (-5.0, -6993.0)]]);
    let report = line(9000.0, 1.0).check(&tiny, &question(200.0, 10_200.0));
    let what: Vec<_> = report.zones[0].meetings.iter().map(|meeting| meeting.what).collect();
    assert_eq!(what, [Meets::Enters, Meets::Leaves]);
    let far: Vec<f64> =
        report.zones[0].meetings.iter().map(|meeting| meeting.distance_from_front.metres()).collect();
    assert!((far[0] - 6993.0).abs() < 0.02 && (far[1] - 7013.0).abs() < 0.02, "{far:?}");
}

#[test]
fn a_zone_of_a_thousand_kilometres_is_held_to_its_edge() {
    // a quarter of the North Atlantic, its edge along a meridian 1.9 km to the right
    let edge_deg = at(1900.0, 0.0).longitude().degrees();
    let geometry = format!(
        r#""type": "Polygon", "coordinates": [[[{edge_deg}, 40], [-18, 40], [-18, 50], [{edge_deg}, 50], [{edge_deg}, 40]]]"#
    );
    let huge = read(&[feature(0, &geometry, r#""edges": "rhumb""#)]);
    let mut asked = question(200.0, 2000.0);
    asked.area = strip(3000.0);
    let report = line(1000.0, 5.0).check(&huge, &asked);
    assert_eq!((report.clears, side(&report)), (Tristate::Yes, Some(Side::Right)));
    let closest = report.zones[0].closest.unwrap().signed_distance.metres();
    // the meridians draw together by 1.9 km · tan(45°)/R for each metre to the north: below 1 m here
    assert!((closest - 1900.0).abs() < 1.5, "{closest}");
}

#[test]
fn marks_seen_across_180_degrees_and_near_a_pole_keep_their_side() {
    use crate::geodesic::direct;
    for (lat, lon) in [(-16.8, 179.9995), (-16.8, -179.9995), (89.98, 12.0), (-89.99, -170.0)] {
        let front = crate::Position::from_degrees(lat, lon).unwrap();
        for toward in (0..8).map(|eighth| 45.0 * f64::from(eighth)) {
            let rear = direct(front, toward, 1000.0);
            let line = RangeLine::through(mark("front", front, 2.0), mark("rear", rear, 2.0)).unwrap();
            let beside = |along_m: f64, right_m: f64| {
                line.beside(Metres::computed(along_m), Metres::computed(right_m))
            };
            let corners = [(200.0, 120.0), (200.0, 900.0), (3000.0, 900.0), (3000.0, 120.0)];
            let boundary = crate::Boundary::build(&[crate::PartSpec::Polygon {
                exterior: crate::RingSpec {
                    vertices: corners.iter().map(|(along_m, right_m)| beside(*along_m, *right_m)).collect(),
                    edges: vec![crate::EdgeModel::Geodesic; 4],
                    sides: Vec::new(),
                },
                holes: vec![],
            }])
            .unwrap();
            let mut zone = zones(&[&[(0.0, 0.0), (9.0, 0.0), (9.0, 9.0)]]).zones()[0].clone();
            zone.extent = crate::zone::Extent::Known(boundary);
            let report = line.check(&ZoneSet::new(vec![zone]), &question(300.0, 2500.0));
            assert_eq!(
                (report.clears, side(&report)),
                (Tristate::Yes, Some(Side::Right)),
                "{lat} {lon} {toward}"
            );
        }
    }
}

#[test]
fn a_zone_farther_off_than_the_line_may_stray_matters_and_one_beyond_does_not() {
    // marks 100 m apart, each known to 10 m: 20 km off the line may be off by 10·√(201² + 200²) = 2836 m
    let beside = |off_m: f64| {
        zones(&[&[(off_m, -25_000.0), (off_m + 3000.0, -25_000.0), (off_m + 3000.0, 500.0), (off_m, 500.0)]])
    };
    let sharp = |mut asked: crate::transit::TransitQuestion| {
        let minute = crate::Arcminutes::new(0.2).unwrap();
        asked.eye = crate::transit::Eye::new(Metres::computed(0.9), minute).unwrap();
        asked
    };
    let asked = sharp(question(200.0, 20_000.0));
    assert_eq!(line(100.0, 10.0).check(&beside(2500.0), &asked).clears, Tristate::Undecided);
    assert_eq!(line(100.0, 10.0).check(&beside(3500.0), &asked).clears, Tristate::Yes);
}

/// The whole working area lies in one zone, as much of it on either side: no side is the zone's, whatever the last digit of an
/// area says; the first of these pairs named one.
#[test]
fn a_zone_on_both_sides_alike_has_no_side() {
    let around = zones(&[&[(-5000.0, -6000.0), (5000.0, -6000.0), (5000.0, 5000.0), (-5000.0, 5000.0)]]);
    for step in 0..40 {
        let turn = f64::from(step) * 0.157;
        let (north, east) = (turn.cos(), turn.sin());
        let place = |metres: f64| at(13.7 * f64::from(step) - 270.0 + metres * east, metres * north);
        let along = RangeLine::through(mark("front", place(0.0), 5.0), mark("rear", place(350.0), 5.0));
        let report = along.unwrap().check(&around, &question(100.0, 1000.0));
        assert_eq!(side(&report), None, "{step}");
    }
}
