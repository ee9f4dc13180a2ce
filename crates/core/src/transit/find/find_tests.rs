//! The parts of the search: the plane against the ellipsoid, how rings are cut into sides, what marks are worth, and why a pair
//! ranks as it does. Whole searches are tested in `tests/find_pairs.rs`.
#![expect(clippy::float_cmp, reason = "shares are products of the same constants")]

use super::find_pairs;
use super::marks::{Looked, Tops, standing_share};
use super::side::{PlaneSide, named, sides_within};
use crate::geodesic::{direct, inverse};
use crate::landmark::Landmark;
use crate::transit::plane::{Plane, Point, plane_error_m, within_circle};
use crate::transit::{
    CompassPoint, Eye, FoundPair, PairQuestion, PairReason, Problem, ProblemCode, ProblemReason, RangeLine,
    SideName, Stretch, ZoneSide,
};
use crate::zone::Extent;
use crate::{Boundary, EdgeModel, Metres, PartSpec, Position, RingSpec, Side, SideKind, Tristate, ZoneSet};

const NORTH: SideName = SideName { faces: CompassPoint::North, number: None };

fn at(lat: f64, lon: f64) -> Position {
    Position::from_degrees(lat, lon).unwrap()
}

fn metres(metres: f64) -> Metres {
    Metres::new(metres).unwrap()
}

/// The search laid out flat about Sallow Cove: corners in metres east and north.
fn flat_sides(corners: &[(f64, f64)], range_m: f64) -> Vec<PlaneSide> {
    sides_within(&flat(corners, Vec::new()), Plane::about(at(45.117, -30.119)), range_m)
}

/// A boundary laid out flat about Sallow Cove, its sides as given.
fn flat(corners: &[(f64, f64)], sides: Vec<Side>) -> Boundary {
    let plane = Plane::about(at(45.117, -30.119));
    let place = |(east_m, north_m): &(f64, f64)| plane.position(Point { east_m: *east_m, north_m: *north_m });
    let vertices: Vec<Position> = corners.iter().map(place).collect();
    let edges = vec![EdgeModel::Geodesic; vertices.len()];
    let exterior = RingSpec { vertices, edges, sides };
    Boundary::build(&[PartSpec::Polygon { exterior, holes: vec![] }]).unwrap()
}

fn names(sides: &[PlaneSide]) -> Vec<String> {
    named(sides, Plane::about(at(45.117, -30.119))).iter().map(called).collect()
}

/// "north side", or "north side 2" of several that look north.
fn called(side: &ZoneSide) -> String {
    let faces = side.name.faces.code();
    side.name.number.map_or_else(|| format!("{faces} side"), |number| format!("{faces} side {number}"))
}

#[test]
fn plane_is_the_ellipsoid_to_within_its_stated_error() {
    for (lat, lon) in [(45.117, -30.119), (-17.0, 179.99), (0.0, -180.0), (82.0, 12.0)] {
        let plane = Plane::about(at(lat, lon));
        for reach_m in [2_000.0, 20_000.0, 100_000.0] {
            let here: Vec<Position> =
                (0..7).map(|number| direct(at(lat, lon), 51.0 * f64::from(number), reach_m)).collect();
            for (one, other) in here.iter().zip(here.iter().skip(1)) {
                let flat_m = plane.point(*one).minus(plane.point(*other)).norm_m();
                let true_m = inverse(*one, *other).distance_m;
                assert!((flat_m - true_m).abs() <= plane_error_m(reach_m) + 1e-6, "{flat_m} {true_m}");
                // the middle of the geodesic off the straight line of the plane
                let middle = direct(*one, inverse(*one, *other).azimuth_start_deg, true_m / 2.0);
                let chord = plane.point(*other).minus(plane.point(*one)).unit();
                let off_m = chord.cross(plane.point(middle).minus(plane.point(*one))).abs();
                assert!(off_m <= plane_error_m(reach_m) + 1e-6, "{off_m} at {reach_m}");
                assert!(inverse(plane.position(plane.point(*one)), *one).distance_m < 1e-6);
            }
        }
    }
}

#[test]
fn part_of_a_way_within_a_circle() {
    let point = |east_m, north_m| Point { east_m, north_m };
    assert_eq!(within_circle(point(-10.0, 0.0), point(10.0, 0.0), 5.0), Some((0.25, 0.75)));
    assert_eq!(within_circle(point(-10.0, 6.0), point(10.0, 6.0), 5.0), None);
    assert_eq!(within_circle(point(0.0, 1.0), point(0.0, 2.0), 5.0), Some((0.0, 1.0)));
}

