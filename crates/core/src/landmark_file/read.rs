//! Reads a whole landmark file.

use std::collections::HashMap;

use serde_json::Value;

use super::header_reader::{FORMAT_MEND, file_info};
use super::landmark_reader::{Unknown, landmark, landmark_id};
use super::neighbours::odd_places;
use super::{FaultKind, FileWarning, LoadLandmarksError, WarningKind};
use crate::geojson_text::{
    Log, MOST_BYTES as MOST, Refusal, collection, json, refuse_duplicate, sha256, too_large,
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
        log.fault(FaultKind::NotALandmarkFile, "holds no landmark", mend);
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
    log.tell_together(WarningKind::NameMissing, "no \"name\" is given, and the id is used");
    let text = format!(
        "no \"position_error_m\" is given, and {:.0} m is assumed, or what few digits of the coordinates leave open, if more",
        Landmark::ASSUMED_POSITION_ERROR_95_M
    );
    log.tell_together(WarningKind::PositionErrorAssumed, &text);
    let text = "a third coordinate is not used; \"height_m\" says how high above mean sea level the part is that is seen";
    log.tell_together(WarningKind::ThirdCoordinate, text);
    let text = "\"id\" stands in \"properties\" and is read from there; move it out, beside the \"type\" of the feature";
    log.tell_together(WarningKind::IdInProperties, text);
    let places: Vec<(&str, Position)> =
        landmarks.iter().map(|landmark| (landmark.id.0.as_str(), landmark.position)).collect();
    odd_places(log, &places);
}
