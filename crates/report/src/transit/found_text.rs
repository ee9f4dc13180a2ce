use takeline::transit::FoundPair;

use super::found_document::{FindDocument, FoundPairDocument, FoundSideDocument};
use super::text::{clears_word, not_checked};
use super::words;
use crate::figures;
use crate::here::{bear_in_mind, source};
use crate::lines::Page;

/// Returns the pairs found as plain text, without colour, wrapped.
///
/// The first three lines name the best pair, how it bears and keeps clear, and which sides have none. The wording is for
/// people and may change; scripts read the document.
///
/// # Accuracy
///
/// Distances are rounded to whole metres.
#[must_use]
pub fn transit_find_text(document: &FindDocument<'_>, width: usize) -> String {
    let mut page = Page::new(width);
    head(&mut page, document);
    asked(&mut page, document);
    for side in &document.sides {
        one_side(&mut page, side);
    }
    not_checked(&mut page, &[]);
    bear_in_mind(&mut page);
    page.finish()
}

fn head(page: &mut Page, document: &FindDocument<'_>) {
    let zone = document.zone.name;
    let Some((side, pair)) = best(document) else {
        page.fitted(&[
            format!("NO PAIR keeps clear of {zone}"),
            "NO PAIR found that keeps clear".into(),
            "NO PAIR found".into(),
        ]);
        page.fitted(&served(document));
        page.fitted(&["Use a fix, or look for other marks".into(), "Use a fix".into()]);
        return;
    };
    let (rear, front) = (&pair.line.rear().name, &pair.line.front().name);
    page.fitted(&[format!("BEST: {rear} over {front}"), format!("{rear} over {front}")]);
    let bearing = bearing(pair);
    let spare = words::along(pair.margin);
    page.fitted(&[
        format!("Bear {bearing}, {spare} to spare, {}", side.name),
        format!("{}: {bearing}, {spare} to spare", side.name),
        format!("Bear {bearing}, {spare} to spare"),
        format!("Bear {bearing}"),
    ]);
    page.fitted(&served(document));
}

/// The best pair of all sides that surely keeps clear.
fn best<'d>(document: &'d FindDocument<'_>) -> Option<(&'d FoundSideDocument<'d>, &'d FoundPair)> {
    let clear = |side: &'d FoundSideDocument<'_>| {
        let pair = side.pairs.iter().find(|pair| pair.serves())?;
        Some((side, pair.found))
    };
    let rank = |pair: &FoundPair| pair.score.whole();
    document.sides.iter().filter_map(clear).max_by(|(_, one), (_, other)| rank(one).total_cmp(&rank(other)))
}

/// Which sides have no pair.
fn served(document: &FindDocument<'_>) -> Vec<String> {
    let without = document.sides.iter().filter(|side| !side.is_served());
    let without: Vec<&str> = without.map(|side| side.name.as_str()).collect();
    let all = document.sides.len();
    match (all, without.len()) {
        (0, _) => vec!["No side of the zone is within range".into(), "No side in range".into()],
        (1, 0) => vec!["The side within range has a pair".into(), "It has a pair".into()],
        (_, 0) => vec![format!("All {all} sides within range have one"), format!("All {all} have one")],
        (_, few) => vec![
            format!("NO pair for the {}", without.join(", the ")),
            format!("{few} of {all} sides have NO pair"),
            format!("{few} of {all}: NO pair"),
        ],
    }
}

fn bearing(pair: &FoundPair) -> takeline::TrueBearing {
    pair.line.bearing_at(pair.stretch.middle())
}

fn asked(page: &mut Page, document: &FindDocument<'_>) {
    let (question, zone) = (document.question, document.in_zone);
    page.heading("ASKED");
    page.field("zone", &zone.name);
    page.field("launch", &figures::position(question.launch));
    page.field("within", &format!("{} of it", words::along(question.range)));
    let (near, far) = (words::along(question.reach.near()), words::along(question.reach.far()));
    page.field("used", &format!("{near} to {far} off the front mark"));
    let (height, threshold) =
        (words::short_length(question.eye.height()), words::minutes_of_arc(question.eye.threshold()));
    page.field("eye", &format!("{height} over the water, sees {threshold} and more"));
    let day = question.day.map_or_else(|| "not given".into(), |day| day.to_string());
    page.field("day", &day);
    source(page, &zone.source, &zone.file);
}

fn one_side(page: &mut Page, side: &FoundSideDocument<'_>) {
    page.heading(&format!("SIDE {}, {}", side.name, words::along(side.found.side.length)));
    if side.pairs.is_empty() {
        page.field("pairs", "none serves it");
    } else if !side.is_served() {
        page.field("pairs", "none surely keeps clear; those below do not serve");
    }
    for pair in &side.pairs {
        one_pair(page, pair);
    }
}

fn one_pair(page: &mut Page, document: &FoundPairDocument<'_>) {
    let pair = document.found;
    let (rear, front) = (&pair.line.rear().name, &pair.line.front().name);
    page.paragraph("  ", &format!("{}. {rear} over {front}", document.rank));
    let detail = |page: &mut Page, text: &str| page.paragraph("    ", text);
    let margin = words::along(pair.margin);
    let spare =
        if pair.margin.metres() < 0.0 { format!("short by {margin}") } else { format!("{margin} to spare") };
    let margin = format!("{}: {spare}", clears_word(pair.clears));
    detail(page, &margin);
    detail(page, &format!("bears {}, marks {} apart", bearing(pair), words::along(pair.line.separation())));
    let (near, far) = (words::along(pair.stretch.near()), words::along(pair.stretch.far()));
    detail(page, &format!("used {near} to {far} off the front mark"));
    if let Some(inside) = pair.inside {
        detail(page, &format!("inside: the rear mark shows {}", words::loud(inside)));
    }
    for problem in super::headline::problems(&document.problems) {
        detail(page, &format!("{}: {}", problem.severity_word, problem.sentence()));
    }
    for because in &document.because {
        detail(page, &format!("- {}", words::held(because)));
    }
}
