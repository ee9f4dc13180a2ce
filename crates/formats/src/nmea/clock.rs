use jiff::Timestamp;

const DAY_NS: i64 = 86_400_000_000_000;
/// A time of day so much later than the last one, or more, may be of any later day: no date is carried over an hour and more
/// (common practice, no source).
const CARRIED_FOR_NS: i64 = 3_600_000_000_000;

/// The date, carried from sentences that have one to those that have only a time of day.
#[derive(Debug, Default)]
pub(super) struct Clock {
    /// Day since 1970 and nanosecond of the day of the last instant.
    last: Option<(i64, i64)>,
}

impl Clock {
    /// Turns a time of day into an instant: on the stated day, or on the day that makes the step from the last instant
    /// the shortest. None while no date is known, and again from a step of an hour and more on until one is stated: how many days
    /// passed in it nobody knows.
    pub(super) fn instant(&mut self, stated_day: Option<i64>, time_of_day_ns: i64) -> Option<Timestamp> {
        let day = stated_day.or_else(|| {
            let (day, before_ns) = self.last?;
            let step_ns = time_of_day_ns - before_ns;
            let (day, step_ns) = match step_ns {
                ..=-43_200_000_000_000 => (day + 1, step_ns + DAY_NS),
                43_200_000_000_001.. => (day - 1, step_ns - DAY_NS),
                _ => (day, step_ns),
            };
            (step_ns.abs() < CARRIED_FOR_NS).then_some(day)
        });
        if day.is_none() {
            self.last = None;
        }
        let day = day?;
        self.last = Some((day, time_of_day_ns));
        Timestamp::from_nanosecond(i128::from(day) * i128::from(DAY_NS) + i128::from(time_of_day_ns)).ok()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const HOUR_NS: i64 = 3_600_000_000_000;

    #[test]
    fn midnight_turns_the_date() {
        let mut clock = Clock::default();
        assert_eq!(clock.instant(None, HOUR_NS), None);
        let at = |text: &str| Some(text.parse::<Timestamp>().unwrap());
        assert_eq!(clock.instant(Some(20_574), 23 * HOUR_NS), at("2026-05-01T23:00:00Z"));
        let minutes = |minutes: i64| minutes * HOUR_NS / 60;
        assert_eq!(clock.instant(None, minutes(23 * 60 + 50)), at("2026-05-01T23:50:00Z"));
        assert_eq!(clock.instant(None, minutes(5)), at("2026-05-02T00:05:00Z"));
        // a sentence that comes late, from before midnight
        assert_eq!(clock.instant(None, minutes(23 * 60 + 55)), at("2026-05-01T23:55:00Z"));
        assert_eq!(clock.instant(None, minutes(5)), at("2026-05-02T00:05:00Z"));
        // 3 h 50 min later by the time of day, or 27 h 50 min
        assert_eq!(clock.instant(None, minutes(235)), None);
        assert_eq!(clock.instant(None, minutes(236)), None);
        assert_eq!(clock.instant(Some(20_576), minutes(237)), at("2026-05-03T03:57:00Z"));
    }
}
