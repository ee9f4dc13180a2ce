//! Gear, bait, bag and size limits.

use std::fmt;

/// A kind of gear, in the words that the zone file uses ("hook and line", "hand net").
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Gear(pub String);

/// One allowed gear and how much of it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct GearAllowance {
    /// The kind.
    pub kind: Gear,
    /// At most so many lines (or nets, or pots).
    pub max_lines: Option<u32>,
    /// At most so many hooks.
    pub max_hooks: Option<u32>,
    /// More, in the law's words ("attended at all times").
    pub note: Option<String>,
}

/// What may or may not be on the hook.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "kebab-case"))]
pub enum Bait {
    /// Nothing but these.
    Only(Vec<String>),
    /// Anything but these.
    Not(Vec<String>),
}

/// Whom a bag limit counts for, and over what.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "kebab-case"))]
pub enum BagPer {
    /// Each person, each day.
    PersonDay,
    /// Each boat, each day.
    BoatDay,
    /// Each person, each trip.
    PersonTrip,
    /// Each boat, each trip.
    BoatTrip,
    /// Each person, at any moment: fish of earlier days count too.
    PersonAtOnce,
    /// Each boat, at any moment: fish of earlier days count too.
    BoatAtOnce,
}

/// At most so many; 0 means that none may be kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Bag {
    /// How many.
    pub count: u32,
    /// For whom, over what.
    pub per: BagPer,
}

/// How a fish is measured.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Measure {
    /// Tip of the snout to the end of the longest tail lobe.
    TotalLength,
    /// Tip of the snout to the fork of the tail.
    ForkLength,
    /// Along the shell of a crustacean.
    CarapaceLength,
    /// Across the shell.
    ShellWidth,
    /// As the law says.
    Other(String),
    /// The text does not say.
    Unstated,
}

/// Lengths that may be kept, in centimetres, both ends allowed.
#[derive(Debug, Clone, PartialEq, PartialOrd)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Size {
    /// Not shorter than this, in centimetres.
    pub min_cm: Option<f64>,
    /// Not longer than this, in centimetres.
    pub max_cm: Option<f64>,
    /// How it is measured.
    pub measure: Measure,
}

impl Gear {
    /// Returns whether the last word of the kind is this one, case and a plural s left aside: a "hand net" is a "net".
    #[must_use]
    pub fn is_a(&self, noun: &str) -> bool {
        super::naming::words(&self.0).pop().is_some_and(|last| last == super::naming::key(noun))
    }
}

impl fmt::Display for Gear {
    /// Writes the words of the file.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

#[cfg(feature = "serde")]
impl serde::Serialize for Measure {
    /// Writes the kind in kebab case, or the law's own words; null where the text does not say.
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let words = match self {
            Self::TotalLength => Some("total-length"),
            Self::ForkLength => Some("fork-length"),
            Self::CarapaceLength => Some("carapace-length"),
            Self::ShellWidth => Some("shell-width"),
            Self::Other(words) => Some(words.as_str()),
            Self::Unstated => None,
        };
        words.serialize(serializer)
    }
}
