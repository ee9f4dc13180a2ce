//! What an audit of a track finds: visits and their span, crossings, nearest approaches, gaps, the state of the log, and the way
//! for drawing, thinned where it is long.

use jiff::Timestamp;

use super::{
    Certainty, ConditionReason, Course, DeepFixes, Direction, Evidence, LoggedFix, Motion, OpenEnd,
    OrderFindings, Reason, Suspicion, TrackSettings,
};
use crate::rule::Condition;
use crate::zone::{Misreading, ZoneId};
use crate::{CrossablePoint, Metres, Position, Tristate};

/// A place and the instant at which the boat was there, with the instants between which that was for sure.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct LoggedMoment {
    /// Where.
    pub position: Position,
    /// When, by even speed between two fixes; none in a log without times.
    pub time: Option<Timestamp>,
    /// The fix before and the fix after.
    pub between: Option<(Timestamp, Timestamp)>,
}

/// A crossing of a zone's line by the straight way between two fixes, where a boat can cross it: not over a shore.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct Crossing {
    /// The zone.
    pub zone: ZoneId,
    /// In or out.
    pub direction: Direction,
    /// Where and when: on the line to a millimetre.
    pub at: LoggedMoment,
}

/// How far off the straight way between two fixes a boat can have been, whatever lies between them.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct OffTheWay {
    /// Seconds between the two fixes, the most that they can have been apart.
    pub seconds: f64,
    /// The most that the top speed of the settings allows, half way between them.
    #[cfg_attr(feature = "serde", serde(rename = "reach_m"))]
    pub reach: Metres,
}

/// Speeds over the ground during a visit, in knots, from fix to fix.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct Speeds {
    /// The slowest leg.
    pub min_kn: f64,
    /// Way over time.
    pub mean_kn: f64,
    /// The fastest leg.
    pub max_kn: f64,
}

/// A stay below the speed of a stop.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct Stop {
    /// Where and when it began.
    pub from: LoggedMoment,
    /// How long it lasted, in seconds.
    pub seconds: f64,
}

/// One condition of passage, and what the track says of it.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct ConditionFinding {
    /// The condition.
    pub condition: Condition,
    /// Whether it was met; undecided where a track cannot tell.
    pub met: Tristate,
    /// Why.
    pub because: Vec<ConditionReason>,
}

/// A part of a visit through which the rule stayed in force or out of it, and the boat surely or perhaps inside.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct RuledTime {
    /// When it began; none in a log without times.
    pub from: Option<Timestamp>,
    /// When it ended; the same where it is known of one moment only.
    pub to: Option<Timestamp>,
    /// Whether the boat was inside: yes or undecided, never no.
    pub inside: Tristate,
    /// Whether the rule was in force.
    pub in_force: Tristate,
    /// Whether it bound the boat: inside, in force, for its access, and not displaced by another rule.
    pub binds: Tristate,
}

impl RuledTime {
    /// Returns its length in seconds; none in a log without times.
    #[must_use]
    pub fn seconds(&self) -> Option<f64> {
        Some(self.to?.duration_since(self.from?).as_secs_f64())
    }
}

