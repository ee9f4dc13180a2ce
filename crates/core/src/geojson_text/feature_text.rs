//! One feature from its own text, with a polygon's positions as numbers and not as values of JSON.
//!
//! This is the short way for features as they nearly always are. Whatever it does not know it refuses without a word; the
//! file is then read the long way, which says what is wrong.

use std::fmt;

use serde::de::{Deserialize, DeserializeSeed, Error, IgnoredAny, MapAccess, SeqAccess, Visitor};
use serde_json::{Map, Value};

use super::document::id_text;
use super::strict_json::Strict;

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
    if list.next_element::<f64>()?.is_some() && list.next_element::<IgnoredAny>()?.is_some() {
        return Err(A::Error::custom("more than three numbers"));
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
            Some(Listed::Polygons(_)) => return Err(A::Error::custom("lists too deep")),
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
