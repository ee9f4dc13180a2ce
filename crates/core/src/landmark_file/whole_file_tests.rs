use approx::assert_abs_diff_eq;
use jiff::civil::date;
use serde_json::{Value, json};

use super::test_files::*;
use super::*;
use crate::UncertaintySource;
use crate::geojson_text::WireObject;
use crate::landmark::Landmark;
use crate::zone::Datum;

/// What transits are reckoned from in the demo; the table stands in its file.
#[test]
fn the_demo_loads_without_a_warning_as_it_is_written() {
    let demo = read("landmarks.geojson", DEMO.as_bytes()).unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(demo.warnings, []);
    assert_eq!(demo.file.title.as_deref(), Some("Landmarks of Marrowick (invented)"));
    assert_eq!((demo.file.edition.as_deref(), demo.file.licence.as_deref()), (Some("2026"), Some("CC0-1.0")));
    assert_eq!((demo.file.path.as_str(), demo.file.sha256.len()), ("landmarks.geojson", 64));
    let rows = [
        ("day-beacon", 45.1252, -30.1310, 9.0, 2.0, true, date(2026, 3, 14)),
        ("chapel", 45.1210, -30.1050, 34.0, 3.0, true, date(2025, 9, 2)),
        ("lone-pine", 45.1255, -30.1120, 41.0, 8.0, false, date(2024, 6, 21)),
        ("mast", 45.1065, -30.1130, 88.0, 3.0, true, date(2026, 1, 30)),
        ("perch", 45.1068, -30.1340, 4.0, 15.0, false, date(2026, 4, 5)),
        ("holm-barn", 45.1027, -30.15045, 11.0, 2.0, true, date(2026, 4, 18)),
        ("holm-cairn", 45.0925, -30.15045, 58.0, 3.0, true, date(2026, 4, 18)),
        ("shag-rock", 45.1300, -30.15035, 6.0, 2.0, true, date(2026, 4, 19)),
        ("calf-hut", 45.1440, -30.15035, 24.0, 3.0, true, date(2024, 8, 30)),
    ];
    assert_eq!(demo.landmarks.len(), rows.len());
    for (landmark, (id, latitude_deg, longitude_deg, height_m, error_m, fixed, day)) in
        demo.landmarks.iter().zip(rows)
    {
        assert_eq!(landmark.id.0, id);
        let at = (landmark.position.latitude().degrees(), landmark.position.longitude().degrees());
        assert_eq!(at, (latitude_deg, longitude_deg), "{id}");
        assert_eq!(landmark.height.map(crate::Metres::metres), Some(height_m), "{id}");
        assert_eq!(landmark.position_error_95, metres(error_m), "{id}");
        assert_eq!(landmark.position_error_source, UncertaintySource::Given, "{id}");
        assert_eq!((landmark.fixed, landmark.last_confirmed), (Some(fixed), Some(day)), "{id}");
    }
    assert_eq!(demo.landmarks[2].name, "Lone Pine");
    assert_eq!(demo.landmarks[2].comment.as_deref(), Some("A tree can fall."));
}

/// The form that landmark files had before they had a header.
#[test]
fn the_older_members_beside_the_features_are_read() {
    let mut file = without("/takeline");
    file["title"] = json!("Marks");
    file["licence"] = json!("CC0-1.0");
    file["datum"] = json!("WGS 84");
    file["comment"] = json!("by hand");
    let found = loaded(&file);
    assert_eq!(found.warnings, []);
    assert_eq!(found.file.title.as_deref(), Some("Marks"));
    assert_eq!((found.file.licence.as_deref(), found.file.datum), (Some("CC0-1.0"), Datum::Wgs84));
}

#[test]
fn the_header_goes_before_the_older_members_and_says_so() {
    let file = with("/title", json!("Other"));
    assert_eq!(loaded(&file).file.title.as_deref(), Some("Marrowick"));
    assert_eq!(warnings(&file), ["title: \"Other\" has no effect: \"takeline\" says \"Marrowick\""]);
    assert_eq!(warnings(&with("/title", json!("Marrowick"))), Vec::<String>::new());
}

/// RFC 7946, appendix A.1, gives a point as `[100.0, 0.0]` and section 3.1.1 puts the longitude first.
#[test]
fn longitude_comes_first_as_in_rfc_7946() {
    let file = with("/features/0/geometry", json!({ "type": "Point", "coordinates": [100.0, 0.0] }));
    let position = loaded(&file).landmarks[0].position;
    assert_eq!((position.latitude().degrees(), position.longitude().degrees()), (0.0, 100.0));
}

