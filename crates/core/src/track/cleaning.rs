//! Which fixes of a log can be believed, one after another.
//!
//! Nothing is thrown away unsaid: what is left out comes out as suspect, with the reason. Two fixes are held back until
//! the next ones show whether a boat can have made the way, and fixes that repeat one place until the boat goes on.

use std::collections::VecDeque;

use super::shown_speed::IMPOSSIBLE_KN;
use super::{Gap, LoggedFix, METRES_PER_SECOND_IN_A_KNOT, SuspectFix, Suspicion, TrackSettings};
use crate::geodesic::inverse;
use crate::{AccuracyKind, HorizontalUncertainty, Metres};

/// A given top speed may be passed by this factor before it is called impossible: wind, waves, and errors of fixes.
const OVER_TOP_SPEED: f64 = 1.5;
/// After so many seconds at exactly one place, what follows decides whether the boat lay still or the receiver repeated
/// its last fix (common practice, no source).
const STALE_AFTER_S: f64 = 120.0;
/// So many repeats of one place are held until that is known; beyond it they count as repeats of a last fix.
const MOST_REPEATS: usize = 50_000;
/// Fixes with one and the same time are taken to lie within so many seconds: most logs count whole ones.
const SAME_TIME_S: f64 = 1.0;
/// Nothing logged for so many seconds is the end of one trip and the start of another (common practice, no source).
const PAUSE_S: f64 = 6.0 * 3600.0;
/// So many fixes in order among themselves, all earlier than the last one, are a clock that was set back.
const CLOCK_SET_BACK_AFTER: u32 = 10;

/// What cleaning lets through.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Cleaned {
    /// A fix to believe; joined to the one before unless there is a break.
    Fix { fix: LoggedFix, broken: bool },
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
}

/// A run of fixes at one place, without the first of them.
#[derive(Debug, Default)]
struct Repeats {
    first: Option<LoggedFix>,
    rest: Vec<LoggedFix>,
    /// There were too many to hold: they are given up as a receiver's last fix.
    given_up: bool,
}

#[derive(Debug)]
pub(super) struct Cleaner {
    settings: TrackSettings,
    /// The last fix let through.
    last: Option<LoggedFix>,
    /// Held back until the next ones come, oldest first.
    held: VecDeque<Held>,
    /// Fixes at exactly the place of the last one held or let through, which is the first of them.
    repeats: Repeats,
    behind: u32,
    latest_behind: Option<LoggedFix>,
    /// Whether the next fix let through has no way to it from the last one.
    broken: bool,
}

impl Cleaner {
    pub(super) fn new(settings: TrackSettings) -> Self {
        Self {
            settings,
            last: None,
            held: VecDeque::new(),
            repeats: Repeats::default(),
            behind: 0,
            latest_behind: None,
            broken: false,
        }
    }

    /// A cleaner whose first fix is joined to nothing before it.
    pub(super) fn after_a_break(settings: TrackSettings) -> Self {
        Self { broken: true, ..Self::new(settings) }
    }

    pub(super) fn push(&mut self, fix: LoggedFix, out: &mut Vec<Cleaned>) {
        if fix.position.latitude().degrees().abs() < 1e-6 && fix.position.longitude().degrees().abs() < 1e-6 {
            out.push(suspect(fix, Suspicion::ZeroIsland, None));
            return;
        }
        let before =
            self.repeats.rest.last().or(self.held.back().map(|held| &held.fix)).or(self.last.as_ref());
        if let Some(before) = before.copied() {
            if self.out_of_order(&before, &fix, out) {
                return;
            }
            if same_instant(&before, &fix) {
                out.push(suspect(fix, Suspicion::Duplicate, None));
                return;
            }
            if self.repeats(&before, &fix, out) {
                return;
            }
        }
        self.behind = 0;
        self.settle_repeats(Some(&fix), out);
        self.hold(fix, false, out);
    }

