//! Records in a zone file who read its zones against the printed law, and leaves every other byte of it alone.

use std::collections::HashMap;
use std::ops::Range;

use jiff::civil::Date;
use serde::Deserialize;
use serde_json::value::RawValue;
use serde_json::{Value, json};
use takeline::zone_file::{self, LoadZonesError};

/// Who read zones against the printed law.
///
/// # Examples
///
/// ```
/// use takeline_drafting::proofreading::{Reading, record};
///
/// let bytes = std::fs::read("../../demo-data/zones/marrowick.json")?;
/// let reading = Reading { by: vec!["A. B.".into(), "C. D.".into()], on: "2026-06-03".parse()?, against: None };
/// let (after, recorded) = record("marrowick.json", &bytes, &["sallow-cove"], &reading)?;
/// assert_eq!(recorded, ["sallow-cove"]);
/// let cove = takeline::zone_file::read("marrowick.json", &after)?.zones.remove(0);
/// assert_eq!(cove.proofread.unwrap().by, ["A. B.", "C. D."]);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reading {
    /// Names or initials of those who read; at least one.
    pub by: Vec<String>,
    /// The day they did.
    pub on: Date,
    /// The edition of the law that they read the zones against.
    pub against: Option<String>,
}

/// Why a reading was not recorded.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum RecordError {
    /// The file is no zone file without faults.
    #[error(transparent)]
    Refused(#[from] LoadZonesError),
    /// It holds no zone of this id.
    #[error("{path} has no zone {id}; `takeline zones show {path}` lists them all")]
    NoSuchZone {
        /// The file.
        path: String,
        /// The id.
        id: String,
    },
    /// Nobody is named.
    #[error("nobody is named who read it; give their names or initials")]
    NobodyNamed,
    /// The text cannot be changed in these places alone.
    #[error(
        "the record cannot be put into {path} without changing more of it: {why}; write \"proofread\" by hand"
    )]
    NotInPlace {
        /// The file.
        path: String,
        /// Why.
        why: String,
    },
}

/// A collection whose features are kept as they are written.
#[derive(Deserialize)]
struct RawFile<'t> {
    #[serde(borrow)]
    features: Vec<&'t RawValue>,
    #[serde(default)]
    takeline: Value,
}

#[derive(Deserialize)]
struct RawFeature<'t> {
    id: Value,
    #[serde(borrow)]
    properties: &'t RawValue,
}

/// Records a reading in the zones with these ids, or in all where there are none; returns the text and the ids recorded.
///
/// What was recorded of these zones before is replaced. Every other byte stays as it is.
///
/// # Errors
///
/// [`RecordError`]; a file with a fault takes no record.
pub fn record(
    path_label: &str,
    bytes: &[u8],
    ids: &[&str],
    reading: &Reading,
) -> Result<(Vec<u8>, Vec<String>), RecordError> {
    let loaded = zone_file::read(path_label, bytes)?;
    let unknown = ids.iter().find(|id| !loaded.zones.iter().any(|zone| zone.id.0 == **id));
    if let Some(id) = unknown {
        return Err(RecordError::NoSuchZone { path: path_label.to_owned(), id: (*id).to_owned() });
    }
    if reading.by.iter().all(|name| name.trim().is_empty()) {
        return Err(RecordError::NobodyNamed);
    }
    let not_in_place = |why: String| RecordError::NotInPlace { path: path_label.to_owned(), why };
    let bare = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    let text = str::from_utf8(bare).map_err(|error| not_in_place(error.to_string()))?;
    let edits = edits(text, ids, reading).map_err(|error| not_in_place(error.to_string()))?;
    let mut after = bytes[..bytes.len() - bare.len()].to_vec();
    let (mut at, mut recorded) = (0, Vec::new());
    for Edit { place, text: inserted, id } in edits {
        after.extend_from_slice(&bare[at..place.start]);
        after.extend_from_slice(inserted.as_bytes());
        at = place.end;
        recorded.push(id);
    }
    after.extend_from_slice(&bare[at..]);
    is_what_was_meant((path_label, bare, &after), &recorded).map_err(not_in_place)?;
    Ok((after, recorded))
}

