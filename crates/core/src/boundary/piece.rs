//! A piece of an edge, at most 2 km long: a chord in earth-centred axes and the bulge of the curve off it.

use rstar::{AABB, PointDistance, RTreeObject};

use super::ring::Curve;
use crate::Position;
use crate::geodesic::{Vector, flattened, surface};

/// Longest piece, in metres. A chord of this length lies 8 cm under the surface at its middle.
pub(super) const LONGEST_PIECE_M: f64 = 2_000.0;
/// How far a piece may lie from its edge's own curve, in metres.
const PIECE_TOLERANCE_M: f64 = 5e-5;
/// No edge is cut into more pieces than this: 2 km each, ten times round the Earth.
const MOST_PIECES: u32 = 1 << 18;

/// One piece.
///
/// Seen from above, the curve leaves the chord by 4·bulge·t(1−t) to the left at the share t of the chord; seen from
/// the side, the surface rises over the chord by 4·rise·t(1−t).
#[derive(Debug, Clone, Copy)]
pub(super) struct Piece {
    pub(super) start: Vector,
    pub(super) end: Vector,
    /// Along the chord.
    pub(super) along: Vector,
    /// To the left of it, level.
    pub(super) left: Vector,
    /// Up at its middle.
    pub(super) up: Vector,
    pub(super) length_m: f64,
    pub(super) bulge_m: f64,
    pub(super) rise_m: f64,
    /// Index of the edge it belongs to.
    pub(super) edge: u32,
}

/// The nearest point of a piece to a place.
#[derive(Debug, Clone, Copy)]
pub(super) struct Foot {
    /// Share of the chord, 0 to 1.
    pub(super) share: f64,
    /// The point, on the surface to four micrometres.
    pub(super) point: Vector,
    /// Straight-line distance from the place to it, in metres.
    pub(super) chord_m: f64,
    /// Square to the curve there, to the left of this piece, of any length.
    pub(super) left: Vector,
}

impl Foot {
    /// Farther off than any other.
    pub(super) const NOWHERE: Self = {
        let nothing = Vector::new(0.0, 0.0, 0.0);
        Self { share: 0.0, point: nothing, chord_m: f64::INFINITY, left: nothing }
    };
}

impl Piece {
    /// The piece of the geodesic between two positions; none if they are one point.
    pub(super) fn between(from: Position, to: Position, edge: u32) -> Option<Self> {
        Self::between_points(surface(from).point, surface(to).point, edge)
    }

    /// The same between two points of the surface.
    pub(super) fn between_points(start: Vector, end: Vector, edge: u32) -> Option<Self> {
        let (mut piece, square) = Self::with_axes([start, end], edge)?;
        let chord = end - start;
        // with p·Dp = 1 at both ends it is 1 − (c/2)·D(c/2) at the middle, and grows by 2 |Dp| a metre upwards
        piece.rise_m = flattened(chord).dot(chord) / (8.0 * square.norm());
        Some(piece)
    }

    /// A piece made again from what is held of it.
    pub(super) fn again(ends: [Vector; 2], rise_m: f64, bulge_m: f64) -> Option<Self> {
        Self::with_axes(ends, 0).map(|(piece, _)| Self { bulge_m, rise_m, ..piece })
    }

    /// A piece with its axes, neither bent nor risen, and the way square to the surface at its middle.
    fn with_axes([start, end]: [Vector; 2], edge: u32) -> Option<(Self, Vector)> {
        let chord = end - start;
        let length_m = chord.norm();
        if length_m < 1e-7 {
            return None;
        }
        let along = chord * (1.0 / length_m);
        let middle = (start + end) * 0.5;
        let square = flattened(middle);
        let left = square.cross(along).unit();
        let up = along.cross(left);
        Some((Self { start, end, along, left, up, length_m, bulge_m: 0.0, rise_m: 0.0, edge }, square))
    }

    /// Left offset and share of the chord of a point.
    pub(super) fn offset(&self, point: Vector) -> (f64, f64) {
        let from_start = point - self.start;
        (from_start.dot(self.left), from_start.dot(self.along) / self.length_m)
    }

    /// How far to the left of the curve a point near it lies, in metres.
    pub(super) fn left_of_curve_m(&self, point: Vector) -> f64 {
        let (left_m, share) = self.offset(point);
        left_m - self.curve_left_m(share)
    }

