//! Rings of many long edges close beside each other: those that are sound load, those that cross themselves are refused, and
//! neither compares every edge with every other. Prints how long each takes:
//!
//!     cargo test --release -p takeline --test dense_rings -- --nocapture

use std::time::Instant;

use takeline::{Boundary, BoundaryFault, EdgeModel, PartSpec, Position, RingSpec};

#[expect(clippy::print_stdout, reason = "the file measures, and shows it with --nocapture")]
fn timed(name: &str, lon_lat: &[(f64, f64)]) -> Result<Boundary, BoundaryFault> {
    let vertices: Vec<Position> =
        lon_lat.iter().map(|(lon, lat)| Position::from_degrees(*lat, *lon).expect("a position")).collect();
    let exterior = RingSpec { edges: vec![EdgeModel::Geodesic; vertices.len()], vertices, sides: Vec::new() };
    let begun = Instant::now();
    let built = Boundary::build(&[PartSpec::Polygon { exterior, holes: vec![] }]);
    println!("{name}, {} vertices: {:.2} s", lon_lat.len(), begun.elapsed().as_secs_f64());
    built.map_err(|refused| refused.fault)
}

/// Teeth of a comb upwards from a base, leaning by so many degrees, closed below the base.
fn comb(teeth: u32, tooth_deg: f64, lean_deg: f64) -> Vec<(f64, f64)> {
    let mut ring = Vec::new();
    for tooth in 0..teeth {
        let lon = -30.0 + f64::from(tooth) * 2e-5;
        ring.extend([(lon, 45.0), (lon + lean_deg, 45.0 + tooth_deg)]);
    }
    ring.extend([
        (-30.0 + f64::from(teeth) * 2e-5, 45.0),
        (-30.0 + f64::from(teeth) * 2e-5, 44.999),
        (-30.0, 44.999),
    ]);
    ring
}

#[test]
fn combs_load() {
    for (name, lean_deg) in [("upright", 0.0), ("leaning", 0.01)] {
        let ring = comb(8_000, 0.01, lean_deg);
        let boundary = timed(&format!("{name} comb of short teeth"), &ring).expect("a sound comb");
        let below = Position::from_degrees(44.999_5, -29.95).expect("a position");
        assert!(boundary.contains_by_crossings(below));
        assert!(boundary.locate(below).signed_distance.metres() < 0.0);
    }
    for (name, lean_deg) in [("upright", 0.0), ("leaning", 0.4)] {
        timed(&format!("{name} comb of long teeth"), &comb(500, 0.4, lean_deg)).expect("a sound comb");
    }
}

#[test]
fn a_comb_closed_across_its_teeth_is_refused() {
    for teeth in [1_000, 2_000] {
        let ring: Vec<(f64, f64)> = (0..teeth)
            .flat_map(|tooth| {
                let lon = -30.0 + f64::from(tooth) * 1e-5;
                [(lon, 45.0), (lon, 46.0)]
            })
            .collect();
        let refused = timed("comb closed across its teeth", &ring).expect_err("it crosses itself");
        assert!(matches!(refused, BoundaryFault::SelfCrossing { .. }), "{refused}");
    }
}

#[test]
fn a_star_of_which_every_edge_crosses_every_other_is_refused() {
    let ring: Vec<(f64, f64)> = (0..2_001_u32)
        .map(|point| {
            let turn = f64::from(point) * 1_000.0 / 2_001.0 * std::f64::consts::TAU;
            (-30.0 + 0.1 * turn.cos(), 0.1 * turn.sin())
        })
        .collect();
    let refused = timed("star", &ring).expect_err("it crosses itself");
    assert!(matches!(refused, BoundaryFault::SelfCrossing { .. }), "{refused}");
}

#[test]
fn a_way_walked_over_and_over_is_refused() {
    let ring: Vec<(f64, f64)> = (0..4_000_u32)
        .map(|step| (-30.0 + if step % 2 == 0 { 0.0 } else { 0.01 }, if step == 3_999 { 0.01 } else { 0.0 }))
        .collect();
    timed("one way walked over and over", &ring).expect_err("its sides cannot be told");
}

#[test]
fn a_spiral_loads() {
    let arm = |from: u32, to: u32, off: f64| {
        (from..to).map(move |step| {
            let turn = f64::from(step) * 0.05;
            let away = 1e-4 * turn + off;
            (-30.0 + away * turn.cos(), away * turn.sin())
        })
    };
    let mut ring: Vec<(f64, f64)> = arm(100, 8_000, 0.0).collect();
    let mut back: Vec<(f64, f64)> = arm(100, 8_000, 2e-4).collect();
    back.reverse();
    ring.extend(back);
    timed("spiral", &ring).expect("a sound spiral");
}
