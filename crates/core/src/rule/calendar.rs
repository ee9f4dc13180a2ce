//! Whether a calendar date belongs to a window of days.

use jiff::civil::Date;

use super::{AnnualWindow, DateRange, NthWeekday, WindowEnds};
use crate::Tristate;

impl DateRange {
    /// Whether a date in the zone's own time belongs to it; undecided on an end day where the text leaves that open.
    #[must_use]
    pub fn holds_on(&self, date: Date) -> Tristate {
        if date < self.from || date > self.to {
            return Tristate::No;
        }
        end_day(date == self.from || date == self.to, self.ends)
    }
}

impl AnnualWindow {
    /// Whether a date in the zone's own time belongs to it; undecided on an end day where the text leaves that open.
    ///
    /// Month and day are compared as they stand, so a window to 29 February ends with 28 February in common years, one
    /// from 29 February starts with 1 March in them, and one to 28 February leaves 29 February out.
    #[must_use]
    pub fn holds_on(&self, date: Date) -> Tristate {
        let day = (date.month(), date.day());
        let inside = if self.from <= self.to {
            self.from <= day && day <= self.to
        } else {
            self.from <= day || day <= self.to
        };
        if !inside {
            return Tristate::No;
        }
        end_day(day == self.from || day == self.to, self.ends)
    }
}

/// The answer for a day inside a window, given whether it is the first or last.
fn end_day(is_end: bool, ends: WindowEnds) -> Tristate {
    match ends {
        WindowEnds::Excluded if is_end => Tristate::No,
        WindowEnds::Unstated if is_end => Tristate::Undecided,
        WindowEnds::Included | WindowEnds::Excluded | WindowEnds::Unstated => Tristate::Yes,
    }
}

impl NthWeekday {
    /// Whether a date in the zone's own time is that weekday, or one of the days that follow it.
    ///
    /// The month is that of the weekday itself: days that follow may lie in the next month. A month without a fifth
    /// such weekday has none.
    #[must_use]
    pub fn holds_on(&self, date: Date) -> bool {
        let mut day = date;
        for _ in 0..=self.then_days {
            if self.falls_on(day) {
                return true;
            }
            let Ok(before) = day.yesterday() else { return false };
            day = before;
        }
        false
    }

    fn falls_on(self, day: Date) -> bool {
        self.month.is_none_or(|month| month == day.month())
            && day.nth_weekday_of_month(self.nth, self.weekday).is_ok_and(|found| found == day)
    }
}
