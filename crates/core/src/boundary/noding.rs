//! Rings cut where they meet, so that lines which run together run between the same nodes.

use std::borrow::Cow;

use super::near::{Chains, Pair, pairs};
use super::piece::Piece;
use crate::geodesic::Vector;

/// Nodes moved onto each other make other lines meet, hardly ever twice.
const MOST_ROUNDS: usize = 8;
/// How far a node may be moved, in metres: as far as lines that count as one lie apart, across and along, and what rounding
/// adds.
const MOVED_M: f64 = 1.5 * TOGETHER_M;

/// A piece between two nodes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Run {
    pub(super) piece: Piece,
    pub(super) nodes: [u32; 2],
    pub(super) ring: u32,
}

/// Rings as runs between nodes, ring by ring in their order.
#[derive(Debug, Clone)]
pub(super) struct Noded {
    pub(super) runs: Vec<Run>,
}

/// Cuts rings at their meetings and puts what meets on the same nodes; the place where that does not end, if it does
/// not.
pub(super) fn node(rings: &[Vec<Piece>], found: &[Pair]) -> Result<Noded, Vector> {
    let mut noding = Noding::new(rings);
    let mut found = Cow::Borrowed(found);
    for _ in 0..MOST_ROUNDS {
        let Some(changed_at) = noding.cut_at(&found) else {
            return Ok(Noded { runs: noding.runs });
        };
        let pieces: Vec<Piece> = noding.runs.iter().map(|run| run.piece).collect();
        let next = next_in_rings(noding.runs.iter().map(|run| run.ring));
        let again = pairs(Chains { pieces: &pieces, next: &next }, |_, _| false);
        if again.gave_up {
            return Err(changed_at);
        }
        found = Cow::Owned(again.pairs);
    }
    noding.cut_at(&found).map_or(Ok(Noded { runs: noding.runs }), Err)
}

/// For each piece the number of the one that follows it in its ring, if these are the rings of the pieces in order.
pub(super) fn next_in_rings(rings: impl Iterator<Item = u32>) -> Vec<u32> {
    let rings: Vec<u32> = rings.collect();
    let mut next = Vec::with_capacity(rings.len());
    let mut first = 0;
    for (at, ring) in (0_u32..).zip(&rings) {
        if at > 0 && rings[at as usize - 1] != *ring {
            first = at;
        }
        let is_last = rings.get(at as usize + 1) != Some(ring);
        next.push(if is_last { first } else { at + 1 });
    }
    next
}

struct Noding {
    runs: Vec<Run>,
    points: Vec<Vector>,
    /// The node that a node was moved onto; itself if it was not.
    onto: Vec<u32>,
    /// For each node the next of those that lie on one with it, in a ring.
    fellows: Vec<u32>,
}

/// A cut to be made: run, share, node.
type Cut = (u32, f64, u32);

impl Noding {
    fn new(rings: &[Vec<Piece>]) -> Self {
        let (mut runs, mut points) = (Vec::new(), Vec::new());
        for (ring, pieces) in (0..).zip(rings) {
            let first = number(points.len());
            let count = number(pieces.len());
            for (at, piece) in (0..).zip(pieces) {
                points.push(piece.start);
                runs.push(Run { piece: *piece, nodes: [first + at, first + (at + 1) % count], ring });
            }
        }
        let onto: Vec<u32> = (0..number(points.len())).collect();
        Self { runs, points, fellows: onto.clone(), onto }
    }

    /// Makes one round of cuts; none if there was nothing to do, else a place where there was.
    fn cut_at(&mut self, found: &[Pair]) -> Option<Vector> {
        let mut changed_at = None;
        let mut cuts: Vec<Cut> = Vec::new();
        for Pair { pieces, meeting } in found {
            let known =
                [self.end_at(pieces[0], meeting.shares[0]), self.end_at(pieces[1], meeting.shares[1])];
            let nodes = match known {
                [Some(one), Some(other)] => [one, other],
                [Some(one), None] => [one, self.cut(pieces[1], meeting.shares[1], &mut cuts)],
                [None, Some(other)] => [self.cut(pieces[0], meeting.shares[0], &mut cuts), other],
                [None, None] => [
                    self.cut(pieces[0], meeting.shares[0], &mut cuts),
                    self.cut(pieces[1], meeting.shares[1], &mut cuts),
                ],
            };
            if self.unite(nodes) {
                changed_at = Some(self.points[nodes[0] as usize]);
            }
        }
        cuts.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
        for two in cuts.windows(2) {
            let length_m = self.runs[two[0].0 as usize].piece.length_m;
            if two[0].0 == two[1].0 && (two[1].1 - two[0].1) * length_m <= TOGETHER_M {
                self.unite([two[0].2, two[1].2]);
            }
        }
        if !cuts.is_empty() {
            changed_at = changed_at.or(Some(self.points[cuts[0].2 as usize]));
        }
        changed_at.inspect(|_| self.rebuild(&cuts))
    }

