//! Which of the commands about zone files is meant.

use std::path::PathBuf;

use clap::{Args, Subcommand};
use takeline_report::{ExitStatus, Units};

use super::compare::{self, CompareArguments};
use super::names::{self, NamesArguments};
use super::prepare::{self, PREPARE, PrepareArguments};
use crate::failure::Stop;

#[derive(Debug, Args)]
pub(crate) struct ZonesArguments {
    #[command(subcommand)]
    command: ZonesCommand,
}

#[derive(Debug, Subcommand)]
enum ZonesCommand {
    /// Write an index beside large zone files, so that one fix is answered at once
    Prepare(PrepareArguments),
    /// List the fish and the gear that zone files know by name
    Names(NamesArguments),
    /// Say what differs between two editions: lines, water, rules, names
    Compare(CompareArguments),
}

impl ZonesArguments {
    /// Where zones would be looked for, if none are given.
    pub(crate) fn zones(&mut self) -> Option<&mut Vec<PathBuf>> {
        let (paths, zones) = match &mut self.command {
            ZonesCommand::Prepare(asked) => (&asked.paths, &mut asked.zones),
            ZonesCommand::Names(asked) => (&asked.paths, &mut asked.zones),
            ZonesCommand::Compare(_) => return None,
        };
        paths.is_empty().then_some(zones)
    }
}

/// Answers `takeline zones …`.
pub(crate) fn run(asked: &ZonesArguments, units: Units) -> Result<ExitStatus, Stop> {
    match &asked.command {
        ZonesCommand::Prepare(asked) => prepare::prepare(asked),
        ZonesCommand::Names(asked) => names::names(asked),
        ZonesCommand::Compare(asked) => compare::compare(asked, units),
    }
}

/// The words that call it, for messages.
pub(crate) fn name(asked: &ZonesArguments) -> &'static str {
    match &asked.command {
        ZonesCommand::Prepare(_) => PREPARE,
        ZonesCommand::Names(_) => "zones names",
        ZonesCommand::Compare(_) => "zones compare",
    }
}
