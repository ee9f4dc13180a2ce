//! The answer of `transit cross` as one document, and its text. `docs/json-output.md` describes each key.

use serde::Serialize;
use takeline::coast::Coast;
use takeline::landmark::Landmark;
use takeline::transit::{CrossedPosition, LineOfPosition, Severity};
use takeline::{Assessment, ErrorEllipse, Metres, Position, TakeFinding};

use super::parts::{EyeDocument, ProblemDocument, metres, number};
use super::text::{not_checked, problems};
use super::{headline, phrases};
use crate::coast_document::CoastDocument;
use crate::exit_status::{ExitStatus, exit_status};
use crate::figures;
use crate::here::{self, HereDocument, answer_key, bear_in_mind, water_key};
use crate::lines::Page;
use crate::words::{Spoken, Words};

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
    /// The coasts that marks and position were held against.
    pub coasts: Vec<CoastDocument<'a>>,
    /// What is wrong with the marks or the cut.
    pub problems: Vec<ProblemDocument<'a>>,
    /// What the water is, whichever of the positions is meant, in the words of `here`; null if no zones were asked.
    pub water: Option<&'static str>,
    /// What may be done with each fish asked about, whichever of the positions is meant.
    pub take: Vec<CrossTakeDocument<'a>>,
    /// One answer of `here` for the position, then, if it is open which is meant, one for each of the others.
    pub here: Vec<HereDocument<'a>>,
    /// What leaves the position open, whatever the water is there; null if it is good for an answer.
    pub undecided_because: Option<String>,
    /// The same as data.
    pub undecided_because_code: Option<PositionUnsettled>,
    /// What would settle it, or null.
    pub settle: Option<String>,
    /// What no check of marks can know.
    pub not_checked: [&'static str; 4],
    /// What no answer can know.
    pub cautions: [&'static str; 4],
    /// 0, 1 or 3.
    pub exit_status: ExitStatus,
    #[serde(skip)]
    pub(super) found: CrossReport<'a>,
    /// The words of its texts.
    #[serde(skip)]
    pub(super) words: Spoken<'a>,
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
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(tag = "code", rename_all = "kebab-case")]
#[non_exhaustive]
pub enum PositionUnsettled {
    /// No zones were asked about.
    NoZones,
    /// A problem says that the position cannot be used.
    Problem,
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
    pub fn new(found: CrossReport<'a>, words: &'a dyn Words) -> Self {
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
            coasts: Vec::new(),
            problems: ProblemDocument::all(&crossed.problems, words),
            water: assessments.first().map(|_| water_key(CrossedPosition::water_of(assessments))),
            take: takes(assessments),
            here: assessments.iter().map(|assessment| HereDocument::of(assessment, words)).collect(),
            undecided_because: unsettled.map(|why| words.position_unsettled(why)),
            undecided_because_code: unsettled,
            settle: unsettled.map(|why| words.position_remedy(why)),
            not_checked: words.transit_limits(),
            cautions: words.cautions(),
            exit_status: settled.map_or(ExitStatus::Undecided, exit_status),
            found,
            words: Spoken(words),
        }
    }

    /// Lists the coasts that the answer went by.
    #[must_use]
    pub fn with_coasts(mut self, coasts: &'a [Coast]) -> Self {
        self.coasts = CoastDocument::all(coasts);
        self
    }

    /// Says that the time of the answers, if there is one, is what the clock of this device says.
    #[must_use]
    pub fn with_time_by_clock(self) -> Self {
        Self { here: self.here.into_iter().map(HereDocument::with_time_by_clock).collect(), ..self }
    }
}

