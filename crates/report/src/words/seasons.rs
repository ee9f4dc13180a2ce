//! Seasons, days and hours in English, and why a rule is in force.

use jiff::ZonedDateTime;
use jiff::civil::{Date, DateTime, Time, Weekday};
use takeline::rule::{
    AnnualWindow, DateRange, Hours, MissingTime, NthWeekday, SunEvent, SunHours, SunMiss, SunTime,
    TimeReason, When, WindowEnds,
};
use takeline::zone::Status;
use takeline::{Tristate, binding};

use super::Words;

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

pub(super) fn when(words: &(impl Words + ?Sized), when: &When) -> String {
    match when {
        When::Always => "at all times".to_owned(),
        When::Dates(range) => dates(words, *range),
        When::Days(days) => match days.as_slice() {
            [] => "on no day".to_owned(),
            days => format!("on {}", listed(days.iter().map(|day| words.date(*day)))),
        },
        When::Yearly(window) => yearly(*window),
        When::Weekdays(weekdays) if weekdays.is_empty() => "on no weekday".to_owned(),
        When::Weekdays(weekdays) => {
            format!("on {}", listed(weekdays.iter().map(|day| format!("{}s", weekday_name(*day)))))
        }
        When::NthWeekday(nth) => nth_weekday(*nth),
        When::Hours(of_day) => hours(words, of_day),
        When::Sun(by_sun) => sun_hours(by_sun),
        When::Unknowable(text) => format!("“{}”", text.trim()),
        When::All(members) if members.is_empty() => "at all times".to_owned(),
        When::All(members) => joined(words, members, "and"),
        When::Any(members) if members.is_empty() => "at no time".to_owned(),
        When::Any(members) => joined(words, members, "or"),
        When::Not(inner) if **inner == When::Always => "at no time".to_owned(),
        When::Not(inner) => format!("at all times except {}", as_member(words, inner)),
    }
}

/// The phrase as part of a longer one.
fn as_member(words: &(impl Words + ?Sized), when: &When) -> String {
    let phrase = words.when(when);
    if let When::All(members) | When::Any(members) = when
        && members.len() > 1
    {
        return format!("({phrase})");
    }
    phrase
}

/// Joins members; an exception in a list of conditions follows with "except".
fn joined(words: &(impl Words + ?Sized), members: &[When], word: &str) -> String {
    let mut phrase = String::new();
    for member in members {
        if phrase.is_empty() {
            phrase = as_member(words, member);
            continue;
        }
        phrase = if let When::Not(inner) = member
            && word == "and"
        {
            format!("{phrase}, except {}", as_member(words, inner))
        } else {
            format!("{phrase}, {word} {}", as_member(words, member))
        };
    }
    phrase
}

fn dates(words: &(impl Words + ?Sized), range: DateRange) -> String {
    if range.from == range.to && range.ends == WindowEnds::Included {
        return words.date(range.from);
    }
    between(&words.date(range.from), &words.date(range.to), range.ends)
}

fn yearly(window: AnnualWindow) -> String {
    let (from, to) = (day_of_year(window.from), day_of_year(window.to));
    if window.from == window.to && window.ends == WindowEnds::Included {
        return format!("{from} each year");
    }
    let (span, remark) = match window.ends {
        WindowEnds::Unstated => (format!("between {from} and {to}"), UNSTATED),
        WindowEnds::Included | WindowEnds::Excluded => (between(&from, &to, window.ends), ""),
    };
    format!("{span} each year{remark}")
}

const UNSTATED: &str = " (the law does not say whether those two days are included)";

fn between(from: &str, to: &str, ends: WindowEnds) -> String {
    match ends {
        WindowEnds::Included => format!("{from} to {to}"),
        WindowEnds::Excluded => format!("after {from} and before {to}"),
        WindowEnds::Unstated => format!("between {from} and {to}{UNSTATED}"),
    }
}

