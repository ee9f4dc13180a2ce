//! Whatever the bytes are, the reader answers with zones or with faults.

use proptest::prelude::*;
use serde_json::{Value, json};

use super::read;
use crate::geojson_text::hostile_json::{any_json, pointers};

const TEMPLATES: [&str; 2] = [
    include_str!("../../../../zones/template-season-and-hours.json"),
    include_str!("../../../../zones/template-only-some-species.json"),
];

/// Words that the format knows, so that random files get past the first check.
fn word() -> impl Strategy<Value = String> + Clone {
    let words = [
        "type",
        "features",
        "takeline",
        "format",
        "takeline.zones/1",
        "Feature",
        "FeatureCollection",
        "id",
        "geometry",
        "Polygon",
        "coordinates",
        "Point",
        "properties",
        "take",
        "only",
        "when",
        "any",
        "not",
        "yearly",
        "from",
        "to",
        "05-01",
        "edges",
        "arc",
        "centre",
        "source",
        "instrument",
        "none",
        "datum",
        "WGS 84",
        "limits",
        "bag",
        "bbox",
        "somewhere_in",
        "geometry_unknown",
        "2026-05-01",
        "sunset+30",
    ];
    prop_oneof![prop::sample::select(words.to_vec()).prop_map(str::to_owned), ".{0,12}"]
}

fn answers(bytes: &[u8]) {
    match read("random.json", bytes) {
        Ok(loaded) => assert!(!loaded.zones.is_empty()),
        Err(error) => assert!(!error.faults.is_empty() && !error.to_string().is_empty()),
    }
}

proptest! {
    #[test]
    fn any_bytes_are_answered(bytes in prop::collection::vec(any::<u8>(), 0..200)) {
        answers(&bytes);
    }

    #[test]
    fn any_json_is_answered(document in any_json(word())) {
        answers(document.to_string().as_bytes());
    }

    #[test]
    fn any_features_and_header_are_answered(feature in any_json(word()), header in any_json(word())) {
        let file = json!({ "type": "FeatureCollection", "takeline": header, "features": [feature] });
        answers(file.to_string().as_bytes());
    }

    #[test]
    fn a_template_with_one_member_replaced_is_answered(
        which in 0..TEMPLATES.len(), at in any::<prop::sample::Index>(), other in any_json(word()),
    ) {
        let mut file: Value = serde_json::from_str(TEMPLATES[which]).expect("is JSON");
        let mut places = Vec::new();
        pointers(&file, "", &mut places);
        *file.pointer_mut(at.get::<String>(&places)).expect("is there") = other;
        answers(file.to_string().as_bytes());
    }

    #[test]
    fn a_template_with_bytes_replaced_is_answered(
        which in 0..TEMPLATES.len(), changes in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..6),
    ) {
        let mut bytes = TEMPLATES[which].as_bytes().to_vec();
        let length = bytes.len();
        for (at, byte) in changes {
            bytes[at.index(length)] = byte;
        }
        answers(&bytes);
    }
}

/// A small thread's stack is two megabytes; tests run on such threads.
#[test]
fn the_deepest_file_that_is_read_fits_a_small_stack() {
    let mut when = json!({ "weekdays": ["sunday"] });
    for _ in 0..11 {
        when = json!({ "any": [when] });
    }
    let file = TEMPLATES[0].replace(
        "\"may_change_by_notice\"",
        &format!("\"limits\": [{{ \"conditions\": [\"c\"], \"when\": {when} }}], \"may_change_by_notice\""),
    );
    assert!(read("deep.json", file.as_bytes()).is_ok_and(|loaded| !loaded.zones.is_empty()));
}

/// Thousands of ids that nothing has: the search for similar names must not become quadratic.
#[test]
fn many_unknown_ids_are_answered_in_a_moment() {
    let taxa: Vec<Value> = (0..20_000).map(|i| json!({ "id": format!("taxon-{i}") })).collect();
    let ids: Vec<String> = (0..20_000).map(|i| format!("toxin-{i}")).collect();
    let file = json!({ "type": "FeatureCollection", "takeline": { "format": "takeline.zones/1", "taxa": taxa },
        "features": [{ "type": "Feature", "id": "a", "geometry": null, "properties": { "take": { "all_except": ids } } }] });
    let error = read("many.json", file.to_string().as_bytes()).expect_err("has faults");
    assert_eq!(error.more, 20_000 + 2 - 1000);
}

/// Every zone overrides another one: looking them up must not become quadratic.
#[test]
fn many_zones_with_overrides_are_read_in_a_moment() {
    let mut file: Value = serde_json::from_str(TEMPLATES[1]).expect("is JSON");
    let lane = file["features"][1].clone();
    let copy = |i: usize| {
        let mut zone = lane.clone();
        zone["id"] = json!(format!("lane-{i}"));
        zone
    };
    file["features"].as_array_mut().expect("a list").extend((0..5000).map(copy));
    assert_eq!(read("many.json", file.to_string().as_bytes()).expect("is sound").zones.len(), 5002);
}
