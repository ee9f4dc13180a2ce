use serde_json::{Value, json};

use super::test_files::*;
use super::*;

/// Each wrong value of the chapel, with the line that is to be told of it.
#[test]
fn every_wrong_member_is_told_with_feature_member_value_and_mend() {
    let metres = "write metres as a number from -10 to 2000; a foot is 0.3048 m";
    let errors = "write metres as a number from 0 to 100000; a foot is 0.3048 m";
    let date = "write year, month and day like \"2026-05-01\"";
    let cases = [
        ("height_m", json!("34"), "\"34\" cannot be read here; write it without quotes: 34".to_owned()),
        (
            "height_m",
            json!("34 m"),
            format!("\"34 m\" cannot be read here; {metres}; leave it out if it is not known"),
        ),
        (
            "height_m",
            json!("NaN"),
            format!("\"NaN\" cannot be read here; {metres}; leave it out if it is not known"),
        ),
        ("height_m", json!(2000.5), format!("2000.5 is outside -10 to 2000; {metres}")),
        ("height_m", json!(-11), format!("-11 is outside -10 to 2000; {metres}")),
        ("position_error_m", json!(-3), format!("-3 is outside 0 to 100000; {errors}")),
        ("position_error_m", json!(1e300), format!("is outside 0 to 100000; {errors}")),
        (
            "position_error_m",
            json!(" 2.5 "),
            "\" 2.5 \" cannot be read here; write it without quotes: 2.5".to_owned(),
        ),
        (
            "fixed",
            json!("yes"),
            "\"yes\" cannot be read here; write true or false, without quotes".to_owned(),
        ),
        ("last_confirmed", json!("2025-02-29"), format!("\"2025-02-29\" cannot be read here; {date}")),
        ("last_confirmed", json!("02.09.2025"), format!("\"02.09.2025\" cannot be read here; {date}")),
        ("last_confirmed", json!(2025), format!("2025 cannot be read here; {date}")),
        ("name", json!(5), "5 cannot be read here; write a text in quotes".to_owned()),
        ("name", json!(" "), "is empty; fill it in, or leave it out".to_owned()),
        (
            "kind",
            json!("a\u{1b}[2J"),
            "\"a\\u{1b}[2J\" holds the control character U+001B; take it out".to_owned(),
        ),
    ];
    for (member, value, told) in cases {
        let text = refused(&with_property(member, value));
        assert!(text.starts_with(&format!("marks.geojson: feature 1 \"chapel\", {member}: ")), "{text}");
        assert!(text.ends_with(&told), "{text}\n{told}");
        assert_eq!(text.lines().count(), 1, "{text}");
    }
}

#[test]
fn heights_and_errors_at_their_bounds_are_read() {
    for height_m in [-10.0, 2000.0] {
        loaded(&with_property("height_m", json!(height_m)));
    }
    assert_eq!(
        loaded(&with_property("position_error_m", json!(0))).landmarks[0].position_error_95,
        metres(0.0)
    );
}

#[test]
fn a_place_that_cannot_be_is_told() {
    let write = "write where it stands: \"geometry\": { \"type\": \"Point\", \"coordinates\": [longitude, latitude] }";
    let one = "write the one point that people see, as a Point: the ridge, the tip, the mast";
    let cases = [
        (Value::Null, format!("is missing, so it is not known where the landmark stands; {write}")),
        (json!([1, 2]), format!("[1,2] is not a point; {write}")),
        (json!({ "type": "Polygon", "coordinates": [] }), format!("a \"Polygon\" is not a point; {one}")),
        (json!({ "type": "LineString" }), format!("a \"LineString\" is not a point; {one}")),
        (
            json!({ "type": "MultiPoint" }),
            "a \"MultiPoint\" is not a point; write one feature for each point".to_owned(),
        ),
        (json!({ "type": "Point" }), format!("the point has no \"coordinates\"; {write}")),
    ];
    for (geometry, told) in cases {
        let text = refused(&with("/features/0/geometry", geometry));
        assert_eq!(text, format!("marks.geojson: feature 1 \"chapel\", geometry: {told}"));
    }
    let text = refused(&without("/features/0/geometry"));
    assert!(text.contains("geometry: is missing, so it is not known"), "{text}");
}

#[test]
fn coordinates_that_no_place_has_are_told() {
    let text = refused(&with("/features/0/geometry", point(45.1210, -130.1050)));
    assert!(
        text.contains("feature 1 \"chapel\", geometry > coordinates: latitude -130.105 is outside"),
        "{text}"
    );
    assert!(text.contains("may be swapped; write the longitude first, then the latitude"), "{text}");
    let cases = [
        (json!(["-30.1", "45.1"]), "\"-30.1\" is not a number; leave out the quotes"),
        (json!([-30.1]), "[-30.1] holds 1 numbers; write two"),
        (json!([-30.1, 45.1, 3, 4]), "holds 4 numbers; write two"),
        (json!([[-30.1, 45.1]]), "is not a number; write [longitude, latitude]"),
        (json!([-30.1, null]), "null is not a number"),
        (json!("45 N"), "\"45 N\" is not a position"),
    ];
    for (coordinates, told) in cases {
        let text = refused(&with("/features/0/geometry/coordinates", coordinates));
        assert!(text.contains("geometry > coordinates: ") && text.contains(told), "{text}");
    }
}

