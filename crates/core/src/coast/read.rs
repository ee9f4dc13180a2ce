//! Reads a whole coast file.

use std::fmt;

use serde_json::{Map, Value};

use super::geometry_reader::{Listed, geometry};
use super::{Coast, CoastLine, FORMAT, Fault, FaultKind, FileWarning, InvalidCoast, WarningKind};
use crate::geojson_text::{
    FAULT_LIMIT, Log, MOST_BYTES as MOST, Refusal, Slot, datum, feature_id, json, reference_system, sha256,
    shown, shown_text, too_large, wire_object, write_faults,
};
use crate::{Metres, UncertaintySource};

/// The most bytes of a coast file that are read: 64 MiB.
pub const MOST_BYTES: usize = MOST;
/// The most vertices of a coast file.
pub const MOST_VERTICES: usize = 1_000_000;
/// Larger uncertainties are surely slips of the pen.
const MOST_UNCERTAINTY_M: f64 = 100_000.0;

const HEADER_MEND: &str =
    "write \"takeline\": { \"format\": \"takeline.coast/1\", \"uncertainty_m\": 20 }, or leave it out";
const FORMAT_MEND: &str = "write \"format\": \"takeline.coast/1\"";
const KIND_MEND: &str = "give a FeatureCollection, a Feature, or a geometry of lines or polygons";
const UNCERTAINTY_MEND: &str =
    "write metres as a number from 0 to 100000: how far off the line may lie, 95 %";

/// A coast file that was read.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct LoadedCoast {
    /// The coast.
    pub coast: Coast,
    /// What is odd about the file.
    pub warnings: Vec<FileWarning>,
}

/// Reads a coast from the bytes of a file: any GeoJSON of lines and polygons.
///
/// `path_label` is what errors and answers call the file. Closed lines and polygons have land inside, holes of polygons water; open
/// lines have land on no known side. Everything else is passed over, with a warning. A file with any fault is refused as a whole.
///
/// # Errors
///
/// [`LoadCoastError`] names file, feature (counted from 1), member, the value, and how to mend it.
///
/// # Examples
///
/// ```
/// let bytes = br#"{ "type": "Feature", "properties": {},
///   "takeline": { "format": "takeline.coast/1", "title": "Marrowick", "date": "2025-06-11", "uncertainty_m": 8 },
///   "geometry": { "type": "LineString", "coordinates": [[-30.12, 45.10], [-30.10, 45.11], [-30.11, 45.13], [-30.12, 45.10]] } }"#;
/// let loaded = takeline::coast::read("marrowick-coast.geojson", bytes)?;
/// assert_eq!(loaded.coast.uncertainty.metres(), 8.0);
/// assert_eq!(loaded.coast.lines().len(), 1);
/// assert!(loaded.warnings.is_empty());
/// # Ok::<(), takeline::coast::LoadCoastError>(())
/// ```
pub fn read(path_label: &str, bytes: &[u8]) -> Result<LoadedCoast, LoadCoastError> {
    let mut log = Log::default();
    let coast = read_into(&mut log, path_label, bytes);
    if coast.is_none() && log.faults_so_far() == 0 {
        log.fault(FaultKind::NotACoast, "cannot be read", KIND_MEND);
    }
    let refused = |refusal| LoadCoastError::new(path_label, refusal);
    let warnings = log.finish().map_err(refused)?;
    coast.map(|coast| LoadedCoast { coast, warnings }).ok_or_else(|| refused(Refusal::default()))
}

