//! Parts, holes and slits that share borders: the answers are those of the zone drawn as one ring.

use approx::assert_abs_diff_eq;

use super::{Arc, ArcSense, Boundary, BoundaryFault, EdgeModel, InvalidBoundary, PartSpec, RingSpec};
use crate::geodesic::{direct, inverse};
use crate::{Metres, Position};

fn at(lat: f64, lon: f64) -> Position {
    Position::from_degrees(lat, lon).unwrap()
}

/// A ring of longitudes and latitudes in degrees, as files list them.
fn ring(lon_lat: &[(f64, f64)], model: EdgeModel) -> RingSpec {
    let vertices: Vec<Position> = lon_lat.iter().map(|(lon, lat)| at(*lat, *lon)).collect();
    RingSpec { edges: vec![model; vertices.len()], vertices, sides: Vec::new() }
}

fn part(lon_lat: &[(f64, f64)], model: EdgeModel) -> PartSpec {
    PartSpec::Polygon { exterior: ring(lon_lat, model), holes: vec![] }
}

fn build(parts: &[PartSpec]) -> Boundary {
    Boundary::build(parts).unwrap_or_else(|fault| panic!("{fault}"))
}

fn refusal(parts: &[PartSpec]) -> InvalidBoundary {
    match Boundary::build(parts) {
        Err(refused) => refused,
        Ok(boundary) => panic!("built, with an area of {} m²", boundary.area_m2()),
    }
}

fn signed_m(boundary: &Boundary, position: Position) -> f64 {
    boundary.locate(position).signed_distance.metres()
}

/// Holds two boundaries to the same side, distance and area, at places all over them and round them.
fn same(one: &Boundary, other: &Boundary, centre: Position, reach_m: f64) {
    for step in 0..600_u32 {
        let place = direct(centre, f64::from(step) * 137.508, reach_m * (f64::from(step + 1) / 600.0).sqrt());
        let (a, b) = (signed_m(one, place), signed_m(other, place));
        assert!((a - b).abs() < 1e-3, "{a} m and {b} m at {place:?}");
        assert_eq!(one.contains_by_crossings(place), other.contains_by_crossings(place), "{place:?}");
    }
    let (a, b) = (one.area_m2(), other.area_m2());
    assert!((a - b).abs() < 1e-3 + 2e-9 * a + 1e-3 * one.perimeter().metres(), "{a} m² and {b} m²");
}

const STRAIGHT: [EdgeModel; 4] =
    [EdgeModel::Geodesic, EdgeModel::RhumbLine, EdgeModel::PlateCarree, EdgeModel::Unstated];

#[test]
fn a_vertex_that_only_one_of_two_parts_has_on_their_border_changes_nothing() {
    for model in STRAIGHT {
        let west = part(&[(0.0, 0.0), (0.1, 0.0), (0.1, 0.05), (0.1, 0.1), (0.0, 0.1)], model);
        let east = part(&[(0.1, 0.0), (0.2, 0.0), (0.2, 0.1), (0.1, 0.1)], model);
        let both = build(&[west, east]);
        let there = signed_m(&both, at(0.041_49, 0.129_72));
        assert!(there < -4_500.0, "{there} m");
        let whole = part(&[(0.0, 0.0), (0.1, 0.0), (0.2, 0.0), (0.2, 0.1), (0.1, 0.1), (0.0, 0.1)], model);
        same(&both, &build(&[whole]), at(0.05, 0.1), 20_000.0);
    }
}

#[test]
fn a_part_beside_half_of_anothers_edge_leaves_the_other_half() {
    for model in STRAIGHT {
        let large = part(&[(0.0, 0.0), (0.1, 0.0), (0.1, 0.1), (0.0, 0.1)], model);
        let small = part(&[(0.1, 0.0), (0.2, 0.0), (0.2, 0.05), (0.1, 0.05)], model);
        let both = build(&[large, small]);
        let there = signed_m(&both, at(0.025, 0.1005));
        assert!(there < -2_700.0, "{there} m");
        let whole = part(
            &[(0.0, 0.0), (0.1, 0.0), (0.2, 0.0), (0.2, 0.05), (0.1, 0.05), (0.1, 0.1), (0.0, 0.1)],
            model,
        );
        same(&both, &build(&[whole]), at(0.05, 0.1), 20_000.0);
    }
}

