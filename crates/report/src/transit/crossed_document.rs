//! The JSON of `transit cross`. `docs/json-output.md` describes each key.

use serde::Serialize;
use takeline::landmark::Landmark;
use takeline::transit::{CrossedPosition, LineOfPosition, Severity};
use takeline::{Assessment, ErrorEllipse, Position, TakeFinding};

use super::parts::{EyeDocument, ProblemDocument, exit_code, metres, number};
use super::text::TRANSIT_LIMITS;
use crate::cautions::CAUTIONS;
use crate::exit_status::{ExitStatus, exit_status};
use crate::here::{HereDocument, answer_key, here_json, water_key};
use crate::words::Words;

/// A position from lines that cross, schema `takeline.transit-cross/1`.
#[derive(Debug, Clone, Serialize)]
pub struct CrossDocument<'a> {
    /// `takeline.transit-cross/1`.
    pub schema: &'static str,
    /// Version of the program.
    pub takeline_version: &'static str,
    /// The position that fits best.
    pub position: Position,
    /// The circle that holds the true position 95 times in 100.
    pub radius_95_m: Option<f64>,
    /// The ellipse that does.
    pub ellipse: ErrorEllipse,
    /// Distance root mean square, one sigma.
    pub drms_m: Option<f64>,
    /// Best angle at which two of the lines cut, 0 to 90.
    pub angle_of_cut_deg: Option<f64>,
    /// The lines, in the order given.
    pub lines: Vec<LineOfPositionDocument<'a>>,
    /// How far each line passes from the position, in its own standard errors, in the order given.
    pub misfits: Vec<Option<f64>>,
    /// Whether the lines meet within their errors.
    pub agree: bool,
    /// Other positions that fit as well.
    pub others: &'a [Position],
    /// The circle of 95 % of each of them.
    pub others_radius_95_m: Vec<Option<f64>>,
    /// What is wrong with the marks or the cut.
    pub problems: Vec<ProblemDocument<'a>>,
    /// What the water is, whichever of the positions is meant, in the words of `here`; null if no zones were asked.
    pub water: Option<&'static str>,
    /// What may be done with each fish asked about, whichever of the positions is meant.
    pub take: Vec<CrossTakeDocument<'a>>,
    /// One answer of `here` for the position, then, if it is open which is meant, one for each of the others.
    pub here: Vec<HereDocument<'a>>,
    /// What no check of marks can know.
    pub not_checked: [&'static str; 4],
    /// What no answer can know.
    pub cautions: [&'static str; 4],
    /// 0, 1 or 3.
    #[serde(serialize_with = "exit_code")]
    pub exit_status: ExitStatus,
    #[serde(skip)]
    pub(super) found: CrossReport<'a>,
    /// What leaves the position open, whatever the water is there.
    #[serde(skip)]
    pub(super) unsettled: Option<Unsettled>,
}

/// A position from lines that cross, with all that its answer is drawn up from.
#[derive(Debug, Clone, Copy)]
pub struct CrossReport<'a> {
    /// The lines, in the order in which they were given.
    pub lines: &'a [LineOfPosition],
    /// The position that fits them.
    pub crossed: &'a CrossedPosition,
    /// One answer for the position and one for each of [`CrossedPosition::others`], in that order.
    pub assessments: &'a [Assessment],
}

/// Why a position settles nothing, whatever the water is there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Unsettled {
    /// No zones were asked about.
    NoZones,
    /// A problem says that the position cannot be used.
    Useless,
    /// The lines do not meet within their errors.
    Disagree,
    /// Several positions may be meant, and the answers differ or one is missing.
    Ambiguous,
}

/// What may be done with a fish, whichever of the positions is meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct CrossTakeDocument<'a> {
    /// As it was asked.
    pub asked: &'a str,
    /// `keep`, `release`, `undecided` or `no-loaded-zone`.
    pub answer: &'static str,
}

/// A line that the observer is on.
#[derive(Debug, Clone, Serialize)]
pub struct LineOfPositionDocument<'a> {
    /// `transit`, `bearing` or `horizontal-angle`.
    pub kind: &'static str,
    /// Front and rear mark, or the one, or the left and the right one.
    pub marks: Vec<&'a Landmark>,
    /// The eye that sees a transit; else null.
    pub eye: Option<EyeDocument>,
    /// True bearing of the mark; null for the other kinds.
    pub bearing_true_deg: Option<f64>,
    /// From the left mark to the right one; null for the other kinds.
    pub angle_deg: Option<f64>,
    /// Standard error (68 %) of bearing or angle; null for a transit.
    pub standard_error_deg: Option<f64>,
}

