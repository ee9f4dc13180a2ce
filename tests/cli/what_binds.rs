//! What binds at a place, and what is never answered as if it were settled. All zones are invented.

use std::fmt::Write;
use std::fs;

use serde_json::{Value, json};
use tempfile::TempDir;

use super::{Outcome, takeline};

pub(super) const NOON: [&str; 6] =
    ["--time", "2026-07-01T10:00:00Z", "--accuracy-m", "1", "--accuracy-kind", "p95"];
/// A square of about 1.6 by 2.2 km, and one of half its sides in its middle.
pub(super) const RESERVE: [[f64; 2]; 4] =
    [[-30.14, 45.10], [-30.12, 45.10], [-30.12, 45.12], [-30.14, 45.12]];
pub(super) const LANE: [[f64; 2]; 4] =
    [[-30.135, 45.105], [-30.125, 45.105], [-30.125, 45.115], [-30.135, 45.115]];
pub(super) const WEST: [[f64; 2]; 4] = [[-30.14, 45.10], [-30.13, 45.10], [-30.13, 45.12], [-30.14, 45.12]];
pub(super) const EAST: [[f64; 2]; 4] = [[-30.13, 45.10], [-30.12, 45.10], [-30.12, 45.12], [-30.13, 45.12]];
pub(super) const MIDDLE: [&str; 2] = ["45.11", "-30.13"];

/// A no-take zone, with members added or replaced.
#[expect(clippy::needless_pass_by_value, reason = "what is added is written where it is asked")]
pub(super) fn zone(id: &str, ring: [[f64; 2]; 4], more: Value) -> Value {
    let mut properties =
        json!({ "take": "none", "edges": "rhumb", "source": { "instrument": "Marrowick Order" } });
    for (key, value) in more.as_object().unwrap() {
        properties[key] = value.clone();
    }
    let geometry = json!({ "type": "Polygon", "coordinates": [ring] });
    json!({ "type": "Feature", "id": id, "geometry": geometry, "properties": properties })
}

pub(super) fn unknown_place(id: &str) -> Value {
    let properties = json!({ "take": "none", "geometry_unknown": { "reason": "plan missing" },
                             "source": { "instrument": "Marrowick Order" } });
    json!({ "type": "Feature", "id": id, "geometry": null, "properties": properties })
}

pub(super) fn over(zone: &str) -> Value {
    json!([{ "zone": zone, "clause": "clause 6" }])
}

pub(super) struct Asked {
    pub(super) folder: TempDir,
    files: usize,
}

/// Puts each list of zones into a file of its own.
pub(super) fn files(lists: &[&[Value]]) -> Asked {
    let folder = TempDir::new().unwrap();
    for (number, zones) in lists.iter().enumerate() {
        let file = json!({
            "type": "FeatureCollection",
            "takeline": { "format": "takeline.zones/1", "datum": "WGS 84", "time_zone": "UTC",
                          "taxa": [{ "id": "bass" }, { "id": "cod" }] },
            "features": zones,
        });
        fs::write(folder.path().join(format!("{number}.json")), file.to_string()).unwrap();
    }
    Asked { folder, files: lists.len() }
}

impl Asked {
    pub(super) fn run(&self, arguments: &[&str], input: &str) -> Outcome {
        let names: Vec<String> = (0..self.files).map(|number| format!("{number}.json")).collect();
        let mut all = vec!["here"];
        for name in &names {
            all.extend(["--zones", name]);
        }
        all.extend(arguments);
        takeline(self.folder.path(), &all, input)
    }

    /// The text of an answer and its document, at a place that is meant to the millimetre, however few digits it has here.
    pub(super) fn here(&self, place: [&str; 2], more: &[&str]) -> (Outcome, Value) {
        let place = place.map(to_the_millimetre);
        let place = [place[0].as_str(), &place[1]];
        let arguments = [&place, more].concat();
        let text = self.run(&[&arguments[..], &["--width", "200"]].concat(), "");
        let document = self.run(&[&arguments[..], &["--format", "json"]].concat(), "");
        assert_eq!(text.status, document.status);
        let read = serde_json::from_str(&document.out);
        (text, read.expect(&document.err))
    }
}

