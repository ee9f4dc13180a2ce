use std::collections::BTreeSet;

use serde_json::{Value, json};
use takeline::test_util::samples;
use takeline::{Assessment, Containment, TakeAnswer, Tristate, WaterStatus};

use super::test_fixtures::*;
use super::{HereDocument, here_row_text, here_text};
use crate::words::English;
use crate::{ExitStatus, exit_status};

fn json_of(assessment: &Assessment) -> Value {
    serde_json::to_value(HereDocument::of(assessment, &English)).unwrap()
}

/// The keys of the contract, as `docs/json-output.md` lists them first.
#[test]
fn every_key_of_the_contract_is_there() {
    let value = json_of(&Assessment {
        take: vec![sprat()],
        ..assessment(WaterStatus::Restricted, vec![lantern_reach()])
    });
    let keys_of = |value: &Value, keys: &[&str]| {
        for key in keys {
            assert!(value.get(key).is_some(), "{key} is missing in {value}");
        }
    };
    keys_of(&value, &["schema", "position", "time", "water", "zones", "take", "exit_status"]);
    keys_of(&value["position"], &["latitude_deg", "longitude_deg", "uncertainty_95_m", "uncertainty_source"]);
    let zone = &value["zones"][0];
    keys_of(
        zone,
        &[
            "id",
            "name",
            "containment",
            "signed_distance_m",
            "uncertainty_95_m",
            "inside_probability",
            "nearest",
            "nearest_side",
            "crossable",
            "in_force",
            "take_rule",
            "source",
            "zone_file",
        ],
    );
    keys_of(&zone["nearest"], &["latitude_deg", "longitude_deg", "bearing_true_deg"]);
    keys_of(&zone["source"], &["instrument", "clause", "edition", "retrieved"]);
    keys_of(&zone["zone_file"], &["path", "sha256"]);
    keys_of(&value["take"][0], &["asked", "answer", "because", "conditions", "settle"]);
    keys_of(
        &value["take"][0],
        &["because_codes", "condition_codes", "settle_codes", "possession_condition_codes"],
    );
    assert_eq!(value["schema"], "takeline.here/1");
}

#[test]
fn numbers_keep_full_precision_and_time_is_rfc_3339() {
    let value = json_of(&closed());
    assert_eq!(value["position"]["latitude_deg"], json!(45.1182));
    assert_eq!(value["zones"][0]["signed_distance_m"], json!(-38.0));
    assert_eq!(value["time"], "2026-07-25T06:30:00Z");
    assert_eq!(value["zones"][0]["source"]["retrieved"], "2026-03-01");
}

#[test]
fn an_unknown_line_has_no_distance_no_probability_and_no_nearest_point() {
    let zone = json_of(&line_unknown())["zones"][0].clone();
    assert_eq!(zone["containment"], "undecided");
    for key in ["signed_distance_m", "inside_probability", "nearest"] {
        assert!(zone[key].is_null(), "{key}");
    }
}

#[test]
fn limits_of_a_fish_are_structured() {
    let value = json_of(&Assessment {
        take: vec![sprat()],
        ..assessment(WaterStatus::Restricted, vec![lantern_reach()])
    });
    assert_eq!(
        value["take"][0]["limits"],
        json!({
            "bags": [{ "count": 20, "per": "person-day" }],
            "sizes": [{ "min_cm": 8.0, "max_cm": null, "measure": "total-length" }],
            "gear": [{ "kind": "hook and line", "max_lines": 1, "max_hooks": null, "note": null }],
            "gear_forbidden": ["gill net"],
            "bait": [{ "not": ["sand eel"] }],
        })
    );
}

#[test]
fn a_row_number_appears_in_a_batch_only() {
    let assessment = closed();
    assert!(json_of(&assessment).get("row").is_none());
    let document = HereDocument::of(&assessment, &English).with_row(7);
    assert_eq!(serde_json::to_value(document).unwrap()["row"], 7);
}

