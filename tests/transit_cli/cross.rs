//! `transit cross`: known places near Marrowick found again from what one sees of marks there.
//!
//! The marks were put where geographiclib 2.1 for Python has them from the known place (`Direct`), to 1e-8 degrees, which
//! is a millimetre; positions hold within 1 m, a hundredth of the smallest doubt.

use serde_json::Value;

use super::{LANDMARKS, MORNING, Outcome, ZONES, demo, near, root, takeline};

/// Marks 1000 m from 45.1350 N 30.1450 W, on 40°, 130° and 48° true.
const AT_040: &str = "45.14189266 -30.13682745; 40 true";
const AT_130: &str = "45.12921571 -30.13526249; 130 true";
/// Marks 1000 m from 45.1270 N 30.1450 W, 333 m north of Sallow Cove Reserve.
const NEAR_040: &str = "45.13389267 -30.13682859; 40 true";
const NEAR_048: &str = "45.13302053 -30.13555295; 48 true";

/// Crosses bearings of marks that are known exactly.
#[track_caller]
fn bearings(bearings: &[&str], more: &[&str]) -> Outcome {
    let bearings: Vec<&str> = bearings.iter().flat_map(|bearing| ["--bearing", bearing]).collect();
    demo("cross", &[&bearings[..], &["--mark-error-m", "0"], more].concat())
}

#[track_caller]
fn is_at(position: &Value, latitude_deg: f64, longitude_deg: f64, within_m: f64) {
    near(&position["latitude_deg"], latitude_deg, within_m / 111_130.0);
    near(&position["longitude_deg"], longitude_deg, within_m / 78_700.0);
}

#[test]
fn two_bearings_at_right_angles_give_the_place_they_were_taken() {
    let outcome = bearings(&[AT_040, AT_130], &["--bearing-error-deg", "3", "--format", "json"]);
    let document = outcome.json();
    assert_eq!((outcome.status, outcome.err.as_str()), (0, ""));
    assert_eq!(document["schema"], "takeline.transit-cross/1");
    is_at(&document["position"], 45.1350, -30.1450, 1.0);
    near(&document["angle_of_cut_deg"], 90.0, 0.1);
    // two bearings at 1 km, ±3°, 90° apart: 74 m (trade.md section 5, within the 1 % of the issue)
    near(&document["drms_m"], 74.0, 0.74);
    // 2.4477 times 52.4 m, the 95 % ellipse of two equal and independent errors (χ² with two degrees of freedom, 5.991)
    near(&document["ellipse"]["semi_major_m"], 128.3, 2.0);
    near(&document["ellipse"]["semi_minor_m"], 128.3, 2.0);
    assert_eq!(document["agree"], true);
    assert_eq!(document["others"].as_array().unwrap().len(), 0);
    let lines = document["lines"].as_array().unwrap();
    assert_eq!(lines.len(), 2);
    assert_eq!(
        (lines[0]["kind"].as_str(), lines[0]["bearing_true_deg"].as_f64()),
        (Some("bearing"), Some(40.0))
    );
    let here = document["here"].as_array().unwrap();
    assert_eq!(here.len(), 1);
    assert_eq!(here[0]["schema"], "takeline.here/1");
    assert_eq!(
        (here[0]["water"].as_str(), here[0]["exit_status"].as_i64()),
        (Some("no-loaded-zone"), Some(0))
    );
    near(&here[0]["position"]["uncertainty_95_m"], document["radius_95_m"].as_f64().unwrap(), 1e-9);
}

/// `here` at the same place with the same doubt has to answer the same about every fish.
#[test]
fn fish_are_answered_as_here_does() {
    let fish = ["--species", "sprat", "--species", "cod", "--species", "sprta"];
    for (taken, status) in [([AT_040, AT_130], 0), ([NEAR_040, NEAR_048], 3)] {
        let document = bearings(&taken, &[&fish[..], &["--format", "json"]].concat()).json();
        let number = |value: &Value| value.as_f64().unwrap().to_string();
        let position = &document["position"];
        let place = format!("{}, {}", number(&position["latitude_deg"]), number(&position["longitude_deg"]));
        let radius = number(&document["radius_95_m"]);
        let asked = [
            &["here", &place, "--accuracy-m", &radius, "--accuracy-kind", "p95", "--zones", ZONES][..],
            &["--time", MORNING, "--format", "json"],
            &fish,
        ];
        let here: Value = serde_json::from_str(&takeline(&root(), &asked.concat(), "").out).unwrap();
        // a way to where a fish may be kept is told by `here` alone
        let mut take = here["take"].clone();
        for fish in take.as_array_mut().unwrap() {
            fish["way_to_keep"] = Value::Null;
        }
        assert_eq!(document["here"][0]["take"], take);
        assert_eq!(document["here"][0]["water"], here["water"]);
        let ids = |answer: &Value| -> Vec<Value> {
            answer["zones"].as_array().unwrap().iter().map(|zone| zone["id"].clone()).collect()
        };
        assert_eq!(ids(&document["here"][0]), ids(&here));
        assert_eq!(here["take"].as_array().unwrap().len(), 3);
        assert!(document["exit_status"].as_i64().unwrap() >= status, "{}", document["exit_status"]);
    }
}