    /// How far to the left of its chord the curve runs at a share of it, in metres.
    pub(super) fn curve_left_m(&self, share: f64) -> f64 {
        4.0 * self.bulge_m * share * (1.0 - share)
    }

    /// The point of the curve at a share of the chord.
    pub(super) fn at(&self, share: f64) -> Vector {
        if share <= 0.0 {
            return self.start;
        }
        if share >= 1.0 {
            return self.end;
        }
        let swell = 4.0 * share * (1.0 - share);
        self.start
            + self.along * (share * self.length_m)
            + self.left * (swell * self.bulge_m)
            + self.up * (swell * self.rise_m)
    }

    /// Direction square to the curve, to the left, at a share of the chord.
    pub(super) fn left_at(&self, share: f64) -> Vector {
        self.leftwards(share).unit()
    }

    /// The same of any length.
    fn leftwards(&self, share: f64) -> Vector {
        if self.bulge_m == 0.0 {
            return self.left;
        }
        let slope = 4.0 * self.bulge_m * (1.0 - 2.0 * share) / self.length_m;
        self.left - self.along * slope
    }

    /// The nearest point of the piece.
    pub(super) fn foot(&self, place: Vector) -> Foot {
        let chord_share = self.square_share(place);
        if (0.0..=1.0).contains(&chord_share) {
            let point = self.at(chord_share);
            let left = self.leftwards(chord_share);
            let candidate = Foot { share: chord_share, point, chord_m: (place - point).norm(), left };
            if self.bulge_m.abs() < 1.0 {
                return candidate;
            }
            return self.nearer_end(place).filter(|end| end.chord_m < candidate.chord_m).unwrap_or(candidate);
        }
        self.nearer_end(place).unwrap_or(Foot::NOWHERE)
    }

    /// Less than the distance to any point of the piece, in metres, or as much: that to its chord less its reach.
    pub(super) fn at_least_m(&self, place: Vector) -> f64 {
        let from_start = place - self.start;
        let along_m = from_start.dot(self.along).clamp(0.0, self.length_m);
        (from_start - self.along * along_m).norm() - self.reach_m()
    }

    /// The nearer of the two ends; the start if they are equally near.
    #[inline]
    fn nearer_end(&self, place: Vector) -> Option<Foot> {
        let [start_m, end_m] = [self.start, self.end].map(|point| (place - point).norm());
        let (share, point, chord_m) =
            if end_m < start_m { (1.0, self.end, end_m) } else { (0.0, self.start, start_m) };
        chord_m.is_finite().then(|| Foot { share, point, chord_m, left: self.leftwards(share) })
    }

    /// The share of the chord at which the line to the place is square to the curve; may lie outside 0 to 1.
    ///
    /// Newton's method on (place − curve) · tangent = 0, in the piece's own axes.
    fn square_share(&self, place: Vector) -> f64 {
        let from_start = place - self.start;
        let (along_m, left_m, up_m) =
            (from_start.dot(self.along), from_start.dot(self.left), from_start.dot(self.up));
        let mut share = (along_m / self.length_m).clamp(-0.5, 1.5);
        for _ in 0..8 {
            let swell = 4.0 * share * (1.0 - share);
            let swell_rate = 4.0 * (1.0 - 2.0 * share);
            let off_left_m = left_m - swell * self.bulge_m;
            let off_up_m = up_m - swell * self.rise_m;
            let value = (along_m - share * self.length_m) * self.length_m
                + swell_rate * (off_left_m * self.bulge_m + off_up_m * self.rise_m);
            let rate = -self.length_m * self.length_m
                - swell_rate * swell_rate * (self.bulge_m * self.bulge_m + self.rise_m * self.rise_m)
                - 8.0 * (off_left_m * self.bulge_m + off_up_m * self.rise_m);
            if rate >= 0.0 {
                // the place lies beyond the centre of the bend: the curve is farthest there, an end is nearest
                return f64::NAN;
            }
            let step = value / rate;
            share -= step;
            // each step leaves about the square of the one before
            if step.abs() < 1e-8 || !(-2.0..=3.0).contains(&share) {
                break;
            }
        }
        share
    }

    /// The third corner of the triangle that has the chord as one side and holds the curve.
    pub(super) fn control(&self) -> Vector {
        (self.start + self.end) * 0.5 + self.left * (2.0 * self.bulge_m) + self.up * (2.0 * self.rise_m)
    }

