//! The first three lines: does the line keep clear, what the eye sees where it does not, and how the marks bear.

use takeline::transit::{LinePoint, Meets, ProblemCode, Severity, TransitReport, ZoneOnLine};
use takeline::{Tristate, TrueBearing};

use super::compass::Compass;
use super::parts::ProblemDocument;
use super::{sentence, words};
use crate::figures;
use crate::lines::Page;
use crate::words::Words;

/// The first three lines, each as wordings for a line of the screen, the longest first; and how many warnings have to be read.
#[derive(Debug, Clone)]
pub(super) struct Headline {
    /// Whether the line keeps clear.
    pub(super) verdict: Vec<String>,
    /// Why the marks cannot be used so, as a sentence that takes the place of what the eye sees.
    error: Option<String>,
    /// What the eye sees.
    eye: Vec<String>,
    /// How the marks bear.
    bearing: Vec<String>,
    warnings: Vec<String>,
}

impl Headline {
    pub(super) fn of(
        report: &TransitReport,
        (problems, because): (&[ProblemDocument<'_>], &[String]),
        compass: &Compass,
        words: &dyn Words,
    ) -> Self {
        let error = first_error(problems).filter(|_| !only_variation(problems));
        Self {
            verdict: verdict(report, problems, because),
            error: error.map(ProblemDocument::sentence),
            eye: sentence::line(report, words),
            bearing: bearing(report.bearing, compass),
            warnings: warnings(problems),
        }
    }

    /// Writes the first three lines, and a fourth where something else has to be read before anybody trusts them.
    pub(super) fn write(&self, page: &mut Page) {
        page.fitted(&self.verdict);
        match &self.error {
            Some(error) => page.paragraph("", error),
            None => page.fitted(&self.eye),
        }
        page.fitted(&self.bearing);
        if !self.warnings.is_empty() {
            page.fitted(&self.warnings);
        }
    }
}

/// How many warnings have to be read before anybody trusts the lines above; nothing where there are none.
pub(super) fn warnings(problems: &[ProblemDocument<'_>]) -> Vec<String> {
    let warnings = problems.iter().filter(|problem| problem.severity == Severity::Warning).count();
    if warnings == 0 {
        return Vec::new();
    }
    let counted = words::counted(warnings, "warning");
    vec![format!("{counted} below, read first"), format!("{counted} below")]
}

/// Whether nothing but the variation is missing: the marks show what they show without a compass.
fn only_variation(problems: &[ProblemDocument<'_>]) -> bool {
    let mut errors = problems.iter().filter(|problem| problem.severity == Severity::Error);
    errors.all(|problem| problem.code == ProblemCode::VariationNotKnown)
}

/// Whether the line keeps clear, and by how much or where it does not.
fn verdict(report: &TransitReport, problems: &[ProblemDocument<'_>], because: &[String]) -> Vec<String> {
    let is_error = first_error(problems).is_some();
    if is_error && only_variation(problems) {
        return vec!["UNDECIDED: variation not known then".into(), "UNDECIDED".into()];
    }
    if is_error {
        return vec!["UNDECIDED: do not use these marks so".into(), "UNDECIDED: do not use".into()];
    }
    let zone = deciding(report);
    match report.clears {
        Tristate::Yes => clears(zone),
        Tristate::No => zone.map_or_else(|| vec!["DOES NOT CLEAR".into()], does_not_clear),
        Tristate::Undecided => undecided(zone, because),
    }
}

/// What makes the marks useless, if anything does.
fn first_error<'d, 'a>(problems: &'d [ProblemDocument<'a>]) -> Option<&'d ProblemDocument<'a>> {
    problems.iter().find(|problem| problem.severity == Severity::Error)
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

fn undecided(zone: Option<&ZoneOnLine>, because: &[String]) -> Vec<String> {
    let bare = || vec!["UNDECIDED: see why below".into(), "UNDECIDED".into()];
    let because = || because.first().map(|why| format!("UNDECIDED: {why}"));
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
pub(super) fn problems<'d, 'a>(problems: &'d [ProblemDocument<'a>]) -> Vec<&'d ProblemDocument<'a>> {
    let mut found: Vec<&ProblemDocument<'_>> =
        problems.iter().filter(|problem| problem.code != ProblemCode::TerrainNotChecked).collect();
    found.sort_by_key(|problem| problem.severity);
    found
}
