//! Reads a whole zone file.

use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use jiff::civil::Date;
use jiff::tz::TimeZone;
use serde_json::{Map, Value};

use super::catalogue_reader::catalogue;
use super::limits::FileSize;
use super::side_by_side::{read_sound, worthwhile_threads};
use super::wire::WireHeader;
use super::zone_reader::{FileContext, time_zone, zone};
use super::{FORMAT, FaultKind, FileWarning, LoadZonesError, WarningKind};
use crate::Metres;
use crate::geojson_text::{
    Log, Refusal, Slot, collection, datum, feature_id, json, reference_system, refuse_duplicate, sha256,
    shown_text,
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
    let threads = worthwhile_threads(bytes.len());
    read_sound(path_label, bytes, threads).map_or_else(|| read_in_order(path_label, bytes), Ok)
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
pub(super) fn read_in_order(path_label: &str, bytes: &[u8]) -> Result<LoadedFile, LoadZonesError> {
    let mut log = Log::default();
    let loaded = read_into(&mut log, path_label, bytes);
    if loaded.is_none() && log.faults_so_far() == 0 {
        log.fault(FaultKind::NotAZoneFile, "cannot be read", "compare it with a template");
    }
    let refused = |refusal| LoadZonesError::new(path_label, refusal);
    let warnings = log.finish().map_err(refused)?;
    loaded.map(|loaded| LoadedFile { warnings, ..loaded }).ok_or_else(|| refused(Refusal::default()))
}

fn read_into(log: &mut Log, path_label: &str, bytes: &[u8]) -> Option<LoadedFile> {
    let value = json(log, bytes)?;
    let (members, features) = collection(log, &value, FaultKind::NotAZoneFile)?;
    let size = FileSize::of(features);
    if !size.is_within_limits(log, features.len()) {
        return None;
    }
    let (mut loaded, context) = headed(log, members, (path_label, &sha256(bytes)))?;
    let ids: Vec<Option<String>> = features.iter().map(feature_id).collect();
    let context = FileContext { ids: ids.iter().flatten().cloned().collect(), ..context };
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
        log.fault(FaultKind::NotAZoneFile, "holds no zone", "add at least one feature to \"features\"");
    } else if !all_read && log.faults_so_far() == 0 {
        log.fault(
            FaultKind::NotAZoneFile,
            "holds a feature that cannot be read",
            "compare it with a template",
        );
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
    Some(log.within("takeline", |log| {
        let file = ZoneFile { path: path_label.to_owned(), sha256: sha256.to_owned(), ..ZoneFile::default() };
        read_header(log, header, file)
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
            let text = format!("displace each other in a circle: {}, {first}", named.join(", "));
            let mend = "take one of these overrides out, the one that the law does not say";
            log.fault(FaultKind::Contradiction, text, mend);
        });
    }
    log.at_whole_file();
}

fn tell_of_what_is_missing(log: &mut Log) {
    let doubt_m = Datum::Unstated.uncertainty_95().metres();
    let text = format!(
        "no \"datum\" is given, so the line may lie {doubt_m:.0} m off and answers near it stay undecided"
    );
    log.tell_together(WarningKind::DatumUnstated, &text);
    let text = "dates or hours are given without a \"time_zone\" and are read as UTC";
    log.tell_together(WarningKind::TimeZoneMissing, text);
}

fn read_header(log: &mut Log, wire: &WireHeader, file: ZoneFile) -> (LoadedFile, FileContext) {
    log.unknown_members(wire);
    let format = log.needed_text("format", &wire.format, "write \"format\": \"takeline.zones/1\"");
    if let Some(other) = format.filter(|format| format != FORMAT) {
        let text = format!("the format {} is not read by this version", shown_text(&other));
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
        catalogue,
        ..file
    });
    let loaded = LoadedFile {
        file: Arc::clone(&file),
        issued: log.date("issued", &wire.issued),
        publisher: log.text("publisher", &wire.publisher),
        zones: Vec::new(),
        line_length: Metres::default(),
        warnings: Vec::new(),
    };
    (loaded, FileContext { file, known, datum, time_zone, ids: HashSet::new() })
}
