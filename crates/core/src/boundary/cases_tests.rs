//! Cases that have gone wrong in real regulations and real software, each by name (trade.md section 11 has the list).

use approx::assert_abs_diff_eq;

use super::{Arc, ArcSense, Boundary, BoundaryFault, EdgeModel, InvalidBoundary, PartSpec, RingSpec};
use crate::geodesic::direct;
use crate::{Metres, Position, RingChange};

fn at(lat: f64, lon: f64) -> Position {
    Position::from_degrees(lat, lon).unwrap()
}

fn ring(vertices: Vec<Position>, model: EdgeModel) -> RingSpec {
    let edges = vec![model; vertices.len()];
    RingSpec { vertices, edges, sides: Vec::new() }
}

fn build(exterior: RingSpec, holes: Vec<RingSpec>) -> Result<Boundary, InvalidBoundary> {
    Boundary::build(&[PartSpec::Polygon { exterior, holes }])
}

fn square(corner: Position, side_m: f64) -> Vec<Position> {
    let east = direct(corner, 90.0, side_m);
    vec![corner, east, direct(east, 0.0, side_m), direct(corner, 0.0, side_m)]
}

fn signed_m(boundary: &Boundary, position: Position) -> f64 {
    boundary.locate(position).signed_distance.metres()
}

#[test]
fn a_zone_that_touches_180_takes_longitudes_either_way() {
    let corners =
        |west: f64, east: f64| vec![at(-17.0, west), at(-18.0, west), at(-18.0, east), at(-17.0, east)];
    for model in [EdgeModel::Geodesic, EdgeModel::RhumbLine, EdgeModel::PlateCarree] {
        let across = build(ring(corners(179.5, -177.5), model), vec![]).unwrap();
        let counted_on = build(ring(corners(179.5, 182.5), model), vec![]).unwrap();
        let touching = build(ring(corners(179.5, 180.0), model), vec![]).unwrap();
        for lon in [182.0, -178.0] {
            let difference_m = signed_m(&across, at(-17.5, lon)) - signed_m(&counted_on, at(-17.5, lon));
            assert!(difference_m.abs() < 1e-9);
            assert!(signed_m(&across, at(-17.5, lon)) < -1_000.0);
            assert!(signed_m(&touching, at(-17.5, lon)) > 1_000.0);
        }
        assert!(signed_m(&touching, at(-17.5, 179.9)) < -1_000.0);
    }
}

#[test]
fn winding_and_closing_do_not_matter() {
    let corners = square(at(45.11, -30.12), 800.0);
    let here = direct(at(45.11, -30.12), 40.0, 300.0);
    let forward = build(ring(corners.clone(), EdgeModel::Geodesic), vec![]).unwrap();
    let mut backward = corners.clone();
    backward.reverse();
    let backward = build(ring(backward, EdgeModel::Geodesic), vec![]).unwrap();
    let mut closed = corners.clone();
    closed.push(corners[0]);
    let closed = build(ring(closed, EdgeModel::Geodesic), vec![]).unwrap();
    assert!(signed_m(&forward, here) < 0.0);
    assert_abs_diff_eq!(signed_m(&forward, here), signed_m(&backward, here), epsilon = 1e-8);
    assert_abs_diff_eq!(signed_m(&forward, here), signed_m(&closed, here), epsilon = 1e-9);
}

