//! Covers a shape with parts, and tells their rings in roundabout ways.

use takeline::{Arc, ArcSense, EdgeModel, PartSpec, Position, RingSpec};

use crate::chart::Along;
use crate::earth::direct;
use crate::{Dice, NastyShape, Node, Numbers, Region, Step, Tricks, Way};

/// Makes parts of a shape.
#[derive(Debug)]
pub(crate) struct Cutter<'a> {
    shape: &'a NastyShape,
    tricks: Tricks,
    dice: &'a mut Dice,
}

/// What covers a shape so far.
struct Cover {
    parts: Vec<PartSpec>,
    /// Cells that are not covered yet.
    open: Region,
    /// The most cells that a part has.
    largest: usize,
}

/// The most steps that a ring runs off its way.
const LONGEST_PATH: usize = 6;

/// A vertex, and the edge that leaves it.
struct Corner {
    at: Numbers,
    place: Position,
    way: Way,
}

impl<'a> Cutter<'a> {
    pub(crate) fn new(shape: &'a NastyShape, tricks: Tricks, dice: &'a mut Dice) -> Self {
        Self { shape, tricks, dice }
    }

    /// The shape with no more rings and vertices than it needs.
    pub(crate) fn whole(mut self) -> Vec<PartSpec> {
        let full = self.shape.filled.iter().all(|cell| *cell);
        if let Some(disc) = self.shape.disc(self.shape.grid.rows).filter(|_| full) {
            return vec![disc];
        }
        self.shape.grid.connected(&self.shape.filled).iter().map(|region| self.polygon(region, &[])).collect()
    }

    /// The shape in parts: one after another is grown over what is not covered yet, then some are laid over it.
    pub(crate) fn parts(mut self) -> Vec<PartSpec> {
        let filled = self.shape.filled.clone();
        let largest = 1 + self.dice.below(filled.len());
        let mut cover = Cover { parts: Vec::new(), open: filled.clone(), largest };
        while let Some(from) = self.pick(&cover.open) {
            let over = self.dice.chance(self.tricks.overlap);
            self.add(&mut cover, from, over);
        }
        for _ in 0..self.tricks.nested {
            if let Some(from) = self.pick(&filled) {
                self.add(&mut cover, from, true);
            }
        }
        let turn = self.dice.below(cover.parts.len());
        cover.parts.rotate_left(turn);
        cover.parts
    }

    fn pick(&mut self, region: &Region) -> Option<usize> {
        let cells: Vec<usize> = (0..region.len()).filter(|cell| region[*cell]).collect();
        (!cells.is_empty()).then(|| self.dice.one_of(&cells))
    }

    /// Adds a part that begins at a cell; it keeps to open cells, or may go over any cell of the shape.
    fn add(&mut self, cover: &mut Cover, from: usize, over: bool) {
        let (filled, columns) = (&self.shape.filled, self.shape.grid.columns);
        let row = from / columns;
        let within_disc = filled[..(row + 1) * columns].iter().all(|cell| *cell);
        if let Some(disc) = self.shape.disc(row + 1).filter(|_| over && within_disc) {
            cover.open[..(row + 1) * columns].fill(false);
            cover.parts.push(disc);
            return;
        }
        let allowed = if over { filled } else { &cover.open };
        let most = 1 + self.dice.below(cover.largest);
        let region = self.shape.grid.grown(self.dice, (from, most), allowed);
        for (cell, taken) in cover.open.iter_mut().zip(&region) {
            *cell &= !taken;
        }
        let holes =
            if self.dice.chance(self.tricks.edge_holes) { self.edge_holes(&region) } else { Vec::new() };
        let part = self.polygon(&region, &holes);
        cover.parts.push(part);
    }

