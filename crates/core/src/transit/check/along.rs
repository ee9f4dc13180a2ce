//! The stretch of a range line against one zone's boundary.
//!
//! Two samples bound what lies between them. A signed distance changes by no more than the way made. And on a surface
//! that bends like the Earth the square of a distance, less the square of the way made, never runs below a chord of itself
//! (Toponogov's comparison with the plane), which bounds a boundary that runs along the stretch far more closely.
//! The searches here use nothing else, and so miss nothing wider than the figures say.

use crate::best_first::BestFirst;
use crate::transit::{Eye, LinePoint, Meeting, Meets, RangeLine, Stretch};
use crate::{Boundary, Located, Metres, golden_section};

/// The least margin and the least distance are found to this, in metres, or to a thousandth of themselves.
pub(super) const LEAST_TOLERANCE_M: f64 = 0.05;
/// Visits to a zone that are shorter than this, in metres, may be missed.
const SHORTEST_VISIT_M: f64 = 0.2;
/// Nearer to a boundary than this, in metres, is on it: what the last digit of a usual zone file is worth (10⁻⁷ degrees).
pub(super) const ON_THE_LINE_M: f64 = 0.01;
/// Half of the length over which the angle of a meeting is taken, in metres.
const ANGLE_REACH_M: f64 = 0.5;

/// A stretch, and one boundary.
#[derive(Debug, Clone, Copy)]
pub(super) struct Along<'a> {
    pub(super) line: &'a RangeLine,
    pub(super) boundary: &'a Boundary,
    /// 95 % uncertainty of line and datum of the zone, in metres.
    pub(super) zone_doubt_m: f64,
    /// The most that any arc of the zone misses its circle by, in metres.
    pub(super) closure_error_m: f64,
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
    /// The signed distance and its doubt: below zero the zone is surely entered. Only its sign is sought.
    Most,
}

/// A part of the stretch.
#[derive(Debug, Clone, Copy)]
struct Part {
    low: Sample,
    high: Sample,
}

#[derive(Debug, Clone, Copy)]
#[expect(clippy::struct_field_names, reason = "the unit ends the name of every bare number")]
struct Sample {
    away_m: f64,
    signed_m: f64,
    /// The smallest signed distance of any reading.
    least_m: f64,
    /// Doubt that does not depend on where along the boundary the nearest point lies.
    doubt_m: f64,
    reading_m: f64,
    /// Inside a zone: how far seaward of here the nearest point of the boundary lies, along the line.
    seaward_m: f64,
}

impl Sample {
    fn value_m(&self, least: Least) -> f64 {
        match least {
            Least::Distance => self.signed_m,
            Least::Margin => self.signed_m - self.reading_m - self.doubt_m,
            Least::Most => self.signed_m + self.reading_m + self.doubt_m,
        }
    }

    /// How near a least figure has to be found.
    fn tolerance_m(&self, least: Least) -> f64 {
        let to_m = LEAST_TOLERANCE_M.max(self.value_m(least).abs() / 1000.0);
        // the middle of several readings is no better known than they agree
        if least == Least::Distance { to_m.max(2.0 * (self.signed_m - self.least_m)) } else { to_m }
    }
}

/// 95 % doubt of a place that an eye takes for one on the line: marks and the zone's own line in quadrature, and the eye's
/// offset on top, because a boat drifts through all of it before anybody sees the marks open.
pub(super) fn doubt_of_line_m(line: &RangeLine, eye: Eye, (away_m, zone_doubt_m): (f64, f64)) -> f64 {
    let away = Metres::computed(away_m);
    line.uncertainty_95(away).metres().hypot(zone_doubt_m) + eye_offset_m(line, eye, away_m)
}

/// How far off the line the eye sees it. Where it never does, this goes on from the last offset at which it did; a check
/// calls nothing clear there.
fn eye_offset_m(line: &RangeLine, eye: Eye, away_m: f64) -> f64 {
    let seen = line.offset_for(Metres::computed(away_m), eye.threshold());
    let separation_m = line.separation().metres();
    let at_the_limit_m =
        2.0 * eye.threshold().radians().tan() * away_m * (away_m + separation_m) / separation_m;
    seen.map_or(at_the_limit_m, Metres::metres)
}

/// The greatest doubt of a place on the stretch, that of a zone's own line left out.
pub(super) fn greatest_doubt_m(line: &RangeLine, eye: Eye, stretch: Stretch) -> f64 {
    let at = |away: Metres| doubt_of_line_m(line, eye, (away.metres(), 0.0));
    // convex, so it is greatest at an end
    at(stretch.near()).max(at(stretch.far()))
}

/// A stretch is cut into so many parts at most, and none much shorter than this, in metres, where what edges may be off counts
/// near them only.
const MOST_PARTS: u32 = 64;
const SHORTEST_PART_M: f64 = 25.0;

