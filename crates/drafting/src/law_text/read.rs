//! Reads a law text line by line.

use std::sync::LazyLock;

use regex::Regex;
use takeline::{ParsePositionError, Position};

use super::account::{self, LineAccount};
use super::caveats;
use super::cutting::{self, Found, Read, Run};
use super::datums;
use super::heading::Heading;
use super::labels::{Row, Settled, doubts, name_before, settle};
use super::line::{Bound, Gap, LawText, Line, Outcome, Piece, PrintedPoint, Role, SideWords, Statement};
use super::mask::{Masked, masked};
use super::phrases::{LeftOver, Said, is_for_private_use, said};
use super::vocabulary::Class;

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
/// From the first position to the last, every word and number is read, or is one that cannot change a shape, or is told: a line
/// that holds something of shape, side or extent that is not understood is refused, and so is what stands in headings and prose and
/// would make another shape of the list.
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
    if let Some(line) = reader.centre.take() {
        reader.set(line, Outcome::NotUnderstood { words: "centre".to_owned(), gap: Gap::Shape });
    }
    let next = reader.next_name();
    account::settle(&mut reader.read.lines, &reader.accounts, next.as_deref());
    caveats::heed(&mut reader.read);
    reader.read
}

/// A line that is taken apart but not settled.
struct Draft {
    line: Line,
    masked: Masked,
    /// The runs, with what each says by itself; places are those in the text of `masked`.
    found: Vec<(Run, Found)>,
    /// The first run, where a number before it may be the name of its point.
    row: Option<Row>,
    is_heading: bool,
    words: usize,
}

#[derive(Default)]
struct Reader {
    read: LawText,
    /// One for each line.
    accounts: Vec<LineAccount>,
    heading: Option<Heading>,
    /// A latitude or longitude that waits for the other on the next line.
    pending: Option<Pending>,
    /// A name on a line by itself, which waits for its point.
    name: Option<(usize, String)>,
    /// The line that ends with “centred on”: the next position is a centre.
    centre: Option<usize>,
    has_place: bool,
}

struct Pending {
    line: usize,
    latitude: bool,
    text: String,
    label: Option<String>,
    /// What stands before it, and whether that begins the line.
    before: (String, bool),
}

impl Reader {
    fn draft(&mut self, number: usize, text: &str) -> Draft {
        let line = Line { number, text: text.to_owned(), outcome: Outcome::Words, unknown: Vec::new() };
        let plain = text.trim().trim_start_matches(['•', '·', '▪']).trim_start();
        let plain = plain.strip_prefix("- ").or(plain.strip_prefix("– ")).unwrap_or(plain);
        let is_odd = text.chars().any(is_for_private_use);
        let masked = if is_odd { Masked::default() } else { masked(plain) };
        let mut draft = Draft { line, masked, found: Vec::new(), row: None, is_heading: false, words: 0 };
        if let Some(heading) = Heading::of(&draft.masked.text) {
            self.heading = Some(heading);
            draft.is_heading = true;
            return draft;
        }
        draft.words = plain.split(|one: char| !one.is_alphabetic()).filter(|word| word.len() > 2).count();
        if let Some((before, cells)) = cells(plain, self.heading) {
            // the names of a row stand in front of it
            draft.masked = Masked::plain(before);
            draft.found = vec![cells];
            return draft;
        }
        draft.found = self.found(&draft.masked.text, draft.words);
        let before = draft.found.first().map(|(run, _)| draft.before(0, run)).unwrap_or_default();
        draft.row = row(&draft.found, &before);
        draft
    }

