//! Lines, marks and positions against the coasts supplied: what lies surely over land, and what surely in the water.
//!
//! A coast never changes what is said of a zone. Land is told, or left out at the ends of a stretch where nobody said from where
//! to where the marks are used; and only where the coast is sure of it.

use super::{Problem, ProblemReason, RangeLine, Stretch};
use crate::coast::Coast;
use crate::landmark::Landmark;
use crate::{Metres, Position, Tristate};

/// The line is looked at no closer than this, in metres: narrower land may be missed.
const CLOSEST_LOOK_M: f64 = 1.0;
/// No line is looked at in more places than this.
const MOST_LOOKS: f64 = 20_000.0;
/// Kinds of marks that stand in the water, or on a rock that a coast need not draw.
const IN_WATER: [&str; 12] = [
    "buoy", "dolphin", "islet", "perch", "pile", "pole", "post", "rock", "skerry", "stack", "stake", "withy",
];

/// The parts of a stretch that are surely over land, as distances from the front mark, the nearest first.
///
/// Each begins and ends within a metre of where the coast is sure, or 1/20 000 of the stretch.
pub(super) fn over_land_m(line: &RangeLine, stretch: Stretch, coasts: &[Coast]) -> Vec<[f64; 2]> {
    let mut parts: Vec<[f64; 2]> = Vec::new();
    if coasts.is_empty() {
        return parts;
    }
    let (near_m, far_m) = (stretch.near().metres(), stretch.far().metres());
    let closest_m = CLOSEST_LOOK_M.max((far_m - near_m) / MOST_LOOKS);
    let (mut at_m, mut was_land) = (near_m, false);
    loop {
        let (is_land, holds_m) = surely_on_land(line.at(Metres::computed(at_m)), coasts);
        let until_m = (at_m + holds_m).min(far_m);
        match parts.last_mut() {
            Some(part) if is_land && was_land => part[1] = until_m,
            _ if is_land => parts.push([at_m, until_m]),
            _ => {}
        }
        if at_m >= far_m {
            break;
        }
        was_land = is_land;
        at_m = (at_m + holds_m.max(closest_m)).min(far_m);
    }
    parts.retain(|[from_m, to_m]| to_m > from_m);
    parts
}

/// Whether any coast is sure of land at a place, and for how many metres in every direction that cannot change.
fn surely_on_land(place: Position, coasts: &[Coast]) -> (bool, f64) {
    let mut holds_m = f64::INFINITY;
    for coast in coasts {
        let seen = coast.see(place);
        let within_m = (seen.away_m - coast.uncertainty.metres()).abs();
        if seen.is_on_land == Tristate::Yes {
            return (true, within_m);
        }
        holds_m = holds_m.min(within_m);
    }
    (false, holds_m)
}

/// The stretch without the land at its ends, and the parts that were left out; as it was where no water is left.
pub(super) fn afloat(stretch: Stretch, land_m: &[[f64; 2]]) -> (Stretch, Vec<[f64; 2]>) {
    let (near_m, far_m) = (stretch.near().metres(), stretch.far().metres());
    let first = land_m.first().filter(|part| part[0] <= near_m);
    let last = land_m.last().filter(|part| part[1] >= far_m);
    let (begins_m, ends_m) = (first.map_or(near_m, |part| part[1]), last.map_or(far_m, |part| part[0]));
    match Stretch::new(Metres::computed(begins_m), Metres::computed(ends_m)) {
        Ok(afloat) => (afloat, first.into_iter().chain(last).copied().collect()),
        Err(_) => (stretch, Vec::new()),
    }
}

/// What is to be said of a stretch of which these parts are over land.
pub(super) fn problem_of_line(stretch: Stretch, land_m: &[[f64; 2]]) -> Option<Problem> {
    let whole = [stretch.near().metres(), stretch.far().metres()];
    match land_m {
        [] => None,
        [[from_m, to_m]] if *from_m <= whole[0] && *to_m >= whole[1] => {
            Some(Problem::error(ProblemReason::OverLand))
        }
        parts_m => Some(Problem::warning(ProblemReason::OverLandInPart { parts_m: parts_m.to_vec() })),
    }
}

/// Whether a mark stands in the water by every coast, farther off the land than either may be off, though its kind does not.
///
/// A kind that is not given counts as one that stands on land.
pub(super) fn problem_of_mark(mark: &Landmark, coasts: &[Coast]) -> Option<Problem> {
    let kind = mark.kind.as_deref().unwrap_or_default().to_lowercase();
    if kind.split(|letter: char| !letter.is_alphanumeric()).any(|word| IN_WATER.contains(&word)) {
        return None;
    }
    let distance_m = off_the_coast_m(mark.position, mark.position_error_95, coasts)?;
    Some(Problem::warning(ProblemReason::MarkInWater { mark: mark.name.clone(), distance_m }))
}

/// Whether a position with its 95 % radius is on land by a coast.
pub(super) fn problem_of_position(
    position: Position,
    radius_95: Metres,
    coasts: &[Coast],
) -> Option<Problem> {
    let inland_m = |coast: &Coast| coast.see(position).surely_inland_m(radius_95.metres());
    let distance_m = coasts.iter().find_map(inland_m)?;
    Some(Problem::warning(ProblemReason::PositionOnLand { distance_m }))
}

/// How far off the nearest coast a place in the water is, in metres, if it is so by all of them and none may be so near that its doubt
/// and that of the place leave it open.
fn off_the_coast_m(place: Position, doubt: Metres, coasts: &[Coast]) -> Option<f64> {
    let mut nearest_m: Option<f64> = None;
    for coast in coasts {
        let away_m = coast.see(place).in_water_m();
        if away_m <= coast.uncertainty.metres().hypot(doubt.metres()) {
            return None;
        }
        nearest_m = Some(nearest_m.map_or(away_m, |nearest_m| nearest_m.min(away_m)));
    }
    nearest_m
}
