//! The scenario in `demo-data/`, asked through the program: who applies, what may be kept, and how it is said.
//!
//! Every question carries its time, so no answer hangs on the day the tests run. Distances in metres were computed with
//! geographiclib 2.1 for Python, Karney's own code and none that the program uses: `InverseLine` along each edge, the
//! nearest point by ternary search, to 1 µm. They hold within 1 mm, the accuracy that the library claims.

mod fish;
mod input;
mod places;
mod times;

use std::path::{Path, PathBuf};

use serde_json::Value;

use super::{Outcome, takeline};

const NOON: &str = "2026-07-01T12:00:00Z";
const BEACH: &str = "45.1170 -30.1190";
const LANTERN_REACH: &str = "45.1150 -30.1750";
const OLD_HAVEN: &str = "45.1875 -30.1775";
const NURSERY_BANK: &str = "45.1575 -30.1775";
const WINTER_HOLLOW: &str = "45.1575 -30.1175";
const OWL_ROADS: &str = "45.0775 -30.1775";
const REGATTA_ROADS: &str = "45.0475 -30.1775";
const OPEN_WATER: &str = "45.30000 -30.10000";

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// What the program answers about one fix, as data and as text.
struct Answer {
    json: Value,
    text: String,
    status: i32,
}

/// Asks both ways; the two have to agree on the exit status, and neither may pronounce what the program cannot know.
#[track_caller]
fn ask(position: &str, time: &str, more: &[&str]) -> Answer {
    let base = ["here", position, "--zones", "demo-data/zones", "--time", time];
    let run = |format| takeline(&root(), &[&base, more, &["--format", format]].concat(), "");
    let (data, human) = (run("json"), run("human"));
    for outcome in [&data, &human] {
        assert_no_verdict_of_law(outcome);
    }
    let json: Value = serde_json::from_str(&data.out).expect(&data.err);
    assert_eq!(data.status, human.status);
    assert_eq!(json["exit_status"], data.status);
    Answer { json, text: human.out, status: data.status }
}

#[track_caller]
fn assert_no_verdict_of_law(outcome: &Outcome) {
    for stream in [&outcome.out, &outcome.err] {
        let stream = stream.to_lowercase();
        assert!(!stream.contains("legal") && !stream.contains("safe"), "{stream}");
    }
}

impl Answer {
    #[track_caller]
    fn says(&self, water: &str, status: i32, first_three: [&str; 3]) -> &Self {
        assert_eq!((self.json["water"].as_str(), self.status), (Some(water), status), "{}", self.text);
        let lines: Vec<_> = self.text.lines().take(3).collect();
        assert_eq!(lines, first_three);
        self
    }

    #[track_caller]
    fn zone(&self, id: &str) -> &Value {
        let found = self.json["zones"].as_array().unwrap().iter().find(|zone| zone["id"] == id);
        assert!(found.is_some(), "{id} is not listed: {}", self.json["zones"]);
        found.unwrap()
    }

    fn zone_ids(&self) -> Vec<&str> {
        self.json["zones"].as_array().unwrap().iter().map(|zone| zone["id"].as_str().unwrap()).collect()
    }

    #[track_caller]
    fn is_off(&self, id: &str, expected_m: f64) -> &Self {
        let distance_m = self.zone(id)["signed_distance_m"].as_f64().unwrap();
        assert!((distance_m - expected_m).abs() < 0.001, "{id}: {distance_m} and not {expected_m}");
        self
    }

    fn fish(&self) -> &Value {
        &self.json["take"][0]
    }

    /// The texts under a key of the first fish, as one.
    fn fish_texts(&self, key: &str) -> String {
        texts(&self.fish()[key])
    }

    /// The text without its line breaks.
    fn unwrapped(&self) -> String {
        self.text.split_whitespace().collect::<Vec<_>>().join(" ")
    }
}

fn texts(list: &Value) -> String {
    list.as_array().unwrap().iter().map(|text| text.as_str().unwrap()).collect::<Vec<_>>().join("; ")
}

#[test]
fn a_stand_off_counts_the_doubt() {
    let kept = |position, standoff| {
        let answer =
            ask(position, NOON, &["--standoff-m", standoff, "--accuracy-m", "10", "--accuracy-kind", "p95"]);
        (answer.json["standoff"]["kept"].as_str().unwrap().to_owned(), answer.status)
    };
    // 46.576 m outside the circle, ±10 m
    let east = "45.1575 -30.0525";
    assert_eq!(kept(east, "36"), ("yes".into(), 0));
    assert_eq!(kept(east, "46"), ("undecided".into(), 3));
    assert_eq!(kept(east, "60"), ("no".into(), 1));
}
