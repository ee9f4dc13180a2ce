//! `transit find`: the planted pair of 500, and what is asked wrongly.

use std::fmt::Write as _;
use std::fs;
use std::time::Instant;

use tempfile::TempDir;

use super::{LANDMARKS, MORNING, ZONES, demo, near, root, takeline};

const BEACH: &str = "45.1170 -30.1190";

/// Numbers from 0 to 1 (splitmix64).
struct Draws(u64);

impl Draws {
    fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        let share = f64::from(u32::try_from((mixed ^ (mixed >> 31)) >> 32).unwrap()) / f64::from(u32::MAX);
        low + (high - low) * share
    }
}

/// A file of 500 landmarks.
///
/// 498 stand anywhere within 6 km, can move and were never confirmed, so the visibility of any pair with one of them, and
/// with it the rank, is 0.7 · 0.8 = 0.56 at most. The planted two show a line 20 m north of the north side of Sallow Cove
/// Reserve (45.124° N, 30.131° to 30.150° W): 4000 m apart, 1600 m and 5600 m east of where it meets the coast. At the far end, 3096 m
/// off, the eye sees 8.0 m (5′ · D(D+S)/S) and the marks put it off by 1.9 m, so the rank is
/// 1/(1 + 20/250) · 1/(1 + 8.0/20) · 1/(1 + 1.9/50) · 1 · 1 = 0.64.
fn landmarks() -> String {
    let mut draws = Draws(20_260_705);
    let mut features = Vec::new();
    for number in 0..498 {
        let (north_m, east_m) = (draws.between(-6_000.0, 6_000.0), draws.between(-6_000.0, 6_000.0));
        let (latitude, longitude) = (45.12 + north_m / 111_130.0, -30.12 + east_m / 78_700.0);
        let (height_m, error_m) = (draws.between(3.0, 60.0), draws.between(1.0, 20.0));
        features.push(format!(
            r#"{{ "type": "Feature", "id": "m{number}",
                 "geometry": {{ "type": "Point", "coordinates": [{longitude:.7}, {latitude:.7}] }},
                 "properties": {{ "name": "Mark {number}", "height_m": {height_m:.1}, "position_error_m": {error_m:.1},
                                 "fixed": false }} }}"#
        ));
    }
    for (place, id, longitude, height_m) in
        [(120, "planted-front", -30.110_65, 4), (380, "planted-rear", -30.059_9, 60)]
    {
        let mut feature = String::new();
        write!(
            feature,
            r#"{{ "type": "Feature", "id": "{id}",
                 "geometry": {{ "type": "Point", "coordinates": [{longitude}, 45.12418] }},
                 "properties": {{ "name": "{id}", "height_m": {height_m}, "position_error_m": 1, "fixed": true,
                                 "last_confirmed": "2026-03-01" }} }}"#
        )
        .unwrap();
        features.insert(place, feature);
    }
    format!(
        r#"{{ "type": "FeatureCollection",
             "takeline": {{ "format": "takeline.landmarks/1", "title": "Invented", "edition": "1", "datum": "WGS 84" }},
             "features": [{}] }}"#,
        features.join(",\n")
    )
}

