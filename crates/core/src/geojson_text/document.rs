//! The frame that all our files share: a feature collection of features with ids, its hash, and the text of one feature.

use std::collections::HashMap;
use std::fmt;

use serde::de::{Deserialize, DeserializeSeed, Error, IgnoredAny, MapAccess, SeqAccess, Visitor};
use serde_json::{Map, Value};
use sha2::{Digest, Sha256};

use super::fault::FaultKind;
use super::log::{Log, shown, shown_text};
use super::strict_json::{Strict, is_small_enough, parse};
use super::values::datum;
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
                "JSON has no NaN or Infinity; leave the member out if its value is not known"
            } else if refused.text.starts_with("the member") {
                "keep one of the two"
            } else {
                "look here, and just before, for a missing or extra comma, quote or bracket"
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
            || format!("{} is not a feature collection", shown(value)),
            |kind| format!("a {} is not a feature collection", shown_text(kind)),
        );
        log.fault(otherwise, text, mend);
        return None;
    };
    let features = members.get("features").and_then(Value::as_array);
    if features.is_none() {
        log.fault(otherwise, "has no \"features\" list", mend);
    }
    Some((members, features?))
}

/// Older GeoJSON could name a reference system; coordinates in another one than ours must not pass as ours.
pub(crate) fn reference_system(log: &mut Log, members: &Map<String, Value>) -> Option<Datum> {
    let system = members.get("crs").filter(|system| !system.is_null())?;
    let name = system.pointer("/properties/name").and_then(Value::as_str);
    log.within("crs", |log| {
        let Some(name) = name else {
            log.wrong(system, "take it out if the coordinates are longitude and latitude on WGS 84");
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
        let text = format!("the id {} is used by feature {first} too", shown_text(id));
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

/// How deep in its file a feature lies: in a list, in the collection.
const DEPTH_OF_A_FEATURE: usize = 2;

/// A position as it is written: longitude, latitude.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct LonLat(pub(crate) [f64; 2]);

/// The positions of a polygon, or of several.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Coordinates {
    Polygon(Vec<Vec<LonLat>>),
    MultiPolygon(Vec<Vec<Vec<LonLat>>>),
}

/// A feature whose positions, if it is a polygon, stand apart; then its "coordinates" are an empty list.
#[derive(Debug)]
pub(crate) struct FeatureText {
    pub(crate) feature: Value,
    pub(crate) coordinates: Option<Coordinates>,
}

impl FeatureText {
    /// Reads one feature and nothing after it; none if it is not what features nearly always are.
    pub(crate) fn read(text: &[u8]) -> Option<Self> {
        let mut reader = serde_json::Deserializer::from_slice(text);
        let found = FeatureSeed.deserialize(&mut reader).ok()?;
        reader.end().ok()?;
        Some(found)
    }
}

/// The id of a feature from its text; none if it has none that can be read, or is no feature.
pub(crate) fn id_in(text: &[u8]) -> Option<String> {
    #[derive(serde::Deserialize)]
    struct WithId {
        id: Value,
    }
    serde_json::from_slice::<WithId>(text).ok().and_then(|feature| id_text(&feature.id))
}

struct FeatureSeed;

impl<'de> DeserializeSeed<'de> for FeatureSeed {
    type Value = FeatureText;

    fn deserialize<D: serde::Deserializer<'de>>(self, deserializer: D) -> Result<FeatureText, D::Error> {
        deserializer.deserialize_map(self)
    }
}

impl<'de> Visitor<'de> for FeatureSeed {
    type Value = FeatureText;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a feature")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut object: A) -> Result<FeatureText, A::Error> {
        let mut members = Map::new();
        let mut coordinates = None;
        while let Some(key) = object.next_key::<String>()? {
            refuse_twice(&members, &key)?;
            let member = if key == "geometry" {
                let geometry = object.next_value_seed(GeometrySeed)?;
                coordinates = geometry.coordinates;
                geometry.feature
            } else {
                object.next_value_seed(Strict { depth: DEPTH_OF_A_FEATURE + 1 })?
            };
            members.insert(key, member);
        }
        Ok(FeatureText { feature: Value::Object(members), coordinates })
    }
}

/// Reads a geometry, or null.
struct GeometrySeed;

impl<'de> DeserializeSeed<'de> for GeometrySeed {
    type Value = FeatureText;

    fn deserialize<D: serde::Deserializer<'de>>(self, deserializer: D) -> Result<FeatureText, D::Error> {
        deserializer.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for GeometrySeed {
    type Value = FeatureText;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a geometry")
    }

    fn visit_unit<E>(self) -> Result<FeatureText, E> {
        Ok(FeatureText { feature: Value::Null, coordinates: None })
    }

    fn visit_map<A: MapAccess<'de>>(self, mut object: A) -> Result<FeatureText, A::Error> {
        let mut members = Map::new();
        let mut coordinates = None;
        while let Some(key) = object.next_key::<String>()? {
            refuse_twice(&members, &key)?;
            let member = if key == "coordinates" {
                match object.next_value::<Listed>()? {
                    Listed::Place(LonLat([longitude, latitude])) => Value::from(vec![longitude, latitude]),
                    Listed::Rings(rings) => {
                        coordinates = Some(Coordinates::Polygon(rings));
                        Value::Array(Vec::new())
                    }
                    Listed::Polygons(polygons) => {
                        coordinates = Some(Coordinates::MultiPolygon(polygons));
                        Value::Array(Vec::new())
                    }
                    Listed::Number(_) | Listed::Ring(_) => return Err(A::Error::custom("no polygon")),
                }
            } else {
                object.next_value_seed(Strict { depth: DEPTH_OF_A_FEATURE + 2 })?
            };
            members.insert(key, member);
        }
        Ok(FeatureText { feature: Value::Object(members), coordinates })
    }
}

