//! The text of `here`, as the document has it, laid out.

use super::HereDocument;
use super::headline::{HeadLine, Room};
use super::sections::write;
use crate::lines::{NARROWEST, Page, fit, sanitised};
use crate::words::{FieldPhrase, Label, Rest};

/// Returns the answer as plain text, without colour, wrapped to so many columns; fewer than 20 count as 20.
///
/// The first three lines answer "may I keep it, how sure, why"; where something is undecided, what settles it is among
/// them. The rest gives the fish, the zones that bind first, doubt, sources, warnings and cautions. The wording is for
/// people and may change; scripts read what the document serialises to.
///
/// # Accuracy
///
/// Distances are rounded to whole metres and to two digits of their doubt.
#[must_use]
pub fn here_text(document: &HereDocument<'_>, width: usize) -> String {
    let mut page = Page::new(width);
    for line in document.headline(Room { width: width.max(NARROWEST), rest: Rest::Below, may_wrap: true }) {
        match line {
            HeadLine::Fitted(line) => page.fitted(&[line]),
            HeadLine::Wrapped(text) => page.paragraph("", &text),
        }
    }
    body(&mut page, document);
    write(&mut page, &document.cautions_section());
    page.finish()
}

/// Returns the first lines of the answer alone: what, why, and what settles it or warns of it. Three lines at most, none of them
/// wider than so many columns; fewer than 20 count as 20.
///
/// Names are cut where a line has no room for them; answers, reasons and figures are not.
///
/// # Accuracy
///
/// As of [`here_text`].
#[must_use]
pub fn here_brief(document: &HereDocument<'_>, width: usize) -> String {
    let mut page = Page::new(width);
    for line in document.brief(width.max(NARROWEST)) {
        page.fitted(&[line]);
    }
    page.finish()
}

/// Writes what stands between the first three lines and the cautions.
pub(crate) fn body(page: &mut Page, document: &HereDocument<'_>) {
    for section in document.sections() {
        write(page, &section);
    }
}

/// Returns the answer in one line without its end, for a batch: the row, the water, the fish, how sure, the zone.
#[must_use]
pub fn here_row_text(document: &HereDocument<'_>) -> String {
    let words = document.words();
    let whole = |candidates: Vec<String>| fit(usize::MAX, &candidates);
    let labelled = |label, value: &str| format!("{}: {value}", words.label(label));
    let mut parts = vec![whole(document.verdict())];
    if !document.take.is_empty() {
        parts.push(whole(document.fish(Room { width: usize::MAX, rest: Rest::InFull, may_wrap: false })));
    }
    parts.push(whole(document.measure()));
    parts.extend(document.deciding_zone().map(|zone| sanitised(zone.name).into_owned()));
    parts.extend(document.settling_move.map(|way| labelled(Label::ToSettle, &document.move_words(way))));
    let standoff = document.standoff.as_ref();
    parts.extend(standoff.map(|standoff| labelled(Label::StandoffKept, &words.answer(standoff.kept))));
    let row = parts.join("; ");
    document.row.map_or_else(|| row.clone(), |number| words.field(&FieldPhrase::Row(number, &row)))
}
