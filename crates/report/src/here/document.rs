//! The JSON of `here`. Keys are a contract: add, never rename. `docs/json-output.md` describes each of them.

use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use serde::Serialize;
use takeline::assess::{
    Assumption, Crossing, Displacing, NoWayOut, OnHeading, Reason, Remedy, Warning, WayHome, WayOut,
};
use takeline::rule::{Allowance, Condition, RuleSummary};
use takeline::zone::{Misreading, Proofread, Slip, Source, ZoneFile};
use takeline::{
    Assessment, ClearingMove, Containment, CrossablePoint, Fix, Metres, NearestPoint, NearestSide, Position,
    SideKind, TakeAnswer, TakeFinding, Tristate, UncertaintySource, WaterStatus, ZoneFinding, binding,
};

use crate::exit_status::{ExitStatus, exit_status};
use crate::words::{Spoken, WayPhrase, Words, each};

/// One answer of `here`, schema `takeline.here/1`, in the words of one language.
///
/// All output is a view of it: JSON is what it serialises to; [`super::here_text`] and [`super::here_row_text`] say nothing that
/// is not in it.
///
/// # Examples
///
/// ```
/// use takeline::{Fix, HorizontalUncertainty, Position, Question, zone::ZoneSet};
/// use takeline_report::words::English;
/// use takeline_report::{HereDocument, here_text};
///
/// let fix = Fix::new(Position::from_degrees(45.1182, -30.1217)?, HorizontalUncertainty::assumed());
/// let assessment = ZoneSet::new(vec![]).assess(&fix, &Question::default());
/// let document = HereDocument::of(&assessment, &English);
/// assert!(here_text(&document, 40).starts_with("UNDECIDED: do not keep"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Serialize)]
pub struct HereDocument<'a> {
    /// `takeline.here/1`.
    pub schema: &'static str,
    /// In a batch: the line of the input, counted from 1. Left out otherwise.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub row: Option<u64>,
    /// Version of the program.
    pub takeline_version: &'static str,
    /// The fix.
    pub position: PositionDocument,
    /// The time of the fix, RFC 3339 in UTC, or null.
    pub time: Option<Timestamp>,
    /// `given`, or `clock` where it is what the clock of this device says, or null if there is no time.
    pub time_source: Option<&'static str>,
    /// `closed`, `limited`, `no-loaded-zone` or `undecided`.
    pub water: WaterStatus,
    /// Why, one sentence each.
    pub water_because: Vec<String>,
    /// The same as data.
    pub water_because_codes: &'a [Reason],
    /// Ids of the closed zones of which one or another holds the place, nearest line first; empty where one surely does.
    pub closed_by_one_of: Vec<&'a str>,
    /// The same as places in `zones`.
    #[serde(skip)]
    pub(super) closing: &'a [usize],
    /// Zones, nearest line first.
    pub zones: Vec<ZoneDocument<'a>>,
    /// One entry per fish asked about.
    pub take: Vec<TakeDocument<'a>>,
    /// What would settle an undecided answer, one sentence each.
    pub settle: Vec<String>,
    /// The same as data.
    pub settle_codes: &'a [Remedy],
    /// A move that settles the side, or null.
    pub settling_move: Option<ClearingMove>,
    /// The way to the nearest place where no loaded zone that binds now closes or limits the water; null where none does, or
    /// there is none. Left out where it was not looked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub way_out: Option<Option<&'a WayOut>>,
    /// Why there is no way out, where one was looked for in vain; else null. Left out likewise.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub no_way_out: Option<Option<String>>,
    /// The same as data.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub no_way_out_code: Option<Option<&'a NoWayOut>>,
    /// What lies along the bow; null if no heading was asked about, or the place was likely not meant.
    pub on_heading: Option<&'a OnHeading>,
    /// The straight way home, and what it crosses; null if none was asked about, or the place was likely not meant.
    pub way_home: Option<WayHomeDocument<'a>>,
    /// Whether the asked stand-off is kept; null if none was asked.
    pub standoff: Option<StandoffDocument<'a>>,
    /// What the place was likely meant to be, where it is far from every zone and a slip explains it; else null.
    pub likely_misreading: Option<MisreadingDocument>,
    /// Warnings about the data.
    pub warnings: Vec<String>,
    /// The same as data.
    pub warnings_codes: &'a [Warning],
    /// What no answer can know.
    pub cautions: [&'static str; 4],
    /// 0, 1 or 3.
    pub exit_status: ExitStatus,
    /// Which of `settle` is said first, whatever else may be.
    #[serde(skip)]
    pub(super) settle_first: Option<&'a Remedy>,
    #[serde(skip)]
    pub(super) language: Spoken<'a>,
}

