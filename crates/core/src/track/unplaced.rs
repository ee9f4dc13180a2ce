//! Records of a log that tell no usable place, as many of them as an audit needs.

use std::collections::HashSet;

use jiff::Timestamp;

use super::{LogOrder, LoggedFix, UnplacedRecord};

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
        if runs.len() < LogOrder::MOST_HELD {
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
