//! The trip: is anything in its log against a loaded rule? Each case of a trip is run through the program: its first three lines, its
//! JSON and its exit status say the same. And a law: whatever a boat truly did, a stop that is too long is never read as none, and a
//! boat that never stopped is never accused of it; nor is one of what it did ashore.
//!
//! All places lie about the invented isle of Marrowick. Trips run at 2.6 kn, 1.3376 m/s, along a parallel of 45.117°, a degree of which
//! is 78 690 m long (WGS 84).

#![expect(clippy::unwrap_used, clippy::expect_used, reason = "a test may stop at the first surprise")]

#[path = "program.rs"]
mod program;

use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

use jiff::{SignedDuration, Timestamp};
use serde_json::Value;
use takeline::track::{Auditor, LoggedFix, Outcome, OutcomeAnswer, TrackSettings};
use takeline::zone::ZoneSet;
use takeline::{AccuracyKind, HorizontalUncertainty, Position, Tristate, zone_file};
use tempfile::TempDir;

const DEGREE_M: f64 = 78_690.0;
const V: f64 = 2.6 * 1852.0 / 3600.0;

/// A reserve about 1 km wide that may be crossed without stopping for more than 10 min, with no fish on board; a ground that is shut
/// from eight to nine in the morning, likewise; a reserve of whose crossing nothing is said; and one that is crossed at 2 knots or more.
const ZONES: &str = r#"{
  "type": "FeatureCollection",
  "takeline": { "format": "takeline.zones/1", "title": "Marrowick", "edition": "2026-1",
                "datum": "WGS 84", "time_zone": "UTC",
                "taxa": [{ "id": "mackerel", "scientific": "Scomber scombrus", "names": ["mackerel"] }], "groups": [] },
  "features": [
    { "type": "Feature", "id": "cove",
      "geometry": { "type": "Polygon", "coordinates": [[[-30.130, 45.100], [-30.117, 45.100],
                    [-30.117, 45.130], [-30.130, 45.130], [-30.130, 45.100]]] },
      "properties": { "name": "Inner Cove", "edges": "geodesic", "take": "none", "possession": "forbidden",
                      "crossing": { "allowed": true, "continuous": true, "max_stop_min": 10 },
                      "source": { "instrument": "Marrowick Order" } } },
    { "type": "Feature", "id": "hours",
      "geometry": { "type": "Polygon", "coordinates": [[[-30.330, 45.100], [-30.317, 45.100],
                    [-30.317, 45.130], [-30.330, 45.130], [-30.330, 45.100]]] },
      "properties": { "name": "Morning Ground", "edges": "geodesic", "take": "none",
                      "when": { "hours": { "from": "08:00", "to": "09:00" } },
                      "crossing": { "allowed": true, "max_stop_min": 10 },
                      "source": { "instrument": "Marrowick Order" } } },
    { "type": "Feature", "id": "unsaid",
      "geometry": { "type": "Polygon", "coordinates": [[[-30.530, 45.100], [-30.517, 45.100],
                    [-30.517, 45.130], [-30.530, 45.130], [-30.530, 45.100]]] },
      "properties": { "name": "Quiet Water", "edges": "geodesic", "take": "none",
                      "source": { "instrument": "Marrowick Order" } } },
    { "type": "Feature", "id": "fast",
      "geometry": { "type": "Polygon", "coordinates": [[[-30.730, 45.100], [-30.717, 45.100],
                    [-30.717, 45.130], [-30.730, 45.130], [-30.730, 45.100]]] },
      "properties": { "name": "Fast Water", "edges": "geodesic", "take": "none",
                      "crossing": { "allowed": true, "min_speed_kn": 2 },
                      "source": { "instrument": "Marrowick Order" } } },
    { "type": "Feature", "id": "landing",
      "geometry": { "type": "Polygon", "coordinates": [[[-30.930, 45.100], [-30.917, 45.100],
                    [-30.917, 45.130], [-30.930, 45.130], [-30.930, 45.100]]] },
      "properties": { "name": "Landing Cove", "take": "none",
                      "edges": ["geodesic", "geodesic", "geodesic",
                                { "runs": "geodesic", "side": "shore", "level": "mean high water", "uncertainty_m": 3 }],
                      "crossing": { "allowed": true, "continuous": true, "max_stop_min": 10 },
                      "source": { "instrument": "Marrowick Order" } } } ] }"#;

/// The land to the west of Landing Cove.
const LANDING: &str = r#"{ "type": "Feature", "properties": {},
  "takeline": { "format": "takeline.coast/1", "title": "Coast of Marrowick", "uncertainty_m": 5 },
  "geometry": { "type": "Polygon", "coordinates": [[[-30.99, 45.09], [-30.930, 45.09], [-30.930, 45.14], [-30.99, 45.14],
                [-30.99, 45.09]]] } }"#;

/// The beach of Landing Cove, and so many metres to the east of it.
fn off_the_landing(east_m: f64) -> f64 {
    -30.930 + east_m / DEGREE_M
}

/// What the boat does, in order.
#[derive(Clone, Copy)]
enum Leg {
    /// On to the east, or back, or carried, metres.
    Go(f64),
    /// Lies where it is, seconds.
    Stop(f64),
    /// Goes on to the east, and nothing is logged of it, metres.
    Unlogged(f64),
    /// Nothing is logged for so many seconds, and then it lies 20 m farther east.
    Dark(f64),
}

/// A log with a fix every 5 s, good to 5 m.
fn log(from_lon: f64, start: &str, legs: &[Leg]) -> String {
    let start: Timestamp = start.parse().unwrap();
    let mut text = "lat,lon,time,accuracy_m\n".to_owned();
    let (mut lon, mut now_s) = (from_lon, 0.0);
    let mut rock = 0.000_005;
    let mut fix = |lon: f64, seconds: f64| {
        // no boat afloat lies at one place to the centimetre: half a metre to either side
        rock = -rock;
        let lat = 45.117 + rock;
        let time = start.checked_add(SignedDuration::try_from_secs_f64(seconds).unwrap()).unwrap();
        let time = time.round(jiff::Unit::Millisecond).unwrap();
        writeln!(text, "{lat:.7},{lon:.7},{time},5").unwrap();
    };
    for leg in legs {
        let (metres, seconds, is_logged) = match leg {
            Leg::Go(metres) => (*metres, metres.abs() / V, true),
            Leg::Stop(seconds) => (0.0, *seconds, true),
            Leg::Unlogged(metres) => (*metres, metres / V, false),
            Leg::Dark(seconds) => (20.0, *seconds, false),
        };
        let steps = (seconds / 5.0).ceil().max(1.0);
        let mut step = 0.0;
        while step < steps && is_logged {
            fix(lon + metres / DEGREE_M * step / steps, now_s + seconds * step / steps);
            step += 1.0;
        }
        if !is_logged {
            fix(lon, now_s);
        }
        lon += metres / DEGREE_M;
        now_s += seconds;
    }
    fix(lon, now_s);
    text
}

