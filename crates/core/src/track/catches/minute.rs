//! Rows whose time is in whole minutes, as people write them: the fish was caught within a minute of it, and the boat moved.

use jiff::Timestamp;

use super::finding::seconds;
use crate::geodesic::inverse;
use crate::track::leg::Leg;
use crate::track::logged_fix::uncertainty_of;
use crate::track::stray::Stray;
use crate::track::{LoggedFix, TrackSettings};
use crate::{AccuracyKind, HorizontalUncertainty, Position};

/// A time in whole minutes is good to so many seconds, both ways.
const MINUTE_S: f64 = 60.0;
/// Any other time is good to so many: most clocks count whole ones.
const CLOCK_S: f64 = 1.0;
/// Fixes so many seconds from a row tell where the boat was within its minute.
const HELD_WITHIN_S: f64 = 2.0 * MINUTE_S;

/// Whether a time is in whole minutes.
pub(super) fn is_whole(time: Timestamp) -> bool {
    time.as_second() % 60 == 0 && time.subsec_nanosecond() == 0
}

/// To how many seconds a row's time is good, both ways.
pub(super) fn clock_s(time: Timestamp) -> f64 {
    if is_whole(time) { MINUTE_S } else { CLOCK_S }
}

/// The believed fixes near rows in whole minutes, in the order of time.
#[derive(Debug, Default)]
pub(super) struct MinuteFixes {
    fixes: Vec<LoggedFix>,
    /// The times of suspect fixes near such rows.
    doubted: Vec<Timestamp>,
}

impl MinuteFixes {
    /// Holds a fix if a row lies near; `times` are those of the rows in whole minutes, earliest first.
    pub(super) fn push(&mut self, fix: &LoggedFix, times: &[Timestamp]) {
        if fix.time.is_some_and(|made| is_near_one(made, times)) {
            self.fixes.push(*fix);
        }
    }

    /// Holds the time of a suspect fix, if a row lies near.
    pub(super) fn doubt(&mut self, fix: &LoggedFix, times: &[Timestamp]) {
        self.doubted.extend(fix.time.filter(|made| is_near_one(*made, times)));
    }

    /// Whether a suspect fix was made within the minute of a row, where its time is in whole minutes.
    pub(super) fn is_doubted(&self, time: Option<Timestamp>) -> bool {
        let Some(time) = time.filter(|time| is_whole(*time)) else { return false };
        self.doubted.iter().any(|made| seconds(*made, time).abs() <= MINUTE_S)
    }

    /// The fixes within a row's minute, and one on each side of it, where the row's time is in whole minutes.
    pub(super) fn about(&self, time: Option<Timestamp>) -> &[LoggedFix] {
        let Some(time) = time.filter(|time| is_whole(*time)) else { return &[] };
        let after_s = |fix: &LoggedFix| fix.time.map_or(0.0, |made| seconds(time, made));
        let first = self.fixes.partition_point(|fix| after_s(fix) <= -MINUTE_S).saturating_sub(1);
        let last = self.fixes.partition_point(|fix| after_s(fix) < MINUTE_S);
        let about = &self.fixes[first..self.fixes.len().min(last + 1)];
        // neighbours that belong to another row are no neighbours of this one
        let near = |fix: &&LoggedFix| after_s(fix).abs() <= HELD_WITHIN_S;
        let skipped = about.iter().take_while(|fix| !near(fix)).count();
        let taken = about.iter().skip(skipped).take_while(near).count();
        &about[skipped..skipped + taken]
    }
}

/// Whether one of some times, earliest first, lies near another.
fn is_near_one(made: Timestamp, times: &[Timestamp]) -> bool {
    let next = times.partition_point(|time| *time < made);
    let near = [next.checked_sub(1), Some(next)].into_iter().flatten().filter_map(|at| times.get(at));
    near.map(|time| seconds(made, *time).abs()).any(|apart_s| apart_s <= HELD_WITHIN_S)
}

/// Whether the fixes say of every moment within the row's doubt of time that the boat cannot have been at a place then.
///
/// A fix that is too far from the place rules out all moments from which the top speed does not bring the boat there.
pub(super) fn contradict(
    fixes: impl Iterator<Item = LoggedFix>,
    (given, time): (Position, Timestamp),
    (own_m, settings): (f64, &TrackSettings),
) -> bool {
    let within_s = clock_s(time);
    let ruled_out = |fix: LoggedFix| {
        let (from, to) = fix.made_between()?;
        let doubt_m = own_m + uncertainty_of(&fix, settings).radius_95().metres();
        let left_m = inverse(given, fix.position).distance_m - doubt_m;
        let away_s = left_m / settings.top_speed_m_per_s();
        Some((seconds(time, to) - away_s, seconds(time, from) + away_s))
    };
    let mut spans: Vec<(f64, f64)> = fixes.filter_map(ruled_out).filter(|(from, to)| from < to).collect();
    spans.sort_by(|one, other| one.0.total_cmp(&other.0));
    let mut open_from_s = -within_s;
    for (from_s, to_s) in spans {
        if from_s >= open_from_s {
            return false;
        }
        open_from_s = open_from_s.max(to_s);
        if open_from_s > within_s {
            return true;
        }
    }
    false
}

/// How well a place at a row's time tells where the boat was within a minute of it; none without fixes.
pub(super) fn uncertainty(
    position: Position,
    time: Timestamp,
    (fixes, settings): (&[LoggedFix], &TrackSettings),
) -> Option<HorizontalUncertainty> {
    let to_m = |place: Position| inverse(position, place).distance_m;
    let doubt_m = |fix: &LoggedFix| uncertainty_of(fix, settings).radius_95().metres();
    let mut radius_m = 0.0_f64;
    for pair in fixes.windows(2) {
        let leg = Leg::between(pair[0], pair[1], 0);
        let doubts_m = (doubt_m(&pair[0]), doubt_m(&pair[1]));
        let stray = Stray::of(&leg, (doubts_m.0 + doubts_m.1, None), settings);
        let from_s = seconds(time, pair[0].time?);
        let span_s = seconds(pair[0].time?, pair[1].time?);
        let share = |at_s: f64| if span_s > 0.0 { ((at_s - from_s) / span_s).clamp(0.0, 1.0) } else { 0.5 };
        let (low, high) = (share(-MINUTE_S), share(MINUTE_S));
        let off_m =
            if low < 0.5 && high > 0.5 { stray.most_m() } else { stray.at_m(low).max(stray.at_m(high)) };
        let farthest_m = to_m(leg.at(low)).max(to_m(leg.at(high)));
        radius_m = radius_m.max(farthest_m + off_m + doubts_m.0.max(doubts_m.1));
    }
    for (end, sign) in [(fixes.first()?, 1.0), (fixes.last()?, -1.0)] {
        let unlogged_s = sign * seconds(time, end.time?) + MINUTE_S;
        if unlogged_s > 0.0 {
            let reach_m = settings.top_speed_m_per_s() * unlogged_s;
            radius_m = radius_m.max(to_m(end.position) + doubt_m(end) + reach_m);
        }
    }
    let radius_m = radius_m.min(HorizontalUncertainty::LARGEST_95_M);
    HorizontalUncertainty::given(radius_m, AccuracyKind::P95).ok()
}