/// A time in a zone or near its line.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct Visit {
    /// The zone.
    pub zone: ZoneId,
    /// Its place among the zones of the set.
    pub zone_number: usize,
    /// How sure it is that the boat was inside at all.
    pub certainty: Certainty,
    /// What it is known from.
    pub evidence: Evidence,
    /// Whether it is known only from fixes that are suspect.
    pub is_suspect: bool,
    /// Set where nothing but the time between two fixes lets the boat have been inside: neither a fix, be it suspect, nor the
    /// straight way between two comes within the doubt of the line. Of several pairs of fixes, that which lets it come farthest in.
    pub off_the_way: Option<OffTheWay>,
    /// From when to when: from and to the crossing of the line where there is one, else the first and last moment within
    /// the doubt. It holds every fix that was inside.
    pub span: VisitSpan,
    /// Seconds inside by more than the doubt; none where the log has no times.
    pub certain_s: Option<f64>,
    /// Seconds inside or within the doubt, the certain ones included; in a gap, and off the straight way between two fixes,
    /// the longest that was possible; none where the log has no times.
    pub possible_s: Option<f64>,
    /// How deep, in metres inside the line; negative where it never got inside but within the doubt; none for a zone whose
    /// place is not known. In a gap: the greatest depth that was possible, never understated.
    #[cfg_attr(feature = "serde", serde(rename = "deepest_m"))]
    pub deepest: Option<Metres>,
    /// The doubt of that depth, 95 %.
    #[cfg_attr(feature = "serde", serde(rename = "deepest_uncertainty_95_m"))]
    pub deepest_uncertainty_95: Metres,
    /// Way made within the doubt or inside, in metres; that made in gaps is not known and left out.
    #[cfg_attr(feature = "serde", serde(rename = "path_m"))]
    pub path: Metres,
    /// The fixes that lie so deep inside that their uncertainty does not explain it.
    pub deep: DeepFixes,
    /// How the boat got on, and whether it was seen to come in and to go out.
    pub course: Course,
    /// How many gaps of the log fall into it.
    pub gaps: u64,
    /// Speeds, where there are times.
    pub speeds: Option<Speeds>,
    /// Stops inside or within the doubt.
    pub stops: Vec<Stop>,
    /// Numbers of crossings in [`Audit::crossings`].
    pub crossings: Vec<usize>,
    /// Whether the rule was in force: yes if it surely was at a time when the boat was surely inside, no if it surely was not
    /// at any time when the boat was perhaps inside. Of a visit that is only possible: yes if it was all the while.
    pub in_force: Tristate,
    /// Why.
    pub in_force_because: Vec<Reason>,
    /// Seconds surely inside while the rule was surely in force; none where the log has no times.
    pub in_force_certain_s: Option<f64>,
    /// Seconds perhaps inside while the rule was perhaps in force, the certain ones included; none likewise. Where a part of the
    /// visit has no times, all seconds of [`Visit::possible_s`].
    pub in_force_possible_s: Option<f64>,
    /// Seconds surely inside while the rule surely bound the boat; none where the log has no times.
    pub binds_certain_s: Option<f64>,
    /// Seconds perhaps inside while the rule perhaps bound it, the certain ones included; none likewise.
    pub binds_possible_s: Option<f64>,
    /// Whether the rule bound the boat: yes if it surely did at a time when the boat was surely inside, no if it surely did
    /// not at any time, else undecided. A rule binds if it is in force, binds the access, and no other displaces it.
    pub binds: Tristate,
    /// Why, where the access or another rule decides it.
    pub binds_because: Vec<Reason>,
    /// The zones whose rules displaced this one at some time of the visit, or may have, in the order of the set.
    pub displaced_by: Vec<ZoneId>,
    /// The visit in parts of one answer each, in the order of the log.
    pub ruled: Vec<RuledTime>,
    /// What the track says about the conditions of crossing, if the zone has any.
    pub conditions: Vec<ConditionFinding>,
    /// How the boat moved, without a guess at what for.
    pub movement: Vec<Motion>,
}

impl Visit {
    /// Returns the first moment.
    #[must_use]
    pub fn entered(&self) -> LoggedMoment {
        self.span.entered()
    }

    /// Returns the last moment, never earlier than the first.
    #[must_use]
    pub fn left(&self) -> LoggedMoment {
        self.span.left()
    }
}

/// The nearest that the boat came to a zone it never visited.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct ClosestApproach {
    /// The zone.
    pub zone: ZoneId,
    /// Distance to its line, positive outside.
    #[cfg_attr(feature = "serde", serde(rename = "signed_distance_m"))]
    pub signed_distance: Metres,
    /// Its doubt, 95 %.
    #[cfg_attr(feature = "serde", serde(rename = "uncertainty_95_m"))]
    pub uncertainty_95: Metres,
    /// Where and when.
    pub at: LoggedMoment,
    /// The nearest place from there of the sides that a boat can cross, where some sides of the zone are other than open water; none
    /// if it can cross none.
    pub crossable: Option<CrossablePoint>,
}

