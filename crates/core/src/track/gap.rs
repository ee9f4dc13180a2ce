//! A time in which nothing was logged: what could have been reached in it, whether a zone was among that, and how deep the boat can
//! have been there at most.

use std::cmp::{Ordering, Reverse};
use std::collections::BinaryHeap;
use std::sync::OnceLock;

use jiff::{SignedDuration, Timestamp};

use super::presence::PAUSE_S;
use super::stay::{Along, End, Stay};
use super::{Gap, LoggedFix, OpenEnd, TrackSettings};
use crate::geodesic::{Vector, direct, inverse, surface};
use crate::{Boundary, Metres, Position, golden_section};

/// A boat whose receiver repeats one place to the end of a log most likely lay there: it is looked for within what it can
/// have made in so many seconds, twenty minutes, and no farther (common practice, no source).
const REPEATS_REACH_S: f64 = 1_200.0;
/// A gap whose length nobody knows is looked at as if it had taken so many seconds, an hour (common practice, no source).
const UNKNOWN_S: f64 = 3_600.0;
/// The way through it is taken to be at most so many times the straight one, if that is more.
const UNKNOWN_WAY: f64 = 2.0;

/// What is said of a gap in the first lines, so that many of one kind do not keep another out of the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum GapKind {
    /// At an end of the log.
    Open,
    /// Between two trips.
    Pause,
    /// No boat can have made it.
    Impossible,
    /// So long that the boat may have been ashore.
    Long,
    /// Any other.
    Short,
}

impl Gap {
    /// What lies between two fixes: neither impossible nor the time between two trips.
    pub(super) fn between(before: &LoggedFix, after: &LoggedFix) -> Self {
        // where times are placed it may have been longer than they say
        let made = before.made_between().zip(after.made_between());
        Self {
            before: *before,
            after: *after,
            seconds: made.map(|((from, _), (_, to))| to.duration_since(from).as_secs_f64()),
            metres: Metres::computed(inverse(before.position, after.position).distance_m),
            impossible: false,
            between_trips: false,
            may_be_pause: false,
            open: None,
        }
    }

    /// A time without a place to believe, of which only one end is known.
    pub(super) fn at_an_end(fix: &LoggedFix, (from, to): (Timestamp, Timestamp), open: OpenEnd) -> Self {
        Self {
            open: Some(open),
            ..Self::between(
                &LoggedFix { time: Some(from), time_between: None, jump_kn: None, ..*fix },
                &LoggedFix { time: Some(to), time_between: None, jump_kn: None, ..*fix },
            )
        }
    }

    /// How far from its straight way the boat can have been at most, in metres, at the plausible top speed.
    ///
    /// The places that can be reached and left again in time lie in an ellipse about both fixes, whose sum of distances is
    /// the way that the top speed allows. None where even the straight way was too long.
    ///
    /// # Edge cases
    ///
    /// Where nobody knows how long it was, the way is taken to be twice the straight one at most, and where another stretch
    /// of the log begins or one of the fixes has a time, that of an hour if it is more. Where one end of it is not known, a
    /// circle about the other, of the way that the top speed allows; a receiver that repeats one place to the end of the log
    /// is taken to have been within twenty minutes of it.
    #[must_use]
    pub fn reach(&self, settings: &TrackSettings) -> Option<Metres> {
        let (_, half_minor_m) = self.ellipse(settings)?;
        Some(Metres::computed(half_minor_m))
    }

    /// The outline of the water that can have been reached, as so many positions; empty where [`Gap::reach`] is none.
    ///
    /// # Accuracy
    ///
    /// Plane geometry about the middle of the gap: within 0.1 % for gaps up to 100 km.
    #[must_use]
    pub fn reachable_outline(&self, settings: &TrackSettings, points: u32) -> Vec<Position> {
        let Some((half_major_m, half_minor_m)) = self.ellipse(settings) else { return Vec::new() };
        let line = inverse(self.before.position, self.after.position);
        let middle = direct(self.before.position, line.azimuth_start_deg, line.distance_m / 2.0);
        let along_deg = inverse(middle, self.after.position).azimuth_start_deg;
        (0..points)
            .map(|point| {
                let turn = f64::from(point) * std::f64::consts::TAU / f64::from(points);
                let (across_m, along_m) = (half_minor_m * turn.sin(), half_major_m * turn.cos());
                direct(middle, along_deg + across_m.atan2(along_m).to_degrees(), along_m.hypot(across_m))
            })
            .collect()
    }