fn demo(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data").join(name)
}

/// What a script and a reader get of one log.
struct Found {
    status: i32,
    lines: Vec<String>,
    json: Value,
}

fn ask(folder: &Path, zones: &Path, arguments: &[&str]) -> Found {
    let run = |more: &[&str]| program::run(folder, Some(zones), &[&["track"], arguments, more].concat(), "");
    let (text, data) = (run(&[]), run(&["--format", "json"]));
    assert_eq!(text.status, data.status, "{}{}", text.out, text.err);
    let json: Value = serde_json::from_str(&data.out).expect(&data.err);
    assert_eq!(json["exit_status"], text.status, "{}", text.out);
    let word = match text.status {
        0 => "nothing-against",
        1 => "against",
        _ => "undecided",
    };
    assert_eq!(json["verdict"], word, "{}", text.out);
    for (texts, codes) in [("verdict_because", "verdict_because_codes"), ("not_shown", "not_shown_codes")] {
        let count = |key: &str| json[key].as_array().unwrap().len();
        assert!(count(texts) == count(codes) && count(texts) > 0, "{json}");
    }
    let lines = text.out.lines().take(4).map(str::to_owned).collect();
    Found { status: text.status, lines, json }
}

fn demo_trip(name: &str) -> Found {
    let path = demo("trips").join(name);
    ask(Path::new("."), &demo("zones"), &[path.to_str().unwrap()])
}

/// A trip against the zones of this file; with a catch log where it is given one.
fn trip(log: &str, catches: Option<&str>) -> Found {
    let folder = TempDir::new().unwrap();
    let write = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    write("zones.json", ZONES);
    write("trip.csv", log);
    let Some(catches) = catches else {
        return ask(folder.path(), Path::new("zones.json"), &["trip.csv"]);
    };
    write("catches.csv", catches);
    ask(folder.path(), Path::new("zones.json"), &["trip.csv", "--catches", "catches.csv"])
}

fn outcome(found: &Found, visit: usize) -> &str {
    found.json["visits"][visit]["outcome"]["answer"].as_str().unwrap()
}

#[test]
fn a_lawful_crossing_reads_as_one() {
    let found = demo_trip("launch-and-cross.gpx");
    assert_eq!(found.status, 0);
    assert_eq!(
        found.lines[..3],
        [
            "NOTHING AGAINST A LOADED RULE",
            "Crossed Sallow Cove Reserve, 2 × 30 min",
            "Terms kept, as far as a log shows"
        ]
    );
    assert_eq!((outcome(&found, 0), outcome(&found, 1)), ("nothing-against", "nothing-against"));
    let not_shown = found.json["not_shown"].to_string();
    assert!(not_shown.contains("gear, lines and fish") && not_shown.contains("rods unstrung"), "{not_shown}");
    // a short gap leaves no room for a stop that is too long
    let legs = [Leg::Go(700.0), Leg::Unlogged(40.0 * V), Leg::Go(900.0)];
    let found = trip(&log(-30.132, "2026-07-04T06:00:00Z", &legs), None);
    assert_eq!((found.status, outcome(&found, 0)), (0, "nothing-against"), "{:?}", found.lines);
}

/// A log with a fix every 5 s along these corners (degrees, 45.1 and -30 added), each with how long it lies there before, seconds.
fn course(corners: &[(f64, f64, f64)]) -> String {
    let mut text = "lat,lon,time,accuracy_m\n".to_owned();
    let start: Timestamp = "2026-07-04T06:00:00Z".parse().unwrap();
    let (mut now_s, mut rock) = (0.0, 0.000_005);
    let mut fix = |(lat, lon): (f64, f64), now_s: f64| {
        rock = -rock;
        let time = start.checked_add(SignedDuration::try_from_secs_f64(now_s).unwrap()).unwrap();
        let time = time.round(jiff::Unit::Second).unwrap();
        writeln!(text, "{:.7},{:.7},{time},5", 45.1 + lat + rock, lon - 30.0).unwrap();
    };
    for pair in corners.windows(2) {
        let ((lat, lon, lies_s), (to_lat, to_lon, _)) = (pair[0], pair[1]);
        let end_s = now_s + lies_s;
        while now_s < end_s {
            fix((lat, lon), now_s);
            now_s += 5.0;
        }
        let metres = (111_139.0 * (to_lat - lat)).hypot(DEGREE_M * (to_lon - lon));
        let steps = (metres / V / 5.0).ceil();
        let mut step = 0.0;
        while step < steps {
            let share = step / steps;
            fix((lat + share * (to_lat - lat), lon + share * (to_lon - lon)), now_s);
            now_s += 5.0;
            step += 1.0;
        }
    }
    let (lat, lon, lies_s) = corners[corners.len() - 1];
    let end_s = now_s + lies_s;
    while now_s <= end_s {
        fix((lat, lon), now_s);
        now_s += 5.0;
    }
    text
}

/// The reserve may be crossed from one side to the other (with a stop up to 10 min); the ground beside it just crossed.
const TERMS: &str = r#""crossing": { "allowed": true, "continuous": true, "max_stop_min": 10 }"#;

fn trip_on(terms: &str, log: &str) -> Found {
    let folder = TempDir::new().unwrap();
    let write = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    assert!(ZONES.contains(TERMS));
    write("zones.json", &ZONES.replacen(TERMS, terms, 1));
    write("trip.csv", log);
    ask(folder.path(), Path::new("zones.json"), &["trip.csv"])
}

const ONLY_CROSSING: &str = r#""crossing": { "allowed": true }"#;
const KEEP_GOING: &str = r#""crossing": { "allowed": true, "continuous": true }"#;

#[test]
fn in_and_out_by_the_same_side_is_no_crossing() {
    let log =
        course(&[(0.017, -0.135, 0.0), (0.017, -0.121, 0.0), (0.0172, -0.121, 0.0), (0.0172, -0.135, 0.0)]);
    for terms in [TERMS, KEEP_GOING] {
        let found = trip_on(terms, &log);
        assert_eq!((found.status, outcome(&found, 0)), (3, "undecided"), "{:?}", found.lines);
        assert_eq!(found.lines[0], "NOT SETTLED: was that crossing?");
        assert!(found.json["verdict_because"].to_string().contains("cannot say whether that is crossing"));
    }
    // where nobody has to keep going, a quarter of an hour is nobody's matter; but it was no crossing
    let found = trip_on(ONLY_CROSSING, &log);
    assert_eq!(found.status, 0, "{:?}", found.lines);
    assert!(found.lines[1].starts_with("In and out of Inner Cove, 1"), "{:?}", found.lines);
}

