//! Which zone files to read, and reading them. One bad file stops everything: a zone left out would read as open water.

use std::ffi::OsString;
use std::io::{self, Read};
use std::path::{Path, PathBuf};
use std::{env, fs};

use takeline::coast::{self, Coast};
use takeline::prepared::{
    self, FileOfZones, Index, MOST_INDEX_BYTES, PreparedFile, Unfit, UnfitIndex, ZonesForFix,
};
use takeline::zone::ZoneSet;
use takeline::zone_file::{self, LoadZonesError, LoadedFile};
use takeline::{Fix, Question, landmark_file};

use crate::bounded::read_whole;
use crate::coasts::{CoastArguments, Coasts};
use crate::failure::{Stop, cannot_be_read, first_faults, say, say_all};
use crate::file_sort::FileSort;
use crate::log_reading::is_log;
use crate::manifests;
use crate::plausibility::tell_far_coasts;
use crate::settings::config_folder;

const WHERE_ZONES_COME_FROM: &str = "give --zones FILE or FOLDER, or set TAKELINE_ZONES, or put zone files into \
                                     takeline/zones in your config folder (`takeline settings` says where that is)";

/// Loads every zone that was asked for; warnings go to standard error.
pub(crate) fn load(asked: &[PathBuf], coasts: &CoastArguments) -> Result<ZoneSet, Stop> {
    load_beside(asked, &Coasts::of(coasts)?)
}

/// As [`load`], with the coasts that are known and those that the zone files name.
fn load_beside(asked: &[PathBuf], coasts: &Coasts) -> Result<ZoneSet, Stop> {
    let files = load_files(asked, |file, label| {
        read((file, label), &read_whole(file, zone_file::MOST_BYTES)?, coasts)
    })?;
    let zones = files.into_iter().flat_map(|file| match file {
        FileOfZones::Whole(zones) => zones,
        FileOfZones::Prepared(_) => Vec::new(),
    });
    let zones = ZoneSet::new(zones.collect()).with_coasts(coasts.known());
    refuse_circles(&zones)?;
    tell_far_coasts(&zones, true);
    Ok(zones)
}

/// One file, and what is told and counted of it.
#[derive(Debug)]
pub(crate) struct Loaded {
    pub(crate) sha256: String,
    pub(crate) zone_count: usize,
    pub(crate) line_km: f64,
    /// What is odd about it.
    pub(crate) warnings: Vec<String>,
    pub(crate) zones: FileOfZones,
}

/// Reads one file whole, its sides along the coasts that they follow.
pub(crate) fn read((file, label): (&Path, &str), bytes: &[u8], coasts: &Coasts) -> Result<Loaded, Stop> {
    let loaded = read_file((file, label), bytes, coasts)?;
    Ok(Loaded {
        sha256: loaded.file.sha256.clone(),
        zone_count: loaded.zones.len(),
        line_km: loaded.line_length.metres() / 1000.0,
        warnings: loaded.warnings.iter().map(ToString::to_string).collect(),
        zones: FileOfZones::Whole(loaded.zones),
    })
}

/// As [`read`], with all that its head says.
pub(crate) fn read_file(
    (file, label): (&Path, &str),
    bytes: &[u8],
    coasts: &Coasts,
) -> Result<LoadedFile, Stop> {
    refuse_an_index(label, bytes)?;
    let loaded = read_along((file, label), bytes, &coasts.followed_by(file, &[])?)?;
    if loaded.coasts.is_empty() {
        return Ok(loaded);
    }
    read_along((file, label), bytes, &coasts.followed_by(file, &loaded.coasts)?)
}

fn read_along((file, label): (&Path, &str), bytes: &[u8], coasts: &[Coast]) -> Result<LoadedFile, Stop> {
    zone_file::read_along(label, bytes, coasts).map_err(|error| {
        if let Err(other) = refuse_another_sort(file, label, bytes) {
            return other;
        }
        match FileSort::of(file, bytes) {
            Some(FileSort::Text) => Stop::Unreadable(format!(
                "{label} is not a zone file: it is not JSON\n  give a file of zones, or a folder of them; until then no zone is used"
            )),
            Some(FileSort::Unsaid) => Stop::Unreadable(format!(
                "{}\n  if it is a coast and not a zone file, give it after --coast: --coast {label}",
                refusal(&error)
            )),
            Some(_) | None => refused(&error),
        }
    })
}

