//! The program as a script sees it: arguments, streams and exit status.
//!
//! What the answers say is tested below the binary; here it is only that the wires are connected.

#![expect(clippy::unwrap_used, reason = "a test whose program does not even run has failed")]

#[path = "program.rs"]
mod program;

use std::fs;
use std::path::Path;

use assert_cmd::Command;
use tempfile::TempDir;

use program::Outcome;

#[path = "cli/coasts_given.rs"]
mod coasts_given;
#[path = "cli/places_in_doubt.rs"]
mod places_in_doubt;
#[path = "cli/scenario.rs"]
mod scenario;
#[path = "cli/shown_units.rs"]
mod shown_units;
#[path = "cli/tables.rs"]
mod tables;
#[path = "cli/undecided_logs.rs"]
mod undecided_logs;
#[path = "cli/units.rs"]
mod units;
#[path = "cli/what_binds.rs"]
mod what_binds;

/// A no-take square of about 1 km at Sallow Cove on the invented isle of Marrowick.
const SALLOW_COVE: &str = r#"{
  "type": "FeatureCollection",
  "takeline": { "format": "takeline.zones/1", "title": "Marrowick", "edition": "2026-1",
                "datum": "WGS 84", "time_zone": "UTC", "taxa": [], "groups": [] },
  "features": [
    { "type": "Feature", "id": "sallow-cove",
      "geometry": { "type": "Polygon", "coordinates": [[[-30.130, 45.110], [-30.117, 45.110],
                    [-30.117, 45.119], [-30.130, 45.119], [-30.130, 45.110]]] },
      "properties": { "name": "Sallow Cove Reserve", "edges": "geodesic", "take": "none",
                      "source": { "instrument": "Marrowick Reserves Order 2019" } } } ] }"#;

impl Outcome {
    fn answers(&self) -> Vec<serde_json::Value> {
        self.out.lines().map(|line| serde_json::from_str(line).unwrap()).collect()
    }
}

/// Runs the program with no zones and no config folder but those that `arguments` name.
fn takeline(folder: &Path, arguments: &[&str], input: &str) -> Outcome {
    program::run(folder, None, arguments, input)
}

fn marrowick() -> TempDir {
    let folder = TempDir::new().unwrap();
    fs::write(folder.path().join("marrowick.geojson"), SALLOW_COVE).unwrap();
    folder
}

/// A header and 10,000 fixes far from any zone.
fn many_rows() -> String {
    let rows = (0..10_000).map(|row| format!("46.{row:04},-28.5"));
    ["lat,lon".to_owned()].into_iter().chain(rows).collect::<Vec<_>>().join("\n")
}

fn batch(arguments: &[&str], input: &str) -> Outcome {
    let folder = marrowick();
    let arguments = [&["here", "--zones", "marrowick.geojson", "--fixes", "-"], arguments].concat();
    takeline(folder.path(), &arguments, input)
}

fn single(arguments: &[&str]) -> Outcome {
    let folder = marrowick();
    takeline(folder.path(), &[&["here", "--zones", "marrowick.geojson"], arguments].concat(), "")
}

mod usage {
    use super::*;

    #[track_caller]
    fn refused(arguments: &[&str], reason: &str) {
        let outcome = single(arguments);
        assert_eq!(outcome.status, 2, "{}", outcome.err);
        assert!(outcome.err.contains(reason), "{}", outcome.err);
        assert_eq!(outcome.out, "", "standard output is for data");
    }

