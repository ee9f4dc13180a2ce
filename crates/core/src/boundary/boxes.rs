//! Boxes about runs of pieces, eight to a node, in the order of the outline: what lies near a place is found without
//! asking each piece.
//!
//! Pieces that follow each other lie beside each other, so runs of them need no sorting, and a box of boxes is one node of
//! plain numbers. A box is never nearer than what it holds (the reach of each piece counted), and its distance in single
//! precision is taken for less than it is by more than rounding can make of it.

use super::noding::TOGETHER_M;
use super::piece::Piece;
use crate::geodesic::{SMALLEST_RADIUS_M, Vector};

/// Boxes in a node.
const WIDE: usize = 8;
/// How far apart the numbers of the first boxes of two nodes are.
const STRIDE: u32 = 8;
/// Pieces in the smallest box.
const RUN: usize = 4;
/// More levels than 2³² pieces need.
const MOST_LEVELS: usize = 12;
/// Single precision: each of some ten operations is off by at most 6e-8 of its result.
const ROUNDING: f64 = 1e-6;

/// The tree.
#[derive(Debug, Clone, Default)]
pub(super) struct Boxes {
    /// Pieces in the order of the boxes.
    order: Vec<u32>,
    /// From here places are counted, so that single precision is enough.
    origin: Vector,
    /// Nodes of the lowest level first, the root last.
    nodes: Vec<Node>,
    /// Where each level begins in `nodes`.
    levels: Vec<u32>,
}

#[derive(Debug, Clone, Copy)]
struct Node {
    low: [[f32; WIDE]; 3],
    high: [[f32; WIDE]; 3],
}

const EMPTY: Node = Node { low: [[f32::INFINITY; WIDE]; 3], high: [[f32::NEG_INFINITY; WIDE]; 3] };

/// A box in metres from the origin.
#[derive(Debug, Clone, Copy)]
struct Extent {
    low: [f64; 3],
    high: [f64; 3],
}

impl Extent {
    const NOTHING: Self = Self { low: [f64::INFINITY; 3], high: [f64::NEG_INFINITY; 3] };

    fn hold(&mut self, point: Vector, by_m: f64) {
        for (axis, at) in point.to_array().into_iter().enumerate() {
            self.low[axis] = self.low[axis].min(at - by_m);
            self.high[axis] = self.high[axis].max(at + by_m);
        }
    }

    fn join(&mut self, other: &Self) {
        for axis in 0..3 {
            self.low[axis] = self.low[axis].min(other.low[axis]);
            self.high[axis] = self.high[axis].max(other.high[axis]);
        }
    }
}

/// What a walk through the boxes is still to look at.
#[derive(Debug, Clone, Copy, Default)]
struct Waiting {
    level: u8,
    number: u32,
    away_2: f32,
}

impl Boxes {
    /// Boxes about pieces, in an order in which neighbours lie beside each other.
    pub(super) fn new(pieces: &[Piece], order: Vec<u32>) -> Self {
        let Some(first) = order.first() else { return Self::default() };
        let origin = pieces[*first as usize].start;
        let extent = |run: &[u32]| {
            let mut extent = Extent::NOTHING;
            for piece in run.iter().map(|at| &pieces[*at as usize]) {
                extent.hold(piece.start - origin, piece.reach_m());
                extent.hold(piece.end - origin, piece.reach_m());
            }
            extent
        };
        let mut extents: Vec<Extent> = order.chunks(RUN).map(extent).collect();
        let (mut nodes, mut levels) = (Vec::new(), Vec::new());
        loop {
            levels.push(u32::try_from(nodes.len()).unwrap_or(u32::MAX));
            nodes.extend(extents.chunks(WIDE).map(Node::of));
            if extents.len() <= WIDE {
                nodes.shrink_to_fit();
                levels.shrink_to_fit();
                return Self { order, origin, nodes, levels };
            }
            extents = extents.chunks(WIDE).map(joined).collect();
        }
    }

    /// The pieces in the order in which the boxes hold them.
    pub(super) fn order(&self) -> &[u32] {
        &self.order
    }

