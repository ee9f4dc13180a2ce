//! Landmark files that the tests start from.

use serde_json::{Value, json};

use super::{LoadedLandmarks, read};
use crate::Metres;

pub(super) const DEMO: &str = include_str!("../../../../demo-data/landmarks.geojson");

/// Two landmarks of Marrowick, with everything that the format knows said of the first.
pub(super) fn small() -> Value {
    json!({ "type": "FeatureCollection",
        "takeline": { "format": "takeline.landmarks/1", "title": "Marrowick", "edition": "2026", "datum": "WGS 84",
                      "licence": "CC0-1.0", "publisher": "Harbour Board" },
        "features": [
            { "type": "Feature", "id": "chapel", "geometry": point(-30.1050, 45.1210),
              "properties": { "name": "Marrowick Chapel", "kind": "spire", "height_m": 34, "position_error_m": 3,
                              "fixed": true, "last_confirmed": "2025-09-02", "comment": "white" } },
            { "type": "Feature", "id": "mast", "geometry": point(-30.1130, 45.1065),
              "properties": { "name": "Gull Hill Mast", "position_error_m": 3 } } ] })
}

pub(super) fn point(longitude_deg: f64, latitude_deg: f64) -> Value {
    json!({ "type": "Point", "coordinates": [longitude_deg, latitude_deg] })
}

pub(super) fn loaded(file: &Value) -> LoadedLandmarks {
    read("marks.geojson", file.to_string().as_bytes()).unwrap_or_else(|error| panic!("{error}"))
}

pub(super) fn refused(file: &Value) -> String {
    read("marks.geojson", file.to_string().as_bytes()).expect_err("has a fault").to_string()
}

/// The small file with the value at one place set; a last step that is not there is added.
pub(super) fn with(pointer: &str, value: Value) -> Value {
    let mut file = small();
    if let Some(place) = file.pointer_mut(pointer) {
        *place = value;
        return file;
    }
    let (above, member) = pointer.rsplit_once('/').expect("a pointer");
    file.pointer_mut(above).expect("is there")[member] = value;
    file
}

/// The small file with one member of the first landmark's properties set.
pub(super) fn with_property(member: &str, value: Value) -> Value {
    with(&format!("/features/0/properties/{member}"), value)
}

pub(super) fn without(pointer: &str) -> Value {
    let mut file = small();
    let (above, member) = pointer.rsplit_once('/').expect("a pointer");
    file.pointer_mut(above).expect("is there").as_object_mut().expect("an object").remove(member);
    file
}

pub(super) fn warnings(file: &Value) -> Vec<String> {
    loaded(file).warnings.iter().map(ToString::to_string).collect()
}

pub(super) fn metres(metres: f64) -> Metres {
    Metres::new(metres).expect("is finite")
}
