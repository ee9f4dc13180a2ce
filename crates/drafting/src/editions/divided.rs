//! Zones that were split, and zones that were joined.

use geo::{Area, BooleanOps, MultiPolygon};
use takeline::zone::{Extent, Zone};

use super::plane::Plane;
use super::water::less;

/// So much of a zone has to lie in the pieces, and of each piece in the zone, for a split to be plain.
const PLAIN_SHARE: f64 = 0.95;
/// More zones than this beside each other are not searched for pieces.
const MOST_ZONES: usize = 2_000;

/// A zone that became several, or several that became one, by their water. They are among the zones changed, added and removed,
/// too.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub enum Division<'a> {
    /// One zone became these.
    Split {
        /// The zone of the old edition.
        from: &'a Zone,
        /// The zones of the new one.
        into: Vec<&'a Zone>,
    },
    /// These became one.
    Joined {
        /// The zones of the old edition.
        from: Vec<&'a Zone>,
        /// The zone of the new one.
        into: &'a Zone,
    },
}

/// Finds the zones that were plainly split and joined, among those whose line changed or which only one edition has.
pub(super) fn find<'a>(old: &[&'a Zone], new: &[&'a Zone]) -> Vec<Division<'a>> {
    if old.len() > MOST_ZONES || new.len() > MOST_ZONES {
        return Vec::new();
    }
    let split = old.iter().filter_map(|from| Some(Division::Split { from, into: pieces(from, new)? }));
    let joined = new.iter().filter_map(|into| Some(Division::Joined { from: pieces(into, old)?, into }));
    split.chain(joined).collect()
}

/// The zones that make up another one; none unless there are several, and they do so plainly.
fn pieces<'a>(whole: &Zone, candidates: &[&'a Zone]) -> Option<Vec<&'a Zone>> {
    let Extent::Known(boundary) = &whole.extent else { return None };
    let middle = boundary.outlines().first()?.first().copied()?;
    let plane = Plane::about(middle);
    let shape = plane.shape(boundary).ok()?;
    let area_m2 = shape.unsigned_area();
    let mut found: Vec<&Zone> = Vec::new();
    let mut all: MultiPolygon = MultiPolygon::new(Vec::new());
    for candidate in candidates {
        let Extent::Known(other) = &candidate.extent else { continue };
        let other_m2 = other.area_m2();
        // one that has nearly all of it is it, and no piece
        if other_m2 > PLAIN_SHARE * area_m2 || !may_meet(boundary, other) {
            continue;
        }
        let Ok(piece) = plane.shape(other) else { continue };
        if less(&piece, &shape).unsigned_area() <= (1.0 - PLAIN_SHARE) * other_m2 {
            all = all.union(&piece);
            found.push(candidate);
        }
    }
    let is_plain = found.len() > 1 && less(&shape, &all).unsigned_area() <= (1.0 - PLAIN_SHARE) * area_m2;
    is_plain.then_some(found)
}

/// Whether a piece may lie in a zone: its first place does, or the zone's line is near.
fn may_meet(whole: &takeline::Boundary, piece: &takeline::Boundary) -> bool {
    let first = piece.outlines().first().and_then(|ring| ring.first().copied());
    let reach_m = piece.perimeter().metres();
    first.is_some_and(|first| whole.locate(first).signed_distance.metres() <= reach_m)
}
