//! `takeline zones list`: which zone files are loaded from where; and the manifest of a folder.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

use clap::Args;
use jiff::{Timestamp, ZonedDateTime};
use takeline::zone_file;
use takeline_drafting::catalogue::{Difference, FILE_NAME, Manifest, ManifestEntry};
use takeline_report::{ExitStatus, ListDocument, ListedFileDocument, json_page, list_text};

use crate::arguments::{Format, ZONES_HELP};
use crate::bounded::read_whole;
use crate::coasts::{CoastArguments, Coasts};
use crate::failure::{Stop, say};
use crate::kept_file::{KeptFile, StandardOutput, refuse_overwriting};
use crate::manifests::Held;
use crate::screen::ScreenArguments;
use crate::zone_files::tell_warnings;
use crate::{manifests, zone_files};

const LIST_EXAMPLE: &str = "\
Examples (Marrowick is invented):
  takeline zones list demo-data/zones
  takeline zones list --write-manifest demo-data/zones

The manifest of a folder, takeline-manifest.json, says which files belong in it.
Whenever the folder is used, a file that was changed or added since is told, and
while one is missing no command answers from the folder.

Exit status: 0 listed, 1 a folder is not as its manifest says, 2 typed wrongly,
3 a zone file cannot be read, or one that the manifest names is missing.";

#[derive(Debug, Args)]
#[command(after_help = LIST_EXAMPLE)]
pub(super) struct ListArguments {
    #[arg(value_name = "PATH", help = ZONES_HELP)]
    pub(super) paths: Vec<PathBuf>,

    /// Same as PATH
    #[arg(long = "zones", value_name = "PATH")]
    pub(super) zones: Vec<PathBuf>,

    /// Write into each folder which files are in it now
    #[arg(long)]
    write_manifest: bool,

    /// Text for people or JSON for programs
    #[arg(long, value_enum, value_name = "FORMAT", default_value = "human")]
    format: Format,

    #[command(flatten)]
    screen: ScreenArguments,
}

/// Answers `takeline zones list`.
pub(super) fn list(asked: &ListArguments) -> Result<ExitStatus, Stop> {
    let given = [&asked.paths[..], &asked.zones].concat();
    let (places, now) = (zone_files::places(&given)?, Timestamp::now());
    let folders: Vec<&PathBuf> = places.iter().filter(|place| place.is_dir()).collect();
    if asked.write_manifest && folders.is_empty() {
        return Err(Stop::Usage(
            "--write-manifest needs a folder: name the folder that holds the zone files".into(),
        ));
    }
    let paths = zone_files::paths(&given)?;
    refuse_overwriting(paths.iter().map(PathBuf::as_path), [])?;
    let listed: Vec<(ListedFileDocument, Option<String>)> =
        paths.iter().map(|path| listed(path, now)).collect();
    let digests: Vec<(PathBuf, String)> = paths
        .iter()
        .zip(&listed)
        .filter_map(|(path, (_, digest))| Some((path.clone(), digest.clone()?)))
        .collect();
    let files: Vec<ListedFileDocument> = listed.into_iter().map(|(file, _)| file).collect();
    let is_refused = files.iter().any(|file| file.file.is_none());
    if asked.write_manifest {
        if is_refused {
            return Err(refused(&files));
        }
        for held in manifests::hold(&places, &digests)? {
            let gone = held.document();
            tell_warnings(&format!("{} as it was", gone.path), &gone.differences);
        }
        for folder in folders {
            write_manifest(folder, &paths, &files)?;
        }
    }
    let held = manifests::hold(&places, &digests)?;
    let lacks_a_file = held.iter().flat_map(|held| &held.differences).any(is_missing);
    let differs = held.iter().any(|held| !held.differences.is_empty());
    let manifests = held.iter().map(Held::document).collect();
    let document = ListDocument {
        schema: "takeline.zones-list/1",
        from: zone_files::where_from(&given),
        files,
        manifests,
    };
    let mut out = StandardOutput::new();
    match asked.format {
        Format::Human => out.write_all(list_text(&document, asked.screen.width()).as_bytes())?,
        Format::Json => writeln!(out, "{}", json_page(&document)?)?,
    }
    out.finish()?;
    Ok(match (is_refused || lacks_a_file, differs) {
        (true, _) => ExitStatus::Undecided,
        (false, true) => ExitStatus::Restricted,
        (false, false) => ExitStatus::Unrestricted,
    })
}

const fn is_missing(difference: &Difference) -> bool {
    matches!(difference, Difference::Missing(_))
}

fn refused(files: &[ListedFileDocument]) -> Stop {
    let why: Vec<String> = files.iter().filter_map(|file| file.refused.clone()).collect();
    Stop::Unreadable(format!(
        "{}\n  no manifest is written of a folder with such a file in it: mend it first, or move it away",
        why.join("\n")
    ))
}

/// One file, with its digest where it can be read at all; one that is refused is listed with the reason, beside those that are
/// not.
fn listed(path: &Path, now: Timestamp) -> (ListedFileDocument, Option<String>) {
    let label = path.display().to_string();
    let mut digest = None;
    let mut read = || -> Result<ListedFileDocument, Stop> {
        let bytes = read_whole(path, zone_file::MOST_BYTES)?;
        digest = Some(zone_file::file_digest(&bytes));
        let coasts = Coasts::of(&CoastArguments::default())?;
        let loaded = zone_files::read_file((path, &label), &bytes, &coasts)?;
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        let size = u64::try_from(bytes.len()).unwrap_or(u64::MAX);
        let entry = ManifestEntry::of(&name, size, &loaded);
        Ok(ListedFileDocument::read(label.clone(), entry, loaded.warnings.len(), now))
    };
    let file = read().unwrap_or_else(|stop| {
        let why = match stop {
            Stop::Usage(why) | Stop::Unreadable(why) | Stop::CutShort(why) => why,
            Stop::Output(error) => error.to_string(),
        };
        ListedFileDocument::refused(label.clone(), why)
    });
    (file, digest)
}

fn write_manifest(folder: &Path, paths: &[PathBuf], files: &[ListedFileDocument]) -> Result<(), Stop> {
    let in_folder = paths.iter().zip(files).filter(|(path, _)| path.parent() == Some(folder));
    let entries: Vec<ManifestEntry> = in_folder.filter_map(|(_, file)| file.file.clone()).collect();
    let count = entries.len();
    let manifest = Manifest::of(ZonedDateTime::now().date(), entries);
    let path = folder.join(FILE_NAME);
    let is_new = !fs::exists(&path).unwrap_or(false);
    // the one before was read with the folder
    let mut file = KeptFile::replacing(&path).map_err(Stop::Unreadable)?;
    file.write(&format!("{}\n", json_page(&manifest)?))
        .and_then(|()| file.finish())
        .map_err(Stop::Unreadable)?;
    let what = if is_new { "written" } else { "written again" };
    say(&format!("{}: {what}; files: {count}", path.display()));
    Ok(())
}
