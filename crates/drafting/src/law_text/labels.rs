//! The names of points: numbers and letters before a position, and numbers that ran into it.

use takeline::{Position, PositionWarning};

use super::cutting::Read;

/// The first run of a row in the ways in which it may be read.
#[derive(Debug, Clone)]
pub(super) struct Row {
    /// As it stands.
    pub(super) plain: Option<Read>,
    /// With its first number as the name of the point.
    detached: Option<(usize, Read)>,
    /// With its first digits as the name of the point.
    fused: Vec<(usize, Read)>,
    /// An odd count of numbers: as it stands the two coordinates are of different forms.
    is_odd: bool,
    /// Something beside a blank stands behind its first number: `1.`, `1:`.
    is_set_off: bool,
    /// It begins its line, or what stands before it says that a name follows: `Point`.
    may_have_name: bool,
}

/// How a row is read.
#[derive(Debug, Clone)]
pub(super) enum Settled {
    /// As it stands; or, where that is nothing, not at all.
    Plain,
    /// A number and a position.
    Labelled { label: String, read: Read, doubt: Option<String> },
    /// In more than one way.
    Undecided { readings: Vec<String> },
}

impl Row {
    pub(super) fn of(before: &str, run: &str, plain: Option<Read>) -> Self {
        let numbers = run.split(|one: char| !one.is_ascii_digit() && one != '.');
        let count = numbers.filter(|part| part.chars().any(|one| one.is_ascii_digit())).count();
        let behind = run.trim_start_matches(|one: char| one.is_ascii_digit());
        let lead = before.to_lowercase();
        let last_word = lead.split(|one: char| !one.is_alphabetic()).rfind(|word| !word.is_empty());
        let may_have_name = last_word.is_none_or(|word| NAMES.contains(&word));
        let is_number = |one: char| one.is_ascii_digit();
        let is_named = may_have_name && last_word.is_some();
        let is_set_off = (is_named && count % 2 == 1)
            || behind.strip_prefix([':', '.']).is_some_and(|rest| !rest.starts_with(is_number));
        let is_odd = count % 2 == 1;
        Self { plain, detached: detached(run), fused: fused(run), is_odd, is_set_off, may_have_name }
    }

    /// What its label and position would be with this number.
    fn fused_as(&self, label: usize) -> Option<&Read> {
        self.fused.iter().find(|(number, _)| *number == label).map(|(_, read)| read)
    }
}

/// Words that the name of a point follows.
const NAMES: [&str; 8] = ["point", "corner", "vertex", "pt", "no", "number", "position", "item"];

fn detached(run: &str) -> Option<(usize, Read)> {
    let digits = run.bytes().take_while(u8::is_ascii_digit).count();
    let (number, rest) = run.split_at_checked(digits)?;
    if !(1..=3).contains(&digits) {
        return None;
    }
    let separated = rest.trim_start_matches([' ', '\u{a0}', '.', ',', ':', '-', '–']);
    let gap = rest.get(..rest.len() - separated.len())?;
    // a point or a colon with a digit right behind it is part of a number; a minus may be the sign of what follows
    let is_gap = gap.contains([' ', '\u{a0}']) || gap == "," || gap == ":";
    let rest = if gap.trim_end_matches(['-', '–']) == gap { separated } else { rest.trim_start() };
    let parsed = Position::parse(rest).ok()?;
    is_gap.then(|| (number.parse().unwrap_or_default(), (rest.to_owned(), parsed)))
}

fn fused(run: &str) -> Vec<(usize, Read)> {
    let digits = run.bytes().take_while(u8::is_ascii_digit).count();
    let split = |at: usize| {
        let (number, rest) = run.split_at_checked(at)?;
        let number: usize = number.parse().ok().filter(|number| *number > 0)?;
        let parsed = Position::parse(rest).ok()?;
        Some((number, (rest.to_owned(), parsed)))
    };
    if run.starts_with('0') { Vec::new() } else { (1..digits.min(4)).filter_map(split).collect() }
}

