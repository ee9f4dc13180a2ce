//! A fix on the border of several zones: whether every place that it may mean lies in one or another of them.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::Question;
use super::water::Standing;
use crate::geodesic::direct;
use crate::zone::{Datum, Extent, ZoneSet};
use crate::{Boundary, Fix, Position};

/// Squares are quartered no further than to this, half a side in metres: what then is open stays open.
const LEAST_HALF_M: f64 = 0.02;
/// Beyond this radius, in metres, a plane about the fix is no longer good enough.
const LARGEST_M: f64 = 100_000.0;
/// No more distances than this are asked for; beyond it the answer stays undecided.
const MOST_DISTANCES: usize = 40_000;

/// Water that surely holds every place farther inside its line than the margin.
struct Holding<'z> {
    outline: Outline<'z>,
    margin_m: f64,
}

/// The line of one zone, or of several together.
enum Outline<'z> {
    Own(&'z Boundary),
    Joined(Arc<Boundary>),
}

/// Whether every place within the 95 % circle of the fix lies in one or another of these zones.
///
/// Zones that stand or fall together are asked as one, by the outline of what they hold: those whose lines have no doubt of
/// their own and whose datum is the same, or the same unknown one because it is that of their file; edges that are not stated
/// are read alike where one law of one file draws them. Where lines may be off for themselves, each zone counts only so far
/// inside as that. A gap of more than 1 mm is open water.
///
/// Never yes wrongly: a signed distance changes by no more than the way made (it is 1-Lipschitz), so a circle lies wholly
/// inside if its middle lies deeper than its radius, and a square if its middle is deeper than its corners are far. Where no
/// one outline holds the circle, squares that none holds are quartered, until they are small or have cost too much.
pub(super) fn lies_in_one_or_another(
    zones: &ZoneSet,
    (fix, question): (&Fix, &Question),
    candidates: &[&Standing<'_>],
) -> bool {
    // one zone alone has been asked already; an ellipse is narrower than the circle, and cautiously not used
    if candidates.len() < 2 || question.ellipse_95.is_some() {
        return false;
    }
    let datums: Vec<DatumGroup<'_>> = candidates.iter().map(|one| DatumGroup::of(one)).collect();
    let is_one_datum = datums.iter().all(|group| *group == datums[0] && *group != DatumGroup::Own);
    // what all share moves the circle instead of the zones
    let shift_m = if is_one_datum { datum_m(candidates[0]) } else { 0.0 };
    let radius_m = fix.uncertainty.radius_95().metres().hypot(shift_m);
    let holding = holding(zones, candidates, is_one_datum);
    radius_m <= LARGEST_M && covers(&holding, fix.position, radius_m)
}

/// Zones whose datum puts them off by the same.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum DatumGroup<'a> {
    Wgs84,
    OfTheFile(&'a str),
    Own,
}

impl<'a> DatumGroup<'a> {
    fn of(standing: &Standing<'a>) -> Self {
        let zone = standing.placed.zone;
        match zone.datum {
            Datum::Wgs84 => Self::Wgs84,
            Datum::NearWgs84(_) | Datum::Unstated if zone.datum_is_of_the_file => {
                Self::OfTheFile(&zone.file.sha256)
            }
            Datum::NearWgs84(_) | Datum::Unstated => Self::Own,
        }
    }
}

fn datum_m(standing: &Standing<'_>) -> f64 {
    standing.placed.zone.datum.uncertainty_95().metres()
}

/// The text that leaves open how edges run; none where none is left open.
type Reading<'a> = Option<(&'a str, &'a str)>;

/// What the zones hold: joined where they may be, each by itself where not.
fn holding<'z>(zones: &'z ZoneSet, candidates: &[&Standing<'z>], is_one_datum: bool) -> Vec<Holding<'z>> {
    let mut groups: BTreeMap<DatumGroup<'_>, BTreeMap<Reading<'_>, Vec<usize>>> = BTreeMap::new();
    let mut holding = Vec::new();
    for one in candidates {
        let zone = one.placed.zone;
        let Extent::Known(boundary) = &zone.extent else { continue };
        let datum_m = if is_one_datum { 0.0 } else { datum_m(one) };
        let (line_m, group) = (zone.line_uncertainty.metres(), DatumGroup::of(one));
        if line_m > 0.0 || !boundary.keeps_to_its_arcs() || group == DatumGroup::Own {
            holding.push(Holding { outline: Outline::Own(boundary), margin_m: line_m + datum_m });
            continue;
        }
        let law = (zone.file.sha256.as_str(), zone.source.instrument.as_str());
        let reading = (!boundary.is_read_one_way()).then_some(law);
        groups.entry(group).or_default().entry(reading).or_default().push(one.placed.number);
    }
    for readings in groups.values() {
        let plain = readings.get(&None).map_or(&[][..], Vec::as_slice);
        let several = readings.iter().filter(|(reading, _)| reading.is_some()).map(|(_, several)| several);
        let mut joined: Vec<Vec<usize>> =
            several.map(|several| several.iter().chain(plain).copied().collect()).collect();
        if joined.is_empty() {
            joined.push(plain.to_vec());
        }
        for numbers in joined {
            let datum_m = zones.zones()[numbers[0]].datum.uncertainty_95().metres();
            let margin_m = if is_one_datum { 0.0 } else { datum_m };
            let outlines = outlines(zones, &numbers).into_iter();
            holding.extend(outlines.map(|outline| Holding { outline, margin_m }));
        }
    }
    holding
}

/// One outline, or that of each zone where they cannot be joined.
fn outlines<'z>(zones: &'z ZoneSet, numbers: &[usize]) -> Vec<Outline<'z>> {
    let own = || {
        let known = numbers.iter().filter_map(|number| match &zones.zones()[*number].extent {
            Extent::Known(boundary) => Some(Outline::Own(boundary)),
            Extent::Unknown { .. } => None,
        });
        known.collect()
    };
    if numbers.len() < 2 {
        return own();
    }
    match zones.union_of(numbers.to_vec()) {
        Some(joined) => vec![Outline::Joined(joined)],
        None => own(),
    }
}

