//! Reading whole files.

use serde_json::{Value, json};

use super::test_coasts::{NATURAL_EARTH, metres};
use super::{Coast, LineKind, LoadedCoast, read};
use crate::{Position, Tristate, UncertaintySource};

fn loaded(file: &Value) -> LoadedCoast {
    read("coast.geojson", file.to_string().as_bytes()).unwrap_or_else(|error| panic!("{error}"))
}

fn refused(file: &Value) -> String {
    read("coast.geojson", file.to_string().as_bytes()).expect_err("has a fault").to_string()
}

fn ring() -> Value {
    json!([[-30.14, 45.10], [-30.10, 45.10], [-30.10, 45.13], [-30.14, 45.13], [-30.14, 45.10]])
}

fn said(loaded: &LoadedCoast) -> Vec<String> {
    loaded.warnings.iter().map(|warning| format!("{} {warning}", warning.kind.code())).collect()
}

#[test]
fn what_a_file_says_of_itself_is_kept() {
    let file = json!({ "type": "FeatureCollection",
        "takeline": { "format": "takeline.coast/1", "title": "Marrowick", "date": "2025-06-11", "source": "Harbour Board",
                      "licence": "CC0-1.0", "uncertainty_m": 8, "datum": "WGS 84", "x-drawn-by": "hand" },
        "features": [ { "type": "Feature", "id": "isle", "properties": {}, "geometry": { "type": "Polygon", "coordinates": [ring()] } } ] });
    let loaded = loaded(&file);
    let coast = &loaded.coast;
    assert!(loaded.warnings.is_empty(), "{:?}", said(&loaded));
    assert_eq!(
        (coast.title.as_deref(), coast.source.as_deref(), coast.licence.as_deref()),
        (Some("Marrowick"), Some("Harbour Board"), Some("CC0-1.0"))
    );
    assert_eq!(coast.date.map(|date| date.to_string()).as_deref(), Some("2025-06-11"));
    assert_eq!((coast.uncertainty.metres(), coast.uncertainty_source), (8.0, UncertaintySource::Given));
    assert_eq!((coast.path.as_str(), coast.sha256.len()), ("coast.geojson", 64));
    assert_eq!(coast.is_on_land(Position::from_degrees(45.115, -30.12).unwrap()), Tristate::Yes);
}

#[test]
fn plain_geojson_of_any_form_is_read_and_its_uncertainty_assumed() {
    let geometries = [
        (
            json!({ "type": "LineString", "coordinates": [[-30.1, 45.1], [-30.2, 45.1]] }),
            vec![LineKind::Open],
        ),
        (json!({ "type": "LineString", "coordinates": ring() }), vec![LineKind::Island]),
        (
            json!({ "type": "MultiLineString", "coordinates": [ring(), [[-30.1, 45.2], [-30.2, 45.2]]] }),
            vec![LineKind::Island, LineKind::Open],
        ),
        (
            json!({ "type": "Polygon", "coordinates": [ring(), [[-30.13, 45.11], [-30.12, 45.11], [-30.12, 45.12], [-30.13, 45.11]]] }),
            vec![LineKind::Island, LineKind::Lake],
        ),
        (json!({ "type": "MultiPolygon", "coordinates": [[ring()]] }), vec![LineKind::Island]),
    ];
    for (geometry, kinds) in geometries {
        let feature = json!({ "type": "Feature", "properties": null, "geometry": geometry });
        let collection = json!({ "type": "FeatureCollection", "features": [feature] });
        for file in [geometry.clone(), feature, collection] {
            let loaded = loaded(&file);
            assert_eq!(
                loaded.coast.lines().iter().map(|line| line.kind).collect::<Vec<_>>(),
                kinds,
                "{file}"
            );
            assert_eq!(loaded.coast.uncertainty, metres(Coast::ASSUMED_UNCERTAINTY_95_M));
            assert_eq!(loaded.coast.uncertainty_source, UncertaintySource::Assumed);
            assert_eq!(said(&loaded).len(), 1, "{:?}", said(&loaded));
            assert!(
                said(&loaded)[0].starts_with(
                    "uncertainty-assumed takeline: no \"uncertainty_m\" is given; 50 m is assumed"
                ),
                "{:?}",
                said(&loaded)
            );
        }
    }
}

#[test]
fn what_is_no_line_is_told_as_passed_over() {
    let point = json!({ "type": "Feature", "id": "rock", "properties": {}, "geometry": { "type": "Point", "coordinates": [-30.1, 45.1] } });
    let nothing = json!({ "type": "Feature", "properties": {}, "geometry": null });
    let several = json!({ "type": "Feature", "properties": {}, "geometry": { "type": "GeometryCollection", "geometries": [] } });
    let isle = json!({ "type": "Feature", "properties": {}, "geometry": { "type": "Polygon", "coordinates": [ring()] } });
    let loaded = loaded(&json!({ "type": "FeatureCollection", "features": [point, nothing, isle, several] }));
    assert!(said(&loaded).contains(&"passed-over neither lines nor polygons, so passed over: feature 1 \"rock\", feature 2, feature 4".to_owned()), "{:?}", said(&loaded));
    let alone = refused(&json!({ "type": "Point", "coordinates": [-30.1, 45.1] }));
    assert!(alone.contains("has no lines and no polygons"), "{alone}");
}