/// Reads the files that were asked for one after another, each file once; warnings go to standard error.
pub(crate) fn load_files(
    asked: &[PathBuf],
    read: impl Fn(&Path, &str) -> Result<Loaded, Stop>,
) -> Result<Vec<FileOfZones>, Stop> {
    let mut found = Vec::new();
    let mut read_before = Vec::new();
    let mut digests = Vec::new();
    let (mut zone_count, mut line_km) = (0, 0.0);
    let places = places(asked)?;
    let files = files(&places)?;
    tell_other_sorts(&places);
    for file in files {
        let label = file.display().to_string();
        let loaded = read(&file, &label)?;
        tell_warnings(&label, &loaded.warnings);
        digests.push((file.clone(), loaded.sha256.clone()));
        if read_before.contains(&loaded.sha256) {
            say(&format!("{label}: note: the same file was read before; it counts once"));
            continue;
        }
        read_before.push(loaded.sha256);
        line_km += loaded.line_km;
        zone_count += loaded.zone_count;
        found.push(loaded.zones);
        if zone_count > zone_file::MOST_ZONES || line_km > zone_file::MOST_LINE_KM {
            return Err(too_many(zone_count, line_km));
        }
    }
    manifests::refuse_gaps(&places, &digests)?;
    if zone_count == 0 {
        let places: Vec<_> = places.iter().map(|place| place.display().to_string()).collect();
        return Err(Stop::Unreadable(format!(
            "{} has no zones\n  {WHERE_ZONES_COME_FROM}",
            places.join(", ")
        )));
    }
    Ok(found)
}

/// Where the paths come from that [`paths`] gives: `given`, `TAKELINE_ZONES` or `config-folder`.
pub(crate) fn where_from(asked: &[PathBuf]) -> &'static str {
    if !asked.is_empty() {
        "given"
    } else if are_named_by_environment() {
        "TAKELINE_ZONES"
    } else {
        "config-folder"
    }
}

/// Says what is odd about a file.
pub(crate) fn tell_warnings(label: &str, warnings: &[String]) {
    say_all(format!("warnings about {label}"), warnings, |warning| format!("{label}: warning: {warning}"));
}

/// Zones of several files can displace each other in a circle, which no file shows alone.
pub(crate) fn refuse_circles(zones: &ZoneSet) -> Result<(), Stop> {
    let Some(circle) = zones.override_circles().first() else { return Ok(()) };
    let named = |number: &usize| {
        let zone = &zones.zones()[*number];
        format!("{} of {}", zone.id, zone.file.path)
    };
    let named: Vec<String> = circle.iter().map(named).collect();
    Err(Stop::Unreadable(format!(
        "the overrides of these zones go round in a circle, so it is not clear which rule binds: {}\n  take out one of these overrides, the one that the law does not state, or load the files one by one",
        named.join("; ")
    )))
}

pub(crate) fn refused(error: &LoadZonesError) -> Stop {
    Stop::Unreadable(refusal(error))
}

/// Refuses what says of itself that it is no zone file: a coast, landmarks, a log.
pub(crate) fn refuse_another_sort(file: &Path, label: &str, bytes: &[u8]) -> Result<(), Stop> {
    let sort = FileSort::of(file, bytes).filter(|sort| *sort != FileSort::Zones);
    sort.and_then(|sort| sort.given_instead(label)).map_or(Ok(()), |other| {
        Err(Stop::Unreadable(format!("{label} is not a zone file: {other}; until then no zone is used")))
    })
}

fn refusal(error: &LoadZonesError) -> String {
    let faults = first_faults(&error.path, &error.faults, error.more);
    format!(
        "{faults}\n  fix this first; until then no zone is used, because a zone left out would read as open water"
    )
}

/// Refuses an index in place of the zone file that it is of.
pub(crate) fn refuse_an_index(label: &str, bytes: &[u8]) -> Result<(), Stop> {
    if Index::is_begun_by(bytes) {
        return Err(Stop::Unreadable(format!(
            "{label} is an index of a zone file, and has no zones of its own\n  give the zone file beside it"
        )));
    }
    Ok(())
}

