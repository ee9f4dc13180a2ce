//! From a ring as given to a cycle of pieces that has the zone on its left.

use super::piece::{LONGEST_PIECE_M, Piece, cut};
use super::side::SideTable;
use super::{Arc, ArcSense, BoundaryFault, EdgeModel, RingSpec};
use crate::angle::wrap_degrees;
use crate::geodesic::{EQUATORIAL_RADIUS_M, Vector, area_of, direct, from_earth_centred, inverse, surface};
use crate::{Latitude, Longitude, Position, RhumbLine, TrueBearing};

/// An edge of a cleaned ring, in the order given.
#[derive(Debug, Clone, Copy)]
pub(super) struct Edge {
    pub(super) from: Position,
    pub(super) to: Position,
    pub(super) model: EdgeModel,
    /// Which vertex, as given, it leaves.
    pub(super) vertex: usize,
    /// The number of its side.
    pub(super) side: u32,
    /// How far it may be off for what it is, in metres.
    pub(super) miss_m: f64,
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
    pub(super) fn new(spec: &RingSpec, sides: &mut SideTable) -> Result<Self, RingFault> {
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
                let (side, miss_m) = spec.sides.get(at).map_or((0, 0.0), |side| {
                    (sides.number(side), side.miss_m(|| inverse(*from, to).distance_m))
                });
                edges.push(Edge { from: *from, to, model: spec.edges[at], vertex: *vertex, side, miss_m });
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
                closure_errors_m.push(edge.miss_m);
                pieces.push(piece);
            } else {
                let curve = Curve::new(edge.from, edge.to, edge.model, reading)
                    .map_err(|fault| (Some(edge.vertex), fault))?;
                closure_errors_m.push(curve.closure_error_m(edge.model) + edge.miss_m);
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

/// How the straight readings of an unstated edge are told apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum EdgeReading {
    /// Unstated edges read as geodesics.
    Geodesic,
    /// Unstated edges read as rhumb lines.
    RhumbLine,
    /// Unstated edges read as straight in longitude and latitude.
    PlateCarree,
}

impl EdgeReading {
    pub(super) const ALL: [Self; 3] = [Self::Geodesic, Self::RhumbLine, Self::PlateCarree];

    fn model(self) -> EdgeModel {
        match self {
            Self::Geodesic => EdgeModel::Geodesic,
            Self::RhumbLine => EdgeModel::RhumbLine,
            Self::PlateCarree => EdgeModel::PlateCarree,
        }
    }
}

/// An edge with its model settled, ready to give positions along it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Curve {
    from: Position,
    to: Position,
    shape: Shape,
}

#[derive(Debug, Clone, Copy)]
enum Shape {
    Geodesic { azimuth_deg: f64, length_m: f64 },
    Rhumb(RhumbLine),
    PlateCarree { d_lat_deg: f64, d_lon_deg: f64 },
    Arc { centre: Position, start_deg: f64, sweep_deg: f64, start_m: f64, end_m: f64 },
}

/// Beyond this length, half the Earth less 1 %, the direction of a geodesic hangs on the last digits of its ends.
const LONGEST_GEODESIC_M: f64 = 19_800_000.0;
/// Largest radius read, in metres; about an eighth of the Earth's girth.
const LARGEST_CIRCLE_M: f64 = 5_000_000.0;

impl Curve {
    /// Settles the model of an edge; an unstated one is read as `reading` says.
    pub(super) fn new(
        from: Position,
        to: Position,
        model: EdgeModel,
        reading: EdgeReading,
    ) -> Result<Self, BoundaryFault> {
        let shape = match model {
            EdgeModel::Unstated => return Self::new(from, to, reading.model(), reading),
            EdgeModel::Geodesic => geodesic(from, to)?,
            EdgeModel::RhumbLine => {
                refuse_half_turn(from, to)?;
                Shape::Rhumb(RhumbLine::between(from, to))
            }
            EdgeModel::PlateCarree => {
                refuse_half_turn(from, to)?;
                Shape::PlateCarree {
                    d_lat_deg: to.latitude().degrees() - from.latitude().degrees(),
                    d_lon_deg: wrap_degrees(to.longitude().degrees() - from.longitude().degrees()),
                }
            }
            EdgeModel::Arc(arc) => arc_shape(from, to, arc)?,
        };
        Ok(Self { from, to, shape })
    }

    /// The position at a share of the way; 0 and 1 are the vertices themselves.
    pub(super) fn at(&self, share: f64) -> Position {
        if share <= 0.0 {
            return self.from;
        }
        if share >= 1.0 {
            return self.to;
        }
        match self.shape {
            Shape::Geodesic { azimuth_deg, length_m } => direct(self.from, azimuth_deg, length_m * share),
            Shape::Rhumb(line) => line.at(share),
            Shape::PlateCarree { d_lat_deg, d_lon_deg } => Position::new(
                Latitude::computed(self.from.latitude().degrees() + d_lat_deg * share),
                Longitude::wrapping(self.from.longitude().degrees() + d_lon_deg * share),
            ),
            Shape::Arc { centre, start_deg, sweep_deg, start_m, end_m } => {
                direct(centre, start_deg + sweep_deg * share, start_m + (end_m - start_m) * share)
            }
        }
    }

    /// Its true length if a formula gives it, in metres.
    pub(super) fn exact_length_m(&self) -> Option<f64> {
        match self.shape {
            Shape::Geodesic { length_m, .. } => Some(length_m),
            Shape::Rhumb(line) => Some(line.length().metres()),
            Shape::PlateCarree { .. } | Shape::Arc { .. } => None,
        }
    }

