//! What only a log as a whole shows: times for fixes that have none of their own, or one that several share, and how fast the boat
//! was, spikes left out.

use std::collections::VecDeque;

use jiff::{SignedDuration, Timestamp};

use super::logged_fix::{seconds_between, uncertainty_of};
use super::{LoggedFix, METRES_PER_SECOND_IN_A_KNOT, TrackSettings};
use crate::geodesic::{Vector, distance_m, surface};

/// Fewer fixes than this without a time at an end of a boat's log are taken to go on in its step (common practice, no
/// source).
const ENDS_UP_TO: usize = 10;

/// What was done about times.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Placed {
    /// Fixes that were placed.
    pub(super) placed: u64,
    /// Fixes whose time was taken away, because no boat makes so long a way in it.
    pub(super) taken: u64,
}

/// Gives times to the fixes of a boat that share one or have none, where their neighbours have some; each is marked with
/// the moments between which it was made.
///
/// Fixes in different places with one time are spread over the step of the log's clock (a second, a minute, an hour), for
/// it told them all the same. Fixes without a time are placed by even speed between their neighbours, if these lie no
/// farther apart than a gap; else nothing tells when they were made but that it was in between. A few before the first time
/// or after the last one go on in the step of the log, and were made within a gap of it or so many steps.
pub(super) fn place_times(boat: &mut [LoggedFix], settings: &TrackSettings) -> Placed {
    let mut placed = Placed::default();
    spread_shared(boat, &mut placed);
    place_missing(boat, settings, &mut placed);
    if let Some(step_s) = middle_step_s(boat).filter(|step_s| *step_s <= settings.gap_after_s) {
        boat.reverse();
        place_end(boat, (-step_s, settings.gap_after_s), &mut placed);
        boat.reverse();
        place_end(boat, (step_s, settings.gap_after_s), &mut placed);
    }
    placed
}

/// The steps in which the clock of a log may count, in seconds, the finer first: whole seconds or minutes, and the least
/// that lies between two times.
fn steps_s(stretch: &[LoggedFix]) -> [f64; 2] {
    let times: Vec<Timestamp> = stretch.iter().filter_map(|fix| fix.time).collect();
    let is_whole = |unit_s: i64| {
        times.iter().all(|time| time.as_second() % unit_s == 0 && time.subsec_nanosecond() == 0)
    };
    let between = times.windows(2).map(|pair| pair[1].duration_since(pair[0]).as_secs_f64());
    let least_s = between.filter(|seconds| *seconds > 0.0).reduce(f64::min).unwrap_or(1.0);
    let fine_s = if is_whole(3600) {
        3600.0
    } else if is_whole(60) {
        60.0
    } else if is_whole(1) {
        1.0
    } else {
        // a clock with fractions tells nothing twice: what shares a time there lies somewhere before the next
        least_s
    };
    [fine_s, least_s.max(fine_s)]
}

fn spread_shared(stretch: &mut [LoggedFix], placed: &mut Placed) {
    let is_shared = |pair: &[LoggedFix]| pair[0].time.is_some() && pair[0].time == pair[1].time;
    if !stretch.windows(2).any(is_shared) {
        return;
    }
    let steps_s = steps_s(stretch);
    let mut from = 0;
    while from < stretch.len() {
        let time = stretch[from].time;
        let length = stretch[from..].iter().take_while(|fix| fix.time == time).count();
        let next = stretch[from + length..].iter().find_map(|fix| fix.time);
        if let Some(time) = time {
            let to_next_s = next.map_or(f64::INFINITY, |next| next.duration_since(time).as_secs_f64());
            let spans_s = steps_s.map(|step_s| step_s.min(to_next_s));
            spread(&mut stretch[from..from + length], time, (spans_s, to_next_s), placed);
        }
        from += length;
    }
}