/// The same number with zeros at its end: what has few digits counts as rounded.
fn to_the_millimetre(degrees: &str) -> String {
    let (whole, decimals) = degrees.split_once('.').unwrap_or((degrees, ""));
    format!("{whole}.{decimals:0<8}")
}

/// The first three lines, where everybody looks.
pub(super) fn head(outcome: &Outcome) -> String {
    outcome.out.lines().take(3).collect::<Vec<_>>().join("\n")
}

pub(super) fn at_noon<'a>(more: &[&'a str]) -> Vec<&'a str> {
    [&NOON[..], more].concat()
}

#[test]
fn the_nearest_known_line_is_listed_beside_a_zone_whose_place_is_not_known() {
    let asked = files(&[&[zone("reserve", RESERVE, json!({})), unknown_place("plan")]]);
    let (outcome, document) = asked.here(["45.0995", "-30.13"], &NOON);
    assert_eq!(outcome.status, 3);
    let reserve = document["zones"].as_array().unwrap().iter().find(|zone| zone["id"] == "reserve").unwrap();
    let distance_m = reserve["signed_distance_m"].as_f64().unwrap();
    assert!((distance_m - 56.0).abs() < 0.5, "{distance_m}");
}

#[test]
fn a_rule_for_the_shore_displaces_nothing_for_a_boat() {
    let lane = json!({ "take": { "only": ["bass"] }, "binds": ["shore"], "overrides": over("reserve") });
    let asked = files(&[&[zone("reserve", RESERVE, json!({})), zone("lane", LANE, lane)]]);
    let (boat, _) = asked.here(MIDDLE, &NOON);
    assert_eq!(boat.status, 1, "{}", boat.out);
    assert!(head(&boat).starts_with("CLOSED WATER"), "{}", boat.out);
    let (shore, document) = asked.here(MIDDLE, &at_noon(&["--access", "shore"]));
    assert_eq!((shore.status, document["water"].as_str()), (1, Some("limited")));
}

#[test]
fn zones_that_displace_each_other_in_one_file_are_refused_by_name() {
    let one = zone("a", RESERVE, json!({ "overrides": over("b") }));
    let two = zone("b", LANE, json!({ "overrides": over("a") }));
    let outcome = files(&[&[one, two]]).run(&[&MIDDLE[..], &NOON].concat(), "");
    assert_eq!((outcome.status, outcome.out.as_str()), (3, ""));
    assert!(outcome.err.contains("in a circle: \"a\", \"b\", \"a\"; take out one of"), "{}", outcome.err);
}

#[test]
fn zones_that_displace_each_other_across_files_are_refused_by_name() {
    let one = zone("a", RESERVE, json!({ "overrides": over("b") }));
    let two = zone("b", LANE, json!({ "overrides": over("a") }));
    let outcome = files(&[&[one], &[two]]).run(&[&MIDDLE[..], &NOON].concat(), "");
    assert_eq!((outcome.status, outcome.out.as_str()), (3, ""));
    assert!(outcome.err.contains("a of 0.json; b of 1.json"), "{}", outcome.err);
}

#[test]
fn a_zone_that_is_displaced_displaces_nothing() {
    let nursery = zone("nursery", LANE, json!({}));
    let reserve = zone("reserve", LANE, json!({ "take": { "only": ["cod"] }, "overrides": over("nursery") }));
    let lane = zone("lane", LANE, json!({ "take": { "only": ["bass"] }, "overrides": over("reserve") }));
    let (outcome, document) = files(&[&[nursery, reserve, lane]]).here(MIDDLE, &NOON);
    assert_eq!((outcome.status, document["water"].as_str()), (1, Some("closed")), "{}", outcome.out);
}

