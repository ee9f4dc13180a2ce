//! `takeline track` with logs that are told badly: no visit is lost, and what is not settled says why in its first lines.
//!
//! All places lie about the invented isle of Marrowick; every trip is a straight way at an even speed.

#![expect(clippy::unwrap_used, clippy::panic, reason = "a test whose program does not even run has failed")]

#[path = "program.rs"]
mod program;

use std::fs;
use std::path::Path;

use serde_json::Value;
use tempfile::TempDir;

use program::Outcome;

/// A no-take square of about 1 km, and one beside it that is closed in winter.
const ZONES: &str = r#"{
  "type": "FeatureCollection",
  "takeline": { "format": "takeline.zones/1", "title": "Marrowick", "edition": "2026-1",
                "datum": "WGS 84", "time_zone": "UTC", "taxa": [], "groups": [] },
  "features": [
    { "type": "Feature", "id": "sallow-cove",
      "geometry": { "type": "Polygon", "coordinates": [[[-30.130, 45.110], [-30.117, 45.110],
                    [-30.117, 45.119], [-30.130, 45.119], [-30.130, 45.110]]] },
      "properties": { "name": "Sallow Cove Reserve", "edges": "geodesic", "take": "none", "crossing": { "allowed": false },
                      "source": { "instrument": "Marrowick Reserves Order 2019" } } },
    { "type": "Feature", "id": "winter-ground",
      "geometry": { "type": "Polygon", "coordinates": [[[-30.130, 45.210], [-30.117, 45.210],
                    [-30.117, 45.219], [-30.130, 45.219], [-30.130, 45.210]]] },
      "properties": { "name": "Winter Ground", "edges": "geodesic", "take": "none", "crossing": { "allowed": false },
                      "when": { "yearly": { "from": "11-01", "to": "02-28", "ends": "included" } },
                      "source": { "instrument": "Marrowick Reserves Order 2019" } } } ] }"#;

impl Outcome {
    fn json(&self) -> Value {
        serde_json::from_str(&self.out).unwrap()
    }

    /// The text as if the screen had no edge.
    fn unwrapped(&self) -> String {
        self.out.split_whitespace().collect::<Vec<_>>().join(" ")
    }

    /// The three lines that somebody in a boat reads.
    fn first_lines(&self) -> String {
        self.out.lines().take(3).collect::<Vec<_>>().join("\n")
    }
}

fn track(log: &str, arguments: &[&str]) -> Outcome {
    let folder = TempDir::new().unwrap();
    fs::write(folder.path().join("marrowick.geojson"), ZONES).unwrap();
    fs::write(folder.path().join("log"), log).unwrap();
    run(folder.path(), arguments)
}

fn run(folder: &Path, arguments: &[&str]) -> Outcome {
    program::run(folder, Some("marrowick.geojson".as_ref()), &[&["track", "log"], arguments].concat(), "")
}

/// A fix: latitude, longitude, seconds after six in the morning.
type Point = (f64, f64, f64);

/// Due east along a parallel, 15.7 m every 6 s.
fn eastward(lat_deg: f64, (from_deg, to_deg): (f64, f64)) -> Vec<Point> {
    (0..10_000)
        .map(f64::from)
        .map(|step| (lat_deg, from_deg + 0.0002 * step, 6.0 * step))
        .take_while(|(_, lon_deg, _)| *lon_deg <= to_deg)
        .collect()
}

/// In at the western side of Sallow Cove, out at the eastern.
fn through() -> Vec<Point> {
    eastward(45.115, (-30.135, -30.112))
}

fn clock(seconds: f64) -> String {
    let start: jiff::Timestamp = "2026-07-25T06:00:00Z".parse().unwrap();
    let time = start.checked_add(jiff::SignedDuration::try_from_secs_f64(seconds).unwrap()).unwrap();
    time.to_string()
}

fn csv(points: &[Point]) -> String {
    let rows = points.iter().map(|(lat, lon, seconds)| format!("{lat:.7},{lon:.7},{}\n", clock(*seconds)));
    std::iter::once("lat,lon,time\n".to_owned()).chain(rows).collect()
}

