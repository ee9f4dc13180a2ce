//! Sides that follow a coast: a cove that a chord would cut off.

use serde_json::{Value, json};

use super::test_files::*;
use super::*;
use crate::coast::{Coast, CoastLine};
use crate::zone::Extent;
use crate::{Boundary, Metres, Position, SideKind};

fn at(latitude_deg: f64, longitude_deg: f64) -> Position {
    Position::from_degrees(latitude_deg, longitude_deg).unwrap()
}

/// An isle with a square cove in its west side, between 45.115 and 45.12 N, 787 m deep.
fn coast() -> Coast {
    let isle = [
        (45.10, -30.11),
        (45.115, -30.11),
        (45.115, -30.10),
        (45.12, -30.10),
        (45.12, -30.11),
        (45.13, -30.11),
        (45.13, -30.08),
        (45.10, -30.08),
    ];
    let line = CoastLine::island(isle.map(|(lat, lon)| at(lat, lon)).to_vec());
    Coast::from_lines(vec![line], Metres::non_negative(10.0).unwrap()).unwrap()
}

/// West of the isle, 45.11 to 45.125 N; the east side is as given.
fn file(east: impl Into<Value>) -> Value {
    with_geometry_and_edges(
        json!([[[-30.11, 45.125], [-30.13, 45.125], [-30.13, 45.11], [-30.11, 45.11]]]),
        json!(["rhumb", "rhumb", "rhumb", east.into()]),
    )
}

fn with_geometry_and_edges(coordinates: impl Into<Value>, edges: impl Into<Value>) -> Value {
    let mut file = with_geometry(json!({ "type": "Polygon", "coordinates": coordinates.into() }));
    file["features"][0]["properties"]["edges"] = edges.into();
    file
}

fn read(file: &Value, coasts: &[Coast]) -> (Boundary, Vec<FileWarning>) {
    let loaded = read_along("marrowick.json", file.to_string().as_bytes(), coasts).unwrap();
    let Extent::Known(boundary) = loaded.zones[0].extent.clone() else { panic!("no line") };
    (boundary, loaded.warnings)
}

#[test]
fn a_side_along_the_coast_takes_the_cove_in() {
    let (boundary, warnings) =
        read(&file(json!({ "along": "coast", "level": "mean high water" })), &[coast()]);
    assert!(warnings.is_empty(), "{warnings:?}");
    // in the cove, 393 m behind the chord and 278 m from its sides
    let in_cove = at(45.1175, -30.105);
    let far = boundary.how_far(in_cove);
    assert!((far.signed_distance.metres() + 278.0).abs() < 1.0, "{far:?}");
    assert_eq!(boundary.side_nearest(in_cove).kind, SideKind::Shore);
    assert_eq!(boundary.side_nearest(in_cove).level.as_deref(), Some("mean high water"));
    assert_eq!(boundary.side_nearest(in_cove).uncertainty, Some(Metres::new(10.0).unwrap()));
    // on the land beside it
    assert!(boundary.how_far(at(45.112, -30.105)).signed_distance.metres() > 0.0);
    let crossable = boundary.locate_crossable(in_cove).unwrap();
    assert!(crossable.signed_distance.metres() < -900.0);
}

#[test]
fn the_way_from_a_vertex_off_the_coast_to_the_coast_is_no_shore() {
    // both ends lie 60 m west of the coast, over water: 0.000762° of longitude at 45.11° N
    let text = with_geometry_and_edges(
        json!([[[-30.110_762, 45.125], [-30.13, 45.125], [-30.13, 45.11], [-30.110_762, 45.11]]]),
        json!(["rhumb", "rhumb", "rhumb", { "along": "coast" }]),
    );
    let (boundary, warnings) = read(&text, &[coast()]);
    assert!(warnings.is_empty(), "{warnings:?}");
    // 30 m off the coast and 11 m inside of the ways that lead to it, which a boat can cross
    for beside in [at(45.1101, -30.110_381), at(45.1249, -30.110_381)] {
        assert_eq!(boundary.side_nearest(beside).kind, SideKind::Open);
        let crossable = boundary.locate_crossable(beside).unwrap();
        assert!((crossable.signed_distance.metres() + 11.1).abs() < 0.5, "{crossable:?}");
        let far = boundary.how_far(beside);
        assert!(far.to_leave.unwrap().metres() < 12.0, "other water is as near: {far:?}");
    }
    assert_eq!(boundary.side_nearest(at(45.1175, -30.1001)).kind, SideKind::Shore);
}

