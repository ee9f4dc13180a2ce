//! How fast a log shows a boat to be, spikes left out.

use super::cleaning::{seconds_between, uncertainty_of};
use super::{LoggedFix, METRES_PER_SECOND_IN_A_KNOT, TrackSettings};
use crate::geodesic::{Vector, surface};

/// A speed counts if it was kept up over so many seconds and legs (common practice, no source).
const KEPT_UP_S: f64 = 20.0;
const KEPT_UP_LEGS: usize = 4;
/// Faster than this, in knots, no small craft is believed to be (common practice, no source).
pub(super) const IMPOSSIBLE_KN: f64 = 60.0;

/// The greatest speed that was kept up, in knots rounded up to a tenth, the doubts of the fixes taken off; none if no
/// stretch of the log is long enough.
///
/// Taken over windows of at least 20 s and four legs, from end to end: a spike, out and back, adds nothing. A window in
/// which one leg makes up more than half of the way, or that no boat makes, is a jump and is not counted.
pub(super) fn shown_kn(fixes: &[LoggedFix], settings: &TrackSettings) -> Option<f64> {
    let points: Vec<Vector> = fixes.iter().map(|fix| surface(fix.position).point).collect();
    let radius_m = |fix: &LoggedFix| uncertainty_of(fix, settings).radius_95().metres();
    let mut fastest: Option<f64> = None;
    let mut start = 0;
    for end in KEPT_UP_LEGS..fixes.len() {
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
        let Some(seconds) = seconds_between(first, last) else { continue };
        let way_m = (points[end] - points[start]).norm() - radius_m(first) - radius_m(last);
        let knots = way_m / seconds / METRES_PER_SECOND_IN_A_KNOT;
        if knots <= fastest.unwrap_or(settings.top_speed_kn) || knots > IMPOSSIBLE_KN {
            continue;
        }
        let longest_m =
            points[start..=end].windows(2).map(|pair| (pair[1] - pair[0]).norm()).fold(0.0, f64::max);
        if longest_m <= way_m / 2.0 {
            fastest = Some(knots);
        }
    }
    fastest.map(|knots| (knots * 10.0).ceil() / 10.0)
}
