//! A fix on the border of closed zones: whether every place that it may mean lies in one or another of them.

use super::Question;
use super::water::Standing;
use crate::geodesic::direct;
use crate::zone::{Datum, Extent, Zone};
use crate::{Boundary, Fix, Position};

/// A gap between two closed zones narrower than twice this, in metres, holds no boat: it is as wide as a kayak.
const GAP_M: f64 = 0.25;
/// Beyond this radius, in metres, a plane about the fix is no longer good enough.
const LARGEST_M: f64 = 100_000.0;
/// No more distances than this are asked for; beyond it the answer stays undecided.
const MOST_DISTANCES: usize = 40_000;

/// A closed zone, and how far inside its line a place has to be to be surely inside, in metres.
struct Closing<'a> {
    boundary: &'a Boundary,
    margin_m: f64,
}

/// Whether nothing may be taken at any place within the 95 % circle of the fix, because each lies in a closed zone.
///
/// Never yes wrongly: a signed distance changes by no more than the way made (it is 1-Lipschitz), so a square whose middle
/// is deeper in a zone than its corners are far lies wholly inside. Squares that no zone holds are quartered, until they are
/// smaller than any boat or have cost too much; a zone that is nowhere near a square is not asked about its quarters. What the lines themselves may be off counts against each zone; a shift of the datum
/// that all share moves the circle instead.
pub(super) fn closed_wherever_it_is<'z>(fix: &Fix, question: &Question, standings: &[Standing<'z>]) -> bool {
    let candidates: Vec<&Standing<'z>> = standings.iter().filter(|standing| standing.may_close()).collect();
    // one zone alone has been asked already; an ellipse is narrower than the circle, and cautiously not used
    if candidates.len() < 2 || question.ellipse_95.is_some() {
        return false;
    }
    let first = candidates[0].placed.zone;
    let share_a_datum = candidates
        .iter()
        .all(|one| one.placed.zone.datum == first.datum && one.placed.zone.file.sha256 == first.file.sha256);
    let shift_m = if share_a_datum { first.datum.uncertainty_95().metres() } else { 0.0 };
    let closing = |zone: &'z Zone| {
        let Extent::Known(boundary) = &zone.extent else { return None };
        let datum_m = if share_a_datum || zone.datum == Datum::Wgs84 {
            0.0
        } else {
            zone.datum.uncertainty_95().metres()
        };
        Some(Closing { boundary, margin_m: zone.line_uncertainty.metres() + datum_m })
    };
    let closing: Vec<Closing<'_>> = candidates.iter().filter_map(|one| closing(one.placed.zone)).collect();
    let radius_m = fix.uncertainty.radius_95().metres().hypot(shift_m);
    radius_m <= LARGEST_M && covers(&closing, fix.position, radius_m)
}

/// A square about a place by the fix, and the zones that may hold some of it.
struct Square<'a, 'b> {
    east_m: f64,
    north_m: f64,
    half_m: f64,
    zones: Vec<&'b Closing<'a>>,
}

/// Whether the zones together hold the circle.
fn covers(closing: &[Closing<'_>], middle: Position, radius_m: f64) -> bool {
    let whole =
        Square { east_m: 0.0, north_m: 0.0, half_m: radius_m.max(GAP_M), zones: closing.iter().collect() };
    let mut open = vec![whole];
    let mut distances = 0;
    while let Some(square) = open.pop() {
        if square.is_beyond(radius_m) {
            continue;
        }
        distances += square.zones.len();
        if distances > MOST_DISTANCES {
            return false;
        }
        match square.held(middle) {
            Held::Whole => {}
            Held::NotEvenItsMiddle => return false,
            Held::Perhaps(zones) => open.extend(square.quarters(&zones)),
        }
    }
    true
}

/// Whether zones hold a square.
enum Held<'a, 'b> {
    /// One of them holds all of it.
    Whole,
    /// None of them holds its middle.
    NotEvenItsMiddle,
    /// It has to be looked at more closely, in these zones; no others come near it.
    Perhaps(Vec<&'b Closing<'a>>),
}

impl<'a, 'b> Square<'a, 'b> {
    /// Whether it lies wholly outside a circle about the fix.
    fn is_beyond(&self, radius_m: f64) -> bool {
        let nearest = |at_m: f64| (at_m.abs() - self.half_m).max(0.0);
        nearest(self.east_m).hypot(nearest(self.north_m)) > radius_m
    }

    fn held(&self, fix: Position) -> Held<'a, 'b> {
        // squares are flat and the sea is not; over the radius of a fix that is far below the gap, and is counted all the same
        let bent_m = 1e-3 * self.half_m;
        let reach_m = self.half_m * std::f64::consts::SQRT_2 + bent_m;
        let away_m = self.east_m.hypot(self.north_m);
        let place = direct(fix, self.east_m.atan2(self.north_m).to_degrees(), away_m);
        let mut deepest_m = f64::INFINITY;
        let mut near = Vec::new();
        for zone in &self.zones {
            let inside_m = zone.least_inside_m(place);
            deepest_m = deepest_m.min(inside_m);
            if inside_m - reach_m <= GAP_M {
                near.push(*zone);
            }
        }
        if deepest_m + reach_m <= GAP_M {
            Held::Whole
        } else if deepest_m > GAP_M {
            Held::NotEvenItsMiddle
        } else {
            Held::Perhaps(near)
        }
    }

    fn quarters(&self, zones: &[&'b Closing<'a>]) -> [Self; 4] {
        let half_m = self.half_m / 2.0;
        [(-1.0, -1.0), (-1.0, 1.0), (1.0, -1.0), (1.0, 1.0)].map(|(east, north)| Self {
            east_m: self.east_m + east * half_m,
            north_m: self.north_m + north * half_m,
            half_m,
            zones: zones.to_vec(),
        })
    }
}

impl Closing<'_> {
    /// The signed distance, all that may make it larger counted, in metres.
    fn least_inside_m(&self, place: Position) -> f64 {
        let located = self.boundary.locate(place);
        located.greatest.metres() + self.boundary.largest_misfit_m() + self.margin_m
    }
}
