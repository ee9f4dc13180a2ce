//! Reads a law text line by line.

use std::sync::LazyLock;

use regex::Regex;
use takeline::{ParsePositionError, Position};

use super::cutting::{self, Found, Read, Run};
use super::heading::Heading;
use super::labels::{Row, Settled, doubts, name_before, settle};
use super::line::{Bound, LawText, Line, Outcome, Piece, PrintedPoint, Role};
use super::phrases::{Said, is_for_private_use, said};

static CENTRE: LazyLock<Option<Regex>> =
    LazyLock::new(|| Regex::new(r"(?i)\bcent(?:re|er)(?:ed|d)?\b(?:[^.;]|\.\d)*$").ok());
static BOUND: LazyLock<Option<Regex>> = LazyLock::new(|| {
    Regex::new(r"(?i)\b(north|south|east|west)(?:ern|erly)?\s+(?:(?:boundary|limit|side)\s*(?:is|:|at)?\s*|by\b\s*)(?:the\b\s*)?(?:(?:parallel|meridian)\b\s*(?:of\b\s*)?)?$").ok()
});

/// Reads the text of a law.
///
/// Coordinates are read in every form of [`Position::parse`], alone or among words, with numbers or letters for the points, in
/// columns, a latitude and a longitude on a line each, or with hemispheres that a heading gives.
///
/// # Edge cases
///
/// A number that ran into the latitude (`134.17333` for point 1 at 34.17333) is taken for the name of the point only where it
/// counts all rows and they read in no other way, and each such point has a doubt. Degrees without letter or sign are read as
/// north and east, with a doubt.
///
/// # Examples
///
/// ```
/// use takeline_drafting::law_text::{Outcome, Piece, read};
///
/// let text = read("A. 45°06.60' N, 30°07.80' W; thence due east to\nB. 45°06.60' N, 30°06.60' W\nC. 45°0−7' N 30°W");
/// let Piece::Point(first) = &text.pieces[0] else { panic!("a point") };
/// assert_eq!((first.label.as_deref(), first.text.as_str()), (Some("A"), "45°06.60' N, 30°07.80' W"));
/// assert!(matches!(text.lines[2].outcome, Outcome::Refused { .. }));
/// ```
#[must_use]
pub fn read(text: &str) -> LawText {
    let mut reader = Reader::default();
    let drafts: Vec<Draft> = text.lines().enumerate().map(|(i, line)| reader.draft(i + 1, line)).collect();
    let rows: Vec<Row> = drafts.iter().filter_map(|draft| draft.row.clone()).collect();
    let mut settled = settle(&rows).into_iter();
    for draft in drafts {
        let row = draft.row.is_some().then(|| settled.next()).flatten();
        reader.take(draft, row);
    }
    reader.abandon_pending();
    reader.read
}

/// A line that is taken apart but not settled.
struct Draft {
    line: Line,
    said: Said,
    /// The runs, with what each says by itself.
    found: Vec<(Run, Found)>,
    after: String,
    /// The first run, where a number before it may be the name of its point.
    row: Option<Row>,
    is_heading: bool,
    words: usize,
}

#[derive(Default)]
struct Reader {
    read: LawText,
    heading: Option<Heading>,
    /// A latitude or longitude that waits for the other on the next line.
    pending: Option<Pending>,
}

struct Pending {
    line: usize,
    latitude: bool,
    text: String,
    label: Option<String>,
}

impl Reader {
    fn draft(&mut self, number: usize, text: &str) -> Draft {
        let line = Line { number, text: text.to_owned(), outcome: Outcome::Words };
        let plain = text.trim().trim_start_matches(['•', '*', '·', '▪']).trim_start();
        let plain = plain.strip_prefix("- ").or(plain.strip_prefix("– ")).unwrap_or(plain);
        let said = said(number, plain);
        let mut draft = Draft {
            line,
            said,
            found: Vec::new(),
            after: String::new(),
            row: None,
            is_heading: false,
            words: 0,
        };
        if let Some(heading) = Heading::of(plain) {
            self.heading = Some(heading);
            draft.is_heading = true;
            plain.clone_into(&mut draft.after);
            return draft;
        }
        draft.words = plain.split(|one: char| !one.is_alphabetic()).filter(|word| word.len() > 2).count();
        if let Some(cells) = cells(plain, self.heading) {
            draft.found = vec![cells];
            return draft;
        }
        let (runs, after) = cutting::runs(&draft.said.text);
        draft.after = after;
        draft.found = self.found(runs, draft.words);
        draft.row = row(&draft.found);
        draft
    }

