//! Reads a whole zone file.

use std::collections::{HashMap, HashSet};
use std::fmt;
use std::num::NonZero;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex};
use std::thread::{Builder, scope};

use jiff::civil::Date;
use jiff::tz::TimeZone;
use memchr::{memchr, memmem};
use serde_json::{Map, Value};

use super::catalogue_reader::catalogue;
use super::file_text::feature_texts;
use super::limits::{FileSize, MOST_ZONES};
use super::proofread_reader::HeadWords;
use super::wire::WireHeader;
use super::zone_reader::{Apart, COAST_MEND, FileContext, time_zone, zone};
use super::{FORMAT, Fault, FaultKind, FileWarning, WarningKind};
use crate::Metres;
use crate::coast::Coast;
use crate::geojson_text::{
    BYTE_ORDER_MARK, FAULT_LIMIT, FeatureText, Log, Refusal, Slot, collection, datum, feature_id, id_in,
    is_small_enough, json, reference_system, refuse_duplicate, sha256, shown_text, strict_json, write_faults,
};
use crate::zone::{Datum, OverrideGraph, Zone, ZoneFile, ZoneSet};

const HEADER_MEND: &str = "add \"takeline\": { \"format\": \"takeline.zones/1\", \"datum\": \"WGS 84\" }";

/// A zone file that was read.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct LoadedFile {
    /// What holds for the whole file, its hash included.
    pub file: Arc<ZoneFile>,
    /// The day it was issued.
    pub issued: Option<Date>,
    /// Who publishes it.
    pub publisher: Option<String>,
    /// Its zones, in file order; at least one.
    pub zones: Vec<Zone>,
    /// About how long all its lines are together, circles and arcs each taken for whole ones; within a few per cent.
    pub line_length: Metres,
    /// Files with the coast that it names, as it names them: from its own folder.
    pub coasts: Vec<String>,
    /// What is odd about it.
    pub warnings: Vec<FileWarning>,
}

/// Reads the zones of a file from its bytes.
///
/// `path_label` is what errors and answers call the file. A file with any fault is refused as a whole, and the error
/// lists every fault that was found. What the reader cannot know to be wrong, only odd, becomes a warning.
///
/// # Errors
///
/// [`LoadZonesError`] names file, feature, member, ring and vertex (counted from 1), the value, and how to mend it.
///
/// # Examples
///
/// ```
/// let bytes = br#"{ "type": "FeatureCollection",
///   "takeline": { "format": "takeline.zones/1", "datum": "WGS 84" },
///   "features": [ { "type": "Feature", "id": "sallow-cove",
///     "geometry": { "type": "Polygon", "coordinates":
///       [[[-30.13, 45.11], [-30.11, 45.11], [-30.11, 45.125], [-30.13, 45.125], [-30.13, 45.11]]] },
///     "properties": { "name": "Sallow Cove", "edges": "rhumb", "take": "none",
///                     "source": { "instrument": "Marrowick Order 3" } } } ] }"#;
/// let loaded = takeline::zone_file::read("marrowick.json", bytes)?;
/// assert_eq!(loaded.zones[0].name, "Sallow Cove");
/// assert!(loaded.warnings.is_empty());
/// # Ok::<(), takeline::zone_file::LoadZonesError>(())
/// ```
pub fn read(path_label: &str, bytes: &[u8]) -> Result<LoadedFile, LoadZonesError> {
    read_along(path_label, bytes, &[])
}

