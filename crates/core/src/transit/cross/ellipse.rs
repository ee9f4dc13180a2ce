//! What the covariance of a position looks like: ellipse, drms and the circle that holds 95 %.

use crate::fix::{NORMAL_95, RAYLEIGH_95};
use crate::{ErrorEllipse, Metres, TrueBearing};

/// A symmetric 2 × 2 matrix, east before north.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Symmetric {
    pub(super) east: f64,
    pub(super) both: f64,
    pub(super) north: f64,
}

impl Symmetric {
    /// Its inverse; none if it is singular but for rounding.
    pub(super) fn inverse(self) -> Option<Self> {
        let determinant = self.east * self.north - self.both * self.both;
        let scale = self.east + self.north;
        // 1e-13 of the square of the trace: two lines that cut at less than 0.0001°
        let regular = determinant > 1e-13 * scale * scale && determinant.is_finite();
        regular.then(|| Self {
            east: self.north / determinant,
            both: -self.both / determinant,
            north: self.east / determinant,
        })
    }

    pub(super) fn times(self, vector: [f64; 2]) -> [f64; 2] {
        let [east, north] = vector;
        [self.east * east + self.both * north, self.both * east + self.north * north]
    }

    pub(super) fn scaled(self, factor: f64) -> Self {
        Self { east: self.east * factor, both: self.both * factor, north: self.north * factor }
    }

    /// Standard deviations along the long and the short axis, and the direction of the long one.
    fn axes(self) -> (f64, f64, f64) {
        let mean = f64::midpoint(self.east, self.north);
        let half = ((self.north - self.east) / 2.0).hypot(self.both);
        // a variance is never negative but for rounding
        let [long, short] = [mean + half, mean - half].map(|variance| variance.max(0.0).sqrt());
        // clockwise from north, half the angle that the double angle makes
        let bearing_deg = (2.0 * self.both).atan2(self.north - self.east).to_degrees() / 2.0;
        (long, short, bearing_deg)
    }

    /// The point of the one-sigma ellipse at an angle counted from the long axis round the unit circle.
    pub(super) fn on_ellipse(self, angle_deg: f64) -> [f64; 2] {
        let (long, short, bearing_deg) = self.axes();
        let (sin, cos) = angle_deg.to_radians().sin_cos();
        let (sin_axis, cos_axis) = bearing_deg.to_radians().sin_cos();
        let (along, across) = (long * cos, short * sin);
        [along * sin_axis + across * cos_axis, along * cos_axis - across * sin_axis]
    }

    /// Standard deviation along the long axis.
    pub(super) fn longest(self) -> f64 {
        self.axes().0
    }

    /// The ellipse that holds 95 % of a normal error with this covariance, in square metres.
    pub(super) fn ellipse_95(self) -> ErrorEllipse {
        let (long, short, bearing_deg) = self.axes();
        let turned = TrueBearing::wrapping(bearing_deg);
        let major_bearing = if turned.degrees() >= 180.0 { turned.reversed() } else { turned };
        ErrorEllipse {
            semi_major: Metres::computed(RAYLEIGH_95 * long),
            semi_minor: Metres::computed(RAYLEIGH_95 * short),
            major_bearing,
        }
    }

    /// Distance root mean square.
    pub(super) fn drms(self) -> Metres {
        Metres::computed((self.east + self.north).max(0.0).sqrt())
    }

    /// The circle that holds 95 % of a normal error with this covariance.
    pub(super) fn circle_95(self) -> Metres {
        let (long, short, _) = self.axes();
        Metres::computed(circle_95(long, short))
    }
}

/// Radius that holds 95 % of a bivariate normal error with these standard deviations along its axes.
///
/// Bisection between the two limits: 1.960 σ where the short axis is none, 2.448 σ where both are the same.
fn circle_95(long: f64, short: f64) -> f64 {
    if long <= 0.0 {
        return 0.0;
    }
    let ratio = (short / long).min(1.0);
    let (mut low, mut high) = (NORMAL_95, RAYLEIGH_95);
    for _ in 0..20 {
        let middle = f64::midpoint(low, high);
        if share_within(middle, ratio) < 0.95 {
            low = middle;
        } else {
            high = middle;
        }
    }
    long * f64::midpoint(low, high)
}

/// Share of a normal error with standard deviations 1 and `ratio` that lies within a radius.
///
/// The density along the long axis times the share within the chord there, by Simpson's rule over the angle whose sine is
/// the place on the axis.
fn share_within(radius: f64, ratio: f64) -> f64 {
    const STEPS: u32 = 256;
    let share = |angle: f64| {
        let (along, half_chord) = (radius * angle.sin(), radius * angle.cos());
        let within = if ratio > 0.0 {
            libm::erf(half_chord / (ratio * std::f64::consts::SQRT_2))
        } else {
            f64::from(half_chord > 0.0)
        };
        (-along * along / 2.0).exp() * within * half_chord
    };
    let step = std::f64::consts::FRAC_PI_2 / f64::from(STEPS);
    let sum: f64 = (0..=STEPS)
        .map(|number| {
            let weight = if number == 0 || number == STEPS { 1.0 } else { f64::from(2 + 2 * (number % 2)) };
            weight * share(step * f64::from(number))
        })
        .sum();
    // both halves of the axis, and the density's 1 / √(2π)
    2.0 * sum * step / 3.0 / std::f64::consts::TAU.sqrt()
}

/// Probability that a chi-square of so many degrees of freedom is larger than this.
///
/// # References
///
/// Q(a + 1, x) = Q(a, x) + xᵃ e⁻ˣ / Γ(a + 1), from Q(½, x) = erfc √x and Q(1, x) = e⁻ˣ (NIST Digital Library of
/// Mathematical Functions, 8.8.6 and 8.4).
pub(super) fn probability_beyond(chi_square: f64, degrees_of_freedom: usize) -> f64 {
    if degrees_of_freedom == 0 {
        return 1.0;
    }
    let x = chi_square / 2.0;
    let odd = degrees_of_freedom % 2 == 1;
    let mut order = if odd { 0.5 } else { 1.0 };
    let mut beyond = if odd { libm::erfc(x.sqrt()) } else { (-x).exp() };
    // x^a e^-x / Γ(a + 1) at the first order; Γ(3/2) = √π / 2, Γ(2) = 1
    let mut term =
        if odd { x.sqrt() * (-x).exp() * 2.0 / std::f64::consts::PI.sqrt() } else { x * (-x).exp() };
    for _ in 0..(degrees_of_freedom - 1) / 2 {
        beyond += term;
        order += 1.0;
        term *= x / order;
    }
    beyond
}
