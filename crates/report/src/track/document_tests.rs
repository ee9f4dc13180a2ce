use serde_json::Value;
use takeline::TakeAnswer;
use takeline::test_util::samples;
use takeline::track::{Certainty, ConditionReason, Evidence, Motion, NoPosition, Reason, Remedy};

use super::test_fixtures::*;
use super::{AuditReport, TRACK_CSV_COLUMNS, TrackDocument, TrimmedEnds, track_csv};
use crate::words::English;

fn whole_json() -> Value {
    let audit = with(vec![visit(Certainty::Certain, Evidence::Fixes)]);
    let zones = zones();
    let catches = [caught(TakeAnswer::Release)];
    let report = AuditReport { catches: Some(&catches), notes: vec![lost()], ..report(&audit, &zones) };
    serde_json::to_value(TrackDocument::of(&report, &English)).unwrap()
}

/// The keys of the contract, as `docs/track-output.md` lists them.
#[test]
fn every_key_of_the_contract_is_there() {
    let value = whole_json();
    let keys_of = |value: &Value, keys: &str| {
        for key in keys.split(' ') {
            assert!(value.get(key).is_some(), "{key} is missing in {value}");
        }
    };
    keys_of(&value, "schema input quality visits closest_approach catches exit_status");
    keys_of(&value["input"], "path sha256 fixes first_time last_time");
    keys_of(&value["quality"], "duplicates out_of_order spikes gaps without_time");
    let visit = &value["visits"][0];
    keys_of(visit, "zone_id certainty entered left certain_s possible_s deepest_m path_m speed_kn evidence");
    keys_of(&visit["entered"], "time latitude_deg longitude_deg");
    keys_of(&visit["speed_kn"], "min mean max");
    keys_of(&value["closest_approach"][0], "zone_id signed_distance_m time latitude_deg longitude_deg");
    keys_of(&value["catches"][0], "row asked time latitude_deg longitude_deg answer because");
    assert_eq!(value["schema"], "takeline.track/1");
    assert_eq!(visit["evidence"], "fixes");
    assert_eq!(visit["certain_s"], 720.0);
    assert_eq!(value["exit_status"], 1);
}

#[test]
fn the_docs_describe_every_key_and_column() {
    let page = include_str!("../../../../docs/track-output.md");
    let (mut values, mut coded) = (vec![whole_json()], Vec::new());
    while let Some(value) = values.pop() {
        for (key, inner) in value.as_object().into_iter().flatten() {
            assert!(page.contains(&format!("`{key}`")), "docs/track-output.md does not describe {key}");
            let is_code = key.ends_with("_code") || key.ends_with("_codes");
            if is_code { &mut coded } else { &mut values }.push(inner.clone());
        }
        values.extend(value.as_array().into_iter().flatten().cloned());
    }
    let motions = samples::motions();
    let reasons = samples::condition_reasons();
    let codes = motions.iter().map(Motion::code);
    let conditions = ["min-speed", "max-stop", "keep-going", "gear-state", "law"];
    let (of_visits, remedies) = (samples::track_reasons(), samples::track_remedies());
    let missing = samples::missing_positions();
    let codes = codes.chain(conditions).chain(reasons.iter().map(ConditionReason::code));
    let codes = codes.chain(of_visits.iter().map(Reason::code)).chain(remedies.iter().map(Remedy::code));
    for code in codes.chain(missing.iter().map(NoPosition::code)) {
        assert!(page.contains(&format!("`{code}`")), "docs/track-output.md does not describe {code}");
    }
    let both = format!("{page}{}", include_str!("../../../../docs/json-output.md"));
    let mut values = coded;
    values.push(serde_json::to_value((of_visits, remedies)).unwrap());
    while let Some(value) = values.pop() {
        for (key, inner) in value.as_object().into_iter().flatten() {
            assert!(both.contains(&format!("`{key}`")), "no page describes {key} of a code");
            values.push(inner.clone());
        }
        values.extend(value.as_array().into_iter().flatten().cloned());
    }
    for column in TRACK_CSV_COLUMNS {
        assert!(page.contains(&format!("`{column}`")), "docs/track-output.md does not describe {column}");
    }
}

#[test]
fn a_table_has_one_row_per_visit_and_can_be_read_back() {
    let audit =
        with(vec![visit(Certainty::Certain, Evidence::Fixes), visit(Certainty::Possible, Evidence::Gap)]);
    let zones = zones();
    let mut odd = report(&audit, &zones);
    odd.input.path = "july, \"wet\".gpx".into();
    let table = track_csv([&TrackDocument::of(&odd, &English)]).unwrap();
    assert_eq!(table.matches("\r\n").count(), 3);
    let mut reader = csv::Reader::from_reader(table.as_bytes());
    let rows: Vec<_> = reader.records().map(Result::unwrap).collect();
    assert_eq!(&rows[0][0], "july, \"wet\".gpx");
    assert_eq!(&rows[0][5], "certain");
    assert_eq!(&rows[0][8], "2026-07-25T06:31:04Z");
    assert_eq!(&rows[1][6], "gap");
}

#[test]
fn withheld_positions_are_null_in_json_and_empty_in_the_table() {
    let audit = with(vec![visit(Certainty::Certain, Evidence::Fixes)]);
    let zones = zones();
    // 45.115 N: 0.001° of longitude are 79 m; the visit ends 79 m from the last fix and 394 m from the first
    let trimmed = Some(TrimmedEnds::of(&audit, metres(100.0)));
    let report = AuditReport { trimmed, ..report(&audit, &zones) };
    let document = TrackDocument::of(&report, &English);
    let value = serde_json::to_value(&document).unwrap();
    assert!(value["visits"][0]["left"]["latitude_deg"].is_null());
    assert_eq!(value["visits"][0]["left"]["time"], "2026-07-25T06:43:20Z");
    assert!(value["closest_approach"][0]["latitude_deg"].is_number());
    let table = track_csv([&document]).unwrap();
    assert!(!table.contains("-30.117"), "{table}");
    // nor do figures in full precision give the place of a catch away
    let catches = [caught(TakeAnswer::Release)];
    let codes = |trimmed| {
        let report = AuditReport { trimmed, catches: Some(&catches), ..report.clone() };
        let value = serde_json::to_value(TrackDocument::of(&report, &English)).unwrap();
        (value["catches"][0]["because"].clone(), value["catches"][0]["because_codes"].clone())
    };
    let (because, shown) = codes(None);
    assert_eq!(shown.as_array().unwrap().len(), because.as_array().unwrap().len());
    assert_eq!(codes(Some(TrimmedEnds::of(&audit, metres(10_000.0)))), (because, serde_json::json!([])));
}
