//! A plane about a place: distance and bearing from there are those of the geodesic (azimuthal equidistant).

use crate::Position;
use crate::angle::wrap_degrees;
use crate::geodesic::{MEAN_RADIUS_M, direct, inverse};

/// The plane.
#[derive(Debug, Clone, Copy)]
pub(in crate::transit) struct Plane {
    origin: Position,
}

/// A point of the plane, or the way from one to another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::transit) struct Point {
    pub(in crate::transit) east_m: f64,
    pub(in crate::transit) north_m: f64,
}

impl Plane {
    pub(in crate::transit) fn about(origin: Position) -> Self {
        Self { origin }
    }

    pub(in crate::transit) fn point(self, position: Position) -> Point {
        let spoke = inverse(self.origin, position);
        let (sin, cos) = spoke.azimuth_start_deg.to_radians().sin_cos();
        Point { east_m: spoke.distance_m * sin, north_m: spoke.distance_m * cos }
    }

    /// How much farther to the right true north is at a point than at the origin, in degrees.
    pub(in crate::transit) fn north_deg(self, point: Point) -> f64 {
        let away = inverse(self.origin, self.position(point));
        wrap_degrees(away.azimuth_start_deg - away.azimuth_end_deg)
    }

    pub(in crate::transit) fn position(self, point: Point) -> Position {
        direct(self.origin, point.east_m.atan2(point.north_m).to_degrees(), point.norm_m())
    }
}

/// How far the plane may put a distance between two points, or a point off a geodesic, where both lie within `reach_m` of
/// the origin: a sphere stretches a length there by up to d²/6R² of itself, and the length is at most 2d.
pub(in crate::transit) fn plane_error_m(reach_m: f64) -> f64 {
    reach_m * reach_m * reach_m / (3.0 * MEAN_RADIUS_M * MEAN_RADIUS_M)
}

impl From<[f64; 2]> for Point {
    /// From metres east and north.
    fn from([east_m, north_m]: [f64; 2]) -> Self {
        Self { east_m, north_m }
    }
}

impl From<Point> for [f64; 2] {
    fn from(point: Point) -> Self {
        [point.east_m, point.north_m]
    }
}

impl Point {
    pub(in crate::transit) const ORIGIN: Self = Self { east_m: 0.0, north_m: 0.0 };

    pub(in crate::transit) fn minus(self, other: Self) -> Self {
        Self { east_m: self.east_m - other.east_m, north_m: self.north_m - other.north_m }
    }

    /// The point so many times `way` farther.
    pub(in crate::transit) fn plus(self, way: Self, times: f64) -> Self {
        Self { east_m: self.east_m + times * way.east_m, north_m: self.north_m + times * way.north_m }
    }

    pub(in crate::transit) fn dot(self, other: Self) -> f64 {
        self.east_m * other.east_m + self.north_m * other.north_m
    }

    /// Above zero if `other` points to the left of this way.
    pub(in crate::transit) fn cross(self, other: Self) -> f64 {
        self.east_m * other.north_m - self.north_m * other.east_m
    }

    pub(in crate::transit) fn norm_m(self) -> f64 {
        self.east_m.hypot(self.north_m)
    }

    /// This way, one metre long; no way if it has no length.
    pub(in crate::transit) fn unit(self) -> Self {
        let length_m = self.norm_m();
        if length_m > 0.0 { Self::ORIGIN.plus(self, 1.0 / length_m) } else { Self::ORIGIN }
    }

    /// Square to the right of this way.
    pub(in crate::transit) fn to_the_right(self) -> Self {
        Self { east_m: self.north_m, north_m: -self.east_m }
    }

    /// Clockwise from north, −180 to 180.
    pub(in crate::transit) fn bearing_deg(self) -> f64 {
        self.east_m.atan2(self.north_m).to_degrees()
    }
}

/// The part, as shares of the way from `from` to `to`, that lies within `radius_m` of the origin.
pub(in crate::transit) fn within_circle(from: Point, to: Point, radius_m: f64) -> Option<(f64, f64)> {
    let way = to.minus(from);
    let (a, b) = (way.dot(way), from.dot(way));
    let c = from.dot(from) - radius_m * radius_m;
    let discriminant = b * b - a * c;
    if a <= 0.0 || discriminant <= 0.0 {
        return None;
    }
    let root = discriminant.sqrt();
    let (enters, leaves) = (((-b - root) / a).max(0.0), ((-b + root) / a).min(1.0));
    (enters < leaves).then_some((enters, leaves))
}
