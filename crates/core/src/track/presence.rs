//! When a log went on, whether it told a place or not.

use std::collections::BTreeSet;

use jiff::Timestamp;

use super::{LogOrder, LogPlace};

/// Nothing logged for so many seconds is the end of one trip and the start of another, if a new stretch begins or the boat
/// is elsewhere; else it is a gap (common practice, no source).
pub(super) const PAUSE_S: f64 = 6.0 * 3600.0;
/// More spans than this are not told apart; then the last one grows.
const MOST_SPANS: usize = 1_000;
/// Earlier times, in seconds since 1970, are those of a clock that was not set yet: 1 January 1990 (common practice, no
/// source).
const NO_CLOCK_BEFORE_S: i64 = 631_152_000;

/// Times of records without a usable place, joined where less than a pause lies between two.
#[derive(Debug, Default)]
pub(super) struct Presence {
    spans: Vec<(Timestamp, Timestamp)>,
}

impl Presence {
    pub(super) fn note(&mut self, time: Timestamp) {
        if !is_of_a_set_clock(time) {
            return;
        }
        let is_full = self.spans.len() >= MOST_SPANS;
        match self.spans.last_mut() {
            Some((from, to)) if is_full || is_near(*to, time) && is_near(time, *from) => {
                (*from, *to) = ((*from).min(time), (*to).max(time));
            }
            _ => self.spans.push((time, time)),
        }
    }

    /// The earliest record before a time from which the log went on to it.
    pub(super) fn first_before(&self, time: Timestamp) -> Option<Timestamp> {
        let reaching = self.spans.iter().filter(|(from, to)| *from < time && is_near(*to, time));
        reaching.map(|(from, _)| *from).min()
    }

    /// The latest record after a time to which the log went on from it.
    pub(super) fn last_after(&self, time: Timestamp) -> Option<Timestamp> {
        let reached = self.spans.iter().filter(|(from, to)| *to > time && is_near(time, *from));
        reached.map(|(_, to)| *to).max()
    }

    /// Whether records stand a pause and more before the first fix or after the last one.
    pub(super) fn is_apart(&self, first: Timestamp, last: Timestamp) -> bool {
        self.spans.iter().any(|(from, to)| !is_near(*to, first) || !is_near(last, *from))
    }

    /// Whether a record stands after a time and no later than another.
    pub(super) fn is_any_within(&self, after: Timestamp, until: Timestamp) -> bool {
        self.spans.iter().any(|span| span.1 > after && span.0 <= until)
    }

    /// The silence of so many seconds and more between two times. Records less than a pause apart are told as one, and a
    /// shorter silence between them is none.
    pub(super) fn silence_between(&self, from: Timestamp, to: Timestamp, least_s: f64) -> Option<Silence> {
        let mut spans: Vec<_> = self.spans.iter().filter(|span| span.1 > from && span.0 < to).collect();
        spans.sort_unstable();
        let mut heard = from;
        let mut found: Option<Silence> = None;
        for (begins, ends) in spans.into_iter().copied().chain([(to, to)]) {
            if begins.duration_since(heard).as_secs_f64() >= least_s {
                let since = found.map_or(heard, |silence| silence.since);
                found = Some(Silence { since, until: begins, is_interrupted: found.is_some() });
            }
            heard = heard.max(ends);
        }
        found
    }
}

/// Time in which nothing was logged: between two trips, or more of them.
#[derive(Debug, Clone, Copy)]
pub(super) struct Silence {
    /// When the log fell silent first.
    pub(super) since: Timestamp,
    /// From when on it went on for good.
    pub(super) until: Timestamp,
    /// Whether records stand in between, with as long a silence on either side.
    pub(super) is_interrupted: bool,
}

/// Where in a log records stand of which nobody knows when they were made.
#[derive(Debug, Default)]
pub(super) struct Timeless {
    bytes: BTreeSet<u64>,
    /// There were too many to hold: they stand everywhere.
    is_full: bool,
}

impl Timeless {
    pub(super) fn note(&mut self, place: LogPlace) {
        self.is_full |= self.bytes.len() >= LogOrder::MOST_HELD;
        if !self.is_full {
            self.bytes.insert(place.byte);
        }
    }

    /// Whether one stands between two places of the log, in whichever order these stand.
    pub(super) fn stand_between(&self, one: LogPlace, other: LogPlace) -> bool {
        let (first, last) = (one.byte.min(other.byte), one.byte.max(other.byte));
        self.is_full || self.bytes.range(first..=last).next().is_some()
    }
}

/// Returns whether a time is not that of a clock which nobody has set yet: such clocks tell times before 1990.
#[must_use]
pub fn is_of_a_set_clock(time: Timestamp) -> bool {
    time.as_second() >= NO_CLOCK_BEFORE_S
}

/// Whether less than a pause lies from one time on to another.
fn is_near(from: Timestamp, to: Timestamp) -> bool {
    to.duration_since(from).as_secs_f64() < PAUSE_S
}
