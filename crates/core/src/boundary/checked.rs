//! The outline tried against the rings it was made from, at places beside every piece.

use super::lines::Lines;
use super::meeting::TOGETHER_M;
use crate::geodesic::Vector;

/// How far beside a piece it is tried, in metres: less where another line is nearer.
const TRIED_AT_M: [f64; 4] = [1.0, 0.1, 0.01, 0.003];
/// Of more pieces than this only some are tried, spread evenly.
const MOST_TRIED: usize = 20_000;

/// Where the side of the nearest line is not the side that the rings run round, and the edge there; none if it always
/// is.
pub(super) fn wrong_side(lines: &Lines) -> Option<(u32, Vector)> {
    let stride = lines.pieces.len().div_ceil(MOST_TRIED).max(1);
    let number_of = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
    (0..lines.pieces.len()).step_by(stride).find_map(|at| {
        let piece = &lines.pieces[at];
        let (middle, left) = (piece.at(0.5), piece.left_at(0.5));
        let wrong = |is_left: bool| {
            let direction = if is_left { left } else { -left };
            TRIED_AT_M.iter().find_map(|off_m| {
                match tried(lines, number_of(at), middle + direction * *off_m) {
                    Tried::Other => None,
                    Tried::Own { inside } => Some(inside != is_left),
                    Tried::Wrong => Some(true),
                }
            })
        };
        [true, false].into_iter().any(|is_left| wrong(is_left) == Some(true)).then_some((piece.edge, middle))
    })
}

enum Tried {
    /// The piece itself is the nearest, and the rings say this.
    Own {
        inside: bool,
    },
    /// Another piece is the nearest, and right about the side, or too near to tell.
    Other,
    Wrong,
}

fn tried(lines: &Lines, piece: u32, place: Vector) -> Tried {
    let Some(nearest) = lines.nearest_piece(place) else { return Tried::Other };
    if nearest.away_m <= TOGETHER_M {
        return Tried::Other;
    }
    let inside = lines.is_wound_round(place);
    match nearest.is_left {
        Some(is_left) if is_left != inside => Tried::Wrong,
        _ if nearest.piece == piece => Tried::Own { inside },
        _ => Tried::Other,
    }
}
