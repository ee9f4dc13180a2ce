//! Rings that cross themselves or each other.

use rstar::RTree;

use super::lines::Lines;
use super::piece::{Chord, Piece};
use crate::Position;
use crate::geodesic::{Vector, from_earth_centred};

/// How far an edge has to reach beyond another before they count as crossing, in metres: parts and holes may touch,
/// and printed vertices that should lie on a line miss it by rounding.
const TOUCH_M: f64 = 1e-3;

/// Two pieces that cross, and where.
#[derive(Debug, Clone, Copy)]
pub(super) struct Crossing {
    pub(super) edge: u32,
    pub(super) other_edge: u32,
    pub(super) near: Position,
}

/// Finds a crossing, the one with the lowest edge numbers; none if there is none.
pub(super) fn find(lines: &Lines) -> Option<Crossing> {
    let tree: &RTree<Chord> = &lines.tree;
    tree.intersection_candidates_with_other_tree(tree)
        .filter(|(a, b)| a.piece < b.piece)
        .filter_map(|(a, b)| crossing(lines, a.piece, b.piece))
        .min_by_key(|crossing| (crossing.edge, crossing.other_edge))
}

fn crossing(lines: &Lines, a: u32, b: u32) -> Option<Crossing> {
    if lines.next[a as usize] == b || lines.next[b as usize] == a {
        return None;
    }
    let (first, second) = (&lines.pieces[a as usize], &lines.pieces[b as usize]);
    if meet_at_a_vertex(lines, a, b) || !on_both_sides(lines, a, second) || !on_both_sides(lines, b, first) {
        return None;
    }
    let near = from_earth_centred(meeting_point(first, second));
    let (edge, other_edge) =
        if first.edge <= second.edge { (first.edge, second.edge) } else { (second.edge, first.edge) };
    Some(Crossing { edge, other_edge, near })
}

/// Whether two pieces share a vertex of either's ring: they touch there, and [`super::build`] looks at what else two
/// rings that share vertices do.
fn meet_at_a_vertex(lines: &Lines, a: u32, b: u32) -> bool {
    let ends = |number: u32| {
        let piece = &lines.pieces[number as usize];
        let is_vertex = |neighbour: u32| {
            lines.pieces.get(neighbour as usize).is_none_or(|neighbour| neighbour.edge != piece.edge)
        };
        [
            (piece.start, is_vertex(lines.previous[number as usize])),
            (piece.end, is_vertex(lines.next[number as usize])),
        ]
    };
    let pairs = ends(a).into_iter().flat_map(|one| ends(b).map(|other| (one, other)));
    pairs.into_iter().any(|(one, other)| (one.1 || other.1) && (one.0 - other.0).norm() <= TOUCH_M)
}

/// Whether the way through piece `through` passes from one side of `across` to the other within its length.
///
/// An end that lies on the line of `across` is replaced by the far end of the piece beyond it, so that a crossing
/// exactly at a joint or vertex is seen, and a mere touch is not.
fn on_both_sides(lines: &Lines, through: u32, across: &Piece) -> bool {
    let piece = &lines.pieces[through as usize];
    let mut from_m = across.left_of_curve_m(piece.start);
    let mut to_m = across.left_of_curve_m(piece.end);
    if from_m.abs() <= TOUCH_M && to_m.abs() <= TOUCH_M {
        return false;
    }
    let beyond = |number: u32, point: fn(&Piece) -> Vector| {
        lines.pieces.get(number as usize).map_or(0.0, |piece| across.left_of_curve_m(point(piece)))
    };
    if from_m.abs() <= TOUCH_M {
        from_m = beyond(lines.previous[through as usize], |piece| piece.start);
    }
    if to_m.abs() <= TOUCH_M {
        to_m = beyond(lines.next[through as usize], |piece| piece.end);
    }
    from_m.abs() > TOUCH_M && to_m.abs() > TOUCH_M && (from_m > 0.0) != (to_m > 0.0)
}

fn meeting_point(first: &Piece, second: &Piece) -> Vector {
    let (from_m, to_m) = (second.left_of_curve_m(first.start), second.left_of_curve_m(first.end));
    let span_m = from_m - to_m;
    let share = if span_m == 0.0 { 0.5 } else { (from_m / span_m).clamp(0.0, 1.0) };
    first.at(share)
}
