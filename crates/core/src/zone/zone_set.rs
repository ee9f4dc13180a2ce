use std::ops::Deref;
use std::sync::{Arc, OnceLock};

use rstar::primitives::{GeomWithData, Rectangle};
use rstar::{AABB, PointDistance, RTree};

use super::unions::Unions;
use super::{Extent, OverrideGraph, Zone, ZoneSummary};
use crate::boundary::Off;
use crate::coast::Coast;
use crate::geodesic::{Vector, surface};
use crate::geojson_text::FileWarning;
use crate::{Boundary, Metres, Position};

type ZoneBox = GeomWithData<Rectangle<[f64; 3]>, usize>;

/// Zones, indexed: built once, asked often, shared between threads.
///
/// A handle: a clone shares the zones and costs next to nothing, so whatever asks again and again, such as an
/// [`Auditor`](crate::track::Auditor), keeps one of its own.
///
/// # Examples
///
/// See [`ZoneSet::assess`].
#[derive(Debug, Clone)]
pub struct ZoneSet {
    indexed: Arc<Indexed>,
}

#[derive(Debug, Clone)]
struct Indexed {
    zones: Vec<Zone>,
    /// What answers say of each, from the first answer on that does.
    summaries: Vec<OnceLock<Arc<ZoneSummary>>>,
    /// What was odd about the files that the zones were read from.
    warnings: Vec<FileWarning>,
    /// Boxes that hold each zone, and what line, datum, readings and arcs may add to it on every side.
    boxes: RTree<ZoneBox>,
    /// The same boxes by the places of the zones in the set.
    box_of: Vec<Option<Rectangle<[f64; 3]>>>,
    /// Zones that may be anywhere.
    anywhere: Vec<usize>,
    overrides: OverrideGraph,
    unions: Unions,
    /// Where the land is, as far as somebody has said.
    coasts: Vec<Coast>,
}

impl ZoneSet {
    /// Indexes zones. Takes about a microsecond a zone; the boundaries are indexed already.
    #[must_use]
    pub fn new(zones: Vec<Zone>) -> Self {
        Self::with_warnings(zones, Vec::new())
    }

    /// As [`Self::new`], for zones that were read from files, with what was odd about those.
    pub(crate) fn with_warnings(zones: Vec<Zone>, warnings: Vec<FileWarning>) -> Self {
        let mut anywhere = Vec::new();
        let mut boxes = Vec::with_capacity(zones.len());
        let mut box_of = Vec::with_capacity(zones.len());
        for (number, zone) in zones.iter().enumerate() {
            let about = box_about(zone).map(|(low, high)| Rectangle::from_corners(low, high));
            match about {
                Some(about) => boxes.push(GeomWithData::new(about, number)),
                None => anywhere.push(number),
            }
            box_of.push(about);
        }
        let overrides = OverrideGraph::of(&zones);
        let boxes = RTree::bulk_load(boxes);
        let unions = Unions::default();
        let summaries = zones.iter().map(|_| OnceLock::new()).collect();
        let coasts = Vec::new();
        let indexed =
            Indexed { zones, summaries, warnings, boxes, box_of, anywhere, overrides, unions, coasts };
        Self { indexed: Arc::new(indexed) }
    }

