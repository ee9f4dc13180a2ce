//! Records of which only the time of day is known yet.

use std::collections::VecDeque;

use takeline::track::{LogPlace, LoggedFix};

use super::clock::Clock;
use crate::LogItem;

/// So many records wait for a date: half a day at one a second. Beyond it the log is read without times.
const MOST_WAITING: usize = 50_000;
/// A longer step of the time of day, in seconds, begins another stretch in a log without a date: what was done meanwhile
/// nobody knows (common practice, no source).
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
            let step_ns = (now_ns - last_ns).rem_euclid(DAY_NS);
            let is_long = step_ns.min(DAY_NS - step_ns) > STEP_S * SECOND_NS;
            self.stretch = self.stretch.saturating_add(u32::from(is_long));
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

    /// Dates what waits, now that a day is known: backwards, each step the shortest that the times of day allow.
    pub(super) fn date(&mut self, day: i64, time_of_day_ns: i64) -> Vec<LogItem> {
        let mut clock = Clock::default();
        let _known = clock.instant(Some(day), time_of_day_ns);
        let mut dated: Vec<LogItem> = Vec::with_capacity(self.waiting.len());
        for (item, time_ns) in std::mem::take(&mut self.waiting).into_iter().rev() {
            let time = time_ns.and_then(|time_ns| clock.instant(None, time_ns));
            dated.push(match item {
                LogItem::Fix(fix) => LogItem::Fix(LoggedFix { time, ..fix }),
                LogItem::Unplaced(mut record) => {
                    record.time = time;
                    LogItem::Unplaced(record)
                }
                other @ (LogItem::RoutePoint(_) | LogItem::Waypoint(_) | LogItem::Note(_)) => other,
            });
        }
        dated.reverse();
        dated
    }
}