    /// The node at an end of a run, if the share lies there.
    fn end_at(&self, run: u32, share: f64) -> Option<u32> {
        let run = &self.runs[run as usize];
        let (from_start_m, to_end_m) = (share * run.piece.length_m, (1.0 - share) * run.piece.length_m);
        if from_start_m.min(to_end_m) > TOGETHER_M {
            None
        } else {
            Some(run.nodes[usize::from(from_start_m > to_end_m)])
        }
    }

    fn cut(&mut self, run: u32, share: f64, cuts: &mut Vec<Cut>) -> u32 {
        let node = number(self.points.len());
        self.points.push(self.runs[run as usize].piece.at(share));
        self.onto.push(node);
        self.fellows.push(node);
        cuts.push((run, share, node));
        node
    }

    fn settled(&mut self, mut node: u32) -> u32 {
        while self.onto[node as usize] != node {
            // chains get shorter each time they are walked
            let beyond = self.onto[self.onto[node as usize] as usize];
            self.onto[node as usize] = beyond;
            node = beyond;
        }
        node
    }

    /// Moves one node onto another, the older of the two, with all that were moved onto it; false if they are one, or if any of
    /// them would come to lie too far from where it was.
    fn unite(&mut self, nodes: [u32; 2]) -> bool {
        let [one, other] = nodes.map(|node| self.settled(node));
        let (older, younger) = (one.min(other), one.max(other));
        if one == other || !self.lie_within_reach(younger, self.points[older as usize]) {
            return false;
        }
        self.onto[younger as usize] = older;
        // two rings that exchange what follows become one
        self.fellows.swap(older as usize, younger as usize);
        true
    }

    /// Whether a node and all that were moved onto it were within a move of a point.
    fn lie_within_reach(&self, node: u32, point: Vector) -> bool {
        let mut at = node;
        loop {
            if (self.points[at as usize] - point).norm() > MOVED_M {
                return false;
            }
            at = self.fellows[at as usize];
            if at == node {
                return true;
            }
        }
    }

    fn rebuild(&mut self, cuts: &[Cut]) {
        let before = std::mem::take(&mut self.runs);
        let mut runs = Vec::with_capacity(before.len() + cuts.len());
        let mut cuts = cuts.iter().peekable();
        for (number, run) in (0..).zip(&before) {
            let mut from = (0.0, self.settled(run.nodes[0]));
            let mut stops = Vec::new();
            while let Some(cut) = cuts.next_if(|cut| cut.0 == number) {
                stops.push((cut.1, self.settled(cut.2)));
            }
            stops.push((1.0, self.settled(run.nodes[1])));
            for to in stops {
                if to.1 == from.1 && (to.0 - from.0) * run.piece.length_m <= 4.0 * TOGETHER_M {
                    continue;
                }
                runs.extend(self.between(run, from, to));
                from = to;
            }
        }
        self.runs = runs;
    }

    fn between(&self, run: &Run, from: (f64, u32), to: (f64, u32)) -> Option<Run> {
        let ends = [self.points[from.1 as usize], self.points[to.1 as usize]];
        let is_whole = (from.0, to.0) == (0.0, 1.0) && ends == [run.piece.start, run.piece.end];
        let piece = if is_whole { run.piece } else { run.piece.part([from.0, to.0], ends)? };
        Some(Run { piece, nodes: [from.1, to.1], ring: run.ring })
    }
}

fn number(at: usize) -> u32 {
    u32::try_from(at).unwrap_or(u32::MAX)
}

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
