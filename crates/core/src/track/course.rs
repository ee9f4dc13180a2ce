//! How a boat got on inside a zone: whether it plainly went through, in or out, or whether a log cannot say so.
//!
//! The figures below are common practice and have no source. They accuse nobody: a boat that goes to and fro may be beating to windward.

use jiff::Timestamp;
use strum::{IntoStaticStr, VariantNames};

use super::{ConditionReason, LoggedMoment};
use crate::coded::coded;
use crate::geodesic::{direct, distance_m};
use crate::{Boundary, GeodesicSegment, Metres, Position};

/// A boat that made good less than this share of its way did not plainly go through (common practice, no source).
const MADE_GOOD_SHARE: f64 = 0.5;
/// So many metres of way more than were made good tell nothing: a bend round a rock, the wander of a receiver (common practice, no
/// source).
const ASTRAY_M: f64 = 100.0;
/// A boat that stays so long, in seconds, within [`PLACE_M`] of one place is not getting on (common practice, no source).
pub(super) const LINGERED_S: f64 = 600.0;
/// How wide a place is that a boat may swing about at anchor, in metres (common practice, no source).
const PLACE_M: f64 = 100.0;
/// Where a rule does not ask to keep going, only so long a time, in seconds, of going to and fro leaves it open whether that was
/// crossing (common practice, no source).
const TO_AND_FRO_S: f64 = 1_800.0;
/// Of that, a share of its way lower than this has to be made good: beating to windward makes good more (common practice, no source).
const TO_AND_FRO_SHARE: f64 = 1.0 / 3.0;
/// A boat came in and went out over one side if the straight way between keeps within this share of how deep it was off the line.
const BESIDE_SHARE: f64 = 0.5;
/// The straight way is looked at in so many places, evenly apart.
const LOOKS: u8 = 7;
/// The way is summed over steps of so many metres and more, so that the wander of a receiver does not count as way.
const STEP_M: f64 = 20.0;

/// How a boat got on inside a zone, and whether it was seen to come in and to go out.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct Course {
    /// Way made inside in steps of some metres, the wander of the receiver left out.
    #[cfg_attr(feature = "serde", serde(rename = "way_m"))]
    pub way: Metres,
    /// Straight from where it came in to where it went out.
    #[cfg_attr(feature = "serde", serde(rename = "made_good_m"))]
    pub made_good: Metres,
    /// The longest time about one place, in seconds. At an end of the log the boat may have been ashore, and that does not count.
    pub lingered_s: f64,
    /// Whether the log begins before the visit, and it began at no shore.
    pub came_in: bool,
    /// Whether the log goes on after the visit, and it ended at no shore.
    pub went_out: bool,
    /// How the visit began.
    pub began_at: VisitEnd,
    /// How it ended.
    pub ended_at: VisitEnd,
    /// Whether it came in and went out over one and the same side: the straight way from where it came in to where it went out keeps
    /// beside the line, and it was twice as deep inside and more. That leads from no side to another, however short it was.
    pub over_one_side: bool,
    /// Seconds at the shore, as far as the zone says where that is: there a boat may lie ashore.
    pub at_shore_s: f64,
}

/// Whether a boat that was so deep inside, in metres, came in and went out over one side. Where either place is not known to be on
/// the line, it is so to within `ends_doubt_m`.
pub(super) fn is_over_one_side(
    boundary: &Boundary,
    [entered, left]: [Position; 2],
    (deepest_m, ends_doubt_m): (f64, f64),
) -> bool {
    let within_m = BESIDE_SHARE * deepest_m + ends_doubt_m;
    let way = GeodesicSegment::between(entered, left);
    let (bearing_deg, length_m) = (way.initial_bearing().degrees(), way.length().metres());
    let is_beside = |look: u8| {
        let share = f64::from(look) / f64::from(LOOKS + 1);
        let place = direct(entered, bearing_deg, share * length_m);
        boundary.how_far(place).signed_distance.metres().abs() <= within_m
    };
    deepest_m > 0.0 && (1..=LOOKS).all(is_beside)
}