    /// The bearing that it keeps, if it keeps one.
    pub(super) fn constant_bearing(&self) -> Option<TrueBearing> {
        match self.shape {
            Shape::Rhumb(line) => Some(line.bearing()),
            Shape::Geodesic { .. } | Shape::PlateCarree { .. } | Shape::Arc { .. } => None,
        }
    }

    /// A length not shorter than a tenth of the edge's own, in metres, to choose a first number of pieces from.
    pub(super) fn rough_length_m(&self) -> f64 {
        match self.shape {
            Shape::Geodesic { length_m, .. } => length_m,
            Shape::Rhumb(line) => line.length().metres(),
            Shape::PlateCarree { d_lat_deg, d_lon_deg } => d_lat_deg.hypot(d_lon_deg) * 111_000.0,
            Shape::Arc { sweep_deg, start_m, end_m, .. } => sweep_deg.to_radians().abs() * start_m.max(end_m),
        }
    }

    /// Whether pieces of it are geodesics, which need no bulge.
    pub(super) fn is_geodesic(&self) -> bool {
        matches!(self.shape, Shape::Geodesic { .. })
    }

    /// How far an arc's ends lie off its printed circle, in metres; zero for straight edges.
    pub(super) fn closure_error_m(&self, model: EdgeModel) -> f64 {
        match (self.shape, model) {
            (Shape::Arc { start_m, end_m, .. }, EdgeModel::Arc(arc)) => {
                let radius_m = arc.radius.metres();
                let closure_error_m = (start_m - radius_m).abs().max((end_m - radius_m).abs());
                // a micrometre is what computing the ends leaves
                if closure_error_m < 1e-6 { 0.0 } else { closure_error_m }
            }
            _ => 0.0,
        }
    }
}

fn geodesic(from: Position, to: Position) -> Result<Shape, BoundaryFault> {
    let line = inverse(from, to);
    if line.distance_m > LONGEST_GEODESIC_M {
        return Err(BoundaryFault::AmbiguousEdge);
    }
    Ok(Shape::Geodesic { azimuth_deg: line.azimuth_start_deg, length_m: line.distance_m })
}

fn refuse_half_turn(from: Position, to: Position) -> Result<(), BoundaryFault> {
    let d_lon_deg = wrap_degrees(to.longitude().degrees() - from.longitude().degrees());
    let at_pole = [from, to].iter().any(|end| end.latitude().degrees().abs() >= 90.0);
    if d_lon_deg.abs() > 179.999_999 && !at_pole {
        return Err(BoundaryFault::AmbiguousEdge);
    }
    Ok(())
}

/// Refuses radii that no zone has.
pub(super) fn check_radius(radius_m: f64) -> Result<(), BoundaryFault> {
    if radius_m > 0.0 && radius_m < LARGEST_CIRCLE_M { Ok(()) } else { Err(BoundaryFault::Radius(radius_m)) }
}

/// An arc's end may miss the printed circle by 100 m or 2 % of the radius, whichever is more: printed minutes and
/// rounded radii do (common practice, no source). Beyond that, centre, radius or vertex is wrong.
fn arc_shape(from: Position, to: Position, arc: Arc) -> Result<Shape, BoundaryFault> {
    let radius_m = arc.radius.metres();
    check_radius(radius_m)?;
    let (start, end) = (inverse(arc.centre, from), inverse(arc.centre, to));
    for distance_m in [start.distance_m, end.distance_m] {
        if (distance_m - radius_m).abs() > (0.02 * radius_m).max(100.0).min(0.5 * radius_m) {
            return Err(BoundaryFault::ArcMissesVertex { distance_m, radius_m });
        }
    }
    let turn_deg = wrap_degrees(end.azimuth_start_deg - start.azimuth_start_deg);
    let sweep_deg = match arc.sense {
        ArcSense::Clockwise if turn_deg <= 0.0 => turn_deg + 360.0,
        ArcSense::Counterclockwise if turn_deg >= 0.0 => turn_deg - 360.0,
        ArcSense::Clockwise | ArcSense::Counterclockwise => turn_deg,
    };
    Ok(Shape::Arc {
        centre: arc.centre,
        start_deg: start.azimuth_start_deg,
        sweep_deg,
        start_m: start.distance_m,
        end_m: end.distance_m,
    })
}

/// An upper bound of the distance between the straight readings of an edge, in metres.
///
/// A parallel departs from its geodesic by L² tan φ / 8a (`parallel_departs_from_geodesic` in `tests/reference`), and no
/// other direction or reading departs by a tenth more; where twice that is small the bound stands, else the readings
/// are compared at seven places along the edge.
pub(super) fn reading_gap_m(from: Position, to: Position, small_m: f64) -> Result<f64, BoundaryFault> {
    let chord_m = (surface(from).point - surface(to).point).norm();
    let steepest = from.latitude().radians().abs().max(to.latitude().radians().abs());
    let bound_m = 2.0 * chord_m * chord_m * steepest.tan() / (8.0 * EQUATORIAL_RADIUS_M);
    // near a pole the longitudes of a short edge may differ by half a turn, and the bound does not hold
    if bound_m < small_m && steepest < 1.5 && chord_m < 50_000.0 {
        return Ok(bound_m);
    }
    let curve = |reading| Curve::new(from, to, EdgeModel::Unstated, reading);
    let geodesic = curve(EdgeReading::Geodesic)?;
    let others = [curve(EdgeReading::RhumbLine)?, curve(EdgeReading::PlateCarree)?];
    let mut gap_m: f64 = 0.0;
    for step in 1..8 {
        let share = f64::from(step) / 8.0;
        let on_geodesic = geodesic.at(share);
        for other in &others {
            gap_m = gap_m.max(inverse(on_geodesic, other.at(share)).distance_m);
        }
    }
    Ok(gap_m)
}
