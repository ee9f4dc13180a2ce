//! Laws that hold for every boundary, over random rings from 20 m to 600 km at any latitude and longitude.
#![expect(clippy::cast_precision_loss, reason = "rings of a dozen vertices")]
#![expect(
    clippy::float_cmp,
    reason = "the same arithmetic on the same numbers, and the meridian 180 as typed"
)]

use proptest::prelude::*;

use super::{Boundary, EdgeModel, PartSpec, RingSpec};
use crate::geodesic::{direct, inverse};
use crate::{Position, RhumbLine};

/// A star-shaped ring: a centre, and a bearing-ordered distance per vertex, with a model per edge.
#[derive(Debug, Clone)]
struct Star {
    centre: Position,
    size_m: f64,
    ring: RingSpec,
}

fn straight_model() -> impl Strategy<Value = EdgeModel> {
    prop_oneof![Just(EdgeModel::Geodesic), Just(EdgeModel::RhumbLine), Just(EdgeModel::PlateCarree)]
}

fn at(lat: f64, lon: f64) -> Position {
    Position::from_degrees(lat, lon).unwrap()
}

fn star_at(lat: std::ops::Range<f64>, lon: std::ops::Range<f64>) -> impl Strategy<Value = Star> {
    let shape = proptest::collection::vec((0.3..1.0_f64, straight_model()), 3..12);
    (lat, lon, 1.3..5.8_f64, shape).prop_map(|(lat, lon, log_size, shape)| {
        let centre = at(lat, lon);
        let size_m = 10.0_f64.powf(log_size);
        let count = shape.len();
        let vertices = shape
            .iter()
            .enumerate()
            .map(|(index, (share, _))| direct(centre, -360.0 * index as f64 / count as f64, size_m * share))
            .collect();
        let edges = shape.into_iter().map(|(_, model)| model).collect();
        Star { centre, size_m, ring: RingSpec { vertices, edges, sides: Vec::new() } }
    })
}

fn star() -> impl Strategy<Value = Star> {
    star_at(-82.0..82.0, -180.0..180.0)
}

/// A ring that is refused fails the law: every star is sound.
fn built(ring: RingSpec) -> Result<Boundary, TestCaseError> {
    let parts = [PartSpec::Polygon { exterior: ring, holes: vec![] }];
    Boundary::build(&parts).map_err(|refused| TestCaseError::fail(refused.to_string()))
}

/// Places from the middle to ten sizes out, as bearing and share of the size.
fn place(star: &Star, bearing_deg: f64, log_share: f64) -> Position {
    direct(star.centre, bearing_deg, star.size_m * 10.0_f64.powf(log_share))
}

