//! Dates that a receiver may have got wrong.

use jiff::Timestamp;

/// Earlier times, in seconds since 1970, are those of a clock that was not set yet: 1 January 1990 (common practice, no
/// source).
const NO_CLOCK_BEFORE_S: i64 = 631_152_000;
/// From so many seconds since 1970 on, the end of 2100, a digit is likely wrong (common practice, no source).
const LIKELY_UNTIL_S: i64 = 4_133_980_800;
/// Before this instant, 2008-01-01 UTC, a date is suspicious.
///
/// Receivers count weeks modulo 1024. One that still lives in the last round is 1024 weeks (19.6 years) behind: logs
/// made since the round that began on 2019-04-07 then say 1999-08-22 or later, and logs of today about 2007. From
/// mid-August 2027 on such a clock says 2008, which cannot be told from a true date.
const SUSPICIOUS_BEFORE_S: i64 = 1_199_145_600;
/// One round of the count of weeks: 1024 × 7 × 86 400 s.
const ROUND_S: i64 = 619_315_200;

/// Why a date may be wrong. No answer rests on such a time: what is in force then is left open.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum DateDoubt {
    /// So old that the receiver's count of weeks may have started anew.
    Round {
        /// The time by that clock.
        time: Timestamp,
        /// What it was if the count has started anew.
        later: Timestamp,
    },
    /// Its year is none in which anybody had a fix.
    Year {
        /// The time as written.
        time: Timestamp,
    },
}

impl DateDoubt {
    /// Returns why a date may be wrong: so old that a receiver's count of weeks may have started anew, or of a year in which
    /// nobody has a fix: before 1990 or after 2100. None if nothing speaks against it.
    ///
    /// The one check of all times: [`crate::ZoneSet::assess`], [`crate::track::Auditor`] and the readers of logs ask here.
    ///
    /// # Edge cases
    ///
    /// A clock that is wrong in any other way is not seen.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::DateDoubt;
    /// assert!(DateDoubt::of("2026-07-01T05:30Z".parse()?).is_none());
    /// // a telephone that has not heard the time yet
    /// assert!(DateDoubt::of("1970-01-01T00:00:05Z".parse()?).is_some());
    /// # Ok::<(), takeline::jiff::Error>(())
    /// ```
    ///
    /// # References
    ///
    /// The rounds of the count of weeks began on 1980-01-06, 1999-08-22 and 2019-04-07 (public notices of the week rollover).
    #[must_use]
    pub fn of(time: Timestamp) -> Option<Self> {
        let second = time.as_second();
        if !is_of_a_set_clock(time) || second >= LIKELY_UNTIL_S {
            return Some(Self::Year { time });
        }
        if second >= SUSPICIOUS_BEFORE_S {
            return None;
        }
        let later = Timestamp::new(second + ROUND_S, time.subsec_nanosecond()).ok()?;
        Some(Self::Round { time, later })
    }
}

/// Returns whether a time is not that of a clock which nobody has set yet: such clocks tell times before 1990.
#[must_use]
pub fn is_of_a_set_clock(time: Timestamp) -> bool {
    time.as_second() >= NO_CLOCK_BEFORE_S
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(text: &str) -> Timestamp {
        text.parse().unwrap()
    }

    #[test]
    fn a_year_in_which_nobody_has_a_fix_is_doubted() {
        for told in ["1989-12-31T23:59:59Z", "2101-01-01T00:00:00Z", "2206-07-24T06:00:00Z"] {
            assert_eq!(DateDoubt::of(at(told)), Some(DateDoubt::Year { time: at(told) }));
        }
        assert!(matches!(DateDoubt::of(at("1990-01-01T00:00:00Z")), Some(DateDoubt::Round { .. })));
        assert_eq!(DateDoubt::of(at("2100-12-31T23:59:59Z")), None);
    }

    #[test]
    fn dates_of_the_last_round_are_suspicious() {
        // the rounds began on 1980-01-06, 1999-08-22 and 2019-04-07 (public notices of the week rollover)
        for (told, true_time) in [
            ("1999-08-22T00:00:00Z", "2019-04-07T00:00:00Z"),
            ("2007-12-31T23:59:59Z", "2027-08-16T23:59:59Z"),
        ] {
            let (time, later) = (at(told), at(true_time));
            assert_eq!(DateDoubt::of(time), Some(DateDoubt::Round { time, later }));
        }
        assert_eq!(DateDoubt::of(at("2008-01-01T00:00:00Z")), None);
    }
}
