//! `transit calibrate`: where the marks of the demo really lined up on a morning, from fixes in every form.
//!
//! `demo-data/make_on_the_line.py` made the fixes for a pine 20 m south of its stated place, with 2 m of noise. Seen from
//! the west, south is to the right.

use std::fmt::Write as _;
use std::fs;

use serde_json::Value;

use super::{LANDMARKS, MORNING, Outcome, ZONES, demo, near, root, takeline};

const MARKS: [&str; 4] = ["--front", "day-beacon", "--rear", "lone-pine"];
const FIXES: &str = "demo-data/on-the-line.csv";

#[track_caller]
fn calibrate(fixes: &str, more: &[&str]) -> Outcome {
    demo("calibrate", &[&MARKS[..], &["--fixes", fixes], more].concat())
}

/// Calibrates with a log that is piped in.
#[track_caller]
fn piped(input: &str, more: &[&str]) -> Outcome {
    let base = [
        "transit",
        "calibrate",
        "--landmarks",
        LANDMARKS,
        "--zones",
        ZONES,
        "--time",
        MORNING,
        "--fixes",
        "-",
    ];
    takeline(&root(), &[&base[..], &MARKS, more].concat(), input)
}

#[track_caller]
fn unreadable(outcome: &Outcome, reasons: &[&str]) {
    assert_eq!((outcome.status, outcome.out.as_str()), (3, ""), "{}", outcome.err);
    for reason in reasons {
        assert!(outcome.err.contains(reason), "no “{reason}” in: {}", outcome.err);
    }
}

/// Places and times of the demo fixes.
fn rows() -> Vec<[String; 3]> {
    let text = fs::read_to_string(root().join(FIXES)).unwrap();
    let rows: Vec<[String; 3]> = text
        .lines()
        .skip(1)
        .map(|line| {
            let words: Vec<&str> = line.split(',').collect();
            [words[0].to_owned(), words[1].to_owned(), words[2].to_owned()]
        })
        .collect();
    assert_eq!(rows.len(), 12);
    rows
}

