//! A cursor gives the answers of the boundary, and the boundary those of a look at every piece.

use proptest::prelude::*;

use super::{Arc, ArcSense, Boundary, EdgeModel, PartSpec, RingSpec};
use crate::geodesic::direct;
use crate::{Metres, Position};

/// A ring of many vertices whose distance from its centre wanders, so that long bays and points lie side by side.
fn wandering(centre: Position, size_m: f64, shares: &[f64], model: EdgeModel) -> PartSpec {
    let count = u32::try_from(shares.len()).unwrap();
    let vertices: Vec<Position> = (0..)
        .zip(shares)
        .map(|(number, share)| direct(centre, -360.0 * f64::from(number) / f64::from(count), size_m * share))
        .collect();
    PartSpec::Polygon {
        exterior: RingSpec { edges: vec![model; shares.len()], vertices, sides: Vec::new() },
        holes: vec![],
    }
}

fn model() -> impl Strategy<Value = EdgeModel> {
    prop_oneof![
        Just(EdgeModel::Geodesic),
        Just(EdgeModel::RhumbLine),
        Just(EdgeModel::PlateCarree),
        Just(EdgeModel::Unstated),
    ]
}

/// Some rings that lie apart, of up to 400 vertices, from 20 m to 60 km.
fn boundary() -> impl Strategy<Value = (Boundary, f64)> {
    let shares = proptest::collection::vec(0.2..1.0_f64, 3..400);
    let rings = proptest::collection::vec((shares, model()), 1..6);
    (-89.0..89.0_f64, -180.0..180.0_f64, 1.3..4.8_f64, rings).prop_filter_map(
        "it crosses itself",
        |(lat, lon, log_size, rings)| {
            let size_m = 10.0_f64.powf(log_size);
            let first = Position::from_degrees(lat, lon).unwrap();
            let parts: Vec<PartSpec> = (0..)
                .zip(rings)
                .map(|(number, (shares, model))| {
                    let centre =
                        direct(first, 71.0 * f64::from(number), 2.2 * size_m * f64::from(number.min(1)));
                    let centre = direct(centre, 90.0, 2.2 * size_m * f64::from((number - 1).max(0)));
                    wandering(centre, size_m, &shares, model)
                })
                .collect();
            // near a pole edges bend so much that narrow bays and points meet: by 0.6 size² / 8 d, with the spacing 0.003 size
            let pole_m = 6_371_000.0 / lat.to_radians().tan().abs();
            match Boundary::build(&parts) {
                Ok(boundary) => Some((boundary, size_m)),
                Err(_) if pole_m < 60.0 * size_m => None,
                Err(fault) => panic!("rings that lie apart are sound: {fault:?}"),
            }
        },
    )
}

/// Steps as a share of the size: mostly small, some long, and jumps of up to half the Earth.
fn step() -> impl Strategy<Value = (f64, f64)> {
    let share = prop_oneof![
        8 => (-5.0..-1.0_f64).prop_map(|power| 10.0_f64.powf(power)),
        2 => 0.1..3.0_f64,
        1 => (1.0..4.0_f64).prop_map(|power| 10.0_f64.powf(power)),
        1 => Just(0.0),
    ];
    (0.0..360.0_f64, share)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn a_cursor_answers_as_the_boundary_whatever_the_way(
        (boundary, size_m) in boundary(), start in (0.0..360.0_f64, 0.0..3.0_f64),
        steps in proptest::collection::vec(step(), 1..120),
    ) {
        let mut place = direct(boundary.outlines()[0][0], start.0, start.1 * size_m);
        let mut cursor = boundary.cursor();
        for (bearing_deg, share) in steps {
            place = direct(place, bearing_deg, (share * size_m).min(15_000_000.0));
            let (told, found) = (cursor.how_far(place), boundary.locate(place));
            for (one, other) in [
                (told.signed_distance, found.signed_distance),
                (told.least, found.least),
                (told.greatest, found.greatest),
            ] {
                // the metre of a place so far off is 1e-9 of the distance: two pieces that lie equally near differ by no more
                let tolerance_m = 1e-9 + 1e-12 * other.metres().abs();
                prop_assert!(
                    (one.metres() - other.metres()).abs() <= tolerance_m,
                    "{one:?} for {other:?} at {place:?}"
                );
            }
        }
    }

    /// All pieces of an arc are equally near to its centre.
    #[test]
    fn at_the_centre_of_an_arc_a_cursor_answers_as_the_boundary(
        lat in -80.0..80.0_f64, log_radius in 2.0..4.9_f64,
        steps in proptest::collection::vec((0.0..360.0_f64, -5.0..3.0_f64), 1..40),
    ) {
        let (centre, radius_m) = (Position::from_degrees(lat, 20.0).unwrap(), 10.0_f64.powf(log_radius));
        let PartSpec::Polygon { mut exterior, holes } = wandering(centre, radius_m, &[1.0; 12], EdgeModel::Geodesic) else {
            unreachable!("a ring is a polygon")
        };
        let radius = Metres::new(radius_m).unwrap();
        let arc = EdgeModel::Arc(Arc { centre, radius, sense: ArcSense::Counterclockwise });
        exterior.edges[1..].fill(arc);
        let boundary = Boundary::build(&[PartSpec::Polygon { exterior, holes }]).unwrap();
        let mut cursor = boundary.cursor();
        let mut place = centre;
        for (bearing_deg, log_step) in steps {
            let (told, found) = (cursor.how_far(place), boundary.locate(place));
            prop_assert!((told.signed_distance.metres() - found.signed_distance.metres()).abs() < 1e-9);
            let scanned_m = boundary.locate_by_full_scan(place);
            prop_assert!((found.signed_distance.metres().abs() - scanned_m).abs() < 5e-6);
            place = direct(place, bearing_deg, 10.0_f64.powf(log_step).min(radius_m / 4.0));
        }
    }

    #[test]
    fn the_boxes_miss_no_nearer_piece(
        (boundary, size_m) in boundary(), places in proptest::collection::vec((0.0..360.0_f64, -3.0..2.0_f64), 1..20),
    ) {
        for (bearing_deg, log_share) in places {
            let away_m = (size_m * 10.0_f64.powf(log_share)).min(290_000.0);
            let place = direct(boundary.outlines()[0][0], bearing_deg, away_m);
            let found = boundary.locate(place);
            let nearest_m = found.least.metres().abs().min(found.greatest.metres().abs());
            let scanned_m = boundary.locate_by_full_scan(place);
            prop_assert!((nearest_m - scanned_m).abs() < 5e-6, "{nearest_m} for {scanned_m} at {place:?}");
        }
    }
}