#[test]
fn rectangle_has_four_sides_whatever_its_pieces() {
    // 9 km edges are drawn in pieces of 2 km
    let corners = [(-4_500.0, -500.0), (4_500.0, -500.0), (4_500.0, 500.0), (-4_500.0, 500.0)];
    for shift in 0..4 {
        let mut turned = corners;
        turned.rotate_left(shift);
        let sides = flat_sides(&turned, 20_000.0);
        let mut told = names(&sides);
        told.sort();
        assert_eq!(told, ["east side", "north side", "south side", "west side"]);
        let longest = sides.iter().map(|side| side.length_m).fold(0.0, f64::max);
        assert!((longest - 9_000.0).abs() < 0.1);
    }
}

#[test]
fn side_is_cut_to_the_range_and_may_fall_in_two() {
    // a bay's shape: two arms of 400 m reach into range from the north
    let corners = [
        (-600.0, 800.0),
        (-400.0, 800.0),
        (-400.0, 2_000.0),
        (400.0, 2_000.0),
        (400.0, 800.0),
        (600.0, 800.0),
        (600.0, 3_000.0),
        (-600.0, 3_000.0),
    ];
    let told = names(&flat_sides(&corners, 1_000.0));
    assert_eq!(told.iter().filter(|name| name.starts_with("south side")).count(), 2, "{told:?}");
    assert!(told.contains(&"south side 2".to_owned()), "{told:?}");
    assert!(flat_sides(&corners, 700.0).is_empty());
    // launched inside, with only the north side in range
    let around = flat_sides(&[(-900.0, -900.0), (900.0, -900.0), (900.0, 300.0), (-900.0, 300.0)], 500.0);
    assert_eq!(names(&around), ["north side"]);
    assert!((around[0].length_m - 800.0).abs() < 0.01, "a chord of a circle: 2·√(500² − 300²)");
}

/// A reserve 1 km square, its south side on the beach and its west side shore up to half of it: corners, and what leaves each.
fn with_a_beach() -> Boundary {
    let corners =
        [(-500.0, 0.0), (500.0, 0.0), (500.0, 1_000.0), (-500.0, 1_000.0), (-500.0, 700.0), (-500.0, 400.0)];
    let kinds = [
        SideKind::Shore,
        SideKind::Open,
        SideKind::Open,
        SideKind::Open,
        SideKind::Mouth,
        SideKind::Unresolved,
    ];
    flat(&corners, kinds.map(Side::from).to_vec())
}

#[test]
fn sides_that_no_boat_crosses_are_left_out_and_cut_what_is_straight() {
    let plane = Plane::about(at(45.117, -30.119));
    let sides = named(&sides_within(&with_a_beach(), plane, 5_000.0), plane);
    let mut told: Vec<(String, SideKind, f64)> =
        sides.iter().map(|side| (called(side), side.kind, side.length.metres().round())).collect();
    told.sort_by(|one, other| one.0.cmp(&other.0));
    let expected = [
        ("east side", SideKind::Open, 1_000.0),
        ("north side", SideKind::Open, 1_000.0),
        ("west side 1", SideKind::Open, 300.0),
        ("west side 2", SideKind::Mouth, 300.0),
    ];
    assert_eq!(told, expected.map(|(name, kind, length_m)| (name.to_owned(), kind, length_m)));
}

#[test]
fn the_joint_from_a_vertex_in_the_water_to_the_coast_is_no_side_to_cross() {
    // the north side ends 80 m off the beach; the joint to it may be off by half its length, as `along: coast` reads it
    let corners = [(-500.0, 0.0), (500.0, 0.0), (500.0, 1_000.0), (-420.0, 1_000.0), (-500.0, 980.0)];
    let joint = Side { uncertainty: Some(metres(41.2)), ..SideKind::Open.into() };
    let sides = vec![Side::default(), Side::default(), Side::default(), joint, SideKind::Shore.into()];
    let mut told = names(&sides_within(&flat(&corners, sides), Plane::about(at(45.117, -30.119)), 5_000.0));
    told.sort();
    assert_eq!(told, ["east side", "north side", "south side"]);
    // one whose line is known to 30 m is a side
    let known = Side { uncertainty: Some(metres(30.0)), ..SideKind::Open.into() };
    let sides = vec![Side::default(), Side::default(), Side::default(), known, SideKind::Shore.into()];
    let told = names(&sides_within(&flat(&corners, sides), Plane::about(at(45.117, -30.119)), 5_000.0));
    assert_eq!(told.len(), 4, "{told:?}");
}