#[test]
fn hours_of_going_to_and_fro_are_not_called_a_crossing() {
    let mut corners = vec![(0.005, -0.135, 0.0)];
    for number in 0..12_u32 {
        let lat = 0.005 + 0.001 * f64::from(number);
        corners.extend([(lat, -0.128, 0.0), (lat + 0.0005, -0.119, 0.0)]);
    }
    corners.push((0.017, -0.135, 0.0));
    for terms in [TERMS, KEEP_GOING, ONLY_CROSSING] {
        let found = trip_on(terms, &course(&corners));
        assert_eq!((found.status, outcome(&found, 0)), (3, "undecided"), "{terms}: {:?}", found.lines);
        assert!(found.json["verdict_because"].to_string().contains("it wandered inside: 1"), "{terms}");
    }
}

#[test]
fn lying_still_for_long_is_not_called_a_crossing() {
    let log = course(&[(0.017, -0.135, 0.0), (0.017, -0.123, 1_800.0), (0.017, -0.110, 0.0)]);
    let found = trip_on(ONLY_CROSSING, &log);
    assert_eq!((found.status, outcome(&found, 0)), (3, "undecided"), "{:?}", found.lines);
    let because = found.json["verdict_because"].to_string();
    assert!(
        because.contains("min there without getting on: a log cannot say whether that is crossing"),
        "{because}"
    );
    // five minutes are a rest
    let log = course(&[(0.017, -0.135, 0.0), (0.017, -0.123, 300.0), (0.017, -0.110, 0.0)]);
    let found = trip_on(ONLY_CROSSING, &log);
    assert_eq!(found.status, 0, "{:?}", found.lines);
    assert!(found.lines[1].starts_with("Crossed Inner Cove in "), "{:?}", found.lines);
}

#[test]
fn a_log_that_begins_and_ends_inside_tells_of_no_crossing() {
    let log = course(&[(0.017, -0.128, 0.0), (0.017, -0.120, 0.0)]);
    let found = trip_on(ONLY_CROSSING, &log);
    assert_eq!(found.status, 0, "{:?}", found.lines);
    assert!(found.lines[1].starts_with("Inside Inner Cove for "), "{:?}", found.lines);
    let found = trip_on(TERMS, &log);
    assert_eq!((found.status, found.lines[0].as_str()), (3, "NOT SETTLED: was that crossing?"));
}

#[test]
fn launching_out_and_beating_to_windward_stay_crossings() {
    // rigged for 8 min on a beach inside, then out; and a beat across in tacks of 45 degrees
    let launch = course(&[(0.017, -0.124, 480.0), (0.017, -0.110, 0.0)]);
    let beat = course(&[
        (0.010, -0.135, 0.0),
        (0.014, -0.129, 0.0),
        (0.010, -0.124, 0.0),
        (0.014, -0.119, 0.0),
        (0.010, -0.112, 0.0),
    ]);
    for log in [launch, beat] {
        for terms in [TERMS, ONLY_CROSSING] {
            let found = trip_on(terms, &log);
            assert_eq!(found.status, 0, "{:?}", found.lines);
            assert!(found.lines[1].starts_with("Crossed Inner Cove in "), "{:?}", found.lines);
        }
    }
    // half an hour ashore before that is no matter where no stop is spoken of
    let rigged = course(&[(0.017, -0.124, 1_800.0), (0.017, -0.110, 0.0)]);
    assert_eq!(trip_on(ONLY_CROSSING, &rigged).status, 0);
}

#[test]
fn a_stated_longest_stop_governs_stops_and_terms_read_as_before_the_trip() {
    let log = course(&[(0.017, -0.135, 0.0), (0.017, -0.123, 240.0), (0.017, -0.110, 0.0)]);
    let found = trip_on(TERMS, &log);
    assert_eq!(found.status, 0, "{:?}", found.lines);
    let because = found.json["verdict_because"].to_string();
    assert!(because.contains("keep going from one side to the other"), "{because}");
    assert!(because.contains("no stop longer than 10 min"), "{because}");
    let found = trip_on(KEEP_GOING, &log);
    assert_eq!((found.status, found.lines[0].as_str()), (1, "AGAINST A RULE: stopped 3 min"));
    assert_eq!(found.lines[2], "Its rule: keep going from one side to t…");
}

#[test]
fn an_expired_zone_file_leaves_the_verdict_open_and_says_so() {
    let expired = |log: &str| {
        let folder = TempDir::new().unwrap();
        let zones = ZONES.replacen(
            "\"edition\": \"2026-1\",",
            "\"edition\": \"2026-1\", \"valid_until\": \"2026-07-01\",",
            1,
        );
        fs::write(folder.path().join("zones.json"), zones).unwrap();
        fs::write(folder.path().join("trip.csv"), log).unwrap();
        let found = ask(folder.path(), Path::new("zones.json"), &["trip.csv"]);
        let text = program::run(folder.path(), Some(Path::new("zones.json")), &["track", "trip.csv"], "").out;
        let first = text.split("\n\n").next().unwrap().split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(
            first.contains("WARNING: zones.json: edition 2026-1 was valid until 30 June 2026"),
            "{first}"
        );
        assert!(found.json["zone_files"][0]["valid_until"].is_string());
        assert_eq!((found.status, found.lines[0].as_str()), (3, "NOT SETTLED: the zone file had expired"));
        found
    };
    // a stop that would be against the rule, a lawful crossing, and a way far outside
    let stop = [Leg::Go(700.0), Leg::Stop(840.0), Leg::Go(900.0)];
    assert_eq!(outcome(&expired(&log(-30.132, "2026-07-04T06:00:00Z", &stop)), 0), "undecided");
    let _crossed = expired(&log(-30.132, "2026-07-04T06:00:00Z", &[Leg::Go(1_600.0)]));
    let near = expired(&log(-30.160, "2026-07-04T06:00:00Z", &[Leg::Go(600.0)]));
    assert_eq!(near.json["undecided_because_code"]["code"], "zone-file-expired");
}

#[test]
fn catch_rows_that_were_not_read_leave_the_verdict_open() {
    let log = log(-30.140, "2026-07-04T06:00:00Z", &[Leg::Go(300.0)]);
    let rows = "time,species,count,kept\n2026-07-04T06:01:00Z,mackerel,two,yes\n2026-07-04T06:01:00Z,mackerel,x,yes\n";
    let found = trip(&log, Some(rows));
    assert_eq!((found.status, found.lines[0].as_str()), (3, "NOT SETTLED: 2 catch rows not read"));
    assert_eq!(found.json["input"]["catch_rows_unread"], 2);
}

