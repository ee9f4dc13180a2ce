//! The outline of a zone: of all that its rings run along, the lines with the zone on one side only.

use std::collections::{BTreeMap, HashMap, HashSet};

use super::noding::{Noded, Run, TOGETHER_M};
use super::piece::Piece;
use super::winding::{Winding, WoundRing, beside};
use crate::geodesic::Vector;

/// Which part a ring belongs to, and what is known of how it meets others.
#[derive(Debug, Clone, Copy)]
pub(super) struct RingRole {
    pub(super) part: usize,
    pub(super) is_hole: bool,
    /// Whether it meets any ring, itself included.
    pub(super) meets: bool,
    /// Whether its part has a hole or a ring that meets itself: then the part may contradict itself.
    pub(super) doubtful: bool,
}

/// Why there is no outline.
#[derive(Debug, Clone, Copy)]
pub(super) enum NoOutline {
    /// The rings of one part run round a place beside this run of this ring twice, or the wrong way.
    Contradiction { ring: usize, edge: u32, near: Vector },
    /// Nothing of the part of this ring is left.
    Nothing { ring: usize },
    /// Lines end here.
    Open { edge: u32, near: Vector },
}

/// The outline as closed ways with the zone on the left, and which runs lie on it.
#[derive(Debug)]
pub(super) struct Outline {
    pub(super) ways: Vec<Vec<Piece>>,
    pub(super) kept: Vec<bool>,
    /// Runs that lie on it and are left of what their own ring walks both ways.
    pub(super) left_of_ring: Vec<bool>,
}

impl Outline {
    /// Nodes at which more than two runs of one ring end, of those that are left of it, with the ring.
    pub(super) fn nodes_of_several_ways(&self, noded: &Noded) -> HashSet<(u32, u32)> {
        let mut ends: HashMap<(u32, u32), usize> = HashMap::new();
        for (run, _) in noded.runs.iter().zip(&self.left_of_ring).filter(|(_, left)| **left) {
            for node in run.nodes {
                *ends.entry((run.ring, node)).or_default() += 1;
            }
        }
        ends.into_iter().filter(|(_, count)| *count > 2).map(|(end, _)| end).collect()
    }
}

/// Finds the outline of rings that have the zone on their left.
pub(super) fn outline(noded: &Noded, roles: &[RingRole]) -> Result<Outline, NoOutline> {
    let pieces: Vec<Piece> = noded.runs.iter().map(|run| run.piece).collect();
    let lines = Lines::new(&noded.runs, roles);
    let ways = ring_ranges(&noded.runs, roles);
    let mut rings: BTreeMap<usize, Vec<WoundRing>> = BTreeMap::new();
    for way in &ways {
        rings.entry(way.part).or_default().push(way.wound.clone());
    }
    for (part, own) in lines.of_doubtful_parts() {
        lines.check_part(&pieces, part, (&own, rings.get(&part).map_or(&[], Vec::as_slice)))?;
    }
    let winding = Winding::new(&pieces, &ways.iter().map(|way| way.wound.clone()).collect::<Vec<_>>());
    let mut kept = vec![false; pieces.len()];
    let mut turned = vec![false; pieces.len()];
    let mut left_of_ring = vec![false; pieces.len()];
    for (number, line) in lines.all.iter().enumerate() {
        let multiple = line.multiple(|_| true);
        if multiple == 0 {
            continue;
        }
        let (left, right) = lines.sides((&pieces, &winding), number, multiple);
        if (left > 0) == (right > 0) {
            continue;
        }
        let first = line.members[0].0 as usize;
        if line.is_whole_ring {
            let ring = ways.partition_point(|way| way.wound.pieces.end <= first);
            if let Some(way) = ways.get(ring) {
                way.wound.pieces.clone().for_each(|piece| kept[piece] = true);
            }
        } else {
            kept[first] = true;
            turned[first] = right > 0;
            line.left_of_rings(&noded.runs).for_each(|run| left_of_ring[run as usize] = true);
        }
    }
    let ways = linked(noded, &kept, &turned)?;
    Ok(Outline { ways, kept, left_of_ring })
}

#[derive(Debug, Clone)]
struct Way {
    part: usize,
    wound: WoundRing,
}

