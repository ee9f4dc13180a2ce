//! The stretch of a range line that lies in a working area.

use super::along::Along;
use crate::transit::{Eye, Meets, RangeLine, Stretch, TransitError};
use crate::{Boundary, Metres};

/// The stretch begins no nearer to the front mark than this, in metres.
const NEAREST_M: f64 = 1.0;

impl RangeLine {
    /// Returns the stretch of the line that lies inside a boundary, from its first to its last point there.
    ///
    /// # Errors
    ///
    /// [`TransitError::MissesArea`] if the line does not pass through it beyond the front mark; it says so if it does
    /// beyond the rear mark.
    pub fn stretch_within(&self, area: &Boundary) -> Result<Stretch, TransitError> {
        let outlines = area.outlines();
        let along = outlines.iter().flatten().map(|corner| self.place(*corner).distance_from_front.metres());
        let (low_m, high_m) =
            along.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), m| (low.min(m), high.max(m)));
        let misses = || TransitError::MissesArea {
            front: self.front().name.clone(),
            rear: self.rear().name.clone(),
            beyond_the_rear_mark: high_m < -self.separation().metres(),
        };
        let longest_m = Stretch::LONGEST_M.min(high_m + 1.0);
        let whole = Stretch::new(Metres::computed(NEAREST_M.max(low_m - 1.0)), Metres::computed(longest_m))
            .map_err(|_| misses())?;
        let along = Along {
            line: self,
            boundary: area,
            zone_doubt_m: 0.0,
            closure_error_m: 0.0,
            eye: Eye::default(),
            stretch: whole,
        };
        let begins = along.point(whole.near().metres()).signed_distance.metres() < 0.0;
        let ends = along.point(whole.far().metres()).signed_distance.metres() < 0.0;
        let meetings = along.meetings();
        let first = meetings.iter().find(|meeting| meeting.what == Meets::Enters);
        let last = meetings.iter().rev().find(|meeting| meeting.what == Meets::Leaves);
        let near = if begins { Some(whole.near()) } else { first.map(|meeting| meeting.distance_from_front) };
        let far = if ends { Some(whole.far()) } else { last.map(|meeting| meeting.distance_from_front) };
        let (Some(near), Some(far)) = (near, far) else { return Err(misses()) };
        Stretch::new(near, far).map_err(|_| misses())
    }
}
