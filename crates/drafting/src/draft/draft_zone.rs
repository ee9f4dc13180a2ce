//! Drafts one zone.

use takeline::zone_file;
use takeline::{Boundary, BoundaryFault, EdgeModel, InvalidBoundary};

use super::finding::{DraftFinding, Question};
use super::outline::Outline;
use super::stated::{areas, contradictions};
use super::write::file_of;
use crate::law_text::{LawText, Piece, Quantity, Statement, read, same_datum};

/// At most so many exchanges of two rows are offered.
const MOST_REPAIRS: usize = 3;
/// Exchanges are tried of no longer rings: each try builds the boundary.
const MOST_TRIED: usize = 40;

/// What somebody knows of a zone besides the text.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct DraftRequest {
    /// Its id.
    pub id: String,
    /// Its name; none: the id.
    pub name: Option<String>,
    /// The law; none: to be named.
    pub instrument: Option<String>,
    /// How sides run of which the text does not say it; none: unstated.
    pub edges: Option<EdgeModel>,
    /// The datum, where the text names none.
    pub datum: Option<String>,
    /// The law says that nothing may be taken; else the file says so for safety, and asks.
    pub nothing_may_be_taken: bool,
    /// A file is written although the text contradicts itself: the coordinates count.
    pub despite_contradictions: bool,
}

/// A law text, what was found in it, and the zone file if nothing was in the way.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Draft {
    /// The text, line by line.
    pub text: LawText,
    /// How many positions make the boundary.
    pub points: usize,
    /// The area of what is drawn, in m².
    pub area_m2: Option<f64>,
    /// What contradicts itself or cannot be drawn.
    pub findings: Vec<DraftFinding>,
    /// What the text must still say.
    pub questions: Vec<Question>,
    /// The zone file; none: a line or a finding is in the way.
    pub file: Option<String>,
}

impl Draft {
    /// How many lines were refused.
    #[must_use]
    pub fn refused_lines(&self) -> usize {
        self.text.lines.iter().filter(|line| line.outcome.is_refused()).count()
    }
}

/// Drafts a zone file from the text of a law: one zone.
///
/// The file keeps the text of each vertex (`as_published`). It is written where every line that looks like coordinates was read,
/// the boundary can be built, the text does not contradict itself, and the file loads.
///
/// # Examples
///
/// ```
/// use takeline_drafting::draft::{DraftRequest, draft};
///
/// let text = "Rhumb lines join, in order (WGS 84):\n\
///             A 45°06.60′ N 30°07.80′ W\nB 45°06.60′ N 30°06.60′ W\nC 45°07.50′ N 30°06.60′ W\n\
///             an area of 130 hectares";
/// let made = draft(text, &DraftRequest { id: "sallow-cove".to_owned(), ..DraftRequest::default() });
/// assert_eq!((made.points, made.refused_lines()), (3, 0));
/// assert!(made.file.is_some(), "{:?}", made.findings);
/// ```
#[must_use]
pub fn draft(text: &str, request: &DraftRequest) -> Draft {
    let read = read(text);
    let mut outline = Outline::of(&read.pieces);
    let mut findings = std::mem::take(&mut outline.findings);
    settle_radius(&mut outline, &read.pieces, &mut findings);
    findings.extend(contradictions(&outline, &read.pieces));
    let unknown = read.lines.iter().filter(|line| !line.unknown.is_empty());
    findings.extend(
        unknown.map(|line| DraftFinding::WordsNotUnderstood {
            line: line.number,
            words: line.unknown.join(" "),
        }),
    );
    let datum = datum(&read.pieces, request, &mut findings);
    let boundary = built(&outline, request, &mut findings);
    if let Some(boundary) = &boundary {
        findings.extend(areas(boundary, &outline, &read.pieces));
    }
    let mut draft = Draft {
        points: outline.points.len(),
        area_m2: boundary.as_ref().map(Boundary::area_m2),
        questions: questions(&outline, &read.pieces, (request, datum.as_deref())),
        file: None,
        text: read,
        findings,
    };
    let is_in_the_way = |finding: &DraftFinding| {
        finding.is_fatal() || (finding.is_contradiction() && !request.despite_contradictions)
    };
    if draft.refused_lines() > 0 || boundary.is_none() || draft.findings.iter().any(is_in_the_way) {
        return draft;
    }
    let file = file_of(&outline, (request, datum.as_deref()), (text, &draft.findings));
    match zone_file::read("draft", file.as_bytes()) {
        Ok(_) => draft.file = Some(file),
        Err(error) => draft.findings.push(DraftFinding::NotLoadable { fault: error.to_string() }),
    }
    draft
}

/// Chooses among the readings of the radius of a circle: by an area that fits one of them alone.
fn settle_radius(outline: &mut Outline, pieces: &[Piece], findings: &mut Vec<DraftFinding>) {
    let Some(radius) = outline.circle.clone().filter(|radius| radius.readings_m.len() > 1) else { return };
    let fits = |one: &&f64| fits_area(outline, &radius.settled(**one, 1.0), pieces);
    let by_area: Vec<f64> = radius.readings_m.iter().filter(fits).copied().collect();
    let chosen = if let [one] = by_area.as_slice() { Some(*one) } else { None };
    match chosen {
        Some(metres) => outline.circle = Some(radius.settled(metres, 1.0)),
        None => findings.push(DraftFinding::SeveralLengths {
            line: outline.circle_line,
            stated: radius.text.clone(),
            readings_m: radius.readings_m,
        }),
    }
}

