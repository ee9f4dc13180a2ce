//! Fixes at exactly one place, one after another: a boat that lies still, or a receiver that repeats its last fix.

use super::cleaning::{Cleaned, Cleaner, MOST_REPEATS, OVER_TOP_SPEED, Repeats, SAME_TIME_S};
use super::logged_fix::{is_one_place, seconds_between};
use super::{LoggedFix, METRES_PER_SECOND_IN_A_KNOT, Suspicion};
use crate::geodesic::distance_m;

/// After so many seconds at exactly one place, what follows decides whether the boat lay still or the receiver repeated
/// its last fix (common practice, no source).
pub(super) const STALE_AFTER_S: f64 = 120.0;
/// Fixes at exactly one place are repeats of it however long the step of the log is, up to so many seconds; beyond that each is
/// told for itself (common practice, no source).
const REPEATED_WITHIN_S: f64 = 1_200.0;

impl Repeats {
    /// Whether they went on for so long that what follows decides about them.
    pub(super) fn is_long(&self) -> bool {
        let ends = self.first.as_ref().zip(self.rest.last()).filter(|_| !self.given_up);
        let seconds = ends.and_then(|(first, latest)| seconds_between(first, latest));
        seconds.is_some_and(|seconds| seconds > STALE_AFTER_S)
    }

    /// The most seconds between two of them.
    pub(super) fn longest_step_s(&self) -> f64 {
        let all = || self.first.iter().chain(&self.rest);
        let steps_s = all().zip(all().skip(1)).filter_map(|(one, next)| seconds_between(one, next));
        steps_s.fold(0.0, f64::max)
    }
}

impl Cleaner {
    /// Whether a fix repeats the place of the one before; if so it waits.
    pub(super) fn repeats(&mut self, before: &LoggedFix, fix: &LoggedFix, out: &mut Vec<Cleaned>) -> bool {
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
    pub(super) fn give_up_repeats(&mut self, out: &mut Vec<Cleaned>) {
        self.repeats.given_up = true;
        while !self.held.is_empty() {
            self.settle_oldest(out);
        }
        for fix in std::mem::take(&mut self.repeats.rest) {
            out.push(self.suspect(fix, Suspicion::RepeatedPosition, None));
        }
    }

    /// Leaves repeats out, behind the fix that they repeat.
    pub(super) fn leave_out_repeats(&mut self, rest: Vec<LoggedFix>, out: &mut Vec<Cleaned>) {
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
    pub(super) fn settle_repeats(
        &mut self,
        after: (Option<&LoggedFix>, Option<&LoggedFix>),
        out: &mut Vec<Cleaned>,
    ) {
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
        let counts_each = !run.is_long() || run.longest_step_s() > self.settings.gap_after_s;
        if run.given_up || is_end || jumps {
            self.leave_out_repeats(run.rest, out);
        } else if counts_each {
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
}