impl<'a> CrossDocument<'a> {
    /// Draws up a position with its answers, the texts in these words, with the keys of schema `takeline.transit-cross/1`.
    ///
    /// The exit status is that of the assessments if they agree. Undecided (3) if several positions may be meant and the answers
    /// differ, if one is missing, if the lines do not meet within their errors, or if a problem says that the position cannot
    /// be used.
    ///
    /// # Units
    ///
    /// Metres and degrees, as each key says; full precision. A number that is none is null.
    #[must_use]
    pub fn new(found: CrossReport<'a>, words: &dyn Words) -> Self {
        let CrossReport { lines, crossed, assessments } = found;
        let unsettled = unsettled(crossed, assessments);
        let settled = assessments.first().filter(|_| unsettled.is_none());
        Self {
            schema: "takeline.transit-cross/1",
            takeline_version: env!("CARGO_PKG_VERSION"),
            position: crossed.position,
            radius_95_m: metres(crossed.radius_95),
            ellipse: crossed.ellipse,
            drms_m: metres(crossed.drms),
            angle_of_cut_deg: number(crossed.angle_of_cut_deg),
            lines: lines.iter().map(LineOfPositionDocument::from).collect(),
            misfits: crossed.residuals.iter().map(|misfit| number(*misfit)).collect(),
            agree: crossed.agree,
            others: &crossed.others,
            others_radius_95_m: crossed.others_radius_95.iter().copied().map(metres).collect(),
            problems: ProblemDocument::all(&crossed.problems, words),
            water: assessments.first().map(|_| water_key(CrossedPosition::water_of(assessments))),
            take: takes(assessments),
            here: assessments.iter().map(|assessment| here_json(assessment, words)).collect(),
            not_checked: TRANSIT_LIMITS,
            cautions: CAUTIONS,
            exit_status: settled.map_or(ExitStatus::Undecided, exit_status),
            found,
            unsettled,
        }
    }

    /// Says that the time of the answers, if there is one, is what the clock of this device says.
    #[must_use]
    pub fn with_time_by_clock(self) -> Self {
        Self { here: self.here.into_iter().map(HereDocument::with_time_by_clock).collect(), ..self }
    }
}

/// Why the position settles nothing; none if it is good for an answer.
fn unsettled(crossed: &CrossedPosition, assessments: &[Assessment]) -> Option<Unsettled> {
    if assessments.is_empty() {
        return Some(Unsettled::NoZones);
    }
    if crossed.problems.iter().any(|problem| problem.severity == Severity::Error) {
        return Some(Unsettled::Useless);
    }
    if !crossed.agree {
        return Some(Unsettled::Disagree);
    }
    (!is_settled(crossed, assessments)).then_some(Unsettled::Ambiguous)
}

/// Whether every position that may be meant was asked about, and all get the same answer.
fn is_settled(crossed: &CrossedPosition, assessments: &[Assessment]) -> bool {
    let Some(first) = assessments.first() else { return false };
    let meant = if crossed.is_ambiguous() { crossed.others.len() + 1 } else { 1 };
    assessments.len() >= meant && all_alike(first, assessments)
}

/// Whether all positions get the same answer.
fn all_alike(first: &Assessment, assessments: &[Assessment]) -> bool {
    let fish = |(number, finding): (usize, &TakeFinding)| {
        CrossedPosition::take_of(assessments, number) == finding.answer
    };
    CrossedPosition::water_of(assessments) == first.water
        && first.take.iter().enumerate().all(fish)
        && assessments.iter().all(|other| {
            exit_status(other) == exit_status(first) && other.standoff_kept == first.standoff_kept
        })
}

fn takes(assessments: &[Assessment]) -> Vec<CrossTakeDocument<'_>> {
    let asked = assessments.first().map_or(&[][..], |first| first.take.as_slice());
    let numbered = asked.iter().enumerate();
    numbered
        .map(|(number, finding)| CrossTakeDocument {
            asked: &finding.asked,
            answer: answer_key(CrossedPosition::take_of(assessments, number)),
        })
        .collect()
}

impl<'a> From<&'a LineOfPosition> for LineOfPositionDocument<'a> {
    fn from(line: &'a LineOfPosition) -> Self {
        let bare = |kind, marks: &[&'a Landmark]| Self {
            kind,
            marks: marks.to_vec(),
            eye: None,
            bearing_true_deg: None,
            angle_deg: None,
            standard_error_deg: None,
        };
        match line {
            LineOfPosition::Transit { line, eye } => {
                Self { eye: Some((*eye).into()), ..bare("transit", &[line.front(), line.rear()]) }
            }
            LineOfPosition::Bearing { mark, bearing, standard_error_deg } => Self {
                bearing_true_deg: number(bearing.degrees()),
                standard_error_deg: number(*standard_error_deg),
                ..bare("bearing", &[mark])
            },
            LineOfPosition::HorizontalAngle { left, right, angle_deg, standard_error_deg } => Self {
                angle_deg: number(*angle_deg),
                standard_error_deg: number(*standard_error_deg),
                ..bare("horizontal-angle", &[left, right])
            },
        }
    }
}