#[test]
fn a_boat_perhaps_in_a_lane_that_displaces_a_reserve_is_undecided() {
    let lane = json!({ "take": { "only": ["bass"] }, "overrides": over("reserve") });
    let asked = files(&[&[zone("reserve", RESERVE, json!({})), zone("lane", LANE, lane)]]);
    let doubt = [
        "--time",
        "2026-07-01T10:00:00Z",
        "--accuracy-m",
        "10",
        "--accuracy-kind",
        "p95",
        "--species",
        "bass",
    ];
    let (outcome, document) = asked.here(["45.11", "-30.12504"], &doubt);
    assert_eq!((outcome.status, document["water"].as_str()), (3, Some("undecided")), "{}", outcome.out);
    assert_eq!(document["take"][0]["answer"], "undecided");
    let reserve = document["zones"].as_array().unwrap().iter().find(|zone| zone["id"] == "reserve").unwrap();
    assert_eq!(
        (reserve["binds"].as_str(), reserve["displaced_by"].as_array().map(Vec::len)),
        (Some("undecided"), Some(0))
    );
    assert_eq!(reserve["perhaps_displaced_by"], json!(["perhaps displaced here by lane (clause 6)"]));
}

#[test]
fn a_zone_that_restricts_nothing_is_no_restriction() {
    let asked = files(&[&[zone("lane", LANE, json!({ "take": "anything" }))]]);
    let (outcome, document) = asked.here(MIDDLE, &NOON);
    assert_eq!((outcome.status, document["water"].as_str()), (0, Some("no-loaded-zone")));
    assert!(
        head(&outcome).starts_with("No loaded rule restricts you here\nRestricts nothing: lane"),
        "{}",
        outcome.out
    );
    // it may still displace
    let opens = zone("lane", LANE, json!({ "take": "anything", "overrides": over("reserve") }));
    let (outcome, _) = files(&[&[zone("reserve", RESERVE, json!({})), opens]]).here(MIDDLE, &NOON);
    assert_eq!(outcome.status, 0, "{}", outcome.out);
    let anchoring = zone("lane", LANE, json!({ "take": "anything", "conditions": ["no anchoring"] }));
    assert_eq!(files(&[&[anchoring]]).here(MIDDLE, &NOON).0.status, 1);
}

/// A log that stays about the middle of the lane for ten minutes.
fn drift(folder: &std::path::Path) {
    let mut log = "time,lat,lon\n".to_owned();
    for second in (0..600).step_by(10) {
        let (minute, second) = (second / 60, second % 60);
        // a boat afloat never gives the same digits for long
        let lon = -30.13 + 1e-6 * f64::from(minute) + 1e-7 * f64::from(second);
        writeln!(log, "2026-07-01T10:{minute:02}:{second:02}Z,45.11,{lon:.8}").unwrap();
    }
    fs::write(folder.join("drift.csv"), log).unwrap();
}

#[test]
fn a_track_inside_a_zone_that_restricts_nothing_is_no_restriction() {
    let free = |more: Value| {
        let mut lane = zone("lane", LANE, more);
        lane["properties"]["take"] = json!("anything");
        lane
    };
    let track = |zones: &[Value], more: &[&str]| {
        let asked = files(&[zones]);
        drift(asked.folder.path());
        takeline(asked.folder.path(), &[&["track", "drift.csv", "--zones", "0.json"], more].concat(), "")
    };
    let alone = track(&[free(json!({}))], &[]);
    assert_eq!(
        (alone.status, head(&alone).contains("Its rule restricts nothing")),
        (0, true),
        "{}",
        alone.out
    );
    let over = [free(json!({ "overrides": over("reserve") })), zone("reserve", RESERVE, json!({}))];
    let in_lane = track(&over, &[]);
    assert_eq!(in_lane.status, 0, "{}", in_lane.out);
    let document: Value = serde_json::from_str(&track(&over, &["--format", "json"]).out).unwrap();
    let told: Vec<_> =
        document["visits"].as_array().unwrap().iter().map(|visit| &visit["restricts_nothing"]).collect();
    assert!(told.contains(&&json!(true)) && told.contains(&&json!(false)), "{told:?}");
    // a condition of passing is a restriction
    let asked = free(json!({ "passage": { "allowed": true, "continuous": true } }));
    assert_ne!(track(&[asked], &[]).status, 0);
}

