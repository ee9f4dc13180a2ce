//! Zones for one fix: by the indexes beside their files where there are any, else whole.

use std::ffi::OsString;
use std::path::{Path, PathBuf};

use takeline::prepared::{
    self, FileOfZones, Index, MOST_INDEX_BYTES, PreparedFile, Unfit, UnfitIndex, ZonesForFix,
};
use takeline::zone::ZoneSet;
use takeline::zone_file;
use takeline::{Fix, Question};

use crate::bounded::read_whole;
use crate::failure::{Stop, say};
use crate::zone_files::{self, Loaded};

/// What the name of an index adds to that of its zone file.
const ENDING: &str = ".prepared";

/// The index of a zone file: beside it.
pub(crate) fn index_of(file: &Path) -> PathBuf {
    let mut name = OsString::from(file);
    name.push(ENDING);
    PathBuf::from(name)
}

/// The zone file that a file would be the index of, by its name.
pub(crate) fn indexed_by(path: &Path) -> Option<PathBuf> {
    let name = path.file_name()?.to_str()?.strip_suffix(ENDING)?;
    Some(path.with_file_name(name))
}

/// Loads the zones that were asked for, or as many of them as this question about one fix needs: the answer is the same.
pub(crate) fn load_for(asked: &[PathBuf], fix: &Fix, question: &Question) -> Result<ZoneSet, Stop> {
    if prepared::needs_all_zones(question) {
        return zone_files::load(asked);
    }
    let files = zone_files::load_files(asked, |file, label| {
        let bytes = read_whole(file, zone_file::MOST_BYTES)?;
        match with_index(file, label, bytes) {
            Ok(prepared) => Ok(prepared),
            Err(bytes) => zone_files::read(label, &bytes),
        }
    })?;
    let found = prepared::zones_for(files, fix, question).map_err(|error| zone_files::refused(&error))?;
    let ZonesForFix { zones, unfit, .. } = found;
    for UnfitIndex { path_label, why, warnings, .. } in unfit {
        tell_unfit(&path_label, &why);
        zone_files::tell_warnings(&path_label, &warnings);
    }
    zone_files::refuse_circles(&zones)?;
    Ok(zones)
}

/// A zone file with the index beside it; its bytes again where there is none that fits.
fn with_index(file: &Path, label: &str, bytes: Vec<u8>) -> Result<Loaded, Vec<u8>> {
    let path = index_of(file);
    if !path.is_file() {
        return Err(bytes);
    }
    let Ok(index) = read_whole(&path, MOST_INDEX_BYTES) else {
        say(&format!("{}: note: cannot be read and is not used: {label} is read whole", path.display()));
        return Err(bytes);
    };
    match Index::of(&index, &bytes) {
        Ok(index) => Ok(loaded(index.with_source(label, bytes))),
        Err(unfit) => {
            tell_unfit(label, &unfit);
            Err(bytes)
        }
    }
}

fn loaded(file: PreparedFile) -> Loaded {
    Loaded {
        sha256: file.sha256(),
        zone_count: file.zone_count(),
        line_km: file.line_length().metres() / 1000.0,
        warnings: file.warnings().to_vec(),
        zones: FileOfZones::Prepared(file),
    }
}

fn tell_unfit(label: &str, unfit: &Unfit) {
    say(&format!(
        "{label}{ENDING}: note: not used: {unfit}; {label} is read whole\n  make it anew with `takeline zones prepare \
         {label}`, or delete it"
    ));
}
