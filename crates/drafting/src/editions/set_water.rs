//! The water of all zones together: what is closed now that was open, and the other way round.

use std::collections::HashSet;

use geo::Polygon;
use takeline::Position;
use takeline::zone::{Extent, Zone};

use super::compare::ZoneWater;
use super::reach::{ByReach, surrounds};
use super::sheet::{Piece, Rest, Sheet, less, outline};
use crate::survey::readings_apart_m;

/// Readings of a side that are no farther apart than this, in metres, move a sum of water by a strip that nobody acts on.
const READ_ALIKE_M: f64 = 50.0;

/// Water of all zones together that became closed or open, each piece counted once.
///
/// A zone counts as closed if nothing may be taken there at some time at least. Whether one zone displaces another is not
/// counted. Water is never called open where a zone may lie whose line is not known, and a line that is the same as closely as
/// it is printed has not moved.
#[derive(Debug, Clone, PartialEq, Default)]
#[non_exhaustive]
pub struct SetWater {
    /// Where nothing may be taken now, at some time at least, and something could before; in m².
    pub newly_closed_m2: f64,
    /// Where no zone closes the water any more; in m². None where a zone that closes water may lie anywhere.
    pub no_longer_closed_m2: Option<f64>,
    /// Where some zone restricts something now and none did; in m². What is newly closed and was in no zone is part of it.
    pub newly_in_a_zone_m2: f64,
    /// Where no zone restricts anything any more; in m². None where a zone that restricts something may lie anywhere.
    pub no_longer_in_a_zone_m2: Option<f64>,
    /// How many zones that close water came, or changed, and lie nobody knows where: their water is in no figure.
    pub unplaced: usize,
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

/// A zone that counts, and its water.
struct Counted {
    closes: bool,
    is_touched: bool,
    place: Place,
}

/// Where a zone lies, as far as that is known.
enum Place {
    Here(Vec<Polygon>),
    SomewhereIn(Vec<Polygon>),
    Anywhere,
}

/// A counted zone whose polygons are on the sheet.
struct Laid<'c> {
    zone: &'c Counted,
    pieces: Vec<Piece>,
}

impl SetWater {
    /// Measures it; none where an outline cannot be drawn, as about a pole, because then no figure would be the whole, and where a
    /// side of a zone that differs can be read in ways that are far apart, because then no figure would be proved.
    pub(super) fn between(old: &Sides<'_>, new: &Sides<'_>) -> Option<Self> {
        if old.touched.iter().chain(&new.touched).any(|zone| is_read_apart(zone)) {
            return None;
        }
        let near = ByReach::of(old.touched.iter().chain(&new.touched).copied());
        let (before, now) = (counted(old, &near)?, counted(new, &near)?);
        let sheet = Sheet::about(before.iter().chain(&now).flat_map(Counted::polygons));
        let lay = |zones| -> Vec<Laid<'_>> { Counted::laid(zones, sheet) };
        let (before, now) = (lay(&before), lay(&now));
        let entered = |closed| changed(&now, &before, closed, false);
        let left = |closed| all_placed(&now, closed).then(|| changed(&before, &now, closed, true));
        let (closed, opened) = (entered(true), left(true));
        Some(Self {
            newly_closed_m2: closed.area_m2,
            no_longer_closed_m2: opened.as_ref().map(|opened| opened.area_m2),
            newly_in_a_zone_m2: entered(false).area_m2,
            no_longer_in_a_zone_m2: left(false).map(|left| left.area_m2),
            unplaced: now.iter().filter(|laid| laid.zone.is_newly_unplaced()).count(),
            newly_closed: closed.pieces,
            no_longer_closed: opened.map(|opened| opened.pieces).unwrap_or_default(),
        })
    }
}

/// Whether a zone that restricts something has sides that nobody states and whose readings are far apart.
fn is_read_apart(zone: &Zone) -> bool {
    let restricts = matches!(ZoneWater::of(zone), ZoneWater::Closed | ZoneWater::Limited);
    let Extent::Known(boundary) = &zone.extent else { return false };
    restricts && readings_apart_m(&boundary.parts()) > READ_ALIKE_M
}

/// The water of the zones of one edition that differ, less all that the other edition has.
///
/// Where nobody knows whether a zone lies, water is counted as newly closed, and never as open.
fn changed(from: &[Laid<'_>], to: &[Laid<'_>], closed: bool, and_perhaps: bool) -> Rest {
    let counts = |laid: &&Laid<'_>| laid.zone.closes || !closed;
    let is_here = |laid: &&Laid<'_>| matches!(laid.zone.place, Place::Here(_));
    let was = from.iter().filter(counts).filter(|laid| laid.zone.is_touched).filter(is_here);
    let is = to.iter().filter(counts).filter(|laid| and_perhaps || is_here(laid));
    let (was, is): (Vec<&Piece>, Vec<&Piece>) =
        (was.flat_map(|laid| &laid.pieces).collect(), is.flat_map(|laid| &laid.pieces).collect());
    less(&was, &is)
}

/// Whether every zone that counts lies here or somewhere in particular.
fn all_placed(zones: &[Laid<'_>], closed: bool) -> bool {
    let counts = |laid: &&Laid<'_>| laid.zone.closes || !closed;
    !zones.iter().filter(counts).any(|laid| matches!(laid.zone.place, Place::Anywhere))
}

/// The zones of an edition that count and differ, or may lie over those that do; none where one cannot be drawn.
fn counted(side: &Sides<'_>, near: &ByReach) -> Option<Vec<Counted>> {
    let touched: HashSet<*const Zone> = side.touched.iter().map(|zone| std::ptr::from_ref(*zone)).collect();
    let mut found = Vec::new();
    for zone in side.all {
        let closes = match ZoneWater::of(zone) {
            ZoneWater::Closed => true,
            ZoneWater::Limited => false,
            ZoneWater::Unrestricted | ZoneWater::NoLaw => continue,
        };
        let is_touched = touched.contains(&std::ptr::from_ref(zone));
        let place = match (surrounds(zone), &zone.extent) {
            (None, _) => Place::Anywhere,
            (Some(boundary), _) if !is_touched && !near.may_meet(boundary) => continue,
            (Some(boundary), Extent::Known(_)) => Place::Here(outline(boundary).ok()?),
            (Some(boundary), Extent::Unknown { .. }) => Place::SomewhereIn(outline(boundary).ok()?),
        };
        found.push(Counted { closes, is_touched, place });
    }
    Some(found)
}

impl Counted {
    fn polygons(&self) -> &[Polygon] {
        match &self.place {
            Place::Here(polygons) | Place::SomewhereIn(polygons) => polygons,
            Place::Anywhere => &[],
        }
    }

    fn laid(zones: &[Self], sheet: Sheet) -> Vec<Laid<'_>> {
        zones.iter().map(|zone| Laid { zone, pieces: sheet.lay(zone.polygons()) }).collect()
    }

    fn is_newly_unplaced(&self) -> bool {
        self.closes && self.is_touched && !matches!(self.place, Place::Here(_))
    }
}
