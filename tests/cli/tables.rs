//! Tables whose places, accuracies and times are told in columns of their own, for every reader of tables. All zones are
//! invented.

use std::fmt::Write;
use std::fs;

use serde_json::{Value, json};

use super::what_binds::{Asked, files, zone};
use super::{Outcome, takeline};

/// A no-take square at 51°N, just west of Greenwich.
fn reserve_west_of_greenwich() -> Asked {
    files(&[&[zone(
        "reserve",
        [[-0.06, 51.00], [-0.04, 51.00], [-0.04, 51.02], [-0.06, 51.02]],
        json!({ "crossing": { "allowed": false } }),
    )]])
}

#[test]
fn rows_of_hemispheres_and_minutes_are_inside_where_the_boat_is() {
    let asked = reserve_west_of_greenwich();
    let outcome = asked.run(&["--fixes", "-"], "lat,N/S,lon,E/W\n51.01010,N,0.05010,W\n");
    assert_eq!(outcome.status, 1, "{} {}", outcome.out, outcome.err);
    assert!(!outcome.err.contains("is not read"), "{}", outcome.err);
    let outcome = asked.run(&["--fixes", "-"], "lat_deg,lat_min,lon_deg,lon_min\n51,0.6060,-0,3.0060\n");
    assert_eq!(outcome.status, 1, "{} {}", outcome.out, outcome.err);
    let outcome = asked.run(&["--fixes", "-"], "lat,lon,latitude_thing\n51.01010,0.05010,N\n");
    assert_eq!((outcome.status, outcome.out.as_str()), (3, ""));
    assert!(outcome.err.contains("latitude_thing") && outcome.err.contains("line 1"), "{}", outcome.err);
    for row in [
        "lat,lon,status\n51.01010,-0.05010,V\n",
        "lat,lon,datum\n51.01010,-0.05010,OSGB36\n",
        "a,lat,b,lon\nN,51.01010,W,0.05010\n",
    ] {
        let outcome = asked.run(&["--fixes", "-"], row);
        assert_eq!((outcome.status, outcome.out.as_str()), (3, ""), "{row}");
        assert!(outcome.err.contains("line 2"), "{}", outcome.err);
    }
}

#[test]
fn rows_obey_or_refuse_the_accuracies_that_a_track_does() {
    let asked = reserve_west_of_greenwich();
    // 100 m or so north of the line, and 300 m of doubt
    let row = |name: &str| asked.run(&["--fixes", "-"], &format!("lat,lon,{name}\n51.02100,-0.05000,300\n"));
    for name in ["accuracy_95", "hacc_68", "hAcc", "drms", "accuracy (m)"] {
        let outcome = row(name);
        assert_eq!(
            (outcome.status, outcome.answers().len()),
            (3, 1),
            "{name}: {} {}",
            outcome.out,
            outcome.err
        );
        let doubt_m = outcome.answers()[0]["position"]["uncertainty_95_m"].as_f64().unwrap();
        assert!(doubt_m >= 299.9, "{name}: {doubt_m}");
    }
    for name in [
        "acc",
        "epe",
        "eph",
        "precision",
        "accuracy_ft",
        "error_m",
        "pos_error",
        "err",
        "radius",
        "uncertainty",
        "cep",
    ] {
        let outcome = row(name);
        assert_eq!((outcome.status, outcome.out.as_str()), (3, ""), "{name}");
        assert!(
            outcome.err.contains("line 2") && outcome.err.contains("call it accuracy_m"),
            "{}",
            outcome.err
        );
    }
    // an empty one says nothing, and one beside an accuracy that is read is no matter
    assert_eq!(asked.run(&["--fixes", "-"], "lat,lon,acc\n51.02100,-0.05000,\n").status, 0);
    assert_eq!(asked.run(&["--fixes", "-"], "lat,lon,acc,accuracy_m\n51.02100,-0.05000,300,5\n").status, 0);
}

#[test]
fn a_time_that_is_unknown_may_be_written_so_and_one_without_offset_is_quoted_as_it_stands() {
    let asked = reserve_west_of_greenwich();
    let outcome = asked.run(&["--fixes", "-"], "lat,lon,time\n51.01010,-0.05010,unknown\n");
    assert_eq!(outcome.status, 1, "{} {}", outcome.out, outcome.err);
    let outcome = asked.run(&["--fixes", "-"], "date,time,lat,lon\n2026-07-04,10:00:00,51.01010,-0.05010\n");
    assert_eq!(outcome.status, 3);
    let told = "date \"2026-07-04\" and time \"10:00:00\" are not understood";
    assert!(outcome.err.contains(told) && outcome.err.contains("offset from UTC"), "{}", outcome.err);
}

/// `takeline track` about a table with a row each 10 s.
fn track(asked: &Asked, header: &str, row: &dyn Fn(u32, &str) -> String, more: &[&str]) -> Outcome {
    let mut table = format!("{header}\n");
    for step in 0..30_u32 {
        let clock = format!("2026-07-04T10:{:02}:{:02}", step / 6, step % 6 * 10);
        writeln!(table, "{}", row(step, &clock)).unwrap();
    }
    fs::write(asked.folder.path().join("log.csv"), table).unwrap();
    let arguments = ["track", "log.csv", "--zones", "0.json", "--access", "boat", "--width", "200"];
    takeline(asked.folder.path(), &[&arguments[..], more].concat(), "")
}

const JSON: [&str; 2] = ["--format", "json"];

fn document(outcome: &Outcome) -> Value {
    serde_json::from_str(&outcome.out).expect(&outcome.err)
}

