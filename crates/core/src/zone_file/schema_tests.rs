use std::path::PathBuf;

use serde_json::Value;

use super::{LoadedFile, json_schema};
use crate::coast::Coast;
use crate::zone::Extent;
use crate::{Position, SideKind};

fn zones_folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../zones")
}

/// `UPDATE_SCHEMA=1 cargo test -p takeline schema` writes the file anew.
#[test]
fn the_schema_in_zones_is_the_one_that_the_types_make() {
    let path = zones_folder().join("takeline.zones-1.schema.json");
    let made = serde_json::to_string_pretty(&json_schema()).expect("is JSON") + "\n";
    if std::env::var_os("UPDATE_SCHEMA").is_some() {
        std::fs::write(&path, &made).expect("can be written");
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(
        kept == made,
        "{} is out of date; run UPDATE_SCHEMA=1 cargo test -p takeline schema",
        path.display()
    );
}

#[test]
fn every_object_of_the_schema_is_closed_but_for_remarks() {
    let schema = json_schema();
    let closed = |object: &Value| object["additionalProperties"] == Value::Bool(false);
    let objects = schema["$defs"].as_object().expect("has definitions");
    let ours: Vec<_> = objects.iter().filter(|(_, object)| object["patternProperties"].is_object()).collect();
    assert!(ours.len() >= 25, "only {} objects", ours.len());
    assert!(ours.iter().all(|(_, object)| closed(object)));
    assert!(schema.to_string().contains("line_uncertainty_m"));
}

#[test]
fn every_template_in_zones_loads_without_a_warning() {
    let mut read = 0;
    for entry in std::fs::read_dir(zones_folder()).expect("is there") {
        let path = entry.expect("can be listed").path();
        let name = path.file_name().and_then(|name| name.to_str()).unwrap_or_default().to_owned();
        if !name.starts_with("template-") || !name.ends_with("json") || name == COAST {
            continue;
        }
        let bytes = std::fs::read(&path).expect("can be read");
        let loaded = super::read_along(&name, &bytes, &[coast()]).unwrap_or_else(|error| panic!("{error}"));
        assert!(loaded.warnings.is_empty(), "{name}: {:?}", loaded.warnings);
        read += 1;
    }
    assert_eq!(read, 7, "templates read");
}

/// The template of a coast, which that of a shore names.
const COAST: &str = "template-coast.geojson";

fn coast() -> Coast {
    let bytes = std::fs::read(zones_folder().join(COAST)).expect("can be read");
    let loaded = crate::coast::read(COAST, &bytes).expect("is sound");
    assert!(loaded.warnings.is_empty(), "{:?}", loaded.warnings);
    loaded.coast
}

/// The head of the cove lies 300 m east of the side as it is typed: 0.0038° of longitude at 45.165° N.
#[test]
fn the_template_of_a_shore_takes_the_cove_in() {
    let bytes = std::fs::read(zones_folder().join("template-shore.json")).expect("can be read");
    let followed = super::read_along("template-shore.json", &bytes, &[coast()]).expect("is sound");
    assert_eq!(followed.coasts, [COAST]);
    let in_the_cove = Position::from_degrees(45.165, -30.0565).expect("is a place");
    let signed_m = |loaded: &LoadedFile| {
        let Extent::Known(boundary) = &loaded.zones[0].extent else { panic!("no line") };
        (boundary.how_far(in_the_cove).signed_distance.metres(), boundary.side_nearest(in_the_cove).kind)
    };
    let (inside_m, side) = signed_m(&followed);
    assert!((-100.0..-40.0).contains(&inside_m), "{inside_m}");
    assert_eq!(side, SideKind::Shore);
    // without the coast it is nobody's to say
    let alone = super::read("template-shore.json", &bytes).expect("is sound");
    assert_eq!(alone.warnings.len(), 1, "{:?}", alone.warnings);
    let text = alone.warnings[0].to_string();
    assert!(text.contains("(edge 4) follows the coast, which is not given"), "{text}");
    assert!(text.contains("\"takeline\": { …, \"coast\": [\"coast.geojson\"] }"), "{text}");
    assert_eq!(signed_m(&alone).1, SideKind::Unresolved);
}
