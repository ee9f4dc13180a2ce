//! Where two pieces meet: an end of the one on the other, a crossing, a touch.

use super::piece::Piece;
use crate::geodesic::Vector;

/// Lines nearer to each other than this count as one, in metres: printed vertices that should lie on a line miss it by
/// rounding.
pub(super) const TOGETHER_M: f64 = 1e-3;

/// Parts of the way along a piece that are looked at for crossings.
const STEPS: u32 = 8;

/// A place that two pieces share, as the share of the chord on each.
#[derive(Debug, Clone, Copy)]
pub(super) struct Meeting {
    pub(super) shares: [f64; 2],
    /// Whether each runs from farther than [`TOGETHER_M`] on one side of the other to as far on its other side.
    pub(super) crosses: bool,
}

/// Finds where two pieces meet; nothing if they stay clear of each other.
pub(super) fn meetings(one: &Piece, other: &Piece, found: &mut Vec<Meeting>) {
    if clear(one, other) || clear(other, one) {
        return;
    }
    for (share, end) in [(0.0, one.start), (1.0, one.end)] {
        if let Some(foot) = on(other, end) {
            found.push(Meeting { shares: [share, foot], crosses: false });
        }
    }
    for (share, end) in [(0.0, other.start), (1.0, other.end)] {
        if let Some(foot) = on(one, end) {
            found.push(Meeting { shares: [foot, share], crosses: false });
        }
    }
    crossings(one, other, found);
}

/// The share of a piece at which a point lies on it.
fn on(piece: &Piece, point: Vector) -> Option<f64> {
    let foot = piece.foot(point);
    (foot.chord_m <= TOGETHER_M).then_some(foot.share)
}

/// Whether a piece stays on one side of another or beyond one of its ends, by the triangle that holds its curve.
fn clear(piece: &Piece, of: &Piece) -> bool {
    let corners = [piece.start, piece.control(), piece.end].map(|corner| of.offset(corner));
    let range = |values: [f64; 3]| {
        values.into_iter().fold((f64::MAX, f64::MIN), |(low, high), value| (low.min(value), high.max(value)))
    };
    let (first, last) = range(corners.map(|corner| corner.1));
    let (right_m, left_m) = range(corners.map(|corner| corner.0));
    let room = TOGETHER_M / of.length_m;
    first > 1.0 + room
        || last < -room
        || right_m > of.bulge_m.max(0.0) + TOGETHER_M
        || left_m < of.bulge_m.min(0.0) - TOGETHER_M
}

/// A place along the one piece: its share, and how far to the left of the other it lies.
type Beside = (f64, f64);

fn crossings(one: &Piece, other: &Piece, found: &mut Vec<Meeting>) {
    let Some((first, last)) = span_beside(one, other) else { return };
    let beside = |share: f64| (share, other.left_of_curve_m(one.at(share)));
    let looked_at: Vec<Beside> =
        (0..=STEPS).map(|step| beside(first + (last - first) * f64::from(step) / f64::from(STEPS))).collect();
    let mut turns = vec![looked_at[0]];
    for three in looked_at.windows(3) {
        if let Some(share) = turning_share([three[0], three[1], three[2]]) {
            turns.push(beside(share));
        }
        turns.push(three[1]);
    }
    turns.push(looked_at[looked_at.len() - 1]);
    turns.sort_by(|a, b| a.0.total_cmp(&b.0));
    // the last place that lay clear on a side, and the nearest to the other line since
    let mut clear_at: Option<Beside> = None;
    let mut nearest: Option<Beside> = None;
    for turn in turns {
        if turn.1.abs() <= TOGETHER_M {
            if nearest.is_none_or(|nearest| turn.1.abs() < nearest.1.abs()) {
                nearest = Some(turn);
            }
            continue;
        }
        if let Some(before) = clear_at {
            let crosses = (before.1 > 0.0) != (turn.1 > 0.0);
            let share = if crosses { Some(root(before, turn, beside)) } else { nearest.map(|near| near.0) };
            if let Some(share) = share {
                let foot = other.foot(one.at(share)).share;
                if !ends_there(other, foot, one) {
                    found.push(Meeting { shares: [share, foot], crosses });
                }
            }
        }
        (clear_at, nearest) = (Some(turn), None);
    }
}

/// Whether a piece runs from a share of it to one of its ends without leaving the line of another: then it ends on that
/// line and crosses nothing.
fn ends_there(piece: &Piece, share: f64, line: &Piece) -> bool {
    [0.0, 1.0].into_iter().any(|end: f64| {
        [1.0, 0.75, 0.5, 0.25]
            .into_iter()
            .all(|way| on(line, piece.at(share + (end - share) * way)).is_some())
    })
}

/// The span of the one piece that lies beside the other, between its ends.
fn span_beside(one: &Piece, other: &Piece) -> Option<(f64, f64)> {
    let along = |share: f64| other.offset(one.at(share)).1;
    // the share along the other is a parabola of the share along the one
    let (at_start, at_middle, at_end) = (along(0.0), along(0.5), along(1.0));
    let square = 2.0 * (at_start - 2.0 * at_middle + at_end);
    let slope = at_end - at_start - square;
    let mut ends = vec![0.0, 1.0];
    for value in [0.0, 1.0] {
        ends.extend(roots(square, slope, at_start - value).into_iter().flatten());
    }
    ends.retain(|share| (0.0..=1.0).contains(share));
    ends.sort_by(f64::total_cmp);
    let is_beside = |span: &&[f64]| (0.0..=1.0).contains(&along(f64::midpoint(span[0], span[1])));
    let spans: Vec<&[f64]> = ends.windows(2).filter(is_beside).collect();
    Some((spans.first()?[0], spans.last()?[1]))
}

fn roots(square: f64, slope: f64, constant: f64) -> [Option<f64>; 2] {
    let half = slope / 2.0;
    let discriminant = half * half - square * constant;
    if discriminant < 0.0 {
        return [None, None];
    }
    let sum = -(half + discriminant.sqrt().copysign(half));
    let quotient = |over: f64, under: f64| (under != 0.0).then(|| over / under);
    [quotient(sum, square), quotient(constant, sum)]
}

/// Where the parabola through three places turns, if between the outer ones.
fn turning_share([a, b, c]: [Beside; 3]) -> Option<f64> {
    let (before, after) = (b.1 - a.1, c.1 - b.1);
    let bend = after - before;
    if bend == 0.0 || before * after > 0.0 {
        return None;
    }
    let share = b.0 - (c.0 - a.0) / 4.0 * (before + after) / bend;
    (a.0..=c.0).contains(&share).then_some(share)
}

/// Where a way between two places on different sides crosses.
fn root(from: Beside, to: Beside, beside: impl Fn(f64) -> Beside) -> f64 {
    let (mut low, mut high) = (from, to);
    for _ in 0..60 {
        let middle = beside(f64::midpoint(low.0, high.0));
        if (middle.1 > 0.0) == (low.1 > 0.0) {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low.0, high.0)
}
