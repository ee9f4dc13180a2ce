//! The page as a whole.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::backdrop::Backdrop;
use super::map::{self, Shown};
use super::marks::Lettered;
use super::plot::Plot;
use super::sheet::{PageError, Sheet};
use super::{catches, evidence, top, visit};
use crate::drawing::frame::Frame;
use crate::drawing::{COLOURS, DRAWING_STYLE, land, zone_line};
use crate::figures;
use crate::html_page;
use crate::lines::sanitised;
use crate::track::TrackDocument;
use crate::written;

/// The style of the page itself, before and after that of the drawings.
pub(crate) const STYLE: [&str; 2] = [include_str!("page.css"), include_str!("page_media.css")];
const SCRIPT: &str = include_str!("page.js");
/// Nothing is fetched, and no script runs but this one, whose SHA-256 in base 64 this is; a test holds the two together.
pub(super) const CONTENT_POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; \
     script-src 'sha256-87uHrTXWSqr3vKv+Wil88/wu63FbChnfQCog3uMgO00='; base-uri 'none'; form-action 'none'";

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
    track_page_over(document, &[])
}

/// As [`track_page`], over drawings that lie beneath the map and matter to no answer.
///
/// # Errors
///
/// As [`track_page`].
pub fn track_page_over(document: &TrackDocument<'_>, backdrops: &[Backdrop]) -> Result<String, PageError> {
    let sheet = &Sheet::of(document)?;
    let frame = map::frame_of(sheet);
    let (picture, lettered) = frame.as_ref().map(|frame| picture(sheet, frame, backdrops)).unzip();
    let lettered = lettered.unwrap_or_default();
    let (verdict, _) = top::verdict(document);
    let file = file_name(document.input.path);
    let title = top::when(document, &sheet.clock)
        .map_or_else(|| format!("Trip of {file}: {verdict}"), |when| format!("Trip of {when}: {verdict}"));
    let page = html! {
        (DOCTYPE)
        html lang="en-GB" {
            (html_page::head(&sanitised(&title), CONTENT_POLICY, &[COLOURS, STYLE[0], DRAWING_STYLE, STYLE[1]]))
            body {
                div .first {
                    (top::top(sheet))
                    @if let Some(picture) = &picture { (picture) } @else {
                        p .notice { "The log has no fix that could be drawn, so there is no map." }
                    }
                    (top::further(sheet))
                }
                main {
                    @if let Some(frame) = &frame { (distance(sheet, frame)) }
                    @if document.has_catch_log() { (catches::section(sheet, &lettered)) }
                    (visit::visits(sheet))
                    (visit::crossings(sheet))
                    (visit::approaches(sheet))
                    (evidence::log(sheet))
                    (evidence::limits(sheet))
                    (evidence::section(sheet, frame.as_ref(), backdrops))
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

/// The map, with its legend in words, and which letters of catches it shows.
fn picture(sheet: &Sheet<'_>, frame: &Frame, backdrops: &[Backdrop]) -> (Markup, Lettered) {
    let zones = map::shown(sheet, frame);
    let (drawing, lettered) = map::drawing(sheet, frame, &zones, backdrops);
    let picture = html! {
        figure #picture {
            (drawing)
            // shown by the script, which alone can move the map
            div #zoom hidden {
                div .buttons role="group" aria-label="Size of the map" {
                    button #larger type="button" aria-label="Show larger" { "+" }
                    button #smaller type="button" aria-label="Show smaller" { "−" }
                    button #whole type="button" aria-label="Show the whole trip" { "All" }
                }
                p #how .fine {
                    "Zoom with + and −, two fingers, or Ctrl and the wheel. Drag the map, or use the arrow keys, to move it."
                }
            }
            (legend(sheet, &zones, backdrops))
        }
    };
    (picture, lettered)
}

/// The plot of distance, and the slider along the track.
fn distance(sheet: &Sheet<'_>, frame: &Frame) -> Markup {
    let sketch = &sheet.way;
    let places: Vec<_> = sketch.iter().map(|point| point.fix.position).collect();
    let plot = Plot::of(sketch, sheet.document.words.units());
    let on_plot = plot.map_or_else(|| vec![None; sketch.len()], |plot| plot.points(sketch));
    let data = plot_data(sheet, &frame.chain(&places), &on_plot).to_string();
    html! {
        section #distance {
            h2 { "Distance to the nearest boundary" }
            @match plot {
                Some(plot) => {
                    figure {
                        (plot.drawing(sheet, &data))
                        // shown by the script, which alone can move it
                        div #walk hidden {
                            label for="step" { "Step through the track: drag, or use the arrow keys" }
                            input #step type="range" min="0" max=(sketch.len().saturating_sub(1)) value="0";
                            output #said for="step" aria-live="polite" {}
                        }
                        figcaption { (plot.caption(sheet)) }
                    }
                }
                None => { p { "No fix lies within " (figures::held_limit(sheet.document.words.units(), 20.0)) " of the boundary of a loaded zone, so there is no plot." } }
            }
        }
    }
}

fn legend(sheet: &Sheet<'_>, zones: &[Shown<'_>], backdrops: &[Backdrop]) -> Markup {
    let has_catches = sheet.document.catches.iter().any(|caught| caught.place.0.is_some());
    html! {
        figcaption {
            ul .legend .meanings {
                @for meaning in map::meanings(zones) {
                    li {
                        (meaning.swatch()) " " b { (meaning.words()) } ": "
                        @for (number, shown) in zones.iter().filter(|shown| shown.standing.meaning == meaning).enumerate() {
                            @if number > 0 { "; " }
                            (sanitised(&shown.zone.name)) (shown.standing.remark())
                            @if !shown.line_known { " (only the water around it: its boundary is not known)" }
                        }
                    }
                }
            }
            ul .legend {
                @for (class, words) in [
                    ("outside", "track, outside"),
                    ("possible", "possibly inside"),
                    ("certain", "certainly inside"),
                    ("gap", "nothing logged"),
                ] {
                    li { (track_key(class)) " " (words) }
                }
                li { (area_key("doubt")) " uncertainty of a boundary, 95\u{a0}%" }
                @if sheet.gaps().next().is_some() {
                    li { (area_key("reach")) " within reach while nothing was logged, at the top speed below" }
                }
                (zone_line::keys(zones.iter().map(|shown| &shown.line)))
                @for coast in sheet.document.zones().coasts() {
                    li { (land::key()) " " (land::words(coast, sheet.document.words.units())) }
                }
                @for backdrop in backdrops {
                    li { (land::key()) " backdrop: " span .path { (sanitised(backdrop.path())) } ", drawn only: no answer uses it" }
                }
            }
            ul .legend {
                @for (class, words) in [("start", "start"), ("end", "end"), ("direction", "direction")] {
                    li { (mark_key(class)) " " (words) }
                }
                li { "“2 in”: where visit 2 first crossed the boundary; “2 out”: where it last did" }
                @if has_catches { li { (mark_key("caught")) " catch, by its letter in the table" } }
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

/// A mark of the map, as small as it is there.
fn mark_key(class: &str) -> Markup {
    html! {
        svg .swatch viewBox="0 0 24 16" width="24" height="16" aria-hidden="true" {
            g transform="translate(12 8)" {
                @match class {
                    "start" => { circle .start r="5.5" {} },
                    "end" => { rect .end x="-6" y="-6" width="12" height="12" {} },
                    "caught" => { g .catches { path .caught d="M0 -6L6 0L0 6L-6 0Z" {} } },
                    _ => { g .arrows { path d="M-5 -7L7 0L-5 7L-2 0Z" {} } },
                }
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
