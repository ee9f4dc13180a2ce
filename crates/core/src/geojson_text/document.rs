//! The frame that all our files share: a feature collection of features with ids.

use std::collections::HashMap;

use serde_json::{Map, Value};
use sha2::{Digest, Sha256};

use super::datum_name::datum;
use super::fault::FaultKind;
use super::limits::is_small_enough;
use super::log::{Log, shown, shown_text};
use super::strict_json::parse;
use crate::zone::Datum;

/// Reads bytes as JSON; a fault with line and column if they are not, and one without if there are too many.
pub(crate) fn json(log: &mut Log, bytes: &[u8]) -> Option<Value> {
    if !is_small_enough(log, bytes) {
        return None;
    }
    match parse(bytes) {
        Ok(value) => Some(value),
        Err(refused) => {
            let mend = if bytes.trim_ascii().is_empty() {
                "the file is empty; start from a template"
            } else if bytes.starts_with(b"\xFF\xFE") || bytes.starts_with(b"\xFE\xFF") {
                "save the file as UTF-8"
            } else if stands_for_no_number(bytes, refused.line, refused.column) {
                "JSON has no NaN and no Infinity; leave the member out if its value is not known"
            } else if refused.text.starts_with("the member") {
                "keep one of the two"
            } else {
                "look at this place and just before it for a comma, quote or bracket too many or too few"
            };
            log.fault_in_text((refused.line, refused.column), refused.text, mend);
            None
        }
    }
}

/// Whether a line has a word for "no number" just where it cannot be read; columns count from 1.
fn stands_for_no_number(bytes: &[u8], line: usize, column: usize) -> bool {
    let text = bytes.split(|byte| *byte == b'\n').nth(line.saturating_sub(1)).unwrap_or_default();
    let here = text.get(column.saturating_sub(2)..).unwrap_or_default();
    ["NaN", "-NaN", "Infinity", "-Infinity"].iter().any(|word| {
        let at_word = |skip: usize| here.get(skip..).is_some_and(|rest| rest.starts_with(word.as_bytes()));
        at_word(0) || at_word(1)
    })
}

/// The members and the features of a feature collection; a fault of the kind given if it is none.
pub(crate) fn collection<'v>(
    log: &mut Log,
    value: &'v Value,
    otherwise: FaultKind,
) -> Option<(&'v Map<String, Value>, &'v [Value])> {
    let mend = "write { \"type\": \"FeatureCollection\", \"takeline\": { … }, \"features\": [ … ] }";
    let kind = value.get("type").and_then(Value::as_str);
    let Some(members) = value.as_object().filter(|_| kind == Some("FeatureCollection")) else {
        let text = kind.map_or_else(
            || format!("{} is no feature collection", shown(value)),
            |kind| format!("a {} is no feature collection", shown_text(kind)),
        );
        log.fault(otherwise, text, mend);
        return None;
    };
    let features = members.get("features").and_then(Value::as_array);
    if features.is_none() {
        log.fault(otherwise, "has no list \"features\"", mend);
    }
    Some((members, features?))
}

/// Older GeoJSON could name a reference system; coordinates in another one than ours must not pass as ours.
pub(crate) fn reference_system(log: &mut Log, members: &Map<String, Value>) -> Option<Datum> {
    let system = members.get("crs").filter(|system| !system.is_null())?;
    let name = system.pointer("/properties/name").and_then(Value::as_str);
    log.within("crs", |log| {
        let Some(name) = name else {
            log.wrong(system, "take it out if the coordinates are longitudes and latitudes on WGS 84");
            return None;
        };
        datum(log, name)
    })
}

/// Reads the id of a feature: text, or a number taken as text. Nothing is reported here.
pub(crate) fn feature_id(feature: &Value) -> Option<String> {
    id_text(feature.get("id")?)
}

/// An id: text, or a number taken as text.
pub(crate) fn id_text(value: &Value) -> Option<String> {
    match value {
        Value::String(id) if !id.trim().is_empty() && !id.chars().any(char::is_control) => {
            Some(id.trim().to_owned())
        }
        Value::Number(id) => Some(id.to_string()),
        Value::Null | Value::Bool(_) | Value::String(_) | Value::Array(_) | Value::Object(_) => None,
    }
}

/// Reports an id that a feature before this one has; `before` holds the ids so far and the number of the feature of each.
pub(crate) fn refuse_duplicate<'i>(
    log: &mut Log,
    before: &mut HashMap<&'i str, usize>,
    (id, number): (&'i str, usize),
) {
    if let Some(first) = before.insert(id, number) {
        let text = format!("the id {} is that of feature {first} too", shown_text(id));
        log.fault(FaultKind::DuplicateId, text, "give each feature an id of its own");
    }
}

/// Whether an object says that it is a feature.
pub(crate) fn is_feature(members: &Map<String, Value>) -> bool {
    members.get("type").and_then(Value::as_str) == Some("Feature")
}

/// The id of a feature; a fault if it has none that can be read.
pub(crate) fn needed_id(log: &mut Log, members: &Map<String, Value>, example: &str) -> Option<String> {
    let id = members.get("id").and_then(id_text);
    if id.is_some() {
        return id;
    }
    let mend = &format!("give the feature an id beside its \"type\": \"id\": \"{example}\"");
    match members.get("id") {
        None | Some(Value::Null) => log.missing("id", mend),
        Some(other) => log.within("id", |log| log.wrong(other, mend)),
    }
    None
}

/// SHA-256 (FIPS 180-4) in lower-case hexadecimal.
pub(crate) fn sha256(bytes: &[u8]) -> String {
    hexadecimal(&Sha256::digest(bytes))
}

/// Bytes in lower-case hexadecimal.
pub(crate) fn hexadecimal(bytes: &[u8]) -> String {
    const DIGITS: &[u8; 16] = b"0123456789abcdef";
    let digit = |nibble: u8| char::from(DIGITS[usize::from(nibble & 15)]);
    bytes.iter().flat_map(|byte| [digit(byte >> 4), digit(*byte)]).collect()
}
