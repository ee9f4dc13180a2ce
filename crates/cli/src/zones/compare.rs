//! `takeline zones compare`: what differs between two editions.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use clap::Args;
use takeline::ZoneSet;
use takeline::zone::ZoneFile;
use takeline_drafting::editions;
use takeline_report::{CompareDocument, ExitStatus, Units, compare_page, compare_text, json_page};

use super::overwriting::OverwriteArguments;
use crate::arguments::Format;
use crate::coasts::CoastArguments;
use crate::failure::Stop;
use crate::kept_file::{StandardOutput, refuse_overwriting};
use crate::screen::ScreenArguments;
use crate::zone_files;

const COMPARE_EXAMPLE: &str = "\
Zones are matched by their ids, and those left over by their lines. What cannot
be compared is undecided: read both texts of the law.

Example (Marrowick is invented):
  takeline zones compare demo-data/editions/marrowick-2025.json \\
    demo-data/zones/marrowick.json

Exit status: 0 nothing differs, 1 something does, 2 typed wrongly, 3 a zone file
cannot be read.";

#[derive(Debug, Args)]
#[command(after_help = COMPARE_EXAMPLE)]
pub(super) struct CompareArguments {
    /// The old edition: a zone file, or a folder of them
    #[arg(value_name = "OLD")]
    old: PathBuf,

    /// The new edition: a zone file, or a folder of them
    #[arg(value_name = "NEW")]
    new: PathBuf,

    /// Also write a page with pictures, old and new vertices and rules side by side
    #[arg(long, value_name = "OUT")]
    html: Option<PathBuf>,

    /// Text for people or JSON for programs
    #[arg(long, value_enum, value_name = "FORMAT", default_value = "human")]
    format: Format,

    #[command(flatten)]
    overwriting: OverwriteArguments,

    #[command(flatten)]
    screen: ScreenArguments,
}

/// Answers `takeline zones compare`.
pub(super) fn compare(asked: &CompareArguments, units: Units) -> Result<ExitStatus, Stop> {
    let files = zone_files::paths(&[asked.old.clone(), asked.new.clone()])?;
    let page = asked.html.as_deref().map(|page| ("--html", page));
    refuse_overwriting(files.iter().map(PathBuf::as_path), page)?;
    page.map_or(Ok(()), |page| asked.overwriting.refuse(page))?;
    let read = |edition: &Path| zone_files::load(&[edition.to_owned()], &CoastArguments::default());
    let (old, new) = (read(&asked.old)?, read(&asked.new)?);
    let comparison = editions::compare(old.zones(), new.zones());
    let words = asked.format.words(units);
    let (old_files, new_files) = (files_of(&old), files_of(&new));
    let document = CompareDocument::of(&comparison, [&old_files, &new_files], &words);
    if let Some(page) = page {
        asked.overwriting.write(page, compare_page(&document).as_bytes())?;
    }
    let text = match asked.format {
        Format::Human => compare_text(&document, asked.screen.width()),
        Format::Json => format!("{}\n", json_page(&document)?),
    };
    let mut out = StandardOutput::new();
    out.write_all(text.as_bytes())?;
    out.finish()?;
    Ok(document.exit_status)
}

/// The files of a set, in the order in which they were read.
fn files_of(zones: &ZoneSet) -> Vec<&ZoneFile> {
    let mut files: Vec<&Arc<ZoneFile>> = Vec::new();
    for zone in zones.zones() {
        if files.last().is_none_or(|last| !Arc::ptr_eq(last, &zone.file)) {
            files.push(&zone.file);
        }
    }
    files.into_iter().map(Arc::as_ref).collect()
}
