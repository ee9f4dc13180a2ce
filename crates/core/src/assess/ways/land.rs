//! What no boat crosses, seen from a fix.

use super::OverLand;
use crate::coast::{Barrier, Coast};
use crate::zone::ZoneSet;
use crate::{Fix, Position};

/// Coasts within this, in metres, are looked at to tell at once that a whole sector lies behind them.
const SKYLINE_M: f64 = 50_000.0;

/// The land about a fix: coasts that were supplied.
#[derive(Debug)]
pub(in super::super) struct Land<'a> {
    barrier: Barrier<'a>,
    from: Position,
    is_coast_known: bool,
}

impl<'a> Land<'a> {
    /// The land about a fix; a boat that may be afloat by the doubt of the fix or of the coast may leave a beach.
    pub(in super::super) fn about(zones: &'a ZoneSet, fix: &Fix) -> Self {
        let coasts: Vec<&Coast> = zones.coasts().iter().collect();
        let is_coast_known = !coasts.is_empty();
        let doubt_m = fix.uncertainty.radius_95().metres();
        let barrier = Barrier::new(&coasts, &[], (fix.position, doubt_m), SKYLINE_M);
        Self { barrier, from: fix.position, is_coast_known }
    }

    /// Where the straight way on a bearing meets land first, in metres; none if it does not within so many metres.
    pub(super) fn met_at_m(&self, bearing_deg: f64, way_m: f64) -> Option<f64> {
        if self.barrier.is_empty() {
            return None;
        }
        self.barrier.met_at_m(self.from, bearing_deg, way_m)
    }

    /// Whether the straight way on a bearing meets land within so many metres.
    pub(in super::super) fn is_met(&self, bearing_deg: f64, way_m: f64) -> bool {
        self.met_at_m(bearing_deg, way_m).is_some()
    }

    /// Whether every straight way on these bearings surely meets land within so many metres.
    pub(super) fn covers(&self, bearings_deg: (f64, f64), beyond_m: f64) -> bool {
        !self.barrier.is_empty() && self.barrier.covers(bearings_deg, beyond_m)
    }

    /// Whether the fix is surely on land, so that no way begins there.
    pub(super) fn holds_the_fix(&self) -> bool {
        self.barrier.starts_inland()
    }

    /// Whether ways keep off all land.
    pub(super) fn over_land(&self) -> OverLand {
        if self.is_coast_known { OverLand::No } else { OverLand::Unknown }
    }
}
