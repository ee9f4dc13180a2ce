//! The stretch of a range line against one zone's boundary.
//!
//! A signed distance changes by no more than the way made (it is 1-Lipschitz), so two samples bound what lies between
//! them. The searches here use nothing else, and so miss nothing wider than the figures say.

use std::cmp::Ordering;
use std::collections::BinaryHeap;

use crate::transit::{Eye, LinePoint, Meeting, Meets, RangeLine, Stretch};
use crate::zone::Zone;
use crate::{Boundary, Metres};

/// The least margin and the least distance are found to this, in metres, or to a thousandth of themselves.
const LEAST_TOLERANCE_M: f64 = 0.05;
/// Visits to a zone that are shorter than this, in metres, may be missed.
const SHORTEST_VISIT_M: f64 = 0.2;
/// Nearer to a boundary than this, in metres, is on it.
const ON_THE_LINE_M: f64 = 1e-3;
/// Half of the length over which the angle of a meeting is taken, in metres.
const ANGLE_REACH_M: f64 = 0.5;

/// A stretch, and one boundary.
#[derive(Debug, Clone, Copy)]
pub(super) struct Along<'a> {
    pub(super) line: &'a RangeLine,
    pub(super) boundary: &'a Boundary,
    /// 95 % uncertainty of line and datum of the zone, in metres.
    pub(super) zone_doubt_m: f64,
    pub(super) eye: Eye,
    pub(super) stretch: Stretch,
}

/// Which figure is to be least.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Least {
    /// The signed distance.
    Distance,
    /// The signed distance less its doubt: below zero the zone may be entered.
    Margin,
    /// The signed distance and its doubt: below zero the zone is surely entered.
    Most,
}

/// A part of the stretch, ordered by the least that it can hold.
#[derive(Debug, Clone, Copy)]
struct Part {
    bound_m: f64,
    low: Sample,
    high: Sample,
}

#[derive(Debug, Clone, Copy)]
#[expect(clippy::struct_field_names, reason = "the unit ends the name of every bare number")]
struct Sample {
    away_m: f64,
    signed_m: f64,
    /// Doubt that does not depend on where along the boundary the nearest point lies.
    doubt_m: f64,
    reading_m: f64,
}

impl Sample {
    fn value_m(&self, least: Least) -> f64 {
        match least {
            Least::Distance => self.signed_m,
            Least::Margin => self.signed_m - self.reading_m - self.doubt_m,
            Least::Most => self.signed_m + self.reading_m + self.doubt_m,
        }
    }
}

/// 95 % doubt of a place that an eye takes for one on the line: marks, eye and the zone's own line in quadrature.
pub(super) fn doubt_of_line_m(line: &RangeLine, eye: Eye, (away_m, zone_doubt_m): (f64, f64)) -> f64 {
    let away = Metres::computed(away_m);
    line.uncertainty_95(away).metres().hypot(eye_offset_m(line, eye, away_m)).hypot(zone_doubt_m)
}

/// How far off the line the eye sees it. Where it never does, the offset that the small-angle formula gives stands for it.
fn eye_offset_m(line: &RangeLine, eye: Eye, away_m: f64) -> f64 {
    let seen = line.offset_for(Metres::computed(away_m), eye.threshold());
    let small_angle = || {
        let separation_m = line.separation().metres();
        eye.threshold().radians() * away_m * (away_m + separation_m) / separation_m
    };
    seen.map_or_else(small_angle, Metres::metres)
}

/// 95 % uncertainty of a zone's own line and datum, in metres.
pub(super) fn doubt_of_zone_m(zone: &Zone) -> f64 {
    zone.line_uncertainty.metres().hypot(zone.datum.uncertainty_95().metres())
}

