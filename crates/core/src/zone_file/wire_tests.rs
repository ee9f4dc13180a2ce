use serde_json::json;

use super::wire::WireObject;
use super::*;
use crate::EdgeModel;

#[test]
fn what_wire_types_write_they_read_again() {
    let when = json!({ "any": [{ "weekdays": ["sunday"] }, { "not": { "yearly": { "from": "05-01", "to": "08-31" } } }] });
    let properties = json!({ "name": "Sallow Cove", "edges": ["rhumb"], "take": { "only": ["sprat", { "taxa": ["sprat"],
        "bag": { "count": 5, "per": "person-day" } }] }, "when": when, "crossing": { "allowed": "unstated" },
        "source": { "instrument": "Marrowick Order 3" }, "x-fid": 3 });
    let wire: wire::WireProperties = serde_json::from_value(properties.clone()).expect("is read");
    assert_eq!(serde_json::to_value(&wire).expect("is written"), properties);
    assert!(wire::WireProperties::KEYS.contains(&"may_change_by_notice"));
    assert_eq!(wire.other().len(), 1);
}

#[test]
fn edge_words_are_written_as_they_are_read() {
    let word = serde_json::to_value(wire::Word(EdgeModel::RhumbLine)).expect("is written");
    assert_eq!(word, json!("rhumb"));
}
