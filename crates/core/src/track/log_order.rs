//! A log as a whole, put in order before it is audited: which way its time runs, which boats are in it, which times its
//! fixes share or lack, and how fast it shows the boat to be.

use jiff::Timestamp;

use super::jumps::{doubt_jumps, doubt_long_legs};
use super::logged_fix::{seconds_between, step_deg};
use super::presence::{MOST_HELD, PAUSE_S, UnplacedRecords};
use super::whole_log::{place_times, shown_kn};
use super::{LoggedFix, TrackSettings, UnplacedRecord};
use crate::Metres;
use crate::date_doubt::is_of_a_set_clock;
use crate::geodesic::distance_m;

/// More boats than this are not told apart; no file holds as many.
const MOST_BOATS: usize = 32;
/// A stretch in which more than one step in so many runs back in time is in no order, and is sorted.
const STEPS_BACK_OF_DISORDER: usize = 10;
/// A stretch that goes back in time by no more than so many seconds and on from there may be one boat whose clock was set back,
/// as well as two boats (common practice, no source).
const CLOCK_SET_BACK_S: f64 = 7_200.0;
/// If it goes on from where it was, no farther than twice the steps on both sides, of no more than so many seconds each, nothing
/// lies between (common practice, no source).
const GOES_ON_WITHIN_S: f64 = 10.0;
/// So many fixes in a row that are earlier than those before them are another part of the log.
const RUN_ON_FROM: usize = 10;

/// Takes the fixes of a log as they stand, and gives them in the order in which they were made.
///
/// It holds the fixes, so whoever fills it keeps an eye on [`LogOrder::is_full`].
///
/// # Examples
///
/// ```
/// use takeline::Position;
/// use takeline::track::{LogOrder, LogPlace, LoggedFix, TrackSettings};
///
/// let mut order = LogOrder::new(TrackSettings::default());
/// for seconds in [20, 10, 0] {
///     order.push(LoggedFix {
///         position: Position::from_degrees(45.11 + f64::from(seconds) * 1e-5, -30.12)?,
///         time: Some(format!("2026-07-01T06:00:{seconds:02}Z").parse()?),
///         uncertainty: None, hdop: None, speed_m_per_s: None,
///         time_between: None, jump_kn: None, place: LogPlace::default(),
///     });
/// }
/// let log = order.finish();
/// assert!(log.boats[0][0].time < log.boats[0][2].time);
/// assert_eq!(log.findings.newest_first, 3);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug)]
pub struct LogOrder {
    settings: TrackSettings,
    fixes: Vec<LoggedFix>,
    unplaced: UnplacedRecords,
}

/// A log in order.
#[derive(Debug, Clone)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct OrderedLog {
    /// The fixes of each boat in the order of time; more than one boat where parts of the log overlap in time.
    pub boats: Vec<Vec<LoggedFix>>,
    /// For each boat the records that tell no usable place, as many as the audit needs: of those with a time that follow
    /// each other one in ten minutes and the last, of those without one the first between two fixes.
    pub unplaced: Vec<Vec<UnplacedRecord>>,
    /// Where a clock was set back, if the parts on both sides are those of one boat.
    pub seams: Vec<ClockSeam>,
    /// The settings, with the top speed raised to what the log shows.
    pub settings: TrackSettings,
    /// What was done.
    pub findings: OrderFindings,
}

/// A place of a log where the time goes back and on from there, and the boat goes on elsewhere: what lies between the two fixes,
/// if they are one boat's, nobody knows the length of.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct ClockSeam {
    /// The last fix by the first clock.
    pub before: LoggedFix,
    /// The first fix by the second one.
    pub after: LoggedFix,
}

