//! Inputs without end and messages without number: a sentence, and no memory that grows.

#![expect(clippy::unwrap_used, reason = "a test whose program does not even run has failed")]
#![cfg(unix)]

use std::fs;
use std::path::Path;

use assert_cmd::Command;
use tempfile::TempDir;

const MORNING: &str = "2026-07-05T08:00:00Z";

struct Outcome {
    status: i32,
    out: String,
    err: String,
}

fn takeline(folder: &Path, arguments: &[&str]) -> Outcome {
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data");
    let output = Command::new(env!("CARGO_BIN_EXE_takeline"))
        .args(arguments)
        .current_dir(folder)
        .env("TAKELINE_ZONES", demo.join("zones"))
        .env("XDG_CONFIG_HOME", folder.join("config"))
        .output()
        .unwrap();
    Outcome {
        status: output.status.code().unwrap(),
        out: String::from_utf8(output.stdout).unwrap(),
        err: String::from_utf8(output.stderr).unwrap(),
    }
}

#[test]
fn a_million_bad_rows_are_counted_and_twenty_are_told() {
    let folder = TempDir::new().unwrap();
    let rows = format!("lat,lon\n45.1180,-30.1200\n{}", "here,there\n".repeat(1_000_000));
    fs::write(folder.path().join("fixes.csv"), rows).unwrap();
    let outcome = takeline(folder.path(), &["here", "--fixes", "fixes.csv", "--time", MORNING]);
    assert_eq!((outcome.status, outcome.out.lines().count()), (3, 1));
    assert_eq!(outcome.err.lines().count(), 21, "{}", outcome.err);
    assert!(outcome.err.ends_with("… and 999980 more rows that could not be read\n"), "{}", outcome.err);
}

#[test]
fn findings_of_zone_files_and_catch_logs_are_counted_after_twenty() {
    let folder = TempDir::new().unwrap();
    let features = vec![r#"{"type":"Feature"}"#; 2_000].join(",");
    let zones = format!(
        r#"{{"type":"FeatureCollection","takeline":{{"format":"takeline.zones/1"}},"features":[{features}]}}"#
    );
    fs::write(folder.path().join("zones.json"), zones).unwrap();
    let outcome = takeline(folder.path(), &["here", "45.1180", "-30.1200", "--zones", "zones.json"]);
    assert_eq!(outcome.status, 3);
    assert_eq!(outcome.err.lines().count(), 22, "{}", outcome.err);
    assert!(
        outcome.err.contains("zones.json: … and ") && outcome.err.contains(" more faults\n"),
        "{}",
        outcome.err
    );
    assert!(outcome.err.contains("no zone is used until this is mended"), "{}", outcome.err);
    fs::write(folder.path().join("a.csv"), "lat,lon,time\n45.1180,-30.1200,2026-07-05T08:00:00Z\n").unwrap();
    let rows = format!("species,time\n{}", "sprat,yesterday\n".repeat(50));
    fs::write(folder.path().join("catches.csv"), rows).unwrap();
    let outcome = takeline(folder.path(), &["track", "a.csv", "--catches", "catches.csv"]);
    assert_eq!(outcome.status, 3);
    assert!(
        outcome.err.ends_with("… and 30 more rows of catches.csv that could not be read\n"),
        "{}",
        outcome.err
    );
}

/// A device without end stands for every pipe that nobody closes.
#[test]
fn files_without_end_are_refused_with_the_limit() {
    let folder = TempDir::new().unwrap();
    let pair = ["--front", "45.1252 -30.1310", "--rear", "45.1255 -30.1120"];
    let calibrate = [&["transit", "calibrate"], &pair[..], &["--fixes", "/dev/zero"]].concat();
    let landmarks =
        [&["transit", "check", "--near-m", "9", "--far-m", "99"], &pair[..], &["--landmarks", "/dev/zero"]]
            .concat();
    let zones = ["here", "45.1180", "-30.1200", "--zones", "/dev/zero"];
    for asked in [&zones[..], &landmarks, &calibrate] {
        let outcome = takeline(folder.path(), asked);
        assert_eq!((outcome.status, outcome.out.as_str()), (3, ""), "{asked:?}: {}", outcome.err);
        assert!(outcome.err.contains("/dev/zero"), "{}", outcome.err);
        assert!(outcome.err.contains("larger than 64 MiB, the most that is read"), "{}", outcome.err);
    }
}

#[test]
fn zone_files_that_are_too_many_together_are_refused() {
    let folder = TempDir::new().unwrap();
    // 6 squares of 30° are about 79 000 km of line; each file differs, because the same one twice counts once
    let square = |number: usize| {
        format!(
            r#"{{"type":"Feature","id":"z{number}","geometry":{{"type":"Polygon","coordinates":[[[0,0],[30,0],[30,30],[0,30],[0,0]]]}},
               "properties":{{"name":"Square","edges":"geodesic","take":"none","source":{{"instrument":"Test"}}}}}}"#
        )
    };
    fs::create_dir(folder.path().join("zones")).unwrap();
    for file in 0..16 {
        let features: Vec<String> = (0..6).map(square).collect();
        let text = format!(
            r#"{{"type":"FeatureCollection","takeline":{{"format":"takeline.zones/1","title":"{file}","datum":"WGS 84"}},"features":[{}]}}"#,
            features.join(",")
        );
        fs::write(folder.path().join(format!("zones/{file:02}.json")), text).unwrap();
    }
    let outcome = takeline(folder.path(), &["here", "45.1180", "-30.1200", "--zones", "zones"]);
    assert_eq!((outcome.status, outcome.out.as_str()), (3, ""), "{}", outcome.err);
    assert!(
        outcome.err.contains("at most 20000 zones and 1000000 km are loaded together"),
        "{}",
        outcome.err
    );
}
