//! From fixes taken while two marks were seen in line to the line that they really show.
//!
//! An observer on the true line, D beyond the front mark, stands a·(D + S)/S − c·D/S to the right of the stated line if
//! the front mark stands a and the rear mark c to the right of its stated place, with S between the marks. That is a
//! straight line in D, so two numbers are fitted: it is fitted where the fixes lie, and carried to the marks.

use super::fit::{MarksOffset, OneMark, StraightFit, told_within_m};
use super::reason::{Findings, because, by_reason};
use super::sightings::{Sightings, count};
use crate::fix::NORMAL_95;
use crate::landmark::Landmark;
use crate::transit::range_line::LineDoubt;
use crate::transit::{Calibration, CalibrationError, Eye, MarkError, RangeLine, Told};
use crate::{Fix, Metres, UncertaintySource};

impl RangeLine {
    /// Finds the line that the marks really show, from fixes taken while they were seen in line.
    ///
    /// Only offsets across the line show in such fixes; a mark that stands nearer or farther than it is said to moves
    /// nothing. All fixes make the estimate. For its doubt, fixes within five minutes of one another weigh as much as one,
    /// because errors of small receivers hold on for minutes; so do fixes without a time that lie within 100 m, or
    /// three times their 95 % radius, of one another along the line.
    ///
    /// # Units
    ///
    /// Metres across the stated line, to the right of somebody who looks at the marks; everything at 95 %.
    ///
    /// # Accuracy
    ///
    /// With fixes as good as they say, the 95 % interval holds the truth in 95 of 100 cases or somewhat more
    /// (`tests/calibrate.rs`, `coverage`). The bound holds for any likeness of errors within a group: a group of n
    /// weighs 1/n each, and the square of a sum is at most n times the sum of squares (Cauchy and Schwarz).
    ///
    /// # Edge cases
    ///
    /// Fixes between or behind the marks, fixes where the marks stand open by more than 3°, and outliers are not used,
    /// and named. Where the fixes scatter more than they say, the doubt grows with them.
    ///
    /// # Errors
    ///
    /// [`CalibrationError`] if there is no fix, or none that can be used.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::{Fix, HorizontalUncertainty, Metres, Position, landmark::Landmark};
    /// use takeline::transit::{CalibrationReason, Eye, RangeLine, Told};
    ///
    /// let beacon = Landmark::at("the beacon", Position::from_degrees(45.1252, -30.1310)?);
    /// let pine = Landmark::at("the lone pine", Position::from_degrees(45.1255, -30.1120)?);
    /// let line = RangeLine::through(beacon, pine)?;
    /// // one fix, 25 m to the right of where the line should be
    /// let position = line.beside(Metres::new(800.0)?, Metres::new(25.0)?);
    /// let fix = Fix::new(position, HorizontalUncertainty::assumed());
    /// let found = line.calibrate(&[fix], Eye::default())?;
    /// assert_eq!(found.told, Told::OnlyWhereTheFixesLie);
    /// assert!(found.at_fixes[0].to_the_right.metres() > 15.0);
    /// assert!(matches!(found.because[1], CalibrationReason::OneFixCannotTell { .. }));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # References
    ///
    /// Weighted least squares; scatter above the stated one widens the doubt as by Birge (1932).
    pub fn calibrate(&self, fixes: &[Fix], eye: Eye) -> Result<Calibration, CalibrationError> {
        let sightings = Sightings::collect(self, fixes, eye);
        if sightings.used.is_empty() {
            return Err(self.no_fix(fixes.len(), &sightings));
        }
        let fit = StraightFit::through(&sightings.used, sightings.independent);
        let separation_m = self.separation().metres();
        let stated = MarksOffset::stated(self);
        let told = self.told(&fit, &stated);
        let factor = stated.too_narrow_for(&fit);
        let marks = match told {
            Told::BothMarks => fit.marks(separation_m),
            Told::OnlyWhereTheFixesLie => stated.improved_by(&fit, factor),
            Told::Nothing => stated,
        };
        let shown = self.moved_across(&marks)?;
        let front_alone = fit.one_mark(&sightings.used, |at_m| 1.0 + at_m / separation_m).into();
        let rear_alone = fit.one_mark(&sightings.used, |at_m| -at_m / separation_m).into();
        let findings = Findings { line: self, eye, sightings: &sightings, fit, stated, factor, marks, told };
        Ok(Calibration {
            because: because(&findings, &front_alone, &rear_alone),
            stated: self.clone(),
            fixes: sightings.used.len(),
            independent: sightings.independent,
            not_used: sightings.unused.iter().map(|&(number, _)| number).collect(),
            told,
            at_front: marks.at(0.0),
            at_rear: marks.at(-separation_m),
            at_fixes: sightings.shown_at_m().into_iter().map(|at_m| marks.at(at_m)).collect(),
            front_alone,
            rear_alone,
            scatter: scatter(&sightings, &marks),
            bearing: shown.bearing_at(Metres::computed(sightings.middle_m())),
            shown,
        })
    }