/// What was done to put a log in order; all zero for a log that was.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct OrderFindings {
    /// Fixes of stretches that stood newest first and were turned round.
    pub newest_first: u64,
    /// Fixes of stretches in no order of time, which were sorted.
    pub unordered: u64,
    /// Stretches that stood elsewhere than their time.
    pub stretches_moved: u64,
    /// Stretches left out because another is the same, fix by fix.
    pub stretches_repeated: u64,
    /// The fixes of those stretches.
    pub fixes_repeated: u64,
    /// Boats, or receivers, where stretches overlap in time; 0 if there is only one.
    pub boats: u64,
    /// Fixes without a time of their own, or with one that others share, which were placed between their neighbours.
    pub times_placed: u64,
    /// Fixes whose time was not used because they share it over a way that no boat makes in it.
    pub times_taken: u64,
    /// Fixes whose time was not used because the whole log has only one.
    pub times_all_the_same: u64,
    /// Records that tell no usable place, with a time and without one.
    pub unplaced: u64,
    /// Records that tell neither a time nor a usable place, and that no fix stands before, or none after: how long the boat
    /// was elsewhere nobody knows. In a log that was told in no order of time, all such records. Records that are too many to
    /// hold are counted too.
    pub lost: u64,
    /// The speed that the log shows, in knots, where it is more than the top speed that was given or assumed. What may lie
    /// between two fixes is then asked of it, or of the assumed speed if that is more.
    pub shown_kn: Option<f64>,
    /// The step, in degrees, on which all positions of the log stand, where they have so few digits that it is more than a
    /// metre or so.
    pub digits_step_deg: Option<f64>,
}

impl LogOrder {
    /// The most fixes that are held: three days at one a second. Longer logs have to be in order as they stand.
    pub const MOST_HELD: usize = MOST_HELD;

    /// Starts with nothing.
    #[must_use]
    pub fn new(settings: TrackSettings) -> Self {
        Self { settings, fixes: Vec::new(), unplaced: UnplacedRecords::default() }
    }

    /// Takes the next record of the log, where it tells no usable place. However many there are, few are held.
    pub fn push_unplaced(&mut self, mut record: UnplacedRecord) {
        // a clock that is not set is no matter while the receiver starts, and no time behind that
        record.time = record.time.filter(|time| self.fixes.is_empty() || is_of_a_set_clock(*time));
        self.unplaced.push(record, self.fixes.len());
    }

    /// Takes the next fix of the log.
    pub fn push(&mut self, fix: LoggedFix) {
        self.fixes.push(fix);
    }

    /// Returns whether as many fixes are held as should be.
    #[must_use]
    pub fn is_full(&self) -> bool {
        self.fixes.len() >= Self::MOST_HELD
    }

    /// Takes back the last fixes: those with the last time, and those without one after them, since what follows tells more
    /// of when they were made.
    ///
    /// Nothing is taken back where that would be most of what is held.
    pub fn split_off_last(&mut self) -> Vec<LoggedFix> {
        let last = self.fixes.iter().rposition(|fix| fix.time.is_some());
        let Some(time) = last.and_then(|last| self.fixes[last].time) else { return Vec::new() };
        let kept = self.fixes.iter().rposition(|fix| fix.time.is_some_and(|other| other != time));
        let from = kept.map_or(0, |kept| kept + 1);
        if 2 * from < self.fixes.len() { Vec::new() } else { self.fixes.split_off(from) }
    }