/// What of a log lies on land, by the coasts that somebody supplied.
///
/// It says nothing of any rule: the datum or a sign may be wrong, or the receiver was in a car.
#[derive(Debug, Clone, PartialEq, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct OnLand {
    /// The coasts, by their titles, or paths where they have none.
    pub coasts: Vec<String>,
    /// How many fixes lie farther inland than their uncertainty and that of the coast together.
    pub fixes: u64,
    /// Of so many that are believed.
    pub of: u64,
    /// How many legs between two other fixes run as far over land, farther than the boat can have gone round it in the time.
    pub legs: u64,
    /// The first of them, a leg by its end.
    pub first: Option<LoggedMoment>,
}

impl OnLand {
    /// Whether most of the log lies there, so that it is in doubt where the boat was.
    #[must_use]
    pub fn is_most(&self) -> bool {
        2 * self.fixes > self.of
    }
}

/// A fix whose place was likely not meant.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct MisreadFix {
    /// The fix as the log has it.
    pub fix: LoggedFix,
    /// How it was likely meant.
    pub misreading: Misreading,
}

/// A fix that is left out of what is certain, and why.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct SuspectFix {
    /// The fix.
    pub fix: LoggedFix,
    /// Why.
    pub suspicion: Suspicion,
    /// The speed that it would have needed, in knots, where that is why.
    pub needed_kn: Option<f64>,
}

/// A time in which nothing was logged, or nothing that can be joined.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct Gap {
    /// The last fix before.
    pub before: LoggedFix,
    /// The first fix after.
    pub after: LoggedFix,
    /// Seconds between them; none without times.
    pub seconds: Option<f64>,
    /// Metres between them.
    #[cfg_attr(feature = "serde", serde(rename = "distance_m"))]
    pub metres: Metres,
    /// Whether the boat cannot have made that way in that time.
    pub impossible: bool,
    /// Whether it is so long that one trip ended before it and another began after it: what the boat did in between is
    /// not judged, but for the zones that hold both ends.
    pub between_trips: bool,
    /// Whether it may be such a time if somebody says so ([`TrackSettings::new_trip_after_s`]): both ends have times, a boat can
    /// have made the way, and no record without a usable place stands in it.
    pub may_be_pause: bool,
    /// Which end of it nobody knows, if one is: then both fixes are the one that is believed, with the times of the ends.
    pub open: Option<OpenEnd>,
}

/// What was found wrong with the log itself.
#[derive(Debug, Clone, PartialEq, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct Quality {
    /// Fixes read.
    pub fixes: u64,
    /// Fixes without a time.
    pub without_time: u64,
    /// Fixes that tell nothing of their accuracy, so that one was given or assumed for them.
    pub without_accuracy: u64,
    /// The first fix that is far from every zone though one slip in writing it down would bring it near.
    pub misread: Option<MisreadFix>,
    /// How many fixes are far from every zone ([`crate::ZoneSet::FAR_M`]), from that one on.
    pub far_since_misread: u64,
    /// How many gaps no boat can have made.
    pub impossible_gaps: u64,
    /// What lies on land; none if no coast was supplied.
    pub on_land: Option<OnLand>,
    /// The earliest time of all fixes, suspects included, and of all records without a usable place, but for those of clocks
    /// that were not set yet (before 1990). Where a time is placed, the earliest that it can have been.
    pub first_time: Option<Timestamp>,
    /// The latest of them.
    pub last_time: Option<Timestamp>,
    /// Suspect fixes, in the order of the log, at most [`Quality::MOST_LISTED`] of each kind.
    pub suspects: Vec<SuspectFix>,
    /// How many there were of each kind, in the order of [`Suspicion::ALL`].
    #[cfg_attr(feature = "serde", serde(serialize_with = "by_suspicion"))]
    pub counts: [u64; 7],
    /// Gaps, in the order of the log, at most [`Quality::MOST_LISTED`] of each kind: at an end of the log, between two
    /// trips, impossible, of six hours and more, and others.
    pub gaps: Vec<Gap>,
    /// How many gaps there were.
    pub gap_count: u64,
    /// How many of them were taken for the time between two trips.
    pub pauses: u64,
    /// How often records without a usable place stand hours before or after everything else: trips of which nothing is
    /// known.
    pub lost_trips: u64,
    /// How the log was put in order before it was audited.
    pub order: OrderFindings,
}