#[test]
fn the_planted_pair_of_500_comes_first() {
    let folder = TempDir::new().unwrap();
    let file = folder.path().join("landmarks.geojson");
    fs::write(&file, landmarks()).unwrap();
    let arguments = [
        &["transit", "find", "--landmarks", file.to_str().unwrap(), "--zones", ZONES][..],
        &["--zone", "sallow-cove", "--launch", BEACH, "--time", MORNING, "--format", "json"],
    ]
    .concat();
    let start = Instant::now();
    let outcome = takeline(&root(), &arguments, "");
    println!("500 landmarks, demo zones, whole process, not a release build: {:?}", start.elapsed());
    let document = outcome.json();
    let sides = document["sides"].as_array().unwrap();
    let north = sides.iter().find(|side| side["name"] == "north side").unwrap();
    let best = &north["pairs"][0];
    assert_eq!(
        (best["front"]["id"].as_str(), best["rear"]["id"].as_str()),
        (Some("planted-front"), Some("planted-rear"))
    );
    assert_eq!((best["rank"].as_i64(), best["clears"].as_str()), (Some(1), Some("yes")));
    assert_eq!(north["clears"], "yes");
    // it looks east and the reserve lies to the south
    assert_eq!(best["rear_shows_inside"], "right");
    near(&best["bearing_true_deg"], 90.0, 0.1);
    near(&best["separation_m"], 3_993.0, 10.0);
    assert!(best["score"]["whole"].as_f64().unwrap() > 0.56, "{}", best["score"]);
    let second = &north["pairs"][1];
    assert!(second.is_null() || second["score"]["whole"].as_f64().unwrap() <= 0.56, "{second}");
    assert_eq!(takeline(&root(), &arguments, "").out, outcome.out, "the same twice");
}

#[test]
fn the_document_has_its_keys() {
    let asked = ["--zone", "sallow-cove", "--launch", BEACH, "--format", "json", "--at-most", "1"];
    let document = demo("find", &asked).json();
    assert_eq!(document["schema"], "takeline.transit-find/1");
    assert_eq!(document["zone"]["id"], "sallow-cove");
    near(&document["launch"]["latitude_deg"], 45.117, 1e-9);
    assert_eq!(document["range_m"], 3000.0);
    assert_eq!(document["reach_m"], serde_json::json!([100.0, 5000.0]));
    assert_eq!(document["day"], "2026-07-05");
    let sides = document["sides"].as_array().unwrap();
    assert!(!sides.is_empty());
    for side in sides {
        assert!(side["length_m"].as_f64().unwrap() > 0.0);
        let pairs = side["pairs"].as_array().unwrap();
        assert!(pairs.len() <= 1, "no more than were asked for");
        for pair in pairs {
            for key in ["bearing_true_deg", "separation_m", "margin_m", "line_uncertainty_95_m", "covers"] {
                assert!(pair[key].is_number(), "{key}: {pair}");
            }
            assert!(!pair["because"].as_array().unwrap().is_empty());
        }
    }
    let unserved = sides.iter().any(|side| side["clears"] != "yes");
    assert_eq!(document["exit_status"], if unserved { 3 } else { 0 });
    let nearest = demo("find", &["--launch", BEACH, "--format", "json"]).json();
    assert_eq!(nearest["zone"]["id"], "sallow-cove", "the one nearest to the launch, unasked");
}

#[test]
fn a_screen_is_told_first_what_is_best_and_what_is_missing() {
    let outcome = demo("find", &["--zone", "sallow-cove", "--launch", BEACH]);
    assert_eq!((outcome.status, outcome.err.as_str()), (0, ""));
    let head: Vec<&str> = outcome.out.lines().take(3).collect();
    assert!(
        head[0] == "BEST: Holm Cairn over Holm Barn"
            && head[1].starts_with("West side: 180° true, ")
            && head[2] == "All 3 sides in range have a pair",
        "{head:?}"
    );
    assert!(outcome.out.lines().all(|line| line.chars().count() <= 40), "{}", outcome.out);
}

#[test]
fn what_nobody_can_tell_is_undecided_and_no_wrong_call() {
    let open = |arguments: &[&str], reasons: &[&str]| {
        let outcome = demo("find", arguments);
        assert_eq!((outcome.status, outcome.out.as_str()), (3, ""), "{arguments:?}: {}", outcome.err);
        for reason in reasons {
            assert!(outcome.err.contains(reason), "no “{reason}” in: {}", outcome.err);
        }
    };
    let out_of_range = ["Sallow Cove Reserve", "within 10 m", "that a boat can cross", "1229 m away"];
    open(&["--launch", BEACH, "--range-m", "10"], &out_of_range);
    open(&["--launch", "45.1875 -30.0600", "--zone", "kelp-garden"], &["Kelp Garden", "see plan 4"]);
}