    /// Puts the fixes in order.
    ///
    /// - A stretch that stands newest first is turned round; one in no order at all is sorted by time. Where a stretch goes
    ///   back in time and on from there, it is taken for several; a few fixes out of order are left as they stand, for the
    ///   audit to judge.
    /// - Stretches go in the order of time. Those that overlap in time are different boats.
    /// - A time of a clock that was not set (before 1990) is none in a log with others; the dates of a log that has no others
    ///   are in doubt.
    /// - A fix that shares its time with others or has none is placed between its neighbours. Where the whole log has
    ///   one time, no fix has any.
    /// - The top speed is raised to what a log shows for 20 seconds and more.
    /// - Where all positions have few digits, what these leave open is a doubt of every fix.
    #[must_use]
    pub fn finish(mut self) -> OrderedLog {
        let is_clock_set = forget_unset_clocks(&mut self.fixes);
        self.settings.dates_doubtful |= !is_clock_set;
        let times_all_the_same = forget_one_time(&mut self.fixes);
        self.settings.digits_step_deg = step_deg(&self.fixes);
        let digits_step_deg = self.settings.digits_step_deg;
        let mut findings = OrderFindings { times_all_the_same, digits_step_deg, ..OrderFindings::default() };
        let count = self.fixes.len();
        let mut stretches = by_stretch(std::mem::take(&mut self.fixes));
        for stretch in &mut stretches {
            put_in_order(stretch, &mut findings);
        }
        let mut runs: Vec<Vec<LoggedFix>> = stretches.into_iter().flat_map(runs).collect();
        runs.retain(|run| !run.is_empty());
        let seams: Vec<ClockSeam> = runs.windows(2).filter_map(|pair| seam(&pair[0], &pair[1])).collect();
        let mut boats = boats(runs, &mut findings);
        for boat in &mut boats {
            let placed = place_times(boat, &self.settings);
            findings.times_placed += placed.placed;
            findings.times_taken += placed.taken;
        }
        let shown = boats.iter().filter_map(|fixes| shown_kn(fixes, &self.settings)).reduce(f64::max);
        findings.shown_kn = shown.filter(|knots| *knots > self.settings.top_speed_kn);
        if let Some(knots) = findings.shown_kn {
            let given_kn = Some(self.settings.top_speed_kn).filter(|_| self.settings.top_speed_given);
            self.settings.given_top_speed_kn = self.settings.given_top_speed_kn.or(given_kn);
            // a speed that was given and is refuted says nothing more
            self.settings.top_speed_kn = knots.max(TrackSettings::ASSUMED_TOP_SPEED_KN);
        }
        for boat in &mut boats {
            doubt_jumps(boat, &self.settings);
        }
        self.settings.longest_untimed_leg = longest_untimed_leg(&boats);
        if let Some(longest) = self.settings.longest_untimed_leg.filter(|_| !self.settings.is_plan) {
            for boat in &mut boats {
                doubt_long_legs(boat, longest.metres());
            }
        }
        let is_anywhere = findings.unordered > 0 || findings.stretches_moved > 0;
        findings.lost = self.unplaced.lost(count, is_anywhere);
        findings.unplaced = self.unplaced.count();
        let unplaced = self.unplaced.by_boat(&boats);
        OrderedLog { boats, unplaced, seams, settings: self.settings, findings }
    }
}

impl OrderFindings {
    /// Counts what was done to another part of the same log.
    pub fn add(&mut self, other: &Self) {
        self.newest_first += other.newest_first;
        self.unordered += other.unordered;
        self.stretches_moved += other.stretches_moved;
        self.stretches_repeated += other.stretches_repeated;
        self.fixes_repeated += other.fixes_repeated;
        self.boats = self.boats.max(other.boats);
        self.times_placed += other.times_placed;
        self.times_taken += other.times_taken;
        self.times_all_the_same += other.times_all_the_same;
        self.unplaced += other.unplaced;
        self.lost += other.lost;
        self.shown_kn = [self.shown_kn, other.shown_kn].into_iter().flatten().reduce(f64::max);
        let steps = [self.digits_step_deg, other.digits_step_deg];
        self.digits_step_deg = steps.into_iter().flatten().reduce(f64::max);
    }

    /// Returns whether fixes stood elsewhere than their time, or are those of several boats.
    #[must_use]
    pub fn is_reordered(&self) -> bool {
        self.newest_first + self.unordered + self.stretches_moved + self.stretches_repeated + self.boats > 0
    }
}

/// A leg without times is out of all proportion beyond so many times the middle one of the log, and if it is longer than so
/// many metres (common practice, no source).
const TIMES_THE_MIDDLE_LEG: f64 = 10.0;
const LONG_LEG_M: f64 = 100.0;