fn signed(boundary: &Boundary, position: Position) -> f64 {
    boundary.locate(position).signed_distance.metres()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn reversing_or_rotating_a_ring_changes_nothing(
        star in star(), bearing in 0.0..360.0_f64, share in -2.0..1.0_f64, turn in 0_usize..12,
    ) {
        let boundary = built(star.ring.clone())?;
        let here = place(&star, bearing, share);
        let expected = signed(&boundary, here);
        let count = star.ring.vertices.len();

        let mut rotated = star.ring.clone();
        rotated.vertices.rotate_left(turn % count);
        rotated.edges.rotate_left(turn % count);
        prop_assert!((signed(&built(rotated)?, here) - expected).abs() < 1e-4);

        let mut reversed = star.ring.clone();
        reversed.vertices.reverse();
        reversed.edges.reverse();
        reversed.edges.rotate_left(1);
        prop_assert!((signed(&built(reversed)?, here) - expected).abs() < 1e-4);

        let mut closed = star.ring.clone();
        closed.vertices.push(closed.vertices[0]);
        prop_assert_eq!(signed(&built(closed)?, here), expected);
    }

    #[test]
    fn moving_all_longitudes_changes_nothing(
        star in star(), bearing in 0.0..360.0_f64, share in -2.0..1.0_f64, by in prop_oneof![Just(360.0), 0.0..360.0_f64],
    ) {
        let boundary = built(star.ring.clone())?;
        let here = place(&star, bearing, share);
        let moved = |position: Position| {
            let turned = (position.longitude().degrees() + by) % 360.0;
            at(position.latitude().degrees(), turned)
        };
        let mut ring = star.ring.clone();
        ring.vertices.iter_mut().for_each(|vertex| *vertex = moved(*vertex));
        let there = built(ring)?;
        prop_assert!((signed(&there, moved(here)) - signed(&boundary, here)).abs() < 2e-4);
    }

    #[test]
    fn adding_points_on_an_edge_changes_nothing(
        star in star(), bearing in 0.0..360.0_f64, share in -2.0..1.0_f64, along in 0.1..0.9_f64, which in 0_usize..12,
    ) {
        let boundary = built(star.ring.clone())?;
        let here = place(&star, bearing, share);
        let mut ring = star.ring.clone();
        let which = which % ring.vertices.len();
        let (from, to) = (ring.vertices[which], ring.vertices[(which + 1) % ring.vertices.len()]);
        let between = match ring.edges[which] {
            EdgeModel::Geodesic => {
                let line = inverse(from, to);
                direct(from, line.azimuth_start_deg, line.distance_m * along)
            }
            EdgeModel::RhumbLine => RhumbLine::between(from, to).at(along),
            EdgeModel::PlateCarree | EdgeModel::Arc(_) | EdgeModel::Unstated => {
                let d_lon = crate::angle::wrap_degrees(to.longitude().degrees() - from.longitude().degrees());
                let d_lat = to.latitude().degrees() - from.latitude().degrees();
                let lon = crate::angle::wrap_degrees(from.longitude().degrees() + d_lon * along);
                at(from.latitude().degrees() + d_lat * along, lon)
            }
        };
        ring.vertices.insert(which + 1, between);
        ring.edges.insert(which, ring.edges[which]);
        let other = built(ring)?;
        prop_assert!((signed(&other, here) - signed(&boundary, here)).abs() < 3e-4);
        prop_assert!((other.area_m2() - boundary.area_m2()).abs() <= 1e-9 * boundary.area_m2() + 1.0);
    }

    #[test]
    fn nearest_piece_and_crossing_parity_agree_on_the_side(
        star in star(), bearing in 0.0..360.0_f64, share in -2.0..1.0_f64,
    ) {
        let boundary = built(star.ring.clone())?;
        let here = place(&star, bearing, share);
        let distance_m = signed(&boundary, here);
        prop_assume!(distance_m.abs() > 1e-3);
        prop_assert_eq!(boundary.contains_by_crossings(here), distance_m < 0.0, "at {} m", distance_m);
    }

    #[test]
    fn signed_distance_is_1_lipschitz(
        star in star(), bearing in 0.0..360.0_f64, share in -2.0..1.0_f64,
        step_bearing in 0.0..360.0_f64, step_share in -4.0..0.0_f64,
    ) {
        let boundary = built(star.ring.clone())?;
        let here = place(&star, bearing, share);
        let step_m = star.size_m * 10.0_f64.powf(step_share);
        let there = direct(here, step_bearing, step_m);
        let change_m = (signed(&boundary, here) - signed(&boundary, there)).abs();
        prop_assert!(change_m <= step_m + 2e-4, "changed by {} over {}", change_m, step_m);
    }

    #[test]
    fn indexed_answer_equals_full_scan(star in star(), bearing in 0.0..360.0_f64, share in -2.0..1.0_f64) {
        let boundary = built(star.ring.clone())?;
        let here = place(&star, bearing, share);
        let scanned_m = boundary.locate_by_full_scan(here);
        let indexed_m = signed(&boundary, here).abs();
        prop_assert!(indexed_m <= scanned_m + 1e-4, "{} m, but {} m by scan", indexed_m, scanned_m);
        // the scan's feet are found with straight lines through the Earth, which is the geodesic's only so far
        prop_assert!(scanned_m > 300_000.0 || indexed_m >= scanned_m - 1e-4);
    }

    #[test]
    fn splitting_at_180_changes_nothing(
        lat in -75.0..75.0_f64, radius_deg in 0.001..2.0_f64, turn in 0.0..60.0_f64, off in -0.5..0.5_f64,
        bearing in 0.0..360.0_f64, share in -2.0..0.7_f64,
    ) {
        // a hexagon about a centre near 180°, in degrees, so that the cut points lie exactly on its straight edges
        let corners: Vec<(f64, f64)> = (0..6)
            .map(|corner| {
                let angle = (f64::from(corner) * 60.0 + turn).to_radians();
                (lat + radius_deg * angle.sin(), 180.0 + radius_deg * (off + angle.cos()))
            })
            .collect();
        let ring = |corners: &[(f64, f64)]| PartSpec::Polygon {
            exterior: RingSpec {
                vertices: corners.iter().map(|(lat, lon)| at(*lat, *lon)).collect(),
                edges: vec![EdgeModel::PlateCarree; corners.len()],
                sides: Vec::new(),
            },
            holes: vec![],
        };
        let whole = Boundary::build(&[ring(&corners)]).unwrap();
        let parts = [ring(&clip(&corners, |lon| lon <= 180.0)), ring(&clip(&corners, |lon| lon >= 180.0))];
        let split = Boundary::build(&parts).unwrap();
        let here = direct(at(lat, 180.0), bearing, radius_deg * 111_000.0 * 10.0_f64.powf(share));
        prop_assert!((signed(&whole, here) - signed(&split, here)).abs() < 2e-4);
        prop_assert!((whole.area_m2() - split.area_m2()).abs() < 1e-6 * whole.area_m2() + 1.0);
    }
}

/// Cuts a convex ring at longitude 180 and keeps one side.
fn clip(corners: &[(f64, f64)], keep: impl Fn(f64) -> bool) -> Vec<(f64, f64)> {
    let mut kept = Vec::new();
    for (index, from) in corners.iter().enumerate() {
        let to = corners[(index + 1) % corners.len()];
        if keep(from.1) {
            kept.push(*from);
        }
        if keep(from.1) != keep(to.1) && from.1 != 180.0 && to.1 != 180.0 {
            let share = (180.0 - from.1) / (to.1 - from.1);
            kept.push((from.0 + (to.0 - from.0) * share, 180.0));
        }
    }
    kept
}
