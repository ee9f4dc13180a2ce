//! The keys of `transit check` that scripts rely on, asked with the options that scripts rely on and no others.

use serde_json::Value;
use tempfile::TempDir;

use super::{Outcome, codes, cove, demo, near, takeline};

/// Asks about two marks with nothing but the options of the contract.
#[track_caller]
fn script(folder: &TempDir, front: &str, rear: &str, mark_error_m: &str) -> Outcome {
    let arguments = [
        &["transit", "check", "--front", front, "--rear", rear][..],
        &["--front-height-m", "9", "--rear-height-m", "41", "--mark-error-m", mark_error_m],
        &["--eye-height-m", "0.9", "--near-m", "100", "--far-m", "1400"],
        &["--zones", "zones.geojson", "--format", "json"],
    ];
    takeline(folder.path(), &arguments.concat(), "")
}

/// What the clock of the machine decides: the World Magnetic Model 2025 ends with 2029.
fn is_within_the_model(document: &Value) -> bool {
    ("2025".."2030").contains(&document["time"].as_str().unwrap())
}

/// One point of the stretch: distance, minutes of arc for each metre, offset at 5′, doubt of the marks.
type Point = (f64, f64, f64, f64);

/// Marks 1495 m apart with 10 m of error each, north of the reserve, seen from the west.
///
/// `arcmin_per_m` is S/(D(D+S)) and the doubt √((e(D+S)/S)² + (eD/S)²), both of design.md section 6; the offset is where
/// geographiclib sees the marks 5′ apart (bisection). They hold within 1e-6: lengths agree to the micrometre.
const CLEAR: [Point; 3] = [
    (100.0, 32.222_399_389, 0.155_171_7, 10.689_753_406),
    (750.0, 3.052_502_683, 1.638_003_9, 15.831_730_974),
    (1400.0, 1.268_134_677, 3.942_816_7, 21.508_407_132),
];

#[test]
fn every_key_of_the_contract_has_its_type_sign_and_unit() {
    let outcome = script(&cove(), "45.1252 -30.1310", "45.1255 -30.1120", "10");
    let document = outcome.json();
    assert_eq!(outcome.err, "");
    assert_eq!(document["schema"], "takeline.transit/1");
    near(&document["bearing_true_deg"], 88.708_808_206, 1e-7);
    near(&document["separation_m"], 1_495.191_549_832, 1e-5);
    assert_eq!(document["stretch_m"], serde_json::json!([100.0, 1400.0]));
    let worst = &document["worst"];
    assert_eq!(worst["zone_id"], "cove");
    near(&worst["distance_from_front_m"], 1400.0, 0.1);
    near(&worst["signed_distance_m"], 101.806_242_867, 1e-3);
    // 21.508 of the marks and 3.943 of the eye: the point is where this and the distance leave least
    near(&worst["uncertainty_95_m"], 25.451_224, 1e-3);
    assert_eq!(document["opens"]["inside"], "rear mark shows right of the front mark");
    let sensitivity = document["sensitivity"].as_array().unwrap();
    assert_eq!(sensitivity.len(), CLEAR.len());
    for (point, (away_m, arcmin_per_m, offset_m, doubt_m)) in sensitivity.iter().zip(CLEAR) {
        near(&point["distance_from_front_m"], away_m, 1e-9);
        near(&point["arcmin_per_m"], arcmin_per_m, 1e-6);
        near(&point["offset_at_threshold_m"], offset_m, 1e-6);
        near(&point["line_uncertainty_95_m"], doubt_m, 1e-6);
    }
    for problem in document["problems"].as_array().unwrap() {
        assert!(problem["code"].is_string() && problem["text"].is_string(), "{problem}");
    }
    assert!(codes(&document).contains(&"terrain-not-checked"), "always said");
    assert_eq!(document["time_source"], "clock", "nobody gave a time");
    if is_within_the_model(&document) {
        assert_eq!((document["clears"].as_str(), outcome.status), (Some("yes"), 0));
        let degrees = |key: &str| document[key].as_f64().unwrap();
        // west of north variation is negative, and what a compass shows is then the larger number
        let turned = degrees("bearing_true_deg") - degrees("variation_deg");
        near(&document["bearing_magnetic_deg"], turned, 1e-9);
        assert!(degrees("variation_deg") < -5.0, "it is west there");
    } else {
        assert_eq!((document["clears"].as_str(), outcome.status), (Some("undecided"), 3));
        assert!(document["bearing_magnetic_deg"].is_null() && document["variation_deg"].is_null());
    }
}