#[test]
fn a_limit_that_perhaps_holds_is_told_as_the_stricter_of_both() {
    let always = json!({ "size": { "min_cm": 20 }, "bag": { "count": 10, "per": "person-day" } });
    let perhaps = json!({ "when": { "unknowable": "when the wardens say so" }, "size": { "min_cm": 40 },
                          "bag": { "count": 2, "per": "person-day" } });
    let reserve = json!({ "take": { "only": ["cod"] }, "limits": [always, perhaps] });
    let asked = files(&[&[zone("reserve", RESERVE, reserve)]]);
    let (outcome, document) = asked.here(MIDDLE, &at_noon(&["--species", "cod"]));
    assert!(head(&outcome).contains("KEEP cod of 40 cm or more, up to 2"), "{}", outcome.out);
    let limits = &document["take"][0]["limits"];
    assert_eq!(
        (limits["sizes"][0]["min_cm"].as_f64(), limits["bags"][0]["count"].as_u64()),
        (Some(40.0), Some(2))
    );
    let (short, document) = asked.here(MIDDLE, &at_noon(&["--species", "cod", "--length-cm", "30"]));
    assert_eq!((short.status, document["take"][0]["answer"].as_str()), (3, Some("undecided")));
}

#[test]
fn a_size_of_one_zone_that_perhaps_contradicts_another_is_undecided() {
    let small = json!({ "take": { "only": ["cod"] }, "limits": [{ "size": { "max_cm": 30 } }] });
    let large = json!({ "take": { "only": ["cod"] },
                        "limits": [{ "when": { "unknowable": "when the wardens say so" }, "size": { "min_cm": 40 } }] });
    let asked = files(&[&[zone("a", RESERVE, small), zone("b", LANE, large)]]);
    let (outcome, document) = asked.here(MIDDLE, &at_noon(&["--species", "cod"]));
    assert_eq!(
        (outcome.status, document["take"][0]["answer"].as_str()),
        (3, Some("undecided")),
        "{}",
        outcome.out
    );
}

#[test]
fn bait_that_one_zone_demands_and_another_forbids_is_named() {
    let demands = json!({ "take": { "only": ["cod"] }, "bait": { "only": ["lures"] } });
    let forbids = json!({ "take": { "only": ["cod"] }, "bait": { "not": ["lure"] } });
    let asked = files(&[&[zone("a", RESERVE, demands), zone("b", LANE, forbids)]]);
    let (outcome, document) = asked.here(MIDDLE, &at_noon(&["--species", "cod"]));
    assert!(head(&outcome).contains("RELEASE cod caught here: no bait suits all zones"), "{}", outcome.out);
    assert_eq!(document["take"][0]["answer"], "release");
}

#[test]
fn lists_of_bait_that_share_no_word_leave_no_bait_to_keep_a_fish_with() {
    let lures = || json!({ "take": { "only": ["cod"] }, "bait": { "only": ["lures"] } });
    let worms = json!({ "take": { "only": ["cod"] }, "bait": { "only": ["worm", "crab"] } });
    let asked = files(&[&[zone("alder", RESERVE, lures()), zone("birch", LANE, worms)]]);
    let (outcome, document) = asked.here(MIDDLE, &at_noon(&["--species", "cod"]));
    assert_eq!((outcome.status, document["take"][0]["answer"].as_str()), (3, Some("undecided")));
    let because = document["take"][0]["because"].to_string();
    assert!(because.contains("no bait is named by both alder and birch"), "{because}");
    // one bait that both name is enough
    let either = json!({ "take": { "only": ["cod"] }, "bait": { "only": ["worm", "lure"] } });
    let asked = files(&[&[zone("alder", RESERVE, lures()), zone("birch", LANE, either)]]);
    let (_, document) = asked.here(MIDDLE, &at_noon(&["--species", "cod"]));
    assert_eq!(document["take"][0]["answer"], "keep");
}

