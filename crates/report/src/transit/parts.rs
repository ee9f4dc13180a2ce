//! The parts of JSON that the answers about marks share.

use serde::{Serialize, Serializer};
use takeline::landmark::Landmark;
use takeline::transit::{Eye, Problem, ProblemCode, ProblemReason, Severity};
use takeline::{Metres, Position, UncertaintySource};

use super::words;
use crate::exit_status::ExitStatus;
use crate::words::Words;

/// A number as JSON has it: null rather than one that is none.
pub(super) fn number(value: f64) -> Option<f64> {
    value.is_finite().then_some(value)
}

/// A length as JSON has it, in metres.
pub(super) fn metres(length: Metres) -> Option<f64> {
    number(length.metres())
}

/// Writes an exit status as its number.
#[expect(clippy::trivially_copy_pass_by_ref, reason = "the signature that serde asks for")]
pub(super) fn exit_code<S: Serializer>(status: &ExitStatus, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_u8(status.code())
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
    pub position: Position,
    /// How far off that may be, 95 %.
    pub position_error_95_m: Option<f64>,
    /// `given` or `assumed`.
    pub position_error_source: UncertaintySource,
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
            position: mark.position,
            position_error_95_m: metres(mark.position_error_95),
            position_error_source: mark.position_error_source,
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

/// Something wrong.
#[derive(Debug, Clone, Serialize)]
pub struct ProblemDocument<'a> {
    /// What kind of problem it is.
    pub code: ProblemCode,
    /// How bad it is.
    pub severity: Severity,
    /// Sentences for people.
    pub text: String,
    /// The same as data.
    pub text_code: &'a ProblemReason,
    /// The word for how bad it is.
    #[serde(skip)]
    pub(super) severity_word: String,
}

impl<'a> ProblemDocument<'a> {
    pub(super) fn all(problems: &'a [Problem], words: &dyn Words) -> Vec<Self> {
        let document = |problem: &'a Problem| Self {
            code: problem.code(),
            severity: problem.severity,
            text: words.transit_problem(&problem.reason),
            text_code: &problem.reason,
            severity_word: words.severity(problem.severity),
        };
        problems.iter().map(document).collect()
    }

    /// What is said of it as a sentence.
    pub(super) fn sentence(&self) -> String {
        words::sentence(&self.text)
    }
}