/// The corners of a real Gulf of Mexico closed area, from memory; in a public notice of 2011 they stood in the order
/// NW, NE, SW, SE. Its area of 1,338 km² was computed for trade.md section 2.2 from the published corners.
#[test]
fn corners_listed_nw_ne_sw_se_are_a_bow_tie_and_the_order_that_works_is_offered() {
    let degrees = |d: f64, m: f64| d + m / 60.0;
    let (north, south) = (degrees(28.0, 51.0), degrees(28.0, 14.0));
    let corners = vec![
        at(north, -degrees(85.0, 16.0)),
        at(north, -degrees(85.0, 4.0)),
        at(south, -degrees(84.0, 54.0)),
        at(south, -degrees(84.0, 42.0)),
    ];
    for model in [EdgeModel::Geodesic, EdgeModel::RhumbLine, EdgeModel::Unstated] {
        let refused = build(ring(corners.clone(), model), vec![]).unwrap_err();
        let BoundaryFault::SelfCrossing { repair: Some(repair), .. } = &refused.fault else {
            panic!("{refused}");
        };
        assert_eq!(repair.change, RingChange::Rows { first: 2, second: 3 });
        let area_km2 = repair.area_nm2 * 1.852 * 1.852;
        assert_abs_diff_eq!(area_km2, 1_338.0, epsilon = 1.0);
        assert!(refused.to_string().contains("with vertices 2 and 3 exchanged it would not"), "{refused}");
    }
}

#[test]
fn a_bow_tie_whose_edges_cross_exactly_at_their_middles_is_seen() {
    let corners = square(at(0.0, -30.0), 8_000.0);
    let bow_tie = vec![corners[0], corners[2], corners[1], corners[3]];
    let refused = build(ring(bow_tie, EdgeModel::Geodesic), vec![]).unwrap_err();
    assert!(matches!(refused.fault, BoundaryFault::SelfCrossing { .. }), "{refused}");
}

#[test]
fn a_ring_that_passes_a_vertex_twice_is_refused() {
    let middle = at(45.11, -30.12);
    let spoke = |bearing: f64| direct(middle, bearing, 500.0);
    let eight = vec![middle, spoke(20.0), spoke(70.0), middle, spoke(200.0), spoke(250.0)];
    let refused = build(ring(eight, EdgeModel::Geodesic), vec![]).unwrap_err();
    assert!(matches!(refused.fault, BoundaryFault::RepeatedVertex { .. }), "{refused}");
    assert_eq!(refused.vertex, Some(0));
}

#[test]
fn a_slit_that_joins_a_hole_to_its_ring_is_no_boundary() {
    let outer = square(at(45.10, -30.14), 3_000.0);
    let mut hole = square(direct(at(45.10, -30.14), 45.0, 1_800.0), 300.0);
    let with_hole =
        build(ring(outer.clone(), EdgeModel::Geodesic), vec![ring(hole.clone(), EdgeModel::Geodesic)])
            .unwrap();
    hole.reverse();
    hole.rotate_left(3);
    let mut slit = vec![outer[0]];
    slit.extend(&hole);
    slit.push(hole[0]);
    slit.extend([outer[0], outer[1], outer[2], outer[3]]);
    let slit = build(ring(slit, EdgeModel::Geodesic), vec![]).unwrap();
    assert_abs_diff_eq!(slit.area_m2(), with_hole.area_m2(), epsilon = 1e-3);
    for share in [0.2, 0.5, 0.7, 0.9] {
        let here = direct(at(45.10, -30.14), 44.9, 1_800.0 * share);
        assert_abs_diff_eq!(signed_m(&slit, here), signed_m(&with_hole, here), epsilon = 1e-6);
    }
    let in_hole = direct(hole[3], 45.0, 150.0);
    assert_eq!(signed_m(&slit, in_hole) > 0.0, signed_m(&with_hole, in_hole) > 0.0);
}

#[test]
fn a_hole_outside_its_ring_is_refused() {
    let corner = at(45.10, -30.14);
    let beside = square(direct(corner, 90.0, 5_000.0), 100.0);
    let outside =
        build(ring(square(corner, 1_000.0), EdgeModel::Geodesic), vec![ring(beside, EdgeModel::Geodesic)]);
    assert!(matches!(outside.err().unwrap().fault, BoundaryFault::Nesting(_)));
}

