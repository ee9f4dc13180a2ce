//! The answer of `transit check` as one document, of which text, JSON, map, waypoints, card and exit status are views. Keys are a
//! contract: add, never rename. `docs/json-output.md` describes each of them.

use jiff::Timestamp;
use serde::Serialize;
use takeline::coast::Coast;
use takeline::landmark::Landmark;
use takeline::transit::{
    ClearsReason, CompassPoint, Drift, LinePoint, Meeting, Sensitivity, Severity, Side, TransitReport,
    ViewedWater, WorkingArea, ZoneOnLine,
};
use takeline::zone::Proofread;
use takeline::{Arcminutes, Metres, Position, Tristate};

use super::headline::{Compass, Headline, MODEL, no_side_because, opening, transit_sentence};
use super::parts::{EyeDocument, ProblemDocument, metres, number};
use super::phrases;
use crate::coast_document::CoastDocument;
use crate::exit_status::ExitStatus;
use crate::here::{FileDocument, SourceDocument};
use crate::words::{Spoken, Words, each};

/// The answer about one line, schema `takeline.transit/1`.
#[derive(Debug, Clone, Serialize)]
pub struct TransitDocument<'a> {
    /// `takeline.transit/1`.
    pub schema: &'static str,
    /// Version of the program.
    pub takeline_version: &'static str,
    /// The mark nearer to the observer.
    pub front: &'a Landmark,
    /// The mark farther away.
    pub rear: &'a Landmark,
    /// Bearing of the marks from the middle of the stretch.
    pub bearing_true_deg: Option<f64>,
    /// The same off a compass without deviation; null if the variation is not known.
    pub bearing_magnetic_deg: Option<f64>,
    /// Variation there, east positive, or null.
    pub variation_deg: Option<f64>,
    /// Its standard error (68 %), or null.
    pub variation_standard_error_deg: Option<f64>,
    /// The model that it is from; null if none was used.
    pub magnetic_model: Option<&'static str>,
    /// Why the variation is not known; null if it is.
    pub variation_not_known: Option<String>,
    /// Distance between the marks.
    pub separation_m: Option<f64>,
    /// Near and far end of the stretch, as distances from the front mark.
    pub stretch_m: [Option<f64>; 2],
    /// The eye.
    pub eye: EyeDocument,
    /// The drift.
    pub drift: Drift,
    /// When the marks will be used, or null.
    pub time: Option<Timestamp>,
    /// `given`, or `clock` where it is what the clock of this device says, or null if there is no time.
    pub time_source: Option<&'static str>,
    /// Where the boat is launched, or null.
    pub launch: Option<Position>,
    /// The way it goes from there, or null.
    pub heading_true_deg: Option<f64>,
    /// The water that the answer is about.
    pub working_area: WorkingAreaDocument,
    /// The point with the least margin of all zones; null if there is no zone whose line is known.
    pub worst: Option<WorstDocument<'a>>,
    /// Whether the stretch keeps outside every zone, the doubt counted: `yes`, `no` or `undecided`.
    pub clears: Tristate,
    /// Why not, or why undecided.
    pub clears_because: Vec<String>,
    /// The same as data.
    pub clears_because_codes: &'a [ClearsReason],
    /// How the marks look inside.
    pub opens: OpensDocument<'a>,
    /// Each zone that matters, the one with the least margin first.
    pub zones: Vec<ZoneOnLineDocument<'a>>,
    /// What eye and marks make of the line at its near end, middle and far end.
    pub sensitivity: &'a [Sensitivity],
    /// The water by look of the marks; null if no side is the zone's.
    pub water: Option<WaterDocument<'a>>,
    /// The coasts that marks and line were held against.
    pub coasts: Vec<CoastDocument<'a>>,
    /// What is wrong, the worst first.
    pub problems: Vec<ProblemDocument<'a>>,
    /// What no check of marks can know.
    pub not_checked: [&'static str; 4],
    /// What no answer can know.
    pub cautions: [&'static str; 4],
    /// 0, 1 or 3.
    pub exit_status: ExitStatus,
    /// What all this was drawn up from.
    #[serde(skip)]
    pub(super) report: &'a TransitReport,
    /// The first lines.
    #[serde(skip)]
    pub(super) headline: Headline,
    #[serde(skip)]
    pub(super) compass: Compass,
    /// Why the marks tell no side, as a sentence; what it says where they do is of no use.
    #[serde(skip)]
    pub(super) no_side_because: String,
    /// The words of its texts.
    #[serde(skip)]
    pub(super) words: Spoken<'a>,
}

/// The point with the least margin.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct WorstDocument<'a> {
    /// The zone.
    pub zone_id: &'a str,
    /// Distance from the front mark.
    pub distance_from_front_m: Option<f64>,
    /// Distance to the boundary, negative inside.
    pub signed_distance_m: Option<f64>,
    /// 95 % uncertainty of it.
    pub uncertainty_95_m: Option<f64>,
    /// Signed distance less doubt.
    pub margin_m: Option<f64>,
    /// Where it is.
    pub position: Position,
}