#[test]
fn a_stop_where_none_is_allowed_is_against_the_rule() {
    let legs = [Leg::Go(700.0), Leg::Stop(840.0), Leg::Go(900.0)];
    let found = trip(&log(-30.132, "2026-07-04T06:00:00Z", &legs), None);
    assert_eq!((found.status, outcome(&found, 0)), (1, "against"), "{:?}", found.lines);
    assert_eq!(found.lines[0], "AGAINST A RULE: stopped 13 min");
    assert!(found.lines[1].starts_with("Inner Cove"), "{:?}", found.lines);
    assert_eq!(found.lines[2], "Its rule: no stop longer than 10 min");
    let code = &found.json["verdict_because_codes"][0];
    assert_eq!((&code["code"], &code["reason"]["code"]), (&"visit".into(), &"term-broken".into()));
}

#[test]
fn a_kept_fish_that_had_to_go_back_is_against_the_rule_and_one_put_back_is_not() {
    let (log, zones) = (demo("trips/catch-day.csv"), demo("zones"));
    let with = |kept: &str| {
        let folder = TempDir::new().unwrap();
        let rows = format!(
            "time,species,count,length_cm,kept,gear\n2026-07-01T06:05:00Z,herring,1,20,{kept},hand net\n"
        );
        fs::write(folder.path().join("catches.csv"), rows).unwrap();
        ask(folder.path(), &zones, &[log.to_str().unwrap(), "--catches", "catches.csv"])
    };
    let kept = with("yes");
    assert_eq!((kept.status, kept.lines[0].as_str()), (1, "AGAINST A RULE: kept herring"));
    assert!(kept.lines[1].starts_with("Catches: 1 kept against a rule"), "{:?}", kept.lines);
    let put_back = with("released");
    assert_eq!(put_back.status, 0, "{:?}", put_back.lines);
    let unsaid = with("");
    assert_eq!(unsaid.status, 3, "{:?}", unsaid.lines);
}

#[test]
fn a_launch_from_the_beach_of_a_reserve_and_a_landing_there_read_as_that() {
    // twenty metres up the beach, at the water's edge, and out; then fishing outside, and home the same way
    let legs = [
        Leg::Stop(900.0),
        Leg::Go(24.0),
        Leg::Stop(900.0),
        Leg::Go(1_300.0),
        Leg::Stop(1_800.0),
        Leg::Go(-1_300.0),
        Leg::Stop(1_200.0),
    ];
    let found = trip(&log(off_the_landing(-20.0), "2026-07-04T06:00:00Z", &legs), None);
    assert_eq!(
        (found.status, found.lines[0].as_str()),
        (0, "NOTHING AGAINST A LOADED RULE"),
        "{:?}",
        found.lines
    );
    assert!(found.lines[1].starts_with("Crossed Landing Cove, 2 × "), "{:?}", found.lines);
    let out = trip(&log(off_the_landing(-20.0), "2026-07-04T06:00:00Z", &legs[..4]), None);
    assert!(out.lines[1].starts_with("Launched inside Landing Cove, "), "{:?}", out.lines);
    let ends = |visit: usize, key: &str| found.json["visits"][visit][key].as_str().unwrap().to_owned();
    assert_eq!((ends(0, "began_at"), ends(0, "ended_at")), ("shore".into(), "crossing".into()));
    assert_eq!((ends(1, "began_at"), ends(1, "ended_at")), ("crossing".into(), "shore".into()));
    assert_eq!(found.json["crossings"].as_array().unwrap().len(), 2, "nobody crosses a beach");
    assert_eq!(found.json["visits"][0]["stops"].as_array().unwrap().len(), 0);
}

#[test]
fn hours_before_the_beach_are_neither_a_launch_nor_a_stop() {
    // 15 m off a side that is known to 3 m, by fixes good to 5: afloat as like as not
    let hours = || Leg::Stop(10_800.0);
    let both = [hours(), Leg::Go(1_300.0), Leg::Go(-1_300.0), hours()];
    let rigged_before = [Leg::Stop(600.0), Leg::Go(35.0), hours(), Leg::Go(1_300.0)];
    for (from_m, legs) in [(15.0, &both[..2]), (1_315.0, &both[2..]), (15.0, &both), (-20.0, &rigged_before)]
    {
        let found = trip(&log(off_the_landing(from_m), "2026-07-04T06:00:00Z", legs), None);
        assert_eq!((found.status, outcome(&found, 0)), (3, "undecided"), "from {from_m}: {:?}", found.lines);
        assert!(found.lines[2].starts_with("To settle: was it afloat"), "{:?}", found.lines);
        let said = found.json["visits"][0]["outcome"].to_string();
        assert!(said.contains("longest stop the log allows for: 3 h"), "{said}");
    }
}

#[test]
fn a_stop_off_the_beach_is_a_stop() {
    let legs = [Leg::Stop(900.0), Leg::Go(65.0), Leg::Stop(1_200.0), Leg::Go(1_300.0)];
    let found = trip(&log(off_the_landing(-20.0), "2026-07-04T06:00:00Z", &legs), None);
    assert_eq!((found.status, outcome(&found, 0)), (1, "against"), "{:?}", found.lines);
    assert!(found.lines[0].starts_with("AGAINST A RULE: stopped "), "{:?}", found.lines);
}

#[test]
fn a_log_on_land_is_told_of_and_mostly_on_land_it_settles_nothing() {
    let folder = TempDir::new().unwrap();
    let write = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    write("zones.json", ZONES);
    write("coast.json", LANDING);
    let of = |name: &str, log: &str| {
        write(name, log);
        ask(folder.path(), Path::new("zones.json"), &[name, "--coast", "coast.json"])
    };
    let launch = [Leg::Stop(300.0), Leg::Go(40.0), Leg::Go(1_300.0)];
    let found = of("launch.csv", &log(off_the_landing(-40.0), "2026-07-04T06:00:00Z", &launch));
    assert_eq!(found.status, 0, "{:?}", found.lines);
    let on_land = &found.json["quality"]["on_land"];
    assert!(on_land["fixes"].as_u64().unwrap() >= 60, "{on_land}");
    assert_eq!(on_land["coasts"][0], "Coast of Marrowick");
    assert_eq!(on_land["first"]["time"], "2026-07-04T06:00:00Z");

    let drive = log(off_the_landing(-2_000.0), "2026-07-04T06:00:00Z", &[Leg::Go(1_900.0), Leg::Stop(600.0)]);
    let found = of("drive.csv", &drive);
    assert_eq!((found.status, found.lines[0].as_str()), (3, "NOT SETTLED: most of it is on land"));
    assert!(found.lines[1].ends_with("fixes lie on land"), "{:?}", found.lines);
    assert_eq!(found.json["undecided_because_code"]["code"], "mostly-on-land");

    // a coast that cannot be read stops everything
    write("bad.json", &LANDING.replace("45.14", "95.14"));
    let bad = program::run(
        folder.path(),
        Some(Path::new("zones.json")),
        &["track", "drive.csv", "--coast", "bad.json"],
        "",
    );
    assert_eq!(bad.status, 3);
    assert!(bad.err.contains("bad.json") && bad.out.is_empty(), "{}", bad.err);
}

