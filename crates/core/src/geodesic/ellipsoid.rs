//! WGS 84 and earth-centred coordinates on it.

use super::Vector;
use crate::{Latitude, Longitude, Position};

/// Semi-major axis of WGS 84, in metres (NGA.STND.0036 v1.0.0, table 3.1).
pub(crate) const EQUATORIAL_RADIUS_M: f64 = 6_378_137.0;
/// Flattening of WGS 84 (NGA.STND.0036 v1.0.0, table 3.1).
pub(crate) const FLATTENING: f64 = 1.0 / 298.257_223_563;
/// Square of the first eccentricity.
pub(crate) const ECCENTRICITY_2: f64 = FLATTENING * (2.0 - FLATTENING);
/// Smallest radius of curvature anywhere: the meridian at the equator, a(1 − e²).
pub(crate) const SMALLEST_RADIUS_M: f64 = EQUATORIAL_RADIUS_M * (1.0 - ECCENTRICITY_2);
/// Largest radius of curvature anywhere: the poles, a / (1 − f).
pub(crate) const LARGEST_RADIUS_M: f64 = EQUATORIAL_RADIUS_M / (1.0 - FLATTENING);

/// Mean radius, (2a + b) / 3 (NGA.STND.0036 v1.0.0, table 3.2; the IUGG's for GRS 80 is the same to a tenth of a millimetre).
pub(crate) const MEAN_RADIUS_M: f64 = 6_371_008.8;

/// A point of the surface in earth-centred axes, with the directions up, north and east there.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Surface {
    pub(crate) point: Vector,
    pub(crate) up: Vector,
    pub(crate) north: Vector,
    pub(crate) east: Vector,
}

/// Puts a position into earth-centred axes.
pub(crate) fn surface(position: Position) -> Surface {
    let (sin_lat, cos_lat) = sin_cos_degrees(position.latitude().degrees());
    let (sin_lon, cos_lon) = sin_cos_degrees(position.longitude().degrees());
    let prime_vertical = EQUATORIAL_RADIUS_M / (1.0 - ECCENTRICITY_2 * sin_lat * sin_lat).sqrt();
    let parallel = prime_vertical * cos_lat;
    Surface {
        point: Vector::new(
            parallel * cos_lon,
            parallel * sin_lon,
            prime_vertical * (1.0 - ECCENTRICITY_2) * sin_lat,
        ),
        up: Vector::new(cos_lat * cos_lon, cos_lat * sin_lon, sin_lat),
        north: Vector::new(-sin_lat * cos_lon, -sin_lat * sin_lon, cos_lat),
        east: Vector::new(-sin_lon, cos_lon, 0.0),
    }
}

/// Sine and cosine of degrees, exact at the multiples of 90 so that poles and the 180° meridian close.
#[expect(clippy::cast_possible_truncation, reason = "at most ±2 for a longitude within ±180")]
fn sin_cos_degrees(degrees: f64) -> (f64, f64) {
    let quarter = (degrees / 90.0).round();
    let (sin, cos) = (degrees - 90.0 * quarter).to_radians().sin_cos();
    match quarter as i8 {
        0 => (sin, cos),
        1 => (cos, -sin),
        -1 => (-cos, sin),
        _ => (-sin, -cos),
    }
}

/// Returns the position whose ellipsoid normal passes through a point close to the surface.
///
/// # Accuracy
///
/// Within 1 nm for points within 100 km of the surface: Bowring's formula with one more step.
///
/// # References
///
/// Bowring (1976), Survey Review 23 (181), 323–327.
pub(crate) fn from_earth_centred(point: Vector) -> Position {
    let axis_distance = point.x.hypot(point.y);
    let minor = EQUATORIAL_RADIUS_M * (1.0 - FLATTENING);
    let second_eccentricity_2 = ECCENTRICITY_2 / (1.0 - ECCENTRICITY_2);
    let mut tan_parametric = point.z * EQUATORIAL_RADIUS_M / (axis_distance * minor);
    let mut latitude_rad = 0.0;
    for _ in 0..2 {
        let (sin, cos) = tan_parametric.atan().sin_cos();
        latitude_rad = (point.z + second_eccentricity_2 * minor * sin.powi(3))
            .atan2(axis_distance - ECCENTRICITY_2 * EQUATORIAL_RADIUS_M * cos.powi(3));
        tan_parametric = (1.0 - FLATTENING) * latitude_rad.tan();
    }
    let latitude_deg = latitude_rad.to_degrees().clamp(-90.0, 90.0);
    let longitude_deg = point.y.atan2(point.x).to_degrees();
    Position::new(Latitude::computed(latitude_deg), Longitude::wrapping(longitude_deg))
}