/// Each file may be within the limits, and all of them together not.
fn too_many(zone_count: usize, line_km: f64) -> Stop {
    let (most_zones, most_km) = (zone_file::MOST_ZONES, zone_file::MOST_LINE_KM);
    Stop::Unreadable(format!(
        "the zone files hold {zone_count} zones or more, with about {line_km:.0} km of boundary; at most {most_zones} zones and {most_km:.0} km are loaded together\n  give --zones only the files that you need"
    ))
}

/// The files that [`load`] reads.
pub(crate) fn paths(asked: &[PathBuf]) -> Result<Vec<PathBuf>, Stop> {
    files(&places(asked)?)
}

/// The files and folders that were asked for, or that are looked at where none were.
pub(crate) fn places(asked: &[PathBuf]) -> Result<Vec<PathBuf>, Stop> {
    if !asked.is_empty() {
        return Ok(asked.to_vec());
    }
    let listed = named_by_environment();
    if !listed.is_empty() {
        return Ok(listed);
    }
    let folder = config_folder().map(|folder| folder.join("zones"));
    match folder.filter(|folder| folder.is_dir()) {
        Some(folder) => Ok(vec![folder]),
        None => Err(Stop::Unreadable(format!("no zones are given\n  {WHERE_ZONES_COME_FROM}"))),
    }
}

fn named_by_environment() -> Vec<PathBuf> {
    let list = env::var_os("TAKELINE_ZONES").unwrap_or_default();
    env::split_paths(&list).filter(|path| !path.as_os_str().is_empty()).collect()
}

/// Whether the environment says which zones to read.
pub(crate) fn are_named_by_environment() -> bool {
    !named_by_environment().is_empty()
}

fn files(places: &[PathBuf]) -> Result<Vec<PathBuf>, Stop> {
    let mut files = Vec::new();
    for place in places {
        if place.is_dir() {
            files.extend(in_folder(place)?);
        } else if manifests::is_manifest(place) && place.is_file() {
            // a shell names it beside the zone files; what is in it are no zones, or it stops everything
            manifests::read(place)?;
        } else {
            files.push(place.clone());
        }
    }
    Ok(files)
}

/// The most entries of a folder, those of the folders inside it counted, that are looked at.
const MOST_ENTRIES: usize = 20_000;
/// How deep folders inside one another are looked at.
const MOST_FOLDERS_DEEP: usize = 16;

/// The zone files directly in a folder, by name.
///
/// What looks like a zone file and is not read, under another name or in a folder inside, refuses the whole: a zone left out
/// would read as open water.
fn in_folder(folder: &Path) -> Result<Vec<PathBuf>, Stop> {
    let mut files = Vec::new();
    let mut passed_over = Vec::new();
    for path in entries(folder)? {
        if other_sort(&path).is_some() {
            continue;
        }
        if manifests::is_manifest(&path) {
            // what bears the name and is none may be zones: it stops everything
            manifests::read(&path)?;
        } else if is_zone_file(&path) {
            files.push(path);
        } else if path.is_dir() {
            let mut left = MOST_ENTRIES;
            passed_over.extend(zone_file_inside(&path, (&mut left, 1))?);
        } else if looks_like_a_zone_file(&path) {
            passed_over.push(path);
        }
    }
    if let Some(first) = passed_over.first() {
        // beside folders of other editions, the one that is called so
        let is_of_zones = |path: &&PathBuf| path.parent().is_some_and(|inside| inside.ends_with("zones"));
        let likely = passed_over.iter().find(is_of_zones).unwrap_or(first);
        if let Some(inside) = likely.parent().filter(|inside| files.is_empty() && *inside != folder) {
            let (folder, inside) = (folder.display(), inside.display());
            return Err(Stop::Unreadable(format!(
                "{folder} holds no zone file itself; {} in a folder inside looks like one\n  give that folder: --zones {inside}",
                likely.display()
            )));
        }
        return Err(Stop::Unreadable(format!(
            "{} looks like a zone file and is not read: of a folder only files named *.json or *.geojson in it are, none that is \
             packed, hidden or in a folder inside\n  give it to --zones by its own name (unpacked), or name it so, or move it out of {}; until then no zone is used, because a zone left out would read as open water",
            first.display(),
            folder.display()
        )));
    }
    if files.is_empty() {
        let folder = folder.display();
        return Err(Stop::Unreadable(format!(
            "there is no file named *.json or *.geojson in {folder}\n  {WHERE_ZONES_COME_FROM}"
        )));
    }
    Ok(files)
}

