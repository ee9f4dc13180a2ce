//! Inputs without end and messages without number: a sentence, and no memory that grows.

#![cfg(unix)]

#[path = "program.rs"]
mod program;

use std::fs::{self, File};
use std::io::Write;
use std::path::Path;

use tempfile::TempDir;

use program::Outcome;

const MORNING: &str = "2026-07-05T08:00:00Z";

fn takeline(folder: &Path, arguments: &[&str]) -> Outcome {
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data");
    program::run(folder, Some(&demo.join("zones")), arguments, "")
}

#[test]
fn bad_rows_are_counted_and_twenty_are_told() {
    let folder = TempDir::new().unwrap();
    let rows = format!("lat,lon\n45.1180,-30.1200\n{}", "here,there\n".repeat(20_000));
    fs::write(folder.path().join("fixes.csv"), rows).unwrap();
    let outcome = takeline(folder.path(), &["here", "--fixes", "fixes.csv", "--time", MORNING]);
    assert_eq!((outcome.status, outcome.out.lines().count()), (3, 1));
    assert_eq!(outcome.err.lines().count(), 21, "{}", outcome.err);
    assert!(outcome.err.ends_with("… and 19980 more rows that could not be read\n"), "{}", outcome.err);
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
    assert!(outcome.err.contains("until then no zone is used"), "{}", outcome.err);
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
    let line = [&pair[..], &["--near-m", "9", "--far-m", "99"]].concat();
    let landmarks = [&["transit", "check"], &line[..], &["--landmarks", "/dev/zero"]].concat();
    // a header, and then nothing but a hole in the file
    let mut fixes = File::create(folder.path().join("fixes.csv")).unwrap();
    fixes.write_all(b"lat,lon,time\n").unwrap();
    fixes.set_len(65 * 1024 * 1024).unwrap();
    let calibrate = [&["transit", "calibrate"], &pair[..], &["--fixes", "fixes.csv"]].concat();
    let zones = ["here", "45.1180", "-30.1200", "--zones", "/dev/zero"];
    for (asked, name, words) in [
        (&zones[..], "/dev/zero", "larger than 64 MiB, the most that is read"),
        (&landmarks, "/dev/zero", "larger than 64 MiB, the most that is read"),
        (&calibrate, "fixes.csv", "longer than 67108864 bytes"),
    ] {
        let outcome = takeline(folder.path(), asked);
        assert_eq!((outcome.status, outcome.out.as_str()), (3, ""), "{asked:?}: {}", outcome.err);
        assert!(outcome.err.contains(name) && outcome.err.contains(words), "{}", outcome.err);
    }
    let many = format!("lat,lon\n{}", "45.1253,-30.1250\n".repeat(100_001));
    fs::write(folder.path().join("fixes.csv"), many).unwrap();
    let outcome = takeline(folder.path(), &calibrate);
    assert_eq!(outcome.status, 3);
    assert!(outcome.err.contains("fixes.csv holds more than 100000 fixes"), "{}", outcome.err);
}

#[test]
fn zone_files_that_are_too_many_together_are_refused() {
    let folder = TempDir::new().unwrap();
    let zone = |number: usize| {
        format!(
            r#"{{"type":"Feature","id":"z{number}","geometry":null,
               "properties":{{"name":"Square","geometry_unknown":{{"reason":"no plan"}},"take":"none","source":{{"instrument":"Test"}}}}}}"#
        )
    };
    let features = (0..50_001).map(zone).collect::<Vec<_>>().join(",");
    // the two differ, because a file that is read twice counts once
    for title in ["one", "other"] {
        let text = format!(
            r#"{{"type":"FeatureCollection","takeline":{{"format":"takeline.zones/1","title":"{title}","datum":"WGS 84"}},"features":[{features}]}}"#
        );
        fs::write(folder.path().join(format!("{title}.json")), text).unwrap();
    }
    let asked = ["here", "45.1180", "-30.1200", "--zones", "one.json", "--zones", "other.json"];
    let outcome = takeline(folder.path(), &asked);
    assert_eq!((outcome.status, outcome.out.as_str()), (3, ""), "{}", outcome.err);
    assert!(outcome.err.contains("hold 100002 zones or more"), "{}", outcome.err);
    assert!(
        outcome.err.contains("at most 100000 zones and 1000000 km are loaded together"),
        "{}",
        outcome.err
    );
}
