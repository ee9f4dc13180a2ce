//! The pieces of an outline as they are held: what the rest of a piece can be worked out from.
//!
//! A kilobyte of outline holds twelve pieces. All else that a piece has is worked out when it is asked for, by what
//! made it, and comes out the same to the last bit; that is tried for each piece before it is let go, and a piece that would
//! come out otherwise, as one cut off another may, is held whole.

use super::piece::Piece;
use crate::geodesic::Vector;

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