/// The longest leg of a log without times that is taken to be the straight way; none for a log that has times.
fn longest_untimed_leg(boats: &[Vec<LoggedFix>]) -> Option<Metres> {
    let pairs = || boats.iter().flat_map(|boat| boat.windows(2));
    let is_untimed = |pair: &&[LoggedFix]| pair[0].time.is_none() && pair[1].time.is_none();
    let untimed = pairs().filter(is_untimed).filter(|pair| pair[0].place.stretch == pair[1].place.stretch);
    let mut legs_m: Vec<f64> = untimed
        .map(|pair| distance_m(pair[0].position, pair[1].position))
        .filter(|metres| *metres > 0.0)
        .collect();
    let middle = legs_m.len() / 2;
    if legs_m.is_empty() {
        return None;
    }
    let (_, middle_m, _) = legs_m.select_nth_unstable_by(middle, f64::total_cmp);
    Some(Metres::computed((TIMES_THE_MIDDLE_LEG * *middle_m).max(LONG_LEG_M)))
}

/// The seam between two runs of one stretch, in the order of the log, if their times overlap by no more than a clock is set back.
fn seam(run: &[LoggedFix], next: &[LoggedFix]) -> Option<ClockSeam> {
    let (before, after) =
        (run.iter().rev().find(|fix| fix.time.is_some())?, next.iter().find(|fix| fix.time.is_some())?);
    let back_s = before.time?.duration_since(after.time?).as_secs_f64();
    let is_set_back =
        before.place.stretch == after.place.stretch && (0.0..=CLOCK_SET_BACK_S).contains(&back_s);
    // a part that ends before the other begins stands in the wrong place, and is put where it belongs
    let first = run.iter().filter_map(|fix| fix.time).min();
    let overlaps = next.iter().filter_map(|fix| fix.time).max() >= first;
    let step_m = |pair: &[LoggedFix]| {
        let seconds = seconds_between(&pair[0], &pair[1])?;
        let is_short = (0.0..=GOES_ON_WITHIN_S).contains(&seconds);
        is_short.then(|| distance_m(pair[0].position, pair[1].position))
    };
    let steps_m = run
        .last_chunk::<2>()
        .and_then(|pair| step_m(pair))
        .zip(next.first_chunk::<2>().and_then(|pair| step_m(pair)));
    let goes_on = steps_m.is_some_and(|(before_m, after_m)| {
        distance_m(before.position, after.position) <= 2.0 * f64::max(before_m, after_m)
    });
    (is_set_back && overlaps && !goes_on).then_some(ClockSeam { before: *before, after: *after })
}

/// Takes away the times of a clock that was not set yet from a log in which it is set elsewhere; false if it never is. Then it
/// counts the seconds between fixes all the same.
fn forget_unset_clocks(fixes: &mut [LoggedFix]) -> bool {
    let is_set = |fix: &LoggedFix| fix.time.is_some_and(is_of_a_set_clock);
    if !fixes.iter().any(is_set) {
        return fixes.iter().all(|fix| fix.time.is_none());
    }
    for fix in fixes {
        fix.time = fix.time.filter(|time| is_of_a_set_clock(*time));
    }
    true
}

/// Takes away the time that all fixes of a log share though they lie apart: it says when the log was written, or nothing.
fn forget_one_time(fixes: &mut [LoggedFix]) -> u64 {
    let mut times = fixes.iter().filter_map(|fix| fix.time);
    let Some(first) = times.next() else { return 0 };
    let places = fixes.iter().filter(|fix| fix.position != fixes[0].position).count();
    // two fixes of one second are no sign of anything
    if places < 2 || times.any(|time| time != first) {
        return 0;
    }
    let mut forgotten = 0;
    for fix in fixes {
        forgotten += u64::from(fix.time.take().is_some());
    }
    forgotten
}

