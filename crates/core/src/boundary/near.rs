//! All pairs of pieces that meet, found without comparing each piece with each.
//!
//! Runs of pieces that follow each other are held in slanted boxes, and runs of runs in larger ones. Along a ring a run
//! is long and thin, whichever way it runs, so that the teeth of a comb lie in boxes that do not meet.

use super::boxes::{Boxes, SlantedBox};
use super::noding::{Meeting, TOGETHER_M, meetings};
use super::piece::Piece;
use crate::geodesic::Vector;

/// Pieces in a box that is not divided further.
const LEAST_RUN: usize = 4;
/// Meetings of so many pieces, for each piece and beyond a floor, are more than any map has; then all that were found are
/// enough to refuse. The floor is what the spokes of 700 sectors of one disc come to.
const MOST_MEETINGS: usize = 64;
const FLOOR_OF_MEETINGS: usize = 2_000_000;
/// And no more than these in any case: half a gigabyte of them.
const MEETINGS_HELD: usize = 8_000_000;
/// Crossings that are collected before the lowest of them is told.
const MOST_CROSSINGS: usize = 64;
/// Pieces that are compared, for each piece, before slanted boxes are made.
const QUICK_LOOKS: usize = 48;
/// Boxes that are compared, for each piece, before it is given up.
const MOST_LOOKS: usize = 1_000;

/// Two pieces and a place that they share.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pair {
    pub(super) pieces: [u32; 2],
    pub(super) meeting: Meeting,
}

/// What a search found.
#[derive(Debug, Default)]
pub(super) struct Found {
    pub(super) pairs: Vec<Pair>,
    /// Whether it was stopped because there was too much to find.
    pub(super) gave_up: bool,
}

/// Pieces of rings in which piece `next[i]` follows piece `i`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Chains<'a> {
    pub(super) pieces: &'a [Piece],
    pub(super) next: &'a [u32],
}

/// Finds all meetings. Stops early where `forbidden` crossings, of two pieces that may not cross, are many.
pub(super) fn pairs(chains: Chains<'_>, forbidden: impl Fn(usize, usize) -> bool) -> Found {
    if chains.pieces.is_empty() {
        return Found::default();
    }
    if nothing_meets(chains) {
        return Found::default();
    }
    let tree = Tree::new(chains);
    let mut search =
        Search { chains, tree: &tree, found: Found::default(), crossings: 0, looks: 0, forbidden };
    search.within(0);
    search.found
}

/// Whether surely nothing meets, by boxes along the axes of the Earth, which are soon made. Where they say too little, as among
/// leaning teeth, or where something meets, the answer is no, and the slanted boxes have to be asked.
fn nothing_meets(chains: Chains<'_>) -> bool {
    let boxes = Boxes::new(chains.pieces, in_space(chains));
    let mut left = QUICK_LOOKS * chains.pieces.len() + 1_000;
    let mut met = Vec::new();
    boxes.pairs_within(2.0 * TOGETHER_M, |one, other| {
        left -= 1;
        let (a, b) = (one.min(other) as usize, one.max(other) as usize);
        if left > 0 && !lie_apart(&chains.pieces[a], &chains.pieces[b]) {
            chains.meetings(a, b, &mut met);
        }
        left > 0 && met.is_empty()
    })
}

/// Whether some plane along the axes of the Earth lies between two pieces, with room for what counts as one line.
fn lie_apart(one: &Piece, other: &Piece) -> bool {
    let room_m = one.reach_m() + other.reach_m() + 2.0 * TOGETHER_M;
    let ends = [one.start, one.end, other.start, other.end].map(Vector::to_array);
    (0..3).any(|axis| {
        let [a, b, c, d] = ends.map(|end| end[axis]);
        a.max(b) + room_m < c.min(d) || c.max(d) + room_m < a.min(b)
    })
}

impl Chains<'_> {
    /// Where two pieces meet, the first before the second, other than where they join.
    fn meetings(&self, a: usize, b: usize, met: &mut Vec<Meeting>) {
        let (first, second) = (&self.pieces[a], &self.pieces[b]);
        let follows = self.next[a] as usize == b;
        let precedes = self.next[b] as usize == a;
        // neighbours meet where they join; only those that fold back can meet elsewhere
        if (follows || precedes) && !(follows && precedes) && first.along.dot(second.along) > 0.0 {
            return;
        }
        meetings(first, second, met);
        met.retain(|meeting| {
            let at_joint = |ends: [f64; 2]| {
                (0..2).all(|side| {
                    let length_m = [first, second][side].length_m;
                    (meeting.shares[side] - ends[side]).abs() * length_m <= TOGETHER_M
                })
            };
            !((follows && at_joint([1.0, 0.0])) || (precedes && at_joint([0.0, 1.0])))
        });
    }
}

/// The pieces ring by ring, rings that lie beside each other in space together.
pub(super) fn in_space(chains: Chains<'_>) -> Vec<u32> {
    let mut rings: Vec<(u32, u32)> = Vec::new();
    let mut first = 0;
    for (at, next) in (0..).zip(chains.next) {
        if *next <= at {
            rings.push((first, at + 1));
            first = at + 1;
        }
    }
    if first < number(chains.pieces.len()) {
        rings.push((first, number(chains.pieces.len())));
    }
    if rings.len() > 4 {
        arrange(&mut rings, chains.pieces);
    }
    rings.into_iter().flat_map(|(first, last)| first..last).collect()
}

