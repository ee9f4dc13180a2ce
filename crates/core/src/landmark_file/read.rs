//! Reads a whole landmark file.

use std::collections::HashMap;
use std::fmt;

use serde_json::{Map, Value};

use super::landmark_reader::{Unknown, landmark, landmark_id, odd_places};
use super::{FORMAT, Fault, FaultKind, FileWarning, WarningKind};
use crate::geojson_text::{
    FAULT_LIMIT, Log, MOST_BYTES as MOST, Refusal, Slot, collection, datum, json, reference_system,
    refuse_duplicate, sha256, shown_text, too_large, wire_object, write_faults,
};
use crate::landmark::Landmark;
use crate::zone::Datum;
use crate::{Metres, Position, UncertaintySource};

/// The most bytes of a landmark file that are read: 64 MiB.
pub const MOST_BYTES: usize = MOST;
/// The most landmarks of a file: pairs are looked for among all of them.
pub const MOST_LANDMARKS: usize = 20_000;

/// What holds for a whole landmark file.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct LandmarkFile {
    /// The path or label that the caller gave.
    pub path: String,
    /// SHA-256 of the bytes, in lower-case hexadecimal.
    pub sha256: String,
    /// A title for people.
    pub title: Option<String>,
    /// Which edition this is.
    pub edition: Option<String>,
    /// The datum of its coordinates. What it adds to the doubt is in the position errors already.
    pub datum: Datum,
    /// The licence of the file.
    pub licence: Option<String>,
    /// Who publishes it.
    pub publisher: Option<String>,
}

/// A landmark file that was read.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct LoadedLandmarks {
    /// What holds for the whole file, its hash included.
    pub file: LandmarkFile,
    /// Its landmarks, in file order; at least one.
    pub landmarks: Vec<Landmark>,
    /// What is odd about it.
    pub warnings: Vec<FileWarning>,
}

/// Reads the landmarks of a file from its bytes.
///
/// `path_label` is what errors and answers call the file. A file with any fault is refused as a whole, and the error
/// lists every fault that was found. What the reader cannot know to be wrong, only odd, becomes a warning.
///
/// The doubt of the file's datum is added to every position error, in quadrature. Where the datum is unstated that doubt
/// outweighs what the file says, and every position error is called assumed.
///
/// # Errors
///
/// [`LoadLandmarksError`] names file, feature (counted from 1) and its id, member, the value, and how to mend it.
///
/// # Examples
///
/// ```
/// let bytes = br#"{ "type": "FeatureCollection",
///   "takeline": { "format": "takeline.landmarks/1", "datum": "WGS 84" },
///   "features": [ { "type": "Feature", "id": "chapel",
///     "geometry": { "type": "Point", "coordinates": [-30.1050, 45.1210] },
///     "properties": { "name": "Marrowick Chapel", "height_m": 34, "position_error_m": 3 } } ] }"#;
/// let loaded = takeline::landmark_file::read("marrowick.geojson", bytes)?;
/// let chapel = loaded.find("marrowick chapel")?;
/// assert_eq!(chapel.position_error_95.metres(), 3.0);
/// assert!(loaded.find("chapell").is_err_and(|e| e.to_string().contains("did you mean \"chapel\"")));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn read(path_label: &str, bytes: &[u8]) -> Result<LoadedLandmarks, LoadLandmarksError> {
    let mut log = Log::default();
    let loaded = read_into(&mut log, path_label, bytes);
    if loaded.is_none() && log.faults_so_far() == 0 {
        log.fault(FaultKind::NotALandmarkFile, "cannot be read", FORMAT_MEND);
    }
    let refused = |refusal| LoadLandmarksError::new(path_label, refusal);
    let warnings = log.finish().map_err(refused)?;
    loaded.map(|loaded| LoadedLandmarks { warnings, ..loaded }).ok_or_else(|| refused(Refusal::default()))
}

