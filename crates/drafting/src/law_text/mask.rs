//! Hides lengths, areas, bearings, counts and datums of a line, so that their digits are not taken for coordinates.

use std::sync::LazyLock;

use regex::Regex;

use super::datums;
use super::number::{is_number_sign, number_at};
use super::patterns::compiled;
use super::units::{area_at, length_at};

/// The first of the characters that stand where something was read that is no coordinate; they are for private use.
const FIRST_TAKEN: u32 = 0xE000;
/// No line holds more of them than this.
const MOST_TAKEN: usize = 1000;

static BEARING: LazyLock<Regex> = LazyLock::new(|| {
    compiled(
        r"(?i)^\d{1,3}(?:\.\d+)?\s*(?:°|º|degrees?|deg\.?)?\s*\(?\s*(?:true|magnetic|grid|t|mag)\b\s*\)?",
    )
});
static BEARING_BEFORE: LazyLock<Regex> = LazyLock::new(|| {
    compiled(
        r"(?i)^(?:bearing(?:\s+(?:of|is))?|thence(?:\s+on)?(?:\s+a\s+bearing\s+of)?)\s+\d{1,3}(?:\.\d+)?\s*(?:°|º|degrees?|deg\.?)\s*(?P<after>\w+|$)",
    )
});
static COUNT: LazyLock<Regex> = LazyLock::new(|| {
    compiled(r"(?i)^\s+(?:\w+\s+){0,2}(?:points|corners|vertices|positions|coordinates|sides)\b")
});

/// A line with a character for private use where something was hidden.
#[derive(Debug, Default)]
pub(super) struct Masked {
    pub(super) text: String,
    taken: Vec<String>,
}

impl Masked {
    /// A text in which nothing is hidden.
    pub(super) const fn plain(text: String) -> Self {
        Self { text, taken: Vec::new() }
    }

    /// A part of the text with everything in its place again.
    pub(super) fn expanded(&self, part: &str) -> String {
        let shown = |one: char| {
            let at = usize::try_from(u32::from(one).checked_sub(FIRST_TAKEN)?).ok()?;
            self.taken.get(at).map(String::as_str)
        };
        let mut text = String::new();
        for one in part.chars() {
            match shown(one) {
                Some(taken) => text.push_str(taken),
                None => text.push(one),
            }
        }
        text
    }
}

/// Hides what is no coordinate.
pub(super) fn masked(line: &str) -> Masked {
    let mut masked = Masked::default();
    let mut at = 0;
    while let Some(first) = line.get(at..).and_then(|rest| rest.chars().next()) {
        let rest = line.get(at..).unwrap_or_default();
        let len =
            hidden(line.get(..at).unwrap_or_default(), rest).filter(|_| masked.taken.len() < MOST_TAKEN);
        if let Some(len) = len {
            let sign =
                u32::try_from(masked.taken.len()).ok().and_then(|count| char::from_u32(FIRST_TAKEN + count));
            masked.text.push(sign.unwrap_or('?'));
            masked.taken.push(rest.get(..len).unwrap_or_default().to_owned());
            at += len;
            continue;
        }
        let is_digit = first.is_ascii_digit();
        let belongs = |one: &char| if is_digit { one.is_ascii_digit() } else { one.is_alphabetic() };
        let token: String = rest.chars().take_while(belongs).collect();
        let token = if token.is_empty() { first.to_string() } else { token };
        masked.text.push_str(&token);
        at += token.len();
    }
    masked
}

/// How much of a text is hidden, if it begins with something to hide.
fn hidden(before: &str, rest: &str) -> Option<usize> {
    let first = rest.chars().next()?;
    if let Some((len, ..)) = datums::named(rest) {
        return Some(len);
    }
    if first.is_alphabetic()
        && let Some(found) = BEARING_BEFORE.captures(rest)
    {
        // a coordinate follows its degrees with minutes or a hemisphere
        let after = found["after"].to_lowercase();
        let is_coordinate = after.starts_with(|next: char| next.is_ascii_digit())
            || matches!(&*after, "n" | "s" | "e" | "w" | "north" | "south" | "east" | "west");
        return (!is_coordinate).then(|| found.name("after").map_or(0, |after| after.start()));
    }
    let is_inside = before.ends_with(|one: char| one.is_alphanumeric());
    let last = before.trim_end().chars().next_back();
    let follows_number = last.is_some_and(|one| is_number_sign(one) || "°º˚∘'′’\"″ø<>?".contains(one))
        || (before.ends_with(['.', ',', '-', '−', '+', '/'])
            && before
                .trim_end_matches(['.', ',', '-', '−', '+', '/'])
                .ends_with(|one: char| one.is_ascii_digit()))
        || before.trim_end().trim_end_matches('.').to_lowercase().ends_with("deg");
    if is_inside
        || !(is_number_sign(first) || matches!(first, '.' | ',') || first.is_alphabetic())
        || follows_number
    {
        return None;
    }
    if let Some(found) = BEARING.find(rest) {
        return Some(found.end());
    }
    let number = number_at(rest)?;
    if let Some((len, ..)) = area_at(rest) {
        return Some(len);
    }
    if let Some((len, _)) = length_at(rest) {
        return Some(len);
    }
    let count = COUNT.find(rest.get(number.len..)?)?;
    Some(number.len + count.end())
}