fn gpx(around: [&str; 2], element: &str) -> String {
    let mut text = format!(r#"<?xml version="1.0"?><gpx version="1.1" creator="invented">{}"#, around[0]);
    for [lat, lon, time] in rows() {
        write!(text, r#"<{element} lat="{lat}" lon="{lon}"><time>{time}</time></{element}>"#).unwrap();
    }
    text + around[1] + "</gpx>"
}

/// The pine alone, 20 m to the right.
#[track_caller]
fn finds_the_pine(document: &Value) {
    assert_eq!(document["schema"], "takeline.transit-calibrate/1");
    assert_eq!(document["told"], "both-marks");
    assert_eq!((document["fixes"].as_i64(), document["not_used"].as_array().unwrap().len()), (Some(12), 0));
    near(&document["rear_alone"]["to_the_right_m"], 20.0, 5.0);
    near(&document["at_rear"]["to_the_right_m"], 20.0, 10.0);
    assert_eq!(document["rear_alone"]["explains"], true);
}

#[test]
fn the_pine_stands_20_m_off_and_the_line_really_shown_is_answered() {
    let document = calibrate(FIXES, &["--format", "json"]).json();
    finds_the_pine(&document);
    assert_eq!(document["front_alone"]["explains"], false);
    near(&document["rear_alone"]["uncertainty_95_m"], 2.5, 2.5);
    let corrected = &document["corrected"];
    assert_eq!(corrected["schema"], "takeline.transit/1");
    assert_eq!(corrected["clears"], "yes");
    assert_eq!(document["exit_status"], corrected["exit_status"]);
    // the line shown runs nearer to due east and west than the stated one, and so keeps farther off at its far end
    let stated =
        demo("check", &[&MARKS[..], &["--near-m", "150", "--far-m", "1369", "--format", "json"]].concat());
    let worst = |document: &Value| document["worst"]["signed_distance_m"].as_f64().unwrap();
    let gained_m = worst(corrected) - worst(&stated.json());
    // 20 m · D/S at 1369 m and 1495 m; 5 m is what the fixes leave open there
    assert!((gained_m - 18.3).abs() < 5.0, "{gained_m}");
}

#[test]
fn a_screen_is_answered_in_its_first_three_lines() {
    let outcome = calibrate(FIXES, &[]);
    assert_eq!((outcome.status, outcome.err.as_str()), (0, ""));
    let head: Vec<&str> = outcome.out.lines().take(3).collect();
    assert!(head[0].starts_with("CLEARS Sallow Cove Reserve by "), "{head:?}");
    assert!(head[1].starts_with("Really runs ") && head[2].starts_with("Marks bear "), "{head:?}");
    assert!(outcome.out.lines().all(|line| line.chars().count() <= 40), "{}", outcome.out);
    assert!(outcome.unwrapped().contains("if only Lone Pine is wrong: 21 m to the right"), "{}", outcome.out);
}

#[test]
fn waypoints_tracks_and_standard_input_are_fixes_too() {
    let folder = tempfile::TempDir::new().unwrap();
    let write = |name: &str, text: &str| {
        let file = folder.path().join(name);
        fs::write(&file, text).unwrap();
        file.to_str().unwrap().to_owned()
    };
    let accuracy = ["--accuracy-m", "3", "--format", "json"];
    let waypoints = gpx(["", ""], "wpt");
    let track = gpx(["<trk><trkseg>", "</trkseg></trk>"], "trkpt");
    finds_the_pine(&calibrate(&write("waypoints.gpx", &waypoints), &accuracy).json());
    finds_the_pine(&calibrate(&write("track.gpx", &track), &accuracy).json());
    finds_the_pine(&piped(&waypoints, &accuracy).json());
    let csv = fs::read_to_string(root().join(FIXES)).unwrap();
    assert_eq!(piped(&csv, &["--format", "json"]).out, calibrate(FIXES, &["--format", "json"]).out);
}

#[test]
fn one_fix_tells_nothing_of_both_marks() {
    let [lat, lon, _] = &rows()[6];
    let input = format!("lat,lon,accuracy_m\n{lat},{lon},3\n");
    let outcome = piped(&input, &["--format", "json"]);
    let document = outcome.json();
    assert_eq!(outcome.status, 3);
    assert_ne!(document["told"], "both-marks");
    assert_eq!(document["fixes"], 1);
    assert!(piped(&input, &[]).out.starts_with("UNDECIDED"));
}

#[test]
fn fixes_that_cannot_be_used_are_refused_with_their_reason() {
    let behind = piped("lat,lon\n45.1256,-30.1000\n45.1256,-30.0990\n45.1257,-30.0980\n", &[]);
    unreadable(&behind, &["none of the 3 fixes", "behind the rear mark", "swapped"]);
    let between = piped("lat,lon\n45.1254,-30.1200\n45.1254,-30.1210\n", &[]);
    unreadable(&between, &["none of the 2 fixes", "between the marks"]);
    let swapped = ["--front", "lone-pine", "--rear", "day-beacon", "--fixes", FIXES];
    unreadable(&demo("calibrate", &swapped), &["none of the 12 fixes", "swapped"]);
}

#[test]
fn logs_that_cannot_be_read_are_named() {
    unreadable(&piped("", &[]), &["empty"]);
    unreadable(&piped("lat,lon\n", &[]), &["there is no fix", "at least one fix"]);
    unreadable(&piped("this is no log\n", &[]), &["GPX", "NMEA 0183", "CSV"]);
    unreadable(&calibrate("missing.csv", &[]), &["missing.csv cannot be read", "check the name"]);
    unreadable(&calibrate("demo-data", &[]), &["demo-data"]);
}

#[test]
fn unreadable_rows_are_told_and_the_others_used() {
    let csv = fs::read_to_string(root().join(FIXES)).unwrap();
    let outcome = piped(&format!("{csv}91,-30.13,,\ncod,-30.13,,\n45.1,,,\n"), &["--format", "json"]);
    finds_the_pine(&outcome.json());
    for line in ["line 14: latitude 91", "line 15", "line 16"] {
        assert!(outcome.err.contains(line), "{}", outcome.err);
    }
}

#[test]
fn what_makes_no_sense_is_usage() {
    for (more, reason) in [
        (&["--accuracy-m", "-3"][..], "--accuracy-m"),
        (&["--accuracy-m", "nan"], "--accuracy-m"),
        (&["--near-m", "-1"], "--near-m"),
        (&["--near-m", "1e5"], "no more than 100000 m"),
        (&["--mark-error-m", "-1"], "--mark-error-m"),
        (&["--time", "noon"], "--time"),
    ] {
        let outcome = calibrate(FIXES, more);
        assert_eq!((outcome.status, outcome.out.as_str()), (2, ""), "{more:?}: {}", outcome.err);
        assert!(outcome.err.contains(reason), "{}", outcome.err);
    }
}

#[test]
fn after_the_life_of_the_model_the_corrected_line_is_undecided() {
    let base = ["transit", "calibrate", "--landmarks", LANDMARKS, "--zones", ZONES, "--fixes", FIXES];
    let late = ["--time", "2031-01-01T00:00:00Z", "--format", "json"];
    let outcome = takeline(&root(), &[&base[..], &MARKS, &late].concat(), "");
    let document = outcome.json();
    assert_eq!(outcome.status, 3);
    assert!(document["corrected"]["bearing_magnetic_deg"].is_null());
    let by_clock = takeline(&root(), &[&base[..], &MARKS, &["--format", "json"]].concat(), "").json();
    assert_eq!(by_clock["corrected"]["time_source"], "clock");
}

#[test]
fn few_digits_of_the_fixes_are_a_doubt_of_the_line() {
    let with = |decimals: usize| {
        let mut table = "lat,lon,time,accuracy_m\n".to_owned();
        for [lat, lon, time] in rows() {
            let (lat, lon): (f64, f64) = (lat.parse().unwrap(), lon.parse().unwrap());
            writeln!(table, "{lat:.decimals$},{lon:.decimals$},{time},3").unwrap();
        }
        piped(&table, &["--format", "json"])
    };
    let (seven, three) = (with(7), with(3));
    assert!(!seven.err.contains("digits"), "{}", seven.err);
    // half of 0.001 degrees is 55.6 m north (WGS 84)
    assert!(three.err.contains("few digits: each may be off by 56 m"), "{}", three.err);
    // what the fixes tell is less than what the marks' own errors leave open
    assert_eq!((three.status, &three.json()["told"]), (3, &Value::from("nothing")), "{}", three.out);
    assert_ne!(seven.json()["told"], "nothing");
}

#[test]
fn an_accuracy_that_is_not_read_refuses_the_fixes_unless_one_is_given() {
    let mut table = "lat,lon,time,epe\n".to_owned();
    for [lat, lon, time] in rows() {
        writeln!(table, "{lat},{lon},{time},300").unwrap();
    }
    unreadable(&piped(&table, &[]), &["line 2", "looks like an accuracy", "--accuracy-m"]);
    assert!(!piped(&table, &["--accuracy-m", "3"]).out.is_empty());
}
