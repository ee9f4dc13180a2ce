//! What `takeline zones draft` found in the text of a law.

use serde::Serialize;
use takeline_drafting::draft::{Draft, DraftFinding, Question, SideFault};
use takeline_drafting::law_text::{Gap, Line, Outcome};

use crate::figures;
use crate::lines::Page;
use crate::{ExitStatus, Units};

/// What was found in a law text, schema `takeline.zones-draft/1`.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DraftDocument {
    /// Names the form.
    pub schema: &'static str,
    /// Where the zone file was written; null: it was not.
    pub written: Option<String>,
    /// How many positions make the boundary.
    pub points: usize,
    /// How many lines were refused.
    pub lines_refused: usize,
    /// What the boundary encloses, in m²; null where there is none.
    pub area_m2: Option<f64>,
    /// Every line of the text.
    pub lines: Vec<DraftLineDocument>,
    /// What contradicts itself or cannot be drawn.
    pub findings: Vec<DraftFindingDocument>,
    /// What the text must still say.
    pub questions: Vec<DraftQuestionDocument>,
    /// The exit status of the command.
    pub exit_status: ExitStatus,
}

/// One line of the text.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct DraftLineDocument {
    /// Counted from 1.
    pub line: usize,
    /// As it was given.
    pub text: String,
    /// `blank`, `read`, `words`, `words-with-numbers`, `refused`.
    pub outcome: &'static str,
    /// Why it was refused.
    pub reason: Option<String>,
    /// What it may mean.
    pub readings: Vec<String>,
}

/// Something that contradicts itself or cannot be drawn.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct DraftFindingDocument {
    /// Stable.
    pub code: &'static str,
    /// `error` or `warning`.
    pub severity: &'static str,
    /// In words.
    pub text: String,
    /// The text contradicts itself, and the file is written if that is asked for.
    #[serde(skip)]
    contradiction: bool,
}

/// Something that the text must still say.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct DraftQuestionDocument {
    /// Stable.
    pub code: &'static str,
    /// In words.
    pub text: String,
}

impl DraftDocument {
    /// Draws up the document; `written` is the path of the file, if it was written.
    #[must_use]
    pub fn of(draft: &Draft, written: Option<String>, units: Units) -> Self {
        let findings: Vec<DraftFindingDocument> = draft
            .findings
            .iter()
            .map(|finding| DraftFindingDocument {
                code: finding.code(),
                severity: if finding.is_fatal() || finding.is_contradiction() { "error" } else { "warning" },
                text: finding_text(finding, units),
                contradiction: finding.is_contradiction(),
            })
            .collect();
        let looks = draft.text.lines.iter().any(|line| line.outcome == Outcome::WordsWithNumbers);
        let exit_status = match (&written, findings.is_empty() && !looks) {
            (None, _) => ExitStatus::Undecided,
            (Some(_), false) => ExitStatus::Restricted,
            (Some(_), true) => ExitStatus::Unrestricted,
        };
        Self {
            schema: "takeline.zones-draft/1",
            written,
            points: draft.points,
            lines_refused: draft.refused_lines(),
            area_m2: draft.area_m2,
            lines: draft.text.lines.iter().map(line).collect(),
            findings,
            questions: draft
                .questions
                .iter()
                .map(|question| DraftQuestionDocument {
                    code: question.code(),
                    text: question_text(question),
                })
                .collect(),
            exit_status,
        }
    }
}

fn line(line: &Line) -> DraftLineDocument {
    let (outcome, reason, readings) = match &line.outcome {
        Outcome::Blank => ("blank", None, Vec::new()),
        Outcome::Read => ("read", None, Vec::new()),
        Outcome::Words => ("words", None, Vec::new()),
        Outcome::WordsWithNumbers => ("words-with-numbers", None, Vec::new()),
        Outcome::Refused { reason, readings } => ("refused", Some(reason.clone()), readings.clone()),
        Outcome::NotUnderstood { words, gap } => ("refused", Some(gap_text(words, *gap)), Vec::new()),
        _ => ("unknown", None, Vec::new()),
    };
    DraftLineDocument { line: line.number, text: line.text.clone(), outcome, reason, readings }
}