/// What a file is that says of itself that it is no zone file: a coast or a file of landmarks that lies beside zones.
fn other_sort(path: &Path) -> Option<FileSort> {
    const OTHERS: [&str; 2] = [coast::FORMAT, landmark_file::FORMAT];
    if !is_zone_file(path) {
        return None;
    }
    let beginning = beginning(path);
    let beginning = String::from_utf8_lossy(&beginning);
    if !OTHERS.iter().any(|format| beginning.contains(format)) {
        return None;
    }
    // the words may stand in a remark of a zone file: only the whole tells
    let sort = FileSort::of(path, &read_whole(path, zone_file::MOST_BYTES).ok()?);
    sort.filter(|sort| matches!(sort, FileSort::Coast | FileSort::Landmarks))
}

/// Says which files of these folders are passed over because they say that they are something else.
fn tell_other_sorts(places: &[PathBuf]) {
    for file in places.iter().filter(|place| place.is_dir()).flat_map(|folder| json_files_in(folder)) {
        let shown = file.display().to_string();
        if let Some(other) = other_sort(&file).and_then(|sort| sort.given_instead(&shown)) {
            say(&format!("{shown}: note: no zones are read from it: {other}, unless a zone file names it"));
        }
    }
}

/// What a folder holds, by name.
fn entries(folder: &Path) -> Result<Vec<PathBuf>, Stop> {
    let entries = fs::read_dir(folder).and_then(Iterator::collect::<io::Result<Vec<_>>>);
    let entries = entries.map_err(|error| unreadable(folder, &error))?;
    let mut paths: Vec<_> = entries.iter().map(fs::DirEntry::path).collect();
    paths.sort();
    Ok(paths)
}

/// The first zone file, or what looks like one, in a folder or one inside it.
fn zone_file_inside(folder: &Path, (left, deep): (&mut usize, usize)) -> Result<Option<PathBuf>, Stop> {
    let paths = entries(folder)?;
    if deep > MOST_FOLDERS_DEEP || paths.len() > *left {
        return Err(Stop::Unreadable(format!(
            "{} holds too many files to look through for zones\n  give --zones the zone files themselves, or a folder with nothing else in it",
            folder.display()
        )));
    }
    *left -= paths.len();
    for path in paths {
        if path.is_dir() {
            // a link may lead round in a circle, which its own folder shows
            if !path.is_symlink()
                && let Some(found) = zone_file_inside(&path, (&mut *left, deep + 1))?
            {
                return Ok(Some(found));
            }
        } else if (is_zone_file(&path) || looks_like_a_zone_file(&path)) && other_sort(&path).is_none() {
            return Ok(Some(path));
        }
    }
    Ok(None)
}

/// Whether a path is a zone file by its name, or by text that begins like one; never a log.
pub(crate) fn looks_like_zones(path: &Path) -> bool {
    let text = beginning(path);
    let text = String::from_utf8_lossy(&text);
    is_zone_file(path) || text.trim_start_matches('\u{feff}').trim_start().starts_with(['{', '['])
}

/// The files directly in a folder that may hold zones or a coast, by their names.
pub(crate) fn json_files_in(folder: &Path) -> Vec<PathBuf> {
    entries(folder).unwrap_or_default().into_iter().filter(|path| is_zone_file(path)).collect()
}

/// Whether a folder holds zone files, and whether it holds anything that may be a log.
pub(crate) fn holds_zone_files(folder: &Path) -> (bool, bool) {
    let paths = entries(folder).unwrap_or_default();
    (paths.iter().any(|path| is_zone_file(path)), paths.iter().any(|path| is_log(path)))
}

fn is_zone_file(path: &Path) -> bool {
    let is_hidden = path.file_name().is_some_and(|name| name.as_encoded_bytes().starts_with(b"."));
    let extension = path.extension().unwrap_or_default();
    let is_json = extension.eq_ignore_ascii_case("json") || extension.eq_ignore_ascii_case("geojson");
    is_json && !is_hidden && !path.is_dir()
}

