//! A set of zones asked from one place to the next.

use std::collections::HashMap;

use super::{Extent, ZoneSet};
use crate::geodesic::{Surface, at_most_m, surface};
use crate::{BoundaryCursor, HowFar, Position};

/// A longer step than this, in metres, is a jump: nothing is concluded from the place before.
const JUMP_M: f64 = 50_000.0;
/// What a bound on a side may be out by, in metres: bounds with arcs that miss their circle hold to that.
const SLACK_M: f64 = 0.01;
/// Zones this much farther than the nearest are remembered with it, in metres.
const MARGIN_M: f64 = 2_000.0;

/// Asks a set of zones about places that follow each other, as those of a track do: which zones hold the place, and how
/// far it is to the nearest line.
///
/// This is geometry and no verdict: only zones whose line is known count, lines are taken as they are drawn, under every
/// reading of their edges, and the doubts of a fix, of a line and of a datum are for whoever asks. No distance changes faster
/// than the boat moves, so a zone is asked again only when the boat has gone as far as it was away.
///
/// # Accuracy
///
/// The same answers as from [`crate::Boundary::how_far`] for each zone: the same sides, and distances within 1 nm.
///
/// # Examples
///
/// ```
/// use takeline::Position;
/// let file = std::fs::read("../../demo-data/zones/marrowick.json")?;
/// let zones = takeline::ZoneSet::new(takeline::zone_file::read("marrowick.json", &file)?.zones);
/// let mut cursor = zones.cursor();
/// for step in 0..100 {
///     let place = Position::from_degrees(45.117, -30.119 + f64::from(step) * 1e-4)?;
///     let (nearest, far) = cursor.nearest(place).expect("zones are loaded");
///     let is_inside = far.signed_distance.metres() + far.reading_doubt.metres() <= 0.0;
///     assert_eq!(cursor.holding(place).surely.contains(&nearest), is_inside);
/// }
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone)]
pub struct ZoneSetCursor<'a> {
    zones: &'a ZoneSet,
    /// Zones that are remembered.
    near: Vec<NearZone<'a>>,
    /// The place before.
    at: Option<Position>,
    /// Way made, in metres, never less than what was gone.
    travelled_m: f64,
    /// Before this way is made no zone that is not remembered can be as near as this bound says.
    others_due_m: f64,
    /// Which of the remembered zones is nearest, and the way at which another can come as near as no way at all.
    nearest: usize,
    rivals_due_m: f64,
    /// The way at which the side of a remembered zone can change first.
    side_due_m: f64,
    holding: Holding,
}

/// The zones that hold a place, by their places in the set, in order. A place on a line is held.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Holding {
    /// Those that hold it under every reading of their edges.
    pub surely: Vec<usize>,
    /// Those that hold it under some readings, or perhaps, as their arcs miss the circle that is printed.
    pub perhaps: Vec<usize>,
}

#[derive(Debug, Clone)]
struct NearZone<'a> {
    number: usize,
    cursor: BoundaryCursor<'a>,
    far: HowFar,
    /// The way made when it was measured.
    at_m: f64,
}

impl NearZone<'_> {
    fn away_m(&self) -> f64 {
        self.far.signed_distance.metres().abs()
    }

    /// The least and the greatest that the signed distance can be as the line is drawn, in metres.
    fn bounds_m(&self) -> (f64, f64) {
        (self.far.least_known_m(), self.far.greatest.metres() + self.far.missed_m())
    }

    /// Whether it surely and whether it perhaps holds the place.
    fn holds(&self) -> (bool, bool) {
        let (least_m, greatest_m) = self.bounds_m();
        (greatest_m <= 0.0, least_m <= 0.0)
    }

    /// The way at which that can change.
    fn side_due_m(&self) -> f64 {
        let (least_m, greatest_m) = self.bounds_m();
        self.at_m + least_m.abs().min(greatest_m.abs()) - SLACK_M
    }

    /// The way at which the boat can be on the line, in the middle of its readings.
    fn due_m(&self) -> f64 {
        self.at_m + self.away_m()
    }
}

impl ZoneSet {
    /// A cursor that has been nowhere yet.
    #[must_use]
    pub fn cursor(&self) -> ZoneSetCursor<'_> {
        ZoneSetCursor {
            zones: self,
            near: Vec::new(),
            at: None,
            travelled_m: 0.0,
            others_due_m: f64::NEG_INFINITY,
            nearest: 0,
            rivals_due_m: f64::NEG_INFINITY,
            side_due_m: f64::NEG_INFINITY,
            holding: Holding::default(),
        }
    }
}