/// How the marks look inside the zone that decides.
#[derive(Debug, Clone, Serialize)]
pub struct OpensDocument<'a> {
    /// `rear mark shows left of the front mark`, the same with `right`, or null.
    pub inside: Option<&'static str>,
    /// `left` or `right`, or null.
    pub rear_shows: Option<Side>,
    /// The direction in which the zone lies off the line, one of eight words, or null.
    pub zone_lies: Option<CompassPoint>,
    /// That zone, or null.
    pub zone_id: Option<&'a str>,
    /// The sentence for people, or null.
    pub sentence: Option<String>,
}

/// The water that somebody who uses the marks may be in.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct WorkingAreaDocument {
    /// `strip`, on both sides of the stretch, or `within` a boundary that was given.
    pub kind: &'static str,
    /// How far the strip reaches on either side; null for a boundary.
    pub half_width_m: Option<f64>,
}

impl<'a> TransitDocument<'a> {
    /// Draws up the answer about one line, its texts in these words, with the keys of schema `takeline.transit/1`.
    ///
    /// The exit status is undecided (3) if it is not settled whether the line keeps clear, if the marks cannot be used so, or
    /// if a time was given at which the variation is not known; else restricted (1) if it does not keep clear; else 0.
    ///
    /// # Units
    ///
    /// Metres, degrees, minutes of arc, square metres, seconds, knots, as each key says; full precision.
    ///
    /// # Edge cases
    ///
    /// What is not known is null, and so is a number that is none.
    #[must_use]
    pub fn new(report: &'a TransitReport, words: &'a dyn Words) -> Self {
        Self::with_compass(report, Compass::of(report), words)
    }

    pub(super) fn with_compass(report: &'a TransitReport, compass: Compass, words: &'a dyn Words) -> Self {
        let words = Spoken(words);
        let (question, needle) = (&report.question, compass.needle());
        let problems = ProblemDocument::all(&report.problems, &*words);
        let clears_because = each(&report.clears_because, |reason| words.clears_reason(reason));
        Self {
            schema: "takeline.transit/1",
            takeline_version: env!("CARGO_PKG_VERSION"),
            front: report.line.front(),
            rear: report.line.rear(),
            bearing_true_deg: number(report.bearing.degrees()),
            bearing_magnetic_deg: needle.and_then(|needle| number(needle.bearing.degrees())),
            variation_deg: needle.and_then(|needle| number(needle.variation_deg)),
            variation_standard_error_deg: needle
                .and_then(|needle| number(needle.standard_error.arcmin() / 60.0)),
            magnetic_model: needle.map(|_| MODEL),
            variation_not_known: compass.why_not(words),
            separation_m: metres(report.line.separation()),
            stretch_m: [metres(question.stretch.near()), metres(question.stretch.far())],
            eye: question.eye.into(),
            drift: question.drift,
            time: question.time,
            time_source: question.time.map(|_| "given"),
            launch: question.launch,
            heading_true_deg: question.heading.and_then(|heading| number(heading.degrees())),
            working_area: WorkingAreaDocument::from(&question.area),
            worst: phrases::tightest(&report.zones).and_then(WorstDocument::of),
            clears: report.clears,
            opens: OpensDocument::of(report, words),
            zones: report.zones.iter().map(ZoneOnLineDocument::from).collect(),
            sensitivity: &report.sensitivity,
            water: report.water.as_ref().map(|water| WaterDocument::of(water, question.eye.threshold())),
            coasts: Vec::new(),
            not_checked: words.transit_limits(),
            cautions: words.cautions(),
            exit_status: exit_status(report),
            headline: Headline::of(report, (&problems, &clears_because), &compass, words),
            no_side_because: no_side_because(&problems),
            problems,
            clears_because,
            clears_because_codes: &report.clears_because,
            report,
            compass,
            words,
        }
    }

