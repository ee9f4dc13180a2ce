//! What is to be said of one track, worked out once. Text, row, JSON, map data, table and page are views of it, so that no fact
//! can stand in one and lack in another, and no withheld position can slip into any of them.
//!
//! Serialised it is the JSON of `track`. Keys are a contract: add, never rename. `docs/track-output.md` describes each of them.

use jiff::Timestamp;
use serde::ser::{Serialize, SerializeStruct, Serializer};
use takeline::rule::{Access, Condition, RuleSummary};
use takeline::track::{
    Certainty, ConditionReason, Course, Direction, Evidence, Gap, Motion, NotShown, OffTheWay, OpenEnd,
    OrderFindings, Outcome, OutcomeAnswer, OutcomeReason, Reason, Remedy, Suspicion, VisitEnd,
};
use takeline::zone::{Proofread, Zone};
use takeline::{Metres, Position, TakeAnswer, Tristate};

use super::land_document::{CrossableDocument, OnLandDocument};
use super::verdict::{Headline, Unsettled, VerdictReason};
use super::{AuditReport, InputKind, TrackNote};
use crate::ExitStatus;
use crate::words::Spoken;

/// All that is to be said of one track, schema `takeline.track/1`.
#[derive(Debug, Clone, serde::Serialize)]
pub struct TrackDocument<'a> {
    /// `takeline.track/1`.
    pub schema: &'static str,
    /// Version of the program.
    pub takeline_version: &'static str,
    /// The log.
    pub input: InputDocument<'a>,
    /// The state of the log.
    pub quality: QualityDocument<'a>,
    /// Visits, in the order in which they began.
    pub visits: Vec<VisitDocument<'a>>,
    /// Crossings of lines, in the order of the track.
    pub crossings: Vec<CrossingDocument<'a>>,
    /// Zones that came within 20 km and were never visited, nearest first.
    pub closest_approach: Vec<ClosestDocument<'a>>,
    /// Catches, in the order of their log.
    pub catches: Vec<CatchDocument<'a>>,
    /// Distance from fix to fix, suspects and gaps left out.
    #[serde(rename = "path_m")]
    pub path: Metres,
    /// Straight across the gaps, the least that was made in them.
    #[serde(rename = "gap_path_m")]
    pub gap_path: Metres,
    /// How the track was read.
    pub settings: SettingsDocument,
    /// The files that the zones were read from.
    pub zone_files: Vec<ZoneFileDocument<'a>>,
    /// What the reader of the log had to say.
    pub notes: &'a [TrackNote],
    /// The command that makes this report again.
    pub command: &'a str,
    /// Positions nearer than this to either end of the track are null; null if none is withheld.
    #[serde(rename = "trimmed_ends_m")]
    pub trimmed_ends: Option<Metres>,
    /// What a track cannot show.
    pub limits: Vec<String>,
    /// What no answer can know.
    pub cautions: [&'static str; 4],
    /// 0, 1 or 3.
    #[serde(serialize_with = "status")]
    pub exit_status: ExitStatus,
    /// Whether anything in the log is against a loaded rule.
    pub verdict: OutcomeAnswer,
    /// Why.
    pub verdict_because: Vec<String>,
    /// The same as values, with their codes.
    pub verdict_because_codes: Vec<VerdictReason>,
    /// What bears on that and the log does not show.
    pub not_shown: Vec<String>,
    /// The same as values, with their codes.
    pub not_shown_codes: Vec<NotShown>,
    /// Why the track settles nothing, in the words of the first lines of the text; empty where it is settled.
    pub undecided_because: Vec<String>,
    /// The same as a value, with its code; null where it is settled.
    pub undecided_because_code: Option<Unsettled>,
    /// The first lines.
    #[serde(skip)]
    pub(crate) headline: Headline,
    /// What somebody who reads no further than the first lines has to know of the log.
    #[serde(skip)]
    pub(crate) remarks: Vec<String>,
    /// What it was drawn up from.
    #[serde(skip)]
    pub(super) report: &'a AuditReport<'a>,
    /// In whose words.
    #[serde(skip)]
    pub(crate) words: Spoken<'a>,
}