/// trade.md, case 49: two bearings 8° apart are an ellipse hundreds of metres long, which no zone line decides.
#[test]
fn two_bearings_8_degrees_apart_near_a_line_cannot_tell() {
    let outcome = bearings(&[NEAR_040, NEAR_048], &["--bearing-error-deg", "3", "--format", "json"]);
    let document = outcome.json();
    assert_eq!(outcome.status, 3);
    near(&document["angle_of_cut_deg"], 8.0, 0.1);
    assert!(document["ellipse"]["semi_major_m"].as_f64().unwrap() > 500.0, "{}", document["ellipse"]);
    assert!(super::codes(&document).contains(&"cut-too-shallow"));
    assert_eq!(document["here"][0]["water"], "undecided");
    let human = bearings(&[NEAR_040, NEAR_048], &["--bearing-error-deg", "3"]);
    assert_eq!(human.status, 3);
    assert!(human.out.starts_with("UNDECIDED"), "{}", human.out);
    assert!(human.out.lines().all(|line| line.chars().count() <= 40), "{}", human.out);
}

/// From 1000 m off the day beacon on its line with the pine, 45.12499759 N 30.14370729 W, the mast bears 130.379° true.
#[test]
fn a_transit_and_a_bearing_cross() {
    let asked = ["--in-line", "day-beacon; lone-pine", "--bearing", "mast; 130.379 true", "--format", "json"];
    let document = demo("cross", &asked).json();
    is_at(&document["position"], 45.124_997_59, -30.143_707_29, 1.0);
    let kinds: Vec<&Value> = document["lines"].as_array().unwrap().iter().map(|line| &line["kind"]).collect();
    assert_eq!(kinds, ["transit", "bearing"]);
    assert_eq!(document["lines"][0]["marks"][1]["id"], "lone-pine");
}

/// A compass there shows 139.50°: the variation at the mast on that day is 9.11° west (WMM2025; at the middle of the line
/// pygeomag 1.1.0 has −9.1189°, and over 2 km it changes by less than 0.02°).
#[test]
fn a_magnetic_bearing_is_turned_and_needs_a_time() {
    let bearing = "mast; 139.498 magnetic";
    let asked = ["--in-line", "day-beacon; lone-pine", "--bearing", bearing, "--format", "json"];
    let document = demo("cross", &asked).json();
    near(&document["lines"][1]["bearing_true_deg"], 130.379, 0.02);
    is_at(&document["position"], 45.124_997_59, -30.143_707_29, 3.0);
    let at = |time: &str| {
        let base = ["transit", "cross", "--landmarks", LANDMARKS, "--zones", ZONES, "--time", time];
        let lines = ["--in-line", "day-beacon; lone-pine", "--bearing", bearing];
        takeline(&root(), &[&base[..], &lines].concat(), "")
    };
    let unknown = at("unknown");
    assert_eq!((unknown.status, unknown.out.as_str()), (2, ""));
    assert!(unknown.err.contains("--bearing") && unknown.err.contains("needs --time"), "{}", unknown.err);
    let late = at("2031-01-01T00:00:00Z");
    assert_eq!((late.status, late.out.as_str()), (3, ""));
    assert!(late.err.contains("2029") && late.err.contains("give the bearing true"), "{}", late.err);
}

#[test]
fn north_is_said_in_every_way_people_write_it() {
    let true_deg = |bearing: &str| {
        let asked = ["--in-line", "day-beacon; lone-pine", "--bearing", bearing, "--format", "json"];
        demo("cross", &asked).json()["lines"][1]["bearing_true_deg"].as_f64().unwrap()
    };
    for bearing in [
        "mast; 130 true",
        "mast;130 True",
        "mast; 130° true",
        "mast; 130°T",
        "mast; 130 T",
        "mast; 130.0 TRUE",
    ] {
        assert!((true_deg(bearing) - 130.0).abs() < 1e-9, "{bearing}");
    }
    for bearing in ["mast; 139.118 magnetic", "mast; 139.118 M", "mast; 139.118°m"] {
        assert!((true_deg(bearing) - 130.0).abs() < 0.03, "{bearing}");
    }
}

/// A bearing of 90° and an angle of 30° meet twice: 500 m and 1500 m west of the mark of the bearing, where a circle of
/// 781.025 m through the two other marks cuts the line.
#[test]
fn about_chooses_between_two_places() {
    let lines = [
        &["--bearing", "45.13960043 -30.13228627; 90 true", "--mark-error-m", "0"][..],
        &["--angle", "45.15108609 -30.14996587; 45.15108609 -30.14003413; 30", "--format", "json"],
        &["--bearing-error-deg", "1"],
    ]
    .concat();
    let (west, east) = ((45.139_600_96, -30.151_356_86), (45.139_600_96, -30.138_643_14));
    let open = demo("cross", &lines).json();
    assert_eq!(open["others"].as_array().unwrap().len(), 1);
    assert_eq!(open["here"].as_array().unwrap().len(), 2, "each place is answered");
    assert!(super::codes(&open).contains(&"two-positions-fit"));
    for (about, (latitude, longitude)) in [("45.1390 -30.1500", west), ("45.1390 -30.1390", east)] {
        let chosen = demo("cross", &[&lines[..], &["--about", about]].concat()).json();
        is_at(&chosen["position"], latitude, longitude, 1.0);
    }
}