fn read_into(log: &mut Log, path_label: &str, bytes: &[u8]) -> Option<Coast> {
    let value = json(log, bytes)?;
    let Some(members) = value.as_object() else {
        log.fault(FaultKind::NotACoast, format!("{} is no GeoJSON", shown(&value)), KIND_MEND);
        return None;
    };
    let said = header(log, members)?;
    let listed = listed(log, members)?;
    if log.faults_so_far() > 0 {
        return None;
    }
    if listed.is_empty() {
        log.fault(FaultKind::NotACoast, "has no lines and no polygons", "give at least one");
        return None;
    }
    let vertices: usize = listed.iter().map(|line| line.positions.len()).sum();
    if vertices > MOST_VERTICES {
        too_large(log, format!("holds {vertices} vertices; at most {MOST_VERTICES} are read from a coast"));
        return None;
    }
    let coast = drawn(log, listed, said.uncertainty)?;
    let (path, sha256) = (path_label.to_owned(), sha256(bytes));
    let Said { title, date, source, licence, uncertainty_source, .. } = said;
    Some(Coast { title, date, source, licence, path, sha256, uncertainty_source, ..coast })
}

/// The lines of all geometries.
fn listed(log: &mut Log, members: &Map<String, Value>) -> Option<Vec<Listed>> {
    let mut found = Vec::new();
    match members.get("type").and_then(Value::as_str) {
        Some("FeatureCollection") => {
            let Some(features) = members.get("features").and_then(Value::as_array) else {
                log.fault(FaultKind::NotACoast, "has no \"features\" list", "write \"features\": [ … ]");
                return None;
            };
            for (number, value) in (1..).zip(features) {
                log.at_feature(number, feature_id(value));
                match value
                    .as_object()
                    .filter(|members| members.get("type").and_then(Value::as_str) == Some("Feature"))
                {
                    Some(members) => feature(log, members, &mut found),
                    None => {
                        log.fault(FaultKind::NotACoast, format!("{} is no feature", shown(value)), KIND_MEND)
                    }
                }
            }
            log.at_whole_file();
        }
        Some("Feature") => feature(log, members, &mut found),
        Some(_) => geometry(log, members, &mut found),
        None => {
            log.fault(FaultKind::NotACoast, "has no \"type\", so it is no GeoJSON", KIND_MEND);
            return None;
        }
    }
    log.tell_together(WarningKind::PassedOver, "neither lines nor polygons, so passed over");
    Some(found)
}

fn feature(log: &mut Log, members: &Map<String, Value>, found: &mut Vec<Listed>) {
    match members.get("geometry") {
        Some(Value::Object(members)) => log.within("geometry", |log| geometry(log, members, found)),
        None | Some(Value::Null) => log.warn_together(WarningKind::PassedOver),
        Some(other) => log.within("geometry", |log| {
            log.fault(FaultKind::Geometry, format!("{} is no geometry", shown(other)), KIND_MEND);
        }),
    }
}

/// The coast of these lines, what is odd about them told.
fn drawn(log: &mut Log, listed: Vec<Listed>, uncertainty: Metres) -> Option<Coast> {
    let mut lines = Vec::with_capacity(listed.len());
    let mut places = Vec::with_capacity(listed.len());
    for Listed { positions, kind, place } in listed {
        lines.push(CoastLine { positions, kind });
        places.push(place);
    }
    match Coast::from_lines(lines, uncertainty) {
        Ok(coast) => {
            for oddity in coast.oddities() {
                places[oddity.line].at(log, |log| log.warn(WarningKind::LandUndecided, oddity.text.clone()));
            }
            Some(coast)
        }
        Err(InvalidCoast::Line { line, vertex, fault }) => {
            let text = vertex.map_or(fault.to_string(), |vertex| format!("vertex {}: {fault}", vertex + 1));
            places[line]
                .at(log, |log| log.fault(FaultKind::Geometry, text, "mend the line, or leave it out"));
            None
        }
        Err(InvalidCoast::Empty) => None,
    }
}

/// What the file says of itself.
struct Said {
    title: Option<String>,
    date: Option<jiff::civil::Date>,
    source: Option<String>,
    licence: Option<String>,
    uncertainty: Metres,
    uncertainty_source: UncertaintySource,
}