/// Why a line that holds something that is not understood is refused, and how to mend it.
fn gap_text(words: &str, gap: Gap) -> String {
    let words = words.trim();
    match gap {
        Gap::Number => format!(
            "“{words}” is a number that is not understood; write it as a coordinate, or with its unit, or take it out if it says nothing of the line"
        ),
        Gap::Another => format!(
            "“{words}”: a second zone, or a second list, seems to begin here; put each zone into a text by itself, or take the words out if it is one list"
        ),
        Gap::Corner => format!(
            "“{words}” seems to be a corner without its latitude and longitude; give the point, or take the words out if it is none"
        ),
        Gap::Between => format!(
            "“{words}” stands between the rows: it may be a corner in words, or begin another zone; give the point, put each zone into a text by itself, or take the words out if they are neither"
        ),
        Gap::Shape | _ => format!(
            "“{words}” may change the shape and is not understood here; say it in the words of docs/from-law-to-zone.md, draw the zone by hand, or take it out if it says nothing of the line"
        ),
    }
}

/// A finding in words, with what to do about it.
#[expect(clippy::wildcard_enum_match_arm, reason = "the rest is in the function that follows")]
fn finding_text(finding: &DraftFinding, units: Units) -> String {
    let length = |metres: f64| figures::length(units, metres);
    let area = |m2: f64| figures::area(units, m2);
    match finding {
        DraftFinding::LabelsStart { line, label } => format!(
            "line {line}: the points begin with {label}, so rows may be lost before it; add them, or take the names out if the law has no such rows"
        ),
        DraftFinding::LabelsGap { line, before, label } => format!(
            "line {line}: {label} follows {before}, so a row may be lost between; add it, or take the names out if the law has no such row"
        ),
        DraftFinding::LabelsRepeat { line, before, label } => {
            format!("line {line}: {label} follows {before}; correct the names, or draft one zone at a time")
        }
        DraftFinding::CornersDiffer { line, stated, listed } => {
            format!(
                "line {line}: the text speaks of {stated} points and lists {listed}; look for the one that differs"
            )
        }
        DraftFinding::LengthDiffers { line, stated, found_m, .. } => format!(
            "line {line}: the text says {stated}, but the two coordinates are {} apart; one of them is wrong",
            length(*found_m)
        ),
        DraftFinding::BearingDiffers { line, stated_deg, found_deg } => format!(
            "line {line}: the text says {stated_deg:03}° true, but the coordinates lie {found_deg:05.1}° true from each other; one of them is wrong"
        ),
        DraftFinding::NotAlong { line, parallel } => {
            let (side, what) = if *parallel { ("parallel", "latitudes") } else { ("meridian", "longitudes") };
            format!(
                "line {line}: the side runs along a {side}, but the {what} of its ends differ; one of them is wrong"
            )
        }
        DraftFinding::RadiusDiffers { line, stated, found_m, .. } => format!(
            "line {line}: the text says {stated}, but an end of the arc is {} from its centre; check centre, radius and end",
            length(*found_m)
        ),
        DraftFinding::AreaDiffers { line, stated, found_m2, .. } => format!(
            "line {line}: the text says {stated}, but the corners enclose {}; a corner, or the area, is wrong",
            area(*found_m2)
        ),
        DraftFinding::PointInDoubt { line, text, doubt } => format!("line {line}: “{text}” {doubt}"),
        DraftFinding::CoarserThanOthers { line, text } => {
            format!("line {line}: “{text}” has fewer digits than the others; a digit may be lost")
        }
        DraftFinding::CrossesItself { line, fault, repairs } => {
            let offers =
                repairs.iter().map(|(one, other, m2)| format!("{one} and {other} (then {})", area(*m2)));
            let offers: Vec<String> = offers.collect();
            let mend = if offers.is_empty() {
                "compare each row with the law".to_owned()
            } else {
                format!("it is sound with two rows exchanged: {}", offers.join(", or "))
            };
            format!("line {line}: {fault}; {mend}")
        }
        other => finding_text_more(other, units),
    }
}

