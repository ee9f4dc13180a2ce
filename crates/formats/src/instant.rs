//! Times as logs write them, and dates that a receiver may have got wrong.

use jiff::Timestamp;
use jiff::tz::TimeZone;
use takeline::DateDoubt;

const DAY_S: i64 = 86_400;

/// A text of time, read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum ReadTime {
    /// An instant.
    At(Timestamp),
    /// A date and a time of day without a zone, read as UTC.
    WithoutZone(Timestamp),
    /// Nothing at all.
    Empty,
    /// Something else.
    Unreadable,
}

/// Reads date and time in the form of RFC 3339 and XML Schema, zone or not.
///
/// `T` may be a space, seconds may be missing, an offset may be `+hh`, `+hhmm` or `+hh:mm`. A leap second is read as the
/// second before it. Digits of a fraction beyond the ninth are dropped. A date alone is unreadable: noon would be a guess.
pub(crate) fn read(text: &[u8]) -> ReadTime {
    let text = text.trim_ascii();
    if text.is_empty() {
        return ReadTime::Empty;
    }
    let read = civil(text).and_then(|(second, nanosecond, rest)| {
        let offset_s = offset(rest)?;
        let time = Timestamp::new(second - offset_s.unwrap_or(0), nanosecond).ok()?;
        Some(if offset_s.is_some() { ReadTime::At(time) } else { ReadTime::WithoutZone(time) })
    });
    read.unwrap_or(ReadTime::Unreadable)
}

/// Reads times one after another, and remembers the date of the last one: in a log it is nearly always that of the next.
#[derive(Debug, Default)]
pub(crate) struct TimeReader {
    /// `2026-05-01T`, and its days since 1970; none before the first time.
    date: [u8; 11],
    days: Option<i64>,
}

impl TimeReader {
    /// As [`read`], the same to the last bit.
    #[inline]
    pub(crate) fn read(&mut self, text: &[u8]) -> ReadTime {
        if let Some(time) = self.same_day(text) {
            return ReadTime::At(time);
        }
        if let Some((date, _)) = text.split_first_chunk::<11>()
            && *date != self.date
        {
            self.date = *date;
            self.days = days_of(*date);
        }
        read(text)
    }

    /// A time `2026-05-01T06:30:00Z` of the remembered date; none for every other form.
    #[inline]
    fn same_day(&self, text: &[u8]) -> Option<Timestamp> {
        let (date, clock) = text.split_first_chunk::<11>()?;
        let [h1, h2, b':', mi1, mi2, b':', s1, s2, b'Z'] = clock else { return None };
        let days = self.days.filter(|_| *date == self.date)?;
        let (hour, minute, second) = (two(*h1, *h2)?, two(*mi1, *mi2)?, two(*s1, *s2)?);
        if hour > 23 || minute > 59 || second > 59 {
            return None;
        }
        Timestamp::from_second(days * DAY_S + hour * 3600 + minute * 60 + second).ok()
    }
}

/// Days since 1970 of a date and the letter behind it.
fn days_of(date: [u8; 11]) -> Option<i64> {
    let [y1, y2, y3, y4, b'-', mo1, mo2, b'-', d1, d2, b'T'] = date else { return None };
    day_number(two(y1, y2)? * 100 + two(y3, y4)?, two(mo1, mo2)?, two(d1, d2)?)
}

/// A date as RFC 3339 writes it: from `2026-05-01`, `2026/05/01` or `20260501`.
///
/// None for any other: in `01/05/2026` nobody can tell the day from the month.
pub(crate) fn plain_date(text: &[u8]) -> Option<[u8; 10]> {
    let digits = match text.trim_ascii() {
        [y1, y2, y3, y4, s1 @ (b'-' | b'/'), m1, m2, s2, d1, d2] if s1 == s2 => {
            [y1, y2, y3, y4, m1, m2, d1, d2]
        }
        [y1, y2, y3, y4, m1, m2, d1, d2] => [y1, y2, y3, y4, m1, m2, d1, d2],
        _ => return None,
    };
    let [y1, y2, y3, y4, m1, m2, d1, d2] = digits.map(|digit| *digit);
    let is_date = digits.iter().all(|digit| digit.is_ascii_digit());
    is_date.then_some([y1, y2, y3, y4, b'-', m1, m2, b'-', d1, d2])
}

