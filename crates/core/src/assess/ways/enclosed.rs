//! Whether a clear place is enclosed by water that is not.

use crate::angle::wrap_degrees;
use crate::geodesic::inverse;
use crate::zone::ZoneSet;
use crate::{Boundary, Position};

/// Whether the outline of what some zones hold together runs round a place that is not inside of them.
///
/// A gap of more than 1 mm is open water here; where zones cannot be joined each is looked at by itself.
pub(super) fn is_enclosed(zones: &ZoneSet, numbers: &[usize], place: Position) -> bool {
    let own = |number: &usize| zones.zones().get(*number).and_then(|zone| zone.extent.area());
    match zones.union_of(numbers.to_vec()) {
        Some(joined) => runs_round(&joined, place),
        None => numbers.iter().filter_map(own).any(|boundary| runs_round(boundary, place)),
    }
}

fn runs_round(boundary: &Boundary, place: Position) -> bool {
    // inside, one of its rings runs round every place
    boundary.how_far(place).signed_distance.metres() > 0.0
        && boundary.outlines().iter().any(|ring| turns(ring, place).abs() > 180.0)
}

/// How far one turns, in degrees, who looks from a place along a ring: a whole turn if it runs round the place.
fn turns(ring: &[Position], place: Position) -> f64 {
    let bearings: Vec<f64> = ring.iter().map(|vertex| inverse(place, *vertex).azimuth_start_deg).collect();
    let next = bearings.iter().cycle().skip(1);
    let turn = |(from, to): (&f64, &f64)| wrap_degrees(to - from);
    bearings.iter().zip(next).map(turn).sum()
}
