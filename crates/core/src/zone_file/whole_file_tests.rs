use serde_json::{Value, json};

use super::test_files::*;
use super::*;
use crate::rule::{Take, When};
use crate::zone::{Datum, Extent, LineBelongs, Status};

#[test]
fn the_smallest_file_loads_as_it_stands() {
    let file = loaded(&smallest());
    assert_eq!(file.warnings, []);
    let zone = &file.zones[0];
    assert_eq!((zone.id.0.as_str(), zone.name.as_str()), ("sallow-cove", "Sallow Cove"));
    assert!(matches!(zone.extent, Extent::Known(_)));
    assert_eq!(zone.rule.take, Take::Nothing);
    assert_eq!(zone.datum, Datum::Wgs84);
    assert_eq!(zone.when, When::Always);
    assert_eq!(zone.source.instrument, "Marrowick Order 3");
    assert_eq!((zone.line_belongs, zone.status), (LineBelongs::ToZone, Status::InForce));
    assert_eq!(zone.file.catalogue.taxa[0].names[1].text, "brisling");
    assert_eq!(zone.file.edition.as_deref(), Some("2026"));
}

#[test]
fn only_ids_a_circle_and_a_multipolygon_load_too() {
    let only = loaded(&with("take", json!({ "only": ["bait-fish", "sprat"] })));
    let Take::Only(permits) = &only.zones[0].rule.take else { panic!("only") };
    let taxa = permits[0].taxa.as_ref().expect("a set");
    assert_eq!((permits.len(), taxa.taxa.len(), taxa.groups.len()), (1, 1, 1));
    let mut circle = with("radius_m", json!(150));
    circle["features"][0]["geometry"] = json!({ "type": "Point", "coordinates": [-30.12, 45.12] });
    assert_eq!(loaded(&circle).warnings[0].kind, WarningKind::NoEffect);
    let mut two = square();
    two["type"] = json!("MultiPolygon");
    two["coordinates"] = json!([square()["coordinates"], [[[-30.2, 45.1], [-30.19, 45.1], [-30.19, 45.2]]]]);
    loaded(&with_geometry(two));
}

