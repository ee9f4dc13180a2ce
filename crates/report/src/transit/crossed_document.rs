//! The JSON of `transit cross`. `docs/json-output.md` describes each key.

use serde::Serialize;
use takeline::Assessment;
use takeline::ErrorEllipse;
use takeline::landmark::Landmark;
use takeline::transit::{CrossedPosition, LineOfPosition};

use super::CrossReport;
use super::exit::transit_cross_exit_status;
use super::parts::{EyeDocument, MarkDocument, PlaceDocument, ProblemDocument, metres, number, problems};
use super::text::TRANSIT_LIMITS;
use crate::cautions::CAUTIONS;
use crate::here::{HereDocument, answer_key, water_key};
use crate::words::English;

/// A position from lines that cross, schema `takeline.transit-cross/1`.
#[derive(Debug, Clone, Serialize)]
pub struct CrossDocument<'a> {
    /// `takeline.transit-cross/1`.
    pub schema: &'static str,
    /// Version of the program.
    pub takeline_version: &'static str,
    /// The position that fits best.
    pub position: PlaceDocument,
    /// The circle that holds the true position 95 times in 100.
    pub radius_95_m: Option<f64>,
    /// The ellipse that does.
    pub ellipse: EllipseDocument,
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
    pub others: Vec<PlaceDocument>,
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
    pub exit_status: u8,
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
    pub marks: Vec<MarkDocument<'a>>,
    /// The eye that sees a transit; else null.
    pub eye: Option<EyeDocument>,
    /// True bearing of the mark; null for the other kinds.
    pub bearing_true_deg: Option<f64>,
    /// From the left mark to the right one; null for the other kinds.
    pub angle_deg: Option<f64>,
    /// Standard error (68 %) of bearing or angle; null for a transit.
    pub standard_error_deg: Option<f64>,
}

/// An ellipse about a position.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct EllipseDocument {
    /// Half of the long axis.
    pub semi_major_m: Option<f64>,
    /// Half of the short axis.
    pub semi_minor_m: Option<f64>,
    /// Direction of the long axis, 0 ≤ b < 180.
    pub major_bearing_true_deg: Option<f64>,
}

/// Returns a position with its answers as a document with the keys of schema `takeline.transit-cross/1`.
///
/// # Units
///
/// Metres and degrees, as each key says; full precision. A number that is none is null.
#[must_use]
pub fn transit_cross_json<'a>(report: &CrossReport<'a>) -> CrossDocument<'a> {
    let (crossed, assessments) = (report.crossed, report.assessments);
    CrossDocument {
        schema: "takeline.transit-cross/1",
        takeline_version: env!("CARGO_PKG_VERSION"),
        position: crossed.position.into(),
        radius_95_m: metres(crossed.radius_95),
        ellipse: crossed.ellipse.into(),
        drms_m: metres(crossed.drms),
        angle_of_cut_deg: number(crossed.angle_of_cut_deg),
        lines: report.lines.iter().map(LineOfPositionDocument::from).collect(),
        misfits: crossed.residuals.iter().map(|misfit| number(*misfit)).collect(),
        agree: crossed.agree,
        others: crossed.others.iter().copied().map(PlaceDocument::from).collect(),
        others_radius_95_m: crossed.others_radius_95.iter().copied().map(metres).collect(),
        problems: problems(&crossed.problems),
        water: assessments.first().map(|_| water_key(CrossedPosition::water_of(assessments))),
        take: takes(assessments),
        here: assessments.iter().map(|assessment| HereDocument::of(assessment, &English)).collect(),
        not_checked: TRANSIT_LIMITS,
        cautions: CAUTIONS,
        exit_status: transit_cross_exit_status(crossed, assessments).code(),
    }
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
            marks: marks.iter().map(|mark| MarkDocument::from(*mark)).collect(),
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

impl From<ErrorEllipse> for EllipseDocument {
    fn from(ellipse: ErrorEllipse) -> Self {
        Self {
            semi_major_m: metres(ellipse.semi_major),
            semi_minor_m: metres(ellipse.semi_minor),
            major_bearing_true_deg: number(ellipse.major_bearing.degrees()),
        }
    }
}
