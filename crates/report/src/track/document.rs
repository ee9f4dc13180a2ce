//! The JSON of `track`. Keys are a contract: add, never rename. `docs/track-output.md` describes each of them.

use serde::Serialize;
use takeline::track::{
    ClosestApproach, ConditionFinding, Crossing, Gap, LoggedFix, LoggedMoment, OrderFindings, Speeds, Stop,
    SuspectFix, Suspicion, Visit,
};
use takeline::zone::ZoneFile;
use takeline::{Position, UncertaintySource};

use super::report::TRACK_LIMITS;
use super::{
    AuditReport, CarriedAnswer, CatchAnswer, InputKind, TrackNote, track_exit_status,
    track_undecided_because, words,
};
use crate::cautions::CAUTIONS;
use crate::here::{answer, answer_key};
use crate::words::{English, Words, each};

/// The report on one track, schema `takeline.track/1`.
#[derive(Debug, Clone, Serialize)]
pub struct TrackDocument<'a> {
    /// `takeline.track/1`.
    pub schema: &'static str,
    /// Version of the program.
    pub takeline_version: &'static str,
    /// The log.
    pub input: InputDocument<'a>,
    /// The state of the log.
    pub quality: QualityDocument,
    /// Visits, in the order in which they began.
    pub visits: Vec<VisitDocument<'a>>,
    /// Crossings of lines, in the order of the track.
    pub crossings: Vec<CrossingDocument<'a>>,
    /// Zones that came within 20 km and were never visited, nearest first.
    pub closest_approach: Vec<ClosestDocument<'a>>,
    /// Catches, in the order of their log.
    pub catches: Vec<CatchDocument<'a>>,
    /// Metres of way from fix to fix, suspects and gaps left out.
    pub path_m: f64,
    /// Metres straight across the gaps, the least that was made in them.
    pub gap_path_m: f64,
    /// How the track was read.
    pub settings: SettingsDocument,
    /// The files that the zones were read from.
    pub zone_files: Vec<ZoneFileDocument<'a>>,
    /// What the reader of the log had to say.
    pub notes: Vec<NoteDocument<'a>>,
    /// The command that makes this report again.
    pub command: &'a str,
    /// Positions nearer than this to either end of the track are null; null if none is withheld.
    pub trimmed_ends_m: Option<f64>,
    /// What a track cannot show.
    pub limits: [&'static str; 4],
    /// What no answer can know.
    pub cautions: [&'static str; 4],
    /// 0, 1 or 3.
    pub exit_status: u8,
    /// Why the track settles nothing, in the words of the first lines of the text; empty where it is settled.
    pub undecided_because: Vec<String>,
}

/// The log that was read.
#[derive(Debug, Clone, Serialize)]
pub struct InputDocument<'a> {
    /// The path as given, or `-`.
    pub path: &'a str,
    /// SHA-256 of its bytes, or null.
    pub sha256: Option<&'a str>,
    /// `log`, a trip that was made; `plan`, a file of routes.
    pub kind: &'static str,
    /// Fixes read.
    pub fixes: u64,
    /// First time in the log, or null.
    pub first_time: Option<String>,
    /// Last time in the log, or null.
    pub last_time: Option<String>,
}

/// The state of the log.
#[derive(Debug, Clone, Serialize)]
pub struct QualityDocument {
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
    pub gaps: Vec<GapDocument>,
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
    pub order: OrderDocument,
}

/// How a log was put in order before it was audited; numbers of fixes where nothing else is said.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct OrderDocument {
    /// Stood newest first and were turned round.
    pub newest_first: u64,
    /// Stood in no order of time and were sorted.
    pub unordered: u64,
    /// How many stretches stood elsewhere than their times.
    pub stretches_moved: u64,
    /// How many stretches repeat another, fix by fix.
    pub stretches_repeated: u64,
    /// How many boats or receivers overlap in time; 0 for one.
    pub boats: u64,
    /// Share a time or have none, and were placed between their neighbours.
    pub times_placed: u64,
    /// Share a time over a way that no boat makes in it, so that it was not used.
    pub times_taken: u64,
    /// Have the one time that all of the log has, which was not used.
    pub times_all_the_same: u64,
    /// The speed that the log shows where that is more than the top speed, or null.
    pub shown_kn: Option<f64>,
    /// The step of the last digit of the positions, in degrees, where it is so wide that it adds to the doubt, or null.
    pub digits_step_deg: Option<f64>,
}