#[expect(clippy::wildcard_enum_match_arm, reason = "the others are in the function before")]
fn finding_text_more(finding: &DraftFinding, units: Units) -> String {
    match finding {
        DraftFinding::NoBoundary { fault } | DraftFinding::BoxIncomplete { fault } => {
            format!("this is no boundary: {fault}")
        }
        DraftFinding::NothingToDraw { points } => {
            format!("the text has {points} positions; a zone needs three corners, or a centre and a radius")
        }
        DraftFinding::ArcIncomplete { line, missing } => {
            format!(
                "line {line}: the {missing} of the arc is not plain; add it (“clockwise” for the way round)"
            )
        }
        DraftFinding::SideWithoutPoint { line } => {
            format!("line {line}: a side has a bearing but does not say where it ends; add the position")
        }
        DraftFinding::DatumsDiffer { first, other } => {
            format!("both {first} and {other} are named as the datum; draft the points of each by themselves")
        }
        DraftFinding::PointsLeftOver { line, text } => {
            format!("line {line}: “{text}” has no place in the boundary; take it out, or say what it is")
        }
        DraftFinding::NearlyCloses { line, text, found_m } => format!(
            "line {line}: “{text}” is {} from the first point; is it the first again, copied wrongly?",
            figures::length(units, *found_m)
        ),
        DraftFinding::SeveralLengths { line, stated, readings_m } => {
            let readings: Vec<String> = readings_m.iter().map(|metres| format!("{metres:.1} m")).collect();
            format!(
                "line {line}: “{stated}” may be {}; write the one that the law means, with its unit and without a mark for thousands",
                readings.join(" or ")
            )
        }
        DraftFinding::NotLoadable { fault } => format!("the zone file would be refused: {fault}"),
        DraftFinding::SideUnclear { line, fault } => format!("line {line}: {}", side_text(*fault)),
        DraftFinding::SeveralZones { line } => format!(
            "line {line}: the ring is closed before this row, so another zone begins; put each zone into a text by itself"
        ),
        DraftFinding::ClosingDiffers { line, text, first } => format!(
            "line {line}: the text goes back to where it began, but prints “{text}” and not “{first}”; one of them is wrong"
        ),
        DraftFinding::LabelMissing { line, text } => format!(
            "line {line}: “{text}” has no name, and other points have; if it is a corner, name it, else take it out"
        ),
        DraftFinding::WordsNotUnderstood { line, words } => {
            format!("line {line}: “{words}” is not understood; see that it says nothing of the line")
        }
        other => other.code().to_owned(),
    }
}

/// What is unclear about a side, and how to mend it.
fn side_text(fault: SideFault) -> &'static str {
    match fault {
        SideFault::Twice => {
            "something is said twice of one side; draw a side for each point, and say it once"
        }
        SideFault::BothKinds => {
            "rhumb lines and geodesics are both named for one side; take out the one that does not hold, and draft again"
        }
        SideFault::RoundWithCorners => {
            "a circle or a radius is named, and the text has corners; put the circle into a text by itself, or take it out if it says nothing of the line"
        }
        SideFault::TurnWithoutArc => {
            "a way round is named, but no arc; add the arc with its centre and radius, or take it out"
        }
        SideFault::BeforeFirst => {
            "a side is described before the first point; begin with the point that it leaves"
        }
        SideFault::BesideRound => {
            "a length or a direction stands beside a circle or an arc; take it out if it says nothing of the line"
        }
        _ => "what is said of this side is not clear; say it again in one way",
    }
}

fn question_text(question: &Question) -> String {
    match question {
        Question::Edges => "How do the sides run: geodesic, rhumb? Left unstated, both are computed and the difference counts as uncertainty (--edges)".to_owned(),
        Question::Datum => "Which datum are the coordinates in? Left unstated, the boundary may be 200 m off (--datum)".to_owned(),
        Question::OnTheLine => "Does the line itself belong to the zone? Left out, it does (on_the_line)".to_owned(),
        Question::TimeZone => "In which time zone are dates and hours, if there are any? (time_zone)".to_owned(),
        Question::Take => "What may be taken? Until you write it, every answer about the zone is undecided (take; --take none if that is the law)".to_owned(),
        Question::Instrument => "What is the law called? (source; --instrument)".to_owned(),
        Question::ArcTurn { line } => {
            format!("Line {line}: which way does the arc turn? The shorter way was taken (turn)")
        }
        Question::Coast { line } => {
            format!("Line {line}: where does the shore run? Without a coast no side is certain near it (coast)")
        }
        Question::Approximate { line, word } => {
            format!("Line {line} says “{word}”: how far off may the line be? (line_uncertainty_m)")
        }
        other => other.code().to_owned(),
    }
}

