//! The least margin over a stretch, on the ellipsoid.

use super::zones::{CountedZone, CountedZones, Span};
use crate::transit::{Eye, RangeLine, Stretch};
use crate::{Metres, Position, Tristate, golden_section};

/// Where the walk does not have to go slower, it looks at so many places along the stretch.
const LOOKS: f64 = 48.0;
/// A margin below this is left undecided, in metres.
const LEAST_CALL_M: f64 = 0.1;
/// More looks than this are not spent on a proof: a pair that needs them clears by less than half a metre.
const MOST_LOOKS: usize = 20_000;

/// A line over its stretch, seen by an eye.
#[derive(Debug, Clone, Copy)]
pub(super) struct Held<'a> {
    pub(super) line: &'a RangeLine,
    pub(super) stretch: Stretch,
    pub(super) eye: Eye,
    /// What of the plane the stretch lies in.
    pub(super) span: Span,
}

/// A place on the stretch with respect to one zone.
#[derive(Debug, Clone, Copy)]
pub(super) struct Look {
    /// Place of the zone among those that count.
    pub(super) zone: usize,
    pub(super) away_m: f64,
    pub(super) signed_m: f64,
    /// Marks, line and datum in quadrature; the eye's offset and half the reading gap added.
    pub(super) doubt_m: f64,
    pub(super) nearest: Position,
}

impl Look {
    pub(super) fn margin_m(&self) -> f64 {
        self.signed_m - self.doubt_m
    }
}

/// What a stretch comes to.
#[derive(Debug, Clone, Copy)]
pub(super) struct Verdict {
    pub(super) clears: Tristate,
    /// The place with the least margin to any zone.
    pub(super) worst: Look,
}

/// The least margin to one zone.
#[derive(Debug, Clone, Copy)]
struct Walked {
    least: Look,
    /// Some place on it is inside, the doubt counted.
    surely_inside: bool,
}

