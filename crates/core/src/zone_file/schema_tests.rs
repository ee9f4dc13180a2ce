use std::path::PathBuf;

use serde_json::Value;

use super::json_schema;

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
        if !name.starts_with("template-") {
            continue;
        }
        let bytes = std::fs::read(&path).expect("can be read");
        let loaded = super::read(&name, &bytes).unwrap_or_else(|error| panic!("{error}"));
        assert!(loaded.warnings.is_empty(), "{name}: {:?}", loaded.warnings);
        read += 1;
    }
    assert_eq!(read, 6, "templates read");
}