/// The log that was read.
#[derive(Debug, Clone, serde::Serialize)]
pub struct InputDocument<'a> {
    /// The path as given, or `-`.
    pub path: &'a str,
    /// SHA-256 of its bytes, or null.
    pub sha256: Option<&'a str>,
    /// A trip that was made, or a file of routes.
    pub kind: InputKind,
    /// Fixes read.
    pub fixes: u64,
    /// First time in the log, or null.
    pub first_time: Option<Timestamp>,
    /// Last time in the log, or null.
    pub last_time: Option<Timestamp>,
    /// Rows of the catch log that could not be read, so that nothing is known of those fish.
    pub catch_rows_unread: u64,
}

/// The state of the log.
#[derive(Debug, Clone, serde::Serialize)]
pub struct QualityDocument<'a> {
    /// How many fixes repeat the one before.
    pub duplicates: u64,
    /// How many are earlier than the one before.
    pub out_of_order: u64,
    /// How many fixes are spikes.
    pub spike_count: u64,
    /// Spikes, at most 1000 of them.
    pub spikes: Vec<SuspectDocument>,
    /// How many gaps there are.
    pub gap_count: u64,
    /// Gaps, at most 1000 of them.
    pub gaps: Vec<GapDocument<'a>>,
    /// How many fixes have no time.
    pub without_time: u64,
    /// How many fixes came before the receiver had settled.
    pub cold_start: u64,
    /// How many lie at latitude 0, longitude 0.
    pub zero_island: u64,
    /// How many repeat a last fix.
    pub stale: u64,
    /// How many have no time and stand in a gap.
    pub untimed: u64,
    /// How many gaps were taken for the time between two trips.
    pub pauses: u64,
    /// Records that tell no usable place.
    pub unplaced: u64,
    /// Records that tell neither time nor place, and that no fixes on both sides bound.
    pub lost: u64,
    /// How often records without a place stand hours from everything else.
    pub lost_trips: u64,
    /// Every suspect fix, spikes among them, in the order of the log, at most 1000 of each kind.
    pub suspects: Vec<SuspectDocument>,
    /// How the log was put in order.
    pub order: &'a OrderFindings,
    /// What of it lies on land by the coasts that were given, or null if none was.
    pub on_land: Option<OnLandDocument<'a>>,
}

/// A fix left out of what is certain.
#[derive(Debug, Clone, Copy, serde::Serialize)]
pub struct SuspectDocument {
    /// Line of the log.
    pub line: u64,
    /// Why, by its code.
    pub kind: Suspicion,
    /// Its time, or null.
    pub time: Option<Timestamp>,
    /// Where.
    #[serde(flatten)]
    pub place: ShownPlace,
    /// The speed that it would have needed, or null.
    pub needed_kn: Option<f64>,
}

/// A time in which nothing was logged.
#[derive(Debug, Clone, serde::Serialize)]
pub struct GapDocument<'a> {
    /// The last fix before.
    pub from: MomentDocument,
    /// The first fix after.
    pub to: MomentDocument,
    /// Line of the last fix before.
    pub after_line: u64,
    /// How long, or null.
    pub seconds: Option<f64>,
    /// How far apart.
    #[serde(rename = "distance_m")]
    pub distance: Metres,
    /// How far from the straight way the boat can have been at most, or null.
    #[serde(rename = "reach_m")]
    pub reach: Option<Metres>,
    /// Whether no boat can cover that in the time.
    pub impossible: bool,
    /// Whether one trip ended before it and another began after it.
    pub between_trips: bool,
    /// Null; or, where only one end of it is known, "before-the-first-fix", "after-the-last-fix" or "repeats".
    pub open_end: Option<OpenEnd>,
    /// The gap.
    #[serde(skip)]
    pub(crate) gap: &'a Gap,
}

/// A place and when the boat was there.
#[derive(Debug, Clone, Copy, serde::Serialize)]
pub struct MomentDocument {
    /// When, or null.
    pub time: Option<Timestamp>,
    /// Where.
    #[serde(flatten)]
    pub place: ShownPlace,
    /// The times of the fixes before and after, or null.
    pub between: Option<(Timestamp, Timestamp)>,
}

