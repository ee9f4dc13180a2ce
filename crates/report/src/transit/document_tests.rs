use std::collections::BTreeSet;

use serde_json::Value;
use takeline::coast::Coast;
use takeline::test_util::samples;
use takeline::transit::{CompassPoint, CrossedPosition, Severity, Told, TransitReport};
use takeline::{Position, Tristate};

use super::test_fixtures::*;
use super::{CalibrationDocument, CrossDocument, CrossReport, FindDocument, TransitDocument};
use crate::ExitStatus;
use crate::here::test_fixtures as here;
use crate::words::English;

const PAGE: &str = include_str!("../../../../docs/json-output.md");

fn json_of(report: &TransitReport) -> Value {
    serde_json::to_value(TransitDocument::with_compass(report, compass(report), &English)).unwrap()
}

fn keys_of(value: &Value, keys: &str) {
    for key in keys.split(' ') {
        assert!(value.get(key).is_some(), "{key} is missing in {value}");
    }
}

/// The keys of the contract, as they were agreed before the program was written.
#[test]
fn every_key_of_the_contract_is_there() {
    let value = json_of(&clear());
    keys_of(
        &value,
        "schema bearing_true_deg bearing_magnetic_deg variation_deg separation_m stretch_m worst clears opens \
         sensitivity problems exit_status",
    );
    keys_of(&value["worst"], "zone_id distance_from_front_m signed_distance_m uncertainty_95_m");
    keys_of(&value["opens"], "inside");
    keys_of(
        &value["sensitivity"][0],
        "distance_from_front_m arcmin_per_m offset_at_threshold_m line_uncertainty_95_m",
    );
    keys_of(&value["problems"][0], "code text");
    assert_eq!(value["schema"], "takeline.transit/1");
    assert_eq!(value["stretch_m"], serde_json::json!([500.0, 3000.0]));
    assert_eq!(value["clears"], "yes");
    assert_eq!(value["opens"]["inside"], "rear mark shows right of the front mark");
    assert_eq!(value["worst"]["signed_distance_m"], 74.0);
    assert_eq!(value["worst"]["margin_m"], 59.0);
}

#[test]
fn what_is_not_known_is_null() {
    let value = serde_json::to_value(TransitDocument::new(&line_unknown(), &English)).unwrap();
    for key in ["bearing_magnetic_deg", "variation_deg", "magnetic_model", "worst", "water", "time"] {
        assert!(value[key].is_null(), "{key}");
    }
    assert!(value["opens"]["inside"].is_null());
    assert!(value["zones"][0]["worst"].is_null());
    assert!(value["variation_not_known"].is_string());
    let outside = serde_json::to_value(TransitDocument::new(&outside_the_model(), &English)).unwrap();
    assert!(outside["variation_not_known"].as_str().unwrap().contains("2029"));
}

#[test]
fn the_worst_point_is_that_of_the_zone_with_the_least_margin() {
    let mut report = clear();
    let mut nearer = report.zones[0].clone();
    nearer.id.0 = "ring-shoal".into();
    // 80 m off, but with a doubt of 60 m: farther away, and less sure
    nearer.worst = Some(point(&report.line, 2000.0, 80.0, 60.0));
    report.zones.push(nearer);
    assert_eq!(json_of(&report)["worst"]["zone_id"], "ring-shoal");
}

#[test]
fn a_number_that_is_none_is_null_and_never_reaches_the_wire() {
    let mut report = clear();
    for at in &mut report.sensitivity {
        at.seconds_to_threshold = Some(f64::INFINITY);
    }
    report.zones[0].meetings = enters().zones[0].meetings.clone();
    report.zones[0].meetings[0].angle_deg = f64::NAN;
    report.water.as_mut().unwrap().area_m2 = f64::NAN;
    let value = json_of(&report);
    assert!(value["sensitivity"][0]["seconds_at_drift"].is_null());
    assert!(value["zones"][0]["meetings"][0]["angle_deg"].is_null());
    assert!(value["water"]["area_m2"].is_null());
}

#[test]
fn numbers_keep_full_precision() {
    let report = clear();
    let value = json_of(&report);
    assert_eq!(value["front"]["position"]["latitude_deg"], 45.1252);
    let separation_m = report.line.separation().metres();
    assert_eq!(value["separation_m"].as_f64().map(f64::to_bits), Some(separation_m.to_bits()));
    assert_eq!(value["water"]["false_safe_m2"], 1234.5);
}