/// How a visit began or ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum VisitEnd {
    /// Over a side that a boat can cross.
    #[default]
    Crossing,
    /// At the shore: the boat was launched there, or landed.
    Shore,
    /// Inside, where the log begins or ends.
    Log,
    /// Somewhere within the doubt of the line, in a gap, or over a side that nobody has supplied.
    InDoubt,
}

coded!(VisitEnd);

impl Default for Course {
    fn default() -> Self {
        Self {
            way: Metres::ZERO,
            made_good: Metres::ZERO,
            lingered_s: 0.0,
            came_in: true,
            went_out: true,
            began_at: VisitEnd::Crossing,
            ended_at: VisitEnd::Crossing,
            over_one_side: false,
            at_shore_s: 0.0,
        }
    }
}

impl Course {
    fn makes_good(&self, share: f64) -> bool {
        let (way_m, made_good_m) = (self.way.metres(), self.made_good.metres());
        made_good_m >= share * way_m
    }

    /// Whether it plainly went from one side to the other, out or home: what may be called a crossing.
    #[must_use]
    pub fn is_crossing(&self) -> bool {
        self.has_a_side()
            && !self.over_one_side
            && self.makes_good(MADE_GOOD_SHARE)
            && self.lingered_s <= LINGERED_S
    }

    fn has_a_side(&self) -> bool {
        self.came_in || self.went_out
    }

    /// Why it is not settled that a boat kept going from one side to the other; nothing where it plainly did.
    pub(super) fn not_through(&self, inside_s: Option<f64>) -> Option<ConditionReason> {
        if !self.has_a_side() {
            return Some(ConditionReason::LogWithinZone);
        }
        let astray_m = self.way.metres() - self.made_good.metres();
        let is_astray = !self.makes_good(MADE_GOOD_SHARE) && astray_m > ASTRAY_M;
        if is_astray {
            return Some(self.wandered(inside_s));
        }
        self.over_one_side.then_some(ConditionReason::OverOneSide { apart: self.made_good })
    }

    /// Why it is not settled that a boat was crossing which has not to keep going; nothing where it was not long about it.
    /// `bound_s`: how long the rule can have bound it.
    pub(super) fn not_crossing(&self, bound_s: Option<f64>, is_stop_ruled: bool) -> Option<ConditionReason> {
        let lingered_s = bound_s.map_or(self.lingered_s, |bound_s| bound_s.min(self.lingered_s));
        if !is_stop_ruled && lingered_s > LINGERED_S {
            return Some(ConditionReason::NotGettingOn { duration_s: lingered_s });
        }
        let is_long = bound_s.is_some_and(|bound_s| bound_s > TO_AND_FRO_S);
        (is_long && !self.makes_good(TO_AND_FRO_SHARE)).then(|| self.wandered(bound_s))
    }

    fn wandered(&self, duration_s: Option<f64>) -> ConditionReason {
        ConditionReason::Wandered { way: self.way, duration_s }
    }
}

/// Fixes that lie twice as deep inside as their uncertainty of 95 % is wide, and more: 4.9 standard deviations.
///
/// Of hundreds of fixes beside a boundary some are off by more than their uncertainty, so one that is surely inside by itself proves nothing.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct DeepFixes {
    /// How many.
    pub count: u64,
    /// From the first to the last of them.
    pub span: Option<(Timestamp, Timestamp)>,
}

/// So many deep fixes prove that a boat was inside (common practice, no source).
const DEEP_FIXES: u64 = 3;
/// Over so many seconds at least: a receiver may be wrong for some (common practice, no source).
const DEEP_S: f64 = 15.0;
/// So many seconds surely inside, more than half of all that were perhaps inside, prove it too (common practice, no source).
const SURE_S: f64 = 300.0;