#[test]
fn a_slit_longer_than_the_way_back_is_no_boundary() {
    let corners = |slit: &[(f64, f64)]| {
        let mut found = vec![(-30.14, 45.10), (-30.12, 45.10), (-30.12, 45.12), (-30.13, 45.12)];
        found.extend(slit);
        found.extend([(-30.13, 45.115), (-30.14, 45.115)]);
        found
    };
    for model in STRAIGHT {
        let slit = build(&[part(&corners(&[(-30.13, 45.105)]), model)]);
        let there = signed_m(&slit, at(45.110, -30.1295));
        assert!(there < -500.0, "{there} m");
        same(&slit, &build(&[part(&corners(&[]), model)]), at(45.11, -30.13), 3_000.0);
    }
}

#[test]
fn a_hole_on_its_rings_edge_is_a_bay() {
    for model in STRAIGHT {
        let square = ring(&[(0.0, 0.0), (0.1, 0.0), (0.1, 0.1), (0.0, 0.1)], model);
        let hole = ring(&[(0.03, 0.0), (0.06, 0.0), (0.06, 0.03), (0.03, 0.03)], model);
        let with_hole = build(&[PartSpec::Polygon { exterior: square, holes: vec![hole] }]);
        let there = signed_m(&with_hole, at(-0.000_3, 0.045));
        assert!(there > 1_600.0, "{there} m");
        let bay = part(
            &[
                (0.0, 0.0),
                (0.03, 0.0),
                (0.03, 0.03),
                (0.06, 0.03),
                (0.06, 0.0),
                (0.1, 0.0),
                (0.1, 0.1),
                (0.0, 0.1),
            ],
            model,
        );
        same(&with_hole, &build(&[bay]), at(0.05, 0.05), 12_000.0);
    }
}

#[test]
fn a_hole_that_touches_its_ring_in_one_vertex_is_a_hole() {
    let square = ring(&[(0.0, 0.0), (0.1, 0.0), (0.1, 0.1), (0.0, 0.1)], EdgeModel::Geodesic);
    let hole = ring(&[(0.05, 0.0), (0.06, 0.03), (0.04, 0.03)], EdgeModel::Geodesic);
    let boundary = build(&[PartSpec::Polygon { exterior: square, holes: vec![hole] }]);
    assert!(signed_m(&boundary, at(0.02, 0.05)) > 500.0);
    assert_abs_diff_eq!(signed_m(&boundary, at(-0.001, 0.05)), 110.574, epsilon = 0.1); // 0.001° of latitude
    assert!(signed_m(&boundary, at(0.001, 0.045)) < -100.0);
}

#[test]
fn models_that_run_on_one_curve_make_one_border() {
    // a meridian and the equator are the same line under every straight model, a parallel under two
    for (west, east) in [
        (EdgeModel::Geodesic, EdgeModel::RhumbLine),
        (EdgeModel::RhumbLine, EdgeModel::PlateCarree),
        (EdgeModel::PlateCarree, EdgeModel::Geodesic),
        (EdgeModel::Unstated, EdgeModel::RhumbLine),
    ] {
        let parts = [
            part(&[(0.0, 0.0), (0.1, 0.0), (0.1, 0.1), (0.0, 0.1)], west),
            part(&[(0.1, 0.0), (0.2, 0.0), (0.2, 0.1), (0.1, 0.1)], east),
            part(&[(0.0, -0.1), (0.07, -0.1), (0.07, 0.0), (0.0, 0.0)], east),
        ];
        let both = build(&parts);
        for (lat, lon) in [(0.05, 0.100_02), (0.05, 0.099_98), (0.000_1, 0.03), (-0.000_1, 0.03)] {
            let there = signed_m(&both, at(lat, lon));
            assert!(there < -3_000.0, "{there} m at {lat} {lon}");
        }
    }
}