#[test]
fn ids_are_needed_and_unique() {
    let text = refused(&without("/features/0/id"));
    let told = "marks.geojson: feature 1: \"id\" is missing; give the feature an id beside its \"type\": \"id\": \
                \"lone-pine\"";
    assert_eq!(text, told);
    assert!(
        refused(&with("/features/0/id", json!(true)))
            .contains("feature 1, id: true cannot be read here; give")
    );
    let text = refused(&with("/features/1/id", json!(" chapel ")));
    let told = "feature 2 \"chapel\": the id \"chapel\" is used by feature 1 too; give each feature an id of its own";
    assert!(text.ends_with(told), "{text}");
    let text = refused(&with_property("id", json!("church")));
    let told = "the id is \"chapel\", but in \"properties\" it is \"church\"; keep the right one, beside";
    assert!(text.contains(told), "{text}");
    assert_eq!(loaded(&with_property("id", json!("chapel"))).warnings, []);
}

#[test]
fn members_beside_properties_and_features_that_are_none_are_told() {
    let text = refused(&with("/features/0/height_m", json!(34)));
    assert!(
        text.contains("\"height_m\" stands beside \"properties\", where it has no effect; move it into"),
        "{text}"
    );
    assert!(
        refused(&with("/features/0", json!(3))).contains("feature 1: 3 is not a feature; write { \"type\"")
    );
    let text = refused(&with_property("x", json!(1)).pointer("/features/0").cloned().expect("is there"));
    assert!(
        text.contains("a \"Feature\" is not a feature collection; write { \"type\": \"FeatureCollection\""),
        "{text}"
    );
    let text = refused(&with("/features/0/properties", json!([1])));
    assert!(
        text.contains("feature 1 \"chapel\", properties: [1] cannot be read here; write what is known"),
        "{text}"
    );
}

#[test]
fn a_file_of_another_format_is_told_by_its_header_alone() {
    let text = refused(&with("/takeline/format", json!("takeline.zones/1")));
    let told = "marks.geojson: takeline > format: this version does not read the format \"takeline.zones/1\" as landmarks; this is a zone file; give a landmark file";
    assert_eq!(text, told);
    let text = refused(&with("/takeline/format", json!("takeline.landmarks/2")));
    assert!(text.contains("does not read the format \"takeline.landmarks/2\" as landmarks"), "{text}");
    assert!(
        refused(&without("/takeline/format")).contains("takeline: \"format\" is missing; write \"format\"")
    );
    let text = refused(&with("/takeline/editon", json!("2026")));
    assert!(
        text.contains("takeline: the member \"editon\" has no meaning here; did you mean \"edition\"?"),
        "{text}"
    );
    assert!(
        refused(&with("/takeline", json!("yes"))).contains("takeline: \"yes\" cannot be read here; write")
    );
}

/// Tricky case 18, for marks: coordinates on another datum are not used as WGS 84.
#[test]
fn other_datums_are_refused_wherever_they_are_named() {
    let text = refused(&with("/takeline/datum", json!("OSGB36")));
    assert!(
        text.contains("takeline > datum: the datum \"OSGB36\" is not supported: Takeline converts nothing"),
        "{text}"
    );
    assert!(refused(&with("/datum", json!("ED50"))).contains("datum: the datum \"ED50\" is not supported"));
    let system = json!({ "type": "name", "properties": { "name": "urn:ogc:def:crs:EPSG::27700" } });
    assert!(
        refused(&with("/crs", system))
            .contains("crs: the datum \"urn:ogc:def:crs:EPSG::27700\" is not supported")
    );
    let text = refused(&with("/datum", json!("NAD83")));
    assert!(
        text.contains("datum: \"takeline\" names one datum, and the member beside it another; keep"),
        "{text}"
    );
}

#[test]
fn what_is_no_json_is_told_by_line_and_column() {
    let text = |bytes: &[u8]| read("a.geojson", bytes).expect_err("is broken").to_string();
    assert!(text(b"").contains("the file is empty"), "{}", text(b""));
    let broken = text(b"{ \"type\": \"FeatureCollection\",\n  \"features\": [ , ] }");
    assert!(broken.starts_with("a.geojson: line 2 column 17: expected value; look here"), "{broken}");
    for word in ["NaN", "-Infinity", "Infinity"] {
        let whole = small().to_string().replace("\"height_m\":34", &format!("\"height_m\": {word}"));
        let told = text(whole.as_bytes());
        assert!(told.contains("JSON has no NaN or Infinity; leave the member out"), "{told}");
    }
    let twice = small().to_string().replace("\"height_m\":34", "\"height_m\":34,\"height_m\":43");
    assert!(text(twice.as_bytes()).contains("the member \"height_m\" is given twice in one object"));
}

#[test]
fn a_file_without_landmarks_is_refused() {
    let told = "marks.geojson: has no landmarks; add at least one feature to \"features\"";
    assert_eq!(refused(&with("/features", json!([]))), told);
    assert!(refused(&without("/features")).contains("has no \"features\" list"));
}

#[test]
fn every_fault_of_a_file_is_told_and_counted_beyond_the_limit() {
    let mut file = with_property("height_m", json!("34"));
    file["features"][0]["properties"]["fixed"] = json!(1);
    file["features"][1]["geometry"] = Value::Null;
    let text = refused(&file);
    assert_eq!(text.lines().count(), 3, "{text}");
    assert!(text.lines().all(|line| line.starts_with("marks.geojson: feature ")), "{text}");

    let nothing: Vec<Value> = (0..1500).map(|_| json!(0)).collect();
    let many = with("/features", json!(nothing)).to_string();
    let error = read("a", many.as_bytes()).expect_err("has faults");
    assert_eq!((error.faults.len(), error.more), (LoadLandmarksError::FAULT_LIMIT, 500));
}
