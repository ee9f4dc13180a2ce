//! From a ring as given to a cycle of pieces that has the zone on its left.

use super::edge::{Curve, EdgeReading, reading_gap_m};
use super::piece::{Piece, cut};
use super::{BoundaryFault, EdgeModel, RingSpec};
use crate::Position;
use crate::geodesic::{area_of, from_earth_centred, inverse};

/// An edge of a cleaned ring, in the order given.
#[derive(Debug, Clone, Copy)]
pub(super) struct Edge {
    pub(super) from: Position,
    pub(super) to: Position,
    pub(super) model: EdgeModel,
    /// Which vertex, as given, it leaves.
    pub(super) vertex: usize,
}

/// A ring without repeated vertices.
#[derive(Debug, Clone)]
pub(super) struct CleanRing {
    pub(super) edges: Vec<Edge>,
}

/// Where a fault lies in a ring: a vertex as given, if it has one.
pub(super) type RingFault = (Option<usize>, BoundaryFault);

/// Whether two positions are one point: poles have every longitude, and 180° is −180°.
pub(super) fn same_point(a: Position, b: Position) -> bool {
    point_key(a) == point_key(b)
}

/// A key that two positions share exactly when they are one point.
pub(super) fn point_key(position: Position) -> (u64, u64) {
    let lat = position.latitude().degrees() + 0.0;
    let lon = position.longitude().degrees() + 0.0;
    let lon = if lat.abs() >= 90.0 {
        0.0
    } else if lon <= -180.0 {
        180.0
    } else {
        lon
    };
    (lat.to_bits(), lon.to_bits())
}

impl CleanRing {
    /// Drops the repeated closing vertex and repeated neighbours, and pairs vertices with edges.
    pub(super) fn new(spec: &RingSpec) -> Result<Self, RingFault> {
        let mut vertices: Vec<(usize, Position)> = spec.vertices.iter().copied().enumerate().collect();
        if vertices.len() > 1 && same_point(vertices[0].1, vertices[vertices.len() - 1].1) {
            vertices.pop();
        }
        let count = vertices.len();
        if spec.edges.len() != count && spec.edges.len() != spec.vertices.len() {
            return Err((None, BoundaryFault::EdgeCount { edges: spec.edges.len(), vertices: count }));
        }
        let mut edges = Vec::with_capacity(count);
        for (at, (vertex, from)) in vertices.iter().enumerate() {
            let to = vertices[(at + 1) % count].1;
            if !same_point(*from, to) {
                edges.push(Edge { from: *from, to, model: spec.edges[at], vertex: *vertex });
            }
        }
        let least = if edges.iter().any(|edge| matches!(edge.model, EdgeModel::Arc(_))) { 2 } else { 3 };
        if edges.len() < least {
            return Err((None, BoundaryFault::TooFewVertices(edges.len().max(1))));
        }
        Ok(Self { edges })
    }

    /// Adds a vertex on edge number `at`, at a point of it.
    pub(super) fn split(&mut self, at: usize, point: Position) {
        let first = self.edges[at];
        self.edges[at].to = point;
        self.edges.insert(at + 1, Edge { from: point, ..first });
    }

    /// The largest gap between the readings of its unstated edges, in metres.
    pub(super) fn reading_gap_m(&self) -> Result<f64, RingFault> {
        let mut largest_m: f64 = 0.0;
        for edge in self.edges.iter().filter(|edge| edge.model == EdgeModel::Unstated) {
            let gap_m = reading_gap_m(edge.from, edge.to).map_err(|fault| (Some(edge.vertex), fault))?;
            largest_m = largest_m.max(gap_m);
        }
        Ok(largest_m)
    }

    /// Cuts every edge into pieces; the pieces' edge numbers count from `first_edge`.
    pub(super) fn pieces(&self, reading: EdgeReading, first_edge: u32) -> Result<CutRing, RingFault> {
        let mut pieces = Vec::with_capacity(self.edges.len());
        let mut misfits_m = Vec::with_capacity(self.edges.len());
        let mut number = first_edge;
        for edge in &self.edges {
            let curve = Curve::new(edge.from, edge.to, edge.model, reading)
                .map_err(|fault| (Some(edge.vertex), fault))?;
            misfits_m.push(curve.misfit_m(edge.model));
            pieces.append(&mut cut(&curve, number));
            number += 1;
        }
        Ok(CutRing { pieces, misfits_m })
    }
}

/// The pieces of a ring in order, and how far each edge misses its printed circle.
#[derive(Debug, Clone)]
pub(super) struct CutRing {
    pub(super) pieces: Vec<Piece>,
    pub(super) misfits_m: Vec<f64>,
}

impl CutRing {
    /// Signed area in square metres; positive with the smaller side on the left.
    pub(super) fn area_m2(&self) -> f64 {
        let polygon_m2 = area_of(self.pieces.iter().map(|piece| from_earth_centred(piece.start)));
        // a parabola that leaves its chord by b over a length L takes 2/3 b L from the left
        let bulges_m2: f64 = self.pieces.iter().map(|piece| 2.0 / 3.0 * piece.bulge_m * piece.length_m).sum();
        polygon_m2 - bulges_m2
    }

    /// Length of the ring in metres.
    pub(super) fn perimeter_m(&self) -> f64 {
        self.pieces.iter().map(piece_length_m).sum()
    }

    /// The same ring walked the other way.
    pub(super) fn reverse(&mut self) {
        self.pieces.reverse();
        for piece in &mut self.pieces {
            *piece = piece.reversed();
        }
    }
}

/// Length of a piece along its curve: the geodesic between its ends, and what a parabola adds to its chord.
pub(super) fn piece_length_m(piece: &Piece) -> f64 {
    let straight_m = inverse(from_earth_centred(piece.start), from_earth_centred(piece.end)).distance_m;
    straight_m + 8.0 / 3.0 * piece.bulge_m * piece.bulge_m / piece.length_m
}