#[test]
fn exit_status_is_that_of_the_contract() {
    let with = |water, answer| Assessment { take: vec![fish("cod", answer)], ..assessment(water, vec![]) };
    let kept = |kept| Assessment { standoff_kept: Some(kept), ..outside() };
    for (assessment, expected) in [
        (outside(), ExitStatus::Unrestricted),
        (closed(), ExitStatus::Restricted),
        (near_the_line(), ExitStatus::Undecided),
        (with(WaterStatus::Restricted, TakeAnswer::Keep), ExitStatus::Restricted),
        (with(WaterStatus::Restricted, TakeAnswer::Undecided), ExitStatus::Undecided),
        (with(WaterStatus::Unzoned, TakeAnswer::Unzoned), ExitStatus::Unrestricted),
        (kept(Tristate::Yes), ExitStatus::Unrestricted),
        (kept(Tristate::No), ExitStatus::Restricted),
        (kept(Tristate::Undecided), ExitStatus::Undecided),
    ] {
        assert_eq!(exit_status(&assessment), expected);
        assert_eq!(json_of(&assessment)["exit_status"], expected.code());
    }
}

/// Every number in a text, as it is printed.
fn numbers_in(text: &str) -> Vec<String> {
    let runs = text.split(|letter: char| !letter.is_ascii_digit() && letter != '.');
    let runs = runs.map(|run| run.trim_matches('.').to_owned());
    runs.filter(|run| run.chars().any(|letter| letter.is_ascii_digit())).collect()
}

/// Every string and every object of a document.
fn walk<'v>(value: &'v Value, each: &mut impl FnMut(&'v Value)) {
    each(value);
    match value {
        Value::Object(keys) => keys.values().for_each(|inner| walk(inner, each)),
        Value::Array(list) => list.iter().for_each(|inner| walk(inner, each)),
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
    }
}

/// How the numbers of a document may be printed: rounded, in kilometres, in percent, as an angle, as a position.
fn printed(document: &Value) -> BTreeSet<String> {
    let mut printed = BTreeSet::new();
    walk(document, &mut |value| {
        if let Some(number) = value.as_f64().map(f64::abs) {
            let ways =
                [number, number.ceil(), number * 100.0, number / 1000.0, (number / 10.0).round() * 10.0];
            for decimals in 0..2 {
                printed.extend(ways.map(|number| format!("{number:.decimals$}")));
            }
            printed.insert(format!("{number:03.0}"));
        }
        let degrees = |key: &str| value.get(key).and_then(Value::as_f64);
        if let (Some(latitude), Some(longitude)) = (degrees("latitude_deg"), degrees("longitude_deg")) {
            let position = takeline::Position::from_degrees(latitude, longitude).unwrap();
            printed.extend(numbers_in(&crate::figures::position(position)));
        }
        printed.extend(value.as_str().into_iter().flat_map(numbers_in));
    });
    printed
}

/// The numbers of a text that its document does not hold.
fn unexplained(text: &str, document: &Value) -> Vec<String> {
    let printed = printed(document);
    // 95 %, 100 km, SHA-256, and the ends that a share of certainty never passes
    let of_words = ["95", "100", "256", "1", "99"];
    let is_new = |number: &String| !printed.contains(number) && !of_words.contains(&number.as_str());
    numbers_in(text).into_iter().filter(is_new).collect()
}

#[test]
fn each_value_of_the_text_stands_in_the_json() {
    let remedies = Assessment { settle: samples::remedies(), ..near_the_line() };
    let warned = Assessment { warnings: samples::warnings(), water_because: samples::reasons(), ..closed() };
    let standoff = Assessment {
        standoff_kept: Some(Tristate::No),
        standoff_because: samples::reasons(),
        take: vec![sprat(), fish("cod", TakeAnswer::Undecided)],
        settle_first: Some(takeline::assess::Remedy::MoreDigits),
        settle: vec![takeline::assess::Remedy::MoreDigits],
        ..near_the_line()
    };
    let limited =
        Assessment { take: vec![sprat()], ..assessment(WaterStatus::Restricted, vec![lantern_reach()]) };
    let mut values = 0;
    for one in [closed(), outside(), season_unknown(), line_unknown(), remedies, warned, standoff, limited] {
        let (document, json) = (HereDocument::of(&one, &English), json_of(&one));
        let text = here_text(&document, 400);
        assert_eq!(unexplained(&text, &json), [""; 0], "{text}");
        assert_eq!(unexplained(&here_row_text(&document), &json), [""; 0]);
        let mut strings = BTreeSet::new();
        walk(&json, &mut |value| strings.extend(value.as_str()));
        for field in document.sections().iter().flat_map(|section| &section.fields) {
            let is_said = field.label.as_deref().is_none_or(|label| {
                ["because", "if", "also", "to settle", "to cross", "but", "assumed", "rule", "in force"]
                    .contains(&label)
            });
            assert!(!is_said || strings.contains(field.value.as_str()), "{field:?} is not in {json:#}");
            values += usize::from(is_said);
        }
    }
    assert!(values > 80, "{values}");
    // and it would be seen
    let moved = json_of(&assessment(WaterStatus::Unzoned, vec![sallow_cove(Containment::Outside, 39.0)]));
    let text = here_text(&HereDocument::of(&outside(), &English), 400);
    assert!(unexplained(&text, &moved).contains(&"38".to_owned()));
}

