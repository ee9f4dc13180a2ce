//! Whether a boat can have been in a zone while nothing was logged.

use jiff::{SignedDuration, Timestamp};

use super::{Gap, TrackSettings};
use crate::geodesic::{direct, inverse};
use crate::{Boundary, Position};

/// What a gap allowed at most.
#[derive(Debug, Clone, Copy)]
pub(super) struct Reached {
    /// The point of the zone's line that can be had soonest, in time to come back from it, and when.
    pub(super) first: (Position, Option<Timestamp>),
    /// The point of the line that can be left latest, likewise.
    pub(super) last: (Position, Option<Timestamp>),
    /// The longest time inside, in seconds: from the earliest moment on the line to the latest.
    pub(super) longest_s: f64,
    /// The deepest place that could be reached, as a signed distance in metres.
    pub(super) deepest_m: f64,
}

/// A point of a line, and the metres to it.
type Soonest = (Position, f64);

/// Grid of the search for the deepest reachable place: bearings and steps outwards.
const DEPTH_BEARINGS: u32 = 24;
const DEPTH_STEPS: u32 = 8;

/// Finds what a gap allowed; none if the zone was out of reach at the top speed, or if there are no times.
///
/// The doubts of both fixes and of the line count as way that can be had for nothing (`spare_m`). A boat that was faster
/// than the top speed from fix to fix went straight at least.
///
/// The zone was within reach if some point of its line can be reached and left again in time: the way to it and on to
/// the next fix is not longer than the top speed allows. The deepest reachable place is found on a grid over the
/// ellipse of reachable water, and is named as at least that deep.
pub(super) fn reach(
    gap: &Gap,
    boundary: &Boundary,
    spare_m: f64,
    settings: &TrackSettings,
) -> Option<Reached> {
    let seconds = gap.seconds?;
    let (half_major_m, half_minor_m) = gap.ellipse(settings).unwrap_or((gap.metres.metres() / 2.0, 0.0));
    let way_m = 2.0 * half_major_m + spare_m;
    let (from, to) = (gap.before.position, gap.after.position);
    let off = |position: Position| boundary.locate(position).signed_distance.metres();
    // both fixes lie outside; the way to the line and from it is at least their distances
    if off(from).max(0.0) + off(to).max(0.0) > way_m {
        return None;
    }
    let outlines = boundary.outlines();
    let pieces = outlines
        .iter()
        .flat_map(|ring| (0..ring.len()).map(|at| Piece::between(ring[at], ring[(at + 1) % ring.len()])));
    let mut first: Option<Soonest> = None;
    let mut last: Option<Soonest> = None;
    for piece in pieces {
        for (best, near, far) in [(&mut first, from, to), (&mut last, to, from)] {
            let found = piece.soonest(near, far, way_m);
            *best = [*best, found].into_iter().flatten().min_by(|a, b| a.1.total_cmp(&b.1));
        }
    }
    let ((first, first_m), (last, last_m)) = (first?, last?);
    let top_m_per_s = settings.top_speed_m_per_s().max(gap.metres.metres() / seconds);
    let after = |start: Option<Timestamp>, seconds: f64| {
        start?.checked_add(SignedDuration::try_from_secs_f64(seconds).ok()?).ok()
    };
    Some(Reached {
        first: (first, after(gap.before.time, first_m / top_m_per_s)),
        last: (last, after(gap.after.time, -last_m / top_m_per_s)),
        longest_s: (seconds - (first_m + last_m) / top_m_per_s).max(0.0),
        // the detour reaches the line itself, whatever the grid has missed
        deepest_m: deepest(gap, (half_major_m, half_minor_m), off).min(0.0),
    })
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
    fn soonest(&self, near: Position, far: Position, way_m: f64) -> Option<(Position, f64)> {
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

    /// The share of the piece at which something convex is least, by golden section.
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
        f64::midpoint(low, high)
    }
}

fn deepest(gap: &Gap, (half_major_m, half_minor_m): (f64, f64), off: impl Fn(Position) -> f64) -> f64 {
    let line = inverse(gap.before.position, gap.after.position);
    let middle = direct(gap.before.position, line.azimuth_start_deg, line.distance_m / 2.0);
    let along_deg = inverse(middle, gap.after.position).azimuth_start_deg;
    let mut deepest_m = off(middle);
    for bearing in 0..DEPTH_BEARINGS {
        let turn = f64::from(bearing) * std::f64::consts::TAU / f64::from(DEPTH_BEARINGS);
        for step in 1..=DEPTH_STEPS {
            let share = f64::from(step) / f64::from(DEPTH_STEPS);
            let (across_m, ahead_m) = (share * half_minor_m * turn.sin(), share * half_major_m * turn.cos());
            let azimuth_deg = along_deg + across_m.atan2(ahead_m).to_degrees();
            deepest_m = deepest_m.min(off(direct(middle, azimuth_deg, ahead_m.hypot(across_m))));
        }
    }
    deepest_m
}