    /// The piece between two of its shares, its ends put on given points beside them; none if these are one point.
    ///
    /// Part of a parabola is a parabola; over the share s of the chord it swells s² as much.
    pub(super) fn part(&self, shares: [f64; 2], [start, end]: [Vector; 2]) -> Option<Self> {
        let chord = end - start;
        let length_m = chord.norm();
        if length_m < 1e-7 {
            return None;
        }
        let share = shares[1] - shares[0];
        let swell = (self.left * self.bulge_m + self.up * self.rise_m) * (share * share);
        let along = chord.unit();
        let left = self.up.cross(along).unit();
        let up = along.cross(left);
        let (bulge_m, rise_m) = (swell.dot(left), swell.dot(up));
        Some(Self { start, end, along, left, up, length_m, bulge_m, rise_m, edge: self.edge })
    }

    /// How much farther than its straight chord the piece may reach, in metres.
    pub(super) fn reach_m(&self) -> f64 {
        self.bulge_m.abs() + self.rise_m.abs()
    }

    /// The same piece walked the other way.
    pub(super) fn reversed(self) -> Self {
        Self {
            start: self.end,
            end: self.start,
            along: -self.along,
            left: -self.left,
            bulge_m: -self.bulge_m,
            ..self
        }
    }
}

/// What the tree over pieces holds: the straight chord, and which piece it is.
#[derive(Debug, Clone, Copy)]
pub(super) struct Chord {
    pub(super) start: Vector,
    pub(super) end: Vector,
    pub(super) piece: u32,
}

impl RTreeObject for Chord {
    type Envelope = AABB<[f64; 3]>;

    fn envelope(&self) -> Self::Envelope {
        AABB::from_corners(self.start.to_array(), self.end.to_array())
    }
}

impl PointDistance for Chord {
    /// Squared distance to the straight chord, which the bounding box bounds from below.
    fn distance_2(&self, point: &[f64; 3]) -> f64 {
        let from_start = Vector::new(point[0], point[1], point[2]) - self.start;
        let chord = self.end - self.start;
        let share = (from_start.dot(chord) / chord.dot(chord)).clamp(0.0, 1.0);
        let off = from_start - chord * share;
        off.dot(off)
    }
}

/// Cuts an edge into pieces that lie within [`PIECE_TOLERANCE_M`] of its curve.
pub(super) fn cut(curve: &Curve, edge: u32) -> Vec<Piece> {
    let rough = (curve.rough_length_m() / LONGEST_PIECE_M).ceil().clamp(1.0, f64::from(MOST_PIECES));
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a whole number from 1 to MOST_PIECES, which is a u32"
    )]
    let mut count = rough as u32;
    loop {
        if let Some(pieces) = try_cut(curve, edge, count) {
            return pieces;
        }
        count = (count * 2).min(MOST_PIECES);
    }
}

/// Cuts into so many pieces; none if one of them is too long or strays from the curve.
fn try_cut(curve: &Curve, edge: u32, count: u32) -> Option<Vec<Piece>> {
    let share_of = |quarters: u32| f64::from(quarters) / f64::from(4 * count);
    let last_try = count >= MOST_PIECES;
    let mut pieces = Vec::with_capacity(count as usize);
    let mut from = curve.at(0.0);
    for index in 0..count {
        let to = curve.at(share_of(4 * index + 4));
        if let Some(mut piece) = Piece::between(from, to, edge) {
            let strays =
                !curve.is_geodesic() && !piece.bend_to(|quarter| curve.at(share_of(4 * index + quarter)));
            if !last_try && (strays || piece.length_m > LONGEST_PIECE_M * 1.01) {
                return None;
            }
            pieces.push(piece);
        }
        from = to;
    }
    Some(pieces)
}

impl Piece {
    /// Gives the piece the bulge of its curve; false if the curve is not a parabola to within the tolerance.
    fn bend_to(&mut self, at_quarter: impl Fn(u32) -> Position) -> bool {
        let offset = |quarter| self.offset(surface(at_quarter(quarter)).point);
        let quarters = [offset(1), offset(2), offset(3)];
        let (middle_m, middle_share) = quarters[1];
        let swell = 4.0 * middle_share * (1.0 - middle_share);
        if !(0.5..=1.01).contains(&swell) {
            return false;
        }
        let bulge_m = middle_m / swell;
        self.bulge_m = bulge_m;
        quarters.iter().all(|(left_m, share)| {
            (left_m - 4.0 * bulge_m * share * (1.0 - share)).abs() <= PIECE_TOLERANCE_M
        }) && bulge_m.abs() < 0.1 * self.length_m
    }
}

