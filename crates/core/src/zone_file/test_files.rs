//! Zone files that the tests start from.

use serde_json::{Value, json};

use super::{LoadedFile, read};
use crate::rule::When;

/// The smallest file of the format, with a square about Sallow Cove.
pub(super) fn smallest() -> Value {
    json!({ "type": "FeatureCollection",
        "takeline": { "format": "takeline.zones/1", "title": "Marrowick", "edition": "2026", "datum": "WGS 84",
                      "time_zone": "UTC",
                      "taxa": [ { "id": "sprat", "scientific": "Sprattus sprattus", "names": ["sprat", "brisling"],
                                  "fao": "SPR" } ],
                      "groups": [ { "id": "bait-fish", "members": ["sprat"] } ] },
        "features": [
            { "type": "Feature", "id": "sallow-cove", "geometry": square(),
              "properties": { "name": "Sallow Cove", "edges": "geodesic", "line_uncertainty_m": 0, "take": "none",
                              "source": { "instrument": "Marrowick Order 3" } } } ] })
}

pub(super) fn square() -> Value {
    json!({ "type": "Polygon", "coordinates": [[
        [-30.13, 45.11], [-30.11, 45.11], [-30.11, 45.125], [-30.13, 45.125], [-30.13, 45.11] ]] })
}

pub(super) fn loaded(file: &Value) -> LoadedFile {
    read("marrowick.json", file.to_string().as_bytes()).unwrap_or_else(|error| panic!("{error}"))
}

pub(super) fn refused(file: &Value) -> String {
    let error = read("marrowick.json", file.to_string().as_bytes()).expect_err("has a fault");
    error.to_string()
}

/// The smallest file with one member of the properties set.
pub(super) fn with(member: &str, value: Value) -> Value {
    let mut file = smallest();
    file["features"][0]["properties"][member] = value;
    file
}

pub(super) fn with_header(member: &str, value: Value) -> Value {
    let mut file = smallest();
    file["takeline"][member] = value;
    file
}

pub(super) fn with_geometry(geometry: Value) -> Value {
    let mut file = smallest();
    file["features"][0]["geometry"] = geometry;
    file
}

pub(super) fn with_ring(ring: &Value) -> Value {
    with_geometry(json!({ "type": "Polygon", "coordinates": [ring] }))
}

pub(super) fn without(pointer: &str, member: &str) -> Value {
    let mut file = smallest();
    file.pointer_mut(pointer).expect("is there").as_object_mut().expect("is an object").remove(member);
    file
}

pub(super) fn when_of(when: Value) -> When {
    loaded(&with("when", when)).zones.remove(0).when
}
