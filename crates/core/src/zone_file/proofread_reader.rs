//! Who read a zone against the printed law, and whether it is still what they read.

use serde_json::{Map, Value};

use super::wire::{WireHeader, WireObject, WireProofread, WireProperties};
use super::zone_reader::{Apart, FileContext};
use super::{FaultKind, WarningKind};
use crate::Tristate;
use crate::geojson_text::{Log, Slot, is_remark, sha256, shown_text, strict_json};
use crate::zone::Proofread;

const MEND: &str =
    "write { \"by\": [\"A. B.\", \"C. D.\"], \"on\": \"2026-05-01\", \"against\": \"2026 edition\" }";
/// Which digest it is; another kind would have another name.
const KIND: &str = "sha256:";

/// What the head of a file says that every zone in it goes by, as it is written.
#[derive(Debug, Clone, Default)]
pub(super) struct HeadWords {
    datum: Option<String>,
    time_zone: Option<String>,
}

impl HeadWords {
    pub(super) fn of(head: &WireHeader) -> Self {
        Self { datum: head.datum.get().cloned(), time_zone: head.time_zone.get().cloned() }
    }
}

impl FileContext {
    /// The digest of a feature; none if its text cannot be read again.
    pub(super) fn content_of(&self, feature: &Value, apart: Option<Apart<'_>>) -> Option<String> {
        let whole = apart.map(|apart| strict_json(apart.text)).transpose().ok()?;
        let (datum, time_zone) = (self.head.datum.as_deref(), self.head.time_zone.as_deref());
        Some(content_digest(whole.as_ref().unwrap_or(feature), datum, time_zone))
    }
}

/// Returns the SHA-256 of the bytes of a file in lower-case hexadecimal, as manifests and answers have it, whether or not it is a
/// sound zone file.
///
/// # Examples
///
/// ```
/// assert!(takeline::zone_file::file_digest(b"{}").starts_with("44136fa355b3678a"));
/// ```
#[must_use]
pub fn file_digest(bytes: &[u8]) -> String {
    sha256(bytes)
}

/// Returns a digest of all that a feature says but `proofread`, and of the datum and time zone that the head of its file gives.
///
/// The order of members, blanks and line breaks make no difference, nor does whether a number is written 2 or 2.0, nor do remarks
/// among the properties: `comment`, `description`, `note` and names that start with `x-`.
///
/// # Examples
///
/// ```
/// use serde_json::json;
/// use takeline::zone_file::content_digest;
///
/// let read = json!({ "id": "cove", "properties": { "take": "none", "proofread": { "by": ["A. B."] } } });
/// let same = json!({ "properties": { "take": "none", "comment": "read twice" }, "id": "cove" });
/// assert_eq!(content_digest(&read, Some("WGS 84"), None), content_digest(&same, Some("WGS 84"), None));
/// assert_ne!(content_digest(&read, Some("WGS 84"), None), content_digest(&same, Some("ED 50"), None));
/// ```
#[must_use]
pub fn content_digest(feature: &Value, datum: Option<&str>, time_zone: Option<&str>) -> String {
    let mut feature = feature.clone();
    if let Some(properties) = feature.get_mut("properties").and_then(Value::as_object_mut) {
        properties.retain(|key, _| key != "proofread" && !is_only_a_remark(key));
    }
    whole_numbers(&mut feature);
    let mut whole = Map::new();
    whole.insert("feature".into(), feature);
    whole.insert("datum".into(), datum.into());
    whole.insert("time_zone".into(), time_zone.into());
    let mut whole = Value::Object(whole);
    whole.sort_all_objects();
    format!("{KIND}{}", sha256(whole.to_string().as_bytes()))
}

/// Whether nothing is ever read from a property of this name.
fn is_only_a_remark(key: &str) -> bool {
    is_remark(key) && !WireProperties::KEYS.contains(&key)
}

/// Writes numbers without a fraction as such: 2 for 2.0.
fn whole_numbers(value: &mut Value) {
    /// Up to here every whole number is exact.
    const LARGEST: f64 = 9_007_199_254_740_992.0;
    match value {
        Value::Number(number) => {
            let whole = number.as_f64().filter(|_| number.is_f64());
            let whole = whole.filter(|found| found.fract() == 0.0 && found.abs() < LARGEST);
            // with no digit behind the point, what is printed is the whole number
            if let Some(whole) = whole.and_then(|found| format!("{:.0}", found + 0.0).parse::<i64>().ok()) {
                *value = whole.into();
            }
        }
        Value::Array(list) => list.iter_mut().for_each(whole_numbers),
        Value::Object(members) => members.values_mut().for_each(whole_numbers),
        Value::Null | Value::Bool(_) | Value::String(_) => {}
    }
}

/// Reads the record; `content` works out what the zone says now, if it is needed.
pub(super) fn proofread(
    log: &mut Log,
    slot: &Slot<WireProofread>,
    content: impl FnOnce() -> Option<String>,
) -> Option<Proofread> {
    let wire = log.given("proofread", slot, MEND)?;
    log.within("proofread", |log| {
        log.unknown_members(wire);
        let before = log.faults_so_far();
        let by = log.texts("by", &wire.by);
        if by.is_empty() && log.faults_so_far() == before {
            log.missing("by", "write who read it: \"by\": [\"A. B.\", \"C. D.\"]");
        }
        let on = log.needed_date("on", &wire.on);
        let against = log.text("against", &wire.against);
        let then = log.text("of", &wire.of);
        let then = then.filter(|text| {
            let is_digest = text.strip_prefix(KIND).is_some_and(|digits| {
                digits.len() == 64 && digits.bytes().all(|digit| digit.is_ascii_hexdigit())
            });
            if !is_digest {
                let said = format!("{} is no digest of a zone", shown_text(text));
                let mend = "leave \"of\" out, or let `takeline zones show --proofread-by` write the record";
                log.within("of", |log| log.fault(FaultKind::WrongValue, said, mend));
            }
            is_digest
        });
        let (by, on) = (Some(by).filter(|by| !by.is_empty())?, on?);
        let unchanged = match (then, &wire.of) {
            (Some(then), _) => content().map_or(Tristate::Undecided, |now| Tristate::from(now == then)),
            (None, _) => Tristate::Undecided,
        };
        if unchanged == Tristate::No {
            let text = format!(
                "the zone was changed after {} read it against the law on {on}, so that reading counts no longer",
                by.join(", ")
            );
            log.warn(WarningKind::ProofreadVoid, text);
        }
        Some(Proofread { by, on, against, unchanged })
    })
}
