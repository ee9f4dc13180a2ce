//! Which fixes of a log can be believed, one after another.
//!
//! Nothing is thrown away unsaid: what is left out comes out as suspect, with the reason. Two fixes are held back until
//! the next ones show whether a boat can have made the way, and fixes that repeat one place until the boat goes on.

use std::collections::VecDeque;

use super::shown_speed::IMPOSSIBLE_KN;
use super::{Gap, LoggedFix, METRES_PER_SECOND_IN_A_KNOT, SuspectFix, Suspicion, TrackSettings};
use crate::geodesic::inverse;
use crate::{AccuracyKind, HorizontalUncertainty, Metres, Position};

/// A given top speed may be passed by this factor before it is called impossible: wind, waves, and errors of fixes.
const OVER_TOP_SPEED: f64 = 1.5;
/// After so many seconds at exactly one place, what follows decides whether the boat lay still or the receiver repeated
/// its last fix (common practice, no source).
const STALE_AFTER_S: f64 = 120.0;
/// So many repeats of one place are held until that is known; beyond it they count as repeats of a last fix.
const MOST_REPEATS: usize = 50_000;
/// Fixes with one and the same time are taken to lie within so many seconds: most logs count whole ones.
const SAME_TIME_S: f64 = 1.0;
/// Nothing logged for so many seconds is the end of one trip and the start of another, if a new stretch begins or the boat
/// is elsewhere; else it is a gap (common practice, no source).
const PAUSE_S: f64 = 6.0 * 3600.0;
/// Two ends of a pause farther apart than this, in metres, are no boat that lay there meanwhile (common practice, no
/// source).
const PAUSE_APART_M: f64 = 500.0;
/// So many fixes are waited for behind a step that no boat makes, to see whether the boat is back by then.
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
    /// A gap before the fix that follows.
    Gap(Gap),
}