#[test]
fn lines_that_give_no_position_are_refused() {
    let refused = |arguments: &[&str], reasons: &[&str]| {
        let outcome = demo("cross", arguments);
        assert_eq!((outcome.status, outcome.out.as_str()), (2, ""), "{arguments:?}: {}", outcome.err);
        for reason in reasons {
            assert!(outcome.err.contains(reason), "no “{reason}” in: {}", outcome.err);
        }
    };
    let bearing = |typed: &str, reasons: &[&str]| {
        refused(&["--bearing", typed, "--bearing", "chapel; 80 true"], reasons);
    };
    bearing("mast; 123", &["“123”", "which north", "123 magnetic or 110 true", "variation"]);
    bearing("mast; 123 compass", &["“123 compass”", "which north"]);
    bearing("mast; nan true", &["“nan true”"]);
    bearing("mast; east true", &["“east true”"]);
    bearing("mast; 400 true", &["400", "0 to 360"]);
    bearing("mast; -10 true", &["-10", "0 to 360"]);
    bearing("mast 123 true", &["\"MARK; 123 magnetic\""]);
    bearing("; 123 true", &["\"MARK; 123 magnetic\""]);
    bearing("mats; 123 true", &["\"mats\"", "did you mean \"mast\""]);
    refused(&[], &["no line of position", "two lines"]);
    refused(&["--bearing", "mast; 100 true"], &["one line of position", "another line"]);
    let twice = ["--bearing", "mast; 123 true", "--bearing", "mast; 124 true"];
    refused(&twice, &["Gull Hill Mast", "no position", "another mark"]);
    let with = |more: &[&str], reasons: &[&str]| {
        refused(&[&["--bearing", "mast; 120 true"][..], more].concat(), reasons);
    };
    with(&["--bearing", "chapel; 20 true"], &["do not cross", "true or magnetic"]);
    with(&["--angle", "mast; chapel; 0"], &["0°", "above 0°"]);
    with(&["--angle", "mast; chapel; 200"], &["200°", "below 180°"]);
    with(&["--angle", "mast; chapel; wide"], &["--angle", "“wide”"]);
    with(&["--angle", "mast; chapel"], &["--angle", "\"LEFT; RIGHT; 43.5\""]);
    with(&["--angle", "mast; mast; 20"], &["the same place", "two different marks"]);
    with(&["--in-line", "mast; mast"], &["--in-line", "the same place"]);
    with(&["--in-line", "mast"], &["--in-line", "\"FRONT; REAR\""]);
    with(
        &["--bearing", "chapel; 80 true", "--bearing-error-deg", "0"],
        &["--bearing-error-deg", "above zero"],
    );
    with(
        &["--bearing", "chapel; 80 true", "--bearing-error-deg", "-5"],
        &["--bearing-error-deg", "above zero"],
    );
    with(&["--bearing", "chapel; 80 true", "--bearing-error-deg", "90"], &["90°", "below 45°"]);
    with(&["--bearing", "chapel; 80 true", "--mark-error-m", "nan"], &["--mark-error-m"]);
    with(&["--bearing", "chapel; 80 true", "--about", "home"], &["--about", "“home”"]);
    with(&["--bearing", "chapel; 80 true", "--species", ""], &["--species"]);
}

#[test]
fn a_time_by_the_clock_is_called_so() {
    let base = ["transit", "cross", "--landmarks", LANDMARKS, "--zones", ZONES, "--format", "json"];
    let lines = ["--bearing", AT_040, "--bearing", AT_130];
    let document = takeline(&root(), &[&base[..], &lines].concat(), "").json();
    assert_eq!(document["here"][0]["time_source"], "clock");
}

#[test]
fn two_lines_through_one_mark_are_told_to_be_one_line_and_no_figure_that_nobody_typed() {
    let lines = [
        "--in-line",
        "45.10000000 -30.10000000; 45.10161704 -30.09000000",
        "--bearing",
        "45.10000000 -30.10000000; 77.09707 true",
    ];
    for error_m in ["0", "1", "10"] {
        let outcome = demo("cross", &[&lines[..], &["--mark-error-m", error_m]].concat());
        assert_eq!((outcome.status, outcome.out.as_str()), (2, ""), "{error_m}");
        assert!(!outcome.err.contains("accuracy of a fix"), "{}", outcome.err);
        assert!(outcome.err.contains("take another mark"), "{}", outcome.err);
    }
}
