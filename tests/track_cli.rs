//! `takeline track` as a script sees it: arguments, streams, files and exit status.
//!
//! What the reports say is tested below the binary; here it is only that the wires are connected.

#![expect(clippy::unwrap_used, reason = "a test whose program does not even run has failed")]

#[path = "program.rs"]
mod program;

use std::fs;
use std::path::Path;

use tempfile::TempDir;

use program::Outcome;

/// A no-take square of about 1 km at Sallow Cove on the invented isle of Marrowick.
const SALLOW_COVE: &str = r#"{
  "type": "FeatureCollection",
  "takeline": { "format": "takeline.zones/1", "title": "Marrowick", "edition": "2026-1",
                "datum": "WGS 84", "time_zone": "UTC",
                "taxa": [{ "id": "sprat", "scientific": "Sprattus sprattus", "names": ["sprat"] }], "groups": [] },
  "features": [
    { "type": "Feature", "id": "sallow-cove",
      "geometry": { "type": "Polygon", "coordinates": [[[-30.130, 45.110], [-30.117, 45.110],
                    [-30.117, 45.119], [-30.130, 45.119], [-30.130, 45.110]]] },
      "properties": { "name": "Sallow Cove Reserve", "edges": "geodesic", "take": "none", "crossing": { "allowed": false },
                      "source": { "instrument": "Marrowick Reserves Order 2019" } } } ] }"#;

/// East of the reserve, northward, a fix every 10 s, always about 390 m off.
const OUTSIDE: &str = "lat,lon,time
45.1100,-30.1120,2026-07-25T06:30:00Z
45.1102,-30.1120,2026-07-25T06:30:10Z
45.1104,-30.1120,2026-07-25T06:30:20Z
";

/// From 390 m east of the reserve to 80 m inside and back out, a fix every 10 s.
fn inside() -> String {
    let way = (0..=60).map(|step: u32| {
        let lon_deg = -30.1120 - 0.0002 * f64::from(30 - step.abs_diff(30));
        format!("45.1150,{lon_deg:.5},2026-07-25T06:{:02}:{:02}Z\n", 30 + step / 6, step % 6 * 10)
    });
    std::iter::once("lat,lon,time\n".to_owned()).chain(way).collect()
}

fn track(folder: &Path, arguments: &[&str], input: &str) -> Outcome {
    program::run(folder, Some("marrowick.geojson".as_ref()), &[&["track"], arguments].concat(), input)
}

fn marrowick() -> TempDir {
    let folder = TempDir::new().unwrap();
    let write = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    write("marrowick.geojson", SALLOW_COVE);
    fs::create_dir(folder.path().join("logs")).unwrap();
    write("logs/a-outside.csv", OUTSIDE);
    write("logs/b-inside.csv", &inside());
    folder
}

#[test]
fn exit_status_tells_outside_from_inside_from_unreadable() {
    let folder = marrowick();
    let outside = track(folder.path(), &["logs/a-outside.csv"], "");
    assert_eq!(outside.status, 0, "{}{}", outside.out, outside.err);
    assert!(outside.out.starts_with("Never inside"), "{}", outside.out);
    let inside = track(folder.path(), &["logs/b-inside.csv"], "");
    assert_eq!(inside.status, 1, "{}{}", inside.out, inside.err);
    assert!(inside.out.starts_with("AGAINST A RULE: inside"), "{}", inside.out);
    let missing = track(folder.path(), &["logs/c.csv"], "");
    assert_eq!(missing.status, 3);
    assert!(missing.err.contains("logs/c.csv") && missing.err.contains("check the name"), "{}", missing.err);
}

#[test]
fn a_page_for_each_of_several_logs_needs_a_folder_and_that_is_said_once() {
    let folder = marrowick();
    fs::write(folder.path().join("cross.html"), "mine").unwrap();
    let refused = track(folder.path(), &["logs", "--html", "cross.html"], "");
    assert_eq!((refused.status, refused.out.as_str()), (3, ""));
    let said = "cross.html is a file; with several logs give a folder";
    assert_eq!(refused.err.matches(said).count(), 1, "{}", refused.err);
    assert_eq!(fs::read_to_string(folder.path().join("cross.html")).unwrap(), "mine");
}

