//! Who read a zone against the printed law, and whether it is still what they read.

use std::collections::HashSet;

use serde_json::{Map, Value};

use super::wire::{WireObject, WireProofread, WireProperties};
use super::zone_reader::{Apart, FileContext};
use super::{FaultKind, WarningKind};
use crate::Tristate;
use crate::geojson_text::{Log, Slot, is_remark, sha256, shown_text, strict_json};
use crate::zone::Proofread;

const MEND: &str =
    "write { \"by\": [\"A. B.\", \"C. D.\"], \"on\": \"2026-05-01\", \"against\": \"2026 edition\" }";
/// Which digest it is; another kind would have another name.
const KIND: &str = "sha256:";

/// What the head of a file says that zones in it go by, as it is written.
#[derive(Debug, Clone, Default)]
pub(super) struct HeadWords(Value);

impl HeadWords {
    /// Keeps what [`content_digest`] needs of a head.
    pub(super) fn of(head: Option<&Value>) -> Self {
        let kept = ["datum", "time_zone", "taxa", "groups", "coast"];
        let found = kept.into_iter().filter_map(|name| Some((name.to_owned(), head?.get(name)?.clone())));
        Self(Value::Object(found.collect()))
    }
}

impl FileContext {
    /// The digest of a feature; none if its text cannot be read again.
    pub(super) fn content_of(&self, feature: &Value, apart: Option<Apart<'_>>) -> Option<String> {
        let whole = apart.map(|apart| strict_json(apart.text)).transpose().ok()?;
        Some(content_digest(whole.as_ref().unwrap_or(feature), &self.head.0))
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

/// Returns a digest of all that a feature says but `proofread`, and of what it goes by in the head of its file (`takeline`): datum,
/// time zone, the fish and groups that it names with all that these lead to, and the coasts, where a side follows one.
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
/// let head = json!({ "datum": "WGS 84" });
/// let read = json!({ "id": "cove", "properties": { "take": "none", "proofread": { "by": ["A. B."] } } });
/// let same = json!({ "properties": { "take": "none", "comment": "read twice" }, "id": "cove" });
/// assert_eq!(content_digest(&read, &head), content_digest(&same, &head));
/// assert_ne!(content_digest(&read, &head), content_digest(&same, &json!({ "datum": "ED 50" })));
/// ```
#[must_use]
pub fn content_digest(feature: &Value, head: &Value) -> String {
    let mut feature = feature.clone();
    if let Some(properties) = feature.get_mut("properties").and_then(Value::as_object_mut) {
        properties.retain(|key, _| key != "proofread" && !is_only_a_remark(key));
    }
    let mut texts = HashSet::new();
    texts_of(feature.get("properties").unwrap_or(&Value::Null), &mut texts);
    let follows_a_coast = texts.contains("coast");
    let [taxa, groups] = named_fish(texts, head);
    let mut whole = Map::new();
    for (name, named) in [("taxa", taxa), ("groups", groups)] {
        if !named.is_empty() {
            whole.insert(name.into(), named.into());
        }
    }
    if let Some(coast) = head.get("coast").filter(|_| follows_a_coast) {
        whole.insert("coast".into(), coast.clone());
    }
    for name in ["datum", "time_zone"] {
        whole.insert(name.into(), head.get(name).cloned().unwrap_or_default());
    }
    whole.insert("feature".into(), feature);
    let mut whole = Value::Object(whole);
    whole_numbers(&mut whole);
    whole.sort_all_objects();
    format!("{KIND}{}", sha256(whole.to_string().as_bytes()))
}

/// The fish and groups that these texts name, with what lies in them, in the order of the head.
fn named_fish(mut texts: HashSet<String>, head: &Value) -> [Vec<Value>; 2] {
    let [taxa, groups] = ["taxa", "groups"].map(|name| {
        let listed = head.get(name).and_then(Value::as_array);
        listed.map(Vec::as_slice).unwrap_or_default()
    });
    let is_named = |entry: &Value, member: &str, texts: &HashSet<String>| {
        entry.get(member).and_then(Value::as_str).is_some_and(|name| texts.contains(name))
    };
    // each turn goes one step down: from a group to its members, from a fish to its kinds
    loop {
        let before = texts.len();
        for group in groups.iter().filter(|group| is_named(group, "id", &texts)).cloned().collect::<Vec<_>>()
        {
            texts_of(&group, &mut texts);
        }
        let kinds: Vec<String> = taxa
            .iter()
            .filter(|taxon| is_named(taxon, "parent", &texts))
            .filter_map(|taxon| taxon.get("id").and_then(Value::as_str).map(str::to_owned))
            .collect();
        texts.extend(kinds);
        if texts.len() == before {
            break;
        }
    }
    [taxa, groups]
        .map(|listed| listed.iter().filter(|entry| is_named(entry, "id", &texts)).cloned().collect())
}

fn texts_of(value: &Value, into: &mut HashSet<String>) {
    match value {
        Value::String(text) => {
            into.insert(text.clone());
        }
        Value::Array(list) => list.iter().for_each(|entry| texts_of(entry, into)),
        Value::Object(members) => members.values().for_each(|member| texts_of(member, into)),
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
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