/// As [`read`], with coasts for the sides that say they follow one.
///
/// Of several coasts a side follows the first that comes within 100 m of both its ends. Where none does, the side is
/// [`SideKind::Unresolved`](crate::SideKind::Unresolved), with a warning. A long straight side that is the shore is compared with the
/// coast, and the difference told as a warning.
///
/// # Errors
///
/// As [`read`]. A coast that does not fit is no fault of the file.
///
/// # Examples
///
/// ```
/// use takeline::coast::{Coast, CoastLine};
/// use takeline::{Metres, Position, zone_file};
/// let place = |lat, lon| Position::from_degrees(lat, lon);
/// let isle = vec![place(45.10, -30.14)?, place(45.10, -30.10)?, place(45.13, -30.10)?, place(45.13, -30.14)?];
/// let coast = Coast::from_lines(vec![CoastLine::island(isle)], Metres::non_negative(10.0)?)?;
/// let bytes = br#"{ "type": "FeatureCollection",
///   "takeline": { "format": "takeline.zones/1", "datum": "WGS 84" },
///   "features": [ { "type": "Feature", "id": "west-side",
///     "geometry": { "type": "Polygon", "coordinates": [[[-30.14, 45.129], [-30.16, 45.129], [-30.16, 45.101], [-30.14, 45.101]]] },
///     "properties": { "take": "none", "source": { "instrument": "Marrowick Order 3" },
///       "edges": ["rhumb", "rhumb", "rhumb", { "side": "shore", "along": "coast" }] } } ] }"#;
/// assert_eq!(zone_file::read("west.json", bytes)?.warnings.len(), 1, "no coast");
/// let loaded = zone_file::read_along("west.json", bytes, &[coast])?;
/// assert!(loaded.warnings.is_empty());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn read_along(path_label: &str, bytes: &[u8], coasts: &[Coast]) -> Result<LoadedFile, LoadZonesError> {
    let threads = worthwhile_threads(bytes.len());
    read_sound(path_label, bytes, (threads, coasts))
        .map_or_else(|| read_in_order(path_label, bytes, coasts), Ok)
}

impl ZoneSet {
    /// Reads a zone file from its bytes and indexes its zones.
    ///
    /// `name` is what errors and answers call the file. What is odd about it is kept in [`ZoneSet::warnings`]. For several files
    /// together, [`read`] each and collect them.
    ///
    /// # Errors
    ///
    /// [`LoadZonesError`] lists every fault with its place and a way to mend it. A file with any fault is refused as a whole: a
    /// zone left out would read as open water.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::ZoneSet;
    /// let bytes = std::fs::read("../../demo-data/zones/marrowick.json")?;
    /// let zones = ZoneSet::from_geojson("marrowick.json", &bytes)?;
    /// assert!(zones.warnings().is_empty());
    ///
    /// let refused = ZoneSet::from_geojson("empty.json", b"{}").unwrap_err();
    /// assert!(!refused.faults.is_empty());
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn from_geojson(name: &str, bytes: &[u8]) -> Result<Self, LoadZonesError> {
        read(name, bytes).map(Self::from)
    }
}

impl From<LoadedFile> for ZoneSet {
    /// Indexes the zones of a file, and keeps its warnings.
    fn from(file: LoadedFile) -> Self {
        [file].into_iter().collect()
    }
}

impl FromIterator<LoadedFile> for ZoneSet {
    /// Indexes the zones of several files together, in the order of the files, and keeps their warnings.
    ///
    /// Zones of several files may displace each other in a circle: ask [`ZoneSet::override_circles`].
    fn from_iter<I: IntoIterator<Item = LoadedFile>>(files: I) -> Self {
        let (mut zones, mut warnings) = (Vec::new(), Vec::new());
        for file in files {
            zones.extend(file.zones);
            warnings.extend(file.warnings);
        }
        Self::with_warnings(zones, warnings)
    }
}

/// Reads one feature after the other, and tells every fault.
pub(super) fn read_in_order(
    path_label: &str,
    bytes: &[u8],
    coasts: &[Coast],
) -> Result<LoadedFile, LoadZonesError> {
    let mut log = Log::default();
    let loaded = read_into(&mut log, (path_label, bytes), coasts);
    if loaded.is_none() && log.faults_so_far() == 0 {
        log.fault(FaultKind::NotAZoneFile, "cannot be read", "compare it with a template");
    }
    let refused = |refusal| LoadZonesError::new(path_label, refusal);
    let warnings = log.finish().map_err(refused)?;
    loaded.map(|loaded| LoadedFile { warnings, ..loaded }).ok_or_else(|| refused(Refusal::default()))
}