/// Decides how the rows of a text are read, by all of them together: a number that counts the rows is their name.
pub(super) fn settle(rows: &[Row]) -> Vec<Settled> {
    let named: Vec<&Row> = rows.iter().filter(|row| row.may_have_name).collect();
    let detached: Option<Vec<usize>> =
        named.iter().map(|row| row.detached.as_ref().map(|(number, _)| *number)).collect();
    let counts_up =
        |labels: &[usize]| labels.windows(2).all(|pair| pair[0] < pair[1] && pair[1] <= pair[0] + 3);
    let counted = detached.filter(|labels| labels.len() >= 2 && counts_up(labels));
    let begins = counted.as_ref().and_then(|labels| labels.first().copied());
    let fused_from = fused_from(&named);
    let all_plain = named.iter().all(|row| row.plain.is_some());
    let mut number = 0;
    let one = |row: &Row| {
        let i = number;
        number += usize::from(row.may_have_name);
        let with = |label: usize, read: &Read, doubt: Option<String>| Settled::Labelled {
            label: label.to_string(),
            read: read.clone(),
            doubt,
        };
        match (&row.plain, &row.detached) {
            (Some(plain), Some((label, read))) if !row.may_have_name => {
                if row.is_odd {
                    undecided(plain, *label, read)
                } else {
                    Settled::Plain
                }
            }
            (None, _) if !row.may_have_name => Settled::Plain,
            (Some(plain), Some((label, read))) if row.is_set_off => {
                if row.is_odd {
                    with(*label, read, None)
                } else {
                    undecided(plain, *label, read)
                }
            }
            (Some(plain), Some((label, read))) => match (row.is_odd, begins) {
                (true, Some(0 | 1)) => with(*label, read, None),
                (false, Some(0 | 1)) if rows.len() > 2 => undecided(plain, *label, read),
                (false, _) => Settled::Plain,
                (true, _) => undecided(plain, *label, read),
            },
            (None, Some((label, read))) => with(*label, read, None),
            (plain, None) => match fused_from.and_then(|first| Some((first + i, row.fused_as(first + i)?))) {
                Some((label, read)) if !all_plain => {
                    let doubt = format!(
                        "“{label}” was taken for the number of the point, because it counts the rows"
                    );
                    with(label, read, Some(doubt))
                }
                Some((label, read)) => match plain {
                    Some(plain) if rows.len() > 2 => undecided(plain, label, read),
                    _ => Settled::Plain,
                },
                None => not_counted(row),
            },
        }
    };
    rows.iter().map(one).collect()
}

fn undecided(plain: &Read, label: usize, read: &Read) -> Settled {
    Settled::Undecided { readings: vec![plain.0.clone(), format!("point {label}: {}", read.0)] }
}

fn not_counted(row: &Row) -> Settled {
    if row.plain.is_some() || row.fused.is_empty() {
        return Settled::Plain;
    }
    let readings = row.fused.iter().map(|(label, read)| format!("point {label}: {}", read.0));
    Settled::Undecided { readings: readings.collect() }
}

/// The number of the first row, if numbers that ran into the positions count all rows.
fn fused_from(rows: &[&Row]) -> Option<usize> {
    let first = rows.first()?;
    let counts_all =
        |start: &usize| rows.iter().enumerate().all(|(i, row)| row.fused_as(start + i).is_some());
    let mut starts = first.fused.iter().map(|(number, _)| *number).filter(counts_all);
    let found = starts.next().filter(|_| rows.len() > 1)?;
    starts.next().is_none().then_some(found)
}

/// The name of a point at the end of what stands before it (`Point A:`, `(3)`, `1.`), and where it begins.
pub(super) fn name_before(before: &str) -> Option<(String, usize)> {
    let trimmed = before.trim_end_matches(|one: char| !one.is_alphanumeric());
    let start = trimmed.rfind(|one: char| !one.is_alphanumeric()).map_or(0, |at| {
        at + trimmed.get(at..).and_then(|rest| rest.chars().next()).map_or(1, char::len_utf8)
    });
    let name = trimmed.get(start..)?;
    let lead = trimmed.get(..start)?.to_lowercase();
    let last_word =
        lead.split(|one: char| !one.is_alphabetic()).rfind(|word| !word.is_empty()).unwrap_or_default();
    let is_named = NAMES.contains(&last_word);
    let bracketed = before.get(..start).is_some_and(|lead| lead.ends_with(['(', '[']))
        && before.get(start + name.len()..).is_some_and(|rest| rest.starts_with([')', ']']));
    let begins_line = lead.chars().all(|one| !one.is_alphanumeric());
    let letters = name.chars().filter(|one| one.is_alphabetic()).count();
    let is_short = !name.is_empty() && name.len() <= 4 && letters <= 1;
    (is_short && (is_named || bracketed || begins_line)).then(|| (name.to_owned(), start))
}

/// The doubts of a position, in words.
pub(super) fn doubts(warnings: &[PositionWarning]) -> Vec<String> {
    warnings.iter().map(ToString::to_string).collect()
}