#[test]
fn a_border_is_closed_where_the_edges_of_both_zones_are_not_stated_too() {
    let closed = || {
        [zone("west", WEST, json!({ "edges": null })), zone("east", EAST, json!({ "edges": null }))].map(
            |mut zone| {
                zone["properties"].as_object_mut().unwrap().remove("edges");
                zone
            },
        )
    };
    let asked = files(&[&closed()]);
    for longitude in ["-30.13", "-30.129995", "-30.13005"] {
        let (outcome, document) = asked.here(["45.11", longitude], &["--time", "2026-07-01T10:00:00Z"]);
        assert_eq!(
            (outcome.status, document["water"].as_str()),
            (1, Some("closed")),
            "{longitude}: {}",
            outcome.out
        );
    }
}

#[test]
fn on_the_border_of_two_closed_zones_it_is_closed_whichever_it_is_in() {
    let closed = || [zone("west", WEST, json!({})), zone("east", EAST, json!({}))];
    let doubt = ["--time", "2026-07-01T10:00:00Z", "--species", "cod"];
    let (outcome, document) = files(&[&closed()]).here(MIDDLE, &doubt);
    assert_eq!((outcome.status, document["water"].as_str()), (1, Some("closed")), "{}", outcome.out);
    assert_eq!(document["take"][0]["answer"], "release");
    // no one of the two surely refuses it
    assert_eq!(document["take"][0]["refused_by"], json!([]));
    assert_eq!(document["take"][0]["refused_by_one_of"], json!(["west", "east"]));
    assert_eq!(document["settling_move"], Value::Null);
    // at the end of the border the open sea is as near
    let (outcome, _) = files(&[&closed()]).here(["45.12", "-30.13"], &doubt);
    assert_eq!(outcome.status, 3, "{}", outcome.out);
}

/// A third zone over one of them, of which nobody knows whether it is in force, is not what closes the water: the first lines
/// named it.
#[test]
fn on_a_border_the_zones_that_close_the_water_are_named_and_no_other() {
    let over = [[-30.16, 45.08], [-30.130_03, 45.08], [-30.130_03, 45.14], [-30.16, 45.14]];
    let perhaps = json!({ "when": { "unknowable": "when the warden says so" } });
    let zones = [zone("west", WEST, json!({})), zone("east", EAST, json!({})), zone("over", over, perhaps)];
    let asked = files(&[&zones]);
    let doubt = ["--time", "2026-07-01T10:00:00Z", "--accuracy-m", "5", "--accuracy-kind", "p95"];
    let place = ["45.11", "-30.130055"];
    let (outcome, document) = asked.here(place, &doubt);
    assert_eq!((outcome.status, document["water"].as_str()), (1, Some("closed")), "{}", outcome.out);
    let mut closing: Vec<&str> =
        document["closed_by_one_of"].as_array().unwrap().iter().filter_map(Value::as_str).collect();
    closing.sort_unstable();
    assert_eq!(closing, ["east", "west"], "{}", outcome.out);
    let second = outcome.out.lines().nth(1).unwrap();
    assert!(second.starts_with("In one or the other: ") && !second.contains("over"), "{}", outcome.out);
}

#[test]
fn on_the_border_of_a_closed_zone_and_a_limited_one_or_a_gap_it_is_undecided() {
    let doubt = ["--time", "2026-07-01T10:00:00Z"];
    let limited = [zone("west", WEST, json!({})), zone("east", EAST, json!({ "take": { "only": ["cod"] } }))];
    assert_eq!(files(&[&limited]).here(MIDDLE, &doubt).0.status, 3);
    // 0.00001° of longitude: 79 cm of open water between the two
    let apart = EAST.map(|[lon, lat]| [if lon < -30.125 { lon + 0.000_01 } else { lon }, lat]);
    let with_gap = [zone("west", WEST, json!({})), zone("east", apart, json!({}))];
    assert_eq!(files(&[&with_gap]).here(MIDDLE, &doubt).0.status, 3);
    let seasonal = json!({ "when": { "unknowable": "when the wardens say so" } });
    let perhaps = [zone("west", WEST, json!({})), zone("east", EAST, seasonal)];
    assert_eq!(files(&[&perhaps]).here(MIDDLE, &doubt).0.status, 3);
}

