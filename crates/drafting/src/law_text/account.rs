//! Holds a whole text to account: from the first row to the last every word is understood, cannot matter, or is told.

use std::sync::LazyLock;

use regex::Regex;

use super::line::{Gap, Line, Outcome};
use super::patterns::compiled;
use super::phrases::LeftOver;
use super::vocabulary::{Class, classed};

/// What one line left over, and what else has to be known of it.
#[derive(Debug, Default)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is one thing that may be so of a line, and several may be"
)]
pub(super) struct LineAccount {
    /// It holds a position, a coordinate or a bound.
    pub(super) has_place: bool,
    /// It says something of a side or a shape.
    pub(super) has_side: bool,
    /// It says where a side goes: “thence”, “to the point of beginning”.
    pub(super) leads_on: bool,
    /// A side begins in it: “thence”.
    pub(super) has_leg: bool,
    pub(super) is_heading: bool,
    /// Positions that follow another with neither a word nor a name between.
    pub(super) beside: usize,
    /// What stands before the first position of the text.
    pub(super) ahead_text: String,
    /// What is left over of it.
    pub(super) ahead: Vec<LeftOver>,
    /// What is left over behind it.
    pub(super) behind: Vec<LeftOver>,
}

/// Words of headings and prose by which the shape is another than the list of corners.
static PROSE: LazyLock<Regex> = LazyLock::new(|| {
    compiled(concat!(
        r"(?i)\b(?:",
        r"(?:north|south|east|west)\w*(?:[\s-]+(?:north|south|east|west)\w*)?\s+(?:side\s+)?of\b",
        r"|not\b[^.;]{0,30}\b(?:part|included?|form|rhumb|geodesics?|straight|boundary|limits?|area|zone|line)\b",
        r"|as\s+well\s+as|other\s+than|apart\s+from|save\s+(?:for|the|that)|less\s+(?:the|any|that)|but\s+(?:not|for)",
        r"|(?:two|three|four|five|six|both|several|each\s+of(?:\s+the)?|these|following|\d+)\s+(?:separate\s+|marine\s+|closed\s+)?(?:areas|zones|parts|sites|polygons|parcels|blocks)",
        r"|(?:first|second|third|further|another|other)\s+(?:area|zone|part|site|parcel|circle|polygon|block)",
        r"|and\s+(?:of\s+)?(?:the\s+)?(?:area|waters|part|zone|sea)\b|(?:the|an?|all)\s+(?:area|waters|zone|sea|part)\s+(?:within|between|bounded|enclosed|inside|lying)",
        r"|(?:the|mean|high|low|ordinary|its)\s+(?:shore|coast|beach|bank|(?:high|low)\s+water|shoreline|coastline|cliffs?|mainland|land)",
        r"|(?:half|halves|quarter|portion|remainder|part|side)\s+of|(?:either|each|both|left|right|other|opposite)\s+(?:hand\s+)?sides?",
        r"|(?:is|are|as)\s+amended|clockwise|reverse\s+order|[A-Z]{2}\s?\d{3,5}\s\d{3,5}",
        r")\b"
    ))
});
/// Prose that opens the only area of a text: what stands before its first row.
static OPENING: LazyLock<Regex> = LazyLock::new(|| {
    compiled(
        r"(?i)^(?:the|an?|all)\s+(?:area|waters|zone|sea|part)\s+(?:within|bounded|enclosed|inside|lying)$",
    )
});

/// Decides what comes of each line by what it left over.
pub(super) fn settle(lines: &mut [Line], accounts: &[LineAccount], next_name: Option<&str>) {
    let places = || accounts.iter().enumerate().filter(|(_, account)| account.has_place).map(|(at, _)| at);
    let (Some(first), Some(last_place)) = (places().next(), places().next_back()) else { return };
    let leads_on = |(_, account): &(usize, &LineAccount)| account.leads_on;
    let last = accounts.iter().enumerate().rfind(leads_on).map_or(last_place, |(at, _)| at.max(last_place));
    two_lists(lines, accounts);
    let sentence = sentence(lines, (first, last));
    let title = lines.iter().position(|line| !line.text.trim().is_empty());
    for (at, (line, account)) in lines.iter_mut().zip(accounts).enumerate() {
        if line.outcome.is_refused() {
            continue;
        }
        let gap = if (first..=last).contains(&at) {
            within(account, at == first)
        } else {
            apart(line, account, (at < first, sentence.contains(&at)))
                .or_else(|| lost(line, next_name.filter(|_| at > last_place)))
        };
        if let Some((words, gap)) = gap {
            line.outcome = Outcome::NotUnderstood { words, gap };
        } else if (first..=last).contains(&at) {
            let words = account.ahead.iter().chain(&account.behind).filter(|left| left.class == Class::Word);
            line.unknown = words.map(|left| left.text.clone()).collect();
        } else if !(title == Some(at) && is_title(&line.text)) {
            let is_told = |left: &&LeftOver| match left.class {
                Class::Harmless => false,
                Class::Area => at > last && line.outcome == Outcome::Words,
                Class::Shape | Class::Outline | Class::Number | Class::Place | Class::Word => {
                    !(account.is_heading && is_of_heading(&left.text))
                }
            };
            let words = account.ahead.iter().chain(&account.behind).filter(is_told);
            line.unknown = words.map(|left| left.text.clone()).collect();
        }
    }
}

