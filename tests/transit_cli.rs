//! `takeline transit` as a script sees it: arguments, streams, files and exit status.
//!
//! The mathematics is tested below the binary (`transits.rs`, `calibrate.rs`, `find_pairs.rs`, `lines_of_position.rs`);
//! here it is that the wires are connected, and that the keys which scripts rely on carry what they say. Places, distances
//! and bearings that are expected here were computed with geographiclib 2.1 for Python, Karney's own code and none that
//! the program uses: `Direct`, `Inverse`, and for distances to an edge `InverseLine` with a ternary search.

#![expect(clippy::unwrap_used, reason = "a test whose program does not even run has failed")]

#[path = "program.rs"]
mod program;

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;
use tempfile::TempDir;

use program::Outcome;

#[path = "transit_cli/calibrate.rs"]
mod calibrate;
#[path = "transit_cli/coast.rs"]
mod coast;
#[path = "transit_cli/contract.rs"]
mod contract;
#[path = "transit_cli/cross.rs"]
mod cross;
#[path = "transit_cli/find.rs"]
mod find;
#[path = "transit_cli/outputs.rs"]
mod outputs;
#[path = "transit_cli/typed_positions.rs"]
mod typed_positions;
#[path = "transit_cli/wrong_input.rs"]
mod wrong_input;

const MORNING: &str = "2026-07-05T08:00:00Z";
const LANDMARKS: &str = "demo-data/landmarks.geojson";
const ZONES: &str = "demo-data/zones";
/// Marks and stretch of the demo line, which keeps north of Sallow Cove Reserve.
const LINE: [&str; 8] =
    ["--front", "day-beacon", "--rear", "lone-pine", "--near-m", "100", "--far-m", "1400"];

impl Outcome {
    /// The one JSON document on standard output, which has to tell the exit status that the process had.
    #[track_caller]
    fn json(&self) -> Value {
        let document: Value = serde_json::from_str(&self.out).expect(&self.err);
        assert_eq!(document["exit_status"], self.status, "{}", self.err);
        document
    }

    /// The text without its line breaks.
    fn unwrapped(&self) -> String {
        self.out.split_whitespace().collect::<Vec<_>>().join(" ")
    }
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// Runs the program with no zones and no config folder but those that `arguments` name.
///
/// Whatever is asked, it never panics and never pronounces what it cannot know.
#[track_caller]
fn takeline(folder: &Path, arguments: &[&str], input: &str) -> Outcome {
    let outcome = program::run(folder, None, arguments, input);
    assert!(matches!(outcome.status, 0..=3), "{}: {}", outcome.status, outcome.err);
    assert!(!outcome.err.contains("panicked"), "{}", outcome.err);
    for stream in [&outcome.out, &outcome.err] {
        let stream = stream.to_lowercase().replace("false-safe", "").replace("false_safe", "");
        assert!(!stream.contains("legal") && !stream.contains("safe"), "{stream}");
    }
    outcome
}

/// Asks about the demo scenario at a summer morning.
#[track_caller]
fn demo(command: &str, arguments: &[&str]) -> Outcome {
    let base = ["transit", command, "--landmarks", LANDMARKS, "--zones", ZONES, "--time", MORNING];
    takeline(&root(), &[&base, arguments].concat(), "")
}

/// A folder with one zone file, the smallest there can be: a no-take rectangle between the corners in the south-west and in
/// the north-east, latitude first.
fn rectangle((south, west): (f64, f64), (north, east): (f64, f64)) -> TempDir {
    let folder = TempDir::new().unwrap();
    let file = format!(
        r#"{{ "type": "FeatureCollection",
             "takeline": {{ "format": "takeline.zones/1", "title": "Marrowick", "edition": "2026-1", "datum": "WGS 84",
                            "time_zone": "UTC", "taxa": [], "groups": [] }},
             "features": [ {{ "type": "Feature", "id": "cove",
                "geometry": {{ "type": "Polygon", "coordinates": [[[{west}, {south}], [{east}, {south}], [{east}, {north}],
                               [{west}, {north}], [{west}, {south}]]] }},
                "properties": {{ "name": "The Cove", "edges": "geodesic", "take": "none",
                                "source": {{ "instrument": "Marrowick Order 3" }} }} }} ] }}"#
    );
    fs::write(folder.path().join("zones.geojson"), file).unwrap();
    folder
}

/// The reserve at Sallow Cove by its corners.
fn cove() -> TempDir {
    rectangle((45.110, -30.150), (45.124, -30.117))
}

#[track_caller]
fn near(value: &Value, expected: f64, tolerance: f64) {
    let found = value.as_f64().expect("a number");
    assert!((found - expected).abs() <= tolerance, "{found} and not {expected} ±{tolerance}");
}

/// Problems of a document by their codes.
fn codes(document: &Value) -> Vec<&str> {
    document["problems"].as_array().unwrap().iter().map(|problem| problem["code"].as_str().unwrap()).collect()
}
