use serde_json::{Value, json};

use super::{FaultKind, WarningKind, content_digest, read};
use crate::Tristate;

/// A file of one zone with this record.
fn file(proofread: &Value) -> Value {
    json!({
        "type": "FeatureCollection",
        "takeline": { "format": "takeline.zones/1", "datum": "WGS 84" },
        "features": [{
            "type": "Feature",
            "id": "sallow-cove",
            "geometry": { "type": "Polygon", "coordinates":
                [[[-30.13, 45.11], [-30.11, 45.11], [-30.11, 45.125], [-30.13, 45.125], [-30.13, 45.11]]] },
            "properties": {
                "edges": "rhumb", "take": "none", "proofread": proofread,
                "source": { "instrument": "Marrowick Order 3" }
            }
        }]
    })
}

/// The record of somebody who read the zone as [`file`] has it.
fn record() -> Value {
    let feature = &file(&Value::Null)["features"][0];
    json!({
        "by": ["A. B.", "C. D."], "on": "2026-05-01", "against": "2026 edition",
        "of": content_digest(feature, &json!({ "datum": "WGS 84" }))
    })
}

/// Whether the zone is what was read, and the codes of the warnings.
fn found(file: &Value) -> (Tristate, Vec<WarningKind>) {
    let loaded = read("cove.json", file.to_string().as_bytes()).unwrap();
    let proofread = loaded.zones[0].proofread.as_ref().unwrap();
    assert_eq!((proofread.by.len(), proofread.on.to_string()), (2, "2026-05-01".to_owned()));
    (proofread.unchanged, loaded.warnings.iter().map(|warning| warning.kind).collect())
}

#[test]
fn a_zone_that_is_what_was_read_says_so_however_it_is_laid_out() {
    let file = file(&record());
    assert_eq!(found(&file), (Tristate::Yes, vec![]));
    let spread = serde_json::to_string_pretty(&file).unwrap();
    let loaded = read("cove.json", spread.as_bytes()).unwrap();
    assert_eq!(loaded.zones[0].proofread.as_ref().unwrap().unchanged, Tristate::Yes);
}

#[test]
fn any_change_after_the_reading_voids_it_and_is_told() {
    let changes: [fn(&mut Value); 5] = [
        |file| file["features"][0]["geometry"]["coordinates"][0][1][0] = json!(-30.111),
        |file| file["features"][0]["properties"]["take"] = json!("anything"),
        |file| file["features"][0]["properties"]["edges"] = json!("geodesic"),
        |file| file["takeline"]["datum"] = json!("NAD83"),
        |file| file["takeline"]["time_zone"] = json!("Atlantic/Azores"),
    ];
    for (number, change) in changes.into_iter().enumerate() {
        let mut file = file(&record());
        change(&mut file);
        assert_eq!(found(&file), (Tristate::No, vec![WarningKind::ProofreadVoid]), "change {number}");
    }
}

#[test]
fn remarks_and_the_way_numbers_are_written_void_nothing() {
    let mut file = file(&record());
    let properties = &mut file["features"][0]["properties"];
    properties["comment"] = json!("compared with the chart too");
    properties["x-source"] = json!({ "row": 3 });
    assert_eq!(found(&file), (Tristate::Yes, vec![]));
    let written = |edge: &str| {
        let feature = format!("{{ \"properties\": {{ \"take\": \"none\", \"radius_m\": {edge} }} }}");
        content_digest(&serde_json::from_str(&feature).unwrap(), &Value::Null)
    };
    assert_eq!(written("150"), written("1.5e2"));
    assert_eq!(written("150"), written("150.0"));
    assert_ne!(written("150"), written("150.1"));
    assert_eq!(written("0"), written("-0.0"));
}

/// What fish a group holds is what the rule says, though it stands in the head.
#[test]
fn a_change_of_the_fish_that_a_rule_names_voids_the_reading_and_of_others_does_not() {
    let feature = json!({ "id": "reach", "properties": { "take": { "only": [{ "taxa": ["bait-fish"] }] } } });
    let head = json!({
        "taxa": [
            { "id": "sand-eel", "names": ["sand eel"] }, { "id": "herring" }, { "id": "sprat", "parent": "herring" },
            { "id": "cod" }, { "id": "ling", "parent": "cod" }
        ],
        "groups": [
            { "id": "bait-fish", "members": ["sand-eel", "small"], "except": [] },
            { "id": "small", "members": ["herring"] }, { "id": "large", "members": ["cod"] }
        ],
        "coast": ["coast.geojson"]
    });
    let digest = |change: fn(&mut Value)| {
        let mut head = head.clone();
        change(&mut head);
        content_digest(&feature, &head)
    };
    let before = digest(|_| ());
    let voids: [fn(&mut Value); 5] = [
        |head| head["groups"][0]["members"] = json!(["cod"]),
        |head| head["groups"][0]["except"] = json!(["sprat"]),
        |head| head["groups"][1]["members"] = json!(["cod"]),
        |head| head["taxa"][2]["parent"] = json!("cod"),
        |head| head["taxa"][0]["names"] = json!(["lance"]),
    ];
    for (number, change) in voids.into_iter().enumerate() {
        assert_ne!(digest(change), before, "change {number}");
    }
    let others: [fn(&mut Value); 4] = [
        |head| head["groups"][2]["members"] = json!([]),
        |head| head["taxa"][4]["parent"] = Value::Null,
        |head| head["title"] = json!("Marrowick"),
        |head| head["coast"] = json!([]),
    ];
    for (number, change) in others.into_iter().enumerate() {
        assert_eq!(digest(change), before, "other {number}");
    }
}

#[test]
fn another_zone_may_change_without_a_word() {
    let mut file = file(&record());
    let mut other = file["features"][0].clone();
    other["id"] = json!("other");
    other["properties"].as_object_mut().unwrap().remove("proofread");
    file["features"].as_array_mut().unwrap().push(other);
    file["takeline"]["title"] = json!("Marrowick");
    assert_eq!(found(&file), (Tristate::Yes, vec![]));
}

#[test]
fn a_record_without_a_digest_leaves_open_whether_the_zone_changed() {
    let mut record = record();
    record.as_object_mut().unwrap().remove("of");
    assert_eq!(found(&file(&record)), (Tristate::Undecided, vec![]));
}

#[test]
fn a_record_that_says_too_little_or_too_much_is_refused() {
    let with = |change: fn(&mut Value)| {
        let mut record = record();
        change(&mut record);
        record
    };
    let cases = [
        (json!("A. B."), FaultKind::WrongValue, "proofread"),
        (with(|record| record["by"] = json!([])), FaultKind::MissingMember, "by"),
        (with(|record| drop(record.as_object_mut().unwrap().remove("on"))), FaultKind::MissingMember, "on"),
        (with(|record| record["on"] = json!("1 May")), FaultKind::WrongValue, "on"),
        (with(|record| record["of"] = json!("sha256:12")), FaultKind::WrongValue, "of"),
        (with(|record| record["reader"] = json!("A. B.")), FaultKind::UnknownMember, "reader"),
    ];
    for (record, kind, word) in cases {
        let refused = read("cove.json", file(&record).to_string().as_bytes()).unwrap_err();
        let fault = &refused.faults[0];
        assert_eq!(fault.kind, kind, "{fault}");
        assert!(fault.to_string().contains(word) && !fault.mend.is_empty(), "{fault}");
    }
}