/// A fix left out of what is certain.
#[derive(Debug, Clone, Serialize)]
pub struct SuspectDocument {
    /// Line of the log.
    pub line: u64,
    /// `duplicate`, `out-of-order`, `spike`, `cold-start`, `zero-island` or `stale`.
    pub kind: &'static str,
    /// Its time, or null.
    pub time: Option<String>,
    /// Latitude, north positive, or null.
    pub latitude_deg: Option<f64>,
    /// Longitude, east positive, or null.
    pub longitude_deg: Option<f64>,
    /// The speed that it would have needed, or null.
    pub needed_kn: Option<f64>,
}

/// A time in which nothing was logged.
#[derive(Debug, Clone, Serialize)]
pub struct GapDocument {
    /// The last fix before.
    pub from: MomentDocument,
    /// The first fix after.
    pub to: MomentDocument,
    /// Line of the last fix before.
    pub after_line: u64,
    /// How long, or null.
    pub seconds: Option<f64>,
    /// How far apart.
    pub distance_m: f64,
    /// How far from the straight way the boat can have been at most, or null.
    pub reach_m: Option<f64>,
    /// Whether no boat makes that way in that time.
    pub impossible: bool,
    /// Whether one trip ended before it and another began after it.
    pub between_trips: bool,
    /// Null; or, where only one end of it is known, "before-the-first-fix", "after-the-last-fix" or "repeats".
    pub open_end: Option<&'static str>,
}

/// A place and when the boat was there.
#[derive(Debug, Clone, Serialize)]
pub struct MomentDocument {
    /// When, or null.
    pub time: Option<String>,
    /// Latitude, north positive, or null.
    pub latitude_deg: Option<f64>,
    /// Longitude, east positive, or null.
    pub longitude_deg: Option<f64>,
    /// The times of the fixes before and after, or null.
    pub between: Option<[String; 2]>,
}

/// A time in a zone or near its line.
#[derive(Debug, Clone, Serialize)]
pub struct VisitDocument<'a> {
    /// Identifier of the zone.
    pub zone_id: &'a str,
    /// Its name.
    pub zone_name: &'a str,
    /// `certain` or `possible`.
    pub certainty: &'static str,
    /// When and where it began.
    pub entered: MomentDocument,
    /// When and where it ended.
    pub left: MomentDocument,
    /// Seconds surely inside; null in a log without times.
    pub certain_s: Option<f64>,
    /// Seconds inside at most; null in a log without times.
    pub possible_s: Option<f64>,
    /// How deep inside; negative where it was outside but within the doubt; null where the place of the zone is not known.
    pub deepest_m: Option<f64>,
    /// 95 % uncertainty of that.
    pub deepest_uncertainty_95_m: f64,
    /// Way made.
    pub path_m: f64,
    /// Speeds, or null.
    pub speed_kn: Option<SpeedDocument>,
    /// `fixes`, `between-fixes` or `gap`.
    pub evidence: &'static str,
    /// Whether the visit is known only from fixes that are suspect.
    pub suspect: bool,
    /// The two fixes whose time alone lets the boat have been inside; null where a fix, the straight way between two or a
    /// gap does.
    pub off_the_way: Option<OffTheWayDocument>,
    /// Gaps of the log in it.
    pub gaps: u64,
    /// Stops.
    pub stops: Vec<StopDocument>,
    /// Places in `crossings`, counted from 0.
    pub crossings: &'a [usize],
    /// `yes`, `no` or `undecided`.
    pub in_force: &'static str,
    /// Why.
    pub in_force_because: Vec<String>,
    /// Whether the rule bound the boat then: `yes`, `no` or `undecided`.
    pub binds: &'static str,
    /// Why, where access or another rule decides it.
    pub binds_because: Vec<String>,
    /// Whether the rule restricts nothing at all; then the visit counts for nothing.
    pub restricts_nothing: bool,
    /// Zones whose rules displaced this one for some of the time, or may have.
    pub displaced_by: Vec<&'a str>,
    /// What came of it.
    pub outcome: OutcomeDocument,
    /// Conditions of crossing, and what the track says of them.
    pub conditions: Vec<ConditionDocument<'a>>,
    /// How the boat moved.
    pub movement: &'a [String],
    /// The rule in a few words, or null.
    pub take_rule: Option<String>,
    /// The law, or null.
    pub source: Option<VisitSourceDocument<'a>>,
    /// The file that the zone was read from, or null.
    pub zone_file: Option<ZoneFileDocument<'a>>,
}

