//! Which zone displaces which, worked out once for a set.

use std::collections::{HashMap, HashSet};

use super::Zone;
use crate::Tristate;

/// One zone's citation that displaces another zone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Link {
    /// The place in the set of the zone that displaces.
    pub(crate) by: usize,
    /// Which of its overrides says so.
    pub(crate) citation: usize,
    /// Yes, or undecided where the id that is cited fits zones of several other files.
    pub(crate) certainty: Tristate,
}

/// Who displaces whom, by places in the set.
#[derive(Debug, Clone, Default)]
pub(crate) struct OverrideGraph {
    /// For each zone that may be displaced, who may do so.
    over: HashMap<usize, Vec<Link>>,
    /// For each zone with a link, its turn: those that displace it have an earlier one, circles left aside.
    turn: HashMap<usize, usize>,
    /// Zones that displace each other in a circle, each circle in order.
    circles: Vec<Vec<usize>>,
}

impl OverrideGraph {
    /// An override names a zone of its own file first, else of another one that is loaded.
    pub(crate) fn of(zones: &[Zone]) -> Self {
        if zones.iter().all(|zone| zone.overrides.is_empty()) {
            return Self::default();
        }
        let mut with_id: HashMap<&str, Vec<usize>> = HashMap::new();
        for (number, zone) in zones.iter().enumerate() {
            with_id.entry(&zone.id.0).or_default().push(number);
        }
        let mut over: HashMap<usize, Vec<Link>> = HashMap::new();
        for (by, zone) in zones.iter().enumerate() {
            for (citation, cited) in zone.overrides.iter().enumerate() {
                let named = with_id.get(cited.zone.0.as_str()).map_or(&[][..], Vec::as_slice);
                let (meant, certainty) = meant(zones, by, named);
                for under in meant {
                    over.entry(under).or_default().push(Link { by, citation, certainty });
                }
            }
        }
        let (turn, left) = turns(&over);
        let circles = circles(&over, &left);
        Self { over, turn, circles }
    }

    /// Who may displace a zone.
    pub(crate) fn over(&self, number: usize) -> &[Link] {
        self.over.get(&number).map_or(&[], Vec::as_slice)
    }

    /// Lower for a zone than for those that it displaces, but in a circle.
    pub(crate) fn turn(&self, number: usize) -> usize {
        self.turn.get(&number).copied().unwrap_or(0)
    }

    /// Zones that displace each other in a circle: one circle for each knot of them.
    pub(crate) fn circles(&self) -> &[Vec<usize>] {
        &self.circles
    }
}

/// Of the zones that bear an id, those that a citation of another zone can mean, and whether it surely does.
fn meant(zones: &[Zone], by: usize, named: &[usize]) -> (Vec<usize>, Tristate) {
    let is_own = |number: &&usize| zones[**number].file.sha256 == zones[by].file.sha256;
    let own: Vec<usize> = named.iter().filter(is_own).copied().collect();
    if !own.is_empty() {
        return (own, Tristate::Yes);
    }
    let certainty = if named.len() > 1 { Tristate::Undecided } else { Tristate::Yes };
    (named.to_vec(), certainty)
}

/// The turn of every zone that is in no circle and below none, and the zones that are left.
fn turns(over: &HashMap<usize, Vec<Link>>) -> (HashMap<usize, usize>, HashSet<usize>) {
    let mut waits_for: HashMap<usize, usize> = HashMap::new();
    let mut under: HashMap<usize, Vec<usize>> = HashMap::new();
    for (number, links) in over {
        *waits_for.entry(*number).or_default() += links.len();
        for link in links {
            waits_for.entry(link.by).or_default();
            under.entry(link.by).or_default().push(*number);
        }
    }
    let mut free: Vec<usize> =
        waits_for.iter().filter(|(_, count)| **count == 0).map(|(number, _)| *number).collect();
    let mut turn = HashMap::new();
    while let Some(number) = free.pop() {
        turn.insert(number, turn.len());
        for below in under.get(&number).into_iter().flatten() {
            if let Some(count) = waits_for.get_mut(below) {
                *count -= 1;
                if *count == 0 {
                    free.push(*below);
                }
            }
        }
    }
    let left: HashSet<usize> = waits_for.into_keys().filter(|number| !turn.contains_key(number)).collect();
    for number in &left {
        turn.insert(*number, usize::MAX);
    }
    (turn, left)
}

/// Every zone that is left is displaced by another one that is left, so walking up from any ends in a circle.
fn circles(over: &HashMap<usize, Vec<Link>>, left: &HashSet<usize>) -> Vec<Vec<usize>> {
    let mut starts: Vec<usize> = left.iter().copied().collect();
    starts.sort_unstable();
    let mut seen: HashSet<usize> = HashSet::new();
    let mut found = Vec::new();
    for start in starts {
        let mut way: Vec<usize> = Vec::new();
        let mut at = Some(start);
        while let Some(number) = at.filter(|number| seen.insert(*number)) {
            way.push(number);
            let above = over.get(&number).into_iter().flatten().map(|link| link.by);
            at = above.filter(|by| left.contains(by)).min();
        }
        if let Some(begins) = at.and_then(|number| way.iter().position(|other| *other == number)) {
            let mut circle = way.split_off(begins);
            // told in the direction in which they displace
            circle.reverse();
            let first = (0..circle.len()).min_by_key(|at| circle[*at]).unwrap_or(0);
            circle.rotate_left(first);
            found.push(circle);
        }
    }
    found
}
