use takeline::transit::{Calibration, CrossedPosition, FoundPair, Severity, SidePairs, Told, TransitReport};
use takeline::{Assessment, TakeFinding, Tristate};

use crate::exit_status::{ExitStatus, exit_status};

/// Returns the exit status of the answer about one line.
///
/// Undecided (3) if it is not settled whether the line keeps clear, if the marks cannot be used so, or if a time was given
/// at which the variation is not known; else restricted (1) if it does not keep clear; else 0.
#[must_use]
pub fn transit_exit_status(report: &TransitReport) -> ExitStatus {
    let is_useless = report.problems.iter().any(|problem| problem.severity == Severity::Error);
    let no_variation = matches!(report.magnetic, Some(Err(_)));
    if is_useless || no_variation {
        return ExitStatus::Undecided;
    }
    match report.clears {
        Tristate::Yes => ExitStatus::Unrestricted,
        Tristate::No => ExitStatus::Restricted,
        Tristate::Undecided => ExitStatus::Undecided,
    }
}

/// Returns the exit status of a search for pairs: 0 if each side within range has a pair that keeps clear, else 3.
///
/// A search never restricts anybody, so it is never 1. No side within range is 3: nothing was answered.
#[must_use]
pub fn transit_find_exit_status(sides: &[SidePairs]) -> ExitStatus {
    if sides.is_empty() || sides.iter().any(|side| !is_served(side)) {
        ExitStatus::Undecided
    } else {
        ExitStatus::Unrestricted
    }
}

/// Whether any pair for a side surely keeps clear.
pub(super) fn is_served(side: &SidePairs) -> bool {
    side.pairs.iter().any(serves)
}

/// Whether a pair surely keeps clear and can be used.
pub(super) fn serves(pair: &FoundPair) -> bool {
    let is_useless = pair.problems.iter().any(|problem| problem.severity == Severity::Error);
    pair.clears == Tristate::Yes && !is_useless
}

/// Returns the exit status of a calibration: 3 if the fixes do not tell where both marks stand, else that of the answer
/// about the corrected line, else 0 where no zone was asked about.
#[must_use]
pub fn transit_calibrate_exit_status(
    calibration: &Calibration,
    corrected: Option<&TransitReport>,
) -> ExitStatus {
    match calibration.told {
        Told::OnlyWhereTheFixesLie | Told::Nothing => ExitStatus::Undecided,
        Told::BothMarks => corrected.map_or(ExitStatus::Unrestricted, transit_exit_status),
    }
}

/// Returns the exit status of a position from lines of position, with one assessment for each position that fits.
///
/// That of the assessments if they agree. Undecided (3) if several positions may be meant and the answers differ, if one is
/// missing, if the lines do not meet within their errors, or if a problem says that the position cannot be used.
#[must_use]
pub fn transit_cross_exit_status(crossed: &CrossedPosition, assessments: &[Assessment]) -> ExitStatus {
    let is_useless = crossed.problems.iter().any(|problem| problem.severity == Severity::Error);
    let Some(first) = assessments.first() else { return ExitStatus::Undecided };
    if is_useless || !crossed.agree || !is_settled(crossed, assessments) {
        return ExitStatus::Undecided;
    }
    exit_status(first)
}

/// Whether every position that may be meant was asked about, and all get the same answer.
pub(super) fn is_settled(crossed: &CrossedPosition, assessments: &[Assessment]) -> bool {
    let Some(first) = assessments.first() else { return false };
    let meant = if crossed.is_ambiguous() { crossed.others.len() + 1 } else { 1 };
    assessments.len() >= meant && all_alike(first, assessments)
}

/// Whether all positions get the same answer.
fn all_alike(first: &Assessment, assessments: &[Assessment]) -> bool {
    let fish = |(number, finding): (usize, &TakeFinding)| {
        CrossedPosition::take_of(assessments, number) == finding.answer
    };
    CrossedPosition::water_of(assessments) == first.water
        && first.take.iter().enumerate().all(fish)
        && assessments.iter().all(|other| {
            exit_status(other) == exit_status(first) && other.standoff_kept == first.standoff_kept
        })
}