impl Along<'_> {
    /// The stretch in parts, each with what edges may be off near it; the whole of it where no side has a doubt of its own.
    pub(super) fn parts(&self) -> Vec<Self> {
        if !self.boundary.has_sides() || self.closure_error_m <= 0.0 {
            return vec![*self];
        }
        let (near_m, length_m) = (self.stretch.near().metres(), self.stretch.length().metres());
        let mut count = 1;
        while count < MOST_PARTS && length_m / f64::from(count) > SHORTEST_PART_M {
            count *= 2;
        }
        let at = |part: u32| Metres::computed(near_m + length_m * f64::from(part) / f64::from(count));
        let part = |number: u32| {
            let stretch = Stretch::new(at(number), at(number + 1)).ok()?;
            let middle = self.line.at(stretch.middle());
            let closure_error_m = self.boundary.most_missed_within_m(middle, stretch.length().metres() / 2.0);
            Some(Self { closure_error_m, stretch, ..*self })
        };
        let parts: Option<Vec<Self>> = (0..count).map(part).collect();
        parts.unwrap_or_else(|| vec![*self])
    }

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
            uncertainty_95: Metres::computed(doubt_m + self.reading_m(&located)),
            nearest: located.nearest,
            nearest_side: self.boundary.side_nearest(position).kind,
        }
    }

    /// Half of the gap between readings, and the most that any arc misses its circle by: one figure for the whole zone,
    /// because that of the nearest arc leaps from edge to edge and could not be bounded between samples.
    fn reading_m(&self, located: &Located) -> f64 {
        (located.greatest.metres() - located.least.metres()) / 2.0 + self.closure_error_m
    }

    fn sample(&self, away_m: f64) -> Sample {
        let away = Metres::computed(away_m);
        let located = self.boundary.locate(self.line.at(away));
        let signed_m = located.signed_distance.metres();
        let seaward_m = if signed_m < 0.0 {
            let turn_deg = located.bearing.degrees() - self.line.bearing_at(away).degrees();
            signed_m.abs() * -turn_deg.to_radians().cos()
        } else {
            0.0
        };
        Sample {
            away_m,
            signed_m,
            least_m: located.least.metres(),
            doubt_m: doubt_of_line_m(self.line, self.eye, (away_m, self.zone_doubt_m)),
            reading_m: self.reading_m(&located),
            seaward_m,
        }
    }

    fn ends(&self) -> (Sample, Sample) {
        (self.sample(self.stretch.near().metres()), self.sample(self.stretch.far().metres()))
    }

    /// The point of the stretch where a figure is least: branch and bound, then a last narrowing.
    pub(super) fn least(&self, least: Least) -> LinePoint {
        let (best, span_m) = self.searched(least);
        self.point(self.narrowed(best, span_m, least))
    }

    /// Whether some point of the stretch is inside the zone, the doubt counted.
    pub(super) fn surely_enters(&self) -> bool {
        self.searched(Least::Most).0.value_m(Least::Most) < 0.0
    }

    /// The best sample, and how far from its neighbours it was taken.
    fn searched(&self, least: Least) -> (Sample, f64) {
        let (near, far) = self.ends();
        let mut best = if near.value_m(least) <= far.value_m(least) { near } else { far };
        let mut span_m = self.stretch.length().metres();
        let whole = Part { low: near, high: far };
        // the least is sought, and the greatest comes out first
        let mut waiting = BestFirst::with(-self.bound_m(&whole, least), whole);
        while let Some((negative_m, part)) = waiting.pop() {
            let bound_m = -negative_m;
            let sign_is_known = least == Least::Most && (best.value_m(least) < 0.0 || bound_m >= 0.0);
            if sign_is_known || bound_m > best.value_m(least) - best.tolerance_m(least) {
                break;
            }
            let middle = self.sample(part.low.away_m.midpoint(part.high.away_m));
            if middle.value_m(least) < best.value_m(least) {
                best = middle;
                span_m = part.high.away_m - part.low.away_m;
            }
            for half in [Part { low: part.low, high: middle }, Part { low: middle, high: part.high }] {
                waiting.push(-self.bound_m(&half, least), half);
            }
        }
        (best, span_m)
    }

    /// The least that the figure can be in a part.
    fn bound_m(&self, Part { low, high }: &Part, least: Least) -> f64 {
        let (least_m, signed_m) = (least_between_m(low, high), signed_between_m(low, high));
        let (low_m, high_m) = (low.away_m, high.away_m);
        let eye_m = |away_m: f64| eye_offset_m(self.line, self.eye, away_m);
        let marks_m = |away_m: f64| self.line.uncertainty_95(Metres::computed(away_m)).metres();
        match least {
            Least::Distance => signed_m.max(least_m),
            // the doubt of the eye grows with the distance; that of the marks is convex
            Least::Margin => {
                let marks_m = marks_m(low_m).max(marks_m(high_m));
                least_m - self.closure_error_m - marks_m.hypot(self.zone_doubt_m) - eye_m(high_m)
            }
            Least::Most => {
                let marks_m = self.line.least_uncertainty_95_m(low_m, high_m);
                let gap_m = low.reading_m.midpoint(high.reading_m) - self.closure_error_m;
                (signed_m + gap_m).max(least_m)
                    + self.closure_error_m
                    + marks_m.hypot(self.zone_doubt_m)
                    + eye_m(low_m)
            }
        }
    }

    /// Golden-section search about the best sample; the figure has one valley there, or the sample is the answer.
    fn narrowed(&self, best: Sample, span_m: f64, least: Least) -> f64 {
        let low_m = (best.away_m - span_m).max(self.stretch.near().metres());
        let high_m = (best.away_m + span_m).min(self.stretch.far().metres());
        let (away_m, value_m) =
            golden_section::least((low_m, high_m), 1e-3, |away_m| self.sample(away_m).value_m(least));
        if value_m < best.value_m(least) { away_m } else { best.away_m }
    }

    /// Where the stretch enters, leaves or touches the zone, going seaward.
    ///
    /// A stretch that begins or ends on the boundary, or runs along it, touches it.
    pub(super) fn meetings(&self) -> Vec<Meeting> {
        let mut meetings = Vec::new();
        let mut before: Option<Sample> = None;
        let mut on_since: Option<f64> = None;
        for sample in self.samples_near_the_boundary() {
            if sample.signed_m.abs() <= ON_THE_LINE_M {
                on_since.get_or_insert(sample.away_m);
                continue;
            }
            let crossed = before.filter(|before| (before.signed_m < 0.0) != (sample.signed_m < 0.0));
            if let Some(before) = crossed {
                let what = if before.signed_m < 0.0 { Meets::Leaves } else { Meets::Enters };
                meetings.push(self.meeting(what, self.root_m(before, sample)));
            } else if let Some(since_m) = on_since {
                meetings.push(self.meeting(Meets::Touches, since_m));
            }
            before = Some(sample);
            on_since = None;
        }
        meetings.extend(on_since.map(|since_m| self.meeting(Meets::Touches, since_m)));
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
        let side = self.boundary.side_nearest(position).kind;
        Meeting { what, distance_from_front, position, angle_deg: sine.asin().to_degrees(), side }
    }
}

