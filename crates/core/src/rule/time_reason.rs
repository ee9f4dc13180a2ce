//! Why a set of instants holds another or not, and why no instant is known, as data. The words stand elsewhere.

use jiff::Timestamp;
use jiff::civil::{Date, DateTime, Time};
use strum::{IntoStaticStr, VariantNames};

use super::{Hours, SunHours, When};
use crate::Tristate;
use crate::coded::coded;

/// Why an instant belongs to a set of instants, or does not, or is left open. Dates and times are those of the zone.
#[derive(Debug, Clone, PartialEq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(tag = "code", rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum TimeReason {
    /// Nothing offline can tell.
    Unknowable {
        /// The words of the law.
        words: String,
    },
    /// The set cannot be meant; the fault is that of the zone file.
    CannotBeMeant {
        /// What is wrong with it ([`When::fault`]).
        fault: String,
    },
    /// No time is known.
    NoTime {
        /// Why not.
        missing: MissingTime,
    },
    /// One of the days listed.
    ListedDay {
        /// The day.
        date: Date,
    },
    /// None of the days listed.
    UnlistedDay {
        /// The day.
        date: Date,
    },
    /// A weekday that the rule counts.
    CountedWeekday {
        /// The day.
        date: Date,
    },
    /// A weekday that the rule does not count.
    OtherWeekday {
        /// The day.
        date: Date,
        /// The weekdays that it counts.
        set: When,
    },
    /// A day that the rule counts by its weekday in the month.
    CountedDay {
        /// The day.
        date: Date,
        /// The days that it counts.
        set: When,
    },
    /// A day that the rule does not count by its weekday in the month.
    UncountedDay {
        /// The day.
        date: Date,
        /// The days that it counts.
        set: When,
    },
    /// A day within a window.
    DayWithin {
        /// The day.
        date: Date,
        /// The window.
        set: When,
    },
    /// A day outside a window.
    DayOutside {
        /// The day.
        date: Date,
        /// The window.
        set: When,
    },
    /// An end day of a window whose text does not say whether it counts.
    EndDay {
        /// The day.
        date: Date,
        /// The window.
        set: When,
    },
    /// Within hours by the clock.
    HourWithin {
        /// What the clock shows.
        time: Time,
        /// The hours.
        hours: Hours,
    },
    /// Outside hours by the clock.
    HourOutside {
        /// What the clock shows.
        time: Time,
        /// The hours.
        hours: Hours,
    },
    /// Hours by the sun.
    Sun {
        /// What date and clock show.
        at: DateTime,
        /// Whether that is within the hours.
        within: Tristate,
        /// The hours.
        hours: SunHours,
        /// When they begin and end, where both are known.
        span: Option<SunSpan>,
        /// What the sun does not do that day.
        misses: Vec<SunMiss>,
    },
    /// The times of the sun cannot be computed so far from today.
    SunOutOfReach {
        /// The year.
        year: i16,
    },
}

coded!(TimeReason);

impl TimeReason {
    /// What a date is to a set of days.
    pub(super) fn of_day(date: Date, answer: Tristate, days: &When) -> Self {
        let set = || days.clone();
        match (days, answer) {
            (When::Weekdays(_), Tristate::Yes) => Self::CountedWeekday { date },
            (When::Weekdays(_), _) => Self::OtherWeekday { date, set: set() },
            (When::Days(_), Tristate::Yes) => Self::ListedDay { date },
            (When::Days(_), _) => Self::UnlistedDay { date },
            (When::NthWeekday(_), Tristate::Yes) => Self::CountedDay { date, set: set() },
            (When::NthWeekday(_), _) => Self::UncountedDay { date, set: set() },
            (_, Tristate::Yes) => Self::DayWithin { date, set: set() },
            (_, Tristate::No) => Self::DayOutside { date, set: set() },
            (_, Tristate::Undecided) => Self::EndDay { date, set: set() },
        }
    }
}

/// From when to when hours by the sun last, in the zone's own time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct SunSpan {
    /// First instant.
    pub from: DateTime,
    /// First instant after.
    pub until: DateTime,
}

/// What the sun does not do on a day, so that a moment of a rule does not come.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum SunMiss {
    /// It does not set.
    DoesNotSet,
    /// It does not rise.
    DoesNotRise,
    /// Civil twilight does not end.
    TwilightDoesNotEnd,
    /// Civil twilight does not begin.
    TwilightDoesNotBegin,
}

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
