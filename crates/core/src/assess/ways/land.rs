//! What no boat crosses, seen from a fix.

use super::OverLand;
use crate::boundary::{Boundary, Side};
use crate::coast::{Barrier, Coast, NoCrossing};
use crate::geodesic::{direct, distance_m, surface};
use crate::zone::{Extent, ZoneSet};
use crate::{Fix, Metres, Position};

/// A coast that is longer than a shore by more than this, as a share, does not run along it (common practice, no source).
const LONGER: f64 = 1.05;
const LEAST_LONGER_M: f64 = 10.0;
/// A coast within this of a fix, in metres, or within the way where that is longer, says something of the water there (common
/// practice, no source).
const COAST_ABOUT_M: f64 = 5_000.0;
/// A way beside a coast is looked at no closer than this, in metres.
const LEAST_STEP_M: f64 = 0.5;
/// A coast that leads from one end of a zone's shore to the other and is nowhere farther from its vertices than this, in metres, is
/// that shore: then the coast alone is land, for it follows the coves that the zone's side may cut off (common practice, no source).
const COAST_M: f64 = 100.0;

/// The land about a fix: coasts that were supplied, and elsewhere the shores of zones.
#[derive(Debug)]
pub(in super::super) struct Land<'a> {
    barrier: Barrier<'a>,
    from: Position,
    coasts: &'a [Coast],
    /// What the fix may be off, in metres.
    doubt_m: f64,
}

impl<'a> Land<'a> {
    /// The land about a fix, that of zones within so many metres; a boat that is on land by no more than the doubt of fix and
    /// coast may leave it.
    pub(in super::super) fn about(zones: &'a ZoneSet, fix: &Fix, within_m: f64) -> Self {
        let coasts: Vec<&Coast> = zones.coasts().iter().collect();
        let doubt_m = fix.uncertainty.radius_95().metres();
        let shores = shores(zones, (fix.position, doubt_m), within_m);
        let barrier = Barrier::new(&coasts, &shores, (fix.position, doubt_m), within_m);
        Self { barrier, from: fix.position, coasts: zones.coasts(), doubt_m }
    }

    /// Whether no land is known about the fix.
    pub(in super::super) fn is_empty(&self) -> bool {
        self.barrier.is_empty()
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

    fn coasts_within(&self, reach_m: f64) -> impl Iterator<Item = &'a Coast> {
        let from = self.from;
        let is_about =
            move |coast: &&Coast| coast.nearest(from).is_some_and(|(away, _)| away.metres() <= reach_m);
        self.coasts.iter().filter(is_about)
    }

    /// Whether a straight way keeps off the land that a coast about it draws. That is not known where no coast comes near the way,
    /// and where the way comes as near to one as this and the fix may be off.
    pub(super) fn over_land(&self, (bearing_deg, way_m): (f64, f64), met_m: Option<f64>) -> OverLand {
        if met_m.is_some() {
            return OverLand::Yes;
        }
        let mut about = self.coasts_within(way_m.max(COAST_ABOUT_M)).peekable();
        if about.peek().is_none() || about.any(|coast| self.passes_close(coast, bearing_deg, way_m)) {
            return OverLand::Unknown;
        }
        OverLand::No
    }

    /// Whether a way comes nearer to a coast than both may be off, once it has left the place where it begins. Distances change by
    /// no more than the way made.
    fn passes_close(&self, coast: &Coast, bearing_deg: f64, way_m: f64) -> bool {
        let doubt_m = self.doubt_m + coast.uncertainty.metres();
        let mut at_m = 2.0 * doubt_m;
        while at_m < way_m {
            let place = direct(self.from, bearing_deg, at_m);
            let Some((away, _)) = coast.nearest(place) else { return false };
            if away.metres() < doubt_m {
                return true;
            }
            at_m += (away.metres() - doubt_m).max(LEAST_STEP_M);
        }
        false
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
    shores.retain(|shore| !zones.coasts().iter().any(|coast| draws(coast, shore)));
    shores
}

/// Whether a coast leads from one end of a shore to the other, and nowhere far from it: land that it draws elsewhere says nothing
/// of this shore.
fn draws(coast: &Coast, shore: &NoCrossing) -> bool {
    let is_near = |place: &Position| coast.nearest(*place).is_some_and(|(away, _)| away.metres() <= COAST_M);
    let (Some(first), Some(last)) = (shore.positions.first(), shore.positions.last()) else { return false };
    is_near(first)
        && is_near(last)
        && shore.positions.iter().all(is_near)
        && coast
            .between(*first, *last, Metres::computed(COAST_M))
            .is_ok_and(|path| is_as_long(&path, &shore.positions))
}

/// Whether a coast runs along a shore, and does not bend away from it into a bay or round a headland: it is then hardly longer.
fn is_as_long(coast: &[Position], shore: &[Position]) -> bool {
    let length_m = |line: &[Position]| line.windows(2).map(|ends| distance_m(ends[0], ends[1])).sum::<f64>();
    length_m(coast) <= LONGER * length_m(shore) + LEAST_LONGER_M
}

/// Behind the shore of a zone there is land, but nobody knows how far: only a place that may be in the water before it is taken
/// to be on that land.
fn shores_of(boundary: &Boundary, (place, doubt_m): (Position, f64)) -> Vec<NoCrossing> {
    let is_shore = |side: &Side| !side.kind.is_crossable();
    let shores = boundary.sides().filter(|side| is_shore(side));
    let uncertainty_m = shores.filter_map(|side| side.uncertainty).map(|own| own.metres().abs());
    let uncertainty_m = uncertainty_m.fold(0.0, f64::max);
    let stretches = boundary.stretches(is_shore);
    let away_m = boundary.how_far(place).signed_distance.metres();
    // beside another side the land of a shore far off is not underfoot
    let is_at_shore = !boundary.side_nearest(place).kind.is_crossable();
    let has_land_on_left = is_at_shore && away_m.abs() <= uncertainty_m.hypot(doubt_m);
    // the zone lies on the left of its outline
    let turned = |mut positions: Vec<Position>| {
        positions.reverse();
        NoCrossing { positions, has_land_on_left, uncertainty_m }
    };
    stretches.into_iter().map(turned).collect()
}
