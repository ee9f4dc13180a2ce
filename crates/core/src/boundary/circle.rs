//! Whole circles: exact where they stand alone, arcs of rings where they meet other parts.

use super::ring::{CleanRing, Edge, check_radius};
use super::{Arc, ArcSense, BoundaryFault, EdgeModel, PartSpec};
use crate::geodesic::{MEAN_RADIUS_M, Vector, area_of, direct, inverse, surface};
use crate::{Metres, Position};

/// Parts farther apart than this, in metres, do not touch.
const APART_M: f64 = 0.01;

/// A whole circle: the points at one geodesic distance from a centre.
#[derive(Debug, Clone, Copy)]
pub(super) struct Circle {
    pub(super) centre: Position,
    pub(super) radius_m: f64,
}

impl Circle {
    /// A circle that encloses something.
    pub(super) fn new(centre: Position, radius: Metres) -> Result<Self, BoundaryFault> {
        check_radius(radius.metres())?;
        Ok(Self { centre, radius_m: radius.metres() })
    }

    /// The circle as a ring of two arcs.
    pub(super) fn ring(&self) -> CleanRing {
        let ends = [0.0, 180.0].map(|bearing_deg| direct(self.centre, bearing_deg, self.radius_m));
        let model = EdgeModel::Arc(Arc {
            centre: self.centre,
            radius: Metres::computed(self.radius_m),
            sense: ArcSense::Counterclockwise,
        });
        let edge = |from: Position, to: Position, vertex: usize| Edge {
            from,
            to,
            model,
            vertex,
            side: 0,
            miss_m: 0.0,
        };
        CleanRing { edges: vec![edge(ends[0], ends[1], 0), edge(ends[1], ends[0], 1)] }
    }

    /// Whether a point of the surface, with all within a radius of it by straight lines, lies clear of the circle.
    fn is_clear_of(&self, centre: Vector, radius_m: f64) -> bool {
        (surface(self.centre).point - centre).norm() > self.radius_m + radius_m + APART_M
    }

    /// How far a position lies off the circle, in metres, negative inside.
    ///
    /// By Gauss's lemma geodesics from the centre meet the circle squarely, so the nearest point lies on the geodesic
    /// through centre and position, and the distance is exact.
    pub(super) fn signed_m(&self, position: Position) -> f64 {
        inverse(self.centre, position).distance_m - self.radius_m
    }

    /// The point of the circle that is nearest to a position.
    pub(super) fn rim(&self, position: Position) -> Position {
        direct(self.centre, inverse(self.centre, position).azimuth_start_deg, self.radius_m)
    }

    /// Area by the pieces of a 720-sided ring and the bulges between them; exact to 5e-9 of the area.
    pub(super) fn area_m2(&self) -> f64 {
        self.sampled().0
    }

    pub(super) fn perimeter_m(&self) -> f64 {
        self.sampled().1
    }

    fn sampled(&self) -> (f64, f64) {
        let sides = 720_u32;
        let at = |side: u32| direct(self.centre, f64::from(side) * 360.0 / f64::from(sides), self.radius_m);
        let polygon_m2 = area_of((0..sides).map(at)).abs();
        let polygon_m: f64 = (0..sides).map(|side| inverse(at(side), at(side + 1)).distance_m).sum();
        // the shares of a regular polygon in its circle, on a sphere: the sector is θ (1 − cos ρ), the excess ε of the
        // triangle has tan(ε/2) = t² sin θ / (1 + t² cos θ) with t = tan(ρ/2), and its outer side is 2 asin(sin ρ sin(θ/2))
        let (angle, reach) = (std::f64::consts::TAU / f64::from(sides), self.radius_m / MEAN_RADIUS_M);
        let t_2 = (reach / 2.0).tan().powi(2);
        let triangle = 2.0 * (t_2 * angle.sin()).atan2(1.0 + t_2 * angle.cos());
        let sector = angle * 2.0 * (reach / 2.0).sin().powi(2);
        let side = 2.0 * (reach.sin() * (angle / 2.0).sin()).asin();
        (polygon_m2 * sector / triangle, polygon_m * angle * reach.sin() / side)
    }
}

/// For each circle among the parts whether it lies clear of all other parts, so that its exact distance stands.
pub(super) fn alone(parts: &[PartSpec]) -> Vec<bool> {
    let reaches: Vec<(Vector, f64)> = parts.iter().map(reach_of).collect();
    let is_alone = |at: usize, part: &PartSpec| {
        let PartSpec::Circle { centre, radius } = part else { return false };
        let circle = Circle { centre: *centre, radius_m: radius.metres() };
        reaches
            .iter()
            .enumerate()
            .all(|(other, (centre, radius_m))| other == at || circle.is_clear_of(*centre, *radius_m))
    };
    if !parts.iter().any(|part| matches!(part, PartSpec::Circle { .. })) {
        return vec![false; parts.len()];
    }
    parts.iter().enumerate().map(|(at, part)| is_alone(at, part)).collect()
}

/// A point and a radius that hold a part. No edge strays farther from its ends than it is long, or than an arc's circle is wide.
fn reach_of(part: &PartSpec) -> (Vector, f64) {
    match part {
        PartSpec::Circle { centre, radius } => (surface(*centre).point, radius.metres()),
        PartSpec::Polygon { exterior, .. } => {
            let points: Vec<Vector> = exterior.vertices.iter().map(|vertex| surface(*vertex).point).collect();
            let Some(first) = points.first() else { return (Vector::default(), 0.0) };
            let farthest_m = points.iter().map(|point| (*point - *first).norm()).fold(0.0, f64::max);
            let models = exterior.edges.iter().zip(points.iter().zip(points.iter().cycle().skip(1)));
            let strays_m = models
                .map(|(model, (from, to))| match model {
                    EdgeModel::Arc(arc) => 2.2 * arc.radius.metres() + 200.0,
                    EdgeModel::Geodesic
                    | EdgeModel::RhumbLine
                    | EdgeModel::PlateCarree
                    | EdgeModel::Unstated => 2.0 * (*to - *from).norm(),
                })
                .fold(0.0, f64::max);
            (*first, farthest_m + strays_m)
        }
    }
}
