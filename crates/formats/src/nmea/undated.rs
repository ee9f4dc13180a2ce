//! Records of which only the time of day is known yet.

use std::collections::VecDeque;

use takeline::track::{LogPlace, LoggedFix};

use super::clock::Clock;
use crate::LogItem;

/// So many records wait for a date: half a day at one a second. Beyond it the log is read without times.
const MOST_WAITING: usize = 50_000;
/// A longer step of the time of day, in seconds, begins another stretch in a log without a date, and no date is carried back
/// over it: how long it was, and what was done meanwhile, nobody knows (common practice, no source).
const STEP_S: i64 = 30;
const SECOND_NS: i64 = 1_000_000_000;
const DAY_NS: i64 = 86_400 * SECOND_NS;

/// Records in the order of the log that wait for a date.
#[derive(Debug, Default)]
pub(super) struct Undated {
    waiting: VecDeque<(LogItem, Option<i64>)>,
    stretch: u32,
    last_ns: Option<i64>,
    /// Whether no more date is waited for.
    given_up: bool,
}

impl Undated {
    pub(super) fn is_empty(&self) -> bool {
        self.waiting.is_empty()
    }

    /// Takes a record without a date, and gives back those that wait no longer.
    pub(super) fn push(&mut self, item: LogItem, time_of_day_ns: Option<i64>) -> Vec<LogItem> {
        self.waiting.push_back((item, time_of_day_ns));
        self.given_up |= self.waiting.len() >= MOST_WAITING;
        if self.given_up { self.give_up() } else { Vec::new() }
    }

    /// Gives back what waits without times; long steps of the time of day are breaks.
    pub(super) fn give_up(&mut self) -> Vec<LogItem> {
        let waiting = std::mem::take(&mut self.waiting);
        waiting.into_iter().map(|(item, time_ns)| self.broken(item, time_ns)).collect()
    }

    fn broken(&mut self, item: LogItem, time_ns: Option<i64>) -> LogItem {
        if let Some((last_ns, now_ns)) = self.last_ns.zip(time_ns) {
            self.stretch = self.stretch.saturating_add(u32::from(is_long_step(last_ns, now_ns)));
        }
        self.last_ns = time_ns.or(self.last_ns);
        self.placed(item)
    }

    /// The record in the stretch that has been come to.
    pub(super) fn placed(&self, item: LogItem) -> LogItem {
        let in_stretch = |place: LogPlace| LogPlace { stretch: self.stretch, ..place };
        match item {
            LogItem::Fix(fix) => LogItem::Fix(LoggedFix { place: in_stretch(fix.place), ..fix }),
            LogItem::Unplaced(mut record) => {
                record.place = in_stretch(record.place);
                LogItem::Unplaced(record)
            }
            other @ (LogItem::RoutePoint(_) | LogItem::Waypoint(_) | LogItem::Note(_)) => other,
        }
    }

    /// Dates what waits, now that a day is known, backwards as far as the times of day follow each other.
    ///
    /// What lies before a long step of them stays without a time, in stretches of its own: between two times of day may lie
    /// days.
    pub(super) fn date(&mut self, day: i64, time_of_day_ns: i64) -> Vec<LogItem> {
        if self.waiting.is_empty() {
            return Vec::new();
        }
        let known = self.follows_from(time_of_day_ns);
        let to_date = self.waiting.split_off(known);
        let mut items = self.give_up();
        if !items.is_empty() {
            self.stretch = self.stretch.saturating_add(1);
        }
        let mut clock = Clock::default();
        let _known = clock.instant(Some(day), time_of_day_ns);
        let before = items.len();
        for (item, time_ns) in to_date.into_iter().rev() {
            let time = time_ns.and_then(|time_ns| clock.instant(None, time_ns));
            items.push(self.placed(match item {
                LogItem::Fix(fix) => LogItem::Fix(LoggedFix { time, ..fix }),
                LogItem::Unplaced(mut record) => {
                    record.time = time;
                    LogItem::Unplaced(record)
                }
                other @ (LogItem::RoutePoint(_) | LogItem::Waypoint(_) | LogItem::Note(_)) => other,
            }));
        }
        items[before..].reverse();
        items
    }

    /// The first of those that wait from which no long step of the time of day leads on to this one.
    fn follows_from(&self, time_of_day_ns: i64) -> usize {
        let mut next_ns = time_of_day_ns;
        for (number, (_, time_ns)) in self.waiting.iter().enumerate().rev() {
            let Some(time_ns) = *time_ns else { continue };
            if is_long_step(time_ns, next_ns) {
                return number + 1;
            }
            next_ns = time_ns;
        }
        0
    }
}

/// Whether a step of the time of day, the shortest way round, is too long to say what was done meanwhile.
fn is_long_step(from_ns: i64, to_ns: i64) -> bool {
    let step_ns = (to_ns - from_ns).rem_euclid(DAY_NS);
    step_ns.min(DAY_NS - step_ns) > STEP_S * SECOND_NS
}