    fn no_fix(&self, fixes: usize, sightings: &Sightings) -> CalibrationError {
        let (front, rear) = (self.front().name.clone(), self.rear().name.clone());
        if fixes == 0 {
            return CalibrationError::NoFix { front, rear };
        }
        CalibrationError::NoUsableFix { front, rear, fixes, unused: by_reason(&sightings.unused) }
    }

    /// What the fixes alone can tell.
    fn told(&self, fit: &StraightFit, stated: &MarksOffset) -> Told {
        let support = fit.support;
        let is_told =
            |at_m: f64, mark: &Landmark| NORMAL_95 * support.variance_m2(at_m).sqrt() <= told_within_m(mark);
        if is_told(0.0, self.front()) && is_told(-self.separation().metres(), self.rear()) {
            return Told::BothMarks;
        }
        let at_m = support.distance_m;
        let doubt_m = NORMAL_95 * support.variance_m2(at_m).sqrt();
        let stated_m = stated.uncertainty_95_m(at_m);
        // coarse fixes that lie far off all the same do tell something
        if doubt_m < stated_m || fit.offset_m(at_m).abs() > doubt_m.hypot(stated_m) {
            return Told::OnlyWhereTheFixesLie;
        }
        Told::Nothing
    }

    /// The line through both marks moved across this one.
    fn moved_across(&self, marks: &MarksOffset) -> Result<Self, CalibrationError> {
        let square = NORMAL_95 * NORMAL_95;
        let moved = |mark: &Landmark, at_m: f64, offset_m: f64| Landmark {
            position: self.beside(Metres::computed(at_m), Metres::computed(offset_m)),
            position_error_95: Metres::computed(marks.uncertainty_95_m(at_m)),
            position_error_source: UncertaintySource::Given,
            ..mark.clone()
        };
        let front = moved(self.front(), 0.0, marks.front_m);
        let rear = moved(self.rear(), -self.separation().metres(), marks.rear_m);
        let doubt = LineDoubt {
            front_m2: square * marks.front_m2,
            rear_m2: square * marks.rear_m2,
            both_m2: square * marks.both_m2,
        };
        Ok(Self::with_doubt(front, rear, doubt)?)
    }
}

impl From<OneMark> for MarkError {
    fn from(mark: OneMark) -> Self {
        Self {
            to_the_right: Metres::computed(mark.offset_m),
            uncertainty_95: Metres::computed(NORMAL_95 * mark.variance_m2.sqrt()),
            explains: mark.explains,
        }
    }
}

/// Root mean square distance of the fixes from the line shown.
fn scatter(sightings: &Sightings, marks: &MarksOffset) -> Metres {
    let off = sightings.used.iter().map(|one| (one.across_m - marks.offset_m(one.along_m)).powi(2));
    Metres::computed((off.sum::<f64>() / count(sightings.used.len())).sqrt())
}