impl Quality {
    /// How many suspects and how many gaps of one kind are listed; the rest is counted.
    pub const MOST_LISTED: usize = 1_000;
}

/// Numbers of suspects, each under the code of its kind.
#[cfg(feature = "serde")]
fn by_suspicion<S: serde::Serializer>(counts: &[u64; 7], serializer: S) -> Result<S::Ok, S::Error> {
    serializer.collect_map(Suspicion::ALL.iter().map(Suspicion::code).zip(counts))
}

/// Everything an audit found.
///
/// With the feature `serde` it serialises itself: codes in kebab case, units in the names of figures.
///
/// # Examples
///
/// ```
/// use takeline::ZoneSet;
/// use takeline::track::{Auditor, TrackSettings};
///
/// let audit = Auditor::new(&ZoneSet::new(Vec::new()), TrackSettings::default()).finish();
/// # #[cfg(feature = "serde")]
/// # {
/// let json = serde_json::to_value(&audit)?;
/// assert_eq!(json["path_m"], 0.0);
/// assert_eq!(json["settings"]["top_speed_kn"], 12.0);
/// assert_eq!(json["quality"]["counts"]["spike"], 0);
/// # }
/// # Ok::<(), serde_json::Error>(())
/// ```
#[derive(Debug, Clone)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct Audit {
    /// How the track was read.
    pub settings: TrackSettings,
    /// The log itself.
    pub quality: Quality,
    /// Crossings, in the order of the track.
    pub crossings: Vec<Crossing>,
    /// Visits, in the order in which they began.
    pub visits: Vec<Visit>,
    /// The nearest approach to each zone that was never visited and came within 20 km, nearest first.
    pub closest_approaches: Vec<ClosestApproach>,
    /// Metres of way from fix to fix, suspects and gaps left out.
    #[cfg_attr(feature = "serde", serde(rename = "path_m"))]
    pub path: Metres,
    /// Metres straight across the gaps: the boat made that way at least. Times between two trips are left out.
    #[cfg_attr(feature = "serde", serde(rename = "gap_path_m"))]
    pub gap_path: Metres,
    /// The track for drawing: every fix of a short log, thinned evenly where there are more than some thousands.
    pub sketch: Vec<TrackPoint>,
}

/// What one more fix made happen.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
#[expect(clippy::large_enum_variant, reason = "an event is taken as it comes, and visits are few")]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub enum TrackEvent {
    /// A line was crossed.
    Crossed(Crossing),
    /// A visit began, or one that was possible so far is now certain: then it comes once more.
    Entered {
        /// The zone, by its id, which is unique within its file.
        zone: ZoneId,
        /// The zone, by its place among the zones of the set: whether its rule is in force, ask [`crate::ZoneSet::assess`].
        zone_number: usize,
        /// Whether it is sure.
        certainty: Certainty,
        /// Where and when.
        at: LoggedMoment,
    },
    /// A visit ended.
    Left(Visit),
    /// A fix is suspect.
    Suspect(SuspectFix),
    /// There was a gap.
    Gap(Gap),
}

/// Where a fix of the cleaned track stands, for maps.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct TrackPoint {
    /// The fix.
    pub fix: LoggedFix,
    /// The worst standing among all zones: certain inside, possible, or none.
    pub standing: Option<Certainty>,
    /// The line nearest to it, if one is within 20 km.
    pub nearest: Option<NearLine>,
    /// Whether a gap or a break in the log lies between it and the point before.
    pub after_break: bool,
}