    /// What each run says, by the heading where it says too little by itself.
    fn found(&self, runs: Vec<Run>, words: usize) -> Vec<(Run, Found)> {
        let mut found: Vec<(Run, Found)> = Vec::new();
        let mut before = String::new();
        for run in runs {
            let mut one = match self.heading.and_then(|heading| heading.read(&run.text)) {
                Some(Ok(read)) => Found::Positions(vec![read]),
                // as it stands it would be read without what the heading says
                Some(Err(_)) if !run.text.contains(['-', '−', '–', '+']) => Found::Numbers,
                Some(Err(_)) | None => cutting::read(&run.text),
            };
            let is_bare = !run.text.chars().any(|one| one.is_alphabetic() || "°º˚'′\"″-−+?".contains(one));
            let is_whole = !run.text.contains('.');
            let is_prose = match &one {
                Found::Positions(_) => is_bare && is_whole && words > 0,
                Found::Refused(_) => is_bare && words >= 3,
                Found::Single { .. } | Found::Numbers => false,
            };
            if is_prose {
                one = Found::Numbers;
            }
            if matches!(one, Found::Numbers) {
                before.push_str(&run.before);
                before.push_str(&run.text);
                continue;
            }
            before.push_str(&run.before);
            found.push((Run { before: std::mem::take(&mut before), text: run.text }, one));
        }
        if !before.is_empty() {
            found.push((Run { before, text: String::new() }, Found::Numbers));
        }
        found
    }

    fn take(&mut self, mut draft: Draft, row: Option<Settled>) {
        let number = draft.line.number;
        if draft.line.text.trim().is_empty() {
            draft.line.outcome = Outcome::Blank;
            self.read.lines.push(draft.line);
            return;
        }
        if draft.line.text.chars().any(is_for_private_use) {
            draft.line.outcome =
                refused("holds characters that have no agreed meaning; type the line again", &[]);
            self.read.lines.push(draft.line);
            return;
        }
        let pieces_before = self.read.pieces.len();
        let mut outcome = if draft.is_heading { Outcome::Read } else { Outcome::Words };
        self.read.lines.push(draft.line.clone());
        let mut row = row;
        let mut has_numbers = false;
        let mut spare = String::new();
        for (run, found) in std::mem::take(&mut draft.found) {
            let before = draft.said.expanded(&run.before);
            match self.place(number, &before, (&run, found), row.take()) {
                Ok(true) => outcome = Outcome::Read,
                Ok(false) => {
                    has_numbers = true;
                    spare.push_str(&before);
                }
                Err(refusal) => outcome = refusal,
            }
            if matches!(outcome, Outcome::Refused { .. }) {
                break;
            }
        }
        let after = format!("{spare}{}", draft.said.expanded(&draft.after));
        if !matches!(outcome, Outcome::Refused { .. }) && !draft.is_heading {
            outcome = self.words(number, &after, outcome);
        }
        let is_said = self.read.pieces.len() > pieces_before;
        if matches!(outcome, Outcome::Words) && is_said {
            outcome = Outcome::Read;
        }
        if matches!(outcome, Outcome::Words) && (has_numbers || after.chars().any(|one| one.is_ascii_digit()))
        {
            let is_row = draft.words == 0
                && after
                    .split(|one: char| !one.is_ascii_digit() && one != '.')
                    .filter(|part| !part.is_empty())
                    .count()
                    > 1;
            outcome = if is_row {
                refused("is a row of numbers that is not understood; write each position by itself", &[])
            } else {
                Outcome::WordsWithNumbers
            };
        }
        let is_refused = |line: &Line| matches!(line.outcome, Outcome::Refused { .. });
        if !self.read.lines.last().is_some_and(is_refused) {
            self.set(number, outcome);
        }
    }

