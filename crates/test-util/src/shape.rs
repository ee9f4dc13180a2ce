//! One shape, whole and cut up.

use proptest::prelude::*;
use takeline::{Metres, PartSpec, Position};

use crate::chart::Chart;
use crate::cut::Cutter;
use crate::{Dice, Grid, Numbers, Region, Step};

/// What a shape is made from. The same recipe makes the same shape.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Recipe {
    /// Everything that is not said below.
    pub seed: u64,
    /// Cells side by side.
    pub columns: usize,
    /// Cells one over the other.
    pub rows: usize,
    /// What is done to the parts.
    pub tricks: Tricks,
}

/// What is done to the parts of a shape beside cutting it up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tricks {
    /// How likely a part goes over cells that another has already.
    pub overlap: f64,
    /// How many parts are laid over what is covered already.
    pub nested: usize,
    /// How likely a part is told as a larger one with holes on its edge.
    pub edge_holes: f64,
    /// How likely a ring runs into the part and back again, or out to a hole, round it and back.
    pub slits: f64,
    /// How likely a ring runs out of the part and back again.
    pub spikes: f64,
    /// How likely a vertex in the middle of a straight run is kept.
    pub kept: f64,
    /// How likely a vertex is put where none is needed.
    pub loose: f64,
    /// How far vertices lie off where they belong, at most, in metres.
    pub off_m: f64,
}

impl Tricks {
    /// Cut up and nothing else.
    pub const NONE: Self = Self {
        overlap: 0.0,
        nested: 0,
        edge_holes: 0.0,
        slits: 0.0,
        spikes: 0.0,
        kept: 0.0,
        loose: 0.0,
        off_m: 0.0,
    };
}

/// Recipes for nasty shapes; they shrink to few cells and few tricks.
pub fn recipes() -> impl Strategy<Value = Recipe> {
    let share = || prop_oneof![Just(0.0), Just(0.3), Just(0.7)];
    let off = prop_oneof![Just(0.0), Just(1e-9), Just(1e-6), Just(1e-4), Just(4.5e-4)];
    let tricks = (
        share(),
        0_usize..3,
        share(),
        share(),
        prop_oneof![4 => Just(0.0), 1 => Just(0.3)],
        share(),
        share(),
        off,
    )
        .prop_map(|(overlap, nested, edge_holes, slits, spikes, kept, loose, off_m)| Tricks {
            overlap,
            nested,
            edge_holes,
            slits,
            spikes,
            kept,
            loose,
            off_m,
        });
    (any::<u64>().no_shrink(), 1_usize..=6, 1_usize..=5, tricks)
        .prop_map(|(seed, columns, rows, tricks)| Recipe { seed, columns, rows, tricks })
}

/// A shape with its parts, and what is needed to know the truth about it.
#[derive(Debug, Clone)]
pub struct NastyShape {
    /// What it was made from.
    pub recipe: Recipe,
    /// How its grid lies on the Earth.
    pub chart: Chart,
    /// Its cells.
    pub grid: Grid,
    /// The first number of each line between columns.
    pub columns_at: Vec<f64>,
    /// The second number of each line between rows.
    pub rows_at: Vec<f64>,
    /// Which cells it is made of.
    pub filled: Region,
    /// The shape as few rings as it can be told with.
    pub whole: Vec<PartSpec>,
    /// The same shape cut up.
    pub parts: Vec<PartSpec>,
    /// Sides of cells on its outline.
    pub outline: Vec<Step>,
    /// Sides of cells inside it.
    pub inner: Vec<Step>,
}

