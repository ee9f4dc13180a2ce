//! The sentence of the eye: to which side the marks open where the zone is, or why they tell no side.

use takeline::transit::{Opens, Problem, ProblemCode, Severity, Side, TransitReport, ZoneOnLine};

use super::words;

/// Problems that leave no side to be the zone's, the one that says most first.
const NO_SIDE: [ProblemCode; 6] = [
    ProblemCode::MarksSwapped,
    ProblemCode::BetweenMarks,
    ProblemCode::ZonesOnBothSides,
    ProblemCode::ZoneLineNotKnown,
    ProblemCode::NoZoneNear,
    ProblemCode::PerhapsSwapped,
];

/// Returns the sentence that the marks are for; none if they tell no side, or cannot be used as they are.
///
/// "If Lone Pine shows RIGHT of Sallow Point Day Beacon, take it that you are inside Sallow Cove Reserve, to the south."
/// Left and right are those of somebody who looks at the marks. Off the line on the zone's side one may still be outside
/// by the margin; the sentence counts that as inside, so that nobody has to tell margin from zone by eye.
///
/// # Edge cases
///
/// Names are made sanitised and cut to 48 letters.
#[must_use]
pub fn transit_sentence(report: &TransitReport) -> Option<String> {
    let (zone, opens) = opening(report)?;
    // what is remembered on the water is this sentence, whatever stands around it
    if useless_because(report).is_some() {
        return None;
    }
    let [rear, front] = called(report);
    let (zone, side, way) = (words::name(&zone.name), words::loud(opens.rear_shows), opens.compass_word);
    Some(format!("If {rear} shows {side} of {front}, take it that you are inside {zone}, to the {way}."))
}

/// What rear and front mark are called; one that was given by its place alone has no name but that of its part.
fn called(report: &TransitReport) -> [String; 2] {
    let marks = [(report.line.rear(), "rear"), (report.line.front(), "front")];
    marks.map(
        |(mark, part)| if mark.name == part { format!("the {part} mark") } else { words::name(&mark.name) },
    )
}

/// The zone that the marks open on, and how.
pub(super) fn opening(report: &TransitReport) -> Option<(&ZoneOnLine, &Opens)> {
    let opens = report.opens.as_ref()?;
    Some((report.zones.get(opens.zone)?, opens))
}

/// The side to which the rear mark shows inside.
pub(super) fn side_inside(report: &TransitReport) -> Option<Side> {
    opening(report).map(|(_, opens)| opens.rear_shows)
}

/// The error because of which the marks are not to be used so; a variation that is not known leaves the eye what it sees.
fn useless_because(report: &TransitReport) -> Option<&Problem> {
    report
        .problems
        .iter()
        .find(|problem| problem.severity == Severity::Error && problem.code != ProblemCode::VariationNotKnown)
}

/// Why the marks tell no side, as a sentence.
pub(super) fn no_side_because(report: &TransitReport) -> String {
    if let Some(error) = useless_because(report) {
        return words::sentence(&error.text);
    }
    let known = |code: &ProblemCode| report.problems.iter().find(|problem| problem.code == *code);
    NO_SIDE.iter().find_map(known).map_or_else(
        || "No zone lies on one side of this line alone.".into(),
        |problem| words::sentence(&problem.text),
    )
}

/// The sentence for one line of a narrow screen, the longest first.
pub(super) fn line(report: &TransitReport) -> Vec<String> {
    opening(report).map_or_else(|| no_side(report), |(_, opens)| side(report, opens))
}

fn side(report: &TransitReport, opens: &Opens) -> Vec<String> {
    let [rear, front] = called(report);
    let rear = words::capital(&rear);
    let (loud, way) = (words::loud(opens.rear_shows), opens.compass_word);
    vec![
        format!("{rear} {loud} of {front}: inside ({way})"),
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
