//! Which fixes of a log can be believed, one after another.
//!
//! Nothing is thrown away unsaid: what is left out comes out as suspect, with the reason. Two fixes are held back until
//! the next ones show whether a boat can have made the way, and fixes that repeat one place until the boat goes on.

use std::collections::VecDeque;

use jiff::Timestamp;

use super::logged_fix::{is_one_place, is_zero_island, seconds_between, uncertainty_of};
use super::presence::{PAUSE_S, Presence, Silence, Timeless};
use super::{
    Gap, LogPlace, LoggedFix, METRES_PER_SECOND_IN_A_KNOT, OpenEnd, SuspectFix, Suspicion, TrackSettings,
};
use crate::HorizontalUncertainty;
use crate::geodesic::{at_most_m, distance_m};

/// The top speed, given, assumed or shown by the log, may be passed by this factor before a step is not believed: wind,
/// waves, and errors of fixes.
pub(super) const OVER_TOP_SPEED: f64 = 1.5;
/// Fixes with one and the same time are taken to lie within so many seconds: most logs count whole ones.
pub(super) const SAME_TIME_S: f64 = 1.0;
/// Two ends of a pause farther apart than this, in metres, are no boat that lay there meanwhile (common practice, no
/// source).
const PAUSE_APART_M: f64 = 500.0;
/// Fewer fixes than this that a step no boat makes cuts off from the rest of the log, or that are come back from in
/// another such step, are possible only (common practice, no source).
const STRAYED_FOR: usize = 10;
/// So many fixes in order among themselves, all earlier than the last one, are a clock that was set back.
const CLOCK_SET_BACK_AFTER: u32 = 10;

/// So many repeats of one place are held until that is known; beyond it they count as repeats of a last fix.
pub(super) const MOST_REPEATS: usize = 50_000;

/// A run of fixes at one place, without the first of them.
#[derive(Debug, Default)]
pub(super) struct Repeats {
    pub(super) first: Option<LoggedFix>,
    pub(super) rest: Vec<LoggedFix>,
    /// There were too many to hold: they are given up as a receiver's last fix.
    pub(super) given_up: bool,
    /// The fix after them, which waits for one more to show how fast the boat went on.
    pub(super) next: Option<LoggedFix>,
}

/// What cleaning lets through.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Cleaned {
    /// A fix to believe; joined to the one before unless there is a break.
    ///
    /// `still_step_s`: of a boat that has lain still since the fix before, the most seconds between two of the fixes that
    /// say so.
    Fix { fix: LoggedFix, broken: bool, still_step_s: Option<f64> },
    /// A fix left out.
    Suspect(SuspectFix),
    /// A gap before the fix that follows, or at an end of the log.
    Gap(Gap),
    /// Records without a place, hours before or after everything else.
    LostTrip,
}

/// A fix that waits.
#[derive(Debug, Clone)]
pub(super) struct Held {
    pub(super) fix: LoggedFix,
    /// Whether no boat makes the step to it from the one held before it.
    is_leap: bool,
    /// Whether this boat surely does not make that step.
    is_dash: bool,
    /// Whether the boat is known to have lain still since the fix before: then no length of time is a gap.
    lay_still: bool,
    /// The most seconds between two of the fixes that say so.
    still_step_s: Option<f64>,
    /// What was left out since: it comes out behind it.
    left_out: Vec<Cleaned>,
}

#[derive(Debug)]
pub(super) struct Cleaner {
    pub(super) settings: TrackSettings,
    /// The last fix let through.
    pub(super) last: Option<LoggedFix>,
    /// The last of those that had a time.
    last_timed: Option<LoggedFix>,
    /// Held back until the next ones come, oldest first.
    pub(super) held: VecDeque<Held>,
    /// Fixes at exactly the place of the last one held or let through, which is the first of them.
    pub(super) repeats: Repeats,
    pub(super) behind: u32,
    latest_behind: Option<LoggedFix>,
    /// Whether the next fix let through has no way to it from the last one.
    broken: bool,
    /// The most seconds between two fixes of the run at one place that is being let through.
    pub(super) still_step_s: Option<f64>,
    /// When the log went on without a place to believe.
    presence: Presence,
    /// When it did so with anything but a repeat of the last place.
    lost: Presence,
    /// Records and fixes without a time: of those that follow each other the first.
    timeless: Timeless,
    /// Whether the last fix that came had no time.
    is_untimed: bool,
    /// The first time that was let through.
    first_time: Option<Timestamp>,
    /// A gap before fixes without a time, as long as none with one comes after them.
    unknown: Option<Gap>,
}

