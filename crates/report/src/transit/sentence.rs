//! The sentence of the eye: to which side the marks open where the zone is, or why they tell no side.

use takeline::transit::{Opens, ProblemCode, Severity, Side, TransitReport, ZoneOnLine};

use super::parts::ProblemDocument;
use super::words;
use crate::words::{EyeSentence, Words};

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
pub(super) fn transit_sentence(report: &TransitReport, words: &dyn Words) -> Option<String> {
    let (zone, opens) = opening(report)?;
    // what is remembered on the water is this sentence, whatever stands around it
    if report.problems.iter().any(|problem| is_useless(problem.severity, problem.code())) {
        return None;
    }
    let [rear, front] = called(report);
    Some(words.eye_sentence(&EyeSentence {
        rear: &rear,
        front: &front,
        rear_shows: opens.rear_shows,
        zone: &words::name(&zone.name),
        zone_lies: opens.zone_lies,
    }))
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

/// Whether the marks are not to be used so because of a problem; a variation that is not known leaves the eye what it sees.
fn is_useless(severity: Severity, code: ProblemCode) -> bool {
    severity == Severity::Error && code != ProblemCode::VariationNotKnown
}

/// Why the marks tell no side, as a sentence.
pub(super) fn no_side_because(problems: &[ProblemDocument<'_>]) -> String {
    let error = problems.iter().find(|problem| is_useless(problem.severity, problem.code));
    let known = |code: &ProblemCode| problems.iter().find(|problem| problem.code == *code);
    error
        .or_else(|| NO_SIDE.iter().find_map(known))
        .map_or_else(|| "No zone lies on one side of this line alone.".into(), ProblemDocument::sentence)
}

/// The sentence for one line of a narrow screen, the longest first.
pub(super) fn line(report: &TransitReport, words: &dyn Words) -> Vec<String> {
    opening(report).map_or_else(|| no_side(report), |(_, opens)| side(report, opens, words))
}

fn side(report: &TransitReport, opens: &Opens, words: &dyn Words) -> Vec<String> {
    let [rear, front] = called(report);
    let rear = words::capital(&rear);
    let (loud, way) = (words::loud(opens.rear_shows), words.compass_point(opens.zone_lies));
    vec![
        format!("{rear} {loud} of {front}: inside ({way})"),
        format!("{rear} {loud} of {front}: inside"),
        format!("Rear mark {loud} of front: inside ({way})"),
        format!("Rear mark {loud} of front: inside"),
        format!("Rear {loud}: inside"),
    ]
}

fn no_side(report: &TransitReport) -> Vec<String> {
    if report.problems.iter().any(|problem| problem.code() == ProblemCode::ZonesOnBothSides) {
        return vec!["Zones on BOTH sides of the marks".into(), "Zones on BOTH sides".into()];
    }
    vec!["No side of the marks shows the zone".into(), "No side shows it".into()]
}