impl Held<'_> {
    /// How far off the stated line the boat may be without seeing it, the zone's own doubt counted: marks and zone in
    /// quadrature, the eye on top, as a check has it.
    fn doubt_m(&self, away_m: f64, zone_doubt_m: f64) -> f64 {
        let away = Metres::computed(away_m);
        let offset = self.line.offset_for(away, self.eye.threshold());
        self.line.uncertainty_95(away).metres().hypot(zone_doubt_m)
            + offset.map_or(f64::INFINITY, Metres::metres)
    }

    pub(super) fn look(&self, zone: usize, counted: &CountedZone<'_>, away_m: f64) -> Look {
        let located = counted.boundary.locate(self.line.at(Metres::computed(away_m)));
        let doubt_m = self.doubt_m(away_m, counted.doubt_m) + located.reading_doubt.metres();
        let signed_m = located.signed_distance.metres();
        Look { zone, away_m, signed_m, doubt_m, nearest: located.nearest }
    }

    /// How much the margin may fall for each metre along the line: one for the distance, and what the doubt grows by,
    /// which is most at the far end because each of its parts is convex in the distance.
    fn steepest(&self) -> f64 {
        let far_m = self.stretch.far().metres();
        let step_m = (self.stretch.length().metres() / 100.0).min(1.0);
        1.0 + ((self.doubt_m(far_m + step_m, 0.0) - self.doubt_m(far_m, 0.0)) / step_m).clamp(0.0, 1e3)
    }

    /// Walks the stretch: steps so short that nothing lower than the lowest so far is stepped over, but no shorter than
    /// 1/48 of the stretch; then closes in on the lowest. Stops where the margin falls below `stop_below_m`.
    fn walk(&self, zone: usize, counted: &CountedZone<'_>, stop_below_m: f64) -> Walked {
        let (near_m, far_m) = (self.stretch.near().metres(), self.stretch.far().metres());
        let (floor_m, steepest) = ((far_m - near_m) / LOOKS, self.steepest());
        let mut here = self.look(zone, counted, far_m);
        let mut walked = Walked { least: here, surely_inside: false };
        let mut next_m = near_m;
        loop {
            walked.surely_inside |= counted.line_known && here.signed_m + here.doubt_m < 0.0;
            if here.margin_m() < walked.least.margin_m() {
                walked.least = here;
            }
            if next_m >= far_m || walked.least.margin_m() < stop_below_m {
                break;
            }
            here = self.look(zone, counted, next_m);
            next_m += ((here.margin_m() - walked.least.margin_m()) / steepest).max(floor_m);
        }
        if walked.least.margin_m() >= stop_below_m {
            walked.least = self.close_in(counted, walked.least, floor_m);
        }
        walked
    }

    /// Golden section about a low place.
    fn close_in(&self, counted: &CountedZone<'_>, about: Look, floor_m: f64) -> Look {
        let low_m = (about.away_m - floor_m).max(self.stretch.near().metres());
        let high_m = (about.away_m + floor_m).min(self.stretch.far().metres());
        let margin_m = |away_m: f64| self.look(about.zone, counted, away_m).margin_m();
        let (away_m, least_m) = golden_section::least((low_m, high_m), 0.05, margin_m);
        if least_m < about.margin_m() { self.look(about.zone, counted, away_m) } else { about }
    }

    /// Whether the margin is above zero everywhere: each step is as long as the margin allows.
    fn is_proved_clear(&self, counted: &CountedZone<'_>) -> bool {
        let (far_m, steepest) = (self.stretch.far().metres(), self.steepest());
        // the doubt of an arc that misses its circle begins where the arc does, however large the margin is before it
        let longest_m = self.stretch.length().metres() / LOOKS;
        let mut away_m = self.stretch.near().metres();
        for _ in 0..MOST_LOOKS {
            let margin_m = self.look(0, counted, away_m).margin_m();
            if margin_m < LEAST_CALL_M {
                return false;
            }
            if away_m >= far_m {
                return true;
            }
            away_m = (away_m + (margin_m / steepest).min(longest_m)).min(far_m);
        }
        false
    }

    /// Holds the stretch against all zones. A pair whose margin falls below `stop_below_m` is left at once, its worst
    /// place the first one found where it does, and whether it clears is not looked into.
    pub(super) fn verdict(&self, zones: &CountedZones<'_>, stop_below_m: f64) -> Verdict {
        let mut worst: Option<Look> = None;
        let mut clears = Tristate::from(zones.anywhere.is_empty()).or(Tristate::Undecided);
        if let Some(below) = self.below_at_once(zones, stop_below_m) {
            return Verdict { clears: Tristate::Undecided, worst: below };
        }
        for (number, counted) in zones.zones.iter().enumerate() {
            let doubt_at_far_m = self.doubt_m(self.stretch.far().metres(), counted.doubt_m);
            let at_least_m = counted.at_least_away_m(&self.span) - doubt_at_far_m;
            if worst.is_some_and(|worst| at_least_m > worst.margin_m().max(0.0) + 1.0) {
                continue;
            }
            let walked = self.walk(number, counted, stop_below_m);
            if worst.is_none_or(|worst| walked.least.margin_m() < worst.margin_m()) {
                worst = Some(walked.least);
            }
            clears = clears.and(self.clears_one(counted, &walked));
            if walked.least.margin_m() < stop_below_m {
                break;
            }
        }
        let worst = worst.unwrap_or_else(|| self.look(0, &zones.zones[0], self.stretch.far().metres()));
        Verdict { clears, worst }
    }

    /// A place at the ends or in the middle where the margin to a zone that is very near falls below what is asked for.
    fn below_at_once(&self, zones: &CountedZones<'_>, stop_below_m: f64) -> Option<Look> {
        let places = [self.stretch.far(), self.stretch.middle(), self.stretch.near()];
        let near = zones.zones.iter().enumerate().filter(|(_, zone)| zone.at_least_away_m(&self.span) <= 0.0);
        near.flat_map(|(number, zone)| places.map(|away| self.look(number, zone, away.metres())))
            .find(|look| look.margin_m() < stop_below_m)
    }

    fn clears_one(&self, counted: &CountedZone<'_>, walked: &Walked) -> Tristate {
        if walked.surely_inside {
            return Tristate::No;
        }
        if walked.least.margin_m() >= LEAST_CALL_M && self.is_proved_clear(counted) {
            Tristate::Yes
        } else {
            Tristate::Undecided
        }
    }
}