/// A time in a zone or near its line.
#[derive(Debug, Clone, serde::Serialize)]
pub struct VisitDocument<'a> {
    /// Identifier of the zone.
    pub zone_id: &'a str,
    /// Its name.
    pub zone_name: &'a str,
    /// How sure it is that the boat was inside.
    pub certainty: Certainty,
    /// When and where it began.
    pub entered: MomentDocument,
    /// When and where it ended.
    pub left: MomentDocument,
    /// Seconds surely inside; null in a log without times.
    pub certain_s: Option<f64>,
    /// Seconds inside at most; null in a log without times.
    pub possible_s: Option<f64>,
    /// How deep inside; negative where it was outside but within the doubt; null where the place of the zone is not known.
    #[serde(rename = "deepest_m")]
    pub deepest: Option<Metres>,
    /// 95 % uncertainty of that.
    #[serde(rename = "deepest_uncertainty_95_m")]
    pub deepest_uncertainty_95: Metres,
    /// Way made.
    #[serde(rename = "path_m")]
    pub path: Metres,
    /// Speeds, or null.
    pub speed_kn: Option<SpeedDocument>,
    /// What it is known from.
    pub evidence: Evidence,
    /// Whether the visit is known only from fixes that are suspect.
    pub suspect: bool,
    /// The two fixes whose time alone lets the boat have been inside; null where a fix, the straight way between two or a
    /// gap does.
    pub off_the_way: Option<OffTheWay>,
    /// Gaps of the log in it.
    pub gaps: u64,
    /// Stops.
    pub stops: Vec<StopDocument>,
    /// Places in `crossings`, counted from 0.
    pub crossings: &'a [usize],
    /// How it began: over a side that a boat can cross, at the shore, where the log begins, or in doubt.
    pub began_at: VisitEnd,
    /// How it ended, likewise.
    pub ended_at: VisitEnd,
    /// Whether the rule was in force.
    pub in_force: Tristate,
    /// Why.
    pub in_force_because: Vec<String>,
    /// The same as values, with their codes.
    pub in_force_because_codes: &'a [Reason],
    /// Whether the rule bound the boat then.
    pub binds: Tristate,
    /// Why, where access or another rule decides it.
    pub binds_because: Vec<String>,
    /// The same as values, with their codes.
    pub binds_because_codes: &'a [Reason],
    /// Whether the rule restricts nothing at all; then the visit counts for nothing.
    pub restricts_nothing: bool,
    /// Zones whose rules displaced this one for some of the time, or may have.
    pub displaced_by: Vec<&'a str>,
    /// What came of it.
    pub outcome: OutcomeDocument,
    /// Conditions of crossing, and what the track says of them.
    pub conditions: Vec<ConditionDocument<'a>>,
    /// How the boat moved.
    pub movement: Vec<String>,
    /// The same as values, with their codes.
    pub movement_codes: &'a [Motion],
    /// The rule in a few words, or null.
    pub take_rule: Option<String>,
    /// The same as a value, with its code.
    pub take_rule_code: Option<RuleSummary>,
    /// The law, or null.
    pub source: Option<VisitSourceDocument<'a>>,
    /// Who read the zone against the printed law, or null.
    pub proofread: Option<&'a Proofread>,
    /// The file that the zone was read from, or null.
    pub zone_file: Option<ZoneFileDocument<'a>>,
    /// How the boat got on inside.
    #[serde(skip)]
    pub(crate) course: Course,
    /// What came of it, catches left out.
    #[serde(skip)]
    pub(super) own_answer: OutcomeAnswer,
    /// The zone, if the set holds it.
    #[serde(skip)]
    pub(crate) zone: Option<&'a Zone>,
    /// Its place among the zones of the set.
    #[serde(skip)]
    pub(crate) zone_number: usize,
}

/// What came of a visit.
#[derive(Debug, Clone, serde::Serialize)]
pub struct OutcomeDocument {
    /// Whether anything that the log shows there is against the rule, the catches made or carried there among it.
    pub answer: OutcomeAnswer,
    /// Why, what decides first.
    pub because: Vec<String>,
    /// The same as values, with their codes.
    pub because_codes: Vec<OutcomeReason>,
    /// What bears on that and the log does not show.
    pub not_shown: Vec<String>,
    /// The same as values, with their codes.
    pub not_shown_codes: Vec<NotShown>,
    /// Rows of the catch log that were made or carried there and bear on the answer.
    pub catches: Vec<u64>,
    /// Seconds surely inside while the rule was surely in force; null in a log without times.
    pub in_force_certain_s: Option<f64>,
    /// Seconds perhaps inside while the rule was perhaps in force; null in a log without times.
    pub in_force_possible_s: Option<f64>,
    /// Seconds surely inside while the rule surely bound the boat; null in a log without times.
    pub binds_certain_s: Option<f64>,
    /// Seconds perhaps inside while the rule perhaps bound the boat; null in a log without times.
    pub binds_possible_s: Option<f64>,
}

