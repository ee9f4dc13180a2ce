//! The place that fits lines of position best: weighted Gauss–Newton, each step in the east and north of the place reached.

use super::ellipse::Symmetric;
use super::line::Observed;
use crate::Position;
use crate::transit::LineOfPosition;
use crate::transit::plane::Plane;

/// Steps after which a start is given up. From an exact crossing four or five do.
const MOST_STEPS: u32 = 60;
/// A step shorter than this ends the search, in metres.
const SETTLED_M: f64 = 1e-6;

/// A place where the lines fit best, as far as small steps can tell.
#[derive(Debug, Clone)]
pub(super) struct Solution {
    pub(super) position: Position,
    pub(super) looks: Vec<Observed>,
    pub(super) covariance: Symmetric,
    /// Misfit of each line in its own standard errors.
    pub(super) residuals: Vec<f64>,
    pub(super) chi_square: f64,
}

/// Why a search ended without a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum NoSolution {
    /// It went farther from all marks than anybody sees.
    Diverged,
    /// The lines run along each other where it came to.
    Parallel,
    /// It came to no rest.
    NotConverged,
}

/// Misfits and gradients with their errors made independent and of unit size: L⁻¹ of each, C = L Lᵀ.
#[derive(Debug, Clone)]
struct Whitened {
    root: Vec<Vec<f64>>,
    residuals: Vec<f64>,
    gradients: Vec<[f64; 2]>,
}

impl Solution {
    /// What to take off the residuals to have the position elsewhere: the likeliest errors that would have put it there.
    ///
    /// # References
    ///
    /// Of all errors ε with (JᵀC⁻¹J)⁻¹JᵀC⁻¹ε = δ, Jδ has the least εᵀC⁻¹ε.
    pub(super) fn errors_for(&self, shift: [f64; 2]) -> Vec<f64> {
        self.looks.iter().map(|look| dot(look.gradient, shift)).collect()
    }

    /// Best angle at which two of the lines cut here, 0 to 90 degrees.
    pub(super) fn angle_of_cut_deg(&self) -> f64 {
        let mut best = 0.0_f64;
        for (number, one) in self.looks.iter().enumerate() {
            for other in &self.looks[number + 1..] {
                let [a, b] = [one.gradient, other.gradient];
                let sine = (a[0] * b[1] - a[1] * b[0]).abs();
                best = best.max(sine.atan2(dot(a, b).abs()).to_degrees());
            }
        }
        best
    }

    /// Distance to the nearest mark of any line, in metres.
    pub(super) fn nearest_mark_m(&self) -> f64 {
        nearest_mark_m(&self.looks)
    }

    /// Whether every line is seen from the side it was taken from.
    pub(super) fn is_before_marks(&self) -> bool {
        self.looks.iter().all(|look| look.before_marks)
    }
}

/// Searches from a start; `errors` are taken off the lines' residuals, for asking what other observations would have given.
pub(super) fn solve(
    lines: &[LineOfPosition],
    start: Position,
    errors: Option<&[f64]>,
) -> Result<Solution, NoSolution> {
    let looks_at = |place| -> Vec<Observed> {
        let mut looks: Vec<Observed> = lines.iter().map(|line| line.seen_at(place)).collect();
        for (look, error) in looks.iter_mut().zip(errors.unwrap_or_default()) {
            look.residual -= error;
        }
        looks
    };
    let mut place = start;
    let mut damping = 0.0;
    for _ in 0..MOST_STEPS {
        let looks = looks_at(place);
        let nearest_m = nearest_mark_m(&looks);
        if nearest_m > super::line::FARTHEST_M {
            return Err(NoSolution::Diverged);
        }
        let whitened = Whitened::of(&looks).ok_or(NoSolution::NotConverged)?;
        let full = whitened.step(0.0).ok_or(NoSolution::Parallel)?;
        if full[0].hypot(full[1]) < SETTLED_M {
            return finished(place, looks, &whitened);
        }
        let step = shortened(whitened.step(damping).ok_or(NoSolution::Parallel)?, nearest_m);
        let trial = moved(place, step);
        // weights of the place left: with those of the place reached, far places would win for being vague
        if whitened.square_of(&looks_at(trial)) <= whitened.square() {
            place = trial;
            damping = if damping < 1e-6 { 0.0 } else { damping / 10.0 };
        } else {
            damping = if damping == 0.0 { 1e-3 } else { damping * 10.0 };
            // rounding alone hinders a step so short
            if step[0].hypot(step[1]) < SETTLED_M {
                return finished(place, looks, &whitened);
            }
        }
    }
    Err(NoSolution::NotConverged)
}

fn finished(position: Position, looks: Vec<Observed>, whitened: &Whitened) -> Result<Solution, NoSolution> {
    let covariance = whitened.normal(0.0).inverse().ok_or(NoSolution::Parallel)?;
    let variances = whitened.root.iter().map(|row| row.iter().map(|factor| factor * factor).sum::<f64>());
    let residuals = looks.iter().zip(variances).map(|(look, variance)| look.residual.abs() / variance.sqrt());
    let residuals = residuals.collect();
    Ok(Solution { position, covariance, residuals, chi_square: whitened.square(), looks })
}

