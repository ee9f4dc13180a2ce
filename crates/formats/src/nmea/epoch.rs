//! Sentences that belong to one fix, the date carried from one to the next, and records that wait for a date.

use std::collections::VecDeque;

use jiff::Timestamp;
use takeline::Position;
use takeline::track::{LogPlace, LoggedFix};

use super::sentence::{Kind, Sentence, Standing};
use crate::LogItem;

/// Positions of one instant that are farther apart than this, in degrees, disagree: about 100 m, far
/// more than receivers round by (common practice, no source).
const DISAGREE_DEG: f64 = 0.001;

/// More sentences of one instant than any receiver sends.
const MOST_SENTENCES: usize = 64;

/// Everything that sentences say about one instant.
#[derive(Debug)]
pub(super) struct Epoch {
    pub(super) place: LogPlace,
    pub(super) time_of_day_ns: Option<i64>,
    pub(super) day: Option<i64>,
    pub(super) position: Option<(Kind, Position)>,
    /// Whether one of the sentences is of a kind that tells a position.
    pub(super) should_tell_position: bool,
    pub(super) standing: Standing,
    pub(super) hdop: Option<f64>,
    /// The greatest standard error that a sentence tells, in metres.
    pub(super) sigma_m: Option<f64>,
    pub(super) speed_m_per_s: Option<f64>,
    pub(super) disagrees: bool,
    /// Talker and kind of the sentences so far.
    seen: Vec<([u8; 2], Kind)>,
}

impl Epoch {
    pub(super) fn new(first: &Sentence, place: LogPlace) -> Self {
        let mut epoch = Self {
            place,
            time_of_day_ns: first.time_of_day_ns,
            day: None,
            position: None,
            should_tell_position: false,
            standing: Standing::Good,
            hdop: None,
            sigma_m: None,
            speed_m_per_s: None,
            disagrees: false,
            seen: Vec::new(),
        };
        epoch.join(first, place);
        epoch
    }

    /// Whether a sentence tells of the same instant: the same time of day, and not the same sentence once more.
    pub(super) fn takes(&self, sentence: &Sentence) -> bool {
        let is_new = !self.seen.contains(&(sentence.talker, sentence.kind));
        is_new && self.seen.len() < MOST_SENTENCES && sentence.time_of_day_ns == self.time_of_day_ns
    }

    pub(super) fn join(&mut self, sentence: &Sentence, place: LogPlace) {
        self.seen.push((sentence.talker, sentence.kind));
        self.standing = self.standing.max(sentence.standing);
        self.should_tell_position |= !matches!(sentence.kind, Kind::Zda | Kind::Gst);
        // ZDA has four digits of the year, RMC two
        if sentence.day.is_some() && (self.day.is_none() || sentence.kind == Kind::Zda) {
            self.day = sentence.day;
        }
        self.hdop = self.hdop.or(sentence.hdop);
        self.sigma_m = [self.sigma_m, sentence.sigma_m].into_iter().flatten().reduce(f64::max);
        self.speed_m_per_s = self.speed_m_per_s.or(sentence.speed_m_per_s);
        let Some(position) = sentence.position else { return };
        match self.position {
            None => {
                self.place = place;
                self.position = Some((sentence.kind, position));
            }
            Some((kind, before)) => {
                self.disagrees |= is_apart(before, position);
                if sentence.kind > kind {
                    self.position = Some((sentence.kind, position));
                }
            }
        }
    }
}

fn is_apart(one: Position, other: Position) -> bool {
    let lat_deg = (one.latitude().degrees() - other.latitude().degrees()).abs();
    let lon_deg = (one.longitude().degrees() - other.longitude().degrees()).abs();
    lat_deg > DISAGREE_DEG || lon_deg.min(360.0 - lon_deg) > DISAGREE_DEG
}

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

/// So many records wait for a date: half a day at one a second. Beyond it the log is read without times.
const MOST_WAITING: usize = 50_000;
/// A longer step of the time of day, in seconds, begins another stretch in a log without a date, and no date is carried back
/// over it: how long it was, and what was done meanwhile, nobody knows (common practice, no source).
const STEP_S: i64 = 30;
const SECOND_NS: i64 = 1_000_000_000;

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

#[cfg(test)]
mod clock_tests {
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
