//! `--coast` beside marks in line: what of the line is land, marks in the water, and a bad coast.

use std::fs;

use serde_json::Value;
use tempfile::TempDir;

use super::{LANDMARKS, MORNING, root, takeline};

/// An isle behind the day beacon of the demo and around it, and an islet across its line 700 m seaward of it.
///
/// 0.01 degrees of longitude are 787 m there.
const COAST: &str = r#"{ "type": "FeatureCollection",
  "takeline": { "format": "takeline.coast/1", "title": "Test", "date": "2026-02-01", "datum": "WGS 84", "uncertainty_m": 5 },
  "features": [ { "type": "Feature", "properties": {}, "geometry": { "type": "MultiPolygon", "coordinates": [
    [[[-30.132, 45.124], [-30.120, 45.124], [-30.120, 45.127], [-30.132, 45.127], [-30.132, 45.124]]],
    [[[-30.142, 45.124], [-30.140, 45.124], [-30.140, 45.127], [-30.142, 45.127], [-30.142, 45.124]]]
  ] } } ] }"#;

fn with_coast(text: &str, more: &[&str]) -> super::Outcome {
    let folder = TempDir::new().unwrap();
    let coast = folder.path().join("coast.geojson");
    fs::write(&coast, text).unwrap();
    let line = ["--front", "day-beacon", "--rear", "lone-pine", "--near-m", "100", "--far-m", "1400"];
    // the other zones of the demo name the coast of the isle
    let base = [
        "transit",
        "check",
        "--landmarks",
        LANDMARKS,
        "--zones",
        "demo-data/zones/marrowick.json",
        "--time",
        MORNING,
    ];
    let coast = ["--coast", coast.to_str().unwrap(), "--format", "json"];
    takeline(&root(), &[&base[..], &line, &coast, more].concat(), "")
}

#[test]
fn land_on_the_line_and_a_mark_in_the_water_are_told() {
    let outcome = with_coast(COAST, &[]);
    let answer: Value = outcome.json();
    let problem = |code: &str| {
        let all = answer["problems"].as_array().unwrap();
        all.iter().find(|problem| problem["code"] == code).unwrap_or_else(|| panic!("{code}: {all:?}"))
    };
    // the beacon stands at 30.1310 W: the islet lies from 0.009 to 0.011 degrees west of it
    let part = &problem("line-over-land")["text_code"]["parts_m"][0];
    let ends = [part[0].as_f64().unwrap(), part[1].as_f64().unwrap()];
    assert!((ends[0] - 713.0).abs() < 8.0 && (ends[1] - 861.0).abs() < 8.0, "{part}");
    // the pine, at 30.1120 W, is 630 m east of all land of this coast
    let away_m = problem("mark-in-water")["text_code"]["distance_m"].as_f64().unwrap();
    assert!((away_m - 630.0).abs() < 8.0, "{away_m}");
    // land that the line crosses takes nothing from what is judged
    assert_eq!(answer["stretch_m"], serde_json::json!([100.0, 1400.0]));
}

#[test]
fn a_bad_coast_stops_the_answer() {
    let outcome = with_coast("{}", &[]);
    assert!(outcome.out.is_empty() && outcome.err.contains("coast.geojson"), "{}", outcome.err);
}
