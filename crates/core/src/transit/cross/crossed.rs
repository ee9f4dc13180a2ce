//! Lines of position, the position where they cross, and why there is none.

use jiff::Timestamp;

use super::position::marks_of;
use crate::coast::Coast;
use crate::landmark::Landmark;
use crate::magnetic::MagneticVariation;
use crate::transit::{Eye, Problem, ProblemCode, RangeLine, Severity, land};
use crate::{
    AccuracyKind, Assessment, ErrorEllipse, Fix, HorizontalUncertainty, InvalidLength, MagneticBearing,
    Metres, Position, Question, TakeAnswer, TrueBearing, WaterStatus, ZoneSet,
};

/// A line that the observer is on, and how well that is known.
#[derive(Debug, Clone)]
pub enum LineOfPosition {
    /// Two marks seen in line. The doubt is that of the eye and of the marks' places.
    Transit {
        /// Their line.
        line: RangeLine,
        /// The eye that sees them.
        eye: Eye,
    },
    /// The direction of a mark.
    Bearing {
        /// The mark.
        mark: Landmark,
        /// Its true bearing, from the observer.
        bearing: TrueBearing,
        /// Standard error (68 %), in degrees, that of the variation included.
        standard_error_deg: f64,
    },
    /// The angle between two marks.
    HorizontalAngle {
        /// The mark to the left.
        left: Landmark,
        /// The mark to the right.
        right: Landmark,
        /// From the left mark to the right one, above 0 and below 180 degrees.
        angle_deg: f64,
        /// Standard error (68 %), in degrees.
        standard_error_deg: f64,
    },
}

/// What a line of position is called, by its marks.
#[derive(Debug, Clone, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(tag = "kind", rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum LineName {
    /// Two marks seen in line.
    Transit {
        /// The front mark.
        front: String,
        /// The rear mark.
        rear: String,
    },
    /// The direction of a mark.
    Bearing {
        /// The mark.
        mark: String,
    },
    /// The angle between two marks.
    HorizontalAngle {
        /// The mark to the left.
        left: String,
        /// The mark to the right.
        right: String,
    },
}

/// A position from lines of position.
#[derive(Debug, Clone)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct CrossedPosition {
    /// The position that fits all lines best, each weighted by its doubt.
    pub position: Position,
    /// The ellipse that holds the true position 95 times in 100, for normal errors; grown where the lines are not straight
    /// over it ([`ProblemCode::EllipseTooLarge`]).
    pub ellipse: ErrorEllipse,
    /// Distance root mean square, one sigma, of the position: √(σ₁² + σ₂²).
    #[cfg_attr(feature = "serde", serde(rename = "drms_m"))]
    pub drms: Metres,
    /// The circle that holds the true position 95 times in 100; no smaller than that where an ellipse describes the doubt
    /// badly ([`ProblemCode::EllipseTooLarge`]).
    #[cfg_attr(feature = "serde", serde(rename = "radius_95_m"))]
    pub radius_95: Metres,
    /// Best angle at which two of the lines cut, 0 to 90 degrees.
    pub angle_of_cut_deg: f64,
    /// How far each line passes from the position, in its own standard errors, in the order given.
    pub residuals: Vec<f64>,
    /// Whether the lines meet within their errors; always so with two.
    pub agree: bool,
    /// Other positions that fit as well, the likeliest (with a place given as near: the nearest) first.
    pub others: Vec<Position>,
    /// The 95 % circle of each of them.
    #[cfg_attr(feature = "serde", serde(rename = "others_radius_95_m"))]
    pub others_radius_95: Vec<Metres>,
    /// What is wrong with the marks or the cut.
    pub problems: Vec<Problem>,
}

impl LineOfPosition {
    /// Makes the line of a true bearing.
    ///
    /// # Errors
    ///
    /// [`CrossError::StandardError`] unless 0 < standard error < 45°.
    pub fn bearing(
        mark: Landmark,
        bearing: TrueBearing,
        standard_error_deg: f64,
    ) -> Result<Self, CrossError> {
        Self::Bearing { mark, bearing, standard_error_deg }.checked()
    }