/// A fix.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct PositionDocument {
    /// Latitude and longitude, north and east positive.
    #[serde(flatten)]
    pub position: Position,
    /// Radius that holds the true position 95 times in 100.
    #[serde(rename = "uncertainty_95_m")]
    pub uncertainty_95: Metres,
    /// `given` or `assumed`.
    pub uncertainty_source: UncertaintySource,
}

/// What one zone says about a fix.
#[derive(Debug, Clone, Serialize)]
#[expect(clippy::struct_excessive_bools, reason = "keys of the JSON output, each an answer of its own")]
pub struct ZoneDocument<'a> {
    /// Identifier.
    pub id: &'a str,
    /// Name.
    pub name: &'a str,
    /// `inside`, `outside` or `undecided`.
    pub containment: Containment,
    /// Whether the fix lies on the line.
    pub on_the_line: bool,
    /// Distance to the nearest point of the boundary, negative inside; null if the line is not known.
    #[serde(rename = "signed_distance_m")]
    pub signed_distance: Option<Metres>,
    /// 95 % uncertainty of that distance.
    #[serde(rename = "uncertainty_95_m")]
    pub uncertainty_95: Metres,
    /// What was assumed in it.
    pub assumed: Vec<String>,
    /// The same as data.
    pub assumed_codes: &'a [Assumption],
    /// Probability of being inside, for normal errors; null if the line is not known.
    pub inside_probability: Option<f64>,
    /// Nearest point of the boundary; null if the line is not known.
    pub nearest: Option<NearestPoint>,
    /// What the side there is, and the law's words for the shore; null if the line is not known.
    pub nearest_side: Option<&'a NearestSide>,
    /// Nearest point of the sides that a boat can cross; null if it can cross none, or the line is not known.
    pub crossable: Option<CrossablePoint>,
    /// How far the readings of edges the text leaves open put the line apart here; null if they do not.
    #[serde(rename = "reading_gap_m")]
    pub reading_gap: Option<Metres>,
    /// Whether those readings differ about the side.
    pub readings_differ_about_side: bool,
    /// `yes`, `no` or `undecided`.
    pub in_force: Tristate,
    /// Why, and until when.
    pub in_force_because: Vec<String>,
    /// The same as data.
    pub in_force_because_codes: &'a [binding::Reason],
    /// The rule in a few words.
    pub take_rule: String,
    /// The same as data.
    pub take_rule_code: &'a RuleSummary,
    /// Whether the rule says that nothing may be taken.
    pub nothing_may_be_taken: bool,
    /// Whether the rule restricts nothing at all.
    pub restricts_nothing: bool,
    /// Conditions that hold whatever the fish.
    pub conditions: &'a [String],
    /// How one may cross.
    pub passage: Vec<String>,
    /// The same as data.
    pub passage_codes: &'a [Condition],
    /// Zones whose rules displace the rule of this one here, each with its citation.
    pub displaced_by: Vec<String>,
    /// The same as data.
    pub displaced_by_codes: Vec<DisplacingDocument<'a>>,
    /// Zones whose rules may displace it here, each with its citation.
    pub perhaps_displaced_by: Vec<String>,
    /// The same as data.
    pub perhaps_displaced_by_codes: Vec<DisplacingDocument<'a>>,
    /// Whether its rule binds here: `yes`, `no` or `undecided`.
    pub binds: Tristate,
    /// The time that its rule goes by.
    #[serde(skip)]
    pub(super) time_zone: &'a TimeZone,
    /// The law.
    pub source: SourceDocument<'a>,
    /// Who read the zone against the printed law, or null.
    pub proofread: Option<&'a Proofread>,
    /// The file.
    pub zone_file: FileDocument<'a>,
}

impl ZoneDocument<'_> {
    /// Whether the nearest point of its boundary is one that no boat crosses.
    pub(super) fn has_shore_nearest(&self) -> bool {
        self.nearest_side.is_some_and(|side| side.kind == SideKind::Shore)
    }
}

fn closing_ids(assessment: &Assessment) -> Vec<&str> {
    let zones = assessment.closed_by_one_of.iter().filter_map(|place| assessment.zones.get(*place));
    zones.map(|zone| zone.id.0.as_str()).collect()
}

