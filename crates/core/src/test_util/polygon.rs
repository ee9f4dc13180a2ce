use super::Chance;
use crate::angle::wrap_degrees;
use crate::geodesic::{area_of, direct, inverse};
use crate::{EdgeModel, PartSpec, Position, RhumbLine, RingSpec};

/// Lines that are straight in one of the planes in which edges are: a ring of them that bulges outwards everywhere stays
/// so when it is cut along another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Straight {
    Geodesic,
    Rhumb,
    PlateCarree,
}

impl Straight {
    pub(super) const ALL: [Self; 3] = [Self::Geodesic, Self::Rhumb, Self::PlateCarree];

    pub(super) fn between(self, from: Position, to: Position, share: f64) -> Position {
        match self {
            // the vertex itself, not one that rounding has put beside it
            _ if share <= 0.0 => from,
            Self::Geodesic => {
                let line = inverse(from, to);
                direct(from, line.azimuth_start_deg, line.distance_m * share)
            }
            Self::Rhumb => RhumbLine::between(from, to).at(share),
            Self::PlateCarree => {
                let (lat, lon) = (from.latitude().degrees(), from.longitude().degrees());
                let d_lat = to.latitude().degrees() - lat;
                let d_lon = wrap_degrees(to.longitude().degrees() - lon);
                let lon = wrap_degrees(lon + d_lon * share);
                Position::from_degrees(lat + d_lat * share, lon).unwrap_or(from)
            }
        }
    }

    /// A model under which an edge runs along this line: on a meridian and on the equator any does, on a parallel two.
    fn model(self, from: Position, to: Position, chance: &mut Chance) -> EdgeModel {
        let d_lon = wrap_degrees(to.longitude().degrees() - from.longitude().degrees());
        let (from_lat, to_lat) = (from.latitude().degrees(), to.latitude().degrees());
        let is_meridian = d_lon == 0.0;
        let is_equator = from_lat == 0.0 && to_lat == 0.0;
        let is_parallel = (from_lat - to_lat).abs() == 0.0;
        let any = [EdgeModel::Geodesic, EdgeModel::RhumbLine, EdgeModel::PlateCarree];
        match self {
            _ if is_meridian || is_equator => any[chance.below(3)],
            Self::Geodesic => EdgeModel::Geodesic,
            Self::Rhumb | Self::PlateCarree if is_parallel => any[1 + chance.below(2)],
            Self::Rhumb => EdgeModel::RhumbLine,
            Self::PlateCarree => EdgeModel::PlateCarree,
        }
    }
}

/// A ring that bulges outwards everywhere, counter-clockwise.
#[derive(Debug, Clone)]
pub(super) struct Convex {
    pub(super) straight: Straight,
    pub(super) vertices: Vec<Position>,
}

impl Convex {
    /// Vertices at drawn bearings, all as far from a centre.
    pub(super) fn about(centre: Position, radius_m: f64, straight: Straight, chance: &mut Chance) -> Self {
        let count = 3 + chance.below(7);
        let step_deg = 360.0 / f64::from(u32::try_from(count).unwrap_or(3));
        let turn_deg = chance.between(0.0, 360.0);
        let mut bearing_deg = turn_deg;
        let vertices = (0..count)
            .map(|_| {
                let vertex = direct(centre, -(bearing_deg + chance.between(0.0, 0.7 * step_deg)), radius_m);
                bearing_deg += step_deg;
                vertex
            })
            .collect();
        Self { straight, vertices }
    }

    /// The corners of a box of parallels and meridians.
    pub(super) fn parallels_and_meridians(south_west: Position, size_deg: [f64; 2]) -> Option<Self> {
        let (lat, lon) = (south_west.latitude().degrees(), south_west.longitude().degrees());
        let corner = |north: f64, east: f64| {
            Position::from_degrees(lat + north * size_deg[0], wrap_degrees(lon + east * size_deg[1])).ok()
        };
        let vertices = [corner(0.0, 0.0), corner(0.0, 1.0), corner(1.0, 1.0), corner(1.0, 0.0)];
        let vertices = vertices.into_iter().collect::<Option<Vec<_>>>()?;
        Some(Self { straight: Straight::PlateCarree, vertices })
    }

    fn edge(&self, at: usize) -> (Position, Position) {
        (self.vertices[at], self.vertices[(at + 1) % self.vertices.len()])
    }

    pub(super) fn on_edge(&self, at: usize, share: f64) -> Position {
        let (from, to) = self.edge(at);
        self.straight.between(from, to, share)
    }

    /// Whether it is so large that no zone of it is refused as a speck.
    pub(super) fn is_ample(&self) -> bool {
        self.vertices.len() > 2 && area_of(self.vertices.iter().copied()).abs() > 20.0
    }

