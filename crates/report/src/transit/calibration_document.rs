//! The JSON of `transit calibrate`. `docs/json-output.md` describes each key.

use serde::Serialize;
use takeline::transit::{Calibration, LineOffset, MarkError, Told, TransitReport};

use super::document::{TransitDocument, transit_json};
use super::exit::transit_calibrate_exit_status;
use super::parts::{MarkDocument, metres, number};
use super::text::TRANSIT_LIMITS;
use crate::cautions::CAUTIONS;

/// What fixes on a line tell, schema `takeline.transit-calibrate/1`.
#[derive(Debug, Clone, Serialize)]
pub struct CalibrationDocument<'a> {
    /// `takeline.transit-calibrate/1`.
    pub schema: &'static str,
    /// Version of the program.
    pub takeline_version: &'static str,
    /// The front mark as stated.
    pub front: MarkDocument<'a>,
    /// The rear mark as stated.
    pub rear: MarkDocument<'a>,
    /// The front mark moved onto the line shown.
    pub front_shown: MarkDocument<'a>,
    /// The rear mark moved onto the line shown.
    pub rear_shown: MarkDocument<'a>,
    /// How many fixes were used.
    pub fixes: usize,
    /// How many of them count as independent.
    pub independent: usize,
    /// Places in the list of fixes, counted from 0, of those that were not used.
    pub not_used: &'a [usize],
    /// `both-marks`, `only-where-the-fixes-lie` or `nothing`.
    pub told: &'static str,
    /// Where the line shown passes the front mark's stated place.
    pub at_front: LineOffsetDocument,
    /// Where it passes the rear mark's stated place.
    pub at_rear: LineOffsetDocument,
    /// Where it passes the nearest, the middle and the farthest fix.
    pub at_fixes: Vec<LineOffsetDocument>,
    /// The error of the front mark that would explain the fixes if the rear mark is right.
    pub front_alone: MarkErrorDocument,
    /// The error of the rear mark that would explain them if the front mark is right.
    pub rear_alone: MarkErrorDocument,
    /// How far the fixes lie off the line shown, root mean square.
    pub scatter_m: Option<f64>,
    /// Bearing of the marks on the line shown, from the middle fix.
    pub bearing_true_deg: Option<f64>,
    /// What follows, the most important first.
    pub because: &'a [String],
    /// The answer about the line really shown; null if no zone was asked about.
    pub corrected: Option<TransitDocument<'a>>,
    /// What no check of marks can know.
    pub not_checked: [&'static str; 4],
    /// What no answer can know.
    pub cautions: [&'static str; 4],
    /// 0, 1 or 3.
    pub exit_status: u8,
}

/// How far a line passes from the stated one.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct LineOffsetDocument {
    /// Distance from the front mark along the stated line; negative at the rear mark.
    pub distance_from_front_m: Option<f64>,
    /// How far to the right of somebody who looks at the marks; negative to the left.
    pub to_the_right_m: Option<f64>,
    /// 95 % uncertainty of it.
    pub uncertainty_95_m: Option<f64>,
}

/// How far one mark would have to stand from its stated place.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct MarkErrorDocument {
    /// To the right of somebody who looks at the marks; negative to the left.
    pub to_the_right_m: Option<f64>,
    /// 95 % uncertainty of it.
    pub uncertainty_95_m: Option<f64>,
    /// Whether it explains the fixes.
    pub explains: bool,
}

/// Returns what fixes tell as a document with the keys of schema `takeline.transit-calibrate/1`.
///
/// # Units
///
/// Metres and degrees, as each key says; full precision. A number that is none is null.
#[must_use]
pub fn transit_calibrate_json<'a>(
    calibration: &'a Calibration,
    corrected: Option<&'a TransitReport>,
) -> CalibrationDocument<'a> {
    CalibrationDocument {
        schema: "takeline.transit-calibrate/1",
        takeline_version: env!("CARGO_PKG_VERSION"),
        front: calibration.stated.front().into(),
        rear: calibration.stated.rear().into(),
        front_shown: calibration.shown.front().into(),
        rear_shown: calibration.shown.rear().into(),
        fixes: calibration.fixes,
        independent: calibration.independent,
        not_used: &calibration.not_used,
        told: told_key(calibration.told),
        at_front: calibration.at_front.into(),
        at_rear: calibration.at_rear.into(),
        at_fixes: calibration.at_fixes.iter().copied().map(LineOffsetDocument::from).collect(),
        front_alone: calibration.front_alone.into(),
        rear_alone: calibration.rear_alone.into(),
        scatter_m: metres(calibration.scatter),
        bearing_true_deg: number(calibration.bearing.degrees()),
        because: &calibration.because,
        corrected: corrected.map(transit_json),
        not_checked: TRANSIT_LIMITS,
        cautions: CAUTIONS,
        exit_status: transit_calibrate_exit_status(calibration, corrected).code(),
    }
}

fn told_key(told: Told) -> &'static str {
    match told {
        Told::BothMarks => "both-marks",
        Told::OnlyWhereTheFixesLie => "only-where-the-fixes-lie",
        Told::Nothing => "nothing",
    }
}

impl From<LineOffset> for LineOffsetDocument {
    fn from(offset: LineOffset) -> Self {
        Self {
            distance_from_front_m: metres(offset.distance_from_front),
            to_the_right_m: metres(offset.to_the_right),
            uncertainty_95_m: metres(offset.uncertainty_95),
        }
    }
}

impl From<MarkError> for MarkErrorDocument {
    fn from(error: MarkError) -> Self {
        Self {
            to_the_right_m: metres(error.to_the_right),
            uncertainty_95_m: metres(error.uncertainty_95),
            explains: error.explains,
        }
    }
}
