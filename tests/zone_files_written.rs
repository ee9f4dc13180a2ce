//! What the commands of `takeline zones` write: nothing goes over a file unasked, nor over one that the run reads; and what an export says
//! of the lines in it.

#![expect(clippy::unwrap_used, reason = "a test whose program does not even run has failed")]

use std::fs;
use std::path::Path;

use serde_json::{Value, json};
use tempfile::TempDir;

#[path = "program.rs"]
mod program;

use program::{Outcome, run};

/// A folder with the demo's shore waters, the coast that they name, and one zone in words of a law.
fn folder() -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data");
    for (from, to) in [
        ("zones/shore-waters.json", "zones/shore-waters.json"),
        ("zones/harbour-board.json", "zones/harbour-board.json"),
        ("coast/marrowick.geojson", "coast/marrowick.geojson"),
        ("law/otter-ledge.txt", "otter-ledge.txt"),
    ] {
        fs::create_dir_all(folder.path().join(to).parent().unwrap()).unwrap();
        fs::copy(demo.join(from), folder.path().join(to)).unwrap();
    }
    fs::write(
        folder.path().join("cove.wkt"),
        "SRID=4326;POLYGON ((-30.13 45.11, -30.11 45.11, -30.11 45.125, -30.13 45.11))",
    )
    .unwrap();
    folder
}

#[track_caller]
fn ran(folder: &TempDir, line: &str) -> Outcome {
    run(folder.path(), None, &line.split(' ').collect::<Vec<_>>(), "")
}

/// Every command that writes a file, without the name of the file.
const WRITERS: [&str; 5] = [
    "zones draft otter-ledge.txt --take none --name Otter --out",
    "zones import cove.wkt --out",
    "zones export zones/shore-waters.json --to csv --out",
    "zones show zones/shore-waters.json --html",
    "zones compare zones/shore-waters.json zones/harbour-board.json --html",
];

#[test]
fn a_file_that_is_there_is_replaced_only_when_that_is_asked_for() {
    let folder = folder();
    let precious = folder.path().join("precious.json");
    for writer in WRITERS {
        fs::write(&precious, "by hand").unwrap();
        let refused = ran(&folder, &format!("{writer} precious.json"));
        assert_eq!(refused.status, 2, "{writer}: {}{}", refused.out, refused.err);
        assert!(
            refused.err.contains("precious.json is there already") && refused.err.contains("--overwrite"),
            "{}",
            refused.err
        );
        assert_eq!(fs::read_to_string(&precious).unwrap(), "by hand", "{writer}");
        let replaced = ran(&folder, &format!("{writer} precious.json --overwrite"));
        assert!(replaced.status < 2, "{writer}: {}", replaced.err);
        assert_ne!(fs::read_to_string(&precious).unwrap(), "by hand", "{writer}");
    }
}

#[test]
fn the_coast_that_a_zone_file_names_is_never_replaced() {
    let folder = folder();
    let coast = folder.path().join("coast/marrowick.geojson");
    let before = fs::read(&coast).unwrap();
    for writer in &WRITERS[2..] {
        let refused = ran(&folder, &format!("{writer} coast/marrowick.geojson --overwrite"));
        assert_eq!(refused.status, 2, "{writer}: {}", refused.err);
        assert!(refused.err.contains("would overwrite a file that is being read"), "{}", refused.err);
        assert_eq!(fs::read(&coast).unwrap(), before, "{writer}");
    }
    // other commands have no such option, and go by the same rule
    fs::write(folder.path().join("log.csv"), "time,lat,lon\n2026-05-01T10:00:00Z,45.1,-30.1\n").unwrap();
    let track = ran(&folder, "track log.csv --zones zones/shore-waters.json --html coast/marrowick.geojson");
    assert_eq!(fs::read(&coast).unwrap(), before, "{}", track.err);
    assert!(track.err.contains("this run reads it"), "{}", track.err);
}

/// A zone of one square with these members.
fn zone(properties: &Value) -> Value {
    json!({
        "type": "FeatureCollection",
        "takeline": { "format": "takeline.zones/1", "title": "invented", "datum": "NAD 83", "time_zone": "UTC" },
        "features": [{ "type": "Feature", "id": "a", "properties": properties, "geometry": {
            "type": "Polygon", "coordinates": [[[-30.2, 45.0], [-29.2, 45.0], [-29.2, 45.3], [-30.2, 45.3], [-30.2, 45.0]]] } }]
    })
}

fn exported(properties: &Value, words: &str) -> String {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("a.json"), zone(properties).to_string()).unwrap();
    let outcome = ran(&folder, &format!("zones export a.json --out out --to {words}"));
    assert_eq!(outcome.status, 0, "{}", outcome.err);
    fs::read_to_string(folder.path().join("out")).unwrap()
}