fn nth_weekday(day: NthWeekday) -> String {
    let nth = match day.nth {
        -1 => "last".to_owned(),
        1 => "first".to_owned(),
        2 => "second".to_owned(),
        3 => "third".to_owned(),
        4 => "fourth".to_owned(),
        5 => "fifth".to_owned(),
        other => format!("({other})th"),
    };
    let month = day.month.map_or_else(|| "each month".to_owned(), month_name);
    let then = match day.then_days {
        0 => String::new(),
        1 => format!(" and the following {}", weekday_name(day.weekday.next())),
        days => format!(" and the {days} days that follow"),
    };
    format!("on the {nth} {} of {month}{then}", weekday_name(day.weekday))
}

fn hours(words: &(impl Words + ?Sized), hours: &Hours) -> String {
    let from = words.clock(hours.from);
    if hours.from == hours.to {
        return format!("all day from {from}");
    }
    let to = if hours.to == Time::midnight() { "24:00".to_owned() } else { words.clock(hours.to) };
    format!("{from} to {to}")
}

/// `between 08:00 and 16:00`.
fn within_hours(words: &(impl Words + ?Sized), of_day: &Hours) -> String {
    if of_day.from == of_day.to {
        return format!("within {}", hours(words, of_day));
    }
    let to = if of_day.to == Time::midnight() { "24:00".to_owned() } else { words.clock(of_day.to) };
    format!("between {} and {to}", words.clock(of_day.from))
}

fn between_sun_hours(hours: &SunHours) -> String {
    format!("between {} and {} at {}", sun_time(hours.from), sun_time(hours.to), hours.at.name)
}

fn sun_hours(hours: &SunHours) -> String {
    format!("{} to {} at {}", sun_time(hours.from), sun_time(hours.to), hours.at.name)
}

fn sun_time(time: SunTime) -> String {
    let event = match time.event {
        SunEvent::Sunrise => "sunrise",
        SunEvent::Sunset => "sunset",
        SunEvent::CivilDawn => "civil dawn",
        SunEvent::CivilDusk => "civil dusk",
    };
    let length = match time.offset_minutes.unsigned_abs() {
        0 => return event.to_owned(),
        1 => "a minute".to_owned(),
        30 => "half an hour".to_owned(),
        60 => "an hour".to_owned(),
        90 => "an hour and a half".to_owned(),
        minutes if minutes % 60 == 0 => format!("{} hours", minutes / 60),
        minutes => format!("{minutes} minutes"),
    };
    format!("{length} {} {event}", if time.offset_minutes < 0 { "before" } else { "after" })
}

pub(super) fn reason(words: &(impl Words + ?Sized), reason: &TimeReason) -> String {
    let day = |date: &Date| words.date(*date);
    match reason {
        TimeReason::Unknowable { words } => format!("cannot be known offline: “{words}”"),
        TimeReason::CannotBeMeant { fault } => fault.clone(),
        TimeReason::NoTime { missing } => words.missing_time(*missing),
        TimeReason::ListedDay { date } => format!("{} is one of the days listed", day(date)),
        TimeReason::UnlistedDay { date } => format!("{} is not one of the days listed", day(date)),
        TimeReason::CountedWeekday { date } => format!("{} is a {}", day(date), weekday_name(date.weekday())),
        TimeReason::OtherWeekday { date, set } => {
            let weekday = weekday_name(date.weekday());
            format!("{} is a {weekday}; the rule is for other days: {}", day(date), words.when(set))
        }
        TimeReason::CountedDay { date, set } => {
            format!("{} is one of the rule's days: {}", day(date), words.when(set))
        }
        TimeReason::UncountedDay { date, set } => {
            format!("{} is not one of the rule's days: {}", day(date), words.when(set))
        }
        TimeReason::DayWithin { date, set } => format!("{} is in the season: {}", day(date), words.when(set)),
        TimeReason::DayOutside { date, set } => {
            format!("{} is outside the season: {}", day(date), words.when(set))
        }
        TimeReason::EndDay { date, set } => {
            format!("{} is the first or last day of a season: {}", day(date), words.when(set))
        }
        TimeReason::HourWithin { time, hours: of_day } => {
            format!("{} local time is {}", words.clock(*time), within_hours(words, of_day))
        }
        TimeReason::HourOutside { time, hours: of_day } => {
            format!("{} local time is not {}", words.clock(*time), within_hours(words, of_day))
        }
        TimeReason::Sun { at, within, hours, span, misses } => {
            let lies = match within {
                Tristate::Yes => "is",
                Tristate::No => "is not",
                Tristate::Undecided => "may or may not be",
            };
            let span = span.map_or_else(String::new, |span| {
                let [from, until] = [span.from, span.until].map(|end| local_clock(words, end, at.date()));
                format!(" ({from} to {until})")
            });
            let mut text =
                format!("{} local time {lies} {}{span}", words.clock(at.time()), between_sun_hours(hours));
            for miss in misses {
                text =
                    format!("{text}; {} at {} on {}", sun_miss(*miss), hours.at.name, words.date(at.date()));
            }
            text
        }
        TimeReason::SunOutOfReach { year } => {
            format!("the sun's times cannot be worked out for the year {year}")
        }
        other => other.code().to_owned(),
    }
}