    fn hold(&mut self, fix: LoggedFix, lay_still: bool, out: &mut Vec<Cleaned>) {
        self.held.push_back(Held { fix, lay_still });
        while self.held.len() > 2 {
            self.settle_oldest(out);
        }
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
            self.finish(out);
            self.restart();
            return false;
        }
        let in_order = self.latest_behind.is_none_or(|latest| latest.time < fix.time);
        self.behind = if in_order { self.behind + 1 } else { 1 };
        self.latest_behind = Some(*fix);
        if self.behind >= CLOCK_SET_BACK_AFTER {
            self.finish(out);
            self.restart();
            return false;
        }
        out.push(suspect(*fix, Suspicion::OutOfOrder, None));
        true
    }

    fn restart(&mut self) {
        self.last = None;
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

    /// Decides about a run of fixes at one place, in the light of the fix after it.
    ///
    /// A boat at anchor goes on from where it lay. A receiver that repeated its last fix jumps to where the boat has got
    /// to meanwhile, and then nothing is known of the time since the first of them. Where nothing follows, the repeats
    /// are suspect.
    fn settle_repeats(&mut self, next: Option<&LoggedFix>, out: &mut Vec<Cleaned>) {
        let run = std::mem::take(&mut self.repeats);
        let Some((first, latest)) = run.first.zip(run.rest.last().copied()) else { return };
        let is_short = seconds_between(&first, &latest).is_none_or(|seconds| seconds <= STALE_AFTER_S);
        if is_short && !run.given_up {
            run.rest.into_iter().for_each(|fix| self.hold(fix, false, out));
            return;
        }
        let goes_on = next.is_some_and(|next| self.goes_on(&latest, next));
        if run.given_up || !goes_on {
            out.extend(run.rest.into_iter().map(|fix| suspect(fix, Suspicion::Stale, None)));
            return;
        }
        // of a boat that lies still only the end matters, and where it was known worst
        let radius_m = |fix: &LoggedFix| self.uncertainty(fix).radius_95().metres();
        let widest = run
            .rest
            .iter()
            .copied()
            .reduce(|one, two| if radius_m(&two) > radius_m(&one) { two } else { one });
        for fix in widest.filter(|widest| widest.time != latest.time).into_iter().chain([latest]) {
            self.hold(fix, true, out);
        }
    }

    /// Whether a boat that lay still can be at the next fix by going on from there.
    fn goes_on(&self, latest: &LoggedFix, next: &LoggedFix) -> bool {
        let Some(seconds) = seconds_between(latest, next) else { return false };
        let seconds = seconds.clamp(SAME_TIME_S, self.settings.gap_after_s.max(SAME_TIME_S));
        self.apart_m(latest, next) <= self.settings.top_speed_m_per_s() * seconds
    }

    /// Decides about the oldest fix held back, in the light of those after it.
    fn settle_oldest(&mut self, out: &mut Vec<Cleaned>) {
        let Some(Held { fix: oldest, lay_still }) = self.held.pop_front() else { return };
        let (next, after) = (self.held.front().map(|held| held.fix), self.held.get(1).map(|held| held.fix));
        let Some(last) = self.last else {
            return self.settle_first(oldest, (next, after), out);
        };
        if self.needed_kn(&last, &oldest).is_some() {
            let needed_kn = self.needed_kn(&last, &oldest);
            let alone = next.is_none_or(|next| {
                self.needed_kn(&oldest, &next).is_some() || self.needed_kn(&last, &next).is_none()
            });
            if alone {
                out.push(suspect(oldest, Suspicion::Spike, needed_kn));
                return;
            }
            out.push(Cleaned::Gap(gap(&last, &oldest, true)));
            self.accept(oldest, true, out);
            return;
        }
        let seconds = seconds_between(&last, &oldest);
        let is_gap = !lay_still && seconds.is_some_and(|seconds| seconds > self.settings.gap_after_s);
        if is_gap {
            out.push(Cleaned::Gap(gap(&last, &oldest, false)));
        }
        self.accept(oldest, is_gap, out);
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
            self.accept(first, self.broken, out);
        }
    }

    fn accept(&mut self, fix: LoggedFix, broken: bool, out: &mut Vec<Cleaned>) {
        out.push(Cleaned::Fix { fix, broken: broken || self.broken });
        self.broken = false;
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

/// Whether a fix tells nothing that the one before has not told: the same time and the same place.
fn same_instant(one: &LoggedFix, other: &LoggedFix) -> bool {
    one.time == other.time && one.position == other.position
}

fn suspect(fix: LoggedFix, suspicion: Suspicion, needed_kn: Option<f64>) -> Cleaned {
    Cleaned::Suspect(SuspectFix { fix, suspicion, needed_kn })
}

fn gap(before: &LoggedFix, after: &LoggedFix, impossible: bool) -> Gap {
    let seconds = seconds_between(before, after);
    Gap {
        before: *before,
        after: *after,
        seconds,
        between_trips: seconds.is_some_and(|seconds| seconds >= PAUSE_S),
        metres: Metres::computed(inverse(before.position, after.position).distance_m),
        impossible,
    }
}