fn read_into(log: &mut Log, (path_label, bytes): (&str, &[u8]), coasts: &[Coast]) -> Option<LoadedFile> {
    let value = json(log, bytes)?;
    let (members, features) = collection(log, &value, FaultKind::NotAZoneFile)?;
    let size = FileSize::of(features);
    if !size.is_within_limits(log, features.len()) {
        return None;
    }
    let (mut loaded, context) = headed(log, members, (path_label, &sha256(bytes)))?;
    let ids: Vec<Option<String>> = features.iter().map(feature_id).collect();
    let ids_of_all = ids.iter().flatten().cloned().collect();
    let context = FileContext { ids: ids_of_all, coasts: coasts.to_vec(), ..context };
    let mut first_with: HashMap<&str, usize> = HashMap::new();
    for (i, (feature, id)) in features.iter().zip(&ids).enumerate() {
        log.at_feature(i + 1, id.clone());
        if let Some(id) = id {
            refuse_duplicate(log, &mut first_with, (id, i + 1));
        }
        loaded.zones.extend(zone(log, (feature, None), &context));
    }
    log.at_whole_file();
    tell_of_what_is_missing(log);
    let all_read = loaded.zones.len() == features.len();
    if all_read {
        refuse_circles(log, &loaded.zones);
    }
    if features.is_empty() {
        log.fault(FaultKind::NotAZoneFile, "has no zones", "add at least one feature to \"features\"");
    } else if !all_read && log.faults_so_far() == 0 {
        log.fault(FaultKind::NotAZoneFile, "has a feature that cannot be read", "compare it with a template");
    }
    loaded.line_length = size.line_length();
    Some(loaded)
}

/// What stands about the features of a collection, and the features; none if that is wrong.
pub(super) fn frame<'v>(
    log: &mut Log,
    value: &'v Value,
    label_and_hash: (&str, &str),
) -> Option<(LoadedFile, FileContext, &'v [Value])> {
    let (members, features) = collection(log, value, FaultKind::NotAZoneFile)?;
    let (loaded, context) = headed(log, members, label_and_hash)?;
    Some((loaded, context, features))
}

/// A file with all its zones read; none if anything is wrong with them together.
pub(super) fn finished(mut log: Log, loaded: LoadedFile) -> Option<LoadedFile> {
    log.at_whole_file();
    tell_of_what_is_missing(&mut log);
    refuse_circles(&mut log, &loaded.zones);
    let warnings = log.finish().ok()?;
    Some(LoadedFile { warnings, ..loaded })
}

fn headed(
    log: &mut Log,
    members: &Map<String, Value>,
    (path_label, sha256): (&str, &str),
) -> Option<(LoadedFile, FileContext)> {
    reference_system(log, members);
    let header = members.get("takeline").map_or(Slot::Missing, Slot::<WireHeader>::from_value);
    let header = log.needed("takeline", &header, HEADER_MEND)?;
    if members.contains_key("coast") {
        let text = format!("\"coast\" stands beside \"takeline\", where it has no effect; {COAST_MEND}");
        log.warn(WarningKind::NoEffect, text);
    }
    Some(log.within("takeline", |log| {
        let file = ZoneFile { path: path_label.to_owned(), sha256: sha256.to_owned(), ..ZoneFile::default() };
        let (loaded, context) = read_header(log, header, file);
        (loaded, FileContext { head: HeadWords::of(members.get("takeline")), ..context })
    }))
}

/// Of rules that displace each other nobody can say which one binds.
fn refuse_circles(log: &mut Log, zones: &[Zone]) {
    for circle in OverrideGraph::of(zones).circles() {
        let named: Vec<String> = circle.iter().map(|number| shown_text(&zones[*number].id.0)).collect();
        let first = circle.first().copied().unwrap_or_default();
        log.at_feature(first + 1, zones.get(first).map(|zone| zone.id.0.clone()));
        log.within("overrides", |log| {
            let first = named.first().cloned().unwrap_or_default();
            let text = format!("displace one another in a circle: {}, {first}", named.join(", "));
            let mend = "take out one of these overrides, the one that the law does not state";
            log.fault(FaultKind::Contradiction, text, mend);
        });
    }
    log.at_whole_file();
}

fn tell_of_what_is_missing(log: &mut Log) {
    let doubt_m = Datum::Unstated.uncertainty_95().metres();
    let text = format!(
        "no \"datum\" is given, so the boundary may be {doubt_m:.0} m off, and answers near it stay undecided"
    );
    log.tell_together(WarningKind::DatumUnstated, &text);
    let text = "dates, hours or bags for a day are given without a \"time_zone\"; they are read as UTC, which may be hours off";
    log.tell_together(WarningKind::TimeZoneMissing, text);
}

