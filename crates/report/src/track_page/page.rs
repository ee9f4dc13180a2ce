//! The page as a whole.

use maud::{DOCTYPE, Markup, PreEscaped, html};
use takeline::{Metres, Tristate};

use super::map::{self, Shown};
use super::plot::Plot;
use super::sheet::{PageError, Sheet};
use super::{evidence, visit};
use crate::drawing::frame::Frame;
use crate::drawing::{COLOURS, DRAWING_STYLE, chart};
use crate::figures;
use crate::html_page;
use crate::lines::sanitised;
use crate::track::TrackDocument;
use crate::track::times::{clock, counted, span, utc, utc_spaced, zone_name};
use crate::written;

/// The style of the page itself, before and after that of the drawings.
const STYLE: [&str; 2] = [include_str!("page.css"), include_str!("page_media.css")];
const SCRIPT: &str = include_str!("page.js");
/// Nothing is fetched, and no script runs but this one, whose SHA-256 in base 64 this is; a test holds the two together.
pub(super) const CONTENT_POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; \
     script-src 'sha256-yqE73D4pclGLFKgTxSmFaXiJFENk4XYyMsBoRrhnIvE='; base-uri 'none'; form-action 'none'";

/// Returns the page of a track, one self-contained HTML file.
///
/// The page holds a map, a plot of the distance to the nearest line, and every finding as text. It fetches nothing, reads
/// whole without its script, and is the same bytes for the same document.
///
/// # Accuracy
///
/// Figures are rounded for reading; the JSON has them in full. The map is a local projection whose error is printed on it.
///
/// # Edge cases
///
/// A log without a single fix has no map; one that never came within 20 km of a line has no plot; both pages say so. A
/// track across 180° is drawn in one piece.
///
/// # Errors
///
/// [`PageError`] if the audit was not made with these zones, of a plan, and where a visit begins, ends or stops at a withheld
/// place.
pub fn track_page(document: &TrackDocument<'_>) -> Result<String, PageError> {
    let sheet = &Sheet::of(document)?;
    let frame = map::frame_of(sheet);
    let title = format!("Track audit: {}", sanitised(file_name(document.input.path)));
    let page = html! {
        (DOCTYPE)
        html lang="en-GB" {
            (html_page::head(&title, CONTENT_POLICY, &[COLOURS, STYLE[0], DRAWING_STYLE, STYLE[1]]))
            body {
                header { h1 { (title) } (summary(sheet)) }
                main {
                    @if let Some(frame) = &frame { (pictures(sheet, frame)) } @else {
                        p .notice { "The log holds no fix that could be drawn, so there is no map." }
                    }
                    (visit::visits(sheet))
                    (visit::crossings(sheet))
                    (visit::approaches(sheet))
                    @if document.has_catch_log() { (catch_table(document)) }
                    (evidence::log(sheet))
                    (evidence::limits(sheet))
                    (evidence::section(sheet, frame.as_ref()))
                }
                script { (PreEscaped(SCRIPT)) }
            }
        }
    };
    Ok(written::markup(page.into_string()))
}

/// The last part of a path, whichever way its slashes lean.
fn file_name(path: &str) -> &str {
    path.rsplit(['/', '\\']).next().filter(|name| !name.is_empty()).unwrap_or(path)
}

fn summary(sheet: &Sheet<'_>) -> Markup {
    let document = sheet.document;
    let (certain, possible) = sheet.visit_counts();
    let count = |number: usize| u64::try_from(number).unwrap_or(u64::MAX);
    html! {
        @if let Some((first, rest)) = document.undecided_because.split_first() {
            p .headline { (sanitised(first)) "." }
            @for why in rest { p { (sanitised(why)) "." } }
        }
        p .headline {
            @if certain + possible == 0 && !document.undecided_because.is_empty() {
                "No visit could be found in what was judged, and that settles nothing."
            } @else if certain + possible == 0 {
                "No visit to a loaded zone, certain or possible."
            } @else {
                (counted(count(certain), "certain visit", "certain visits")) " and "
                (counted(count(possible), "possible visit", "possible visits")) "."
            }
        }
        @for remark in &document.remarks { p { (sanitised(remark)) } }
        p {
            (counted(document.input.fixes, "fix", "fixes")) ", "
            (figures::distance(document.words.units(), document.path, Metres::ZERO)) " of way, held against "
            (counted(count(document.zones().zones().len()), "zone", "zones")) "."
            @if let (Some(first), Some(last)) = (document.input.first_time, document.input.last_time) {
                @let zone = &sheet.clock;
                " From " (utc_spaced(first)) " to " (utc_spaced(last)) " ("
                (clock(first, zone)) " to " (clock(last, zone)) " " (zone_name(zone, first)) ")."
            }
        }
        ol .digest {
            @for (number, visit) in (1_u64..).zip(&document.visits) {
                li {
                    a href={ "#visit-" (number) } { (sanitised(visit.zone_name)) } ": "
                    (visit.certainty.code()) ", "
                    @if let Some(certain_s) = visit.certain_s.filter(|seconds| *seconds > 0.0) {
                        "certainly inside for " (span(certain_s)) ", "
                    }
                    "up to " (document.words.possible_span(visit)) "; in force: " (document.words.in_force_then(visit))
                    @if visit.in_force != Tristate::No && visit.binds == Tristate::No { ", not binding" }
                }
            }
        }
    }
}

