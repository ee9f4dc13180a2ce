//! The trip: is anything in its log against a loaded rule? Each case of a trip is run through the program: its first three lines, its
//! JSON and its exit status say the same. And a law: whatever a boat truly did, a stop that is too long is never read as none, and a
//! boat that never stopped is never accused of it.
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
/// from eight to nine in the morning, likewise; and a reserve of whose crossing nothing is said.
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
                      "source": { "instrument": "Marrowick Order" } } } ] }"#;

/// What the boat does, in order.
#[derive(Clone, Copy)]
enum Leg {
    /// On to the east, metres.
    Go(f64),
    /// Lies where it is, seconds.
    Stop(f64),
    /// Goes on to the east, and nothing is logged of it, metres.
    Unlogged(f64),
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
            Leg::Go(metres) => (*metres, metres / V, true),
            Leg::Stop(seconds) => (0.0, *seconds, true),
            Leg::Unlogged(metres) => (*metres, metres / V, false),
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

/// What a boat truly did: where it was at each whole second, and its stops.
struct Truth {
    places_m: Vec<(f64, f64)>,
    stops_s: Vec<(f64, f64)>,
}

/// A boat well inside a large zone: under way at 2 kn and more, with stops and slow drifts if it may stop.
/// At last it goes straight out if it has to be seen to.
fn truth(chance: &mut Chance, (may_stop, goes_out): (bool, bool)) -> Truth {
    let knot = 1852.0 / 3600.0;
    let (mut north_m, mut east_m) = (0.0, 0.0);
    let mut heading = chance.between(0.0, std::f64::consts::TAU);
    let mut found = Truth { places_m: vec![(0.0, 0.0)], stops_s: Vec::new() };
    for _ in 0..6 {
        let stops = may_stop && chance.share() < 0.5;
        let (knots, seconds) = if stops {
            (chance.between(-0.4, 0.4).max(0.0), chance.between(120.0, 1_500.0))
        } else {
            (chance.between(2.0, 4.0), chance.between(120.0, 900.0))
        };
        let began_s = f64::from(u32::try_from(found.places_m.len()).unwrap());
        let mut now_s = 0.0;
        while now_s < seconds {
            heading += chance.between(-0.01, 0.01);
            north_m += knots * knot * heading.cos();
            east_m += knots * knot * heading.sin();
            found.places_m.push((north_m, east_m));
            now_s += 1.0;
        }
        if stops {
            match found.stops_s.last_mut() {
                Some((_, ended_s)) if *ended_s >= began_s - 1.5 => *ended_s = began_s + now_s - 1.0,
                _ => found.stops_s.push((began_s, began_s + now_s - 1.0)),
            }
        }
    }
    let mut way_s = 0.0;
    while goes_out && way_s < 5_000.0 {
        north_m += 5.0 * heading.cos();
        east_m += 5.0 * heading.sin();
        found.places_m.push((north_m, east_m));
        way_s += 1.0;
    }
    found
}

/// The answer about a log of it: fixes every few seconds, each with an error that its accuracy is true to, with gaps, and cut at both ends.
fn answer(chance: &mut Chance, truth: &Truth, zones: &ZoneSet) -> (OutcomeAnswer, (f64, f64)) {
    let radius_m = chance.between(2.0, 15.0);
    let every = [1_usize, 2, 5, 10][usize::try_from(chance.0 >> 40).unwrap() % 4];
    let last = truth.places_m.len();
    let (from, to) =
        (chance.between(0.0, 200.0), f64::from(u32::try_from(last).unwrap()) - chance.between(0.0, 200.0));
    let gap = chance.between(0.0, to);
    let gap = (gap, gap + chance.between(0.0, 120.0));
    let start: Timestamp = "2026-07-04T06:00:00Z".parse().unwrap();
    let mut auditor = Auditor::new(zones, TrackSettings::default());
    let (mut first_s, mut last_s) = (None, 0.0);
    for (second, (north_m, east_m)) in truth.places_m.iter().enumerate().step_by(every) {
        let now_s = f64::from(u32::try_from(second).unwrap());
        if now_s < from || now_s > to || (gap.0 < now_s && now_s < gap.1) {
            continue;
        }
        let (north, east) = chance.normal();
        let sigma_m = radius_m / 2.447_746_8;
        let lat_deg = 45.117 + (north_m + sigma_m * north) / 111_139.0;
        let lon_deg = -30.119 + (east_m + sigma_m * east) / DEGREE_M;
        let position = Position::from_degrees(lat_deg, lon_deg).unwrap();
        let time = start.checked_add(SignedDuration::from_secs(i64::try_from(second).unwrap())).unwrap();
        let uncertainty = HorizontalUncertainty::given(radius_m, AccuracyKind::P95).ok();
        let _events = auditor.push(LoggedFix { uncertainty, ..LoggedFix::new(position).at(time) });
        first_s = first_s.or(Some(now_s));
        last_s = now_s;
    }
    let audit = auditor.finish();
    let zone = &zones.zones()[0];
    let answers = audit.visits.iter().map(|visit| Outcome::of(visit, &zone.rule, &audit.settings).answer);
    (answers.max().unwrap_or_default(), (first_s.unwrap_or(0.0), last_s))
}

#[test]
fn a_stop_too_long_is_never_read_as_none_and_a_boat_under_way_is_never_accused() {
    let wide = ZONES.replacen("[[[-30.130, 45.100], [-30.117, 45.100],\n                    [-30.117, 45.130], [-30.130, 45.130], [-30.130, 45.100]]]", "[[[-30.320, 44.950], [-29.920, 44.950], [-29.920, 45.250], [-30.320, 45.250], [-30.320, 44.950]]]", 1);
    for (continuous, limit_s) in [(true, 60.0), (false, 600.0)] {
        // a longest stop that is stated governs stops
        let terms = if continuous { "\"continuous\": true" } else { "\"max_stop_min\": 10" };
        let file = wide.replacen("\"continuous\": true, \"max_stop_min\": 10", terms, 1);
        let mut zones = zone_file::read("zones.json", file.as_bytes()).unwrap().zones;
        zones.truncate(1);
        assert_eq!(zones[0].rule.passage.as_ref().unwrap().allowed, Tristate::Yes);
        let zones = ZoneSet::new(zones);
        let mut counts = [0_u32; 3];
        for number in 0..150_u64 {
            let mut chance = Chance(number * 7_919 + u64::from(continuous));
            let may_stop = number % 2 == 0;
            let truth = truth(&mut chance, (may_stop, continuous));
            let (answer, (first_s, last_s)) = answer(&mut chance, &truth, &zones);
            let logged = |(from, to): &(f64, f64)| to.min(last_s) - from.max(first_s);
            let longest_s = truth.stops_s.iter().map(logged).fold(0.0, f64::max);
            if longest_s > limit_s {
                assert_ne!(answer, OutcomeAnswer::NothingAgainst, "{number}: stopped {longest_s} s");
            } else {
                assert_ne!(answer, OutcomeAnswer::Against, "{number}: stopped {longest_s} s");
            }
            counts[usize::from(answer != OutcomeAnswer::NothingAgainst)
                + usize::from(answer == OutcomeAnswer::Against)] += 1;
        }
        // the law is not kept by never answering
        assert!(counts[0] > 5 && counts[2] > 5, "{counts:?}");
    }
}