fn segment(points: &[Point]) -> String {
    let points = points.iter().map(|(lat, lon, seconds)| {
        format!("<trkpt lat='{lat:.7}' lon='{lon:.7}'><time>{}</time></trkpt>\n", clock(*seconds))
    });
    format!("<trkseg>{}</trkseg>", points.collect::<String>())
}

fn gpx(inner: &str) -> String {
    format!("<gpx version='1.1'>{inner}</gpx>")
}

fn route(points: &[Point]) -> String {
    let points = points.iter().map(|(lat, lon, _)| format!("<rtept lat='{lat:.7}' lon='{lon:.7}'/>\n"));
    format!("<rte>{}</rte>", points.collect::<String>())
}

/// One certain visit of Sallow Cove, about 1021 m at 2.62 m/s less 20 m of doubt.
#[track_caller]
fn is_through(outcome: &Outcome) {
    assert_eq!(outcome.status, 1, "{}{}", outcome.out, outcome.err);
    let document = outcome.json();
    let [visit] = document["visits"].as_array().unwrap().as_slice() else { panic!("{}", outcome.out) };
    assert_eq!(
        (visit["zone_id"].as_str(), visit["certainty"].as_str()),
        (Some("sallow-cove"), Some("certain"))
    );
    let certain_s = visit["certain_s"].as_f64().unwrap();
    assert!((certain_s - 382.0).abs() < 12.0, "{certain_s}");
}

const JSON: [&str; 2] = ["--format", "json"];

#[test]
fn the_plain_log() {
    is_through(&track(&csv(&through()), &JSON));
}

#[test]
fn a_log_told_newest_first_is_put_in_order_and_says_so() {
    let mut points = through();
    points.reverse();
    is_through(&track(&csv(&points), &JSON));
    let told = track(&csv(&points), &[]);
    assert!(told.unwrapped().contains("fixes were newest first, and were turned round"), "{}", told.out);
}

#[test]
fn segments_in_swapped_order_are_one_way() {
    let points = through();
    let (early, late) = points.split_at(60);
    is_through(&track(&gpx(&format!("<trk>{}{}</trk>", segment(late), segment(early))), &JSON));
}

#[test]
fn a_tow_faster_than_the_given_top_speed_is_no_spike_and_says_so() {
    let points: Vec<Point> =
        through().into_iter().map(|(lat, lon, seconds)| (lat, lon, seconds / 1.6)).collect();
    let outcome = track(&csv(&points), &["--top-speed-kn", "4", "--format", "json"]);
    let document = outcome.json();
    assert_eq!(
        (outcome.status, document["quality"]["spike_count"].as_u64()),
        (1, Some(0)),
        "{}",
        outcome.out
    );
    assert_eq!(document["settings"]["top_speed_source"], "shown");
    assert!(document["settings"]["top_speed_kn"].as_f64().unwrap() > 6.0);
    let told = track(&csv(&points), &["--top-speed-kn", "4"]);
    assert!(told.unwrapped().contains(" kn, shown"), "{}", told.out);
}

#[test]
fn a_log_at_latitude_0_longitude_0_is_not_settled() {
    let points: Vec<Point> = through().into_iter().map(|(_, _, seconds)| (0.0, 0.0, seconds)).collect();
    let outcome = track(&csv(&points), &[]);
    assert_eq!(outcome.status, 3, "{}", outcome.out);
    let lines: Vec<&str> = outcome.out.lines().collect();
    assert!(lines[0].starts_with("NOT SETTLED"), "{}", outcome.out);
    assert!(lines[1].contains("at latitude 0") && lines[1].contains("116 of 116"), "{}", outcome.out);
}

#[test]
fn two_receivers_far_apart_in_one_segment_are_not_settled() {
    // the second one 30 km to the north, all of it outside
    let mixed: Vec<Point> =
        through().into_iter().flat_map(|(lat, lon, s)| [(lat, lon, s), (lat + 0.27, lon, s + 1.0)]).collect();
    let outcome = track(&csv(&mixed), &[]);
    assert_eq!(outcome.status, 3, "{}", outcome.out);
    assert!(outcome.first_lines().contains("suspect"), "{}", outcome.out);
}

