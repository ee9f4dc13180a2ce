//! The straight line through sightings, the offsets of both marks that it means, and the fit of one mark alone.

use super::sightings::{Sighting, count};
use crate::Metres;
use crate::fix::NORMAL_95;
use crate::landmark::Landmark;
use crate::transit::{LineOffset, RangeLine};

/// A mark is told if its offset is known better than this, in metres at 95 % (common practice, no source).
const TOLD_M: f64 = 10.0;
/// Or better than this share of its stated error, where that is more (common practice, no source).
const TOLD_SHARE: f64 = 0.5;
/// What holds 95 % of a normal error from below, in standard deviations.
const NORMAL_ONE_SIDED_95: f64 = 1.644_853_626_951_473;
/// Sightings whose distances spread by less than this, as a standard deviation, show no slope, in metres.
const LEAST_SPREAD_M: f64 = 1.0;
/// Least variance of a stated place before it is widened, in square metres: 1 m at 95 % (common practice, no source).
const LEAST_STATED_M2: f64 = 1.0 / (NORMAL_95 * NORMAL_95);
/// How much more than what was found stated errors grow once they are found too small (common practice, no source).
const MISTRUST: f64 = 4.0;

/// What sightings weigh, and where along the line: all that the doubt of a straight line through them depends on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Support {
    /// Sum of the weights, in 1/m².
    pub(super) weight: f64,
    /// Weighted mean distance from the front mark.
    pub(super) distance_m: f64,
    /// Weighted sum of the squared distances from that mean; 0 if they show no slope.
    pub(super) spread: f64,
}

impl Support {
    pub(super) fn of(sightings: &[Sighting]) -> Self {
        let weight: f64 = sightings.iter().map(|one| one.weight).sum();
        let distance_m = sightings.iter().map(|one| one.weight * one.along_m).sum::<f64>() / weight;
        let spread: f64 = sightings.iter().map(|one| one.weight * (one.along_m - distance_m).powi(2)).sum();
        let spread = if spread < weight * LEAST_SPREAD_M * LEAST_SPREAD_M { 0.0 } else { spread };
        Self { weight, distance_m, spread }
    }

    /// The same with all variances multiplied.
    fn coarser(self, factor: f64) -> Self {
        Self { weight: self.weight / factor, spread: self.spread / factor, ..self }
    }

    /// The same with further sightings at one distance.
    pub(super) fn with(self, weight: f64, at_m: f64) -> Self {
        let both = self.weight + weight;
        let apart_m = at_m - self.distance_m;
        Self {
            weight: both,
            distance_m: self.distance_m + apart_m * weight / both,
            spread: self.spread + apart_m * apart_m * self.weight * weight / both,
        }
    }

    /// Variance of the line at a distance from the front mark; infinite away from sightings that show no slope.
    pub(super) fn variance_m2(self, at_m: f64) -> f64 {
        let away_m = at_m - self.distance_m;
        // where there is no slope the line is known at the sightings themselves and nowhere else
        let turned_m2 = if self.spread > 0.0 || away_m.abs() > LEAST_SPREAD_M {
            away_m * away_m / self.spread
        } else {
            0.0
        };
        1.0 / self.weight + turned_m2
    }
}

/// The straight line through all sightings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct StraightFit {
    /// Weights, with the widening counted.
    pub(super) support: Support,
    /// How far to the right of the stated line it passes at the mean distance.
    offset_m: f64,
    slope: f64,
    /// Weighted squares left over, before the widening.
    left_over: f64,
    /// Degrees of freedom of that.
    degrees: usize,
    /// What all variances were multiplied by because the sightings scatter more than they should; 1 or more.
    widening: f64,
}

impl StraightFit {
    /// Fits the line by weighted least squares.
    ///
    /// Where what is left over is more than its degrees of freedom, all variances grow by the ratio (Birge 1932).
    pub(super) fn through(sightings: &[Sighting], independent: usize) -> Self {
        let bare = Support::of(sightings);
        let mean =
            |of: &dyn Fn(&Sighting) -> f64| sightings.iter().map(|one| one.weight * of(one)).sum::<f64>();
        let offset_m = mean(&|one| one.across_m) / bare.weight;
        let moment = mean(&|one| (one.along_m - bare.distance_m) * (one.across_m - offset_m));
        let slope = if bare.spread > 0.0 { moment / bare.spread } else { 0.0 };
        let off = |one: &Sighting| one.across_m - offset_m - slope * (one.along_m - bare.distance_m);
        let left_over = mean(&|one| off(one).powi(2));
        let parameters = if bare.spread > 0.0 { 2 } else { 1 };
        let degrees = independent.saturating_sub(parameters);
        let widening = (left_over / count(degrees.max(1))).max(1.0);
        Self { support: bare.coarser(widening), offset_m, slope, left_over, degrees, widening }
    }