impl Cleaner {
    pub(super) fn new(settings: TrackSettings) -> Self {
        Self {
            settings,
            last: None,
            last_timed: None,
            held: VecDeque::new(),
            repeats: Repeats::default(),
            behind: 0,
            latest_behind: None,
            broken: false,
            still_step_s: None,
            presence: Presence::default(),
            lost: Presence::default(),
            timeless: Timeless::default(),
            is_untimed: false,
            first_time: None,
            unknown: None,
        }
    }

    /// A cleaner whose first fix is joined to nothing before it.
    pub(super) fn after_a_break(settings: TrackSettings) -> Self {
        Self { broken: true, ..Self::new(settings) }
    }

    pub(super) fn push(&mut self, fix: LoggedFix, out: &mut Vec<Cleaned>) {
        let follows = std::mem::replace(&mut self.is_untimed, fix.time.is_none());
        if self.is_untimed && !follows {
            self.timeless.note(fix.place);
        }
        if is_zero_island(fix.position) {
            self.leave_out((fix, Suspicion::NullIsland), out);
            return;
        }
        if fix.time.is_none() && fix.time_between.is_some() {
            // somewhere in a time in which nothing else is known: that it was there, and no more
            self.leave_out((fix, Suspicion::Untimed), out);
            return;
        }
        if fix.jump_kn.is_some() {
            let is_first = self.last.is_none() && self.held.is_empty();
            let suspicion = if is_first { Suspicion::ColdStart } else { Suspicion::Spike };
            self.leave_out((fix, suspicion), out);
            return;
        }
        let held = self.held.back().map(|held| &held.fix);
        let repeats = &self.repeats;
        let before = repeats.next.as_ref().or(repeats.rest.last()).or(held).or(self.last.as_ref());
        if let Some(before) = before.copied() {
            if self.out_of_order(&before, &fix, out) {
                return;
            }
            if same_instant(&before, &fix) {
                self.leave_out((fix, Suspicion::Duplicate), out);
                return;
            }
            if self.repeats.next.is_some() {
                self.settle_repeats((None, Some(&fix)), out);
            }
            if self.repeats(&before, &fix, out) {
                return;
            }
        }
        self.behind = 0;
        if self.repeats.is_long() {
            self.repeats.next = Some(fix);
            return;
        }
        self.settle_repeats((Some(&fix), None), out);
        self.hold(fix, false, out);
    }

    /// Takes a record of the log that tells a time and no place: the boat was somewhere.
    pub(super) fn push_unplaced(&mut self, time: Timestamp) {
        self.presence.note(time);
        self.lost.note(time);
    }

    /// Takes a record of the log that tells neither a time nor a place: the boat was somewhere, nobody knows when.
    pub(super) fn push_timeless(&mut self, place: LogPlace) {
        self.timeless.note(place);
    }

    /// Leaves a fix out of what is certain. The boat was somewhere at its time, if not there.
    pub(super) fn suspect(
        &mut self,
        fix: LoggedFix,
        suspicion: Suspicion,
        needed_kn: Option<f64>,
    ) -> Cleaned {
        // what runs back in time lies between other fixes, or its clock was wrong
        let is_later = !matches!(suspicion, Suspicion::Duplicate | Suspicion::OutOfOrder);
        if let Some(time) = fix.time.filter(|_| is_later) {
            self.presence.note(time);
            if suspicion != Suspicion::RepeatedPosition {
                self.lost.note(time);
            }
        }
        Cleaned::Suspect(SuspectFix { fix, suspicion, needed_kn })
    }

    pub(super) fn hold(&mut self, fix: LoggedFix, lay_still: bool, out: &mut Vec<Cleaned>) {
        let before = self.held.back().map(|held| held.fix);
        self.held.push_back(Held {
            fix,
            is_leap: before.is_some_and(|before| self.needed_kn(&before, &fix).is_some()),
            is_dash: before.is_some_and(|before| self.is_dash(&before, &fix)),
            lay_still,
            still_step_s: self.still_step_s,
            left_out: Vec::new(),
        });
        while self.held.len() > 2 && !self.waits_for_more() {
            self.settle_oldest(out);
        }
    }

