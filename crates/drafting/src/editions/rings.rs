//! Which ring of one edition became which of the other.

use std::collections::{BinaryHeap, HashMap, HashSet};

use rstar::RTree;
use rstar::primitives::GeomWithData;

use super::line::Placed;
use super::reach::direction;
use super::ring::key;

type Corner = GeomWithData<[f64; 3], usize>;

/// Rings of both editions that most likely became each other; and those left of each.
pub(super) struct RingPairs {
    pub(super) pairs: Vec<(Placed, Placed)>,
    pub(super) only_old: Vec<Placed>,
    pub(super) only_new: Vec<Placed>,
}

/// Pairs rings: first those that are the same, then by shared vertices, then by nearness. Holes become holes.
///
/// Rings that are the same are in no list.
pub(super) fn pair(old: Vec<Placed>, new: Vec<Placed>) -> RingPairs {
    let mut of_least: HashMap<_, Vec<usize>> = HashMap::new();
    for (at, ring) in new.iter().enumerate() {
        of_least.entry(least_key(ring)).or_default().push(at);
    }
    let mut new: Vec<Option<Placed>> = new.into_iter().map(Some).collect();
    let mut changed = Vec::new();
    for ring in old {
        let likely = of_least.get_mut(&least_key(&ring));
        let same = |at: &usize| new[*at].as_ref().is_some_and(|other| ring.laid.is_same(&other.laid));
        match likely.and_then(|likely| Some(likely.swap_remove(likely.iter().position(same)?))) {
            Some(at) => new[at] = None,
            None => changed.push(Some(ring)),
        }
    }
    let mut left =
        Left { old: changed, new: new.into_iter().flatten().map(Some).collect(), pairs: Vec::new() };
    left.by_shared_vertices();
    for holes in [false, true] {
        left.by_nearness(holes);
    }
    RingPairs {
        pairs: left.pairs,
        only_old: left.old.into_iter().flatten().collect(),
        only_new: left.new.into_iter().flatten().collect(),
    }
}

/// The same for rings that are the same, but for what rounding does to a vertex: whether it is a hole, and its first vertex in
/// the order of keys. A ring that misses itself by that is found by its shared vertices, and nothing of it has changed.
fn least_key(ring: &Placed) -> (bool, usize, Option<(i64, i64)>) {
    let least = ring.laid.vertices.iter().map(|corner| key(corner.position)).min();
    (ring.is_hole(), ring.laid.vertices.len(), least)
}

struct Left {
    old: Vec<Option<Placed>>,
    new: Vec<Option<Placed>>,
    pairs: Vec<(Placed, Placed)>,
}

impl Left {
    fn take(&mut self, one: usize, two: usize) {
        if self.old[one].is_some() && self.new[two].is_some() {
            self.pairs.extend(self.old[one].take().zip(self.new[two].take()));
        }
    }

    /// Pairs rings that share vertices, those that share the most first.
    fn by_shared_vertices(&mut self) {
        let mut holders: HashMap<(i64, i64), Vec<usize>> = HashMap::new();
        for (at, ring) in placed(&self.new) {
            for corner in &ring.laid.vertices {
                holders.entry(key(corner.position)).or_default().push(at);
            }
        }
        let mut shared: Vec<(usize, usize, usize)> = Vec::new();
        for (at, ring) in placed(&self.old) {
            let known: HashSet<(i64, i64)> =
                ring.laid.vertices.iter().map(|corner| key(corner.position)).collect();
            let mut counts: HashMap<usize, usize> = HashMap::new();
            for other in known.iter().filter_map(|key| holders.get(key)).flatten() {
                *counts.entry(*other).or_default() += 1;
            }
            let is_alike = |other: &usize| {
                self.new[*other].as_ref().is_some_and(|other| other.is_hole() == ring.is_hole())
            };
            let counts = counts.into_iter().filter(|(other, _)| is_alike(other));
            shared.extend(counts.map(|(other, count)| (count, at, other)));
        }
        shared.sort_by_key(|(count, one, two)| (std::cmp::Reverse(*count), *one, *two));
        for (_, one, two) in shared {
            self.take(one, two);
        }
    }

    /// Pairs what is left by how near the first vertex of an old ring is to some vertex of a new one, nearest first.
    fn by_nearness(&mut self, holes: bool) {
        let of_kind = |(_, ring): &(usize, &Placed)| ring.is_hole() == holes;
        let corners_of = |(at, ring): (usize, &Placed)| -> Vec<Corner> {
            let corner = |corner: &super::ring::Corner| Corner::new(direction(corner.position), at);
            ring.laid.vertices.iter().map(corner).collect()
        };
        let corners = placed(&self.new).filter(of_kind).flat_map(corners_of).collect();
        let mut corners: RTree<Corner> = RTree::bulk_load(corners);
        let first = |ring: &Placed| ring.laid.vertices.first().map(|corner| direction(corner.position));
        let starts = placed(&self.old).filter(of_kind).filter_map(|(at, ring)| Some((at, first(ring)?)));
        let starts: HashMap<usize, [f64; 3]> = starts.collect();
        let nearest = |corners: &RTree<Corner>, at: usize| {
            let start = starts.get(&at)?;
            let corner = corners.nearest_neighbor(*start)?;
            Some(Nearest { away: squared(start, corner.geom()), one: at, two: corner.data })
        };
        let mut queue: BinaryHeap<Nearest> = starts.keys().filter_map(|at| nearest(&corners, *at)).collect();
        while let Some(Nearest { one, two, .. }) = queue.pop() {
            let Some(ring) = &self.new[two] else {
                // somebody nearer has taken it
                queue.extend(nearest(&corners, one));
                continue;
            };
            for corner in corners_of((two, ring)) {
                corners.remove(&corner);
            }
            self.take(one, two);
        }
    }
}

fn placed(rings: &[Option<Placed>]) -> impl Iterator<Item = (usize, &Placed)> {
    rings.iter().enumerate().filter_map(|(at, ring)| Some((at, ring.as_ref()?)))
}

fn squared(one: &[f64; 3], other: &[f64; 3]) -> f64 {
    (0..3).map(|axis| (one[axis] - other[axis]).powi(2)).sum()
}

/// An old ring and the nearest new one; the greatest is the nearest.
#[derive(Debug, PartialEq)]
struct Nearest {
    away: f64,
    one: usize,
    two: usize,
}

impl Eq for Nearest {}

impl Ord for Nearest {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        other.away.total_cmp(&self.away).then((other.one, other.two).cmp(&(self.one, self.two)))
    }
}

impl PartialOrd for Nearest {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}