#[test]
fn no_accuracy_is_asked_for_where_every_fix_of_the_log_brings_its_own() {
    let folder = marrowick();
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data");
    let (trip, zones) = (demo.join("trips/wander.gpx"), demo.join("zones/marrowick.json"));
    let found = track(folder.path(), &[trip.to_str().unwrap(), "--zones", zones.to_str().unwrap()], "");
    assert_eq!(found.status, 3, "{}{}", found.out, found.err);
    assert!(found.out.contains("can settle it") && !found.out.contains("--accuracy ("), "{}", found.out);
    // without any, it is
    let along = OUTSIDE.replace("-30.1120", "-30.11695");
    let found = track(folder.path(), &["-"], &along);
    assert_eq!(found.status, 3, "{}{}", found.out, found.err);
    assert!(found.out.contains("--accuracy ("), "{}", found.out);
}

#[test]
fn no_side_is_told_of_a_log_that_begins_and_ends_on_a_vertex() {
    let folder = marrowick();
    let row = |lat: &str, time: &str| format!("{lat},-30.130,2026-07-25T06:{time}Z\n");
    let log = ["lat,lon,time\n".to_owned(), row("45.110", "00:00"), row("45.119", "10:00")].concat();
    let words = track(folder.path(), &["-"], &log);
    assert_eq!(words.status, 3, "{}{}", words.out, words.err);
    assert!(words.out.contains("on the boundary") && !words.out.contains("m inside"), "{}", words.out);
    let data = track(folder.path(), &["-", "--format", "json"], &log);
    let data: serde_json::Value = serde_json::from_str(&data.out).unwrap();
    assert_eq!(data["visits"][0]["deepest_m"].to_string(), "0.0");
}

#[test]
fn a_broken_log_among_good_ones_is_named_and_stops_nothing() {
    let folder = marrowick();
    fs::write(folder.path().join("logs/aa-broken.csv"), "this is no track\n").unwrap();
    let all = track(folder.path(), &["logs", "--format", "json"], "");
    assert_eq!(all.status, 3);
    assert!(all.err.contains("aa-broken.csv, line 1"), "{}", all.err);
    let documents: Vec<serde_json::Value> =
        all.out.lines().map(|line| serde_json::from_str(line).unwrap()).collect();
    let paths: Vec<_> =
        documents.iter().map(|document| document["input"]["path"].as_str().unwrap()).collect();
    assert_eq!(paths, ["logs/a-outside.csv", "logs/b-inside.csv"]);
    assert_eq!(documents[0]["exit_status"], 0);
    assert_eq!(documents[1]["exit_status"], 1);
    assert_eq!(documents[1]["visits"][0]["zone_id"], "sallow-cove");
}

#[test]
fn one_log_is_one_document_and_the_same_twice() {
    let folder = marrowick();
    let arguments = ["logs/b-inside.csv", "--format", "json", "--geojson", "b.geojson", "--csv", "b.csv"];
    let once = track(folder.path(), &arguments, "");
    let files = || ["b.geojson", "b.csv"].map(|name| fs::read(folder.path().join(name)).unwrap());
    let first_files = files();
    let twice = track(folder.path(), &arguments, "");
    assert_eq!((once.out.clone(), first_files), (twice.out, files()));
    let document: serde_json::Value = serde_json::from_str(&once.out).unwrap();
    assert_eq!(document["schema"], "takeline.track/1");
    assert_eq!(document["command"], "takeline track logs/b-inside.csv --zones marrowick.geojson");
    let features: serde_json::Value =
        serde_json::from_slice(&fs::read(folder.path().join("b.geojson")).unwrap()).unwrap();
    assert_eq!(features["type"], "FeatureCollection");
    let table = fs::read_to_string(folder.path().join("b.csv")).unwrap();
    assert_eq!(table.lines().count(), 2, "{table}");
}

#[test]
fn standard_input_folders_and_patterns_are_read() {
    let folder = marrowick();
    let piped = track(folder.path(), &["-"], OUTSIDE);
    assert_eq!(piped.status, 0, "{}", piped.err);
    let pattern = track(folder.path(), &["logs/*-inside.csv"], "");
    assert_eq!(pattern.status, 1, "{}", pattern.err);
    let both = track(folder.path(), &["logs"], "");
    assert_eq!(both.status, 1);
    assert_eq!(both.out.lines().filter(|line| line.contains("side.csv);")).count(), 2, "{}", both.out);
    assert!(both.out.contains("ALL 2 LOGS"));
    let none = track(folder.path(), &["logs/*.gpx"], "");
    assert_eq!(none.status, 3);
    assert!(none.err.contains("no file is named like logs/*.gpx"), "{}", none.err);
}

