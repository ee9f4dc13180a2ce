//! What is to be said of a mark by itself, whatever it is used for: whether it stands, and how well its place is known.

use jiff::civil::Date;

use super::{Problem, ProblemCode, Severity};
use crate::UncertaintySource;
use crate::landmark::Landmark;

/// Marks that nobody has confirmed for longer, in days, may be gone (common practice, no source): a year, a leap year counted.
const CONFIRMED_FOR_DAYS: i32 = 366;

/// Whether nobody has confirmed a mark, or not for long before a day; without a day an old confirmation counts.
pub(super) fn is_unconfirmed(mark: &Landmark, day: Option<Date>) -> bool {
    let Some(last) = mark.last_confirmed else { return true };
    day.is_some_and(|day| (day - last).get_days() > CONFIRMED_FOR_DAYS)
}

/// What is wrong with a mark, as sentences.
pub(super) fn problems_of(mark: &Landmark, day: Option<Date>) -> Vec<Problem> {
    let mut problems = Vec::new();
    let mut add = |code, severity, text| problems.push(Problem { code, severity, text });
    let name = &mark.name;
    if mark.fixed == Some(false) {
        let why = mark.comment.as_ref().map_or_else(|| ".".into(), |comment| format!(": {comment}"));
        add(ProblemCode::MarkMovable, Severity::Warning, format!("{name} can move or be taken away{why}"));
    }
    if is_unconfirmed(mark, day) {
        let (severity, text) = match mark.last_confirmed {
            None => (Severity::Note, format!("Nobody has confirmed that {name} stands there.")),
            Some(last) => {
                let text = format!("{name} was last confirmed on {last}, more than a year before.");
                (Severity::Warning, text)
            }
        };
        add(ProblemCode::MarkUnconfirmed, severity, text);
    }
    if mark.position_error_source == UncertaintySource::Assumed {
        let text = format!(
            "Nobody says how well the place of {name} is known; ±{} is assumed.",
            mark.position_error_95
        );
        add(ProblemCode::ErrorAssumed, Severity::Note, text);
    }
    problems
}