    /// Makes the line of a bearing off a compass; deviation is not counted.
    ///
    /// The standard errors of compass and variation are independent and add in quadrature.
    ///
    /// # Errors
    ///
    /// [`CrossError::StandardError`] unless 0 < standard error < 45°, that of the variation included or not.
    pub fn compass(
        mark: Landmark,
        bearing: MagneticBearing,
        variation: MagneticVariation,
        standard_error_deg: f64,
    ) -> Result<Self, CrossError> {
        let bearing = variation.to_true(bearing);
        let of_compass = Self::bearing(mark, bearing, standard_error_deg)?;
        let Self::Bearing { mark, .. } = of_compass else { return Ok(of_compass) };
        let both_deg = standard_error_deg.hypot(variation.standard_error().arcmin() / 60.0);
        Self::bearing(mark, bearing, both_deg)
    }

    /// Makes the circle from which two marks show under an angle, counted from the left mark clockwise to the right one.
    ///
    /// # Errors
    ///
    /// [`CrossError`] if both marks are one place, or unless 0 < angle < 180° and 0 < standard error < 45°.
    pub fn horizontal_angle(
        left: Landmark,
        right: Landmark,
        angle_deg: f64,
        standard_error_deg: f64,
    ) -> Result<Self, CrossError> {
        Self::HorizontalAngle { left, right, angle_deg, standard_error_deg }.checked()
    }

    /// Makes the line of two marks seen in line.
    #[must_use]
    pub fn transit(line: RangeLine, eye: Eye) -> Self {
        Self::Transit { line, eye }
    }

    fn checked(self) -> Result<Self, CrossError> {
        self.check()?;
        Ok(self)
    }
}

impl CrossedPosition {
    /// Returns the position as a fix, its doubt the circle of 95 %, as a GPS fix has it.
    #[must_use]
    pub fn fix(&self, time: Option<Timestamp>) -> Option<Fix> {
        fix(self.position, self.radius_95, time).ok()
    }

    /// Adds what the coasts supplied say: marks of these lines that stand in the water, and a position that is on land.
    ///
    /// A coast never moves the position.
    #[must_use]
    pub fn held_against(mut self, lines: &[LineOfPosition], coasts: &[Coast]) -> Self {
        let marks = marks_of(lines);
        let of_marks = marks.into_iter().filter_map(|mark| land::problem_of_mark(mark, coasts));
        let of_position = land::problem_of_position(self.position, self.radius_95, coasts);
        self.problems.extend(of_marks.chain(of_position));
        self.problems.sort_by_key(|problem| problem.severity);
        self
    }

    /// Whether the lines alone leave it open which of several positions is meant.
    #[must_use]
    pub fn is_ambiguous(&self) -> bool {
        self.problems.iter().any(|problem| {
            problem.code() == ProblemCode::TwoPositionsFit && problem.severity != Severity::Note
        })
    }

    /// Asks a set of zones about the position and its ellipse, and about every other one if it is open which is meant.
    ///
    /// The first answer is that of [`Self::position`]. What they say together: [`Self::water_of`], [`Self::take_of`].
    ///
    /// # Errors
    ///
    /// [`InvalidLength`] if a circle of 95 % is no length, which [`crate::transit::cross()`] never gives.
    pub fn assess(
        &self,
        zones: &ZoneSet,
        question: &Question,
        time: Option<Timestamp>,
    ) -> Result<Vec<Assessment>, InvalidLength> {
        let others = self.others.iter().copied().enumerate().map(|(number, position)| {
            // a list of circles that is too short leaves the rest in as much doubt as the position itself
            (position, self.others_radius_95.get(number).copied().unwrap_or(self.radius_95))
        });
        let meant = if self.is_ambiguous() { self.others.len() } else { 0 };
        let here = Question { ellipse_95: Some(self.ellipse), ..question.clone() };
        let others = others.take(meant).map(|(position, radius_95)| {
            fix(position, radius_95, time).map(|fix| zones.assess(&fix, question))
        });
        std::iter::once(fix(self.position, self.radius_95, time).map(|fix| zones.assess(&fix, &here)))
            .chain(others)
            .collect()
    }

