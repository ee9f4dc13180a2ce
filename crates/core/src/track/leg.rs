//! A leg: the straight way between two fixes, where it passes a distance from a line, where it comes nearest to it, and how far
//! off it the boat can have been.

use jiff::{SignedDuration, Timestamp};

use super::stay::{Along, End, Stay};
use super::{LoggedFix, LoggedMoment, OffTheWay, TrackSettings};
use crate::boundary::Bounds;
use crate::geodesic::{SHORT_M, Surface, Vector, direct, distance_and_azimuth, length_over_chord, surface};
use crate::{Boundary, Metres, Position};

/// Parts shorter than this, in metres, whose ends lie on one side of a distance are not searched for a crossing and
/// a crossing back.
const SHORTEST_CLIP_M: f64 = 0.1;
/// No leg is cut into more parts than this.
const MOST_PARTS: f64 = 65_536.0;
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
    /// The uncertainties of both fixes, 95 %, in metres; 0 where nobody asks for them.
    pub(super) radii_m: [f64; 2],
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
        Self { from, to, number, azimuth_deg, length_m, radii_m: [0.0; 2] }
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
    /// The value must change by no more than the way made, as a signed distance does (it is 1-Lipschitz). Then a part
    /// whose two ends are together farther from zero than the part is long does not pass it, and nothing is missed
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
            let part_m = (high - low) * self.length_m;
            let clear = at_low.abs() + at_high.abs() > part_m * (1.0 + 1e-9) + 1e-3;
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
        metres.max(self.length_m / MOST_PARTS) / self.length_m
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
            let part_m = (high - low) * self.length_m;
            let bound_m = least_between(at_low.least_m, at_high.least_m, part_m);
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

/// How far a place is off a line, in metres, negative inside: as it is given, and under the nearest reading.
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
    /// Whether the boat lay still and its leg stands for many, each as short as given here: nothing rises and falls then.
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
    pub(super) fn off_the_way(&self) -> OffTheWay {
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

/// A foot lies no farther off the surface than this, in metres, rounding counted.
const FOOT_M: f64 = 1e-5;

/// More than two distances to one line can be out by against each other, in metres.
pub(super) const SPARE_M: f64 = 0.02;

/// A fix against a line, in metres; negative inside.
#[derive(Debug, Clone, Copy)]
pub(super) struct Measured {
    pub(super) signed_m: f64,
    /// The bounds of it; see [`Bounds`].
    pub(super) least_m: f64,
    pub(super) greatest_m: f64,
    /// The largest that it is drawn.
    pub(super) drawn_m: f64,
    /// The greatest that it can be for a boat afloat, all that edges may be off here counted.
    pub(super) known_m: f64,
    /// The doubt of the fix and of the line, 95 %.
    pub(super) random_m: f64,
    /// The whole doubt, that of the readings of its edges included.
    pub(super) doubt_m: f64,
    /// The fix and the point of the line nearest to it, where the line runs one way only.
    pub(super) foot: Option<(Vector, Vector)>,
}

impl Measured {
    /// No place on the way to or from another is deeper in the zone than this, in metres: none is farther from the foot than one
    /// of the two ends, since distances to one point are convex along a way this short.
    pub(super) fn deepest_towards(&self, other: &Self) -> f64 {
        let Some(((here, foot), (there, _))) = self.foot.zip(other.foot) else { return f64::INFINITY };
        if (here - foot).norm().max((there - foot).norm()) > SHORT_M {
            return f64::INFINITY;
        }
        length_over_chord(here, foot).max(length_over_chord(there, foot)) + FOOT_M
    }

    pub(super) fn off(self) -> Off {
        Off { signed_m: self.signed_m, least_m: self.least_m }
    }
}

/// A leg beside a line: its two ends, and the doubt that counts all along it, in metres.
#[derive(Debug, Clone, Copy)]
pub(super) struct Beside<'s> {
    pub(super) leg: &'s Leg,
    pub(super) boundary: &'s Boundary,
    pub(super) bounds: Bounds,
    pub(super) ends: (Measured, Measured),
    pub(super) doubt_m: f64,
    pub(super) stray: Stray,
    pub(super) merge_within_s: f64,
    pub(super) is_plan: bool,
}

impl Beside<'_> {
    /// Below zero the boat may be inside; changes by no more than the way made.
    pub(super) fn outer_m(&self, least_m: f64) -> f64 {
        least_m - self.doubt_m
    }

    /// Below zero the boat is surely inside; changes by no more than the way made.
    pub(super) fn inner_m(&self, greatest_m: f64) -> f64 {
        greatest_m + self.doubt_m
    }

    /// Whether the boat can have come within the doubt of the line at all.
    pub(super) fn may_touch(&self) -> bool {
        let (before, after) = self.ends;
        let nearest_m = least_between(before.least_m, after.least_m, self.leg.length_m);
        nearest_m <= self.doubt_m + self.stray.most_m() + SPARE_M
    }

    /// The shares between which a boat that is surely inside on the straight way can have left it for the outside.
    pub(super) fn loose(&self) -> Vec<(f64, f64)> {
        let depth = |place| -self.bounds.greatest_along_m(self.boundary, place);
        let ends_m = (-self.ends.0.greatest_m, -self.ends.1.greatest_m);
        self.stray.within(self.leg, depth, (ends_m, self.doubt_m))
    }
}