impl DeepFixes {
    pub(super) fn push(&mut self, at: LoggedMoment, (distance_m, doubt_m): (f64, f64)) {
        if -distance_m < 2.0 * doubt_m {
            return;
        }
        self.count += 1;
        // a fix without a time tells nothing of how long the others lasted
        if let Some(time) = at.time {
            let (first, last) = self.span.unwrap_or((time, time));
            self.span = Some((first.min(time), last.max(time)));
        }
    }

    /// Whether the fixes of a visit show that the boat was inside beyond what their errors explain.
    pub(super) fn are_proof(
        &self,
        (certain_s, possible_s): (Option<f64>, Option<f64>),
        is_whole_log: bool,
    ) -> bool {
        let is_long =
            self.span.is_none_or(|(first, last)| last.duration_since(first).as_secs_f64() >= DEEP_S);
        let is_mostly_sure = certain_s
            .zip(possible_s)
            .is_some_and(|(certain_s, possible_s)| certain_s >= SURE_S && certain_s >= possible_s / 2.0);
        // a log of which no fix is outside contradicts none of them
        let is_enough = self.count >= DEEP_FIXES && is_long || is_whole_log && self.count >= 2;
        is_enough || is_mostly_sure
    }
}

/// The course so far; does not grow with the log.
#[derive(Debug, Clone, Default)]
pub(super) struct Steps {
    /// The end of the last step, and how far off it may be, in metres.
    step: Option<(LoggedMoment, f64)>,
    way_m: f64,
    /// Since when the boat has been about a place.
    about: Option<LoggedMoment>,
    /// Whether it has been about no other place yet.
    is_first_place: bool,
    last: Option<LoggedMoment>,
    lingered_s: f64,
    /// How long it was about the first place.
    first_s: f64,
}

impl Steps {
    pub(super) fn push(&mut self, at: LoggedMoment, doubt_m: f64) {
        self.last = Some(at);
        match self.step {
            None => self.step = Some((at, doubt_m)),
            Some((from, from_doubt_m)) => {
                let metres = distance_m(from.position, at.position);
                if metres > STEP_M + from_doubt_m + doubt_m {
                    self.way_m += metres;
                    self.step = Some((at, doubt_m));
                }
            }
        }
        let Some(about) = self.about else {
            (self.about, self.is_first_place) = (Some(at), true);
            return;
        };
        if distance_m(about.position, at.position) > PLACE_M {
            self.leave(about, at);
            self.about = Some(at);
        }
    }

    fn leave(&mut self, about: LoggedMoment, at: LoggedMoment) {
        let seconds = seconds(about, at);
        if std::mem::take(&mut self.is_first_place) {
            self.first_s = seconds;
        } else {
            self.lingered_s = self.lingered_s.max(seconds);
        }
    }

    pub(super) fn finish(self, ends: [LoggedMoment; 2], (came_in, went_out): (bool, bool)) -> Course {
        let last_s = self.about.zip(self.last).map_or(0.0, |(about, last)| seconds(about, last));
        let mut lingered_s = self.lingered_s;
        if self.is_first_place {
            // it was nowhere else: at rest, be it ashore, it did not cross
            lingered_s = lingered_s.max(last_s);
        } else {
            if came_in {
                lingered_s = lingered_s.max(self.first_s);
            }
            if went_out {
                lingered_s = lingered_s.max(last_s);
            }
        }
        let [entered, left] = ends;
        let made_good_m = distance_m(entered.position, left.position);
        Course {
            way: Metres::computed(self.way_m),
            made_good: Metres::computed(made_good_m),
            lingered_s,
            came_in,
            went_out,
            ..Course::default()
        }
    }
}

