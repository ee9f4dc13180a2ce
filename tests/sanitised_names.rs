//! A name from a file that would turn text around, or that a spreadsheet would run, does neither in any format.

#![expect(clippy::unwrap_used, reason = "a test whose program does not even run has failed")]

use std::fs;
use std::path::{Path, PathBuf};

use assert_cmd::Command;
use serde_json::Value;
use takeline::sanitised::is_harmful;
use tempfile::TempDir;

const ZONE: &str = "=Sallow\u{202e} Cove";
const MARK: &str = "Lone\u{2066} Pine";
const MORNING: &str = "2026-07-05T08:00:00Z";

/// The demo files, one zone and one mark named to do harm.
fn marrowick() -> TempDir {
    let folder = TempDir::new().unwrap();
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data");
    let copy = |from: PathBuf, to: &str, name: &str, harmful: &str| {
        let text = fs::read_to_string(from).unwrap();
        assert!(text.contains(name), "{name}");
        fs::write(folder.path().join(to), text.replace(name, harmful)).unwrap();
    };
    copy(demo.join("zones/marrowick.json"), "zones.json", "Sallow Cove Reserve", ZONE);
    copy(demo.join("landmarks.geojson"), "landmarks.geojson", "Lone Pine", MARK);
    fs::copy(demo.join("trips/launch-and-cross.gpx"), folder.path().join("a.gpx")).unwrap();
    folder
}

#[track_caller]
fn answer(folder: &TempDir, arguments: &[&str]) -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_takeline"))
        .args(arguments)
        .current_dir(folder.path())
        .env("TAKELINE_ZONES", "zones.json")
        .env("XDG_CONFIG_HOME", folder.path().join("config"))
        .output()
        .unwrap();
    let err = String::from_utf8(output.stderr).unwrap();
    assert!(!err.contains("error"), "{err}");
    expect_harmless("standard error", &err);
    String::from_utf8(output.stdout).unwrap()
}

#[track_caller]
fn expect_harmless(what: &str, text: &str) {
    let lines = text.replace("\r\n", "\n");
    let found: Vec<char> = lines.chars().filter(|letter| *letter != '\n' && is_harmful(*letter)).collect();
    assert!(found.is_empty(), "{what}: {found:?}");
}

/// Every text of a document.
fn texts(document: &Value) -> Vec<&str> {
    match document {
        Value::String(text) => vec![text],
        Value::Array(list) => list.iter().flat_map(texts).collect(),
        Value::Object(members) => members.values().flat_map(texts).collect(),
        Value::Null | Value::Bool(_) | Value::Number(_) => Vec::new(),
    }
}

#[test]
fn text_and_json_hold_no_character_that_turns_text_around() {
    let folder = marrowick();
    let line = ["--landmarks", "landmarks.geojson", "--front", "day-beacon", "--rear", "lone-pine"];
    let check = [&["transit", "check"], &line[..], &["--near-m", "100", "--far-m", "1400"]].concat();
    let here = ["here", "45.1180", "-30.1200"];
    for (asked, name) in [(&here[..], ZONE), (&["track", "a.gpx"], ZONE), (&check, MARK)] {
        let timed = if asked[0] == "track" { vec![] } else { vec!["--time", MORNING] };
        let asked = [asked, &timed].concat();
        let text = answer(&folder, &asked);
        expect_harmless("text", &text);
        assert!(text.contains(&name[..4]), "{text}");
        let json = answer(&folder, &[&asked[..], &["--format", "json"]].concat());
        expect_harmless("JSON", &json);
        let document: Value = serde_json::from_str(&json).unwrap();
        assert!(texts(&document).contains(&name), "JSON loses nothing of {name:?}: {json}");
    }
}

#[test]
fn named_files_hold_none_either_and_no_cell_is_a_formula() {
    let folder = marrowick();
    let read = |name: &str| fs::read_to_string(folder.path().join(name)).unwrap();
    let outs = ["--csv", "a.csv", "--geojson", "a.geojson", "--html", "a.html"];
    answer(&folder, &[&["track", "a.gpx"], &outs[..]].concat());
    let line = ["--landmarks", "landmarks.geojson", "--front", "day-beacon", "--rear", "lone-pine"];
    let outs = ["--svg", "b.svg", "--card", "b.html", "--geojson", "b.geojson", "--gpx", "b.gpx"];
    let asked = ["transit", "check", "--time", MORNING, "--near-m", "100", "--far-m", "1400"];
    answer(&folder, &[&asked[..], &line, &outs].concat());
    for name in ["a.csv", "a.geojson", "a.html", "b.svg", "b.html", "b.geojson", "b.gpx"] {
        expect_harmless(name, &read(name));
    }
    let table = read("a.csv");
    assert!(table.contains(",'=Sallow\u{fffd} Cove,"), "{table}");
    // a depth below zero is a number, not a text that begins with a sign
    let features: Value = serde_json::from_str(&read("a.geojson")).unwrap();
    assert!(texts(&features).contains(&ZONE));
    let features: Value = serde_json::from_str(&read("b.geojson")).unwrap();
    assert!(texts(&features).contains(&MARK));
}