#[test]
fn a_fish_carried_where_none_may_be_on_board_is_against_the_rule() {
    let log = log(-30.140, "2026-07-04T06:00:00Z", &[Leg::Go(2_500.0)]);
    let rows = |kept: &str| format!("time,species,kept\n2026-07-04T06:01:00Z,mackerel,{kept}\n");
    let found = trip(&log, Some(&rows("yes")));
    assert_eq!((found.status, found.lines[0].as_str()), (1, "AGAINST A RULE: carried mackerel"));
    assert_eq!(
        (outcome(&found, 0), found.json["visits"][0]["outcome"]["catches"][0].as_u64()),
        ("against", Some(2))
    );
    assert_eq!(trip(&log, Some(&rows("released"))).status, 0);
}

#[test]
fn a_gap_with_room_for_a_stop_that_is_too_long_is_not_settled() {
    let legs = [Leg::Go(500.0), Leg::Unlogged(13.0 * 60.0 * V), Leg::Go(300.0)];
    let found = trip(&log(-30.1315, "2026-07-04T06:00:00Z", &legs), None);
    assert_eq!((found.status, outcome(&found, 0)), (3, "undecided"), "{:?}", found.lines);
    assert_eq!(found.lines[0], "NOT SETTLED: perhaps stopped too long");
    assert!(found.lines[2].starts_with("To settle: "), "{:?}", found.lines);
    // where something may be taken, a boat may be: a gap there leaves nothing open that a log could show
    let found = demo_trip("gap.gpx");
    assert_eq!((found.status, found.lines[0].as_str()), (0, "NOTHING AGAINST A LOADED RULE"));
    assert!(found.lines[1].starts_with("Perhaps in Gannet Bank"), "{:?}", found.lines);
}

#[test]
fn a_drift_on_the_line_is_not_settled() {
    let found = demo_trip("wander.gpx");
    assert_eq!((found.status, outcome(&found, 0)), (3, "undecided"), "{:?}", found.lines);
    assert_eq!(found.lines[0], "NOT SETTLED: perhaps in Sallow Cove Res…");
}

#[test]
fn a_drift_into_water_that_no_boat_may_be_in_is_against_the_rule() {
    let found = demo_trip("drift-over.gpx");
    assert_eq!((found.status, outcome(&found, 0)), (1, "against"), "{:?}", found.lines);
    assert_eq!(found.lines[0], "AGAINST A RULE: inside for 98 s");
    assert!(found.lines[1].starts_with("Nursery Bank"), "{:?}", found.lines);
    assert_eq!(found.lines[2], "Its rule lets no boat be there");
}

#[test]
fn noise_beside_water_that_no_boat_may_be_in_accuses_nobody() {
    let terms = r#""crossing": { "allowed": false }"#;
    // an hour to and fro 3 m outside, each fix off by chance within what its accuracy of 5 m (95 %) lets expect
    for number in 0..12_u64 {
        let mut chance = Chance(number * 104_729 + 7);
        let mut text = "lat,lon,time,accuracy_m\n".to_owned();
        let start: Timestamp = "2026-07-04T06:00:00Z".parse().unwrap();
        for step in 0..720_i32 {
            let (north, east) = chance.normal();
            let along = f64::from((step % 240 - 120).abs()) * 5.0 * V / 111_139.0;
            let lat = 45.105 + along + 5.0 / 2.447_746_8 * north / 111_139.0;
            let lon = -30.130 + (5.0 / 2.447_746_8 * east - 3.0) / DEGREE_M;
            let time = start.checked_add(SignedDuration::from_secs(i64::from(step) * 5)).unwrap();
            writeln!(text, "{lat:.7},{lon:.7},{time},5").unwrap();
        }
        let found = trip_on(terms, &text);
        assert_eq!(found.status, 3, "{number}: {:?}", found.lines);
    }
    // one fix that is 35 m off, of a boat that goes by 20 m outside
    let mut text = "lat,lon,time,accuracy_m\n".to_owned();
    for step in 0..120_i32 {
        let lon = -30.130 + if step == 60 { 15.0 } else { -20.0 } / DEGREE_M;
        let lat = 45.105 + f64::from(step) * 13.0 / 111_139.0;
        writeln!(text, "{lat:.7},{lon:.7},2026-07-04T06:{:02}:{:02}Z,5", step / 6, step % 6 * 10).unwrap();
    }
    let found = trip_on(terms, &text);
    assert_eq!(found.status, 3, "{:?}", found.lines);
    assert!(found.lines.iter().all(|line| !line.contains("AGAINST")), "{:?}", found.lines);
    // half a minute well inside is
    let found =
        trip_on(terms, &course(&[(0.017, -0.135, 0.0), (0.017, -0.1293, 0.0), (0.0172, -0.135, 0.0)]));
    assert_eq!(found.status, 1, "{:?}", found.lines);
}

#[test]
fn what_a_file_does_not_say_is_not_settled_and_says_so() {
    let found = trip(&log(-30.532, "2026-07-04T06:00:00Z", &[Leg::Go(1_600.0)]), None);
    assert_eq!((found.status, found.lines[0].as_str()), (3, "NOT SETTLED: may a boat be there?"));
    assert!(
        found.json["verdict_because"].to_string().contains("add \\\"crossing\\\""),
        "{}",
        found.json["verdict_because"]
    );
}

#[test]
fn a_term_is_asked_only_of_the_time_in_which_the_rule_is_in_force() {
    let at = |start: &str| {
        let legs = [Leg::Go(700.0), Leg::Stop(840.0), Leg::Go(900.0)];
        trip(&log(-30.332, start, &legs), None)
    };
    // the stop lasts from 8 min 43 s after the start for 14 min
    let before = at("2026-07-04T07:35:00Z");
    assert_eq!((before.status, outcome(&before, 0)), (0, "nothing-against"), "{:?}", before.lines);
    let half = at("2026-07-04T07:45:00Z");
    assert_eq!((half.status, outcome(&half, 0)), (0, "nothing-against"), "{:?}", half.lines);
    let within = at("2026-07-04T08:05:00Z");
    assert_eq!((within.status, outcome(&within, 0)), (1, "against"), "{:?}", within.lines);
    let never = at("2026-07-04T10:00:00Z");
    assert_eq!(never.status, 0);
    assert_eq!(never.lines[1], "Inside Morning Ground, not in force then");
}

/// The answer about a log held against these zones, and the first lines.
fn told(log: &str, arguments: &[&str]) -> Found {
    let folder = TempDir::new().unwrap();
    fs::write(folder.path().join("zones.json"), ZONES).unwrap();
    fs::write(folder.path().join("trip.csv"), log).unwrap();
    ask(folder.path(), Path::new("zones.json"), &[&["trip.csv"], arguments].concat())
}