fn read_header(log: &mut Log, wire: &WireHeader, file: ZoneFile) -> (LoadedFile, FileContext) {
    log.unknown_members(wire);
    let format = log.needed_text("format", &wire.format, "write \"format\": \"takeline.zones/1\"");
    if let Some(other) = format.filter(|format| format != FORMAT) {
        let text = format!("this version does not read the format {}", shown_text(&other));
        let mend = "write \"format\": \"takeline.zones/1\", or use a version that reads it";
        log.within("format", |log| log.fault(FaultKind::NotAZoneFile, text, mend));
    }
    let time_zone = time_zone(log, "time_zone", &wire.time_zone);
    let own_time = time_zone.clone().unwrap_or(TimeZone::UTC);
    let datum_name = log.text("datum", &wire.datum);
    let datum = datum_name.and_then(|name| log.within("datum", |log| datum(log, &name)));
    let (catalogue, known) = catalogue(log, wire);
    let file = Arc::new(ZoneFile {
        title: log.text("title", &wire.title),
        edition: log.text("edition", &wire.edition),
        valid_until: log.instant("valid_until", &wire.valid_until, &own_time),
        licence: log.text("licence", &wire.licence),
        issued: log.date("issued", &wire.issued),
        publisher: log.text("publisher", &wire.publisher),
        catalogue,
        ..file
    });
    let loaded = LoadedFile {
        file: Arc::clone(&file),
        issued: file.issued,
        publisher: file.publisher.clone(),
        zones: Vec::new(),
        line_length: Metres::default(),
        coasts: log.texts("coast", &wire.coast),
        warnings: Vec::new(),
    };
    let head = HeadWords::default();
    (loaded, FileContext { file, known, datum, time_zone, head, ids: HashSet::new(), coasts: Vec::new() })
}

/// A zone file that was refused. Nothing of it was loaded.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct LoadZonesError {
    /// The path or label that the caller gave.
    pub path: String,
    /// Every fault that was found, in file order, up to [`Self::FAULT_LIMIT`].
    pub faults: Vec<Fault>,
    /// How many more there were.
    pub more: usize,
}

impl LoadZonesError {
    /// How many faults are kept; the rest is only counted.
    pub const FAULT_LIMIT: usize = FAULT_LIMIT;

    pub(super) fn new(path: &str, Refusal { faults, more }: Refusal) -> Self {
        Self { path: path.to_owned(), faults, more }
    }
}

impl std::error::Error for LoadZonesError {}

impl fmt::Display for LoadZonesError {
    /// Writes one line for each fault: file, place, what is wrong, how to mend it.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write_faults(f, &self.path, (&self.faults, self.more))
    }
}

/// Features that one thread takes at a time, at most.
const MOST_AT_ONCE: usize = 64;
/// Shorter texts are not worth another thread.
const WORTH_A_THREAD: usize = 256 * 1024;

/// What one thread read of features that follow each other.
struct Stretch {
    first: usize,
    log: Log,
    zones: Vec<Zone>,
    sizes: Vec<FileSize>,
}

/// As many threads as serve a text of so many bytes.
pub(super) fn worthwhile_threads(bytes: usize) -> usize {
    let cores = std::thread::available_parallelism().map_or(1, NonZero::get);
    cores.min(1 + bytes / WORTH_A_THREAD)
}

/// Reads a file with so many threads; none if anything in it is not as it should be.
pub(super) fn read_sound(
    path_label: &str,
    bytes: &[u8],
    (threads, coasts): (usize, &[Coast]),
) -> Option<LoadedFile> {
    if !is_small_enough(&mut Log::default(), bytes) {
        return None;
    }
    let (texts, hash) = scope(|scope| {
        let hash = || sha256(bytes);
        let hashing = (threads > 1).then(|| Builder::new().spawn_scoped(scope, hash).ok()).flatten();
        let texts = feature_texts(bytes.strip_prefix(BYTE_ORDER_MARK).unwrap_or(bytes));
        let hash = hashing.and_then(|hashing| hashing.join().ok());
        (texts, hash.unwrap_or_else(|| sha256(bytes)))
    });
    let texts = texts.filter(|texts| !texts.features.is_empty() && texts.features.len() <= MOST_ZONES)?;
    let value = strict_json(&texts.frame).ok()?;
    let mut log = Log::default();
    let (mut loaded, context, features) = frame(&mut log, &value, (path_label, &hash))?;
    if !features.is_empty() || log.faults_so_far() > 0 {
        return None;
    }
    let ids = if names_others(bytes) {
        texts.features.iter().filter_map(|text| id_in(text)).collect()
    } else {
        HashSet::new()
    };
    let context = FileContext { ids, coasts: coasts.to_vec(), ..context };
    let joined = read_all(&texts.features, &context, threads)?;
    log.append(joined.log);
    loaded.zones = joined.zones;
    let mut ids = HashSet::with_capacity(loaded.zones.len());
    if !loaded.zones.iter().all(|zone| ids.insert(zone.id.0.as_str())) {
        return None;
    }
    loaded.line_length = joined.size.line_length();
    finished(log, loaded)
}

