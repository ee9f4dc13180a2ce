//! Whatever the bytes are, the reader answers with a sound coast or with faults.

use proptest::prelude::*;
use serde_json::{Value, json};

use super::{LoadedCoast, MOST_VERTICES, read};
use crate::Position;
use crate::geojson_text::hostile_json::{any_json, pointers};

fn word() -> impl Strategy<Value = String> + Clone {
    let words = [
        "type",
        "features",
        "takeline",
        "format",
        "takeline.coast/1",
        "Feature",
        "FeatureCollection",
        "geometry",
        "Point",
        "LineString",
        "MultiLineString",
        "Polygon",
        "MultiPolygon",
        "GeometryCollection",
        "coordinates",
        "properties",
        "uncertainty_m",
        "date",
        "2026-05-01",
        "datum",
        "WGS 84",
        "title",
        "crs",
        "34",
    ];
    prop_oneof![prop::sample::select(words.to_vec()).prop_map(str::to_owned), ".{0,12}"]
}

fn is_sound(loaded: &LoadedCoast) {
    let coast = &loaded.coast;
    assert!(!coast.lines().is_empty());
    assert!((0.0..=101_000.0).contains(&coast.uncertainty.metres()));
    let there = Position::from_degrees(45.115, -30.12).expect("a place");
    let (away, nearest) = coast.nearest(there).expect("has lines");
    assert!(away.metres().is_finite() && nearest.latitude().degrees().abs() <= 90.0);
    assert_eq!(coast.is_on_land(there), coast.is_on_land(there));
}

fn answers(bytes: &[u8]) {
    match read("random.geojson", bytes) {
        Ok(loaded) => is_sound(&loaded),
        Err(error) => assert!(!error.faults.is_empty() && !error.to_string().is_empty()),
    }
}

fn sample() -> Value {
    json!({ "type": "FeatureCollection", "takeline": { "format": "takeline.coast/1", "uncertainty_m": 8, "date": "2025-06-11" },
        "features": [
            { "type": "Feature", "id": "isle", "properties": {}, "geometry": { "type": "Polygon", "coordinates":
                [[[-30.14, 45.10], [-30.10, 45.10], [-30.10, 45.13], [-30.14, 45.13], [-30.14, 45.10]],
                 [[-30.13, 45.11], [-30.12, 45.11], [-30.12, 45.12], [-30.13, 45.11]]] } },
            { "type": "Feature", "properties": null, "geometry": { "type": "MultiLineString", "coordinates":
                [[[-30.2, 45.1], [-30.3, 45.1], [-30.3, 45.2]]] } } ] })
}

proptest! {
    #[test]
    fn any_bytes_are_answered(bytes in prop::collection::vec(any::<u8>(), 0..200)) {
        answers(&bytes);
    }

    #[test]
    fn any_document_and_header_are_answered(file in any_json(word()), header in any_json(word()), geometry in any_json(word())) {
        answers(file.to_string().as_bytes());
        answers(json!({ "type": "Feature", "takeline": header, "geometry": geometry }).to_string().as_bytes());
    }

    #[test]
    fn any_coordinates_are_answered(
        kind in prop::sample::select(vec!["LineString", "MultiLineString", "Polygon", "MultiPolygon"]),
        coordinates in any_json(word()),
    ) {
        answers(json!({ "type": kind, "coordinates": coordinates }).to_string().as_bytes());
    }

    #[test]
    fn any_ring_is_answered(
        kind in prop::sample::select(vec!["LineString", "Polygon"]),
        ring in prop::collection::vec((-6_i32..=6, -3_i32..=3), 0..12),
        coarse in any::<bool>(),
    ) {
        // few different places, so that vertices and edges fall together; coarse ones at poles, on 180 degrees and half the Earth apart
        let place = |(x, y): &(i32, i32)| if coarse { [30.0 * f64::from(*x), 30.0 * f64::from(*y)] } else { [-30.0 + 0.01 * f64::from(*x), 45.0 + 0.01 * f64::from(*y)] };
        let places: Vec<[f64; 2]> = ring.iter().map(place).collect();
        let coordinates = if kind == "Polygon" { json!([places]) } else { json!(places) };
        answers(json!({ "type": kind, "coordinates": coordinates }).to_string().as_bytes());
    }

    #[test]
    fn the_sample_with_one_member_replaced_is_answered(at in any::<prop::sample::Index>(), other in any_json(word())) {
        let mut file = sample();
        let mut places = Vec::new();
        pointers(&file, "", &mut places);
        *file.pointer_mut(at.get::<String>(&places)).expect("is there") = other;
        answers(file.to_string().as_bytes());
    }

    #[test]
    fn the_sample_cut_short_is_answered(end in any::<prop::sample::Index>()) {
        let text = sample().to_string();
        answers(&text.as_bytes()[..end.index(text.len())]);
    }
}

#[test]
fn nan_nesting_and_emptiness_are_faults_that_say_how_to_mend_them() {
    let deep =
        format!("{{\"type\":\"LineString\",\"coordinates\":{}{}}}", "[".repeat(100_000), "]".repeat(100_000));
    for (text, wanted) in [
        ("", "the file is empty"),
        ("{\"type\":\"LineString\",\"coordinates\":[[NaN,45.1],[-30.1,45.2]]}", "JSON has no NaN"),
        ("{\"type\":\"LineString\",\"coordinates\":[[1e999,45.1],[-30.1,45.2]]}", "line 1 column"),
        (deep.as_str(), "nested more than 40 deep"),
    ] {
        let said = read("bad.geojson", text.as_bytes()).expect_err("has a fault").to_string();
        assert!(said.contains(wanted), "{wanted}\n{said}");
    }
}

#[test]
fn more_vertices_than_are_read_are_refused_with_the_limit() {
    let mut text = String::from("{\"type\":\"LineString\",\"coordinates\":[");
    for at in 0..=MOST_VERTICES {
        text.push_str(if at == 0 { "" } else { "," });
        text.push_str(if at % 2 == 0 { "[0,1]" } else { "[0,2]" });
    }
    text.push_str("]}");
    let said = read("long.geojson", text.as_bytes()).expect_err("is too long").to_string();
    assert!(said.contains("holds 1000001 vertices; at most 1000000"), "{said}");
}

/// Edges round the Earth are cut into many pieces, and these are counted.
#[test]
fn long_edges_without_end_are_refused() {
    let places: Vec<[f64; 2]> =
        (0..1_000).map(|at| [if at % 2 == 0 { -80.0 } else { 80.0 }, 0.001 * f64::from(at)]).collect();
    let text = json!({ "type": "LineString", "coordinates": places }).to_string();
    let said = read("long.geojson", text.as_bytes()).expect_err("is too long").to_string();
    assert!(said.contains("longer than 2000000 km"), "{said}");
}