#[test]
fn a_long_beach_takes_no_side_off_the_sea() {
    // 3,000 points of a beach with bays longer than the sea sides, then three straight sides
    let mut corners: Vec<(f64, f64)> = (0..3_000_u32)
        .map(|step| {
            let along = f64::from(step) / 3_000.0;
            (3_000.0 * along - 1_500.0, 200.0 * (along * 40.0 * std::f64::consts::PI).sin())
        })
        .collect();
    let mut sides = vec![Side::from(SideKind::Shore); corners.len()];
    corners.extend([(1_500.0, 0.0), (1_500.0, 900.0), (-1_500.0, 900.0)]);
    sides.extend(vec![Side::default(); 3]);
    let plane = Plane::about(at(45.117, -30.119));
    let found = sides_within(&flat(&corners, sides), plane, 5_000.0);
    let mut told = names(&found);
    told.sort();
    assert_eq!(told, ["east side", "north side", "west side"]);
    let all_open = sides_within(&flat(&corners, Vec::new()), plane, 5_000.0);
    assert_eq!(all_open.len(), 32, "without the sides the beach fills the list");
}

#[test]
fn a_zone_that_no_boat_enters_is_refused_with_the_reason() {
    let question = PairQuestion {
        launch: at(45.117, -30.119),
        range: metres(5_000.0),
        reach: Stretch::new(metres(100.0), metres(5_000.0)).unwrap(),
        eye: Eye::default(),
        zone_number: 0,
        at_most: 3,
        day: None,
    };
    let ask = |boundary: Boundary, range_m: f64| {
        let mut zone = cove().zones()[0].clone();
        zone.name = "lagoon".to_owned();
        zone.extent = Extent::Known(boundary);
        let question = PairQuestion { range: metres(range_m), ..question.clone() };
        find_pairs(&ZoneSet::new(vec![zone]), &[], &question).unwrap_err().to_string()
    };
    let lagoon = flat(
        &[(-500.0, 0.0), (500.0, 0.0), (0.0, 800.0)],
        vec![SideKind::Shore.into(), SideKind::Unresolved.into(), SideKind::Shore.into()],
    );
    assert!(ask(lagoon, 5_000.0).starts_with("a boat can cross no side of lagoon: all of it is shore"));
    // the beach is in range, the sea sides are not: the nearest is the end of the east side, 500 m off
    let told = ask(with_a_beach(), 450.0);
    let expected = "no part of the boundary of lagoon that a boat can cross is within 450 m of the launch; \
                    its nearest point is 500 m away";
    assert_eq!(told, expected);
}

#[test]
fn line_with_small_jags_is_one_side() {
    // steps of 3 m every 40 m along 800 m, like a line densified off a map
    let mut corners: Vec<(f64, f64)> =
        (0..=20).map(|step| (400.0 - 40.0 * f64::from(step), 1_000.0 + 3.0 * f64::from(step % 2))).collect();
    corners.extend([(-400.0, 500.0), (400.0, 500.0)]);
    let told = names(&flat_sides(&corners, 5_000.0));
    assert_eq!(told.iter().filter(|name| name.starts_with("north side")).count(), 1, "{told:?}");
}

