//! How far off a signed distance may be, and what that makes of the side.

use super::Containment;
use super::spread::spread_m;
use crate::fix::{NORMAL_95, RAYLEIGH_95};
use crate::zone::{LineBelongs, Zone};
use crate::{ErrorEllipse, Fix, HowFar, Metres, Position};

/// Nearer to the line than this, in metres, is on it: the accuracy of the geometry.
const ON_THE_LINE_M: f64 = 1e-4;

/// The parts of the doubt of a distance to a zone's line.
#[derive(Debug, Clone, Copy)]
#[expect(clippy::struct_field_names, reason = "the unit ends the name of every bare number")]
pub(super) struct ErrorBudget {
    /// How far the fix puts the distance off, 95 %, in metres: its radius, or what its ellipse makes of it here.
    fix_m: f64,
    /// 95 % uncertainty of the line, in metres.
    line_m: f64,
    /// 95 % uncertainty of the datum, in metres.
    datum_m: f64,
}

impl ErrorBudget {
    pub(super) fn of(fix: &Fix, zone: &Zone) -> Self {
        Self {
            fix_m: fix.uncertainty.radius_95().metres(),
            line_m: zone.line_uncertainty.metres(),
            datum_m: zone.datum.uncertainty_95().metres(),
        }
    }

    /// The same with what an ellipse about the fix says, which holds the true position as often as the circle does.
    ///
    /// Where the circle settles the side already it is left alone: the ellipse takes thousands of distances.
    pub(super) fn within(
        self,
        ellipse_95: ErrorEllipse,
        (fix, zone): (Position, &Zone),
        far: &HowFar,
    ) -> Self {
        let settled = far.signed_distance.metres().abs() > self.whole(far).metres();
        let boundary = zone.extent.area().filter(|_| !settled);
        let spread_m = boundary.map(|boundary| spread_m(boundary, fix, ellipse_95));
        Self { fix_m: spread_m.map_or(self.fix_m, |spread_m| spread_m.min(self.fix_m)), ..self }
    }

    /// Fix, line and datum in quadrature, 95 %, in metres.
    pub(super) fn random_95_m(self) -> f64 {
        self.fix_m.hypot(self.line_m).hypot(self.datum_m)
    }

    /// The part that a better fix cannot take away, in metres.
    pub(super) fn of_the_line_m(self) -> f64 {
        self.line_m.hypot(self.datum_m)
    }

    /// The whole doubt of a distance: the random part, and half the span of the readings on top, because a reading is
    /// wrong or right and does not average out.
    pub(super) fn whole(self, far: &HowFar) -> Metres {
        Metres::computed(self.random_95_m() + far.reading_doubt.metres())
    }

    /// One standard deviation of the distance, in metres. A 95 % circle of a fix is 2.45 of them across any line.
    fn sigma_m(self) -> f64 {
        (self.fix_m / RAYLEIGH_95).hypot(self.line_m / NORMAL_95).hypot(self.datum_m / NORMAL_95)
    }

    /// The side, and whether the fix is on the line itself.
    pub(super) fn side(self, far: &HowFar, belongs: LineBelongs) -> (Containment, bool) {
        let distance_m = far.signed_distance.metres();
        let whole_m = self.whole(far).metres();
        let on_the_line = distance_m.abs() <= ON_THE_LINE_M + far.reading_doubt.metres();
        let side = if whole_m <= ON_THE_LINE_M && on_the_line {
            match belongs {
                LineBelongs::ToZone => Containment::Inside,
                LineBelongs::Outside => Containment::Outside,
            }
        } else if distance_m > whole_m {
            Containment::Outside
        } else if far.greatest_known_m() < -self.random_95_m() {
            Containment::Inside
        } else {
            Containment::Undecided
        };
        (side, on_the_line && far.reading_doubt.metres() <= ON_THE_LINE_M)
    }

    /// Probability that the true position is inside, for normal errors; the mean over the extremes of where edges may run. No boat is beyond a
    /// shore.
    pub(super) fn inside_probability(self, far: &HowFar, side: Containment) -> f64 {
        let sigma_m = self.sigma_m();
        if sigma_m <= 0.0 {
            return match side {
                Containment::Inside => 1.0,
                Containment::Outside => 0.0,
                Containment::Undecided => 0.5,
            };
        }
        let inside = |distance_m: f64| 0.5 * libm::erfc(distance_m / (sigma_m * std::f64::consts::SQRT_2));
        inside(far.least_known_m()).midpoint(inside(far.greatest_known_m()))
    }
}
