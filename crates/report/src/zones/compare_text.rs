//! Two editions compared, as text.

use takeline_drafting::editions::Effect;

use super::compare::CompareDocument;
use super::compare_words::counted;
use crate::lines::Page;

/// The headings under which changes stand, what binds more first.
pub(super) const HEADINGS: [(Effect, &str); 4] = [
    (Effect::Stricter, "You may no longer: what became stricter"),
    (Effect::Undecided, "Undecided: read both texts of the law"),
    (Effect::Looser, "What these zones no longer forbid; other rules may"),
    (Effect::Reference, "What else differs"),
];

/// Two editions compared, as text: the first three lines are the answer.
#[must_use]
pub fn compare_text(document: &CompareDocument<'_>, width: usize) -> String {
    let mut page = Page::new(width);
    for line in &document.headline {
        page.paragraph("", line);
    }
    water(document, &mut page);
    for (effect, heading) in HEADINGS {
        let told = document.told(effect);
        if told.is_empty() {
            continue;
        }
        page.heading(heading);
        // what may be done is told whole, however long it is
        let shown = if effect == Effect::Reference { MOST_SHOWN } else { told.len() };
        for (of, text) in told.iter().take(shown) {
            page.paragraph("  ", &format!("{of}: {text}"));
        }
        if told.len() > shown {
            page.paragraph("  ", &more(told.len() - shown, "change", "changes"));
        }
    }
    renamed(document, &mut page);
    page.heading("Editions");
    for (label, files) in [("Old", &document.old), ("New", &document.new)] {
        for file in files {
            let edition =
                file.edition.as_ref().map_or_else(String::new, |edition| format!(", edition {edition}"));
            page.field(label, &format!("{}{edition}, SHA-256 {}", file.path, file.sha256));
        }
    }
    page.field("Alike", &counted(document.unchanged, "zone", "zones"));
    page.heading("Bear in mind");
    page.paragraph("  ", LIMITS);
    for caution in document.words.cautions() {
        page.paragraph("  ", caution);
    }
    page.finish()
}

/// So many names, lines and zones are shown where none of them says what may be done; the JSON has all.
pub(super) const MOST_SHOWN: usize = 200;

/// That there is more, and where.
pub(super) fn more(count: usize, one: &str, many: &str) -> String {
    format!("and {} more, all in the JSON", counted(count, one, many))
}

/// What a comparison does not know.
pub(super) const LIMITS: &str = "Only these files were compared. Whether they say what the law says, and what other law \
                                 says of the same water, is in neither.";

/// The water of all zones together.
fn water(document: &CompareDocument<'_>, page: &mut Page) {
    for line in water_lines(document) {
        page.paragraph("", &line);
    }
}

/// The water of all zones together, line by line; the water that is newly closed is in the headline.
pub(super) fn water_lines(document: &CompareDocument<'_>) -> Vec<String> {
    let figures = [
        ("Not closed by these zones any more", document.no_longer_closed_m2),
        ("Newly in some zone that restricts anything", document.newly_in_a_zone_m2),
        ("In no such zone any more", document.no_longer_in_a_zone_m2),
    ];
    let line = |(label, area_m2): (&str, Option<f64>)| {
        let area_m2 = area_m2.filter(|area_m2| *area_m2 >= 1.0)?;
        Some(format!("{label}: {}", document.words.area(area_m2)))
    };
    let unplaced = document.closed_somewhere.filter(|count| *count > 0).map(|count| {
        let zones = counted(count, "zone that closes water is", "zones that close water are");
        format!("{zones} new or changed, and nobody knows where: that water is in no figure")
    });
    unplaced.into_iter().chain(figures.into_iter().filter_map(line)).collect()
}

fn renamed(document: &CompareDocument<'_>, page: &mut Page) {
    let lines = renamed_lines(document);
    if lines.is_empty() {
        return;
    }
    page.heading("Renamed, split, joined");
    for line in lines.iter().take(MOST_SHOWN) {
        page.paragraph("  ", line);
    }
    if lines.len() > MOST_SHOWN {
        page.paragraph("  ", &more(lines.len() - MOST_SHOWN, "line", "lines"));
    }
}

/// Zones that have another name or id, and those that were split or joined.
pub(super) fn renamed_lines(document: &CompareDocument<'_>) -> Vec<String> {
    let renamed = document.renamed.iter().map(|zone| {
        format!("{} ({}) is now {} ({})", zone.old_name, zone.old_zone_id, zone.name, zone.zone_id)
    });
    let split = document
        .split
        .iter()
        .map(|one| format!("{} was split into {}", one.from.join(", "), one.into.join(", ")));
    let joined = document
        .joined
        .iter()
        .map(|one| format!("{} were joined into {}", one.from.join(", "), one.into.join(", ")));
    renamed.chain(split).chain(joined).collect()
}