/// The smallest that the smallest signed distance of any reading can be between two samples.
fn least_between_m(low: &Sample, high: &Sample) -> f64 {
    let length_m = high.away_m - low.away_m;
    let by_way_m = low.least_m.midpoint(high.least_m) - length_m / 2.0;
    if low.least_m > 0.0 && high.least_m > 0.0 {
        return by_way_m.max(outside_between_m((low.least_m, high.least_m), length_m));
    }
    let one_reading = low.signed_m - low.least_m <= 0.0 && high.signed_m - high.least_m <= 0.0;
    if one_reading && low.signed_m < 0.0 && high.signed_m < 0.0 {
        return by_way_m.max(-deepest_between_m(low, high));
    }
    by_way_m
}

/// The smallest that the middle of the readings can be between two samples, by the way made.
fn signed_between_m(low: &Sample, high: &Sample) -> f64 {
    low.signed_m.midpoint(high.signed_m) - (high.away_m - low.away_m) / 2.0
}

/// The least distance to a boundary between two places outside; minus infinity where the boundary may be met.
///
/// Distance squared less way squared is concave, so it lies on or above the chord between the two ends.
fn outside_between_m((low_m, high_m): (f64, f64), length_m: f64) -> f64 {
    let rise_m = (high_m - low_m) * (high_m + low_m) / length_m - length_m;
    let at_m = (-rise_m / 2.0).clamp(0.0, length_m);
    let square_m2 = low_m * low_m + at_m * (at_m + rise_m);
    if square_m2 > 0.0 { square_m2.sqrt() } else { f64::NEG_INFINITY }
}

/// The greatest depth between two places inside: no deeper than the nearest points of both ends are far (law of cosines,
/// which on a surface like the Earth gives too much, never too little).
fn deepest_between_m(low: &Sample, high: &Sample) -> f64 {
    let length_m = high.away_m - low.away_m;
    let (low_m2, high_m2) = (low.signed_m * low.signed_m, high.signed_m * high.signed_m);
    let from_low_m2 = |at_m: f64| low_m2 + at_m * (at_m - 2.0 * low.seaward_m);
    // the two parabolas cross once, and each has its greatest value at an end of where it is the lower one
    let apart_m2 = high_m2 + length_m * (length_m + 2.0 * high.seaward_m) - low_m2;
    let at_m = apart_m2 / (2.0 * (length_m + high.seaward_m - low.seaward_m));
    let crossing_m2 = if (0.0..=length_m).contains(&at_m) { from_low_m2(at_m) } else { 0.0 };
    low_m2.max(high_m2).max(crossing_m2).sqrt()
}
