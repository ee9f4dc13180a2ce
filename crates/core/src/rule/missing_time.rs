//! Why no time is known, where none is.

use jiff::Timestamp;

/// Why no time is known: it is the reason why a season is undecided.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
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

impl MissingTime {
    /// Returns why what hangs on a time is undecided, as a fragment without a full stop.
    #[must_use]
    pub const fn because(self) -> &'static str {
        match self {
            Self::NotGiven => "no time was given",
            Self::Doubted => "the time given is doubted",
            Self::LogDoubted => "the dates of the log may be wrong",
        }
    }

    /// Returns what would settle it, as a request without a full stop.
    #[must_use]
    pub const fn settle(self) -> &'static str {
        match self {
            Self::NotGiven => "say the time",
            Self::Doubted => "say the true time",
            Self::LogDoubted => "find out the true dates of the log",
        }
    }
}
