use takeline::Assessment;
use takeline::landmark::Landmark;
use takeline::transit::{CrossedPosition, LineOfPosition, Severity};

use super::exit::all_alike;
use super::text::{not_checked, problems};
use super::words;
use crate::figures;
use crate::here::{self, TextOptions, bear_in_mind, deciding_zone};
use crate::lines::Page;

/// A position from lines that cross, with all that an answer has to name.
#[derive(Debug, Clone, Copy)]
pub struct CrossReport<'a> {
    /// The lines, in the order in which they were given.
    pub lines: &'a [LineOfPosition],
    /// The position that fits them.
    pub crossed: &'a CrossedPosition,
    /// One answer for the position and one for each of [`CrossedPosition::others`], in that order.
    pub assessments: &'a [Assessment],
}

/// Returns a position from lines that cross as plain text, without colour, wrapped: what the water is there, where that
/// is, how sure, and then the answer of `here` for each position that fits.
///
/// The wording is for people and may change; scripts read [`super::transit_cross_json`].
///
/// # Accuracy
///
/// Distances are rounded to whole metres, positions to thousandths of a minute.
#[must_use]
pub fn transit_cross_text(report: &CrossReport<'_>, options: &TextOptions) -> String {
    let (crossed, assessments) = (report.crossed, report.assessments);
    let mut page = Page::new(options.width);
    head(&mut page, crossed, assessments);
    position(&mut page, crossed);
    lines(&mut page, report);
    problems(&mut page, &crossed.problems);
    let all = assessments.len();
    let is_doubtful = unsettled(crossed, assessments).is_some();
    for (number, assessment) in assessments.iter().enumerate() {
        if all > 1 {
            page.heading(&format!("IF AT POSITION {} OF {all}", number + 1));
        } else if is_doubtful {
            page.heading("IF AT THAT POSITION, WHICH IS NOT SETTLED");
        }
        here::body(&mut page, assessment, options);
    }
    not_checked(&mut page, &crossed.problems);
    bear_in_mind(&mut page);
    page.finish()
}

fn head(page: &mut Page, crossed: &CrossedPosition, assessments: &[Assessment]) {
    let unsettled = unsettled(crossed, assessments);
    match (unsettled, assessments.first()) {
        (Some((why, _)), _) => page.fitted(&[format!("UNDECIDED: {why}"), "UNDECIDED".into()]),
        (None, Some(first)) => page.fitted(&here::verdict(first, deciding_zone(first))),
        (None, None) => page.fitted(&["UNDECIDED".into()]),
    }
    let place = figures::position(crossed.position);
    let radius = figures::doubt(crossed.radius_95);
    let others = crossed.others.len();
    let more = if others > 0 { format!(", +{others} more") } else { String::new() };
    page.fitted(&[format!("{place} {radius}{more}"), format!("{radius}{more}"), radius]);
    match (unsettled, assessments.first()) {
        (Some((_, settle)), _) => page.paragraph("", &format!("To settle: {settle}")),
        (None, Some(_)) if others > 0 => {
            page.fitted(&["The same at each position that fits".into(), "The same at each".into()]);
        }
        (None, Some(first)) => page.fitted(&here::measure(deciding_zone(first))),
        (None, None) => page.fitted(&["Nothing was asked there".into()]),
    }
}

/// Why the position settles nothing, whatever the water is there, and what would settle it; none if it is good for an
/// answer.
fn unsettled(crossed: &CrossedPosition, assessments: &[Assessment]) -> Option<(&'static str, &'static str)> {
    let Some(first) = assessments.first() else { return Some(("no zones to ask", "give the zones")) };
    if crossed.problems.iter().any(|problem| problem.severity == Severity::Error) {
        return Some(("not to be used so", "see PROBLEMS below"));
    }
    if !crossed.agree {
        return Some(("the lines do not meet", "one is wrong, take them all again"));
    }
    if assessments.len() <= crossed.others.len() || !all_alike(first, assessments) {
        return Some(("more than one position fits", "take a line that tells them apart"));
    }
    None
}

fn position(page: &mut Page, crossed: &CrossedPosition) {
    page.heading("WHERE THE LINES CROSS");
    page.field("at", &figures::position(crossed.position));
    page.fields("or at", &crossed.others.iter().copied().map(figures::position).collect::<Vec<_>>());
    page.field("radius", &format!("{} (95\u{a0}%)", figures::doubt(crossed.radius_95)));
    let ellipse = crossed.ellipse;
    let (long, short) = (words::short_length(ellipse.semi_major), words::short_length(ellipse.semi_minor));
    let way = ellipse.major_bearing;
    page.field("ellipse", &format!("{long} by {short} (95\u{a0}%, half axes), the long one along {way}"));
    page.field("drms", &format!("{} (one sigma)", words::short_length(crossed.drms)));
    page.field("cut", &format!("at {:.0}°, the best of any two lines", crossed.angle_of_cut_deg));
    if !crossed.agree {
        page.field("agree", "NO: the lines do not meet within their errors; one of them is wrong");
    }
}

fn lines(page: &mut Page, report: &CrossReport<'_>) {
    for (number, line) in report.lines.iter().enumerate() {
        page.heading(&format!("LINE {}", number + 1));
        match line {
            LineOfPosition::Transit { line, eye } => {
                page.field("in line", &format!("{} over {}", line.rear().name, line.front().name));
                page.field("the eye sees", &format!("{} and more", words::minutes_of_arc(eye.threshold())));
                places(page, &[line.front(), line.rear()]);
            }
            LineOfPosition::Bearing { mark, bearing, standard_error_deg } => {
                let bears = format!("bears {:.1}° true", bearing.degrees());
                page.field(&mark.name, &format!("{bears} {}", error(*standard_error_deg)));
                places(page, &[mark]);
            }
            LineOfPosition::HorizontalAngle { left, right, angle_deg, standard_error_deg } => {
                let between = format!("{} to {}", left.name, right.name);
                let angle = format!("{angle_deg:.1}° {}", error(*standard_error_deg));
                page.field("angle", &format!("{between}, {angle}"));
                places(page, &[left, right]);
            }
        }
        if let Some(misfit) = report.crossed.misfits.get(number) {
            page.field("passes", &format!("{:.1} standard errors off", misfit.abs()));
        }
    }
}

fn error(standard_error_deg: f64) -> String {
    format!("±{standard_error_deg:.1}° (68\u{a0}%)")
}

/// How well the places of marks are known.
fn places(page: &mut Page, marks: &[&Landmark]) {
    for mark in marks {
        let source = words::given_or_assumed(mark.position_error_source);
        let doubt = words::short_length(mark.position_error_95);
        page.field(&mark.name, &format!("known to ±{doubt} (95\u{a0}%), {source}"));
    }
}