/// How far off the straight way between two fixes the boat can have been.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct OffTheWayDocument {
    /// Seconds between the two fixes.
    pub seconds: f64,
    /// The most that the top speed of the settings allows.
    pub reach_m: f64,
}

/// What came of a visit.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct OutcomeDocument {
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
#[derive(Debug, Clone, Copy, Serialize)]
pub struct SpeedDocument {
    /// The slowest leg.
    pub min: f64,
    /// Way over time.
    pub mean: f64,
    /// The fastest leg.
    pub max: f64,
}

/// A stop.
#[derive(Debug, Clone, Serialize)]
pub struct StopDocument {
    /// Where and when it began.
    pub from: MomentDocument,
    /// How long.
    pub seconds: f64,
}

/// A condition of crossing.
#[derive(Debug, Clone, Serialize)]
pub struct ConditionDocument<'a> {
    /// In the words of the zone file.
    pub condition: &'a str,
    /// `yes`, `no`, or `undecided` where a track cannot tell.
    pub met: &'static str,
    /// Why.
    pub because: &'a str,
}

/// Where a rule comes from.
#[derive(Debug, Clone, Serialize)]
pub struct VisitSourceDocument<'a> {
    /// The law, order or notice.
    pub instrument: &'a str,
    /// The clause in it, or null.
    pub clause: Option<&'a str>,
}

/// A crossing of a line.
#[derive(Debug, Clone, Serialize)]
pub struct CrossingDocument<'a> {
    /// The zone.
    pub zone_id: &'a str,
    /// `in` or `out`.
    pub direction: &'static str,
    /// Where and when.
    #[serde(flatten)]
    pub at: MomentDocument,
}

/// The nearest that the boat came to a zone.
#[derive(Debug, Clone, Serialize)]
pub struct ClosestDocument<'a> {
    /// The zone.
    pub zone_id: &'a str,
    /// Its name.
    pub zone_name: &'a str,
    /// Distance to its line, positive outside.
    pub signed_distance_m: f64,
    /// 95 % uncertainty of that.
    pub uncertainty_95_m: f64,
    /// Where and when.
    #[serde(flatten)]
    pub at: MomentDocument,
}

/// A catch.
#[derive(Debug, Clone, Serialize)]
pub struct CatchDocument<'a> {
    /// Line of the catch log.
    pub row: u64,
    /// The fish as written, or null.
    pub asked: Option<&'a str>,
    /// When, or null.
    pub time: Option<String>,
    /// Latitude, north positive, or null.
    pub latitude_deg: Option<f64>,
    /// Longitude, east positive, or null.
    pub longitude_deg: Option<f64>,
    /// Where its row and its track have it, where the one contradicts the other; else null.
    pub contradicted: Option<ContradictedDocument>,
    /// `keep`, `release`, `undecided` or `no-loaded-zone`.
    pub answer: &'static str,
    /// Why.
    pub because: &'a [String],
    /// Zones that it was carried through, and what their rules say of that.
    pub carried: Vec<CarriedDocument<'a>>,
}

/// A position that a catch log gives, and that of the track at that time, which contradicts it; null where withheld.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct ContradictedDocument {
    /// Latitude of the row, north positive.
    pub row_latitude_deg: Option<f64>,
    /// Longitude of the row, east positive.
    pub row_longitude_deg: Option<f64>,
    /// Latitude of the track, north positive.
    pub track_latitude_deg: Option<f64>,
    /// Longitude of the track, east positive.
    pub track_longitude_deg: Option<f64>,
}

