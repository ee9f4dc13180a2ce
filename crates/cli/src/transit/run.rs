//! Which of the commands about marks answers.

use takeline_report::ExitStatus;

use super::arguments::{TransitArguments, TransitCommand};
use super::{calibrate, check, cross, find};
use crate::failure::Stop;

/// Answers `takeline transit …`.
pub(crate) fn run(asked: &TransitArguments) -> Result<ExitStatus, Stop> {
    match &asked.command {
        TransitCommand::Check(asked) => check::run(asked),
        TransitCommand::Find(asked) => find::run(asked),
        TransitCommand::Calibrate(asked) => calibrate::run(asked),
        TransitCommand::Cross(asked) => cross::run(asked),
    }
}

/// The words that call it, for messages.
pub(crate) fn name(asked: &TransitArguments) -> &'static str {
    match &asked.command {
        TransitCommand::Check(_) => "transit check",
        TransitCommand::Find(_) => "transit find",
        TransitCommand::Calibrate(_) => "transit calibrate",
        TransitCommand::Cross(_) => "transit cross",
    }
}
