//! Sides: what a beach changes, and what it does not.

use proptest::prelude::*;

use super::side::SideTable;
use super::*;
use crate::geodesic::{direct, inverse};
use crate::{Metres, Position};

fn at(latitude_deg: f64, longitude_deg: f64) -> Position {
    Position::from_degrees(latitude_deg, longitude_deg).unwrap()
}

/// A reserve before a beach, clockwise from its north-east corner; the east side is as given.
fn reserve(east: Side) -> Boundary {
    let corners = [(45.124, -30.117), (45.11, -30.117), (45.11, -30.15), (45.124, -30.15)];
    let vertices = corners.map(|(lat, lon)| at(lat, lon)).to_vec();
    let exterior = RingSpec {
        vertices,
        edges: vec![EdgeModel::RhumbLine; 4],
        sides: vec![east, Side::default(), Side::default(), Side::default()],
    };
    Boundary::build(&[PartSpec::Polygon { exterior, holes: vec![] }]).unwrap()
}

fn shore() -> Side {
    Side { uncertainty: Some(Metres::non_negative(5.0).unwrap()), ..SideKind::Shore.into() }
}

/// The radius of the parallel of 45.117°, in metres a degree: a cos φ / √(1 − e² sin² φ) · π/180 (WGS 84).
const METRES_A_DEGREE: f64 = 78_687.0;

#[test]
fn the_distance_stays_that_to_the_nearest_boundary_of_any_kind() {
    let (drawn, beach) = (reserve(Side::default()), reserve(shore()));
    for longitude_deg in [-30.16, -30.149, -30.13, -30.1175, -30.1165, -30.1] {
        let place = at(45.117, longitude_deg);
        let signed_m = |boundary: &Boundary| boundary.how_far(place).signed_distance.metres();
        assert!((signed_m(&drawn) - signed_m(&beach)).abs() < 1e-9);
        assert_eq!(drawn.contains_by_crossings(place), beach.contains_by_crossings(place));
    }
}

#[test]
fn what_can_be_crossed_is_told_apart() {
    let beach = reserve(shore());
    let launch = at(45.118, -30.1175);
    assert_eq!(beach.side_nearest(launch).kind, SideKind::Shore);
    // 0.006° of latitude, 111.14 km a degree here
    let crossable = beach.locate_crossable(launch).unwrap();
    assert!((crossable.signed_distance.metres() + 666.8).abs() < 1.0, "{crossable:?}");
    assert!((crossable.nearest.latitude().degrees() - 45.124).abs() < 1e-6);
    let all_shore = Boundary::build(&[PartSpec::Polygon {
        exterior: RingSpec {
            vertices: vec![at(45.1, -30.1), at(45.1, -30.0), at(45.0, -30.0)],
            edges: vec![EdgeModel::Geodesic; 3],
            sides: vec![shore(); 3],
        },
        holes: vec![],
    }]);
    assert!(all_shore.unwrap().locate_crossable(launch).is_none());
}

#[test]
fn other_water_is_beyond_the_land() {
    let to_leave_m = |side: Side, longitude_deg: f64| {
        reserve(side).how_far(at(45.117, longitude_deg)).to_leave.map(Metres::metres)
    };
    let off_beach_m = 0.0005 * METRES_A_DEGREE;
    // drawn inside, 39 m off the beach: 25 m of land, less the 5 m that the shore may be off
    let to_leave = to_leave_m(shore(), -30.1175).unwrap();
    assert!((to_leave - (off_beach_m + 25.0 - 5.0)).abs() < 0.1, "{to_leave}");
    // a wide isle: then the open north side is nearest
    let wide = Side { land: Some(Metres::new(3000.0).unwrap()), ..shore() };
    assert!((to_leave_m(wide, -30.1175).unwrap() - 778.0).abs() < 1.0);
    // behind a pier there is other water at once
    let pier = Side { land: Some(Metres::ZERO), ..shore() };
    assert!((to_leave_m(pier, -30.1175).unwrap() - (off_beach_m - 5.0)).abs() < 0.1);
    // an unresolved side without a figure may be off by half its length of 1556 m
    let unresolved = to_leave_m(SideKind::Unresolved.into(), -30.1175).unwrap();
    assert!((unresolved - (off_beach_m - 778.0)).abs() < 1.0, "{unresolved}");
    // outside, and where all is open water, nothing is said
    assert_eq!(to_leave_m(shore(), -30.1165), None);
    assert_eq!(to_leave_m(Side::default(), -30.1175), None);
}

#[test]
fn an_unresolved_side_counts_near_it_and_not_far_away() {
    let unresolved = reserve(SideKind::Unresolved.into());
    let doubt_m = |longitude_deg: f64| unresolved.how_far(at(45.117, longitude_deg)).reading_doubt.metres();
    assert!((doubt_m(-30.1171) - 778.0).abs() < 9.0);
    assert!(doubt_m(-30.149) < 1e-6, "the open side is 79 m off, the unresolved one 2.5 km");
}