/// Why the position settles nothing; none if it is good for an answer.
fn unsettled(crossed: &CrossedPosition, assessments: &[Assessment]) -> Option<PositionUnsettled> {
    if assessments.is_empty() {
        return Some(PositionUnsettled::NoZones);
    }
    if crossed.problems.iter().any(|problem| problem.severity == Severity::Error) {
        return Some(PositionUnsettled::Problem);
    }
    if !crossed.agree {
        return Some(PositionUnsettled::Disagree);
    }
    (!is_settled(crossed, assessments)).then_some(PositionUnsettled::Ambiguous)
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

/// Returns a position from lines that cross as plain text, without colour, wrapped to so many columns: what the water is
/// there, where that is, how sure, and then the answer of `here` for each position that fits.
///
/// The wording is for people and may change; scripts read the document.
///
/// # Accuracy
///
/// Distances are rounded to whole metres, positions to thousandths of a minute.
#[must_use]
pub fn transit_cross_text(document: &CrossDocument<'_>, width: usize) -> String {
    let CrossReport { lines, crossed, .. } = document.found;
    let mut page = Page::new(width);
    head(&mut page, document);
    problems(&mut page, &document.problems);
    position(&mut page, crossed, document.words);
    lines_crossed(&mut page, (lines, crossed), document.words);
    let all = document.here.len();
    for (number, answer) in document.here.iter().enumerate() {
        if all > 1 {
            page.heading(&format!("IF YOU ARE AT POSITION {} OF {all}", number + 1));
        } else if document.undecided_because.is_some() {
            page.heading("IF YOU ARE THERE, WHICH IS NOT SETTLED");
        }
        here::body(&mut page, answer);
    }
    not_checked(&mut page, &document.problems, document.not_checked);
    bear_in_mind(&mut page, document.words);
    page.finish()
}

fn head(page: &mut Page, document: &CrossDocument<'_>) {
    let CrossReport { crossed, .. } = document.found;
    match (&document.undecided_because, document.here.first()) {
        (Some(why), _) => page.fitted(&[format!("UNDECIDED: {why}"), "UNDECIDED".into()]),
        (None, Some(first)) => page.fitted(&first.verdict()),
        (None, None) => page.fitted(&["UNDECIDED".into()]),
    }
    let place = figures::position(crossed.position);
    let radius = figures::doubt(document.words.units(), crossed.radius_95);
    let others = if crossed.is_ambiguous() { crossed.others.len() } else { 0 };
    let more = if others > 0 { format!(", +{others} more") } else { String::new() };
    page.fitted(&[format!("{place} {radius}{more}"), format!("{radius}{more}"), radius]);
    match (&document.settle, document.here.first()) {
        (Some(settle), _) => page.paragraph("", &format!("To settle: {settle}")),
        (None, Some(_)) if others > 0 => {
            page.fitted(&["The answer is the same at each of them".into(), "The same at each".into()]);
        }
        (None, Some(first)) => page.fitted(&first.measure()),
        (None, None) => page.fitted(&["No zone was asked about".into()]),
    }
    if let Some(thin) = long_and_thin(crossed, document.words) {
        page.fitted(&thin);
    }
    let warnings = headline::warnings(&document.problems);
    if !warnings.is_empty() {
        page.fitted(&warnings);
    }
}

/// Which way the doubt is, where one circle says too little of it: along and across, the longest words first.
fn long_and_thin(crossed: &CrossedPosition, words: Spoken<'_>) -> Option<Vec<String>> {
    const TIMES_AS_LONG: f64 = 3.0;
    let ellipse = crossed.ellipse;
    if ellipse.semi_major.metres() < TIMES_AS_LONG * ellipse.semi_minor.metres() {
        return None;
    }
    let (long, short) = (
        figures::doubt(words.units(), ellipse.semi_major),
        figures::doubt_of(words.units(), ellipse.semi_major, ellipse.semi_minor),
    );
    let way = words.bearing(ellipse.major_bearing);
    Some(vec![format!("{long} along {way}, {short} across"), format!("{long}, {short} across"), long])
}

fn position(page: &mut Page, crossed: &CrossedPosition, words: Spoken<'_>) {
    page.heading("POSITION");
    page.field("at", &figures::position(crossed.position));
    let label = if crossed.is_ambiguous() { "or at" } else { "also possible, not used" };
    page.fields(label, &crossed.others.iter().copied().map(figures::position).collect::<Vec<_>>());
    page.field("radius", &format!("{} (95\u{a0}%)", figures::doubt(words.units(), crossed.radius_95)));
    let ellipse = crossed.ellipse;
    let axis = |length: Metres| figures::distance_beside(words.units(), length, length, ellipse.semi_major);
    let (long, short) = (axis(ellipse.semi_major), axis(ellipse.semi_minor));
    let way = words.bearing(ellipse.major_bearing);
    page.field("ellipse", &format!("{long} along {way}, {short} across (95\u{a0}%, half axes)"));
    page.field("drms", &format!("{} (root mean square)", phrases::short_length(words, crossed.drms)));
    page.field("cut", &format!("{:.0}° between the two that cross best", crossed.angle_of_cut_deg));
    if !crossed.agree {
        page.field("agree", "NO: the bearings disagree; at least one is wrong");
    }
}

fn lines_crossed(
    page: &mut Page,
    (lines, crossed): (&[LineOfPosition], &CrossedPosition),
    words: Spoken<'_>,
) {
    for (number, line) in lines.iter().enumerate() {
        page.heading(&format!("BEARING {}", number + 1));
        match line {
            LineOfPosition::Transit { line, eye } => {
                page.field("in line", &format!("{} over {}", line.rear().name, line.front().name));
                page.field(
                    "eye notices",
                    &format!("a gap of {} (minutes of arc)", phrases::minutes_of_arc(eye.threshold())),
                );
                places(page, words, &[line.front(), line.rear()]);
            }
            LineOfPosition::Bearing { mark, bearing, standard_error_deg } => {
                let bears = format!("bears {:.1}° true", bearing.degrees());
                page.field(&mark.name, &format!("{bears} {}", error(*standard_error_deg)));
                places(page, words, &[mark]);
            }
            LineOfPosition::HorizontalAngle { left, right, angle_deg, standard_error_deg } => {
                let between = format!("{} to {}", left.name, right.name);
                let angle = format!("{angle_deg:.1}° {}", error(*standard_error_deg));
                page.field("angle", &format!("{between}, {angle}"));
                places(page, words, &[left, right]);
            }
        }
        if let Some(misfit) = crossed.residuals.get(number) {
            page.field("misses by", &format!("{:.1} standard errors", misfit.abs()));
        }
    }
}

fn error(standard_error_deg: f64) -> String {
    format!("±{standard_error_deg:.1}° (68\u{a0}%)")
}

/// How well the places of marks are known.
fn places(page: &mut Page, words: Spoken<'_>, marks: &[&Landmark]) {
    for mark in marks {
        page.field(&mark.name, &phrases::known_to(words, mark));
    }
}
