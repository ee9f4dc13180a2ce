//! Whether a boat can have been in a zone while nothing was logged.

use std::cmp::Reverse;
use std::collections::BinaryHeap;
use std::sync::OnceLock;

use jiff::{SignedDuration, Timestamp};

use super::gap_depth::deepest;
use super::stay::{Along, End, Stay};
use super::{Gap, OpenEnd, TrackSettings};
use crate::geodesic::{Vector, direct, inverse, surface};
use crate::{Boundary, Position};

/// What a gap allowed at most.
#[derive(Debug, Clone, Copy)]
pub(super) struct Reached {
    /// The place of the zone that can be had soonest, in time to come back from it, and when.
    pub(super) first: (Position, Option<Timestamp>),
    /// The place of it that can be left latest, likewise.
    pub(super) last: (Position, Option<Timestamp>),
    /// The longest time inside, in seconds.
    pub(super) longest_s: f64,
    /// The time inside with the doubts of fixes and line counted as way that can be had for nothing.
    pub(super) stay: Stay,
    /// The deepest place that could be reached, as a signed distance in metres; the depth is never understated.
    pub(super) deepest_m: f64,
}

/// A gap against one zone.
#[derive(Debug, Clone, Copy)]
pub(super) struct GapLook<'g> {
    pub(super) gap: &'g Gap,
    pub(super) settings: &'g TrackSettings,
    /// How many believed fixes went before it.
    pub(super) number: u64,
    /// Whether the boat was surely or perhaps inside at the fix before and the fix after.
    pub(super) is_in: (bool, bool),
    /// The doubts of the fix before and of the fix after, each with that of the line, in metres.
    pub(super) spare_m: (f64, f64),
}

/// A point of a line, and the metres to it.
type Soonest = (Position, f64);

/// The line of a zone as short straight pieces, under every reading of its edges.
#[derive(Debug)]
pub(super) struct Outline {
    chords: Vec<Chord>,
    runs: Vec<Ball>,
}

/// A piece of a line, with the middle of its chord through the Earth.
#[derive(Debug)]
struct Chord {
    ends: (Position, Position),
    about: Ball,
}

/// What lies within so many metres of a point.
#[derive(Debug, Clone, Copy)]
struct Ball {
    middle: Vector,
    radius_m: f64,
}

impl Ball {
    /// No place in it is nearer than this, in metres.
    fn at_least_m(&self, point: Vector) -> f64 {
        ((self.middle - point).norm() - self.radius_m).max(0.0)
    }
}

/// What is still to be looked at, the nearest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Waiting {
    at_least_mm: u64,
    is_chord: bool,
    number: usize,
}

impl Outline {
    /// Pieces that follow each other and are looked at together.
    const RUN: usize = 32;

    pub(super) fn of(boundary: &Boundary) -> Self {
        let mut chords = Vec::new();
        for ring in boundary.densified_in_every_reading() {
            let placed: Vec<_> = ring.into_iter().map(|place| (place, surface(place).point)).collect();
            for (at, (start, start_point)) in placed.iter().enumerate() {
                let (end, end_point) = placed[(at + 1) % placed.len()];
                // the way over a piece is longer than its chord by less than this factor, up to a kilometre or two
                let length_m = (end_point - *start_point).norm() * 1.000_001;
                let about = Ball { middle: *start_point, radius_m: length_m };
                chords.push(Chord { ends: (*start, end), about });
            }
        }
        let runs = chords.chunks(Self::RUN).map(ball_about).collect();
        Self { chords, runs }
    }

    /// The point nearest to one place from which the other can still be had in the way there is, and its distance.
    ///
    /// A chord through the Earth is never longer than the way over it, so pieces whose chords show that they are out of
    /// reach, or no nearer than what was found, need no more than that.
    fn soonest(&self, near: Position, far: Position, way_m: f64) -> Option<Soonest> {
        let (near_point, far_point) = (surface(near).point, surface(far).point);
        let waiting = |number: usize, about: &Ball, is_chord: bool| {
            let (near_m, far_m) = (about.at_least_m(near_point), about.at_least_m(far_point));
            (near_m + far_m <= way_m)
                .then(|| Reverse(Waiting { at_least_mm: millimetres(near_m), is_chord, number }))
        };
        let runs = self.runs.iter().enumerate();
        let mut queue: BinaryHeap<_> = runs.filter_map(|(number, run)| waiting(number, run, false)).collect();
        let mut best: Option<(Soonest, usize)> = None;
        while let Some(Reverse(next)) = queue.pop() {
            if best.is_some_and(|((_, best_m), _)| next.at_least_mm > millimetres(best_m)) {
                break;
            }
            if !next.is_chord {
                let first = next.number * Self::RUN;
                let chords = self.chords.iter().enumerate().skip(first).take(Self::RUN);
                queue.extend(chords.filter_map(|(number, chord)| waiting(number, &chord.about, true)));
                continue;
            }
            let (start, end) = self.chords[next.number].ends;
            let Some(found) = Piece::between(start, end).soonest(near, far, way_m) else { continue };
            // of points equally near the first on the line
            let key = |(soonest, number): (Soonest, usize)| (soonest.1, number);
            if best.is_none_or(|best| key((found, next.number)) < key(best)) {
                best = Some((found, next.number));
            }
        }
        best.map(|(soonest, _)| soonest)
    }
}