    /// Half axes in metres.
    pub(super) fn ellipse(&self, settings: &TrackSettings) -> Option<(f64, f64)> {
        let top_m_per_s = settings.top_speed_m_per_s();
        if let Some(open) = self.open {
            let seconds = self.seconds.unwrap_or(0.0).max(0.0);
            let longest_s = if open == OpenEnd::Repeats { REPEATS_REACH_S } else { f64::INFINITY };
            let radius_m = top_m_per_s * seconds.min(longest_s);
            return Some((radius_m, radius_m));
        }
        let half_major_m = match self.seconds {
            Some(seconds) => top_m_per_s * seconds / 2.0,
            None => self.unknown_way_m(top_m_per_s) / 2.0,
        };
        let focal_m = self.metres.metres() / 2.0;
        (half_major_m >= focal_m)
            .then(|| (half_major_m, (half_major_m * half_major_m - focal_m * focal_m).sqrt()))
    }

    /// The longest way through it that is looked at, where nobody knows how long it took, in metres.
    fn unknown_way_m(&self, top_m_per_s: f64) -> f64 {
        let straight_m = UNKNOWN_WAY * self.metres.metres();
        let has_time = self.before.made_between().is_some() || self.after.made_between().is_some();
        if has_time || self.before.place.stretch != self.after.place.stretch {
            straight_m.max(top_m_per_s * UNKNOWN_S)
        } else {
            straight_m
        }
    }

    /// The longest way through it that is looked at, in metres.
    pub(super) fn longest_way_m(&self, settings: &TrackSettings) -> f64 {
        let roamed_m = settings.top_speed_m_per_s() * self.seconds.unwrap_or(0.0).max(0.0);
        let allowed_m = self.ellipse(settings).map_or(roamed_m, |(half_major_m, _)| 2.0 * half_major_m);
        allowed_m.max(self.metres.metres())
    }

    pub(super) fn kind(&self) -> GapKind {
        match self.open {
            Some(_) => GapKind::Open,
            None if self.between_trips => GapKind::Pause,
            None if self.impossible => GapKind::Impossible,
            None if self.seconds >= Some(PAUSE_S) => GapKind::Long,
            None => GapKind::Short,
        }
    }

    /// Whether it is listed as a gap: a few seconds at an end of the log are looked at, and not listed.
    pub(super) fn is_listed(&self, settings: &TrackSettings) -> bool {
        self.open.is_none() || self.seconds > Some(settings.gap_after_s)
    }
}

/// The greatest depth is told as at most this much more than it is, in metres, if the search comes to its end.
const TOLERANCE_M: f64 = 0.5;
/// Places at which the depth is asked for at most; then the bound that has been reached is told.
const MOST_PLACES: u32 = 2_000;
/// How much longer a way over the Earth may be than on the plane about the middle of a gap, as a factor; within 0.1 % up
/// to 100 km.
const PLANE: f64 = 1.001;

/// A rectangle of the water in reach, in metres ahead of the middle of the gap and to its right.
#[derive(Debug, Clone, Copy)]
#[expect(clippy::struct_field_names, reason = "the unit ends the name of every bare number")]
struct Cell {
    ahead_m: f64,
    across_m: f64,
    half_ahead_m: f64,
    half_across_m: f64,
    /// No place of it is deeper.
    bound_m: f64,
}

