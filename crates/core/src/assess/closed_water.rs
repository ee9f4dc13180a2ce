//! A fix on the border of closed zones: whether every place that it may mean lies in one or another of them.

use super::Question;
use super::water::Standing;
use crate::geodesic::direct;
use crate::zone::{Datum, Extent, Zone};
use crate::{Boundary, Fix, Position};

/// A gap between two closed zones narrower than twice this, in metres, holds no boat.
const GAP_M: f64 = 0.05;
/// Beyond this radius, in metres, a plane about the fix is no longer good enough.
const LARGEST_M: f64 = 100_000.0;
/// No more squares than this are looked at; beyond it the answer stays undecided.
const MOST_SQUARES: usize = 20_000;

/// A closed zone, and how far inside its line a place has to be to be surely inside, in metres.
struct Closing<'a> {
    boundary: &'a Boundary,
    margin_m: f64,
}

/// Whether nothing may be taken at any place within the 95 % circle of the fix, because each lies in a closed zone.
///
/// Never yes wrongly: a signed distance changes by no more than the way made (it is 1-Lipschitz), so a square whose middle
/// is deeper in a zone than its corners are far lies wholly inside. Squares that no zone holds are quartered, until they are
/// smaller than any boat or too many. What the lines themselves may be off counts against each zone; a shift of the datum
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

/// Whether the zones together hold the circle.
fn covers(closing: &[Closing<'_>], middle: Position, radius_m: f64) -> bool {
    let mut open = vec![([0.0, 0.0], radius_m.max(GAP_M))];
    let mut looked_at = 0;
    while let Some(([east_m, north_m], half_m)) = open.pop() {
        let nearest = |at_m: f64| (f64::abs(at_m) - half_m).max(0.0);
        if nearest(east_m).hypot(nearest(north_m)) > radius_m {
            continue;
        }
        looked_at += 1;
        if looked_at > MOST_SQUARES {
            return false;
        }
        // squares are flat and the sea is not; over the radius of a fix that is far below the gap, and is counted all the same
        let bent_m = 1e-3 * half_m;
        let reach_m = half_m * std::f64::consts::SQRT_2 + bent_m;
        let away_m = east_m.hypot(north_m);
        let place = direct(middle, east_m.atan2(north_m).to_degrees(), away_m);
        let deepest_m = closing.iter().map(|zone| zone.least_inside_m(place)).fold(f64::INFINITY, f64::min);
        if deepest_m + reach_m <= GAP_M {
            continue;
        }
        if deepest_m > GAP_M {
            // this very place is in none of them
            return false;
        }
        let quarter_m = half_m / 2.0;
        for (east, north) in [(-1.0, -1.0), (-1.0, 1.0), (1.0, -1.0), (1.0, 1.0)] {
            open.push(([east_m + east * quarter_m, north_m + north * quarter_m], quarter_m));
        }
    }
    true
}

impl Closing<'_> {
    /// The signed distance, all that may make it larger counted, in metres.
    fn least_inside_m(&self, place: Position) -> f64 {
        let located = self.boundary.locate(place);
        located.greatest.metres() + self.boundary.largest_misfit_m() + self.margin_m
    }
}