/// Quadrature by right triangles of whole numbers: 150, 200, 250 and 1.5, 2, 2.5.
#[test]
fn the_doubt_of_the_datum_is_added_in_quadrature() {
    let mut file = without("/takeline/datum");
    file["features"][0]["properties"]["position_error_m"] = json!(150);
    let found = loaded(&file);
    assert_eq!(found.landmarks[0].position_error_95, metres(250.0));
    assert_eq!(found.landmarks[0].position_error_source, UncertaintySource::Assumed);
    assert_eq!(found.file.datum, Datum::Unstated);
    let texts = warnings(&file);
    assert_eq!(texts.len(), 1);
    assert!(
        texts[0].starts_with("no \"datum\" is given, so every landmark may stand 200 m off"),
        "{texts:?}"
    );

    let mut file = with("/takeline/datum", json!("ETRS89"));
    file["features"][0]["properties"]["position_error_m"] = json!(1.5);
    let found = loaded(&file);
    assert_eq!(found.landmarks[0].position_error_95, metres(2.5));
    assert_eq!(found.landmarks[0].position_error_source, UncertaintySource::Given);
    assert_eq!(found.warnings, []);
}

#[test]
fn what_is_not_said_is_unknown_and_only_the_error_is_assumed() {
    let mut file = with("/features/1/properties", Value::Null);
    let found = loaded(&file);
    let mast = &found.landmarks[1];
    assert_eq!((mast.height, mast.fixed, mast.last_confirmed, mast.kind.clone()), (None, None, None, None));
    assert_eq!(mast.name, "mast");
    assert_eq!(mast.position_error_95, metres(Landmark::ASSUMED_POSITION_ERROR_95_M));
    assert_eq!(mast.position_error_source, UncertaintySource::Assumed);
    assert_eq!(
        warnings(&file),
        [
            "no \"name\" is given; the id is used instead: feature 2 \"mast\"",
            "no \"position_error_m\" is given; 10 m is assumed, or more where the coordinates have too few digits for that: \
             feature 2 \"mast\"",
        ]
    );
    file["features"][1]["id"] = json!(7);
    assert_eq!(loaded(&file).landmarks[1].id.0, "7");
}

/// A GIS drops the header, names a layer and a reference system, and moves ids among the properties.
#[test]
fn a_file_that_went_through_a_gis_still_loads() {
    let mut file = without("/takeline");
    file["name"] = json!("layer");
    file["crs"] = json!({ "type": "name", "properties": { "name": "urn:ogc:def:crs:OGC:1.3:CRS84" } });
    for feature in file["features"].as_array_mut().expect("a list") {
        let id = feature.as_object_mut().and_then(|members| members.remove("id")).expect("an id");
        feature["properties"]["id"] = id;
        feature["properties"]["fid"] = json!(1);
        feature["properties"]["NAME"] = json!("x");
        feature["geometry"]["coordinates"].as_array_mut().expect("a list").push(json!(34.0));
    }
    let found = loaded(&file);
    assert_eq!((found.file.datum.clone(), found.landmarks[0].id.0.as_str()), (Datum::Wgs84, "chapel"));
    assert_eq!(found.landmarks[0].position_error_95, metres(3.0));
    let texts = warnings(&file);
    assert_eq!(texts.len(), 3, "{texts:?}");
    assert_eq!(
        texts[0],
        "these members of \"properties\" have no meaning here, and no effect: \"NAME\" (2 features; did you mean \
         \"name\"?), \"fid\" (2 features)"
    );
    assert!(texts[1].starts_with("a third coordinate is not used; give the height"), "{texts:?}");
    assert!(
        texts[2].contains("move it out, beside the \"type\" of the feature: feature 1 \"chapel\""),
        "{texts:?}"
    );
}

#[test]
fn remarks_bring_no_warning() {
    let mut file = with_property("x-surveyor", json!(3));
    file["features"][0]["properties"]["note"] = json!(["a"]);
    file["features"][0]["bbox"] = json!([0, 0, 1, 1]);
    assert_eq!(warnings(&file), Vec::<String>::new());
}

/// 4e-6° of latitude are 0.44 m (a meridian degree is 111.1 km at 45°), 5e-6° are 0.56 m.
#[test]
fn two_landmarks_in_one_place_are_told() {
    let file = with("/features/1/geometry", point(-30.1050, 45.121_004));
    let text = "less than 0.5 m apart, so perhaps the same landmark: \"chapel\" and \"mast\"";
    assert_eq!(warnings(&file), [text]);
    let file = with("/features/1/geometry", point(-30.1050, 45.121_005));
    assert_eq!(warnings(&file), Vec::<String>::new());
}

