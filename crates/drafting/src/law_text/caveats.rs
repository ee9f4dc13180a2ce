//! What the prose says of all the numbers of a text: their form, their hemispheres, where they count from, what a unit means.

use std::sync::LazyLock;

use regex::Regex;

use super::line::{Gap, LawText, Outcome, Piece, PrintedPoint, Role};
use super::patterns::compiled;

/// Parts of a degree that a text says its numbers are printed in.
static PARTS: LazyLock<Regex> = LazyLock::new(|| {
    compiled(
        r"(?:^|[^\d\s]\s*)\b(?P<part>(?i:minutes?|mins?|seconds?|secs?)|D{0,3}[.:°\s-]?MM?[.:′'\s-]?M*S*|DMS|DMM|DDM|D{2,3}MM\w*|SS)\b",
    )
});
/// A form that nothing here reads.
static ODD_FORM: LazyLock<Regex> = LazyLock::new(|| {
    compiled(
        r"(?i)\b(?:decimals\s+of|hundredths?|thousandths?|tenths?\s+of|gons?|grads?|gradians?|radians?|sexagesimal)\b",
    )
});
/// Longitudes that count from a named place.
static PRIME: LazyLock<Regex> = LazyLock::new(|| {
    compiled(
        r"(?i:\blongitudes?\b)[^.;]{0,30}\b(?i:from)\s+(?i:the\s+)?(?i:meridian\s+of\s+)?(?P<name>[A-Z]\w+)|\b(?P<other>[A-Z]\w+)\s+(?i:prime\s+)?meridian\b|(?i:\bmeridian\s+of)\s+(?P<third>[A-Z]\w+)",
    )
});
/// A text that says what a unit means.
static DEFINITION: LazyLock<Regex> = LazyLock::new(|| {
    compiled(
        r"(?i)\b(?:miles?|cables?|fathoms?|leagues?|met(?:re|er)s?|feet|foot|yards?|hectares?|degrees?|minutes?)\b[”’”\x22']?\s+(?:means?|equals?|shall\s+mean|is\s+to\s+be|is\s+taken|is\s+\d|are\s+\d)",
    )
});
static SOUTH: LazyLock<Regex> = LazyLock::new(|| {
    compiled(
        r"(?i)\blat\w*\b\W{0,3}(?:\w+\W+){0,4}?(?:s|south(?:ern)?)\b|\bsouth(?:ern)?\s+lat|\bsouthern\s+hemisphere",
    )
});
static WEST: LazyLock<Regex> = LazyLock::new(|| {
    compiled(
        r"(?i)\blon\w*\b\W{0,3}(?:\w+\W+){0,4}?(?:w|west(?:ern)?)\b|\bwest(?:ern)?\s+lon|\bwestern\s+hemisphere",
    )
});
/// Words by which a position is no centre although a radius stands beside it.
static NO_CENTRE: LazyLock<Regex> =
    LazyLock::new(|| compiled(r"(?i)\b(?:lines?|commencing|beginning|begins|starting|out)\b"));

/// Refuses each line that says of the numbers something else than what was read.
pub(super) fn heed(read: &mut LawText) {
    let points: Vec<PrintedPoint> = read.pieces.iter().filter_map(Piece::point).cloned().collect();
    let bare =
        |one: &&PrintedPoint| !one.text.chars().any(|sign| sign.is_alphabetic() || "-−–+".contains(sign));
    let is_bare = points.iter().any(|one| bare(&one));
    let is_round = points.iter().any(|one| one.role == Role::Centre) && points.len() == 1;
    let rows: Vec<usize> = points.iter().map(|point| point.line).collect();
    for line in &mut read.lines {
        if line.outcome.is_refused() || points.is_empty() {
            continue;
        }
        let text = line.text.as_str();
        let is_row = rows.contains(&line.number);
        let found = (!is_row)
            .then(|| form(text, &points).or_else(|| hemisphere(text, is_bare)))
            .flatten()
            .map(|words| (words, Gap::Number))
            .or_else(|| prime(text).map(|words| (words, Gap::Number)))
            .or_else(|| definition(text).map(|words| (words, Gap::Number)))
            .or_else(|| {
                let word = NO_CENTRE.find(text).filter(|_| is_round)?;
                let is_set_out = text.get(..word.start())?.trim_end().ends_with("set");
                (!is_set_out).then(|| (word.as_str().to_owned(), Gap::Shape))
            });
        if let Some((words, gap)) = found {
            line.outcome = Outcome::NotUnderstood { words, gap };
        }
    }
}

/// A form that the text names, where a position is printed in another.
fn form(text: &str, points: &[PrintedPoint]) -> Option<String> {
    if let Some(odd) = ODD_FORM.find(text) {
        return Some(odd.as_str().to_owned());
    }
    let parts: Vec<String> = PARTS
        .captures_iter(text)
        .map(|found| found["part"].to_owned())
        .filter(|part| part.len() > 1)
        .collect();
    let has_seconds = |part: &String| part.to_lowercase().starts_with("sec") || part.contains('S');
    let stated = if parts.iter().any(has_seconds) { 3 } else { 2 };
    let differs = points.iter().any(|point| numbers(&point.text) != 2 * stated);
    (!parts.is_empty() && differs).then(|| parts.join(", "))
}

fn numbers(text: &str) -> usize {
    let text = text.replace("., ", " ");
    text.split(|one: char| !one.is_ascii_digit() && one != '.')
        .filter(|part| part.chars().any(|one| one.is_ascii_digit()))
        .count()
}

/// A hemisphere that the text names and the positions, which have none, were not read with.
fn hemisphere(text: &str, is_bare: bool) -> Option<String> {
    if !is_bare || text.chars().any(|one| one.is_ascii_digit()) {
        return None;
    }
    SOUTH.find(text).or_else(|| WEST.find(text)).map(|found| found.as_str().to_owned())
}

fn prime(text: &str) -> Option<String> {
    let found = PRIME.captures(text)?;
    let name = found.name("name").or_else(|| found.name("other")).or_else(|| found.name("third"))?;
    let is_plain = matches!(name.as_str(), "Greenwich" | "The" | "Point" | "A" | "Prime");
    (!is_plain).then(|| found.get(0).map_or("", |whole| whole.as_str()).to_owned())
}

fn definition(text: &str) -> Option<String> {
    let found = DEFINITION.find(text)?;
    let is_usual = text.contains("1,852") || text.contains("1852");
    (!is_usual).then(|| found.as_str().to_owned())
}
