//! JSON read strictly: a member given twice, or nesting without end, is refused where it stands.
//!
//! `serde_json::Value` alone keeps the last of two members of the same name and drops the other in silence.

use std::fmt;

use serde::de::{DeserializeSeed, Error, MapAccess, SeqAccess, Visitor};
use serde_json::{Map, Value};

use super::fault::FaultKind;
use super::log::Log;

/// How deep objects and lists may lie in one another.
///
/// The deepest rule that a zone file may hold needs 33 levels. The limit also keeps the recursive
/// readers within the two megabytes of a small thread's stack.
pub(crate) const NESTING_LIMIT: usize = 40;

/// What some programs write before UTF-8; it says nothing.
pub(crate) const BYTE_ORDER_MARK: &[u8] = b"\xEF\xBB\xBF";

/// Why bytes are not JSON that we read, with its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotJson {
    pub(crate) text: String,
    pub(crate) line: usize,
    pub(crate) column: usize,
}

impl fmt::Display for NotJson {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.text)?;
        if self.line == 0 { Ok(()) } else { write!(f, " at line {} column {}", self.line, self.column) }
    }
}

impl std::error::Error for NotJson {}

/// Reads JSON from elsewhere as strictly as zone files are read: a member given twice in one object, nesting deeper than 40, and
/// files of more than 64 MiB or about eight million values are refused, where others keep the last member or fill the memory.
///
/// # Errors
///
/// [`NotJson`] says what is wrong, and where.
///
/// # Examples
///
/// ```
/// use takeline::zone_file::untrusted_json;
///
/// assert_eq!(untrusted_json(b"[1]"), Ok(serde_json::json!([1])));
/// let twice = untrusted_json(br#"{ "id": 1, "id": 2 }"#).unwrap_err();
/// assert!(twice.to_string().contains("given twice"));
/// ```
pub fn untrusted_json(bytes: &[u8]) -> Result<Value, NotJson> {
    if let Some(text) = too_much(bytes) {
        return Err(NotJson { text: format!("it {text}"), line: 0, column: 0 });
    }
    parse(bytes)
}

/// Reads one JSON document and nothing after it. A byte order mark at the start is skipped.
pub(crate) fn parse(bytes: &[u8]) -> Result<Value, NotJson> {
    let bytes = bytes.strip_prefix(BYTE_ORDER_MARK).unwrap_or(bytes);
    let mut reader = serde_json::Deserializer::from_slice(bytes);
    let value = Strict { depth: 0 }.deserialize(&mut reader).map_err(|e| not_json(&e))?;
    reader.end().map_err(|e| not_json(&e))?;
    Ok(value)
}

fn not_json(error: &serde_json::Error) -> NotJson {
    let whole = error.to_string();
    let place = format!(" at line {} column {}", error.line(), error.column());
    let text = whole.strip_suffix(&place).unwrap_or(&whole).to_owned();
    NotJson { text, line: error.line(), column: error.column() }
}

/// Reads a value that lies so deep in objects and lists.
#[derive(Clone, Copy)]
pub(super) struct Strict {
    pub(super) depth: usize,
}

impl Strict {
    fn deeper<E: Error>(self) -> Result<Self, E> {
        if self.depth == NESTING_LIMIT {
            return Err(E::custom(format!("objects and lists are nested more than {NESTING_LIMIT} deep")));
        }
        Ok(Self { depth: self.depth + 1 })
    }
}

impl<'de> DeserializeSeed<'de> for Strict {
    type Value = Value;

    fn deserialize<D: serde::Deserializer<'de>>(self, deserializer: D) -> Result<Value, D::Error> {
        deserializer.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for Strict {
    type Value = Value;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("JSON")
    }

    fn visit_unit<E>(self) -> Result<Value, E> {
        Ok(Value::Null)
    }

    fn visit_bool<E>(self, given: bool) -> Result<Value, E> {
        Ok(Value::Bool(given))
    }

    fn visit_i64<E>(self, given: i64) -> Result<Value, E> {
        Ok(given.into())
    }

    fn visit_u64<E>(self, given: u64) -> Result<Value, E> {
        Ok(given.into())
    }

    fn visit_f64<E>(self, given: f64) -> Result<Value, E> {
        Ok(given.into())
    }

    fn visit_str<E>(self, given: &str) -> Result<Value, E> {
        Ok(given.into())
    }

    fn visit_string<E>(self, given: String) -> Result<Value, E> {
        Ok(given.into())
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Value, A::Error> {
        let inner = self.deeper()?;
        let mut entries = Vec::new();
        while let Some(entry) = list.next_element_seed(inner)? {
            entries.push(entry);
        }
        Ok(Value::Array(entries))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut object: A) -> Result<Value, A::Error> {
        let inner = self.deeper()?;
        let mut members = Map::new();
        while let Some(key) = object.next_key::<String>()? {
            if members.contains_key(&key) {
                return Err(A::Error::custom(format!("the member \"{key}\" is given twice in one object")));
            }
            let member = object.next_value_seed(inner)?;
            members.insert(key, member);
        }
        Ok(Value::Object(members))
    }
}

/// The most bytes of a file that are read: 64 MiB.
pub(crate) const MOST_BYTES: usize = 64 * 1024 * 1024;
/// The most values, each taking some hundred bytes of memory while a file is read; an object counts as
/// [`AN_OBJECT`] of them. Two million vertices are six million values.
const MOST_VALUES: usize = 8_000_000;
/// An object takes about four times the memory of a list, because room for several members is made at once.
const AN_OBJECT: usize = 4;

/// How to mend a file that is too large.
pub(crate) const SPLIT: &str = "split the file by region, and load only the parts that you need";

/// Whether a file is small enough to be taken apart; a fault if it is not.
pub(crate) fn is_small_enough(log: &mut Log, bytes: &[u8]) -> bool {
    let too_much = too_much(bytes);
    let is_small = too_much.is_none();
    if let Some(text) = too_much {
        too_large(log, text);
    }
    is_small
}

/// Why a file is too large to be taken apart.
fn too_much(bytes: &[u8]) -> Option<String> {
    let most_mib = MOST_BYTES / (1024 * 1024);
    if bytes.len() > MOST_BYTES {
        return Some(format!("is larger than {most_mib} MiB, the most that is read"));
    }
    // every value but the first follows one of these three; those within texts count too, which no real file minds
    let weight = |byte: &u8| match byte {
        b'{' => AN_OBJECT,
        b'[' | b',' => 1,
        _ => 0,
    };
    let values: usize = bytes.iter().map(weight).sum();
    (values > MOST_VALUES).then(|| {
        format!(
            "holds about {values} values, an object counted as {AN_OBJECT}; at most {MOST_VALUES} are read"
        )
    })
}

/// Reports that there is too much of something.
pub(crate) fn too_large(log: &mut Log, text: String) {
    log.fault(FaultKind::TooLarge, text, SPLIT);
}