#[test]
fn parts_that_overlap_by_a_hair_or_leave_a_hair_between_them_are_one() {
    for off in [-4e-9, -1e-9, 1e-9, 4e-9] {
        let west = part(&[(0.0, 0.0), (0.1, 0.0), (0.1, 0.1), (0.0, 0.1)], EdgeModel::PlateCarree);
        let east = part(
            &[(0.1 + off, 0.0), (0.2, 0.0), (0.2, 0.1), (0.1 + off, 0.1), (0.1 - off, 0.07)],
            EdgeModel::PlateCarree,
        );
        let both = build(&[west, east]);
        let whole = part(&[(0.0, 0.0), (0.2, 0.0), (0.2, 0.1), (0.0, 0.1)], EdgeModel::PlateCarree);
        same(&both, &build(&[whole]), at(0.05, 0.1), 20_000.0);
    }
}

#[test]
fn a_part_within_a_part_or_given_twice_changes_nothing() {
    let large = part(&[(0.0, 0.0), (0.1, 0.0), (0.1, 0.1), (0.0, 0.1)], EdgeModel::Geodesic);
    let within = part(&[(0.02, 0.02), (0.05, 0.02), (0.05, 0.06)], EdgeModel::Geodesic);
    let alone = build(std::slice::from_ref(&large));
    for parts in [vec![large.clone(), within], vec![large.clone(), large.clone()]] {
        same(&build(&parts), &alone, at(0.05, 0.05), 12_000.0);
    }
}

#[test]
fn a_part_inside_anothers_hole_that_fills_it_leaves_no_hole() {
    let square = [(0.0, 0.0), (0.1, 0.0), (0.1, 0.1), (0.0, 0.1)];
    let inner = [(0.02, 0.02), (0.05, 0.02), (0.05, 0.06), (0.02, 0.05)];
    let with_hole = PartSpec::Polygon {
        exterior: ring(&square, EdgeModel::RhumbLine),
        holes: vec![ring(&inner, EdgeModel::RhumbLine)],
    };
    let filled = build(&[with_hole, part(&inner, EdgeModel::RhumbLine)]);
    same(&filled, &build(&[part(&square, EdgeModel::RhumbLine)]), at(0.05, 0.05), 12_000.0);
}

#[test]
fn crossing_parts_have_the_outline_of_their_union() {
    let one = part(&[(0.0, 0.0), (0.1, 0.0), (0.1, 0.1), (0.0, 0.1)], EdgeModel::PlateCarree);
    let other = part(&[(0.05, 0.05), (0.15, 0.05), (0.15, 0.15), (0.05, 0.15)], EdgeModel::PlateCarree);
    let whole = part(
        &[
            (0.0, 0.0),
            (0.1, 0.0),
            (0.1, 0.05),
            (0.15, 0.05),
            (0.15, 0.15),
            (0.05, 0.15),
            (0.05, 0.1),
            (0.0, 0.1),
        ],
        EdgeModel::PlateCarree,
    );
    same(&build(&[one, other]), &build(&[whole]), at(0.07, 0.07), 20_000.0);
}

fn circle(centre: Position, radius_m: f64) -> PartSpec {
    PartSpec::Circle { centre, radius: Metres::new(radius_m).unwrap() }
}

#[test]
fn circles_that_overlap_have_the_outline_of_their_union() {
    let centre = at(45.1, -30.1);
    let east = direct(centre, 90.0, 1_000.0);
    let both = build(&[circle(centre, 800.0), circle(east, 800.0)]);
    // between the centres the rims lie inside; the nearest outline is where the rims meet, 624.5 m north and south
    let middle = direct(centre, 90.0, 500.0);
    let there = signed_m(&both, middle);
    assert!((there + (800.0_f64.powi(2) - 500.0_f64.powi(2)).sqrt()).abs() < 0.01, "{there} m");
    assert_abs_diff_eq!(signed_m(&both, direct(centre, 270.0, 1_000.0)), 200.0, epsilon = 1e-3);
    let inner = build(&[circle(centre, 800.0), circle(direct(centre, 10.0, 100.0), 300.0)]);
    assert_abs_diff_eq!(signed_m(&inner, centre), -800.0, epsilon = 1e-3);
}