/// The document as text; its first three lines say how many points were read, what was refused, and what to do next.
#[must_use]
pub fn draft_text(document: &DraftDocument, width: usize, units: Units) -> String {
    let mut page = Page::new(width);
    let area = document.area_m2.map(|m2| format!(", which enclose {}", figures::area(units, m2)));
    page.paragraph("", &format!("READ {}{}", counted(document.points, "point"), area.unwrap_or_default()));
    page.paragraph("", &refused_line(document));
    page.paragraph("", &format!("NEXT {}", next(document)));
    let refused = document.lines.iter().filter(|line| line.outcome == "refused");
    list(
        &mut page,
        "Refused",
        refused.map(|line| {
            let readings: Vec<String> = line.readings.iter().map(|reading| format!("“{reading}”")).collect();
            let offers = if readings.is_empty() {
                String::new()
            } else {
                format!("; it may mean {}", readings.join(" or "))
            };
            format!(
                "line {}: {}: {}{offers}",
                line.line,
                line.text.trim(),
                line.reason.as_deref().unwrap_or_default()
            )
        }),
    );
    list(
        &mut page,
        "Look at",
        document.findings.iter().map(|finding| format!("{} ({})", finding.text, finding.code)),
    );
    list(
        &mut page,
        "The text must still say",
        document.questions.iter().map(|question| question.text.clone()),
    );
    for (heading, outcome) in [
        ("Not read as coordinates, though it has numbers", "words-with-numbers"),
        ("Not read as coordinates", "words"),
    ] {
        let lines = document.lines.iter().filter(|line| line.outcome == outcome);
        list(&mut page, heading, lines.map(|line| format!("line {}: {}", line.line, line.text.trim())));
    }
    page.finish()
}

fn counted(count: usize, what: &str) -> String {
    if count == 1 { format!("1 {what}") } else { format!("{count} {what}s") }
}

fn refused_line(document: &DraftDocument) -> String {
    let refused = document.lines.iter().filter(|line| line.outcome == "refused");
    let numbers: Vec<String> = refused.map(|line| line.line.to_string()).collect();
    let said = match numbers.as_slice() {
        [] => "REFUSED no line".to_owned(),
        [one] => format!("REFUSED line {one}"),
        many => format!("REFUSED {} lines: {}", many.len(), many.join(", ")),
    };
    let code = "words-not-understood";
    match document.findings.iter().filter(|finding| finding.code == code).count() {
        0 => said,
        1 => format!("{said}; 1 line was not understood: read it beside the map"),
        count => format!("{said}; {count} lines were not understood: read them beside the map"),
    }
}

fn next(document: &DraftDocument) -> String {
    let errors = document.findings.iter().filter(|finding| finding.severity == "error").count();
    match &document.written {
        Some(path) => format!("{path} is written: run takeline zones check {path}, then takeline zones show {path} beside the law"),
        None if document.lines_refused > 0 => "no file is written: correct the refused lines by the law, then draft again".to_owned(),
        None if document.findings.iter().any(|finding| finding.severity == "error" && !finding.contradiction) => {
            "no file is written: settle what is listed under “Look at”, then draft again".to_owned()
        }
        None if errors > 0 => "no file is written: settle what is listed under “Look at”, then draft again (--despite-contradictions takes the coordinates for right where the text contradicts itself)".to_owned(),
        None => "no file is written".to_owned(),
    }
}

fn list(page: &mut Page, heading: &str, lines: impl Iterator<Item = String>) {
    let lines: Vec<String> = lines.collect();
    if lines.is_empty() {
        return;
    }
    page.heading(heading);
    for line in lines {
        page.paragraph("  ", &line);
    }
}