/// Two positions in every row are two lists side by side.
fn two_lists(lines: &mut [Line], accounts: &[LineAccount]) {
    let rows = || accounts.iter().filter(|account| account.has_place);
    if rows().count() < 2 || !rows().all(|account| account.beside > 0) {
        return;
    }
    for (line, _) in lines.iter_mut().zip(accounts).filter(|(_, account)| account.has_place) {
        if !line.outcome.is_refused() {
            let words = line.text.trim().chars().take(60).collect();
            line.outcome = Outcome::NotUnderstood { words, gap: Gap::Another };
        }
    }
}

/// The lines of the sentence in which the list stands: from the last full stop before it to the first behind it.
fn sentence(lines: &[Line], (first, last): (usize, usize)) -> std::ops::RangeInclusive<usize> {
    let ends = |line: &Line| line.text.trim_end().ends_with(['.', '!', '?']);
    let ahead = lines.iter().take(first).rposition(ends).map_or(0, |at| at + 1);
    let is_end = |line: &Line| ends(line) || line.text.trim().is_empty();
    let behind = lines.iter().skip(last).position(is_end).map_or(last, |at| last + at);
    ahead..=behind
}

/// Whether a first line is a title and nothing else: names in capitals, and no word that could open a list.
fn is_title(text: &str) -> bool {
    let mut words = text
        .split(|one: char| !one.is_alphanumeric() && one != '\'' && one != '’')
        .filter(|word| !word.is_empty());
    let is_name = |word: &str| {
        let is_small = matches!(word, "of" | "the" | "and" | "for" | "a" | "an");
        let opens = matches!(
            word.to_lowercase().as_str(),
            "from" | "line" | "lines" | "joining" | "within" | "by" | "in" | "all" | "to" | "is" | "are"
        );
        let is_plain = matches!(classed(word), Class::Word | Class::Harmless | Class::Area | Class::Number);
        is_small
            || (word.starts_with(char::is_uppercase) || word.chars().all(|one| one.is_ascii_digit()))
                && is_plain
                && !opens
    };
    let ends = text.trim_end();
    words.all(is_name) && !ends.ends_with(['.', ':', ',', ';', '-', '–', '—'])
}

fn is_of_heading(word: &str) -> bool {
    matches!(word.to_lowercase().as_str(), "name" | "station" | "description" | "id" | "ref" | "label")
}

fn gap_of(class: Class, is_behind: bool) -> Option<Gap> {
    match class {
        Class::Number => Some(Gap::Number),
        Class::Shape | Class::Outline => Some(Gap::Shape),
        Class::Place => Some(Gap::Corner),
        Class::Area if is_behind => Some(Gap::Another),
        Class::Area | Class::Harmless | Class::Word => None,
    }
}

/// A line of the list.
fn within(account: &LineAccount, is_first: bool) -> Option<(String, Gap)> {
    let ahead = account.ahead.iter().map(|left| (left, !is_first));
    let all = || ahead.clone().chain(account.behind.iter().map(|left| (left, true)));
    let told = all().find_map(|(left, is_behind)| Some((left.text.clone(), gap_of(left.class, is_behind)?)));
    told.or_else(|| prose(&account.ahead_text, true)).or_else(|| {
        if account.is_heading && !is_first {
            return Some(("latitude, longitude".to_owned(), Gap::Another));
        }
        let words: Vec<&str> =
            all().filter(|(left, _)| left.class == Class::Word).map(|(left, _)| left.text.as_str()).collect();
        let is_between = !account.has_place && !words.is_empty();
        is_between.then(|| (words.join(" "), if account.leads_on { Gap::Corner } else { Gap::Between }))
    })
}

/// A line before or behind the list.
fn apart(line: &Line, account: &LineAccount, (is_before, is_of_list): (bool, bool)) -> Option<(String, Gap)> {
    let left = || account.ahead.iter().chain(&account.behind);
    let strict = account.has_side || is_of_list;
    let word = left().find(|left| {
        matches!(left.class, Class::Outline | Class::Place)
            || (strict && matches!(left.class, Class::Shape))
            || (account.has_side && matches!(left.class, Class::Word | Class::Number))
    });
    if let Some(left) = word {
        return Some((left.text.clone(), gap_of(left.class, true).unwrap_or(Gap::Shape)));
    }
    if is_before && account.has_leg {
        return Some((line.text.trim().chars().take(60).collect(), Gap::Corner));
    }
    prose(&line.text, is_before)
}

fn prose(text: &str, is_before: bool) -> Option<(String, Gap)> {
    let found = PROSE.find_iter(text).find(|found| !(is_before && OPENING.is_match(found.as_str())))?;
    Some((found.as_str().to_owned(), Gap::Shape))
}

/// A line behind the list that begins with the name that the next corner would have.
fn lost(line: &Line, next_name: Option<&str>) -> Option<(String, Gap)> {
    let name = next_name?;
    let text = line.text.trim_start().trim_start_matches(['(', '[']);
    let rest = text.strip_prefix("Point ").unwrap_or(text).strip_prefix(name)?;
    let is_name = rest.starts_with(|one: char| one.is_whitespace() || ".:)]|".contains(one));
    // a single letter may begin a sentence: “A person …” follows no point Z
    is_name.then(|| (line.text.trim().chars().take(60).collect(), Gap::Corner))
}