/// None if it is no landmark file, or any of its features is wrong.
fn read_into(log: &mut Log, path_label: &str, bytes: &[u8]) -> Option<LoadedLandmarks> {
    let value = json(log, bytes)?;
    let (members, features) = collection(log, &value, FaultKind::NotALandmarkFile)?;
    if features.len() > MOST_LANDMARKS {
        let count = features.len();
        too_large(log, format!("holds {count} landmarks; at most {MOST_LANDMARKS} are read from a file"));
        return None;
    }
    let empty = LandmarkFile {
        path: path_label.to_owned(),
        sha256: sha256(bytes),
        title: None,
        edition: None,
        datum: Datum::Unstated,
        licence: None,
        publisher: None,
    };
    let file = file_info(log, members, empty)?;
    if features.is_empty() {
        let mend = "add at least one feature to \"features\"";
        log.fault(FaultKind::NotALandmarkFile, "has no landmarks", mend);
    }
    let landmarks = read_features(log, features, &file.datum);
    tell_of_oddities(log, &file, &landmarks);
    (landmarks.len() == features.len()).then(|| LoadedLandmarks { file, landmarks, warnings: Vec::new() })
}

fn read_features(log: &mut Log, features: &[Value], datum: &Datum) -> Vec<Landmark> {
    let ids: Vec<Option<String>> = features.iter().map(landmark_id).collect();
    let mut first_with: HashMap<&str, usize> = HashMap::new();
    let mut unknown = Unknown::default();
    let mut landmarks = Vec::with_capacity(features.len());
    for (i, (feature, id)) in features.iter().zip(&ids).enumerate() {
        log.at_feature(i + 1, id.clone());
        if let Some(id) = id {
            refuse_duplicate(log, &mut first_with, (id, i + 1));
        }
        landmarks.extend(landmark(log, feature, &mut unknown).map(|found| on_datum(found, datum)));
    }
    log.at_whole_file();
    unknown.tell(log);
    landmarks
}

/// Adds what the datum may put the place off.
fn on_datum(landmark: Landmark, datum: &Datum) -> Landmark {
    let error_m = landmark.position_error_95.metres().hypot(datum.uncertainty_95().metres());
    let position_error_source = match datum {
        Datum::Unstated => UncertaintySource::Assumed,
        Datum::Wgs84 | Datum::NearWgs84(_) => landmark.position_error_source,
    };
    let position_error_95 = Metres::computed(error_m);
    Landmark { position_error_95, position_error_source, ..landmark }
}

fn tell_of_oddities(log: &mut Log, file: &LandmarkFile, landmarks: &[Landmark]) {
    if file.datum == Datum::Unstated {
        let doubt_m = Datum::Unstated.uncertainty_95().metres();
        let text = format!(
            "no \"datum\" is given, so every landmark may stand {doubt_m:.0} m off and no line through them is sharp; \
             if they were measured on WGS 84, write \"takeline\": {{ \"format\": \"takeline.landmarks/1\", \
             \"datum\": \"WGS 84\" }}"
        );
        log.warn(WarningKind::DatumUnstated, text);
    }
    log.tell_together(WarningKind::NameMissing, "no \"name\" is given; the id is used instead");
    let text = format!(
        "no \"position_error_m\" is given; {:.0} m is assumed, or more where the coordinates have too few digits for that",
        Landmark::ASSUMED_POSITION_ERROR_95_M
    );
    log.tell_together(WarningKind::PositionErrorAssumed, &text);
    let text = "a third coordinate is not used; give the height above mean sea level of the part that is seen as \"height_m\"";
    log.tell_together(WarningKind::ThirdCoordinate, text);
    let text = "\"id\" stands in \"properties\" and is read from there; move it out, beside the \"type\" of the feature";
    log.tell_together(WarningKind::IdInProperties, text);
    let places: Vec<(&str, Position)> =
        landmarks.iter().map(|landmark| (landmark.id.0.as_str(), landmark.position)).collect();
    odd_places(log, &places);
}

/// A landmark file that was refused. Nothing of it was loaded.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct LoadLandmarksError {
    /// The path or label that the caller gave.
    pub path: String,
    /// Every fault that was found, in file order, up to [`Self::FAULT_LIMIT`].
    pub faults: Vec<Fault>,
    /// How many more there were.
    pub more: usize,
}

impl LoadLandmarksError {
    /// How many faults are kept; the rest is only counted.
    pub const FAULT_LIMIT: usize = FAULT_LIMIT;

    pub(super) fn new(path: &str, Refusal { faults, more }: Refusal) -> Self {
        Self { path: path.to_owned(), faults, more }
    }
}

impl std::error::Error for LoadLandmarksError {}

impl fmt::Display for LoadLandmarksError {
    /// Writes one line for each fault: file, place, what is wrong, how to mend it.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write_faults(f, &self.path, (&self.faults, self.more))
    }
}