/// No step is longer than twice the distance to the nearest mark, so that a bad start does not leap over all of them.
fn shortened(step: [f64; 2], nearest_m: f64) -> [f64; 2] {
    let most_m = 2.0 * nearest_m.max(1.0);
    let factor = (most_m / step[0].hypot(step[1])).min(1.0);
    step.map(|metres| metres * factor)
}

/// The place so many metres east and north.
pub(super) fn moved(from: Position, step: [f64; 2]) -> Position {
    Plane::about(from).position(step.into())
}

fn nearest_mark_m(looks: &[Observed]) -> f64 {
    looks.iter().map(|look| look.nearest_mark_m).fold(f64::INFINITY, f64::min)
}

fn dot(a: [f64; 2], b: [f64; 2]) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

impl Whitened {
    /// None where the covariance is not positive to rounding, which no line with an error of its own makes it.
    fn of(looks: &[Observed]) -> Option<Self> {
        let root = cholesky(&covariance_of(looks))?;
        let residuals: Vec<f64> = looks.iter().map(|look| look.residual).collect();
        let residuals = forward(&root, &residuals);
        let [east, north] = [0, 1].map(|axis| {
            let gradient: Vec<f64> = looks.iter().map(|look| look.gradient[axis]).collect();
            forward(&root, &gradient)
        });
        let gradients = east.into_iter().zip(north).map(|(east, north)| [east, north]).collect();
        Some(Self { root, residuals, gradients })
    }

    /// JᵀC⁻¹J, its diagonal grown by a share of their mean.
    fn normal(&self, damping: f64) -> Symmetric {
        let sum = |product: fn(&[f64; 2]) -> f64| self.gradients.iter().map(product).sum::<f64>();
        let (east, both, north) = (sum(|g| g[0] * g[0]), sum(|g| g[0] * g[1]), sum(|g| g[1] * g[1]));
        let more = damping * f64::midpoint(east, north);
        Symmetric { east: east + more, both, north: north + more }
    }

    fn step(&self, damping: f64) -> Option<[f64; 2]> {
        let downhill = [0, 1].map(|axis| {
            -self
                .gradients
                .iter()
                .zip(&self.residuals)
                .map(|(row, residual)| row[axis] * residual)
                .sum::<f64>()
        });
        let step = self.normal(damping).inverse()?.times(downhill);
        (step[0].is_finite() && step[1].is_finite()).then_some(step)
    }

    fn square(&self) -> f64 {
        self.residuals.iter().map(|residual| residual * residual).sum()
    }

    /// The square of other residuals under these weights.
    fn square_of(&self, looks: &[Observed]) -> f64 {
        let residuals: Vec<f64> = looks.iter().map(|look| look.residual).collect();
        forward(&self.root, &residuals).iter().map(|residual| residual * residual).sum()
    }
}

/// Covariance of the residuals. Lines that share a mark err together as far as the mark stands elsewhere.
fn covariance_of(looks: &[Observed]) -> Vec<Vec<f64>> {
    let shared = |one: &Observed, other: &Observed| -> f64 {
        let pairs = one.marks.iter().flat_map(|a| other.marks.iter().map(move |b| (a, b)));
        pairs.filter(|(a, b)| a.mark == b.mark).map(|(a, b)| dot(a.effect, b.effect)).sum()
    };
    let row = |(number, one): (usize, &Observed)| {
        let cell = |(column, other)| shared(one, other) + if column == number { one.variance } else { 0.0 };
        looks.iter().enumerate().map(cell).collect()
    };
    looks.iter().enumerate().map(row).collect()
}

/// The lower triangle L of C = L Lᵀ, each row full length.
fn cholesky(matrix: &[Vec<f64>]) -> Option<Vec<Vec<f64>>> {
    let size = matrix.len();
    let mut root = vec![vec![0.0; size]; size];
    for row in 0..size {
        for column in 0..=row {
            let known: f64 = (0..column).map(|k| root[row][k] * root[column][k]).sum();
            let left = matrix[row][column] - known;
            if row == column {
                // written so that not-a-number is refused too
                if !(left > 0.0 && left.is_finite()) {
                    return None;
                }
                root[row][row] = left.sqrt();
            } else {
                root[row][column] = left / root[column][column];
            }
        }
    }
    Some(root)
}

/// L⁻¹ v.
fn forward(root: &[Vec<f64>], vector: &[f64]) -> Vec<f64> {
    let mut solved = Vec::with_capacity(vector.len());
    for (row, value) in root.iter().zip(vector) {
        let known: f64 = row.iter().zip(&solved).map(|(factor, done)| factor * done).sum();
        solved.push((value - known) / row[solved.len()]);
    }
    solved
}
