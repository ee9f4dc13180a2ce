//! Which characters of a line make coordinates, and what each stretch of them says.

use takeline::{Latitude, Longitude, ParsePositionError, ParsedPosition, Position};

/// A stretch of numbers, marks and hemispheres in a line.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Run {
    /// Where it begins in its line, and where it ends.
    pub(super) start: usize,
    pub(super) end: usize,
    /// The run.
    pub(super) text: String,
}

/// A position with the text that gives it.
pub(super) type Read = (String, ParsedPosition);

/// One or two coordinates, or more.
#[derive(Debug, Clone)]
pub(super) enum Found {
    /// Whole positions.
    Positions(Vec<Read>),
    /// One latitude (`true`) or longitude, which needs the other.
    Single { latitude: bool, text: String },
    /// Numbers that look like no coordinate.
    Numbers,
    /// It looks like coordinates and is not read.
    Refused(ParsePositionError),
    /// The same under a heading, and why.
    Unfit(String),
}

/// Words that may stand in a coordinate.
const WORDS: [&str; 27] = [
    "n",
    "s",
    "e",
    "w",
    "north",
    "south",
    "east",
    "west",
    "lat",
    "latitude",
    "lon",
    "long",
    "lng",
    "longitude",
    "d",
    "deg",
    "degree",
    "degrees",
    "m",
    "min",
    "minute",
    "minutes",
    "sec",
    "second",
    "seconds",
    "mins",
    "secs",
];

fn is_hemisphere(word: &str) -> bool {
    matches!(word, "n" | "s" | "e" | "w" | "north" | "south" | "east" | "west")
}

/// Cuts a line into its runs.
pub(super) fn runs(line: &str) -> Vec<Run> {
    let mut found = Vec::new();
    let (mut start, mut at) = (0, 0);
    while let Some(first) = line.get(at..).and_then(|rest| rest.chars().next()) {
        let rest = line.get(at..).unwrap_or_default();
        let run = line.get(start..at).unwrap_or_default();
        let word: String = rest.chars().take_while(|one| one.is_alphabetic() && !is_mark(*one)).collect();
        let piece = if word.is_empty() { first.to_string() } else { word };
        let belongs = if piece.chars().all(char::is_alphabetic) && !is_mark(first) {
            let word = piece.to_lowercase();
            let is_begun = run.chars().any(|one| one.is_ascii_digit());
            // a D before the numbers is the name of a point
            let is_glued = run.ends_with(|one: char| one.is_ascii_digit());
            (WORDS.contains(&&*word) || (is_glued && belongs_glued(&word)))
                && (is_begun || is_hemisphere(&word) || word.starts_with('l'))
        } else {
            first.is_ascii_digit() || first == ' ' || is_mark(first) || is_separator(first)
        };
        at += piece.len();
        if !belongs {
            found.extend(closed(run, start));
            start = at;
        }
    }
    found.extend(closed(line.get(start..).unwrap_or_default(), start));
    found
}

/// A run without the marks about it; none if it has no digit.
fn closed(run: &str, start: usize) -> Option<Run> {
    let text = run.trim_start().trim_start_matches([',', ';', ':', '/', '.', ' ']);
    let start = start + run.len() - text.len();
    let text = text.trim_end().trim_end_matches([',', ';', ':', '/', ' ', '-', '–', '−']).trim_end();
    // a quotation mark behind a word ends the quotation
    let unquoted = text.trim_end_matches(['"', '”', '’', '\'']);
    let text =
        if unquoted.ends_with(|one: char| one.is_alphabetic() || one == '.') { unquoted } else { text };
    let has_digit = text.chars().any(|one| one.is_ascii_digit());
    has_digit.then(|| Run { start, end: start + text.len(), text: text.to_owned() })
}

/// A mark word with a hemisphere glued to it.
fn belongs_glued(word: &str) -> bool {
    word.get(..word.len() - 1).is_some_and(|stem| {
        let is_mark_word = matches!(stem, "d" | "deg" | "m" | "min" | "s" | "sec");
        is_mark_word && word.ends_with(['n', 's', 'e', 'w'])
    })
}

fn is_mark(one: char) -> bool {
    "°º˚∘ø<>Â?\u{FFFD}'′’‘`´ʹʼ\"″”“ʺ".contains(one)
}

fn is_separator(one: char) -> bool {
    ",;:/.-−–‐‑+\u{a0}".contains(one)
}

/// Reads a run: whole positions, one coordinate, plain numbers, or nothing that is sure.
pub(super) fn read(run: &str) -> Found {
    let error = match Position::parse(run) {
        Ok(parsed) => return Found::Positions(vec![(run.to_owned(), parsed)]),
        Err(error) => error,
    };
    if !looks_like_coordinates(run) {
        return Found::Numbers;
    }
    match single(run) {
        Some(latitude) => return Found::Single { latitude, text: run.to_owned() },
        None => {
            if let Some(positions) = several(run) {
                return Found::Positions(positions);
            }
        }
    }
    Found::Refused(error)
}