/// A fix that waits.
#[derive(Debug, Clone, Copy)]
struct Held {
    fix: LoggedFix,
    /// Whether the boat is known to have lain still since the fix before: then no length of time is a gap.
    lay_still: bool,
    /// The most seconds between two of the fixes that say so.
    still_step_s: Option<f64>,
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
        }
    }

    /// A cleaner whose first fix is joined to nothing before it.
    pub(super) fn after_a_break(settings: TrackSettings) -> Self {
        Self { broken: true, ..Self::new(settings) }
    }

    pub(super) fn push(&mut self, fix: LoggedFix, out: &mut Vec<Cleaned>) {
        if is_zero_island(fix.position) {
            out.push(suspect(fix, Suspicion::ZeroIsland, None));
            return;
        }
        if fix.time.is_none() && fix.time_between.is_some() {
            // somewhere in a time in which nothing else is known: that it was there, and no more
            out.push(suspect(fix, Suspicion::Untimed, None));
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
                out.push(suspect(fix, Suspicion::Duplicate, None));
                return;
            }
            if self.repeats.next.is_some() {
                self.settle_repeats(Some(&fix), out);
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
        self.settle_repeats(None, out);
        self.hold(fix, false, out);
    }

    fn hold(&mut self, fix: LoggedFix, lay_still: bool, out: &mut Vec<Cleaned>) {
        self.held.push_back(Held { fix, lay_still, still_step_s: self.still_step_s });
        while self.held.len() > 2 && !self.waits_for_a_return() {
            self.settle_oldest(out);
        }
    }

    /// Whether the oldest lies behind a step that no boat makes, is borne out by the next, and may yet be come back from.
    fn waits_for_a_return(&self) -> bool {
        let (Some(last), Some(oldest), Some(next)) = (&self.last, self.held.front(), self.held.get(1)) else {
            return false;
        };
        self.held.len() < STRAYED_FOR
            && self.needed_kn(last, &oldest.fix).is_some()
            && self.needed_kn(&oldest.fix, &next.fix).is_none()
            && self.needed_kn(last, &next.fix).is_some()
            && !self.is_come_back_to(last)
    }

    /// Whether one of the fixes held back can be reached from this one, though not from the one before it.
    fn is_come_back_to(&self, last: &LoggedFix) -> bool {
        let mut pairs = self.held.iter().zip(self.held.iter().skip(1));
        pairs.any(|(one, next)| {
            self.needed_kn(&one.fix, &next.fix).is_some() && self.needed_kn(last, &next.fix).is_none()
        })
    }

    /// Lets the rest through.
    pub(super) fn finish(&mut self, out: &mut Vec<Cleaned>) {
        self.settle_repeats(None, out);
        while !self.held.is_empty() {
            self.settle_oldest(out);
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
        out.push(suspect(*fix, Suspicion::OutOfOrder, None));
        true
    }

    /// Begins anew with a fix whose clock runs apart from that of the fixes before: what lies between is a gap of a length
    /// that nobody knows.
    fn restart(&mut self, fix: &LoggedFix, out: &mut Vec<Cleaned>) {
        self.finish(out);
        if let Some(last) = self.last.take() {
            out.push(Cleaned::Gap(Gap { seconds: None, between_trips: false, ..gap(&last, fix, false) }));
        }
        self.last_timed = None;
        self.latest_behind = None;
        self.behind = 0;
        self.broken = true;
    }

    /// Whether a fix repeats the place of the one before, without a gap between; if so it waits.
    fn repeats(&mut self, before: &LoggedFix, fix: &LoggedFix, out: &mut Vec<Cleaned>) -> bool {
        let joined = seconds_between(before, fix).is_some_and(|seconds| seconds <= self.settings.gap_after_s);
        if !joined || before.position != fix.position {
            return false;
        }
        self.behind = 0;
        self.repeats.first.get_or_insert(*before);
        if self.repeats.rest.len() >= MOST_REPEATS {
            self.repeats.given_up = true;
            // the last one stays, to compare the next with
            let given_up = self.repeats.rest.drain(..);
            out.extend(given_up.map(|fix| suspect(fix, Suspicion::Stale, None)));
        }
        self.repeats.rest.push(*fix);
        true
    }

    /// Decides about a run of fixes at one place, in the light of the two fixes after it.
    ///
    /// A boat at anchor goes on from where it lay. A receiver that repeated its last fix jumps to where the boat has got
    /// to meanwhile, and then nothing is known of the time since the first of them. Where nothing follows, the repeats
    /// are suspect.
    fn settle_repeats(&mut self, after: Option<&LoggedFix>, out: &mut Vec<Cleaned>) {
        let run = std::mem::take(&mut self.repeats);
        let Some(latest) = run.rest.last().copied() else { return };
        if !run.given_up && !run.is_long() {
            run.rest.into_iter().for_each(|fix| self.hold(fix, false, out));
            return;
        }
        let goes_on = run.next.is_some_and(|next| self.goes_on(&latest, &next, after));
        if run.given_up || !goes_on {
            out.extend(run.rest.into_iter().map(|fix| suspect(fix, Suspicion::Stale, None)));
        } else {
            self.lie_still(run.rest, latest, out);
        }
        if let Some(next) = run.next {
            self.hold(next, false, out);
        }
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
            Some(inverse(next.position, after.position).distance_m / seconds)
        });
        let speeds = [went_on, next.speed_m_per_s];
        let m_per_s = OVER_TOP_SPEED * speeds.into_iter().flatten().fold(0.0, f64::max);
        self.apart_m(latest, next) <= m_per_s.min(self.settings.top_speed_m_per_s()) * seconds
    }

    /// Decides about the oldest fix held back, in the light of those after it.
    fn settle_oldest(&mut self, out: &mut Vec<Cleaned>) {
        let Some(Held { fix: oldest, lay_still, still_step_s }) = self.held.front().copied() else { return };
        let is_come_back_to = self.last.is_some_and(|last| self.is_come_back_to(&last));
        self.held.pop_front();
        let (next, after) = (self.held.front().map(|held| held.fix), self.held.get(1).map(|held| held.fix));
        let Some(last) = self.last else {
            return self.settle_first(oldest, (next, after), out);
        };
        if self.needed_kn(&last, &oldest).is_some() {
            let needed_kn = self.needed_kn(&last, &oldest);
            let alone = next.is_none_or(|next| {
                self.needed_kn(&oldest, &next).is_some() || self.needed_kn(&last, &next).is_none()
            }) || is_come_back_to;
            if alone {
                out.push(suspect(oldest, Suspicion::Spike, needed_kn));
                return;
            }
            out.push(Cleaned::Gap(gap(&last, &oldest, true)));
            self.accept(oldest, true, None, out);
            return;
        }
        let is_gap = self.is_gap(&last, &Held { fix: oldest, lay_still, still_step_s });
        if is_gap {
            // fixes without a time in between do not make it shorter
            let since = self.last_timed.filter(|_| oldest.time.is_some()).unwrap_or(last);
            out.push(Cleaned::Gap(gap(&since, &oldest, false)));
        }
        self.accept(oldest, is_gap, still_step_s, out);
    }

    /// Whether the boat may have been elsewhere than on the line between two fixes.
    fn is_gap(&self, last: &LoggedFix, next: &Held) -> bool {
        let fix = &next.fix;
        if last.time.is_none() && fix.time.is_none() {
            // within a stretch without times nothing tells one leg from another
            return last.place.stretch != fix.place.stretch;
        }
        let Some(seconds) = seconds_between(last, fix) else { return true };
        let lay_still = next.lay_still && last.position == fix.position;
        !lay_still && seconds > self.settings.gap_after_s
    }

    /// The first fix has nothing before it: those after it must bear it out.
    fn settle_first(
        &mut self,
        first: LoggedFix,
        (next, after): (Option<LoggedFix>, Option<LoggedFix>),
        out: &mut Vec<Cleaned>,
    ) {
        let needed_kn = next.and_then(|next| self.needed_kn(&first, &next));
        let borne_out = after.is_some_and(|after| self.needed_kn(&first, &after).is_none());
        if needed_kn.is_some() && !borne_out {
            out.push(suspect(first, Suspicion::ColdStart, needed_kn));
        } else {
            self.accept(first, self.broken, None, out);
        }
    }

    fn accept(&mut self, fix: LoggedFix, broken: bool, still_step_s: Option<f64>, out: &mut Vec<Cleaned>) {
        out.push(Cleaned::Fix { fix, broken: broken || self.broken, still_step_s });
        self.broken = false;
        self.last_timed = Some(fix).filter(|fix| fix.time.is_some()).or(self.last_timed);
        self.last = Some(fix);
    }

    /// The speed that the way between two fixes would have needed, in knots, if no boat does that.
    fn needed_kn(&self, from: &LoggedFix, to: &LoggedFix) -> Option<f64> {
        let seconds = seconds_between(from, to)?;
        let seconds = if seconds <= 0.0 { SAME_TIME_S } else { seconds.max(1e-3) };
        let knots = self.apart_m(from, to) / seconds / METRES_PER_SECOND_IN_A_KNOT;
        let limit_kn = if self.settings.top_speed_given {
            OVER_TOP_SPEED * self.settings.top_speed_kn
        } else {
            IMPOSSIBLE_KN
        };
        (knots > limit_kn).then_some(knots)
    }

    /// Metres between two fixes, as far as their doubts do not explain them.
    fn apart_m(&self, from: &LoggedFix, to: &LoggedFix) -> f64 {
        let spare_m = self.uncertainty(from).radius_95().metres() + self.uncertainty(to).radius_95().metres();
        (inverse(from.position, to.position).distance_m - spare_m).max(0.0)
    }

    fn uncertainty(&self, fix: &LoggedFix) -> HorizontalUncertainty {
        uncertainty_of(fix, &self.settings)
    }
}