#[test]
fn what_a_boat_did_on_the_beach_is_not_held_against_it() {
    use Leg::{Dark, Go, Stop};
    let carried = [Stop(1_200.0), Go(-60.0), Stop(900.0), Go(60.0), Stop(1_200.0)];
    let slow = [Go(40.0), Stop(300.0), Go(-40.0), Stop(200.0)];
    let night = [Go(1_000.0), Stop(1_500.0), Dark(8.0 * 3_600.0), Stop(900.0)];
    let launched = |legs: &[Leg]| [legs, &[Go(1_500.0)]].concat();
    for (from_lon, legs) in [
        (-30.125, launched(&carried)),
        (-30.140, [&[Go(1_200.0)], carried.as_slice()].concat()),
        (-30.725, launched(&slow)),
        (-30.725, launched(&[Stop(1_200.0)])),
        (-30.740, [&[Go(1_200.0)], slow.as_slice()].concat()),
        (-30.140, launched(&night)),
    ] {
        let log = log(from_lon, "2026-07-04T06:00:00Z", &legs);
        for arguments in [&[][..], &["--new-trip-after", "1"]] {
            let found = told(&log, arguments);
            assert_eq!((found.status, outcome(&found, 0)), (3, "undecided"), "{:?}", found.lines);
            assert!(found.lines[2].starts_with("To settle: was it afloat"), "{:?}", found.lines);
        }
    }
    // some minutes of rigging are less than the stop that is allowed
    let rigging = launched(&[Stop(180.0), Go(30.0), Stop(120.0), Go(-30.0), Stop(180.0)]);
    let file = ZONES.replacen("\"continuous\": true, ", "", 1);
    let folder = TempDir::new().unwrap();
    fs::write(folder.path().join("zones.json"), file).unwrap();
    fs::write(folder.path().join("trip.csv"), log(-30.125, "2026-07-04T06:00:00Z", &rigging)).unwrap();
    let found = ask(folder.path(), Path::new("zones.json"), &["trip.csv"]);
    assert_eq!((found.status, outcome(&found, 0)), (0, "nothing-against"), "{:?}", found.lines);
    // a boat that was seen to come in and to go out by water is held to what it did
    let legs = [Go(1_100.0), Stop(1_200.0), Go(900.0)];
    let found = told(&log(-30.140, "2026-07-04T06:00:00Z", &legs), &[]);
    assert_eq!((found.status, outcome(&found, 0)), (1, "against"), "{:?}", found.lines);
    // and one that launched there, from when it was surely under way
    let legs = [Stop(1_200.0), Go(500.0), Stop(1_200.0), Go(900.0)];
    let found = told(&log(-30.128, "2026-07-04T06:00:00Z", &legs), &[]);
    assert_eq!(found.lines[0], "AGAINST A RULE: stopped 18 min");
}

#[test]
fn terms_are_not_called_kept_while_nobody_judged_them() {
    let legs = [Leg::Go(1_000.0), Leg::Dark(7_200.0), Leg::Go(1_500.0)];
    let found = told(&log(-30.140, "2026-07-04T06:00:00Z", &legs), &["--new-trip-after", "1"]);
    assert_eq!((found.status, found.lines[2].as_str()), (0, "Terms kept while it was logged"));
    assert!(found.json["not_shown_codes"].to_string().contains("\"gap\""), "{}", found.json["not_shown"]);
    // a pause away from there takes nothing away
    let legs = [Leg::Go(2_500.0), Leg::Dark(7_200.0), Leg::Go(500.0)];
    let found = told(&log(-30.140, "2026-07-04T06:00:00Z", &legs), &["--new-trip-after", "1"]);
    assert_eq!((found.status, found.lines[2].as_str()), (0, "Terms kept, as far as a log shows"));
}

#[test]
fn of_several_days_in_a_folder_what_stands_out_stands_first_at_the_end() {
    let folder = TempDir::new().unwrap();
    fs::write(folder.path().join("zones.json"), ZONES).unwrap();
    fs::create_dir(folder.path().join("logs")).unwrap();
    let write = |name: &str, text: &str| fs::write(folder.path().join("logs").join(name), text).unwrap();
    write("day-1.csv", &log(-30.132, "2026-07-01T06:00:00Z", &[Leg::Go(1_600.0)]));
    write("day-2.csv", &log(-30.532, "2026-07-02T06:00:00Z", &[Leg::Go(1_600.0)]));
    write(
        "day-3.csv",
        &log(-30.132, "2026-07-03T06:00:00Z", &[Leg::Go(700.0), Leg::Stop(840.0), Leg::Go(900.0)]),
    );
    let found = program::run(folder.path(), Some(Path::new("zones.json")), &["track", "logs"], "");
    assert_eq!(found.status, 3, "{}{}", found.out, found.err);
    let (_, summary) = found.out.split_once("ALL 3 LOGS").expect(&found.out);
    let place = |what: &str| summary.find(what).unwrap_or_else(|| panic!("{what}: {summary}"));
    assert!(place("day-3.csv") < place("day-2.csv"), "{summary}");
    assert!(!summary.contains("day-1.csv"), "{summary}");
    // the last thing on the screen, and counted as the index of the pages counts
    let (_, last) = summary.split_once("WHAT STANDS OUT").expect(summary);
    assert!(last.contains("day-3.csv") && last.contains("day-2.csv"), "{last}");
    let last = last.split_whitespace().collect::<Vec<_>>().join(" ");
    let counts = "3 logs: 1 against a loaded rule, 1 not settled, 1 with nothing against one";
    assert!(last.ends_with(counts), "{last}");
    let (rows, _) = found.out.split_once("ALL 3 LOGS").expect(&found.out);
    assert!(rows.lines().all(|row| row.chars().count() <= 100), "{rows}");
    assert!(rows.contains("AGAINST A RULE: stopped 13 min (day-3.csv); Inner Cove"), "{rows}");
    let one =
        |name: &str| program::run(folder.path(), Some(Path::new("zones.json")), &["track", name], "").status;
    assert_eq!((one("logs/day-1.csv"), one("logs/day-2.csv"), one("logs/day-3.csv")), (0, 3, 1));
}

/// A sequence of numbers that looks like chance and is the same at every run.
struct Chance(u64);

impl Chance {
    fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        f64::from(u32::try_from(self.0 >> 32).unwrap()) / f64::from(u32::MAX)
    }

    fn between(&mut self, from: f64, to: f64) -> f64 {
        from + (to - from) * self.share()
    }

    /// Two independent normal deviates.
    fn normal(&mut self) -> (f64, f64) {
        let (radius, turn) =
            ((-2.0 * self.share().max(1e-9).ln()).sqrt(), std::f64::consts::TAU * self.share());
        (radius * turn.cos(), radius * turn.sin())
    }
}

/// What a boat truly did: where it was at each whole second, its stops, and its times ashore.
#[derive(Default)]
struct Truth {
    places_m: Vec<(f64, f64)>,
    stops_s: Vec<(f64, f64)>,
    ashore_s: Vec<(f64, f64)>,
    heading: f64,
}