/// A ball about the balls of pieces that follow each other.
fn ball_about(chords: &[Chord]) -> Ball {
    let middle = chords[chords.len() / 2].about.middle;
    let reach_m = |chord: &Chord| (chord.about.middle - middle).norm() + chord.about.radius_m;
    Ball { middle, radius_m: chords.iter().map(reach_m).fold(0.0, f64::max) }
}

/// Whole millimetres, rounded down.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a distance, and a cast saturates"
)]
fn millimetres(metres: f64) -> u64 {
    (metres * 1e3).floor() as u64
}

impl GapLook<'_> {
    /// Finds what the gap allowed; none if the zone was out of reach.
    ///
    /// The doubts of both fixes and of the line count as way that can be had for nothing. A boat that was faster than the
    /// top speed from fix to fix went straight at least. Where no boat makes that way in that time, it may also have been
    /// wherever the top speed allows from either fix, and come to the other in some other way.
    ///
    /// The zone was within reach if some point of its line can be reached and left again in time: the way to it and on to
    /// the next fix is not longer than the top speed allows.
    pub(super) fn reach(&self, boundary: &Boundary, outline: &OnceLock<Outline>) -> Option<Reached> {
        let (from, to) = (self.gap.before.position, self.gap.after.position);
        let least_m = |place: Position| boundary.how_far(place).least.metres();
        let spare_m = self.spare_m.0 + self.spare_m.1;
        let (half_major_m, half_minor_m) = self.half_axes_m();
        let way_m = 2.0 * half_major_m + spare_m;
        let free_m = self.free_m();
        let is_outside = !self.is_in.0 && !self.is_in.1;
        if is_outside {
            let (from_m, to_m) = (least_m(from).max(0.0), least_m(to).max(0.0));
            // the way to the line and back from it is at least these distances
            if from_m + to_m > way_m && from_m.min(to_m) > free_m + spare_m {
                return None;
            }
        }
        let outline = outline.get_or_init(|| Outline::of(boundary));
        let soonest = |near: Position, far: Position, free_spare_m: f64| {
            let joined = outline.soonest(near, far, way_m);
            let roamed = (free_m > 0.0).then(|| outline.soonest(near, near, 2.0 * (free_m + free_spare_m)));
            [joined, roamed.flatten()].into_iter().flatten().min_by(|a, b| a.1.total_cmp(&b.1))
        };
        let first = if self.is_in.0 { Some((from, 0.0)) } else { soonest(from, to, self.spare_m.0) };
        let last = if self.is_in.1 { Some((to, 0.0)) } else { soonest(to, from, self.spare_m.1) };
        // a boat of which only one end is known does not have to come back to it
        let (first, last) = match self.gap.open {
            None => (first, last),
            Some(OpenEnd::BeforeTheFirst) => (last.map(|last| (last.0, 0.0)), last),
            Some(OpenEnd::AfterTheLast | OpenEnd::Repeats) => (first, first.map(|first| (first.0, 0.0))),
        };
        // where only one of the two fixes can have been left for the line, the boat can have stayed there until the other
        let (first, last) = match (first, last) {
            (None, None) => return None,
            (Some(first), None) => (first, (first.0, 0.0)),
            (None, Some(last)) => ((last.0, 0.0), last),
            (Some(first), Some(last)) => (first, last),
        };
        let off = |place: Position| boundary.how_far(place).signed_distance.metres();
        // the way reaches the line itself, whatever the search has missed
        let deepest_m = deepest(self.gap, (half_major_m, half_minor_m), off).min(0.0);
        Some(self.reached(first, last, deepest_m))
    }

    fn reached(&self, first: Soonest, last: Soonest, deepest_m: f64) -> Reached {
        let seconds = self.gap.seconds.filter(|seconds| *seconds > 0.0);
        let share_of = |metres: f64| match seconds {
            Some(seconds) => metres / self.top_m_per_s(seconds) / seconds,
            None => 0.0,
        };
        let time_at = |share: f64| {
            let passed = SignedDuration::try_from_secs_f64(seconds? * share).ok()?;
            self.gap.before.made_between()?.0.checked_add(passed).ok()
        };
        let (soonest, latest) = (share_of(first.1), 1.0 - share_of(last.1));
        let end = |share: f64| End {
            along: Along::after_fix(self.number, share),
            time: time_at(share),
            between: None,
        };
        let earliest = (soonest - share_of(self.spare_m.0)).clamp(0.0, 1.0);
        let last_of_all = (latest + share_of(self.spare_m.1)).clamp(0.0, 1.0);
        // within the doubts the boat may have touched the line at any moment between the two
        let stay = Stay { from: end(earliest.min(last_of_all)), to: end(earliest.max(last_of_all)) };
        let longest_share = if self.is_in.0 { 1.0 } else { (latest - soonest).clamp(0.0, 1.0) };
        Reached {
            first: (first.0, time_at(soonest.clamp(0.0, 1.0))),
            last: (last.0, time_at(latest.clamp(0.0, 1.0))),
            longest_s: seconds.unwrap_or(0.0) * longest_share,
            stay,
            deepest_m,
        }
    }

    /// Half axes of the ellipse about both fixes that the boat can have been in; a straight way where it was faster than
    /// the top speed, or where there are no times.
    fn half_axes_m(&self) -> (f64, f64) {
        self.gap.ellipse(self.settings).unwrap_or((self.gap.metres.metres() / 2.0, 0.0))
    }

    /// How far the boat can have roamed from either fix where no boat makes the way between them, in metres.
    fn free_m(&self) -> f64 {
        let seconds = self.gap.seconds.filter(|seconds| self.gap.impossible && *seconds > 0.0);
        seconds.map_or(0.0, |seconds| seconds * self.settings.top_speed_m_per_s())
    }

    /// The top speed, or that which the way between the fixes needed if that is more, in metres per second.
    fn top_m_per_s(&self, seconds: f64) -> f64 {
        self.settings.top_speed_m_per_s().max(self.gap.metres.metres() / seconds)
    }
}

