//! The first three lines: does the line keep clear, to which side the marks open where the zone is or why they tell no side, and
//! how they bear off a compass, as far as that is known.

use jiff::Timestamp;
use takeline::magnetic::{MagneticVariation, OutsideMagneticModel};
use takeline::transit::{
    LinePoint, Meets, Opens, ProblemCode, ProblemReason, Severity, Side, TransitReport, ZoneOnLine,
};
use takeline::{Arcminutes, MagneticBearing, Tristate, TrueBearing};

use super::parts::ProblemDocument;
use super::phrases;
use crate::figures;
use crate::lines::Page;
use crate::words::{EyeSentence, Spoken};

/// The first three lines, each as wordings for a line of the screen, the longest first; and how many warnings have to be read.
#[derive(Debug, Clone)]
pub(super) struct Headline {
    /// Whether the line keeps clear.
    pub(super) verdict: Vec<String>,
    /// Why the marks cannot be used so, as a sentence that takes the place of what the eye sees.
    error: Option<String>,
    /// What may keep somebody from using the marks at all: where they are not seen, and that one may not be there.
    limits: Limits,
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
        words: Spoken<'_>,
    ) -> Self {
        let error = first_error(problems).filter(|_| !only_variation(problems));
        Self {
            verdict: verdict(report, (problems, because), words),
            error: error.map(ProblemDocument::sentence),
            limits: Limits::of(report, words),
            eye: line(report, words),
            bearing: bearing(report.bearing, compass, words),
            warnings: warnings(problems),
        }
    }

    /// Writes the first three lines, and others where something else has to be read before anybody trusts them. What may keep
    /// somebody from using the marks at all comes right after the verdict.
    pub(super) fn write(&self, page: &mut Page) {
        page.fitted(&self.verdict);
        if self.error.is_none() {
            self.limits.write(page);
        }
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

/// What may keep somebody from using the marks at all.
#[derive(Debug, Clone, Default)]
struct Limits {
    /// Where along the stretch they are seen in line, if not all along.
    seen: Vec<String>,
    /// What their file says of each mark that can be gone.
    gone: Vec<String>,
}

impl Limits {
    fn of(report: &TransitReport, words: Spoken<'_>) -> Self {
        let seen = phrases::parts_seen(report, words).map_or_else(Vec::new, |parts| {
            let short = parts.replacen("from ", "", 1);
            vec![
                format!("The marks are seen in line only {parts} from the front mark"),
                format!("Seen in line only {parts}"),
                format!("Seen in line only {short}"),
                "Hidden in part: see below".into(),
                "Partly hidden".into(),
            ]
        });
        let gone = report.problems.iter().filter_map(|problem| {
            if let ProblemReason::MarkMovable { mark, comment: Some(comment) } = &problem.reason {
                Some(phrases::sentence(&format!("{mark} can be gone: {comment}")))
            } else {
                None
            }
        });
        Self { seen, gone: gone.collect() }
    }

    fn write(&self, page: &mut Page) {
        if !self.seen.is_empty() {
            page.fitted(&self.seen);
        }
        for gone in &self.gone {
            page.paragraph("", gone);
        }
    }
}

/// A line with the name of a zone, whole or cut so far that the line fits: a figure is never cut.
fn named(name: &str, line: impl Fn(&str) -> String) -> Vec<String> {
    /// Fewer letters than these name nothing.
    const FEWEST: usize = 8;
    let letters = name.chars().count();
    let cut = (FEWEST..letters).rev().map(|longest| line(&phrases::cut_name(name, longest)));
    std::iter::once(line(name)).chain(cut).collect()
}

/// How many warnings have to be read before anybody trusts the lines above; nothing where there are none.
pub(super) fn warnings(problems: &[ProblemDocument<'_>]) -> Vec<String> {
    let warnings = problems.iter().filter(|problem| problem.severity == Severity::Warning).count();
    if warnings == 0 {
        return Vec::new();
    }
    let counted = phrases::counted(warnings, "warning");
    vec![format!("{counted} below: read first"), format!("{counted} below")]
}

/// Whether nothing but the variation is missing: the marks show what they show without a compass.
fn only_variation(problems: &[ProblemDocument<'_>]) -> bool {
    let mut errors = problems.iter().filter(|problem| problem.severity == Severity::Error);
    errors.all(|problem| problem.code == ProblemCode::VariationNotKnown)
}

/// Whether the line keeps clear, and by how much or where it does not.
fn verdict(
    report: &TransitReport,
    (problems, because): (&[ProblemDocument<'_>], &[String]),
    words: Spoken<'_>,
) -> Vec<String> {
    let is_error = first_error(problems).is_some();
    if is_error && only_variation(problems) {
        return vec!["UNDECIDED: no variation for that time".into(), "UNDECIDED".into()];
    }
    if is_error {
        return vec!["UNDECIDED: do not use them this way".into(), "UNDECIDED: do not use".into()];
    }
    let zone = deciding(report);
    match report.clears {
        Tristate::Yes => clears(zone, words),
        Tristate::No => {
            zone.map_or_else(|| vec!["DOES NOT CLEAR".into()], |zone| does_not_clear(zone, words))
        }
        Tristate::Undecided => undecided(zone, because, words),
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
        Tristate::Yes => phrases::tightest(&report.zones),
        Tristate::No | Tristate::Undecided => of_verdict,
    }
    .or_else(|| report.zones.first())
}

fn clears(zone: Option<&ZoneOnLine>, words: Spoken<'_>) -> Vec<String> {
    let Some((zone, worst)) = zone.and_then(|zone| Some((zone, zone.worst?))) else {
        return vec!["CLEARS: no loaded zone is near".into(), "CLEARS: no zone near".into()];
    };
    let by = figures::distance_with_doubt(words.units(), worst.signed_distance, worst.uncertainty_95);
    let name = &zone.name;
    let mut lines = named(name, |name| format!("CLEARS {name} by {by}"));
    lines.extend([format!("CLEARS by {by}"), format!("CLEARS, {by}"), "CLEARS".into()]);
    lines
}

fn does_not_clear(zone: &ZoneOnLine, words: Spoken<'_>) -> Vec<String> {
    let name = &zone.name;
    let first = |wanted: Meets| zone.meetings.iter().find(|meeting| meeting.what == wanted);
    let at = |distance| phrases::along(words, distance);
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

fn undecided(zone: Option<&ZoneOnLine>, because: &[String], words: Spoken<'_>) -> Vec<String> {
    let bare = || vec!["UNDECIDED: see why below".into(), "UNDECIDED".into()];
    let because = || because.first().map(|why| format!("UNDECIDED: {why}"));
    let Some(zone) = zone.filter(|zone| zone.clears == Tristate::Undecided) else {
        return because().into_iter().chain(bare()).collect();
    };
    let name = &zone.name;
    let Some(worst) = zone.worst else {
        return vec![
            format!("UNDECIDED: boundary of {name} not known"),
            "UNDECIDED: a boundary is not known".into(),
            "UNDECIDED".into(),
        ];
    };
    let off = off(&worst, words);
    let of = if off == ON_THE_BOUNDARY { " of" } else { "" };
    let doubt = figures::doubt_of(words.units(), worst.signed_distance, worst.uncertainty_95);
    let mut lines = named(name, |name| format!("UNDECIDED: {off}{of} {name}, {doubt}"));
    lines.extend([format!("UNDECIDED: {off}, {doubt}"), "UNDECIDED".into()]);
    lines
}

/// What is said of a point whose distance is shown as nothing.
const ON_THE_BOUNDARY: &str = "on the boundary";

/// How far off a zone a point is: `12 m outside`, `12 m inside`, or `on the boundary` where the figure would be nothing.
pub(super) fn off(point: &LinePoint, words: Spoken<'_>) -> String {
    let figure = figures::distance(words.units(), point.signed_distance, point.uncertainty_95);
    if figures::is_nothing(&figure) {
        return ON_THE_BOUNDARY.into();
    }
    let side = if point.signed_distance.metres() < 0.0 { "inside" } else { "outside" };
    format!("{figure} {side}")
}

/// How the marks bear from the line.
pub(super) fn bearing(bearing: TrueBearing, compass: &Compass, words: Spoken<'_>) -> Vec<String> {
    let rest = match compass {
        Compass::Known(needle) => format!(", {}", words.magnetic_bearing(needle.bearing)),
        Compass::NoTime => ", magnetic: needs a time".into(),
        Compass::NotKnown(_) => ", magnetic NOT KNOWN".into(),
    };
    let short = compass.needle().map(|needle| words.bearings_in_short(bearing, needle.bearing));
    let bearing = words.bearing(bearing);
    let mut lines = vec![
        format!("Marks bear {bearing}{rest}"),
        format!("They bear {bearing}{rest}"),
        format!("{bearing}{rest}"),
    ];
    lines.extend(short);
    lines.push(format!("They bear {bearing}"));
    lines.push(bearing);
    lines
}

/// Problems but the one that is always there, the worst first.
pub(super) fn problems<'d, 'a>(problems: &'d [ProblemDocument<'a>]) -> Vec<&'d ProblemDocument<'a>> {
    let mut found: Vec<&ProblemDocument<'_>> =
        problems.iter().filter(|problem| problem.code != ProblemCode::TerrainNotChecked).collect();
    found.sort_by_key(|problem| problem.severity);
    found
}

/// Problems that leave no side to be the zone's, the one that says most first.
const NO_SIDE: [ProblemCode; 6] = [
    ProblemCode::MarksSwapped,
    ProblemCode::BetweenMarks,
    ProblemCode::ZonesOnBothSides,
    ProblemCode::ZoneLineNotKnown,
    ProblemCode::NoZoneNear,
    ProblemCode::PerhapsSwapped,
];

/// Returns the sentence that the marks are for; none if they tell no side, or cannot be used as they are.
///
/// "If Lone Pine shows RIGHT of Sallow Point Day Beacon, assume you are inside Sallow Cove Reserve; it lies to the south."
/// Left and right are those of somebody who looks at the marks. Off the line on the zone's side one may still be outside
/// by the margin; the sentence counts that as inside, so that nobody has to tell margin from zone by eye.
///
/// # Edge cases
///
/// Names are made sanitised and cut to 48 letters.
pub(super) fn transit_sentence(report: &TransitReport, words: Spoken<'_>) -> Option<String> {
    let (zone, opens) = opening(report)?;
    // what is remembered on the water is this sentence, whatever stands around it
    if report.problems.iter().any(|problem| is_useless(problem.severity, problem.code())) {
        return None;
    }
    let [rear, front] = called(report);
    Some(words.eye_sentence(&EyeSentence {
        rear: &rear,
        front: &front,
        rear_shows: opens.rear_shows,
        zone: &phrases::name(&zone.name),
        zone_lies: opens.zone_lies,
    }))
}

/// What rear and front mark are called; one that was given by its place alone has no name but that of its part.
fn called(report: &TransitReport) -> [String; 2] {
    let marks = [(report.line.rear(), "rear"), (report.line.front(), "front")];
    marks.map(
        |(mark, part)| if mark.name == part { format!("the {part} mark") } else { phrases::name(&mark.name) },
    )
}

/// The zone that the marks open on, and how.
pub(super) fn opening(report: &TransitReport) -> Option<(&ZoneOnLine, &Opens)> {
    let opens = report.opens.as_ref()?;
    Some((report.zones.get(opens.zone)?, opens))
}

/// The side to which the rear mark shows inside.
pub(super) fn side_inside(report: &TransitReport) -> Option<Side> {
    opening(report).map(|(_, opens)| opens.rear_shows)
}

/// Whether the marks are not to be used so because of a problem; a variation that is not known leaves the eye what it sees.
fn is_useless(severity: Severity, code: ProblemCode) -> bool {
    severity == Severity::Error && code != ProblemCode::VariationNotKnown
}

/// Why the marks tell no side, as a sentence.
pub(super) fn no_side_because(problems: &[ProblemDocument<'_>]) -> String {
    let error = problems.iter().find(|problem| is_useless(problem.severity, problem.code));
    let known = |code: &ProblemCode| problems.iter().find(|problem| problem.code == *code);
    error
        .or_else(|| NO_SIDE.iter().find_map(known))
        .map_or_else(|| "No zone lies on just one side of this line.".into(), ProblemDocument::sentence)
}

/// The sentence for one line of a narrow screen, the longest first.
pub(super) fn line(report: &TransitReport, words: Spoken<'_>) -> Vec<String> {
    opening(report).map_or_else(|| no_side(report), |(_, opens)| side(report, opens, words))
}

fn side(report: &TransitReport, opens: &Opens, words: Spoken<'_>) -> Vec<String> {
    let [rear, front] = called(report);
    let rear = phrases::capital(&rear);
    let (loud, way) = (phrases::loud(words, opens.rear_shows), words.compass_point(opens.zone_lies));
    vec![
        format!("{rear} {loud} of {front}: assume inside, to the {way}"),
        format!("{rear} {loud} of {front}: assume inside"),
        format!("Rear mark {loud} of front: assume inside"),
        format!("Rear {loud} of front: assume inside"),
        format!("Rear {loud}: inside"),
    ]
}

fn no_side(report: &TransitReport) -> Vec<String> {
    if report.problems.iter().any(|problem| problem.code() == ProblemCode::ZonesOnBothSides) {
        return vec!["Zones on BOTH sides of the line".into(), "Zones on BOTH sides".into()];
    }
    vec!["The marks do not tell which side is in".into(), "They show no side".into()]
}

/// What a compass on the line says.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Compass {
    /// Not asked: no time was given.
    NoTime,
    /// Not known then.
    NotKnown(OutsideMagneticModel),
    /// Known.
    Known(Needle),
}

/// A bearing off the compass and what it was reckoned with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Needle {
    pub(super) bearing: MagneticBearing,
    /// East positive.
    pub(super) variation_deg: f64,
    /// Standard error of the variation.
    pub(super) standard_error: Arcminutes,
    /// The time that the variation is for.
    pub(super) time: Timestamp,
}

impl Compass {
    pub(super) fn of(report: &TransitReport) -> Self {
        match &report.magnetic {
            None => Self::NoTime,
            Some(Err(outside)) => Self::NotKnown(*outside),
            Some(Ok(magnetic)) => Self::Known(Needle {
                bearing: magnetic.bearing,
                variation_deg: magnetic.variation.degrees_east(),
                standard_error: magnetic.variation.standard_error(),
                time: magnetic.variation.time(),
            }),
        }
    }

    pub(super) fn needle(&self) -> Option<Needle> {
        match self {
            Self::Known(needle) => Some(*needle),
            Self::NoTime | Self::NotKnown(_) => None,
        }
    }

    /// Why there is no magnetic bearing; none where there is one.
    pub(super) fn why_not(&self, words: Spoken<'_>) -> Option<String> {
        match self {
            Self::NoTime => Some(words.variation_not_known(None)),
            Self::NotKnown(outside) => Some(words.variation_not_known(Some(outside))),
            Self::Known(_) => None,
        }
    }
}

/// The name of the model that variations come from.
pub(super) const MODEL: &str = MagneticVariation::MODEL;

#[cfg(test)]
mod tests {
    use super::named;

    #[test]
    fn a_name_is_cut_until_the_line_fits_and_a_figure_never() {
        let lines = named("Sallow Cove Reserve", |name| format!("CLEARS {name} by 102 m ±12 m"));
        assert_eq!(lines[0], "CLEARS Sallow Cove Reserve by 102 m ±12 m");
        assert_eq!(
            lines.iter().find(|line| line.chars().count() <= 40).unwrap(),
            "CLEARS Sallow Cove Reser… by 102 m ±12 m"
        );
        assert!(lines.iter().all(|line| line.ends_with("by 102 m ±12 m")), "{lines:?}");
        assert_eq!(lines.last().unwrap(), "CLEARS Sallow… by 102 m ±12 m");
    }
}
