//! How far off the straight way between two fixes the boat can have been.

use super::leg::{Leg, least_between};
use super::{OffTheWay, TrackSettings};
use crate::{Metres, Position};

/// A leg that took no time by its clock took as long as that at most, in seconds: most clocks count whole ones.
const LEAST_S: f64 = 1.0;
/// Where nothing tells how long a leg took, the way is taken to be at most so many times the straight one (common practice, no
/// source).
const UNTIMED_WAY: f64 = 2.0;

/// What the top speed leaves open of the way between two fixes.
///
/// At a share t of the time s the boat was within v·t·s of the one fix and within v·(1 − t)·s of the other. By Stewart's
/// theorem no such place is farther from the point at that share of the straight way, of length L, than
/// √(t (1 − t) ((v·s)² − L²)); half way that is half the minor axis of the ellipse about both fixes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Stray {
    seconds: f64,
    /// The way that the top speed allows, in metres, and without times a multiple of the straight one; none in a plan, where
    /// nothing is left open.
    allowed_m: Option<f64>,
    /// The least that the straight way can be: the doubts of both fixes are taken off it.
    straight_m: f64,
    /// The most that it can be: the doubts are added to it.
    longest_m: f64,
    /// Whether the boat lay still and its leg stands for many, each as short as told here: nothing rises and falls then.
    is_still: bool,
}

impl Stray {
    /// Pieces of a leg shorter than this share of it are not cut again, and count as within reach if any of them may be.
    pub(super) const SHORTEST: f64 = 1.0 / 64.0;

    /// `spare_m`: the doubts of both fixes together, in metres. `still_step_s`: of a boat that lay still, the most seconds
    /// between two of the fixes that the leg stands for.
    pub(super) fn of(
        leg: &Leg,
        (spare_m, still_step_s): (f64, Option<f64>),
        settings: &TrackSettings,
    ) -> Self {
        let whole_s = leg.longest_s().filter(|seconds| *seconds >= 0.0);
        let seconds = whole_s.map(|whole_s| still_step_s.map_or(whole_s, |step_s| step_s.min(whole_s)));
        let straight_m = (leg.length_m - spare_m).max(0.0);
        let longest_m = leg.length_m + spare_m;
        let allowed_m = match seconds {
            _ if settings.is_plan => None,
            Some(seconds) => Some(settings.top_speed_m_per_s() * seconds.max(LEAST_S)),
            None => Some(UNTIMED_WAY * leg.length_m),
        };
        Self {
            seconds: seconds.unwrap_or(0.0),
            allowed_m,
            straight_m,
            longest_m,
            is_still: still_step_s.is_some(),
        }
    }

    /// Whether the way needs more than the top speed, the doubts of the fixes taken off it.
    pub(super) fn is_too_fast(&self) -> bool {
        self.needs_more_than(1.0)
    }

    /// Whether the way needs more than so many times the top speed.
    pub(super) fn needs_more_than(&self, times: f64) -> bool {
        self.allowed_m.is_some_and(|allowed_m| self.straight_m > times * allowed_m)
    }

    /// The most that the boat can have been off the straight way, in metres.
    pub(super) fn most_m(&self) -> f64 {
        self.at_m(0.5)
    }

    /// The most that it can have been off it at a share of the time, in metres; rises up to the middle and falls from there.
    pub(super) fn at_m(&self, share: f64) -> f64 {
        let Some(allowed_m) = self.allowed_m else { return 0.0 };
        if self.is_still {
            return if 0.0 < share && share < 1.0 { allowed_m / 2.0 } else { 0.0 };
        }
        let to_nearer = share.min(1.0 - share).max(0.0);
        let across_m2 = share.max(0.0) * (1.0 - share).max(0.0);
        let spread_m2 = (allowed_m * allowed_m - self.straight_m * self.straight_m).max(0.0);
        // back from the nearer fix at top speed, while the straight way went on from it no faster
        let back_m = (allowed_m + self.longest_m.min(allowed_m)) * to_nearer;
        (across_m2 * spread_m2).sqrt().min(back_m)
    }

    /// For a visit known from no more than this.
    pub(super) fn told(&self) -> OffTheWay {
        OffTheWay { seconds: self.seconds, reach: Metres::computed(self.most_m()) }
    }

    /// The shares between which the boat can have come within a doubt of a line by leaving the straight way, in order and
    /// rounded outwards; `off` tells how far from the line a place is at least, on the side that is asked of, and `ends_m`
    /// what it tells of both ends.
    pub(super) fn within(
        &self,
        leg: &Leg,
        off: impl Fn(Position) -> f64,
        (ends_m, doubt_m): ((f64, f64), f64),
    ) -> Vec<(f64, f64)> {
        let mut found: Vec<(f64, f64)> = Vec::new();
        if self.most_m() <= 0.0 {
            return found;
        }
        let mut waiting = vec![(0.0, ends_m.0, 1.0, ends_m.1)];
        while let Some((low, at_low_m, high, at_high_m)) = waiting.pop() {
            let way_m = (high - low) * leg.length_m;
            let off_m = (self.at_m(low), self.at_m(high));
            let most_m = if low < 0.5 && high > 0.5 { self.most_m() } else { off_m.0.max(off_m.1) };
            if least_between(at_low_m, at_high_m, way_m) > doubt_m + most_m {
                continue;
            }
            let farthest_m = (at_low_m + at_high_m + way_m) / 2.0;
            if farthest_m > doubt_m + off_m.0.min(off_m.1) && high - low > Self::SHORTEST {
                let middle = f64::midpoint(low, high);
                let at_middle_m = off(leg.at(middle));
                // the later half waits below the earlier one, so that shares come in order
                waiting.push((middle, at_middle_m, high, at_high_m));
                waiting.push((low, at_low_m, middle, at_middle_m));
                continue;
            }
            match found.last_mut() {
                Some(last) if last.1 >= low => last.1 = high,
                _ => found.push((low, high)),
            }
        }
        // at a fix itself the boat is where the fix says: what is clear of the doubt there is clear for some moments
        if let Some(first) = found.first_mut().filter(|first| first.0 <= 0.0 && ends_m.0 > doubt_m) {
            first.0 = self.clear_share(leg, ends_m.0 - doubt_m).min(first.1);
        }
        if let Some(last) = found.last_mut().filter(|last| last.1 >= 1.0 && ends_m.1 > doubt_m) {
            last.1 = (1.0 - self.clear_share(leg, ends_m.1 - doubt_m)).max(last.0);
        }
        found
    }

    /// A share of the leg, above zero, within which of either end the boat cannot have come so many metres from there.
    fn clear_share(&self, leg: &Leg, spare_m: f64) -> f64 {
        let is_clear = |share: &f64| self.at_m(*share) + share * leg.length_m < spare_m;
        // where none of the halvings will do, what is left is a rounding of nothing
        (0..40).map(|halving| Self::SHORTEST * 0.5_f64.powi(halving)).find(is_clear).unwrap_or(1e-15)
    }
}
