//! Metres to the nearest edge as most people write it: the nearest edge in degrees, the nearest point of it on a sphere, and how
//! far that is on the ellipsoid.

use geo::{Closest, Coord, HaversineClosestPoint, Line, Point};
use geographiclib_rs::{Geodesic, InverseGeodesic};
use rstar::{AABB, PointDistance, RTree, RTreeObject};

/// All edges of all zones in one tree.
#[derive(Debug, Clone)]
pub(crate) struct DegreesTree {
    edges: RTree<DegreeEdge>,
    wgs_84: Geodesic,
}

#[derive(Debug, Clone)]
struct DegreeEdge(Line);

impl RTreeObject for DegreeEdge {
    type Envelope = AABB<[f64; 2]>;

    fn envelope(&self) -> Self::Envelope {
        AABB::from_corners([self.0.start.x, self.0.start.y], [self.0.end.x, self.0.end.y])
    }
}

impl PointDistance for DegreeEdge {
    fn distance_2(&self, point: &[f64; 2]) -> f64 {
        let way = self.0.end - self.0.start;
        let from = Coord { x: point[0], y: point[1] } - self.0.start;
        let share = ((from.x * way.x + from.y * way.y) / (way.x * way.x + way.y * way.y)).clamp(0.0, 1.0);
        let off = from - way * share;
        off.x * off.x + off.y * off.y
    }
}

impl DegreesTree {
    pub(crate) fn new(rings: &[Vec<Coord>]) -> Self {
        let edges_of = |ring: &Vec<Coord>| -> Vec<DegreeEdge> {
            ring.windows(2).map(|ends| DegreeEdge(Line::new(ends[0], ends[1]))).collect()
        };
        let edges = RTree::bulk_load(rings.iter().flat_map(edges_of).collect());
        Self { edges, wgs_84: Geodesic::wgs84() }
    }

    /// Metres from the nearest edge, as this way has it.
    pub(crate) fn away_m(&self, at: &Coord) -> f64 {
        let edge = self.edges.nearest_neighbor([at.x, at.y]).map(|edge| edge.0);
        let closest = edge.map(|edge| edge.haversine_closest_point(&Point::from(*at)));
        let foot = match closest {
            Some(Closest::SinglePoint(foot) | Closest::Intersection(foot)) => foot,
            Some(Closest::Indeterminate) | None => return f64::NAN,
        };
        self.wgs_84.inverse(at.y, at.x, foot.y(), foot.x())
    }
}
