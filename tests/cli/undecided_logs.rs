//! Logs that settle nothing say so wherever they are kept. All zones are invented.

use std::fmt::Write;
use std::fs;
use std::path::Path;

use serde_json::{Value, json};

use super::what_binds::{RESERVE, files, head, zone};
use super::{Outcome, takeline};

/// Ten minutes of fixes of 10 s about a place.
fn log(folder: &Path, name: &str, place: [f64; 2], date: &str) {
    let mut log = "time,lat,lon\n".to_owned();
    for second in (0..600).step_by(10) {
        let (minute, second) = (second / 60, second % 60);
        let off = 1e-6 * f64::from(minute) + 1e-7 * f64::from(second);
        writeln!(log, "{date}T10:{minute:02}:{second:02}Z,{:.8},{:.8}", place[0], place[1] + off).unwrap();
    }
    fs::write(folder.join(name), log).unwrap();
}

fn track(folder: &Path, more: &[&str]) -> Outcome {
    takeline(
        folder,
        &[&["track", "--zones", "0.json", "--access", "boat", "--width", "100"], more].concat(),
        "",
    )
}

#[test]
fn the_table_and_the_map_of_an_undecided_log_say_why() {
    let asked = files(&[&[zone("reserve", RESERVE, json!({}))]]);
    let folder = asked.folder.path();
    // latitude and longitude exchanged; and a log that is clear of everything
    log(folder, "swapped.csv", [-30.13, 45.11], "2026-07-01");
    log(folder, "clear.csv", [45.2, -30.13], "2026-07-01");
    let told = track(folder, &["swapped.csv", "clear.csv", "--csv", "t.csv", "--geojson", "m.json"]);
    assert_eq!(told.status, 3, "{}", told.err);
    assert!(told.out.contains("1 log is not settled"), "{}", told.out);
    let table = fs::read_to_string(folder.join("t.csv")).unwrap();
    let rows: Vec<&str> = table.lines().collect();
    assert_eq!(rows.len(), 2, "{table}");
    assert!(rows[0].contains(",undecided_because,"), "{table}");
    assert!(rows[1].starts_with("swapped.csv,") && rows[1].contains("swapped"), "{table}");
    let map: Value = serde_json::from_str(&fs::read_to_string(folder.join("m.json")).unwrap()).unwrap();
    let features = map["features"].as_array().unwrap();
    let why: Vec<&Value> = features.iter().filter(|one| one["properties"]["kind"] == "undecided").collect();
    assert_eq!((why.len(), &why[0]["geometry"]), (1, &Value::Null));
    assert_eq!(why[0]["properties"]["track"], "swapped.csv");
    assert!(why[0]["properties"]["undecided_because"].to_string().contains("swapped"));
}

#[test]
fn logs_that_cannot_be_read_are_missing_with_a_word() {
    let asked = files(&[&[zone("reserve", RESERVE, json!({}))]]);
    let folder = asked.folder.path();
    log(folder, "clear.csv", [45.2, -30.13], "2026-07-01");
    let told = track(folder, &["clear.csv", "missing.csv"]);
    assert_eq!(told.status, 3);
    assert!(told.out.contains("1 log is unreadable, and not in the figures"), "{}", told.out);
}

#[test]
fn doubtful_dates_are_doubted_and_no_missing_times() {
    let season = json!({ "when": { "yearly": { "from": "05-01", "to": "08-31", "ends": "included" } } });
    let asked = files(&[&[zone("reserve", RESERVE, season)]]);
    let folder = asked.folder.path();
    log(folder, "old.csv", [45.11, -30.13], "2006-11-01");
    let told = track(folder, &["old.csv", "--html", "p.html"]);
    assert_eq!(told.status, 3, "{}", told.out);
    assert!(told.out.contains("dates of the log"), "{}", told.out);
    assert!(!told.out.contains("no time was given"), "{}", told.out);
    let page = fs::read_to_string(folder.join("p.html")).unwrap();
    assert!(page.contains("1024 weeks later") && !page.contains("no time was given"));
}