impl PartialEq for Cell {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Cell {}

impl PartialOrd for Cell {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Cell {
    fn cmp(&self, other: &Self) -> Ordering {
        self.bound_m.total_cmp(&other.bound_m)
    }
}

impl Cell {
    /// Whether any of it lies in the ellipse with these half axes about the middle.
    fn meets(&self, half_axes_m: (f64, f64)) -> bool {
        let nearest = |centre: f64, half: f64| (centre.abs() - half).max(0.0);
        let ahead = nearest(self.ahead_m, self.half_ahead_m) / half_axes_m.0;
        let across = nearest(self.across_m, self.half_across_m) / half_axes_m.1;
        ahead * ahead + across * across <= 1.0
    }

    fn is_centred_in(&self, half_axes_m: (f64, f64)) -> bool {
        Self { half_ahead_m: 0.0, half_across_m: 0.0, ..*self }.meets(half_axes_m)
    }

    /// Its halves, across the longer side.
    fn halves(&self) -> [Self; 2] {
        if self.half_ahead_m >= self.half_across_m {
            let half_ahead_m = self.half_ahead_m / 2.0;
            [-half_ahead_m, half_ahead_m].map(|by_m| Self {
                ahead_m: self.ahead_m + by_m,
                half_ahead_m,
                ..*self
            })
        } else {
            let half_across_m = self.half_across_m / 2.0;
            [-half_across_m, half_across_m].map(|by_m| Self {
                across_m: self.across_m + by_m,
                half_across_m,
                ..*self
            })
        }
    }
}

/// The signed distance of the deepest place in the ellipse about a gap, in metres, never above the true one: the depth is
/// never understated.
///
/// `off` is a signed distance, which changes by no more than the place does, so no place of a rectangle is deeper than its
/// middle by more than half of its diagonal. The rectangle with the greatest bound is halved until the bound is as good
/// as found.
pub(super) fn deepest(gap: &Gap, half_axes_m: (f64, f64), off: impl Fn(Position) -> f64) -> f64 {
    let line = inverse(gap.before.position, gap.after.position);
    let middle = direct(gap.before.position, line.azimuth_start_deg, line.distance_m / 2.0);
    let along_deg = inverse(middle, gap.after.position).azimuth_start_deg;
    // a straight way has no width of its own
    let half_axes_m = (half_axes_m.0.max(TOLERANCE_M), half_axes_m.1.max(TOLERANCE_M));
    let depth_m = |cell: &Cell| {
        let azimuth_deg = along_deg + cell.across_m.atan2(cell.ahead_m).to_degrees();
        -off(direct(middle, azimuth_deg, cell.ahead_m.hypot(cell.across_m)))
    };
    let bounded = |cell: Cell, depth_m: f64| Cell {
        bound_m: depth_m + PLANE * cell.half_ahead_m.hypot(cell.half_across_m),
        ..cell
    };
    let whole = Cell {
        ahead_m: 0.0,
        across_m: 0.0,
        half_ahead_m: half_axes_m.0,
        half_across_m: half_axes_m.1,
        bound_m: 0.0,
    };
    let mut found_m = depth_m(&whole);
    let mut waiting = BinaryHeap::from([bounded(whole, found_m)]);
    let mut asked = 1;
    while let Some(deepest) = waiting.pop() {
        if deepest.bound_m <= found_m + TOLERANCE_M || asked >= MOST_PLACES {
            return -deepest.bound_m.max(found_m);
        }
        for half in deepest.halves().into_iter().filter(|half| half.meets(half_axes_m)) {
            let depth_m = depth_m(&half);
            asked += 1;
            if half.is_centred_in(half_axes_m) {
                found_m = found_m.max(depth_m);
            }
            waiting.push(bounded(half, depth_m));
        }
    }
    -found_m
}

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
    /// A distance and a sum of two are convex along a straight piece: the points that can be had are one interval of it,
    /// and the nearest of them is the nearest of all or that end of the interval which lies towards it.
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
        let found = golden_section::least((0.0, 1.0), Self::TOLERANCE_M / self.length_m, cost).0;
        [0.0, 1.0, found]
            .into_iter()
            .min_by(|one, other| cost(*one).total_cmp(&cost(*other)))
            .unwrap_or(found)
    }
}
