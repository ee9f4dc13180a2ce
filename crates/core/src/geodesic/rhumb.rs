//! Rhumb lines (loxodromes) on the ellipsoid.

use super::ellipsoid::{ECCENTRICITY_2, EQUATORIAL_RADIUS_M};
use super::{direct, inverse};
use crate::angle::wrap_degrees;
use crate::{InvalidLength, Latitude, Longitude, Metres, Position, TrueBearing};

/// A line of constant true bearing on WGS 84, the short way round. Parallels and meridians are rhumb lines.
///
/// # Accuracy
///
/// Within 1 µm of GeographicLib's `RhumbSolve` over 18 500 km (tests/reference.rs, `rhumb`).
///
/// # Edge cases
///
/// A rhumb line that ends at a pole runs along the meridian of its other end. Where the longitudes differ by exactly
/// 180° it runs west.
///
/// # References
///
/// Karney (2024), *The area of rhumb polygons*, doi:10.1007/s11200-024-0709-z, sections 2 and 3.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RhumbLine {
    from: Position,
    to: Position,
    bearing_deg: f64,
    length_m: f64,
}

impl RhumbLine {
    /// Solves the inverse problem.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::{Position, RhumbLine};
    /// // JFK to Singapore: 18523563 m on 103°34'58.2" (GeographicLib, RhumbSolve manual page)
    /// let jfk = Position::from_degrees(40.639_722_222_222_22, -73.778_888_888_888_89)?;
    /// let sin = Position::from_degrees(1.359_166_666_666_667, 103.989_444_444_444_4)?;
    /// let line = RhumbLine::between(jfk, sin);
    /// assert_eq!(line.length().metres().round(), 18_523_563.0);
    /// # Ok::<(), takeline::InvalidCoordinate>(())
    /// ```
    #[must_use]
    pub fn between(from: Position, to: Position) -> Self {
        let d_lon = longitude_difference_rad(from, to);
        let (lat1, lat2) = (from.latitude().radians(), to.latitude().radians());
        let (meridian_m, isometric) = differences(lat1, lat2);
        if meridian_m.abs() < 1e-9 {
            let length_m = parallel_radius(lat1) * d_lon.abs();
            let bearing_deg = if d_lon < 0.0 { 270.0 } else { 90.0 };
            return Self { from, to, bearing_deg, length_m };
        }
        let bearing_deg = d_lon.atan2(isometric).to_degrees();
        let slant = if isometric.is_infinite() { 1.0 } else { (d_lon / isometric).hypot(1.0) };
        Self { from, to, bearing_deg, length_m: meridian_m.abs() * slant }
    }

    /// Solves the direct problem; none if the line would run over a pole.
    ///
    /// # Errors
    ///
    /// [`InvalidLength`] if the length is negative.
    pub fn leaving(
        from: Position,
        bearing: TrueBearing,
        length: Metres,
    ) -> Result<Option<Self>, InvalidLength> {
        let length_m = Metres::non_negative(length.metres())?.metres();
        Ok(along(from, bearing.degrees(), length_m).map(|to| Self {
            from,
            to,
            bearing_deg: bearing.degrees(),
            length_m,
        }))
    }

    /// Returns where it starts.
    #[must_use]
    pub fn from(&self) -> Position {
        self.from
    }

    /// Returns where it ends.
    #[must_use]
    pub fn to(&self) -> Position {
        self.to
    }

    /// Returns its length, in metres.
    #[must_use]
    pub fn length(&self) -> Metres {
        Metres::computed(self.length_m)
    }

    /// Returns its bearing, the same all the way.
    #[must_use]
    pub fn bearing(&self) -> TrueBearing {
        TrueBearing::wrapping(self.bearing_deg)
    }

    /// Returns the position at a share (0 to 1) of its length.
    pub(crate) fn at(&self, share: f64) -> Position {
        let start = if is_pole(self.from) {
            Position::new(self.from.latitude(), self.to.longitude())
        } else {
            self.from
        };
        along(start, self.bearing_deg, self.length_m * share).unwrap_or(self.to)
    }
}

fn is_pole(position: Position) -> bool {
    position.latitude().degrees().abs() >= 90.0
}

/// The short way round, in radians; zero if either end is a pole, which has every longitude.
fn longitude_difference_rad(from: Position, to: Position) -> f64 {
    if is_pole(from) || is_pole(to) {
        return 0.0;
    }
    wrap_degrees(to.longitude().degrees() - from.longitude().degrees()).to_radians()
}

