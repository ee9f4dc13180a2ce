//! How far about a fix an answer looks, so that nobody has to load the zones beyond.

use super::Question;
use super::located_zone::LocatedZone;
use super::resolve::{longest_way_m, place_all};
use crate::zone::ZoneSet;
use crate::{Containment, Fix, Metres};

/// Added to every bound, in metres: far above what all rounding and the accuracy of distances come to.
const SPARE_M: f64 = 5.0;

impl ZoneSet {
    /// How far off a box about a zone can be and still be looked at by [`ZoneSet::assess`], in metres in a straight line from
    /// the fix; infinite where no line is known.
    ///
    /// A zone whose box is farther may be added to the set or left out: the answer is the same but for what
    /// [`ZoneSet::likely_misreading`] finds elsewhere, for overrides (which go by ids), for the names of fish and gear, and
    /// for a question that asks for all zones.
    ///
    /// Why: the set is only ever asked for what is near the fix or near a place that a move leads to from it, and goes through
    /// its boxes from the nearest on, until they are beyond both the reach asked for and the nearest known line
    /// ([`ZoneSet::near_numbered`]). A straight line is no longer than the geodesic, so a box that holds a line is no farther
    /// than it; and no distance to a line changes by more than the way made.
    pub(crate) fn farthest_box_asked_m(&self, fix: &Fix, question: &Question) -> f64 {
        let placed = place_all(self, fix, question);
        let radius_m = fix.uncertainty.radius_95().metres();
        let reach_m = radius_m + question.standoff.map_or(0.0, Metres::metres);
        let known = placed.iter().filter(|one| one.is_known()).filter_map(LocatedZone::far);
        let to_lines_m = known.map(|far| {
            let readings = [far.signed_distance, far.least, far.greatest];
            readings.map(|distance| distance.metres().abs()).into_iter().fold(0.0, f64::max)
        });
        let nearest_m = to_lines_m.fold(f64::INFINITY, f64::min);
        let undecided = placed.iter().filter(|one| one.side == Containment::Undecided);
        let needed_m =
            undecided.filter_map(LocatedZone::distance).map(|(distance_m, doubt_m)| doubt_m - distance_m);
        let way_m = needed_m.map(longest_way_m).fold(0.0, f64::max);
        // at the end of a move the same is asked, and before it what lies on its way, for which the fix may be off too
        nearest_m.max(reach_m) + radius_m + 2.0 * way_m + SPARE_M
    }
}