#[test]
fn a_gear_that_no_file_knows_is_asked_back_and_never_a_ban() {
    let line_only = json!({ "take": { "only": ["bass"] }, "gear": { "only": ["hook and line"] } });
    let asked = files(&[&[
        zone("a", RESERVE, line_only),
        zone("b", EAST, json!({ "take": "anything", "gear": { "not": ["gill net"] } })),
    ]]);
    let with = |gear| {
        let (outcome, document) =
            asked.here(["45.11", "-30.135"], &at_noon(&["--species", "bass", "--gear", gear]));
        (outcome.status, document["take"][0]["answer"].as_str().unwrap().to_owned(), head(&outcome))
    };
    for unknown in ["rod", "rod and line", "pole"] {
        let (status, answer, head) = with(unknown);
        assert_eq!((status, answer.as_str()), (3, "undecided"), "{head}");
        assert!(head.contains("name your gear: hook and line"), "{head}");
    }
    assert_eq!(with("Hook and lines").1, "keep");
    // known to another zone, and not on this one's list
    assert_eq!(with("gill net").1, "release");
}

#[test]
fn the_zone_that_refuses_a_fish_is_the_one_that_is_named() {
    let sized =
        |min_cm: u32| json!({ "take": { "only": ["bass"] }, "limits": [{ "size": { "min_cm": min_cm } }] });
    let asked = files(&[&[zone("a", RESERVE, sized(42)), zone("b", LANE, sized(36))]]);
    let (outcome, document) = asked.here(MIDDLE, &at_noon(&["--species", "bass", "--length-cm", "40"]));
    assert_eq!(document["take"][0]["refused_by"], json!(["a"]));
    let narrow =
        asked.run(&[&MIDDLE[..], &at_noon(&["--species", "bass", "--length-cm", "40"])].concat(), "");
    let first: Vec<&str> = narrow.out.lines().take(2).collect();
    assert!(first[0].ends_with(" in a") && first[1].contains("under 42 cm"), "{}", outcome.out);
}

#[test]
fn an_override_reaches_a_zone_of_another_file() {
    let lane = zone("lane", LANE, json!({ "take": { "only": ["bass"] }, "overrides": over("reserve") }));
    let asked = files(&[&[zone("reserve", RESERVE, json!({}))], &[lane]]);
    let (outcome, document) = asked.here(MIDDLE, &at_noon(&["--species", "bass"]));
    assert_eq!(
        (outcome.status, document["take"][0]["answer"].as_str()),
        (1, Some("keep")),
        "{}",
        outcome.out
    );
}

#[test]
fn an_edition_that_ends_in_its_closed_season_is_not_said_to_begin_again_that_day() {
    let spring = json!({ "effective": { "last_day": "2026-08-31" }, "when": { "yearly": { "from": "05-01", "to": "06-30" } } });
    let asked = files(&[&[zone("reserve", RESERVE, spring)]]);
    let because = |time| {
        let (_, document) = asked.here(MIDDLE, &["--time", time]);
        document["zones"][0]["in_force_because"].to_string()
    };
    let in_its_last_summer = because("2026-07-02T10:00:00Z");
    assert!(
        in_its_last_summer.contains("not in force again before this edition ends, 31 August 2026"),
        "{in_its_last_summer}"
    );
    let afterwards = because("2026-09-02T10:00:00Z");
    assert!(
        afterwards.contains("this edition counted until") && !afterwards.contains("not in force until"),
        "{afterwards}"
    );
}

