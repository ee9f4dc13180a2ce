//! `takeline zones …`: what is done with zone files themselves.

use std::fs::File;
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

use clap::{Args, Subcommand};
use takeline::prepared::{self, Index};
use takeline::zone_file::{self, FileWarning, WarningKind};
use takeline_report::{ExitStatus, NamesDocument, json_page, names_text};

use crate::arguments::{Format, ZONES_HELP};
use crate::bounded::read_whole;
use crate::coasts::CoastArguments;
use crate::failure::{Stop, io_in_words, say};
use crate::kept_file::{KeptFile, StandardOutput, refuse_overwriting};
use crate::screen::ScreenArguments;
use crate::zone_files;
use crate::zone_files::index_of;

const PREPARE: &str = "zones prepare";

const PREPARE_EXAMPLE: &str = "\
Writes an index beside each zone file, named FILE.prepared, with which `takeline
here` answers about one fix without reading all zones. The answer is the same;
an index that no longer fits its file is not used. Worth it for thousands of
zones.

Example (Marrowick is invented):
  takeline zones prepare demo-data/zones/marrowick.json
  takeline here 45.1182 -30.1217 --zones demo-data/zones

Exit status: 0 written, 2 typed wrongly, 3 a zone file cannot be read,
or its index not written.";

const NAMES_EXAMPLE: &str = "\
Example (Marrowick is invented):
  takeline zones names demo-data/zones

Exit status: 0 listed, 2 typed wrongly, 3 a zone file cannot be read.";

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
}

#[derive(Debug, Args)]
#[command(after_help = PREPARE_EXAMPLE)]
struct PrepareArguments {
    #[arg(value_name = "PATH", help = ZONES_HELP)]
    paths: Vec<PathBuf>,

    /// Same as PATH
    #[arg(long = "zones", value_name = "PATH")]
    zones: Vec<PathBuf>,
}

#[derive(Debug, Args)]
#[command(after_help = NAMES_EXAMPLE)]
struct NamesArguments {
    #[arg(value_name = "PATH", help = ZONES_HELP)]
    paths: Vec<PathBuf>,

    /// Same as PATH
    #[arg(long = "zones", value_name = "PATH")]
    zones: Vec<PathBuf>,

    /// Text for people or JSON for programs
    #[arg(long, value_enum, value_name = "FORMAT", default_value = "human")]
    format: Format,

    #[command(flatten)]
    screen: ScreenArguments,
}

impl ZonesArguments {
    /// Where zones would be looked for, if none are given.
    pub(crate) fn zones(&mut self) -> Option<&mut Vec<PathBuf>> {
        let (paths, zones) = match &mut self.command {
            ZonesCommand::Prepare(asked) => (&asked.paths, &mut asked.zones),
            ZonesCommand::Names(asked) => (&asked.paths, &mut asked.zones),
        };
        paths.is_empty().then_some(zones)
    }
}

/// Answers `takeline zones …`.
pub(crate) fn run(asked: &ZonesArguments) -> Result<ExitStatus, Stop> {
    match &asked.command {
        ZonesCommand::Prepare(asked) => prepare(asked),
        ZonesCommand::Names(asked) => names(asked),
    }
}

/// The words that call it, for messages.
pub(crate) fn name(asked: &ZonesArguments) -> &'static str {
    match &asked.command {
        ZonesCommand::Prepare(_) => PREPARE,
        ZonesCommand::Names(_) => "zones names",
    }
}

fn names(asked: &NamesArguments) -> Result<ExitStatus, Stop> {
    let places = [&asked.paths[..], &asked.zones].concat();
    let files = zone_files::paths(&places)?;
    refuse_overwriting(files.iter().map(PathBuf::as_path), [])?;
    let document = NamesDocument::of(&zone_files::load(&places, &CoastArguments::default())?);
    let text = match asked.format {
        Format::Human => names_text(&document, asked.screen.width()),
        Format::Json => format!("{}\n", json_page(&document)?),
    };
    let mut out = StandardOutput::new();
    out.write_all(text.as_bytes())?;
    out.finish()?;
    Ok(ExitStatus::Unrestricted)
}

fn prepare(asked: &PrepareArguments) -> Result<ExitStatus, Stop> {
    let files = zone_files::paths(&[&asked.paths[..], &asked.zones].concat())?;
    let indexes: Vec<PathBuf> = files.iter().map(|file| index_of(file)).collect();
    let written = indexes.iter().map(|index| ("the index", index.as_path()));
    refuse_overwriting(files.iter().map(PathBuf::as_path), written)?;
    // one that cannot be read is no reason to leave the others without an index
    let prepared = files.iter().zip(&indexes).map(|(file, index)| match prepare_one(file, index) {
        Ok(()) => ExitStatus::Unrestricted,
        Err(stop) => stop.tell(PREPARE),
    });
    Ok(prepared.fold(ExitStatus::Unrestricted, ExitStatus::worst))
}

fn prepare_one(file: &Path, index: &Path) -> Result<(), Stop> {
    match is_something_else(index) {
        Ok(false) => {}
        Ok(true) => {
            return Err(Stop::Unreadable(format!(
                "{} is not an index of zones, so it is not overwritten\n  move it away, or rename the zone file",
                index.display()
            )));
        }
        Err(error) => {
            return Err(Stop::Unreadable(format!(
                "{} cannot be read, so it is not overwritten: {}\n  check its permissions, or move it away",
                index.display(),
                io_in_words(&error)
            )));
        }
    }
    let label = file.display().to_string();
    let bytes = read_whole(file, zone_file::MOST_BYTES)?;
    zone_files::refuse_an_index(&label, &bytes)?;
    let made = prepared::prepare(&label, &bytes).map_err(|error| zone_files::refused(&error))?;
    let follows_coast = |warning: &FileWarning| warning.kind == WarningKind::CoastNotFollowed;
    if !made.loaded.coasts.is_empty() || made.loaded.warnings.iter().any(follows_coast) {
        return Err(Stop::Unreadable(format!(
            "{label} goes by a coast, and an index cannot hold one\n  use it without an index: it is then read whole"
        )));
    }
    let warnings: Vec<String> = made.loaded.warnings.iter().map(ToString::to_string).collect();
    zone_files::tell_warnings(&label, &warnings);
    let mut kept = KeptFile::create(index).map_err(Stop::Unreadable)?;
    kept.write_bytes(&made.index).and_then(|()| kept.finish()).map_err(Stop::Unreadable)?;
    let (index, zones) = (index.display(), made.loaded.zones.len());
    say(&format!("{index}: made from {label}; zones: {zones}, bytes: {}", made.index.len()));
    Ok(())
}

/// Whether there is a file that somebody else wrote; a damaged index is none as long as its first words stand.
fn is_something_else(index: &Path) -> io::Result<bool> {
    const LOOKED_AT: u64 = 64;
    match index.metadata() {
        Ok(about) if about.is_file() => {}
        // a pipe would be waited for
        Ok(_) => return Ok(true),
        Err(_) => return Ok(false),
    }
    let mut beginning = Vec::new();
    File::open(index)?.take(LOOKED_AT).read_to_end(&mut beginning)?;
    Ok(!Index::is_begun_by(&beginning) && !Index::is_hardly_begun_by(&beginning))
}
