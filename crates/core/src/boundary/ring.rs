//! From a ring as given to a cycle of pieces that has the zone on its left.

use super::edge::{Curve, EdgeReading, reading_gap_m};
use super::piece::{LONGEST_PIECE_M, Piece, cut};
use super::{BoundaryFault, EdgeModel, RingSpec};
use crate::Position;
use crate::geodesic::{Vector, area_of, from_earth_centred, surface};

/// An edge of a cleaned ring, in the order given.
#[derive(Debug, Clone, Copy)]
pub(super) struct Edge {
    pub(super) from: Position,
    pub(super) to: Position,
    pub(super) model: EdgeModel,
    /// Which vertex, as given, it leaves.
    pub(super) vertex: usize,
}

impl Edge {
    /// The one piece of a geodesic edge that needs no cutting; `ends` remembers the end of the edge before.
    fn short_geodesic(&self, reading: EdgeReading, number: u32, ends: &mut Ends) -> Option<Piece> {
        let geodesic = match self.model {
            EdgeModel::Geodesic => true,
            EdgeModel::Unstated => reading == EdgeReading::Geodesic,
            EdgeModel::RhumbLine | EdgeModel::PlateCarree | EdgeModel::Arc(_) => false,
        };
        if !geodesic {
            return None;
        }
        let piece = Piece::between_points(ends.point(self.from), ends.point(self.to), number)?;
        (piece.length_m <= LONGEST_PIECE_M).then_some(piece)
    }
}

/// The place last asked for in earth-centred axes: where an edge ends the next one begins.
#[derive(Debug, Default)]
struct Ends {
    last: Option<(Position, Vector)>,
}

impl Ends {
    fn point(&mut self, position: Position) -> Vector {
        match self.last {
            Some((last, point)) if last == position => point,
            _ => {
                let point = surface(position).point;
                self.last = Some((position, point));
                point
            }
        }
    }
}

/// A ring without repeated vertices.
#[derive(Debug, Clone)]
pub(super) struct CleanRing {
    pub(super) edges: Vec<Edge>,
}

/// Rings that reach less far than this from their first vertex, in metres, are turned by their chords alone: the flat
/// sum then keeps the sign and 98 % of the area.
const LARGEST_FLAT_M: f64 = 500_000.0;

/// More pieces than these are refused: some 2 km each, they take a kilobyte each while a zone is loaded.
pub(super) const MOST_PIECES: usize = 1_000_000;
pub(super) const TOO_LONG: BoundaryFault = BoundaryFault::TooLong { longest_km: 2 * MOST_PIECES };

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
            return Err((
                None,
                BoundaryFault::TooFewVertices(if spec.vertices.is_empty() { 0 } else { edges.len().max(1) }),
            ));
        }
        Ok(Self { edges })
    }

    /// The largest gap between the readings of its unstated edges, in metres.
    pub(super) fn reading_gap_m(&self, small_m: f64) -> Result<f64, RingFault> {
        let mut largest_m: f64 = 0.0;
        for edge in self.edges.iter().filter(|edge| edge.model == EdgeModel::Unstated) {
            let gap_m =
                reading_gap_m(edge.from, edge.to, small_m).map_err(|fault| (Some(edge.vertex), fault))?;
            largest_m = largest_m.max(gap_m);
        }
        Ok(largest_m)
    }

    /// Cuts every edge into pieces; the pieces' edge numbers count from `first_edge`.
    pub(super) fn pieces(&self, reading: EdgeReading, first_edge: u32) -> Result<CutRing, RingFault> {
        let mut pieces = Vec::with_capacity(self.edges.len());
        let mut closure_errors_m = Vec::with_capacity(self.edges.len());
        let mut ends = Ends::default();
        for (number, edge) in (first_edge..).zip(&self.edges) {
            if let Some(piece) = edge.short_geodesic(reading, number, &mut ends) {
                closure_errors_m.push(0.0);
                pieces.push(piece);
            } else {
                let curve = Curve::new(edge.from, edge.to, edge.model, reading)
                    .map_err(|fault| (Some(edge.vertex), fault))?;
                closure_errors_m.push(curve.closure_error_m(edge.model));
                pieces.append(&mut cut(&curve, number));
            }
            if pieces.len() > MOST_PIECES {
                return Err((Some(edge.vertex), TOO_LONG));
            }
        }
        Ok(CutRing { pieces, closure_errors_m })
    }
}

/// The pieces of a ring in order, and how far each edge misses its printed circle.
#[derive(Debug, Clone)]
pub(super) struct CutRing {
    pub(super) pieces: Vec<Piece>,
    pub(super) closure_errors_m: Vec<f64>,
}

impl CutRing {
    /// Area in square metres, positive with the smaller side on the left; none if the ring encloses none.
    ///
    /// A small ring is flat enough for the sum of its chords' cross products, which has the sign and almost the size
    /// of its area; a large one needs the area itself.
    pub(super) fn signed_area_m2(&self) -> Option<f64> {
        let start = self.pieces.first()?.start;
        let spokes = self.pieces.iter().map(|piece| (piece.start - start, piece.end - start));
        let span_m = spokes.clone().map(|(_, to)| to.norm()).fold(0.0, f64::max);
        let area_m2 = if span_m < LARGEST_FLAT_M {
            let twice =
                spokes.map(|(from, to)| from.cross(to)).fold(Vector::default(), |sum, next| sum + next);
            twice.dot(start.unit()) / 2.0 - self.bulges_m2()
        } else {
            self.area_m2()
        };
        (area_m2.abs() >= 1e-5 * self.perimeter_m()).then_some(area_m2)
    }

    /// Signed area in square metres; positive with the smaller side on the left.
    pub(super) fn area_m2(&self) -> f64 {
        let polygon_m2 = area_of(self.pieces.iter().map(|piece| from_earth_centred(piece.start)));
        polygon_m2 - self.bulges_m2()
    }

    /// A parabola that leaves its chord by b over a length L takes 2/3 b L from the left.
    fn bulges_m2(&self) -> f64 {
        self.pieces.iter().map(|piece| 2.0 / 3.0 * piece.bulge_m * piece.length_m).sum()
    }

    /// Its pieces that miss what they stand for, with how far, if its edges count from `first_edge`.
    pub(super) fn inexact(&self, first_edge: u32) -> impl Iterator<Item = (Piece, f64)> {
        let closure_error_m = move |piece: &Piece| {
            let edge = piece.edge.checked_sub(first_edge)?;
            self.closure_errors_m.get(edge as usize).copied().filter(|closure_error_m| *closure_error_m > 0.0)
        };
        self.pieces.iter().filter_map(move |piece| Some((*piece, closure_error_m(piece)?)))
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

/// Length of a piece along its curve: what the rise of the surface and the bulge of the curve, both parabolas to well
/// under a micrometre at this length, add to the chord.
fn piece_length_m(piece: &Piece) -> f64 {
    let swell_2 = piece.bulge_m * piece.bulge_m + piece.rise_m * piece.rise_m;
    piece.length_m + 8.0 / 3.0 * swell_2 / piece.length_m
}