/// Whether one coordinate is a latitude (`true`) or a longitude by its letters; none if it is not one.
pub(super) fn single(text: &str) -> Option<bool> {
    let words = || text.split(|one: char| !one.is_alphabetic()).map(str::to_lowercase);
    let is_latitude = words().any(|word| {
        matches!(word.trim_start_matches(['d', 'm']), "n" | "s" | "north" | "south" | "lat" | "latitude")
    });
    let is_longitude = words().any(|word| {
        matches!(
            word.trim_start_matches(['d', 'm']),
            "e" | "w" | "east" | "west" | "lon" | "long" | "longitude"
        )
    });
    match (is_latitude, is_longitude) {
        (true, false) if Latitude::parse(text).is_ok() => Some(true),
        (false, true) if Longitude::parse(text).is_ok() => Some(false),
        _ => None,
    }
}

/// Several numbers, one with decimals, or four and more: a row, whatever words stand beside it.
pub(super) fn is_row_of_numbers(run: &str) -> bool {
    let numbers = run.split(|one: char| !one.is_ascii_digit() && one != '.');
    let count = numbers.filter(|part| part.chars().any(|one| one.is_ascii_digit())).count();
    count >= 4 || (count >= 2 && run.contains('.') && run.trim_end_matches('.').contains('.'))
}

/// Marks, hemispheres, decimals or several numbers: more than the number of a page or a year.
pub(super) fn looks_like_coordinates(run: &str) -> bool {
    let numbers: Vec<&str> = run
        .split(|one: char| !one.is_ascii_digit() && one != '.')
        .filter(|part| part.chars().any(|one| one.is_ascii_digit()))
        .collect();
    let has_mark = run.chars().any(is_mark);
    let has_word =
        run.split(|one: char| !one.is_alphabetic()).any(|word| is_hemisphere(&word.to_lowercase()));
    let decimals = |number: &&str| number.split_once('.').is_some_and(|(_, after)| after.len() >= 3);
    let is_reference = numbers.len() == 2 && run.chars().all(|one| one.is_ascii_digit() || one == '/');
    has_mark || has_word || (numbers.len() > 1 && !is_reference) || numbers.iter().any(decimals)
}

/// Positions that follow each other without a word between: cut after the hemispheres, or before them.
fn several(run: &str) -> Option<Vec<Read>> {
    let by_letter = [true, false].into_iter().filter_map(|after| positions(&coordinates(run, after)?));
    let mut found: Vec<Vec<Read>> = by_letter.collect();
    // letters before and letters after may both read: then nobody knows
    if found.len() == 1 { found.pop() } else { None }
}

/// The coordinates of a run, each with its letter after or before it.
fn coordinates(run: &str, letter_after: bool) -> Option<Vec<String>> {
    let mut cuts = Vec::new();
    let mut at = 0;
    while let Some(one) = run.get(at..).and_then(|rest| rest.chars().next()) {
        let word: String = run.get(at..)?.chars().take_while(char::is_ascii_alphabetic).collect();
        let lower = word.to_lowercase();
        let is_axis = lower.starts_with("lat") || lower.starts_with("lon");
        if is_hemisphere(&lower) || is_axis {
            let end = at + word.len();
            match cuts.last_mut() {
                // an axis word belongs to the letter beside it
                Some(last)
                    if letter_after
                        && run
                            .get(*last..at)
                            .is_some_and(|gap| !gap.chars().any(|one| one.is_ascii_digit())) =>
                {
                    *last = end;
                }
                Some(last)
                    if !letter_after
                        && run
                            .get(*last..at)
                            .is_some_and(|gap| !gap.chars().any(|one| one.is_ascii_digit())) => {}
                _ => cuts.push(if letter_after { end } else { at }),
            }
        }
        at += word.len().max(one.len_utf8());
    }
    let mut pieces = Vec::new();
    let mut from = 0;
    for cut in cuts.into_iter().chain([run.len()]) {
        let piece = run.get(from..cut)?.trim_matches(|one: char| ",;:/. ".contains(one));
        if !piece.is_empty() {
            pieces.push(piece.to_owned());
        }
        from = cut;
    }
    Some(pieces)
}

/// Latitudes and longitudes by turns; none if any piece is something else.
fn positions(pieces: &[String]) -> Option<Vec<Read>> {
    if pieces.len() < 4 || !pieces.len().is_multiple_of(2) {
        return None;
    }
    pieces.chunks_exact(2).map(|pair| together(&pair[0], &pair[1]).and_then(Result::ok)).collect()
}

/// A latitude and a longitude as one position, in either order by their letters.
pub(super) fn together(one: &str, other: &str) -> Option<Result<Read, ParsePositionError>> {
    (single(one)? != single(other)?).then(|| {
        let text = format!("{one}, {other}");
        Position::parse(&text).map(|parsed| (text, parsed))
    })
}