#[test]
fn marks_are_worth_what_is_seen_of_them() {
    let looked = Looked { separation_m: 1_000.0, near_m: 500.0, far_m: 3_000.0 };
    let share = |front_m, rear_m| Tops { front_m, rear_m, eye: Eye::default() }.share(looked);
    // by hand, eye 0.9 m: at 500 m a front of 5 m stands 4.1/500 = 0.0082, a rear of 20 m 19.1/1500 = 0.0127 high
    assert_eq!(share(Some(5.0), Some(20.0)), 1.0);
    // a rear of 12 m only 0.0074 there, but 0.0028 over 0.0014 at the far end
    assert_eq!(share(Some(5.0), Some(12.0)), 0.3);
    assert_eq!(share(Some(20.0), Some(5.0)), 0.0);
    assert_eq!(share(None, Some(20.0)), 0.7);
    // 4000 m from the rear: (4000 − 3631)² / 2·7323 km = 0.009 m of it is hidden, from 1500 m nothing
    assert_eq!(share(None, Some(0.005)), 0.7 * 0.3);
    assert_eq!(share(None, Some(0.0)), 0.0);
    let mut mark = Landmark::at("pine", at(45.12, -30.12));
    assert_eq!(standing_share(&mark, None), 0.8);
    mark.last_confirmed = Some("2025-06-01".parse().unwrap());
    let on = |day: &str| Some(day.parse().unwrap());
    assert_eq!(standing_share(&mark, None), 1.0);
    assert_eq!(standing_share(&mark, on("2026-06-01")), 1.0);
    assert_eq!(standing_share(&mark, on("2026-06-03")), 0.8);
    mark.fixed = Some(false);
    assert_eq!(standing_share(&mark, on("2026-06-03")), 0.7 * 0.8);
}

fn cove() -> ZoneSet {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo-data/zones/marrowick.json");
    let zones = crate::zone_file::read("marrowick.json", &std::fs::read(path).unwrap()).unwrap().zones;
    ZoneSet::new(zones.into_iter().filter(|zone| zone.id.0 == "sallow-cove").collect())
}

fn question() -> PairQuestion {
    PairQuestion {
        launch: at(45.117, -30.119),
        range: metres(6_000.0),
        reach: Stretch::new(metres(100.0), metres(6_000.0)).unwrap(),
        eye: Eye::default(),
        zone_number: 0,
        at_most: 5,
        day: Some("2026-07-01".parse().unwrap()),
    }
}

fn north_side(landmarks: &[Landmark]) -> Vec<FoundPair> {
    let found = find_pairs(&cove(), landmarks, &question()).unwrap();
    found.into_iter().find(|side| side.side.name == NORTH).unwrap().pairs
}

/// The demo's Day Beacon and Lone Pine, with the beacon put east of the cove.
fn beacon_and_pine() -> [Landmark; 2] {
    let mut beacon = Landmark::at("Day Beacon", at(45.1248, -30.1150));
    beacon.height = Some(metres(5.0));
    beacon.position_error_95 = metres(2.0);
    beacon.last_confirmed = Some("2026-03-14".parse().unwrap());
    let mut pine = Landmark::at("Lone Pine", at(45.1248, -30.0900));
    pine.height = Some(metres(71.0));
    pine.fixed = Some(false);
    pine.position_error_95 = metres(8.0);
    pine.last_confirmed = Some("2024-06-21".parse().unwrap());
    [beacon, pine]
}

#[test]
fn found_pair_says_why_and_what_is_wrong() {
    let pairs = north_side(&beacon_and_pine());
    assert_eq!(pairs.len(), 1);
    let pair = &pairs[0];
    assert_eq!(pair.clears, Tristate::Yes);
    let PairReason::KeepsClear { zone, margin_m, uncertainty_95_m } = &pair.because[0] else {
        panic!("{:?}", pair.because)
    };
    assert_eq!(zone, "Sallow Cove Reserve");
    assert!(*margin_m > 0.0 && *uncertainty_95_m > 0.0);
    let said: Vec<&str> = pair.because.iter().map(PairReason::code).collect();
    for code in ["eye-sees", "marks-put-line-off", "gives-away"] {
        assert!(said.contains(&code), "{code}: {said:?}");
    }
    let serves = pair.because.iter().find_map(|reason| {
        let PairReason::ServesSide { share, length_m } = reason else { return None };
        Some(((100.0 * share).round(), length_m.round()))
    });
    // 0.0189° of the parallel, from the seaward corner to Sallow Point (geographiclib)
    assert_eq!(serves, Some((100.0, 1487.0)));
    let (mark, last_confirmed) = ("Lone Pine".to_owned(), "2024-06-21".parse().unwrap());
    for reason in [
        ProblemReason::MarkMovable { mark: mark.clone(), comment: None },
        ProblemReason::MarkLongUnconfirmed { mark, last_confirmed },
    ] {
        assert!(pair.problems.iter().any(|problem| problem.reason == reason), "{reason:?}");
    }
    let codes: Vec<ProblemCode> = pair.problems.iter().map(Problem::code).collect();
    assert!(codes.contains(&ProblemCode::MarkMovable) && codes.contains(&ProblemCode::MarkUnconfirmed));
    assert!(codes.contains(&ProblemCode::ErrorAssumed) && !codes.contains(&ProblemCode::HeightNotGiven));
    // what the plane ranked by is what the line on the ellipsoid says
    let line = RangeLine::through(pair.line.front().clone(), pair.line.rear().clone()).unwrap();
    assert_eq!(pair.line_uncertainty_95, line.uncertainty_95(pair.stretch.far()));
}

