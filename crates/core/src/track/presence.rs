//! When a log went on without a usable place: silences, fixes without times, and the records that an audit needs of them.

use std::collections::{BTreeSet, HashSet};

use jiff::Timestamp;

use super::{LogPlace, LoggedFix, UnplacedRecord};
use crate::date_doubt::is_of_a_set_clock;

/// Nothing logged for so many seconds is the end of one trip and the start of another, if a new stretch begins or the boat
/// is elsewhere; else it is a gap (common practice, no source).
pub(super) const PAUSE_S: f64 = 6.0 * 3600.0;
/// The most fixes, and records of a kind, of one log that are held: three days at one a second.
pub(super) const MOST_HELD: usize = 260_000;
/// More spans than this are not told apart; then the last one grows.
const MOST_SPANS: usize = 1_000;

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
        self.is_full |= self.bytes.len() >= MOST_HELD;
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

/// Whether less than a pause lies from one time on to another.
fn is_near(from: Timestamp, to: Timestamp) -> bool {
    to.duration_since(from).as_secs_f64() < PAUSE_S
}

/// Of records that follow each other in time, the first and one in so many seconds is kept: far less than a pause between
/// two trips, which is all that they are looked at for.
const KEPT_EVERY_S: f64 = 600.0;

/// Records without a usable place, in the order of the log.
#[derive(Debug, Default)]
pub(super) struct UnplacedRecords {
    timed: Vec<Run>,
    timeless: Vec<Run>,
    count: u64,
    /// Those that were too many to hold.
    left_out: u64,
}

/// A record, and what stands around it.
#[derive(Debug, Clone, Copy)]
struct Run {
    record: UnplacedRecord,
    /// How many fixes stood before it.
    before: usize,
    /// How many records it stands for.
    records: u64,
}

impl Run {
    /// Whether no fix and no break lies between two.
    fn adjoins(&self, other: &Self) -> bool {
        self.before == other.before && self.record.place.stretch == other.record.place.stretch
    }
}

impl UnplacedRecords {
    /// Takes the next record, before which so many fixes stand.
    pub(super) fn push(&mut self, record: UnplacedRecord, before: usize) {
        self.count += 1;
        let run = Run { record, before, records: 1 };
        let is_taken = if record.time.is_some() { self.joins_timed(run) } else { self.joins_timeless(run) };
        if is_taken {
            return;
        }
        let runs = if record.time.is_some() { &mut self.timed } else { &mut self.timeless };
        if runs.len() < MOST_HELD {
            runs.push(run);
        } else {
            self.left_out += 1;
        }
    }

    /// Whether the record before is needed no more, because this one and the one before that tell as much; then this one
    /// takes its place.
    fn joins_timed(&mut self, run: Run) -> bool {
        let [.., earlier, last] = self.timed.as_mut_slice() else { return false };
        let (Some(first), Some(middle), Some(time)) =
            (earlier.record.time, last.record.time, run.record.time)
        else {
            return false;
        };
        let is_between = middle >= first.min(time) && middle <= first.max(time);
        let is_near = time.duration_since(first).as_secs_f64().abs() < KEPT_EVERY_S;
        let joins = is_between && is_near && earlier.adjoins(&run) && last.adjoins(&run);
        if joins {
            *last = run;
        }
        joins
    }

    /// Whether a record stands with one before it, between the same two fixes.
    fn joins_timeless(&mut self, run: Run) -> bool {
        let last = self.timeless.last_mut().filter(|last| last.adjoins(&run));
        last.map(|last| last.records += 1).is_some()
    }

    /// How many records there were.
    pub(super) fn count(&self) -> u64 {
        self.count
    }

    /// How many records without time and place stand where no fixes on both sides say how long it was, of so many fixes;
    /// all where these stood in no order. Those that were not held are among them.
    pub(super) fn lost(&self, fixes: usize, is_anywhere: bool) -> u64 {
        let is_lost = |run: &&Run| is_anywhere || run.before == 0 || run.before >= fixes;
        self.left_out + self.timeless.iter().filter(is_lost).map(|run| run.records).sum::<u64>()
    }

    /// Gives records to the boats that they belong to.
    ///
    /// One with a time goes to the boat of its stretch, or to the one nearest in time; one without to the boats of its
    /// stretch, or to all.
    pub(super) fn by_boat(&self, boats: &[Vec<LoggedFix>]) -> Vec<Vec<UnplacedRecord>> {
        let mut given = vec![Vec::new(); boats.len()];
        if self.count == 0 {
            return given;
        }
        let known: Vec<Known> = boats.iter().map(|boat| Known::of(boat)).collect();
        for Run { record, .. } in &self.timed {
            let Some(time) = record.time else { continue };
            let key = |boat: &Known| (!boat.holds(record), boat.off_s(time));
            let nearest = known.iter().enumerate().min_by(|(_, one), (_, other)| {
                let (one, other) = (key(one), key(other));
                one.0.cmp(&other.0).then(one.1.total_cmp(&other.1))
            });
            if let Some((number, _)) = nearest {
                given[number].push(*record);
            }
        }
        for Run { record, .. } in &self.timeless {
            let is_of_one = known.iter().any(|boat| boat.holds(record));
            for (boat, given) in known.iter().zip(&mut given) {
                if !is_of_one || boat.holds(record) {
                    given.push(*record);
                }
            }
        }
        given
    }
}

/// What tells which records are those of a boat.
struct Known {
    stretches: HashSet<u32>,
    span: Option<(Timestamp, Timestamp)>,
}

impl Known {
    fn of(boat: &[LoggedFix]) -> Self {
        let times = || boat.iter().filter_map(|fix| fix.time);
        Self {
            stretches: boat.iter().map(|fix| fix.place.stretch).collect(),
            span: times().min().zip(times().max()),
        }
    }

    fn holds(&self, record: &UnplacedRecord) -> bool {
        self.stretches.contains(&record.place.stretch)
    }

    /// Seconds from a time to the fixes of the boat.
    fn off_s(&self, time: Timestamp) -> f64 {
        let Some((from, to)) = self.span else { return f64::INFINITY };
        from.duration_since(time).max(time.duration_since(to)).as_secs_f64().max(0.0)
    }
}
