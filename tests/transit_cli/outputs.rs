//! The files that `transit check` writes beside its answer.

use std::fs;
use std::path::Path;

use serde_json::Value;
use tempfile::TempDir;

use super::{LANDMARKS, LINE, MORNING, demo, root, takeline};

/// Demo landmarks and zones in a folder of their own, where tests may write.
fn copy() -> TempDir {
    let folder = TempDir::new().unwrap();
    fs::create_dir(folder.path().join("zones")).unwrap();
    for (from, to) in [
        (LANDMARKS, "landmarks.geojson"),
        ("demo-data/zones/marrowick.json", "zones/marrowick.json"),
        ("demo-data/zones/harbour-board.json", "zones/harbour-board.json"),
    ] {
        fs::copy(root().join(from), folder.path().join(to)).unwrap();
    }
    folder
}

fn read(folder: &TempDir, name: &str) -> String {
    fs::read_to_string(folder.path().join(name)).unwrap()
}

const ASKED: [&str; 8] =
    ["transit", "check", "--landmarks", "landmarks.geojson", "--zones", "zones", "--time", MORNING];

#[test]
fn sketch_card_features_and_waypoints_are_of_the_right_kind_and_name_the_marks() {
    let folder = copy();
    let outs = ["--svg", "a.svg", "--card", "a.html", "--geojson", "a.geojson", "--gpx", "a.gpx"];
    let outcome = takeline(folder.path(), &[&ASKED[..], &LINE, &outs].concat(), "");
    assert_eq!((outcome.status, outcome.err.as_str()), (0, ""));
    let files = ["a.svg", "a.html", "a.geojson", "a.gpx"].map(|name| read(&folder, name));
    for file in &files {
        assert!(file.contains("Sallow Point Day Beacon") && file.contains("Lone Pine"), "{file:.400}");
    }
    let [svg, card, features, waypoints] = files;
    assert!(svg.trim_start().starts_with("<svg") && svg.trim_end().ends_with("</svg>"));
    assert!(card.to_lowercase().starts_with("<!doctype html>") && card.trim_end().ends_with("</html>"));
    for outside in ["src=\"http", "href=\"http", "url(http", "<script src", "@import"] {
        assert!(!card.contains(outside), "the card needs nothing but itself: {outside}");
    }
    let features: Value = serde_json::from_str(&features).unwrap();
    assert_eq!(features["type"], "FeatureCollection");
    let kinds: Vec<&str> = features["features"]
        .as_array()
        .unwrap()
        .iter()
        .map(|feature| feature["geometry"]["type"].as_str().unwrap())
        .collect();
    assert!(kinds.contains(&"LineString") && kinds.contains(&"Point"), "{kinds:?}");
    assert!(waypoints.contains("<gpx") && waypoints.contains("<wpt") && waypoints.contains("45.1252"));
}

#[test]
fn the_files_change_nothing_of_the_answer_and_are_the_same_twice() {
    let folder = copy();
    let names = ["a.svg", "a.html", "a.geojson", "a.gpx"];
    let outs = ["--svg", names[0], "--card", names[1], "--geojson", names[2], "--gpx", names[3]];
    let ask = |more: &[&str]| takeline(folder.path(), &[&ASKED[..], &LINE, more].concat(), "").out;
    let once = ask(&outs);
    let first = names.map(|name| read(&folder, name));
    assert_eq!(ask(&outs), once);
    assert_eq!(names.map(|name| read(&folder, name)), first);
    assert_eq!(ask(&[]), once);
}

/// Between the first `takeline transit check` of a page and the end of its element, with the entities of HTML undone.
fn command_on(card: &str) -> String {
    let start = card.find("takeline transit check").unwrap();
    let command = card[start..].split('<').next().unwrap();
    [("&#39;", "'"), ("&#x27;", "'"), ("&quot;", "\""), ("&lt;", "<"), ("&gt;", ">"), ("&amp;", "&")]
        .iter()
        .fold(command.to_owned(), |text, (entity, letter)| text.replace(entity, letter))
}