#[test]
fn parts_that_overlap_and_share_the_vertices_at_which_they_do_are_one() {
    let corners = square(at(45.10, -30.14), 1_000.0);
    let part = |vertices: Vec<Position>| PartSpec::Polygon {
        exterior: ring(vertices, EdgeModel::Geodesic),
        holes: vec![],
    };
    let tip = direct(corners[0], 45.0, 2_500.0);
    let far = direct(corners[0], 225.0, 800.0);
    let kite = part(vec![corners[1], tip, corners[3], far]);
    let alone = Boundary::build(std::slice::from_ref(&kite)).unwrap();
    // the kite holds the square
    let both = Boundary::build(&[part(corners.clone()), kite]).unwrap();
    for here in [corners[0], corners[1], direct(corners[0], 45.0, 700.0), direct(corners[0], 300.0, 900.0)] {
        assert_abs_diff_eq!(signed_m(&both, here), signed_m(&alone, here), epsilon = 1e-6);
    }
}

#[test]
fn parts_may_touch_and_an_island_may_lie_in_a_hole() {
    let corner = at(45.10, -30.14);
    let with_hole = PartSpec::Polygon {
        exterior: ring(square(corner, 3_000.0), EdgeModel::Geodesic),
        holes: vec![ring(square(direct(corner, 45.0, 1_000.0), 1_000.0), EdgeModel::Geodesic)],
    };
    let island = direct(corner, 45.0, 1_400.0);
    let inner =
        PartSpec::Polygon { exterior: ring(square(island, 100.0), EdgeModel::Geodesic), holes: vec![] };
    let boundary = Boundary::build(&[with_hole, inner]).unwrap();
    assert!(signed_m(&boundary, direct(island, 45.0, 70.0)) < 0.0);
    assert!(signed_m(&boundary, direct(island, 225.0, 100.0)) > 0.0);
}

#[test]
fn degenerate_rings_name_what_is_wrong() {
    let line = vec![at(45.0, -30.0), at(45.1, -30.0), at(45.2, -30.0)];
    let flat = build(ring(line, EdgeModel::Geodesic), vec![]).unwrap_err();
    assert!(matches!(flat.fault, BoundaryFault::NoArea), "{flat}");
    let two = build(ring(vec![at(45.0, -30.0), at(45.1, -30.0)], EdgeModel::Geodesic), vec![]).unwrap_err();
    assert!(matches!(two.fault, BoundaryFault::TooFewVertices(2)), "{two}");
    assert!(matches!(Boundary::build(&[]).unwrap_err().fault, BoundaryFault::Empty));
    assert!(build(RingSpec::default(), vec![]).is_err());
    let half_turn = vec![at(10.0, -90.0), at(10.0, 90.0), at(20.0, 0.0)];
    let refused = build(ring(half_turn, EdgeModel::PlateCarree), vec![]).unwrap_err();
    assert!(matches!(refused.fault, BoundaryFault::AmbiguousEdge), "{refused}");
    let circle =
        |radius_m: f64| PartSpec::Circle { centre: at(45.1, -30.1), radius: Metres::new(radius_m).unwrap() };
    assert!(matches!(Boundary::build(&[circle(0.0)]).unwrap_err().fault, BoundaryFault::Radius(_)));
}

#[test]
fn an_arc_whose_end_misses_its_circle_is_refused() {
    let centre = at(45.1, -30.1);
    let (from, to) = (direct(centre, 0.0, 1_000.0), direct(centre, 90.0, 1_300.0));
    let arc = Arc { centre, radius: Metres::new(1_000.0).unwrap(), sense: ArcSense::Clockwise };
    let exterior = RingSpec {
        vertices: vec![centre, from, to],
        edges: vec![EdgeModel::Geodesic, EdgeModel::Arc(arc), EdgeModel::Geodesic],
        sides: Vec::new(),
    };
    let refused = build(exterior, vec![]).unwrap_err();
    assert_eq!(refused.vertex, Some(1));
    assert!(refused.to_string().contains("check centre, radius and vertex"), "{refused}");
}