fn along(from: Position, bearing_deg: f64, length_m: f64) -> Option<Position> {
    let (sin, cos) = bearing_deg.to_radians().sin_cos();
    let cos = if (bearing_deg.abs() - 90.0).abs() < f64::EPSILON || (bearing_deg - 270.0).abs() < f64::EPSILON
    {
        0.0
    } else {
        cos
    };
    let northing_m = length_m * cos;
    let lat1 = from.latitude().radians();
    let to_pole_m = meridian_to_pole_m(from, northing_m);
    if northing_m.abs() > to_pole_m {
        return None;
    }
    let toward_deg = if northing_m < 0.0 { 180.0 } else { 0.0 };
    let lat2 = direct(from, toward_deg, northing_m.abs()).latitude();
    let (meridian_m, isometric) = differences(lat1, lat2.radians());
    let d_lon = if northing_m.abs() < 1e-6 {
        length_m * sin / parallel_radius(lat1)
    } else if meridian_m == 0.0 {
        0.0
    } else {
        length_m * sin * (isometric / meridian_m)
    };
    let lon_deg = from.longitude().degrees() + if d_lon.is_finite() { d_lon.to_degrees() } else { 0.0 };
    Some(Position::new(lat2, Longitude::wrapping(lon_deg)))
}

fn meridian_to_pole_m(from: Position, northing_m: f64) -> f64 {
    let pole = Position::new(Latitude::computed(90.0_f64.copysign(northing_m)), from.longitude());
    inverse(from, pole).distance_m
}

/// Radius of the parallel of this latitude, in metres.
fn parallel_radius(lat_rad: f64) -> f64 {
    let (sin, cos) = lat_rad.sin_cos();
    EQUATORIAL_RADIUS_M * cos / (1.0 - ECCENTRICITY_2 * sin * sin).sqrt()
}

/// Differences between two latitudes of the meridian arc (metres) and of the isometric latitude (radians).
///
/// Close latitudes go through Gauss's quadrature of both integrals, so that their quotient keeps its digits on lines
/// that run almost along a parallel, where subtracting the closed forms would lose them.
fn differences(lat1: f64, lat2: f64) -> (f64, f64) {
    let to_pole = std::f64::consts::FRAC_PI_2 - lat1.abs().max(lat2.abs());
    if (lat2 - lat1).abs() <= (0.1 * to_pole).min(0.02) {
        return quadrature(lat1, lat2);
    }
    let meridian = Longitude::wrapping(0.0);
    let on_meridian =
        |lat: f64| Position::new(Latitude::computed(lat.to_degrees().clamp(-90.0, 90.0)), meridian);
    let arc_m = inverse(on_meridian(lat1), on_meridian(lat2)).distance_m;
    (arc_m.copysign(lat2 - lat1), isometric_latitude(lat2) - isometric_latitude(lat1))
}

/// Isometric latitude: ψ = asinh(tan φ) − e atanh(e sin φ); infinite at the poles.
fn isometric_latitude(lat_rad: f64) -> f64 {
    if lat_rad.abs() >= std::f64::consts::FRAC_PI_2 {
        return f64::INFINITY.copysign(lat_rad);
    }
    let e = ECCENTRICITY_2.sqrt();
    lat_rad.tan().asinh() - e * (e * lat_rad.sin()).atanh()
}

/// Nodes and weights of the five-point Gauss–Legendre rule on −1 to 1 (DLMF, table 3.5.2).
const GAUSS: [(f64, f64); 5] = [
    (-0.906_179_845_938_664, 0.236_926_885_056_189_1),
    (-0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
    (0.0, 0.568_888_888_888_888_9),
    (0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
    (0.906_179_845_938_664, 0.236_926_885_056_189_1),
];

fn quadrature(lat1: f64, lat2: f64) -> (f64, f64) {
    let (middle, half) = (lat1.midpoint(lat2), (lat2 - lat1) / 2.0);
    GAUSS.iter().fold((0.0, 0.0), |(arc, isometric), (node, weight)| {
        let (sin, cos) = (middle + half * node).sin_cos();
        let w2 = 1.0 - ECCENTRICITY_2 * sin * sin;
        let curvature_m = EQUATORIAL_RADIUS_M * (1.0 - ECCENTRICITY_2) / (w2 * w2.sqrt());
        let parallel_m = EQUATORIAL_RADIUS_M * cos / w2.sqrt();
        (arc + half * weight * curvature_m, isometric + half * weight * curvature_m / parallel_m)
    })
}