/// Whether any zone may name another one: a text without the word has no such member.
fn names_others(bytes: &[u8]) -> bool {
    // a backslash may spell the word
    memmem::find(bytes, b"overrides").is_some() || memchr(b'\\', bytes).is_some()
}

/// All features, in order; none if any of them is wrong.
fn read_all(texts: &[&[u8]], context: &FileContext, threads: usize) -> Option<Joined> {
    let at_once = (texts.len() / (8 * threads)).clamp(1, MOST_AT_ONCE);
    let next = AtomicUsize::new(0);
    let is_wrong = AtomicBool::new(false);
    let all_so_far = Mutex::new(FileSize::default());
    let joined = Mutex::new(Joined { zones: Vec::with_capacity(texts.len()), ..Joined::default() });
    let read = |first: usize, texts: &[&[u8]]| {
        let stretch = Stretch::read((first, texts), context, &all_so_far)?;
        joined.lock().ok()?.take(stretch);
        Some(())
    };
    let work = || {
        while !is_wrong.load(Ordering::Relaxed) {
            let first = next.fetch_add(at_once, Ordering::Relaxed).min(texts.len());
            let texts = &texts[first..texts.len().min(first + at_once)];
            if texts.is_empty() {
                break;
            }
            if read(first, texts).is_none() {
                is_wrong.store(true, Ordering::Relaxed);
            }
        }
    };
    scope(|scope| {
        // a system that gives no more threads gets along with this one
        let others: Vec<_> =
            (1..threads).filter_map(|_| Builder::new().spawn_scoped(scope, work).ok()).collect();
        work();
        if !others.into_iter().all(|other| other.join().is_ok()) {
            is_wrong.store(true, Ordering::Relaxed);
        }
    });
    let joined = joined.into_inner().ok()?;
    (!is_wrong.load(Ordering::Relaxed) && joined.zones.len() == texts.len()).then_some(joined)
}

/// What was read so far, as far as it follows without a gap.
#[derive(Default)]
struct Joined {
    log: Log,
    zones: Vec<Zone>,
    size: FileSize,
    /// Stretches that were read before those ahead of them.
    early: Vec<Stretch>,
}

impl Joined {
    fn take(&mut self, stretch: Stretch) {
        self.early.push(stretch);
        while let Some(at) = self.early.iter().position(|stretch| stretch.first == self.zones.len()) {
            let stretch = self.early.swap_remove(at);
            self.log.append(stretch.log);
            self.zones.extend(stretch.zones);
            self.size = stretch.sizes.into_iter().fold(self.size, FileSize::and);
        }
    }
}

impl Stretch {
    /// Reads features from the one with this number, counted from 0, and counts what all threads have read so far.
    fn read(
        (first, texts): (usize, &[&[u8]]),
        context: &FileContext,
        all_so_far: &Mutex<FileSize>,
    ) -> Option<Self> {
        let mut stretch = Self { first, log: Log::default(), zones: Vec::new(), sizes: Vec::new() };
        let log = &mut stretch.log;
        for (number, text) in (first + 1..).zip(texts) {
            let FeatureText { feature, coordinates } = FeatureText::read(text)?;
            let size = FileSize::of_feature(&feature, coordinates.as_ref());
            stretch.sizes.push(size);
            // told before the boundary fills the memory
            let mut all_so_far = all_so_far.lock().ok()?;
            *all_so_far = all_so_far.and(size);
            if !all_so_far.is_within_limits(log, 0) {
                return None;
            }
            drop(all_so_far);
            log.at_feature(number, feature_id(&feature));
            let apart = coordinates.as_ref().map(|coordinates| Apart { coordinates, text });
            let zone = zone(log, (&feature, apart), context)?;
            if log.faults_so_far() > 0 {
                return None;
            }
            stretch.zones.push(zone);
        }
        Some(stretch)
    }
}
