//! The manifest that a folder of zone files may keep, and holding the folder to it.

use std::path::{Path, PathBuf};

use takeline_drafting::catalogue::{FILE_NAME, Manifest};
use takeline_report::ManifestDocument;

use crate::bounded::read_whole;
use crate::failure::Stop;

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

/// How the folders among these places differ from their manifests, by the digests of the files that were read.
pub(crate) fn hold(places: &[PathBuf], digests: &[(PathBuf, String)]) -> Result<Vec<ManifestDocument>, Stop> {
    let mut held = Vec::new();
    for place in places.iter().filter(|place| place.is_dir()) {
        let path = place.join(FILE_NAME);
        if !path.is_file() {
            continue;
        }
        let in_folder = digests.iter().filter(|(file, _)| file.parent() == Some(place));
        let found: Vec<(String, &str)> = in_folder
            .filter_map(|(file, digest)| {
                Some((file.file_name()?.to_string_lossy().into_owned(), digest.as_str()))
            })
            .collect();
        let found = found.iter().map(|(name, digest)| (name.as_str(), *digest));
        let differences = read(&path)?.differences(found);
        held.push(ManifestDocument::of(path.display().to_string(), &differences));
    }
    Ok(held)
}