/// The fixes of each stretch; no more than one stretch is held twice at a time.
fn by_stretch(mut fixes: Vec<LoggedFix>) -> Vec<Vec<LoggedFix>> {
    let mut stretches = Vec::new();
    while let Some(last) = fixes.last().map(|fix| fix.place.stretch) {
        let begins = fixes.iter().rposition(|fix| fix.place.stretch != last).map_or(0, |before| before + 1);
        if begins == 0 {
            stretches.push(std::mem::take(&mut fixes));
        } else {
            stretches.push(fixes.split_off(begins));
        }
    }
    stretches.reverse();
    stretches
}

fn put_in_order(stretch: &mut [LoggedFix], findings: &mut OrderFindings) {
    let times: Vec<_> = stretch.iter().filter_map(|fix| fix.time).collect();
    let back = times.windows(2).filter(|pair| pair[1] < pair[0]).count();
    let on = times.windows(2).filter(|pair| pair[1] > pair[0]).count();
    let length = stretch.len() as u64;
    if back > 0 && back >= 9 * on {
        stretch.reverse();
        findings.newest_first += length;
    } else if back >= 3 && STEPS_BACK_OF_DISORDER * back > back + on {
        sort_by_time(stretch);
        findings.unordered += length;
    }
}

/// Sorts by time; a fix without one stays behind the fix that it came after.
fn sort_by_time(stretch: &mut [LoggedFix]) {
    let mut last = stretch.iter().find_map(|fix| fix.time);
    let mut keyed: Vec<_> = stretch
        .iter()
        .map(|fix| {
            last = fix.time.or(last);
            (last, *fix)
        })
        .collect();
    keyed.sort_by_key(|(time, _)| *time);
    for (place, (_, fix)) in stretch.iter_mut().zip(keyed) {
        *place = fix;
    }
}

/// Cuts a stretch where it goes back in time and on from there, into parts that each run on in time.
///
/// A few fixes that are earlier than those before them stay where they stand, unless all are earlier than the part that
/// they interrupt: those are another part of the log.
fn runs(stretch: Vec<LoggedFix>) -> Vec<Vec<LoggedFix>> {
    let mut runs: Vec<Run> = vec![Run::default()];
    let mut behind: Vec<LoggedFix> = Vec::new();
    for fix in stretch {
        let Some(run) = runs.last_mut() else { break };
        let is_behind = fix.time.is_some() && fix.time < run.latest;
        if !is_behind && (behind.is_empty() || fix.time.is_none()) {
            if behind.is_empty() {
                run.push(fix);
            } else {
                behind.push(fix);
            }
            continue;
        }
        if is_behind {
            behind.push(fix);
            if behind.len() >= RUN_ON_FROM {
                runs.push(Run::of(std::mem::take(&mut behind)));
            }
            continue;
        }
        settle_behind(&mut runs, &mut behind);
        if let Some(run) = runs.last_mut() {
            run.push(fix);
        }
    }
    settle_behind(&mut runs, &mut behind);
    runs.into_iter().map(|run| run.fixes).filter(|fixes| !fixes.is_empty()).collect()
}

/// Puts a few fixes that are earlier than the last run where they belong.
fn settle_behind(runs: &mut Vec<Run>, behind: &mut Vec<LoggedFix>) {
    let Some(mut last) = runs.pop() else { return };
    let fixes = std::mem::take(behind);
    let timed = || fixes.iter().filter_map(|fix| fix.time);
    // one alone may be a date that was written wrong; hours before all others it is no part of the log
    let is_part = timed().count() > 1
        || timed().next().zip(last.earliest).is_some_and(|(time, earliest)| {
            runs.is_empty() && earliest.duration_since(time).as_secs_f64() < PAUSE_S
        });
    if is_part && timed().max() < last.earliest {
        runs.push(Run::of(fixes));
    } else {
        last.fixes.extend(fixes);
    }
    runs.push(last);
}