/// A zone whose rule displaces another one's, or may.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct DisplacingDocument<'a> {
    /// `displaced` or `perhaps-displaced`.
    pub code: &'static str,
    /// Its name.
    pub zone: &'a str,
    /// The clause that says so.
    pub clause: &'a str,
}

/// Where a rule comes from.
#[derive(Debug, Clone, Serialize)]
pub struct SourceDocument<'a> {
    /// The law, order or notice.
    pub instrument: &'a str,
    /// The clause in it, or null.
    pub clause: Option<&'a str>,
    /// The edition of the zone file, or null.
    pub edition: Option<&'a str>,
    /// The day the law was read, `YYYY-MM-DD`, or null.
    pub retrieved: Option<Date>,
    /// The words of the law, or null.
    pub quoted_text: Option<&'a str>,
    /// Where it was read, or null.
    pub url: Option<&'a str>,
}

/// The file that a zone was read from.
#[derive(Debug, Clone, Serialize)]
pub struct FileDocument<'a> {
    /// The path as given.
    pub path: &'a str,
    /// SHA-256 of its bytes, lower-case hexadecimal.
    pub sha256: &'a str,
    /// Its title, or null.
    pub title: Option<&'a str>,
    /// The instant from which its makers no longer vouch for it, RFC 3339, or null.
    pub valid_until: Option<Timestamp>,
}

/// What may be done with one fish.
#[derive(Debug, Clone, Serialize)]
pub struct TakeDocument<'a> {
    /// The name as typed.
    pub asked: &'a str,
    /// `keep`, `release`, `undecided` or `no-loaded-zone`.
    pub answer: TakeAnswer,
    /// Why.
    pub because: Vec<String>,
    /// The same as data.
    pub because_codes: &'a [Reason],
    /// What has to be met for it.
    pub conditions: Vec<String>,
    /// The same as data.
    #[serde(rename = "condition_codes")]
    pub conditions_codes: &'a [Condition],
    /// What would settle it.
    pub settle: Vec<String>,
    /// The same as data.
    pub settle_codes: &'a [Remedy],
    /// The way to the nearest place where it may be kept, if one was looked for and found.
    pub way_to_keep: Option<&'a WayOut>,
    /// Zones whose rules surely refuse it, each by itself: their names.
    pub refused_by: &'a [String],
    /// On the border of several zones: those of which one or another holds the place, and each refuses it.
    pub refused_by_one_of: &'a [String],
    /// Whether it may be aboard if it was caught elsewhere: `yes`, `no` or `undecided`.
    pub possession: Tristate,
    /// Why.
    pub possession_because: Vec<String>,
    /// The same as data.
    pub possession_because_codes: &'a [Reason],
    /// What has to be met for it.
    pub possession_conditions: Vec<String>,
    /// The same as data.
    #[serde(rename = "possession_condition_codes")]
    pub possession_conditions_codes: &'a [Condition],
    /// The limits of all zones together.
    pub limits: &'a Allowance,
    /// Other limits under which it may be kept as well; to keep to one of them, or to `limits`, is enough.
    pub limits_otherwise: &'a [Allowance],
}

/// A place that was likely meant.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct MisreadingDocument {
    /// `longitude-sign`, `latitude-sign`, `both-signs`, `exchanged` or `exchanged-and-sign`.
    pub slip: Slip,
    /// The place without the slip: latitude and longitude, north and east positive.
    #[serde(flatten)]
    pub likely: Position,
    /// Distance from the place as given to the nearest line.
    #[serde(rename = "distance_as_given_m")]
    pub distance_as_given: Metres,
}

/// The straight way home.
#[derive(Debug, Clone, Serialize)]
pub struct WayHomeDocument<'a> {
    /// The way.
    #[serde(flatten)]
    pub way: &'a WayHome,
    /// How one may cross each of the zones, in words, in step with `crosses`.
    pub passage: Vec<Vec<String>>,
}

impl<'a> WayHomeDocument<'a> {
    fn of(way: &'a WayHome, words: &dyn Words) -> Self {
        let passage =
            |crossing: &Crossing| each(&crossing.passage, |condition: &Condition| words.condition(condition));
        Self { way, passage: way.crosses.iter().map(passage).collect() }
    }
}

