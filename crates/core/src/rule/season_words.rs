//! A set of instants in plain English.

use jiff::Timestamp;
use jiff::civil::{Date, Time, Weekday};
use jiff::tz::TimeZone;

use super::{AnnualWindow, DateRange, Hours, NthWeekday, SunEvent, SunHours, SunTime, When, WindowEnds};
use crate::Tristate;

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

impl When {
    /// Says the set in a short phrase, such as "1 May to 31 August each year".
    ///
    /// # Examples
    ///
    /// ```
    /// use jiff::civil::{Weekday, time};
    /// use takeline::rule::{Hours, When};
    ///
    /// let nights = When::Hours(Hours { from: time(22, 0, 0, 0), to: time(4, 0, 0, 0) });
    /// let set = When::All(vec![nights, When::Not(Box::new(When::Weekdays(vec![Weekday::Saturday])))]);
    /// assert_eq!(set.describe(), "22:00 to 04:00, except on Saturdays");
    /// ```
    #[must_use]
    pub fn describe(&self) -> String {
        match self {
            Self::Always => "at all times".to_owned(),
            Self::Dates(range) => range.describe(),
            Self::Days(days) => match days.as_slice() {
                [] => "on no day".to_owned(),
                days => format!("on {}", listed(days.iter().map(|day| day_in_full(*day)), "and")),
            },
            Self::Yearly(window) => window.describe(),
            Self::Weekdays(weekdays) if weekdays.is_empty() => "on no weekday".to_owned(),
            Self::Weekdays(weekdays) => {
                format!("on {}", listed(weekdays.iter().map(|day| format!("{}s", weekday_name(*day))), "and"))
            }
            Self::NthWeekday(nth) => nth.describe(),
            Self::Hours(hours) => hours.describe(),
            Self::Sun(hours) => hours.describe(),
            Self::Unknowable(words) => format!("“{}”", words.trim()),
            Self::All(members) if members.is_empty() => "at all times".to_owned(),
            Self::All(members) => joined(members, "and"),
            Self::Any(members) if members.is_empty() => "at no time".to_owned(),
            Self::Any(members) => joined(members, "or"),
            Self::Not(inner) if **inner == Self::Always => "at no time".to_owned(),
            Self::Not(inner) => format!("at all times except {}", inner.as_member()),
        }
    }

    /// The phrase as part of a longer one.
    fn as_member(&self) -> String {
        if let Self::All(members) | Self::Any(members) = self
            && members.len() > 1
        {
            return format!("({})", self.describe());
        }
        self.describe()
    }
}

/// Joins members; an exception in a list of conditions follows with "except".
fn joined(members: &[When], word: &str) -> String {
    let mut phrase = String::new();
    for member in members {
        if phrase.is_empty() {
            phrase = member.as_member();
            continue;
        }
        phrase = if let When::Not(inner) = member
            && word == "and"
        {
            format!("{phrase}, except {}", inner.as_member())
        } else {
            format!("{phrase}, {word} {}", member.as_member())
        };
    }
    phrase
}

impl DateRange {
    fn describe(self) -> String {
        if self.from == self.to && self.ends == WindowEnds::Included {
            return day_in_full(self.from);
        }
        between(&day_in_full(self.from), &day_in_full(self.to), self.ends)
    }
}

impl AnnualWindow {
    fn describe(self) -> String {
        let (from, to) = (day_of_year(self.from), day_of_year(self.to));
        if self.from == self.to && self.ends == WindowEnds::Included {
            return format!("{from} each year");
        }
        let (span, remark) = match self.ends {
            WindowEnds::Unstated => (format!("between {from} and {to}"), UNSTATED),
            WindowEnds::Included | WindowEnds::Excluded => (between(&from, &to, self.ends), ""),
        };
        format!("{span} each year{remark}")
    }
}

const UNSTATED: &str = " (the law does not say whether those two days count)";

fn between(from: &str, to: &str, ends: WindowEnds) -> String {
    match ends {
        WindowEnds::Included => format!("{from} to {to}"),
        WindowEnds::Excluded => format!("after {from} and before {to}"),
        WindowEnds::Unstated => format!("between {from} and {to}{UNSTATED}"),
    }
}

impl NthWeekday {
    fn describe(self) -> String {
        let nth = match self.nth {
            -1 => "last".to_owned(),
            1 => "first".to_owned(),
            2 => "second".to_owned(),
            3 => "third".to_owned(),
            4 => "fourth".to_owned(),
            5 => "fifth".to_owned(),
            other => format!("({other})th"),
        };
        let month = match self.month {
            Some(month) => month_name(month),
            None => "each month".to_owned(),
        };
        let then = match self.then_days {
            0 => String::new(),
            1 => format!(" and the following {}", weekday_name(self.weekday.next())),
            days => format!(" and the {days} days that follow"),
        };
        format!("on the {nth} {} of {month}{then}", weekday_name(self.weekday))
    }
}

impl Hours {
    pub(super) fn describe(&self) -> String {
        if self.from == self.to {
            return format!("all day from {}", clock(self.from));
        }
        let to = if self.to == Time::midnight() { "24:00".to_owned() } else { clock(self.to) };
        format!("{} to {to}", clock(self.from))
    }
}