    /// What each run says, by the heading where it says too little by itself; numbers that say nothing are left to the words.
    fn found(&self, line: &str, words: usize) -> Vec<(Run, Found)> {
        let read = |run: &Run| {
            let one = match self.heading.and_then(|heading| heading.read(&run.text)) {
                Some(Ok(read)) => Found::Positions(vec![read]),
                // as it stands it would be read without what the heading says
                Some(Err(reason)) if !run.text.contains(['-', '−', '–', '+']) => {
                    if cutting::is_row_of_numbers(&run.text) {
                        Found::Unfit(reason)
                    } else {
                        Found::Numbers
                    }
                }
                Some(Err(_)) | None => cutting::read(&run.text),
            };
            let is_bare = !run.text.chars().any(|one| one.is_alphabetic() || "°º˚'′\"″-−+?".contains(one));
            let is_whole = !run.text.contains('.');
            let is_prose = match &one {
                Found::Positions(_) => is_bare && is_whole && words > 0,
                Found::Refused(_) => is_bare && words >= 3 && !cutting::is_row_of_numbers(&run.text),
                Found::Single { .. } | Found::Numbers | Found::Unfit(_) => false,
            };
            if is_prose { Found::Numbers } else { one }
        };
        let each = cutting::runs(line).into_iter().map(|run| {
            let next = line.get(run.end..).and_then(|rest| rest.chars().next());
            // what stands closely behind may be more of its digits, or a mark that was misread
            let is_cut = next.is_some_and(|next| {
                !is_for_private_use(next) && (next.is_alphanumeric() || "&^\\_".contains(next))
            });
            let mut one = read(&run);
            if is_cut && matches!(one, Found::Positions(_) | Found::Single { .. }) {
                one = Found::Unfit(format!(
                    "goes on behind “{}” with something that is not read; type it again",
                    run.text
                ));
            }
            (run, one)
        });
        each.filter(|(_, one)| !matches!(one, Found::Numbers)).collect()
    }

    fn take(&mut self, mut draft: Draft, row: Option<Settled>) {
        let number = draft.line.number;
        self.accounts.push(LineAccount { is_heading: draft.is_heading, ..LineAccount::default() });
        let is_odd = draft.line.text.chars().any(is_for_private_use);
        if draft.line.text.trim().is_empty() || is_odd {
            draft.line.outcome = if is_odd {
                refused("holds characters that have no agreed meaning; type the line again", &[])
            } else {
                Outcome::Blank
            };
            self.read.lines.push(draft.line);
            return;
        }
        let pieces_before = self.read.pieces.len();
        self.read.lines.push(draft.line.clone());
        let has_place = !draft.found.is_empty();
        let mut row = row;
        let mut from = 0;
        for (run, found) in std::mem::take(&mut draft.found) {
            let before = draft.before(from, &run);
            if let Err(refusal) = self.place(number, (&before, from == 0), (&run, found), row.take()) {
                self.set(number, refusal);
                return;
            }
            from = run.end;
        }
        let after = draft.masked.expanded(draft.masked.text.get(from..).unwrap_or_default());
        if let Err(refusal) = self.words(number, &after, (from == 0, !has_place, draft.is_heading)) {
            self.set(number, refusal);
            return;
        }
        let is_said = has_place || draft.is_heading || self.read.pieces.len() > pieces_before;
        let outcome = match (is_said, after.chars().any(|one| one.is_ascii_digit())) {
            (true, _) => Outcome::Read,
            (false, false) => Outcome::Words,
            (false, true) if draft.words == 0 && numbers(&after) > 1 => {
                refused("is a row of numbers that is not understood; write each position by itself", &[])
            }
            (false, true) => Outcome::WordsWithNumbers,
        };
        if !self.read.lines.last().is_some_and(|line| line.outcome.is_refused()) {
            self.set(number, outcome);
        }
    }

    fn set(&mut self, number: usize, outcome: Outcome) {
        if outcome.is_refused() {
            self.read.pieces.retain(|piece| piece.line() != number);
        }
        if let Some(line) = self.read.lines.get_mut(number - 1) {
            line.outcome = outcome;
        }
    }