#[test]
fn a_circle_over_the_edge_of_a_ring_makes_one_zone_with_it() {
    let square = part(&[(0.0, 0.0), (0.1, 0.0), (0.1, 0.1), (0.0, 0.1)], EdgeModel::Geodesic);
    let both = build(&[square, circle(at(0.05, 0.1), 2_000.0)]);
    // on the old edge, inside both
    let there = signed_m(&both, at(0.05, 0.1));
    assert_abs_diff_eq!(there, -2_000.0, epsilon = 1e-3);
    assert_abs_diff_eq!(signed_m(&both, direct(at(0.05, 0.1), 90.0, 2_500.0)), 500.0, epsilon = 1e-3);
    assert!(signed_m(&both, direct(at(0.05, 0.1), 270.0, 2_500.0)) < -2_000.0);
}

#[test]
fn a_hole_that_takes_all_of_its_ring_is_refused() {
    let square = ring(&[(0.0, 0.0), (0.1, 0.0), (0.1, 0.1), (0.0, 0.1)], EdgeModel::Geodesic);
    let refused = refusal(&[PartSpec::Polygon { exterior: square.clone(), holes: vec![square] }]);
    assert!(matches!(refused.fault, BoundaryFault::Nesting(_)), "{refused}");
    assert!(refused.to_string().contains("nothing is left"), "{refused}");
    assert_eq!((refused.part, refused.ring), (0, 1));
}

#[test]
fn a_hole_outside_its_ring_is_refused_also_where_it_shares_an_edge() {
    let square = ring(&[(0.0, 0.0), (0.1, 0.0), (0.1, 0.1), (0.0, 0.1)], EdgeModel::Geodesic);
    let beside = [(0.03, 0.0), (0.06, 0.0), (0.06, -0.03), (0.03, -0.03)];
    let across = [(0.03, -0.03), (0.06, -0.03), (0.06, 0.03), (0.03, 0.03)];
    for hole in [beside, across] {
        let holes = vec![ring(&hole, EdgeModel::Geodesic)];
        let refused = refusal(&[PartSpec::Polygon { exterior: square.clone(), holes }]);
        let nesting = matches!(refused.fault, BoundaryFault::Nesting(_) | BoundaryFault::RingsCross { .. });
        assert!(nesting, "{refused}");
    }
}

#[test]
fn holes_that_overlap_or_lie_in_each_other_are_refused() {
    let square = ring(&[(0.0, 0.0), (0.1, 0.0), (0.1, 0.1), (0.0, 0.1)], EdgeModel::Geodesic);
    let outer = ring(&[(0.02, 0.02), (0.06, 0.02), (0.06, 0.06), (0.02, 0.06)], EdgeModel::Geodesic);
    let inner = ring(&[(0.03, 0.03), (0.05, 0.03), (0.05, 0.05)], EdgeModel::Geodesic);
    for hole in [inner, outer.clone()] {
        let holes = vec![outer.clone(), hole];
        let refused = refusal(&[PartSpec::Polygon { exterior: square.clone(), holes }]);
        assert!(matches!(refused.fault, BoundaryFault::Nesting(_)), "{refused}");
    }
}

