//! Files that people keep: named outputs are whole or as they were, nothing that is read is written over, and a reader
//! that goes away turns no answer into another.

#![expect(clippy::unwrap_used, reason = "a test whose program does not even run has failed")]
#![cfg(unix)]

use std::fs::{self, File};
use std::io::Write;
use std::path::Path;
use std::process::{Command, Output, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

use tempfile::TempDir;

/// A no-take square of about 1 km at Sallow Cove on the invented isle of Marrowick.
const SALLOW_COVE: &str = r#"{
  "type": "FeatureCollection",
  "takeline": { "format": "takeline.zones/1", "datum": "WGS 84", "time_zone": "UTC" },
  "features": [
    { "type": "Feature", "id": "sallow-cove",
      "geometry": { "type": "Polygon", "coordinates": [[[-30.130, 45.110], [-30.117, 45.110],
                    [-30.117, 45.119], [-30.130, 45.119], [-30.130, 45.110]]] },
      "properties": { "name": "Sallow Cove Reserve", "edges": "geodesic", "take": "none", "crossing": { "allowed": false },
                      "source": { "instrument": "Marrowick Reserves Order 2019" } } } ] }"#;

/// A log that is surely inside for a minute.
const INSIDE: &str = "lat,lon,time
45.1150,-30.1230,2026-07-25T06:30:00Z
45.1150,-30.1232,2026-07-25T06:30:20Z
45.1150,-30.1234,2026-07-25T06:30:40Z
45.1150,-30.1236,2026-07-25T06:31:00Z
";

const OLD: &str = "what was there before";

/// More logs than a closed pipe and a buffer hold.
const LOGS: usize = 60;

fn marrowick() -> TempDir {
    let folder = TempDir::new().unwrap();
    let write = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    write("marrowick.geojson", SALLOW_COVE);
    write("b.csv", INSIDE);
    let rows: String = std::iter::repeat_n("45.1150,-30.1230\n", 400).collect();
    write("fixes.csv", &format!("lat,lon\n{rows}"));
    fs::create_dir(folder.path().join("logs")).unwrap();
    (0..LOGS).for_each(|log| write(&format!("logs/{log:02}.csv"), INSIDE));
    folder
}

fn command(folder: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_takeline"));
    command.args(arguments).current_dir(folder);
    command.env("TAKELINE_ZONES", "marrowick.geojson").env("XDG_CONFIG_HOME", folder.join("config"));
    command.stdin(Stdio::null());
    command
}

/// Runs it with a standard output that nobody reads.
fn unread(folder: &Path, arguments: &[&str]) -> (i32, String) {
    let mut command = command(folder, arguments);
    let mut child = command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    drop(child.stdout.take());
    outcome(&child.wait_with_output().unwrap())
}

fn run(folder: &Path, arguments: &[&str]) -> (i32, String) {
    outcome(&command(folder, arguments).output().unwrap())
}

fn outcome(output: &Output) -> (i32, String) {
    (output.status.code().unwrap(), String::from_utf8(output.stderr.clone()).unwrap())
}

fn read(folder: &TempDir, name: &str) -> String {
    fs::read_to_string(folder.path().join(name)).unwrap()
}

/// Names in a folder that are no inputs.
fn left_over(folder: &TempDir) -> Vec<String> {
    let entries = fs::read_dir(folder.path()).unwrap();
    let names = entries.map(|entry| entry.unwrap().file_name().into_string().unwrap());
    names.filter(|name| name.contains(".part")).collect()
}

#[test]
fn named_files_are_finished_though_nobody_reads_the_answers() {
    let folder = marrowick();
    let outs = ["--csv", "o.csv", "--geojson", "o.geojson", "--html", "pages"];
    let (status, err) = unread(folder.path(), &[&["track", "logs", "--format", "json"], &outs[..]].concat());
    assert_eq!((status, err.as_str()), (1, ""));
    assert_eq!(read(&folder, "o.csv").lines().count(), 1 + LOGS);
    let features: serde_json::Value = serde_json::from_str(&read(&folder, "o.geojson")).unwrap();
    assert!(features["features"].as_array().unwrap().len() > LOGS);
    let pages: Vec<_> = fs::read_dir(folder.path().join("pages")).unwrap().collect();
    assert_eq!(pages.len(), LOGS + 1, "a page of each and the index");
    assert!(read(&folder, "pages/59.csv.html").trim_end().ends_with("</html>"));
    assert_eq!(left_over(&folder), [""; 0]);
}