/// None if it says that it is of another format.
fn header(log: &mut Log, members: &Map<String, Value>) -> Option<Said> {
    let system = reference_system(log, members);
    let slot = members.get("takeline").map_or(Slot::Missing, Slot::<WireHeader>::from_value);
    let is_given = !slot.is_missing();
    let header = log.given("takeline", &slot, HEADER_MEND).cloned().unwrap_or_default();
    log.within("takeline", |log| {
        if is_given {
            is_ours(log, &header)?;
        }
        let named = log.text("datum", &header.datum);
        let named = named.and_then(|name| log.within("datum", |log| datum(log, &name)));
        // RFC 7946, section 4: coordinates are on WGS 84, unless somebody says otherwise
        let datum_m = named.or(system).map_or(0.0, |datum| datum.uncertainty_95().metres());
        let given_m = uncertainty_m(log, &header);
        let uncertainty_m = given_m.unwrap_or(Coast::ASSUMED_UNCERTAINTY_95_M);
        if given_m.is_none() {
            let text = format!(
                "no \"uncertainty_m\" is given; {uncertainty_m:.0} m is assumed, so nearer to the coast than that land and sea are undecided"
            );
            log.warn(WarningKind::UncertaintyAssumed, text);
        }
        let (given, assumed) = (UncertaintySource::Given, UncertaintySource::Assumed);
        Some(Said {
            title: log.text("title", &header.title),
            date: log.date("date", &header.date),
            source: log.text("source", &header.source),
            licence: log.text("licence", &header.licence),
            uncertainty: Metres::computed(uncertainty_m.hypot(datum_m)),
            uncertainty_source: if given_m.is_some() { given } else { assumed },
        })
    })
}

fn uncertainty_m(log: &mut Log, header: &WireHeader) -> Option<f64> {
    let given_m = log.number("uncertainty_m", &header.uncertainty_m, (0.0, UNCERTAINTY_MEND))?;
    if given_m <= MOST_UNCERTAINTY_M {
        return Some(given_m);
    }
    log.within("uncertainty_m", |log| {
        log.fault(FaultKind::WrongValue, format!("{given_m} is too large"), UNCERTAINTY_MEND);
    });
    None
}

fn is_ours(log: &mut Log, header: &WireHeader) -> Option<()> {
    let other = log.needed_text("format", &header.format, FORMAT_MEND).filter(|format| format != FORMAT);
    if let Some(other) = other {
        let text = format!("this version does not read the format {} as a coast", shown_text(&other));
        log.within("format", |log| {
            log.fault(FaultKind::NotACoast, text, "give a coast, or leave \"takeline\" out")
        });
        return None;
    }
    log.unknown_members(header);
    Some(())
}

/// A coast file that was refused. Nothing of it was loaded.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct LoadCoastError {
    /// The path or label that the caller gave.
    pub path: String,
    /// Every fault that was found, in file order, up to [`Self::FAULT_LIMIT`].
    pub faults: Vec<Fault>,
    /// How many more there were.
    pub more: usize,
}

impl LoadCoastError {
    /// How many faults are kept; the rest is only counted.
    pub const FAULT_LIMIT: usize = FAULT_LIMIT;

    fn new(path: &str, Refusal { faults, more }: Refusal) -> Self {
        Self { path: path.to_owned(), faults, more }
    }
}

impl std::error::Error for LoadCoastError {}

impl fmt::Display for LoadCoastError {
    /// Writes one line for each fault: file, place, what is wrong, how to mend it.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write_faults(f, &self.path, (&self.faults, self.more))
    }
}

wire_object! {
    /// What holds for the whole file.
    pub(super) WireHeader {
        /// Always "takeline.coast/1".
        format: String,
        /// A title for people.
        title: String,
        /// The day of the survey, like "2025-06-11".
        date: String,
        /// Who surveyed it, or where it is from.
        source: String,
        /// The licence of the data.
        licence: String,
        /// How far off the line may lie, 95 %, in metres.
        uncertainty_m: f64,
        /// The datum of all coordinates, like "WGS 84".
        datum: String,
    }
}