    /// Cuts it in two from one edge to another.
    pub(super) fn halves(&self, chance: &mut Chance) -> [Self; 2] {
        let count = self.vertices.len();
        let one = chance.below(count);
        let other = (one + 1 + chance.below(count - 1)) % count;
        let (one, other) = (one.min(other), one.max(other));
        // now and then from a vertex
        let mut share = || if chance.one_in(5) { 0.0 } else { chance.between(0.15, 0.85) };
        let (first, second) = (share(), share());
        let [start, end] = [self.on_edge(one, first), self.on_edge(other, second)];
        let mut inner = vec![start];
        inner.extend(&self.vertices[one + 1..=other]);
        inner.push(end);
        let mut outer = vec![end];
        outer.extend((other + 1..=one + count).map(|at| self.vertices[at % count]));
        outer.push(start);
        [inner, outer].map(|mut vertices| {
            vertices.dedup();
            if vertices.first() == vertices.last() {
                vertices.pop();
            }
            Self { straight: self.straight, vertices }
        })
    }

    /// A smaller one whose vertices lie on its edges.
    pub(super) fn inscribed(&self, chance: &mut Chance) -> Self {
        let mut vertices = Vec::new();
        for at in 0..self.vertices.len() {
            match chance.below(4) {
                // not all of them, or nothing would be cut off
                0 | 1 if at > 0 => vertices.push(self.vertices[at]),
                2 => vertices.extend([self.on_edge(at, 0.25), self.on_edge(at, 0.75)]),
                _ => vertices.push(self.on_edge(at, chance.between(0.2, 0.8))),
            }
        }
        Self { straight: self.straight, vertices }
    }

    /// A smaller one that touches none of its edges.
    pub(super) fn shrunk(&self, share: f64) -> Self {
        let middle = self.middle();
        let vertices =
            self.vertices.iter().map(|vertex| self.straight.between(middle, *vertex, share)).collect();
        Self { straight: self.straight, vertices }
    }

    /// A place well inside.
    pub(super) fn middle(&self) -> Position {
        let count = self.vertices.len();
        let across = self.straight.between(self.vertices[0], self.vertices[count / 2], 0.5);
        let beside = self.straight.between(self.vertices[count / 2 - 1], self.vertices[count - 1], 0.5);
        self.straight.between(across, beside, 0.5)
    }

    /// As it stands.
    pub(super) fn ring(&self, chance: &mut Chance) -> RingSpec {
        let edges = (0..self.vertices.len())
            .map(|at| {
                let (from, to) = self.edge(at);
                self.straight.model(from, to, chance)
            })
            .collect();
        RingSpec { vertices: self.vertices.clone(), edges, sides: Vec::new() }
    }

    /// With more vertices on its edges, begun at any of them, walked either way, and with a slit now and then.
    pub(super) fn nasty_ring(&self, chance: &mut Chance) -> RingSpec {
        let has_slit = chance.one_in(4);
        self.nasty_ring_with(has_slit, chance)
    }

    /// The same with or without a slit: one into a hole would cross it.
    pub(super) fn nasty_ring_with(&self, has_slit: bool, chance: &mut Chance) -> RingSpec {
        let mut nasty = Self { straight: self.straight, vertices: Vec::new() };
        for at in 0..self.vertices.len() {
            nasty.vertices.push(self.vertices[at]);
            let mut share = 0.0;
            while chance.one_in(3) {
                share = chance.between(share, 1.0);
                if share < 0.95 {
                    nasty.vertices.push(self.on_edge(at, share));
                }
            }
        }
        nasty.vertices.dedup();
        if has_slit {
            nasty.slit(self.middle(), chance);
        }
        let turn = chance.below(nasty.vertices.len());
        nasty.vertices.rotate_left(turn);
        if chance.one_in(2) {
            nasty.vertices.reverse();
        }
        nasty.ring(chance)
    }

    /// Goes from a vertex inwards and back, with a vertex on one of the two ways.
    fn slit(&mut self, middle: Position, chance: &mut Chance) {
        let at = chance.below(self.vertices.len());
        let from = self.vertices[at];
        let on_way = |share: f64| self.straight.between(from, middle, share);
        let tip = on_way(0.9);
        let between = self.straight.between(from, tip, chance.between(0.2, 0.8));
        let slit =
            if chance.one_in(2) { [between, tip, from].to_vec() } else { [tip, between, from].to_vec() };
        self.vertices.splice(at + 1..=at, slit);
    }

    pub(super) fn part(&self, chance: &mut Chance) -> PartSpec {
        PartSpec::Polygon { exterior: self.nasty_ring(chance), holes: vec![] }
    }
}
