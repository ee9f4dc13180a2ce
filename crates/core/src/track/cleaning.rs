//! Which fixes of a log can be believed, one after another.
//!
//! Nothing is thrown away unsaid: what is left out comes out as suspect, with the reason. Two fixes are held back until
//! the next ones show whether a boat can have made the way, and fixes that repeat one place until the boat goes on.

use std::collections::VecDeque;

use jiff::Timestamp;

use super::few_digits::with_digits;
use super::presence::{PAUSE_S, Presence, Silence, Timeless};
use super::{
    Gap, LogPlace, LoggedFix, METRES_PER_SECOND_IN_A_KNOT, OpenEnd, SuspectFix, Suspicion, TrackSettings,
};
use crate::geodesic::{at_most_m, distance_m};
use crate::{AccuracyKind, HorizontalUncertainty, Position};

/// The top speed, given, assumed or shown by the log, may be passed by this factor before a step is not believed: wind,
/// waves, and errors of fixes.
pub(super) const OVER_TOP_SPEED: f64 = 1.5;
/// After so many seconds at exactly one place, what follows decides whether the boat lay still or the receiver repeated
/// its last fix (common practice, no source).
const STALE_AFTER_S: f64 = 120.0;
/// Fixes at exactly one place are repeats of it however long the step of the log is, up to so many seconds; beyond that each is
/// told for itself (common practice, no source).
const REPEATED_WITHIN_S: f64 = 1_200.0;
/// So many repeats of one place are held until that is known; beyond it they count as repeats of a last fix.
const MOST_REPEATS: usize = 50_000;
/// Fixes within so many metres of each other are at one place: receivers that stand still flicker in the last digit (common
/// practice, no source).
const ONE_PLACE_M: f64 = 0.05;
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
struct Held {
    fix: LoggedFix,
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

/// A run of fixes at one place, without the first of them.
#[derive(Debug, Default)]
struct Repeats {
    first: Option<LoggedFix>,
    rest: Vec<LoggedFix>,
    /// There were too many to hold: they are given up as a receiver's last fix.
    given_up: bool,
    /// The fix after them, which waits for one more to show how fast the boat went on.
    next: Option<LoggedFix>,
}

impl Repeats {
    /// Whether they went on for so long that what follows decides about them.
    fn is_long(&self) -> bool {
        let ends = self.first.as_ref().zip(self.rest.last()).filter(|_| !self.given_up);
        let seconds = ends.and_then(|(first, latest)| seconds_between(first, latest));
        seconds.is_some_and(|seconds| seconds > STALE_AFTER_S)
    }

