//! Walking along a level step by step, from the distance alone: slower than halving, and sure where inlets are about as wide as
//! twice the stand-off, so that no straight line between two places says what lies between them.

use takeline::{GeodesicSegment, Position};

use super::StandOffSide;
use super::level::{Level, gap_m, leaving, part_of, turn_cos};

/// The longest step, in metres.
const LONGEST_M: f64 = 20.0;
/// Shorter steps than this, in metres, come to no end.
const SHORTEST_M: f64 = 0.05;
/// The shares of a step at which it is looked at.
const LOOKED_AT: [f64; 3] = [0.25, 0.5, 0.75];
/// Less than any degree of latitude, in metres.
const METRES_A_DEGREE: f64 = 110_000.0;
/// Where something else comes near is found to this, in metres.
const FOUND_TO_M: f64 = 0.0005;
/// A corner is found to this share of the tolerance.
const CORNER_SHARE: f64 = 0.25;
/// More steps than any inlet needs.
const MOST_STEPS: usize = 50_000;
/// The cosine of the greatest turn between the last step and the way of the place that is walked to: what runs back past it is another arm.
const SAME_WAY: f64 = 0.5;

impl Level<'_> {
    /// The places between two of one level, with the zones on the left, so close together that straight lines keep to it within a
    /// tolerance, in metres. None where the walk does not arrive.
    pub(super) fn walk(&self, from: Position, to: Position, tolerance_m: f64) -> Option<Vec<Position>> {
        let longest_m = self.longest_step_m(tolerance_m);
        if longest_m < SHORTEST_M {
            return None; // the boundary itself has no level to walk along
        }
        let (mut at, mut ahead) = (from, self.ahead(from));
        let there = self.ahead(to);
        let mut places = Vec::new();
        while places.len() < MOST_STEPS {
            let arrives = gap_m(at, to) <= longest_m
                && turn_cos(ahead, there) > SAME_WAY
                && self
                    .along(&GeodesicSegment::between(at, to))
                    .all(|beyond_m| beyond_m.abs() <= tolerance_m);
            if arrives {
                return Some(places);
            }
            (at, ahead) = self.sure_step(at, ahead, longest_m, tolerance_m)?;
            places.push(at);
        }
        None
    }

    /// How long a straight step may be where the level bends round a corner of the zones.
    fn longest_step_m(&self, tolerance_m: f64) -> f64 {
        (8.0 * self.at_m * tolerance_m).sqrt().min(LONGEST_M)
    }

    /// Whether each place of a level lies on a way that was walked, or nearer to it than a step is long.
    pub(super) fn is_walked(&self, places: &[Position], walked: &[Position], tolerance_m: f64) -> bool {
        let near_m = self.longest_step_m(tolerance_m);
        let near_deg = near_m / METRES_A_DEGREE;
        let is_near = |one: &Position, other: &Position| {
            (one.latitude().degrees() - other.latitude().degrees()).abs() < near_deg
                && gap_m(*one, *other) <= near_m
        };
        places.iter().all(|place| walked.iter().any(|other| is_near(place, other)))
    }

    /// The next place on the level and the way on from there, so near that a straight line keeps to the level: where an arm of it
    /// runs beside another, a long step would end on the wrong one.
    fn sure_step(
        &self,
        at: Position,
        ahead: f64,
        longest_m: f64,
        tolerance_m: f64,
    ) -> Option<(Position, f64)> {
        let is_on = |next: Position| {
            let way = GeodesicSegment::between(at, next);
            let on_it = LOOKED_AT.into_iter().filter_map(|share| part_of(&way, share));
            on_it.map(|place| self.beyond_m(place)).all(|beyond_m| beyond_m.abs() <= tolerance_m)
        };
        let mut step_m = longest_m;
        while step_m > SHORTEST_M {
            let (next, on) = self.step(at, ahead, step_m, tolerance_m)?;
            if is_on(next) {
                return Some((next, on));
            }
            step_m /= 2.0;
        }
        None
    }

    /// The next place on the level, and the way on from there.
    fn step(&self, at: Position, ahead: f64, longest_m: f64, tolerance_m: f64) -> Option<(Position, f64)> {
        let is_kept = |step_m: f64| -> Option<bool> {
            Some(self.beyond_m(leaving(at, ahead, step_m)?) >= -tolerance_m * CORNER_SHARE)
        };
        let mut step_m = longest_m;
        if !is_kept(step_m)? {
            // something else comes near: as far as the level goes straight on
            let (mut kept_m, mut lost_m) = (0.0, step_m);
            while lost_m - kept_m > FOUND_TO_M {
                let middle_m = f64::midpoint(kept_m, lost_m);
                if is_kept(middle_m)? {
                    kept_m = middle_m;
                } else {
                    lost_m = middle_m;
                }
            }
            step_m = lost_m;
        }
        let ahead_of = leaving(at, ahead, step_m)?;
        let on = self.ahead(ahead_of);
        // out of a corner there may be no straight way to the level, but what is about on it does
        let reached = self.reach(ahead_of).filter(|reached| gap_m(*reached, ahead_of) <= longest_m);
        let about = (self.beyond_m(ahead_of).abs() <= tolerance_m).then_some(ahead_of);
        Some((reached.or(about)?, on))
    }

    /// The way along the level at a place, in degrees true, with the zones on the left.
    pub(super) fn ahead(&self, place: Position) -> f64 {
        let towards_deg = self.boundary.locate(place).bearing.degrees();
        match self.side {
            StandOffSide::Outside => towards_deg + 90.0,
            StandOffSide::Inside => towards_deg - 90.0,
        }
    }
}