    fn set(&mut self, number: usize, outcome: Outcome) {
        if matches!(outcome, Outcome::Refused { .. }) {
            self.read.pieces.retain(|piece| piece.line() != number);
        }
        if let Some(line) = self.read.lines.get_mut(number - 1) {
            line.outcome = outcome;
        }
    }

    /// Takes in one run; false where it is only numbers.
    fn place(
        &mut self,
        line: usize,
        before: &str,
        (run, found): (&Run, Found),
        row: Option<Settled>,
    ) -> Result<bool, Outcome> {
        let name = name_before(before);
        match (row, found) {
            (Some(Settled::Undecided { readings }), _) => Err(refused(
                "may begin with the number of the point; write it as “1:” or take it out",
                &readings,
            )),
            (Some(Settled::Labelled { label, read, doubt }), _) => {
                self.abandon_pending();
                self.point(line, before, (read, Some(label), doubt))?;
                Ok(true)
            }
            (_, Found::Numbers) => Ok(false),
            (_, Found::Refused(error)) => {
                let (label, read) = self.next_letter(&run.text).ok_or_else(|| not_read(&error))?;
                self.abandon_pending();
                self.point(line, before, (read, Some(label), None))?;
                Ok(true)
            }
            (_, Found::Positions(reads)) => {
                self.abandon_pending();
                let mut name = name;
                for read in reads {
                    self.point(line, before, (read, name.take(), None))?;
                }
                Ok(true)
            }
            (_, Found::Single { latitude, text }) => {
                self.single(line, before, (latitude, text, name), &run.text)?;
                Ok(true)
            }
        }
    }

    /// Point E, or S: the name is a hemisphere only as long as no point D stands before it.
    fn next_letter(&self, run: &str) -> Option<(String, Read)> {
        let letter = run.chars().next().filter(|first| "NESW".contains(*first))?;
        let rest = run.get(1..)?.trim_start_matches(['.', ':', ')', ' ', '\t']);
        let before = self.read.pieces.iter().rev().find_map(Piece::point)?.label.as_deref()?;
        let follows = before.len() == 1 && before.bytes().next()? + 1 == u8::try_from(letter).ok()?;
        let parsed = Position::parse(rest).ok().filter(|_| follows)?;
        Some((letter.to_string(), (rest.to_owned(), parsed)))
    }

    /// A position, with what is said before it.
    fn point(
        &mut self,
        line: usize,
        before: &str,
        ((text, parsed), label, doubt): (Read, Option<String>, Option<String>),
    ) -> Result<(), Outcome> {
        let said = said(line, before);
        if let Some(reason) = &said.refused {
            return Err(refused(reason, &[]));
        }
        let is_centre = CENTRE.as_ref().is_some_and(|centre| centre.is_match(before)) || said.side.circle;
        let mut doubts = doubts(&parsed.warnings);
        doubts.extend(doubt);
        let is_bare = !text.chars().any(|one| one.is_alphabetic() || "-−–+".contains(one));
        if is_bare {
            doubts.push("has neither hemispheres nor signs; it was read as north and east".to_owned());
        }
        self.say(&said);
        self.read.pieces.push(Piece::Point(PrintedPoint {
            line,
            text,
            label,
            position: parsed.position,
            precision: parsed.precision,
            doubts,
            role: if is_centre { Role::Centre } else { Role::Vertex },
        }));
        Ok(())
    }

    fn say(&mut self, said: &Said) {
        if !said.side.is_empty() {
            self.read.pieces.push(Piece::Side(said.side.clone()));
        }
        self.read.pieces.extend(said.statements.iter().cloned().map(Piece::Statement));
    }

