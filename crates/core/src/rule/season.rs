//! When a rule is in force: dates, annual windows, weekdays, hours by the clock and by the sun.

use jiff::civil::{Date, Time, Weekday};

use crate::Position;

/// Whether the first and last day of a window belong to it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "kebab-case"))]
pub enum WindowEnds {
    /// Both days belong to it.
    #[default]
    Included,
    /// Neither day belongs to it.
    Excluded,
    /// The text does not say ("between 30 April and 1 November"): undecided on those two days.
    Unstated,
}

/// A span of calendar days, in the zone's own time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct DateRange {
    /// First day.
    pub from: Date,
    /// Last day.
    pub to: Date,
    /// Whether the two days belong to it.
    pub ends: WindowEnds,
}

/// The same days of every year; a window whose end lies before its start wraps New Year.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct AnnualWindow {
    /// Month (1 to 12) and day (1 to 31) of the first day.
    pub from: (i8, i8),
    /// Month and day of the last day. 29 February is read as 28 February in common years; 28 February leaves out the
    /// 29th of leap years.
    pub to: (i8, i8),
    /// Whether the two days belong to it.
    pub ends: WindowEnds,
}

/// The nth such weekday of a month, and some days after it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct NthWeekday {
    /// 1 to 5 from the start of the month, −1 the last.
    pub nth: i8,
    /// The weekday.
    #[cfg_attr(feature = "serde", serde(serialize_with = "weekday_name"))]
    pub weekday: Weekday,
    /// The month (1 to 12), or every month.
    pub month: Option<i8>,
    /// How many days that follow belong to it too; they may spill into the next month.
    pub then_days: u8,
}

/// Hours by the clock in the zone's own time, from inclusive, to exclusive; wraps midnight where `to` ≤ `from`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Hours {
    /// First instant.
    pub from: Time,
    /// First instant after.
    pub to: Time,
}

/// A moment that the sun defines. All use the upper limb with standard refraction (−0.833°), twilight −6°.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "kebab-case"))]
pub enum SunEvent {
    /// Upper limb appears.
    Sunrise,
    /// Upper limb vanishes.
    Sunset,
    /// Morning civil twilight begins.
    CivilDawn,
    /// Evening civil twilight ends.
    CivilDusk,
}

/// So many minutes after (negative: before) a moment that the sun defines.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct SunTime {
    /// The event.
    pub event: SunEvent,
    /// Minutes after it; negative before.
    pub offset_minutes: i16,
}

/// The place whose sun counts.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct SunPlace {
    /// Its name in the law.
    pub name: String,
    /// Where it is.
    #[cfg_attr(feature = "serde", serde(flatten, serialize_with = "degrees"))]
    pub position: Position,
}

/// Hours from one sun moment to the next other one, as the law's named place has them.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct SunHours {
    /// Start.
    pub from: SunTime,
    /// End.
    pub to: SunTime,
    /// The place that the law names.
    pub at: SunPlace,
}

/// A set of instants, as a rule writes it.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "kebab-case"))]
pub enum When {
    /// At all times.
    Always,
    /// Days between two dates.
    Dates(DateRange),
    /// Listed single days.
    Days(Vec<Date>),
    /// The same days every year.
    Yearly(AnnualWindow),
    /// These days of the week.
    Weekdays(#[cfg_attr(feature = "serde", serde(serialize_with = "weekday_names"))] Vec<Weekday>),
    /// The nth weekday of a month.
    NthWeekday(NthWeekday),
    /// Hours by the clock.
    Hours(Hours),
    /// Hours by the sun.
    Sun(SunHours),
    /// Something that cannot be computed offline, in the law's words ("when the quota is taken"): always undecided.
    Unknowable(String),
    /// In all of them.
    All(Vec<When>),
    /// In any of them.
    Any(Vec<When>),
    /// Outside it.
    Not(Box<When>),
}

/// How the condition ends that stands in place of a rule which nobody has written into the file yet.
pub const WRITE_THE_RULE: &str = "read the law, then write take and delete this";

impl When {
    /// Whether it stands in place of a rule that nobody has written yet, as drafts and imported files have it: a condition that
    /// cannot be known and ends with [`WRITE_THE_RULE`]. Nobody need ask whether such a rule is in force.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::rule::{WRITE_THE_RULE, When};
    ///
    /// assert!(When::Unknowable(format!("this is a draft: {WRITE_THE_RULE}")).stands_for_a_rule());
    /// assert!(!When::Unknowable("when the quota is taken".to_owned()).stands_for_a_rule());
    /// ```
    #[must_use]
    pub fn stands_for_a_rule(&self) -> bool {
        match self {
            Self::Unknowable(words) => words.trim_end().ends_with(WRITE_THE_RULE),
            Self::All(members) => members.iter().any(Self::stands_for_a_rule),
            Self::Always
            | Self::Dates(_)
            | Self::Days(_)
            | Self::Yearly(_)
            | Self::Weekdays(_)
            | Self::NthWeekday(_)
            | Self::Hours(_)
            | Self::Sun(_)
            | Self::Any(_)
            | Self::Not(_) => false,
        }
    }
}

#[cfg(feature = "serde")]
fn name_of(weekday: Weekday) -> &'static str {
    match weekday {
        Weekday::Monday => "monday",
        Weekday::Tuesday => "tuesday",
        Weekday::Wednesday => "wednesday",
        Weekday::Thursday => "thursday",
        Weekday::Friday => "friday",
        Weekday::Saturday => "saturday",
        Weekday::Sunday => "sunday",
    }
}

#[cfg(feature = "serde")]
#[expect(clippy::trivially_copy_pass_by_ref, reason = "the signature that serde asks for")]
fn weekday_name<S: serde::Serializer>(weekday: &Weekday, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_str(name_of(*weekday))
}

#[cfg(feature = "serde")]
fn weekday_names<S: serde::Serializer>(weekdays: &[Weekday], serializer: S) -> Result<S::Ok, S::Error> {
    serializer.collect_seq(weekdays.iter().map(|weekday| name_of(*weekday)))
}

#[cfg(feature = "serde")]
fn degrees<S: serde::Serializer>(position: &Position, serializer: S) -> Result<S::Ok, S::Error> {
    let degrees =
        [("latitude_deg", position.latitude().degrees()), ("longitude_deg", position.longitude().degrees())];
    serializer.collect_map(degrees)
}