#[test]
fn an_accuracy_of_0_counts_as_not_given_and_is_told() {
    let asked = files(&[&[zone("reserve", RESERVE, json!({}))]]);
    let (outcome, document) = asked.here(["45.09996", "-30.13"], &["--accuracy-m", "0"]);
    assert_eq!(outcome.status, 3, "{}", outcome.out);
    assert_eq!(
        (
            document["position"]["uncertainty_95_m"].as_f64(),
            document["position"]["uncertainty_source"].as_str()
        ),
        (Some(10.0), Some("assumed"))
    );
    assert!(document["warnings"].to_string().contains("0 m"), "{document}");
    let rows = asked.run(&["--fixes", "-"], "lat,lon,accuracy_m\n45.09996,-30.13,0\n");
    assert_eq!(rows.status, 3, "{}", rows.err);
}

#[test]
fn an_accuracy_beyond_1000_km_is_refused() {
    let asked = files(&[&[zone("reserve", RESERVE, json!({}))]]);
    let outcome = asked.run(&["45.11", "-30.13", "--accuracy-m", "1e12"], "");
    assert_eq!(outcome.status, 2);
    assert!(outcome.err.contains("at most 1000 km"), "{}", outcome.err);
}

#[test]
fn a_place_that_a_slip_puts_far_from_everything_ends_in_3_with_the_likely_reading() {
    let asked = files(&[&[zone("reserve", RESERVE, json!({}))]]);
    for (place, slip) in [
        (["45.11", "30.13"], "longitude-sign"),
        (["-45.11", "-30.13"], "latitude-sign"),
        (["-45.11", "30.13"], "both-signs"),
        (["-30.13", "45.11"], "exchanged"),
        (["30.13", "45.11"], "exchanged-and-sign"),
    ] {
        let (outcome, document) = asked.here(place, &at_noon(&["--species", "cod"]));
        assert_eq!(outcome.status, 3, "{}", outcome.out);
        assert!(head(&outcome).contains("did you mean 45.1100 -30.1300?"), "{}", outcome.out);
        assert_eq!(document["likely_misreading"]["slip"], slip);
        assert_eq!(
            (document["water"].as_str(), document["take"][0]["answer"].as_str()),
            (Some("undecided"), Some("undecided"))
        );
        let row = format!("lat,lon\n{},{}\n", place[0], place[1]);
        assert_eq!(asked.run(&["--fixes", "-"], &row).status, 3);
    }
}

/// Few digits were to be settled first, though no digits settle a place that was not meant.
#[test]
fn how_a_place_was_likely_meant_comes_before_the_digits_that_it_lacks() {
    let asked = files(&[&[zone("reserve", RESERVE, json!({}))]]);
    for (place, said) in [(["45.11", "30.13"], "did you mean"), (["0", "0"], "wait for a fix")] {
        let outcome =
            asked.run(&[place[0], place[1], "--time", "2026-07-01T10:00:00Z", "--width", "200"], "");
        assert_eq!(outcome.status, 3, "{}", outcome.out);
        let second = outcome.out.lines().nth(1).unwrap();
        assert!(second.contains(said) && !second.contains("digits"), "{}", outcome.out);
        assert!(outcome.out.contains("digits"), "the warning stays: {}", outcome.out);
    }
}

#[test]
fn a_zone_file_that_was_written_longitude_first_ends_in_3() {
    let exchanged = RESERVE.map(|[lon, lat]| [lat, lon]);
    let (outcome, document) = files(&[&[zone("reserve", exchanged, json!({}))]]).here(MIDDLE, &NOON);
    assert_eq!((outcome.status, document["likely_misreading"]["slip"].as_str()), (3, Some("exchanged")));
}

#[test]
fn a_place_that_is_honestly_far_is_answered_as_far() {
    let asked = files(&[&[zone("reserve", RESERVE, json!({}))]]);
    for place in [["47", "-30.13"], ["52", "-20"]] {
        let (outcome, document) = asked.here(place, &NOON);
        assert_eq!((outcome.status, &document["likely_misreading"]), (0, &Value::Null));
        assert!(head(&outcome).contains(" km "), "{}", outcome.out);
    }
}

