//! What can be wrong with a set of instants as a file writes it.

use jiff::civil::Date;

use super::{AnnualWindow, DateRange, NthWeekday, SunHours, When, WindowEnds};

/// A leap year, so that 29 February passes as a day of the year.
const LEAP_YEAR: i16 = 2024;
/// Twelve hours: a larger offset from an event would be meant for another one.
const LONGEST_OFFSET_MIN: u16 = 720;
/// Four weeks and more that follow would run into the next such weekday.
const MOST_DAYS_THEN: u8 = 27;

impl When {
    /// Says what is wrong with the set if it cannot be meant, and how to mend it; looks into its members too.
    ///
    /// A reader of files refuses such a set. If one gets through, [`When::holds`] answers undecided with this text.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::rule::{AnnualWindow, When, WindowEnds};
    ///
    /// let typed_wrong = When::Yearly(AnnualWindow { from: (13, 1), to: (2, 28), ends: WindowEnds::Included });
    /// assert_eq!(
    ///     typed_wrong.fault().as_deref(),
    ///     Some("annual window from month 13 day 1: there is no such day; months run from 1 to 12")
    /// );
    /// assert_eq!(When::Always.fault(), None);
    /// ```
    #[must_use]
    pub fn fault(&self) -> Option<String> {
        match self {
            Self::Always | Self::Hours(_) => None,
            Self::Dates(range) => range.fault(),
            Self::Days(days) => {
                days.is_empty().then(|| "list of days is empty; name at least one".to_owned())
            }
            Self::Yearly(window) => window.fault(),
            Self::Weekdays(days) => {
                days.is_empty().then(|| "list of weekdays is empty; name at least one".to_owned())
            }
            Self::NthWeekday(nth) => nth.fault(),
            Self::Sun(hours) => hours.fault(),
            Self::Unknowable(words) => words.trim().is_empty().then(|| {
                "a condition that cannot be known offline has no words; quote those of the law".to_owned()
            }),
            Self::All(members) | Self::Any(members) if members.is_empty() => {
                Some("list of times is empty; name at least one, or leave the times out".to_owned())
            }
            Self::All(members) | Self::Any(members) => members.iter().find_map(Self::fault),
            Self::Not(inner) => inner.fault(),
        }
    }
}

impl DateRange {
    fn fault(self) -> Option<String> {
        let (from, to) = (self.from, self.to);
        if to < from {
            return Some(format!("window from {from} to {to} ends before it starts; swap the two dates"));
        }
        let none_between = from == to || from.tomorrow().is_ok_and(|next| next == to);
        (self.ends == WindowEnds::Excluded && none_between)
            .then(|| format!("window between {from} and {to} holds no day once both are left out"))
    }
}

impl AnnualWindow {
    fn fault(self) -> Option<String> {
        for (end, (month, day)) in [("from", self.from), ("to", self.to)] {
            if Date::new(LEAP_YEAR, month, day).is_err() {
                let remedy = if (1..=12).contains(&month) {
                    "check the day against the length of the month"
                } else {
                    "months run from 1 to 12"
                };
                return Some(format!(
                    "annual window {end} month {month} day {day}: there is no such day; {remedy}"
                ));
            }
        }
        (self.ends == WindowEnds::Excluded && self.holds_no_day())
            .then(|| "annual window holds no day once its two ends are left out".to_owned())
    }

    fn holds_no_day(self) -> bool {
        let next = Date::new(LEAP_YEAR, self.from.0, self.from.1).and_then(Date::tomorrow);
        self.from == self.to || next.is_ok_and(|next| (next.month(), next.day()) == self.to)
    }
}

impl NthWeekday {
    fn fault(self) -> Option<String> {
        if self.nth != -1 && !(1..=5).contains(&self.nth) {
            return Some(format!(
                "weekday number {} of a month does not exist; use 1 to 5, or -1 for the last",
                self.nth
            ));
        }
        if let Some(month) = self.month.filter(|month| !(1..=12).contains(month)) {
            return Some(format!("weekday in month {month}: months run from 1 to 12"));
        }
        (self.then_days > MOST_DAYS_THEN).then(|| {
            format!(
                "{} days after a weekday run into the next one; at most {MOST_DAYS_THEN} may follow",
                self.then_days
            )
        })
    }
}

impl SunHours {
    fn fault(&self) -> Option<String> {
        if self.at.name.trim().is_empty() {
            return Some("hours by the sun need a place; give the one that the law names".to_owned());
        }
        for time in [self.from, self.to] {
            if time.offset_minutes.unsigned_abs() > LONGEST_OFFSET_MIN {
                return Some(format!(
                    "{} minutes from a moment of the sun is more than {LONGEST_OFFSET_MIN}; count from the nearer one",
                    time.offset_minutes
                ));
            }
        }
        (self.from == self.to)
            .then(|| "hours by the sun start and end with the same moment; leave them out".to_owned())
    }
}
