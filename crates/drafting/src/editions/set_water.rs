//! The water of all zones together: what is closed now that was open, and the other way round.

use geo::algorithm::bool_ops::unary_union;
use geo::{Area, MultiPolygon};
use takeline::Position;
use takeline::zone::{Extent, Zone};

use super::compare::ZoneWater;
use super::plane::Plane;
use super::water::{drawn, less};

/// Water of all zones together that became closed or open, each piece counted once.
///
/// A zone counts as closed if nothing may be taken there at some time at least. Whether one zone displaces another is not
/// counted.
#[derive(Debug, Clone, PartialEq, Default)]
#[non_exhaustive]
pub struct SetWater {
    /// Where nothing may be taken now, at some time at least, and something could before; in m².
    pub newly_closed_m2: f64,
    /// Where no zone closes the water any more; in m².
    pub no_longer_closed_m2: f64,
    /// Where some zone restricts something now and none did; in m². What is newly closed and was in no zone is part of it.
    pub newly_in_a_zone_m2: f64,
    /// Where no zone restricts anything any more; in m².
    pub no_longer_in_a_zone_m2: f64,
    /// The pieces that are newly closed, each an outer ring and its holes, for drawing.
    pub newly_closed: Vec<Vec<Vec<Position>>>,
    /// The pieces that are no longer closed, likewise.
    pub no_longer_closed: Vec<Vec<Vec<Position>>>,
}

/// The zones whose line or rule differs, and all zones that may lie over them.
pub(super) struct Sides<'a> {
    /// Zones of the edition that changed, were added or removed.
    pub(super) touched: Vec<&'a Zone>,
    /// All zones of the edition.
    pub(super) all: &'a [Zone],
}

impl SetWater {
    /// Measures it; none where a line is not known or cannot be measured, because then no figure would be the whole.
    pub(super) fn between(old: &Sides<'_>, new: &Sides<'_>) -> Option<Self> {
        let Some(middle) = old.touched.iter().chain(&new.touched).find_map(|zone| first_place(zone)) else {
            let all_known = old.touched.iter().chain(&new.touched).all(|zone| !counts(zone, false));
            return all_known.then(Self::default);
        };
        let plane = Plane::about(middle);
        let changed = |from: &Sides<'_>, to: &Sides<'_>, (closed, unknown)| -> Option<MultiPolygon> {
            let was = united(plane, from.touched.iter().copied(), (closed, Unknown::Nowhere))?;
            // a place that somebody else's zone holds, too, has not changed
            let is = united(plane, to.all.iter(), (closed, unknown))?;
            Some(less(&was, &is))
        };
        // where nobody knows whether a zone lies, water is counted as newly closed, and never as open
        let entered = |closed| changed(new, old, (closed, Unknown::Nowhere));
        let left = |closed| changed(old, new, (closed, Unknown::Anywhere));
        let (closed, opened) = (entered(true)?, left(true)?);
        Some(Self {
            newly_closed_m2: closed.unsigned_area(),
            no_longer_closed_m2: opened.unsigned_area(),
            newly_in_a_zone_m2: entered(false)?.unsigned_area(),
            no_longer_in_a_zone_m2: left(false)?.unsigned_area(),
            newly_closed: plane.rings(&drawn(closed)),
            no_longer_closed: plane.rings(&drawn(opened)),
        })
    }
}

/// Whether a zone closes water, or at least restricts something there.
fn counts(zone: &Zone, closed: bool) -> bool {
    match ZoneWater::of(zone) {
        ZoneWater::Closed => true,
        ZoneWater::Limited => !closed,
        ZoneWater::Unrestricted | ZoneWater::NoLaw => false,
    }
}

fn first_place(zone: &Zone) -> Option<Position> {
    match &zone.extent {
        Extent::Known(boundary) => boundary.outlines().first()?.first().copied(),
        Extent::Unknown { .. } => None,
    }
}

/// How a zone counts whose line is not known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Unknown {
    /// As no water: it is told by itself.
    Nowhere,
    /// As all the water in which it may lie.
    Anywhere,
}

/// All water of those zones that count; none where a line cannot be drawn on the plane, or may be anywhere.
fn united<'z>(
    plane: Plane,
    zones: impl Iterator<Item = &'z Zone>,
    (closed, unknown): (bool, Unknown),
) -> Option<MultiPolygon> {
    let mut shapes = Vec::new();
    for zone in zones.filter(|zone| counts(zone, closed)) {
        match (&zone.extent, unknown) {
            (Extent::Known(boundary), _) => shapes.extend(plane.shape(boundary).ok()?),
            (Extent::Unknown { .. }, Unknown::Nowhere) => {}
            (Extent::Unknown { somewhere_in, .. }, Unknown::Anywhere) => {
                shapes.extend(plane.shape(somewhere_in.as_ref()?).ok()?);
            }
        }
    }
    Some(unary_union(&shapes))
}
