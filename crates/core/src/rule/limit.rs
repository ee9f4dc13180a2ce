//! Gear, bait, bag and size limits, and how they read.

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

impl fmt::Display for Gear {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl fmt::Display for GearAllowance {
    /// Writes "hook and line: at most 1 line, 2 hooks (attended at all times)".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.kind)?;
        let lines = self.max_lines.map(|n| counted(n, self.counted_noun()));
        let hooks = self.max_hooks.map(|n| counted(n, "hook"));
        let numbers = lines.into_iter().chain(hooks).collect::<Vec<_>>().join(", ");
        if !numbers.is_empty() {
            write!(f, ": at most {numbers}")?;
        }
        self.note.as_ref().map_or(Ok(()), |note| write!(f, " ({note})"))
    }
}

impl GearAllowance {
    /// What the number counts, from the last word of the kind: lines, unless the gear is of another sort.
    fn counted_noun(&self) -> &'static str {
        const NOUNS: [&str; 6] = ["net", "pot", "trap", "rod", "creel", "spear"];
        let last = super::naming::words(&self.kind.0).pop().unwrap_or_default();
        NOUNS.into_iter().find(|noun| *noun == last).unwrap_or("line")
    }
}

fn counted(n: u32, noun: &str) -> String {
    format!("{n} {noun}{}", if n == 1 { "" } else { "s" })
}

impl fmt::Display for Bait {
    /// Writes "only mussel, lugworm as bait" or "no sand eel as bait".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Only(listed) if listed.is_empty() => f.write_str("no bait"),
            Self::Only(listed) => write!(f, "only {} as bait", listed.join(", ")),
            Self::Not(listed) => write!(f, "no {} as bait", listed.join(", no ")),
        }
    }
}

impl fmt::Display for BagPer {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::PersonDay => "per person per day",
            Self::BoatDay => "per boat per day",
            Self::PersonTrip => "per person per trip",
            Self::BoatTrip => "per boat per trip",
            Self::PersonAtOnce => "per person at any moment, fish of earlier days counted too",
            Self::BoatAtOnce => "per boat at any moment, fish of earlier days counted too",
        })
    }
}

impl fmt::Display for Bag {
    /// Writes "at most 10 per person per day" or, for 0, "none may be kept".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.count == 0 {
            return f.write_str("none may be kept");
        }
        write!(f, "at most {} {}", self.count, self.per)
    }
}

impl fmt::Display for Measure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TotalLength => f.write_str("total length"),
            Self::ForkLength => f.write_str("fork length"),
            Self::CarapaceLength => f.write_str("carapace length"),
            Self::ShellWidth => f.write_str("shell width"),
            Self::Other(words) => write!(f, "measured as “{words}”"),
            Self::Unstated => f.write_str("the rule does not say how it is measured"),
        }
    }
}

impl fmt::Display for Size {
    /// Writes "at least 20 cm, total length", "20 to 30 cm, fork length".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.min_cm, self.max_cm) {
            (Some(min), Some(max)) => write!(f, "{min} to {max} cm, {}", self.measure),
            (Some(min), None) => write!(f, "at least {min} cm, {}", self.measure),
            (None, Some(max)) => write!(f, "at most {max} cm, {}", self.measure),
            (None, None) => write!(f, "any length, {}", self.measure),
        }
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
