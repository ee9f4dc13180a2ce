//! `takeline zones compare`, by the program: text, JSON and page of the two editions of the demo, and what it refuses.

#![expect(clippy::unwrap_used, clippy::panic, reason = "a test whose program does not even run has failed")]

use std::path::{Path, PathBuf};

use assert_cmd::Command;
use serde_json::Value;
use tempfile::TempDir;

const OLD: &str = "demo-data/editions/marrowick-2025.json";
const NEW: &str = "demo-data/zones/marrowick.json";

struct Outcome {
    status: i32,
    out: String,
    err: String,
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

#[track_caller]
fn compare(arguments: &[&str]) -> Outcome {
    let mut command = Command::new(env!("CARGO_BIN_EXE_takeline"));
    command.args(["zones", "compare"]).args(arguments).args(["--settings", "none"]).current_dir(root());
    for name in ["TAKELINE_ZONES", "TAKELINE_SETTINGS", "COLUMNS"] {
        command.env_remove(name);
    }
    let output = command.output().unwrap();
    let [out, err] = [output.stdout, output.stderr].map(|bytes| String::from_utf8(bytes).unwrap());
    Outcome { status: output.status.code().unwrap(), out, err }
}

#[track_caller]
fn json(arguments: &[&str]) -> Value {
    let outcome = compare(&[arguments, &["--format", "json"]].concat());
    serde_json::from_str(&outcome.out).unwrap_or_else(|error| panic!("{error}: {}", outcome.err))
}

/// A file of one box in a folder, with these properties and this edge from south to north.
fn written(folder: &TempDir, name: &str, properties: &Value, east: f64) -> String {
    let mut own = serde_json::json!({
        "name": "Owl Roads", "edges": "rhumb", "take": "none", "source": { "instrument": "Marrowick Order 3" }
    });
    for (key, value) in properties.as_object().unwrap() {
        own[key] = value.clone();
    }
    let file = serde_json::json!({
        "type": "FeatureCollection",
        "takeline": { "format": "takeline.zones/1", "datum": "WGS 84", "time_zone": "UTC" },
        "features": [ {
            "type": "Feature", "id": "owl-roads", "properties": own,
            "geometry": { "type": "Polygon", "coordinates": [[[-30.2, 45.1], [east, 45.1], [east, 45.2], [-30.2, 45.2]]] }
        } ]
    });
    let path = folder.path().join(name);
    std::fs::write(&path, file.to_string()).unwrap();
    path.display().to_string()
}

#[test]
fn the_text_of_the_demo_says_what_binds_more_first() {
    let text = compare(&[OLD, NEW]);
    assert_eq!((text.status, text.err.as_str()), (1, ""));
    let lines: Vec<&str> = text.out.lines().take(3).collect();
    assert!(lines[0].starts_with("CHANGED: ") && lines[0].ends_with("4 new, 4 gone"), "{lines:?}");
    assert_eq!(lines[1], "CLOSED NOW: 2.6 ha or more, see below");
    let plain = text.out.split_whitespace().collect::<Vec<_>>().join(" ");
    for said in [
        "Kelp Garden: where the zone lies was known, and is not any more",
        "Northern Parallels: sides from vertex 1, vertex 3 run: now as a rhumb line; before, in a way that nobody states",
        "Takeline is not an instrument of navigation.",
        "Rules change; a closure by notice cannot be known offline.",
    ] {
        assert!(plain.contains(said), "{said}: {}", text.out);
    }
    assert!(plain.contains("two-banks was split into"), "{}", text.out);
}

#[test]
fn the_json_of_the_demo_has_a_code_beside_every_text() {
    let document = json(&[OLD, NEW]);
    assert_eq!(
        (&document["schema"], &document["exit_status"]),
        (&"takeline.zones-compare/1".into(), &1.into())
    );
    assert_eq!(document["closed_somewhere"], 1);
    let length = |list: &Value| list.as_array().unwrap().len();
    for zone in document["changed"].as_array().unwrap() {
        for (texts, beside) in [
            ("line", "line_codes"),
            ("line", "line_effects"),
            ("rules", "rules_codes"),
            ("rules", "rules_effects"),
        ] {
            assert_eq!(length(&zone[texts]), length(&zone[beside]), "{} {texts}", zone["zone_id"]);
        }
    }
    let of = |id: &str| {
        let changed = document["changed"].as_array().unwrap();
        changed.iter().find(|zone| zone["zone_id"] == id).unwrap_or_else(|| panic!("{id}"))
    };
    assert_eq!(length(&of("northern-parallels")["edges"]), 4);
    assert_eq!(length(&of("sallow-cove")["sides"]), 1);
    assert_eq!(length(&of("ring-shoal")["rings_added"]), 1);
    let circle = &of("curlew-pinnacle")["circles"][0];
    assert_eq!((&circle["old_radius_m"], &circle["radius_m"]), (&120.0.into(), &150.0.into()));
}

#[test]
fn the_page_of_the_demo_is_written_whole_and_fetches_nothing() {
    let folder = TempDir::new().unwrap();
    let page = folder.path().join("editions.html");
    let outcome = compare(&[OLD, NEW, "--html", page.to_str().unwrap()]);
    assert_eq!((outcome.status, outcome.err.as_str()), (1, ""));
    let page = std::fs::read_to_string(page).unwrap();
    assert!(
        page.starts_with("<!DOCTYPE html>") && page.trim_end().ends_with("</html>"),
        "{}",
        &page[page.len() - 40..]
    );
    assert!(!page.contains("http://") && !page.contains("https://") && !page.contains("<script"));
    for said in ["Lantern Reach", "Bear in mind", "Takeline is not an instrument of navigation."] {
        assert!(page.contains(said), "{said}");
    }
    assert!(!page.contains("360°"), "bearings run from 000° to 359°");
}

#[test]
fn the_same_file_twice_and_the_same_in_other_words_is_nothing() {
    let same = compare(&[NEW, NEW]);
    assert_eq!(same.status, 0);
    assert!(same.out.starts_with("THE SAME: nothing differs\n"), "{}", same.out);
    let folder = TempDir::new().unwrap();
    let when = |days: &[&str]| serde_json::json!({ "when": { "weekdays": days }, "datum": "WGS-84" });
    let old = written(&folder, "old.json", &when(&["saturday", "sunday"]), -30.1);
    let new = written(&folder, "new.json", &when(&["sunday", "saturday"]), -30.1);
    assert_eq!(compare(&[&old, &new]).status, 0);
}

/// Ten sides that became shore were counted as harmless from the seventh on, since their words were cut.
#[test]
fn whatever_the_words_are_a_side_that_became_shore_is_undecided() {
    let folder = TempDir::new().unwrap();
    let edges = |side: &str| {
        let edge = serde_json::json!({ "runs": "rhumb", "side": side });
        serde_json::json!({ "edges": [edge, edge, edge, edge] })
    };
    let old = written(&folder, "old.json", &edges("open"), -30.1);
    let new = written(&folder, "new.json", &edges("shore"), -30.1);
    let document = json(&[&old, &new]);
    let zone = &document["changed"][0];
    assert_eq!(zone["line_codes"], serde_json::json!(["sides-restated"]));
    assert_eq!(zone["line_effects"], serde_json::json!(["undecided"]));
    assert_eq!(zone["sides"].as_array().unwrap().len(), 4);
}

#[test]
fn what_cannot_be_read_or_was_typed_wrongly_is_no_answer() {
    let folder = TempDir::new().unwrap();
    let broken = folder.path().join("broken.json");
    std::fs::write(&broken, "{").unwrap();
    let outcome = compare(&[broken.to_str().unwrap(), NEW]);
    assert_eq!((outcome.status, outcome.out.as_str()), (3, ""));
    assert!(outcome.err.contains("broken.json"), "{}", outcome.err);
    assert_eq!(compare(&[NEW]).status, 2);
}