    #[test]
    fn what_makes_no_sense_is_refused_with_its_reason() {
        refused(&[], "say where you are: takeline here 45.1182 -30.1217");
        refused(&["45.1"], "45.1");
        refused(&["45.1", "-30.2", "7"], "\"7\" is one word too many");
        refused(&["45.1", "-30.2", "-30.2"], "\"-30.2\" is one word too many");
        refused(&["45.1", "-30.2", "--accuracy-m", "5M"], "write nm for nautical miles");
        refused(&["45.1", "-30.2", "--accuracy-m", "5,5"], "--accuracy-m 5,5: write 5.5, with a point");
        refused(&["45.1", "-30.2", "--species", "cod", "--count", "-1"], "write a whole number, 0 or more");
        refused(&["45.1", "-30.2", "--length-cm", "30"], "--species");
        refused(&["45.1", "-30.2", "--count", "3"], "--species");
        refused(&["45.1", "-30.2", "--fixes", "fixes.csv"], "the two do not go together");
        refused(&["--zonse", "45.1", "-30.2"], "there is no option --zonse; did you mean --zones?");
        refused(&["45.1", "-30.2", "--speces", "x"], "there is no option --speces; did you mean --species?");
        refused(&["45.1", "-30.2", "--bag", "45"], "there is no option --bag; did you mean --count?");
        refused(
            &["45.1", "-30.2", "demo-data/zones"],
            "\"demo-data/zones\" is not part of a position; for a zone file write --zones demo-data/zones",
        );
        refused(
            &["45.1", "-30.2", "--species", "cod", "--length", "6", "inch"],
            "\"inch\" is one word too many; write a number and its unit in one word: 6in",
        );
        refused(&["--length", "6", "inch", "45.1", "-30.2", "--species", "cod"], "in one word: 6in");
        refused(&["45.1", "-30.2", "zones/a.json", "--species", "cod"], "write --zones zones/a.json");
        refused(&["45.1", "-30.2", "7", "--species", "cod"], "“7” is one word too many before --species");
        let no_command = takeline(Path::new("."), &["hre"], "");
        assert_eq!(no_command.status, 2);
        assert!(no_command.err.contains("there is no command hre; did you mean here?"), "{}", no_command.err);
        refused(&["45.1", "N", "30.2", "W"], "into quotes: takeline here \"45.1 N 30.2 W\"");
        refused(&["45.1", "-30.2", "--time"], "--time lacks its value: write --time TIME");
        refused(&["45.1", "-30.2", "--access", "raft"], "write boat, shore or diving");
        refused(&["45.1", "-30.2", "--time", "unknown", "--time", "unknown"], "--time is given twice");
        refused(&["45.1", "-30.2", "--species", "cod", "--length", "500m"], "is that the fish?");
        refused(&["45.1", "-30.2", "--species", "cod", "--length", "six"], "--length six: not a number");
        refused(&["120.5", "45.1"], "a latitude is at most 90°");
        refused(&["45.1", "-30.2", "--time", "yesterday"], "2026-07-25T06:30:00Z");
        refused(&["45.1", "-30.2", "--accuracy-m", "-1"], "--accuracy-m: -1 m is below zero");
        refused(&["45.1", "-30.2", "--accuracy-m", "nan"], "not a finite number");
        refused(&["45.1", "-30.2", "--accuracy-kind", "rms"], "--accuracy-m");
        refused(&["45.1", "-30.2", "--standoff-m", "-50"], "--standoff-m: -50 m is below zero");
        refused(&["45.1", "-30.2", "--length-cm", "0"], "above zero");
        refused(&["45.1", "-30.2", "--species", ""], "--species");
    }

    #[test]
    fn a_position_that_no_point_has_is_refused_and_never_outside() {
        for (latitude, longitude) in [("91", "-30.1"), ("nan", "-30.1"), ("45.1", "inf"), ("45.1", "cod")] {
            let outcome = single(&[latitude, longitude]);
            assert_eq!(outcome.status, 2, "{latitude} {longitude}");
            assert_eq!(outcome.out, "");
        }
    }

    #[test]
    fn help_and_version_are_no_mistakes() {
        for arguments in [&["--help"][..], &["here", "--help"], &["--version"], &["here", "--version"]] {
            let outcome = takeline(Path::new("."), arguments, "");
            assert_eq!((outcome.status, outcome.err.as_str()), (0, ""), "{arguments:?}");
        }
        let help = takeline(Path::new("."), &["here", "--help"], "").out;
        assert!(help.contains("Marrowick") && help.contains("not an instrument of navigation"), "{help}");
        for option in
            ["--zones", "--accuracy-m", "--accuracy-kind", "--time", "--species", "--gear", "--standoff-m"]
        {
            assert!(help.contains(option), "{option}");
        }
    }
}

mod positions {
    use super::*;

    fn position_of(arguments: &[&str]) -> serde_json::Value {
        let outcome = single(&[arguments, &["--format", "json"]].concat());
        let value: serde_json::Value = serde_json::from_str(&outcome.out).expect(&outcome.err);
        value["position"].clone()
    }

    #[test]
    fn negative_numbers_are_coordinates_in_any_place() {
        for arguments in [
            &["-45.1", "-30.2"][..],
            &["-45.1", "--all", "-30.2"],
            &["--all", "-45.1", "-30.2"],
            &["-45.1 -30.2"],
            &["-45.1,", "-30.2"],
        ] {
            let position = position_of(arguments);
            assert_eq!(position["latitude_deg"], -45.1, "{arguments:?}");
            assert_eq!(position["longitude_deg"], -30.2, "{arguments:?}");
        }
    }