const KNOT: f64 = 1852.0 / 3600.0;

impl Truth {
    fn now_s(&self) -> f64 {
        f64::from(u32::try_from(self.places_m.len()).unwrap())
    }

    /// Goes on at a speed while `turn` gives the course at each second, for so long.
    fn go(&mut self, knots: f64, seconds: f64, mut turn: impl FnMut(f64, f64) -> f64) {
        let (mut north_m, mut east_m) = self.places_m.last().copied().unwrap_or_default();
        let mut now_s = 0.0;
        while now_s < seconds {
            self.heading = turn(now_s, self.heading);
            north_m += knots * KNOT * self.heading.cos();
            east_m += knots * KNOT * self.heading.sin();
            self.places_m.push((north_m, east_m));
            now_s += 1.0;
        }
    }

    fn stop(&mut self, chance: &mut Chance) {
        let (knots, seconds) = (chance.between(-0.4, 0.4).max(0.0), chance.between(120.0, 1_500.0));
        let from_s = self.now_s();
        self.go(knots, seconds, |_, heading| heading + chance.between(-0.01, 0.01));
        let to_s = self.now_s() - 1.0;
        match self.stops_s.last_mut() {
            Some((_, ended_s)) if *ended_s >= from_s - 1.5 => *ended_s = to_s,
            _ => self.stops_s.push((from_s, to_s)),
        }
    }

    /// Straight on, in tacks, or in wide circles.
    fn under_way(&mut self, chance: &mut Chance, is_straight: bool) {
        let (knots, seconds) = (chance.between(2.1, 4.0), chance.between(120.0, 900.0));
        match chance.share() {
            share if is_straight || share < 0.4 => {
                self.go(knots, seconds, |_, heading| heading + chance.between(-0.01, 0.01));
            }
            share if share < 0.7 => {
                let (course, tack_s) = (self.heading, chance.between(10.0, 60.0));
                self.go(knots, seconds, |now_s, _| {
                    course + 0.8_f64.copysign((std::f64::consts::PI * now_s / tack_s).sin())
                });
            }
            _ => {
                let turn = knots * KNOT / chance.between(35.0, 60.0);
                self.go(knots, seconds, |_, heading| heading + turn);
            }
        }
    }

    /// Lies on the beach, and is carried up it and down again.
    fn lie_ashore(&mut self, chance: &mut Chance) {
        let from_s = self.now_s();
        for _ in 0..4 {
            self.go(0.0, chance.between(30.0, 900.0), |_, heading| heading);
            self.go(2.7, chance.between(5.0, 60.0), |_, heading| heading);
            self.heading += std::f64::consts::PI;
        }
        self.go(0.0, chance.between(30.0, 900.0), |_, heading| heading);
        self.ashore_s.push((from_s, self.now_s() - 1.0));
    }
}

/// A boat well inside a large zone: under way at 2 kn and more, with stops and slow drifts if it may stop, and with time on the beach
/// at either end if it may land.
fn truth(chance: &mut Chance, may_stop: bool, may_land: bool) -> Truth {
    let mut found = Truth { heading: chance.between(0.0, std::f64::consts::TAU), ..Truth::default() };
    if may_land && chance.share() < 0.6 {
        found.lie_ashore(chance);
    }
    for _ in 0..6 {
        if may_stop && chance.share() < 0.5 {
            found.stop(chance);
        } else {
            found.under_way(chance, !may_land);
        }
    }
    if may_land && chance.share() < 0.6 {
        found.lie_ashore(chance);
    }
    // and plainly out of the zone, so that some passages can be seen to be one
    if !may_stop && !may_land {
        found.go(10.0, 6_000.0, |_, heading| heading);
    }
    found
}

/// The answer about a log of it: fixes every few seconds, each with an error that its accuracy is true to, with gaps, and cut at both ends.
fn answer(chance: &mut Chance, truth: &Truth, zones: &ZoneSet) -> (OutcomeAnswer, (f64, f64)) {
    let radius_m = chance.between(2.0, 15.0);
    let every = [1_usize, 2, 5, 10, 30][usize::try_from(chance.0 >> 40).unwrap() % 5];
    let last_s = truth.now_s();
    let (from_s, to_s) = (chance.between(0.0, 200.0), last_s - chance.between(0.0, 200.0));
    let gap_s = chance.between(0.0, to_s);
    let gap_s = (gap_s, gap_s + chance.between(0.0, 120.0));
    let is_logged = |now_s: f64| from_s <= now_s && now_s <= to_s && !(gap_s.0 < now_s && now_s < gap_s.1);
    let mut fixes = Vec::new();
    for (second, (north_m, east_m)) in truth.places_m.iter().enumerate().step_by(every) {
        if is_logged(f64::from(u32::try_from(second).unwrap())) {
            let (north, east) = chance.normal();
            let sigma_m = radius_m / 2.447_746_8;
            fixes.push((second, (north_m + sigma_m * north, east_m + sigma_m * east)));
        }
    }
    let second = |fix: Option<&(usize, (f64, f64))>| {
        fix.map_or(0.0, |(second, _)| f64::from(u32::try_from(*second).unwrap()))
    };
    (answer_to(&fixes, radius_m, zones), (second(fixes.first()), second(fixes.last())))
}

/// The answer about fixes, each with its second and place.
fn answer_to(fixes: &[(usize, (f64, f64))], radius_m: f64, zones: &ZoneSet) -> OutcomeAnswer {
    let start: Timestamp = "2026-07-04T06:00:00Z".parse().unwrap();
    let mut auditor = Auditor::new(zones, TrackSettings::default());
    for (second, (north_m, east_m)) in fixes {
        let (lat_deg, lon_deg) = (45.117 + north_m / 111_139.0, -30.119 + east_m / DEGREE_M);
        let position = Position::from_degrees(lat_deg, lon_deg).unwrap();
        let time = start.checked_add(SignedDuration::from_secs(i64::try_from(*second).unwrap())).unwrap();
        let uncertainty = HorizontalUncertainty::given(radius_m, AccuracyKind::P95).ok();
        let _events = auditor.push(LoggedFix { uncertainty, ..LoggedFix::new(position).at(time) });
    }
    let audit = auditor.finish();
    let zone = &zones.zones()[0];
    let answers = audit.visits.iter().map(|visit| Outcome::of(visit, &zone.rule, &audit.settings).answer);
    answers.max().unwrap_or_default()
}