/// Halves the rings across their widest extent, and the halves again.
fn arrange(rings: &mut [(u32, u32)], pieces: &[Piece]) {
    if rings.len() < 3 {
        return;
    }
    let place = |ring: &(u32, u32)| pieces[ring.0 as usize].start.to_array();
    let extent_m = |axis: usize| {
        let values = rings.iter().map(|ring| place(ring)[axis]);
        let (low, high) =
            values.fold((f64::MAX, f64::MIN), |(low, high), value| (low.min(value), high.max(value)));
        high - low
    };
    let widest = (0..3).max_by(|a, b| extent_m(*a).total_cmp(&extent_m(*b))).unwrap_or(0);
    let middle = rings.len() / 2;
    rings.select_nth_unstable_by(middle, |a, b| {
        place(a)[widest].total_cmp(&place(b)[widest]).then(a.0.cmp(&b.0))
    });
    let (low, high) = rings.split_at_mut(middle);
    arrange(low, pieces);
    arrange(high, pieces);
}

/// Runs of pieces in slanted boxes, and runs of runs.
#[derive(Debug)]
pub(super) struct Tree {
    order: Vec<u32>,
    nodes: Vec<Node>,
}

#[derive(Debug, Clone, Copy)]
struct Node {
    first: usize,
    last: usize,
    /// The two halves; both 0 if it is not divided.
    halves: [usize; 2],
    bounds: SlantedBox,
}

impl Tree {
    pub(super) fn new(chains: Chains<'_>) -> Self {
        let mut tree = Self { order: in_space(chains), nodes: Vec::new() };
        if !chains.pieces.is_empty() {
            let pieces: Vec<&Piece> = tree.order.iter().map(|at| &chains.pieces[*at as usize]).collect();
            tree.add(&pieces, 0);
        }
        tree
    }

    fn add(&mut self, pieces: &[&Piece], first: usize) -> usize {
        let at = self.nodes.len();
        let bounds = SlantedBox::about(pieces.iter().copied());
        self.nodes.push(Node { first, last: first + pieces.len(), halves: [0, 0], bounds });
        if pieces.len() > LEAST_RUN {
            let (low, high) = pieces.split_at(pieces.len() / 2);
            let halves = [self.add(low, first), self.add(high, first + low.len())];
            self.nodes[at].halves = halves;
        }
        at
    }

    /// The pieces whose boxes lie within some metres of a place.
    pub(super) fn beside(&self, place: Vector, away_m: f64) -> Vec<u32> {
        let mut found = Vec::new();
        let mut open = if self.nodes.is_empty() { Vec::new() } else { vec![0] };
        while let Some(at) = open.pop() {
            let node = &self.nodes[at];
            if node.bounds.away_m(place) > away_m {
                continue;
            }
            if node.halves == [0, 0] {
                found.extend_from_slice(&self.order[node.first..node.last]);
            } else {
                open.extend(node.halves);
            }
        }
        found
    }
}

struct Search<'a, F> {
    chains: Chains<'a>,
    tree: &'a Tree,
    found: Found,
    crossings: usize,
    looks: usize,
    forbidden: F,
}

impl<F: Fn(usize, usize) -> bool> Search<'_, F> {
    fn is_enough(&mut self) -> bool {
        let pieces = self.chains.pieces.len() + 5_000;
        let most = (MOST_MEETINGS * pieces + FLOOR_OF_MEETINGS).min(MEETINGS_HELD);
        let gave_up = self.found.pairs.len() > most || self.looks > MOST_LOOKS * pieces;
        self.found.gave_up |= gave_up;
        gave_up || self.crossings >= MOST_CROSSINGS
    }

    fn within(&mut self, at: usize) {
        if self.is_enough() {
            return;
        }
        let node = self.tree.nodes[at];
        if node.halves == [0, 0] {
            for one in node.first..node.last {
                for other in one + 1..node.last {
                    self.compare(one, other);
                }
            }
        } else {
            self.within(node.halves[0]);
            self.between(node.halves[0], node.halves[1]);
            self.within(node.halves[1]);
        }
    }

    fn between(&mut self, one: usize, other: usize) {
        self.looks += 1;
        if self.is_enough() {
            return;
        }
        let (a, b) = (self.tree.nodes[one], self.tree.nodes[other]);
        if !a.bounds.meets(&b.bounds) {
            return;
        }
        match (a.halves == [0, 0], b.halves == [0, 0]) {
            (true, true) => {
                for one in a.first..a.last {
                    for other in b.first..b.last {
                        self.compare(one, other);
                    }
                }
            }
            (false, true) => a.halves.into_iter().for_each(|half| self.between(half, other)),
            (true, false) => b.halves.into_iter().for_each(|half| self.between(one, half)),
            (false, false) => {
                for half in a.halves {
                    b.halves.into_iter().for_each(|other| self.between(half, other));
                }
            }
        }
    }

    fn compare(&mut self, one: usize, other: usize) {
        self.looks += 1;
        let (one, other) = (self.tree.order[one], self.tree.order[other]);
        let (a, b) = (one.min(other) as usize, one.max(other) as usize);
        let mut met = Vec::new();
        self.chains.meetings(a, b, &mut met);
        for meeting in met {
            self.crossings += usize::from(meeting.crosses && (self.forbidden)(a, b));
            self.found.pairs.push(Pair { pieces: [number(a), number(b)], meeting });
        }
    }
}

fn number(at: usize) -> u32 {
    u32::try_from(at).unwrap_or(u32::MAX)
}
