use jiff::Timestamp;

const DAY_NS: i64 = 86_400_000_000_000;

/// The date, carried from sentences that have one to those that have only a time of day.
#[derive(Debug, Default)]
pub(super) struct Clock {
    /// Day since 1970 and nanosecond of the day of the last instant.
    last: Option<(i64, i64)>,
}

impl Clock {
    /// Turns a time of day into an instant: on the stated day, or on the day that makes the step from the last instant
    /// the shortest (less than 12 hours either way). None while no date is known.
    pub(super) fn instant(&mut self, stated_day: Option<i64>, time_of_day_ns: i64) -> Option<Timestamp> {
        let day = stated_day.or_else(|| {
            let (day, before_ns) = self.last?;
            let step_ns = time_of_day_ns - before_ns;
            Some(match step_ns {
                ..=-43_200_000_000_000 => day + 1,
                43_200_000_000_001.. => day - 1,
                _ => day,
            })
        })?;
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
        assert_eq!(clock.instant(None, HOUR_NS), at("2026-05-02T01:00:00Z"));
        assert_eq!(clock.instant(None, 12 * HOUR_NS), at("2026-05-02T12:00:00Z"));
        // a sentence that comes late, from before midnight
        assert_eq!(clock.instant(None, 2 * HOUR_NS), at("2026-05-02T02:00:00Z"));
        assert_eq!(clock.instant(None, 23 * HOUR_NS), at("2026-05-01T23:00:00Z"));
    }
}
