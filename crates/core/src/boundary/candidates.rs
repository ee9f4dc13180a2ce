//! The pieces that may hold the nearest point: those of one search, and those remembered from the place before.

use super::piece::{Foot, Piece, Pieces};
use crate::geodesic::{LARGEST_RADIUS_M, SMALLEST_RADIUS_M, Vector};

/// Feet whose distances differ by less, as a share of the distance, are equally near.
pub(super) const TIE_SHARE: f64 = 1e-9;
/// Beyond this, chords through the Earth no longer order geodesics closely enough to prune by.
const PRUNABLE_M: f64 = 6_000_000.0;

/// The pieces that may hold the nearest point, as a search finds them.
#[derive(Debug)]
pub(super) struct Near {
    pub(super) best_m: f64,
    /// Beyond this nothing is of interest, in metres.
    pub(super) limit_m: f64,
    few: [(u32, Foot); FEW],
    count: usize,
    /// All of them, where they are more than a few.
    many: Vec<(u32, Foot)>,
}

/// The pieces about a place that was asked, to ask from for the next one.
#[derive(Debug, Clone)]
pub(super) struct Trail {
    pub(super) place: Vector,
    /// Pieces with the least that they can be away from it, in metres, the nearest first.
    pub(super) near: Vec<(u32, f64)>,
    /// All others are at least so far away.
    pub(super) others_m: f64,
    /// How much farther than the nearest one pieces are remembered; found by trial, and of no effect on any answer.
    pub(super) margin_m: f64,
    pub(super) known: Known,
}

impl Trail {
    pub(super) const MOST: usize = 24;
    /// Pieces that are held at once while they are looked for.
    pub(super) const ROOM: usize = 8 * Self::MOST;
    pub(super) const LEAST_MARGIN_M: f64 = 1.0;
    pub(super) const GREATEST_MARGIN_M: f64 = 20_000.0;
}

impl Default for Trail {
    fn default() -> Self {
        let nowhere = Vector::default();
        Self {
            place: nowhere,
            near: Vec::new(),
            others_m: f64::NEG_INFINITY,
            margin_m: 100.0,
            known: Known::default(),
        }
    }
}

/// Pieces that may hold the nearest point are seldom more than this.
const FEW: usize = 4;

/// A few pieces as they were asked for last, so that what they hold is not worked out again for every fix.
#[derive(Debug, Clone, Default)]
pub(super) struct Known {
    pieces: Vec<(u32, Piece)>,
    /// Which of them gives way next.
    oldest: usize,
}

impl Known {
    fn piece(&mut self, number: u32, pieces: &Pieces) -> &Piece {
        let at = self.pieces.iter().position(|(known, _)| *known == number).unwrap_or_else(|| {
            let piece = (number, pieces.get(number as usize));
            if self.pieces.len() < FEW {
                self.pieces.push(piece);
                return self.pieces.len() - 1;
            }
            self.oldest = (self.oldest + 1) % FEW;
            self.pieces[self.oldest] = piece;
            self.oldest
        });
        &self.pieces[at].1
    }
}

impl Default for Near {
    fn default() -> Self {
        Self {
            best_m: f64::INFINITY,
            limit_m: f64::INFINITY,
            few: [(0, Foot::NOWHERE); FEW],
            count: 0,
            many: Vec::new(),
        }
    }
}

impl Near {
    /// Takes a piece in, if it may hold the nearest point.
    pub(super) fn look_at(&mut self, number: u32, pieces: &Pieces, here: Vector) {
        if pieces.at_least_m(number as usize, here) <= self.limit_m {
            self.measure(number, &pieces.get(number as usize), here);
        }
    }

    /// The same of a piece that may be remembered whole.
    #[inline]
    pub(super) fn look_at_known(
        &mut self,
        number: u32,
        (pieces, known): (&Pieces, &mut Known),
        here: Vector,
    ) {
        if pieces.at_least_m(number as usize, here) <= self.limit_m {
            self.measure(number, known.piece(number, pieces), here);
        }
    }

    pub(super) fn measure(&mut self, number: u32, piece: &Piece, here: Vector) {
        let foot = piece.foot(here);
        if foot.chord_m > self.limit_m {
            return;
        }
        if foot.chord_m < self.best_m {
            self.best_m = foot.chord_m;
            self.limit_m = foot.chord_m + slack_m(foot.chord_m) + TIE_SHARE * foot.chord_m;
            self.forget_the_far();
        }
        if !self.many.is_empty() {
            self.many.push((number, foot));
        } else if let Some(place) = self.few.get_mut(self.count) {
            *place = (number, foot);
            self.count += 1;
        } else {
            self.many.extend_from_slice(&self.few);
            self.many.push((number, foot));
        }
    }

    fn forget_the_far(&mut self) {
        let limit_m = self.limit_m;
        if self.many.is_empty() {
            let mut kept = 0;
            for at in 0..self.count {
                if self.few[at].1.chord_m <= limit_m {
                    self.few[kept] = self.few[at];
                    kept += 1;
                }
            }
            self.count = kept;
            return;
        }
        self.many.retain(|(_, foot)| foot.chord_m <= limit_m);
        if self.many.is_empty() {
            self.count = 0;
        }
    }

    pub(super) fn candidates(&self) -> &[(u32, Foot)] {
        if self.many.is_empty() { &self.few[..self.count] } else { &self.many }
    }
}

/// Puts remembered pieces in order of how far they are away at least.
pub(super) fn nearest_first(about: &mut [(u32, f64)]) -> &[(u32, f64)] {
    about.sort_unstable_by(|one, other| one.1.total_cmp(&other.1).then(one.0.cmp(&other.0)));
    about
}

/// A chord not longer than that of any geodesic of this length.
pub(super) fn chord_of_geodesic_m(length_m: f64) -> f64 {
    let half_turn_m = std::f64::consts::PI * SMALLEST_RADIUS_M;
    2.0 * SMALLEST_RADIUS_M * (length_m.min(half_turn_m) / (2.0 * SMALLEST_RADIUS_M)).sin()
}

/// How much longer the chord of the geodesically nearest point may be than the shortest chord, in metres.
///
/// The curvature of a geodesic in space is that of the surface along it, between 1 / [`LARGEST_RADIUS_M`] and
/// 1 / [`SMALLEST_RADIUS_M`]. By Schur's comparison its chord is no shorter than that of an arc of the tighter circle; that it
/// is no longer than that of the wider one rests on its torsion, below 0.0034 of its curvature, which adds less than a
/// thousandth of what the factor of two leaves. An arc of radius R has s − c = c³ / 24 R² and more terms, together under c² / R²
/// of the first.
pub(super) fn slack_m(chord_m: f64) -> f64 {
    if chord_m > PRUNABLE_M {
        return f64::INFINITY;
    }
    let (low, high) = (chord_m / LARGEST_RADIUS_M, chord_m / SMALLEST_RADIUS_M);
    let excess_m = chord_m * (high * high - low * low) / 24.0 * (1.0 + high * high);
    2.0 * excess_m + 1e-6
}