/// Whether a file that is not read may hold zones: by a name with an ending of a zone file somewhere in it, or by text that
/// begins like one.
fn looks_like_a_zone_file(path: &Path) -> bool {
    let name = path.file_name().unwrap_or_default().to_string_lossy().to_lowercase();
    if is_note_of_a_finder(path, &name) || is_index(path) {
        return false;
    }
    let says_so = [".json", ".geojson"].iter().any(|ending| name.contains(ending));
    says_so || is_packed_without_a_word(&name) || begins_like_zones(path)
}

/// Whether a file is packed and its name does not say as what: `zones.zip`, not `trip.gpx.gz`.
fn is_packed_without_a_word(name: &str) -> bool {
    const PACKED: [&str; 7] = [".gz", ".zip", ".bz2", ".xz", ".zst", ".7z", ".tgz"];
    let stem = PACKED.iter().find_map(|ending| name.strip_suffix(ending));
    stem.is_some_and(|stem| !stem.trim_start_matches('.').contains('.'))
}

/// Whether a file is what a desktop keeps beside another on a foreign disk: an `AppleDouble` file, by its first bytes
/// (RFC 1740, A).
fn is_note_of_a_finder(path: &Path, name: &str) -> bool {
    name.starts_with("._") && beginning(path).starts_with(&[0x00, 0x05, 0x16, 0x07])
}

/// Whether a file is the index of a zone file: by the zone file that is read beside it, or by its first bytes.
fn is_index(path: &Path) -> bool {
    let Some(zones) = indexed_by(path) else { return false };
    // a damaged one may begin with anything, but zones are never passed over for their name
    let is_beside_zones = is_zone_file(&zones) && zones.is_file() && !begins_like_zones(path);
    is_beside_zones || Index::is_begun_by(&beginning(path))
}

/// Whether a file begins as JSON does, or as what may hold some: packed, or in two bytes a letter.
fn begins_like_zones(path: &Path) -> bool {
    const HOLDERS: [&[u8]; 4] = [&[0x1F, 0x8B], b"PK", &[0xFF, 0xFE], &[0xFE, 0xFF]];
    let beginning = beginning(path);
    let text = String::from_utf8_lossy(&beginning);
    let is_text = text.trim_start_matches('\u{feff}').trim_start().starts_with(['{', '[']);
    is_text || HOLDERS.iter().any(|holder| beginning.starts_with(holder))
}

/// The first bytes of a file; none of one that cannot be read.
fn beginning(path: &Path) -> Vec<u8> {
    const LOOKED_AT: u64 = 4096;
    let mut bytes = Vec::new();
    let is_file = path.is_file();
    let read = is_file.then(|| fs::File::open(path)).and_then(Result::ok);
    if let Some(file) = read {
        // what cannot be read is no zone file that was passed over
        let _read = file.take(LOOKED_AT).read_to_end(&mut bytes);
    }
    bytes
}

fn unreadable(path: &Path, error: &io::Error) -> Stop {
    Stop::Unreadable(cannot_be_read(path.display(), error))
}

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
pub(crate) fn load_for(
    (asked, coasts): (&[PathBuf], &CoastArguments),
    fix: &Fix,
    question: &Question,
) -> Result<ZoneSet, Stop> {
    let coasts = Coasts::of(coasts)?;
    if prepared::needs_all_zones(question) {
        return load_beside(asked, &coasts);
    }
    let files = load_files(asked, |file, label| {
        let bytes = read_whole(file, zone_file::MOST_BYTES)?;
        match with_index(file, label, bytes) {
            Ok(prepared) => Ok(prepared),
            Err(bytes) => read((file, label), &bytes, &coasts),
        }
    })?;
    let are_all_read = files.iter().all(|file| matches!(file, FileOfZones::Whole(_)));
    let found =
        prepared::zones_beside(files, &coasts.known(), fix, question).map_err(|error| refused(&error))?;
    let ZonesForFix { zones, unfit, .. } = found;
    for UnfitIndex { path_label, why, warnings, .. } in unfit {
        tell_unfit(&path_label, &why);
        tell_warnings(&path_label, &warnings);
    }
    refuse_circles(&zones)?;
    tell_far_coasts(&zones, are_all_read);
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
        "{label}{ENDING}: note: not used: {unfit}; {label} is read whole\n  make it again with `takeline zones prepare {label}`, or delete it"
    ));
}
