//! A region made of the cells of a grid, and its rings as walks from node to node.

use crate::Dice;

/// A grid of cells; its first side may come round to its last, and its lowest nodes may all be one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Grid {
    /// Cells side by side.
    pub columns: usize,
    /// Cells one over the other.
    pub rows: usize,
    /// Whether the last column touches the first.
    pub goes_round: bool,
    /// Whether all nodes of the lowest line are one.
    pub meets_in_centre: bool,
}

/// A place where lines of the grid cross: column line and row line.
pub type Node = (usize, usize);

/// A set of cells, one flag each, row after row.
pub type Region = Vec<bool>;

/// Which way a step of a walk goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// The first number grows.
    East,
    /// The second number grows.
    North,
    /// The first number shrinks.
    West,
    /// The second number shrinks.
    South,
}

impl Way {
    fn turned(self) -> usize {
        match self {
            Self::East => 0,
            Self::North => 1,
            Self::West => 2,
            Self::South => 3,
        }
    }
}

/// One step along one side of one cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Step {
    /// Where it begins, as lines of the grid: never brought round, so that a step east from the last line but one ends on
    /// the last.
    pub from: Node,
    /// Where it ends, likewise.
    pub to: Node,
    /// Which way it goes.
    pub way: Way,
}

impl Step {
    /// The same step walked back.
    #[must_use]
    pub fn back(self) -> Self {
        let way = match self.way {
            Way::East => Way::West,
            Way::North => Way::South,
            Way::West => Way::East,
            Way::South => Way::North,
        };
        Self { from: self.to, to: self.from, way }
    }
}

impl Grid {
    /// The number of cells.
    #[must_use]
    pub fn count(&self) -> usize {
        self.columns * self.rows
    }

    /// One name for each node, however it is reached.
    #[must_use]
    pub fn name(&self, (column, row): Node) -> Node {
        if self.meets_in_centre && row == 0 {
            return (0, 0);
        }
        (if self.goes_round { column % self.columns } else { column }, row)
    }

    /// The cells that share a side with a cell: east, north, west, south.
    #[must_use]
    pub fn neighbours(&self, cell: usize) -> [Option<usize>; 4] {
        let (column, row) = (cell % self.columns, cell / self.columns);
        let beside = |by: usize| {
            let there = column + by;
            let inside = self.goes_round || (self.columns..2 * self.columns).contains(&there);
            (inside && self.columns > 1).then_some(row * self.columns + there % self.columns)
        };
        [
            beside(self.columns + 1),
            (row + 1 < self.rows).then_some(cell + self.columns),
            beside(self.columns - 1),
            (row > 0).then(|| cell - self.columns),
        ]
    }

    /// The four sides of a cell, the cell on the left of each; without the one that is a single node.
    fn sides(&self, cell: usize) -> Vec<(Step, Option<usize>)> {
        let (column, row) = (cell % self.columns, cell / self.columns);
        let [east, north, west, south] = self.neighbours(cell);
        let corner = |right: usize, up: usize| (column + right, row + up);
        let side = |from, to, way, over| (Step { from, to, way }, over);
        let mut sides = vec![
            side(corner(0, 0), corner(1, 0), Way::East, south),
            side(corner(1, 0), corner(1, 1), Way::North, east),
            side(corner(1, 1), corner(0, 1), Way::West, north),
            side(corner(0, 1), corner(0, 0), Way::South, west),
        ];
        if self.meets_in_centre && row == 0 {
            sides.remove(0);
        }
        sides
    }

    /// The sides of cells of a region that lie between it and the rest, the region on the left; and those within it, once.
    #[must_use]
    pub fn borders(&self, region: &Region) -> (Vec<Step>, Vec<Step>) {
        let (mut outer, mut inner) = (Vec::new(), Vec::new());
        for cell in (0..self.count()).filter(|cell| region[*cell]) {
            for (step, over) in self.sides(cell) {
                match over {
                    Some(other) if region[other] => {
                        if matches!(step.way, Way::East | Way::North) {
                            inner.push(step);
                        }
                    }
                    _ => outer.push(step),
                }
            }
        }
        (outer, inner)
    }

