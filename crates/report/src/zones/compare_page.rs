//! Two editions compared, as one self-contained page.

use std::collections::{HashMap, HashSet};

use maud::{DOCTYPE, Markup, html};
use takeline::zone::{Extent, Zone};
use takeline::{PartSpec, Position, RingSpec};
use takeline_drafting::editions::{Effect, LineChange, MovedVertex, VertexAt, ZoneChange};

use super::compare::{ChangedZoneDocument, CompareDocument};
use super::compare_line::vertex;
use super::compare_picture::{hatches, legend, picture};
use super::compare_text::{HEADINGS, LIMITS, MOST_SHOWN, more, renamed_lines, water_lines};
use super::compare_words as said;
use crate::drawing::{COLOURS, DRAWING_STYLE};
use crate::lines::sanitised;
use crate::words::Spoken;
use crate::{figures, html_page, written};

const STYLE: &str = include_str!("compare.css");
/// Nothing is fetched and no script runs.
const CONTENT_POLICY: &str =
    "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";
/// Longer tables of vertices show those that changed and no others.
const LONG_TABLE: usize = 60;
/// More rows than this are left to the JSON.
const MOST_ROWS: usize = 200;

/// Returns what differs between two editions as one self-contained HTML page: the answer, what became stricter, and of each
/// changed zone a picture, its vertices old and new, and its rules side by side.
///
/// # Edge cases
///
/// It fetches nothing, holds no script, and is the same bytes for the same document. Of rings with more than 60 vertices only
/// those that changed are listed, and of these 200 at most; the JSON has all.
#[must_use]
pub fn compare_page(document: &CompareDocument<'_>) -> String {
    let title = "What differs between two editions";
    let page = html! {
        (DOCTYPE)
        html lang="en-GB" {
            (html_page::head(title, CONTENT_POLICY, &[COLOURS, DRAWING_STYLE, STYLE]))
            body {
                h1 { (title) }
                (editions(document))
                div .answer {
                    @for line in &document.headline { p { (line) } }
                    @for line in water_lines(document) { p .more { (line) } }
                }
                (hatches())
                main {
                    @for (effect, heading) in HEADINGS {
                        @if effect != Effect::Reference { (told(document, effect, heading)) }
                    }
                    (renamed(document))
                    @let zones = shown(document);
                    @if zones.len() < document.changed.len() {
                        p { (more(document.changed.len() - zones.len(), "zone that differs", "zones that differ")) }
                    }
                    @for (number, (zone, change)) in zones.into_iter().enumerate() {
                        (changed(document, number, zone, change))
                    }
                    (files(document))
                    section {
                        h2 { "Bear in mind" }
                        ul {
                            li { (LIMITS) }
                            @for caution in document.words.cautions() { li { (caution) } }
                        }
                    }
                }
            }
        }
    };
    written::markup(page.into_string())
}

/// The zones that have a section of their own: of very many, those of which more differs than what they are called.
fn shown<'d>(document: &'d CompareDocument<'_>) -> Vec<(&'d ChangedZoneDocument, &'d ZoneChange<'d>)> {
    let all = || document.changed.iter().zip(&document.comparison.changed);
    if document.changed.len() <= MOST_SHOWN {
        return all().collect();
    }
    let is_told = |zone: &&(&ChangedZoneDocument, &ZoneChange<'_>)| {
        zone.0.line_effects.iter().chain(&zone.0.rules_effects).any(|effect| *effect != Effect::Reference)
    };
    all().filter(|zone| is_told(&zone)).take(MOST_SHOWN).collect()
}

fn editions(document: &CompareDocument<'_>) -> Markup {
    html! {
        @for (label, files) in [("Old", &document.old), ("New", &document.new)] {
            @for file in files {
                p { strong { (label) ": " } (sanitised(&file.path))
                    @if let Some(edition) = &file.edition { ", edition " (sanitised(edition)) } }
            }
        }
    }
}

fn told(document: &CompareDocument<'_>, effect: Effect, heading: &str) -> Markup {
    let told = document.told(effect);
    html! {
        @if !told.is_empty() {
            section .(effect.code()) {
                h2 { (heading) }
                ul { @for (of, text) in told { li { strong { (sanitised(&of)) ": " } (sanitised(&text)) } } }
            }
        }
    }
}

fn renamed(document: &CompareDocument<'_>) -> Markup {
    let lines = renamed_lines(document);
    html! {
        @if !lines.is_empty() {
            h2 { "Renamed, split, joined" }
            ul {
                @for line in lines.iter().take(MOST_SHOWN) { li { (sanitised(line)) } }
                @if lines.len() > MOST_SHOWN { li { (more(lines.len() - MOST_SHOWN, "line", "lines")) } }
            }
        }
    }
}

fn changed(
    document: &CompareDocument<'_>,
    number: usize,
    zone: &ChangedZoneDocument,
    change: &ZoneChange<'_>,
) -> Markup {
    let drawn = change.line().filter(|line| line.same_to.is_none());
    let drawn = drawn.and_then(|line| picture(document.words, number, (change.old, change.new), line));
    html! {
        section .zone {
            h2 { (sanitised(&zone.name)) }
            @if let Some(drawn) = drawn { figure { (drawn) (legend()) } }
            @if !zone.line.is_empty() {
                ul { @for text in &zone.line { li { (sanitised(text)) } } }
            }
            @if let Some(line) = change.line() { (vertices(document.words, change, line)) }
            (rules(document, change))
        }
    }
}