pub(super) const FORMAT_MEND: &str =
    "write \"takeline\": { \"format\": \"takeline.landmarks/1\", \"datum\": \"WGS 84\" }";

/// Fills in what the file says of itself; none if it says that it is of another format.
pub(super) fn file_info(
    log: &mut Log,
    members: &Map<String, Value>,
    file: LandmarkFile,
) -> Option<LandmarkFile> {
    let system = reference_system(log, members);
    let slot = members.get("takeline").map_or(Slot::Missing, Slot::<WireHeader>::from_value);
    let header = log.given("takeline", &slot, FORMAT_MEND).cloned().unwrap_or_default();
    if !slot.is_missing() {
        log.within("takeline", |log| is_ours(log, &header))?;
    }
    let mut said = |name: &str, own: &Slot<String>| {
        let texts = both(log, members, (name, own));
        log_displaced(log, name, &texts);
        texts.0.or(texts.1)
    };
    let title = said("title", &header.title);
    let edition = said("edition", &header.edition);
    let licence = said("licence", &header.licence);
    let publisher = said("publisher", &header.publisher);
    let datum = stated_datum(log, members, &header).or(system).unwrap_or(Datum::Unstated);
    Some(LandmarkFile { title, edition, datum, licence, publisher, ..file })
}

/// Whether the header is one of this format; else nothing more is read, for every feature would be wrong.
fn is_ours(log: &mut Log, header: &WireHeader) -> Option<()> {
    let mend = "write \"format\": \"takeline.landmarks/1\"";
    let other = log.needed_text("format", &header.format, mend).filter(|format| format != FORMAT);
    if let Some(other) = other {
        let text = format!("this version does not read the format {} as landmarks", shown_text(&other));
        let mend = if other.starts_with("takeline.zones/") {
            "this is a zone file; give a landmark file"
        } else {
            mend
        };
        log.within("format", |log| log.fault(FaultKind::NotALandmarkFile, text, mend));
        return None;
    }
    log.unknown_members(header);
    Some(())
}

/// What the header and what the older member beside it says.
fn both(
    log: &mut Log,
    members: &Map<String, Value>,
    (name, own): (&str, &Slot<String>),
) -> (Option<String>, Option<String>) {
    let own = log.within("takeline", |log| log.text(name, own));
    let beside = members.get(name).map_or(Slot::Missing, Slot::<String>::from_value);
    (own, log.text(name, &beside))
}

fn log_displaced(log: &mut Log, name: &str, texts: &(Option<String>, Option<String>)) {
    if let (Some(own), Some(beside)) = texts
        && own != beside
    {
        let text = format!("{} has no effect: \"takeline\" says {}", shown_text(beside), shown_text(own));
        log.within(name, |log| log.warn(WarningKind::NoEffect, text));
    }
}

fn stated_datum(log: &mut Log, members: &Map<String, Value>, header: &WireHeader) -> Option<Datum> {
    let (own, beside) = both(log, members, ("datum", &header.datum));
    let own = own.and_then(|name| log.within("takeline", |log| log.within("datum", |log| datum(log, &name))));
    let beside = beside.and_then(|name| log.within("datum", |log| datum(log, &name)));
    if let (Some(own), Some(beside)) = (&own, &beside)
        && own != beside
    {
        let text = "\"takeline\" names one datum, and the member beside it another";
        log.within("datum", |log| log.fault(FaultKind::Contradiction, text, "keep the right one"));
    }
    own.or(beside)
}

wire_object! {
    /// What holds for the whole file.
    pub(super) WireHeader {
        /// Always "takeline.landmarks/1".
        format: String,
        /// A title for people.
        title: String,
        /// Which edition this is.
        edition: String,
        /// The datum of all coordinates, like "WGS 84".
        datum: String,
        /// The licence of the file.
        licence: String,
        /// Who publishes it.
        publisher: String,
    }
}

wire_object! {
    /// What a landmark says.
    pub(super) WireLandmark {
        /// What people call it.
        name: String,
        /// What it is: beacon, spire, tree.
        kind: String,
        /// Height of the part that is seen above mean sea level, in metres.
        height_m: f64,
        /// How far off its place may be, 95 %, in metres.
        position_error_m: f64,
        /// Whether it stays where it is.
        fixed: bool,
        /// The day somebody last saw it stand there, like "2026-05-01".
        last_confirmed: String,
        /// What else there is to say.
        comment: String,
    }
}
