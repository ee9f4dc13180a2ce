//! Geodesics straight from `geographiclib-rs`, apart from the library under test.

use std::sync::LazyLock;

use geographiclib_rs::{DirectGeodesic, Geodesic, InverseGeodesic};
use takeline::Position;

static WGS_84: LazyLock<Geodesic> = LazyLock::new(Geodesic::wgs84);

/// First eccentricity of WGS 84, from its flattening 1/298.257223563.
const FLATTENING: f64 = 1.0 / 298.257_223_563;

/// Makes a position; longitudes are brought into ±180 first.
///
/// # Panics
///
/// If the latitude is outside ±90 by more than rounding.
#[must_use]
pub fn position(lat_deg: f64, lon_deg: f64) -> Position {
    let lon_deg = lon_deg - 360.0 * (lon_deg / 360.0).round();
    let lat_deg = if lat_deg.abs() < 90.0 + 1e-9 { lat_deg.clamp(-90.0, 90.0) } else { lat_deg };
    Position::from_degrees(lat_deg, lon_deg.clamp(-180.0, 180.0)).expect("a place on the Earth")
}

/// Distance in metres, and the azimuth at the start in degrees.
#[must_use]
pub fn inverse(from: Position, to: Position) -> (f64, f64) {
    let (distance_m, azimuth_deg, _, _): (f64, f64, f64, f64) = WGS_84.inverse(
        from.latitude().degrees(),
        from.longitude().degrees(),
        to.latitude().degrees(),
        to.longitude().degrees(),
    );
    (distance_m, azimuth_deg)
}

/// The place so many metres along a geodesic, and its azimuth there.
#[must_use]
pub fn direct_with_azimuth(from: Position, azimuth_deg: f64, distance_m: f64) -> (Position, f64) {
    let (lat_deg, lon_deg, azimuth_end_deg): (f64, f64, f64) =
        WGS_84.direct(from.latitude().degrees(), from.longitude().degrees(), azimuth_deg, distance_m);
    (position(lat_deg, lon_deg), azimuth_end_deg)
}

/// The place so many metres along a geodesic.
#[must_use]
pub fn direct(from: Position, azimuth_deg: f64, distance_m: f64) -> Position {
    direct_with_azimuth(from, azimuth_deg, distance_m).0
}

/// Where two geodesics, each given by two places, cross near the middle of the first; to about a nanometre.
///
/// Newton's method: from the two places reached so far, the way between them is divided along the two directions.
#[must_use]
pub fn crossing(one: (Position, Position), other: (Position, Position)) -> Position {
    let (one_m, one_deg) = inverse(one.0, one.1);
    let (other_m, other_deg) = inverse(other.0, other.1);
    let (mut along_one_m, mut along_other_m) = (one_m / 2.0, other_m / 2.0);
    for _ in 0..12 {
        let (a, a_deg) = direct_with_azimuth(one.0, one_deg, along_one_m);
        let (b, b_deg) = direct_with_azimuth(other.0, other_deg, along_other_m);
        let (apart_m, to_b_deg) = inverse(a, b);
        if apart_m < 1e-9 {
            break;
        }
        // the way from a to b as s steps along one less t steps along the other
        let cross = |p_deg: f64, q_deg: f64| (q_deg - p_deg).to_radians().sin();
        let turn = cross(a_deg, b_deg);
        along_one_m += apart_m * cross(to_b_deg, b_deg) / turn;
        along_other_m += apart_m * cross(to_b_deg, a_deg) / turn;
    }
    direct(one.0, one_deg, along_one_m)
}

/// Isometric latitude on the ellipsoid, in degrees: rhumb lines are straight in it and in longitude.
#[must_use]
pub fn isometric_deg(lat_deg: f64) -> f64 {
    let (sin, e) = (lat_deg.to_radians().sin(), eccentricity());
    (sin.atanh() - e * (e * sin).atanh()).to_degrees()
}

/// The latitude with this isometric latitude, both in degrees; by fixed-point iteration to the last digit.
#[must_use]
pub fn lat_of_isometric_deg(isometric_deg: f64) -> f64 {
    let (psi, e) = (isometric_deg.to_radians(), eccentricity());
    let mut sin = psi.tanh();
    for _ in 0..12 {
        sin = (psi + e * (e * sin).atanh()).tanh();
    }
    sin.asin().to_degrees()
}

fn eccentricity() -> f64 {
    (FLATTENING * (2.0 - FLATTENING)).sqrt()
}
