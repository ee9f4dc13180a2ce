//! Times as they are typed: with their offset from UTC, or a time of day that means today by the clock of this device.

use jiff::civil::Time;
use jiff::tz::{AmbiguousOffset, TimeZone};
use jiff::{Timestamp, ZonedDateTime};

use crate::failure::say;

/// How a time is written, for messages.
pub(crate) const TIME_FORM: &str =
    "a time needs date, time and offset from UTC, as in 2026-07-25T06:30:00Z or 2026-07-25T07:30:00+01:00";

/// The time that `--time` gives.
#[derive(Debug, Clone)]
pub(crate) enum FixTime {
    At(Timestamp),
    /// A time of day, today.
    Today(Today),
    Unknown,
}

/// A time of day as it was typed, on this day where this device is.
#[derive(Debug, Clone)]
pub(crate) struct Today {
    typed: String,
    at: ZonedDateTime,
}

impl FixTime {
    /// The time that was asked about: the clock's where none was given.
    pub(crate) fn or_now(asked: Option<&Self>) -> Option<Timestamp> {
        asked.map_or_else(|| Some(Timestamp::now()), Self::timestamp)
    }

    /// The time, if it is known. What a time of day was taken for is said.
    pub(crate) fn timestamp(&self) -> Option<Timestamp> {
        match self {
            Self::At(time) => Some(*time),
            Self::Today(today) => {
                today.tell();
                Some(today.at.timestamp())
            }
            Self::Unknown => None,
        }
    }

    /// Whether the clock of this device has a part in the time: as a whole, or by its date and time zone.
    pub(crate) fn is_by_clock(asked: Option<&Self>) -> bool {
        match asked {
            None | Some(Self::Today(_)) => true,
            Some(Self::At(_) | Self::Unknown) => false,
        }
    }
}

impl Today {
    fn tell(&self) {
        let (typed, at) = (&self.typed, &self.at);
        let utc = at.with_time_zone(TimeZone::UTC);
        say(&format!(
            "note: {typed} taken as today, {}, by this device's clock ({} UTC)",
            at.strftime("%-d %B"),
            utc.strftime(match (utc.date() == at.date(), at.second()) {
                (true, 0) => "%H:%M",
                (true, _) => "%H:%M:%S",
                (false, 0) => "%-d %B %H:%M",
                (false, _) => "%-d %B %H:%M:%S",
            }),
        ));
    }
}

/// Reads what stands after `--time`.
pub(crate) fn fix_time(text: &str) -> Result<FixTime, String> {
    if text == "unknown" {
        return Ok(FixTime::Unknown);
    }
    match time_of_day(text) {
        Some(time) => today(text, time, &ZonedDateTime::now()).map(FixTime::Today),
        None => timestamp(text).map(FixTime::At).map_err(|form| {
            slip(text).unwrap_or_else(|| format!("{form}; or 07:25 for today by this device's clock"))
        }),
    }
}

/// What is wrong with a text that is nearly a time, if that can be seen.
fn slip(text: &str) -> Option<String> {
    let is_digits = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    if text.parse::<jiff::civil::Date>().is_ok() && !text.contains(['T', ' ', ':']) {
        return Some(format!(
            "the time of day is missing: write it with its offset from UTC, as in {text}T06:30:00Z or {text}T07:30:00+01:00"
        ));
    }
    let has_two_digits = text.rsplit(['.', 'h', ',']).next().is_some_and(|minute| minute.len() == 2);
    if let Some((hour, minute)) = text.split_once(['.', 'h', ','])
        && is_digits(hour)
        && is_digits(minute)
        && let (Ok(hour), Ok(minute)) = (hour.parse::<u8>(), minute.parse::<u8>())
        && has_two_digits
        && minute < 60
        && hour < 24
    {
        return Some(format!("write {hour:02}:{minute:02}, with a colon"));
    }
    let parts: Vec<&str> = text.split(':').collect();
    let [hour, minute, rest @ ..] = parts.as_slice() else { return None };
    if !parts.iter().all(|part| is_digits(part)) || rest.len() > 1 {
        return None;
    }
    if hour.parse::<u8>().is_ok_and(|hour| hour == 24) {
        return Some("there is no hour 24: midnight is 00:00 of the next day".to_owned());
    }
    if hour.parse::<u8>().map_or(true, |hour| hour > 24) {
        return Some(format!("there is no hour {hour}: hours go from 00 to 23"));
    }
    if minute.parse::<u8>().map_or(true, |minute| minute > 59) {
        return Some(format!("there is no minute {minute}: minutes go from 00 to 59"));
    }
    None
}

/// Reads a time with its offset from UTC; no place on Earth is a day off.
pub(crate) fn timestamp(text: &str) -> Result<Timestamp, String> {
    let offset_hours = text.rfind(['+', '-']).filter(|at| *at > 10).and_then(|at| text.get(at + 1..at + 3));
    let is_a_day_off = offset_hours.is_some_and(|hours| hours.parse::<u8>().is_ok_and(|hours| hours > 23));
    if is_a_day_off {
        return Err(format!("an offset from UTC is less than 24 hours; {TIME_FORM}"));
    }
    text.parse().map_err(|_| TIME_FORM.to_owned())
}

/// Whether a text is a time of day and no more, which means another time tomorrow.
pub(crate) fn is_time_of_day(text: &str) -> bool {
    time_of_day(text).is_some()
}