#[test]
fn without_the_coast_the_cove_is_undecided_and_far_off_nothing_changes() {
    let text = file(json!({ "along": "coast", "uncertainty_m": 5 }));
    let elsewhere = Coast::from_lines(
        vec![CoastLine::island(vec![at(44.0, -30.0), at(44.0, -29.9), at(44.1, -29.9)])],
        Metres::ZERO,
    );
    for coasts in [&[][..], &[elsewhere.unwrap()][..]] {
        let (boundary, warnings) = read(&text, coasts);
        assert_eq!(warnings.len(), 1, "{warnings:?}");
        assert_eq!(warnings[0].kind, WarningKind::CoastNotFollowed);
        let far = boundary.how_far(at(45.1175, -30.105));
        assert!(far.least.metres() - far.reading_doubt.metres() < 0.0, "may be inside: {far:?}");
        // half the chord is 834 m; 1.5 km off it nothing is in doubt
        assert!(boundary.how_far(at(45.1175, -30.1299)).reading_doubt.metres() < 0.01);
    }
}

#[test]
fn a_coast_that_crosses_the_other_sides_is_not_followed() {
    // the open side cuts through the land north of the cove, so that the shore would cross it
    let text = with_geometry_and_edges(
        json!([[[-30.11, 45.128], [-30.13, 45.128], [-30.13, 45.1265], [-30.0995, 45.1195]]]),
        json!(["rhumb", "rhumb", "rhumb", { "along": "coast" }]),
    );
    let (boundary, warnings) = read(&text, &[coast()]);
    assert_eq!(warnings.len(), 1, "{warnings:?}");
    assert!(warnings[0].to_string().contains("would cross itself"), "{}", warnings[0]);
    assert_eq!(boundary.stretches(|side| side.kind == SideKind::Unresolved).len(), 1);
}

#[test]
fn a_chord_that_is_the_shore_is_held_to_the_coast() {
    let (_, warnings) = read(&file(json!({ "runs": "rhumb", "side": "shore" })), &[coast()]);
    assert_eq!(warnings.len(), 1, "{warnings:?}");
    assert_eq!(warnings[0].kind, WarningKind::ChordAlongShore);
    // the head of the cove: 0.01° of longitude at 45.1175° N
    assert!(warnings[0].to_string().contains("up to 787 m"), "{}", warnings[0]);
    assert!(read(&file(json!({ "runs": "rhumb", "side": "shore" })), &[]).1.is_empty());
    assert!(read(&file(json!("rhumb")), &[coast()]).1.is_empty(), "an open side is no shore");
}

#[test]
fn only_a_shore_follows_the_coast() {
    let text = refused(&file(json!({ "side": "open", "along": "coast" })));
    assert!(
        text.contains("edges > entry 4: has \"side\": \"open\" beside \"along\": \"coast\", and only a shore follows the coast; write \"side\": \"shore\""),
        "{text}"
    );
    let text = refused(&file(json!({ "side": "shore", "along": "beach" })));
    assert!(text.contains("along: \"beach\" is not \"coast\""), "{text}");
}

/// What a newcomer writes, and where it belongs.
#[test]
fn what_stands_in_the_wrong_place_is_told_where_it_belongs() {
    // the file of the coast in place of the word
    let text = refused(&file(json!({ "along": "marrowick.geojson" })));
    assert!(text.contains("edges > entry 4 > along: \"marrowick.geojson\" is not \"coast\""), "{text}");
    assert!(text.contains("\"takeline\": { …, \"coast\": [\"coast.geojson\"] }"), "{text}");
    // what a side is, without its object
    let text = refused(&file("shore"));
    assert!(text.contains("entry 4: \"shore\" cannot be read here; what a side is stands in an object: { \"side\": \"shore\" }"), "{text}");
    let text = refused(&file("coast"));
    assert!(text.contains("{ \"side\": \"shore\", \"along\": \"coast\" }"), "{text}");
    for (key, value, mend) in [
        ("coast", json!(["coast.geojson"]), "move it to the top of the file"),
        ("along", json!("coast"), "move it to the edges that it is about"),
        ("level", json!("mean high water"), "move it to the edges that it is about"),
    ] {
        let mut in_properties = file("rhumb");
        in_properties["features"][0]["properties"][key] = value;
        let text = refused(&in_properties);
        assert!(text.contains(&format!("\"{key}\" stands in \"properties\"; {mend}")), "{text}");
    }
    // beside "takeline" it is left to other programs, but has no effect
    let mut beside = file("rhumb");
    beside["coast"] = json!(["coast.geojson"]);
    let (_, warnings) = read(&beside, &[]);
    assert_eq!(warnings.len(), 1, "{warnings:?}");
    assert_eq!(warnings[0].kind, WarningKind::NoEffect);
    assert!(warnings[0].to_string().contains("beside \"takeline\""), "{}", warnings[0]);
}

