//! What somebody on the water has to remember.

use takeline::Kleene;
use takeline::transit::{ProblemCode, Side, TransitReport, ZoneOnLine};

use super::words;
use crate::figures;

/// Problems that leave no side to be the zone's, the one that says most first.
const NO_SIDE: [ProblemCode; 6] = [
    ProblemCode::MarksSwapped,
    ProblemCode::BetweenMarks,
    ProblemCode::ZonesOnBothSides,
    ProblemCode::ZoneLineNotKnown,
    ProblemCode::NoZoneNear,
    ProblemCode::PerhapsSwapped,
];

/// Returns the sentence that the marks are for; none if they tell no side.
///
/// "If Lone Pine shows RIGHT of the beacon, take it that you are inside Sallow Cove Reserve." The doubt of the line and the
/// water given away are the reason for "take it that".
///
/// # Edge cases
///
/// Names are made harmless and cut to 48 letters.
#[must_use]
pub fn transit_sentence(report: &TransitReport) -> Option<String> {
    let (zone, side) = opening(report)?;
    let rear = words::name(&report.line.rear().name);
    let front = words::name(&report.line.front().name);
    let zone = words::name(&zone.name);
    Some(format!("If {rear} shows {} of {front}, take it that you are inside {zone}.", capitals(side)))
}

/// The zone that the marks open on, and the side to which the rear mark shows inside it.
pub(super) fn opening(report: &TransitReport) -> Option<(&ZoneOnLine, Side)> {
    let opens = report.opens.as_ref()?;
    Some((report.zones.get(opens.zone)?, opens.rear_shows))
}

/// LEFT or RIGHT.
pub(super) const fn capitals(side: Side) -> &'static str {
    match side {
        Side::Left => "LEFT",
        Side::Right => "RIGHT",
    }
}

/// Why the marks tell no side, as a sentence.
pub(super) fn no_side_because(report: &TransitReport) -> String {
    let known = |code: &ProblemCode| report.problems.iter().find(|problem| problem.code == *code);
    NO_SIDE
        .iter()
        .find_map(known)
        .map_or_else(|| "No zone lies on one side of this line alone.".into(), |problem| problem.text.clone())
}

/// What keeping the marks in line does for somebody, as a sentence.
pub(super) fn keeping_in_line(report: &TransitReport) -> String {
    let stretch = report.question.stretch;
    let length = |length| figures::distance(length, takeline::Metres::ZERO);
    let part = format!("from {} to {} off the front mark", length(stretch.near()), length(stretch.far()));
    match report.clears {
        Kleene::Yes => {
            format!("The marks kept in line {part} keep you outside every loaded zone, the doubt counted.")
        }
        Kleene::No => format!("The marks kept in line {part} do NOT keep you outside."),
        Kleene::Undecided => {
            format!("Whether the marks kept in line {part} keep you outside is UNDECIDED.")
        }
    }
}
