//! Which fixes of a log can be believed, one after another.
//!
//! Nothing is thrown away unsaid: what is left out comes out as suspect, with the reason. Two fixes are held back until
//! the next ones show whether a boat can have made the way.

use std::collections::VecDeque;

use super::{Gap, LoggedFix, METRES_PER_SECOND_IN_A_KNOT, SuspectFix, Suspicion, TrackSettings};
use crate::geodesic::inverse;
use crate::{AccuracyKind, HorizontalUncertainty, Metres};

/// Impossible speed where no top speed is given, in knots (common practice, no source): no small craft does that.
const IMPOSSIBLE_KN: f64 = 60.0;
/// A given top speed may be passed by this factor before it is called impossible: wind, waves, and errors of fixes.
const OVER_TOP_SPEED: f64 = 1.5;
/// A floating boat does not give the same digits for longer than this, in seconds (common practice, no source).
const STALE_AFTER_S: f64 = 120.0;
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

#[derive(Debug)]
pub(super) struct Cleaner {
    settings: TrackSettings,
    /// The last fix let through.
    last: Option<LoggedFix>,
    /// Held back until the next ones come, oldest first.
    held: VecDeque<LoggedFix>,
    /// The first fix of a run of fixes at exactly one place.
    still_since: Option<LoggedFix>,
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
            still_since: None,
            behind: 0,
            latest_behind: None,
            broken: false,
        }
    }

    pub(super) fn push(&mut self, fix: LoggedFix, out: &mut Vec<Cleaned>) {
        if fix.position.latitude().degrees().abs() < 1e-6 && fix.position.longitude().degrees().abs() < 1e-6 {
            out.push(suspect(fix, Suspicion::ZeroIsland, None));
            return;
        }
        if let Some(before) = self.held.back().or(self.last.as_ref()).copied() {
            if self.out_of_order(&before, &fix, out) {
                return;
            }
            if same_instant(&before, &fix) {
                out.push(suspect(fix, Suspicion::Duplicate, None));
                return;
            }
        }
        self.behind = 0;
        if self.is_stale(&fix) {
            out.push(suspect(fix, Suspicion::Stale, None));
            return;
        }
        self.held.push_back(fix);
        while self.held.len() > 2 {
            self.settle_oldest(out);
        }
    }

    /// Lets the rest through.
    pub(super) fn finish(&mut self, out: &mut Vec<Cleaned>) {
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
        self.still_since = None;
        self.latest_behind = None;
        self.behind = 0;
        self.broken = true;
    }

    fn is_stale(&mut self, fix: &LoggedFix) -> bool {
        match self.still_since {
            Some(first) if first.position == fix.position => {
                seconds_between(&first, fix).is_some_and(|seconds| seconds > STALE_AFTER_S)
            }
            _ => {
                self.still_since = Some(*fix);
                false
            }
        }
    }

    /// Decides about the oldest fix held back, in the light of those after it.
    fn settle_oldest(&mut self, out: &mut Vec<Cleaned>) {
        let Some(oldest) = self.held.pop_front() else { return };
        let (next, after) = (self.held.front().copied(), self.held.get(1).copied());
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
        let is_gap = seconds.is_some_and(|seconds| seconds > self.settings.gap_after_s);
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
        let seconds = seconds_between(from, to)?.max(1e-3);
        let spare_m = self.uncertainty(from).radius_95().metres() + self.uncertainty(to).radius_95().metres();
        let metres = (inverse(from.position, to.position).distance_m - spare_m).max(0.0);
        let knots = metres / seconds / METRES_PER_SECOND_IN_A_KNOT;
        let limit_kn = if self.settings.top_speed_given {
            OVER_TOP_SPEED * self.settings.top_speed_kn
        } else {
            IMPOSSIBLE_KN
        };
        (knots > limit_kn).then_some(knots)
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

fn same_instant(one: &LoggedFix, other: &LoggedFix) -> bool {
    match (one.time, other.time) {
        (Some(one), Some(other)) => one == other,
        (None, None) => one.position == other.position,
        _ => false,
    }
}

fn suspect(fix: LoggedFix, suspicion: Suspicion, needed_kn: Option<f64>) -> Cleaned {
    Cleaned::Suspect(SuspectFix { fix, suspicion, needed_kn })
}

fn gap(before: &LoggedFix, after: &LoggedFix, impossible: bool) -> Gap {
    Gap {
        before: *before,
        after: *after,
        seconds: seconds_between(before, after),
        metres: Metres::computed(inverse(before.position, after.position).distance_m),
        impossible,
    }
}