#[test]
fn a_line_inside_is_restricted_and_its_distance_negative() {
    let document = script(&cove(), "45.1220 -30.1310", "45.1222 -30.1120", "10").json();
    assert_eq!(document["worst"]["zone_id"], "cove");
    // the least margin is where the north and the west side are equally far; searched in steps of 1 cm it is −264.786 m at
    // 1253.8 m, and a step changes it by less than 1 cm
    let number = |key: &str| document["worst"][key].as_f64().unwrap();
    let margin_m = number("signed_distance_m") - number("uncertainty_95_m");
    assert!((margin_m + 264.786).abs() < 0.01, "{margin_m}");
    near(&document["worst"]["distance_from_front_m"], 1253.8, 0.5);
    near(&document["zones"][0]["far"]["signed_distance_m"], -95.069_410, 1e-3);
    near(&document["zones"][0]["near"]["signed_distance_m"], -223.899_296, 1e-3);
    if is_within_the_model(&document) {
        assert_eq!((document["clears"].as_str(), document["exit_status"].as_i64()), (Some("no"), Some(1)));
    }
}

#[test]
fn a_line_nearer_than_its_doubt_is_undecided() {
    // 11 m north of the reserve, and the marks alone put it off by 21.5 m at the far end
    let document = script(&cove(), "45.1241 -30.1310", "45.1241 -30.1120", "10").json();
    let worst = &document["worst"];
    let number = |key: &str| worst[key].as_f64().unwrap();
    assert!(number("signed_distance_m") > 0.0 && number("signed_distance_m") < number("uncertainty_95_m"));
    assert_eq!((document["clears"].as_str(), document["exit_status"].as_i64()), (Some("undecided"), Some(3)));
    // the same line with marks that were surveyed
    let surveyed = script(&cove(), "45.1241 -30.1310", "45.1241 -30.1120", "1").json();
    if is_within_the_model(&surveyed) {
        assert_eq!((surveyed["clears"].as_str(), surveyed["exit_status"].as_i64()), (Some("yes"), Some(0)));
    }
}

#[test]
fn marks_that_nobody_measured_are_called_assumed() {
    let folder = cove();
    let arguments = [
        &["transit", "check", "--front", "45.1252 -30.1310", "--rear", "45.1255 -30.1120", "--near-m", "100"]
            [..],
        &["--far-m", "1400", "--zones", "zones.geojson", "--format", "json"],
    ];
    let document = takeline(folder.path(), &arguments.concat(), "").json();
    for mark in ["front", "rear"] {
        assert_eq!(document[mark]["position_error_95_m"], 10.0);
        assert_eq!(document[mark]["position_error_source"], "assumed");
        assert!(document[mark]["height_m"].is_null());
    }
    assert!(codes(&document).contains(&"error-assumed") && codes(&document).contains(&"height-not-given"));
    assert_eq!(document["eye"]["height_m"], 0.9);
}

/// Variation at the middle of the stretch by pygeomag 1.1.0 with the published coefficients: −9.118866658°. Both are the
/// same series, so they hold within 1e-6; the model itself is known to about 0.4°.
#[test]
fn the_compass_bearing_is_that_of_the_time_given() {
    let document = demo("check", &[&super::LINE[..], &["--format", "json"]].concat()).json();
    near(&document["variation_deg"], -9.118_866_658, 1e-6);
    near(&document["bearing_magnetic_deg"], 88.708_808_206 + 9.118_866_658, 1e-6);
    assert_eq!(document["time_source"], "given");
    assert_eq!(document["time"], super::MORNING);
}

#[test]
fn the_first_three_lines_of_a_screen_answer() {
    let outcome = demo("check", &super::LINE);
    assert_eq!((outcome.status, outcome.err.as_str()), (0, ""), "standard error is for talk");
    let lines: Vec<&str> = outcome.out.lines().collect();
    assert_eq!(
        lines[..5],
        [
            "CLEARS Sallow Cove Reser… by 102 m ±12 m",
            "Seen in line only from 381 m to 1400 m",
            "Lone Pine can be gone: A tree can fall.",
            "Rear mark RIGHT of front: assume inside",
            "Marks bear 089° true, 098° magnetic",
        ]
    );
    assert!(lines.iter().all(|line| line.chars().count() <= 40), "{}", outcome.out);
    let narrow = demo("check", &[&super::LINE[..], &["--width", "20"]].concat());
    assert!(narrow.out.lines().all(|line| line.chars().count() <= 20), "{}", narrow.out);
    let head: Vec<&str> = narrow.out.lines().take(8).collect();
    assert_eq!(
        head,
        [
            "CLEARS, 102 m ±12 m",
            "Partly hidden",
            "Lone Pine can be",
            "  gone: A tree can",
            "  fall.",
            "Rear RIGHT: inside",
            "089° T, 098° M",
            "3 warnings below"
        ]
    );
}