    /// Whether the fixes to come may yet change what is to be thought of the oldest.
    fn waits_for_more(&self) -> bool {
        let Some(oldest) = self.held.front() else { return false };
        let last = self.last.as_ref();
        if last.is_none_or(|last| self.is_broken_off(last, oldest)) {
            // what stands first, in the log or behind a gap, is borne out by more than as many fixes behind it
            let (length, is_cut_off) = self.oldest_run();
            let is_head = is_cut_off && length < STRAYED_FOR;
            if self.held.len() <= STRAYED_FOR || is_head && self.held.len() < 2 * STRAYED_FOR {
                return true;
            }
        }
        let Some(last) = last else { return false };
        let Some(next) = self.held.get(1) else { return false };
        let is_faster = |fix: &LoggedFix| self.needed_kn(last, fix).is_some();
        let is_dash = |fix: &LoggedFix| self.is_dash(last, fix);
        let all = self.held.len();
        all < STRAYED_FOR
            && ((self.run_from(0) == all && is_faster(&oldest.fix) && is_faster(&next.fix))
                || (self.dashed_run() == all && is_dash(&oldest.fix) && is_dash(&next.fix)))
    }

    /// How many fixes held back go on from the oldest without a step that no boat makes, and whether one follows them.
    fn oldest_run(&self) -> (usize, bool) {
        let length = self.run_from(0);
        (length, length < self.held.len())
    }

    /// How many fixes held back go on from this one without a step that no boat makes.
    fn run_from(&self, from: usize) -> usize {
        self.run_while(from, |_, next| !next.is_leap)
    }

    /// How many of them do so without a gap.
    fn unbroken_run(&self) -> usize {
        self.run_while(0, |one, next| !next.is_leap && !self.is_broken_off(&one.fix, next))
    }

    /// How many of them do so without a step that the boat surely does not make.
    fn dashed_run(&self) -> usize {
        self.run_while(0, |_, next| !next.is_dash)
    }

    fn run_while(&self, from: usize, goes_on: impl Fn(&Held, &Held) -> bool) -> usize {
        let pairs = self.held.iter().skip(from).zip(self.held.iter().skip(from + 1));
        let on = pairs.take_while(|(one, next)| goes_on(one, next)).count();
        on + usize::from(from < self.held.len())
    }

    /// Whether a gap, a pause or the end of a stretch lies between two fixes.
    fn is_broken_off(&self, one: &LoggedFix, next: &Held) -> bool {
        let seconds = seconds_between(one, &next.fix).filter(|_| !next.lay_still);
        let is_long = seconds.is_some_and(|seconds| seconds > self.settings.gap_after_s);
        is_long || one.place.stretch != next.fix.place.stretch
    }

    /// Whether one of the fixes held back can be reached from this one, though not from the one before it.
    fn is_come_back_to(&self, last: &LoggedFix) -> bool {
        self.held.iter().skip(1).any(|held| held.is_leap && self.needed_kn(last, &held.fix).is_none())
    }

    /// Lets the rest through, and tells of the time for which the log went on without a place to believe.
    pub(super) fn finish(&mut self, out: &mut Vec<Cleaned>) {
        self.settle_repeats((None, None), out);
        while !self.held.is_empty() {
            self.settle_oldest(out);
        }
        self.end(out);
    }

    /// The time after the last fix to believe, if the log goes on.
    fn end(&mut self, out: &mut Vec<Cleaned>) {
        out.extend(self.unknown.take().map(Cleaned::Gap));
        let presence = std::mem::take(&mut self.presence);
        let (Some(last), Some(time)) = (self.last, self.last_timed.and_then(|last| last.time)) else {
            return;
        };
        let first = self.first_time.unwrap_or(time);
        if presence.is_apart(first, time) {
            out.push(Cleaned::LostTrip);
        }
        let Some(until) = presence.last_after(time) else { return };
        out.push(Cleaned::Gap(self.open_end(&last, (time, until))));
    }

    /// The time behind the last fix to believe of a log or a trip.
    fn open_end(&self, last: &LoggedFix, (time, until): (Timestamp, Timestamp)) -> Gap {
        let is_lost = self.lost.is_any_within(time, until);
        let open = if is_lost { OpenEnd::AfterTheLast } else { OpenEnd::Repeats };
        Gap::at_an_end(last, (time, until), open)
    }