#[test]
fn exit_status_is_that_of_the_contract() {
    let with_error = |mut report: TransitReport| {
        report.problems.push(between_the_marks());
        report
    };
    for (report, expected) in [
        (clear(), ExitStatus::Unrestricted),
        (enters(), ExitStatus::Restricted),
        (undecided(), ExitStatus::Undecided),
        (line_unknown(), ExitStatus::Undecided),
        (with_error(clear()), ExitStatus::Undecided),
        (with_error(enters()), ExitStatus::Undecided),
        (outside_the_model(), ExitStatus::Undecided),
        (hostile(), ExitStatus::Unrestricted),
    ] {
        assert_eq!(TransitDocument::new(&report, &English).exit_status, expected);
        assert_eq!(json_of(&report)["exit_status"], expected.code());
    }
}

#[test]
fn a_search_is_undecided_where_a_side_has_no_pair_and_never_restricts() {
    let (zone, question) = (zone(), pair_question());
    let served =
        || side(CompassPoint::North, vec![pair(Tristate::Undecided, -8.0), pair(Tristate::Yes, 59.0)]);
    let bad = |clears| side(CompassPoint::East, vec![pair(clears, -20.0)]);
    let mut useless = served();
    useless.pairs[1].problems = vec![between_the_marks()];
    for (sides, expected) in [
        (vec![served()], 0),
        (vec![served(), served()], 0),
        (vec![served(), side(CompassPoint::East, vec![])], 3),
        (vec![served(), bad(Tristate::No)], 3),
        (vec![useless], 3),
        (vec![bad(Tristate::Undecided)], 3),
        (vec![], 3),
    ] {
        let document = FindDocument::new(&question, &zone, &sides, &English);
        assert_eq!(document.exit_status.code(), expected, "{sides:?}");
    }
}

#[test]
fn a_calibration_that_cannot_tell_is_undecided() {
    for (told, corrected, expected) in [
        (Told::BothMarks, Some(clear()), 0),
        (Told::BothMarks, Some(enters()), 1),
        (Told::BothMarks, Some(undecided()), 3),
        (Told::BothMarks, None, 0),
        (Told::OnlyWhereTheFixesLie, Some(clear()), 3),
        (Told::Nothing, Some(enters()), 3),
    ] {
        let calibration = calibration(told);
        let document = CalibrationDocument::new(&calibration, corrected.as_ref(), &English);
        assert_eq!(document.exit_status.code(), expected, "{told:?}");
    }
}

#[test]
fn a_crossed_position_that_is_not_settled_is_undecided() {
    let told_apart = || {
        let mut crossed = crossed_twice();
        crossed.problems[0].severity = Severity::Note;
        crossed
    };
    let apart = CrossedPosition { agree: false, ..crossed() };
    let useless = CrossedPosition { problems: vec![between_the_marks()], ..crossed() };
    for (crossed, assessments, expected) in [
        (crossed(), vec![here::outside()], 0),
        (crossed(), vec![here::closed()], 1),
        (crossed(), vec![here::near_the_line()], 3),
        (crossed(), vec![], 3),
        (crossed_twice(), vec![here::closed(), here::closed()], 1),
        (crossed_twice(), vec![here::closed(), here::outside()], 3),
        (crossed_twice(), vec![here::outside()], 3),
        (told_apart(), vec![here::outside()], 0),
        (apart, vec![here::outside()], 3),
        (useless, vec![here::outside()], 3),
    ] {
        let lines = lines();
        let found = CrossReport { lines: &lines, crossed: &crossed, assessments: &assessments };
        let document = CrossDocument::new(found, &English);
        assert_eq!(document.exit_status.code(), expected, "{crossed:?}");
        let value = serde_json::to_value(document).unwrap();
        assert_eq!(value["exit_status"], expected);
        assert_eq!(value["here"].as_array().unwrap().len(), assessments.len());
        let water = match assessments.as_slice() {
            [] => Value::Null,
            [first, rest @ ..] if rest.iter().all(|other| other.water == first.water) => {
                value["here"][0]["water"].clone()
            }
            _ => "undecided".into(),
        };
        assert_eq!(value["water"], water);
    }
}

fn every_document() -> Vec<(&'static str, Value)> {
    let (zone, question) = (zone(), pair_question());
    let sides = [side(CompassPoint::North, vec![pair(Tristate::Yes, 59.0)])];
    let coasts = coasts();
    let found = FindDocument::new(&question, &zone, &sides, &English).with_coasts(&coasts);
    let entering = enters();
    let calibration = calibration(Told::BothMarks);
    let calibrated = CalibrationDocument::new(&calibration, Some(&entering), &English).with_coasts(&coasts);
    let others = vec![Position::from_degrees(45.1, -30.1).unwrap()];
    let crossed = CrossedPosition { others, problems: vec![movable()], ..crossed() };
    let (lines, assessments) = (lines(), [here::closed()]);
    let crossed = CrossReport { lines: &lines, crossed: &crossed, assessments: &assessments };
    let crossed = CrossDocument::new(crossed, &English).with_coasts(&coasts);
    let checked = TransitDocument::new(&entering, &English).with_coasts(&coasts);
    vec![
        ("takeline.transit/1", serde_json::to_value(checked).unwrap()),
        ("takeline.transit-find/1", serde_json::to_value(found).unwrap()),
        ("takeline.transit-calibrate/1", serde_json::to_value(calibrated).unwrap()),
        ("takeline.transit-cross/1", serde_json::to_value(crossed).unwrap()),
    ]
}

