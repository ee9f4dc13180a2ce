//! How deep in a zone a boat can have been at most while nothing was logged.

use std::cmp::Ordering;
use std::collections::BinaryHeap;

use super::Gap;
use crate::Position;
use crate::geodesic::{direct, inverse};

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