    /// What lies between two fixes. Around the time between two trips each of them has an end of its own: the log may have
    /// gone on behind the last fix to believe of the one, and begun before the first of the other.
    fn break_at(&self, gap: &Gap, out: &mut Vec<Cleaned>) {
        let ends = gap.before.time.zip(gap.after.time);
        let Some(((from, to), silence)) = ends.zip(self.pause_in(gap)) else {
            out.push(Cleaned::Gap(*gap));
            return;
        };
        if silence.since > from {
            out.push(Cleaned::Gap(self.open_end(&gap.before, (from, silence.since))));
        }
        if silence.is_interrupted {
            out.push(Cleaned::LostTrip);
        }
        out.push(Cleaned::Gap(*gap));
        if silence.until < to {
            let open = OpenEnd::BeforeTheFirst;
            out.push(Cleaned::Gap(Gap::at_an_end(&gap.after, (silence.until, to), open)));
        }
    }

    /// The time before the first fix to believe, if the log had begun.
    fn begin(&mut self, first: &LoggedFix, out: &mut Vec<Cleaned>) {
        let Some(time) = first.time else { return };
        if let Some(since) = self.presence.first_before(time) {
            out.push(Cleaned::Gap(Gap::at_an_end(first, (since, time), OpenEnd::BeforeTheFirst)));
        }
    }

    fn out_of_order(&mut self, before: &LoggedFix, fix: &LoggedFix, out: &mut Vec<Cleaned>) -> bool {
        let (Some(then), Some(now)) = (before.time, fix.time) else { return false };
        if now >= then {
            return false;
        }
        if fix.place.stretch != before.place.stretch {
            // another part of the log, told in another order: nothing joins the two
            self.restart(fix, out);
            return false;
        }
        let in_order = self.latest_behind.is_none_or(|latest| latest.time < fix.time);
        self.behind = if in_order { self.behind + 1 } else { 1 };
        self.latest_behind = Some(*fix);
        if self.behind >= CLOCK_SET_BACK_AFTER {
            self.restart(fix, out);
            return false;
        }
        self.leave_out((*fix, Suspicion::OutOfOrder), out);
        true
    }

    /// Begins anew with a fix whose clock runs apart from that of the fixes before: what lies between is a gap of a length
    /// that nobody knows.
    fn restart(&mut self, fix: &LoggedFix, out: &mut Vec<Cleaned>) {
        self.finish(out);
        if let Some(last) = self.last.take() {
            out.push(Cleaned::Gap(Gap { seconds: None, ..Gap::between(&last, fix) }));
        }
        (self.last_timed, self.first_time, self.lost) = (None, None, Presence::default());
        self.latest_behind = None;
        self.behind = 0;
        self.broken = true;
    }

    /// Leaves out what is not believed, behind what is held.
    pub(super) fn leave_out(&mut self, (fix, suspicion): (LoggedFix, Suspicion), out: &mut Vec<Cleaned>) {
        let left_out = self.suspect(fix, suspicion, fix.jump_kn.filter(|knots| knots.is_finite()));
        match self.held.back_mut().filter(|held| held.left_out.len() < MOST_REPEATS) {
            Some(held) => held.left_out.push(left_out),
            None => out.push(left_out),
        }
    }

    /// Decides about the oldest fix held back, in the light of those after it.
    pub(super) fn settle_oldest(&mut self, out: &mut Vec<Cleaned>) {
        let Some(oldest) = self.held.front().map(|held| held.fix) else { return };
        let strayed = match self.last {
            Some(last) => {
                let faster = self.strayed(&last, &oldest).or_else(|| self.false_start(&last));
                let faster = faster.map(|(suspicion, needed_kn)| (suspicion, Some(needed_kn)));
                faster.or_else(|| self.dashed(&last, &oldest))
            }
            None => self.cold_start().map(|(suspicion, needed_kn)| (suspicion, Some(needed_kn))),
        };
        let Some(held) = self.held.pop_front() else { return };
        if let Some((suspicion, needed_kn)) = strayed {
            out.push(self.suspect(oldest, suspicion, needed_kn));
        } else if let Some(last) = self.last {
            self.join(&last, &held, out);
        } else {
            self.begin(&oldest, out);
            self.accept(oldest, (self.broken, None), out);
        }
        out.extend(held.left_out);
    }