    #[test]
    fn accuracy_is_assumed_unless_given_and_read_by_its_kind() {
        // 5 m as 68 %, RMS and 95 % radius is 8.11, 8.65 and 5 m at 95 % (Rayleigh distribution; 1 cm is the rounding)
        let uncertainty = |arguments: &[&str]| {
            let position = position_of(&[&["45.100000", "-30.200000"], arguments].concat());
            (position["uncertainty_95_m"].as_f64().unwrap(), position["uncertainty_source"].clone())
        };
        assert_eq!(uncertainty(&[]), (10.0, "assumed".into()));
        for (kind, expected) in [(&[][..], 8.11), (&["p68"], 8.11), (&["rms"], 8.65), (&["p95"], 5.0)] {
            let flags = kind.iter().flat_map(|kind| ["--accuracy-kind", kind]);
            let (uncertainty_m, source) =
                uncertainty(&["--accuracy-m", "5"].into_iter().chain(flags).collect::<Vec<_>>());
            assert!((uncertainty_m - expected).abs() < 0.01, "{kind:?}: {uncertainty_m}");
            assert_eq!(source, "given");
        }
    }

    #[test]
    fn time_is_the_one_given_or_unknown_or_the_clock() {
        let answer = |arguments: &[&str]| {
            let outcome = single(&[&["45.1", "-30.2", "--format", "json"], arguments].concat());
            serde_json::from_str::<serde_json::Value>(&outcome.out).unwrap()
        };
        let time = |arguments: &[&str]| answer(arguments)["time"].clone();
        assert_eq!(answer(&[])["time_source"], "clock");
        assert_eq!(time(&["--time", "2026-07-25T07:30:00+01:00"]), "2026-07-25T06:30:00Z");
        assert!(time(&["--time", "unknown"]).is_null());
        assert!(time(&[]).is_string());
    }
}

mod zones {
    use super::*;

    #[track_caller]
    fn unreadable(folder: &Path, arguments: &[&str], reason: &str) {
        let outcome = takeline(folder, &[&["here", "45.1", "-30.2"], arguments].concat(), "");
        assert_eq!(outcome.status, 3, "{}", outcome.err);
        assert!(outcome.err.contains(reason), "{}", outcome.err);
        assert_eq!(outcome.out, "");
    }

    #[test]
    fn without_zones_there_is_no_answer() {
        let folder = TempDir::new().unwrap();
        unreadable(folder.path(), &[], "TAKELINE_ZONES");
        unreadable(folder.path(), &["--zones", "missing.json"], "missing.json cannot be read");
        unreadable(folder.path(), &["--zones", "."], "no file named *.json or *.geojson");
    }

    #[test]
    fn one_bad_file_stops_everything() {
        let folder = marrowick();
        fs::write(folder.path().join("broken.json"), "{").unwrap();
        unreadable(folder.path(), &["--zones", "."], "broken.json");
        unreadable(folder.path(), &["--zones", "marrowick.geojson", "--zones", "broken.json"], "open water");
    }

    #[test]
    fn zones_come_from_the_argument_the_variable_or_the_config_folder() {
        let folder = marrowick();
        let config = folder.path().join("config").join("takeline").join("zones");
        let run = |variable: &str| {
            let output = Command::new(env!("CARGO_BIN_EXE_takeline"))
                .args(["here", "46.5", "-28.5"])
                .current_dir(folder.path())
                .env("XDG_CONFIG_HOME", folder.path().join("config"))
                .env("TAKELINE_ZONES", variable)
                .output()
                .unwrap();
            output.status.code().unwrap()
        };
        assert_eq!(run("marrowick.geojson"), 0);
        assert_eq!(run("missing.geojson"), 3);
        assert_eq!(run(""), 3);
        fs::create_dir_all(&config).unwrap();
        fs::copy(folder.path().join("marrowick.geojson"), config.join("marrowick.geojson")).unwrap();
        assert_eq!(run(""), 0);
    }
}

mod batches {
    use super::*;

    #[test]
    fn each_good_row_is_one_json_line_with_its_line_number() {
        let outcome = batch(&[], "lat,lon\n46.5,-28.5\n\n46.6,-28.5\n");
        assert_eq!((outcome.status, outcome.err.as_str()), (0, ""));
        let rows: Vec<_> = outcome.answers().iter().map(|answer| answer["row"].clone()).collect();
        assert_eq!(rows, [2, 4]);
    }

