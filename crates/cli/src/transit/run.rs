//! Which of the commands about marks answers.

use takeline_report::{ExitStatus, Units};

use super::arguments::{TransitArguments, TransitCommand};
use super::{calibrate, check, cross, find};
use crate::failure::Stop;

/// Answers `takeline transit …`.
pub(crate) fn run(asked: &TransitArguments, units: Units) -> Result<ExitStatus, Stop> {
    match &asked.command {
        TransitCommand::Check(asked) => check::run(asked, units),
        TransitCommand::Find(asked) => find::run(asked, units),
        TransitCommand::Calibrate(asked) => calibrate::run(asked, units),
        TransitCommand::Cross(asked) => cross::run(asked, units),
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