#[test]
fn one_time_for_every_fix_is_a_log_without_times() {
    let points: Vec<Point> = through().into_iter().map(|(lat, lon, _)| (lat, lon, 0.0)).collect();
    let outcome = track(&csv(&points), &JSON);
    let document = outcome.json();
    assert_eq!((outcome.status, document["visits"][0]["certain_s"].as_f64()), (1, None), "{}", outcome.out);
    assert_eq!(document["quality"]["order"]["times_all_the_same"], 116);
}

#[test]
fn five_fixes_a_second_with_whole_seconds_and_times_cut_to_the_minute_are_read() {
    let all = eastward(45.115, (-30.135, -30.112));
    let cut: Vec<Point> = all.iter().map(|(lat, lon, s)| (*lat, *lon, (s / 60.0).floor() * 60.0)).collect();
    is_through(&track(&csv(&cut), &JSON));
    let fine: Vec<Point> = (0..3_450)
        .map(f64::from)
        .map(|step| (45.115, -30.135 + 0.0002 / 30.0 * step, (step / 5.0).floor()))
        .collect();
    is_through(&track(&csv(&fine), &JSON));
}

#[test]
fn every_fifth_time_unreadable_leaves_the_others_in_use() {
    let log: String = csv(&through())
        .lines()
        .enumerate()
        .map(|(number, row)| if number % 5 == 3 { row.replace("2026-", "20x6-") } else { row.to_owned() } + "\n")
        .collect();
    is_through(&track(&log, &JSON));
}

#[test]
fn a_receiver_that_holds_still_at_anchor_shortens_no_stay() {
    let mut points: Vec<Point> = eastward(45.115, (-30.135, -30.125));
    let (lat, lon, since_s) = *points.last().unwrap();
    points.extend((1..=360).map(|step| (lat, lon, since_s + 10.0 * f64::from(step))));
    let on = eastward(45.115, (-30.1248, -30.112));
    points.extend(on.into_iter().map(|(lat, lon, s)| (lat, lon, s + since_s + 3_606.0)));
    let outcome = track(&csv(&points), &JSON);
    let document = outcome.json();
    let certain_s = document["visits"][0]["certain_s"].as_f64().unwrap();
    assert!((certain_s - 382.0 - 3_600.0).abs() < 15.0, "{certain_s}");
    assert_eq!(
        (document["quality"]["stale"].as_u64(), document["quality"]["gap_count"].as_u64()),
        (Some(0), Some(0))
    );
}

#[test]
fn the_night_between_two_days_is_not_judged_and_says_so() {
    let away = || eastward(45.100, (-30.135, -30.112));
    let next_day = away().into_iter().map(|(lat, lon, s)| (lat, lon - 0.05, s + 86_400.0));
    let log = csv(&away().into_iter().chain(next_day).collect::<Vec<_>>());
    let outcome = track(&log, &[]);
    assert_eq!(outcome.status, 0, "{}", outcome.out);
    assert!(outcome.unwrapped().contains("Taken as 2 trips"), "{}", outcome.out);
    let document = track(&log, &JSON).json();
    assert_eq!(document["quality"]["gaps"][0]["between_trips"], true);
}

#[test]
fn two_boats_in_one_file_are_told_apart() {
    let away = eastward(45.100, (-30.135, -30.112));
    let log = gpx(&format!("<trk>{}</trk><trk>{}</trk>", segment(&away), segment(&through())));
    is_through(&track(&log, &JSON));
    let told = track(&log, &[]);
    assert!(told.unwrapped().contains("2 boats or receivers"), "{}", told.out);
}

#[test]
fn a_date_that_the_reader_doubts_leaves_what_was_in_force_undecided() {
    let winter = |points: &[Point]| csv(points).replace("2026-07-25", "2006-12-09");
    let away = eastward(45.215, (-30.135, -30.112));
    // 1024 weeks after December 2006 it was July 2026
    let log = winter(&away).replace("2006-12-09", "2006-07-09");
    let outcome = track(&log, &[]);
    assert_eq!(outcome.status, 3, "{}", outcome.out);
    assert!(outcome.first_lines().contains("dates of the log may be wrong"), "{}", outcome.out);
    assert!(outcome.unwrapped().contains("1024 weeks"), "{}", outcome.out);
    // what holds all year holds whatever the date
    assert_eq!(track(&winter(&through()), &[]).status, 1);
}

