//! Whether the keys of a JSON document tell the units of their numbers.

use serde_json::Value;

/// How a key ends that tells a unit.
const UNITS: [&str; 11] =
    ["_deg", "_m", "_m2", "_s", "_min", "_minutes", "_days", "_kn", "_cm", "_arcmin", "_arcmin_per_m"];

/// Returns where numbers stand under no key that tells a unit, nor one of `plain`: shares, counts, numbers of things.
///
/// A key tells the unit of all that stands under it: `"speed_kn": { "min": 1.5 }`. One of `plain` speaks of its own number or list
/// of numbers alone: objects under it are looked into.
///
/// # Examples
///
/// ```
/// use takeline_test_util::bare_numbers;
///
/// let document = serde_json::json!({ "visits": [{ "path_m": 20.0, "speed": [1.5, 2.0] }], "fixes": 3 });
/// assert_eq!(bare_numbers(&document, &["fixes"]), ["visits.speed", "visits.speed"]);
/// assert_eq!(bare_numbers(&document, &["fixes", "visits"]), ["visits.speed", "visits.speed"]);
/// ```
#[must_use]
pub fn bare_numbers(document: &Value, plain: &[&str]) -> Vec<String> {
    let mut found = Vec::new();
    look("", document, plain, &mut found);
    found
}

fn look(path: &str, value: &Value, plain: &[&str], found: &mut Vec<String>) {
    match value {
        Value::Number(_) => found.push(path.to_owned()),
        Value::Array(values) => values.iter().for_each(|value| look(path, value, plain, found)),
        Value::Object(members) => {
            for (key, value) in members {
                let is_plain = plain.contains(&key.as_str()) && is_of_numbers(value);
                if is_plain || UNITS.iter().any(|unit| key.ends_with(unit)) {
                    continue;
                }
                let path = if path.is_empty() { key.clone() } else { format!("{path}.{key}") };
                look(&path, value, plain, found);
            }
        }
        Value::Null | Value::Bool(_) | Value::String(_) => {}
    }
}

/// Whether this is a number or a list of numbers, however deep.
fn is_of_numbers(value: &Value) -> bool {
    match value {
        Value::Number(_) | Value::Null => true,
        Value::Array(values) => values.iter().all(is_of_numbers),
        Value::Bool(_) | Value::String(_) | Value::Object(_) => false,
    }
}