    /// Takes in one run, and what stands before it.
    fn place(
        &mut self,
        line: usize,
        (before, begins): (&str, bool),
        (run, found): (&Run, Found),
        row: Option<Settled>,
    ) -> Result<(), Outcome> {
        let (name, words) = match name_before(before) {
            Some((name, start)) => {
                // what stands behind the name are marks, and a star may mean something
                let marks = before.get(start + name.len()..).unwrap_or_default();
                let words = format!("{}{marks}", before.get(..start).unwrap_or_default());
                (Some(name), words)
            }
            None => (None, before.to_owned()),
        };
        let words = words.as_str();
        if let Some(account) = self.accounts.last_mut() {
            account.has_place = true;
            if !self.has_place {
                account.ahead_text.push_str(before);
            }
        }
        match (row, found) {
            (Some(Settled::Undecided { readings }), _) => Err(refused(
                "may begin with the number of the point; write it as “1:” or take it out",
                &readings,
            )),
            (Some(Settled::Labelled { label, read, doubt }), _) => {
                self.abandon_pending();
                self.point(line, (before, begins), (read, Some(label), doubt))
            }
            (_, Found::Numbers) => Ok(()),
            (_, Found::Unfit(reason)) => Err(refused(&reason, &[])),
            (_, Found::Refused(error)) => {
                let (label, read) = self.next_letter(&run.text).ok_or_else(|| not_read(&error))?;
                self.abandon_pending();
                self.point(line, (before, begins), (read, Some(label), None))
            }
            (_, Found::Positions(reads)) => {
                self.abandon_pending();
                let (mut name, mut words) = (name, words);
                let is_close = !begins && name.is_none() && !before.chars().any(char::is_alphanumeric);
                let beside = reads.len() - 1 + usize::from(is_close);
                if let Some(account) = self.accounts.last_mut() {
                    account.beside += beside;
                }
                for read in reads {
                    self.point(line, (words, begins), (read, name.take(), None))?;
                    words = "";
                }
                Ok(())
            }
            (_, Found::Single { latitude, text }) => {
                let words =
                    if self.pending.is_some() || BOUND.as_ref().is_some_and(|bound| bound.is_match(before)) {
                        before
                    } else {
                        words
                    };
                self.single(line, (words, begins), (latitude, text, name), &run.text)
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

    /// The name that one more corner would have, by the name of the last.
    fn next_name(&self) -> Option<String> {
        let is_corner = |point: &&PrintedPoint| point.role == Role::Vertex;
        let last = self.read.pieces.iter().rev().filter_map(Piece::point).find(is_corner)?.label.clone()?;
        if let Ok(number) = last.parse::<usize>() {
            return Some((number + 1).to_string());
        }
        let letter = last.bytes().next().filter(|letter| last.len() == 1 && letter.is_ascii_alphabetic())?;
        Some(char::from(letter + 1).to_string()).filter(|_| !matches!(letter, b'Z' | b'z'))
    }

    /// A position, with what is said before it.
    fn point(
        &mut self,
        line: usize,
        (before, begins): (&str, bool),
        ((text, parsed), label, doubt): (Read, Option<String>, Option<String>),
    ) -> Result<(), Outcome> {
        let said = said(line, before, (begins, false));
        if let Some(reason) = &said.refused {
            return Err(refused(reason, &[]));
        }
        let is_round = said.side.circle || said.side.radius.is_some();
        let is_centre = self.centre.take().is_some() || said.centre || (is_round && !said.side.arc);
        let mut doubts = doubts(&parsed.warnings);
        doubts.extend(doubt);
        let is_bare = !text.chars().any(|one| one.is_alphabetic() || "-−–+".contains(one));
        if is_bare {
            doubts.push("has neither hemispheres nor signs; it was read as north and east".to_owned());
        }
        self.say(line, said);
        let waiting = if is_centre { None } else { self.name.take() };
        if let (Some(label), Some((unused, name))) = (&label, &waiting)
            && self.has_place
            && label != name
        {
            self.set(*unused, Outcome::NotUnderstood { words: name.clone(), gap: Gap::Corner });
        }
        let label = label.or(waiting.map(|(_, name)| name));
        self.has_place = true;
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

    /// Keeps what is said, and holds the line to what is left over.
    fn say(&mut self, line: usize, said: Said) {
        let has_side = !said.side.is_empty() || said.all.rhumb || said.all.geodesic;
        let only_kind = SideWords { rhumb: false, geodesic: false, ..said.side.clone() }.is_empty();
        if let Some(account) = self.accounts.get_mut(line - 1) {
            account.has_side |= has_side;
            account.leads_on |= !only_kind;
            account.has_leg |= said.side.legs > 0;
            if self.has_place { &mut account.behind } else { &mut account.ahead }.extend(said.left);
        }
        if said.all.rhumb || said.all.geodesic {
            self.read.pieces.push(Piece::Side(said.all));
        }
        if !said.side.is_empty() {
            self.read.pieces.push(Piece::Side(said.side));
        }
        // a datum is named; whether the coordinates are in it, only a plain sentence says
        let text = self.read.lines.get(line - 1).map(|line| line.text.as_str()).unwrap_or_default();
        let is_doubtful = |one: &Statement| matches!(one, Statement::Datum { name, .. } if name == "WGS 84" && !datums::is_plain(text));
        let statements = said.statements.into_iter().filter(|one| !is_doubtful(one));
        self.read.pieces.extend(statements.map(Piece::Statement));
    }

    /// Words that no position follows on this line.
    fn words(
        &mut self,
        line: usize,
        text: &str,
        (begins, apart, heading): (bool, bool, bool),
    ) -> Result<(), Outcome> {
        let mut said = said(line, text, (begins, apart));
        if let Some(reason) = &said.refused {
            return Err(refused(reason, &[]));
        }
        if heading {
            // what the heading says of hemispheres is taken in already
            said.left.retain(|left| !is_of_heading(&left.text));
        }
        if let Some(name) = said.name.take().filter(|_| apart)
            && let Some((other, unused)) = self.name.replace((line, name)).filter(|_| self.has_place)
        {
            self.set(other, Outcome::NotUnderstood { words: unused, gap: Gap::Corner });
        }
        if said.centre && said.left.is_empty() {
            self.centre = Some(line);
        } else if said.centre {
            said.left.push(LeftOver { text: "centre".to_owned(), class: Class::Outline });
        }
        if apart && !said.is_nothing() {
            self.abandon_pending();
        }
        self.say(line, said);
        Ok(())
    }

    fn single(
        &mut self,
        line: usize,
        (before, begins): (&str, bool),
        (latitude, text, label): (bool, String, Option<String>),
        run: &str,
    ) -> Result<(), Outcome> {
        if let Some(found) = BOUND.as_ref().and_then(|bound| bound.captures(before)) {
            let side = found
                .get(1)
                .and_then(|side| side.as_str().chars().next())
                .unwrap_or('N')
                .to_ascii_uppercase();
            if matches!(side, 'N' | 'S') != latitude {
                return Err(refused(&format!("“{run}” cannot bound the {side} side"), &[]));
            }
            let lead = before.get(..found.get(0).map_or(0, |whole| whole.start())).unwrap_or_default();
            let mut said = said(line, lead, (begins, false));
            said.left.retain(|left| !left.text.eq_ignore_ascii_case("bounded"));
            if said.centre {
                said.left.push(LeftOver { text: "centre".to_owned(), class: Class::Outline });
            }
            self.say(line, said);
            self.has_place = true;
            self.read.pieces.push(Piece::Bound(Bound { line, side, text }));
            return Ok(());
        }
        let Some(waiting) = self.pending.take() else {
            self.pending = Some(Pending { line, latitude, text, label, before: (before.to_owned(), begins) });
            return Ok(());
        };
        let joined = cutting::together(&waiting.text, &text);
        // words between the two that say anything make two things of them
        let between = said(line, before, (false, false));
        let is_joined = between.is_nothing();
        let words = (waiting.before.0.as_str(), waiting.before.1);
        match joined {
            Some(Ok(read)) if waiting.latitude != latitude && is_joined => {
                self.point(waiting.line, words, (read, waiting.label.clone().or(label), None))
            }
            Some(Err(error)) if is_joined => Err(not_read(&error)),
            _ => {
                self.alone(&waiting);
                self.pending =
                    Some(Pending { line, latitude, text, label, before: (before.to_owned(), begins) });
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

impl Draft {
    /// What stands between a place of the line and a run.
    fn before(&self, from: usize, run: &Run) -> String {
        self.masked.expanded(self.masked.text.get(from..run.start).unwrap_or_default())
    }
}

/// Words that a heading of columns is made of.
fn is_of_heading(word: &str) -> bool {
    matches!(
        word.to_lowercase().as_str(),
        "n" | "s"
            | "e"
            | "w"
            | "north"
            | "south"
            | "east"
            | "west"
            | "northern"
            | "southern"
            | "eastern"
            | "western"
            | "x"
            | "y"
            | "all"
            | "pt"
    )
}

fn numbers(text: &str) -> usize {
    text.split(|one: char| !one.is_ascii_digit() && one != '.').filter(|part| !part.is_empty()).count()
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
fn row(found: &[(Run, Found)], before: &str) -> Option<Row> {
    let (run, one) = found.first()?;
    match one {
        Found::Positions(reads) => match reads.as_slice() {
            [read] => Some(Row::of(before, &run.text, Some(read.clone()))),
            _ => None,
        },
        Found::Refused(_) => Some(Row::of(before, &run.text, None)),
        Found::Single { .. } | Found::Numbers | Found::Unfit(_) => None,
    }
}

/// A row of a table whose last two columns are the coordinates; those before name the point.
fn cells(line: &str, heading: Option<Heading>) -> Option<(String, (Run, Found))> {
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
    let before = if cells.is_empty() { String::new() } else { format!("{} ", cells.join(" ")) };
    let run = Run { start: before.len(), end: before.len(), text };
    Some((before, (run, Found::Positions(vec![read]))))
}