/// A swap within ±90 is no fault by itself: only beside the others is it seen.
#[test]
fn a_landmark_on_another_coast_by_a_slip_is_told() {
    let cases = [
        ((45.1210, -30.1050), "latitude and longitude may be swapped"),
        ((30.1050, 45.1210), "the longitude may lack its minus"),
        ((-30.1050, -45.1210), "the latitude may lack its minus"),
    ];
    for ((longitude_deg, latitude_deg), slip) in cases {
        let mut demo: Value = serde_json::from_str(DEMO).expect("is JSON");
        demo["features"][1]["geometry"] = point(longitude_deg, latitude_deg);
        let texts = warnings(&demo);
        assert_eq!(texts.len(), 1, "{texts:?}");
        assert!(
            texts[0].starts_with("far from all other landmarks, perhaps by a slip of the pen: \"chapel\" ("),
            "{texts:?}"
        );
        assert!(texts[0].contains(slip), "{texts:?}");
    }
    // far, but no slip brings it near
    let mut demo: Value = serde_json::from_str(DEMO).expect("is JSON");
    demo["features"][1]["geometry"] = point(-20.0, 50.0);
    assert_eq!(warnings(&demo), Vec::<String>::new());
}

#[test]
fn one_changed_digit_changes_the_hash() {
    let (a, b) = (loaded(&small()), loaded(&with_property("height_m", json!(35))));
    assert_ne!(a.file.sha256, b.file.sha256);
}

/// What readers of the page copy has to load, and the page has to name every member and code.
#[test]
fn the_page_about_the_format_keeps_its_word() {
    let page = include_str!("../../../../docs/landmark-format.md");
    let template: Vec<&str> = page.lines().filter_map(|line| line.strip_prefix("    ")).collect();
    let found = read("template", template.join("\n").as_bytes()).unwrap_or_else(|error| panic!("{error}"));
    assert_eq!((found.landmarks.len(), found.warnings), (2, Vec::new()));
    for key in read::WireHeader::KEYS.iter().chain(read::WireLandmark::KEYS) {
        assert!(page.contains(&format!("`{key}`")), "{key}");
    }
    let codes = [
        WarningKind::UnknownMember,
        WarningKind::NameMissing,
        WarningKind::PositionErrorAssumed,
        WarningKind::ThirdCoordinate,
        WarningKind::IdInProperties,
        WarningKind::SamePlace,
        WarningKind::FarFromOthers,
        WarningKind::DatumUnstated,
        WarningKind::NoEffect,
    ];
    let mut codes: Vec<&str> = codes.map(WarningKind::code).to_vec();
    codes.push(FaultKind::NotALandmarkFile.code());
    assert!(codes.iter().all(|code| page.contains(&format!("`{code}`"))), "{codes:?}");
}

#[test]
fn few_digits_of_a_place_are_part_of_an_error_that_is_assumed() {
    let error_m = |longitude_deg: f64, latitude_deg: f64, stated: Option<f64>| {
        let mut file = with("/features/1/properties", json!({ "position_error_m": stated }));
        if stated.is_none() {
            file["features"][1]["properties"] = json!({});
        }
        file["features"][1]["geometry"]["coordinates"] = json!([longitude_deg, latitude_deg]);
        loaded(&file).landmarks[1].position_error_95.metres()
    };
    let assumed_m = Landmark::ASSUMED_POSITION_ERROR_95_M;
    // half of 0.001 degrees at 45 degrees: 55.6 m north and 39.4 m east (WGS 84), and 10 m beside them
    let coarse_m = error_m(-30.113, 45.107, None);
    assert_abs_diff_eq!(coarse_m, 68.9, epsilon = 0.5);
    assert!(error_m(-30.11, 45.1, None) > 600.0);
    // finer than what is assumed, one coordinate with more digits, and an error that is stated
    assert_abs_diff_eq!(error_m(-30.1131, 45.1065, None), assumed_m, epsilon = 1e-9);
    assert_abs_diff_eq!(error_m(-30.113, 45.106_51, None), assumed_m, epsilon = 1e-9);
    assert_abs_diff_eq!(error_m(-30.113, 45.107, Some(3.0)), 3.0, epsilon = 1e-9);
}
