//! The sentence of the eye: to which side the marks open where the zone is.

use takeline::transit::{Opens, ProblemCode, TransitReport};

use super::words;

/// Returns the sentence that tells somebody who looks at the marks on which side of the line the zone is.
///
/// It says left or right of the front mark, as the eye sees it, and the direction in which the zone lies. Off the line on
/// the zone's side one may still be outside by the margin; the sentence counts that as inside. It ends without a full
/// stop. None if the zones do not
/// lie on one side, or no side is known.
#[must_use]
pub fn opens_sentence(report: &TransitReport) -> Option<String> {
    let opens = report.opens.as_ref()?;
    let (rear, front) = (&report.line.rear().name, &report.line.front().name);
    let (loud, side) = (words::loud(opens.rear_shows), opens.rear_shows.word());
    let zone = report.zones.get(opens.zone).map_or("the zone", |zone| zone.name.as_str());
    Some(format!(
        "{rear} shows {loud} of {front}: count yourself inside {zone}, which lies to the {side}, that is {}",
        opens.compass_word
    ))
}

/// The same for one line of a narrow screen, the longest first.
pub(super) fn line(report: &TransitReport) -> Vec<String> {
    report.opens.as_ref().map_or_else(|| no_side(report), |opens| side(report, opens))
}

fn side(report: &TransitReport, opens: &Opens) -> Vec<String> {
    let (rear, front) = (&report.line.rear().name, &report.line.front().name);
    let (loud, way) = (words::loud(opens.rear_shows), opens.compass_word);
    vec![
        format!("{rear} {loud} ({way}) of {front}: inside"),
        format!("{rear} {loud} of {front}: inside"),
        format!("Rear mark {loud} of front: inside ({way})"),
        format!("Rear mark {loud} of front: inside"),
        format!("Rear {loud}: inside"),
    ]
}

fn no_side(report: &TransitReport) -> Vec<String> {
    if report.problems.iter().any(|problem| problem.code == ProblemCode::ZonesOnBothSides) {
        return vec!["Zones on BOTH sides of the marks".into(), "Zones on BOTH sides".into()];
    }
    vec!["No side of the marks shows the zone".into(), "No side shows it".into()]
}