fn seconds(from: LoggedMoment, to: LoggedMoment) -> f64 {
    from.time.zip(to.time).map_or(0.0, |(from, to)| to.duration_since(from).as_secs_f64().max(0.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{EdgeModel, PartSpec, RingSpec};

    /// A zone of such corners, each so many metres east and north of one place.
    fn zone(corners: &[(f64, f64)]) -> Boundary {
        let vertices: Vec<Position> = corners.iter().map(|corner| at(*corner)).collect();
        let edges = vec![EdgeModel::Geodesic; vertices.len()];
        let exterior = RingSpec { vertices, edges, sides: Vec::new() };
        Boundary::build(&[PartSpec::Polygon { exterior, holes: Vec::new() }]).unwrap()
    }

    fn at((east_m, north_m): (f64, f64)) -> Position {
        direct(direct(Position::from_degrees(45.1, -30.1).unwrap(), 0.0, north_m), 90.0, east_m)
    }

    #[test]
    fn in_and_out_over_one_side_is_told_from_through() {
        let square = zone(&[(0.0, 0.0), (1_000.0, 0.0), (1_000.0, 1_000.0), (0.0, 1_000.0)]);
        let is_one = |zone: &Boundary, from, to, deepest_m| {
            is_over_one_side(zone, [from, to].map(at), (deepest_m, 0.0))
        };
        assert!(is_one(&square, (300.0, 0.0), (360.0, 0.0), 30.0));
        // there and back by the same way, and a long way just inside
        assert!(is_one(&square, (300.0, 0.0), (300.0, 0.0), 30.0));
        assert!(is_one(&square, (100.0, 0.0), (900.0, 0.0), 50.0));
        // through, over a corner, and through again with a bend round a rock
        assert!(!is_one(&square, (300.0, 0.0), (300.0, 1_000.0), 300.0));
        assert!(!is_one(&square, (0.0, 200.0), (200.0, 0.0), 100.0));
        assert!(!is_one(&square, (0.0, 200.0), (200.0, 0.0), 140.0));
        // from the end of one arm to the end of the other: the straight way is outside, and far off the line
        let angle =
            [(0.0, 0.0), (1_000.0, 0.0), (1_000.0, 100.0), (100.0, 100.0), (100.0, 1_000.0), (0.0, 1_000.0)];
        assert!(!is_one(&zone(&angle), (50.0, 1_000.0), (1_000.0, 50.0), 50.0));
        // a circle is one side, and may be crossed
        let radius = Metres::new(200.0).unwrap();
        let circle = Boundary::build(&[PartSpec::Circle { centre: at((0.0, 0.0)), radius }]).unwrap();
        assert!(!is_one(&circle, (-200.0, 0.0), (200.0, 0.0), 200.0));
        assert!(is_one(&circle, (-20.0, 199.0), (20.0, 199.0), 60.0));
        // never inside
        assert!(!is_one(&square, (300.0, 0.0), (360.0, 0.0), -3.0));
    }

    #[test]
    fn what_leads_over_one_side_is_no_crossing_however_short() {
        let drift = Course {
            way: Metres::computed(70.0),
            made_good: Metres::computed(40.0),
            over_one_side: true,
            ..Course::default()
        };
        assert!(!drift.is_crossing());
        let apart = Metres::computed(40.0);
        assert_eq!(drift.not_through(Some(120.0)), Some(ConditionReason::OverOneSide { apart }));
        assert_eq!(Course { over_one_side: false, ..drift }.not_through(Some(120.0)), None);
    }

    #[test]
    fn deep_fixes_of_a_moment_prove_nothing_whatever_fixes_without_a_time_stand_beside_them() {
        let position = Position::from_degrees(45.117, -30.119).unwrap();
        let noon: Timestamp = "2026-07-04T12:00:00Z".parse().unwrap();
        let at = |second: Option<i64>| LoggedMoment {
            position,
            time: second.map(|second| Timestamp::from_second(noon.as_second() + second).unwrap()),
            between: None,
        };
        let is_proof = |seconds: &[Option<i64>]| {
            let mut deep = DeepFixes::default();
            for second in seconds {
                deep.push(at(*second), (-50.0, 10.0));
            }
            deep.are_proof((Some(4.0), Some(20.0)), false)
        };
        assert!(!is_proof(&[Some(0), Some(1), Some(2)]));
        assert!(!is_proof(&[Some(0), Some(1), Some(2), None]));
        assert!(is_proof(&[Some(0), Some(8), Some(16)]));
        assert!(is_proof(&[None, None, None]), "a log without times has no other proof");
    }
}