    #[test]
    fn columns_come_in_any_order_and_strange_ones_are_noted() {
        let outcome = batch(
            &["--accuracy-kind", "p95"],
            "\u{feff}Accuracy_M, note ,LON,time,Lat\n4,first,-28.500001,2026-07-25T06:30:00Z,46.5\n,second,-28.5,,46.6\n",
        );
        assert_eq!(outcome.status, 0, "{}", outcome.err);
        assert!(outcome.err.contains("\"note\""), "{}", outcome.err);
        let answers = outcome.answers();
        assert_eq!(answers[0]["position"]["latitude_deg"], 46.5);
        assert_eq!(answers[0]["position"]["uncertainty_95_m"], 4.0);
        assert_eq!(answers[0]["time"], "2026-07-25T06:30:00Z");
        assert_eq!(answers[1]["position"]["uncertainty_source"], "assumed");
        assert!(answers[1]["time"].is_null(), "the clock is no time of a logged fix");
    }

    #[test]
    fn a_bad_row_is_told_and_the_rest_answered() {
        let input = "lat,lon,time,accuracy_m\n\
                     46.5,-28.5,,\n\
                     91,-28.5,,\n\
                     46.5,,,\n\
                     46.5,-28.5,noon,\n\
                     46.5,-28.5,,-1\n\
                     nan,-28.5,,\n\
                     46.6,-28.5,,\n";
        let outcome = batch(&[], input);
        assert_eq!(outcome.status, 3);
        assert_eq!(outcome.answers().len(), 2);
        let told: Vec<_> = outcome.err.lines().filter_map(|line| line.split(':').next()).collect();
        assert_eq!(told, ["line 3", "line 4", "line 5", "line 6", "line 7"]);
    }

    #[test]
    fn hostile_rows_cost_one_row_each() {
        let long = "7".repeat(200_000);
        let mut input = format!("lat,lon\n\"46.5,-28.5\n{long}\n").into_bytes();
        input.extend(b"46.5,\xff\n46.5,-28.5\n");
        let folder = marrowick();
        let output = Command::new(env!("CARGO_BIN_EXE_takeline"))
            .args(["here", "--zones", "marrowick.geojson", "--fixes", "-"])
            .current_dir(folder.path())
            .write_stdin(input)
            .output()
            .unwrap();
        let errors = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(3));
        assert_eq!(String::from_utf8(output.stdout).unwrap().lines().count(), 1, "{errors}");
        for line in ["line 2: ", "line 3: longer than", "line 4: is not UTF-8 text"] {
            assert!(errors.contains(line), "{errors}");
        }
    }

    #[test]
    fn without_a_header_or_a_row_nothing_was_assessed() {
        for (input, reason) in [
            ("", "is empty"),
            ("46.5,-28.5\n", "columns lat and lon"),
            ("lat lon\n46.5 -28.5\n", "columns lat and lon"),
            ("lat,lon,lat\n", "twice"),
            ("lat,lon\n", "no fix"),
        ] {
            let outcome = batch(&[], input);
            assert_eq!(outcome.status, 3, "{input}");
            assert!(outcome.err.contains(reason), "{input}: {}", outcome.err);
        }
    }

    #[test]
    fn people_get_one_short_line_per_row() {
        let outcome = batch(&["--format", "human"], "lat,lon\n46.5,-28.5\n46.6,-28.5\n");
        let lines: Vec<_> = outcome.out.lines().collect();
        assert_eq!(lines.len(), 2);
        assert!(lines[0].starts_with("line 2: No loaded zone applies here"), "{}", lines[0]);
    }

    #[test]
    fn ten_thousand_rows_give_ten_thousand_lines() {
        let outcome = batch(&[], &many_rows());
        assert_eq!(outcome.out.lines().count(), 10_000);
    }
}

#[test]
#[cfg(unix)]
fn a_reader_that_has_seen_enough_ends_a_batch_which_then_is_not_settled() {
    use std::io::Read;
    use std::process::{Command, Stdio};

    let folder = marrowick();
    fs::write(folder.path().join("fixes.csv"), many_rows()).unwrap();
    let mut running = Command::new(env!("CARGO_BIN_EXE_takeline"))
        .args(["here", "--zones", "marrowick.geojson", "--fixes", "fixes.csv"])
        .current_dir(folder.path())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut first = [0; 64];
    running.stdout.take().unwrap().read_exact(&mut first).unwrap();
    let mut errors = String::new();
    running.stderr.take().unwrap().read_to_string(&mut errors).unwrap();
    // what was not looked at may hold anything
    assert_eq!(running.wait().unwrap().code(), Some(3));
    assert!(errors.starts_with("note: standard output was closed before line"), "{errors}");
    assert_eq!(errors.lines().count(), 1);
}