fn sun_miss(miss: SunMiss) -> &'static str {
    match miss {
        SunMiss::DoesNotSet => "the sun does not set",
        SunMiss::DoesNotRise => "the sun does not rise",
        SunMiss::TwilightDoesNotEnd => "civil twilight does not end",
        SunMiss::TwilightDoesNotBegin => "civil twilight does not begin",
        other => other.into(),
    }
}

pub(super) fn in_force(words: &(impl Words + ?Sized), reason: &binding::Reason) -> String {
    use binding::Reason;
    match reason {
        Reason::NotLaw { status } => match status {
            Status::InForce => "it is law",
            Status::Proposed => "it is only proposed",
            Status::NotCommenced => "it has not yet come into force",
            Status::Repealed => "it has been repealed",
        }
        .to_owned(),
        Reason::BeforeEdition { from } => {
            format!("this edition counts only after {}", words.until(from))
        }
        Reason::AfterEdition { until } => format!("this edition counted until {}", words.until(until)),
        Reason::NoTime { missing } => words.missing_time(*missing),
        Reason::Season { reason } => words.time_reason(reason),
        Reason::InForceUntil { until } => format!("in force until {}", words.until(until)),
        Reason::NotInForceUntil { until } => format!("not in force until {}", words.until(until)),
        Reason::NotInForceAgain { until } => {
            format!("not in force again before this edition ends, {}", words.until(until))
        }
        Reason::OpenUntil { until } => format!("undecided until {}", words.until(until)),
        Reason::SeasonsNotFollowed => "seasons are worked out for 400 days ahead, no more".to_owned(),
        other => other.code().to_owned(),
    }
}

pub(super) fn missing(missing: MissingTime) -> &'static str {
    match missing {
        MissingTime::NotGiven => "no time was given",
        MissingTime::Doubted => "the time given is doubtful",
        MissingTime::LogDoubted => "the dates in the log may be wrong",
    }
}

pub(super) fn say_the_time(missing: MissingTime) -> &'static str {
    match missing {
        MissingTime::NotGiven => "give the time",
        MissingTime::Doubted => "give the true time",
        MissingTime::LogDoubted => "find out the true dates of the log",
    }
}

pub(super) fn until(words: &(impl Words + ?Sized), end: &ZonedDateTime) -> String {
    match end.date().yesterday() {
        Ok(day) if end.time() == Time::midnight() => format!("{} 24:00", words.date(day)),
        _ => format!("{} {}", words.date(end.date()), words.clock(end.time())),
    }
}

pub(super) fn date(date: Date) -> String {
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

/// The clock, with its date where that is not the expected one.
fn local_clock(words: &(impl Words + ?Sized), local: DateTime, expected: Date) -> String {
    let shown = words.clock(local.time());
    if local.date() == expected {
        return shown;
    }
    format!("{shown} on {}", day_of_year((local.month(), local.day())))
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
fn listed(items: impl Iterator<Item = String>) -> String {
    let items: Vec<_> = items.collect();
    match items.split_last() {
        None => String::new(),
        Some((only, [])) => only.clone(),
        Some((last, others)) => format!("{} and {last}", others.join(", ")),
    }
}
