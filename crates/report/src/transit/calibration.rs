//! The answer of `transit calibrate` as one document, and its text. `docs/json-output.md` describes each key.

use serde::Serialize;
use takeline::coast::Coast;
use takeline::landmark::Landmark;
use takeline::transit::{Calibration, CalibrationReason, LineOffset, MarkError, Told, TransitReport};

use super::document::TransitDocument;
use super::headline::{self, Compass};
use super::parts::{metres, number};
use super::phrases;
use super::text::{Places, body, mark, not_checked};
use crate::exit_status::ExitStatus;
use crate::figures;
use crate::here::bear_in_mind;
use crate::lines::Page;
use crate::words::{Spoken, Words, each};

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
    pub exit_status: ExitStatus,
    #[serde(skip)]
    pub(super) calibration: &'a Calibration,
    /// The words of its texts.
    #[serde(skip)]
    pub(super) words: Spoken<'a>,
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
        words: &'a dyn Words,
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
            not_checked: words.transit_limits(),
            cautions: words.cautions(),
            exit_status,
            calibration,
            words: Spoken(words),
        }
    }

    /// Lists the coasts that the answer about the corrected line went by.
    #[must_use]
    pub fn with_coasts(self, coasts: &'a [Coast]) -> Self {
        Self { corrected: self.corrected.map(|corrected| corrected.with_coasts(coasts)), ..self }
    }

    /// Says that the time of the answer about the corrected line, if there is one, is what the clock of this device says.
    #[must_use]
    pub fn with_time_by_clock(self) -> Self {
        Self { corrected: self.corrected.map(TransitDocument::with_time_by_clock), ..self }
    }
}

/// Returns what fixes on the line tell as plain text, without colour, wrapped.
///
/// The first three lines answer "how far is the line off, does the line really shown keep clear, how does it bear". Where
/// the corrected answer is given, its sections follow. The wording is for people and may change; scripts read
/// the document.
///
/// # Accuracy
///
/// Distances are rounded to two digits of their doubt, below ten metres to a tenth.
#[must_use]
pub fn transit_calibrate_text(document: &CalibrationDocument<'_>, width: usize) -> String {
    let (calibration, corrected) = (document.calibration, document.corrected.as_ref());
    let mut page = Page::new(width);
    head(&mut page, document);
    fixes(&mut page, calibration, document.words);
    shown(&mut page, document);
    marks(&mut page, document);
    if let Some(corrected) = corrected {
        page.heading(if calibration.told == Told::BothMarks {
            "ALONG THE REAL LINE"
        } else {
            "IF THE LINE RUNS THERE, WHICH IS NOT SETTLED"
        });
        body(&mut page, corrected, Places::FromFixes);
    } else {
        page.heading("MARKS AS STATED");
        mark(&mut page, "front", (calibration.stated.front(), Places::AsStated), document.words);
        mark(&mut page, "rear", (calibration.stated.rear(), Places::AsStated), document.words);
    }
    not_checked(
        &mut page,
        corrected.map_or(&[], |corrected| corrected.problems.as_slice()),
        document.not_checked,
    );
    bear_in_mind(&mut page, document.words);
    page.finish()
}