impl NastyShape {
    /// Makes the shape of a recipe.
    #[must_use]
    pub fn make(recipe: Recipe) -> Self {
        let mut dice = Dice::new(recipe.seed);
        let chart = Chart::random(&mut dice);
        let goes_round = chart.goes_round();
        let columns = if goes_round { recipe.columns.max(3) } else { recipe.columns };
        let grid = Grid { columns, rows: recipe.rows, goes_round, meets_in_centre: chart.meets_in_centre() };
        let columns_at = stops(&mut dice, columns);
        let mut rows_at = stops(&mut dice, recipe.rows);
        let on_equator = matches!(chart, Chart::Graticule { .. }) && dice.chance(0.15);
        let filled = filled(&mut dice, &grid);
        let mut shape = Self {
            recipe,
            chart,
            grid,
            columns_at,
            rows_at: Vec::new(),
            filled,
            whole: Vec::new(),
            parts: Vec::new(),
            outline: Vec::new(),
            inner: Vec::new(),
        };
        if on_equator {
            shape.lay_on_equator(rows_at[dice.below(rows_at.len())]);
        }
        shape.rows_at.append(&mut rows_at);
        (shape.outline, shape.inner) = shape.grid.borders(&shape.filled);
        shape.whole = Cutter::new(&shape, Tricks::NONE, &mut dice).whole();
        shape.parts = Cutter::new(&shape, recipe.tricks, &mut dice).parts();
        shape
    }

    /// Moves the chart so that one line between rows is the equator.
    fn lay_on_equator(&mut self, row_at: f64) {
        if let Chart::Graticule { south_deg, height_deg, .. } = &mut self.chart {
            *south_deg = -row_at * *height_deg;
        }
    }

    /// The numbers of both ends of a step.
    #[must_use]
    pub fn ends(&self, step: Step) -> (Numbers, Numbers) {
        let numbers = |(column, row): (usize, usize)| (self.columns_at[column], self.rows_at[row]);
        (numbers(step.from), numbers(step.to))
    }

    /// Whether the place with these numbers is in the shape.
    #[must_use]
    pub fn holds(&self, (u, v): Numbers) -> bool {
        let u = if self.grid.goes_round { u - u.floor() } else { u };
        let between = |stops: &[f64], at: f64| stops.windows(2).position(|two| two[0] <= at && at < two[1]);
        match (between(&self.columns_at, u), between(&self.rows_at, v)) {
            (Some(column), Some(row)) => self.filled[row * self.grid.columns + column],
            _ => false,
        }
    }

    /// The whole disc up to a line between rows, where the chart has discs.
    pub(crate) fn disc(&self, row: usize) -> Option<PartSpec> {
        let Chart::Spokes { centre, inner_m, outer_m, .. } = self.chart else { return None };
        if !self.grid.goes_round || !self.grid.meets_in_centre {
            return None;
        }
        let radius = Metres::new(inner_m + (outer_m - inner_m) * self.rows_at[row]).ok()?;
        Some(PartSpec::Circle { centre, radius })
    }

    /// Some place in the middle of the grid, and how far its nodes lie from there at most, in metres.
    #[must_use]
    pub fn middle(&self) -> (Position, f64) {
        let middle = self.chart.at(if self.grid.meets_in_centre { (0.0, 0.0) } else { (0.5, 0.5) });
        let nodes = self.columns_at.iter().flat_map(|u| self.rows_at.iter().map(move |v| (*u, *v)));
        let far_m =
            nodes.map(|node| crate::earth::inverse(middle, self.chart.at(node)).0).fold(0.0, f64::max);
        (middle, far_m)
    }
}

/// Lines from 0 to 1, the narrowest space between two a tenth of the widest.
#[expect(clippy::cast_precision_loss, reason = "a dozen lines")]
fn stops(dice: &mut Dice, cells: usize) -> Vec<f64> {
    let even = dice.chance(0.3);
    let mut at = 0.0;
    let mut stops = vec![0.0];
    for _ in 0..cells {
        at += if even { 1.0 } else { dice.log_between(0.2, 1.0) };
        stops.push(at);
    }
    let whole = if even { cells as f64 } else { at };
    stops.into_iter().map(|stop| if stop >= at { 1.0 } else { stop / whole }).collect()
}

/// One to three regions that hang together, or the whole grid.
fn filled(dice: &mut Dice, grid: &Grid) -> Region {
    let all = vec![true; grid.count()];
    if dice.chance(0.2) {
        return all;
    }
    let mut filled = vec![false; grid.count()];
    for _ in 0..=dice.below(3) {
        let from = dice.below(grid.count());
        let most = 1 + dice.below(grid.count());
        for (cell, grown) in filled.iter_mut().zip(grid.grown(dice, (from, most), &all)) {
            *cell |= grown;
        }
    }
    filled
}