#[test]
fn what_makes_no_sense_is_usage() {
    let folder = marrowick();
    for arguments in [
        &[][..],
        &["-", "-"],
        &["logs", "--catches", "catches.csv"],
        &["logs/a-outside.csv", "--top-speed-kn", "0"],
        &["logs/a-outside.csv", "--accuracy-m", "-3"],
        &["logs/a-outside.csv", "--trim-ends", "x"],
        &["logs/a-outside.csv", "--csv", "logs/a-outside.csv"],
        // the zone file, which only the environment names, or a folder
        &["logs/a-outside.csv", "--csv", "marrowick.geojson"],
        &["logs/a-outside.csv", "--zones", ".", "--geojson", "marrowick.geojson"],
    ] {
        let outcome = track(folder.path(), arguments, "");
        assert_eq!(outcome.status, 2, "{arguments:?}: {}", outcome.err);
        assert!(outcome.out.is_empty());
    }
    assert_eq!(fs::read_to_string(folder.path().join("logs/a-outside.csv")).unwrap(), OUTSIDE);
    assert_eq!(fs::read_to_string(folder.path().join("marrowick.geojson")).unwrap(), SALLOW_COVE);
}

#[test]
fn a_kept_catch_that_had_to_go_back_is_against_the_rule_and_a_bad_row_is_told() {
    let folder = marrowick();
    let log = |rows: &str| {
        let text = format!("species,lat,lon,time,kept\n{rows}");
        fs::write(folder.path().join("catches.csv"), text).unwrap();
        track(folder.path(), &["logs/a-outside.csv", "--catches", "catches.csv", "--format", "json"], "")
    };
    // an hour after the log has ended: the boat can have gone there by then
    let release = log("sprat,45.115,-30.123,2026-07-25T07:30:05Z,yes\n");
    assert_eq!(release.status, 1, "{}", release.err);
    let document: serde_json::Value = serde_json::from_str(&release.out).unwrap();
    assert_eq!(document["catches"][0]["answer"], "release");
    assert_eq!(document["catches"][0]["row"], 2);
    // while it was being logged elsewhere, one of the two is wrong
    let torn = log("sprat,45.115,-30.123,2026-07-25T06:30:05Z,yes\n");
    assert_eq!(torn.status, 3, "{}", torn.err);
    assert!(torn.out.contains("one of the two is wrong"), "{}", torn.out);
    let document: serde_json::Value = serde_json::from_str(&torn.out).unwrap();
    let told = &document["catches"][0]["contradicted"];
    assert_eq!((&told["row_latitude_deg"], &told["track_latitude_deg"]), (&45.115.into(), &45.11.into()));
    let bad = log("sprat,45.115,-30.123,yesterday,yes\n");
    assert_eq!(bad.status, 3);
    assert!(bad.err.contains("catches.csv, line 2: time"), "{}", bad.err);
}

#[test]
fn a_log_too_thin_to_say_is_undecided_and_says_how_thin_it_is() {
    let folder = marrowick();
    // 39 m east of the reserve, northward at a metre in two seconds
    let each = |seconds: u32| {
        let rows = (0..=200 / seconds).map(|step| {
            let passed = step * seconds;
            let (lat_deg, minute) = (45.1140 + 0.000_005 * f64::from(passed), 30 + passed / 60);
            format!("{lat_deg:.6},-30.1165,2026-07-25T06:{minute}:{:02}Z\n", passed % 60)
        });
        std::iter::once("lat,lon,time\n".to_owned()).chain(rows).collect::<String>()
    };
    let thin = track(folder.path(), &["-"], &each(20));
    assert_eq!(thin.status, 3, "{}", thin.out);
    let first: Vec<&str> = thin.out.lines().take(4).collect();
    assert!(
        first[0].starts_with("NOT SETTLED") && first[1].contains("between fixes 20 s apart"),
        "{first:?}"
    );
    assert!(first[2..].join(" ").contains("--top-speed"), "{first:?}");
    let json = track(folder.path(), &["-", "--format", "json"], &each(20)).out;
    let document: serde_json::Value = serde_json::from_str(&json).unwrap();
    let visit = &document["visits"][0];
    assert_eq!((&visit["evidence"], &visit["certainty"]), (&"between-fixes".into(), &"possible".into()));
    assert_eq!(visit["off_the_way"]["seconds"], 20.0);
    // 12 kn are 123.5 m in 20 s: half of that, hardly less for 10 m of way
    assert!((visit["off_the_way"]["reach_m"].as_f64().unwrap() - 61.7).abs() < 0.1, "{visit}");
    // a slow boat was not in, and no more a boat whose log is thick enough
    assert_eq!(track(folder.path(), &["-", "--top-speed-kn", "3"], &each(20)).status, 0);
    assert_eq!(track(folder.path(), &["-"], &each(2)).status, 0);
}

