use takeline::transit::{FoundPair, PairQuestion, SidePairs};
use takeline::zone::Zone;

use super::exit::{is_served, serves};
use super::text::{clears_word, not_checked};
use super::words;
use crate::figures;
use crate::here::{TextOptions, bear_in_mind, source};
use crate::lines::Page;

/// What a search for pairs found, with all that an answer has to name.
#[derive(Debug, Clone, Copy)]
pub struct FindReport<'a> {
    /// What was asked.
    pub question: &'a PairQuestion,
    /// The zone to keep out of.
    pub zone: &'a Zone,
    /// The sides of the zone within range, with their pairs, the best first.
    pub sides: &'a [SidePairs],
}

/// Returns the pairs found as plain text, without colour, wrapped.
///
/// The first three lines name the best pair, how it bears and keeps clear, and which sides have none. The wording is for
/// people and may change; scripts read [`super::transit_find_json`].
///
/// # Accuracy
///
/// Distances are rounded to whole metres.
#[must_use]
pub fn transit_find_text(report: &FindReport<'_>, options: &TextOptions) -> String {
    let mut page = Page::new(options.width);
    head(&mut page, report);
    asked(&mut page, report);
    for side in report.sides {
        one_side(&mut page, side);
    }
    not_checked(&mut page, &[]);
    bear_in_mind(&mut page);
    page.finish()
}

fn head(page: &mut Page, report: &FindReport<'_>) {
    let zone = &report.zone.name;
    let Some((side, pair)) = best(report) else {
        page.fitted(&[
            format!("NO PAIR keeps clear of {zone}"),
            "NO PAIR found that keeps clear".into(),
            "NO PAIR found".into(),
        ]);
        page.fitted(&served(report));
        page.fitted(&["Use a fix, or look for other marks".into(), "Use a fix".into()]);
        return;
    };
    let (rear, front) = (&pair.line.rear().name, &pair.line.front().name);
    page.fitted(&[format!("BEST: {rear} over {front}"), format!("{rear} over {front}")]);
    let bearing = bearing(pair);
    let spare = words::along(pair.margin);
    page.fitted(&[
        format!("Bear {bearing}, {spare} to spare, {}", side.side.name),
        format!("{}: {bearing}, {spare} to spare", side.side.name),
        format!("Bear {bearing}, {spare} to spare"),
        format!("Bear {bearing}"),
    ]);
    page.fitted(&served(report));
}

/// The best pair of all sides that surely keeps clear.
fn best<'a>(report: &FindReport<'a>) -> Option<(&'a SidePairs, &'a FoundPair)> {
    let clear = |side: &'a SidePairs| {
        let pair = side.pairs.iter().find(|pair| serves(pair))?;
        Some((side, pair))
    };
    let rank = |pair: &FoundPair| pair.score.whole();
    report.sides.iter().filter_map(clear).max_by(|(_, one), (_, other)| rank(one).total_cmp(&rank(other)))
}

/// Which sides have no pair.
fn served(report: &FindReport<'_>) -> Vec<String> {
    let without: Vec<&str> =
        report.sides.iter().filter(|side| !is_served(side)).map(|side| side.side.name.as_str()).collect();
    let all = report.sides.len();
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

fn asked(page: &mut Page, report: &FindReport<'_>) {
    let question = report.question;
    page.heading("ASKED");
    page.field("zone", &report.zone.name);
    page.field("launch", &figures::position(question.launch));
    page.field("within", &format!("{} of it", words::along(question.range)));
    let (near, far) = (words::along(question.reach.near()), words::along(question.reach.far()));
    page.field("used", &format!("{near} to {far} off the front mark"));
    let (height, threshold) =
        (words::short_length(question.eye.height()), words::minutes_of_arc(question.eye.threshold()));
    page.field("eye", &format!("{height} over the water, sees {threshold} and more"));
    let day = question.day.map_or_else(|| "not given".into(), |day| day.to_string());
    page.field("day", &day);
    source(page, &report.zone.source, &report.zone.file);
}

fn one_side(page: &mut Page, side: &SidePairs) {
    page.heading(&format!("SIDE {}, {}", side.side.name, words::along(side.side.length)));
    if side.pairs.is_empty() {
        page.field("pairs", "none serves it");
    } else if !is_served(side) {
        page.field("pairs", "none surely keeps clear; those below do not serve");
    }
    for (number, pair) in side.pairs.iter().enumerate() {
        one_pair(page, number + 1, pair);
    }
}

fn one_pair(page: &mut Page, number: usize, pair: &FoundPair) {
    let (rear, front) = (&pair.line.rear().name, &pair.line.front().name);
    page.paragraph("  ", &format!("{number}. {rear} over {front}"));
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
    for problem in super::headline::problems(&pair.problems) {
        detail(page, &format!("{}: {}", problem.severity.word(), words::sentence(&problem.text)));
    }
    for because in &pair.because {
        detail(page, &format!("- {}", words::held(because)));
    }
}