#[test]
fn what_can_be_mended_is_told_with_its_place() {
    let open_ring =
        json!([[-30.14, 45.10], [-30.10, 45.10], [-30.10, 45.10], [-30.10, 45.13], [-30.14, 45.13]]);
    let knot = json!([[-30.14, 45.10], [-30.10, 45.13], [-30.14, 45.13], [-30.10, 45.10], [-30.14, 45.10]]);
    let file = json!({ "type": "FeatureCollection", "features": [
        { "type": "Feature", "properties": {}, "geometry": { "type": "Polygon", "coordinates": [open_ring] } },
        { "type": "Feature", "id": "knot", "properties": {}, "geometry": { "type": "MultiPolygon", "coordinates": [[knot]] } } ] });
    let said = said(&loaded(&file)).join("\n");
    for wanted in [
        "unclosed-ring feature 1, geometry > ring 1: does not end where it begins",
        "repeated-vertex feature 1, geometry > ring 1: 1 positions are the same",
        "land-undecided feature 2 \"knot\", geometry > part 1 > ring 1: meets itself near 45",
    ] {
        assert!(said.contains(wanted), "{wanted}\n{said}");
    }
}

#[test]
fn faults_name_place_value_and_mending() {
    let with = |geometry: Value| json!({ "type": "FeatureCollection", "features": [{ "type": "Feature", "id": 7, "properties": {}, "geometry": geometry }] });
    for (file, wanted) in [
        (json!({}), "has no \"type\""),
        (json!([]), "is no GeoJSON"),
        (json!({ "type": "FeatureCollection" }), "has no \"features\" list"),
        (json!({ "type": "FeatureCollection", "features": [] }), "has no lines and no polygons"),
        (json!({ "type": "FeatureCollection", "features": [3] }), "feature 1: 3 is no feature"),
        (json!({ "type": "Topology", "coordinates": [] }), "\"Topology\" is no geometry of GeoJSON"),
        (with(json!(3)), "feature 1 \"7\", geometry: 3 is no geometry"),
        (with(json!({ "type": "LineString" })), "null is not a list of positions"),
        (with(json!({ "type": "LineString", "coordinates": [] })), "fewer than two"),
        (
            with(json!({ "type": "LineString", "coordinates": [[-30.1, 45.1], [-30.1, 45.1]] })),
            "fewer than two different",
        ),
        (with(json!({ "type": "Polygon", "coordinates": [] })), "a list of rings"),
        (
            with(
                json!({ "type": "Polygon", "coordinates": [[[-30.1, 45.1], [-30.2, 45.1], [-30.1, 45.1]]] }),
            ),
            "ring 1: has fewer than three",
        ),
        (
            with(json!({ "type": "MultiLineString", "coordinates": [[[-30.1, 45.1], [-30.2, 95.1]]] })),
            "geometry > line 1 > position 2 (of 2): ",
        ),
        (
            with(json!({ "type": "LineString", "coordinates": [[-30.1, 45.1], ["-30.2", 45.1]] })),
            "leave out the quotes",
        ),
        (with(json!({ "type": "LineString", "coordinates": [[0.0, 0.0], [180.0, 0.0]] })), "vertex 1: "),
        (json!({ "type": "LineString", "coordinates": [[1e300, 0.0], [1.0, 0.0]] }), "position 1 (of 2)"),
    ] {
        let said = refused(&file);
        assert!(said.starts_with("coast.geojson: ") && said.contains(wanted), "{wanted}\n{said}");
    }
}

#[test]
fn a_header_of_another_kind_is_refused() {
    for (header, wanted) in [
        (json!({ "format": "takeline.zones/1" }), "does not read the format \"takeline.zones/1\" as a coast"),
        (json!({}), "\"format\" is missing"),
        (json!({ "format": "takeline.coast/1", "uncertainty_m": -1 }), "-1 is too small"),
        (json!({ "format": "takeline.coast/1", "uncertainty_m": 1e9 }), "is too large"),
        (json!({ "format": "takeline.coast/1", "uncertainty": 3 }), "did you mean \"uncertainty_m\""),
        (json!({ "format": "takeline.coast/1", "date": "June" }), "\"June\" cannot be read here"),
        (json!({ "format": "takeline.coast/1", "datum": "ED50" }), "the datum \"ED50\" is not supported"),
    ] {
        let said = refused(&json!({ "type": "Polygon", "takeline": header, "coordinates": [ring()] }));
        assert!(said.contains(wanted), "{wanted}\n{said}");
    }
}

#[test]
fn the_datum_adds_to_the_uncertainty() {
    for (datum, wanted_m) in
        [("WGS 84", 30.0), ("NAD83", 30.0_f64.hypot(2.0)), ("unstated", 30.0_f64.hypot(200.0))]
    {
        let header = json!({ "format": "takeline.coast/1", "uncertainty_m": 30, "datum": datum });
        let coast = loaded(&json!({ "type": "Polygon", "takeline": header, "coordinates": [ring()] })).coast;
        assert_eq!(coast.uncertainty, metres(wanted_m), "{datum}");
    }
}

#[test]
fn the_islands_of_natural_earth_are_read_as_they_are() {
    let loaded = read("islands.geojson", NATURAL_EARTH.as_bytes()).expect("is sound");
    assert_eq!(loaded.coast.lines().len(), 9);
    // inland places by their published coordinates: Birmingham, Tullamore, Hofsjökull (GeoNames, two decimals)
    for (lat, lon) in [(52.48, -1.90), (53.27, -7.49), (64.82, -18.85)] {
        assert_eq!(
            loaded.coast.is_on_land(Position::from_degrees(lat, lon).unwrap()),
            Tristate::Yes,
            "{lat} {lon}"
        );
    }
    // open sea by any map: the Celtic Sea, the Bass Strait, the Denmark Strait
    for (lat, lon) in [(50.0, -8.0), (-39.8, 145.5), (66.5, -27.0)] {
        assert_eq!(
            loaded.coast.is_on_land(Position::from_degrees(lat, lon).unwrap()),
            Tristate::No,
            "{lat} {lon}"
        );
    }
}
