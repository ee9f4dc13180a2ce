//! What a mapping does, and what it may not do.

use serde_json::{Value, json};

use super::*;

/// Two features of one reserve, and one of another.
const SOURCE: &str = r#"{ "type": "FeatureCollection", "features": [
  { "type": "Feature", "properties": { "SITE": "cove", "KIND": "No Take", "LAW": "Order 3", "R": null, "FID": 1 },
    "geometry": { "type": "Polygon", "coordinates": [[[-30.13, 45.11], [-30.11, 45.11], [-30.11, 45.125], [-30.13, 45.11]]] } },
  { "type": "Feature", "properties": { "SITE": "cove", "KIND": "No Take", "LAW": "Order 3", "FID": 2 },
    "geometry": { "type": "Polygon", "coordinates": [[[-30.13, 45.11], [-30.11, 45.125], [-30.13, 45.125], [-30.13, 45.11]]] } },
  { "type": "Feature", "properties": { "SITE": "rock", "KIND": "Mixed use", "R": "150", "LAW": "Order 4" },
    "geometry": { "type": "Point", "coordinates": [-30.2, 45.2] } } ] }"#;

const MAP: &str = r#"
[file]
title = "Reserves of Marrowick (invented)"
time_zone = "Atlantic/Azores"
[fields]
id = "SITE"
take = "KIND"
instrument = "LAW"
radius_m = "R"
[take]
"no take" = "none"
"#;

fn imported(source: &str, map: &str) -> Result<Imported, ImportError> {
    import(&Source::new("a.geojson", source.into()), &map.parse().unwrap(), None, None)
}

fn json_of(imported: &Imported) -> Value {
    serde_json::from_slice(&imported.bytes).unwrap()
}

#[test]
fn features_of_one_id_are_one_zone_and_words_without_a_meaning_leave_the_rule_open() {
    let imported = imported(SOURCE, MAP).unwrap();
    let file = json_of(&imported);
    assert_eq!((imported.zones, imported.features), (2, 3));
    assert_eq!(file["takeline"]["time_zone"], "Atlantic/Azores");
    let (cove, rock) = (&file["features"][0], &file["features"][1]);
    assert_eq!(cove["geometry"]["type"], "MultiPolygon");
    assert_eq!((&cove["properties"]["take"], &cove["properties"]["when"]), (&json!("none"), &Value::Null));
    assert_eq!(rock["properties"]["radius_m"], 150.0);
    assert!(rock["properties"]["when"]["unknowable"].is_string(), "{rock}");
    let notes: Vec<String> =
        imported.notes.iter().map(|note| format!("{}: {}", note.place, note.text)).collect();
    let notes = notes.join("\n");
    assert!(notes.contains("cove: one zone of 2 features with its id: feature 1, feature 2"), "{notes}");
    assert!(
        notes.contains("feature 3: [take] of the mapping does not say what \"Mixed use\" means"),
        "{notes}"
    );
    let loaded = takeline::zone_file::read("a", &imported.bytes).unwrap();
    let takeline::zone::Extent::Known(boundary) = &loaded.zones[0].extent else { panic!("known") };
    assert_eq!(boundary.outlines().len(), 1, "the two triangles share a side, and are one square");
}

#[test]
fn what_does_not_go_together_is_refused() {
    let other_law = SOURCE.replacen("Order 3", "Order 9", 1);
    let refused = imported(&other_law, MAP).unwrap_err().to_string();
    assert!(
        refused.contains("feature 2: it has the id \"cove\", as feature 1 has, and another source"),
        "{refused}"
    );
    let refused = imported(SOURCE, "[fields]\nid = \"CODE\"").unwrap_err().to_string();
    assert!(refused.contains("\"CODE\"") && refused.contains("fid, kind, law, r, site"), "{refused}");
    let refused = imported(SOURCE, "[fields]\nid = \"SITE\"").unwrap_err().to_string();
    assert!(
        refused.contains("feature 3: its shape is a point") && refused.contains("leave_out"),
        "{refused}"
    );
    let without = imported(SOURCE, "leave_out = [\"points\"]\n[fields]\nid = \"SITE\"").unwrap();
    assert!(without.notes.iter().any(|note| note.kind == NoteKind::Lost && note.place == "feature 3"));
    let blank = SOURCE.replace("\"rock\"", "\" \"");
    assert!(imported(&blank, MAP).unwrap_err().to_string().contains("which is the id, is blank"));
    let bad_radius = SOURCE.replace("\"150\"", "\"wide\"");
    assert!(imported(&bad_radius, MAP).unwrap_err().to_string().contains("radius_m is one"));
}

#[test]
fn a_mapping_never_opens_water() {
    for open in ["anything", "Anything"] {
        let map = MAP.replace("\"none\"", &format!("\"{open}\""));
        let refused = map.parse::<Mapping>().unwrap_err().to_string();
        assert!(refused.contains("\"no take\""), "{refused}");
        assert!(format!("[constants]\ntake = \"{open}\"").parse::<Mapping>().is_err());
    }
    for odd in [
        "[fields]\nnmae = \"x\"",
        "[file]\ndatum = \"WGS 84\"",
        "[constants]\nid = \"a\"",
        "[take]\na = 3",
        "nothing = 1",
        "leave_out = [\"zones\"]",
    ] {
        assert!(odd.parse::<Mapping>().is_err(), "{odd}");
    }
}

#[test]
fn the_template_is_a_mapping_and_maps_its_example() {
    let path = |name: &str| format!("{}/../../zones/{name}", env!("CARGO_MANIFEST_DIR"));
    let template = std::fs::read_to_string(path("template-import-map.toml")).unwrap();
    let mapping: Mapping = template.parse().unwrap();
    assert_ne!(mapping, Mapping::default());
}
