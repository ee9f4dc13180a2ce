use serde_json::json;

use super::test_files::*;
use super::*;
use crate::zone::{Datum, Effective};

#[test]
fn spellings_of_wgs_84_and_its_near_relatives_are_read() {
    for name in
        ["WGS 84", "WGS84", "wgs-84", "WGS_1984", "EPSG:4326", "World Geodetic System 1984", "WGS 84 (G2139)"]
    {
        assert_eq!(loaded(&with_header("datum", json!(name))).zones[0].datum, Datum::Wgs84, "{name}");
    }
    for name in ["NAD 83", "NAD83(2011)", "GDA94", "GDA2020", "ETRS89", "ITRF2014", "NZGD2000", "EPSG:4269"] {
        let near = Datum::NearWgs84(name.to_owned());
        assert_eq!(loaded(&with("datum", json!(name))).zones[0].datum, near, "{name}");
    }
}

/// Tricky case 18: coordinates on another datum are not used as WGS 84.
#[test]
fn other_datums_are_refused_with_what_to_do() {
    for name in ["NAD27", "ED50", "OSGB36", "AGD66", "Tokyo", "WGS 72"] {
        let text = refused(&with_header("datum", json!(name)));
        assert!(text.contains(&format!("takeline > datum: the datum \"{name}\" is not supported")), "{text}");
        assert!(text.contains("convert the coordinates to WGS 84 with a geodetic library first"), "{text}");
    }
}

#[test]
fn a_missing_datum_is_unstated_with_one_warning_for_all_zones() {
    let mut file = without("/takeline", "datum");
    let mut second = file["features"][0].clone();
    second["id"] = json!("outer-bank");
    file["features"].as_array_mut().expect("a list").push(second);
    let found = loaded(&file);
    assert_eq!(found.zones[1].datum, Datum::Unstated);
    assert_eq!(found.warnings.len(), 1);
    let text = found.warnings[0].to_string();
    assert!(text.contains("may be 200 m off"), "{text}");
    assert!(text.ends_with("feature 1 \"sallow-cove\", feature 2 \"outer-bank\""), "{text}");
}

#[test]
fn unknown_time_zones_are_refused_with_a_near_name() {
    let text = refused(&with_header("time_zone", json!("Atlantic/Azors")));
    assert!(
        text.contains(
            "time_zone: there is no time zone called \"Atlantic/Azors\"; did you mean \"Atlantic/Azores\"?"
        ),
        "{text}"
    );
    let text = refused(&with("time_zone", json!("local time")));
    assert!(text.contains("write an IANA name like"), "{text}");
}

#[test]
fn a_missing_time_zone_matters_only_with_dates() {
    let mut file = without("/takeline", "time_zone");
    assert_eq!(loaded(&file).warnings, []);
    file["features"][0]["properties"]["when"] = json!({ "weekdays": ["sunday"] });
    assert_eq!(loaded(&file).warnings[0].kind, WarningKind::TimeZoneMissing);
}

#[test]
fn a_bag_for_a_day_needs_to_know_when_the_day_begins() {
    for (per, is_told) in [("person-day", true), ("boat-day", true), ("person-trip", false)] {
        let mut file = without("/takeline", "time_zone");
        file["features"][0]["properties"]["take"] = json!("anything");
        file["features"][0]["properties"]["limits"] = json!([{ "bag": { "count": 5, "per": per } }]);
        let told = loaded(&file).warnings.iter().any(|warning| warning.kind == WarningKind::TimeZoneMissing);
        assert_eq!(told, is_told, "{per}");
    }
}

/// Tricky case 24: dates mean local midnight. The Azores keep UTC−1 in winter and UTC+0 in summer
/// (IANA time zone database, Atlantic/Azores, rules of the European Union).
#[test]
fn plain_dates_mean_midnight_in_the_zones_own_time() {
    let mut file = with("effective", json!({ "from": "2026-01-10", "last_day": "2026-07-31" }));
    file["takeline"]["time_zone"] = json!("Atlantic/Azores");
    file["takeline"]["valid_until"] = json!("2027-01-01T00:00:00Z");
    let found = loaded(&file);
    let text = |instant: Option<jiff::Timestamp>| instant.expect("is set").to_string();
    assert_eq!(text(found.zones[0].effective.from), "2026-01-10T01:00:00Z");
    assert_eq!(text(found.zones[0].effective.until), "2026-08-01T00:00:00Z");
    assert_eq!(text(found.file.valid_until), "2027-01-01T00:00:00Z");
}

#[test]
fn until_is_the_first_moment_after() {
    let found = loaded(&with("effective", json!({ "until": "2026-08-01" })));
    let until = "2026-08-01T00:00:00Z".parse().ok();
    assert_eq!(found.zones[0].effective, Effective { from: None, until });
}

#[test]
fn faults_of_effective_are_told() {
    let text = |value| refused(&with("effective", value));
    let day = text(json!({ "from": "1 May 2026" }));
    assert!(day.contains("effective > from: \"1 May 2026\" cannot be read here; write a date like"), "{day}");
    assert!(text(json!({ "from": "2026-05-01T06:00:00" })).contains("offset like"));
    assert!(text(json!({ "from": "2026-02-30" })).contains("\"2026-02-30\" cannot be read"));
    assert!(text(json!({ "from": "2026-05-02", "until": "2026-05-01" })).contains("not after it starts"));
    let both = text(json!({ "until": "2026-05-02", "last_day": "2026-05-01" }));
    assert!(both.contains("says both \"until\" and \"last_day\"; keep one"), "{both}");
}