/// Spreads one run evenly; a fix that repeats place and time of the one before stays with it.
///
/// Taken is the first span in which a boat can have made the way. Where there is none the clock stood still: the fixes
/// then have no time but that of the first.
fn spread(
    run: &mut [LoggedFix],
    time: Timestamp,
    (spans_s, to_next_s): ([f64; 2], f64),
    placed: &mut Placed,
) {
    let places = 1 + run.windows(2).filter(|pair| pair[0].position != pair[1].position).count();
    if places < 2 {
        return;
    }
    let way_m: f64 = run.windows(2).map(|pair| distance_m(pair[0].position, pair[1].position)).sum();
    let can_be = |span_s: &f64| way_m <= IMPOSSIBLE_KN * METRES_PER_SECOND_IN_A_KNOT * span_s;
    let Some(span_s) = spans_s.into_iter().filter(|span_s| *span_s > 0.0).find(can_be) else {
        for fix in &mut run[1..] {
            fix.time = None;
            placed.taken += 1;
        }
        return;
    };
    // where it was told by a clock that counts finer than it seems to, no more is known than that the next comes after it
    let until = later(time, span_s.min(to_next_s));
    let between = until.map(|until| (time, until));
    run[0].time_between = between;
    let mut number: u32 = 0;
    let mut before = run[0].position;
    for fix in &mut run[1..] {
        number += u32::from(fix.position != before);
        before = fix.position;
        #[expect(clippy::cast_precision_loss, reason = "a count of fixes in memory")]
        let share = f64::from(number) / places as f64;
        fix.time = later(time, span_s * share);
        fix.time_between = between;
        placed.placed += u64::from(number > 0);
    }
}

/// The middle one of the steps between two times.
fn middle_step_s(boat: &[LoggedFix]) -> Option<f64> {
    let timed = boat.windows(2).filter_map(|pair| seconds_between(&pair[0], &pair[1]));
    let mut steps_s: Vec<f64> = timed.filter(|seconds| *seconds > 0.0).collect();
    let middle = steps_s.len() / 2;
    (!steps_s.is_empty()).then(|| *steps_s.select_nth_unstable_by(middle, f64::total_cmp).1)
}

/// Places the fixes behind the last time, if they are few; backwards where the step is below zero.
fn place_end(boat: &mut [LoggedFix], (step_s, within_s): (f64, f64), placed: &mut Placed) {
    let Some(last) = boat.iter().rposition(|fix| fix.made_between().is_some()) else { return };
    let (known, rest) = boat.split_at_mut(last + 1);
    let (Some(known), few) = (known.last(), rest.len()) else { return };
    let stretch = known.place.stretch;
    let Some(time) = known.time.filter(|_| few > 0 && few < ENDS_UP_TO) else { return };
    if rest.iter().any(|fix| fix.place.stretch != stretch) {
        return;
    }
    // those in its step may be farther off than a gap
    #[expect(clippy::cast_precision_loss, reason = "fewer than ENDS_UP_TO")]
    let far = later(time, within_s.max(step_s.abs() * few as f64).copysign(step_s));
    let between = far.map(|far| (time.min(far), time.max(far)));
    let mut number: u32 = 0;
    for fix in rest {
        number += 1;
        fix.time = later(time, step_s * f64::from(number));
        fix.time_between = between;
        placed.placed += 1;
    }
}

fn place_missing(stretch: &mut [LoggedFix], settings: &TrackSettings, placed: &mut Placed) {
    let mut known: Option<usize> = None;
    for at in 0..stretch.len() {
        if stretch[at].time.is_none() {
            continue;
        }
        if let Some(before) = known.filter(|before| at - before > 1) {
            placed.placed += place_between(&mut stretch[before..=at], settings);
        }
        known = Some(at);
    }
}

/// Places the inner fixes of a run by the way made, and one metre more for each so that none share a time.
fn place_between(run: &mut [LoggedFix], settings: &TrackSettings) -> u64 {
    let [first, .., last] = run else { return 0 };
    let Some((from, to)) = first.time.zip(last.time) else { return 0 };
    let made = first.made_between().zip(last.made_between());
    let between = made.map_or((from, to), |((from, _), (_, to))| (from, to.max(from)));
    let span_s = to.duration_since(from).as_secs_f64();
    let inner = run.len() - 2;
    for fix in &mut run[1..=inner] {
        fix.time_between = Some(between);
    }
    if span_s <= 0.0 || span_s > settings.gap_after_s {
        return 0;
    }
    let ways_m: Vec<f64> =
        run.windows(2).map(|pair| 1.0 + distance_m(pair[0].position, pair[1].position)).collect();
    let whole_m: f64 = ways_m.iter().sum();
    let mut way_m = 0.0;
    for (fix, step_m) in run[1..=inner].iter_mut().zip(ways_m) {
        way_m += step_m;
        fix.time = later(from, span_s * way_m / whole_m);
    }
    inner as u64
}

fn later(time: Timestamp, seconds: f64) -> Option<Timestamp> {
    time.checked_add(SignedDuration::try_from_secs_f64(seconds).ok()?).ok()
}

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
mod shown_speed_tests {
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