#[test]
fn what_is_asked_wrongly_is_told() {
    let refused = |arguments: &[&str], reasons: &[&str]| {
        let outcome = demo("find", arguments);
        assert_eq!((outcome.status, outcome.out.as_str()), (2, ""), "{arguments:?}: {}", outcome.err);
        for reason in reasons {
            assert!(outcome.err.contains(reason), "no “{reason}” in: {}", outcome.err);
        }
    };
    let cove = |more: &[&str], reasons: &[&str]| refused(&[&["--launch", BEACH][..], more].concat(), reasons);
    cove(&["--zone", "salow-cove"], &["--zone", "“salow-cove”", "sallow-cove, ", "board-roads"]);
    cove(&["--zone", ""], &["--zone"]);
    cove(&["--range-m", "-10"], &["--range-m", "above zero"]);
    cove(&["--near-m", "200", "--far-m", "100"], &["from 200 m to 100 m"]);
    cove(&["--at-most", "0"], &["--at-most"]);
    cove(&["--eye-height-m", "1000"], &["--eye-height-m", "0 to 100"]);
    refused(&["--launch", "the cove"], &["--launch", "“the”"]);
    refused(&["--launch", "-30.1190 45.1170"], &["--launch", "may be swapped", "Sallow Cove Reserve"]);
    refused(&[], &["--launch"]);
    let missing = ["transit", "find", "--landmarks", "missing.json", "--zones", ZONES, "--launch", BEACH];
    let outcome = takeline(&root(), &missing, "");
    assert_eq!((outcome.status, outcome.out.as_str()), (3, ""));
    assert!(outcome.err.contains("missing.json cannot be read"), "{}", outcome.err);
    let none = ["transit", "find", "--landmarks", LANDMARKS, "--launch", BEACH];
    let outcome = takeline(&root(), &none, "");
    assert_eq!(outcome.status, 3);
    assert!(outcome.err.contains("no zones are given"), "{}", outcome.err);
}

#[test]
fn one_landmark_makes_no_pair() {
    let folder = TempDir::new().unwrap();
    let one = r#"{ "type": "FeatureCollection",
        "takeline": { "format": "takeline.landmarks/1", "title": "One", "edition": "1", "datum": "WGS 84" },
        "features": [ { "type": "Feature", "id": "mast", "geometry": { "type": "Point", "coordinates": [-30.113, 45.1065] },
                        "properties": { "name": "Mast" } } ] }"#;
    let file = folder.path().join("one.geojson");
    fs::write(&file, one).unwrap();
    let arguments = [
        "transit",
        "find",
        "--landmarks",
        file.to_str().unwrap(),
        "--zones",
        ZONES,
        "--launch",
        BEACH,
        "--time",
        MORNING,
    ];
    let outcome = takeline(&root(), &arguments, "");
    assert!(matches!(outcome.status, 2 | 3), "{}: {}{}", outcome.status, outcome.out, outcome.err);
}

#[test]
fn an_id_that_two_files_share_is_asked_back() {
    let copy = TempDir::new().unwrap();
    let file = fs::read_to_string(root().join("demo-data/zones/marrowick.json")).unwrap();
    // another edition is another file; the same bytes would count once
    fs::write(copy.path().join("older.json"), file.replacen("2026, second", "2025, first", 1)).unwrap();
    let older = copy.path().to_str().unwrap();
    let outcome = demo("find", &["--launch", BEACH, "--zone", "sallow-cove", "--zones", older]);
    assert_eq!((outcome.status, outcome.out.as_str()), (2, ""), "{}", outcome.err);
    assert!(
        outcome.err.contains("marrowick.json and ") && outcome.err.contains("older.json"),
        "{}",
        outcome.err
    );
}