#[test]
fn a_log_of_a_year_in_which_nobody_has_a_fix_is_doubted_as_a_position_is() {
    // summer, when the mussel bed is open, of a year that nobody has seen
    let away = eastward(45.215, (-30.135, -30.112));
    let outcome = track(&csv(&away).replace("2026-07-25", "2206-07-09"), &[]);
    assert_eq!(outcome.status, 3, "{}", outcome.out);
    assert!(outcome.unwrapped().contains("in the year 2206"), "{}", outcome.out);
    assert!(!outcome.unwrapped().contains("1024"), "{}", outcome.out);
}

#[test]
fn a_route_beside_a_track_is_left_out_and_told() {
    let away = eastward(45.100, (-30.135, -30.112));
    let outcome = track(&gpx(&format!("{}<trk>{}</trk>", route(&through()), segment(&away))), &JSON);
    let document = outcome.json();
    assert_eq!((outcome.status, document["input"]["fixes"].as_u64()), (0, Some(116)), "{}", outcome.out);
    assert_eq!(
        (document["input"]["kind"].as_str(), document["notes"][0]["code"].as_str()),
        (Some("log"), Some("route-is-a-plan"))
    );
}

#[test]
fn a_file_of_routes_is_answered_as_a_plan() {
    let crossing = track(&gpx(&route(&through())), &[]);
    assert_eq!(crossing.status, 1, "{}", crossing.out);
    assert!(crossing.out.starts_with("AGAINST A RULE: would cross Sallow Cove"), "{}", crossing.out);
    assert!(!crossing.out.contains("Inside") && !crossing.out.contains("VISIT"), "{}", crossing.out);
    let document = track(&gpx(&route(&through())), &JSON).json();
    assert_eq!(document["input"]["kind"], "plan");
    let away = track(&gpx(&route(&eastward(45.100, (-30.135, -30.112)))), &[]);
    assert_eq!(away.status, 0, "{}", away.out);
    assert!(away.out.starts_with("Crosses none; closest 1111 m"), "{}", away.out);
    let winter = track(&gpx(&route(&eastward(45.215, (-30.135, -30.112)))), &[]);
    assert_eq!(winter.status, 3, "{}", winter.out);
    assert!(winter.out.starts_with("NOT SETTLED: may cross Winter Ground"), "{}", winter.out);
    let page = track(&gpx(&route(&through())), &["--html", "plan.html"]);
    assert_eq!(page.status, 3);
    assert!(page.err.contains("only routes"), "{}", page.err);
    let table = track(&gpx(&route(&through())), &["--csv", "plan.csv"]);
    assert_eq!(table.status, 3);
    assert!(table.err.contains("only routes"), "{}", table.err);
}

#[test]
fn date_and_time_in_two_columns_are_joined() {
    let log: String = csv(&through())
        .lines()
        .map(|row| {
            row.replace("lat,lon,time", "lat,lon,date,time").replace("2026-07-25T", "2026-07-25,") + "\n"
        })
        .collect();
    is_through(&track(&log, &JSON));
}

#[test]
fn wrong_checksums_are_the_reason_in_the_first_lines() {
    let sentence = "$GPRMC,060000.00,A,4506.9000,N,03007.2600,W,005.0,090.0,250726,,,A*00\n";
    let outcome = track(&sentence.repeat(40), &[]);
    assert_eq!(outcome.status, 3, "{}", outcome.out);
    assert!(outcome.first_lines().contains("40 sentences with a wrong checksum"), "{}", outcome.out);
}

#[test]
fn an_accuracy_of_0_is_the_assumed_one() {
    // 4 m outside the western side
    let rows = (0..5).map(|step| format!("45.11{step},-30.13005,{},0\n", clock(30.0 * f64::from(step))));
    let log: String = std::iter::once("lat,lon,time,accuracy_m\n".to_owned()).chain(rows).collect();
    let outcome = track(&log, &JSON);
    assert_eq!(outcome.status, 3, "{}", outcome.out);
    assert!(outcome.out.contains("accuracy-zero"), "{}", outcome.out);
}

