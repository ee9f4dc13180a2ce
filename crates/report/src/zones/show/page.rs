//! A zone file as one page to be laid beside the law's page, ticked off by two readers, and printed.

use maud::{DOCTYPE, Markup, html};
use takeline::coast::Coast;
use takeline::zone::Zone;

use super::document::{ShowDocument, ShownVertexDocument, ShownZoneDocument};
use super::map::{self, Neighbourhood};
use super::text::{
    DIGEST, Written, bearings, circle_words, facts, file_facts, ring_name, rule_parts, runs, what,
};
use crate::drawing::{COLOURS, DRAWING_STYLE};
use crate::html_page;
use crate::lines::sanitised;
use crate::survey_figures::{Notation, lengths};
use crate::track_page::PAGE_STYLE;
use crate::words::Spoken;
use crate::written;

/// More zones than these do not go on one page: choose some by their ids.
pub const MOST_ZONES_ON_A_PAGE: usize = 60;
/// Corners of a zone that its table has; nobody reads more aloud.
const MOST_ROWS: usize = 300;
const STYLE: &str = include_str!("show.css");
/// Nothing is fetched, and no script runs.
const CONTENT_POLICY: &str =
    "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";

/// The file as one self-contained page: for each zone a map, its corners and sides with boxes for two readers, its rule in
/// sentences, and what is to be looked up still.
///
/// `all` are the zones of the file, which are drawn as neighbours; `notation` as in [`super::show_text`]. It fetches nothing, and
/// is the same bytes for the same document. Of a zone with many corners the table has the first 300, and says so.
///
/// # Accuracy
///
/// Lengths to 0.1 m, bearings to 0.01°, positions to 2 cm, so that what the law prints can be told from a slip. The map is a
/// local projection.
#[must_use]
pub fn show_page(
    document: &ShowDocument<'_>,
    all: &[Zone],
    coasts: &[Coast],
    notation: Option<Notation>,
) -> String {
    let file = &document.zone_file;
    let title = format!("To be read against the law: {}", file.title.unwrap_or(file.path));
    let neighbourhood = Neighbourhood::of(all);
    let page = html! {
        (DOCTYPE)
        html lang="en-GB" {
            (html_page::head(&sanitised(&title), CONTENT_POLICY, &[COLOURS, PAGE_STYLE[0], DRAWING_STYLE, PAGE_STYLE[1], STYLE]))
            body .show {
                main {
                    h1 { (sanitised(&title)) }
                    (file_section(document))
                    (how_to_read())
                    @for (number, zone) in document.zones.iter().enumerate() {
                        (zone_section((number, zone), &neighbourhood, coasts, (notation, document.words)))
                    }
                    section {
                        h2 { "Bear in mind" }
                        ul { @for caution in document.words.cautions() { li { (caution) } } }
                    }
                }
            }
        }
    };
    written::markup(page.into_string())
}

fn file_section(document: &ShowDocument<'_>) -> Markup {
    html! {
        dl .facts {
            @for (label, text) in file_facts(document) {
                div { dt { (label) } dd .hash[label == DIGEST] { (sanitised(&text)) } }
            }
        }
        @for warning in &document.zone_file.warnings { p .notice { (sanitised(warning)) } }
        @if document.zones.len() > 1 {
            ol .contents { @for (number, zone) in document.zones.iter().enumerate() {
                li { a href={ "#zone-" (number + 1) } { (sanitised(zone.name)) } }
            } }
        }
    }
}

fn how_to_read() -> Markup {
    html! {
        section .how {
            h2 { "How to read it" }
            ol {
                li { "Lay the law’s own page beside this one, not a copy of the file." }
                li { "One of you reads the law aloud, digit by digit, letters N, S, E and W too. The other follows here and ticks column A." }
                li { "Change places, begin at the last row, and tick column B." }
                li { "Compare what else the law prints: lengths, bearings, radii, the area, how many corners there are." }
                li { "Write down who read it: takeline zones show FILE --proofread-by NAME NAME --against EDITION" }
            }
        }
    }
}