    /// Lists the coasts that the answer went by.
    #[must_use]
    pub fn with_coasts(mut self, coasts: &'a [Coast]) -> Self {
        self.coasts = CoastDocument::all(coasts);
        self
    }

    /// Says that the time, if there is one, is what the clock of this device says.
    #[must_use]
    pub fn with_time_by_clock(mut self) -> Self {
        self.time_source = self.time_source.map(|_| "clock");
        self
    }

    /// Whether the time is what the clock of this device says.
    pub(super) fn is_time_by_clock(&self) -> bool {
        self.time_source == Some("clock")
    }
}

fn exit_status(report: &TransitReport) -> ExitStatus {
    let is_useless = report.problems.iter().any(|problem| problem.severity == Severity::Error);
    let no_variation = matches!(report.magnetic, Some(Err(_)));
    if is_useless || no_variation {
        return ExitStatus::Undecided;
    }
    match report.clears {
        Tristate::Yes => ExitStatus::Unrestricted,
        Tristate::No => ExitStatus::Restricted,
        Tristate::Undecided => ExitStatus::Undecided,
    }
}

impl<'a> WorstDocument<'a> {
    fn of(zone: &'a ZoneOnLine) -> Option<Self> {
        let point = zone.worst?;
        Some(Self {
            zone_id: &zone.id.0,
            distance_from_front_m: metres(point.distance_from_front),
            signed_distance_m: metres(point.signed_distance),
            uncertainty_95_m: metres(point.uncertainty_95),
            margin_m: metres(point.margin()),
            position: point.position,
        })
    }
}

impl<'a> OpensDocument<'a> {
    fn of(report: &'a TransitReport, words: Spoken<'_>) -> Self {
        let opens = report.opens.as_ref();
        Self {
            inside: opens.map(|opens| inside_words(opens.rear_shows)),
            rear_shows: opens.map(|opens| opens.rear_shows),
            zone_lies: opens.map(|opens| opens.zone_lies),
            zone_id: opening(report).map(|(zone, _)| zone.id.0.as_str()),
            sentence: transit_sentence(report, words),
        }
    }
}

/// The words of the contract.
fn inside_words(rear_shows: Side) -> &'static str {
    match rear_shows {
        Side::Left => "rear mark shows left of the front mark",
        Side::Right => "rear mark shows right of the front mark",
    }
}

impl From<&WorkingArea> for WorkingAreaDocument {
    fn from(area: &WorkingArea) -> Self {
        let half_width: Option<Metres> = match area {
            WorkingArea::Strip { half_width } => Some(*half_width),
            WorkingArea::Within(_) => None,
        };
        let kind = if half_width.is_some() { "strip" } else { "within" };
        Self { kind, half_width_m: half_width.and_then(metres) }
    }
}

