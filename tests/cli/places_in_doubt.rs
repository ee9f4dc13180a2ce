//! Places that are no places, lines that are not known, and borders that several zones share. All zones are invented.

use serde_json::{Value, json};

use super::what_binds::{EAST, MIDDLE, NOON, RESERVE, WEST, at_noon, files, head, zone};

const FIVE_METRES: [&str; 6] =
    ["--time", "2026-07-01T10:00:00Z", "--accuracy-m", "5", "--accuracy-kind", "p95"];

/// A no-take zone that lies somewhere in the box of the reserve.
fn somewhere_in_the_reserve(more: Value) -> Value {
    let mut plan = zone("plan", RESERVE, more);
    plan["geometry"] = Value::Null;
    plan["properties"]["geometry_unknown"] =
        json!({ "reason": "plan missing", "somewhere_in": { "bbox": [-30.14, 45.10, -30.12, 45.12] } });
    plan["properties"].as_object_mut().unwrap().remove("edges");
    plan
}

fn kept(document: &Value) -> &str {
    document["standoff"]["kept"].as_str().unwrap()
}

#[test]
fn a_stand_off_is_not_kept_for_certain_from_a_zone_that_may_begin_at_the_edge_of_its_area() {
    let asked = files(&[&[somewhere_in_the_reserve(json!({}))]]);
    let standoff = [&FIVE_METRES[..], &["--standoff-m", "500"]].concat();
    // 11, 44 and 498 m south of the box
    for latitude in ["45.0999", "45.0996", "45.09552"] {
        let (outcome, document) = asked.here([latitude, "-30.13"], &standoff);
        assert_eq!((outcome.status, kept(&document)), (3, "undecided"), "{latitude}: {}", outcome.out);
        assert!(
            head(&outcome).contains("Stand-off UNDECIDED: plan: its boundary is not known"),
            "{}",
            outcome.out
        );
        assert!(head(&outcome).contains("get the boundary of plan"), "{}", outcome.out);
    }
    // 517 m: clear of the whole box by more than the doubt
    let (outcome, document) = asked.here(["45.09535", "-30.13"], &standoff);
    assert_eq!((outcome.status, kept(&document)), (0, "yes"), "{}", outcome.out);
}

#[test]
fn a_stand_off_does_not_count_a_zone_of_unknown_place_that_surely_binds_nobody_here() {
    let standoff = at_noon(&["--standoff-m", "500"]);
    for free in [
        json!({ "when": { "yearly": { "from": "01-01", "to": "01-31", "ends": "included" } } }),
        json!({ "binds": ["shore"] }),
        json!({ "take": "anything" }),
    ] {
        let (outcome, document) =
            files(&[&[somewhere_in_the_reserve(free)]]).here(["45.0999", "-30.13"], &standoff);
        assert_eq!((outcome.status, kept(&document)), (0, "yes"), "{}", outcome.out);
    }
}

#[test]
fn the_stand_off_is_told_with_the_zone_it_is_not_kept_from() {
    // the nearest line restricts nothing
    let free = zone("lane", RESERVE, json!({ "take": "anything" }));
    let near = RESERVE.map(|[lon, lat]| [lon, lat + 0.001]);
    let asked = files(&[&[free, zone("reserve", near, json!({}))]]);
    let (outcome, document) = asked.here(["45.0999", "-30.13"], &at_noon(&["--standoff-m", "500"]));
    assert_eq!((outcome.status, kept(&document)), (1, "no"));
    assert!(head(&outcome).contains("Stand-off NOT kept: reserve"), "{}", outcome.out);
    assert_eq!(document["standoff"]["because"].as_array().unwrap().len(), 1);
}