/// A place of the text, what stands there afterwards, and the zone that it is about.
struct Edit {
    place: Range<usize>,
    text: String,
    id: String,
}

fn edits(text: &str, ids: &[&str], reading: &Reading) -> serde_json::Result<Vec<Edit>> {
    let file: RawFile<'_> = serde_json::from_str(text)?;
    let mut edits = Vec::new();
    for feature in file.features {
        let RawFeature { id, properties } = serde_json::from_str(feature.get())?;
        let id = id.as_str().map_or_else(|| id.to_string(), str::to_owned);
        if !ids.is_empty() && !ids.contains(&id.as_str()) {
            continue;
        }
        let whole: Value = serde_json::from_str(feature.get())?;
        let mut record = json!({ "by": reading.by, "on": reading.on });
        if let Some(against) = &reading.against {
            record["against"] = json!(against);
        }
        record["of"] = zone_file::content_digest(&whole, &file.takeline).into();
        let members: HashMap<String, &RawValue> = serde_json::from_str(properties.get())?;
        let (place, text) = match members.get("proofread") {
            Some(old) => (span(text, old.get()), record.to_string()),
            None => behind_the_last(text, properties.get(), &members, &record),
        };
        edits.push(Edit { place, text, id });
    }
    Ok(edits)
}

/// Where a part of a text stands in it.
fn span(text: &str, part: &str) -> Range<usize> {
    let start = part.as_ptr().addr() - text.as_ptr().addr();
    start..start + part.len()
}

/// A new member behind the last one, set off as the first one is.
fn behind_the_last(
    text: &str,
    object: &str,
    members: &HashMap<String, &RawValue>,
    record: &Value,
) -> (Range<usize>, String) {
    let inner = object.trim_start_matches('{');
    let gap = &inner[..inner.len() - inner.trim_start().len()];
    let gap = if gap.is_empty() || gap.contains('\n') { gap } else { " " };
    let colon = if gap.is_empty() { ":" } else { ": " };
    let ends = members.values().map(|value| span(text, value.get()).end).max();
    let at = ends.unwrap_or_else(|| span(text, object).start + 1);
    (at..at, format!(",{gap}\"proofread\"{colon}{record}"))
}

