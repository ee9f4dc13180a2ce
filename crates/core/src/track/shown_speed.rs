//! How fast a log shows a boat to be, spikes left out.

use std::collections::VecDeque;

use super::logged_fix::{seconds_between, uncertainty_of};
use super::{LoggedFix, METRES_PER_SECOND_IN_A_KNOT, TrackSettings};
use crate::geodesic::{Vector, surface};

/// A speed counts if it was kept up over so many seconds and legs (common practice, no source).
const KEPT_UP_S: f64 = 20.0;
const KEPT_UP_LEGS: usize = 4;
/// It is not counted for so many seconds from where a log begins, or goes on after a jump or so long a silence: a receiver may
/// be settling, and a place that it nears step by step is no way (common practice, no source).
const SETTLED_AFTER_S: f64 = 120.0;
const SILENT_S: f64 = 300.0;
/// Faster than this, in knots, no small craft is believed to be (common practice, no source).
pub(super) const IMPOSSIBLE_KN: f64 = 60.0;

/// The greatest speed that was kept up, in knots rounded up to a tenth, the doubts of the fixes taken off; none if no
/// stretch of the log is long enough. The first two minutes of a log, and those after a jump or a long silence, show none.
///
/// Taken over windows of at least 20 s and four legs, from end to end: a spike, out and back, adds nothing. A window in
/// which one leg makes up more than half of the way, or that no boat makes, is a jump and is not counted.
pub(super) fn shown_kn(fixes: &[LoggedFix], settings: &TrackSettings) -> Option<f64> {
    let points: Vec<Vector> = fixes.iter().map(|fix| surface(fix.position).point).collect();
    let radius_m = |fix: &LoggedFix| uncertainty_of(fix, settings).radius_95().metres();
    let mut fastest: Option<f64> = None;
    let mut start = 0;
    let mut began = 0;
    let mut legs = Longest::default();
    for end in 1..fixes.len() {
        let leg_m = (points[end] - points[end - 1]).norm();
        legs.push(end, leg_m);
        if is_begun_anew(
            (&fixes[end - 1], &fixes[end]),
            leg_m - radius_m(&fixes[end - 1]) - radius_m(&fixes[end]),
        ) {
            began = end;
        }
        if end < KEPT_UP_LEGS {
            continue;
        }
        let is_long = |start: usize| {
            start + KEPT_UP_LEGS <= end
                && seconds_between(&fixes[start], &fixes[end]).is_some_and(|seconds| seconds >= KEPT_UP_S)
        };
        while is_long(start + 1) {
            start += 1;
        }
        if !is_long(start) {
            // a time that is missing or runs back: the window begins anew behind it
            if seconds_between(&fixes[start], &fixes[end]).is_none_or(|seconds| seconds < 0.0) {
                start = end;
            }
            continue;
        }
        let (first, last) = (&fixes[start], &fixes[end]);
        if start < began
            || seconds_between(&fixes[began], first).is_some_and(|seconds| seconds < SETTLED_AFTER_S)
        {
            continue;
        }
        // where times are placed it may have taken longer
        let made = first.made_between().zip(last.made_between());
        let Some(((from, _), (_, to))) = made else { continue };
        let seconds = to.duration_since(from).as_secs_f64();
        let way_m = (points[end] - points[start]).norm() - radius_m(first) - radius_m(last);
        let knots = way_m / seconds / METRES_PER_SECOND_IN_A_KNOT;
        if knots <= fastest.unwrap_or(settings.top_speed_kn) || knots > IMPOSSIBLE_KN {
            continue;
        }
        if legs.since(start) <= way_m / 2.0 {
            fastest = Some(knots);
        }
    }
    fastest.map(|knots| (knots * 10.0).ceil() / 10.0)
}

/// Whether a receiver may have to settle anew behind a leg.
fn is_begun_anew((from, to): (&LoggedFix, &LoggedFix), way_m: f64) -> bool {
    seconds_between(from, to).is_some_and(|seconds| {
        seconds > SILENT_S || way_m / seconds.max(1.0) > IMPOSSIBLE_KN * METRES_PER_SECOND_IN_A_KNOT
    })
}

/// The longest of the last legs, so that each leg is looked at no more than twice however long the window is.
#[derive(Debug, Default)]
struct Longest {
    /// Legs by the number of the fix that ends each, none followed by a longer one; lengths in metres.
    legs: VecDeque<(usize, f64)>,
}

impl Longest {
    fn push(&mut self, end: usize, length_m: f64) {
        while self.legs.back().is_some_and(|(_, shorter_m)| *shorter_m <= length_m) {
            self.legs.pop_back();
        }
        self.legs.push_back((end, length_m));
    }

    /// The longest leg behind a fix, in metres. Fixes must be asked about in their order.
    fn since(&mut self, start: usize) -> f64 {
        while self.legs.front().is_some_and(|(end, _)| *end <= start) {
            self.legs.pop_front();
        }
        self.legs.front().map_or(0.0, |(_, length_m)| *length_m)
    }
}

#[cfg(test)]
mod tests {
    use super::Longest;

    #[test]
    fn the_longest_leg_of_a_window_is_that_of_looking_at_all_of_them() {
        let lengths_m: Vec<f64> = (0..500_u32).map(|leg| f64::from(leg * 7_919 % 263)).collect();
        for width in [1, 4, 37, 400] {
            let mut legs = Longest::default();
            for end in 1..=lengths_m.len() {
                legs.push(end, lengths_m[end - 1]);
                let start = end.saturating_sub(width);
                let all = lengths_m[start..end].iter().copied().fold(0.0, f64::max);
                assert!((legs.since(start) - all).abs() < 1e-12, "{width} {end}");
            }
        }
    }
}
