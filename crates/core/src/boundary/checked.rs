//! The outline tried against its own winding and against the rings it was made from, at places beside every piece.

use std::cell::OnceCell;

use super::lines::{GivenRings, Lines};
use super::meeting::TOGETHER_M;
use super::near::{Chains, Tree};
use super::piece::Piece;
use crate::geodesic::Vector;

/// How far beside a piece it is tried, in metres: less where another line is nearer.
const TRIED_AT_M: [f64; 4] = [1.0, 0.1, 0.01, 0.003];
/// Of more pieces than this only some are tried, spread evenly.
const MOST_TRIED: usize = 20_000;

/// What an outline was made from.
#[derive(Debug, Clone, Copy)]
pub(super) struct Given<'a> {
    /// The rings.
    pub(super) rings: &'a GivenRings,
    /// What they run along that is no outline.
    pub(super) dropped: &'a [Piece],
}

/// Where the side of the nearest line is not the side that the outline and the given rings run round, and the edge there;
/// none if it always is. No given rings if the outline has them as they are.
pub(super) fn wrong_side(lines: &Lines, given: Option<Given<'_>>) -> Option<(u32, Vector)> {
    let trial = Trial { lines, given: given.map(|given| given.rings), tree: OnceCell::new() };
    let stride = |count: usize| count.div_ceil(MOST_TRIED).max(1);
    // lines that nothing else meets are tried in the middle, others near their ends as well, where they were put together
    let shares = if given.is_some() { &[0.5, 0.01, 0.99][..] } else { &[0.5] };
    let pieces = (0..lines.pieces.len()).step_by(stride(lines.pieces.len()));
    let tries = pieces.filter(|at| !trial.is_plainly_right(*at)).flat_map(|at| {
        shares.iter().flat_map(move |share| [true, false].map(|is_left| (at, *share, is_left)))
    });
    let mut tries = tries;
    let wrong = tries.find(|(at, share, is_left)| trial.is_wrong((*at, *share), *is_left));
    if let Some((at, share, _)) = wrong {
        let piece = lines.pieces.get(at);
        return Some((piece.edge, piece.at(share)));
    }
    let dropped = given.map_or(&[][..], |given| given.dropped);
    let mut tried = dropped.iter().step_by(stride(dropped.len()));
    let wrong =
        tried.find(|piece| trial.is_dropped_wrongly(piece, true) || trial.is_dropped_wrongly(piece, false));
    wrong.map(|piece| (piece.edge, piece.at(0.5)))
}

struct Trial<'a> {
    lines: &'a Lines,
    given: Option<&'a GivenRings>,
    /// Made when it is first asked for.
    tree: OnceCell<Tree>,
}

impl Trial<'_> {
    fn tree(&self) -> &Tree {
        self.tree.get_or_init(|| {
            let pieces = self.lines.pieces.whole();
            let next: Vec<u32> = (0..pieces.len()).map(|at| self.lines.next(at)).map(number).collect();
            Tree::new(Chains { pieces, next: &next })
        })
    }

    /// Whether both sides of a piece are right in the middle of an outline that is the rings as they were given, and no
    /// other line is near enough to make it a question which line is the nearest.
    ///
    /// Places 1 m to either side are then nearest to the piece itself, and nothing but the piece lies between them and its
    /// middle: the outline runs round them as often as round places a hair beside it.
    fn is_plainly_right(&self, at: usize) -> bool {
        if self.given.is_some() || !self.lines.is_alone(at, 2.1 * TRIED_AT_M[0]) {
            return false;
        }
        let (left, right) = self.lines.sides_of(at);
        left > 0 && right <= 0
    }

    /// Whether one side of a piece is wrong.
    ///
    /// The outline's own winding has to agree wherever another line is not too near. Of the given rings it is enough
    /// that they agree in one place: in another they may run both ways within 1 mm, and leave a gap between.
    fn is_wrong(&self, (at, share): (usize, f64), is_left: bool) -> bool {
        let piece = self.lines.pieces.get(at);
        let (foot, left) = (piece.at(share), piece.left_at(share));
        let direction = if is_left { left } else { -left };
        let mut is_refuted = false;
        for off_m in TRIED_AT_M {
            let place = foot + direction * off_m;
            let beside = self.tree().beside(place, off_m * (1.0 + 1e-9) + 1e-6);
            let nearest = self.lines.nearest_of(&beside, place).filter(|nearest| nearest.away_m > TOGETHER_M);
            let Some(nearest) = nearest else { continue };
            let inside = self.lines.is_wound_round(place);
            if nearest.is_left.is_some_and(|is_left| is_left != inside) {
                return true;
            }
            if nearest.piece as usize == at {
                if inside != is_left {
                    return true;
                }
                if self.given.is_none_or(|given| given.hold(place) == inside) {
                    return false;
                }
                is_refuted = true;
            }
        }
        is_refuted
    }

    /// Whether the given rings hold a place beside a line that was dropped and the outline does not, or the other way round.
    fn is_dropped_wrongly(&self, piece: &Piece, is_left: bool) -> bool {
        let (middle, left) = (piece.at(0.5), piece.left_at(0.5));
        let direction = if is_left { left } else { -left };
        let mut is_refuted = false;
        for off_m in TRIED_AT_M {
            let place = middle + direction * off_m;
            let beside = self.tree().beside(place, TOGETHER_M);
            if self.lines.nearest_of(&beside, place).is_some_and(|nearest| nearest.away_m <= TOGETHER_M) {
                continue;
            }
            if self.given.is_none_or(|given| given.hold(place) == self.lines.is_wound_round(place)) {
                return false;
            }
            is_refuted = true;
        }
        is_refuted
    }
}

fn number(at: usize) -> u32 {
    u32::try_from(at).unwrap_or(u32::MAX)
}