/// The answer about a stand-off.
#[derive(Debug, Clone, Serialize)]
pub struct StandoffDocument<'a> {
    /// `yes`, `no` or `undecided`.
    pub kept: Tristate,
    /// Why it is not kept or not settled, one sentence for each zone; empty if it is kept.
    pub because: Vec<String>,
    /// The same as data.
    pub because_codes: &'a [Reason],
}

impl<'a> HereDocument<'a> {
    /// Draws up the answer in these words.
    ///
    /// # Units
    ///
    /// Metres, degrees, centimetres, as each key says; full precision.
    ///
    /// # Edge cases
    ///
    /// Where the line of a zone is not known, its distance, probability and nearest point are null.
    #[must_use]
    pub fn of(assessment: &'a Assessment, words: &'a dyn Words) -> Self {
        let reasons = |list: &[Reason]| each(list, |reason| words.reason(reason));
        let no_way_out = assessment.no_way_out.as_ref();
        Self {
            schema: "takeline.here/1",
            row: None,
            takeline_version: env!("CARGO_PKG_VERSION"),
            position: PositionDocument::from(&assessment.fix),
            time: assessment.fix.time,
            time_source: assessment.fix.time.map(|_| "given"),
            water: assessment.water,
            water_because: reasons(&assessment.water_because),
            water_because_codes: &assessment.water_because,
            closed_by_one_of: closing_ids(assessment),
            closing: &assessment.closed_by_one_of,
            zones: assessment.zones.iter().map(|zone| ZoneDocument::of(zone, words)).collect(),
            take: assessment.take.iter().map(|finding| TakeDocument::of(finding, words)).collect(),
            settle: each(&assessment.settle, |remedy| words.remedy(remedy)),
            settle_codes: &assessment.settle,
            settling_move: assessment.settling_move,
            way_out: assessment.looked_for_way_out.then_some(assessment.way_out.as_ref()),
            no_way_out: assessment
                .looked_for_way_out
                .then(|| no_way_out.map(|why| words.way(&WayPhrase::NoneOut(why)))),
            no_way_out_code: assessment.looked_for_way_out.then_some(no_way_out),
            on_heading: assessment.on_heading.as_ref(),
            way_home: assessment.way_home.as_ref().map(|way| WayHomeDocument::of(way, words)),
            standoff: assessment.standoff_kept.map(|kept| StandoffDocument {
                kept,
                because: reasons(&assessment.standoff_because),
                because_codes: &assessment.standoff_because,
            }),
            likely_misreading: assessment.misreading.map(MisreadingDocument::from),
            warnings: each(&assessment.warnings, |warning| words.warning(warning)),
            warnings_codes: &assessment.warnings,
            cautions: words.cautions(),
            exit_status: exit_status(assessment),
            settle_first: assessment.settle_first.as_ref(),
            language: Spoken(words),
        }
    }

    /// Says that the time, if there is one, is what the clock of this device says.
    #[must_use]
    pub fn with_time_by_clock(mut self) -> Self {
        self.time_source = self.time_source.map(|_| CLOCK);
        self
    }

    /// Says which line of a batch it answers, counted from 1.
    #[must_use]
    pub fn with_row(mut self, row: u64) -> Self {
        self.row = Some(row);
        self
    }

    /// Whether the time is what the clock of this device says.
    pub(super) fn has_time_by_clock(&self) -> bool {
        self.time_source == Some(CLOCK)
    }
}

/// Whose word for a time it is where nobody gave one.
const CLOCK: &str = "clock";

pub(crate) fn water_key(water: WaterStatus) -> &'static str {
    match water {
        WaterStatus::Closed => "closed",
        WaterStatus::Restricted => "limited",
        WaterStatus::Unzoned => "no-loaded-zone",
        WaterStatus::Undecided => "undecided",
    }
}

pub(crate) fn answer_key(answer: TakeAnswer) -> &'static str {
    match answer {
        TakeAnswer::Keep => "keep",
        TakeAnswer::Release => "release",
        TakeAnswer::Undecided => "undecided",
        TakeAnswer::Unzoned => "no-loaded-zone",
    }
}

impl From<&Fix> for PositionDocument {
    fn from(fix: &Fix) -> Self {
        Self {
            position: fix.position,
            uncertainty_95: fix.uncertainty.radius_95(),
            uncertainty_source: fix.uncertainty.source(),
        }
    }
}

