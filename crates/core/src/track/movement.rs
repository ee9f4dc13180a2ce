//! How a boat moved, without a guess at what for.

use jiff::SignedDuration;

use super::leg::Leg;
use super::shore::ShoreTimes;
use super::{LoggedMoment, METRES_PER_SECOND_IN_A_KNOT, Motion, Speeds, Stop};
use crate::geodesic::distance_m;

/// Speeds are taken over at least this many seconds, so that the wander of a receiver does not count as way.
const WINDOW_S: f64 = 10.0;
/// Slower than this, in knots, a boat is said to be under 1 knot.
const SLOW_KN: f64 = 1.0;
/// So long below that, in seconds, looks like drifting with a line down, and like resting (common practice, no source).
const DRIFT_OR_REST_S: f64 = 300.0;
/// Parts of one kind of movement shorter than this, in seconds, are not told apart.
const WORTH_SAYING_S: f64 = 60.0;

/// Speed over one window.
#[derive(Debug, Clone, Copy)]
struct Window {
    from: LoggedMoment,
    seconds: f64,
    metres: f64,
}

impl Window {
    fn knots(&self) -> f64 {
        self.metres / self.seconds / METRES_PER_SECOND_IN_A_KNOT
    }

    /// Whether most of it was ashore.
    fn is_within(&self, shore: &ShoreTimes) -> bool {
        let ends = self.from.time.and_then(|from| {
            let long = SignedDuration::try_from_secs_f64(self.seconds).ok()?;
            Some((from, from.checked_add(long).ok()?))
        });
        ends.is_some_and(|span| shore.hold_most_of(span))
    }
}

/// The movement so far; windows of like speed are joined, so that it does not grow with the log.
#[derive(Debug, Default)]
pub(super) struct Movement {
    began: Option<LoggedMoment>,
    last: Option<LoggedMoment>,
    windows: Vec<Window>,
    min_kn: f64,
    max_kn: f64,
    any: bool,
    /// Whether the last place was at the shore, and windows so far were.
    at_shore: bool,
    is_told_apart: bool,
}

/// A finished movement.
#[derive(Debug)]
pub(super) struct Moved {
    windows: Vec<Window>,
    min_kn: f64,
    max_kn: f64,
}

impl Movement {
    /// Counts the part of a leg between two shares of its way.
    pub(super) fn push(&mut self, leg: &Leg, (from_share, to_share): (f64, f64)) {
        if leg.seconds().is_none() {
            return;
        }
        let from = leg.instant(from_share);
        // what follows a time away starts anew
        if self.last.is_none_or(|last| last.time != from.time) {
            self.began = Some(from);
        }
        let to = leg.instant(to_share);
        self.last = Some(to);
        let Some(began) = self.began else { return };
        let Some(seconds) = seconds(&began, &to) else { return };
        if seconds >= WINDOW_S {
            let metres = distance_m(began.position, to.position);
            self.add(Window { from: began, seconds, metres });
            self.began = Some(to);
        }
    }

    /// Joins nothing at the shore with what is not.
    pub(super) fn tell_apart(&mut self, at_shore: bool) {
        if self.at_shore != at_shore {
            self.at_shore = at_shore;
            self.is_told_apart = true;
        }
    }

    fn add(&mut self, window: Window) {
        let knots = window.knots();
        self.min_kn = if self.any { self.min_kn.min(knots) } else { knots };
        self.max_kn = if self.any { self.max_kn.max(knots) } else { knots };
        self.any = true;
        let is_told_apart = std::mem::take(&mut self.is_told_apart);
        if let Some(last) = self.windows.last_mut().filter(|_| !is_told_apart) {
            let alike = (last.knots() < SLOW_KN) == (knots < SLOW_KN)
                && (last.knots() - knots).abs() < 0.3 + 0.15 * knots
                && (last.knots() < 0.5) == (knots < 0.5);
            if alike {
                last.seconds += window.seconds;
                last.metres += window.metres;
                return;
            }
        }
        self.windows.push(window);
    }

    /// Ends it; what was done ashore is left out.
    pub(super) fn finish(mut self, shore: &ShoreTimes) -> Moved {
        if let (Some(began), Some(last)) = (self.began, self.last) {
            let rest_s = seconds(&began, &last).unwrap_or(0.0);
            if rest_s > 0.0 && (!self.any || rest_s >= WINDOW_S / 2.0) {
                let metres = distance_m(began.position, last.position);
                self.add(Window { from: began, seconds: rest_s, metres });
            }
        }
        let count = self.windows.len();
        self.windows.retain(|window| !window.is_within(shore));
        if self.windows.len() < count {
            let knots = || self.windows.iter().map(Window::knots);
            (self.min_kn, self.max_kn) = (knots().fold(f64::INFINITY, f64::min), knots().fold(0.0, f64::max));
        }
        Moved { windows: self.windows, min_kn: self.min_kn, max_kn: self.max_kn }
    }
}

fn seconds(from: &LoggedMoment, to: &LoggedMoment) -> Option<f64> {
    Some(to.time?.duration_since(from.time?).as_secs_f64())
}

impl Moved {
    pub(super) fn speeds(&self) -> Option<Speeds> {
        let seconds: f64 = self.windows.iter().map(|window| window.seconds).sum();
        let metres: f64 = self.windows.iter().map(|window| window.metres).sum();
        (seconds > 0.0).then(|| Speeds {
            min_kn: self.min_kn,
            mean_kn: metres / seconds / METRES_PER_SECOND_IN_A_KNOT,
            max_kn: self.max_kn,
        })
    }

    /// Stays below a speed, in order.
    pub(super) fn stops(&self, below_kn: f64) -> Vec<Stop> {
        let slow = self.windows.iter().filter(|window| window.knots() < below_kn);
        slow.map(|window| Stop { from: window.from, seconds: window.seconds }).collect()
    }

    /// One motion for each part worth saying.
    pub(super) fn motions(&self) -> Vec<Motion> {
        let mut motions = Vec::new();
        let mut slow_s: f64 = 0.0;
        for window in self.joined() {
            let duration_s = window.seconds;
            if window.knots() < SLOW_KN {
                slow_s = slow_s.max(duration_s);
                motions.push(Motion::Slow { below_kn: SLOW_KN, duration_s });
            } else {
                motions.push(Motion::Steady { speed_kn: window.knots(), duration_s });
            }
        }
        if slow_s >= DRIFT_OR_REST_S {
            motions.push(Motion::LooksLikeDriftOrRest { below_kn: SLOW_KN, least_s: DRIFT_OR_REST_S });
        }
        motions
    }

    /// Windows joined by slow and not slow; what is too short to say goes with what is before it.
    fn joined(&self) -> Vec<Window> {
        let mut joined: Vec<Window> = Vec::new();
        for window in &self.windows {
            match joined.last_mut() {
                Some(last)
                    if (last.knots() < SLOW_KN) == (window.knots() < SLOW_KN)
                        || window.seconds < WORTH_SAYING_S =>
                {
                    last.seconds += window.seconds;
                    last.metres += window.metres;
                }
                _ => joined.push(*window),
            }
        }
        joined
    }
}
