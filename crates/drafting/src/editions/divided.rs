//! Zones that were split, and zones that were joined.

use takeline::zone::{Extent, Zone};

use super::reach::ByReach;
use super::sheet::{Piece, Sheet, less, outline};

/// So much of a zone has to lie in the pieces, and of each piece in the zone, for a split to be plain.
const PLAIN_SHARE: f64 = 0.95;
/// Where more zones than this lie about one, it is not looked for among them: nothing would be plain.
const MOST_ABOUT: usize = 500;

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
    let (of_old, of_new) = (ByReach::of(old.iter().copied()), ByReach::of(new.iter().copied()));
    let split =
        old.iter().filter_map(|from| Some(Division::Split { from, into: pieces(from, new, &of_new)? }));
    let joined =
        new.iter().filter_map(|into| Some(Division::Joined { from: pieces(into, old, &of_old)?, into }));
    split.chain(joined).collect()
}

/// The zones that make up another one; none unless there are several, and they do so plainly.
fn pieces<'a>(whole: &Zone, others: &[&'a Zone], by_reach: &ByReach) -> Option<Vec<&'a Zone>> {
    let Extent::Known(boundary) = &whole.extent else { return None };
    let area_m2 = boundary.area_m2();
    let mut about = Vec::new();
    for at in by_reach.near(boundary) {
        let Extent::Known(other) = &others[at].extent else { continue };
        // one that has nearly all of it is it, and no piece
        if other.area_m2() <= PLAIN_SHARE * area_m2 {
            about.push((at, other));
        }
    }
    if !(2..=MOST_ABOUT).contains(&about.len()) {
        return None;
    }
    let shape = outline(boundary).ok()?;
    let shapes =
        about.into_iter().filter_map(|(at, other)| Some((at, other.area_m2(), outline(other).ok()?)));
    let shapes: Vec<_> = shapes.collect();
    let sheet = Sheet::about(shapes.iter().flat_map(|(_, _, shape)| shape).chain(&shape));
    let shape = sheet.lay(&shape);
    let whole: Vec<&Piece> = shape.iter().collect();
    let (mut found, mut together) = (Vec::new(), Vec::new());
    for (at, other_m2, other) in shapes {
        let piece = sheet.lay(&other);
        let outside_m2 = less(&piece.iter().collect::<Vec<_>>(), &whole).area_m2;
        if outside_m2 <= (1.0 - PLAIN_SHARE) * other_m2 {
            found.push(others[at]);
            together.extend(piece);
        }
    }
    let missing_m2 = || less(&whole, &together.iter().collect::<Vec<_>>()).area_m2;
    (found.len() > 1 && missing_m2() <= (1.0 - PLAIN_SHARE) * area_m2).then_some(found)
}