#[test]
fn the_bounds_change_no_faster_than_the_place() {
    let sides = [shore(), SideKind::Unresolved.into(), SideKind::Mouth.into()];
    let boundaries = sides.map(reserve);
    proptest!(|(n in 45.10..45.135_f64, e in -30.16..-30.105_f64, b in 0.0..360.0_f64, d in 0.0..500.0_f64)| {
        let from = at(n, e);
        let to = direct(from, b, d);
        for boundary in &boundaries {
            let (one, other) = (boundary.how_far(from), boundary.how_far(to));
            // of the two bounds that which may pass the line: the other may change twice as fast
            let drawn = [one, other].map(|far| far.signed_distance.metres() > 0.0);
            let bounds_m = match drawn {
                [true, true] => Some([one, other].map(|far| far.least_known_m())),
                [false, false] => Some([one, other].map(|far| far.greatest.metres() + far.missed_m())),
                _ => None,
            };
            if let Some([one_m, other_m]) = bounds_m {
                prop_assert!((one_m - other_m).abs() <= d + 1e-3, "{one_m} {other_m} {d}");
            }
            if let (Some(one), Some(other)) = (one.to_leave, other.to_leave) {
                prop_assert!((one.metres() - other.metres()).abs() <= d + 1e-3);
            }
        }
    });
}

#[test]
fn the_nearest_crossable_point_is_that_of_a_search_along_the_sides() {
    let beach = reserve(shore());
    let open = beach.stretches(|side| side.kind.is_crossable());
    assert_eq!(open.len(), 1, "three sides in a row");
    let along: Vec<Position> = open[0]
        .windows(2)
        .flat_map(|ends| {
            let line = inverse(ends[0], ends[1]);
            let steps = 0..=2000;
            steps.map(move |step| {
                direct(ends[0], line.azimuth_start_deg, line.distance_m * f64::from(step) / 2000.0)
            })
        })
        .collect();
    proptest!(|(n in 45.10..45.135_f64, e in -30.16..-30.105_f64)| {
        let place = at(n, e);
        let least_m = along.iter().map(|on| inverse(place, *on).distance_m).fold(f64::INFINITY, f64::min);
        let found_m = beach.locate_crossable(place).unwrap().signed_distance.metres().abs();
        prop_assert!((found_m - least_m).abs() < 1.0, "{found_m} {least_m}");
        prop_assert!(found_m <= least_m + 0.1, "pieces of rhumb lines, drawn as geodesics");
    });
}

#[test]
fn edges_with_sides_of_their_own_are_told_apart_in_no_time() {
    let side = |step: u32| Side {
        uncertainty: Some(Metres::non_negative(f64::from(step) / 1000.0).unwrap()),
        ..SideKind::Shore.into()
    };
    let mut table = SideTable::default();
    // as many as a file has vertices at most; compared with all that came before it takes minutes
    let numbers: Vec<u32> = (0..1_000_000).map(|step| table.number(&side(step))).collect();
    assert_eq!(*table.side(numbers[7]), side(7));
    assert_eq!(*table.side(numbers[999_999]), side(999_999));
    assert_eq!(table.number(&side(999_998)), numbers[999_998], "one that came just before is the same one");
}

#[test]
fn a_shore_is_one_stretch_wherever_its_ring_is_written_to_begin() {
    let corners = [(45.124, -30.117), (45.11, -30.117), (45.11, -30.15), (45.124, -30.15)];
    let kinds = [SideKind::Shore, SideKind::Shore, SideKind::Open, SideKind::Open];
    for first in 0..4 {
        let from_first = |at: usize| (at + first) % 4;
        let exterior = RingSpec {
            vertices: (0..4).map(from_first).map(|at| at_corner(corners[at])).collect(),
            edges: vec![EdgeModel::RhumbLine; 4],
            sides: (0..4).map(from_first).map(|at| kinds[at].into()).collect(),
        };
        let boundary = Boundary::build(&[PartSpec::Polygon { exterior, holes: vec![] }]).unwrap();
        let shores = boundary.stretches(|side| side.kind == SideKind::Shore);
        assert_eq!(shores.len(), 1, "from corner {first}");
        let ends = [shores[0][0], shores[0][shores[0].len() - 1]];
        for corner in [corners[0], corners[2]].map(at_corner) {
            let nearest_m =
                ends.map(|end| inverse(end, corner).distance_m).into_iter().fold(f64::INFINITY, f64::min);
            assert!(nearest_m < 0.001, "from corner {first}: {nearest_m} m");
        }
    }
}

fn at_corner((latitude_deg, longitude_deg): (f64, f64)) -> Position {
    at(latitude_deg, longitude_deg)
}