#[test]
fn zero_zero_is_no_position_unless_a_zone_lies_there() {
    let asked = files(&[&[zone("reserve", RESERVE, json!({}))]]);
    for place in [["0", "0"], ["0.0000001", "-0.0"]] {
        let (outcome, document) = asked.here(place, &at_noon(&["--species", "cod", "--standoff-m", "500"]));
        assert_eq!((outcome.status, document["water"].as_str()), (3, Some("undecided")), "{}", outcome.out);
        let told = document["water_because"][0].as_str().unwrap();
        assert_eq!(told, "0, 0 is what a receiver writes when it has no position");
        assert_eq!(
            (document["take"][0]["answer"].as_str(), kept(&document)),
            (Some("undecided"), "undecided")
        );
        assert_eq!(document["take"][0]["possession"], "undecided");
    }
    let (outcome, _) = asked.here(["0", "0"], &NOON);
    assert!(head(&outcome).contains("0, 0 is what a receiver writes"), "{}", outcome.out);
    let rows = asked.run(&["--fixes", "-", "--format", "human"], "lat,lon\n0,0\n");
    assert_eq!(rows.status, 3, "{}", rows.out);
    assert!(rows.out.contains("0, 0 is what a receiver writes"), "{}", rows.out);
    // half a degree from it is a place, and near a zone it may be meant
    assert_eq!(asked.here(["0.5", "0"], &NOON).0.status, 0);
    let near = RESERVE.map(|[lon, lat]| [lon + 30.0, lat - 45.0]);
    assert_eq!(files(&[&[zone("reserve", near, json!({}))]]).here(["0", "0"], &NOON).0.status, 0);
}

/// The water in the middle, where the two halves meet, with 5 m of doubt.
fn water_between(west: Value, east: Value, place: [&str; 2]) -> String {
    let (outcome, document) = files(&[&[west, east]]).here(place, &FIVE_METRES);
    let water = document["water"].as_str().unwrap().to_owned();
    assert_eq!(outcome.status, if water == "closed" { 1 } else { 3 }, "{}", outcome.out);
    water
}

#[test]
fn zones_that_speak_of_their_own_datum_do_not_share_what_it_is_off() {
    let own = |datum: &str| json!({ "datum": datum });
    let between = |west: &str, east: &str| {
        water_between(zone("west", WEST, own(west)), zone("east", EAST, own(east)), MIDDLE)
    };
    assert_eq!(between("unstated", "unknown"), "undecided");
    assert_eq!(between("NAD 83", "NAD 83"), "undecided");
    assert_eq!(between("WGS 84", "WGS 84"), "closed");
}

#[test]
fn a_crack_of_centimetres_between_two_closed_zones_is_open_water() {
    // 4.7 cm and 0.3 mm of longitude at 45.11° N
    for (gap_deg, water) in [(6e-7, "undecided"), (4e-9, "closed")] {
        let apart = EAST.map(|[lon, lat]| [if lon < -30.125 { lon + gap_deg } else { lon }, lat]);
        let found = water_between(zone("west", WEST, json!({})), zone("east", apart, json!({})), MIDDLE);
        assert_eq!(found, water, "{gap_deg}");
    }
}

#[test]
fn a_zone_given_twice_is_no_larger_than_given_once() {
    // 0.16 m north of the southern line
    let place = ["45.10000144", "-30.13"];
    let doubt = ["--time", "2026-07-01T10:00:00Z", "--accuracy-m", "0.2", "--accuracy-kind", "p95"];
    let twice = [zone("a", RESERVE, json!({})), zone("b", RESERVE, json!({}))];
    for count in [1, 2] {
        let (outcome, document) = files(&[&twice[..count]]).here(place, &doubt);
        assert_eq!((outcome.status, document["water"].as_str()), (3, Some("undecided")), "{}", outcome.out);
    }
    // and no smaller
    let deeper = ["45.1000025", "-30.13"];
    for count in [1, 2] {
        assert_eq!(files(&[&twice[..count]]).here(deeper, &doubt).1["water"], "closed");
    }
}