/// One zone with respect to the stretch.
#[derive(Debug, Clone, Serialize)]
pub struct ZoneOnLineDocument<'a> {
    /// Identifier.
    pub id: &'a str,
    /// Name.
    pub name: &'a str,
    /// Whether the stretch keeps outside, the doubt counted: `yes`, `no` or `undecided`.
    pub clears: Tristate,
    /// The point with the least margin; null if the line of the zone is not known.
    pub worst: Option<LinePointDocument>,
    /// The point with the least signed distance.
    pub closest: Option<LinePointDocument>,
    /// The near end.
    pub near: Option<LinePointDocument>,
    /// The middle.
    pub middle: Option<LinePointDocument>,
    /// The far end.
    pub far: Option<LinePointDocument>,
    /// Where the stretch meets its boundary, from near to far.
    pub meetings: &'a [Meeting],
    /// `left` or `right`: where the rear mark shows inside; null if on both sides or not known.
    pub rear_shows_inside: Option<Side>,
    /// Whether its rule is in force at the time asked about.
    pub in_force: Tristate,
    /// The law.
    pub source: SourceDocument<'a>,
    /// Who read the zone against the printed law, or null.
    pub proofread: Option<&'a Proofread>,
    /// The file.
    pub zone_file: FileDocument<'a>,
}

impl<'a> From<&'a ZoneOnLine> for ZoneOnLineDocument<'a> {
    fn from(zone: &'a ZoneOnLine) -> Self {
        let point = |point: Option<LinePoint>| point.map(LinePointDocument::from);
        Self {
            id: &zone.id.0,
            name: &zone.name,
            clears: zone.clears,
            worst: point(zone.worst),
            closest: point(zone.closest),
            near: point(zone.near),
            middle: point(zone.middle),
            far: point(zone.far),
            meetings: &zone.meetings,
            rear_shows_inside: zone.inside,
            in_force: zone.in_force,
            source: SourceDocument::of(&zone.source, &zone.file),
            proofread: zone.proofread.as_ref(),
            zone_file: FileDocument::from(&*zone.file),
        }
    }
}

/// A point of the stretch with respect to one zone.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct LinePointDocument {
    /// The point.
    #[serde(flatten)]
    pub point: LinePoint,
    /// Signed distance less doubt; above zero is surely outside.
    pub margin_m: Option<f64>,
}

impl From<LinePoint> for LinePointDocument {
    fn from(point: LinePoint) -> Self {
        Self { point, margin_m: metres(point.margin()) }
    }
}

/// The water of the working area, in square metres.
#[derive(Debug, Clone, Serialize)]
pub struct WaterDocument<'a> {
    /// `left` or `right`: where the rear mark shows inside.
    pub rear_shows_inside: Side,
    /// Smallest opening that the eye was taken to see.
    pub threshold_arcmin: Option<f64>,
    /// The whole working area.
    pub area_m2: Option<f64>,
    /// Inside a zone, from where the marks do not say so: the two below together.
    pub false_safe_m2: Option<f64>,
    /// Inside a zone, and the marks look clear of it.
    pub false_safe_clear_m2: Option<f64>,
    /// Inside a zone, and the marks look in line.
    pub false_safe_in_line_m2: Option<f64>,
    /// Inside a zone, and the marks say so.
    pub inside_and_seen_m2: Option<f64>,
    /// Inside no zone, but the marks say inside.
    pub given_away_m2: Option<f64>,
    /// Inside no zone, and the marks look in line.
    pub open_in_line_m2: Option<f64>,
    /// Inside no zone, and the marks look clear.
    pub open_and_clear_m2: Option<f64>,
    /// Rings around the false-safe water, each a list of corners.
    pub false_safe_rings: &'a [Vec<Position>],
    /// Rings around the water given away.
    pub given_away_rings: &'a [Vec<Position>],
}

impl<'a> WaterDocument<'a> {
    pub(super) fn of(water: &'a ViewedWater, threshold: Arcminutes) -> Self {
        Self {
            rear_shows_inside: water.inside,
            threshold_arcmin: number(threshold.arcmin()),
            area_m2: number(water.area_m2),
            false_safe_m2: number(water.false_clear_m2()),
            false_safe_clear_m2: number(water.false_clear_open_m2),
            false_safe_in_line_m2: number(water.false_clear_in_line_m2),
            inside_and_seen_m2: number(water.inside_and_seen_m2),
            given_away_m2: number(water.forgone_m2),
            open_in_line_m2: number(water.open_in_line_m2),
            open_and_clear_m2: number(water.open_and_clear_m2),
            false_safe_rings: &water.false_clear,
            given_away_rings: &water.forgone,
        }
    }
}
