//! `takeline zones prepare`: an index beside each zone file.

use std::fs::File;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use clap::Args;
use takeline::prepared::{self, Index};
use takeline::zone_file::{self, FileWarning, WarningKind};
use takeline_report::ExitStatus;

use crate::arguments::ZONES_HELP;
use crate::bounded::read_whole;
use crate::failure::{Stop, io_in_words, say};
use crate::kept_file::{KeptFile, refuse_overwriting};
use crate::zone_files;
use crate::zone_files::index_of;

pub(super) const PREPARE: &str = "zones prepare";

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

#[derive(Debug, Args)]
#[command(after_help = PREPARE_EXAMPLE)]
pub(super) struct PrepareArguments {
    #[arg(value_name = "PATH", help = ZONES_HELP)]
    pub(super) paths: Vec<PathBuf>,

    /// Same as PATH
    #[arg(long = "zones", value_name = "PATH")]
    pub(super) zones: Vec<PathBuf>,
}

/// Answers `takeline zones prepare`.
pub(super) fn prepare(asked: &PrepareArguments) -> Result<ExitStatus, Stop> {
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