#[test]
fn four_closed_zones_that_meet_in_a_corner_hold_it_together() {
    let (lon, lat) = ([-30.14, -30.13, -30.12], [45.10, 45.11, 45.12]);
    let tile = |x: usize, y: usize| {
        let ring = [[lon[x], lat[y]], [lon[x + 1], lat[y]], [lon[x + 1], lat[y + 1]], [lon[x], lat[y + 1]]];
        zone(&format!("tile {x}{y}"), ring, json!({}))
    };
    let four = [tile(0, 0), tile(1, 0), tile(0, 1), tile(1, 1)];
    let (outcome, document) = files(&[&four]).here(MIDDLE, &FIVE_METRES);
    assert_eq!((outcome.status, document["water"].as_str()), (1, Some("closed")), "{}", outcome.out);
    assert_eq!(files(&[&four[..3]]).here(MIDDLE, &FIVE_METRES).0.status, 3);
}

#[test]
fn lines_that_are_off_for_themselves_leave_water_between() {
    let off = json!({ "line_uncertainty_m": 3 });
    let found = water_between(zone("west", WEST, off.clone()), zone("east", EAST, json!({})), MIDDLE);
    assert_eq!(found, "undecided");
    // overlapping by more than what they may be off, 7.9 m, they hold it together
    let over = EAST.map(|[lon, lat]| [if lon < -30.125 { lon - 0.000_1 } else { lon }, lat]);
    let found = water_between(zone("west", WEST, off), zone("east", over, json!({})), MIDDLE);
    assert_eq!(found, "closed");
}

#[test]
fn a_fish_that_neither_of_two_limited_zones_allows_goes_back_whichever_it_is_in() {
    let only = |fish: &str| json!({ "take": { "only": [fish] } });
    let doubt = [&FIVE_METRES[..], &["--species", "cod", "--species", "bass"]].concat();
    let both = [zone("west", WEST, only("bass")), zone("east", EAST, only("bass"))];
    let (outcome, document) = files(&[&both]).here(MIDDLE, &doubt);
    let cod = &document["take"][0];
    assert_eq!(cod["answer"], "release", "{}", outcome.out);
    assert_eq!(cod["because"], json!(["it may not be kept here, whichever zone you are in: west or east"]));
    // one of them lets it be kept
    let one = [zone("west", WEST, only("bass")), zone("east", EAST, only("cod"))];
    assert_eq!(files(&[&one]).here(MIDDLE, &doubt).1["take"][0]["answer"], "undecided");
    // a closed zone refuses it as well
    let closed = [zone("west", WEST, only("bass")), zone("east", EAST, json!({}))];
    let (_, document) = files(&[&closed]).here(MIDDLE, &doubt);
    assert_eq!([&document["take"][0]["answer"], &document["take"][1]["answer"]], ["release", "undecided"]);
}