    /// Walks through the runs of pieces that may lie within a distance, the nearer boxes first.
    ///
    /// `look` is given each run and says how far off, in metres, what follows is still of interest; nothing is, below 0. What is returned is the
    /// least that any piece not looked at can be away, in metres.
    pub(super) fn walk(&self, place: Vector, within_m: f64, mut look: impl FnMut(&[u32]) -> f64) -> f64 {
        let from = (place - self.origin).to_array();
        let slop_m = ROUNDING * from.iter().map(|at| at.abs()).fold(0.0, f64::max) + 1e-6;
        let from = from.map(single);
        let mut limit_2 = squared(within_m, slop_m);
        let mut left_2 = f32::INFINITY;
        let mut waiting = [Waiting::default(); MOST_LEVELS * WIDE];
        let Some(root) = self.levels.len().checked_sub(1) else { return f64::INFINITY };
        waiting[0] = Waiting { level: u8::try_from(root).unwrap_or(u8::MAX), number: 0, away_2: 0.0 };
        let mut count = 1;
        while count > 0 {
            count -= 1;
            let Waiting { level, number, away_2 } = waiting[count];
            if away_2 > limit_2 {
                left_2 = smaller(left_2, away_2);
                continue;
            }
            let node = &self.nodes[self.levels[level as usize] as usize + number as usize];
            let away_2 = node.away_2(from);
            let first = count;
            for (number, away_2) in (number * STRIDE..).zip(away_2) {
                if away_2 > limit_2 {
                    left_2 = smaller(left_2, away_2);
                    continue;
                }
                // the nearest last, which is looked at next
                let mut at = count;
                while at > first && waiting[at - 1].away_2 < away_2 {
                    waiting[at] = waiting[at - 1];
                    at -= 1;
                }
                waiting[at] = Waiting { level: level.wrapping_sub(1), number, away_2 };
                count += 1;
            }
            if level == 0 {
                while count > first {
                    count -= 1;
                    let Waiting { number, away_2, .. } = waiting[count];
                    if away_2 > limit_2 {
                        left_2 = smaller(left_2, away_2);
                        continue;
                    }
                    let run = number as usize * RUN;
                    let within_m = look(&self.order[run..self.order.len().min(run + RUN)]);
                    if within_m < 0.0 {
                        return 0.0;
                    }
                    limit_2 = smaller(limit_2, squared(within_m, slop_m));
                }
            }
        }
        (f64::from(left_2).sqrt() * (1.0 - ROUNDING) - slop_m).max(0.0)
    }
}

impl Boxes {
    /// Tells pairs of pieces of which the boxes of their runs lie within so many metres of each other, each pair once, the
    /// piece that comes first in the order of the boxes first. `look` says whether to go on; whether it always did is
    /// returned.
    pub(super) fn pairs_within(&self, by_m: f64, mut look: impl FnMut(u32, u32) -> bool) -> bool {
        let by_m = single(by_m).next_up();
        (0..self.order.len().div_ceil(RUN)).all(|run| {
            let mut goes_on = true;
            self.runs_about(run, by_m, |other| {
                for (at, piece) in self.run(run).iter().enumerate() {
                    let others = if other == run { &self.run(run)[at + 1..] } else { self.run(other) };
                    goes_on = goes_on && others.iter().all(|other| look(*piece, *other));
                }
            });
            goes_on
        })
    }

    fn run(&self, run: usize) -> &[u32] {
        let first = run * RUN;
        &self.order[first..self.order.len().min(first + RUN)]
    }

    /// The runs from this one on whose boxes lie within so many metres of its own.
    fn runs_about(&self, run: usize, by_m: f32, mut found: impl FnMut(usize)) {
        let own = &self.nodes[run / WIDE];
        // outwards in any case, even where so little is lost in rounding
        let low = [0, 1, 2].map(|axis: usize| (own.low[axis][run % WIDE] - by_m).next_down());
        let high = [0, 1, 2].map(|axis: usize| (own.high[axis][run % WIDE] + by_m).next_up());
        let mut open = [(0, 0); MOST_LEVELS * WIDE];
        let Some(root) = self.levels.len().checked_sub(1) else { return };
        open[0] = (root, 0);
        let mut count = 1;
        while count > 0 {
            count -= 1;
            let (level, number) = open[count];
            let node = &self.nodes[self.levels[level] as usize + number];
            // runs below the last of a box, counted in runs
            let runs_within = WIDE.pow(u32::try_from(level).unwrap_or(0));
            for (at, meets) in node.meets(low, high).into_iter().enumerate().rev() {
                let box_number = number * WIDE + at;
                if !meets || (box_number + 1) * runs_within <= run {
                    continue;
                }
                if level == 0 {
                    found(box_number);
                } else {
                    open[count] = (level - 1, box_number);
                    count += 1;
                }
            }
        }
    }
}