/// Speeds over the ground.
#[derive(Debug, Clone, Copy, serde::Serialize)]
pub struct SpeedDocument {
    /// The slowest leg.
    pub min: f64,
    /// Way over time.
    pub mean: f64,
    /// The fastest leg.
    pub max: f64,
}

/// A stop.
#[derive(Debug, Clone, serde::Serialize)]
pub struct StopDocument {
    /// Where and when it began.
    pub from: MomentDocument,
    /// How long.
    pub seconds: f64,
}

/// A condition of crossing.
#[derive(Debug, Clone, serde::Serialize)]
pub struct ConditionDocument<'a> {
    /// The condition, in the words of the zone file where it has any.
    pub condition: String,
    /// The same as a value, with its code.
    pub condition_code: &'a Condition,
    /// Whether it was met; undecided where a track cannot tell.
    pub met: Tristate,
    /// Why.
    pub because: String,
    /// The same as values, with their codes.
    pub because_codes: &'a [ConditionReason],
}

/// Where a rule comes from.
#[derive(Debug, Clone, Copy, serde::Serialize)]
pub struct VisitSourceDocument<'a> {
    /// The law, order or notice.
    pub instrument: &'a str,
    /// The clause in it, or null.
    pub clause: Option<&'a str>,
}

/// A crossing of a line.
#[derive(Debug, Clone, serde::Serialize)]
pub struct CrossingDocument<'a> {
    /// The zone.
    pub zone_id: &'a str,
    /// Which way.
    pub direction: Direction,
    /// Where and when.
    #[serde(flatten)]
    pub at: MomentDocument,
    /// The zone, if the set holds it.
    #[serde(skip)]
    pub(crate) zone: Option<&'a Zone>,
    /// The number of the visit that it belongs to, counted from 0.
    #[serde(skip)]
    pub(crate) visit: Option<usize>,
}

/// The nearest that the boat came to a zone.
#[derive(Debug, Clone, serde::Serialize)]
pub struct ClosestDocument<'a> {
    /// The zone.
    pub zone_id: &'a str,
    /// Its name.
    pub zone_name: &'a str,
    /// Distance to its line, positive outside.
    #[serde(rename = "signed_distance_m")]
    pub signed_distance: Metres,
    /// 95 % uncertainty of that.
    #[serde(rename = "uncertainty_95_m")]
    pub uncertainty_95: Metres,
    /// Where and when.
    #[serde(flatten)]
    pub at: MomentDocument,
    /// The nearest place from there that a boat can cross; null where every side of the zone is open water, or none can be crossed.
    pub crossable: Option<CrossableDocument>,
    /// The place of the zone among those of the set, if the set holds it.
    #[serde(skip)]
    pub(crate) zone_number: Option<usize>,
}

/// A catch.
#[derive(Debug, Clone, serde::Serialize)]
pub struct CatchDocument<'a> {
    /// Line of the catch log.
    pub row: u64,
    /// The fish as written, or null.
    pub asked: Option<&'a str>,
    /// When, or null.
    pub time: Option<Timestamp>,
    /// Where.
    #[serde(flatten)]
    pub place: ShownPlace,
    /// Where its row and its track have it, where the one contradicts the other; else null.
    pub contradicted: Option<ContradictedDocument>,
    /// What the rules let be done with it.
    pub answer: TakeAnswer,
    /// Why.
    pub because: Vec<String>,
    /// The same as values, with their codes: reasons, conditions, and what would settle it; none where its place is withheld.
    pub because_codes: Vec<SaidCode<'a>>,
    /// Zones that it was carried through, and what their rules say of that.
    pub carried: Vec<CarriedDocument<'a>>,
    /// What came of it.
    #[serde(skip)]
    pub(crate) outcome: Outcome,
}

/// A zone that a fish was carried through.
#[derive(Debug, Clone, serde::Serialize)]
pub struct CarriedDocument<'a> {
    /// The zone.
    pub zone_id: &'a str,
    /// Whether the fish was allowed aboard there; yes under conditions.
    pub answer: Tristate,
    /// Why, conditions included.
    pub because: Vec<String>,
    /// The same as values, with their codes.
    pub because_codes: Vec<SaidCode<'a>>,
}

