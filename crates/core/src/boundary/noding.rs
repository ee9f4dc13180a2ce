//! Rings cut where they meet, so that lines which run together run between the same nodes.

use std::borrow::Cow;

use super::meeting::TOGETHER_M;
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
