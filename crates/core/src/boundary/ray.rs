//! A straight way over the surface, and where it first meets a strand.
//!
//! Each vertex of a strand lies ahead by so much and to the right by so much, found from the vertex alone: two pieces that share it
//! get the same numbers, so no way passes between them.

use super::piece::Piece;
use super::strands::Strands;
use crate::Position;
use crate::geodesic::{SHORT_M, Surface, Vector, azimuth_deg, direct, length_over_chord, seen_from, surface};

/// What comes as near to the way as this, in metres, meets it.
pub(crate) const TOUCH_M: f64 = 1e-3;
/// Farther to the side than this, in metres, the normal section tells the side as well as the geodesic: within [`SHORT_M`] they are
/// 2 mm apart.
const PLAINLY_ASIDE_M: f64 = 1.0;
/// The first stretch of a way that is looked at, the shortest and the longest, in metres.
const STRETCHES_M: [f64; 3] = [500.0, 125.0, 32_000.0];
/// Where fewer pieces lie about a stretch, the next is longer; where more than eight times as many, shorter.
const FEW_PIECES: usize = 64;
/// Longer ways are not looked at, in metres: beyond half the Earth a geodesic is no shortest way.
const LONGEST_WAY_M: f64 = 19_000_000.0;
/// A crossing is found to this, in metres.
const FOUND_M: f64 = 1e-5;

/// A geodesic that leaves a place.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Ray {
    from: Position,
    here: Surface,
    bearing_deg: f64,
    /// Sine and cosine of the bearing.
    bearing: (f64, f64),
    /// Level, square to the way, to its right.
    right: Vector,
}

/// Where a point lies as seen along the way, in metres.
#[derive(Debug, Clone, Copy)]
struct Seen {
    ahead_m: f64,
    right_m: f64,
}

impl Ray {
    pub(crate) fn new(from: Position, bearing_deg: f64) -> Self {
        let (here, (sin, cos)) = (surface(from), bearing_deg.to_radians().sin_cos());
        let right = here.east * cos - here.north * sin;
        Self { from, here, bearing_deg, bearing: (sin, cos), right }
    }

    /// The point of the way so many metres on.
    pub(crate) fn at(&self, way_m: f64) -> Vector {
        surface(direct(self.from, self.bearing_deg, way_m)).point
    }

    fn seen_on(&self, distance_m: f64, azimuth_deg: f64) -> Seen {
        let (sin, cos) = azimuth_deg.to_radians().sin_cos();
        let (east_m, north_m) = (distance_m * sin, distance_m * cos);
        let (sin, cos) = self.bearing;
        Seen { ahead_m: north_m * cos + east_m * sin, right_m: east_m * cos - north_m * sin }
    }

    /// Where a point lies, by the geodesic to it.
    fn seen(&self, point: Vector) -> Seen {
        let (distance_m, azimuth_deg) = seen_from((self.from, &self.here), point);
        self.seen_on(distance_m, azimuth_deg)
    }

    /// Where a vertex lies: to which side exactly, how far roughly.
    fn side_of(&self, point: Vector) -> Seen {
        if (point - self.here.point).norm() <= SHORT_M {
            let length_m = length_over_chord(self.here.point, point);
            let seen = self.seen_on(length_m, azimuth_deg(&self.here, point));
            if seen.right_m.abs() > PLAINLY_ASIDE_M {
                return seen;
            }
        }
        self.seen(point)
    }

    /// How far on the way first meets a strand, after so many metres and within so many; none if it does not.
    ///
    /// To come within [`TOUCH_M`] of a vertex is to meet it.
    pub(crate) fn first_meeting_m(&self, strands: &Strands, after_m: f64, way_m: f64) -> Option<f64> {
        let lines = strands.lines();
        let way_m = way_m.min(LONGEST_WAY_M);
        let [mut step_m, shortest_m, longest_m] = STRETCHES_M;
        let mut done_m = after_m.max(0.0);
        loop {
            let end_m = (done_m + step_m).min(way_m);
            let middle = self.at(done_m.midpoint(end_m));
            // chords are no longer than the ways over the surface
            let about_m = 0.5 * (end_m - done_m) + 2.0 * TOUCH_M;
            let (mut first_m, mut looked_at) = (f64::INFINITY, 0);
            lines.walk(middle, about_m, |run| {
                for at in run {
                    looked_at += 1;
                    if !self.passes(lines.pieces.ends(*at as usize)) {
                        self.meet(&lines.pieces.get(*at as usize), |met_m| {
                            if met_m > after_m {
                                first_m = first_m.min(met_m);
                            }
                        });
                    }
                }
                about_m
            });
            if first_m <= end_m + TOUCH_M {
                return Some(first_m.min(way_m));
            }
            if end_m >= way_m {
                return None;
            }
            done_m = end_m;
            if looked_at < FEW_PIECES {
                step_m = (step_m * 2.0).min(longest_m);
            } else if looked_at > 8 * FEW_PIECES {
                step_m = (step_m / 2.0).max(shortest_m);
            }
        }
    }

    /// Whether two points lie plainly on one side of the way, and so what is straight between them.
    ///
    /// The plane of the normal section with which the way begins is told from the geodesic where [`Self::side_of`] tells it.
    fn passes(&self, ends: [Vector; 2]) -> bool {
        let [one, other] = ends.map(|end| end - self.here.point);
        let (one_m, other_m) = (one.dot(self.right), other.dot(self.right));
        let is_short = one.dot(one).max(other.dot(other)) <= SHORT_M * SHORT_M;
        is_short && one_m.abs().min(other_m.abs()) > PLAINLY_ASIDE_M && (one_m > 0.0) == (other_m > 0.0)
    }

    /// Tells where the way meets a piece: how far on.
    fn meet(&self, piece: &Piece, mut met: impl FnMut(f64)) {
        let ends = [piece.start, piece.end].map(|point| self.side_of(point));
        let touches = ends.map(|end| end.right_m.abs() <= TOUCH_M);
        if touches == [true, true] {
            // it runs along the way
            let [low_m, high_m] =
                [ends[0].ahead_m.min(ends[1].ahead_m), ends[0].ahead_m.max(ends[1].ahead_m)];
            if high_m >= -TOUCH_M {
                met(low_m.max(0.0));
                met(high_m.max(0.0));
            }
            return;
        }
        for (end, _) in ends.iter().zip(touches).filter(|(end, touches)| *touches && end.ahead_m >= -TOUCH_M)
        {
            met(end.ahead_m.max(0.0));
        }
        if ends[0].right_m * ends[1].right_m < 0.0 {
            let crossing = self.crossing(piece, ends);
            if crossing.ahead_m >= -TOUCH_M {
                met(crossing.ahead_m.max(0.0));
            }
        }
    }

    /// The point of a piece on the way, between two ends on different sides of it.
    fn crossing(&self, piece: &Piece, ends: [Seen; 2]) -> Seen {
        let (mut low, mut high) = ((0.0, ends[0].right_m), (1.0, ends[1].right_m));
        let mut seen = ends[0];
        for round in 0..60 {
            let straight = low.0 + (high.0 - low.0) * low.1 / (low.1 - high.1);
            // the straight line finds it at once on any but strange pieces; halving ends in any case
            let share = if round < 8 { straight } else { f64::midpoint(low.0, high.0) };
            seen = self.seen(piece.at(share));
            if seen.right_m.abs() <= FOUND_M {
                break;
            }
            if (seen.right_m > 0.0) == (low.1 > 0.0) {
                low = (share, seen.right_m);
            } else {
                high = (share, seen.right_m);
            }
        }
        seen
    }
}