/// A part of a stretch, and its times.
#[derive(Debug, Default)]
struct Run {
    fixes: Vec<LoggedFix>,
    earliest: Option<Timestamp>,
    latest: Option<Timestamp>,
}

impl Run {
    fn of(fixes: Vec<LoggedFix>) -> Self {
        let earliest = fixes.iter().filter_map(|fix| fix.time).min();
        let latest = fixes.iter().filter_map(|fix| fix.time).max();
        Self { fixes, earliest, latest }
    }

    fn push(&mut self, fix: LoggedFix) {
        self.earliest = self.earliest.or(fix.time);
        self.latest = self.latest.max(fix.time);
        self.fixes.push(fix);
    }
}

/// Fixes of one boat, and the last of them in time.
#[derive(Debug, Default)]
struct Boat {
    fixes: Vec<LoggedFix>,
    last: Option<LoggedFix>,
}

impl Boat {
    fn take(&mut self, stretch: &[LoggedFix]) {
        let last = stretch.iter().filter(|fix| fix.time.is_some()).max_by_key(|fix| fix.time);
        self.last = last.copied().or(self.last);
        self.fixes.extend_from_slice(stretch);
    }
}

/// Joins stretches to boats, each in the order of time.
fn boats(stretches: Vec<Vec<LoggedFix>>, findings: &mut OrderFindings) -> Vec<Vec<LoggedFix>> {
    // a stretch without times stays behind the one that it came after
    let mut last = None;
    let mut keyed: Vec<_> = stretches
        .into_iter()
        .enumerate()
        .map(|(number, stretch)| {
            last = stretch.iter().filter_map(|fix| fix.time).min().or(last);
            (last, number, stretch)
        })
        .collect();
    keyed.sort_by_key(|(time, number, _)| (*time, *number));
    let moved = keyed.iter().enumerate().filter(|(at, (_, number, _))| at != number).count();
    findings.stretches_moved = moved as u64;
    let mut boats: Vec<Boat> = Vec::new();
    let mut before: Option<Vec<LoggedFix>> = None;
    for (_, _, stretch) in keyed {
        if before.as_ref().is_some_and(|before| is_the_same(before, &stretch)) {
            findings.stretches_repeated += 1;
            findings.fixes_repeated += stretch.len() as u64;
            continue;
        }
        let number = boat_of(&boats, &stretch).unwrap_or(boats.len());
        if number == boats.len() {
            boats.push(Boat::default());
        }
        boats[number].take(&stretch);
        before = Some(stretch);
    }
    findings.boats = if boats.len() > 1 { boats.len() as u64 } else { 0 };
    boats.into_iter().map(|boat| boat.fixes).collect()
}

fn is_the_same(one: &[LoggedFix], other: &[LoggedFix]) -> bool {
    let same =
        |(one, other): (&LoggedFix, &LoggedFix)| one.time == other.time && one.position == other.position;
    let is_timed = one.iter().any(|fix| fix.time.is_some());
    // one fix twice is a duplicate, for the audit to judge
    is_timed && one.len() > 1 && one.len() == other.len() && one.iter().zip(other).all(same)
}

/// The boat that a stretch goes on from: of those that had ended by then the one that was nearest.
fn boat_of(boats: &[Boat], stretch: &[LoggedFix]) -> Option<usize> {
    let first = stretch.iter().filter(|fix| fix.time.is_some()).min_by_key(|fix| fix.time);
    let Some(first) = first else { return boats.len().checked_sub(1) };
    let ended = boats.iter().enumerate().filter_map(|(number, boat)| {
        let apart_m = |last: LoggedFix| distance_m(last.position, first.position);
        match boat.last {
            Some(last) if last.time > first.time => None,
            last => Some((number, last.map_or(f64::INFINITY, apart_m))),
        }
    });
    let nearest = ended.min_by(|one, other| one.1.total_cmp(&other.1)).map(|(number, _)| number);
    nearest.or_else(|| boats.len().checked_sub(1).filter(|_| boats.len() >= MOST_BOATS))
}