#[test]
fn rings_of_next_to_no_area_or_width_are_refused_or_right() {
    for width_m in [0.001, 0.002, 0.004, 0.01, 0.02] {
        for turn in 0..40_u32 {
            let corner = at(-50.0 + 2.0 * f64::from(turn), 9.0 * f64::from(turn) - 180.0);
            let bearing_deg = 17.3 * f64::from(turn);
            let far = direct(corner, bearing_deg, 2_000.0);
            let aside = |place| direct(place, bearing_deg + 90.0, width_m);
            let vertices = vec![corner, far, aside(far), aside(corner)];
            let exterior = RingSpec { vertices, edges: vec![EdgeModel::Geodesic; 4], sides: Vec::new() };
            let Ok(boundary) = Boundary::build(&[PartSpec::Polygon { exterior, holes: vec![] }]) else {
                assert!(width_m < 0.003, "a strip of {width_m} m was refused");
                continue;
            };
            for (bearing_deg, away_m) in [(10.0, 50.0), (100.0, 3_000.0), (250.0, 400_000.0), (300.0, 9e6)] {
                let place = direct(corner, bearing_deg, away_m);
                let there = signed_m(&boundary, place);
                assert!(there > 0.0, "{there} m, {away_m} m from a strip of {width_m} m");
            }
        }
    }
    let small = refusal(&[circle(at(45.0, -30.0), 0.5)]);
    assert!(matches!(small.fault, BoundaryFault::TooSmall { .. }), "{small}");
    let speck = refusal(&[part(&[(0.0, 0.0), (0.000_005, 0.0), (0.0, 0.000_005)], EdgeModel::Geodesic)]);
    assert!(matches!(speck.fault, BoundaryFault::TooSmall { .. }), "{speck}");
}

#[test]
fn a_ring_of_nearly_half_the_earth_is_refused() {
    let around =
        |lat: f64| part(&[(-90.0, lat), (0.0, lat), (90.0, lat), (179.0, lat)], EdgeModel::RhumbLine);
    let refused = refusal(&[around(5.0)]);
    assert_eq!(refused.fault, BoundaryFault::NearHalfEarth, "{refused}");
    build(&[around(30.0)]);
}

/// Four arcs through points that lie 400 m farther out than the printed radius.
fn arcs_that_miss() -> RingSpec {
    let centre = at(0.0, 0.0);
    let radius = Metres::new(22_224.0).unwrap();
    let arc = EdgeModel::Arc(Arc { centre, radius, sense: ArcSense::Clockwise });
    let vertices = [0.0, 90.0, 180.0, 270.0].map(|bearing| direct(centre, bearing, 22_624.0)).to_vec();
    RingSpec { vertices, edges: vec![arc; 4], sides: Vec::new() }
}

#[test]
fn an_arc_that_misses_its_circle_counts_wherever_it_could_be_the_nearest() {
    let near_side =
        ring(&[(0.203_5, -0.05), (0.203_6, -0.05), (0.203_6, 0.05), (0.203_5, 0.05)], EdgeModel::Geodesic);
    let arcs = PartSpec::Polygon { exterior: arcs_that_miss(), holes: vec![] };
    let only_arcs = build(std::slice::from_ref(&arcs));
    let both = build(&[arcs, PartSpec::Polygon { exterior: near_side, holes: vec![] }]);
    let mut before: Option<(Position, f64)> = None;
    for step in 0..400_u32 {
        let place = direct(at(0.001, 0.0), 90.0, 22_000.0 + 5.0 * f64::from(step));
        let (located, arc) = (both.locate(place), only_arcs.locate(place));
        let doubt_m = located.reading_doubt.metres();
        // the true outline may lie anywhere within 400 m of the arc
        let [near_m, far_m] = [-400.0, 400.0].map(|by_m| arc.signed_distance.metres() + by_m);
        let signed_m = located.signed_distance.metres();
        if signed_m > 0.0 {
            assert!(signed_m - doubt_m <= near_m + 1e-3, "{signed_m} ± {doubt_m} m, arc from {near_m} m");
        } else {
            assert!(
                signed_m + doubt_m >= far_m.min(0.0) - 1e-3,
                "{signed_m} ± {doubt_m} m, arc to {far_m} m"
            );
        }
        if let Some((earlier, earlier_m)) = before {
            let moved_m = inverse(earlier, place).distance_m;
            assert!((doubt_m - earlier_m).abs() <= 2.0 * moved_m + 1e-3, "the doubt jumps at {place:?}");
        }
        before = Some((place, doubt_m));
    }
}