/// A square about a place by the fix, and what may hold some of it.
struct Square<'b, 'z> {
    east_m: f64,
    north_m: f64,
    half_m: f64,
    near: Vec<&'b Holding<'z>>,
}

/// Whether the circle is held.
fn covers(holding: &[Holding<'_>], middle: Position, radius_m: f64) -> bool {
    if holding.iter().any(|one| one.least_inside_m(middle) <= -radius_m) {
        return true;
    }
    if holding.len() < 2 {
        return false;
    }
    let whole = Square { east_m: 0.0, north_m: 0.0, half_m: radius_m, near: holding.iter().collect() };
    let mut open = vec![whole];
    let mut distances = 0;
    while let Some(square) = open.pop() {
        if square.is_beyond(radius_m) {
            continue;
        }
        distances += square.near.len();
        if distances > MOST_DISTANCES {
            return false;
        }
        match square.held(middle) {
            Held::Whole => {}
            Held::NotEvenItsMiddle => return false,
            Held::Perhaps(_) if square.half_m < LEAST_HALF_M => return false,
            Held::Perhaps(near) => open.extend(square.quarters(&near)),
        }
    }
    true
}

/// Whether a square is held.
enum Held<'b, 'z> {
    /// One outline holds all of it.
    Whole,
    /// None holds its middle.
    NotEvenItsMiddle,
    /// It has to be looked at more closely, in these; no others come near it.
    Perhaps(Vec<&'b Holding<'z>>),
}

impl<'b, 'z> Square<'b, 'z> {
    /// Whether it lies wholly outside a circle about the fix.
    fn is_beyond(&self, radius_m: f64) -> bool {
        let nearest = |at_m: f64| (at_m.abs() - self.half_m).max(0.0);
        nearest(self.east_m).hypot(nearest(self.north_m)) > radius_m
    }

    fn held(&self, fix: Position) -> Held<'b, 'z> {
        // squares are flat and the sea is not; over the radius of a fix that is far below this, and is counted all the same
        let bent_m = 1e-3 * self.half_m;
        let reach_m = self.half_m * std::f64::consts::SQRT_2 + bent_m;
        let away_m = self.east_m.hypot(self.north_m);
        let place = direct(fix, self.east_m.atan2(self.north_m).to_degrees(), away_m);
        let mut deepest_m = f64::INFINITY;
        let mut near = Vec::new();
        for one in &self.near {
            let inside_m = one.least_inside_m(place);
            deepest_m = deepest_m.min(inside_m);
            if inside_m - reach_m <= 0.0 {
                near.push(*one);
            }
        }
        if deepest_m + reach_m <= 0.0 {
            Held::Whole
        } else if deepest_m > 0.0 {
            Held::NotEvenItsMiddle
        } else {
            Held::Perhaps(near)
        }
    }

    fn quarters(&self, near: &[&'b Holding<'z>]) -> [Self; 4] {
        let half_m = self.half_m / 2.0;
        [(-1.0, -1.0), (-1.0, 1.0), (1.0, -1.0), (1.0, 1.0)].map(|(east, north)| Self {
            east_m: self.east_m + east * half_m,
            north_m: self.north_m + north * half_m,
            half_m,
            near: near.to_vec(),
        })
    }
}

impl Holding<'_> {
    /// The signed distance, all that may make it larger counted, in metres.
    fn least_inside_m(&self, place: Position) -> f64 {
        let boundary = match &self.outline {
            Outline::Own(boundary) => *boundary,
            Outline::Joined(boundary) => boundary,
        };
        let far = boundary.how_far(place);
        far.greatest.metres() + boundary.largest_closure_error_m() + self.margin_m
    }
}