impl<'a> ZoneDocument<'a> {
    fn of(zone: &'a ZoneFinding, words: &dyn Words) -> Self {
        let displacing = |list: &[Displacing], is_sure| each(list, |by| words.displacing(by, is_sure));
        let codes = |code, list: &'a [Displacing]| {
            list.iter().map(|by| DisplacingDocument { code, zone: &by.zone, clause: &by.clause }).collect()
        };
        // an unknown line has no distance, whatever else the finding carries
        let line_known = zone.signed_distance.is_some();
        Self {
            id: &zone.id.0,
            name: &zone.name,
            containment: zone.containment,
            on_the_line: zone.on_the_line,
            signed_distance: zone.signed_distance,
            uncertainty_95: zone.uncertainty_95,
            assumed: each(&zone.assumed, |assumption| words.assumption(*assumption)),
            assumed_codes: &zone.assumed,
            inside_probability: zone.inside_probability.filter(|_| line_known),
            nearest: zone.nearest.filter(|_| line_known),
            nearest_side: zone.nearest_side.as_ref().filter(|_| line_known),
            crossable: zone.crossable.filter(|_| line_known),
            reading_gap: zone.reading_gap.map(|reading| reading.gap),
            readings_differ_about_side: zone.reading_gap.is_some_and(|reading| reading.sides_differ),
            in_force: zone.in_force,
            in_force_because: each(&zone.in_force_because, |reason| words.in_force_reason(reason)),
            in_force_because_codes: &zone.in_force_because,
            take_rule: words.rule_summary(&zone.take_rule),
            take_rule_code: &zone.take_rule,
            nothing_may_be_taken: zone.nothing_may_be_taken,
            restricts_nothing: zone.restricts_nothing,
            conditions: &zone.conditions,
            passage: each(&zone.passage, |condition| words.condition(condition)),
            passage_codes: &zone.passage,
            displaced_by: displacing(&zone.displaced_by, true),
            displaced_by_codes: codes("displaced", &zone.displaced_by),
            perhaps_displaced_by: displacing(&zone.perhaps_displaced_by, false),
            perhaps_displaced_by_codes: codes("perhaps-displaced", &zone.perhaps_displaced_by),
            binds: zone.binds,
            time_zone: &zone.time_zone,
            source: SourceDocument::of(&zone.source, &zone.file),
            proofread: zone.proofread.as_ref(),
            zone_file: FileDocument::from(&*zone.file),
        }
    }
}

impl<'a> SourceDocument<'a> {
    pub(crate) fn of(source: &'a Source, file: &'a ZoneFile) -> Self {
        Self {
            instrument: &source.instrument,
            clause: source.clause.as_deref(),
            edition: file.edition.as_deref(),
            retrieved: source.retrieved,
            quoted_text: source.quoted_text.as_deref(),
            url: source.url.as_deref(),
        }
    }
}

impl<'a> From<&'a ZoneFile> for FileDocument<'a> {
    fn from(file: &'a ZoneFile) -> Self {
        Self {
            path: &file.path,
            sha256: &file.sha256,
            title: file.title.as_deref(),
            valid_until: file.valid_until,
        }
    }
}

impl<'a> TakeDocument<'a> {
    fn of(finding: &'a TakeFinding, words: &dyn Words) -> Self {
        let reasons = |list: &[Reason]| each(list, |reason| words.reason(reason));
        let conditions = |list: &[Condition]| each(list, |condition| words.condition(condition));
        Self {
            asked: &finding.asked,
            answer: finding.answer,
            because: reasons(&finding.because),
            because_codes: &finding.because,
            conditions: conditions(&finding.conditions),
            conditions_codes: &finding.conditions,
            settle: each(&finding.settle, |remedy| words.remedy(remedy)),
            settle_codes: &finding.settle,
            way_to_keep: finding.way_to_keep.as_ref(),
            refused_by: &finding.refused_by,
            refused_by_one_of: &finding.refused_by_one_of,
            possession: finding.possession,
            possession_because: reasons(&finding.possession_because),
            possession_because_codes: &finding.possession_because,
            possession_conditions: conditions(&finding.possession_conditions),
            possession_conditions_codes: &finding.possession_conditions,
            limits: &finding.within,
            limits_otherwise: &finding.otherwise,
        }
    }
}

impl From<Misreading> for MisreadingDocument {
    fn from(found: Misreading) -> Self {
        Self { slip: found.slip, likely: found.likely, distance_as_given: found.distance }
    }
}
