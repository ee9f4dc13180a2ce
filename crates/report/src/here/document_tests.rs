use serde_json::{Value, json};
use takeline::test_util::samples;
use takeline::{Assessment, TakeAnswer, Tristate, WaterStatus};

use super::here_json;
use super::test_fixtures::*;
use crate::words::English;
use crate::{ExitStatus, exit_status};

fn json_of(assessment: &Assessment) -> Value {
    serde_json::to_value(here_json(assessment, &English)).unwrap()
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
    let mut document = here_json(&assessment, &English);
    document.row = Some(7);
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