fn pictures(sheet: &Sheet<'_>, frame: &Frame) -> Markup {
    let zones = map::shown(sheet, frame);
    let sketch = &sheet.way;
    let places: Vec<_> = sketch.iter().map(|point| point.fix.position).collect();
    let plot = Plot::of(sketch, sheet.document.words.units());
    let on_plot = plot.map_or_else(|| vec![None; sketch.len()], |plot| plot.points(sketch));
    let data = plot_data(sheet, &frame.chain(&places), &on_plot).to_string();
    html! {
        section #pictures {
            h2 { "Map" }
            figure { (map::drawing(sheet, frame, &zones)) (legend(sheet, &zones)) }
            h2 { "Distance to the nearest line" }
            @match plot {
                Some(plot) => {
                    figure {
                        (plot.drawing(sheet, &data))
                        // shown by the script, which alone can move it
                        div #walk hidden {
                            label for="step" { "Walk along the track: drag, or use the arrow keys" }
                            input #step type="range" min="0" max=(sketch.len().saturating_sub(1)) value="0";
                            output #said for="step" aria-live="polite" {}
                        }
                        figcaption { (plot.caption(sheet)) }
                    }
                }
                None => { p { "No fix lies within " (figures::held_limit(sheet.document.words.units(), 20.0)) " of the line of a loaded zone, so there is no plot." } }
            }
        }
    }
}

fn legend(sheet: &Sheet<'_>, zones: &[Shown<'_>]) -> Markup {
    html! {
        figcaption {
            ul .legend {
                @for shown in zones {
                    li {
                        (chart::swatch(shown.number)) " " (sanitised(&shown.zone.name))
                        @if !shown.line_known { " (only the water around it: its line is not known)" }
                    }
                }
                @for (class, words) in [
                    ("outside", "track, outside"),
                    ("possible", "possibly inside"),
                    ("certain", "certainly inside"),
                    ("gap", "nothing logged"),
                ] {
                    li { (track_key(class)) " " (words) }
                }
                li { (area_key("doubt")) " doubt of the line, 95\u{a0}%" }
                @if sheet.gaps().next().is_some() {
                    li { (area_key("reach")) " within reach while nothing was logged, at the top speed below" }
                }
            }
            p {
                "Ring: first fix. Square: last fix. Numbers: crossings, as in the table. "
                @if let Some(first) = sheet.document.input.first_time {
                    "Times on the clock of " (zone_name(&sheet.clock, first)) "."
                }
            }
        }
    }
}

fn track_key(class: &str) -> Markup {
    html! {
        svg .swatch viewBox="0 0 24 16" width="24" height="16" aria-hidden="true" {
            g .track {
                @if class == "possible" || class == "certain" { path .{ "casing " (class) } d="M2 8L22 8" {} }
                path .{ "way " (class) } d="M2 8L22 8" {}
            }
        }
    }
}

fn area_key(class: &str) -> Markup {
    html! {
        svg .swatch viewBox="0 0 24 16" width="24" height="16" aria-hidden="true" {
            rect .{ "key-" (class) } x="1" y="2" width="22" height="12" {}
        }
    }
}

fn catch_table(document: &TrackDocument<'_>) -> Markup {
    let catches = &document.catches;
    html! {
        section #catches {
            h2 { "Catches held against the track" }
            @if catches.is_empty() { p { "The catch log has no rows." } } @else {
                div .wide { table {
                    thead { tr { @for column in ["Line", "Fish", "Time", "Answer", "Why"] { th scope="col" { (column) } } } }
                    tbody {
                        @for caught in catches {
                            tr {
                                td { (caught.row) }
                                td { (sanitised(caught.asked.unwrap_or_default())) }
                                td { (caught.time.map_or_else(String::new, utc)) }
                                td { (document.words.take_answer(caught.answer)) }
                                td { (sanitised(&caught.because.join("; "))) }
                            }
                        }
                    }
                } }
            }
        }
    }
}

/// What links plot and map: for each fix drawn, where it lies on both and what to say of it.
///
/// Thousands of fixes are drawn; the words for them are put together here, so that the script needs to know nothing.
/// A JSON list of `[map x, map y, plot x, plot y, words]`, plot x and y null where no line was near.
fn plot_data(sheet: &Sheet<'_>, on_map: &[(f64, f64)], on_plot: &[Option<(f64, f64)>]) -> serde_json::Value {
    let tenth = |value: f64| (value * 10.0).round() / 10.0;
    let rows = sheet.way.iter().zip(on_map).zip(on_plot).map(|((point, map), plot)| {
        let (x, y) = plot.map_or((None, None), |(x, y)| (Some(tenth(x)), Some(tenth(y))));
        let said = sheet.document.words.at_fix(sheet.document, point, &sheet.clock);
        serde_json::json!([tenth(map.0), tenth(map.1), x, y, said])
    });
    serde_json::Value::Array(rows.collect())
}
