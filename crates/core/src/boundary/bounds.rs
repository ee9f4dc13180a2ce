//! Between which distances the line of a zone lies for a boat, edges that may be off where they are drawn counted.
//!
//! All of them change by no more than the way made: what a track may conclude between two fixes, or a pair of marks along a line,
//! rests on that.

use super::{Boundary, HowFar};
use crate::Position;
use crate::geodesic::surface;

/// How the bounds of one boundary are reckoned.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Bounds {
    /// Whether what an edge may be off counts near that edge only, as sides ask for; else the most of all edges counts everywhere
    /// beside these bounds.
    is_local: bool,
    /// Whether some sides are no open water.
    pub(crate) has_sides: bool,
}

impl Bounds {
    pub(crate) fn of(boundary: Option<&Boundary>) -> Self {
        let has_sides = boundary.is_some_and(Boundary::has_sides);
        // of several readings each has its own doubt by the place, and what is told of all together may jump
        Self { is_local: has_sides && boundary.is_some_and(Boundary::is_read_one_way), has_sides }
    }

    /// What has to be counted everywhere beside these bounds, in metres.
    pub(crate) fn closure_error_m(self, boundary: Option<&Boundary>) -> f64 {
        if self.is_local { 0.0 } else { boundary.map_or(0.0, Boundary::largest_closure_error_m) }
    }

    /// The least that the signed distance can be.
    ///
    /// With d(i) the distance to an edge that may be off by m(i), this is the least of the signed distance and of all d(i) − m(i).
    pub(crate) fn least_m(self, far: &HowFar) -> f64 {
        let drawn_m = far.least.metres();
        if self.is_local { drawn_m.min(drawn_m.abs() - far.missed_m()) } else { drawn_m }
    }

    /// The greatest that it can be for a boat that is drawn on this side of the line; below 0 it is surely inside.
    pub(crate) fn greatest_m(self, far: &HowFar) -> f64 {
        let afloat_m = far.to_leave.map_or(f64::INFINITY, |to_leave| -to_leave.metres());
        self.drawn_greatest_m(far).min(afloat_m)
    }

    fn drawn_greatest_m(self, far: &HowFar) -> f64 {
        let drawn_m = far.greatest.metres();
        if self.is_local { drawn_m.max(far.missed_m() - drawn_m.abs()) } else { drawn_m }
    }

    /// The same as a value that nowhere jumps: beyond a shore it goes on as if the boat were still before it. Where a place is drawn
    /// outside it says nothing by itself.
    pub(crate) fn greatest_along_m(self, boundary: &Boundary, place: Position) -> f64 {
        if !self.has_sides {
            return boundary.how_far(place).greatest.metres();
        }
        let here = surface(place);
        let far = boundary.off_from(place, &here).far;
        let to_leave_m = boundary.to_leave_anywhere_m(place, &here).unwrap_or(f64::INFINITY);
        self.drawn_greatest_m(&far).min(-to_leave_m)
    }
}
