//! What is to be said of a mark by itself, whatever it is used for: whether it stands, and how well its place is known.

use jiff::civil::Date;

use super::{Problem, ProblemReason};
use crate::UncertaintySource;
use crate::landmark::Landmark;

/// Marks that nobody has confirmed for longer, in days, may be gone (common practice, no source): a year, a leap year counted.
const CONFIRMED_FOR_DAYS: i32 = 366;

/// Whether nobody has confirmed a mark, or not for long before a day; without a day an old confirmation counts.
pub(super) fn is_unconfirmed(mark: &Landmark, day: Option<Date>) -> bool {
    let Some(last) = mark.last_confirmed else { return true };
    day.is_some_and(|day| (day - last).get_days() > CONFIRMED_FOR_DAYS)
}

/// What is wrong with a mark.
pub(super) fn problems_of(mark: &Landmark, day: Option<Date>) -> Vec<Problem> {
    let mut problems = Vec::new();
    let name = || mark.name.clone();
    if mark.fixed == Some(false) {
        let reason = ProblemReason::MarkMovable { mark: name(), comment: mark.comment.clone() };
        problems.push(Problem::warning(reason));
    }
    if is_unconfirmed(mark, day) {
        problems.push(match mark.last_confirmed {
            None => Problem::note(ProblemReason::MarkNeverConfirmed { mark: name() }),
            Some(last_confirmed) => {
                Problem::warning(ProblemReason::MarkLongUnconfirmed { mark: name(), last_confirmed })
            }
        });
    }
    if mark.position_error_source == UncertaintySource::Assumed {
        let uncertainty_95_m = mark.position_error_95.metres();
        problems.push(Problem::note(ProblemReason::ErrorAssumed { mark: name(), uncertainty_95_m }));
    }
    problems
}