#[test]
fn an_export_says_every_doubt_of_its_lines() {
    let side = json!({ "runs": "rhumb", "side": "shore", "uncertainty_m": 500 });
    let properties = json!({
        "name": "A", "take": "none", "edges": [side, "rhumb", "rhumb", "rhumb"], "line_uncertainty_m": 5, "source": { "instrument": "Invented" }
    });
    for format in ["gpx", "geojson", "csv", "kml"] {
        let text = exported(&properties, format);
        // 500 m of the side, and of the line 5 m and of the datum 2 m together
        assert!(text.contains("may themselves be off by up to 506 m"), "{text}");
        assert!(!text.contains("does not say how they run"), "{text}");
    }
    let unstated =
        json!({ "name": "A", "take": "none", "edges": "unstated", "source": { "instrument": "Invented" } });
    let text = exported(&unstated, "gpx");
    let figure = text.split_once("read otherwise they run up to ").unwrap().1;
    let figure: f64 = figure.split(' ').next().unwrap().parse().unwrap();
    // in the middle of 1° along the parallel of 45.3° the geodesic runs about λ²/8 · sin φ · cos φ · R = 121 m beside it
    assert!((119.0..124.0).contains(&figure), "{figure}");
    let side = json!({ "runs": "rhumb", "side": "unresolved" });
    let unresolved = json!({ "name": "A", "take": "none", "edges": [side, "rhumb", "rhumb", "rhumb"], "source": { "instrument": "Invented" } });
    let text = exported(&unresolved, "gpx");
    assert!(text.contains("drawn straight from corner to corner, which they are not: a."), "{text}");
    assert!(text.contains("be off by up to 39"), "half of a side of 79 km: {text}");
}

#[test]
fn an_export_answers_in_json() {
    let folder = folder();
    let outcome = ran(
        &folder,
        "zones export zones/shore-waters.json --to gpx --standoff-m 200 --out out.gpx --format json",
    );
    let told: Value =
        serde_json::from_str(&outcome.out).unwrap_or_else(|error| panic!("{error}: {}", outcome.err));
    assert_eq!(told["schema"], "takeline.zones-export/1");
    assert_eq!(told["exit_status"], outcome.status);
    assert!(
        told["standoff"]["nearest_m"].as_f64().unwrap() >= 200.0
            && told["line_doubt_m"].as_f64().unwrap() >= 5.0,
        "{told:#}"
    );
    assert_eq!(told["unresolved"], json!(["long-strand"]));
}

#[test]
fn a_zone_that_is_no_law_says_so_in_its_name() {
    let properties = json!({ "name": "A", "take": "none", "edges": "rhumb", "status": "repealed", "source": { "instrument": "Invented" } });
    for format in ["gpx", "kml", "geojson", "csv"] {
        let text = exported(&properties, format);
        assert!(text.contains("a (repealed)"), "{format}: {text}");
    }
    let dated = json!({ "name": "A", "take": "none", "edges": "rhumb", "effective": { "until": "2025-06-01" }, "source": { "instrument": "Invented" } });
    assert!(exported(&dated, "gpx").contains("It has effect until 2025-06-01 00:00."));
}

#[test]
fn a_table_that_was_exported_is_imported_again_with_its_names() {
    let folder = tempfile::tempdir().unwrap();
    let mut file =
        zone(&json!({ "name": "A", "take": "none", "edges": "rhumb", "source": { "instrument": "x,=1+1" } }));
    file["features"][0]["id"] = "=HYPERLINK(\"http://example.invalid\")".into();
    fs::write(folder.path().join("a.json"), file.to_string()).unwrap();
    assert_eq!(ran(&folder, "zones export a.json --to csv --out a.csv").status, 0);
    let table = fs::read_to_string(folder.path().join("a.csv")).unwrap();
    assert!(table.contains("\"'=HYPERLINK(") && table.contains("x,'=1+1"), "{table}");
    fs::write(folder.path().join("map.toml"), "[fields]\nid = \"zone_id\"\n").unwrap();
    let outcome = ran(&folder, "zones import a.csv --map map.toml --from EPSG:4269 --out b.json");
    assert_eq!(outcome.status, 1, "{}", outcome.err);
    let back: Value = serde_json::from_slice(&fs::read(folder.path().join("b.json")).unwrap()).unwrap();
    assert_eq!(back["features"][0]["id"], file["features"][0]["id"]);
    assert_eq!(back["features"][0]["geometry"]["coordinates"][0][1], json!([-29.2, 45.0]));
}