#[test]
fn what_contradicts_a_catch_does_not_tell_the_launch() {
    let folder = marrowick();
    let row = "species,lat,lon,time\nsprat,45.2,-30.2,2026-07-25T06:30:05Z\n";
    fs::write(folder.path().join("catches.csv"), row).unwrap();
    let arguments = ["logs/a-outside.csv", "--catches", "catches.csv", "--trim-ends", "200"];
    let unwrapped = |text: String| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let text = unwrapped(track(folder.path(), &arguments, "").out);
    assert!(text.contains("one of the two") && text.contains("withheld"), "{text}");
    // 30.1120 W is 30°06.720′ W; nor how far the row is from there, which with two more rows tells as much
    assert!(!text.contains("06.7") && !text.contains("apart"), "{text}");
    let open = unwrapped(track(folder.path(), &arguments[..3], "").out);
    assert!(open.contains("km apart"), "{open}");
    let json = track(folder.path(), &[&arguments[..], &["--format", "json"]].concat(), "").out;
    assert!(!json.contains("30.112"), "{json}");
}

/// S18: no exported position lies near the launch.
#[test]
fn trimmed_ends_are_in_no_output() {
    let folder = marrowick();
    let arguments = ["logs/b-inside.csv", "--trim-ends", "200", "--geojson", "b.geojson", "--format", "json"];
    let outcome = track(folder.path(), &arguments, "");
    let features = fs::read_to_string(folder.path().join("b.geojson")).unwrap();
    // launch and landing at 30.1120 W; 200 m are 0.00254° of longitude here
    for text in [&outcome.out, &features] {
        for near in ["-30.112", "-30.113", "-30.1140", "-30.1142", "-30.1144"] {
            assert!(!text.contains(near), "{near} in {text}");
        }
    }
    assert!(features.contains("-30.115"));
    let document: serde_json::Value = serde_json::from_str(&outcome.out).unwrap();
    assert_eq!(document["trimmed_ends_m"], 200.0);
}

#[test]
fn what_a_folder_holds_and_nobody_reads_is_named() {
    let folder = marrowick();
    let write = |name: &str| fs::write(folder.path().join("logs").join(name), "no log").unwrap();
    let before = track(folder.path(), &["logs"], "");
    assert!(!before.err.contains("not read"), "{}", before.err);
    ["trip.log", "june.zip", ".hidden"].into_iter().for_each(write);
    fs::create_dir(folder.path().join("logs/older")).unwrap();
    let after = track(folder.path(), &["logs"], "");
    assert_eq!((after.status, &after.out), (before.status, &before.out));
    assert!(after.err.contains("not read: june.zip, the folder older, trip.log"), "{}", after.err);
}

#[test]
fn where_no_log_could_be_read_nothing_is_said_of_zones_kept_clear_of() {
    let folder = marrowick();
    let found = track(folder.path(), &["nowhere.csv", "elsewhere.csv"], "");
    assert_eq!(found.status, 3);
    assert!(found.out.contains("ALL 2 LOGS") && !found.out.contains("no loaded zone"), "{}", found.out);
}

/// A coast beside the reserve.
const COAST: &str = r#"{ "type": "FeatureCollection", "features": [ { "type": "Feature", "id": "shore", "properties": {},
    "geometry": { "type": "LineString", "coordinates": [[-30.116, 45.10], [-30.114, 45.13]] } } ] }"#;