/// A coast of one spit, which says all that one can say of itself.
fn coasts() -> Vec<Coast> {
    let spit = br#"{ "type": "Feature", "properties": {},
      "takeline": { "format": "takeline.coast/1", "title": "Marrowick", "date": "2025-06-11", "source": "Harbour Board",
        "licence": "CC0-1.0", "uncertainty_m": 8 },
      "geometry": { "type": "LineString", "coordinates": [[-30.12, 45.10], [-30.10, 45.11]] } }"#;
    vec![takeline::coast::read("charts/marrowick.geojson", spit).unwrap().coast]
}

#[test]
fn every_answer_about_marks_lists_the_coasts_that_it_went_by() {
    let coast = serde_json::json!({ "path": "charts/marrowick.geojson", "sha256": coasts()[0].sha256, "title": "Marrowick",
      "date": "2025-06-11", "source": "Harbour Board", "licence": "CC0-1.0", "uncertainty_95_m": 8.0, "uncertainty_source": "given" });
    for (schema, document) in every_document() {
        let found = if schema == "takeline.transit-calibrate/1" { &document["corrected"] } else { &document };
        assert_eq!(found["coasts"], serde_json::json!([coast]), "{schema}");
    }
}

/// What is said about marks as data, of every kind.
fn every_code() -> Vec<Value> {
    let values = [
        serde_json::to_value(samples::transit_problems()),
        serde_json::to_value(samples::clears_reasons()),
        serde_json::to_value(samples::calibration_reasons()),
        serde_json::to_value(samples::pair_reasons()),
    ];
    values.into_iter().map(Result::unwrap).collect()
}

/// Each schema has a part of the page; what several share is described once, below all of them.
#[test]
fn the_docs_describe_every_key() {
    let shared = PAGE.split_once("## What the answers about marks share").unwrap().1;
    for (schema, document) in every_document() {
        assert_eq!(document["schema"], schema);
        let (_, part) = PAGE.split_once(&format!("schema `{schema}`")).unwrap();
        let part = part.split("\n## ").next().unwrap();
        let mut values = vec![document];
        values.extend(every_code());
        while let Some(value) = values.pop() {
            for (key, inner) in value.as_object().into_iter().flatten() {
                let described = [part, shared].iter().any(|text| text.contains(&format!("`{key}`")));
                assert!(described, "docs/json-output.md does not describe {key} of {schema}");
                // these two are documents of their own, described where they belong
                if !["here", "corrected"].contains(&key.as_str()) {
                    values.push(inner.clone());
                }
            }
            values.extend(value.as_array().into_iter().flatten().cloned());
        }
    }
}

/// Each code that the library has stands on the page about the output.
#[test]
fn the_docs_list_every_problem_code() {
    let page = include_str!("../../../../docs/transit-output.md");
    let codes: BTreeSet<&str> =
        samples::transit_problems().iter().map(|problem| problem.problem_code().into()).collect();
    assert!(codes.len() >= 27, "{codes:?}");
    for code in codes {
        assert!(page.contains(&format!("`{code}`")), "docs/transit-output.md does not list {code}");
    }
}

/// The other way round: the page names no key that nothing writes.
#[test]
fn every_key_of_the_docs_is_written() {
    let mut written = std::collections::HashSet::new();
    let mut values: Vec<Value> =
        every_document().into_iter().map(|(_, document)| document).chain(every_code()).collect();
    while let Some(value) = values.pop() {
        for (key, inner) in value.as_object().into_iter().flatten() {
            written.insert(key.clone());
            values.push(inner.clone());
        }
        values.extend(value.as_array().into_iter().flatten().cloned());
    }
    let (_, transit) = PAGE.split_once("## `takeline transit check`").unwrap();
    let (transit, _) = transit.split_once("## `takeline zones").unwrap_or((transit, ""));
    let mut count = 0;
    for row in transit.lines().filter(|line| line.starts_with("| `")) {
        let keys = row.split('|').nth(1).unwrap();
        for key in keys.split('`').skip(1).step_by(2) {
            assert!(written.contains(key), "docs/json-output.md describes {key}, which nothing writes");
            count += 1;
        }
    }
    assert!(count > 100, "{count} keys");
}