#[test]
fn a_position_with_few_digits_is_in_doubt_by_half_a_step() {
    let asked = files(&[&[zone("reserve", RESERVE, json!({}))]]);
    let doubt_m = |text: &str, more: &[&str]| {
        let outcome = asked.run(&[&[text, "--format", "json"], more].concat(), "");
        let document: Value = serde_json::from_str(&outcome.out).unwrap();
        let told = document["warnings"].to_string().contains("so few digits");
        (document["position"]["uncertainty_95_m"].as_f64().unwrap(), told, outcome.status)
    };
    // half of 0.001° at 45.2° N: 55.6 m along the meridian, 39.3 m along the parallel (WGS 84 radii of curvature); with
    // 10 m in quadrature 68.8 m
    let (found_m, told, _) = doubt_m("45.205, -30.123", &NOON[..2]);
    assert!((found_m - 68.8).abs() < 0.2 && told, "{found_m}");
    // a figure that was given is taken as given, and the digits are told
    assert_eq!(doubt_m("45.205, -30.123", &FIVE_METRES), (5.0, true, 0));
    // 45.2 may be 45.20000 without its zeros
    assert_eq!(doubt_m("45.2, -30.12300", &NOON[..2]), (10.0, false, 0));
    // four decimals are finer than 10 m, and five than 5 m
    assert_eq!(doubt_m("45.2051, -30.1230", &NOON[..2]), (10.0, false, 0));
    assert_eq!(doubt_m("45.20510, -30.12300", &FIVE_METRES), (5.0, false, 0));
    // half a minute: 926 m and 654 m
    let (found_m, _, _) = doubt_m("45°12'N 030°07'W", &NOON[..2]);
    assert!((found_m - 1133.0).abs() < 3.0, "{found_m}");
    // 40 m outside, if 45.0996 is what it was; 45.1 it may be as well
    assert_eq!(doubt_m("45.0996, -30.1300", &NOON[..2]).2, 0);
    assert_eq!(doubt_m("45.099, -30.130", &NOON[..2]).2, 0);
    assert_eq!(doubt_m("45.10, -30.13", &NOON[..2]).2, 3);
    // what costs nothing comes before any move, in a row too
    let text = asked.run(&[&["45.10, -30.13"], &NOON[..2]].concat(), "").out;
    assert!(
        text.lines().nth(1).is_some_and(|line| line.starts_with("To settle: give more digits")),
        "{text}"
    );
    let row = asked.run(&["--fixes", "-"], "lat,lon\n45.10,-30.13\n");
    assert!(row.answers()[0]["settle"][0].as_str().unwrap().starts_with("give more digits"));
    // and where nothing is open they settle nothing
    let outcome = asked.run(&[&["45.205, -30.123", "--format", "json"], &NOON[..2]].concat(), "");
    assert!(!outcome.out.contains("\"settle\":[\"give more digits"), "{}", outcome.out);
}

#[test]
fn a_row_with_few_digits_is_in_doubt_unless_its_zeros_were_cut() {
    let asked = files(&[&[zone("reserve", RESERVE, json!({}))]]);
    let rows = "lat,lon\n45.1,-30.1\n45.1,-30.123456\n";
    let outcome = asked.run(&["--fixes", "-"], rows);
    let doubts: Vec<f64> = outcome
        .answers()
        .iter()
        .map(|answer| answer["position"]["uncertainty_95_m"].as_f64().unwrap())
        .collect();
    assert!(doubts[0] > 5_000.0 && (doubts[1] - 10.0).abs() < 1e-9, "{doubts:?}");
    assert!(outcome.answers()[0]["warnings"].to_string().contains("so few digits"));
}

#[test]
fn a_table_of_fixes_has_the_headings_and_separators_of_a_track_log() {
    let asked = files(&[&[zone("reserve", RESERVE, json!({}))]]);
    for table in [
        "Latitude,Longitude,accuracy\n45.110000,-30.130000,5\n",
        "lat;lng;timestamp;hacc_m\n45,110000;-30,130000;2026-07-01T10:00:00Z;5,0\n",
        "latitude_deg\tlon\taccuracy_m\n45.110000\t-30.130000\t5\n",
    ] {
        let outcome = asked.run(&["--fixes", "-", "--accuracy-kind", "p95"], table);
        assert_eq!(outcome.status, 1, "{table}: {}", outcome.err);
        let position = &outcome.answers()[0]["position"];
        assert_eq!((&position["latitude_deg"], &position["uncertainty_95_m"]), (&json!(45.11), &json!(5.0)));
    }
}

#[test]
fn two_headings_for_one_thing_in_a_table_of_fixes_are_both_named() {
    let asked = files(&[&[zone("reserve", RESERVE, json!({}))]]);
    let table = "lat,lon,timestamp,time\n45.110000,-30.130000,1,2026-07-25T06:00:00Z\n";
    let outcome = asked.run(&["--fixes", "-"], table);
    assert_eq!((outcome.status, outcome.out.as_str()), (3, ""));
    let names = "the columns \"timestamp\" and \"time\" hold the same";
    assert!(outcome.err.contains(names) && outcome.err.contains("neither is read"), "{}", outcome.err);
}