impl ZoneSetCursor<'_> {
    /// The zones that hold a place.
    pub fn holding(&mut self, position: Position) -> &Holding {
        self.go_to(position);
        if self.travelled_m >= self.others_due_m {
            self.look_about(position, &surface(position));
        } else if self.travelled_m >= self.side_due_m {
            self.measure_due(position, &surface(position));
        }
        &self.holding
    }

    /// The zone whose line is nearest to a place, and how far that is; none if no zone has a known line.
    pub fn nearest(&mut self, position: Position) -> Option<(usize, HowFar)> {
        self.go_to(position);
        let here = surface(position);
        if self.travelled_m >= self.others_due_m {
            self.look_about(position, &here);
        } else {
            let held = self.nearest_zone().map(NearZone::holds);
            self.measure(self.nearest, position, &here);
            if self.nearest_zone().map(NearZone::holds) != held
                || self.travelled_m + self.nearest_away_m() >= self.rivals_due_m
            {
                self.measure_rivals(position, &here);
            }
            let is_all = self.others_due_m == f64::INFINITY;
            if !is_all && self.travelled_m + self.nearest_away_m() >= self.others_due_m {
                self.look_about(position, &here);
            }
        }
        self.nearest_zone().map(|zone| (zone.number, zone.far))
    }

    fn nearest_zone(&self) -> Option<&NearZone<'_>> {
        self.near.get(self.nearest)
    }

    fn nearest_away_m(&self) -> f64 {
        self.nearest_zone().map_or(f64::INFINITY, NearZone::away_m)
    }

    fn go_to(&mut self, position: Position) {
        let step_m = self.at.map_or(f64::INFINITY, |at| at_most_m(at, position));
        self.at = Some(position);
        if step_m <= JUMP_M {
            self.travelled_m += step_m;
        } else {
            self.others_due_m = f64::NEG_INFINITY;
        }
    }

    fn measure(&mut self, at: usize, position: Position, here: &Surface) {
        if let Some(zone) = self.near.get_mut(at) {
            zone.far = zone.cursor.how_far_from(position, here);
            zone.at_m = self.travelled_m;
        }
    }

    /// Measures the zones whose side may have changed.
    fn measure_due(&mut self, position: Position, here: &Surface) {
        for at in 0..self.near.len() {
            if self.near[at].side_due_m() <= self.travelled_m {
                self.measure(at, position, here);
            }
        }
        self.note();
    }

    /// Measures the zones that may be as near as the nearest.
    fn measure_rivals(&mut self, position: Position, here: &Surface) {
        let mut away_m = self.nearest_away_m();
        for at in 0..self.near.len() {
            if self.near[at].due_m() <= self.travelled_m + away_m {
                self.measure(at, position, here);
                away_m = away_m.min(self.near[at].away_m());
            }
        }
        self.note();
    }

    /// Looks for the zones about a place anew.
    fn look_about(&mut self, position: Position, here: &Surface) {
        let mut known: HashMap<usize, BoundaryCursor<'_>> =
            self.near.drain(..).map(|zone| (zone.number, zone.cursor)).collect();
        let mut nearest_m = f64::INFINITY;
        let mut others_m = f64::INFINITY;
        for (number, box_m) in self.zones.boxes_about(here.point) {
            if box_m > nearest_m + MARGIN_M {
                others_m = box_m;
                break;
            }
            let Extent::Known(boundary) = &self.zones.zones()[number].extent else { continue };
            let mut cursor = known.remove(&number).unwrap_or_else(|| boundary.cursor());
            let far = cursor.how_far_from(position, here);
            nearest_m = nearest_m.min(far.signed_distance.metres().abs());
            self.near.push(NearZone { number, cursor, far, at_m: self.travelled_m });
        }
        // counted anew, so that it never grows until a metre is lost in it
        self.travelled_m = 0.0;
        self.near.iter_mut().for_each(|zone| zone.at_m = 0.0);
        self.others_due_m = others_m;
        self.note();
    }

    /// Works out what has to be measured next, and when.
    fn note(&mut self) {
        self.holding.surely.clear();
        self.holding.perhaps.clear();
        for zone in &self.near {
            match zone.holds() {
                (true, _) => self.holding.surely.push(zone.number),
                (false, true) => self.holding.perhaps.push(zone.number),
                (false, false) => {}
            }
        }
        self.holding.surely.sort_unstable();
        self.holding.perhaps.sort_unstable();
        self.side_due_m = self.near.iter().map(NearZone::side_due_m).fold(f64::INFINITY, f64::min);
        // the nearest among those measured here; others are farther even if all the way was made towards them
        let here_m = self.travelled_m;
        let away_m = |zone: &NearZone<'_>| zone.away_m() + if zone.at_m < here_m { f64::MAX } else { 0.0 };
        let order = |a: &(usize, &NearZone<'_>), b: &(usize, &NearZone<'_>)| {
            away_m(a.1).total_cmp(&away_m(b.1)).then(a.1.number.cmp(&b.1.number))
        };
        self.nearest = self.near.iter().enumerate().min_by(order).map_or(0, |(at, _)| at);
        let rivals = self.near.iter().enumerate().filter(|(at, _)| *at != self.nearest);
        self.rivals_due_m = rivals.map(|(_, zone)| zone.due_m()).fold(f64::INFINITY, f64::min);
    }
}
