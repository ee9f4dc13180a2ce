//! What follows from a calibration, as data, and what would tell more.

use strum::{IntoStaticStr, VariantNames};

use super::fit::{MarksOffset, StraightFit, Support, told_within_m};
use super::sightings::{Sightings, TOGETHER_M, count, sigma_m};
use crate::coded::coded;
use crate::fix::NORMAL_95;
use crate::transit::{Eye, LineOffset, MarkError, RangeLine, Told};

/// Numbers of further fixes that are tried, in this order.
const FURTHER: [usize; 10] = [2, 3, 4, 6, 8, 12, 16, 24, 32, 48];
/// Distances at which they are tried, in steps of this, in metres.
const STEP_M: f64 = 50.0;
/// And up to this, in metres: farther out a small craft sees few marks.
const FARTHEST_M: f64 = 10_000.0;
/// From so many on, further fixes of the same kind are no advice.
const TOO_MANY_FIXES: f64 = 100.0;

/// What follows from fixes taken on a line. Marks are given by their names, distances from the front mark.
#[derive(Debug, Clone, PartialEq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(tag = "code", rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum CalibrationReason {
    /// Where the line shown passes the stated one.
    LinePasses {
        /// The front mark.
        front: String,
        /// At the nearest and the farthest fix, or at the middle one where all lie close to each other.
        at: Vec<LineOffset>,
        /// Whether it may be the stated line, for all that is known.
        is_stated_line: bool,
    },
    /// Where both marks stand, by the fixes alone.
    MarksStand {
        /// The front mark.
        front: String,
        /// How far to the right of its stated place it stands, in metres.
        front_to_the_right_m: f64,
        /// The doubt of that, 95 %, in metres.
        front_uncertainty_95_m: f64,
        /// The rear mark.
        rear: String,
        /// How far to the right of its stated place it stands, in metres.
        rear_to_the_right_m: f64,
        /// The doubt of that, 95 %, in metres.
        rear_uncertainty_95_m: f64,
    },
    /// No error of one mark alone explains the fixes.
    BothMarksOff {
        /// The front mark.
        front: String,
        /// The rear mark.
        rear: String,
    },
    /// No error of one mark alone explains the fixes, so the other one is off.
    OtherMarkOff {
        /// The mark whose error does not explain them.
        mark: String,
        /// The other one.
        other: String,
    },
    /// An error of one mark explains the fixes if the other one stands where it is said to.
    OneMarkOff {
        /// The mark.
        mark: String,
        /// The other one.
        other: String,
        /// How far to the right of its stated place the mark stands then, in metres.
        to_the_right_m: f64,
        /// The doubt of that, 95 %, in metres.
        uncertainty_95_m: f64,
    },
    /// One fix cannot tell one mark from the other.
    OneFixCannotTell {
        /// Whether an error of either mark alone explains it, so that nobody can tell which is off; else how far each is.
        either_explains: bool,
        /// Where the fix lies, in metres.
        distance_from_front_m: f64,
    },
    /// The fixes lie too near to one another to tell one mark from the other.
    FixesTooNear {
        /// Whether an error of either mark alone explains them, so that nobody can tell which is off; else how far each is.
        either_explains: bool,
        /// How long a part of the line they cover, in metres.
        covered_m: f64,
    },
    /// The fixes are too few or too coarse to tell one mark from the other.
    FixesTooFew {
        /// Whether an error of either mark alone explains them, so that nobody can tell which is off; else how far each is.
        either_explains: bool,
        /// How long a part of the line they cover, in metres.
        covered_m: f64,
        /// How far the marks stand apart, in metres.
        separation_m: f64,
    },
    /// The stated errors of the marks do not explain what was found, so they are taken as larger away from the fixes.
    StatedErrorsTooSmall {
        /// So many times.
        times: f64,
    },
    /// The fixes tell nothing.
    FixesTellNothing {
        /// Where they lie, in metres.
        distance_from_front_m: f64,
        /// How far to the right of the stated line they put the line there, in metres.
        to_the_right_m: f64,
        /// The doubt of that, 95 %, in metres.
        uncertainty_95_m: f64,
        /// What the stated places give there, 95 %, in metres.
        stated_uncertainty_95_m: f64,
    },
    /// Further fixes that would tell both marks.
    TakeFurtherFixes {
        /// The front mark.
        front: String,
        /// Ways, of which each is enough.
        ways: Vec<FurtherFixes>,
    },
    /// No fixes from a small craft would tell the marks apart.
    NoFixesWouldTell,
    /// Further fixes where these lie that would tell more than the stated places do.
    TakeMoreFixes {
        /// How many.
        fixes: u32,
    },
    /// Only better fixes would tell more than the stated places do.
    TakeBetterFixes,
    /// Fixes share their errors.
    FixesCountAsFewer {
        /// How many there are.
        fixes: usize,
        /// How many they count as.
        independent: usize,
        /// Fixes without a time within this of one another count as one, in metres.
        together_m: f64,
    },
    /// The fixes scatter more than they should, so their doubt is taken as larger.
    FixesScatter {
        /// So many times.
        times: f64,
    },
    /// Fixes that are not used.
    NotUsed {
        /// Which, and why.
        unused: UnusedFixes,
    },
}

