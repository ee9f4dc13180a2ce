//! What no boat crosses, seen from a fix.

use super::OverLand;

/// The land about a fix.
#[derive(Debug, Default)]
pub(in super::super) struct Land {}

impl Land {
    /// Where the straight way on a bearing meets land first, in metres; none if it does not within so many metres.
    pub(super) fn met_at_m(&self, _bearing_deg: f64, _way_m: f64) -> Option<f64> {
        None
    }

    /// Whether the straight way on a bearing meets land within so many metres.
    pub(in super::super) fn is_met(&self, bearing_deg: f64, way_m: f64) -> bool {
        self.met_at_m(bearing_deg, way_m).is_some()
    }

    /// Whether every straight way on these bearings surely meets land within so many metres.
    pub(super) fn covers(&self, _bearings_deg: (f64, f64), _beyond_m: f64) -> bool {
        false
    }

    /// Whether ways keep off all land.
    pub(super) fn over_land(&self) -> OverLand {
        OverLand::Unknown
    }
}