    /// How far to the right of the stated line it passes.
    pub(super) fn offset_m(&self, at_m: f64) -> f64 {
        self.offset_m + self.slope * (at_m - self.support.distance_m)
    }

    /// What the doubt of each sighting was multiplied by.
    pub(super) fn widening(&self) -> f64 {
        self.widening.sqrt()
    }

    /// Whether the sightings scatter more than their doubt allows, at 95 %.
    pub(super) fn is_rough(&self) -> bool {
        self.left_over > chi_square_95(self.degrees.max(1))
    }

    /// The offsets of both marks, from the sightings alone.
    pub(super) fn marks(&self, separation_m: f64) -> MarksOffset {
        let Support { weight, distance_m, spread } = self.support;
        MarksOffset {
            separation_m,
            front_m: self.offset_m(0.0),
            rear_m: self.offset_m(-separation_m),
            front_m2: self.support.variance_m2(0.0),
            rear_m2: self.support.variance_m2(-separation_m),
            both_m2: 1.0 / weight + distance_m * (distance_m + separation_m) / spread,
        }
    }

    /// Fits one mark with the other one taken to stand where it is said to; `lever` is what the line moves by at a
    /// distance for each metre that the mark is off.
    pub(super) fn one_mark(&self, sightings: &[Sighting], lever: impl Fn(f64) -> f64) -> OneMark {
        let (mut square, mut product) = (0.0, 0.0);
        for one in sightings {
            let lever = lever(one.along_m);
            square += one.weight * lever * lever;
            product += one.weight * lever * one.across_m;
        }
        let offset_m = product / square;
        let off = |one: &Sighting| one.across_m - offset_m * lever(one.along_m);
        let left_over: f64 = sightings.iter().map(|one| one.weight * off(one).powi(2)).sum();
        let more = (left_over - self.left_over) / self.widening;
        OneMark { offset_m, variance_m2: self.widening / square, explains: more <= NORMAL_95 * NORMAL_95 }
    }
}

/// One mark off its stated place, the other one on it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct OneMark {
    pub(super) offset_m: f64,
    pub(super) variance_m2: f64,
    /// Whether the free line leaves no less over than chance would make it: the likelihood-ratio test, one degree of
    /// freedom, 95 %. It is sharper than a test of all that is left over, which many sightings of good fit dilute.
    pub(super) explains: bool,
}

/// How far both marks stand to the right of their stated places, with the covariance (one standard deviation).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct MarksOffset {
    pub(super) separation_m: f64,
    pub(super) front_m: f64,
    pub(super) rear_m: f64,
    pub(super) front_m2: f64,
    pub(super) rear_m2: f64,
    pub(super) both_m2: f64,
}

impl MarksOffset {
    /// No offset, with the doubt of the stated places.
    pub(super) fn stated(line: &RangeLine) -> Self {
        let separation_m = line.separation().metres();
        let at = |lever: f64| {
            let doubt_m = line.uncertainty_95(Metres::computed(lever * separation_m)).metres() / NORMAL_95;
            doubt_m * doubt_m
        };
        // one separation off, the line moves by twice the front mark's offset less the rear mark's
        let (front_m2, rear_m2) = (at(0.0), at(-1.0));
        let both_m2 = (4.0 * front_m2 + rear_m2 - at(1.0)) / 4.0;
        Self { separation_m, front_m: 0.0, rear_m: 0.0, front_m2, rear_m2, both_m2 }
    }

    /// That at one place.
    pub(super) fn at(&self, at_m: f64) -> LineOffset {
        LineOffset {
            distance_from_front: Metres::computed(at_m),
            to_the_right: Metres::computed(self.offset_m(at_m)),
            uncertainty_95: Metres::computed(self.uncertainty_95_m(at_m)),
        }
    }

