//! The first three lines: does the line keep clear, what the eye sees where it does not, and how the marks bear.

use takeline::transit::{LinePoint, Meets, Problem, ProblemCode, Severity, TransitReport, ZoneOnLine};
use takeline::{Tristate, TrueBearing};

use super::compass::Compass;
use super::{sentence, words};
use crate::figures;
use crate::lines::Page;

/// Writes the first three lines, and a fourth where something else has to be read before anybody trusts them.
pub(super) fn head(page: &mut Page, report: &TransitReport, compass: &Compass) {
    page.fitted(&verdict(report));
    match first_error(report) {
        Some(error) if !only_variation(report) => page.paragraph("", &words::sentence(&error.text)),
        _ => page.fitted(&sentence::line(report)),
    }
    page.fitted(&bearing(report.bearing, compass));
    warnings(page, &report.problems);
}

/// Counts warnings, which have to be read before anybody trusts the lines above.
pub(super) fn warnings(page: &mut Page, problems: &[Problem]) {
    let warnings = problems.iter().filter(|problem| problem.severity == Severity::Warning).count();
    if warnings > 0 {
        let counted = words::counted(warnings, "warning");
        page.fitted(&[format!("{counted} below, read first"), format!("{counted} below")]);
    }
}

/// Whether nothing but the variation is missing: the marks show what they show without a compass.
fn only_variation(report: &TransitReport) -> bool {
    let mut errors = report.problems.iter().filter(|problem| problem.severity == Severity::Error);
    errors.all(|problem| problem.code == ProblemCode::VariationNotKnown)
}

/// Whether the line keeps clear, and by how much or where it does not.
pub(super) fn verdict(report: &TransitReport) -> Vec<String> {
    if first_error(report).is_some() && only_variation(report) {
        return vec!["UNDECIDED: variation not known then".into(), "UNDECIDED".into()];
    }
    if first_error(report).is_some() {
        return vec!["UNDECIDED: do not use these marks so".into(), "UNDECIDED: do not use".into()];
    }
    let zone = deciding(report);
    match report.clears {
        Tristate::Yes => clears(zone),
        Tristate::No => zone.map_or_else(|| vec!["DOES NOT CLEAR".into()], does_not_clear),
        Tristate::Undecided => undecided(report, zone),
    }
}

/// What makes the marks useless, if anything does.
pub(super) fn first_error(report: &TransitReport) -> Option<&Problem> {
    report.problems.iter().find(|problem| problem.severity == Severity::Error)
}

/// The zone that the verdict hangs on.
pub(super) fn deciding(report: &TransitReport) -> Option<&ZoneOnLine> {
    let of_verdict = report.zones.iter().find(|zone| zone.clears == report.clears);
    match report.clears {
        Tristate::Yes => words::tightest(&report.zones),
        Tristate::No | Tristate::Undecided => of_verdict,
    }
    .or_else(|| report.zones.first())
}

fn clears(zone: Option<&ZoneOnLine>) -> Vec<String> {
    let Some((zone, worst)) = zone.and_then(|zone| Some((zone, zone.worst?))) else {
        return vec!["CLEARS: no loaded zone lies near".into(), "CLEARS: no zone near".into()];
    };
    let by = figures::distance_with_doubt(worst.signed_distance, worst.uncertainty_95);
    let name = &zone.name;
    vec![
        format!("CLEARS {name} by {by}"),
        format!("CLEARS by {by}"),
        format!("CLEARS, {by}"),
        "CLEARS".into(),
    ]
}

fn does_not_clear(zone: &ZoneOnLine) -> Vec<String> {
    let name = &zone.name;
    let first = |wanted: Meets| zone.meetings.iter().find(|meeting| meeting.what == wanted);
    let at = |distance| words::along(distance);
    let starts_inside = zone.near.is_some_and(|near| near.signed_distance.metres() < 0.0);
    if let (true, Some(left)) = (starts_inside, first(Meets::Leaves)) {
        let until = at(left.distance_from_front);
        return vec![format!("INSIDE {name} until {until}"), format!("INSIDE until {until}")];
    }
    if let Some(entered) = first(Meets::Enters).filter(|_| !starts_inside) {
        let at = at(entered.distance_from_front);
        return vec![format!("ENTERS {name} at {at}"), format!("ENTERS at {at}")];
    }
    if let Some(touched) = first(Meets::Touches).filter(|_| !starts_inside) {
        let at = at(touched.distance_from_front);
        return vec![format!("TOUCHES {name} at {at}"), format!("TOUCHES at {at}")];
    }
    let word = if starts_inside { "INSIDE" } else { "DOES NOT CLEAR" };
    vec![format!("{word} {name}"), word.into()]
}

fn undecided(report: &TransitReport, zone: Option<&ZoneOnLine>) -> Vec<String> {
    let bare = || vec!["UNDECIDED: see why below".into(), "UNDECIDED".into()];
    let because = || report.clears_because.first().map(|why| format!("UNDECIDED: {why}"));
    let Some(zone) = zone.filter(|zone| zone.clears == Tristate::Undecided) else {
        return because().into_iter().chain(bare()).collect();
    };
    let name = &zone.name;
    let Some(worst) = zone.worst else {
        return vec![
            format!("UNDECIDED: line of {name} not known"),
            "UNDECIDED: a zone's line is not known".into(),
            "UNDECIDED".into(),
        ];
    };
    let off = off(&worst);
    let doubt = figures::doubt(worst.uncertainty_95);
    vec![
        format!("UNDECIDED: {name} {off}, doubt {doubt}"),
        format!("UNDECIDED: {off}, doubt {doubt}"),
        format!("UNDECIDED: {off}, {doubt}"),
        "UNDECIDED".into(),
    ]
}

/// How far off a zone a point is: `12 m off`, or `12 m inside`.
pub(super) fn off(point: &LinePoint) -> String {
    let side = if point.signed_distance.metres() < 0.0 { "inside" } else { "off" };
    format!("{} {side}", figures::distance(point.signed_distance, point.uncertainty_95))
}

/// How the marks bear from the line.
pub(super) fn bearing(bearing: TrueBearing, compass: &Compass) -> Vec<String> {
    let rest = match compass {
        Compass::Known(needle) => format!(", {}", needle.bearing),
        Compass::NoTime => ", magnetic: give a time".into(),
        Compass::NotKnown(_) => ", magnetic NOT KNOWN".into(),
    };
    let degrees =
        |text: String| text.split_once('°').map_or(String::new(), |(digits, _)| format!("{digits}°"));
    let short = compass.needle().map(|needle| {
        format!("{} T, {} M", degrees(bearing.to_string()), degrees(needle.bearing.to_string()))
    });
    let mut lines = vec![
        format!("Marks bear {bearing}{rest}"),
        format!("Bear {bearing}{rest}"),
        format!("{bearing}{rest}"),
    ];
    lines.extend(short);
    lines.push(format!("Bear {bearing}"));
    lines
}

/// Problems but the one that is always there, the worst first.
pub(super) fn problems(problems: &[Problem]) -> Vec<&Problem> {
    let told = |severity| {
        problems.iter().filter(move |problem| {
            problem.severity == severity && problem.code != ProblemCode::TerrainNotChecked
        })
    };
    words::SEVERITIES.into_iter().flat_map(told).collect()
}
