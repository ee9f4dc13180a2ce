//! What the documents about marks share: problems, the eye, numbers, and what no check can know.

use serde::Serialize;
use takeline::Metres;
use takeline::transit::{Eye, Problem, ProblemCode, ProblemReason, Severity};

use super::phrases;
use crate::words::Words;

/// A number as JSON has it: null rather than one that is none.
pub(super) fn number(value: f64) -> Option<f64> {
    value.is_finite().then_some(value)
}

/// A length as JSON has it, in metres.
pub(super) fn metres(length: Metres) -> Option<f64> {
    number(length.metres())
}

/// The observer's eye.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct EyeDocument {
    /// How high it is over the water, and the smallest opening that it sees.
    #[serde(flatten)]
    pub eye: Eye,
    /// How far away the horizon is.
    pub horizon_m: Option<f64>,
}

impl From<Eye> for EyeDocument {
    fn from(eye: Eye) -> Self {
        Self { eye, horizon_m: metres(eye.horizon()) }
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
        phrases::sentence(&self.text)
    }
}