impl Node {
    #[expect(
        clippy::needless_range_loop,
        reason = "in this form it is a few instructions for all boxes at once"
    )]
    fn meets(&self, low: [f32; 3], high: [f32; 3]) -> [bool; WIDE] {
        let mut meets = [true; WIDE];
        for axis in 0..3 {
            for at in 0..WIDE {
                meets[at] &= self.low[axis][at] <= high[axis] && self.high[axis][at] >= low[axis];
            }
        }
        meets
    }

    fn of(extents: &[Extent]) -> Self {
        let mut node = EMPTY;
        for (at, extent) in extents.iter().enumerate() {
            for axis in 0..3 {
                node.low[axis][at] = single(extent.low[axis]).next_down();
                node.high[axis][at] = single(extent.high[axis]).next_up();
            }
        }
        node
    }

    /// Squared distances to the boxes; infinite for those that are not there.
    #[expect(
        clippy::needless_range_loop,
        reason = "in this form it is a few instructions for all boxes at once"
    )]
    fn away_2(&self, from: [f32; 3]) -> [f32; WIDE] {
        let mut away_2 = [0.0; WIDE];
        for axis in 0..3 {
            for at in 0..WIDE {
                let off = larger(self.low[axis][at] - from[axis], from[axis] - self.high[axis][at]);
                let off = larger(off, 0.0);
                away_2[at] += off * off;
            }
        }
        away_2
    }
}

fn joined(extents: &[Extent]) -> Extent {
    let mut all = Extent::NOTHING;
    for extent in extents {
        all.join(extent);
    }
    all
}

/// The square of a distance, made larger by more than the rounding of what it is compared with.
fn squared(within_m: f64, slop_m: f64) -> f32 {
    let within_m = (within_m.max(0.0) + slop_m) * (1.0 + 2.0 * ROUNDING);
    // what is not there is infinitely far away, and never within
    smaller(single(within_m * within_m).next_up(), f32::MAX)
}

#[expect(clippy::cast_possible_truncation, reason = "rounded to single precision on purpose, see ROUNDING")]
fn single(value: f64) -> f32 {
    value as f32
}

// without the cases for what is no number, so that they are one instruction for several boxes
fn smaller(one: f32, other: f32) -> f32 {
    if one < other { one } else { other }
}

fn larger(one: f32, other: f32) -> f32 {
    if one > other { one } else { other }
}

#[derive(Debug, Clone, Copy, Default)]
pub(super) struct SlantedBox {
    centre: Vector,
    axes: [Vector; 3],
    half_m: [f64; 3],
}

/// The two planes of a slanted box that stand along it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Strip {
    across: Vector,
    middle_m: f64,
    half_m: f64,
}