/// A zone that a fish was carried through.
#[derive(Debug, Clone, Serialize)]
pub struct CarriedDocument<'a> {
    /// The zone.
    pub zone_id: &'a str,
    /// Whether the fish was allowed aboard there: `yes`, under conditions, `no` or `undecided`.
    pub answer: &'static str,
    /// Why, conditions included.
    pub because: &'a [String],
}

/// How the track was read.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct SettingsDocument {
    /// Doubt of fixes that have none of their own, 95 %.
    pub uncertainty_95_m: f64,
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
    pub access: Option<&'static str>,
}

/// A file of zones.
#[derive(Debug, Clone, Serialize)]
pub struct ZoneFileDocument<'a> {
    /// The path as given.
    pub path: &'a str,
    /// SHA-256 of its bytes.
    pub sha256: &'a str,
    /// Its title, or null.
    pub title: Option<&'a str>,
    /// Its edition, or null.
    pub edition: Option<&'a str>,
}

/// What the reader of the log had to say.
#[derive(Debug, Clone, Serialize)]
pub struct NoteDocument<'a> {
    /// Line of the log.
    pub line: u64,
    /// The kind.
    pub code: &'static str,
    /// The same in words.
    pub text: &'a str,
    /// How many places it stands for.
    pub count: u64,
    /// Whether a position may have been lost.
    pub leaves_out: bool,
}

/// Returns the report as a document with the keys of schema `takeline.track/1`.
///
/// # Units
///
/// Metres, degrees, seconds, knots, as each key says; full precision.
///
/// # Edge cases
///
/// Withheld positions are null; so are durations in a log without times.
#[must_use]
pub fn track_json<'a>(report: &'a AuditReport<'a>) -> TrackDocument<'a> {
    let audit = report.audit;
    TrackDocument {
        schema: "takeline.track/1",
        takeline_version: env!("CARGO_PKG_VERSION"),
        input: InputDocument {
            path: &report.input.path,
            sha256: report.input.sha256.as_deref(),
            kind: match report.input.kind {
                InputKind::Log => "log",
                InputKind::Plan => "plan",
            },
            fixes: audit.quality.fixes,
            first_time: audit.quality.first_time.map(|time| time.to_string()),
            last_time: audit.quality.last_time.map(|time| time.to_string()),
        },
        quality: quality(report),
        visits: audit.visits.iter().map(|one| visit(report, one)).collect(),
        crossings: audit.crossings.iter().map(|one| crossing(report, one)).collect(),
        closest_approach: audit.closest_approaches.iter().map(|one| closest(report, one)).collect(),
        catches: report.catches.iter().map(|one| caught(report, one)).collect(),
        path_m: audit.path.metres(),
        gap_path_m: audit.gap_path.metres(),
        settings: settings(report),
        zone_files: report.zone_files().into_iter().map(ZoneFileDocument::from).collect(),
        notes: report.notes.iter().map(NoteDocument::from).collect(),
        command: &report.command,
        trimmed_ends_m: report.trimmed.map(|trimmed| trimmed.radius().metres()),
        limits: TRACK_LIMITS,
        cautions: CAUTIONS,
        exit_status: track_exit_status(report).code(),
        undecided_because: track_undecided_because(report),
    }
}

fn degrees(report: &AuditReport<'_>, position: Position) -> (Option<f64>, Option<f64>) {
    let shown = report.shown(position);
    (
        shown.map(|position| position.latitude().degrees()),
        shown.map(|position| position.longitude().degrees()),
    )
}

fn moment(report: &AuditReport<'_>, instant: &LoggedMoment) -> MomentDocument {
    let (latitude_deg, longitude_deg) = degrees(report, instant.position);
    MomentDocument {
        time: instant.time.map(|time| time.to_string()),
        latitude_deg,
        longitude_deg,
        between: instant.between.map(|(before, after)| [before.to_string(), after.to_string()]),
    }
}

fn at_fix(report: &AuditReport<'_>, fix: &LoggedFix) -> MomentDocument {
    moment(report, &LoggedMoment { position: fix.position, time: fix.time, between: None })
}