/// Whether the text states an area, and a circle of this radius has it.
fn fits_area(outline: &Outline, radius: &Quantity, pieces: &[Piece]) -> bool {
    let is_stated =
        pieces.iter().filter_map(Piece::statement).any(|one| matches!(one, Statement::Area { .. }));
    let circle =
        Outline { points: outline.points.clone(), circle: Some(radius.clone()), ..Outline::default() };
    let built = circle.part(EdgeModel::Unstated).and_then(|part| Boundary::build(&[part]).ok());
    is_stated && built.is_some_and(|boundary| areas(&boundary, &circle, pieces).is_empty())
}

fn built(outline: &Outline, request: &DraftRequest, findings: &mut Vec<DraftFinding>) -> Option<Boundary> {
    let unsaid = request.edges.unwrap_or(EdgeModel::Unstated);
    let drawable = if outline.circle.is_some() { 1 } else { 3 };
    if outline.points.len() < drawable {
        findings.push(DraftFinding::NothingToDraw { points: outline.points.len() });
        return None;
    }
    let Some(part) = outline.part(unsaid) else {
        findings.push(DraftFinding::NoBoundary { fault: "its radius is no length".to_owned() });
        return None;
    };
    match Boundary::build(&[part]) {
        Ok(boundary) => Some(boundary),
        Err(refused) => {
            findings.push(not_built(outline, unsaid, &refused));
            None
        }
    }
}

fn not_built(outline: &Outline, unsaid: EdgeModel, refused: &InvalidBoundary) -> DraftFinding {
    let vertex = refused.vertex.unwrap_or_default();
    let name = |vertex: usize| {
        let label = outline.points.get(vertex).and_then(|point| point.label.clone());
        label.unwrap_or_else(|| (vertex + 1).to_string())
    };
    if let BoundaryFault::SelfCrossing { other, near, .. } = &refused.fault {
        let (one, other) = (name(vertex), name(*other));
        return DraftFinding::CrossesItself {
            line: outline.points.get(vertex).map_or(0, |point| point.line),
            fault: format!("the side that leaves {one} crosses the side that leaves {other} near {near}"),
            repairs: exchanges(outline, unsaid)
                .into_iter()
                .map(|(a, b, m2)| (name(a), name(b), m2))
                .collect(),
        };
    }
    DraftFinding::NoBoundary { fault: format!("at point {}: {}", name(vertex), refused.fault) }
}

/// Pairs of corners that stand in each other's place: the ring is sound when they are exchanged. Neighbours first.
fn exchanges(outline: &Outline, unsaid: EdgeModel) -> Vec<(usize, usize, f64)> {
    let count = outline.points.len();
    if count > MOST_TRIED || outline.sides.iter().any(|side| side.arc.is_some()) {
        return Vec::new();
    }
    let mut found: Vec<(usize, usize, f64)> = Vec::new();
    for apart in 1..count {
        for one in 0..count - apart {
            let mut changed = Outline {
                points: outline.points.clone(),
                sides: outline.sides.clone(),
                ..Outline::default()
            };
            changed.points.swap(one, one + apart);
            let Some(Ok(boundary)) = changed.part(unsaid).map(|part| Boundary::build(&[part])) else {
                continue;
            };
            found.push((one, one + apart, boundary.area_m2()));
        }
        if !found.is_empty() {
            break;
        }
    }
    // several exchanges may give one and the same ring
    found.dedup_by(|one, other| (one.2 - other.2).abs() < 1.0);
    found.truncate(MOST_REPAIRS);
    found
}

/// The datum that the text or the request names.
fn datum(pieces: &[Piece], request: &DraftRequest, findings: &mut Vec<DraftFinding>) -> Option<String> {
    let name = |statement: &Statement| {
        if let Statement::Datum { name, .. } = statement { Some(name.clone()) } else { None }
    };
    let mut named = pieces.iter().filter_map(Piece::statement).filter_map(name);
    let first = named.next().or_else(|| request.datum.clone())?;
    if let Some(other) = named.chain(request.datum.clone()).find(|other| !same_datum(other, &first)) {
        findings.push(DraftFinding::DatumsDiffer { first: first.clone(), other });
    }
    Some(first)
}

fn questions(
    outline: &Outline,
    pieces: &[Piece],
    (request, datum): (&DraftRequest, Option<&str>),
) -> Vec<Question> {
    let mut asked = outline.questions.clone();
    let is_unsaid = |side: &super::outline::OutlineSide| side.model.is_none() && side.words.shore.is_none();
    if outline.circle.is_none() && request.edges.is_none() && outline.sides.iter().any(is_unsaid) {
        asked.push(Question::Edges);
    }
    if datum.is_none() {
        asked.push(Question::Datum);
    }
    let approximate = pieces.iter().filter_map(Piece::statement).find_map(Statement::approximate);
    asked.extend(approximate.map(|(line, word)| Question::Approximate { line, word: word.to_owned() }));
    asked.push(Question::OnTheLine);
    if !request.nothing_may_be_taken {
        asked.extend([Question::Take, Question::TimeZone]);
    }
    if request.instrument.is_none() {
        asked.push(Question::Instrument);
    }
    asked
}