#[test]
fn latitude_and_longitude_exchanged_or_a_sign_missing_is_not_settled() {
    let told =
        |turn: fn(Point) -> Point| track(&csv(&through().into_iter().map(turn).collect::<Vec<_>>()), &[]);
    let exchanged = told(|(lat, lon, s)| (lon, lat, s));
    assert_eq!(exchanged.status, 3, "{}", exchanged.out);
    assert!(exchanged.first_lines().contains("lat and lon swapped"), "{}", exchanged.out);
    let without_minus = told(|(lat, lon, s)| (lat, -lon, s));
    assert_eq!(without_minus.status, 3, "{}", without_minus.out);
    assert!(without_minus.first_lines().contains("longitude's sign wrong"), "{}", without_minus.out);
    // honestly far from every zone
    let far = told(|(lat, lon, s)| (lat - 3.0, lon, s));
    assert_eq!(far.status, 0, "{}", far.out);
}

#[path = "logs_that_lie/misread.rs"]
mod misread;

/// Rows with a time and no place, each ten seconds for so long from a time on.
fn rows_without_a_place(from_s: f64, for_s: f64) -> String {
    let times = (1..1_000).map(|step| 10.0 * f64::from(step)).take_while(|passed_s| *passed_s <= for_s);
    let rows: Vec<String> = times.map(|passed_s| format!("N/A,N/A,{}\n", clock(from_s + passed_s))).collect();
    rows.concat()
}

#[test]
fn a_log_that_goes_on_without_a_place_is_time_in_which_the_boat_was_somewhere() {
    // 222 m south of the cove; 120 s at 12 kn are 741 m
    let near = eastward(45.108, (-30.135, -30.125));
    assert_eq!(track(&csv(&near), &[]).status, 0);
    let last_s = near.last().unwrap().2;
    let log = csv(&near) + &rows_without_a_place(last_s, 120.0);
    let outcome = track(&log, &[]);
    assert_eq!(outcome.status, 3, "{}", outcome.out);
    assert!(outcome.out.starts_with("NOT SETTLED"), "{}", outcome.out);
    assert!(outcome.unwrapped().contains("goes on for 2 min after the last place"), "{}", outcome.out);
    let document = track(&log, &JSON).json();
    assert_eq!(document["quality"]["gaps"][0]["open_end"], "after-the-last-fix");
    assert_eq!(document["quality"]["unplaced"], 12);
    // before the first one likewise, and where it reaches nothing it is nothing
    let late: Vec<Point> = near.iter().map(|(lat, lon, s)| (*lat, *lon, s + 121.0)).collect();
    let head = |log: &str| log.replacen('\n', &format!("\n{}", rows_without_a_place(0.0, 120.0)), 1);
    assert_eq!(track(&head(&csv(&late)), &[]).status, 3);
    assert_eq!(track(&(csv(&near) + &rows_without_a_place(last_s, 20.0)), &[]).status, 0);
}

#[test]
fn a_table_cut_in_the_middle_of_a_row_is_not_settled() {
    let away = csv(&eastward(45.100, (-30.135, -30.112)));
    assert_eq!(track(&away, &[]).status, 0);
    let outcome = track(&away[..away.len() - 30], &[]);
    assert_eq!(outcome.status, 3, "{}", outcome.out);
    assert!(outcome.first_lines().contains("without time or place"), "{}", outcome.out);
    // in the middle the fixes on both sides bound it
    let middle = away.len() / 2;
    let rows: String = away[..middle].to_owned() + "\n" + away[middle..].split_once('\n').unwrap().1;
    assert_eq!(track(&rows, &[]).status, 0);
}

#[test]
fn a_boat_at_anchor_when_the_log_ends_may_have_stayed_all_the_while() {
    let mut points: Vec<Point> = eastward(45.115, (-30.135, -30.125));
    let (lat, lon, since_s) = *points.last().unwrap();
    points.extend((1..=360).map(|step| (lat, lon, since_s + 10.0 * f64::from(step))));
    let outcome = track(&csv(&points), &JSON);
    let document = outcome.json();
    let visit = &document["visits"][0];
    assert_eq!(visit["certainty"], "certain");
    assert!(visit["possible_s"].as_f64().unwrap() > 3_600.0, "{visit}");
    let told = track(&csv(&points), &[]);
    assert!(told.unwrapped().contains("repeat one place"), "{}", told.out);
}