#[test]
fn a_track_of_hemispheres_and_minutes_is_inside_where_the_boat_was() {
    let asked = reserve_west_of_greenwich();
    let sides = track(
        &asked,
        "time,lat,N/S,lon,E/W",
        &|step, clock| format!("{clock}Z,51.0101{step:02},N,0.050100,W"),
        &JSON,
    );
    assert_eq!(sides.status, 1, "{}", sides.out);
    let minutes = track(
        &asked,
        "time,lat_deg,lat_min,lon_deg,lon_min",
        &|step, clock| format!("{clock}Z,51,0.6{step:02}0,-0,3.0060"),
        &JSON,
    );
    assert_eq!(minutes.status, 1, "{}", minutes.out);
    let refused =
        track(&asked, "time,lat,lon,lat_rest", &|_, clock| format!("{clock}Z,51.01,0.0501,1"), &JSON);
    assert_eq!((refused.status, refused.out.as_str()), (3, ""));
    let void = track(&asked, "time,lat,lon,status", &|_, clock| format!("{clock}Z,51.3,0.0501,V"), &JSON);
    assert_eq!(void.status, 3, "{}", void.out);
}

#[test]
fn a_catch_log_of_hemispheres_is_read_where_the_fish_was_caught_and_a_bad_accuracy_refused() {
    let asked = reserve_west_of_greenwich();
    let caught = |header: &str, row: &str| {
        fs::write(asked.folder.path().join("catches.csv"), format!("{header}\n{row}\n")).unwrap();
        let row = |step: u32, clock: &str| format!("{clock}Z,51.0101{step:02},-0.050100");
        track(&asked, "time,lat,lon", &row, &[&JSON[..], &["--catches", "catches.csv"]].concat())
    };
    let first = |outcome: &Outcome| document(outcome)["catches"][0].clone();
    let time = "2026-07-04T10:02:30Z";
    let read =
        caught("time,latitude,N/S,longitude,E/W,species", &format!("{time},51.01013,N,0.05010,W,bass"));
    assert_eq!(first(&read)["longitude_deg"], json!(-0.0501), "{}", read.out);
    let refused = caught("time,lat,lon,acc,species", &format!("{time},51.01013,-0.05010,300,bass"));
    assert_eq!(refused.status, 3, "{}", refused.out);
    assert!(refused.err.contains("accuracy \"300\""), "{}", refused.err);
    let refused = caught("time,lat,lon,lat_rest,species", &format!("{time},51.01013,-0.05010,300,bass"));
    assert!(refused.status == 3 && refused.err.contains("lat_rest"), "{}", refused.err);
}

#[test]
fn times_of_a_table_without_an_offset_leave_open_what_was_in_force() {
    let hours = json!({ "crossing": { "allowed": false }, "when": { "yearly": { "from": "07-04", "to": "07-31", "ends": "included" } } });
    let square = [[-0.06, 51.00], [-0.04, 51.00], [-0.04, 51.02], [-0.06, 51.02]];
    let asked = files(&[&[zone("reserve", square, hours)]]);
    let ask = |header: &str, before: &str, behind: &str| {
        track(
            &asked,
            header,
            &|step, clock| format!("{before}{clock}{behind},51.0101{step:02},-0.050100"),
            &JSON,
        )
    };
    assert_eq!(ask("time,lat,lon", "", "Z").status, 1);
    assert_eq!(ask("utc_offset,time,lat,lon", "-01:00,", "").status, 1);
    for outcome in [ask("time,lat,lon", "", ""), ask("timezone,time,lat,lon", "Atlantic/Azores,", "")] {
        assert_eq!(outcome.status, 3, "{}", outcome.out);
        let told = document(&outcome);
        assert_eq!(told["settings"]["dates_doubtful"], true);
        let because = told["undecided_because"].to_string();
        assert!(because.contains("offset from UTC") || because.contains("from UTC"), "{because}");
    }
    let text = track(&asked, "time,lat,lon", &|step, clock| format!("{clock},51.0101{step:02},-0.0501"), &[]);
    let first: Vec<&str> = text.out.lines().take(3).collect();
    assert!(first[1].contains("no offset from UTC"), "{first:?}");
    assert!(first[2].contains("write the log's times with their offset from UTC"), "{first:?}");
    // a rule of every day of the year is settled all the same
    let asked = reserve_west_of_greenwich();
    let always =
        track(&asked, "time,lat,lon", &|step, clock| format!("{clock},51.0101{step:02},-0.050100"), &JSON);
    assert_eq!(always.status, 1, "{}", always.out);
}

#[test]
fn a_fix_of_a_clock_that_was_not_set_makes_no_gap_of_years_and_a_clock_never_set_leaves_the_season_open() {
    let summer = json!({ "crossing": { "allowed": false }, "when": { "yearly": { "from": "06-01", "to": "08-31", "ends": "included" } } });
    let square = [[-0.06, 51.00], [-0.04, 51.00], [-0.04, 51.02], [-0.06, 51.02]];
    let asked = files(&[&[zone("reserve", square, summer)]]);
    let row = |step: u32, clock: &str, year: &str| {
        format!("{year}{}Z,51.0101{step:02},-0.050100", clock.trim_start_matches("2026"))
    };
    let first = track(
        &asked,
        "time,lat,lon",
        &|step, clock| row(step, clock, if step == 0 { "1970" } else { "2026" }),
        &JSON,
    );
    assert_eq!(first.status, 1, "{}", first.out);
    let gaps = document(&first)["gaps"].to_string();
    assert!(!gaps.contains("1970"), "{gaps}");
    let never = track(&asked, "time,lat,lon", &|step, clock| row(step, clock, "1980"), &JSON);
    assert_eq!(
        (never.status, &document(&never)["settings"]["dates_doubtful"]),
        (3, &json!(true)),
        "{}",
        never.out
    );
}
