//! The manifest that a folder of zone files may keep, and holding the folder to it.

use std::path::{Path, PathBuf};

use takeline_drafting::catalogue::{Difference, FILE_NAME, Manifest};
use takeline_report::ManifestDocument;

use crate::bounded::read_whole;
use crate::failure::Stop;
use crate::zone_files::tell_warnings;

/// The most bytes of a manifest: 20 000 files with long names.
const MOST_BYTES: usize = 16 * 1024 * 1024;

/// Whether a path bears the name of a manifest.
pub(crate) fn is_manifest(path: &Path) -> bool {
    path.file_name().is_some_and(|name| name == FILE_NAME)
}

/// Reads a manifest.
pub(crate) fn read(path: &Path) -> Result<Manifest, Stop> {
    Manifest::read(&read_whole(path, MOST_BYTES)?).map_err(|error| {
        Stop::Unreadable(format!(
            "{} {error}\n  write it again with `takeline zones list --write-manifest`, or delete it; zones in a file of this name are never read: give that file another name",
            path.display()
        ))
    })
}

/// A folder held to its manifest.
pub(crate) struct Held {
    /// The manifest.
    pub(crate) path: PathBuf,
    pub(crate) differences: Vec<Difference>,
}

impl Held {
    /// As a document, with its words.
    pub(crate) fn document(&self) -> ManifestDocument {
        ManifestDocument::of(self.path.display().to_string(), &self.differences)
    }
}

/// How the folders among these places differ from their manifests, by the digests of the files that were read. Of a manifest that
/// is named by itself, as a shell names it beside zone files, no file is missing that is in the folder and was not asked for.
pub(crate) fn hold(places: &[PathBuf], digests: &[(PathBuf, String)]) -> Result<Vec<Held>, Stop> {
    let mut held = Vec::new();
    for place in places {
        let is_folder = place.is_dir();
        let path = if is_folder { place.join(FILE_NAME) } else { place.clone() };
        if !is_manifest(&path) || !path.is_file() {
            continue;
        }
        let folder = path.parent().unwrap_or(Path::new(""));
        let in_folder = digests.iter().filter(|(file, _)| file.parent() == Some(folder));
        let found: Vec<(String, &str)> = in_folder
            .filter_map(|(file, digest)| {
                Some((file.file_name()?.to_string_lossy().into_owned(), digest.as_str()))
            })
            .collect();
        let found = found.iter().map(|(name, digest)| (name.as_str(), *digest));
        let mut differences = read(&path)?.differences(found);
        differences.retain(|difference| {
            is_folder || !matches!(difference, Difference::Missing(name) if folder.join(name).is_file())
        });
        held.push(Held { path, differences });
    }
    Ok(held)
}

/// Tells how folders differ from their manifests, and refuses those that lack a file: its zones would read as open water.
pub(crate) fn refuse_gaps(places: &[PathBuf], digests: &[(PathBuf, String)]) -> Result<(), Stop> {
    for held in hold(places, digests)? {
        let missing = |difference: &&Difference| matches!(difference, Difference::Missing(_));
        if let Some(gap) = held.differences.iter().find(missing) {
            let folder = held.path.parent().unwrap_or(Path::new(""));
            return Err(Stop::Unreadable(format!(
                "{} names {}, and that file is not there\n  put it back, or take the folder as it is now with `takeline zones list --write-manifest {}`; until then no zone is used, because a zone left out would read as open water",
                held.path.display(),
                gap.name(),
                folder.display()
            )));
        }
        let told = held.document();
        tell_warnings(&told.path, &told.differences);
    }
    Ok(())
}
