//! The straight way between two fixes, where it passes a distance from a line, and where it comes nearest to it.

use jiff::{SignedDuration, Timestamp};

use super::stay::{Along, End, Stay};
use super::{LoggedFix, LoggedMoment};
use crate::geodesic::{Surface, direct, distance_and_azimuth, surface};
use crate::{Boundary, Position};

/// Stretches shorter than this, in metres, whose ends lie on one side of a distance are not searched for a crossing and
/// a crossing back.
const SHORTEST_CLIP_M: f64 = 0.1;
/// No leg is cut into more stretches than this.
const MOST_STRETCHES: f64 = 65_536.0;
/// Crossings are found to this, in metres.
const PLACE_TOLERANCE_M: f64 = 1e-5;
/// The smallest distance on a leg is found to this, in metres.
pub(super) const LEAST_TOLERANCE_M: f64 = 0.1;

/// The geodesic from one fix to the next, made at an even speed.
#[derive(Debug, Clone, Copy)]
pub(super) struct Leg {
    pub(super) from: LoggedFix,
    pub(super) to: LoggedFix,
    /// How many believed fixes went before it, the first of its own counted.
    pub(super) number: u64,
    azimuth_deg: f64,
    pub(super) length_m: f64,
}

impl Leg {
    pub(super) fn between(from: LoggedFix, to: LoggedFix, number: u64) -> Self {
        let ends = [from, to].map(|fix| surface(fix.position));
        Self::over((from, &ends[0]), (to, &ends[1]), number)
    }

    /// The same from fixes whose places in earth-centred axes are known.
    pub(super) fn over(
        (from, here): (LoggedFix, &Surface),
        (to, there): (LoggedFix, &Surface),
        number: u64,
    ) -> Self {
        let (length_m, azimuth_deg) = distance_and_azimuth((from.position, here), (to.position, there));
        Self { from, to, number, azimuth_deg, length_m }
    }

    /// Seconds that it took; none without times.
    pub(super) fn seconds(&self) -> Option<f64> {
        super::logged_fix::seconds_between(&self.from, &self.to)
    }

    /// The most seconds that it can have taken, where times are placed; none without times.
    pub(super) fn longest_s(&self) -> Option<f64> {
        let ((from, _), (_, to)) = self.from.made_between().zip(self.to.made_between())?;
        Some(to.duration_since(from).as_secs_f64())
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
    pub(super) fn instant(&self, share: f64) -> LoggedMoment {
        let between = self.from.time.zip(self.to.time);
        LoggedMoment { position: self.at(share), time: self.time_at(share), between }
    }

    /// The stay between two shares of the way.
    pub(super) fn stay(&self, from: f64, to: f64) -> Stay {
        let is_placed = self.from.time_between.is_some() || self.to.time_between.is_some();
        let made = self.from.made_between().zip(self.to.made_between()).filter(|_| is_placed);
        let between = made.map(|((from, _), (_, to))| (from, to));
        let end = |share: f64| End {
            along: Along::after_fix(self.number, share),
            time: self.time_at(share),
            between: match share {
                share if share <= 0.0 => self.from.time_between,
                share if share >= 1.0 => self.to.time_between,
                _ => between,
            },
        };
        Stay { from: end(from), to: end(to) }
    }

    /// Shares of the way at which a value passes zero, in order.
    ///
    /// The value must change by no more than the way made, as a signed distance does (it is 1-Lipschitz). Then a stretch
    /// whose two ends are together farther from zero than the stretch is long does not pass it, and nothing is missed
    /// elsewhere.
    pub(super) fn passings(&self, value_m: impl Fn(Position) -> f64, ends_m: (f64, f64)) -> Vec<f64> {
        let mut shares = Vec::new();
        if self.length_m <= 0.0 {
            return shares;
        }
        let off = |share: f64| value_m(self.at(share));
        let shortest = self.shortest(SHORTEST_CLIP_M);
        let mut waiting = vec![(0.0, ends_m.0, 1.0, ends_m.1)];
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

    fn shortest(&self, metres: f64) -> f64 {
        metres.max(self.length_m / MOST_STRETCHES) / self.length_m
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

    /// The share between the ends at which the signed distance to a line is smallest, and that distance, if it is below
    /// `floor_m` by more than [`LEAST_TOLERANCE_M`]; never more than that above the smallest.
    pub(super) fn least(&self, boundary: &Boundary, ends: (Off, Off), floor_m: f64) -> Option<(f64, f64)> {
        if self.length_m <= 0.0 {
            return None;
        }
        let shortest = self.shortest(LEAST_TOLERANCE_M);
        let mut best_m = floor_m.min(ends.0.signed_m).min(ends.1.signed_m);
        let mut best = None;
        let mut waiting = vec![(0.0, ends.0, 1.0, ends.1)];
        while let Some((low, at_low, high, at_high)) = waiting.pop() {
            let stretch_m = (high - low) * self.length_m;
            let bound_m = least_between(at_low.least_m, at_high.least_m, stretch_m);
            if bound_m >= best_m - LEAST_TOLERANCE_M || high - low <= shortest {
                continue;
            }
            let middle = f64::midpoint(low, high);
            let at_middle = Off::at(boundary, self.at(middle));
            if at_middle.signed_m < best_m {
                best_m = at_middle.signed_m;
                best = Some((middle, best_m));
            }
            waiting.push((middle, at_middle, high, at_high));
            waiting.push((low, at_low, middle, at_middle));
        }
        best
    }
}

/// How far a place is off a line, in metres, negative inside: as it is told, and under the nearest reading.
#[derive(Debug, Clone, Copy)]
pub(super) struct Off {
    pub(super) signed_m: f64,
    pub(super) least_m: f64,
}

impl Off {
    fn at(boundary: &Boundary, place: Position) -> Self {
        let far = boundary.how_far(place);
        Self { signed_m: far.signed_distance.metres(), least_m: far.least.metres() }
    }
}

/// The least that a distance can be between two places so far apart, given what it is at both, in metres.
///
/// Each end has a circle about it that holds no point of the line. Where the two circles cover the way, the nearest that
/// a point outside of both can be to it is where they cut each other; on a surface as round as the Earth it is farther
/// than on a plane. Where they do not cover it, all that is known is that a distance changes no faster than the place.
pub(super) fn least_between(one_m: f64, other_m: f64, apart_m: f64) -> f64 {
    let slowest_m = (one_m + other_m - apart_m) / 2.0;
    if one_m <= 0.0 || other_m <= 0.0 || slowest_m <= 0.0 || apart_m <= 0.0 {
        return slowest_m;
    }
    let along_m = ((one_m - other_m) * (one_m + other_m) + apart_m * apart_m) / (2.0 * apart_m);
    if along_m <= 0.0 {
        one_m
    } else if along_m >= apart_m {
        other_m
    } else {
        slowest_m.max((one_m * one_m - along_m * along_m).max(0.0).sqrt())
    }
}