    /// Why the oldest is not believed, if a step that no boat makes leads to it: the boat is back by the next fix or in
    /// another such step, or it is one of a few that the step cuts off from the rest.
    fn strayed(&self, last: &LoggedFix, oldest: &LoggedFix) -> Option<(Suspicion, f64)> {
        let needed_kn = self.needed_kn(last, oldest)?;
        let is_back = self.held.get(1).is_none_or(|next| self.needed_kn(last, &next.fix).is_none());
        let is_few = self.unbroken_run() < STRAYED_FOR && !self.repeats.given_up;
        (is_back || is_few || self.is_come_back_to(last)).then_some((Suspicion::Spike, needed_kn))
    }

    /// Why the oldest is not believed, where nothing was before it: a step that no boat makes leads on from it, or from a
    /// few fixes that it begins, to as many and more.
    fn cold_start(&self) -> Option<(Suspicion, f64)> {
        let (length, is_cut_off) = self.oldest_run();
        if !is_cut_off || length >= STRAYED_FOR {
            return None;
        }
        let (end, next) = (self.held.get(length - 1)?.fix, self.held.get(length)?.fix);
        let is_come_back_to = self.is_come_back_to(&end);
        let needed_kn = self.needed_kn(&end, &next)?;
        (!is_come_back_to && self.run_from(length) >= length).then_some((Suspicion::ColdStart, needed_kn))
    }

    /// Why the oldest is not believed, where it is one of a few between a gap and a step that no boat makes.
    fn false_start(&self, last: &LoggedFix) -> Option<(Suspicion, f64)> {
        let oldest = self.held.front()?;
        let is_whole = || self.unbroken_run() == self.oldest_run().0;
        if self.is_broken_off(last, oldest) && is_whole() { self.cold_start() } else { None }
    }

    /// Why the oldest is not sure, though a boat may have made the step to it: it is one of a few that are reached and left
    /// only by steps faster than the boat is known to be, or in a log without times longer than all the rest, and come back
    /// from.
    fn dashed(&self, last: &LoggedFix, oldest: &LoggedFix) -> Option<(Suspicion, Option<f64>)> {
        let length = self.dashed_run();
        let (end, back) = (self.held.get(length.checked_sub(1)?)?, self.held.get(length)?);
        let is_dash = self.is_dash(last, oldest) && length < STRAYED_FOR;
        (is_dash && self.is_dash(&end.fix, &back.fix) && !self.is_dash(last, &back.fix))
            .then(|| (Suspicion::Spike, self.speed_kn(last, oldest)))
    }

    /// Whether a step is faster than the boat is known to be; without times, whether it is out of all proportion.
    fn is_dash(&self, from: &LoggedFix, to: &LoggedFix) -> bool {
        if step_s(from, to).is_some() {
            return self.faster_than(self.settings.known_top_speed_kn(OVER_TOP_SPEED), (from, to)).is_some();
        }
        from.time.is_none() && to.time.is_none() && self.is_long_untimed(from, to)
    }

    /// Lets a fix through, with what lies between it and the last one.
    fn join(&mut self, last: &LoggedFix, held: &Held, out: &mut Vec<Cleaned>) {
        let fix = held.fix;
        let is_impossible = self.needed_kn(last, &fix).is_some();
        let is_gap = is_impossible || self.is_gap(last, held);
        let is_open = last.time.is_some() && fix.time.is_none() && fix.time_between.is_none();
        if is_gap && is_open {
            // the next fix with a time tells how long it was
            self.unknown.get_or_insert_with(|| Gap { seconds: None, ..Gap::between(last, &fix) });
        } else if is_gap {
            self.unknown = None;
            // fixes without a time in between do not make it shorter
            let since = self.last_timed.filter(|_| fix.time.is_some() && !is_impossible).unwrap_or(*last);
            self.break_at(&self.gap(&since, &fix, is_impossible), out);
        }
        self.accept(fix, (is_gap, held.still_step_s), out);
    }

    /// Whether the boat may have been elsewhere than on the line between two fixes.
    fn is_gap(&self, last: &LoggedFix, next: &Held) -> bool {
        let fix = &next.fix;
        if last.time.is_none() && fix.time.is_none() {
            // within a stretch without times nothing but its length tells one leg from another
            return self.is_long_untimed(last, fix) || last.place.stretch != fix.place.stretch;
        }
        let Some(seconds) = seconds_between(last, fix) else { return true };
        let lay_still = next.lay_still && is_one_place(last, fix);
        !lay_still && seconds > self.settings.gap_after_s
    }