    /// What the water is if any of these positions may be meant: undecided unless all say the same.
    #[must_use]
    pub fn water_of(answers: &[Assessment]) -> WaterStatus {
        agreed(answers.iter().map(|answer| answer.water), WaterStatus::Undecided)
    }

    /// What may be done with the fish that was asked about in this place of the list: undecided unless all say the same.
    #[must_use]
    pub fn take_of(answers: &[Assessment], fish: usize) -> TakeAnswer {
        let of_each = answers
            .iter()
            .map(|answer| answer.take.get(fish).map_or(TakeAnswer::Undecided, |finding| finding.answer));
        agreed(of_each, TakeAnswer::Undecided)
    }
}

fn fix(position: Position, radius_95: Metres, time: Option<Timestamp>) -> Result<Fix, InvalidLength> {
    let uncertainty = HorizontalUncertainty::given(radius_95.metres(), AccuracyKind::P95)?;
    Ok(Fix { position, uncertainty, time })
}

/// What all say; undecided if they differ or there is none.
fn agreed<T: PartialEq>(mut answers: impl Iterator<Item = T>, undecided: T) -> T {
    match answers.next() {
        Some(first) if answers.all(|answer| answer == first) => first,
        _ => undecided,
    }
}

/// Why lines of position give no position, or an observation makes no line.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum CrossError {
    /// Fewer than two lines.
    #[error(
        "{} no position; take {} of a mark as nearly at right angles to the first as you can find",
        if *.given == 0 { "no line of position gives" } else { "one line of position gives" },
        if *.given == 0 { "two lines, the second" } else { "another line," }
    )]
    TooFewLines {
        /// How many were given.
        given: usize,
    },
    /// More lines than anybody takes.
    #[error(
        "{given} lines of position are too many: at most {most}; leave out those of small cut or large error"
    )]
    TooManyLines {
        /// How many were given.
        given: usize,
        /// How many are taken.
        most: usize,
    },
    /// Nowhere before the marks do they meet.
    #[error(
        "the lines of position ({}) do not cross within {most_km} km before their marks; check the marks, the \
         figures, and whether a bearing is true or magnetic, or take another mark, as nearly at right angles to the first as you can find",
        listed(.lines)
    )]
    NoCrossing {
        /// The lines.
        lines: Vec<LineName>,
        /// How far a mark is looked for.
        most_km: u32,
    },
    /// They lie one upon the other.
    #[error(
        "the lines of position ({}) run along each other, so they give a line but no position; take another mark, as nearly at right angles to the first as you can find",
        listed(.lines)
    )]
    Parallel {
        /// The lines.
        lines: Vec<LineName>,
    },
    /// An error of observation that cannot be.
    #[error(
        "a standard error of {value_deg}° for {} makes no sense: it has to be above 0° and below 45°",
        called(.line)
    )]
    StandardError {
        /// What it is the error of.
        line: LineName,
        /// The figure, in degrees.
        value_deg: f64,
    },
    /// An angle that two marks do not show.
    #[error(
        "{} cannot be {value_deg}°: it has to be above 0° and below 180°, from the left mark clockwise to the right one",
        called(.line)
    )]
    Angle {
        /// Which angle.
        line: LineName,
        /// The figure, in degrees.
        value_deg: f64,
    },
    /// Both marks of an angle are one.
    #[error(
        "{left} and {right} stand in the same place, so there is no angle between them; give two different marks"
    )]
    OnePlace {
        /// The mark to the left.
        left: String,
        /// The mark to the right.
        right: String,
    },
}

fn listed(lines: &[LineName]) -> String {
    lines.iter().map(called).collect::<Vec<_>>().join(", ")
}

/// What the errors call a line: "the bearing of the beacon".
fn called(line: &LineName) -> String {
    match line {
        LineName::Transit { front, rear } => format!("the transit of {front} and {rear}"),
        LineName::Bearing { mark } => format!("the bearing of {mark}"),
        LineName::HorizontalAngle { left, right } => format!("the angle from {left} to {right}"),
    }
}
