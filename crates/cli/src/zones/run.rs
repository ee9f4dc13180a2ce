//! Which of the commands about zone files is meant.

use std::path::PathBuf;

use clap::{Args, Subcommand};
use takeline_report::{ExitStatus, Units};

use super::check::{self, CHECK, CheckArguments};
use super::compare::{self, CompareArguments};
use super::draft::{self, DraftArguments};
use super::export::{self, ExportArguments};
use super::import::{self, ImportArguments};
use super::list::{self, ListArguments};
use super::names::{self, NamesArguments};
use super::prepare::{self, PREPARE, PrepareArguments};
use super::show::{self, ShowArguments};
use crate::failure::Stop;

#[derive(Debug, Args)]
pub(crate) struct ZonesArguments {
    #[command(subcommand)]
    command: ZonesCommand,
}

#[derive(Debug, Subcommand)]
enum ZonesCommand {
    /// Make a zone file from the text of a law
    Draft(DraftArguments),
    /// Find what is wrong with zone files, and what may be
    Check(CheckArguments),
    /// Read a zone file back, to be proofread against the law: points, sides, areas, rules; as text or as a page
    Show(ShowArguments),
    /// Which zone files are loaded from where: editions, validity, who proofread them
    List(ListArguments),
    /// Make a zone file of a GIS file: GeoJSON, KML, GPX, Shapefile, WKT, CSV
    Import(ImportArguments),
    /// Write zones, or a line that keeps a distance from them, for other programs
    Export(ExportArguments),
    /// Say what differs between two editions: lines, water, rules, names
    Compare(CompareArguments),
    /// List the fish and the gear that zone files know by name
    Names(NamesArguments),
    /// Write an index beside large zone files, so that one fix is answered at once
    Prepare(PrepareArguments),
}

impl ZonesArguments {
    /// Where zones would be looked for, if none are given.
    pub(crate) fn zones(&mut self) -> Option<&mut Vec<PathBuf>> {
        let (paths, zones) = match &mut self.command {
            ZonesCommand::Prepare(asked) => (&asked.paths, &mut asked.zones),
            ZonesCommand::Check(asked) => (&asked.paths, &mut asked.zones),
            ZonesCommand::Names(asked) => (&asked.paths, &mut asked.zones),
            ZonesCommand::Export(asked) => (&asked.paths, &mut asked.zones),
            ZonesCommand::List(asked) => (&asked.paths, &mut asked.zones),
            ZonesCommand::Compare(_)
            | ZonesCommand::Draft(_)
            | ZonesCommand::Import(_)
            | ZonesCommand::Show(_) => return None,
        };
        paths.is_empty().then_some(zones)
    }
}

/// Answers `takeline zones …`.
pub(crate) fn run(asked: &ZonesArguments, units: Units) -> Result<ExitStatus, Stop> {
    match &asked.command {
        ZonesCommand::Prepare(asked) => prepare::prepare(asked),
        ZonesCommand::Check(asked) => check::check(asked),
        ZonesCommand::Names(asked) => names::names(asked),
        ZonesCommand::Export(asked) => export::export(asked),
        ZonesCommand::Import(asked) => import::import(asked),
        ZonesCommand::Show(asked) => show::show(asked, units),
        ZonesCommand::List(asked) => list::list(asked),
        ZonesCommand::Draft(asked) => draft::draft(asked, units),
        ZonesCommand::Compare(asked) => compare::compare(asked, units),
    }
}

/// The words that call it, for messages.
pub(crate) fn name(asked: &ZonesArguments) -> &'static str {
    match &asked.command {
        ZonesCommand::Prepare(_) => PREPARE,
        ZonesCommand::Check(_) => CHECK,
        ZonesCommand::Names(_) => "zones names",
        ZonesCommand::Export(_) => "zones export",
        ZonesCommand::Import(_) => "zones import",
        ZonesCommand::Show(_) => "zones show",
        ZonesCommand::List(_) => "zones list",
        ZonesCommand::Draft(_) => "zones draft",
        ZonesCommand::Compare(_) => "zones compare",
    }
}
