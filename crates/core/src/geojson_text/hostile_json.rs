//! Documents for tests of hostile input.

use proptest::prelude::*;
use serde_json::Value;

/// Any JSON whose texts and names are often ones that a format knows.
pub(crate) fn any_json(
    word: impl Strategy<Value = String> + Clone + 'static,
) -> impl Strategy<Value = Value> {
    let leaf = prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        any::<f64>().prop_map(Value::from),
        any::<i64>().prop_map(Value::from),
        word.clone().prop_map(Value::from),
    ];
    leaf.prop_recursive(6, 60, 8, move |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..8).prop_map(Value::from),
            prop::collection::hash_map(word.clone(), inner, 0..8)
                .prop_map(|members| Value::Object(members.into_iter().collect())),
        ]
    })
}

/// All places of a document that can be replaced.
pub(crate) fn pointers(value: &Value, here: &str, found: &mut Vec<String>) {
    found.push(here.to_owned());
    if let Some(list) = value.as_array() {
        list.iter().enumerate().for_each(|(i, entry)| pointers(entry, &format!("{here}/{i}"), found));
    }
    if let Some(members) = value.as_object() {
        for (key, member) in members {
            pointers(member, &format!("{here}/{}", key.replace('~', "~0").replace('/', "~1")), found);
        }
    }
}