#[test]
fn a_date_and_a_time_column_of_a_table_of_fixes_are_joined() {
    let season = json!({ "when": { "yearly": { "from": "05-01", "to": "08-31", "ends": "included" } } });
    let asked = files(&[&[zone("reserve", RESERVE, season)]]);
    let run = |table: &str| asked.run(&["--fixes", "-", "--accuracy-m", "5"], table);
    for (day, status) in [("2026/07/25", 1), ("20261125", 0)] {
        let outcome = run(&format!("date,time,lat,lon\n{day},06:00:00Z,45.110000,-30.130000\n"));
        assert_eq!(outcome.status, status, "{day}: {} {}", outcome.out, outcome.err);
        assert!(!outcome.err.contains("is not read"), "{}", outcome.err);
    }
    // a time with its own date needs no other; a day in a form that may be two is refused; a day alone is no time
    let own = run("date,time,lat,lon\n2026-11-25,2026-07-25T06:00:00Z,45.110000,-30.130000\n");
    assert_eq!(own.status, 1, "{}", own.out);
    assert_eq!(run("date,time,lat,lon\n05/07/2026,06:00:00Z,45.110000,-30.130000\n").status, 3);
    let alone = run("date,lat,lon\n2026-07-25,45.110000,-30.130000\n");
    assert_eq!(alone.status, 3, "{}", alone.out);
    assert!(alone.err.contains("the column \"date\" is not read"), "{}", alone.err);
}

#[test]
fn an_accuracy_of_0_in_a_row_counts_as_left_empty() {
    let asked = files(&[&[zone("reserve", RESERVE, json!({}))]]);
    let table = "lat,lon,accuracy_m\n45.110000,-30.130000,0\n45.110000,-30.130000,\n";
    let outcome = asked.run(&["--fixes", "-", "--accuracy-m", "25"], table);
    let [zero, empty] = &outcome.answers()[..] else { panic!("{}", outcome.out) };
    assert_eq!(zero["position"], empty["position"]);
    let told = zero["warnings"].to_string();
    assert!(told.contains("it counts as not given") && told.contains("is used, as given"), "{told}");
    let outcome = asked.run(&["--fixes", "-"], table);
    let told = outcome.answers()[0]["warnings"].to_string();
    assert!(told.contains("10.0 m (95 %) is assumed") || told.contains("10 m (95 %) is assumed"), "{told}");
}

#[test]
fn a_time_of_a_year_without_receivers_leaves_what_is_in_force_undecided() {
    let season = json!({ "when": { "yearly": { "from": "05-01", "to": "08-31", "ends": "included" } } });
    let asked = files(&[&[zone("reserve", RESERVE, season)]]);
    for time in
        ["0001-07-01T10:00:00Z", "1989-07-01T10:00:00Z", "2101-11-01T10:00:00Z", "9999-07-01T10:00:00Z"]
    {
        let (outcome, document) = asked.here(MIDDLE, &["--time", time]);
        assert_eq!(outcome.status, 3, "{time}: {}", outcome.out);
        let told = (document["warnings"].to_string(), document["water_because"].to_string());
        assert!(
            told.0.contains("which is probably a mistake") && told.1.contains("the time given is doubtful"),
            "{told:?}"
        );
        assert_eq!(outcome.out.lines().nth(2), Some("To settle: give the true time"), "{}", outcome.out);
        assert!(!outcome.out.contains("no time was given"), "{}", outcome.out);
    }
    assert_eq!(asked.here(MIDDLE, &["--time", "2099-11-01T10:00:00Z"]).0.status, 0);
}

#[test]
fn a_season_without_a_day_is_refused_with_what_to_do() {
    for day in ["02-29", "05-01"] {
        let season = json!({ "when": { "yearly": { "from": day, "to": day, "ends": "excluded" } } });
        let outcome = files(&[&[zone("reserve", RESERVE, season)]]).run(&MIDDLE, "");
        assert_eq!((outcome.status, outcome.out.as_str()), (3, ""));
        let holds_none = outcome.err.contains("holds no day once its two ends are left out");
        assert!(holds_none && outcome.err.contains("\"ends\": \"included\""), "{}", outcome.err);
    }
}
