//! The length of a geodesic that is short against the Earth, from the straight line between its ends.

use super::Vector;
use super::ellipsoid::{ECCENTRICITY_2, EQUATORIAL_RADIUS_M, Surface, from_earth_centred, surface};
use super::karney::inverse;
use crate::{Latitude, Longitude, Position};

/// Up to this straight distance [`length_over_chord`] and [`azimuth_deg`] may be used, in metres.
pub(crate) const SHORT_M: f64 = 50_000.0;

/// Up to this straight distance a normal section is taken for the geodesic that begins with it, in metres.
const SHORT_LINE_M: f64 = 10_000.0;

/// A degree of latitude is no longer than this anywhere, in metres, nor one of longitude: a / (1 − f) over a degree, 111 694 m at a
/// pole, rounded up.
pub(crate) const DEGREE_M: f64 = 111_700.0;

/// Metres that the way between two positions is not longer than, without a sine.
///
/// The way along which latitude and longitude change evenly is no shorter than the geodesic. On it no degree of longitude is longer
/// than [`DEGREE_M`] times the cosine of the latitude nearest to the equator, and cos x ≤ 1 − x²/2 + x⁴/24.
#[expect(clippy::imprecise_flops, reason = "no square overflows here, and it takes a fifth of the time")]
pub(crate) fn at_most_m(from: Position, to: Position) -> f64 {
    let (one_deg, other_deg) = (from.latitude().degrees(), to.latitude().degrees());
    let across_deg = (to.longitude().degrees() - from.longitude().degrees()).abs();
    let nearest_deg = if one_deg * other_deg > 0.0 { one_deg.abs().min(other_deg.abs()) } else { 0.0 };
    let square = nearest_deg.to_radians().powi(2);
    let east_deg = across_deg.min(360.0 - across_deg) * (1.0 - square / 2.0 + square * square / 24.0);
    let north_deg = other_deg - one_deg;
    DEGREE_M * (north_deg * north_deg + east_deg * east_deg).sqrt()
}

/// The length of the geodesic between two points of the surface, in metres, from the chord between them.
///
/// The chord is bent back with the curvature of the normal section that holds it, taken under its middle: with
/// D = diag(1/a², 1/a², 1/b²) the surface is p·Dp = 1, and its curvature along a unit tangent t at p is t·Dt / |Dp|. The
/// middle m of a chord of length c lies below the surface, m·Dm = 1 − (c/2)² t·Dt, and is put back on it by that factor.
///
/// # Accuracy
///
/// Within 20 nm up to [`SHORT_M`] is held by the tests below, against Karney's direct problem; 10 nm is what was seen.
pub(crate) fn length_over_chord(one: Vector, other: Vector) -> f64 {
    let chord = other - one;
    let chord_2 = chord.dot(chord);
    if chord_2 <= 0.0 {
        return 0.0;
    }
    let middle = (one + other) * 0.5;
    let bent = flattened(chord).dot(chord) / chord_2;
    let over_surface = 1.0 - 0.25 * chord_2 * bent;
    let gradient = flattened(middle);
    let curvature_2 = bent * bent * over_surface / gradient.dot(gradient);
    // 2/k · asin(c k/2)
    let angle_2 = chord_2 * curvature_2;
    chord_2.sqrt() * (1.0 + angle_2 * (1.0 / 24.0 + angle_2 * (3.0 / 640.0 + angle_2 * (5.0 / 7168.0))))
}

/// The distance between two positions, in metres: from the chord up to [`SHORT_M`], beyond with Karney's inverse.
pub(crate) fn distance_m(from: Position, to: Position) -> f64 {
    let (here, there) = (surface(from).point, surface(to).point);
    if (there - here).norm() <= SHORT_M {
        length_over_chord(here, there)
    } else {
        inverse(from, to).distance_m
    }
}

/// The same with the azimuth at the first in degrees, so near to the geodesic's that up to [`SHORT_LINE_M`] its end comes out
/// within 20 µm of the second position.
pub(crate) fn distance_and_azimuth(
    (from, here): (Position, &Surface),
    (to, there): (Position, &Surface),
) -> (f64, f64) {
    if (there.point - here.point).norm() <= SHORT_LINE_M {
        return (length_over_chord(here.point, there.point), azimuth_deg(here, there.point));
    }
    let line = inverse(from, to);
    (line.distance_m, line.azimuth_start_deg)
}

/// The distance to a point of the surface and the azimuth towards it, in metres and degrees: up to [`SHORT_LINE_M`] so near to the
/// geodesic's that its end comes out within 20 µm of the point, beyond the geodesic's own.
pub(crate) fn seen_from((from, here): (Position, &Surface), there: Vector) -> (f64, f64) {
    if (there - here.point).norm() <= SHORT_LINE_M {
        return (length_over_chord(here.point, there), azimuth_deg(here, there));
    }
    let line = inverse(from, from_earth_centred(there));
    (line.distance_m, line.azimuth_start_deg)
}

