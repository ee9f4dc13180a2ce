//! The JSON of `transit check`. Keys are a contract: add, never rename. `docs/json-output.md` describes each of them.

use serde::Serialize;
use takeline::Metres;
use takeline::transit::{Opens, Side, TransitReport, WorkingArea, ZoneOnLine};

use super::compass::{Compass, MODEL};
use super::exit::transit_exit_status;
use super::parts::{
    DriftDocument, EyeDocument, MarkDocument, PlaceDocument, ProblemDocument, metres, number, problems,
};
use super::sentence::transit_sentence;
use super::text::TRANSIT_LIMITS;
use super::words;
use super::zone_document::{SensitivityDocument, WaterDocument, ZoneOnLineDocument};
use crate::cautions::CAUTIONS;
use crate::here::answer;

/// The answer about one line, schema `takeline.transit/1`.
#[derive(Debug, Clone, Serialize)]
pub struct TransitDocument<'a> {
    /// `takeline.transit/1`.
    pub schema: &'static str,
    /// Version of the program.
    pub takeline_version: &'static str,
    /// The mark nearer to the observer.
    pub front: MarkDocument<'a>,
    /// The mark farther away.
    pub rear: MarkDocument<'a>,
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
    pub drift: DriftDocument,
    /// When the marks will be used, RFC 3339 in UTC, or null.
    pub time: Option<String>,
    /// `given`, or `clock` where it is what the clock of this device says, or null if there is no time.
    pub time_source: Option<&'static str>,
    /// Where the boat is launched, or null.
    pub launch: Option<PlaceDocument>,
    /// The way it goes from there, or null.
    pub heading_true_deg: Option<f64>,
    /// The water that the answer is about.
    pub working_area: WorkingAreaDocument,
    /// The point with the least margin of all zones; null if there is no zone whose line is known.
    pub worst: Option<WorstDocument<'a>>,
    /// Whether the stretch keeps outside every zone, the doubt counted: `yes`, `no` or `undecided`.
    pub clears: &'static str,
    /// Why not, or why undecided.
    pub clears_because: &'a [String],
    /// How the marks look inside.
    pub opens: OpensDocument<'a>,
    /// Each zone that matters, the one with the least margin first.
    pub zones: Vec<ZoneOnLineDocument<'a>>,
    /// What eye and marks make of the line at its near end, middle and far end.
    pub sensitivity: Vec<SensitivityDocument>,
    /// The water by look of the marks; null if no side is the zone's.
    pub water: Option<WaterDocument>,
    /// What is wrong, the worst first.
    pub problems: Vec<ProblemDocument<'a>>,
    /// What no check of marks can know.
    pub not_checked: [&'static str; 4],
    /// What no answer can know.
    pub cautions: [&'static str; 4],
    /// 0, 1 or 3.
    pub exit_status: u8,
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
    pub position: PlaceDocument,
}

/// How the marks look inside the zone that decides.
#[derive(Debug, Clone, Serialize)]
pub struct OpensDocument<'a> {
    /// `rear mark shows left of the front mark`, the same with `right`, or null.
    pub inside: Option<&'static str>,
    /// `left` or `right`, or null.
    pub rear_shows: Option<&'static str>,
    /// The direction in which the zone lies off the line, one of eight words, or null.
    pub zone_lies: Option<&'static str>,
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

/// Returns the answer as a document with the keys of schema `takeline.transit/1`.
///
/// # Units
///
/// Metres, degrees, minutes of arc, square metres, seconds, knots, as each key says; full precision.
///
/// # Edge cases
///
/// What is not known is null, and so is a number that is none.
#[must_use]
pub fn transit_json(report: &TransitReport) -> TransitDocument<'_> {
    with_compass(report, &Compass::of(report))
}

pub(super) fn with_compass<'a>(report: &'a TransitReport, compass: &Compass) -> TransitDocument<'a> {
    let (question, needle) = (&report.question, compass.needle());
    TransitDocument {
        schema: "takeline.transit/1",
        takeline_version: env!("CARGO_PKG_VERSION"),
        front: report.line.front().into(),
        rear: report.line.rear().into(),
        bearing_true_deg: number(report.bearing.degrees()),
        bearing_magnetic_deg: needle.and_then(|needle| number(needle.bearing.degrees())),
        variation_deg: needle.and_then(|needle| number(needle.variation_deg)),
        variation_standard_error_deg: needle.and_then(|needle| number(needle.standard_error.arcmin() / 60.0)),
        magnetic_model: needle.map(|_| MODEL),
        variation_not_known: compass.why_not().map(str::to_owned),
        separation_m: metres(report.line.separation()),
        stretch_m: [metres(question.stretch.near()), metres(question.stretch.far())],
        eye: question.eye.into(),
        drift: question.drift.into(),
        time: question.time.map(|time| time.to_string()),
        time_source: question.time.map(|_| "given"),
        launch: question.launch.map(PlaceDocument::from),
        heading_true_deg: question.heading.and_then(|heading| number(heading.degrees())),
        working_area: WorkingAreaDocument::from(&question.area),
        worst: words::tightest(&report.zones).and_then(worst),
        clears: answer(report.clears),
        clears_because: &report.clears_because,
        opens: OpensDocument::of(report),
        zones: report.zones.iter().map(ZoneOnLineDocument::from).collect(),
        sensitivity: report.sensitivity.iter().map(SensitivityDocument::from).collect(),
        water: report.water.as_ref().map(|water| WaterDocument::of(water, question.eye.threshold())),
        problems: problems(&report.problems),
        not_checked: TRANSIT_LIMITS,
        cautions: CAUTIONS,
        exit_status: transit_exit_status(report).code(),
    }
}

impl TransitDocument<'_> {
    /// Says that the time, if there is one, is what the clock of this device says.
    #[must_use]
    pub fn with_time_by_clock(mut self) -> Self {
        self.time_source = self.time_source.map(|_| "clock");
        self
    }
}

fn worst(zone: &ZoneOnLine) -> Option<WorstDocument<'_>> {
    let point = zone.worst?;
    Some(WorstDocument {
        zone_id: &zone.id.0,
        distance_from_front_m: metres(point.distance_from_front),
        signed_distance_m: metres(point.signed_distance),
        uncertainty_95_m: metres(point.uncertainty_95),
        margin_m: metres(point.margin()),
        position: point.position.into(),
    })
}

impl<'a> OpensDocument<'a> {
    fn of(report: &'a TransitReport) -> Self {
        let opens = report.opens.as_ref();
        Self {
            inside: opens.map(|opens| inside_words(opens.rear_shows)),
            rear_shows: opens.map(|opens| opens.rear_shows.word()),
            zone_lies: opens.map(|opens| opens.compass_word),
            zone_id: opens.and_then(|opens| zone_id(report, opens)),
            sentence: transit_sentence(report),
        }
    }
}

fn zone_id<'a>(report: &'a TransitReport, opens: &Opens) -> Option<&'a str> {
    report.zones.get(opens.zone).map(|zone| zone.id.0.as_str())
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