/// Reads `7:25`, `07:25` or `07:25:30`.
fn time_of_day(text: &str) -> Option<Time> {
    let parts: Vec<&str> = text.split(':').collect();
    let is_number = |part: &&str| (1..=2).contains(&part.len()) && part.bytes().all(|b| b.is_ascii_digit());
    let (hour, minute, second) = match parts.as_slice() {
        [hour, minute] => (hour, minute, "0"),
        [hour, minute, second] if second.len() == 2 => (hour, minute, *second),
        _ => return None,
    };
    if !parts.iter().all(is_number) || minute.len() != 2 {
        return None;
    }
    Time::new(hour.parse().ok()?, minute.parse().ok()?, second.parse().ok()?, 0).ok()
}

/// The time of day on the day that it is now, where `now` is.
fn today(typed: &str, time: Time, now: &ZonedDateTime) -> Result<Today, String> {
    let zone = now.time_zone();
    let date = now.date();
    if zone.is_unknown() {
        return Err(format!(
            "the time zone of this device is not known, so nobody can say when {typed} is; write it with its offset from \
             UTC, as in {date}T{time:.0}+01:00"
        ));
    }
    let found = zone.to_ambiguous_zoned_datetime(date.to_datetime(time));
    match found.offset() {
        AmbiguousOffset::Unambiguous { .. } => {}
        AmbiguousOffset::Gap { before, after } => {
            return Err(format!(
                "the clocks were put forward today, and there was no {typed}; write it with its offset from UTC: \
                 {date}T{time:.0}{} or {date}T{time:.0}{}",
                shown(before),
                shown(after)
            ));
        }
        AmbiguousOffset::Fold { before, after } => {
            return Err(format!(
                "the clocks are put back today, and it is {typed} twice; say which with its offset from UTC: \
                 {date}T{time:.0}{} is the first, {date}T{time:.0}{} the second",
                shown(before),
                shown(after)
            ));
        }
    }
    let at = found.unambiguous().map_err(|_| TIME_FORM.to_owned())?;
    Ok(Today { typed: typed.to_owned(), at })
}

/// An offset as it is typed: `+01:00`.
fn shown(offset: jiff::tz::Offset) -> String {
    let seconds = offset.seconds();
    let sign = if seconds < 0 { '-' } else { '+' };
    let minutes = seconds.unsigned_abs() / 60;
    format!("{sign}{:02}:{:02}", minutes / 60, minutes % 60)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// An invented zone, an hour ahead of UTC and two in summer: clocks go forward at 02:00 on the last Sunday of March, back
    /// at 03:00 on that of October.
    fn on(date: &str) -> ZonedDateTime {
        let zone = TimeZone::posix("MAR-1MAS,M3.5.0,M10.5.0/3").unwrap();
        let noon: jiff::civil::DateTime = format!("{date}T12:00").parse().unwrap();
        noon.to_zoned_datetime(zone).unwrap()
    }

    fn read(text: &str, date: &str) -> Result<String, String> {
        let found = today(text, time_of_day(text).unwrap(), &on(date))?;
        Ok(found.at.timestamp().to_string())
    }

    #[test]
    fn a_time_of_day_is_today_where_this_device_is() {
        assert_eq!(read("07:25", "2026-01-10"), Ok("2026-01-10T06:25:00Z".into()));
        assert_eq!(read("7:25", "2026-07-10"), Ok("2026-07-10T05:25:00Z".into()));
        assert_eq!(read("00:30:05", "2026-07-10"), Ok("2026-07-09T22:30:05Z".into()));
    }

    #[test]
    fn a_time_that_does_not_exist_or_exists_twice_is_refused() {
        // the last Sundays of March and October 2026
        let gap = read("02:30", "2026-03-29").unwrap_err();
        assert!(gap.contains("there was no 02:30"), "{gap}");
        let fold = read("02:30", "2026-10-25").unwrap_err();
        assert!(fold.contains("it is 02:30 twice"), "{fold}");
        assert!(fold.contains("2026-10-25T02:30:00+02:00 is the first"), "{fold}");
        assert!(fold.contains("2026-10-25T02:30:00+01:00 the second"), "{fold}");
        for text in [&gap, &fold] {
            let written = text.split_whitespace().find(|word| word.starts_with("2026-")).unwrap();
            assert!(timestamp(written.trim_end_matches([',', ';'])).is_ok(), "{written}");
        }
    }

    #[test]
    fn only_a_time_of_day_is_one() {
        for text in
            ["24:00", "07:60", "725", "07:5", "7", "07:25Z", "07:25+01:00", "07:25 pm", "-7:25", "07:25:3"]
        {
            assert!(!is_time_of_day(text), "{text}");
        }
        let reason = fix_time("2026-07-01T07:25").unwrap_err();
        assert!(reason.contains("offset from UTC"), "{reason}");
        assert!(reason.contains("07:25 for today"), "{reason}");
    }

    #[test]
    fn what_is_nearly_a_time_is_told_what_is_wrong() {
        for (text, mend) in [
            ("25:00", "there is no hour 25"),
            ("24:00", "there is no hour 24"),
            ("07:60", "there is no minute 60"),
            ("7.25", "write 07:25"),
            ("07h25", "write 07:25"),
            ("2026-07-25", "the time of day is missing"),
        ] {
            let reason = fix_time(text).unwrap_err();
            assert!(reason.contains(mend), "{text}: {reason}");
        }
        for text in ["725", "07:25Z", "7.5", "yesterday"] {
            assert!(fix_time(text).unwrap_err().starts_with(TIME_FORM), "{text}");
        }
    }

    #[test]
    fn a_device_without_a_time_zone_is_told_so() {
        let now = Timestamp::UNIX_EPOCH.to_zoned_datetime(TimeZone::unknown());
        let reason = today("07:25", time_of_day("07:25").unwrap(), &now).unwrap_err();
        assert!(reason.contains("not known"), "{reason}");
    }
}
