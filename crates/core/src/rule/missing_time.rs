//! Why no time is known, where none is.

use jiff::Timestamp;

/// Why no time is known: it is the reason why a season is undecided.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "kebab-case"))]
pub enum MissingTime {
    /// Nobody gave one.
    #[default]
    NotGiven,
    /// One was given, and it is not believed.
    Doubted,
    /// The dates of the log that it comes from are not believed.
    LogDoubted,
}

/// An instant, or why there is none.
pub(crate) type KnownTime = Result<Timestamp, MissingTime>;