fn ring_ranges(runs: &[Run], roles: &[RingRole]) -> Vec<Way> {
    let mut ways: Vec<Way> = Vec::new();
    let mut first = 0;
    for at in 1..=runs.len() {
        if at == runs.len() || runs[at].ring != runs[first].ring {
            let role = roles[runs[first].ring as usize];
            ways.push(Way { part: role.part, wound: WoundRing { pieces: first..at, is_hole: role.is_hole } });
            first = at;
        }
    }
    ways
}

/// One line with all runs that lie on it.
#[derive(Debug)]
struct Line {
    /// The run, and 1 if it is walked as the first one is, −1 if not.
    members: Vec<(u32, i32)>,
    /// Whether it stands for its whole ring, which meets no other.
    is_whole_ring: bool,
}

impl Line {
    fn multiple(&self, counts: impl Fn(u32) -> bool) -> i32 {
        self.members.iter().filter(|member| counts(member.0)).map(|member| member.1).sum()
    }
}

impl Line {
    /// One run of each ring that walks the line more often the one way than the other.
    fn left_of_rings<'a>(&'a self, runs: &'a [Run]) -> impl Iterator<Item = u32> + 'a {
        let ring = |run: u32| runs[run as usize].ring;
        self.members.iter().enumerate().filter_map(move |(at, (run, sense))| {
            let multiple = self.multiple(|other| ring(other) == ring(*run));
            let before = &self.members[..at];
            let is_first = !before.iter().any(|(other, way)| ring(*other) == ring(*run) && way == sense);
            (multiple.signum() == *sense && is_first).then_some(*run)
        })
    }
}

struct Lines<'a> {
    runs: &'a [Run],
    roles: &'a [RingRole],
    all: Vec<Line>,
    line_of: Vec<u32>,
}

impl<'a> Lines<'a> {
    fn new(runs: &'a [Run], roles: &'a [RingRole]) -> Self {
        let mut lines: Vec<Line> = Vec::new();
        let mut line_of = vec![u32::MAX; runs.len()];
        let mut between: HashMap<(u32, u32), Vec<u32>> = HashMap::new();
        let mut last_whole = None;
        for (at, run) in (0_u32..).zip(runs) {
            if !roles[run.ring as usize].meets {
                if last_whole != Some(run.ring) {
                    last_whole = Some(run.ring);
                    line_of[at as usize] = number(lines.len());
                    lines.push(Line { members: vec![(at, 1)], is_whole_ring: true });
                }
                continue;
            }
            let [from, to] = run.nodes;
            let known = between.entry((from.min(to), from.max(to))).or_default();
            let first_of = |line: u32| &runs[lines[line as usize].members[0].0 as usize];
            let together =
                |line: &&u32| (first_of(**line).piece.at(0.5) - run.piece.at(0.5)).norm() <= TOGETHER_M;
            if let Some(line) = known.iter().find(together).copied() {
                let sense = if first_of(line).nodes == run.nodes { 1 } else { -1 };
                lines[line as usize].members.push((at, sense));
                line_of[at as usize] = line;
            } else {
                known.push(number(lines.len()));
                line_of[at as usize] = number(lines.len());
                lines.push(Line { members: vec![(at, 1)], is_whole_ring: false });
            }
        }
        Self { runs, roles, all: lines, line_of }
    }

    /// How often the rings of a winding run round places to the left and right of a line.
    fn sides(&self, (pieces, winding): (&[Piece], &Winding), line: usize, multiple: i32) -> (i32, i32) {
        let piece = &pieces[self.all[line].members[0].0 as usize];
        let without = winding.without(pieces, piece.at(0.5), |other| self.line_of[other] as usize == line);
        beside(piece, without, multiple)
    }

    /// The lines of each part that may contradict itself.
    fn of_doubtful_parts(&self) -> BTreeMap<usize, Vec<usize>> {
        let mut parts: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for (number, line) in self.all.iter().enumerate() {
            for (run, _) in &line.members {
                let role = self.roles[self.runs[*run as usize].ring as usize];
                if role.doubtful {
                    let own = parts.entry(role.part).or_default();
                    if own.last() != Some(&number) {
                        own.push(number);
                    }
                }
            }
        }
        parts
    }

