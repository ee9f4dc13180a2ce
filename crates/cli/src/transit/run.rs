//! Which of the commands about marks answers.

use takeline_report::{ExitStatus, Units};

use super::arguments::{TransitArguments, TransitCommand};
use super::{calibrate, check, cross, find};
use crate::failure::Stop;
use crate::screen::refuse_brief_json;

/// Answers `takeline transit …`.
pub(crate) fn run(asked: &TransitArguments, units: Units) -> Result<ExitStatus, Stop> {
    let form = match &asked.command {
        TransitCommand::Check(asked) => &asked.form,
        TransitCommand::Find(asked) => &asked.form,
        TransitCommand::Calibrate(asked) => &asked.form,
        TransitCommand::Cross(asked) => &asked.form,
    };
    refuse_brief_json(form.brief, form.format)?;
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