#[test]
fn pair_that_nearly_clears_stands_at_the_end() {
    let [beacon, pine] = beacon_and_pine();
    let mut low_beacon = beacon.clone();
    low_beacon.name = "Low Beacon".to_owned();
    low_beacon.position = at(45.1240, -30.1150);
    let mut low_pine = pine.clone();
    low_pine.name = "Low Pine".to_owned();
    low_pine.position = at(45.1240, -30.0900);
    let pairs = north_side(&[low_beacon, beacon, pine, low_pine]);
    let last = pairs.last().unwrap();
    assert_eq!(last.line.front().name, "Low Beacon");
    assert_eq!((last.clears, last.score.whole()), (Tristate::Undecided, 0.0));
    assert!(last.margin.metres() < 0.0 && last.because[0].code() == "not-surely-clear");
    let clears: Vec<Tristate> = pairs.iter().map(|pair| pair.clears).collect();
    assert!(clears.windows(2).all(|two| two[0] == Tristate::Yes || two[1] != Tristate::Yes), "{clears:?}");
}

#[test]
fn marks_too_close_for_their_errors_never_rank() {
    let [beacon, mut pine] = beacon_and_pine();
    pine.position = at(45.1248, -30.1145); // 39 m behind, known to 8.2 m together
    assert!(north_side(&[beacon, pine]).is_empty());
}

#[test]
fn zone_that_may_be_anywhere_lets_no_pair_clear_but_ranks_them() {
    let mut zones = cove().zones().to_vec();
    let mut lost = zones[0].clone();
    lost.name = "Lost Ground".to_owned();
    lost.extent = Extent::Unknown { somewhere_in: None, reason: "see plan 2, not supplied".to_owned() };
    zones.push(lost);
    let zones = ZoneSet::new(zones);
    let found = find_pairs(&zones, &beacon_and_pine(), &question()).unwrap();
    let pair = &found.iter().find(|side| side.side.name == NORTH).unwrap().pairs[0];
    assert_eq!(pair.clears, Tristate::Undecided);
    assert!(pair.margin.metres() > 0.0 && pair.score.whole() > 0.0);
    assert!(pair.because.contains(&PairReason::ZoneAnywhere { zone: "Lost Ground".to_owned() }));
    assert!(pair.problems.iter().any(|problem| problem.code() == ProblemCode::ZoneLineNotKnown));
    let asked_for_it = PairQuestion { zone_number: 1, ..question() };
    assert_eq!(
        find_pairs(&zones, &beacon_and_pine(), &asked_for_it).unwrap_err().to_string(),
        "the boundary of Lost Ground is not known (see plan 2, not supplied), so no marks can be found for it"
    );
}

#[test]
fn side_inside_another_zone_is_served_by_no_pair() {
    // the same reserve, 1.5 km wider to the north, given as a second zone
    let mut zones = cove().zones().to_vec();
    let mut wider = zones[0].clone();
    wider.name = "Wider Reserve".to_owned();
    let corners = [(45.11, -30.15), (45.11, -30.117), (45.138, -30.117), (45.138, -30.15)];
    let vertices: Vec<Position> = corners.iter().map(|(lat, lon)| at(*lat, *lon)).collect();
    let exterior = RingSpec { vertices, edges: vec![EdgeModel::Geodesic; 4], sides: Vec::new() };
    let boundary = Boundary::build(&[PartSpec::Polygon { exterior, holes: vec![] }]).unwrap();
    wider.extent = Extent::Known(boundary);
    zones.push(wider);
    let zones = ZoneSet::new(zones);
    let found = find_pairs(&zones, &beacon_and_pine(), &question()).unwrap();
    let pairs = &found.iter().find(|side| side.side.name == NORTH).unwrap().pairs;
    assert!(pairs.is_empty(), "{pairs:?}");
}