#[test]
fn a_catch_of_a_log_whose_dates_are_doubted_has_no_missing_time() {
    let season = json!({ "when": { "yearly": { "from": "05-01", "to": "08-31", "ends": "included" } } });
    let asked = files(&[&[zone("reserve", RESERVE, season)]]);
    let folder = asked.folder.path();
    log(folder, "old.csv", [45.11, -30.13], "2006-11-01");
    fs::write(folder.join("catches.csv"), "time,species,kept\n2006-11-01T10:05:00Z,bass,yes\n").unwrap();
    let told = track(folder, &["old.csv", "--catches", "catches.csv"]);
    assert_eq!(told.status, 3, "{}", told.out);
    assert!(told.out.contains("UNDECIDED bass"), "{}", told.out);
    assert!(!told.out.contains("no time was given"), "{}", told.out);
}

#[test]
fn a_zone_of_unknown_place_that_was_not_in_force_leaves_no_log_undecided() {
    let season = json!({ "yearly": { "from": "01-01", "to": "01-31", "ends": "included" } });
    let nowhere = |when: Option<&Value>| {
        let mut plan = zone("plan", RESERVE, json!({ "geometry_unknown": { "reason": "plan missing" } }));
        plan["geometry"] = Value::Null;
        plan["properties"].as_object_mut().unwrap().remove("edges");
        if let Some(when) = when {
            plan["properties"]["when"] = when.clone();
        }
        plan
    };
    let answers = |zone: Value| {
        let asked = files(&[&[zone]]);
        log(asked.folder.path(), "clear.csv", [45.2, -30.13], "2026-07-01");
        let here = asked.here(["45.2", "-30.13"], &["--time", "2026-07-01T10:00:00Z"]).0.status;
        (track(asked.folder.path(), &["clear.csv"]), here)
    };
    let (told, here) = answers(nowhere(Some(&season)));
    assert_eq!((told.status, here), (0, 0), "{}", told.out);
    assert!(told.out.contains("not known where plan is"), "{}", told.out);
    let (told, here) = answers(nowhere(None));
    assert_eq!((told.status, here), (3, 3), "{}", told.out);
    assert!(head(&told).contains("plan"), "{}", told.out);
}

#[test]
fn a_year_in_which_nobody_has_a_fix_is_doubted_in_a_position_a_log_and_a_catch_alike() {
    // in force on one day only
    let season = json!({ "effective": { "from": "2026-07-25", "last_day": "2026-07-25" } });
    let asked = files(&[&[zone("reserve", RESERVE, season)]]);
    let folder = asked.folder.path();
    let (here, _) = asked.here(["45.11", "-30.13"], &["--time", "2206-07-24T10:05:00Z"]);
    assert_eq!(here.status, 3, "{}", here.out);
    log(folder, "late.csv", [45.11, -30.13], "2206-07-24");
    let told = track(folder, &["late.csv"]);
    assert_eq!(told.status, 3, "{}", told.out);
    assert!(told.out.contains("in the year 2206"), "{}", told.out);
    // nor does a fish that was caught there have no zone to go by, whatever the log beside it says
    let fish = |year: u16| {
        let row = format!("species,lat,lon,time\ncod,45.11,-30.13,{year}-07-24T10:05:00Z\n");
        fs::write(folder.join("fish.csv"), row).unwrap();
    };
    log(folder, "day.csv", [45.2, -30.13], "2026-07-01");
    fish(2026);
    let told = track(folder, &["day.csv", "--catches", "fish.csv"]);
    assert!(!told.out.contains("1 UNDECIDED"), "{}", told.out);
    fish(2206);
    for beside in ["late.csv", "day.csv"] {
        let told = track(folder, &[beside, "--catches", "fish.csv"]);
        assert_eq!(told.status, 3, "{}", told.out);
        assert!(told.out.contains("1 not settled"), "{}", told.out);
    }
}