/// A distance to a zone's line.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct NearLine {
    /// The zone, by its place among the zones of the set.
    pub zone_number: usize,
    /// Distance, negative inside.
    #[cfg_attr(feature = "serde", serde(rename = "signed_distance_m"))]
    pub signed_distance: Metres,
    /// Its doubt, 95 %.
    #[cfg_attr(feature = "serde", serde(rename = "uncertainty_95_m"))]
    pub uncertainty_95: Metres,
}

/// The first and the last moment of a visit.
///
/// Made from one moment and widened by others, so that it can never end before it begins. Moments without a time count in
/// the order in which they are added, which is that of the log.
///
/// # Examples
///
/// ```
/// use takeline::Position;
/// use takeline::track::{LoggedMoment, VisitSpan};
///
/// let at = |clock: &str| -> Result<LoggedMoment, Box<dyn std::error::Error>> {
///     let time = Some(format!("2026-07-01T{clock}Z").parse()?);
///     Ok(LoggedMoment { position: Position::from_degrees(45.1, -30.1)?, time, between: None })
/// };
/// let span = VisitSpan::of(at("05:04:00")?, at("05:03:00")?);
/// assert_eq!(span.entered(), at("05:03:00")?);
/// assert_eq!(span.left(), at("05:04:00")?);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct VisitSpan {
    entered: LoggedMoment,
    left: LoggedMoment,
}

impl VisitSpan {
    /// A span of no length.
    #[must_use]
    pub fn at(moment: LoggedMoment) -> Self {
        Self { entered: moment, left: moment }
    }

    /// The span that holds two moments.
    #[must_use]
    pub fn of(one: LoggedMoment, other: LoggedMoment) -> Self {
        let mut span = Self::at(one);
        span.include(other);
        span
    }

    /// Widens the span until it holds a moment.
    pub fn include(&mut self, moment: LoggedMoment) {
        match (self.entered.time, self.left.time, moment.time) {
            (Some(entered), _, Some(time)) if time < entered => self.entered = moment,
            (_, Some(left), Some(time)) if time < left => {}
            _ => self.left = moment,
        }
    }

    /// Returns the first moment.
    #[must_use]
    pub fn entered(&self) -> LoggedMoment {
        self.entered
    }

    /// Returns the last moment, never earlier than the first.
    #[must_use]
    pub fn left(&self) -> LoggedMoment {
        self.left
    }
}

/// More points than this are thinned to half, evenly in the order of the log.
const MOST_POINTS: usize = 4_096;

/// Points kept for drawing: every fix at first, then every second, fourth, … as the log grows; breaks and changes of
/// standing always.
#[derive(Debug, Default)]
pub(super) struct Sketch {
    points: Vec<TrackPoint>,
    stride_bits: u32,
    seen: u64,
    last: Option<TrackPoint>,
}

impl Sketch {
    pub(super) fn push(&mut self, point: TrackPoint) {
        let changed = self.last.is_some_and(|last| last.standing != point.standing);
        let room = self.points.len() < 4 * MOST_POINTS;
        let turn = self.seen.is_multiple_of(1 << self.stride_bits);
        self.seen += 1;
        self.last = Some(point);
        if turn || (room && (changed || point.after_break)) {
            self.points.push(point);
        }
        if turn && self.points.len() > MOST_POINTS {
            self.thin();
        }
    }

    fn thin(&mut self) {
        let mut number = 0;
        let mut standing = None;
        self.points.retain(|point| {
            number += 1;
            let keep = number % 2 == 1 || point.after_break || point.standing != standing;
            standing = point.standing;
            keep
        });
        self.stride_bits += 1;
    }

    pub(super) fn into_points(mut self) -> Vec<TrackPoint> {
        let drawn = self.points.last().map(|point| point.fix.place);
        self.points.extend(self.last.filter(|last| Some(last.fix.place) != drawn));
        self.points
    }
}
