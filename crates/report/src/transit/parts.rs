//! The parts of JSON that the answers about marks share.

use serde::Serialize;
use takeline::landmark::Landmark;
use takeline::transit::{Drift, Eye, Problem};
use takeline::{Metres, Position};

use super::words;

/// A number as JSON has it: null rather than one that is none.
pub(super) fn number(value: f64) -> Option<f64> {
    value.is_finite().then_some(value)
}

/// A length as JSON has it, in metres.
pub(super) fn metres(length: Metres) -> Option<f64> {
    number(length.metres())
}

/// A place.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct PlaceDocument {
    /// Latitude, north positive.
    pub latitude_deg: f64,
    /// Longitude, east positive.
    pub longitude_deg: f64,
}

impl From<Position> for PlaceDocument {
    fn from(position: Position) -> Self {
        Self { latitude_deg: position.latitude().degrees(), longitude_deg: position.longitude().degrees() }
    }
}

/// A mark.
#[derive(Debug, Clone, Serialize)]
pub struct MarkDocument<'a> {
    /// Identifier.
    pub id: &'a str,
    /// Name.
    pub name: &'a str,
    /// What it is, or null.
    pub kind: Option<&'a str>,
    /// Where it stands.
    pub position: PlaceDocument,
    /// How far off that may be, 95 %.
    pub position_error_95_m: Option<f64>,
    /// `given` or `assumed`.
    pub position_error_source: &'static str,
    /// Height of the part that is seen above mean sea level, or null.
    pub height_m: Option<f64>,
    /// Whether it stays where it is; null if nobody says.
    pub fixed: Option<bool>,
    /// The day somebody last saw it stand there, `YYYY-MM-DD`, or null.
    pub last_confirmed: Option<String>,
    /// What else its file says about it, or null.
    pub comment: Option<&'a str>,
}

impl<'a> From<&'a Landmark> for MarkDocument<'a> {
    fn from(mark: &'a Landmark) -> Self {
        Self {
            id: &mark.id.0,
            name: &mark.name,
            kind: mark.kind.as_deref(),
            position: mark.position.into(),
            position_error_95_m: metres(mark.position_error_95),
            position_error_source: words::given_or_assumed(mark.position_error_source),
            height_m: mark.height.and_then(metres),
            fixed: mark.fixed,
            last_confirmed: mark.last_confirmed.map(|day| day.to_string()),
            comment: mark.comment.as_deref(),
        }
    }
}

/// The observer's eye.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct EyeDocument {
    /// Height over the water.
    pub height_m: Option<f64>,
    /// Smallest opening that it sees.
    pub threshold_arcmin: Option<f64>,
    /// How far away the horizon is.
    pub horizon_m: Option<f64>,
}

impl From<Eye> for EyeDocument {
    fn from(eye: Eye) -> Self {
        Self {
            height_m: metres(eye.height()),
            threshold_arcmin: number(eye.threshold().arcmin()),
            horizon_m: metres(eye.horizon()),
        }
    }
}

/// How the boat is carried.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct DriftDocument {
    /// Speed over the ground.
    pub speed_kn: Option<f64>,
    /// Where to; null: straight across the line.
    pub towards_true_deg: Option<f64>,
}

impl From<Drift> for DriftDocument {
    fn from(drift: Drift) -> Self {
        Self {
            speed_kn: number(drift.speed_kn),
            towards_true_deg: drift.towards.and_then(|bearing| number(bearing.degrees())),
        }
    }
}

/// Something wrong.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct ProblemDocument<'a> {
    /// A word for machines.
    pub code: &'static str,
    /// `error`, `warning` or `note`.
    pub severity: &'static str,
    /// Sentences for people.
    pub text: &'a str,
}

impl<'a> From<&'a Problem> for ProblemDocument<'a> {
    fn from(problem: &'a Problem) -> Self {
        Self { code: problem.code.code(), severity: problem.severity.word(), text: &problem.text }
    }
}

pub(super) fn problems(problems: &[Problem]) -> Vec<ProblemDocument<'_>> {
    problems.iter().map(ProblemDocument::from).collect()
}