    /// Words that no position follows on this line.
    fn words(&mut self, line: usize, text: &str, outcome: Outcome) -> Outcome {
        let said = said(line, text);
        if let Some(reason) = &said.refused {
            return refused(reason, &[]);
        }
        self.say(&said);
        outcome
    }

    fn single(
        &mut self,
        line: usize,
        before: &str,
        (latitude, text, label): (bool, String, Option<String>),
        run: &str,
    ) -> Result<(), Outcome> {
        if let Some(side) =
            BOUND.as_ref().and_then(|bound| bound.captures(before)).and_then(|found| found.get(1))
        {
            let side = side.as_str().chars().next().unwrap_or('N').to_ascii_uppercase();
            if matches!(side, 'N' | 'S') != latitude {
                return Err(refused(&format!("“{run}” cannot bound the {side} side"), &[]));
            }
            self.read.pieces.push(Piece::Bound(Bound { line, side, text }));
            return Ok(());
        }
        let Some(waiting) = self.pending.take() else {
            self.pending = Some(Pending { line, latitude, text, label });
            return Ok(());
        };
        let joined = cutting::together(&waiting.text, &text);
        match joined {
            Some(Ok(read)) if waiting.latitude != latitude => {
                self.point(waiting.line, before, (read, waiting.label.or(label), None))
            }
            Some(Err(error)) => Err(not_read(&error)),
            _ => {
                self.alone(&waiting);
                self.pending = Some(Pending { line, latitude, text, label });
                Ok(())
            }
        }
    }

    /// A coordinate whose other one did not follow is refused where it stands.
    fn alone(&mut self, waiting: &Pending) {
        let (this, other) =
            if waiting.latitude { ("latitude", "longitude") } else { ("longitude", "latitude") };
        let reason = format!("“{}” is a {this} whose {other} does not follow; add it", waiting.text);
        self.set(waiting.line, refused(&reason, &[]));
    }

    /// A coordinate waits for its other one, and something else follows.
    fn abandon_pending(&mut self) {
        if let Some(waiting) = self.pending.take() {
            self.alone(&waiting);
        }
    }
}

fn refused(reason: &str, readings: &[String]) -> Outcome {
    Outcome::Refused { reason: reason.to_owned(), readings: readings.to_vec() }
}

fn not_read(error: &ParsePositionError) -> Outcome {
    // the text of the error ends with the readings; they are listed by themselves
    let text = error.to_string();
    let reason = text.split("; it may mean ").next().unwrap_or(&text);
    refused(reason, error.readings())
}

/// The first run, where it begins its line and is a position, or may be one behind the number of its point.
fn row(found: &[(Run, Found)]) -> Option<Row> {
    let (run, one) = found.first()?;
    match one {
        Found::Positions(reads) => match reads.as_slice() {
            [read] => Some(Row::of(&run.before, &run.text, Some(read.clone()))),
            _ => None,
        },
        Found::Refused(_) => Some(Row::of(&run.before, &run.text, None)),
        Found::Single { .. } | Found::Numbers => None,
    }
}

/// A row of a table whose last two columns are the coordinates; those before name the point.
fn cells(line: &str, heading: Option<Heading>) -> Option<(Run, Found)> {
    let mut cells: Vec<&str> =
        line.split(['\t', '|']).map(str::trim).filter(|cell| !cell.is_empty()).collect();
    let (other, one) = (cells.pop()?, cells.pop()?);
    let digits = |cell: &&&str| cell.chars().any(|one| one.is_ascii_digit());
    if cells.iter().filter(digits).count() > 1 || cells.iter().any(|cell| cell.contains('.') && digits(&cell))
    {
        return None;
    }
    let text = format!("{one}; {other}");
    let read = match heading.and_then(|heading| heading.read(&text)) {
        Some(read) => read.ok()?,
        None => Position::parse(&text).ok().map(|parsed| (text.clone(), parsed))?,
    };
    let before = cells.first().map(|name| format!("{name} ")).unwrap_or_default();
    Some((Run { before, text }, Found::Positions(vec![read])))
}