/// The inner cove, tens of kilometres wide, crossed on these terms.
fn wide_zone(terms: &str) -> ZoneSet {
    let wide = ZONES.replacen("[[[-30.130, 45.100], [-30.117, 45.100],\n                    [-30.117, 45.130], [-30.130, 45.130], [-30.130, 45.100]]]", "[[[-30.320, 44.950], [-29.920, 44.950], [-29.920, 45.250], [-30.320, 45.250], [-30.320, 44.950]]]", 1);
    let file = wide.replacen("\"continuous\": true, \"max_stop_min\": 10", terms, 1);
    let mut zones = zone_file::read("zones.json", file.as_bytes()).unwrap().zones;
    zones.truncate(1);
    assert_eq!(zones[0].rule.passage.as_ref().unwrap().allowed, Tristate::Yes);
    ZoneSet::new(zones)
}

#[test]
fn a_stop_too_long_is_never_read_as_none_and_a_boat_under_way_is_never_accused() {
    for (terms, limit_s) in [
        ("\"continuous\": true", 60.0),
        ("\"max_stop_min\": 10", 600.0),
        // beyond 2 min it can be told that it was too slow
        ("\"min_speed_kn\": 2", 120.0),
    ] {
        let (zones, is_speed) = (wide_zone(terms), terms.contains("speed"));
        let mut counts = [0_u32; 3];
        for number in 0..400_u64 {
            let mut chance = Chance(number * 7_919 + terms.len() as u64);
            let (may_stop, may_land) = (number % 2 == 0, number % 4 > 1);
            let truth = truth(&mut chance, may_stop, may_land);
            let (answer, (first_s, last_s)) = answer(&mut chance, &truth, &zones);
            let logged = |(from, to): &(f64, f64)| to.min(last_s) - from.max(first_s);
            let longest = |times: &[(f64, f64)]| times.iter().map(logged).fold(0.0, f64::max);
            let (stopped_s, ashore_s) = (longest(&truth.stops_s), longest(&truth.ashore_s));
            let what = format!("{terms} {number}: stopped {stopped_s} s, ashore {ashore_s} s");
            // what it did ashore may as well have been done afloat, but for its carries
            if stopped_s > limit_s {
                assert_ne!(answer, OutcomeAnswer::NothingAgainst, "{what}");
            } else if !is_speed || stopped_s <= 0.0 {
                assert_ne!(answer, OutcomeAnswer::Against, "{what}");
            }
            counts[usize::from(answer != OutcomeAnswer::NothingAgainst)
                + usize::from(answer == OutcomeAnswer::Against)] += 1;
        }
        // the law is not kept by never answering
        assert!(counts[0] > 5 && counts[2] > 5, "{terms}: {counts:?}");
    }
}

/// Under way for 10 min, then something for so many seconds, then under way again: a fix each second.
fn amid(seconds: usize, what: impl Fn(f64) -> (f64, f64)) -> Vec<(usize, (f64, f64))> {
    let second = |number: usize| f64::from(u32::try_from(number).unwrap());
    let coming = (0..600).map(|number| (number, (0.0, V * second(number))));
    let (north_m, east_m) = what(second(seconds));
    let there = (0..seconds).map(|number| {
        let (north_m, east_m) = what(second(number));
        (600 + number, (north_m, 600.0 * V + east_m))
    });
    let going =
        (0..600).map(|number| (600 + seconds + number, (north_m, (600.0 + second(number)) * V + east_m)));
    coming.chain(there).chain(going).collect()
}

#[test]
fn tacks_between_sparse_fixes_are_not_slow_and_a_moment_of_error_is_no_way() {
    // 3 kn in tacks of 15 s, 0.9 kn on the whole: a fix each 30 s shows no more than that
    let tacks = |now_s: f64| {
        let phase = (now_s / 30.0).fract();
        (2.86 * KNOT * 15.0 * (1.0 - (2.0 * phase - 1.0).abs()), 0.9 * KNOT * now_s)
    };
    let all = amid(2_400, tacks);
    for every in [10_usize, 15, 30] {
        let fixes: Vec<_> = all.iter().copied().step_by(every).collect();
        assert_ne!(
            answer_to(&fixes, 5.0, &wide_zone("\"min_speed_kn\": 2")),
            OutcomeAnswer::Against,
            "{every}"
        );
    }
    // 3 kn to and fro: fixes a half minute apart lie at one place each time
    let to_and_fro = |now_s: f64| {
        let phase = (now_s / 30.0).fract();
        (0.0, 3.0 * KNOT * 15.0 * (1.0 - (2.0 * phase - 1.0).abs()))
    };
    let fixes: Vec<_> = amid(900, to_and_fro).into_iter().step_by(30).collect();
    for terms in ["\"continuous\": true", "\"max_stop_min\": 10"] {
        assert_eq!(answer_to(&fixes, 2.0, &wide_zone(terms)), OutcomeAnswer::Undecided, "{terms}");
    }
    // circles and a narrow to and fro are no stop, each second seen
    let circles = |now_s: f64| {
        let turned = 3.0 * KNOT * now_s / 10.0;
        (10.0 - 10.0 * turned.cos(), 10.0 * turned.sin())
    };
    let shuttle = |now_s: f64| {
        let phase = (now_s / 22.0).fract();
        (20.0 * (1.0 - (2.0 * phase - 1.0).abs()), 0.0)
    };
    for fixes in [amid(1_260, circles), amid(1_260, shuttle)] {
        for terms in ["\"continuous\": true", "\"max_stop_min\": 10"] {
            for radius_m in [2.0, 5.0, 10.0] {
                assert_ne!(answer_to(&fixes, radius_m, &wide_zone(terms)), OutcomeAnswer::Against, "{terms}");
            }
        }
    }
    // a place repeated for 80 s, and then a leap to where the boat is
    let stale = |now_s: f64| (0.0, V * if now_s < 80.0 { 0.0 } else { now_s });
    let fixes = amid(300, stale);
    assert_ne!(answer_to(&fixes, 3.0, &wide_zone("\"continuous\": true")), OutcomeAnswer::Against);
    // a boat that lay still for 90 s was not at 2 kn or more all the while
    let fixes = amid(90, |now_s| (0.2 * (now_s % 3.0), 0.0));
    assert_ne!(answer_to(&fixes, 3.0, &wide_zone("\"min_speed_kn\": 2")), OutcomeAnswer::NothingAgainst);
    // three fixes half a minute into a stop of 11 min that are off do not cut it in two
    let cut = |now_s: f64| (if (300.0..315.0).contains(&now_s) { 34.0 } else { 0.4 * (now_s % 2.0) }, 0.0);
    let fixes: Vec<_> = amid(660, cut).into_iter().step_by(5).collect();
    assert_ne!(answer_to(&fixes, 4.0, &wide_zone("\"max_stop_min\": 10")), OutcomeAnswer::NothingAgainst);
    // three fixes of three seconds that share one error are no way
    let still = |now_s: f64| (if now_s % 50.0 < 3.0 { 12.6 } else { 0.0 }, 0.3 * (now_s % 2.0));
    let fixes = amid(900, still);
    assert_ne!(answer_to(&fixes, 5.0, &wide_zone("\"continuous\": true")), OutcomeAnswer::NothingAgainst);
}
