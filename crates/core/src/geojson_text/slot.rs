//! The small pieces that wire types are made of.

use std::collections::BTreeMap;

use serde::de::{DeserializeOwned, Error};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use serde_json::Value;

use crate::Tristate;

/// A member that may be missing, or may hold something that cannot be read.
///
/// What cannot be read is kept, so that one reading reports every fault of a file and not only the first. The boxes
/// keep an object with many members small while they are missing.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum Slot<T> {
    /// Not there, or `null`.
    #[default]
    Missing,
    /// Read.
    Given(Box<T>),
    /// There, but not of a form that is known.
    Wrong(Box<Value>),
}

impl<T> Slot<T> {
    /// Returns whether there is nothing.
    #[must_use]
    pub const fn is_missing(&self) -> bool {
        matches!(self, Self::Missing)
    }

    /// Returns what was read.
    #[must_use]
    pub fn get(&self) -> Option<&T> {
        match self {
            Self::Given(given) => Some(given),
            Self::Missing | Self::Wrong(_) => None,
        }
    }
}

impl<T: DeserializeOwned> Slot<T> {
    pub(crate) fn from_value(value: &Value) -> Self {
        if value.is_null() {
            return Self::Missing;
        }
        T::deserialize(value).map_or_else(|_| Self::Wrong(Box::new(value.clone())), Self::from)
    }
}

impl<T> From<T> for Slot<T> {
    fn from(given: T) -> Self {
        Self::Given(Box::new(given))
    }
}

impl<'de, T: DeserializeOwned> Deserialize<'de> for Slot<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        Ok(Self::from_value(&Value::deserialize(deserializer)?))
    }
}

impl<T: Serialize> Serialize for Slot<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::Missing => serializer.serialize_none(),
            Self::Given(given) => given.serialize(serializer),
            Self::Wrong(value) => value.serialize(serializer),
        }
    }
}

/// A fixed list of words, each with what it means.
pub trait Vocabulary: Clone + PartialEq + 'static {
    /// The words.
    const WORDS: &'static [(&'static str, Self)];
}

/// One word of a fixed list.
#[derive(Debug, Clone, PartialEq)]
pub struct Word<V>(pub V);

impl<V: Vocabulary> Word<V> {
    pub(super) fn choices() -> Vec<&'static str> {
        V::WORDS.iter().map(|(word, _)| *word).collect()
    }
}

impl<'de, V: Vocabulary> Deserialize<'de> for Word<V> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let given = String::deserialize(deserializer)?;
        let found = V::WORDS.iter().find(|(word, _)| *word == given);
        found
            .map(|(_, meaning)| Self(meaning.clone()))
            .ok_or_else(|| D::Error::custom("not one of the words"))
    }
}

impl<V: Vocabulary> Serialize for Word<V> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let found = V::WORDS.iter().find(|(_, meaning)| *meaning == self.0);
        let (word, _) = found.ok_or_else(|| serde::ser::Error::custom("the format has no word for this"))?;
        serializer.serialize_str(word)
    }
}

/// A plain text, or an object that says more.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(inline))]
#[serde(untagged)] // the message of an untagged enum is poor, but a slot never shows it
pub enum TextOr<T> {
    /// The plain text.
    Text(String),
    /// The object.
    Object(T),
}

/// `true`, `false`, or `"unstated"`, which leaves the answer undecided.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct YesNo(pub Tristate);

impl<'de> Deserialize<'de> for YesNo {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        match Value::deserialize(deserializer)? {
            Value::Bool(given) => Ok(Self(given.into())),
            Value::String(word) if word == "unstated" => Ok(Self(Tristate::Undecided)),
            Value::Null | Value::Number(_) | Value::String(_) | Value::Array(_) | Value::Object(_) => {
                Err(D::Error::custom("neither true, false nor \"unstated\""))
            }
        }
    }
}

impl Serialize for YesNo {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self.0 {
            Tristate::Yes => serializer.serialize_bool(true),
            Tristate::No => serializer.serialize_bool(false),
            Tristate::Undecided => serializer.serialize_str("unstated"),
        }
    }
}

/// An object of the format, with the members it knows and those it does not.
pub trait WireObject {
    /// The names of its members.
    const KEYS: &'static [&'static str];

    /// Returns the members whose names it does not know.
    fn other(&self) -> &BTreeMap<String, Value>;
}

/// Whether a member with this name is the writer's own business: a remark, or a name that starts with `x-`.
pub(crate) fn is_remark(key: &str) -> bool {
    key.starts_with("x-") || matches!(key, "comment" | "description" | "note")
}

/// Declares an object of the format: each member a slot, unknown members kept, the schema closed but for remarks.
macro_rules! wire_object {
    (
        $(#[$outer:meta])*
        $vis:vis $name:ident { $($(#[$inner:meta])* $key:ident: $type:ty,)+ }
    ) => {
        #[derive(Debug, Clone, Default, PartialEq, serde::Serialize, serde::Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
        $(#[$outer])*
        #[cfg_attr(feature = "schema", schemars(extend("additionalProperties" = false, "patternProperties" = crate::geojson_text::remarks())))]
        $vis struct $name {
            $(
                $(#[$inner])*
                #[serde(default, skip_serializing_if = "Slot::is_missing")]
                $vis $key: Slot<$type>,
            )+
            /// Members under names that the format does not know.
            #[serde(flatten)]
            #[cfg_attr(feature = "schema", schemars(skip))]
            $vis other: std::collections::BTreeMap<String, serde_json::Value>,
        }

        impl crate::geojson_text::WireObject for $name {
            const KEYS: &'static [&'static str] = &[$(stringify!($key)),+];

            fn other(&self) -> &std::collections::BTreeMap<String, serde_json::Value> {
                &self.other
            }
        }
    };
}

pub(crate) use wire_object;