    /// The same zones with coasts: ways out and moves keep off their land, and answers say where a fix lies on it.
    ///
    /// A coast changes no side of any zone; whoever reads a zone file with [`read_along`](crate::zone_file::read_along) lets the
    /// sides follow it that say so.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::coast::{Coast, CoastLine};
    /// use takeline::{Metres, Position, ZoneSet};
    /// let place = |lat, lon| Position::from_degrees(lat, lon);
    /// let isle = vec![place(45.10, -30.14)?, place(45.10, -30.10)?, place(45.13, -30.10)?, place(45.13, -30.14)?];
    /// let coast = Coast::from_lines(vec![CoastLine::island(isle)], Metres::non_negative(10.0)?)?;
    /// let zones = ZoneSet::new(vec![]).with_coasts(vec![coast]);
    /// assert_eq!(zones.coasts().len(), 1);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn with_coasts(mut self, coasts: Vec<Coast>) -> Self {
        Arc::make_mut(&mut self.indexed).coasts = coasts;
        self
    }

    /// Returns the coasts that came with the zones.
    #[must_use]
    pub fn coasts(&self) -> &[Coast] {
        &self.indexed.coasts
    }

    /// Returns what was odd about the files that the zones were read from; nothing for zones that came another way.
    ///
    /// Show these to whoever keeps the files: they do not hold an answer back.
    #[must_use]
    pub fn warnings(&self) -> &[FileWarning] {
        &self.indexed.warnings
    }

    /// Returns the zones, in the order given.
    #[must_use]
    pub fn zones(&self) -> &[Zone] {
        &self.indexed.zones
    }

    /// What answers say of a zone, which must be that of this number in the set.
    pub(crate) fn summary(&self, number: usize, zone: &Zone) -> Arc<ZoneSummary> {
        let new = || Arc::new(ZoneSummary::from(zone));
        self.indexed.summaries.get(number).map_or_else(new, |kept| kept.get_or_init(new).clone())
    }

    /// Gives the zones back, in the order given; copies of them where somebody else still holds the set.
    pub(crate) fn into_zones(self) -> Vec<Zone> {
        Arc::try_unwrap(self.indexed).map_or_else(|shared| shared.zones.clone(), |indexed| indexed.zones)
    }

    /// Each zone with a handle of its own.
    pub(crate) fn members(&self) -> impl Iterator<Item = ZoneOfSet> + '_ {
        (0..self.zones().len()).map(|number| self.member(number))
    }

    /// The zone at a place in the set, with a handle of its own. The place must be one of the set.
    pub(crate) fn member(&self, number: usize) -> ZoneOfSet {
        ZoneOfSet { set: Arc::clone(&self.indexed), number }
    }

    /// Who displaces whom.
    pub(crate) fn overrides(&self) -> &OverrideGraph {
        &self.indexed.overrides
    }

    /// Returns zones whose overrides go round in a circle, each circle as places in [`Self::zones`], the first displacing
    /// the second and the last the first.
    ///
    /// Which of them binds nobody can say, so it stays undecided. A file with such a circle is refused when it is read;
    /// zones of several files can make one together, which is for the caller to refuse.
    #[must_use]
    pub fn override_circles(&self) -> &[Vec<usize>] {
        self.indexed.overrides.circles()
    }

    /// Zones whose line or inside may lie within `reach` of the position, whatever adds doubt to it counted, and the zone
    /// whose line is nearest of those that are known; each by its place in the set, with how far off the position lies.
    pub(crate) fn near(&self, position: Position, reach: Metres) -> Vec<(usize, Option<Off>)> {
        let placed = self.near_numbered(position, reach).into_iter();
        let anywhere = self.indexed.anywhere.iter().map(|number| (*number, None));
        let mut found: Vec<(usize, Option<Off>)> =
            placed.map(|(number, off)| (number, Some(off))).chain(anywhere).collect();
        found.sort_unstable_by_key(|(number, _)| *number);
        found
    }

    /// As [`Self::near`], by the places of the zones in the set, without those that may be anywhere.
    pub(crate) fn near_numbered(&self, position: Position, reach: Metres) -> Vec<(usize, Off)> {
        let here = surface(position);
        let reach_m = reach.metres() + 1.0;
        let mut found: Vec<(usize, Off)> = Vec::new();
        let mut nearest_m = f64::INFINITY;
        for (zone_box, distance_2) in
            self.indexed.boxes.nearest_neighbor_iter_with_distance_2(here.point.to_array())
        {
            // a chord is never longer than the geodesic, so a box farther than the nearest line holds no nearer one
            let box_m = distance_2.sqrt();
            if box_m > reach_m && box_m > nearest_m {
                break;
            }
            let number = zone_box.data;
            if let Some(boundary) = self.indexed.zones[number].extent.area() {
                let off = boundary.off_from(position, &here);
                if matches!(self.indexed.zones[number].extent, Extent::Known(_)) {
                    nearest_m = nearest_m.min(off.far.signed_distance.metres().abs());
                }
                found.push((number, off));
            }
        }
        found
    }

    /// The zones that may be anywhere, by their places in the set; in order.
    pub(crate) fn anywhere(&self) -> &[usize] {
        &self.indexed.anywhere
    }

    /// What zones whose lines are known hold together, by their places in the set; none where they cannot be joined.
    ///
    /// Built when it is first asked for and kept for the next fix.
    pub(crate) fn union_of(&self, numbers: Vec<usize>) -> Option<Arc<Boundary>> {
        self.indexed.unions.of(&self.indexed.zones, numbers)
    }

    /// The zones that are not just anywhere, by their places in the set, with how far off the box about each is, in
    /// metres; the nearest box first.
    pub(crate) fn boxes_about(&self, point: Vector) -> impl Iterator<Item = (usize, f64)> + '_ {
        self.indexed
            .boxes
            .nearest_neighbor_iter_with_distance_2(point.to_array())
            .map(|(zone_box, distance_2)| (zone_box.data, distance_2.sqrt()))
    }

    /// How far off the box about a zone is, in metres: its line, and what doubt is added to that, are no nearer. Zero where it
    /// has none.
    pub(crate) fn box_away_m(&self, number: usize, point: Vector) -> f64 {
        let about = self.indexed.box_of.get(number).copied().flatten();
        about.map_or(0.0, |about| about.distance_2(&point.to_array()).sqrt())
    }

    /// The zones whose boxes lie on some way so long between two places, or so near to either of them, in metres; in order.
    pub(crate) fn on_the_way(
        &self,
        (one, other): (Position, Position),
        way_m: f64,
        near_m: f64,
    ) -> Vec<usize> {
        let ends = [one, other].map(|place| surface(place).point.to_array());
        let within_m = way_m.max(near_m);
        let about =
            |end: [f64; 3]| AABB::from_corners(end.map(|at| at - within_m), end.map(|at| at + within_m));
        let mut found: Vec<usize> = ends
            .iter()
            .flat_map(|end| self.indexed.boxes.locate_in_envelope_intersecting(about(*end)))
            .filter(|zone_box| {
                let [one_m, other_m] = ends.map(|end| zone_box.distance_2(&end).sqrt());
                one_m + other_m <= way_m || one_m.min(other_m) <= near_m
            })
            .map(|zone_box| zone_box.data)
            .collect();
        found.sort_unstable();
        found.dedup();
        found
    }

    /// The boxes that hold the zones, by their least and largest corners, without zones that may be anywhere.
    pub(super) fn boxes(&self) -> impl Iterator<Item = ([f64; 3], [f64; 3])> + '_ {
        self.indexed.box_of.iter().flatten().map(|held| (held.lower(), held.upper()))
    }

    /// How far off the nearest box about any zone is, in metres; infinite if there is none.
    pub(crate) fn nearest_box_m(&self, point: Vector) -> f64 {
        let nearest = self.indexed.boxes.nearest_neighbor_iter_with_distance_2(point.to_array()).next();
        nearest.map_or(f64::INFINITY, |(_, distance_2)| distance_2.sqrt())
    }

    /// Whether any zone may be within so many metres; no where none is, because a chord is no longer than the geodesic.
    pub(crate) fn has_box_within(&self, position: Position, distance_m: f64) -> bool {
        self.nearest_box_m(surface(position).point) <= distance_m
    }

    /// Every zone, with how far off the position lies.
    pub(crate) fn all(&self, position: Position) -> Vec<(usize, Option<Off>)> {
        let here = surface(position);
        let off = |zone: &Zone| zone.extent.area().map(|boundary| boundary.off_from(position, &here));
        self.indexed.zones.iter().enumerate().map(|(number, zone)| (number, off(zone))).collect()
    }
}