#[test]
fn a_ring_that_is_too_small_is_refused_for_that_whatever_its_hole() {
    let outer = [
        (-39.293_531_523_349_166, -14.448_995_630_551_998),
        (-39.293_533_038_285_204, -14.448_997_966_913_84),
        (-39.293_532_072_160_716, -14.448_945_707_012_223),
        (-39.293_530_000_201_29, -14.448_993_281_525_638),
        (-39.293_530_626_509_57, -14.448_994_247_429_674),
    ];
    let hole = [
        (-39.293_531_110_758_18, -14.448_994_994_246_682),
        (-39.293_532_186_095_376, -14.448_996_652_651_23),
        (-39.293_532_278_764_21, -14.448_996_795_566_792),
        (-39.293_532_587_034_99, -14.448_989_717_323_707),
        (-39.293_532_796_754_04, -14.448_984_901_938_458),
        (-39.293_532_313_691_8, -14.448_958_771_987_648),
        (-39.293_530_000_201_29, -14.448_993_281_525_638),
        (-39.293_530_759_722_25, -14.448_994_452_872_695),
    ];
    let holes = vec![ring(&hole, EdgeModel::Geodesic)];
    let refused = refusal(&[PartSpec::Polygon { exterior: ring(&outer, EdgeModel::Geodesic), holes }]);
    assert!(matches!(refused.fault, BoundaryFault::TooSmall { .. }), "{refused}");
    assert_eq!((refused.part, refused.ring), (0, 0));
}

#[test]
fn a_border_between_parts_is_inside_however_far_from_the_outline() {
    for model in [EdgeModel::RhumbLine, EdgeModel::PlateCarree] {
        let north = 40.0 + 4e-9;
        let southern = part(&[(-40.0, 30.0), (-20.0, 30.0), (-20.0, 40.0), (-40.0, 40.0)], model);
        let equal = part(&[(-40.0, 40.0), (-20.0, 40.0), (-20.0, 50.0), (-40.0, 50.0)], model);
        let by_a_hair = part(&[(-40.0, north), (-20.0, north), (-20.0, 50.0), (-40.0, 50.0)], model);
        for northern in [equal, by_a_hair] {
            let both = build(&[southern.clone(), northern]);
            for step in 0..200_u32 {
                let place = at(40.0 + 2e-9 * f64::from(step % 3), -35.0 + 0.050_3 * f64::from(step));
                // 5° of longitude at 40° N are 426 km
                assert!(signed_m(&both, place) < -400_000.0, "{model:?} {place:?}");
                assert!(both.contains_by_crossings(place), "{model:?} {place:?}");
            }
        }
    }
}

#[test]
fn a_sector_with_a_pole_spelled_twice_is_that_sector() {
    for model in [EdgeModel::RhumbLine, EdgeModel::PlateCarree, EdgeModel::Geodesic] {
        for (pole, [west, east]) in [
            (1.0, [0.0, 90.0]),
            (1.0, [60.0, 150.0]),
            (1.0, [0.0, 120.0]),
            (-1.0, [0.0, 90.0]),
            (-1.0, [60.0, 150.0]),
        ] {
            let ring = [(west, 80.0 * pole), (east, 80.0 * pole), (east, 90.0 * pole), (west, 90.0 * pole)];
            let sector = build(&[part(&ring, model)]);
            for step in 0..72_u32 {
                let lon = f64::from(step) * 5.0 - 178.0;
                let inside = (west..=east).contains(&lon);
                for lat in [85.0, 89.9] {
                    let place = at(lat * pole, lon);
                    assert_eq!(signed_m(&sector, place) < 0.0, inside, "{model:?} {west} {place:?}");
                    assert_eq!(sector.contains_by_crossings(place), inside, "{model:?} {west} {place:?}");
                }
            }
        }
    }
}

#[test]
fn an_arc_that_misses_its_circle_counts_also_where_another_part_covers_it() {
    let arcs = PartSpec::Polygon { exterior: arcs_that_miss(), holes: vec![] };
    let over = part(&[(0.19, -0.05), (0.2035, -0.05), (0.2035, 0.05), (0.19, 0.05)], EdgeModel::RhumbLine);
    let both = build(&[arcs.clone(), over]);
    let (alone, place) = (build(&[arcs]), at(0.0, 0.2040));
    let doubt_m = |boundary: &Boundary| boundary.locate(place).reading_doubt.metres();
    // the printed circle runs some 400 m from the vertices: the arc is in doubt by that, and another part makes it no surer
    assert!(doubt_m(&alone) > 300.0, "{}", doubt_m(&alone));
    assert!(doubt_m(&both) > 300.0, "{}", doubt_m(&both));
}