/// One vertex, as one edition has it.
struct Row {
    part: usize,
    ring: usize,
    vertex: usize,
    position: Position,
}

fn rows(zone: &Zone) -> Vec<Row> {
    let Extent::Known(boundary) = &zone.extent else { return Vec::new() };
    let mut rows = Vec::new();
    for (part, spec) in boundary.parts().into_iter().enumerate() {
        let PartSpec::Polygon { exterior, holes } = spec else { continue };
        for (ring, RingSpec { vertices, .. }) in std::iter::once(exterior).chain(holes).enumerate() {
            let repeats = vertices.len() > 1 && vertices.first() == vertices.last();
            let count = vertices.len() - usize::from(repeats);
            rows.extend(vertices.into_iter().take(count).enumerate().map(|(vertex, position)| Row {
                part: part + 1,
                ring: ring + 1,
                vertex: vertex + 1,
                position,
            }));
        }
    }
    rows
}

/// Old and new vertices beside each other, in the order of the new edition.
fn vertices(words: Spoken<'_>, change: &ZoneChange<'_>, line: &LineChange) -> Markup {
    let all = rows(change.new);
    let number = |at: &VertexAt| (at.part, at.ring, at.vertex);
    let moved: HashMap<_, &MovedVertex> = line.moved.iter().map(|moved| (number(&moved.to), moved)).collect();
    let added: HashSet<_> = line.added.iter().map(number).collect();
    let moved_of = |row: &Row| moved.get(&(row.part, row.ring, row.vertex)).copied();
    let is_new = |row: &Row| added.contains(&(row.part, row.ring, row.vertex)) || is_in_new_ring(row, line);
    let is_long = all.len() > LONG_TABLE;
    let kept: Vec<&Row> =
        all.iter().filter(|row| !is_long || moved_of(row).is_some() || is_new(row)).take(MOST_ROWS).collect();
    html! {
        @if !(kept.is_empty() && line.removed.is_empty()) {
            h3 { "Vertices" }
            div .wide {
                table {
                    tr { th { "Vertex" } th { "New" } th { "Old" } th { "Moved" } }
                    @for row in kept {
                        @let moved = moved_of(row);
                        tr .changed[moved.is_some() || is_new(row)] {
                            td { (row_name(row)) }
                            (place(row.position))
                            @match moved {
                                Some(moved) => {
                                    (place(moved.from.position))
                                    td { (said::metres(moved.by.metres())) " towards " (words.bearing(moved.towards)) }
                                }
                                None if is_new(row) => { td { "not there" } td { "new" } }
                                None => { td { "the same" } td { "" } }
                            }
                        }
                    }
                    @for at in line.removed.iter().take(MOST_ROWS) {
                        tr .changed { td { "old " (vertex(at)) } td { "gone" } (place(at.position)) td { "" } }
                    }
                }
            }
            @if is_long { p .fine { "Of " (all.len()) " vertices only those that changed are listed, " (MOST_ROWS) " at most; the JSON has all." } }
        }
    }
}

/// A position in a cell, broken between latitude and longitude where the screen is narrow.
fn place(position: Position) -> Markup {
    let text = figures::position(position);
    html! { td .place { @for part in text.split(' ') { span { (part) } " " } } }
}

fn is_in_new_ring(row: &Row, line: &LineChange) -> bool {
    line.rings_added.iter().any(|ring| ring.part == row.part && ring.ring == Some(row.ring))
}

fn row_name(row: &Row) -> String {
    match (row.part, row.ring) {
        (1, 1) => row.vertex.to_string(),
        (part, 1) => format!("{} of part {part}", row.vertex),
        (part, ring) => format!("{} of hole {} in part {part}", row.vertex, ring - 1),
    }
}

/// What the rule says, old and new side by side: in short, then each change with what it does.
fn rules(document: &CompareDocument<'_>, change: &ZoneChange<'_>) -> Markup {
    let words = document.words;
    let rule = |zone: &Zone| sanitised(&said::rule(words.0, zone)).into_owned();
    html! {
        @if !change.changes.is_empty() {
            h3 { "Rules and sources" }
            table .sides {
                tr { th { "" } th { "Old" } th { "New" } }
                tr { td { "in short" } td { (rule(change.old)) } td { (rule(change.new)) } }
                @for told in &change.changes {
                    @let said = said::change(words.0, &told.change);
                    tr {
                        td {
                            (sanitised(&said.label))
                            @if told.effect != Effect::Reference { " " span .effect { (told.effect.code()) } }
                        }
                        @match &said.sides {
                            Some(sides) => { @for side in sides { td { (sanitised(side)) } } }
                            None => { td { "" } td { "" } }
                        }
                    }
                }
            }
        }
    }
}

fn files(document: &CompareDocument<'_>) -> Markup {
    html! {
        h2 { "The files" }
        @for file in &document.files {
            p { (sanitised(&file.new_path)) }
            ul { @for text in &file.changes { li { (sanitised(text)) } } }
        }
        @for (label, files) in [("Old", &document.old), ("New", &document.new)] {
            @for file in files {
                p .fine { (label) ": " (sanitised(&file.path)) ", SHA-256 " span .hash { (file.sha256) } }
            }
        }
        p .fine { (said::counted(document.unchanged, "zone is", "zones are")) " the same in both." }
    }
}