/// A box in earth-centred axes that holds a zone, and what line, datum, readings and arcs may add to it on every side, by its
/// least and its largest corner; none for a zone that may be anywhere.
pub(crate) fn box_about(zone: &Zone) -> Option<([f64; 3], [f64; 3])> {
    let boundary = zone.extent.area()?;
    let (low, high) = boundary.enclosing_box();
    // the readings of unstated edges lie in the box already
    let doubt_m = zone.line_doubt_m() + boundary.largest_closure_error_m();
    Some((low.map(|at_m| at_m - doubt_m), high.map(|at_m| at_m + doubt_m)))
}

/// One zone of a set, which keeps the set alive.
#[derive(Debug, Clone)]
pub(crate) struct ZoneOfSet {
    set: Arc<Indexed>,
    number: usize,
}

impl ZoneOfSet {
    /// The place of the zone in its set.
    pub(crate) fn number(&self) -> usize {
        self.number
    }
}

impl Deref for ZoneOfSet {
    type Target = Zone;

    fn deref(&self) -> &Zone {
        &self.set.zones[self.number]
    }
}

impl Default for ZoneSet {
    /// No zones at all.
    fn default() -> Self {
        Self::new(Vec::new())
    }
}

impl FromIterator<Zone> for ZoneSet {
    fn from_iter<I: IntoIterator<Item = Zone>>(zones: I) -> Self {
        Self::new(zones.into_iter().collect())
    }
}

impl Extent {
    /// The known boundary, or the area somewhere in which the unknown one lies.
    pub(crate) fn area(&self) -> Option<&Boundary> {
        match self {
            Self::Known(boundary) => Some(boundary),
            Self::Unknown { somewhere_in, .. } => somewhere_in.as_ref(),
        }
    }
}