#[test]
fn a_disc_in_hundreds_of_wedges_is_that_disc() {
    let centre = at(45.0, -30.0);
    let rim = |step: u32| direct(centre, f64::from(step), 550.0);
    let wedges: Vec<PartSpec> = (0..360)
        .map(|step| {
            let vertices = vec![centre, rim(step), rim((step + 1) % 360)];
            PartSpec::Polygon {
                exterior: RingSpec { edges: vec![EdgeModel::Geodesic; 3], vertices, sides: Vec::new() },
                holes: vec![],
            }
        })
        .collect();
    let disc = build(&wedges);
    let there = signed_m(&disc, direct(centre, 33.3, 100.0));
    assert_abs_diff_eq!(there, -450.0, epsilon = 0.1);
}

#[test]
fn a_corner_that_lies_off_a_border_along_and_across_makes_no_boundary() {
    // 0.95 mm east and north: 8.53e-9° of longitude at the equator, 8.59e-9° of latitude (WGS 84)
    let (west_lon, north_lat) = (0.01 + 8.53e-9, 0.01 + 8.59e-9);
    let west = part(&[(0.0, 0.0), (0.01, 0.0), (0.01, 0.01), (0.0, 0.01)], EdgeModel::PlateCarree);
    let east = part(&[(0.01, 0.0), (0.02, 0.0), (0.02, 0.01), (west_lon, north_lat)], EdgeModel::PlateCarree);
    let there = signed_m(&build(&[west, east]), at(0.005, 0.0095));
    assert!(there < -552.0, "{there} m");
}

/// The border of part `number` of a row of parts, each with a corner 0.9 mm north of that of the one before.
#[test]
fn corners_that_follow_each_other_in_steps_of_less_than_a_millimetre_do_not_all_become_one() {
    // 0.9 mm of latitude at the equator is 8.14e-9° (WGS 84: 110 574.3 m to a degree)
    let step = 8.14e-9;
    let tooth = |number: u32| {
        let foot = f64::from(number) * step;
        part(
            &[(0.0, foot), (0.01, 0.001 * f64::from(number)), (0.01, 0.001 * f64::from(number) + 0.0005)],
            EdgeModel::Geodesic,
        )
    };
    let parts: Vec<PartSpec> = (0..12).map(tooth).collect();
    // the tip of the last lies 9.9 mm north of that of the first: told to 1.5 mm, and never moved onto it
    let boundary = Boundary::build(&parts).expect("no chain of corners is refused");
    let tip = at(11.0 * step, 0.0);
    let near_m = signed_m(&boundary, tip).abs();
    assert!(near_m <= 1.6e-3, "{near_m} m");
}

#[test]
fn an_unstated_border_beside_a_stated_one_is_a_doubt_although_the_gap_is_centimetres() {
    // 1 km along 45° N: a rhumb line runs 2 cm beside the geodesic (L² tan φ / 8 R)
    let (west, east) = (0.0, 0.0127);
    let north = part(&[(west, 45.0), (east, 45.0), (east, 45.01), (west, 45.01)], EdgeModel::Unstated);
    let south = part(&[(west, 44.99), (east, 44.99), (east, 45.0), (west, 45.0)], EdgeModel::RhumbLine);
    let both = build(&[north, south]);
    let located = both.locate(at(45.0002, 0.006));
    // read as a rhumb line the border is none, and 470 m are left to the western line; read as a geodesic it is 22 m off
    assert_abs_diff_eq!(located.least.metres(), -472.0, epsilon = 3.0);
    assert_abs_diff_eq!(located.greatest.metres(), -22.0, epsilon = 1.0);
}