fn quality(report: &AuditReport<'_>) -> QualityDocument {
    let quality = &report.audit.quality;
    let [duplicates, out_of_order, spike_count, cold_start, zero_island, stale, untimed] = quality.counts;
    let spikes = quality.suspects.iter().filter(|one| one.suspicion == Suspicion::Spike);
    QualityDocument {
        duplicates,
        out_of_order,
        spike_count,
        spikes: spikes.map(|one| suspect(report, one)).collect(),
        gap_count: quality.gap_count,
        gaps: quality.gaps.iter().map(|one| gap(report, one)).collect(),
        without_time: quality.without_time,
        cold_start,
        zero_island,
        stale,
        untimed,
        pauses: quality.pauses,
        unplaced: quality.order.unplaced,
        lost: quality.order.lost,
        lost_trips: quality.lost_trips,
        suspects: quality.suspects.iter().map(|one| suspect(report, one)).collect(),
        order: order(&quality.order),
    }
}

fn order(order: &OrderFindings) -> OrderDocument {
    OrderDocument {
        newest_first: order.newest_first,
        unordered: order.unordered,
        stretches_moved: order.stretches_moved,
        stretches_repeated: order.stretches_repeated,
        boats: order.boats,
        times_placed: order.times_placed,
        times_taken: order.times_taken,
        times_all_the_same: order.times_all_the_same,
        shown_kn: order.shown_kn,
        digits_step_deg: order.digits_step_deg,
    }
}

fn suspect(report: &AuditReport<'_>, one: &SuspectFix) -> SuspectDocument {
    let (latitude_deg, longitude_deg) = degrees(report, one.fix.position);
    SuspectDocument {
        line: one.fix.place.line,
        kind: words::suspicion(one.suspicion),
        time: one.fix.time.map(|time| time.to_string()),
        latitude_deg,
        longitude_deg,
        needed_kn: one.needed_kn,
    }
}

fn gap(report: &AuditReport<'_>, one: &Gap) -> GapDocument {
    GapDocument {
        from: at_fix(report, &one.before),
        to: at_fix(report, &one.after),
        after_line: one.before.place.line,
        seconds: one.seconds,
        distance_m: one.metres.metres(),
        reach_m: one.reach(&report.audit.settings).map(takeline::Metres::metres),
        impossible: one.impossible,
        between_trips: one.between_trips,
        open_end: one.open.map(words::open_end),
    }
}

fn visit<'a>(report: &AuditReport<'a>, one: &'a Visit) -> VisitDocument<'a> {
    let zone = report.zone_of(one);
    VisitDocument {
        zone_id: &one.zone.0,
        zone_name: report.zone_name(one),
        certainty: words::certainty(one.certainty),
        entered: moment(report, &one.entered()),
        left: moment(report, &one.left()),
        certain_s: one.certain_s,
        possible_s: one.possible_s,
        deepest_m: one.deepest.map(takeline::Metres::metres),
        deepest_uncertainty_95_m: one.deepest_uncertainty_95.metres(),
        path_m: one.path.metres(),
        speed_kn: one.speeds.map(SpeedDocument::from),
        evidence: words::evidence(one.evidence),
        off_the_way: one
            .off_the_way
            .map(|off| OffTheWayDocument { seconds: off.seconds, reach_m: off.reach.metres() }),
        gaps: one.gaps,
        suspect: one.is_suspect,
        stops: one.stops.iter().map(|stop| stopped(report, stop)).collect(),
        crossings: &one.crossings,
        in_force: answer(one.in_force),
        in_force_because: each(&one.in_force_because, |reason| English.track_reason(reason)),
        binds: answer(one.binds),
        binds_because: each(&one.binds_because, |reason| English.track_reason(reason)),
        restricts_nothing: report.is_free(one),
        displaced_by: one.displaced_by.iter().map(|zone| zone.0.as_str()).collect(),
        outcome: OutcomeDocument {
            in_force_certain_s: one.in_force_certain_s,
            in_force_possible_s: one.in_force_possible_s,
            binds_certain_s: one.binds_certain_s,
            binds_possible_s: one.binds_possible_s,
        },
        conditions: one.conditions.iter().map(ConditionDocument::from).collect(),
        movement: &one.movement,
        take_rule: zone.map(|zone| English.rule_summary(&zone.rule.summary(&zone.file.catalogue))),
        source: zone.map(|zone| VisitSourceDocument {
            instrument: &zone.source.instrument,
            clause: zone.source.clause.as_deref(),
        }),
        zone_file: zone.map(|zone| ZoneFileDocument::from(&*zone.file)),
    }
}

