//! The straight way between two fixes, and where it passes a distance from a line.

use jiff::{SignedDuration, Timestamp};

use super::{Instant, LoggedFix};
use crate::geodesic::{direct, inverse};
use crate::{Boundary, Position};

/// Stretches shorter than this, in metres, whose ends lie on one side of a distance are not searched for a crossing and
/// a crossing back.
const SHORTEST_CLIP_M: f64 = 0.1;
/// Crossings are found to this, in metres.
const PLACE_TOLERANCE_M: f64 = 1e-5;

/// The geodesic from one fix to the next, made at an even speed.
#[derive(Debug, Clone, Copy)]
pub(super) struct Leg {
    pub(super) from: LoggedFix,
    pub(super) to: LoggedFix,
    azimuth_deg: f64,
    pub(super) length_m: f64,
}

impl Leg {
    pub(super) fn between(from: LoggedFix, to: LoggedFix) -> Self {
        let line = inverse(from.position, to.position);
        Self { from, to, azimuth_deg: line.azimuth_start_deg, length_m: line.distance_m }
    }

    /// Seconds that it took; none without times.
    pub(super) fn seconds(&self) -> Option<f64> {
        super::cleaning::seconds_between(&self.from, &self.to)
    }

    pub(super) fn at(&self, share: f64) -> Position {
        if share <= 0.0 {
            self.from.position
        } else if share >= 1.0 {
            self.to.position
        } else {
            direct(self.from.position, self.azimuth_deg, self.length_m * share)
        }
    }

    fn time_at(&self, share: f64) -> Option<Timestamp> {
        let (from, to) = (self.from.time?, self.to.time?);
        // exactly the times of the fixes at the ends, so that one leg goes on where the other stopped
        if share >= 1.0 {
            return Some(to);
        }
        let seconds = to.duration_since(from).as_secs_f64() * share;
        from.checked_add(SignedDuration::try_from_secs_f64(seconds).ok()?).ok()
    }

    /// The moment at a share of the way.
    pub(super) fn instant(&self, share: f64) -> Instant {
        let between = self.from.time.zip(self.to.time);
        Instant { position: self.at(share), time: self.time_at(share), between }
    }

    /// Shares of the way at which the signed distance to a boundary passes a value, in order.
    ///
    /// A signed distance changes by no more than the way made (it is 1-Lipschitz), so a stretch whose two ends are
    /// together farther from the value than the stretch is long does not pass it, and nothing is missed elsewhere.
    pub(super) fn passings(&self, boundary: &Boundary, value_m: f64, ends_m: (f64, f64)) -> Vec<f64> {
        let mut shares = Vec::new();
        if self.length_m <= 0.0 {
            return shares;
        }
        let off = |share: f64| boundary.locate(self.at(share)).signed_distance.metres() - value_m;
        let shortest = SHORTEST_CLIP_M.max(self.length_m / 4096.0) / self.length_m;
        let mut waiting = vec![(0.0, ends_m.0 - value_m, 1.0, ends_m.1 - value_m)];
        while let Some((low, at_low, high, at_high)) = waiting.pop() {
            let changes = (at_low > 0.0) != (at_high > 0.0);
            let stretch_m = (high - low) * self.length_m;
            let clear = at_low.abs() + at_high.abs() > stretch_m * (1.0 + 1e-9) + 1e-3;
            if !changes && (clear || high - low <= shortest) {
                continue;
            }
            if changes && high - low <= shortest {
                shares.push(self.root(off, (low, at_low, high, at_high)));
                continue;
            }
            let middle = f64::midpoint(low, high);
            let at_middle = off(middle);
            // the later half waits below the earlier one, so that shares come in order
            waiting.push((middle, at_middle, high, at_high));
            waiting.push((low, at_low, middle, at_middle));
        }
        shares
    }

    /// The share at which a value that changes its sign is zero: false position with Illinois's halving.
    fn root(&self, off: impl Fn(f64) -> f64, bracket: (f64, f64, f64, f64)) -> f64 {
        let (mut low, mut at_low, mut high, mut at_high) = bracket;
        let tolerance = PLACE_TOLERANCE_M / self.length_m;
        for _ in 0..80 {
            if high - low <= tolerance {
                break;
            }
            let span = at_high - at_low;
            let guess =
                if span == 0.0 { f64::midpoint(low, high) } else { low - at_low * (high - low) / span };
            let at_guess = off(guess);
            if at_guess == 0.0 {
                return guess;
            }
            if (at_guess > 0.0) == (at_low > 0.0) {
                (low, at_low) = (guess, at_guess);
                at_high /= 2.0;
            } else {
                (high, at_high) = (guess, at_guess);
                at_low /= 2.0;
            }
            if at_guess.abs() < PLACE_TOLERANCE_M / 10.0 {
                return guess;
            }
        }
        f64::midpoint(low, high)
    }
}