#[test]
fn the_night_at_one_ramp_is_a_gap_until_somebody_says_otherwise() {
    // 555 m south of the cove, both days from the same place
    let day = eastward(45.105, (-30.125, -30.120));
    let next: Vec<Point> = day.iter().map(|(lat, lon, s)| (*lat, lon + 0.001, s + 84_000.0)).collect();
    let log = csv(&[day, next].concat());
    let outcome = track(&log, &[]);
    assert_eq!(outcome.status, 3, "{}", outcome.out);
    assert!(outcome.first_lines().contains("Nothing logged for 23 h"), "{}", outcome.out);
    assert!(outcome.unwrapped().contains("--new-trip-after-h 6"), "{}", outcome.out);
    let told = track(&log, &["--new-trip-after-h", "6"]);
    assert_eq!(told.status, 0, "{}", told.out);
    assert!(told.unwrapped().contains("Taken as 2 trips"), "{}", told.out);
    assert!(told.unwrapped().contains("--new-trip-after-h 6"), "the command to make it again: {}", told.out);
    for too_short in ["-1", "0.01", "0.5", "0.99"] {
        assert_eq!(track(&log, &["--new-trip-after-h", too_short]).status, 2, "{too_short}");
    }
    assert!(told.unwrapped().contains("Taken as 2 trips, with 23 h"), "{}", told.out);
}

#[test]
fn a_step_that_no_boat_makes_is_no_time_between_two_trips_whatever_was_said() {
    // 55 km west in two hours: 15 kn at least, and 12 kn assumed at most, then 111 km more
    let south = eastward(45.105, (-30.135, -30.112));
    let away: Vec<Point> = south.iter().map(|(lat, lon, s)| (*lat, lon - 1.5, s + 7_200.0)).collect();
    let log = csv(&[south, away].concat());
    let told = track(&log, &["--new-trip-after-h", "1"]);
    assert_eq!(told.status, 3, "{}", told.out);
    assert!(!told.unwrapped().contains("Taken as 2 trips"), "{}", told.out);
}

#[test]
fn no_advice_is_given_that_changes_nothing() {
    // records without a place every 10 s for seven hours, 555 m south of the cove
    let day = eastward(45.105, (-30.125, -30.120));
    let next: Vec<Point> = day.iter().map(|(lat, lon, s)| (*lat, lon + 0.001, s + 25_200.0)).collect();
    let row = |step: u32| format!("N/A,N/A,{}", clock(f64::from(10 * step)));
    let nowhere = (20..2_515).map(row).collect::<Vec<_>>().join("\n") + "\n";
    let (first, second) = (csv(&day), csv(&next).replace("lat,lon,time\n", ""));
    let log = [first, nowhere, second].concat();
    let outcome = track(&log, &[]);
    assert_eq!(outcome.status, 3, "{}", outcome.out);
    assert!(!outcome.unwrapped().contains("--new-trip-after-h"), "{}", outcome.out);
    assert!(outcome.first_lines().contains("No place logged for"), "{}", outcome.out);
}

/// Sentences GGA without a checksum, which tell a time of day and no date.
fn times_of_day(points: &[Point]) -> String {
    let degrees = |value: f64| (value.abs().floor(), 60.0 * value.abs().fract());
    let sentences: Vec<String> = points
        .iter()
        .map(|(lat, lon, seconds)| {
            let ((lat_deg, lat_min), (lon_deg, lon_min)) = (degrees(*lat), degrees(*lon));
            let time = clock(*seconds)[11..19].replace(':', "");
            format!("$GPGGA,{time},{lat_deg:02}{lat_min:07.4},N,{lon_deg:03}{lon_min:07.4},W,1,08,0.9,5.4,M,46.9,M,,\n")
        })
        .collect();
    sentences.concat()
}

#[test]
fn times_of_day_without_a_date_leave_the_gaps() {
    let near = eastward(45.108, (-30.135, -30.112));
    assert_eq!(track(&times_of_day(&near), &[]).status, 0);
    let late = near[60..].iter().map(|(lat, lon, s)| (*lat, *lon, s + 900.0));
    let hole: Vec<Point> = near[..60].iter().copied().chain(late).collect();
    let outcome = track(&times_of_day(&hole), &[]);
    assert_eq!(outcome.status, 3, "{}", outcome.out);
    assert!(outcome.first_lines().contains("How long is not known"), "{}", outcome.out);
}