    /// What the line moves by at a distance, for each metre that the front and the rear mark are off.
    fn levers(&self, at_m: f64) -> (f64, f64) {
        let lever = at_m / self.separation_m;
        (1.0 + lever, -lever)
    }

    /// How far to the right of the stated line the line through both marks passes.
    pub(super) fn offset_m(&self, at_m: f64) -> f64 {
        let (front, rear) = self.levers(at_m);
        front * self.front_m + rear * self.rear_m
    }

    /// The 95 % uncertainty of that.
    pub(super) fn uncertainty_95_m(&self, at_m: f64) -> f64 {
        NORMAL_95 * self.variance_along(self.levers(at_m)).max(0.0).sqrt()
    }

    fn variance_along(&self, (front, rear): (f64, f64)) -> f64 {
        front * front * self.front_m2 + rear * rear * self.rear_m2 + 2.0 * front * rear * self.both_m2
    }

    /// Returns by what the stated errors have to be multiplied to explain the offset and the slope of the sightings; 1
    /// while neither is larger than one standard error.
    ///
    /// Beyond that the square grows by [`MISTRUST`] times the excess: errors found wrong once are no guide to the rest.
    pub(super) fn too_narrow_for(&self, fit: &StraightFit) -> f64 {
        let stated = self.at_least();
        let at_m = fit.support.distance_m;
        let ratio = |found: f64, variance: f64, stated: f64| (found * found - variance) / stated.max(1e-12);
        let offset = ratio(fit.offset_m, 1.0 / fit.support.weight, stated.variance_along(self.levers(at_m)));
        let turned = ratio(
            fit.slope * self.separation_m,
            self.separation_m * self.separation_m / fit.support.spread,
            stated.variance_along((1.0, -1.0)),
        );
        let square = offset.max(turned).max(1.0);
        (1.0 + MISTRUST * (square - 1.0)).sqrt()
    }

    /// Puts the sightings to what was known before, its errors multiplied; one measurement after the other (Kalman 1960).
    pub(super) fn improved_by(&self, fit: &StraightFit, factor: f64) -> Self {
        let square = factor * factor;
        let mut known = self.at_least();
        known.front_m2 *= square;
        known.rear_m2 *= square;
        known.both_m2 *= square;
        let Support { weight, distance_m, spread } = fit.support;
        known.measure(self.levers(distance_m), fit.offset_m, 1.0 / weight);
        if spread > 0.0 {
            let turned_m = fit.slope * self.separation_m;
            known.measure((1.0, -1.0), turned_m, self.separation_m * self.separation_m / spread);
        }
        known
    }

    fn at_least(&self) -> Self {
        let least = |variance_m2: f64| variance_m2.max(LEAST_STATED_M2);
        Self { front_m2: least(self.front_m2), rear_m2: least(self.rear_m2), ..*self }
    }

    fn measure(&mut self, levers: (f64, f64), found_m: f64, variance_m2: f64) {
        let with_front = levers.0 * self.front_m2 + levers.1 * self.both_m2;
        let with_rear = levers.0 * self.both_m2 + levers.1 * self.rear_m2;
        let total = levers.0 * with_front + levers.1 * with_rear + variance_m2;
        let missed_m = found_m - levers.0 * self.front_m - levers.1 * self.rear_m;
        self.front_m += with_front / total * missed_m;
        self.rear_m += with_rear / total * missed_m;
        self.front_m2 -= with_front * with_front / total;
        self.rear_m2 -= with_rear * with_rear / total;
        self.both_m2 -= with_front * with_rear / total;
    }
}

/// The value that 95 % of a chi-square lie below, within 3 % (Wilson and Hilferty 1931).
pub(super) fn chi_square_95(degrees: usize) -> f64 {
    let degrees = count(degrees);
    let ninth = 2.0 / (9.0 * degrees);
    degrees * (1.0 - ninth + NORMAL_ONE_SIDED_95 * ninth.sqrt()).powi(3)
}

/// How well the offset of a mark has to be known to count as told, in metres at 95 %.
pub(super) fn told_within_m(mark: &Landmark) -> f64 {
    (TOLD_SHARE * mark.position_error_95.metres()).max(TOLD_M)
}
