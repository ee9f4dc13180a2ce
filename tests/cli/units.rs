//! The keys of all JSON that the program writes about the isle tell the units of their numbers.

use std::path::Path;

use takeline_test_util::bare_numbers;

use super::takeline;

/// Keys of numbers without a unit, or whose whole name is one: numbers of lines and ranks, shares and scores, days of the year (a
/// month and a day), seconds, counts.
const PLAIN: [&str; 59] = [
    "exit_status",
    "row",
    "line",
    "after_line",
    "rank",
    "inside_probability",
    "count",
    "max_lines",
    "max_hooks",
    "from",
    "to",
    "seconds",
    "seconds_at_drift",
    "misfits",
    "coverage",
    "margin",
    "robustness",
    "sharpness",
    "visibility",
    "whole",
    "fixes",
    "fixes_repeated",
    "covers",
    "independent",
    "gaps",
    "crossings",
    "visits",
    "zone_number",
    "first",
    "last",
    "at_most",
    "share",
    "times",
    "number",
    "duplicates",
    "out_of_order",
    "spike_count",
    "gap_count",
    "cold_start",
    "zero_island",
    "stale",
    "untimed",
    "without_time",
    "pauses",
    "unplaced",
    "lost",
    "lost_trips",
    "newest_first",
    "unordered",
    "stretches_moved",
    "stretches_repeated",
    "boats",
    // how many fixes and legs lie on land, and of how many fixes
    "of",
    "legs",
    "times_placed",
    "times_taken",
    "times_all_the_same",
    // rows of the catch log
    "catches",
    "catch_rows_unread",
];

const HERE: [&str; 4] = ["45.1170 -30.1190", "45.1150 -30.169949", "45.1575 -30.1775", "0 0"];

const TRIPS: [&str; 6] = ["launch-and-cross", "bait-stop", "drift-over", "gap", "cold-start", "wander"];

/// Commands about the demo data, as somebody types them.
fn commands() -> Vec<String> {
    let asked = "--species pollack --species sprat --standoff-m 200 --all --time 2026-07-05T10:00:00Z";
    let mut commands: Vec<String> =
        HERE.iter().flat_map(|place| [format!("here {place}"), format!("here {place} {asked}")]).collect();
    commands.extend(["fixes", "fixes-with-faults"].map(|name| format!("here --fixes {name}.csv")));
    commands.extend(TRIPS.map(|trip| format!("track trips/{trip}.gpx")));
    commands.push("track trips/catch-day.csv --catches trips/catches.csv".to_owned());
    let marks = "--landmarks landmarks.geojson";
    let noon = "--time 2026-07-05T10:00:00Z";
    let pair = "--front day-beacon --rear lone-pine";
    commands.extend([
        format!("transit check {marks} {pair} --near-m 100 --far-m 1400 {noon}"),
        format!("transit find {marks} --zone sallow-cove --launch 45.1170,-30.1190 {noon}"),
        format!("transit calibrate {marks} {pair} --fixes on-the-line.csv {noon}"),
        format!("transit cross {marks} --in-line day-beacon;lone-pine --bearing mast;143_magnetic {noon}"),
    ]);
    commands
}

#[test]
fn every_number_about_the_isle_has_a_key_that_tells_its_unit() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data");
    let mut documents = 0;
    for command in commands() {
        let command = format!("{command} --zones zones --format json");
        let words: Vec<String> = command.split(' ').map(|word| word.replace('_', " ")).collect();
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        let outcome = takeline(&folder, &words, "");
        let values = serde_json::Deserializer::from_str(&outcome.out).into_iter::<serde_json::Value>();
        for value in values {
            let value = value.unwrap();
            assert_eq!(bare_numbers(&value, &PLAIN), [""; 0], "{command}");
            documents += 1;
        }
        assert!(!outcome.out.is_empty(), "{command}: {}", outcome.err);
    }
    assert!(documents > 25, "{documents}");
}