/// FIPS 180-4, the example "abc" of SHA-256, published by NIST.
#[test]
fn sha256_of_abc_is_that_of_fips_180_4() {
    let error = read("abc", b"abc").expect_err("is not JSON");
    assert_eq!(error.faults[0].kind, FaultKind::NotJson);
    assert_eq!(
        crate::geojson_text::sha256(b"abc"),
        "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    );
}

#[test]
fn one_moved_vertex_changes_the_hash() {
    let mut moved = smallest();
    moved["features"][0]["geometry"]["coordinates"][0][1][0] = json!(-30.110_001);
    let (a, b) = (loaded(&smallest()), loaded(&moved));
    assert_eq!(a.file.sha256.len(), 64);
    assert_ne!(a.file.sha256, b.file.sha256);
}

#[test]
fn every_fault_is_told_and_each_line_names_file_and_feature() {
    let mut file = smallest();
    let properties = &mut file["features"][0]["properties"];
    properties["line_uncertainty_m"] = json!("ten");
    properties["edgse"] = json!("rhumb");
    properties["take"] = json!({ "only": ["spratt"] });
    let text = refused(&file);
    assert_eq!(text.lines().count(), 3, "{text}");
    for line in text.lines() {
        assert!(line.starts_with("marrowick.json: feature 1 \"sallow-cove\", "), "{line}");
    }
    assert!(text.contains("the member \"edgse\" has no meaning here; did you mean \"edges\"?"), "{text}");
    assert!(text.contains("line_uncertainty_m: \"ten\" cannot be read here; write metres"), "{text}");
    assert!(text.contains("take > only > entry 1: no taxon and no group has the id \"spratt\""), "{text}");
    assert!(text.contains("did you mean \"sprat\"?"), "{text}");
}

#[test]
fn faults_beyond_the_limit_are_counted() {
    let ring: Vec<Value> = (0..1500).map(|_| json!(["x", 1])).collect();
    let error = read("a", with_ring(&json!(ring)).to_string().as_bytes()).expect_err("has faults");
    assert_eq!((error.faults.len(), error.more), (1000, 500));
    assert!(error.to_string().ends_with("a: 500 more faults are not listed"));
}

#[test]
fn broken_json_is_told_by_line_and_column() {
    let error =
        read("a.json", b"{ \"type\": \"FeatureCollection\",\n  \"features\": [ , ] }").expect_err("broken");
    assert!(error.to_string().starts_with("a.json: line 2 column 17: expected value; look here"), "{error}");
    let text = read("a.json", b"  ").expect_err("empty").to_string();
    assert!(text.contains("the file is empty"), "{text}");
    let text = read("a.json", b"\xFF\xFE{\0").expect_err("is UTF-16").to_string();
    assert!(text.contains("save the file as UTF-8"), "{text}");
}

#[test]
fn nan_and_numbers_beyond_all_range_are_broken_json() {
    let text = smallest().to_string().replace("45.125", "NaN");
    assert_eq!(read("a", text.as_bytes()).expect_err("NaN").faults[0].kind, FaultKind::NotJson);
    let text = smallest().to_string().replace("45.125", "1e999");
    let error = read("a", text.as_bytes()).expect_err("infinite").to_string();
    assert!(error.contains("number out of range"), "{error}");
}

#[test]
fn a_member_given_twice_is_not_dropped_in_silence() {
    let text = smallest().to_string().replace("\"take\":\"none\"", "\"take\":\"anything\",\"take\":\"none\"");
    let error = read("a", text.as_bytes()).expect_err("twice").to_string();
    assert!(
        error.contains("the member \"take\" is given twice in one object; keep one of the two"),
        "{error}"
    );
}

#[test]
fn bottomless_nesting_is_refused_without_a_stack_overflow() {
    let error = read("a", &vec![b'['; 100_000]).expect_err("too deep").to_string();
    assert!(error.contains("nested more than 40 deep"), "{error}");
    let mut when = json!({ "weekdays": ["sunday"] });
    for _ in 0..13 {
        when = json!({ "any": [when] });
    }
    let error = refused(&with("when", when));
    assert!(error.contains("nested more than 12 deep; write it more simply"), "{error}");
}

#[test]
fn a_byte_order_mark_is_skipped() {
    let mut bytes = b"\xEF\xBB\xBF".to_vec();
    bytes.extend(smallest().to_string().bytes());
    assert!(read("a", &bytes).is_ok());
}

#[test]
fn what_is_no_zone_file_says_what_one_is() {
    let lone = smallest()["features"][0].clone();
    assert!(refused(&lone).contains("a \"Feature\" is not a feature collection; write { \"type\""));
    assert!(refused(&json!([1])).contains("[1] is not a feature collection"));
    assert!(refused(&without("", "takeline")).contains("\"takeline\" is missing; add \"takeline\": {"));
    assert!(refused(&without("", "features")).contains("has no \"features\" list"));
    let mut empty = smallest();
    empty["features"] = json!([]);
    assert!(refused(&empty).contains("has no zones; add at least one feature"));
    let other = refused(&with_header("format", json!("takeline.zones/2")));
    assert!(
        other.contains("takeline > format: this version does not read the format \"takeline.zones/2\""),
        "{other}"
    );
    assert!(refused(&without("/takeline", "format")).contains("takeline: \"format\" is missing; write"));
}

#[test]
fn a_reference_system_that_is_not_wgs_84_is_refused() {
    let mut file = smallest();
    file["crs"] = json!({ "type": "name", "properties": { "name": "urn:ogc:def:crs:OGC:1.3:CRS84" } });
    loaded(&file);
    file["crs"]["properties"]["name"] = json!("urn:ogc:def:crs:EPSG::27700");
    assert!(refused(&file).contains("crs: the datum \"urn:ogc:def:crs:EPSG::27700\" is not supported"));
}

#[test]
fn ids_are_needed_unique_and_may_be_numbers() {
    let mut file = smallest();
    file["features"][0]["id"] = json!(7);
    assert_eq!(loaded(&file).zones[0].id.0, "7");
    let text = refused(&without("/features/0", "id"));
    assert!(text.contains("feature 1: \"id\" is missing; give the feature an id"), "{text}");
    let mut twice = smallest();
    let copy = twice["features"][0].clone();
    twice["features"].as_array_mut().expect("a list").push(copy);
    let text = refused(&twice);
    assert!(
        text.contains("feature 2 \"sallow-cove\": the id \"sallow-cove\" is used by feature 1 too"),
        "{text}"
    );
    file["features"][0]["id"] = json!("a\u{1b}[2J");
    assert!(refused(&file).contains("cannot be read here"));
}

#[test]
fn members_at_the_wrong_place_are_refused() {
    let mut file = smallest();
    file["features"][0]["when"] = json!({ "weekdays": ["sunday"] });
    assert!(
        refused(&file).contains("\"when\" stands beside \"properties\", where it has no effect; move it")
    );
    let text = refused(&with("id", json!("x")));
    assert!(text.contains("properties: \"id\" stands in \"properties\"; move it out"), "{text}");
}

#[test]
fn remarks_and_foreign_members_are_left_alone() {
    let mut file = smallest();
    file["name"] = json!("layer");
    file["features"][0]["bbox"] = json!([0, 0, 1, 1]);
    file["takeline"]["comment"] = json!("how this was made");
    file["features"][0]["properties"]["x-fid"] = json!(3);
    file["features"][0]["properties"]["note"] = json!(["a", "b"]);
    assert_eq!(loaded(&file).warnings, []);
}

#[test]
fn control_characters_are_refused() {
    let text = refused(&with("name", json!("Sallow\u{1b}[31m Cove")));
    assert!(
        text.contains("name: \"Sallow\\u{1b}[31m Cove\" holds the control character U+001B; take it out")
    );
}
