//! The JSON of `transit calibrate`. `docs/json-output.md` describes each key.

use serde::Serialize;
use takeline::landmark::Landmark;
use takeline::transit::{Calibration, CalibrationReason, LineOffset, MarkError, Told, TransitReport};

use super::document::TransitDocument;
use super::parts::{exit_code, metres, number};
use super::text::TRANSIT_LIMITS;
use crate::cautions::CAUTIONS;
use crate::exit_status::ExitStatus;
use crate::words::{Words, each};

/// What fixes on a line tell, schema `takeline.transit-calibrate/1`.
#[derive(Debug, Clone, Serialize)]
pub struct CalibrationDocument<'a> {
    /// `takeline.transit-calibrate/1`.
    pub schema: &'static str,
    /// Version of the program.
    pub takeline_version: &'static str,
    /// The front mark as stated.
    pub front: &'a Landmark,
    /// The rear mark as stated.
    pub rear: &'a Landmark,
    /// The front mark moved onto the line shown.
    pub front_shown: &'a Landmark,
    /// The rear mark moved onto the line shown.
    pub rear_shown: &'a Landmark,
    /// How many fixes were used.
    pub fixes: usize,
    /// How many of them count as independent.
    pub independent: usize,
    /// Places in the list of fixes, counted from 0, of those that were not used.
    pub not_used: &'a [usize],
    /// `both-marks`, `only-where-the-fixes-lie` or `nothing`.
    pub told: Told,
    /// Where the line shown passes the front mark's stated place.
    pub at_front: LineOffset,
    /// Where it passes the rear mark's stated place.
    pub at_rear: LineOffset,
    /// Where it passes the nearest, the middle and the farthest fix.
    pub at_fixes: &'a [LineOffset],
    /// The error of the front mark that would explain the fixes if the rear mark is right.
    pub front_alone: MarkError,
    /// The error of the rear mark that would explain them if the front mark is right.
    pub rear_alone: MarkError,
    /// How far the fixes lie off the line shown, root mean square.
    pub scatter_m: Option<f64>,
    /// Bearing of the marks on the line shown, from the middle fix.
    pub bearing_true_deg: Option<f64>,
    /// What follows, the most important first.
    pub because: Vec<String>,
    /// The same as data.
    pub because_codes: &'a [CalibrationReason],
    /// The answer about the line really shown; null if no zone was asked about.
    pub corrected: Option<TransitDocument<'a>>,
    /// What no check of marks can know.
    pub not_checked: [&'static str; 4],
    /// What no answer can know.
    pub cautions: [&'static str; 4],
    /// 0, 1 or 3.
    #[serde(serialize_with = "exit_code")]
    pub exit_status: ExitStatus,
    #[serde(skip)]
    pub(super) calibration: &'a Calibration,
}

impl<'a> CalibrationDocument<'a> {
    /// Draws up what fixes tell, with the answer about the line really shown if zones were asked about, the texts in these
    /// words, with the keys of schema `takeline.transit-calibrate/1`.
    ///
    /// The exit status is 3 if the fixes do not tell where both marks stand, else that of the answer about the corrected line,
    /// else 0 where no zone was asked about.
    ///
    /// # Units
    ///
    /// Metres and degrees, as each key says; full precision. A number that is none is null.
    #[must_use]
    pub fn new(
        calibration: &'a Calibration,
        corrected: Option<&'a TransitReport>,
        words: &dyn Words,
    ) -> Self {
        let corrected = corrected.map(|report| TransitDocument::new(report, words));
        let exit_status = match (calibration.told, &corrected) {
            (Told::OnlyWhereTheFixesLie | Told::Nothing, _) => ExitStatus::Undecided,
            (Told::BothMarks, Some(corrected)) => corrected.exit_status,
            (Told::BothMarks, None) => ExitStatus::Unrestricted,
        };
        Self {
            schema: "takeline.transit-calibrate/1",
            takeline_version: env!("CARGO_PKG_VERSION"),
            front: calibration.stated.front(),
            rear: calibration.stated.rear(),
            front_shown: calibration.shown.front(),
            rear_shown: calibration.shown.rear(),
            fixes: calibration.fixes,
            independent: calibration.independent,
            not_used: &calibration.not_used,
            told: calibration.told,
            at_front: calibration.at_front,
            at_rear: calibration.at_rear,
            at_fixes: &calibration.at_fixes,
            front_alone: calibration.front_alone,
            rear_alone: calibration.rear_alone,
            scatter_m: metres(calibration.scatter),
            bearing_true_deg: number(calibration.bearing.degrees()),
            because: each(&calibration.because, |reason| words.calibration_reason(reason)),
            because_codes: &calibration.because,
            corrected,
            not_checked: TRANSIT_LIMITS,
            cautions: CAUTIONS,
            exit_status,
            calibration,
        }
    }

    /// Says that the time of the answer about the corrected line, if there is one, is what the clock of this device says.
    #[must_use]
    pub fn with_time_by_clock(self) -> Self {
        Self { corrected: self.corrected.map(TransitDocument::with_time_by_clock), ..self }
    }
}