fn head(page: &mut Page, document: &CalibrationDocument<'_>) {
    let (calibration, words) = (document.calibration, document.words);
    match (calibration.told, &document.corrected) {
        (Told::BothMarks, Some(corrected)) => page.fitted(&corrected.headline.verdict),
        (Told::BothMarks, None) => {
            page.fitted(&["The fixes place both marks".into(), "Both marks placed".into()]);
        }
        (Told::OnlyWhereTheFixesLie, _) => page.fitted(&[
            "UNDECIDED: known only near the fixes".into(),
            "UNDECIDED: only at the fixes".into(),
            "UNDECIDED".into(),
        ]),
        (Told::Nothing, _) => page.fitted(&["UNDECIDED: the fixes are too rough".into(), "UNDECIDED".into()]),
    }
    match middle(&calibration.at_fixes) {
        Some(at) => {
            let [offset, doubt] = short(at, words);
            // the line turns, so this holds at one distance alone
            let away = phrases::along(words, at.distance_from_front);
            page.fitted(&[
                format!(
                    "The line really runs {offset} of the stated one, {doubt}, {away} from the front mark"
                ),
                format!("Really runs {offset} at {away}, {doubt}"),
                format!("Really {offset} at {away}, {doubt}"),
                format!("Really {offset} at {away}"),
                format!("{offset} at {away}"),
            ]);
        }
        None => page.fitted(&["No fix could be used".into()]),
    }
    let compass = document.corrected.as_ref().map_or(&Compass::NoTime, |corrected| &corrected.compass);
    page.fitted(&headline::bearing(calibration.bearing, compass, words));
}

/// The middle one of the places of the fixes.
fn middle(offsets: &[LineOffset]) -> Option<&LineOffset> {
    offsets.get(offsets.len() / 2)
}

/// An offset in short, and its doubt.
fn short(offset: &LineOffset, words: Spoken<'_>) -> [String; 2] {
    phrases::to_the_side(words, offset.to_the_right, offset.uncertainty_95)
        .map(|figure| figure.replace(" to the ", " "))
}

fn fixes(page: &mut Page, calibration: &Calibration, words: Spoken<'_>) {
    page.heading("FIXES");
    page.field("used", &calibration.fixes.to_string());
    page.field("independent", &format!("{}; fixes within 5 min count as one", calibration.independent));
    if !calibration.not_used.is_empty() {
        let numbers: Vec<String> = calibration.not_used.iter().map(|place| (place + 1).to_string()).collect();
        let which = numbers.join(", ");
        page.field("not used", &format!("number {which}: see why below"));
    }
    page.field(
        "scatter",
        &format!("{} from the line, root mean square", phrases::short_length(words, calibration.scatter)),
    );
}

fn shown(page: &mut Page, document: &CalibrationDocument<'_>) {
    let (calibration, words) = (document.calibration, document.words);
    page.heading("WHERE THE LINE REALLY RUNS");
    page.paragraph("  ", "Left or right of the stated line, as you face the marks.");
    page.field("at the front mark", &offset(&calibration.at_front, words));
    page.field("at the rear mark", &offset(&calibration.at_rear, words));
    for at in &calibration.at_fixes {
        page.field(
            &format!("at a fix, {} away", phrases::along(words, at.distance_from_front)),
            &offset(at, words),
        );
    }
    page.field("bears", &format!("{:.1}° true", calibration.bearing.degrees()));
    for because in &document.because {
        page.field("because", &phrases::held(because));
    }
}

fn offset(at: &LineOffset, words: Spoken<'_>) -> String {
    format!("{} (95\u{a0}%)", phrases::to_the_side(words, at.to_the_right, at.uncertainty_95).join(" "))
}

fn marks(page: &mut Page, document: &CalibrationDocument<'_>) {
    let (calibration, words) = (document.calibration, document.words);
    page.heading("WHICH MARK MAY BE OFF");
    let (front, rear) = (calibration.stated.front(), calibration.stated.rear());
    page.field(&format!("if only {} is wrong", front.name), &alone(&calibration.front_alone, words));
    page.field(&format!("if only {} is wrong", rear.name), &alone(&calibration.rear_alone, words));
    let stated = figures::doubt(words.units(), front.position_error_95);
    let other = figures::doubt(words.units(), rear.position_error_95);
    page.field("stated uncertainty", &format!("{stated} and {other}"));
}

fn alone(error: &MarkError, words: Spoken<'_>) -> String {
    let fits = if error.explains { "fits the fixes" } else { "does NOT fit the fixes" };
    format!("{}, {fits}", phrases::to_the_side(words, error.to_the_right, error.uncertainty_95).join(" "))
}