/// Further fixes at one place that would tell both marks.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct FurtherFixes {
    /// How many.
    pub fixes: usize,
    /// Where, in metres from the front mark.
    pub distance_from_front_m: f64,
    /// Whether farther out serves as well; else nearer does.
    pub or_farther: bool,
}

/// Why a fix is not used.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum UnusedFix {
    /// It lies between the marks.
    Between,
    /// It lies behind the rear mark.
    Behind,
    /// It lies more than 100 km from the front mark.
    TooFarAway,
    /// It is known no better than to 1 km.
    TooCoarse,
    /// The eye never sees the marks open there.
    NeverOpens,
    /// The marks stand open there by more than 3 degrees.
    Opened,
    /// It lies more than five standard deviations off the line that the others agree on.
    Outlier,
}

/// Fixes that are not used for one reason.
#[derive(Debug, Clone, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct UnusedFixes {
    /// Which of those given, counted from 1, rising.
    pub numbers: Vec<usize>,
    /// Why.
    pub why: UnusedFix,
}

coded!(CalibrationReason, UnusedFix);

/// Which fixes are not used and why, one for each reason.
pub(super) fn by_reason(unused: &[(usize, UnusedFix)]) -> Vec<UnusedFixes> {
    let mut kinds: Vec<UnusedFixes> = Vec::new();
    for &(place, why) in unused {
        match kinds.iter_mut().find(|kind| kind.why == why) {
            Some(kind) => kind.numbers.push(place + 1),
            None => kinds.push(UnusedFixes { numbers: vec![place + 1], why }),
        }
    }
    kinds
}

/// Everything that the reasons are made of.
#[derive(Debug)]
pub(super) struct Findings<'a> {
    pub(super) line: &'a RangeLine,
    pub(super) eye: Eye,
    pub(super) sightings: &'a Sightings,
    pub(super) fit: StraightFit,
    pub(super) stated: MarksOffset,
    /// What the stated errors were multiplied by.
    pub(super) factor: f64,
    pub(super) marks: MarksOffset,
    pub(super) told: Told,
}

/// What follows, the most important first.
pub(super) fn because(found: &Findings<'_>, front: &MarkError, rear: &MarkError) -> Vec<CalibrationReason> {
    let mut because = Vec::new();
    match found.told {
        Told::BothMarks => {
            because.extend([found.line_passes(), found.marks_stand()]);
            because.extend(found.one_mark(front, rear));
        }
        Told::OnlyWhereTheFixesLie => {
            because.extend([found.line_passes(), found.cannot_tell(front, rear)]);
            because.extend(found.one_mark(front, rear));
            because.extend(found.errors_too_small());
            because.push(found.further_fixes());
        }
        Told::Nothing => because.extend([found.nothing(), found.more_fixes()]),
    }
    because.extend(found.count_as_fewer());
    because.extend(found.scatter());
    let unused = by_reason(&found.sightings.unused).into_iter();
    because.extend(unused.map(|unused| CalibrationReason::NotUsed { unused }));
    because
}