impl SlantedBox {
    /// The box about some pieces, its long side along their length as seen from above.
    pub(super) fn about<'a>(pieces: impl Iterator<Item = &'a Piece> + Clone) -> Self {
        let Some(first) = pieces.clone().next().map(|piece| piece.start) else { return Self::default() };
        let up = first.unit();
        let aside = if up.z.abs() < 0.9 { Vector::new(0.0, 0.0, 1.0) } else { Vector::new(1.0, 0.0, 0.0) };
        let east = aside.cross(up).unit();
        let north = up.cross(east);
        let (mut sum, mut squares, mut count) = ([0.0; 2], [0.0; 3], 0.0);
        for point in pieces.clone().map(|piece| piece.end) {
            let (x, y) = ((point - first).dot(east), (point - first).dot(north));
            sum = [sum[0] + x, sum[1] + y];
            squares = [squares[0] + x * x, squares[1] + y * y, squares[2] + x * y];
            count += 1.0;
        }
        let spread = [
            squares[0] - sum[0] * sum[0] / count,
            squares[1] - sum[1] * sum[1] / count,
            squares[2] - sum[0] * sum[1] / count,
        ];
        let angle = 0.5 * (2.0 * spread[2]).atan2(spread[0] - spread[1]);
        let along = east * angle.cos() + north * angle.sin();
        let axes = [along, up.cross(along), up];
        let (mut low, mut high) = ([f64::MAX; 3], [f64::MIN; 3]);
        for point in pieces.flat_map(|piece| [piece.start, piece.control(), piece.end]) {
            for (axis, direction) in axes.iter().enumerate() {
                let value = (point - first).dot(*direction);
                low[axis] = low[axis].min(value);
                high[axis] = high[axis].max(value);
            }
        }
        let middle = |axis: usize| axes[axis] * low[axis].midpoint(high[axis]);
        Self {
            centre: first + middle(0) + middle(1) + middle(2),
            axes,
            half_m: [0, 1, 2].map(|axis: usize| (high[axis] - low[axis]) / 2.0),
        }
    }

    /// Whether no plane square to an axis of the one or the other box lies between them.
    pub(super) fn meets(&self, other: &Self) -> bool {
        let apart = other.centre - self.centre;
        let divides = |axis: &Vector| {
            let half_m = |of: &Self| -> f64 {
                (0..3).map(|side| of.half_m[side] * of.axes[side].dot(*axis).abs()).sum()
            };
            apart.dot(*axis).abs() > half_m(self) + half_m(other) + 2.0 * TOGETHER_M
        };
        !self.axes.iter().chain(&other.axes).any(divides)
    }

    /// How far a place lies from the box, in metres; 0 within it.
    pub(super) fn away_m(&self, place: Vector) -> f64 {
        let apart = place - self.centre;
        let off_m = |side: usize| (apart.dot(self.axes[side]).abs() - self.half_m[side]).max(0.0);
        let [along_m, across_m, up_m] = [0, 1, 2].map(off_m);
        (along_m * along_m + across_m * across_m + up_m * up_m).sqrt()
    }

    /// The strip that holds the pieces and, with some metres of room, the straight way over the surface between any two
    /// of their points.
    ///
    /// A chord between two points L apart lies in the box, at most L²/8R under the surface. The vertical there leans by
    /// at most L/R against the box, so the way over the chord is at most L³/8R² outside.
    pub(super) fn strip(&self, room_m: f64) -> Strip {
        let length_m = 2.0 * self.half_m[0].hypot(self.half_m[1]);
        let lean = length_m / SMALLEST_RADIUS_M;
        Strip {
            across: self.axes[1],
            middle_m: self.centre.dot(self.axes[1]),
            half_m: self.half_m[1] + room_m + length_m * lean * lean / 4.0,
        }
    }
}

impl Strip {
    pub(super) fn is_beside(&self, place: Vector) -> bool {
        (place.dot(self.across) - self.middle_m).abs() > self.half_m
    }
}

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use proptest::prelude::*;

    use super::*;
    use crate::Position;
    use crate::geodesic::{direct, surface};

    /// Pieces one after the other, each so long and turned so far against the one before.
    fn pieces() -> impl Strategy<Value = (Vec<Piece>, Position)> {
        let turns = proptest::collection::vec((0.0..360.0_f64, 0.001..1_990.0_f64), 1..300);
        (-89.0..89.0_f64, -180.0..180.0_f64, turns).prop_map(|(lat, lon, turns)| {
            let start = Position::from_degrees(lat, lon).unwrap();
            let mut at = start;
            let piece = |(bearing_deg, length_m): (f64, f64)| {
                let to = direct(at, bearing_deg, length_m);
                let from = std::mem::replace(&mut at, to);
                Piece::between(from, at, 0)
            };
            (turns.into_iter().filter_map(piece).collect(), start)
        })
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(300))]

        /// A limit that shrinks to some distance beyond the nearest piece leaves out nothing that is nearer than what is told.
        #[test]
        fn no_piece_left_out_is_nearer_than_what_is_told(
            (pieces, start) in pieces(), bearing_deg in 0.0..360.0_f64, log_away in -3.0..6.5_f64, log_more in -3.0..5.0_f64,
        ) {
            let order = (0..u32::try_from(pieces.len()).unwrap()).collect();
            let boxes = Boxes::new(&pieces, order);
            let here = surface(direct(start, bearing_deg, 10.0_f64.powf(log_away))).point;
            let mut looked_at = HashSet::new();
            let mut nearest_m = f64::INFINITY;
            let told_m = boxes.walk(here, f64::INFINITY, |run| {
                for number in run {
                    looked_at.insert(*number);
                    nearest_m = nearest_m.min(pieces[*number as usize].foot(here).chord_m);
                }
                nearest_m + 10.0_f64.powf(log_more)
            });
            for (number, piece) in (0..).zip(&pieces) {
                let away_m = piece.foot(here).chord_m;
                prop_assert!(looked_at.contains(&number) || away_m >= told_m, "{away_m} for {told_m}");
                prop_assert!(away_m >= nearest_m, "{away_m} for {nearest_m}");
            }
        }
    }
}