    /// The parts of a region that hang together over sides of cells.
    #[must_use]
    pub fn connected(&self, region: &Region) -> Vec<Region> {
        let mut left = region.clone();
        let mut found = Vec::new();
        while let Some(first) = left.iter().position(|cell| *cell) {
            let mut part = vec![false; self.count()];
            let mut open = vec![first];
            left[first] = false;
            while let Some(cell) = open.pop() {
                part[cell] = true;
                for next in self.neighbours(cell).into_iter().flatten() {
                    if std::mem::take(&mut left[next]) {
                        open.push(next);
                    }
                }
            }
            found.push(part);
        }
        found
    }

    /// Grows a region that hangs together from a cell, over cells that are allowed, to at most so many.
    #[must_use]
    pub fn grown(&self, dice: &mut Dice, (from, most): (usize, usize), allowed: &Region) -> Region {
        let mut region = vec![false; self.count()];
        let mut edge = vec![from];
        let mut size = 0;
        while size < most && !edge.is_empty() {
            let cell = edge.swap_remove(dice.below(edge.len()));
            if region[cell] {
                continue;
            }
            region[cell] = true;
            size += 1;
            edge.extend(
                self.neighbours(cell).into_iter().flatten().filter(|next| allowed[*next] && !region[*next]),
            );
        }
        region
    }

    /// The rings about a region that hangs together over sides of cells, the outer one first, the region on the left.
    ///
    /// Where two of its cells meet in a corner only, the walk passes from one to the other, and so no ring passes a node
    /// twice.
    #[must_use]
    pub fn rings(&self, region: &Region) -> Vec<Vec<Step>> {
        let (mut left, _) = self.borders(region);
        let mut rings = Vec::new();
        while let Some(first) = left.pop() {
            let mut ring = vec![first];
            let mut last = first;
            while let Some(next) = self.next(&left, last, first) {
                last = left.swap_remove(next);
                ring.push(last);
            }
            rings.push(ring);
        }
        let outer = (0..rings.len()).max_by(|a, b| self.turn(&rings[*a]).total_cmp(&self.turn(&rings[*b])));
        if let Some(outer) = outer {
            rings.swap(0, outer);
        }
        rings
    }

    /// The step that goes on from the end of another, as far to the right as one can; none if that is the first of the ring.
    fn next(&self, left: &[Step], last: Step, first: Step) -> Option<usize> {
        let here = self.name(last.to);
        let rank = |step: &Step| self.rank(last, *step);
        let best =
            (0..left.len()).filter(|at| self.name(left[*at].from) == here).min_by_key(|at| rank(&left[*at]));
        let closes = self.name(first.from) == here;
        best.filter(|best| !closes || rank(&left[*best]) < rank(&first))
    }

    /// How far to the left a step turns off another, the sharpest right first.
    fn rank(&self, last: Step, next: Step) -> usize {
        if self.meets_in_centre && last.to.1 == 0 {
            let spokes = if self.goes_round { self.columns } else { self.columns + 1 };
            let back = (last.to.0 + spokes - next.from.0 % spokes) % spokes;
            return if back == 0 { spokes } else { back };
        }
        // right, straight on, left
        (next.way.turned() + 4 + 1 - last.way.turned()) % 4
    }

    /// Twice the area that a ring encloses in a drawing of the grid, positive where it lies on the left.
    fn turn(&self, ring: &[Step]) -> f64 {
        ring.iter()
            .map(|step| {
                let ((x, y), (x2, y2)) = (self.drawn(step.from), self.drawn(step.to));
                x * y2 - x2 * y
            })
            .sum()
    }

    #[expect(clippy::cast_precision_loss, reason = "grids of a dozen lines")]
    fn drawn(&self, (column, row): Node) -> (f64, f64) {
        if !self.goes_round && !self.meets_in_centre {
            return (column as f64, row as f64);
        }
        let whole = if self.goes_round { std::f64::consts::TAU } else { 1.0 };
        let angle = whole * column as f64 / self.columns as f64;
        let radius = row as f64 + if self.meets_in_centre { 0.0 } else { 1.0 };
        (radius * angle.sin(), radius * angle.cos())
    }
}