#[test]
fn a_batch_that_is_cut_short_says_so() {
    let folder = marrowick();
    let (status, err) = unread(folder.path(), &["track", "logs", "--format", "json"]);
    assert_eq!(status, 3, "{err}");
    assert!(err.contains("of 60 logs; the rest were not looked at"), "{err}");
    let (status, err) = unread(folder.path(), &["here", "--fixes", "fixes.csv"]);
    assert_eq!(status, 3, "{err}");
    assert!(err.contains("standard output was closed before line"), "{err}");
}

#[test]
fn an_answer_keeps_its_status_though_nobody_reads_it() {
    let folder = marrowick();
    fs::write(folder.path().join("one.csv"), "lat,lon\n45.1150,-30.1230\n").unwrap();
    for arguments in
        [&["here", "45.1150", "-30.1230"][..], &["here", "--fixes", "one.csv"], &["track", "b.csv"]]
    {
        assert_eq!(unread(folder.path(), arguments), (1, String::new()), "{arguments:?}");
    }
}

#[test]
fn a_full_standard_output_is_told_and_named_files_are_finished() {
    let folder = marrowick();
    let full = File::options().write(true).open("/dev/full").unwrap();
    let mut command = command(folder.path(), &["track", "b.csv", "--csv", "o.csv"]);
    let (status, err) =
        outcome(&command.stdout(full).stderr(Stdio::piped()).spawn().unwrap().wait_with_output().unwrap());
    assert_eq!(status, 3);
    assert!(err.contains("standard output cannot be written"), "{err}");
    assert_eq!(read(&folder, "o.csv").lines().count(), 2);
}

#[test]
fn a_full_standard_output_of_a_batch_is_not_taken_for_a_closed_one() {
    let folder = marrowick();
    for arguments in [&["track", "logs", "--format", "json"][..], &["here", "--fixes", "fixes.csv"]] {
        let full = File::options().write(true).open("/dev/full").unwrap();
        let mut command = command(folder.path(), arguments);
        let (status, err) = outcome(
            &command.stdout(full).stderr(Stdio::piped()).spawn().unwrap().wait_with_output().unwrap(),
        );
        assert_eq!(status, 3);
        assert!(err.contains("error: standard output cannot be written: No space left"), "{err}");
        assert!(err.contains("it ended ") && !err.contains("was closed"), "{err}");
    }
}

#[test]
fn a_log_that_cannot_be_read_leaves_the_old_files_alone() {
    let folder = marrowick();
    let names = ["o.csv", "o.geojson", "o.html"];
    for name in names {
        fs::write(folder.path().join(name), OLD).unwrap();
    }
    fs::write(folder.path().join("broken.csv"), "this is no track\n").unwrap();
    for log in ["missing.gpx", "broken.csv"] {
        let outs = ["--csv", "o.csv", "--geojson", "o.geojson", "--html", "o.html"];
        let (status, err) = run(folder.path(), &[&["track", log], &outs[..]].concat());
        assert_eq!(status, 3, "{err}");
        assert!(err.contains("o.csv was left as it is"), "{err}");
        assert_eq!(names.map(|name| read(&folder, name)), [OLD; 3]);
    }
    assert_eq!(left_over(&folder), [""; 0]);
}

#[test]
fn an_output_that_fails_does_not_stop_the_others() {
    let folder = marrowick();
    fs::write(folder.path().join("o.csv"), OLD).unwrap();
    let outs = ["--csv", "/dev/full", "--geojson", "o.geojson", "--html", "no-folder/o.html"];
    let (status, err) = run(folder.path(), &[&["track", "b.csv"], &outs[..]].concat());
    assert_eq!(status, 3);
    assert!(err.contains("/dev/full cannot be written: No space left"), "{err}");
    assert!(err.contains("no-folder/o.html cannot be written"), "{err}");
    assert!(serde_json::from_str::<serde_json::Value>(&read(&folder, "o.geojson")).is_ok());
}

