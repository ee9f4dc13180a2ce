use takeline::Metres;
use takeline::landmark::Landmark;
use takeline::transit::{CrossedPosition, LineOfPosition};

use super::crossed_document::{CrossDocument, CrossReport, Unsettled};
use super::text::{not_checked, problems};
use super::{headline, words};
use crate::figures;
use crate::here::{self, TextOptions, bear_in_mind, deciding_zone};
use crate::lines::Page;
use crate::words::Words;

/// Returns a position from lines that cross as plain text, without colour, wrapped: what the water is there, where that
/// is, how sure, and then the answer of `here` for each position that fits.
///
/// The wording is for people and may change; scripts read the document.
///
/// # Accuracy
///
/// Distances are rounded to whole metres, positions to thousandths of a minute.
#[must_use]
pub fn transit_cross_text(document: &CrossDocument<'_>, options: &TextOptions, words: &dyn Words) -> String {
    let CrossReport { lines, crossed, assessments } = document.found;
    let mut page = Page::new(options.width);
    head(&mut page, document, words);
    problems(&mut page, &document.problems);
    position(&mut page, crossed);
    lines_crossed(&mut page, lines, crossed);
    let all = assessments.len();
    for (number, assessment) in assessments.iter().enumerate() {
        if all > 1 {
            page.heading(&format!("IF AT POSITION {} OF {all}", number + 1));
        } else if document.unsettled.is_some() {
            page.heading("IF AT THAT POSITION, WHICH IS NOT SETTLED");
        }
        here::body(&mut page, assessment, options, words);
    }
    not_checked(&mut page, &document.problems);
    bear_in_mind(&mut page);
    page.finish()
}

fn head(page: &mut Page, document: &CrossDocument<'_>, words: &dyn Words) {
    let CrossReport { crossed, assessments, .. } = document.found;
    let unsettled = document.unsettled.map(why_and_what_would_settle);
    match (unsettled, assessments.first()) {
        (Some((why, _)), _) => page.fitted(&[format!("UNDECIDED: {why}"), "UNDECIDED".into()]),
        (None, Some(first)) => page.fitted(&here::verdict(first, deciding_zone(first), words)),
        (None, None) => page.fitted(&["UNDECIDED".into()]),
    }
    let place = figures::position(crossed.position);
    let radius = figures::doubt(crossed.radius_95);
    let others = if crossed.is_ambiguous() { crossed.others.len() } else { 0 };
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
    if let Some(thin) = long_and_thin(crossed) {
        page.fitted(&thin);
    }
    let warnings = headline::warnings(&document.problems);
    if !warnings.is_empty() {
        page.fitted(&warnings);
    }
}

/// Which way the doubt is, where one circle says too little of it: along and across, the longest words first.
fn long_and_thin(crossed: &CrossedPosition) -> Option<Vec<String>> {
    const TIMES_AS_LONG: f64 = 3.0;
    let ellipse = crossed.ellipse;
    if ellipse.semi_major.metres() < TIMES_AS_LONG * ellipse.semi_minor.metres() {
        return None;
    }
    let (long, short) = (figures::doubt(ellipse.semi_major), figures::doubt(ellipse.semi_minor));
    let way = ellipse.major_bearing;
    Some(vec![format!("{long} along {way}, {short} across"), format!("{long}, {short} across"), long])
}

/// Why the position settles nothing, and what would settle it.
fn why_and_what_would_settle(unsettled: Unsettled) -> (&'static str, &'static str) {
    match unsettled {
        Unsettled::NoZones => ("no zones to ask", "give the zones"),
        Unsettled::Useless => ("not to be used so", "see PROBLEMS below"),
        Unsettled::Disagree => ("the lines do not meet", "one is wrong, take them all again"),
        Unsettled::Ambiguous => ("more than one position fits", "take a line that tells them apart"),
    }
}

fn position(page: &mut Page, crossed: &CrossedPosition) {
    page.heading("WHERE THE LINES CROSS");
    page.field("at", &figures::position(crossed.position));
    let label = if crossed.is_ambiguous() { "or at" } else { "also at, not taken" };
    page.fields(label, &crossed.others.iter().copied().map(figures::position).collect::<Vec<_>>());
    page.field("radius", &format!("{} (95\u{a0}%)", figures::doubt(crossed.radius_95)));
    let ellipse = crossed.ellipse;
    let axis = |length: Metres| figures::distance(length, length);
    let (long, short) = (axis(ellipse.semi_major), axis(ellipse.semi_minor));
    let way = ellipse.major_bearing;
    page.field("ellipse", &format!("{long} by {short} (95\u{a0}%, half axes), the long one along {way}"));
    page.field("drms", &format!("{} (one sigma)", words::short_length(crossed.drms)));
    page.field("cut", &format!("at {:.0}°, the best of any two lines", crossed.angle_of_cut_deg));
    if !crossed.agree {
        page.field("agree", "NO: the lines do not meet within their errors; one of them is wrong");
    }
}

fn lines_crossed(page: &mut Page, lines: &[LineOfPosition], crossed: &CrossedPosition) {
    for (number, line) in lines.iter().enumerate() {
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
        if let Some(misfit) = crossed.residuals.get(number) {
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
        page.field(&mark.name, &words::known_to(mark));
    }
}