/// What one of several texts about a catch says, as a value with its code.
#[derive(Debug, Clone, serde::Serialize)]
#[serde(untagged)]
pub enum SaidCode<'a> {
    /// Why.
    Reason(Reason),
    /// What has to be met.
    Condition(&'a Condition),
    /// What would settle it.
    Remedy(&'a Remedy),
}

/// A position that a catch log gives, and that of the track at that time, which contradicts it; null where withheld.
#[derive(Debug, Clone, Copy)]
pub struct ContradictedDocument {
    /// By the row.
    pub row: ShownPlace,
    /// By the track.
    pub track: ShownPlace,
}

/// How the track was read.
#[derive(Debug, Clone, Copy, serde::Serialize)]
pub struct SettingsDocument {
    /// Doubt of fixes that have none of their own, 95 %.
    #[serde(rename = "uncertainty_95_m")]
    pub uncertainty_95: Metres,
    /// `given` or `assumed`.
    pub uncertainty_source: &'static str,
    /// 95 % metres per unit of horizontal dilution of precision, or null.
    pub metres_per_hdop: Option<f64>,
    /// Top speed for what could have been reached.
    pub top_speed_kn: f64,
    /// `given`, `assumed`, or `shown` where the log shows more.
    pub top_speed_source: &'static str,
    /// Whether the dates of the log may be wrong as a whole.
    pub dates_doubtful: bool,
    /// Seconds between fixes from which on there is a gap.
    pub gap_after_s: f64,
    /// Seconds outside that do not end a visit.
    pub linger_s: f64,
    /// Slower than this is a stop.
    pub stop_below_kn: f64,
    /// From where the fishing was: `boat`, `shore`, `diving`, or null where that was not said.
    pub access: Option<Access>,
}

/// A file of zones.
#[derive(Debug, Clone, Copy, serde::Serialize)]
pub struct ZoneFileDocument<'a> {
    /// The path as given.
    pub path: &'a str,
    /// SHA-256 of its bytes.
    pub sha256: &'a str,
    /// Its title, or null.
    pub title: Option<&'a str>,
    /// Its edition, or null.
    pub edition: Option<&'a str>,
    /// Until when it was valid, or null.
    pub valid_until: Option<Timestamp>,
}

/// A place; none where it is withheld or not known: then both coordinates are null.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct ShownPlace(pub Option<Position>);

impl ShownPlace {
    fn degrees(self) -> [Option<f64>; 2] {
        [
            self.0.map(|position| position.latitude().degrees()),
            self.0.map(|position| position.longitude().degrees()),
        ]
    }
}

impl Serialize for ShownPlace {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let [latitude_deg, longitude_deg] = self.degrees();
        let mut place = serializer.serialize_struct("ShownPlace", 2)?;
        place.serialize_field("latitude_deg", &latitude_deg)?;
        place.serialize_field("longitude_deg", &longitude_deg)?;
        place.end()
    }
}

impl Serialize for ContradictedDocument {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut both = serializer.serialize_struct("ContradictedDocument", 4)?;
        let (row, track) = (self.row.degrees(), self.track.degrees());
        both.serialize_field("row_latitude_deg", &row[0])?;
        both.serialize_field("row_longitude_deg", &row[1])?;
        both.serialize_field("track_latitude_deg", &track[0])?;
        both.serialize_field("track_longitude_deg", &track[1])?;
        both.end()
    }
}

impl<'a> CrossingDocument<'a> {
    /// The name of the zone, else its identifier.
    pub(crate) fn zone_name(&self) -> &'a str {
        self.zone.map_or(self.zone_id, |zone| &zone.name)
    }
}

impl VisitDocument<'_> {
    /// Whether a rule may have restricted the boat at some moment: it may have bound it, and restricts something.
    pub(crate) fn may_restrict(&self) -> bool {
        self.binds != Tristate::No && !self.restricts_nothing
    }
}

impl QualityDocument<'_> {
    /// Each kind of suspicion with how many fixes there are of it.
    pub(crate) fn counts(&self) -> [(Suspicion, u64); 7] {
        let counts = [
            self.duplicates,
            self.out_of_order,
            self.spike_count,
            self.cold_start,
            self.zero_island,
            self.stale,
            self.untimed,
        ];
        std::array::from_fn(|number| (Suspicion::ALL[number], counts[number]))
    }
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde gives a reference to the field")]
fn status<S: Serializer>(status: &ExitStatus, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_u8(status.code())
}