#[test]
fn a_run_that_is_killed_leaves_the_old_file() {
    let folder = marrowick();
    fs::write(folder.path().join("o.csv"), OLD).unwrap();
    let mut command = command(folder.path(), &["track", "-", "--csv", "o.csv", "--format", "json"]);
    let mut child = command.stdin(Stdio::piped()).stdout(Stdio::null()).spawn().unwrap();
    let mut log = child.stdin.take().unwrap();
    log.write_all(INSIDE.as_bytes()).unwrap();
    log.flush().unwrap();
    let begun = Instant::now();
    while left_over(&folder).is_empty() {
        assert!(begun.elapsed() < Duration::from_mins(1), "nothing is written beside o.csv");
        sleep(Duration::from_millis(5));
    }
    child.kill().unwrap();
    child.wait().unwrap();
    assert_eq!(read(&folder, "o.csv"), OLD);
}

#[test]
fn two_outputs_into_one_file_are_refused() {
    let folder = marrowick();
    fs::write(folder.path().join("y"), OLD).unwrap();
    fs::hard_link(folder.path().join("y"), folder.path().join("link")).unwrap();
    for outs in [
        ["--csv", "y", "--geojson", "y"],
        ["--csv", "new", "--html", "./new"],
        ["--geojson", "y", "--html", "link"],
    ] {
        let (status, err) = run(folder.path(), &[&["track", "b.csv"], &outs[..]].concat());
        assert_eq!(status, 2, "{outs:?}: {err}");
        assert!(err.contains(&format!("{} and {} name the same file", outs[0], outs[2])), "{err}");
    }
    // the page of one of several logs
    let outs = ["--csv", "pages/00.csv.html", "--html", "pages"];
    assert_eq!(run(folder.path(), &[&["track", "logs"], &outs[..]].concat()).0, 2);
    assert_eq!(read(&folder, "y"), OLD);
    assert!(!folder.path().join("new").exists());
    // nobody minds what becomes of this
    let outs = ["--csv", "/dev/null", "--geojson", "/dev/null"];
    assert_eq!(run(folder.path(), &[&["track", "b.csv"], &outs[..]].concat()).0, 1);
}

#[test]
fn no_output_goes_over_an_input_by_whatever_name() {
    let folder = marrowick();
    for (input, link) in [("b.csv", "b-link"), ("marrowick.geojson", "zone-link")] {
        fs::hard_link(folder.path().join(input), folder.path().join(link)).unwrap();
        let before = read(&folder, input);
        for out in [input, link] {
            let (status, err) = run(folder.path(), &["track", "b.csv", "--csv", out]);
            assert_eq!(status, 2, "{out}: {err}");
            assert!(err.contains("--csv would overwrite a file that is being read"), "{err}");
        }
        assert_eq!(read(&folder, input), before);
    }
}

#[test]
fn standard_streams_count_as_the_files_behind_them() {
    let folder = marrowick();
    let open = || File::open(folder.path().join("b.csv")).unwrap();
    let append = |name: &str| File::options().append(true).open(folder.path().join(name)).unwrap();
    let from_input =
        outcome(&command(folder.path(), &["track", "-", "--csv", "b.csv"]).stdin(open()).output().unwrap());
    assert_eq!(from_input.0, 2, "{}", from_input.1);
    assert!(from_input.1.contains("--csv would overwrite a file that is being read"), "{}", from_input.1);
    for (arguments, out) in [
        (&["here", "--fixes", "fixes.csv"][..], "fixes.csv"),
        (&["here", "45.1150", "-30.1230"], "marrowick.geojson"),
        (&["track", "-"], "b.csv"),
    ] {
        let before = read(&folder, out);
        let mut command = command(folder.path(), arguments);
        command.stdin(open()).stdout(append(out)).stderr(Stdio::piped());
        let (status, err) = outcome(&command.spawn().unwrap().wait_with_output().unwrap());
        assert_eq!(status, 2, "{arguments:?}: {err}");
        assert!(err.contains("standard output goes into a file that is being read"), "{err}");
        assert_eq!(read(&folder, out), before);
    }
    // an answer and a table in one file are a mixture too
    fs::write(folder.path().join("answer"), "").unwrap();
    let mut command = command(folder.path(), &["track", "b.csv", "--csv", "answer"]);
    command.stdout(append("answer")).stderr(Stdio::piped());
    let (status, err) = outcome(&command.spawn().unwrap().wait_with_output().unwrap());
    assert_eq!(status, 2);
    assert!(err.contains("--csv names the file that standard output goes into"), "{err}");
}
