//! What no boat crosses, seen from a fix.

use std::cell::Cell;

use super::OverLand;
use crate::boundary::{Boundary, Side};
use crate::coast::{Barrier, Coast, NoCrossing};
use crate::geodesic::surface;
use crate::zone::{Extent, ZoneSet};
use crate::{Fix, Position};

/// Where a coast is known within this of the shore of a zone, in metres, the coast alone is land: it follows the coves that the
/// zone's shore may cut off.
const COAST_M: f64 = 1_000.0;

/// The land about a fix: coasts that were supplied, and elsewhere the shores of zones.
#[derive(Debug)]
pub(in super::super) struct Land<'a> {
    barrier: Barrier<'a>,
    from: Position,
    is_coast_known: bool,
}

impl<'a> Land<'a> {
    /// The land about a fix, that of zones within so many metres; a boat that is on land by no more than the doubt of fix and
    /// coast may leave it.
    pub(in super::super) fn about(zones: &'a ZoneSet, fix: &Fix, within_m: f64) -> Self {
        let coasts: Vec<&Coast> = zones.coasts().iter().collect();
        let is_coast_known = !coasts.is_empty();
        let doubt_m = fix.uncertainty.radius_95().metres();
        let shores = shores(zones, (fix.position, doubt_m), within_m);
        let barrier = Barrier::new(&coasts, &shores, (fix.position, doubt_m), within_m);
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

    /// Whether a straight way meets land within so many metres on some bearing, of sixteen.
    pub(super) fn is_met_about(&self, way_m: f64) -> bool {
        (0..16_u8).any(|step| self.is_met(f64::from(step) * 22.5, way_m))
    }

    /// Whether a way leads over land that meets it after so many metres, if it does.
    pub(super) fn over_land(&self, met_m: Option<f64>) -> OverLand {
        match met_m {
            Some(_) => OverLand::Yes,
            None if self.is_coast_known => OverLand::No,
            None => OverLand::Unknown,
        }
    }
}

/// The sides of zones that no boat crosses, near a place.
fn shores(zones: &ZoneSet, (place, doubt_m): (Position, f64), within_m: f64) -> Vec<NoCrossing> {
    let near = zones.boxes_about(surface(place).point).take_while(|(_, away_m)| *away_m <= within_m);
    let boundary = |(number, _): (usize, f64)| match &zones.zones().get(number)?.extent {
        Extent::Known(boundary) => Some(boundary).filter(|boundary| boundary.has_sides()),
        Extent::Unknown { .. } => None,
    };
    let mut shores: Vec<NoCrossing> =
        near.filter_map(boundary).flat_map(|boundary| shores_of(boundary, (place, doubt_m))).collect();
    let has_coast = |place: &Position| {
        let is_near = |coast: &Coast| coast.nearest(*place).is_some_and(|(away, _)| away.metres() <= COAST_M);
        zones.coasts().iter().any(is_near)
    };
    shores.retain(|shore| !shore.positions.iter().all(has_coast));
    shores
}

/// Behind the shore of a zone there is land, but nobody knows how far: only a place that may be in the water before it is taken
/// to be on that land.
fn shores_of(boundary: &Boundary, (place, doubt_m): (Position, f64)) -> Vec<NoCrossing> {
    let uncertainty_m = Cell::new(0.0_f64);
    let is_shore = |side: &Side| {
        let is_shore = !side.kind.is_crossable();
        let own_m = side.uncertainty.filter(|_| is_shore).map_or(0.0, |own| own.metres().abs());
        uncertainty_m.set(uncertainty_m.get().max(own_m));
        is_shore
    };
    let stretches = boundary.stretches(is_shore);
    let uncertainty_m = uncertainty_m.get();
    let away_m = boundary.how_far(place).signed_distance.metres();
    let has_land_on_left = away_m.abs() <= uncertainty_m.hypot(doubt_m);
    // the zone lies on the left of its outline
    let turned = |mut positions: Vec<Position>| {
        positions.reverse();
        NoCrossing { positions, has_land_on_left, uncertainty_m }
    };
    stretches.into_iter().map(turned).collect()
}