    fn is_long_untimed(&self, from: &LoggedFix, to: &LoggedFix) -> bool {
        let longest = self.settings.longest_untimed_leg.filter(|_| !self.settings.is_plan);
        longest.is_some_and(|longest| distance_m(from.position, to.position) > longest.metres())
    }

    fn accept(
        &mut self,
        fix: LoggedFix,
        (broken, still_step_s): (bool, Option<f64>),
        out: &mut Vec<Cleaned>,
    ) {
        out.push(Cleaned::Fix { fix, broken: broken || self.broken, still_step_s });
        self.broken = false;
        self.first_time = self.first_time.or(fix.time);
        self.last_timed = Some(fix).filter(|fix| fix.time.is_some()).or(self.last_timed);
        self.last = Some(fix);
    }

    /// The speed that the way between two fixes would have needed, in knots, if no boat does that.
    pub(super) fn needed_kn(&self, from: &LoggedFix, to: &LoggedFix) -> Option<f64> {
        self.faster_than(OVER_TOP_SPEED * self.settings.top_speed_kn, (from, to))
    }

    /// The least speed of the way between two fixes, in knots, if it is more than that.
    fn faster_than(&self, knots: f64, (from, to): (&LoggedFix, &LoggedFix)) -> Option<f64> {
        // nearly all fixes lie so near to each other that nothing has to be measured
        let allowed_m = knots * METRES_PER_SECOND_IN_A_KNOT * step_s(from, to)?;
        if at_most_m(from.position, to.position) < allowed_m {
            return None;
        }
        self.speed_kn(from, to).filter(|needed_kn| *needed_kn > knots)
    }

    /// The least speed of the way between two fixes, in knots; none without times.
    fn speed_kn(&self, from: &LoggedFix, to: &LoggedFix) -> Option<f64> {
        Some(self.apart_m(from, to) / step_s(from, to)? / METRES_PER_SECOND_IN_A_KNOT)
    }

    /// What lies between two fixes.
    pub(super) fn gap(&self, before: &LoggedFix, after: &LoggedFix, impossible: bool) -> Gap {
        let gap = Gap { impossible, ..Gap::between(before, after) };
        // a step that no boat makes is no time ashore, whatever somebody says
        let may_be_pause = !impossible && self.silence_in(&gap, PAUSE_S).is_some();
        Gap { between_trips: self.pause_in(&gap).is_some(), may_be_pause, ..gap }
    }

    /// The silence between two trips, if that is what lies between two fixes.
    fn pause_in(&self, gap: &Gap) -> Option<Silence> {
        let is_elsewhere =
            gap.before.place.stretch != gap.after.place.stretch || gap.metres.metres() > PAUSE_APART_M;
        let told_s = self.settings.new_trip_after_s.filter(|_| !gap.impossible);
        let least_s = [told_s, Some(PAUSE_S).filter(|_| is_elsewhere)].into_iter().flatten();
        self.silence_in(gap, least_s.reduce(f64::min)?)
    }

    /// The time of at least so many seconds between two fixes in which nothing at all was logged.
    fn silence_in(&self, gap: &Gap, least_s: f64) -> Option<Silence> {
        if self.timeless.stand_between(gap.before.place, gap.after.place) {
            return None;
        }
        let ((from, _), (_, to)) = gap.before.made_between().zip(gap.after.made_between())?;
        self.presence.silence_between(from, to, least_s)
    }

    /// Metres between two fixes, as far as their doubts do not explain them.
    pub(super) fn apart_m(&self, from: &LoggedFix, to: &LoggedFix) -> f64 {
        let spare_m = self.uncertainty(from).radius_95().metres() + self.uncertainty(to).radius_95().metres();
        (distance_m(from.position, to.position) - spare_m).max(0.0)
    }

    pub(super) fn uncertainty(&self, fix: &LoggedFix) -> HorizontalUncertainty {
        uncertainty_of(fix, &self.settings)
    }
}

/// Seconds that a step took, never none at all; none if either fix has no time.
fn step_s(from: &LoggedFix, to: &LoggedFix) -> Option<f64> {
    let seconds = seconds_between(from, to)?;
    Some(if seconds <= 0.0 { SAME_TIME_S } else { seconds.max(1e-3) })
}

/// Whether a fix tells nothing that the one before has not told: the same time and the same place.
fn same_instant(one: &LoggedFix, other: &LoggedFix) -> bool {
    one.time == other.time && one.position == other.position
}