/// Whether the new text says all that the old one did, and of the zones recorded that they are what was read.
fn is_what_was_meant((path, before, after): (&str, &[u8], &[u8]), recorded: &[String]) -> Result<(), String> {
    let bare = |bytes: &[u8]| -> serde_json::Result<Value> {
        let mut value: Value = serde_json::from_slice(bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes))?;
        for feature in value.get_mut("features").and_then(Value::as_array_mut).into_iter().flatten() {
            let id = feature.get("id").map(|id| id.as_str().map_or_else(|| id.to_string(), str::to_owned));
            let is_recorded = id.is_some_and(|id| recorded.contains(&id));
            if let Some(properties) = feature.get_mut("properties").and_then(Value::as_object_mut)
                && is_recorded
            {
                properties.shift_remove("proofread");
            }
        }
        Ok(value)
    };
    let same =
        bare(before).and_then(|before| Ok(before == bare(after)?)).map_err(|error| error.to_string())?;
    if !same {
        return Err("other members would change".into());
    }
    let loaded = zone_file::read(path, after).map_err(|error| error.to_string())?;
    let is_kept = |id: &String| {
        let zone = loaded.zones.iter().find(|zone| zone.id.0 == *id);
        zone.and_then(|zone| zone.proofread.as_ref())
            .is_some_and(|record| record.unchanged == takeline::Tristate::Yes)
    };
    if recorded.iter().all(is_kept) { Ok(()) } else { Err("the record would not be found again".into()) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn reading() -> Reading {
        Reading {
            by: vec!["A. B.".into(), "C. D.".into()],
            on: "2026-06-03".parse().unwrap(),
            against: Some("edition of 2024".into()),
        }
    }

    const SPREAD: &str = r#"{
  "type": "FeatureCollection",
  "takeline": { "format": "takeline.zones/1", "datum": "WGS 84" },
  "features": [
    { "type": "Feature", "id": "cove", "geometry": { "type": "Point", "coordinates": [-30.10, 45.10] },
      "properties": {
        "radius_m": 150,
        "take": "none",
        "source": { "instrument": "Marrowick \"Order\" 3 {" }
      }
    },
    { "type": "Feature", "id": 7, "geometry": { "type": "Point", "coordinates": [-30.2, 45.1] },
      "properties": { "radius_m": 1.5e2, "take": "none", "source": { "instrument": "Order 4" } } }
  ]
}
"#;

    #[test]
    fn nothing_but_the_record_changes() {
        let (after, recorded) = record("cove.json", SPREAD.as_bytes(), &[], &reading()).unwrap();
        assert_eq!(recorded, ["cove", "7"]);
        let after = String::from_utf8(after).unwrap();
        let without: Vec<&str> = after.lines().filter(|line| !line.contains("\"proofread\"")).collect();
        assert!(without.iter().all(|line| SPREAD.contains(line.trim_end_matches(','))), "{after}");
        let added: Vec<&str> = after.lines().filter(|line| line.contains("\"proofread\"")).collect();
        assert!(added[0].starts_with("        \"proofread\": {\"by\":[\"A. B.\",\"C. D.\"]"), "{}", added[0]);
        assert!(added[1].ends_with("} } }") && added[1].contains("1.5e2"), "{}", added[1]);
    }

    #[test]
    fn a_second_reading_takes_the_place_of_the_first() {
        let (once, _) = record("cove.json", SPREAD.as_bytes(), &["cove"], &reading()).unwrap();
        let later = Reading { by: vec!["E. F.".into()], on: "2026-07-01".parse().unwrap(), against: None };
        let (twice, recorded) = record("cove.json", &once, &["cove"], &later).unwrap();
        let twice = String::from_utf8(twice).unwrap();
        assert_eq!(recorded, ["cove"]);
        assert_eq!(twice.matches("\"proofread\"").count(), 1);
        assert!(twice.contains("E. F.") && !twice.contains("A. B."));
    }

    #[test]
    fn a_file_without_blanks_and_one_with_a_mark_of_its_order_of_bytes_stay_so() {
        let packed = serde_json::from_str::<Value>(SPREAD).unwrap().to_string();
        let (after, _) = record("cove.json", packed.as_bytes(), &[], &reading()).unwrap();
        let after = String::from_utf8(after).unwrap();
        assert!(after.contains("},\"proofread\":{\"by\"") && !after.contains(": "), "{after}");
        let marked = [b"\xEF\xBB\xBF".as_slice(), SPREAD.as_bytes()].concat();
        let (after, _) = record("cove.json", &marked, &["7"], &reading()).unwrap();
        assert!(after.starts_with(b"\xEF\xBB\xBF{"));
    }

    #[test]
    fn every_zone_of_marrowick_takes_a_record() {
        let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo-data/zones/marrowick.json");
        let bytes = std::fs::read(path).unwrap();
        let (after, recorded) = record("marrowick.json", &bytes, &[], &reading()).unwrap();
        let loaded = zone_file::read("marrowick.json", &after).unwrap();
        assert_eq!(loaded.zones.len(), recorded.len());
        assert!(loaded.warnings.is_empty());
    }

    #[test]
    fn no_record_is_made_for_nobody_or_of_a_zone_that_is_not_there() {
        let nobody = Reading { by: vec![" ".into()], ..reading() };
        let refused = record("cove.json", SPREAD.as_bytes(), &[], &nobody).unwrap_err();
        assert!(matches!(refused, RecordError::NobodyNamed));
        let refused = record("cove.json", SPREAD.as_bytes(), &["creek"], &reading()).unwrap_err();
        assert!(refused.to_string().contains("no zone creek"));
        assert!(matches!(record("cove.json", b"{}", &[], &reading()), Err(RecordError::Refused(_))));
    }
}
