//! Coasts, and files given as something that they are not: what they are is told, and how they are given.

use std::path::PathBuf;

use super::*;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// The demo as somebody has it who works in its folder.
fn demo(arguments: &[&str]) -> Outcome {
    let here = ["here", "45.1182", "-30.1217", "--brief"];
    takeline(&root(), &[&here[..], arguments].concat(), "")
}

const ZONES: [&str; 2] = ["--zones", "demo-data/zones"];
const COAST: &str = "demo-data/coast/marrowick.geojson";

#[track_caller]
fn told(outcome: &Outcome, status: i32, words: &[&str]) {
    assert_eq!(outcome.status, status, "{}", outcome.err);
    for word in words {
        assert!(outcome.err.contains(word), "{word}: {}", outcome.err);
    }
}

#[test]
fn a_file_of_another_sort_is_told_by_its_sort_and_how_it_is_given() {
    let coast = |path: &str| demo(&[&ZONES[..], &["--coast", path]].concat());
    told(&demo(&["--zones", COAST]), 3, &["is not a zone file: it is a coast", "--coast demo-data/coast"]);
    let landmarks = "demo-data/landmarks.geojson";
    told(
        &demo(&["--zones", landmarks]),
        3,
        &["it is a file of landmarks", "--landmarks demo-data/landmarks"],
    );
    let trip = "demo-data/trips/launch-and-cross.gpx";
    told(
        &demo(&["--zones", trip]),
        3,
        &["is not a zone file: it is a log", "takeline track demo-data/trips"],
    );
    let zones = "demo-data/zones/marrowick.json";
    told(&coast(zones), 3, &["is not a coast: it is a zone file", "--zones demo-data/zones/marrowick.json"]);
    told(&coast(landmarks), 3, &["is not a coast: it is a file of landmarks"]);
    told(&coast(trip), 3, &["is not a coast: it is a log", "GeoJSON of lines or polygons"]);
    told(&coast("demo-data/fixes.csv"), 3, &["is not a coast: it is a log"]);
    told(&coast("README.md"), 3, &["is not a coast: it is not JSON"]);
    told(
        &coast("demo-data/coast"),
        3,
        &["is a folder, and a coast is one file", &format!("--coast {COAST}")],
    );
    // a coast need not say that it is one
    let folder = marrowick();
    fs::write(
        folder.path().join("bare.geojson"),
        r#"{ "type": "LineString", "coordinates": [[0, 0], [1, 1]] }"#,
    )
    .unwrap();
    let bare = takeline(folder.path(), &["here", "45.11", "-30.12", "--zones", "bare.geojson"], "");
    told(&bare, 3, &["if it is a coast and not a zone file, give it after --coast: --coast bare.geojson"]);
}

#[test]
fn of_a_folder_the_one_inside_that_holds_the_zones_is_told() {
    let outcome = demo(&["--zones", "demo-data"]);
    told(&outcome, 3, &["demo-data holds no zone file itself", "give that folder: --zones demo-data/zones"]);
}

#[test]
fn a_coast_beside_zones_in_their_folder_is_no_zone_file_and_said_to_be_none() {
    let folder = marrowick();
    fs::copy(root().join(COAST), folder.path().join("coast.geojson")).unwrap();
    let here = ["here", "45.115", "-30.125", "--accuracy-m", "5", "--zones", "."];
    let outcome = takeline(folder.path(), &here, "");
    told(
        &outcome,
        1,
        &["coast.geojson: note: no zones are read from it: it is a coast", "--coast ./coast.geojson"],
    );
    // one that says it only in a remark is a zone file
    let remark = SALLOW_COVE.replace("\"title\"", "\"comment\": \"see takeline.coast/1\", \"title\"");
    fs::write(folder.path().join("marrowick.geojson"), remark).unwrap();
    assert_eq!(takeline(folder.path(), &here, "").status, 1);
}

#[test]
fn a_heading_that_is_not_in_degrees_true_is_told_how_to_write_it() {
    let heading = |heading: &str| demo(&[&ZONES[..], &["--heading", heading]].concat());
    told(&heading("NW"), 2, &["--heading NW: a point of the compass: write degrees true, 315"]);
    for magnetic in ["270M", "270 magnetic"] {
        told(
            &heading(magnetic),
            2,
            &["a magnetic heading", "add the variation if it is east", "`takeline transit check`"],
        );
    }
    told(&heading("361"), 2, &["--heading 361: not a heading: write degrees true, 0 to 360"]);
    assert_eq!(heading("270 true").out, heading("270").out);
}

#[test]
fn a_position_without_its_quotes_is_told_to_need_them() {
    let quoted = "--launch into quotes: --launch \"45.1 -30.1\"";
    told(&demo(&["--launch", "45.1", "-30.1", "--zones", "demo-data/zones"]), 2, &[quoted]);
    let here = ["here", "--launch", "45.1", "-30.1", "45.1182", "-30.1217", "--zones", "demo-data/zones"];
    told(&takeline(&root(), &here, ""), 2, &[quoted]);
    let find = ["transit", "find", "--landmarks", "demo-data/landmarks.geojson", "--launch", "45.1", "-30.1"];
    told(&takeline(&root(), &find, ""), 2, &[quoted]);
}