    /// Regions beside another that can be told as holes of one that holds both.
    fn edge_holes(&mut self, region: &Region) -> Vec<Region> {
        let grid = self.shape.grid;
        let free: Region = region.iter().map(|cell| !cell).collect();
        let beside: Region = (0..region.len())
            .map(|cell| free[cell] && grid.neighbours(cell).into_iter().flatten().any(|next| region[next]))
            .collect();
        let Some(from) = self.pick(&beside) else { return Vec::new() };
        let most = 1 + self.dice.below(3);
        let hole = grid.grown(self.dice, (from, most), &free);
        // one without holes of its own, that does not reach the centre, where many spokes end
        let through_centre = grid.meets_in_centre && hole[..grid.columns].contains(&true);
        if grid.rings(&hole).len() == 1 && !through_centre { vec![hole] } else { Vec::new() }
    }

    /// A region as a ring with holes; the regions beside it become holes of a larger one.
    fn polygon(&mut self, region: &Region, beside: &[Region]) -> PartSpec {
        let grid = self.shape.grid;
        let mut larger = region.clone();
        for hole in beside {
            larger.iter_mut().zip(hole).for_each(|(cell, also)| *cell |= also);
        }
        let mut walks = grid.rings(&larger);
        walks.extend(beside.iter().map(|hole| grid.rings(hole).remove(0)));
        if self.dice.chance(self.tricks.slits) && beside.is_empty() {
            self.open_a_hole(&mut walks, region);
        }
        let (_, inner) = grid.borders(region);
        if self.dice.chance(self.tricks.slits) {
            self.run_off(&mut walks, &inner);
        }
        if self.dice.chance(self.tricks.spikes) {
            let outside: Region = larger.iter().map(|cell| !cell).collect();
            let (_, outer) = grid.borders(&outside);
            self.run_off(&mut walks, &outer);
        }
        let mut rings: Vec<RingSpec> = walks.iter().map(|walk| self.ring(walk)).collect();
        let exterior = rings.remove(0);
        PartSpec::Polygon { exterior, holes: rings }
    }

    /// Lets the outer ring, somewhere, run along these sides and back the same way.
    fn run_off(&mut self, walks: &mut [Vec<Step>], sides: &[Step]) {
        let mut used: Vec<Node> =
            walks.iter().flatten().map(|step| self.shape.grid.name(step.from)).collect();
        let Some(outer) = walks.first_mut() else { return };
        let at = self.dice.below(outer.len());
        let path = self.path(outer[at].from, sides, &mut used);
        let back: Vec<Step> = path.iter().rev().map(|step| step.back()).collect();
        outer.splice(at..at, path.into_iter().chain(back));
    }

    /// Joins a hole to the outer ring by a slit.
    fn open_a_hole(&mut self, walks: &mut Vec<Vec<Step>>, region: &Region) {
        let grid = self.shape.grid;
        let (_, inner) = grid.borders(region);
        if walks.len() < 2 {
            return;
        }
        let hole = walks.swap_remove(1);
        let goal: Vec<Node> = hole.iter().map(|step| grid.name(step.from)).collect();
        let used: Vec<Node> = walks.iter().flatten().map(|step| grid.name(step.from)).collect();
        let touches = goal.iter().any(|node| used.contains(node));
        for _ in 0..20 {
            let at = self.dice.below(walks[0].len());
            let mut tried = used.clone();
            let mut path = self.path(walks[0][at].from, &inner, &mut tried);
            let reached = path.iter().position(|step| goal.contains(&grid.name(step.to)));
            if let Some(reached) = reached.filter(|_| !touches) {
                path.truncate(reached + 1);
                let end = grid.name(path[reached].to);
                let turn = goal.iter().position(|node| *node == end).unwrap_or(0);
                let back: Vec<Step> = path.iter().rev().map(|step| step.back()).collect();
                let round = hole[turn..].iter().chain(&hole[..turn]).copied();
                let all: Vec<Step> = path.into_iter().chain(round).chain(back).collect();
                walks[0].splice(at..at, all);
                return;
            }
        }
        walks.push(hole);
    }