    /// The most seconds between two of them.
    fn longest_step_s(&self) -> f64 {
        let all = || self.first.iter().chain(&self.rest);
        let steps_s = all().zip(all().skip(1)).filter_map(|(one, next)| seconds_between(one, next));
        steps_s.fold(0.0, f64::max)
    }
}

#[derive(Debug)]
pub(super) struct Cleaner {
    settings: TrackSettings,
    /// The last fix let through.
    last: Option<LoggedFix>,
    /// The last of those that had a time.
    last_timed: Option<LoggedFix>,
    /// Held back until the next ones come, oldest first.
    held: VecDeque<Held>,
    /// Fixes at exactly the place of the last one held or let through, which is the first of them.
    repeats: Repeats,
    behind: u32,
    latest_behind: Option<LoggedFix>,
    /// Whether the next fix let through has no way to it from the last one.
    broken: bool,
    /// The most seconds between two fixes of the run at one place that is being let through.
    still_step_s: Option<f64>,
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
    fn suspect(&mut self, fix: LoggedFix, suspicion: Suspicion, needed_kn: Option<f64>) -> Cleaned {
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

    fn hold(&mut self, fix: LoggedFix, lay_still: bool, out: &mut Vec<Cleaned>) {
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
    fn part(&self, gap: &Gap, out: &mut Vec<Cleaned>) {
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

    /// Whether a fix repeats the place of the one before; if so it waits.
    fn repeats(&mut self, before: &LoggedFix, fix: &LoggedFix, out: &mut Vec<Cleaned>) -> bool {
        let joined = seconds_between(before, fix).is_some_and(|seconds| seconds <= REPEATED_WITHIN_S);
        if !joined || !is_one_place(self.repeats.first.as_ref().unwrap_or(before), fix) {
            return false;
        }
        self.behind = 0;
        self.repeats.first.get_or_insert(*before);
        if self.repeats.rest.len() >= MOST_REPEATS {
            self.give_up_repeats(out);
        }
        self.repeats.rest.push(*fix);
        true
    }

    /// Lets go of repeats that are too many to hold, behind the fix that they repeat.
    fn give_up_repeats(&mut self, out: &mut Vec<Cleaned>) {
        self.repeats.given_up = true;
        while !self.held.is_empty() {
            self.settle_oldest(out);
        }
        for fix in std::mem::take(&mut self.repeats.rest) {
            out.push(self.suspect(fix, Suspicion::RepeatedPosition, None));
        }
    }

    /// Leaves out what is not believed, behind what is held.
    fn leave_out(&mut self, (fix, suspicion): (LoggedFix, Suspicion), out: &mut Vec<Cleaned>) {
        let left_out = self.suspect(fix, suspicion, fix.jump_kn.filter(|knots| knots.is_finite()));
        match self.held.back_mut().filter(|held| held.left_out.len() < MOST_REPEATS) {
            Some(held) => held.left_out.push(left_out),
            None => out.push(left_out),
        }
    }

    /// Leaves repeats out, behind the fix that they repeat.
    fn leave_out_repeats(&mut self, rest: Vec<LoggedFix>, out: &mut Vec<Cleaned>) {
        for fix in rest {
            self.leave_out((fix, Suspicion::RepeatedPosition), out);
        }
    }

    /// Decides about a run of fixes at one place, in the light of the two fixes after it.
    ///
    /// A boat at anchor goes on from where it lay. A receiver that repeated its last fix jumps to where the boat has got
    /// to meanwhile, and then nothing is known of the time since the first of them. Where nothing follows, or another trip,
    /// the repeats are suspect, of a boat that came under way however short the run is: nothing tells that it lay there.
    ///
    /// Before a step that is too fast from the last of them, and can be made from the first, the receiver repeated itself
    /// however short the run is. Repeats farther apart than a gap say no more than each by itself where the log goes on.
    fn settle_repeats(&mut self, after: (Option<&LoggedFix>, Option<&LoggedFix>), out: &mut Vec<Cleaned>) {
        let run = std::mem::take(&mut self.repeats);
        let Some(latest) = run.rest.last().copied() else { return };
        let (next, then) = (run.next.as_ref().or(after.0), after.1);
        let is_end = next.is_none_or(|next| self.gap(&latest, next, false).between_trips);
        let jumps = next.zip(run.first.as_ref()).is_some_and(|(next, first)| {
            self.needed_kn(&latest, next).is_some() && self.needed_kn(first, next).is_none()
        });
        let goes_on = || run.next.as_ref().is_some_and(|next| self.goes_on(&latest, next, then));
        // a boat that lay still before lies there; one that came at speed does not stop dead
        let is_end = is_end && (run.is_long() || run.first.is_some_and(|first| self.came_under_way(&first)));
        let is_told_each = !run.is_long() || run.longest_step_s() > self.settings.gap_after_s;
        if run.given_up || is_end || jumps {
            self.leave_out_repeats(run.rest, out);
        } else if is_told_each {
            run.rest.into_iter().for_each(|fix| self.hold(fix, false, out));
        } else if goes_on() {
            self.lie_still(run.rest, latest, out);
        } else {
            self.leave_out_repeats(run.rest, out);
        }
        if let Some(next) = run.next {
            self.hold(next, false, out);
        }
    }

    /// Whether the boat was under way when it came to a fix.
    fn came_under_way(&self, to: &LoggedFix) -> bool {
        let earlier = |from: &LoggedFix| seconds_between(from, to).is_some_and(|seconds| seconds > 0.0);
        let mut before = self.held.iter().rev().map(|held| held.fix).chain(self.last);
        before.find(earlier).is_some_and(|from| {
            let seconds = seconds_between(&from, to).unwrap_or(f64::INFINITY);
            let way_m = distance_m(from.position, to.position);
            way_m / seconds > self.settings.stop_below_kn * METRES_PER_SECOND_IN_A_KNOT
        })
    }

    /// Keeps what counts of a run of fixes at one place.
    fn lie_still(&mut self, rest: Vec<LoggedFix>, latest: LoggedFix, out: &mut Vec<Cleaned>) {
        // the second fix of the run bears out the first
        let second = rest.first().copied();
        let steps_s = rest.windows(2).filter_map(|pair| seconds_between(&pair[0], &pair[1]));
        let longest_step_s = steps_s.reduce(f64::max);
        // of a boat that lies still only the end matters, and where it was known worst
        let radius_m = |fix: &LoggedFix| self.uncertainty(fix).radius_95().metres();
        let widest =
            rest.into_iter().reduce(|one, two| if radius_m(&two) > radius_m(&one) { two } else { one });
        let mut kept: Vec<LoggedFix> = second.into_iter().chain(widest).chain([latest]).collect();
        kept.dedup_by_key(|fix| fix.time);
        for (number, fix) in kept.into_iter().enumerate() {
            // the way to the second is one leg, as long as it was logged
            self.still_step_s = longest_step_s.filter(|_| number > 0);
            self.hold(fix, true, out);
        }
        self.still_step_s = None;
    }

    /// Whether a boat that lay still can be at the next fix by going on from there, about as fast as it went after that.
    fn goes_on(&self, latest: &LoggedFix, next: &LoggedFix, after: Option<&LoggedFix>) -> bool {
        let Some(seconds) = seconds_between(latest, next) else { return false };
        let seconds = seconds.clamp(SAME_TIME_S, self.settings.gap_after_s.max(SAME_TIME_S));
        let went_on = after.and_then(|after| {
            let seconds = seconds_between(next, after).filter(|seconds| *seconds > 0.0)?;
            Some(distance_m(next.position, after.position) / seconds)
        });
        let speeds = [went_on, next.speed_m_per_s];
        let m_per_s = OVER_TOP_SPEED * speeds.into_iter().flatten().fold(0.0, f64::max);
        self.apart_m(latest, next) <= m_per_s.min(self.settings.top_speed_m_per_s()) * seconds
    }

    /// Decides about the oldest fix held back, in the light of those after it.
    fn settle_oldest(&mut self, out: &mut Vec<Cleaned>) {
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
            self.part(&self.gap(&since, &fix, is_impossible), out);
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
    fn needed_kn(&self, from: &LoggedFix, to: &LoggedFix) -> Option<f64> {
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
    fn gap(&self, before: &LoggedFix, after: &LoggedFix, impossible: bool) -> Gap {
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
    fn apart_m(&self, from: &LoggedFix, to: &LoggedFix) -> f64 {
        let spare_m = self.uncertainty(from).radius_95().metres() + self.uncertainty(to).radius_95().metres();
        (distance_m(from.position, to.position) - spare_m).max(0.0)
    }

    fn uncertainty(&self, fix: &LoggedFix) -> HorizontalUncertainty {
        uncertainty_of(fix, &self.settings)
    }
}

/// Whether a fix tells nothing of its accuracy.
pub(super) fn has_no_accuracy(fix: &LoggedFix, settings: &TrackSettings) -> bool {
    fix.uncertainty.is_none() && settings.metres_per_hdop.zip(fix.hdop).is_none()
}

/// The accuracy of a fix: its own, or what its dilution of precision makes, or the track's; and what few digits leave open.
pub(super) fn uncertainty_of(fix: &LoggedFix, settings: &TrackSettings) -> HorizontalUncertainty {
    let by_dilution = || {
        let metres = settings.metres_per_hdop? * fix.hdop?;
        HorizontalUncertainty::given(metres, AccuracyKind::P95).ok()
    };
    with_digits(fix.uncertainty.or_else(by_dilution).unwrap_or(settings.uncertainty), fix, settings)
}

/// Seconds that a step took, never none at all; none if either fix has no time.
fn step_s(from: &LoggedFix, to: &LoggedFix) -> Option<f64> {
    let seconds = seconds_between(from, to)?;
    Some(if seconds <= 0.0 { SAME_TIME_S } else { seconds.max(1e-3) })
}

/// Seconds from one fix to another; none if either has no time.
pub(super) fn seconds_between(from: &LoggedFix, to: &LoggedFix) -> Option<f64> {
    Some(to.time?.duration_since(from.time?).as_secs_f64())
}

/// Whether a position is 0, 0, which receivers write where they have none.
pub(super) fn is_zero_island(position: Position) -> bool {
    position.latitude().degrees().abs() < 1e-6 && position.longitude().degrees().abs() < 1e-6
}

/// Whether two fixes are at one place as no boat afloat is for minutes.
pub(super) fn is_one_place(one: &LoggedFix, other: &LoggedFix) -> bool {
    let north_deg = one.position.latitude().degrees() - other.position.latitude().degrees();
    let east_deg = one.position.longitude().degrees() - other.position.longitude().degrees();
    // what is not near in degrees is not asked about
    let is_near = north_deg.abs() < 1e-6 && east_deg.abs() < 1e-4;
    is_near && distance_m(one.position, other.position) <= ONE_PLACE_M
}

/// Whether a fix tells nothing that the one before has not told: the same time and the same place.
fn same_instant(one: &LoggedFix, other: &LoggedFix) -> bool {
    one.time == other.time && one.position == other.position
}