/// A coast at a place, of a kilometre.
fn isle(first_deg: f64, second_deg: f64) -> String {
    let at = |north: f64, east: f64| format!("[{}, {}]", first_deg + north, second_deg + east);
    format!(
        r#"{{ "type": "LineString", "takeline": {{ "format": "takeline.coast/1", "uncertainty_m": 5 }},
          "coordinates": [{}, {}, {}, {}] }}"#,
        at(0.0, 0.0),
        at(0.0, 0.01),
        at(0.01, 0.01),
        at(0.0, 0.0)
    )
}

#[test]
fn a_coast_far_from_every_zone_is_warned_of_once() {
    let folder = marrowick();
    let ask = |coast: &str| {
        fs::write(folder.path().join("isle.geojson"), coast).unwrap();
        let here = ["here", "45.115", "-30.125", "--zones", "marrowick.geojson", "--coast", "isle.geojson"];
        let outcome = takeline(folder.path(), &here, "");
        assert_eq!(outcome.status, 1, "{}", outcome.err);
        outcome.err
    };
    assert_eq!(ask(&isle(-30.15, 45.12)), "");
    // the latitude first
    let exchanged = ask(&isle(45.12, -30.15));
    assert_eq!(exchanged.matches("lies far from every loaded zone").count(), 1, "{exchanged}");
    for words in [
        "isle.geojson: warning: this coast",
        "from 30°09.000′S 045°07.200′E to 30°08.400′S 045°07.800′E",
        "km from Sallow Cove Reserve",
        "latitudes and longitudes are exchanged, it seems: the other way round it lies beside the zones",
    ] {
        assert!(exchanged.contains(words), "{words}: {exchanged}");
    }
    let elsewhere = ask(&isle(-20.0, 50.0));
    assert!(elsewhere.contains("latitudes and longitudes may be exchanged"), "{elsewhere}");
}

/// What one zone file names is no coast of another: else the answer would hang on which is read first.
#[test]
fn the_order_of_zone_files_does_not_change_which_coast_a_side_follows() {
    let folder = TempDir::new().unwrap();
    let write = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    let zone = |id: &str, coast: &str, east_deg: f64| {
        let west_deg = east_deg - 0.02;
        format!(
            r#"{{ "type": "FeatureCollection", "takeline": {{ "format": "takeline.zones/1", "datum": "WGS 84"{coast} }},
              "features": [ {{ "type": "Feature", "id": "{id}", "geometry": {{ "type": "Polygon", "coordinates":
                [[[{east_deg}, 45.13], [{west_deg}, 45.13], [{west_deg}, 45.11], [{east_deg}, 45.11]]] }},
                "properties": {{ "take": "none", "source": {{ "instrument": "Order 3" }},
                  "edges": ["rhumb", "rhumb", "rhumb", {{ "side": "shore", "along": "coast" }}] }} }} ] }}"#
        )
    };
    // an isle whose west side bulges east between the ends of the zone's side
    let coast = r#"{ "type": "Polygon", "takeline": { "format": "takeline.coast/1", "uncertainty_m": 5 }, "coordinates":
      [[[-30.11, 45.10], [-30.11, 45.115], [-30.10, 45.115], [-30.10, 45.12], [-30.11, 45.12], [-30.11, 45.14],
        [-30.08, 45.14], [-30.08, 45.10], [-30.11, 45.10]]] }"#;
    write("coast.geojson", coast);
    write("named.json", &zone("named", r#", "coast": ["coast.geojson"]"#, -30.11));
    write("silent.json", &zone("silent", "", -30.11));
    let ask = |order: [&str; 2]| {
        // in the cove, behind the chord
        let here = [
            "here",
            "45.1175",
            "-30.105",
            "--accuracy-m",
            "5",
            "--time",
            "2026-07-25T12:00:00Z",
            "--all",
            "--format",
            "json",
        ];
        let zones = ["--zones", order[0], "--zones", order[1]];
        let outcome = takeline(folder.path(), &[&here[..], &zones].concat(), "");
        let answer: serde_json::Value = serde_json::from_str(&outcome.out).unwrap();
        let mut sides: Vec<(String, String)> = answer["zones"]
            .as_array()
            .unwrap()
            .iter()
            .map(|zone| {
                (zone["id"].as_str().unwrap().to_owned(), zone["containment"].as_str().unwrap().to_owned())
            })
            .collect();
        sides.sort();
        sides
    };
    let found = ask(["named.json", "silent.json"]);
    assert_eq!(found, ask(["silent.json", "named.json"]));
    let expected = [("named", "inside"), ("silent", "undecided")];
    assert_eq!(found, expected.map(|(id, side)| (id.to_owned(), side.to_owned())));
}