const PAGE: &str = include_str!("../../../../docs/json-output.md");

/// The example of the page: limited water, a sprat asked about.
fn example_of_the_page() -> Value {
    json_of(&Assessment { take: vec![sprat()], ..assessment(WaterStatus::Restricted, vec![lantern_reach()]) })
}

#[test]
fn the_example_in_the_docs_is_what_the_program_writes() {
    let example = PAGE.split("```json\n").nth(1).and_then(|rest| rest.split("```").next()).unwrap();
    let example: Value = serde_json::from_str(example).unwrap();
    assert_eq!(example, example_of_the_page(), "{:#}", example_of_the_page());
}

/// One of each kind of reason, condition, remedy and warning, as JSON.
fn codes() -> Vec<Value> {
    let values = [
        serde_json::to_value(samples::reasons()),
        serde_json::to_value(samples::remedies()),
        serde_json::to_value(samples::warnings()),
        serde_json::to_value(samples::assumptions()),
        serde_json::to_value(samples::missing_ways_out()),
        serde_json::to_value(samples::in_force_reasons()),
        serde_json::to_value(samples::rule_reasons()),
        serde_json::to_value(samples::conditions()),
        serde_json::to_value(samples::rule_remedies()),
        serde_json::to_value(samples::time_reasons()),
        serde_json::to_value(samples::rule_summaries()),
    ];
    values.into_iter().flat_map(|value| value.unwrap().as_array().unwrap().clone()).collect()
}

#[test]
fn what_is_said_as_data_has_a_code() {
    assert!(codes().len() > 150);
    for value in codes() {
        let code = value["code"].as_str().unwrap();
        assert!(!code.is_empty() && code.chars().all(|c| c.is_ascii_lowercase() || c == '-'), "{value}");
    }
}

#[test]
fn texts_and_codes_are_in_step() {
    let open = Assessment { take: vec![sprat()], standoff_kept: Some(Tristate::No), ..near_the_line() };
    let mut lists = 0;
    let mut values = vec![json_of(&open), json_of(&season_unknown())];
    while let Some(value) = values.pop() {
        for (key, codes) in value.as_object().into_iter().flatten() {
            if let Some(texts) = key.strip_suffix("_codes") {
                // the contract names the codes of conditions in the singular
                let texts = texts.replace("condition", "conditions");
                assert_eq!(codes.as_array().unwrap().len(), value[texts].as_array().unwrap().len(), "{key}");
                lists += 1;
            } else {
                values.push(codes.clone());
            }
        }
        values.extend(value.as_array().into_iter().flatten().cloned());
    }
    assert!(lists > 20, "{lists}");
}

#[test]
fn the_docs_describe_every_key() {
    let (tables, _) = PAGE.split_once("```json").unwrap();
    let standoff = Assessment { standoff_kept: Some(Tristate::No), ..near_the_line() };
    let mut values = vec![example_of_the_page(), json_of(&standoff)];
    values.extend(codes());
    while let Some(value) = values.pop() {
        for (key, inner) in value.as_object().into_iter().flatten() {
            assert!(tables.contains(&format!("`{key}`")), "docs/json-output.md does not describe {key}");
            values.push(inner.clone());
        }
        values.extend(value.as_array().into_iter().flatten().cloned());
    }
}