/// The accuracy of a fix: its own, or what its dilution of precision makes, or the track's.
pub(super) fn uncertainty_of(fix: &LoggedFix, settings: &TrackSettings) -> HorizontalUncertainty {
    let by_dilution = || {
        let metres = settings.metres_per_hdop? * fix.hdop?;
        HorizontalUncertainty::given(metres, AccuracyKind::P95).ok()
    };
    fix.uncertainty.or_else(by_dilution).unwrap_or(settings.uncertainty)
}

/// Seconds from one fix to another; none if either has no time.
pub(super) fn seconds_between(from: &LoggedFix, to: &LoggedFix) -> Option<f64> {
    Some(to.time?.duration_since(from.time?).as_secs_f64())
}

/// Whether a position is 0, 0, which receivers write where they have none.
pub(super) fn is_zero_island(position: Position) -> bool {
    position.latitude().degrees().abs() < 1e-6 && position.longitude().degrees().abs() < 1e-6
}

/// Whether a fix tells nothing that the one before has not told: the same time and the same place.
fn same_instant(one: &LoggedFix, other: &LoggedFix) -> bool {
    one.time == other.time && one.position == other.position
}

fn suspect(fix: LoggedFix, suspicion: Suspicion, needed_kn: Option<f64>) -> Cleaned {
    Cleaned::Suspect(SuspectFix { fix, suspicion, needed_kn })
}

fn gap(before: &LoggedFix, after: &LoggedFix, impossible: bool) -> Gap {
    // where times are placed it may have been longer than they say
    let made = before.made_between().zip(after.made_between());
    let seconds = made.map(|((from, _), (_, to))| to.duration_since(from).as_secs_f64());
    let metres = inverse(before.position, after.position).distance_m;
    let is_elsewhere = before.place.stretch != after.place.stretch || metres > PAUSE_APART_M;
    Gap {
        before: *before,
        after: *after,
        seconds,
        between_trips: is_elsewhere && seconds.is_some_and(|seconds| seconds >= PAUSE_S),
        metres: Metres::computed(metres),
        impossible,
    }
}