#[test]
fn a_coast_that_is_not_followed_is_told_with_edge_and_mend() {
    let told = |edge: &Value, coasts: &[Coast]| {
        let (_, warnings) = read(&file(edge.clone()), coasts);
        assert_eq!(warnings.len(), 1, "{warnings:?}");
        warnings[0].to_string()
    };
    let along = json!({ "along": "coast" });
    let text = told(&along, &[]);
    assert!(
        text.contains("vertex 4 (of 4): the side to the next vertex (edge 4) follows the coast"),
        "{text}"
    );
    assert!(text.contains("name its file for the whole file"), "{text}");
    let isle = [at(45.20, -30.11), at(45.20, -30.10), at(45.21, -30.10)].to_vec();
    let mut elsewhere = Coast::from_lines(vec![CoastLine::island(isle)], Metres::ZERO).unwrap();
    elsewhere.title = Some("Gull Holm".to_owned());
    let text = told(&along, &[elsewhere]);
    assert!(text.contains("does not lead there (Gull Holm: "), "{text}");
    assert!(text.contains("farther than 100 m"), "{text}");
    assert!(text.ends_with("correct the vertex, or give the coast that it lies on"), "{text}");
}

/// Found by trying: a mole 6 m wide hid that there is other water behind it.
#[test]
fn the_land_behind_is_no_wider_than_the_coast_draws_it() {
    // a mole that runs north from a coast, 8 m wide: 0.0001° of longitude at 45.12° N is 7.9 m
    let mole = [
        (45.10, -30.13),
        (45.115, -30.12),
        (45.12, -30.12),
        (45.12, -30.1199),
        (45.115, -30.1199),
        (45.10, -30.11),
    ];
    let line = CoastLine::island(mole.map(|(lat, lon)| at(lat, lon)).to_vec());
    let coast = Coast::from_lines(vec![line], Metres::non_negative(2.0).unwrap()).unwrap();
    let text = with_geometry_and_edges(
        json!([[[-30.12, 45.12], [-30.14, 45.12], [-30.14, 45.115], [-30.12, 45.115]]]),
        json!(["rhumb", "rhumb", "rhumb", { "along": "coast" }]),
    );
    let (boundary, _) = read(&text, &[coast]);
    // 3 m before the mole: behind it, 3 + 5 m off at least and 2 m in doubt, is other water
    let to_leave = boundary.how_far(at(45.1175, -30.120_038)).to_leave.unwrap().metres();
    assert!((to_leave - (3.0 + 5.0 - 2.0)).abs() < 0.1, "{to_leave}");
}

/// Found by trying: the leg from a vertex in the water to the coast was a beach.
#[test]
fn what_joins_a_vertex_in_the_water_to_the_coast_is_no_beach() {
    // 79 m off the coast, on both ends
    let text = with_geometry_and_edges(
        json!([[[-30.111, 45.125], [-30.13, 45.125], [-30.13, 45.11], [-30.111, 45.11]]]),
        json!(["rhumb", "rhumb", "rhumb", { "along": "coast" }]),
    );
    let (boundary, _) = read(&text, &[coast()]);
    let joint = boundary.side_nearest(at(45.1249, -30.1105));
    assert_eq!(joint.kind, SideKind::Open);
    assert!((joint.uncertainty.unwrap().metres() - 39.3).abs() < 0.5, "{joint:?}");
    assert_eq!(boundary.side_nearest(at(45.1225, -30.1102)).kind, SideKind::Shore);
}
