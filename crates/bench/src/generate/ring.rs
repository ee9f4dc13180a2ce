//! The outline of a zone: rough at every scale, as coasts are, and never crossing itself.

use std::f64::consts::TAU;

use fastrand::Rng;

use super::layout::Spot;

/// Waves of different length that make an outline.
const WAVES: u32 = 48;

/// The way from the centre to each vertex, counter-clockwise from the east, in metres.
pub(super) fn radii(random: &mut Rng, spot: &Spot, vertices: u32) -> Vec<f64> {
    let shortest = (vertices / 3).clamp(2, 4_000);
    let mut waves: Vec<f64> = (0..WAVES)
        .map(|step| f64::from(shortest).powf(f64::from(step) / f64::from(WAVES - 1)).round())
        .collect();
    waves.dedup_by(|a, b| a.total_cmp(b).is_eq());
    let waves: Vec<(f64, f64, f64)> =
        waves.into_iter().map(|wave| (wave, 0.18 * wave.powf(-0.75), random.f64() * TAU)).collect();
    (0..vertices)
        .map(|vertex| {
            let turn = turn(vertex, vertices);
            let swing: f64 =
                waves.iter().map(|(wave, height, phase)| height * (wave * turn + phase).cos()).sum();
            spot.radius_m * (1.0 + swing).clamp(0.25, 2.0)
        })
        .collect()
}

/// Latitude and longitude of each vertex.
pub(super) fn places(spot: &Spot, radii: &[f64]) -> Vec<(f64, f64)> {
    let count = u32::try_from(radii.len()).unwrap_or(u32::MAX);
    let place = |(vertex, radius_m): (u32, &f64)| {
        let (sin, cos) = turn(vertex, count).sin_cos();
        spot.offset(radius_m * sin, radius_m * cos)
    };
    (0..).zip(radii).map(place).collect()
}

/// The direction of a vertex from the centre, in radians.
pub(super) fn turn(vertex: u32, vertices: u32) -> f64 {
    TAU * f64::from(vertex) / f64::from(vertices)
}