    /// Refuses a part whose rings run round a place otherwise than once or not at all.
    fn check_part(
        &self,
        pieces: &[Piece],
        part: usize,
        (lines, rings): (&[usize], &[WoundRing]),
    ) -> Result<(), NoOutline> {
        let own = |run: u32| self.roles[self.runs[run as usize].ring as usize].part == part;
        let winding = Winding::new(pieces, rings);
        let mut is_empty = true;
        for number in lines.iter().copied() {
            let line = &self.all[number];
            let multiple = line.multiple(own);
            if multiple == 0 {
                continue;
            }
            is_empty = false;
            let (left, right) = self.sides((pieces, &winding), number, multiple);
            if [left, right].iter().any(|times| !(0..=1).contains(times)) {
                let member = line.members.iter().map(|member| member.0).filter(|run| own(*run)).max();
                let run = &self.runs[member.unwrap_or(line.members[0].0) as usize];
                return Err(NoOutline::Contradiction {
                    ring: run.ring as usize,
                    edge: run.piece.edge,
                    near: run.piece.at(0.5),
                });
            }
        }
        match self.roles.iter().position(|role| role.part == part) {
            Some(ring) if is_empty => Err(NoOutline::Nothing { ring }),
            _ => Ok(()),
        }
    }
}

/// Joins the kept runs into closed ways: at each node the way goes on along the outermost line that has the same water
/// on its left.
fn linked(noded: &Noded, kept: &[bool], turned: &[bool]) -> Result<Vec<Vec<Piece>>, NoOutline> {
    let kept_runs: Vec<Run> = (0..kept.len())
        .filter(|at| kept[*at])
        .map(|at| {
            let run = noded.runs[at];
            let [from, to] = run.nodes;
            if turned[at] {
                Run { piece: run.piece.reversed(), nodes: [to, from], ring: run.ring }
            } else {
                run
            }
        })
        .collect();
    let mut leaving: HashMap<u32, Vec<u32>> = HashMap::new();
    for (at, run) in (0..).zip(&kept_runs) {
        leaving.entry(run.nodes[0]).or_default().push(at);
    }
    let mut after = Vec::with_capacity(kept_runs.len());
    for run in &kept_runs {
        let open = NoOutline::Open { edge: run.piece.edge, near: run.piece.end };
        let choice = leaving.get_mut(&run.nodes[1]).ok_or(open)?;
        let chosen = match choice.as_slice() {
            [_] => 0,
            several => leftmost(&run.piece, several.iter().map(|at| &kept_runs[*at as usize].piece)),
        };
        if choice.is_empty() {
            return Err(open);
        }
        after.push(choice.swap_remove(chosen));
    }
    let mut seen = vec![false; kept_runs.len()];
    let mut ways = Vec::new();
    for first in 0..kept_runs.len() {
        let mut way = Vec::new();
        let mut at = first;
        while !seen[at] {
            seen[at] = true;
            way.push(kept_runs[at].piece);
            at = after[at] as usize;
        }
        if !way.is_empty() {
            ways.push(way);
        }
    }
    Ok(ways)
}

/// Which of the pieces that leave the end of another comes first, turning from the way back over what lies to its left.
fn leftmost<'a>(arriving: &Piece, leaving: impl Iterator<Item = &'a Piece>) -> usize {
    let up = arriving.up;
    // all at one distance from where they part: of two that touch there the one that bends away more is told apart
    let leaving: Vec<&Piece> = leaving.collect();
    let shortest_m = leaving.iter().map(|piece| piece.length_m).fold(arriving.length_m, f64::min);
    let share = |piece: &Piece| 0.25 * shortest_m / piece.length_m;
    let back = arriving.at(1.0 - share(arriving)) - arriving.end;
    let (ahead, aside) = (back.unit(), back.unit().cross(up).unit());
    // the left of the way ahead is the right of the way back, so the turn is clockwise
    let turn = |piece: &Piece| {
        let along = piece.at(share(piece)) - piece.start;
        let angle = along.dot(aside).atan2(along.dot(ahead));
        if angle <= 0.0 { angle + std::f64::consts::TAU } else { angle }
    };
    leaving.into_iter().enumerate().min_by(|a, b| turn(a.1).total_cmp(&turn(b.1))).map_or(0, |(at, _)| at)
}

fn number(at: usize) -> u32 {
    u32::try_from(at).unwrap_or(u32::MAX)
}