/// A straight piece of a zone's line, at most 2 km long.
struct Piece {
    start: Position,
    azimuth_deg: f64,
    length_m: f64,
}

impl Piece {
    /// Places on the piece are found to this, in metres.
    const TOLERANCE_M: f64 = 0.5;

    fn between(start: Position, end: Position) -> Self {
        let line = inverse(start, end);
        Self { start, azimuth_deg: line.azimuth_start_deg, length_m: line.distance_m }
    }

    fn at(&self, share: f64) -> Position {
        direct(self.start, self.azimuth_deg, self.length_m * share)
    }

    /// The point nearest to one fix from which the other can still be had in the way there is, and its distance.
    ///
    /// A distance and a sum of two are convex along a straight piece: the points that can be had are one stretch of it,
    /// and the nearest of them is the nearest of all or that end of the stretch which lies towards it.
    fn soonest(&self, near: Position, far: Position, way_m: f64) -> Option<Soonest> {
        let near_m = |share: f64| inverse(near, self.at(share)).distance_m;
        let detour_m = |share: f64| near_m(share) + inverse(self.at(share), far).distance_m;
        let mut had = self.least(&detour_m);
        if detour_m(had) > way_m {
            return None;
        }
        let mut wanted = self.least(&near_m);
        if detour_m(wanted) <= way_m {
            had = wanted;
        }
        while (wanted - had).abs() * self.length_m > Self::TOLERANCE_M {
            let middle = f64::midpoint(had, wanted);
            if detour_m(middle) <= way_m {
                had = middle;
            } else {
                wanted = middle;
            }
        }
        Some((self.at(had), near_m(had)))
    }

    /// The share of the piece at which something convex is least, by golden section; an end where that is no greater.
    fn least(&self, cost: &impl Fn(f64) -> f64) -> f64 {
        let ratio = (5.0_f64.sqrt() - 1.0) / 2.0;
        let (mut low, mut high) = (0.0, 1.0);
        while (high - low) * self.length_m > Self::TOLERANCE_M {
            let (left, right) = (high - ratio * (high - low), low + ratio * (high - low));
            if cost(left) < cost(right) {
                high = right;
            } else {
                low = left;
            }
        }
        let found = f64::midpoint(low, high);
        [0.0, 1.0, found]
            .into_iter()
            .min_by(|one, other| cost(*one).total_cmp(&cost(*other)))
            .unwrap_or(found)
    }
}