#[test]
fn nobody_is_sent_through_one_zone_to_be_clear_of_another() {
    // 1 m inside the reserve; 16 m to the west begins a strip 16 m wide, and beyond it there is open water
    let strip = [[-30.1404, 45.09], [-30.1402, 45.09], [-30.1402, 45.13], [-30.1404, 45.13]];
    let doubt = ["--time", "2026-07-01T10:00:00Z", "--accuracy-m", "9", "--accuracy-kind", "p95"];
    let place = ["45.11", "-30.139987"];
    let asked = files(&[&[zone("reserve", RESERVE, json!({})), zone("strip", strip, json!({}))]]);
    let (outcome, document) = asked.here(place, &doubt);
    assert_eq!(outcome.status, 3);
    assert_eq!(document["settling_move"], Value::Null, "{document}");
    // without the strip there is a way
    let (_, document) = files(&[&[zone("reserve", RESERVE, json!({}))]]).here(place, &doubt);
    assert_eq!(document["settling_move"]["water_there"], "no-loaded-zone");
}

#[test]
fn a_stand_off_does_not_count_rules_that_do_not_bind() {
    let lane = json!({ "take": { "only": ["bass"] }, "overrides": over("reserve") });
    let asked = files(&[&[zone("reserve", RESERVE, json!({})), zone("lane", LANE, lane)]]);
    let for_the_shore = files(&[&[zone("reserve", RESERVE, json!({ "binds": ["shore"] }))]]);
    let kept = |asked: &Asked, place| {
        let (_, document) = asked.here(place, &at_noon(&["--standoff-m", "100"]));
        document["standoff"]["kept"].as_str().unwrap().to_owned()
    };
    assert_eq!(kept(&for_the_shore, ["45.0999", "-30.13"]), "yes");
    assert_eq!(kept(&files(&[&[zone("reserve", RESERVE, json!({}))]]), ["45.0999", "-30.13"]), "no");
    // in the lane the reserve is displaced, and the lane itself is no distance away
    assert_eq!(kept(&asked, MIDDLE), "no");
}

#[test]
fn a_stand_off_counts_a_rule_that_is_displaced_here_and_binds_within_it() {
    let lane = json!({ "take": "anything", "overrides": over("reserve") });
    let asked = files(&[&[zone("reserve", RESERVE, json!({})), zone("lane", LANE, lane)]]);
    let kept = |place, standoff_m| {
        let (_, document) = asked.here(place, &at_noon(&["--standoff-m", standoff_m]));
        document["standoff"]["kept"].as_str().unwrap().to_owned()
    };
    // 39 m east of the western edge of the lane, beyond which the reserve binds
    let west = ["45.11", "-30.1345"];
    assert_eq!((kept(west, "30").as_str(), kept(west, "100").as_str()), ("yes", "undecided"));
    assert_eq!(kept(MIDDLE, "100"), "yes");
}

#[test]
fn a_date_from_the_last_count_of_weeks_leaves_what_is_in_force_undecided() {
    // 1024 weeks after November 2006 it was June 2026, when the reserve is closed
    let summer = json!({ "when": { "yearly": { "from": "05-01", "to": "08-31", "ends": "included" } } });
    let asked = files(&[&[zone("reserve", RESERVE, summer)]]);
    let at = |time| ["--time", time];
    let (outcome, document) = asked.here(MIDDLE, &at("2006-11-01T10:00:00Z"));
    assert_eq!((outcome.status, document["water"].as_str()), (3, Some("undecided")), "{}", outcome.out);
    assert!(document["warnings"].to_string().contains("1024 weeks"), "{document}");
    assert_eq!(asked.here(MIDDLE, &at("2026-11-01T10:00:00Z")).0.status, 0);
    let row = format!("lat,lon,time\n{},{},2006-11-01T10:00:00Z\n", MIDDLE[0], MIDDLE[1]);
    assert_eq!(asked.run(&["--fixes", "-"], &row).status, 3);
}
