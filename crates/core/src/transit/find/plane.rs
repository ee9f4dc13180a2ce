//! A plane about the launch: distance and bearing from the launch are those of the geodesic (azimuthal equidistant).

use crate::Position;
use crate::geodesic::{direct, inverse};

/// Mean radius of the Earth, in metres (IUGG).
const MEAN_RADIUS_M: f64 = 6_371_008.8;

/// The plane.
#[derive(Debug, Clone, Copy)]
pub(super) struct Plane {
    origin: Position,
}

/// A point of the plane, or the way from one to another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Point {
    pub(super) east_m: f64,
    pub(super) north_m: f64,
}

impl Plane {
    pub(super) fn about(origin: Position) -> Self {
        Self { origin }
    }

    pub(super) fn point(self, position: Position) -> Point {
        let spoke = inverse(self.origin, position);
        let (sin, cos) = spoke.azimuth_start_deg.to_radians().sin_cos();
        Point { east_m: spoke.distance_m * sin, north_m: spoke.distance_m * cos }
    }

    pub(super) fn position(self, point: Point) -> Position {
        direct(self.origin, point.east_m.atan2(point.north_m).to_degrees(), point.norm_m())
    }
}

/// How far the plane may put a distance between two points, or a point off a geodesic, where both lie within `reach_m` of
/// the launch: a sphere stretches a length there by up to d²/6R² of itself, and the length is at most 2d.
pub(super) fn plane_error_m(reach_m: f64) -> f64 {
    reach_m * reach_m * reach_m / (3.0 * MEAN_RADIUS_M * MEAN_RADIUS_M)
}

impl Point {
    pub(super) const ORIGIN: Self = Self { east_m: 0.0, north_m: 0.0 };

    pub(super) fn minus(self, other: Self) -> Self {
        Self { east_m: self.east_m - other.east_m, north_m: self.north_m - other.north_m }
    }

    /// The point so many times `way` farther.
    pub(super) fn plus(self, way: Self, times: f64) -> Self {
        Self { east_m: self.east_m + times * way.east_m, north_m: self.north_m + times * way.north_m }
    }

    pub(super) fn dot(self, other: Self) -> f64 {
        self.east_m * other.east_m + self.north_m * other.north_m
    }

    /// Above zero if `other` points to the left of this way.
    pub(super) fn cross(self, other: Self) -> f64 {
        self.east_m * other.north_m - self.north_m * other.east_m
    }

    pub(super) fn norm_m(self) -> f64 {
        self.east_m.hypot(self.north_m)
    }

    /// This way, one metre long; no way if it has no length.
    pub(super) fn unit(self) -> Self {
        let length_m = self.norm_m();
        if length_m > 0.0 { Self::ORIGIN.plus(self, 1.0 / length_m) } else { Self::ORIGIN }
    }

    /// Square to the right of this way.
    pub(super) fn to_the_right(self) -> Self {
        Self { east_m: self.north_m, north_m: -self.east_m }
    }

    /// Clockwise from north, −180 to 180.
    pub(super) fn bearing_deg(self) -> f64 {
        self.east_m.atan2(self.north_m).to_degrees()
    }
}

/// The part, as shares of the way from `from` to `to`, that lies within `radius_m` of the origin.
pub(super) fn within_circle(from: Point, to: Point, radius_m: f64) -> Option<(f64, f64)> {
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