/// Whether an offset is more than its doubt.
fn is_off(to_the_right_m: f64, uncertainty_95_m: f64) -> bool {
    to_the_right_m.abs() > uncertainty_95_m
}

impl Findings<'_> {
    fn front(&self) -> String {
        self.line.front().name.clone()
    }

    fn rear(&self) -> String {
        self.line.rear().name.clone()
    }

    fn line_passes(&self) -> CalibrationReason {
        let mut places = self.sightings.shown_at_m();
        if self.sightings.stretch_m() < TOGETHER_M {
            places = vec![self.sightings.middle_m()];
        } else if places.len() > 2 {
            places.remove(1);
        }
        let at: Vec<LineOffset> = places.into_iter().map(|at_m| self.marks.at(at_m)).collect();
        let is_new = |at: &LineOffset| is_off(at.to_the_right.metres(), at.uncertainty_95.metres());
        let is_stated_line = !at.iter().any(is_new);
        CalibrationReason::LinePasses { front: self.front(), at, is_stated_line }
    }

    fn marks_stand(&self) -> CalibrationReason {
        let behind_m = -self.line.separation().metres();
        CalibrationReason::MarksStand {
            front: self.front(),
            front_to_the_right_m: self.marks.offset_m(0.0),
            front_uncertainty_95_m: self.marks.uncertainty_95_m(0.0),
            rear: self.rear(),
            rear_to_the_right_m: self.marks.offset_m(behind_m),
            rear_uncertainty_95_m: self.marks.uncertainty_95_m(behind_m),
        }
    }

    fn one_mark(&self, front_alone: &MarkError, rear_alone: &MarkError) -> Vec<CalibrationReason> {
        let (front, rear) = (self.front(), self.rear());
        if !front_alone.explains && !rear_alone.explains {
            return vec![CalibrationReason::BothMarksOff { front, rear }];
        }
        let says = |mark: &str, other: &str, error: &MarkError| {
            let (mark, other) = (mark.to_owned(), other.to_owned());
            if !error.explains {
                return CalibrationReason::OtherMarkOff { mark, other };
            }
            let (to_the_right_m, uncertainty_95_m) =
                (error.to_the_right.metres(), error.uncertainty_95.metres());
            CalibrationReason::OneMarkOff { mark, other, to_the_right_m, uncertainty_95_m }
        };
        vec![says(&rear, &front, rear_alone), says(&front, &rear, front_alone)]
    }

    fn cannot_tell(&self, front: &MarkError, rear: &MarkError) -> CalibrationReason {
        let either_explains = front.explains && rear.explains;
        let covered_m = self.sightings.stretch_m();
        let distance_from_front_m = self.sightings.middle_m();
        if self.sightings.used.len() == 1 {
            return CalibrationReason::OneFixCannotTell { either_explains, distance_from_front_m };
        }
        if covered_m < distance_from_front_m / 2.0 {
            return CalibrationReason::FixesTooNear { either_explains, covered_m };
        }
        let separation_m = self.line.separation().metres();
        CalibrationReason::FixesTooFew { either_explains, covered_m, separation_m }
    }

    /// Whether the stated errors of the marks cannot both be right.
    fn errors_too_small(&self) -> Option<CalibrationReason> {
        let at_m = self.fit.support.distance_m;
        let doubt_m = NORMAL_95 * self.fit.support.variance_m2(at_m).sqrt();
        let stated_m = self.stated.uncertainty_95_m(at_m);
        is_off(self.fit.offset_m(at_m), doubt_m.hypot(stated_m))
            .then_some(CalibrationReason::StatedErrorsTooSmall { times: self.factor })
    }

    fn nothing(&self) -> CalibrationReason {
        let at_m = self.fit.support.distance_m;
        CalibrationReason::FixesTellNothing {
            distance_from_front_m: at_m,
            to_the_right_m: self.fit.offset_m(at_m),
            uncertainty_95_m: NORMAL_95 * self.fit.support.variance_m2(at_m).sqrt(),
            stated_uncertainty_95_m: self.stated.uncertainty_95_m(at_m),
        }
    }

    fn further_fixes(&self) -> CalibrationReason {
        let middle_m = self.fit.support.distance_m;
        let steps = |from_m: f64| std::iter::successors(Some(from_m), |at_m| Some(at_m + STEP_M));
        let nearer: Vec<f64> = steps(STEP_M).take_while(|&at_m| at_m < middle_m).collect();
        let nearer: Vec<f64> = nearer.into_iter().rev().collect();
        let first_m = (middle_m / STEP_M).ceil() * STEP_M;
        let farther: Vec<f64> = steps(first_m).take_while(|&at_m| at_m <= FARTHEST_M).collect();
        let ways: Vec<FurtherFixes> = [(farther, true), (nearer, false)]
            .into_iter()
            .filter_map(|(places, or_farther)| {
                let (fixes, distance_from_front_m) = self.further(&places, 3.0 * middle_m)?;
                Some(FurtherFixes { fixes, distance_from_front_m, or_farther })
            })
            .collect();
        if ways.is_empty() {
            return CalibrationReason::NoFixesWouldTell;
        }
        CalibrationReason::TakeFurtherFixes { front: self.front(), ways }
    }

    /// How many further fixes, and at which of some places, would tell both marks: few if some place within `usual_m`
    /// does, else at any.
    fn further(&self, places: &[f64], usual_m: f64) -> Option<(usize, f64)> {
        let within = |most_m: f64| {
            let place = |fixes: usize| {
                let mut near = places.iter().copied().filter(|&at_m| at_m <= most_m);
                near.find(|&at_m| self.would_tell(fixes, at_m)).map(|at_m| (fixes, at_m))
            };
            FURTHER.into_iter().find_map(place)
        };
        within(usual_m).or_else(|| within(FARTHEST_M))
    }

    fn would_tell(&self, fixes: usize, at_m: f64) -> bool {
        let Some(weight) = self.weight_of_one(at_m) else { return false };
        let support: Support = self.fit.support.with(count(fixes) * weight, at_m);
        let is_told = |mark, at_m: f64| NORMAL_95 * support.variance_m2(at_m).sqrt() <= told_within_m(mark);
        is_told(self.line.front(), 0.0) && is_told(self.line.rear(), -self.line.separation().metres())
    }

    /// Weight of one more fix as good as the others.
    fn weight_of_one(&self, at_m: f64) -> Option<f64> {
        let sigma_m = sigma_m(self.line, at_m, self.sightings.usual_radius_95_m(), self.eye)?;
        let sigma_m = sigma_m * self.fit.widening();
        Some(1.0 / (sigma_m * sigma_m))
    }

    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "above 0, below 100")]
    fn more_fixes(&self) -> CalibrationReason {
        let at_m = self.fit.support.distance_m;
        let wanted_m = self.stated.uncertainty_95_m(at_m) / NORMAL_95;
        let missing = 1.0 / (wanted_m * wanted_m) - self.fit.support.weight;
        match self.weight_of_one(at_m).map(|weight| (missing / weight).ceil() + 1.0) {
            Some(fixes) if fixes < TOO_MANY_FIXES => CalibrationReason::TakeMoreFixes { fixes: fixes as u32 },
            _ => CalibrationReason::TakeBetterFixes,
        }
    }

    fn count_as_fewer(&self) -> Option<CalibrationReason> {
        let Sightings { used, independent, .. } = self.sightings;
        let (fixes, independent) = (used.len(), *independent);
        (independent < fixes).then_some(CalibrationReason::FixesCountAsFewer {
            fixes,
            independent,
            together_m: TOGETHER_M,
        })
    }

    fn scatter(&self) -> Option<CalibrationReason> {
        self.fit.is_rough().then(|| CalibrationReason::FixesScatter { times: self.fit.widening() })
    }
}
