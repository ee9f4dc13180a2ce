//! Places about a shape, with the side that they are on by construction, and the distance to its outline by search.

use takeline::Position;

use crate::chart::Chart;
use crate::earth::{direct, inverse};
use crate::{Dice, NastyShape, Numbers, Step, Way};

/// A place and whether it is in the shape.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// Where.
    pub position: Position,
    /// Whether it is inside, by the numbers it was made from.
    pub inside: bool,
}

impl NastyShape {
    /// A random place: often near the outline, an inner border or a corner, sometimes far off.
    pub fn place(&self, dice: &mut Dice) -> Place {
        match dice.below(10) {
            0..=2 => self.beside(dice, &self.outline),
            3 | 4 if !self.inner.is_empty() => self.beside(dice, &self.inner),
            5 => self.far_off(dice),
            _ => {
                let ext = self.extension();
                let at = (dice.between(-ext.0, 1.0 + ext.0), dice.between(-ext.1, 1.0 + ext.1));
                self.judged(at)
            }
        }
    }

    /// How far the chart goes on beyond the shape, in each of its numbers.
    fn extension(&self) -> (f64, f64) {
        match self.chart {
            Chart::Spokes { sweep_deg, inner_m, outer_m, .. } => {
                let sideways = if sweep_deg >= 360.0 { 0.0 } else { (360.0 - sweep_deg) / sweep_deg / 2.1 };
                (sideways.min(0.2), (inner_m / (outer_m - inner_m) * 0.9).min(0.2))
            }
            Chart::Graticule { .. }
            | Chart::Slanted { .. }
            | Chart::Loxodromes { .. }
            | Chart::Geodesics { .. } => (0.2, 0.2),
        }
    }

    fn judged(&self, at: Numbers) -> Place {
        Place { position: self.chart.at(at), inside: self.holds(at) }
    }

    /// Beside one of these sides, from 1.2 mm to the size of the cell off, sometimes near its end.
    fn beside(&self, dice: &mut Dice, sides: &[Step]) -> Place {
        let (from, to) = self.ends(dice.one_of(sides));
        let share = match dice.below(4) {
            0 => dice.log_between(1e-6, 0.5),
            1 => 1.0 - dice.log_between(1e-6, 0.5),
            _ => dice.share(),
        };
        let on = (from.0 + (to.0 - from.0) * share, from.1 + (to.1 - from.1) * share);
        let sideways = if from.0.total_cmp(&to.0).is_eq() { (1e-4, 0.0) } else { (0.0, 1e-4) };
        let step_m = inverse(self.chart.at(on), self.chart.at((on.0 + sideways.0, on.1 + sideways.1))).0;
        // at the centre of spokes every direction is the same place
        let whole =
            dice.log_between(1.2e-3 * 1e-4 / step_m.max(1e-9), 0.2).min(0.2) * dice.one_of(&[-1.0, 1.0]);
        let mut at = (on.0 + sideways.0 * whole * 1e4, on.1 + sideways.1 * whole * 1e4);
        let ext = self.extension();
        at.1 = at.1.clamp(-ext.1, 1.0 + ext.1);
        if !self.grid.goes_round {
            at.0 = at.0.clamp(-ext.0, 1.0 + ext.0);
        }
        self.judged(at)
    }

    fn far_off(&self, dice: &mut Dice) -> Place {
        let (middle, far_m) = self.middle();
        let off_m = (far_m * dice.log_between(2.0, 30.0)).min(9.0e6).max(far_m * 2.0);
        Place { position: direct(middle, dice.between(0.0, 360.0), off_m), inside: false }
    }

    /// Distance to the nearest point of the outline, never negative, found by search along each of its sides.
    #[must_use]
    pub fn distance_m(&self, position: Position) -> f64 {
        self.nearest_of(position, &self.outline)
    }

    /// Distance to the nearest border between two cells inside the shape; endless if there is none.
    #[must_use]
    pub fn inner_distance_m(&self, position: Position) -> f64 {
        self.nearest_of(position, &self.inner)
    }

    fn nearest_of(&self, position: Position, sides: &[Step]) -> f64 {
        let mut best_m = f64::INFINITY;
        for side in sides {
            let curve = self.curve(*side);
            best_m = best_m.min(nearest_on(&curve, position, best_m));
        }
        best_m
    }

    /// A side of a cell as places by share of its way.
    fn curve(&self, side: Step) -> Box<dyn Fn(f64) -> Position + '_> {
        let (from, to) = self.ends(side);
        let lengthwise = matches!(side.way, Way::North | Way::South);
        let is_geodesic = match self.chart {
            Chart::Geodesics { .. } => true,
            Chart::Spokes { .. } => lengthwise,
            Chart::Graticule { .. } | Chart::Slanted { .. } | Chart::Loxodromes { .. } => false,
        };
        if is_geodesic {
            let start = self.chart.at(from);
            let (length_m, azimuth_deg) = inverse(start, self.chart.at(to));
            return Box::new(move |share| direct(start, azimuth_deg, length_m * share));
        }
        Box::new(move |share| {
            self.chart.at((from.0 + (to.0 - from.0) * share, from.1 + (to.1 - from.1) * share))
        })
    }
}

/// The least distance to a curve: sampled, then narrowed by golden section about the best samples.
fn nearest_on(curve: &dyn Fn(f64) -> Position, position: Position, worth_m: f64) -> f64 {
    const SAMPLES: u32 = 12;
    let distance_m = |share: f64| inverse(position, curve(share)).0;
    let samples: Vec<f64> =
        (0..=SAMPLES).map(|sample| distance_m(f64::from(sample) / f64::from(SAMPLES))).collect();
    let mut best_m = worth_m;
    for (at, sample_m) in (0_u32..).zip(&samples) {
        best_m = best_m.min(*sample_m);
        let neighbour = |by: i64| usize::try_from(i64::from(at) + by).ok().and_then(|at| samples.get(at));
        let is_least = [-1, 1].iter().all(|by| neighbour(*by).is_none_or(|other| other >= sample_m));
        if !is_least {
            continue;
        }
        let (mut low, mut high) = (
            (f64::from(at) - 1.0).max(0.0) / f64::from(SAMPLES),
            (f64::from(at) + 1.0).min(f64::from(SAMPLES)) / f64::from(SAMPLES),
        );
        let ratio = (5.0_f64.sqrt() - 1.0) / 2.0;
        for _ in 0..44 {
            let (a, b) = (high - ratio * (high - low), low + ratio * (high - low));
            let (a_m, b_m) = (distance_m(a), distance_m(b));
            best_m = best_m.min(a_m).min(b_m);
            if a_m <= b_m {
                high = b;
            } else {
                low = a;
            }
        }
    }
    best_m
}
