//! Whatever the bytes are, the reader answers with sound landmarks or with faults.

use std::collections::HashSet;

use proptest::prelude::*;
use serde_json::{Value, json};

use super::test_files::DEMO;
use super::{LoadedLandmarks, read};
use crate::geojson_text::hostile_json::{any_json, pointers};

/// Words that the format knows, so that random files get past the first check.
fn word() -> impl Strategy<Value = String> + Clone {
    let words = [
        "type",
        "features",
        "takeline",
        "format",
        "takeline.landmarks/1",
        "Feature",
        "FeatureCollection",
        "id",
        "geometry",
        "Point",
        "coordinates",
        "properties",
        "name",
        "kind",
        "height_m",
        "position_error_m",
        "fixed",
        "last_confirmed",
        "2026-05-01",
        "comment",
        "datum",
        "WGS 84",
        "title",
        "crs",
        "34",
    ];
    prop_oneof![prop::sample::select(words.to_vec()).prop_map(str::to_owned), ".{0,12}"]
}

fn is_sound(loaded: &LoadedLandmarks) {
    assert!(!loaded.landmarks.is_empty());
    let ids: HashSet<&str> = loaded.landmarks.iter().map(|landmark| landmark.id.0.as_str()).collect();
    assert_eq!(ids.len(), loaded.landmarks.len(), "ids are unique");
    for landmark in &loaded.landmarks {
        let error_m = landmark.position_error_95.metres();
        assert!((0.0..=100_001.0).contains(&error_m), "{landmark:?}");
        assert!(
            landmark.height.is_none_or(|height| (-10.0..=2000.0).contains(&height.metres())),
            "{landmark:?}"
        );
        assert!(landmark.position.latitude().degrees().abs() <= 90.0, "{landmark:?}");
        assert!(landmark.position.longitude().degrees().abs() <= 180.0, "{landmark:?}");
        assert!(!landmark.name.trim().is_empty() && !landmark.id.0.trim().is_empty(), "{landmark:?}");
        assert!(loaded.find(&landmark.id.0).is_ok_and(|found| found == landmark), "{landmark:?}");
    }
}

fn answers(bytes: &[u8]) {
    match read("random.geojson", bytes) {
        Ok(loaded) => is_sound(&loaded),
        Err(error) => assert!(!error.faults.is_empty() && !error.to_string().is_empty()),
    }
}

proptest! {
    #[test]
    fn any_bytes_are_answered(bytes in prop::collection::vec(any::<u8>(), 0..200)) {
        answers(&bytes);
    }

    #[test]
    fn any_features_and_header_are_answered(feature in any_json(word()), header in any_json(word())) {
        let file = json!({ "type": "FeatureCollection", "takeline": header, "features": [feature] });
        answers(file.to_string().as_bytes());
    }

    #[test]
    fn any_properties_and_geometry_are_answered(properties in any_json(word()), geometry in any_json(word())) {
        let feature = json!({ "type": "Feature", "id": 1, "geometry": geometry, "properties": properties });
        let file = json!({ "type": "FeatureCollection", "features": [feature] });
        answers(file.to_string().as_bytes());
    }

    #[test]
    fn the_demo_with_one_member_replaced_is_answered(at in any::<prop::sample::Index>(), other in any_json(word())) {
        let mut file: Value = serde_json::from_str(DEMO).expect("is JSON");
        let mut places = Vec::new();
        pointers(&file, "", &mut places);
        *file.pointer_mut(at.get::<String>(&places)).expect("is there") = other;
        answers(file.to_string().as_bytes());
    }

    #[test]
    fn the_demo_with_bytes_replaced_is_answered(
        changes in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..6),
    ) {
        let mut bytes = DEMO.as_bytes().to_vec();
        let length = bytes.len();
        for (at, byte) in changes {
            bytes[at.index(length)] = byte;
        }
        answers(&bytes);
    }

    #[test]
    fn the_demo_with_bytes_taken_out_is_answered(from in any::<prop::sample::Index>(), count in 1_usize..200) {
        let mut bytes = DEMO.as_bytes().to_vec();
        let from = from.index(bytes.len());
        bytes.drain(from..(from + count).min(bytes.len()));
        answers(&bytes);
    }
}

/// Thousands of landmarks in one place: looking for neighbours must not become quadratic.
#[test]
fn many_landmarks_in_one_place_are_read_in_a_moment() {
    let feature = |i: usize| {
        json!({ "type": "Feature", "id": i, "geometry": { "type": "Point", "coordinates": [-30.1, 45.1] },
                "properties": { format!("member-{i}"): 1 } })
    };
    let file =
        json!({ "type": "FeatureCollection", "features": (0..20_000).map(feature).collect::<Vec<_>>() });
    let loaded = read("many.geojson", file.to_string().as_bytes()).expect("is sound");
    assert_eq!((loaded.landmarks.len(), loaded.warnings.len()), (20_000, 5));
}

#[test]
fn more_landmarks_than_are_read_are_refused_with_the_limit() {
    let features = vec![json!({}); super::MOST_LANDMARKS + 1];
    let file = json!({ "type": "FeatureCollection", "features": features });
    let refused = read("many.geojson", file.to_string().as_bytes()).unwrap_err();
    assert_eq!(refused.faults[0].kind.code(), "too-large");
    assert!(refused.to_string().contains("holds 20001 landmarks; at most 20000"), "{refused}");
}