    /// A random walk along sides over nodes that are not used yet.
    fn path(&mut self, from: Node, sides: &[Step], used: &mut Vec<Node>) -> Vec<Step> {
        let grid = self.shape.grid;
        let mut here = grid.name(from);
        let mut path: Vec<Step> = Vec::new();
        let centre = grid.meets_in_centre.then_some((0, 0));
        while path.len() < LONGEST_PATH && Some(here) != centre {
            let both_ways = sides.iter().flat_map(|side| [*side, side.back()]);
            let onward: Vec<Step> = both_ways
                .filter(|step| grid.name(step.from) == here)
                .filter(|step| !used.contains(&grid.name(step.to)) && Some(grid.name(step.to)) != centre)
                .collect();
            if onward.is_empty() {
                break;
            }
            let step = self.dice.one_of(&onward);
            here = grid.name(step.to);
            used.push(here);
            path.push(step);
        }
        path
    }

    /// A walk as a ring: vertices where it turns and, perhaps, elsewhere; turned round, begun anywhere, perhaps closed.
    fn ring(&mut self, walk: &[Step]) -> RingSpec {
        let mut corners = self.corners(walk, self.tricks.kept);
        if corners.len() < 3 {
            corners = self.corners(walk, 1.0);
        }
        let turn = self.dice.below(corners.len());
        corners.rotate_left(turn);
        let mut edges = Vec::new();
        for (index, corner) in corners.iter().enumerate() {
            let next = &corners[(index + 1) % corners.len()];
            edges.push(self.model(corner, next));
        }
        let mut vertices: Vec<Position> = corners.iter().map(|corner| corner.place).collect();
        if self.dice.chance(0.5) {
            vertices.reverse();
            edges.reverse();
            edges.rotate_left(1);
            edges.iter_mut().for_each(turn_round);
        }
        if self.dice.chance(0.5) {
            vertices.push(vertices[0]);
        }
        RingSpec { vertices, edges, sides: Vec::new() }
    }

    fn corners(&mut self, walk: &[Step], kept: f64) -> Vec<Corner> {
        let grid = self.shape.grid;
        let mut corners = Vec::new();
        for (index, step) in walk.iter().enumerate() {
            let before = walk[(index + walk.len() - 1) % walk.len()];
            let (from, to) = self.shape.ends(*step);
            let in_centre = grid.meets_in_centre && step.from.1 == 0;
            // an arc goes round in at least three edges
            let third = grid.goes_round && step.from.0 % grid.columns.div_ceil(3) == 0;
            if before.way != step.way || in_centre || third || self.dice.chance(kept) {
                let place = self.placed(from);
                corners.push(Corner { at: from, place, way: step.way });
            }
            if self.dice.chance(self.tricks.loose) {
                let share = self.dice.between(0.05, 0.95);
                let at = (from.0 + (to.0 - from.0) * share, from.1 + (to.1 - from.1) * share);
                let place = self.placed(at);
                corners.push(Corner { at, place, way: step.way });
            }
        }
        corners
    }

    /// The place with these numbers, or one a little off.
    fn placed(&mut self, at: Numbers) -> Position {
        let place = self.shape.chart.at(at);
        if self.tricks.off_m <= 0.0 {
            return place;
        }
        let bearing_deg = self.dice.between(0.0, 360.0);
        direct(place, bearing_deg, self.tricks.off_m * self.dice.share())
    }

    fn model(&mut self, from: &Corner, to: &Corner) -> EdgeModel {
        let mut end = to.at;
        let round = if self.shape.grid.goes_round { 1.0 } else { 0.0 };
        let along = match from.way {
            Way::East if end.0 <= from.at.0 => {
                end.0 += round;
                Along::First
            }
            Way::West if end.0 >= from.at.0 => {
                end.0 -= round;
                Along::First
            }
            Way::East | Way::West => Along::First,
            Way::North | Way::South => Along::Second,
        };
        let models = self.shape.chart.models(along, from.at, end);
        if self.tricks == Tricks::NONE { models[0] } else { self.dice.one_of(&models) }
    }
}

fn turn_round(edge: &mut EdgeModel) {
    if let EdgeModel::Arc(Arc { sense, .. }) = edge {
        *sense = match sense {
            ArcSense::Clockwise => ArcSense::Counterclockwise,
            ArcSense::Counterclockwise => ArcSense::Clockwise,
        };
    }
}