impl Along<'_> {
    /// The point at a distance from the front mark.
    pub(super) fn point(&self, away_m: f64) -> LinePoint {
        let distance_from_front = Metres::computed(away_m);
        let position = self.line.at(distance_from_front);
        let located = self.boundary.locate(position);
        let doubt_m = doubt_of_line_m(self.line, self.eye, (away_m, self.zone_doubt_m));
        LinePoint {
            distance_from_front,
            position,
            signed_distance: located.signed_distance,
            uncertainty_95: Metres::computed(doubt_m + located.reading_doubt.metres()),
            nearest: located.nearest,
        }
    }

    fn sample(&self, away_m: f64) -> Sample {
        let located = self.boundary.locate(self.line.at(Metres::computed(away_m)));
        Sample {
            away_m,
            signed_m: located.signed_distance.metres(),
            doubt_m: doubt_of_line_m(self.line, self.eye, (away_m, self.zone_doubt_m)),
            reading_m: located.reading_doubt.metres(),
        }
    }

    fn ends(&self) -> (Sample, Sample) {
        (self.sample(self.stretch.near().metres()), self.sample(self.stretch.far().metres()))
    }

    /// The point of the stretch where a figure is least: branch and bound, then a last narrowing.
    pub(super) fn least(&self, least: Least) -> LinePoint {
        let (near, far) = self.ends();
        let mut best = if near.value_m(least) <= far.value_m(least) { near } else { far };
        let mut span_m = self.stretch.length().metres();
        let mut waiting = BinaryHeap::from([Part::between(near, far, least)]);
        while let Some(part) = waiting.pop() {
            let tolerance_m = LEAST_TOLERANCE_M.max(best.value_m(least).abs() / 1000.0);
            if part.bound_m > best.value_m(least) - tolerance_m {
                break;
            }
            let middle = self.sample(part.low.away_m.midpoint(part.high.away_m));
            if middle.value_m(least) < best.value_m(least) {
                best = middle;
                span_m = part.high.away_m - part.low.away_m;
            }
            waiting.push(Part::between(part.low, middle, least));
            waiting.push(Part::between(middle, part.high, least));
        }
        self.point(self.narrowed(best, span_m, least))
    }

    /// Golden-section search about the best sample; the figure has one valley there, or the sample is the answer.
    fn narrowed(&self, best: Sample, span_m: f64, least: Least) -> f64 {
        const GOLDEN: f64 = 0.618_033_988_749_895;
        let mut low_m = (best.away_m - span_m).max(self.stretch.near().metres());
        let mut high_m = (best.away_m + span_m).min(self.stretch.far().metres());
        let value = |away_m: f64| self.sample(away_m).value_m(least);
        let mut found = (best.away_m, best.value_m(least));
        while high_m - low_m > 1e-3 {
            let reach_m = GOLDEN * (high_m - low_m);
            let (left_m, right_m) = (high_m - reach_m, low_m + reach_m);
            let (at_left, at_right) = (value(left_m), value(right_m));
            for (away_m, at) in [(left_m, at_left), (right_m, at_right)] {
                if at < found.1 {
                    found = (away_m, at);
                }
            }
            if at_left <= at_right {
                high_m = right_m;
            } else {
                low_m = left_m;
            }
        }
        found.0
    }

    /// Where the stretch enters, leaves or touches the zone, going seaward.
    pub(super) fn meetings(&self) -> Vec<Meeting> {
        let samples = self.samples_near_the_boundary();
        let mut meetings = Vec::new();
        let mut before: Option<Sample> = None;
        let mut on_since: Option<f64> = None;
        for sample in samples {
            if sample.signed_m.abs() <= ON_THE_LINE_M {
                on_since.get_or_insert(sample.away_m);
                continue;
            }
            if let Some(before) = before {
                let was_inside = before.signed_m < 0.0;
                if was_inside != (sample.signed_m < 0.0) {
                    let what = if was_inside { Meets::Leaves } else { Meets::Enters };
                    meetings.push(self.meeting(what, self.root_m(before, sample)));
                } else if let Some(since_m) = on_since {
                    meetings.push(self.meeting(Meets::Touches, since_m));
                }
            }
            before = Some(sample);
            on_since = None;
        }
        meetings
    }

    /// Samples in order, so near to one another that between two neighbours of one sign the boundary is not met.
    fn samples_near_the_boundary(&self) -> Vec<Sample> {
        let (near, far) = self.ends();
        let mut samples = vec![near];
        let mut waiting = vec![(near, far)];
        while let Some((low, high)) = waiting.pop() {
            let length_m = high.away_m - low.away_m;
            let apart = low.signed_m.abs() + high.signed_m.abs() > length_m * (1.0 + 1e-9) + 1e-4;
            if length_m <= SHORTEST_VISIT_M || (apart && (low.signed_m < 0.0) == (high.signed_m < 0.0)) {
                samples.push(high);
                continue;
            }
            let middle = self.sample(low.away_m.midpoint(high.away_m));
            // the later half waits below the earlier one, so that samples come in order
            waiting.push((middle, high));
            waiting.push((low, middle));
        }
        samples
    }

    /// Bisection to a tenth of a millimetre.
    fn root_m(&self, low: Sample, high: Sample) -> f64 {
        let (mut low_m, mut high_m) = (low.away_m, high.away_m);
        while high_m - low_m > 1e-4 {
            let middle = self.sample(low_m.midpoint(high_m));
            if (middle.signed_m < 0.0) == (low.signed_m < 0.0) {
                low_m = middle.away_m;
            } else {
                high_m = middle.away_m;
            }
        }
        low_m.midpoint(high_m)
    }

    fn meeting(&self, what: Meets, away_m: f64) -> Meeting {
        let rise_m =
            self.sample(away_m + ANGLE_REACH_M).signed_m - self.sample(away_m - ANGLE_REACH_M).signed_m;
        let sine = (rise_m / (2.0 * ANGLE_REACH_M)).abs().min(1.0);
        let distance_from_front = Metres::computed(away_m);
        let position = self.line.at(distance_from_front);
        Meeting { what, distance_from_front, position, angle_deg: sine.asin().to_degrees() }
    }
}

impl Part {
    fn between(low: Sample, high: Sample, least: Least) -> Self {
        let length_m = high.away_m - low.away_m;
        // what depends on the boundary falls by no more than half the length below the mean of the ends
        let (of_low_m, of_high_m) = match least {
            Least::Distance => (low.signed_m, high.signed_m),
            Least::Margin => (low.signed_m - low.reading_m, high.signed_m - high.reading_m),
            Least::Most => (low.signed_m + low.reading_m, high.signed_m + high.reading_m),
        };
        // the doubt of the line grows with the distance
        let doubt_m = match least {
            Least::Distance => 0.0,
            Least::Margin => -high.doubt_m,
            Least::Most => low.doubt_m,
        };
        Self { bound_m: of_low_m.midpoint(of_high_m) - length_m / 2.0 + doubt_m, low, high }
    }
}

impl PartialEq for Part {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Part {}

impl PartialOrd for Part {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Part {
    /// The part that may hold the least comes out of the heap first.
    fn cmp(&self, other: &Self) -> Ordering {
        other.bound_m.total_cmp(&self.bound_m)
    }
}