fn stopped(report: &AuditReport<'_>, stop: &Stop) -> StopDocument {
    StopDocument { from: moment(report, &stop.from), seconds: stop.seconds }
}

fn crossing<'a>(report: &AuditReport<'_>, one: &'a Crossing) -> CrossingDocument<'a> {
    CrossingDocument {
        zone_id: &one.zone.0,
        direction: words::direction(one.direction),
        at: moment(report, &one.at),
    }
}

fn closest<'a>(report: &AuditReport<'a>, one: &'a ClosestApproach) -> ClosestDocument<'a> {
    ClosestDocument {
        zone_id: &one.zone.0,
        zone_name: report.name_of(&one.zone),
        signed_distance_m: one.signed_distance.metres(),
        uncertainty_95_m: one.uncertainty_95.metres(),
        at: moment(report, &one.at),
    }
}

fn caught<'a>(report: &AuditReport<'_>, one: &'a CatchAnswer) -> CatchDocument<'a> {
    let place = one.position.map(|position| degrees(report, position));
    let (latitude_deg, longitude_deg) = place.unwrap_or_default();
    let contradicted = one.contradicted.map(|(given, logged)| {
        let (row, track) = (degrees(report, given), degrees(report, logged));
        ContradictedDocument {
            row_latitude_deg: row.0,
            row_longitude_deg: row.1,
            track_latitude_deg: track.0,
            track_longitude_deg: track.1,
        }
    });
    CatchDocument {
        contradicted,
        row: one.row,
        asked: one.asked.as_deref(),
        time: one.time.map(|time| time.to_string()),
        latitude_deg,
        longitude_deg,
        answer: answer_key(one.answer),
        because: &one.because,
        carried: one.carried.iter().map(CarriedDocument::from).collect(),
    }
}

impl<'a> From<&'a CarriedAnswer> for CarriedDocument<'a> {
    fn from(carried: &'a CarriedAnswer) -> Self {
        Self { zone_id: &carried.zone.0, answer: answer(carried.allowed), because: &carried.because }
    }
}

fn settings(report: &AuditReport<'_>) -> SettingsDocument {
    let settings = &report.audit.settings;
    SettingsDocument {
        uncertainty_95_m: settings.uncertainty.radius_95().metres(),
        uncertainty_source: match settings.uncertainty.source() {
            UncertaintySource::Given => "given",
            UncertaintySource::Assumed => "assumed",
        },
        metres_per_hdop: settings.metres_per_hdop,
        top_speed_kn: settings.top_speed_kn,
        top_speed_source: words::top_speed_source(report.audit),
        dates_doubtful: settings.dates_doubtful,
        gap_after_s: settings.gap_after_s,
        linger_s: settings.merge_within_s,
        stop_below_kn: settings.stop_below_kn,
        access: settings.access.map(words::access),
    }
}

impl From<Speeds> for SpeedDocument {
    fn from(speeds: Speeds) -> Self {
        Self { min: speeds.min_kn, mean: speeds.mean_kn, max: speeds.max_kn }
    }
}

impl<'a> From<&'a ConditionFinding> for ConditionDocument<'a> {
    fn from(finding: &'a ConditionFinding) -> Self {
        Self { condition: &finding.condition, met: answer(finding.met), because: &finding.because }
    }
}

impl<'a> From<&'a ZoneFile> for ZoneFileDocument<'a> {
    fn from(file: &'a ZoneFile) -> Self {
        Self {
            path: &file.path,
            sha256: &file.sha256,
            title: file.title.as_deref(),
            edition: file.edition.as_deref(),
        }
    }
}

impl<'a> From<&'a TrackNote> for NoteDocument<'a> {
    fn from(note: &'a TrackNote) -> Self {
        Self {
            line: note.line,
            code: note.code,
            text: &note.text,
            count: note.count,
            leaves_out: note.leaves_out,
        }
    }
}