/// Pieces in a row.
#[derive(Debug, Clone, Default)]
pub(super) struct Pieces {
    /// While the outline is built; then none.
    whole: Vec<Piece>,
    held: Vec<Held>,
    /// Bulges of the pieces; none if all are zero.
    bulges_m: Vec<f64>,
    /// Those that are held whole, in order.
    odd: Vec<(u32, Piece)>,
}

#[derive(Debug, Clone, Copy)]
struct Held {
    start: Vector,
    end: Vector,
    /// No number for a piece that is held whole.
    rise_m: f64,
}

impl From<Vec<Piece>> for Pieces {
    fn from(whole: Vec<Piece>) -> Self {
        Self { whole, ..Self::default() }
    }
}

impl Pieces {
    pub(super) fn len(&self) -> usize {
        self.whole.len().max(self.held.len())
    }

    /// All of them; none once they have settled.
    pub(super) fn whole(&self) -> &[Piece] {
        &self.whole
    }

    /// Lets go of all that can be worked out.
    pub(super) fn settle(&mut self) {
        let whole = std::mem::take(&mut self.whole);
        let bends = whole.iter().any(|piece| piece.bulge_m.to_bits() != 0);
        self.held = Vec::with_capacity(whole.len());
        self.bulges_m = if bends { whole.iter().map(|piece| piece.bulge_m).collect() } else { Vec::new() };
        for (at, piece) in whole.iter().enumerate() {
            self.held.push(Held { start: piece.start, end: piece.end, rise_m: piece.rise_m });
            if !self.worked_out(at).is_some_and(|again| is_same(&again, piece)) {
                self.held[at].rise_m = f64::NAN;
                self.odd.push((u32::try_from(at).unwrap_or(u32::MAX), *piece));
            }
        }
        self.odd.shrink_to_fit();
    }

    /// A piece; a settled one no longer says which edge it comes from.
    pub(super) fn get(&self, at: usize) -> Piece {
        match self.whole.get(at) {
            Some(piece) => *piece,
            None => self.worked_out(at).unwrap_or_else(|| self.odd(at)),
        }
    }

    /// Both ends of a piece, without what else it takes to make it again.
    pub(super) fn ends(&self, at: usize) -> [Vector; 2] {
        match self.held.get(at) {
            Some(held) => [held.start, held.end],
            None => [self.get(at).start, self.get(at).end],
        }
    }

    pub(super) fn iter(&self) -> impl Iterator<Item = Piece> + '_ {
        (0..self.len()).map(|at| self.get(at))
    }

    /// Less than the distance to any point of a piece, in metres, or as much: that to its chord less its reach.
    pub(super) fn at_least_m(&self, at: usize, place: Vector) -> f64 {
        let Some(held) = self.held.get(at).filter(|held| !held.rise_m.is_nan()) else {
            return self.get(at).at_least_m(place);
        };
        let (from_start, chord) = (place - held.start, held.end - held.start);
        let share = (from_start.dot(chord) / chord.dot(chord)).clamp(0.0, 1.0);
        (from_start - chord * share).norm() - held.rise_m.abs() - self.bulge_m(at).abs()
    }

    fn bulge_m(&self, at: usize) -> f64 {
        self.bulges_m.get(at).copied().unwrap_or(0.0)
    }

    fn worked_out(&self, at: usize) -> Option<Piece> {
        let held = self.held.get(at).filter(|held| !held.rise_m.is_nan())?;
        Piece::again([held.start, held.end], held.rise_m, self.bulge_m(at))
    }

    fn odd(&self, at: usize) -> Piece {
        let found = self.odd.binary_search_by_key(&at, |(number, _)| *number as usize);
        self.odd[found.unwrap_or_else(|after| after.min(self.odd.len().saturating_sub(1)))].1
    }
}

fn is_same(one: &Piece, other: &Piece) -> bool {
    let bits = |piece: &Piece| {
        let vectors = [piece.start, piece.end, piece.along, piece.left, piece.up];
        let lengths = [piece.length_m, piece.bulge_m, piece.rise_m];
        (vectors.map(|vector| vector.to_array().map(f64::to_bits)), lengths.map(f64::to_bits))
    };
    bits(one) == bits(other)
}
