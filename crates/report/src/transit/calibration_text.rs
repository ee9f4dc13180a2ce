use takeline::Metres;
use takeline::transit::{Calibration, LineOffset, MarkError, Told};

use super::calibration_document::CalibrationDocument;
use super::compass::Compass;
use super::text::{body, mark, not_checked};
use super::{headline, words};
use crate::figures;
use crate::here::bear_in_mind;
use crate::lines::Page;

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
    fixes(&mut page, calibration);
    shown(&mut page, document);
    marks(&mut page, calibration);
    if let Some(corrected) = corrected {
        page.heading(if calibration.told == Told::BothMarks {
            "THE LINE REALLY SHOWN"
        } else {
            "IF THE LINE RUNS SO, WHICH IS NOT SETTLED"
        });
        body(&mut page, corrected);
    } else {
        page.heading("MARKS AS STATED");
        mark(&mut page, "front", calibration.stated.front());
        mark(&mut page, "rear", calibration.stated.rear());
    }
    not_checked(&mut page, corrected.map_or(&[], |corrected| corrected.problems.as_slice()));
    bear_in_mind(&mut page);
    page.finish()
}

fn head(page: &mut Page, document: &CalibrationDocument<'_>) {
    let calibration = document.calibration;
    match (calibration.told, &document.corrected) {
        (Told::BothMarks, Some(corrected)) => page.fitted(&corrected.headline.verdict),
        (Told::BothMarks, None) => {
            page.fitted(&["The fixes tell where both marks stand".into(), "Both marks told".into()]);
        }
        (Told::OnlyWhereTheFixesLie, _) => page.fitted(&[
            "UNDECIDED: known where the fixes lie only".into(),
            "UNDECIDED: only at the fixes".into(),
            "UNDECIDED".into(),
        ]),
        (Told::Nothing, _) => page.fitted(&["UNDECIDED: fixes too rough to tell".into(), "UNDECIDED".into()]),
    }
    match middle(&calibration.at_fixes) {
        Some(at) => page.fitted(&[
            format!("Runs {} {} at the fixes", short(at), doubt(at.uncertainty_95)),
            format!("At the fixes {}", short(at)),
            short(at),
        ]),
        None => page.fitted(&["No fix could be used".into()]),
    }
    let compass = document.corrected.as_ref().map_or(&Compass::NoTime, |corrected| &corrected.compass);
    page.fitted(&headline::bearing(calibration.bearing, compass));
}

/// The middle one of the places of the fixes.
fn middle(offsets: &[LineOffset]) -> Option<&LineOffset> {
    offsets.get(offsets.len() / 2)
}

fn short(offset: &LineOffset) -> String {
    words::to_the_side(offset.to_the_right).replace(" to the ", " ")
}

fn doubt(uncertainty_95: Metres) -> String {
    format!("±{}", words::short_length(uncertainty_95))
}

fn fixes(page: &mut Page, calibration: &Calibration) {
    page.heading("FIXES");
    page.field("used", &calibration.fixes.to_string());
    page.field("independent", &format!("{}, those within 5 min count as one", calibration.independent));
    if !calibration.not_used.is_empty() {
        let numbers: Vec<String> = calibration.not_used.iter().map(|place| (place + 1).to_string()).collect();
        let which = numbers.join(", ");
        page.field("not used", &format!("number {which}: the marks cannot be in line there"));
    }
    page.field(
        "scatter",
        &format!("{} off the line, root mean square", words::short_length(calibration.scatter)),
    );
}

fn shown(page: &mut Page, document: &CalibrationDocument<'_>) {
    let calibration = document.calibration;
    page.heading("WHERE THE LINE RUNS");
    page.paragraph("  ", "Left and right of the stated line, as you look at the marks.");
    page.field("at the front mark", &offset(&calibration.at_front));
    page.field("at the rear mark", &offset(&calibration.at_rear));
    for at in &calibration.at_fixes {
        page.field(&format!("at a fix, {}", words::along(at.distance_from_front)), &offset(at));
    }
    page.field("bears", &format!("{:.1}° true", calibration.bearing.degrees()));
    for because in &document.because {
        page.field("because", &words::held(because));
    }
}

fn offset(at: &LineOffset) -> String {
    format!("{} {} (95\u{a0}%)", words::to_the_side(at.to_the_right), doubt(at.uncertainty_95))
}

fn marks(page: &mut Page, calibration: &Calibration) {
    page.heading("WHAT WOULD EXPLAIN IT");
    let (front, rear) = (calibration.stated.front(), calibration.stated.rear());
    page.field(&format!("if only {} is off", front.name), &alone(&calibration.front_alone));
    page.field(&format!("if only {} is off", rear.name), &alone(&calibration.rear_alone));
    let stated = figures::doubt(front.position_error_95);
    let other = figures::doubt(rear.position_error_95);
    page.field("stated to be known to", &format!("{stated} and {other}"));
}

fn alone(error: &MarkError) -> String {
    let fits = if error.explains { "explains the fixes" } else { "does NOT explain the fixes" };
    format!("{} {}, {fits}", words::to_the_side(error.to_the_right), doubt(error.uncertainty_95))
}
