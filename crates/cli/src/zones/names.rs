//! `takeline zones names`: the fish and the gear that zone files know.

use std::io::Write;
use std::path::PathBuf;

use clap::Args;
use takeline_report::{ExitStatus, NamesDocument, json_page, names_text};

use crate::arguments::{Format, ZONES_HELP};
use crate::coasts::CoastArguments;
use crate::failure::Stop;
use crate::kept_file::{StandardOutput, refuse_overwriting};
use crate::screen::ScreenArguments;
use crate::zone_files;

const NAMES_EXAMPLE: &str = "\
Example (Marrowick is invented):
  takeline zones names demo-data/zones

Exit status: 0 listed, 2 typed wrongly, 3 a zone file cannot be read.";

#[derive(Debug, Args)]
#[command(after_help = NAMES_EXAMPLE)]
pub(super) struct NamesArguments {
    #[arg(value_name = "PATH", help = ZONES_HELP)]
    pub(super) paths: Vec<PathBuf>,

    /// Same as PATH
    #[arg(long = "zones", value_name = "PATH")]
    pub(super) zones: Vec<PathBuf>,

    /// Text for people or JSON for programs
    #[arg(long, value_enum, value_name = "FORMAT", default_value = "human")]
    format: Format,

    #[command(flatten)]
    screen: ScreenArguments,
}

/// Answers `takeline zones names`.
pub(super) fn names(asked: &NamesArguments) -> Result<ExitStatus, Stop> {
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
