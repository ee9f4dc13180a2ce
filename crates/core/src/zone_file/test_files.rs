//! Zone files that the tests start from.

use serde_json::{Value, json};

use super::read::{read_in_order, read_sound};
use super::{LoadZonesError, LoadedFile, read};
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
    both_ways(&file.to_string()).unwrap_or_else(|error| panic!("{error}"))
}

pub(super) fn refused(file: &Value) -> String {
    both_ways(&file.to_string()).expect_err("has a fault").to_string()
}

/// Reads a file with all its features side by side and one after the other, which makes no difference.
pub(super) fn both_ways(file: &str) -> Result<LoadedFile, LoadZonesError> {
    let one_after_the_other = read_in_order("marrowick.json", file.as_bytes(), &[]);
    for threads in [1, 3] {
        let side_by_side = read_sound("marrowick.json", file.as_bytes(), (threads, &[]));
        match (&side_by_side, &one_after_the_other) {
            (Some(one), Ok(other)) => assert_eq!(format!("{one:?}"), format!("{other:?}")),
            // what is sound but written as nobody writes it is left to the long way
            (None, _) => {}
            (Some(_), Err(refused)) => panic!("loads side by side, and else is refused: {refused}"),
        }
    }
    read("marrowick.json", file.as_bytes())
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