/// D·v with D = diag(1/a², 1/a², 1/b²): for a point, a vector square to the ellipsoid through it that is like the Earth's.
pub(crate) fn flattened(vector: Vector) -> Vector {
    const MAJOR: f64 = 1.0 / (EQUATORIAL_RADIUS_M * EQUATORIAL_RADIUS_M);
    const MINOR: f64 = MAJOR / (1.0 - ECCENTRICITY_2);
    Vector::new(vector.x * MAJOR, vector.y * MAJOR, vector.z * MINOR)
}

/// The azimuth at a point of the surface towards another, in degrees: that of the normal section, which up to [`SHORT_M`]
/// is the geodesic's to 2·10⁻⁶ degrees. North where both are one.
pub(crate) fn azimuth_deg(here: &Surface, there: Vector) -> f64 {
    let way = there - here.point;
    way.dot(here.east).atan2(way.dot(here.north)).to_degrees()
}

/// The position of a point that lies on the surface, in closed form.
///
/// # Accuracy
///
/// A point that lies h off the surface is out by up to h / 300; feet lie within 4 µm of it. Points farther off are
/// [`from_earth_centred`]'s.
#[expect(clippy::imprecise_flops, reason = "neither overflows here, and it takes a fifth of the time")]
pub(crate) fn on_surface(point: Vector) -> Position {
    let axis_distance = (point.x * point.x + point.y * point.y).sqrt();
    if axis_distance < 1.0 {
        return from_earth_centred(point);
    }
    let latitude_deg = point.z.atan2(axis_distance * (1.0 - ECCENTRICITY_2)).to_degrees();
    let longitude_deg = point.y.atan2(point.x).to_degrees();
    Position::new(Latitude::computed(latitude_deg), Longitude::wrapping(longitude_deg))
}

#[cfg(test)]
mod tests {
    use approx::assert_abs_diff_eq;
    use proptest::prelude::*;

    use super::*;
    use crate::geodesic::direct;

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(20_000))]

        /// Against Karney's direct and inverse problem (GeographicLib), in every direction and latitude.
        #[test]
        fn a_short_length_is_the_geodesics(
            lat_deg in -90.0..=90.0, lon_deg in -180.0..180.0, azimuth in -180.0..180.0, share in 0.0..1.0_f64,
        ) {
            let from = Position::from_degrees(lat_deg, lon_deg).unwrap();
            let length_m = SHORT_M * share.powi(3);
            let to = direct(from, azimuth, length_m);
            let (here, there) = (surface(from), surface(to));
            assert_abs_diff_eq!(length_over_chord(here.point, there.point), length_m, epsilon = 2e-8);
            if length_m > 1.0 {
                let line = inverse(from, to);
                let turned = (azimuth_deg(&here, there.point) - line.azimuth_start_deg + 720.0) % 360.0;
                let (told_m, told_deg) = distance_and_azimuth((from, &here), (to, &there));
                prop_assert!(length_m <= at_most_m(from, to));
                prop_assert!((told_m - line.distance_m).abs() < 3e-8 && (distance_m(from, to) - told_m).abs() < 3e-8);
                prop_assert!(inverse(direct(from, told_deg, told_m), to).distance_m < 2e-5);
                // a nanometre of rounding in either point is 6e-8° of a metre
                assert_abs_diff_eq!(turned.min(360.0 - turned), 0.0, epsilon = 2e-6 + 1e-6 / length_m);
            }
        }

        /// Against Karney's inverse problem (GeographicLib), from anywhere to anywhere.
        #[test]
        fn no_way_is_longer_than_its_bound(
            from in (-90.0..=90.0, -180.0..180.0), to in (-90.0..=90.0, -180.0..180.0), nearer in 0_i32..7,
        ) {
            let shrunk = 0.1_f64.powi(nearer);
            let place = |(lat, lon): (f64, f64)| Position::from_degrees(lat, lon).unwrap();
            let (lat, lon) = (from.0 + (to.0 - from.0) * shrunk, from.1 + (to.1 - from.1) * shrunk);
            let (one, other) = (place(from), place((lat, lon)));
            let (way_m, bound_m) = (inverse(one, other).distance_m, at_most_m(one, other));
            prop_assert!(way_m <= bound_m, "{way_m} {bound_m}");
            // near together, away from the poles, it is hardly more
            prop_assert!(nearer < 5 || from.0.abs() > 60.0 || bound_m <= way_m * 1.03 + 1e-6, "{way_m} {bound_m}");
        }

        /// Against Bowring's formula, which needs no point on the surface.
        #[test]
        fn a_point_of_the_surface_has_its_position(lat_deg in -90.0..=90.0, lon_deg in -180.0..180.0) {
            let point = surface(Position::from_degrees(lat_deg, lon_deg).unwrap()).point;
            for height_m in [-4e-6, 0.0, 4e-6] {
                let lifted = point * (1.0 + height_m / point.norm());
                let apart = inverse(on_surface(lifted), from_earth_centred(lifted));
                // a 300th of the height, and rounding
                assert_abs_diff_eq!(apart.distance_m, 0.0, epsilon = 2e-8);
            }
        }
    }
}