#[test]
fn a_folder_of_pages_has_an_index_with_what_stands_out_first() {
    let folder = marrowick();
    let write = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    write("logs/index", "no log");
    write("logs/c-broken.csv", "this is no track\n");
    let all = track(folder.path(), &["logs", "--html", "pages"], "");
    assert_eq!(all.status, 3, "{}", all.err);
    let read = |name: &str| fs::read_to_string(folder.path().join("pages").join(name)).unwrap();
    let index = read("index.html");
    let place = |text: &str| index.find(text).unwrap_or_else(|| panic!("no {text} in {index}"));
    // against a rule, then not settled, then the rest; the order of the folder is another
    assert!(place("./b-inside.csv.html") < place("could not be read"));
    assert!(place("could not be read") < place("./a-outside.csv.html"));
    let page = read("b-inside.csv.html");
    let (_, verdict) = page.split_once("<h1>").unwrap();
    let (verdict, _) = verdict.split_once("</h1>").unwrap();
    assert!(index.contains(verdict.trim_end_matches('.')), "{verdict}");
    let again = track(folder.path(), &["logs", "--html", "pages", "--threads", "1"], "");
    assert_eq!((again.status, read("index.html")), (3, index));
    // one log has one page and no index
    let one = track(folder.path(), &["logs/a-outside.csv", "--html", "one.html"], "");
    assert_eq!(one.status, 0, "{}", one.err);
    assert!(!folder.path().join("index.html").exists());
}

#[test]
fn the_index_and_the_pages_give_no_withheld_position() {
    let folder = marrowick();
    let all = track(folder.path(), &["logs", "--html", "pages", "--trim-ends", "200"], "");
    assert_eq!(all.status, 1, "{}", all.err);
    for name in ["index.html", "b-inside.csv.html"] {
        let page = fs::read_to_string(folder.path().join("pages").join(name)).unwrap();
        for near in ["030°06.72", "030°06.73", "030°06.7"] {
            assert!(!page.contains(near), "{near} in {name}");
        }
    }
}

#[test]
fn a_backdrop_changes_no_answer_and_a_bad_one_stops_everything() {
    let folder = marrowick();
    let write = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    write("coast.geojson", COAST);
    let bare = track(folder.path(), &["logs/b-inside.csv", "--html", "bare.html"], "");
    let drawn = ["logs/b-inside.csv", "--html", "drawn.html", "--backdrop", "coast.geojson"];
    let over = track(folder.path(), &drawn, "");
    assert_eq!((over.status, &over.err), (1, &bare.err));
    let data = track(folder.path(), &[drawn.as_slice(), &["--format", "json"]].concat(), "");
    let data: serde_json::Value = serde_json::from_str(&data.out).unwrap();
    assert!(
        data["command"].as_str().unwrap().contains("--backdrop coast.geojson"),
        "it makes the page again"
    );
    let page = fs::read_to_string(folder.path().join("drawn.html")).unwrap();
    assert!(page.contains("class=\"backdrop\"") && page.contains("drawn only"));
    write("bad.geojson", &COAST.replace("45.13", "95.13"));
    let bad =
        track(folder.path(), &["logs/b-inside.csv", "--html", "bad.html", "--backdrop", "bad.geojson"], "");
    assert_eq!(bad.status, 3);
    assert!(bad.err.contains("bad.geojson: feature 1 (id \"shore\")") && bad.out.is_empty(), "{}", bad.err);
    assert!(!folder.path().join("bad.html").exists());
    let missing =
        track(folder.path(), &["logs/b-inside.csv", "--html", "x.html", "--backdrop", "none.json"], "");
    assert_eq!(missing.status, 3);
    let alone = track(folder.path(), &["logs/b-inside.csv", "--backdrop", "coast.geojson"], "");
    assert_eq!(alone.status, 2, "it belongs to a page");
    let onto = track(
        folder.path(),
        &["logs/b-inside.csv", "--html", "coast.geojson", "--backdrop", "coast.geojson"],
        "",
    );
    assert_eq!(onto.status, 2, "{}", onto.err);
    assert_eq!(fs::read_to_string(folder.path().join("coast.geojson")).unwrap(), COAST);
}
