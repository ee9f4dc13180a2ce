//! Whether a boat can have been in a zone while nothing was logged.

use jiff::{SignedDuration, Timestamp};

use super::{Gap, TrackSettings};
use crate::geodesic::{direct, inverse};
use crate::{Boundary, Position};

/// What a gap allowed at most.
#[derive(Debug, Clone, Copy)]
pub(super) struct Reached {
    /// The point of the zone's line on the shortest detour.
    pub(super) touches: Position,
    /// The earliest and the latest moment there.
    pub(super) earliest: Option<Timestamp>,
    pub(super) latest: Option<Timestamp>,
    /// The longest time inside, in seconds.
    pub(super) longest_s: f64,
    /// The deepest place that could be reached, as a signed distance in metres.
    pub(super) deepest_m: f64,
}

/// Grid of the search for the deepest reachable place: bearings and steps outwards.
const DEPTH_BEARINGS: u32 = 24;
const DEPTH_STEPS: u32 = 8;

/// Finds what a gap allowed; none if the zone was out of reach at the top speed, or if there are no times.
///
/// The zone was within reach if some point of its line can be reached and left again in time: the way to it and on to
/// the next fix is not longer than the top speed allows. The deepest reachable place is found on a grid over the
/// ellipse of reachable water, and is named as at least that deep.
pub(super) fn reach(gap: &Gap, boundary: &Boundary, settings: &TrackSettings) -> Option<Reached> {
    let seconds = gap.seconds?;
    let (half_major_m, half_minor_m) = gap.ellipse(settings)?;
    let way_m = 2.0 * half_major_m;
    let (from, to) = (gap.before.position, gap.after.position);
    let off = |position: Position| boundary.locate(position).signed_distance.metres();
    // both fixes lie outside; the way to the line and from it is at least their distances
    if off(from).max(0.0) + off(to).max(0.0) > way_m {
        return None;
    }
    let detour_m = |position: Position| inverse(from, position).distance_m + inverse(position, to).distance_m;
    let shortest = boundary
        .outlines()
        .into_iter()
        .flat_map(|ring| {
            let count = ring.len();
            (0..count).map(|at| nearest_on(ring[at], ring[(at + 1) % count], &detour_m)).collect::<Vec<_>>()
        })
        .min_by(|a, b| a.1.total_cmp(&b.1))?;
    if shortest.1 > way_m {
        return None;
    }
    let top_m_per_s = settings.top_speed_m_per_s();
    let after = |start: Option<Timestamp>, seconds: f64| {
        start?.checked_add(SignedDuration::try_from_secs_f64(seconds).ok()?).ok()
    };
    Some(Reached {
        touches: shortest.0,
        earliest: after(gap.before.time, inverse(from, shortest.0).distance_m / top_m_per_s),
        latest: after(gap.after.time, -inverse(shortest.0, to).distance_m / top_m_per_s),
        longest_s: (seconds - shortest.1 / top_m_per_s).max(0.0),
        // the detour reaches the line itself, whatever the grid has missed
        deepest_m: deepest(gap, (half_major_m, half_minor_m), off).min(0.0),
    })
}

/// The point of a line piece, at most 2 km long, with the shortest detour over it, by golden section.
fn nearest_on(start: Position, end: Position, detour_m: &impl Fn(Position) -> f64) -> (Position, f64) {
    let line = inverse(start, end);
    let at = |share: f64| direct(start, line.azimuth_start_deg, line.distance_m * share);
    let ratio = (5.0_f64.sqrt() - 1.0) / 2.0;
    let (mut low, mut high) = (0.0, 1.0);
    while (high - low) * line.distance_m > 0.5 {
        let (left, right) = (high - ratio * (high - low), low + ratio * (high - low));
        if detour_m(at(left)) < detour_m(at(right)) {
            high = right;
        } else {
            low = left;
        }
    }
    let best = at(f64::midpoint(low, high));
    (best, detour_m(best))
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