/// Seconds since 1970 as if in UTC, nanoseconds, and what follows them.
fn civil(text: &[u8]) -> Option<(i64, i32, &[u8])> {
    let [y1, y2, y3, y4, b'-', mo1, mo2, b'-', d1, d2, b'T' | b't' | b' ', h1, h2, b':', mi1, mi2, rest @ ..] =
        text
    else {
        return None;
    };
    let year = two(*y1, *y2)? * 100 + two(*y3, *y4)?;
    let days = day_number(year, two(*mo1, *mo2)?, two(*d1, *d2)?)?;
    let (hour, minute) = (two(*h1, *h2)?, two(*mi1, *mi2)?);
    let (second, nanosecond, rest) = seconds(rest)?;
    if hour > 23 || minute > 59 {
        return None;
    }
    Some((days * DAY_S + hour * 3600 + minute * 60 + second, nanosecond, rest))
}

fn seconds(rest: &[u8]) -> Option<(i64, i32, &[u8])> {
    let [b':', tens, ones, rest @ ..] = rest else { return Some((0, 0, rest)) };
    let second = two(*tens, *ones).filter(|second| *second <= 60)?.min(59);
    let Some((b'.' | b',', fraction)) = rest.split_first() else { return Some((second, 0, rest)) };
    let digits = fraction.iter().take_while(|byte| byte.is_ascii_digit()).count();
    if digits == 0 {
        return None;
    }
    let nine = (0..9).map(|at| if at < digits { i32::from(fraction[at] - b'0') } else { 0 });
    Some((second, nine.fold(0, |sum, digit| sum * 10 + digit), &fraction[digits..]))
}

/// Seconds east of UTC; none inside if there is no zone, none outside if it cannot be read.
#[expect(clippy::option_option, reason = "no zone and an unreadable zone are two answers")]
fn offset(rest: &[u8]) -> Option<Option<i64>> {
    let (sign, h1, h2, minutes) = match rest {
        [] => return Some(None),
        [b'Z' | b'z'] => return Some(Some(0)),
        [sign, h1, h2] => (sign, h1, h2, 0),
        [sign, h1, h2, m1, m2] | [sign, h1, h2, b':', m1, m2] => (sign, h1, h2, two(*m1, *m2)?),
        _ => return None,
    };
    let hours = two(*h1, *h2)?;
    if hours > 23 || minutes > 59 {
        return None;
    }
    let magnitude_s = hours * 3600 + minutes * 60;
    match sign {
        b'+' => Some(Some(magnitude_s)),
        b'-' => Some(Some(-magnitude_s)),
        _ => None,
    }
}

/// Seconds east of UTC, from a text that is an offset alone: `+02:00`, `-1`, `Z`, `UTC`.
///
/// None for anything else: a number without a sign may be of hours, minutes or seconds, and the names of zones are not read.
pub(crate) fn offset_alone(text: &[u8]) -> Option<i64> {
    let text = text.trim_ascii();
    if [&b"utc"[..], b"gmt", b"z"].iter().any(|name| text.eq_ignore_ascii_case(name)) {
        return Some(0);
    }
    let text = match text.get(..3) {
        Some(name) if name.eq_ignore_ascii_case(b"utc") || name.eq_ignore_ascii_case(b"gmt") => &text[3..],
        _ => text,
    };
    match text {
        [sign, hour] => offset(&[*sign, b'0', *hour])?,
        [sign, hour, b':', m1, m2] => offset(&[*sign, b'0', *hour, *m1, *m2])?,
        [b'+' | b'-', ..] => offset(text)?,
        _ => None,
    }
}

impl ReadTime {
    /// The same where another field says how far it is ahead of UTC.
    pub(crate) fn with_offset(self, offset: &[u8]) -> Self {
        let Self::WithoutZone(time) = self else { return self };
        let ahead_s = offset_alone(offset);
        let shifted =
            ahead_s.and_then(|s| Timestamp::new(time.as_second() - s, time.subsec_nanosecond()).ok());
        shifted.map_or(self, Self::At)
    }
}

fn two(tens: u8, ones: u8) -> Option<i64> {
    let (tens, ones) = (tens.wrapping_sub(b'0'), ones.wrapping_sub(b'0'));
    (tens < 10 && ones < 10).then(|| i64::from(tens) * 10 + i64::from(ones))
}