fn zone_section(
    (number, zone): (usize, &ShownZoneDocument<'_>),
    neighbourhood: &Neighbourhood<'_>,
    coasts: &[Coast],
    (notation, words): (Option<Notation>, Spoken<'_>),
) -> Markup {
    let written = Written::of(zone, notation);
    html! {
        section .zone-sheet id={ "zone-" (number + 1) } {
            h2 { (sanitised(zone.name)) " " span .short { "(" (sanitised(zone.id)) ")" } }
            @if let Some(figure) = map::figure((number, zone), neighbourhood, coasts, words) { (figure) }
            table .cards {
                thead { tr { (box_heads()) th { "What" } th { "Here" } } }
                tbody {
                    @for (label, text) in facts(zone, written.printed) { (fact_row(label, &text)) }
                    @for circle in &zone.circles { (fact_row("circle", &circle_words(circle, written.printed))) }
                }
            }
            @if !zone.vertices.is_empty() { (corner_table(zone, &written)) }
            h3 { "Rule and source" }
            table .cards {
                thead { tr { (box_heads()) th { "What" } th { "Here" } } }
                tbody {
                    @for (label, texts) in rule_parts(zone, words) {
                        @if label == "not in the file" {} @else { @for text in &texts { (fact_row(label, text)) } }
                    }
                }
            }
            @if !zone.does_not_say.is_empty() {
                h3 { "Not in the file" }
                ul { @for text in &zone.does_not_say { li { (sanitised(text)) } } }
            }
            p .signed { "A: " span .blank {} " B: " span .blank {} " on: " span .blank {} " against: " span .blank {} }
        }
    }
}

fn box_heads() -> Markup {
    html! { th .tick { "A" } th .tick { "B" } }
}

/// A box for each reader.
fn boxes(what: &str) -> Markup {
    html! {
        td .tick { input type="checkbox" aria-label={ "Reader A: " (what) }; }
        td .tick { input type="checkbox" aria-label={ "Reader B: " (what) }; }
    }
}

fn fact_row(label: &str, text: &str) -> Markup {
    html! { tr { (boxes(label)) th scope="row" { (label) } td { (sanitised(text)) } } }
}

fn corner_table(zone: &ShownZoneDocument<'_>, written: &Written) -> Markup {
    let rows = &zone.vertices[..zone.vertices.len().min(MOST_ROWS)];
    let left_out = zone.vertices.len() - rows.len();
    let has_several = zone.rings.len() > 1;
    html! {
        h3 { "Corners, and the side from each to the next" }
        table .cards.corner-table {
            thead { tr {
                (box_heads()) th { "Point" } th { "Position" } th { "Side to the next: length" } th { "Bearing, true" } th { "Runs" }
            } }
            tbody {
                @for (place, corner) in rows.iter().enumerate() {
                    @let own = (corner.part, corner.ring);
                    @if has_several && (place == 0 || rows.get(place - 1).is_some_and(|last| (last.part, last.ring) != own)) {
                        tr .ring { th colspan="7" { (ring_name(zone, own)) } }
                    }
                    (corner_row(corner, written))
                }
            }
        }
        @if left_out > 0 {
            p .notice { "The table has the first " (rows.len()) " corners. " (left_out)
                " more are not on this page: compare those by --format json, which has them all." }
        }
    }
}

fn corner_row(corner: &ShownVertexDocument, written: &Written) -> Markup {
    let side = &corner.to_next;
    let name = &corner.name;
    html! {
        tr {
            (boxes(&format!("point {name}")))
            th scope="row" { (sanitised(name)) }
            td .place {
                @if corner.as_published.is_some() { (sanitised(&written.position(corner))) }
                @else { @let [latitude, longitude] = written.printed.position(corner.position);
                    span { (latitude) } " " span { (longitude) } }
            }
            td data-label="Length" { @for (number, length) in lengths(side.length_m).iter().enumerate() {
                @if number > 0 { br; } (length)
            } }
            td data-label="Bearing" { (bearings(side)) }
            td data-label="Runs" {
                (runs(side, written.printed))
                @if let Some(what) = what(side) { "; " strong { (sanitised(&what)) } }
            }
        }
    }
}