fn refuse_twice<E: Error>(members: &Map<String, Value>, key: &str) -> Result<(), E> {
    if members.contains_key(key) { Err(E::custom("a member is given twice")) } else { Ok(()) }
}

impl<'de> Deserialize<'de> for LonLat {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct OfPlace;
        impl<'de> Visitor<'de> for OfPlace {
            type Value = LonLat;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a position")
            }

            fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<LonLat, A::Error> {
                match list.next_element::<f64>()? {
                    Some(longitude) => place_from(longitude, list),
                    None => Err(A::Error::custom("no number")),
                }
            }
        }
        deserializer.deserialize_seq(OfPlace)
    }
}

/// The rest of a position of two numbers, or of three with a height.
fn place_from<'de, A: SeqAccess<'de>>(longitude: f64, mut list: A) -> Result<LonLat, A::Error> {
    let Some(latitude) = list.next_element::<f64>()? else { return Err(A::Error::custom("one number")) };
    if let Some(third) = list.next_element::<f64>()? {
        if list.next_element::<IgnoredAny>()?.is_some() {
            return Err(A::Error::custom("more than three numbers"));
        }
        // the long way warns of it
        if third != 0.0 && latitude.fract() == 0.0 {
            return Err(A::Error::custom("perhaps a decimal comma"));
        }
    }
    Ok(LonLat([longitude, latitude]))
}

/// What lists of numbers can be; how deep they lie shows when the first number comes.
enum Listed {
    Number(f64),
    Place(LonLat),
    Ring(Vec<LonLat>),
    Rings(Vec<Vec<LonLat>>),
    Polygons(Vec<Vec<Vec<LonLat>>>),
}

impl<'de> Deserialize<'de> for Listed {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(OfListed)
    }
}

struct OfListed;

impl<'de> Visitor<'de> for OfListed {
    type Value = Listed;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("coordinates")
    }

    #[expect(clippy::cast_precision_loss, reason = "as serde_json reads a whole number as a float")]
    fn visit_i64<E>(self, given: i64) -> Result<Listed, E> {
        Ok(Listed::Number(given as f64))
    }

    #[expect(clippy::cast_precision_loss, reason = "as serde_json reads a whole number as a float")]
    fn visit_u64<E>(self, given: u64) -> Result<Listed, E> {
        Ok(Listed::Number(given as f64))
    }

    fn visit_f64<E>(self, given: f64) -> Result<Listed, E> {
        Ok(Listed::Number(given))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Listed, A::Error> {
        Ok(match list.next_element::<Listed>()? {
            Some(Listed::Number(longitude)) => Listed::Place(place_from(longitude, list)?),
            Some(Listed::Place(place)) => Listed::Ring(all_from(place, list)?),
            Some(Listed::Ring(ring)) => Listed::Rings(all_from(ring, list)?),
            Some(Listed::Rings(rings)) => Listed::Polygons(all_from(rings, list)?),
            Some(Listed::Polygons(_)) => return Err(A::Error::custom("lists nested too deep")),
            None => return Err(A::Error::custom("an empty list")),
        })
    }
}

/// A list from its first entry and the rest.
fn all_from<'de, T: Deserialize<'de>, A: SeqAccess<'de>>(first: T, mut list: A) -> Result<Vec<T>, A::Error> {
    let mut all = vec![first];
    while let Some(next) = list.next_element()? {
        all.push(next);
    }
    Ok(all)
}