/// Days from 1970-01-01 to a day of the Gregorian calendar; none if there is no such day. Years 0 to 9999.
///
/// Years are counted from March, so that the leap day is the last of its year, and from 400 years before the year 0.
fn day_number(year: i64, month: i64, day: i64) -> Option<i64> {
    const DAYS_BEFORE: [i64; 12] = [306, 337, 0, 31, 61, 92, 122, 153, 184, 214, 245, 275];
    const DAYS_IN: [i64; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
    let index = usize::try_from(month - 1).ok().filter(|index| *index < 12)?;
    let is_leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let longest = DAYS_IN[index] + i64::from(is_leap && month == 2);
    if !(1..=longest).contains(&day) {
        return None;
    }
    let since = if month < 3 { year + 399 } else { year + 400 };
    let before_year = since * 365 + since / 4 - since / 100 + since / 400;
    // day 0 of this count is the March 1 that lies 400 years before the one of year 0: 146 097 + 719 468 days before 1970
    Some(before_year + DAYS_BEFORE[index] + day - 1 - 865_565)
}

/// The note on a suspicious date.
pub(crate) fn suspicion(doubt: DateDoubt) -> String {
    let why = match doubt {
        DateDoubt::Round { time, later } => format!(
            "the clock says {time}: if the receiver's week count has rolled over, it was {later} (1024 weeks later)"
        ),
        DateDoubt::Year { time } => {
            let year = TimeZone::UTC.to_datetime(time).year();
            format!("the time {time} is in the year {year}, which is probably a mistake")
        }
        _ => "the date is probably wrong".to_owned(),
    };
    format!("{why}; times were left as they are")
}

#[cfg(test)]
mod tests {
    use jiff::civil::Date;
    use proptest::prelude::*;

    use super::*;

    fn at(text: &str) -> Timestamp {
        text.parse().unwrap()
    }

    #[test]
    fn zones_offsets_and_fractions() {
        let noon = ReadTime::At(at("2026-05-01T12:00:00Z"));
        for text in [
            "2026-05-01T12:00:00Z",
            " 2026-05-01T12:00Z\n",
            "2026-05-01t14:00:00+02:00",
            "2026-05-01 10:00:00-02",
            "2026-05-01T17:45:00.000+0545",
        ] {
            assert_eq!(read(text.as_bytes()), noon, "{text}");
        }
        assert_eq!(read(b"2026-05-01T12:00:00"), ReadTime::WithoutZone(at("2026-05-01T12:00:00Z")));
        assert_eq!(read(b"2026-05-01T12:00:00.5Z"), ReadTime::At(at("2026-05-01T12:00:00.5Z")));
        assert_eq!(
            read(b"2026-05-01T12:00:00.1234567891Z"),
            ReadTime::At(at("2026-05-01T12:00:00.123456789Z"))
        );
        assert_eq!(read(b"2016-12-31T23:59:60Z"), ReadTime::At(at("2016-12-31T23:59:59Z")));
    }

    #[test]
    fn what_is_no_time() {
        assert_eq!(read(b"  \n"), ReadTime::Empty);
        for text in [
            "2026-05-01",
            "2026-02-29T00:00:00Z",
            "2026-13-01T00:00:00Z",
            "2026-00-01T00:00:00Z",
            "2026-05-00T00:00:00Z",
            "2026-05-01T24:00:00Z",
            "2026-05-01T12:60:00Z",
            "2026-05-01T12:00:61Z",
            "2026-05-01T12:00:00.Z",
            "2026-05-01T12:00:00+24:00",
            "2026-05-01T12:00:00*02:00",
            "12:00:00",
            "1777636800",
            "01/05/2026 12:00",
            "2026-05-01T12:00:00 CEST",
            "9999-12-31T23:59:59-23:59",
        ] {
            assert_eq!(read(text.as_bytes()), ReadTime::Unreadable, "{text}");
        }
    }

    proptest! {
        #[test]
        fn every_day_is_the_day_of_an_independent_calendar(year in 0_i16..=9999, month in 0_i8..=14, day in 0_i8..=33) {
            let epoch = Date::constant(1970, 1, 1);
            let expected = Date::new(year, month, day).ok().map(|date| i64::from((date - epoch).get_days()));
            prop_assert_eq!(day_number(year.into(), month.into(), day.into()), expected);
        }

        #[test]
        fn a_remembered_date_changes_no_time(
            texts in proptest::collection::vec(
                "(2026-05-01|2026-05-02|2026-02-30|0000-01-01|9999-12-31|1969-12-31|[ 0-9-]{10})[Tt ]\
                 (06:30:0[0-9]|2[0-5]:[5-6][0-9]:[5-6][0-9]|[0-9:]{0,8})(Z|z|\\.5Z|\\+02:00| Z|Zx|)",
                1..20,
            ),
        ) {
            let mut times = TimeReader::default();
            for text in &texts {
                prop_assert_eq!(times.read(text.as_bytes()), read(text.as_bytes()), "{} of {:?}", text, texts);
            }
        }

        #[test]
        fn any_bytes_are_answered(bytes in proptest::collection::vec(any::<u8>(), 0..40)) {
            read(&bytes);
        }
    }
}