/// Runs a line as a shell does, with the program of this test for `takeline`.
#[cfg(unix)]
#[track_caller]
fn shell(folder: &Path, line: &str, zones: Option<&str>) -> String {
    let program = env!("CARGO_BIN_EXE_takeline");
    let line = line.replacen("takeline", &format!("'{program}'"), 1);
    let mut command = assert_cmd::Command::new("sh");
    command.args(["-c", &line]).current_dir(folder).env_remove("TAKELINE_ZONES");
    command.env("XDG_CONFIG_HOME", folder.join("config"));
    if let Some(zones) = zones {
        command.env("TAKELINE_ZONES", zones);
    }
    let output = command.output().unwrap();
    assert_eq!(output.status.code(), Some(0), "{line}: {}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).unwrap()
}

#[test]
#[cfg(unix)]
fn the_command_on_the_card_gives_the_same_answer_again() {
    let folder = copy();
    let place = folder.path();
    // names with blanks, and a quote that a shell would take for its own
    fs::rename(place.join("landmarks.geojson"), place.join("Ann's marks & more.geojson")).unwrap();
    let asked = "takeline transit check --landmarks \"Ann's marks & more.geojson\" --zones zones --front \
                 'Sallow Point Day Beacon' --rear='45.1255 -30.1120' --rear-height-m 41 --launch '45.1270 -30.1300' --near-m 300 --far-m 1400 \
                 --time 2026-07-05T08:00:00Z";
    let out = "--card=a.html --svg 'a b.svg'";
    let answer = shell(place, &format!("{asked} {out}"), None);
    let command = command_on(&read(&folder, "a.html"));
    assert!(!command.contains("a.html") && !command.contains("a b.svg"), "{command}");
    fs::remove_file(place.join("a.html")).unwrap();
    assert_eq!(shell(place, &command, None), answer, "{command}");
    assert!(!place.join("a.html").exists(), "asking again writes nothing");
}

#[test]
#[cfg(unix)]
fn the_command_on_the_card_needs_neither_clock_nor_environment() {
    let folder = copy();
    let asked = "takeline transit check --landmarks landmarks.geojson --front day-beacon --rear lone-pine --near-m 100 \
                 --far-m 1400 --card a.html";
    // by the clock: after 2029 the variation is not known, and the answer undecided
    let program = env!("CARGO_BIN_EXE_takeline");
    let words: Vec<&str> = asked.split_whitespace().skip(1).collect();
    let by_clock = assert_cmd::Command::new(program)
        .args(words)
        .current_dir(folder.path())
        .env("TAKELINE_ZONES", "zones")
        .output()
        .unwrap();
    let command = command_on(&read(&folder, "a.html"));
    assert!(command.contains("--time 2") && command.contains("zones/marrowick.json"), "{command}");
    if by_clock.status.code() == Some(0) {
        let first = String::from_utf8(by_clock.stdout).unwrap();
        let again = shell(folder.path(), &command, None);
        let verdict = |text: &str| text.lines().take(3).map(str::to_owned).collect::<Vec<_>>();
        assert_eq!(verdict(&again), verdict(&first));
    }
}

#[test]
fn nothing_that_is_read_is_written_over() {
    let folder = copy();
    let sources = ["landmarks.geojson", "zones/marrowick.json", "zones/harbour-board.json"];
    let before = sources.map(|name| read(&folder, name));
    for option in ["--svg", "--card", "--geojson", "--gpx"] {
        // the zone files are named by their folder only
        for source in [sources[0], sources[1], "zones/../zones/harbour-board.json", "./landmarks.geojson"] {
            let outcome = takeline(folder.path(), &[&ASKED[..], &LINE, &[option, source]].concat(), "");
            assert_eq!(outcome.status, 2, "{option} {source}: {}", outcome.err);
            assert!(outcome.err.contains(option) && outcome.err.contains("name another"), "{}", outcome.err);
            assert_eq!(outcome.out, "");
        }
    }
    assert_eq!(sources.map(|name| read(&folder, name)), before);
    let twice = ["--svg", "a.svg", "--card", "./a.svg"];
    let outcome = takeline(folder.path(), &[&ASKED[..], &LINE, &twice].concat(), "");
    assert_eq!(outcome.status, 2);
    assert!(outcome.err.contains("--svg and --card"), "{}", outcome.err);
    assert!(!folder.path().join("a.svg").exists());
}

#[test]
fn a_place_that_cannot_be_written_is_no_answer() {
    let outcome = demo("check", &[&LINE[..], &["--svg", "no-such-folder/a.svg"]].concat());
    assert_eq!((outcome.status, outcome.out.as_str()), (3, ""));
    assert!(outcome.err.contains("no-such-folder/a.svg cannot be written"), "{}", outcome.err);
    assert!(outcome.err.contains("check the folder"), "{}", outcome.err);
    let folder = copy();
    let outcome = takeline(folder.path(), &[&ASKED[..], &LINE, &["--card", "zones"]].concat(), "");
    assert_eq!(outcome.status, 3);
    assert!(outcome.err.contains("zones cannot be written"), "{}", outcome.err);
}

#[test]
fn marks_that_are_useless_are_so_on_the_card_too() {
    let folder = copy();
    let swapped = ["--front", "lone-pine", "--rear", "day-beacon", "--near-m", "100", "--far-m", "1400"];
    let outcome = takeline(folder.path(), &[&ASKED[..], &swapped, &["--card", "a.html"]].concat(), "");
    assert_eq!(outcome.status, 3);
    let card = read(&folder, "a.html").to_lowercase();
    assert!(card.contains("undecided"), "{card:.2000}");
    assert!(!card.contains(">clears"), "a card of useless marks says nowhere that they clear");
}
