//! Marks typed as positions, in every form that people write them.

use serde_json::Value;
use tempfile::TempDir;

use super::{MORNING, cove, near, rectangle, takeline};

#[track_caller]
fn check(folder: &TempDir, front: &str, rear: &str, more: &[&str]) -> Value {
    let arguments = [
        &["transit", "check", "--front", front, "--rear", rear, "--near-m", "100", "--far-m", "1400"][..],
        &["--zones", "zones.geojson", "--time", MORNING, "--format", "json", "--mark-error-m", "10"],
        more,
    ];
    takeline(folder.path(), &arguments.concat(), "").json()
}

#[test]
fn decimal_degrees_minutes_and_seconds_are_the_same_marks() {
    let folder = cove();
    for (front, rear) in [
        ("45.1252 -30.1310", "45.1255 -30.1120"),
        ("45.1252, -30.1310", "45.1255,-30.1120"),
        ("45.1252N 30.1310W", "N45.1255 W30.1120"),
        ("45°07.512'N 030°07.860'W", "45°07.530′N 030°06.720′W"),
        ("45°07'30.72\"N 30°07'51.6\"W", "45 07 31.8 N, 30 06 43.2 W"),
    ] {
        let document = check(&folder, front, rear, &[]);
        let position = &document["front"]["position"];
        near(&position["latitude_deg"], 45.1252, 1e-9);
        near(&position["longitude_deg"], -30.1310, 1e-9);
        near(&document["bearing_true_deg"], 88.708_808_206, 1e-7);
        near(&document["separation_m"], 1_495.191_549_832, 1e-5);
        assert_eq!(document["front"]["name"], "front");
    }
}

/// 0.01° are 1111.5 m along the meridian and 787.4 m along the parallel at 45.12° N (WGS 84 radii of curvature); half of each,
/// with the 10 m assumed in quadrature, 681 m.
#[test]
fn a_mark_of_few_digits_is_known_no_better_than_they_say() {
    let folder = cove();
    let line = |front: &str, more: &[&str]| {
        let arguments = [
            &["transit", "check", "--front", front, "--rear", "45.1300 -30.1120", "--near-m", "100"][..],
            &["--far-m", "1400", "--zones", "zones.geojson", "--time", MORNING, "--format", "json"],
            more,
        ];
        takeline(folder.path(), &arguments.concat(), "")
    };
    let rounded = line("45.13 -30.13", &[]);
    near(&rounded.json()["front"]["position_error_95_m"], 681.1, 1.0);
    assert_eq!(rounded.json()["clears"], "undecided");
    assert!(rounded.err.contains("--front: warning: the position has so few digits"), "{}", rounded.err);
    let whole = line("45.1300 -30.1300", &[]);
    assert_eq!((whole.json()["clears"].as_str(), whole.err.as_str()), (Some("yes"), ""));
    // an error that was typed is taken as it stands
    let given = line("45.13 -30.13", &["--mark-error-m", "10"]);
    assert_eq!(given.json()["front"]["position_error_95_m"], 10.0);
    assert_eq!(given.err, "");
}

#[test]
fn a_negative_first_word_is_a_latitude_and_no_option() {
    let folder = rectangle((-33.92, -120.31), (-33.90, -120.28));
    let document = check(&folder, "-33.898 -120.29", "-33.8975 -120.27", &["--launch", "-33.897 -120.295"]);
    near(&document["front"]["position"]["latitude_deg"], -33.898, 1e-9);
    near(&document["launch"]["latitude_deg"], -33.897, 1e-9);
    // one looks east, and the zone lies south
    assert_eq!(document["opens"]["inside"], "rear mark shows right of the front mark");
    assert_eq!(document["clears"], "yes");
    let glued = check(&folder, "-33.898,-120.29", "-33.8975,-120.27", &[]);
    assert_eq!(glued["separation_m"], document["separation_m"]);
}

/// The line leaves 179.995° E eastward and ends at 179.990° W; geographiclib 2.1 for Python, see the head of the file.
#[test]
fn a_line_across_180_degrees_is_a_line_like_any_other() {
    let folder = rectangle((-33.92, 179.99), (-33.90, 180.03));
    let document = check(&folder, "-33.898 179.995", "-33.8975 179.980", &[]);
    near(&document["bearing_true_deg"], 272.280_385_889, 1e-7);
    near(&document["separation_m"], 1_388.538_004_295, 1e-5);
    let zone = &document["zones"][0];
    near(&zone["near"]["signed_distance_m"], 217.947_642, 1e-3);
    near(&zone["far"]["signed_distance_m"], 166.308_209, 1e-3);
    near(&zone["far"]["position"]["longitude_deg"], -179.989_876_002, 1e-8);
    near(&document["worst"]["uncertainty_95_m"], 26.560_723, 1e-3);
    // one looks west, and the zone lies south
    assert_eq!(document["opens"]["inside"], "rear mark shows left of the front mark");
    assert_eq!((document["clears"].as_str(), document["exit_status"].as_i64()), (Some("yes"), Some(0)));
    // a longitude may be counted on beyond 180
    let launched = check(&folder, "-33.898 179.995", "-33.8975 179.980", &["--launch", "-33.89 180.01"]);
    near(&launched["launch"]["longitude_deg"], -179.99, 1e-9);
}