impl SunHours {
    pub(super) fn describe(&self) -> String {
        format!("{} to {} at {}", self.from.describe(), self.to.describe(), self.at.name)
    }
}

impl SunTime {
    fn describe(self) -> String {
        let event = self.event.name();
        let length = match self.offset_minutes.unsigned_abs() {
            0 => return event.to_owned(),
            1 => "a minute".to_owned(),
            30 => "half an hour".to_owned(),
            60 => "an hour".to_owned(),
            90 => "an hour and a half".to_owned(),
            minutes if minutes % 60 == 0 => format!("{} hours", minutes / 60),
            minutes => format!("{minutes} minutes"),
        };
        format!("{length} {} {event}", if self.offset_minutes < 0 { "before" } else { "after" })
    }
}

impl SunEvent {
    fn name(self) -> &'static str {
        match self {
            Self::Sunrise => "sunrise",
            Self::Sunset => "sunset",
            Self::CivilDawn => "civil dawn",
            Self::CivilDusk => "civil dusk",
        }
    }
}

/// Says what a date is to a set of days.
pub(super) fn the_day_is(date: Date, answer: Tristate, set: &When) -> String {
    let day = day_in_full(date);
    match (set, answer) {
        (When::Weekdays(_), Tristate::Yes) => format!("{day} is a {}", weekday_name(date.weekday())),
        (When::Weekdays(_), _) => {
            format!("{day} is a {}, and the rule counts {}", weekday_name(date.weekday()), set.describe())
        }
        (When::Days(_), Tristate::Yes) => format!("{day} is one of the days listed"),
        (When::Days(_), _) => format!("{day} is not one of the days listed"),
        (When::NthWeekday(_), Tristate::Yes) => format!("{day} is a day the rule counts, {}", set.describe()),
        (When::NthWeekday(_), _) => format!("{day} is not a day the rule counts, {}", set.describe()),
        (_, Tristate::Yes) => format!("{day} falls in {}", set.describe()),
        (_, Tristate::No) => format!("{day} falls outside {}", set.describe()),
        (_, Tristate::Undecided) => format!("{day} is an end day of a window: {}", set.describe()),
    }
}

/// Says when something ends that ends with an instant, as a mariner would: midnight is 24:00 of the day before.
///
/// # Examples
///
/// ```
/// use jiff::tz::TimeZone;
/// use takeline::rule::until_in_words;
///
/// assert_eq!(until_in_words("2026-10-01T00:00Z".parse()?, &TimeZone::UTC), "30 September 2026 24:00");
/// assert_eq!(until_in_words("2026-10-01T08:30Z".parse()?, &TimeZone::UTC), "1 October 2026 08:30");
/// # Ok::<(), jiff::Error>(())
/// ```
#[must_use]
pub fn until_in_words(end: Timestamp, zone_time: &TimeZone) -> String {
    let local = zone_time.to_datetime(end);
    match local.date().yesterday() {
        Ok(day) if local.time() == Time::midnight() => format!("{} 24:00", day_in_full(day)),
        _ => format!("{} {}", day_in_full(local.date()), clock(local.time())),
    }
}

/// `3 June 2026`.
pub(super) fn day_in_full(date: Date) -> String {
    format!("{} {} {}", date.day(), month_name(date.month()), date.year())
}

/// `3 June`, from month and day.
fn day_of_year((month, day): (i8, i8)) -> String {
    format!("{day} {}", month_name(month))
}

/// `08:00`, with seconds only where there are some.
pub(super) fn clock(time: Time) -> String {
    let (hour, minute, second) = (time.hour(), time.minute(), time.second());
    if second == 0 { format!("{hour:02}:{minute:02}") } else { format!("{hour:02}:{minute:02}:{second:02}") }
}

/// The clock at an instant, with its date where that is not the expected one.
pub(super) fn local_clock(instant: Timestamp, expected: Date, zone_time: &TimeZone) -> String {
    let local = zone_time.to_datetime(instant);
    let shown = clock(local.time());
    if local.date() == expected {
        return shown;
    }
    format!("{shown} on {} {}", local.day(), month_name(local.month()))
}

fn month_name(month: i8) -> String {
    let index = usize::try_from(month).ok().and_then(|number| number.checked_sub(1));
    index.and_then(|index| MONTHS.get(index)).map_or_else(|| format!("month {month}"), ToString::to_string)
}

fn weekday_name(weekday: Weekday) -> &'static str {
    match weekday {
        Weekday::Monday => "Monday",
        Weekday::Tuesday => "Tuesday",
        Weekday::Wednesday => "Wednesday",
        Weekday::Thursday => "Thursday",
        Weekday::Friday => "Friday",
        Weekday::Saturday => "Saturday",
        Weekday::Sunday => "Sunday",
    }
}

/// `a, b and c`.
fn listed(items: impl Iterator<Item = String>, word: &str) -> String {
    let items: Vec<_> = items.collect();
    match items.split_last() {
        None => String::new(),
        Some((only, [])) => only.clone(),
        Some((last, others)) => format!("{} {word} {last}", others.join(", ")),
    }
}
