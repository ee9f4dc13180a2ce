//! The page as a whole.

use maud::{DOCTYPE, Markup, PreEscaped, html};
use takeline::{Metres, Tristate};

use super::map::{self, Shown};
use super::plot::Plot;
use super::report::{CatchTable, PageError, TrackReport};
use super::{cursor, evidence, quality, visit, words};
use crate::drawing::frame::Frame;
use crate::drawing::{COLOURS, DRAWING_STYLE, chart};
use crate::figures;
use crate::html_page;
use crate::lines::sanitised;
use crate::written;

/// The style of the page itself, before and after that of the drawings.
const STYLE: [&str; 2] = [include_str!("page.css"), include_str!("page_media.css")];
const SCRIPT: &str = include_str!("page.js");
/// Nothing is fetched, and no script runs but this one, whose SHA-256 in base 64 this is; a test holds the two together.
pub(super) const CONTENT_POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; \
     script-src 'sha256-yqE73D4pclGLFKgTxSmFaXiJFENk4XYyMsBoRrhnIvE='; base-uri 'none'; form-action 'none'";

/// Writes the audit of a track as one self-contained HTML page.
///
/// The page holds a map, a plot of the distance to the nearest line, and every finding as text. It fetches nothing, reads
/// whole without its script, and is the same bytes for the same report.
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
/// [`PageError`] if the audit was not made with these zones.
pub fn track_page(report: &TrackReport<'_>) -> Result<String, PageError> {
    report.check()?;
    let frame = map::frame_of(report);
    let title = format!("Track audit: {}", sanitised(file_name(report.input.path)));
    let page = html! {
        (DOCTYPE)
        html lang="en-GB" {
            (html_page::head(&title, CONTENT_POLICY, &[COLOURS, STYLE[0], DRAWING_STYLE, STYLE[1]]))
            body {
                header { h1 { (title) } (summary(report)) }
                main {
                    @if let Some(frame) = &frame { (pictures(report, frame)) } @else {
                        p .notice { "The log holds no fix that could be drawn, so there is no map." }
                    }
                    (visit::visits(report))
                    (visit::crossings(report))
                    (visit::approaches(report))
                    @if let Some(catches) = report.catches { (catch_table(catches)) }
                    (quality::section(report))
                    (evidence::limits())
                    (evidence::section(report, frame.as_ref()))
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

fn summary(report: &TrackReport<'_>) -> Markup {
    let quality = &report.audit.quality;
    let (certain, possible) = report.visit_counts();
    let count = |number: usize| u64::try_from(number).unwrap_or(u64::MAX);
    html! {
        @if let Some((first, rest)) = report.undecided_because.split_first() {
            p .headline { (sanitised(first)) "." }
            @for why in rest { p { (sanitised(why)) "." } }
        }
        p .headline {
            @if certain + possible == 0 && !report.undecided_because.is_empty() {
                "No visit could be found in what was judged, and that settles nothing."
            } @else if certain + possible == 0 {
                "No visit to a loaded zone, certain or possible."
            } @else {
                (words::counted(count(certain), "certain visit", "certain visits")) " and "
                (words::counted(count(possible), "possible visit", "possible visits")) "."
            }
        }
        @for remark in report.remarks { p { (sanitised(remark)) } }
        p {
            (words::counted(quality.fixes, "fix", "fixes")) ", "
            (figures::distance(report.audit.path, Metres::ZERO)) " of way, held against "
            (words::counted(count(report.zones.zones().len()), "zone", "zones")) "."
            @if let (Some(first), Some(last)) = (quality.first_time, quality.last_time) {
                @let zone = report.time_zone();
                " From " (words::utc(first)) " to " (words::utc(last)) " ("
                (words::clock(first, &zone)) " to " (words::clock(last, &zone)) " " (words::zone_name(&zone, first)) ")."
            }
        }
        ol .digest {
            @for (number, visit) in (1_u64..).zip(&report.audit.visits) {
                @if let Some(zone) = report.zone_of(visit) {
                    li {
                        a href={ "#visit-" (number) } { (sanitised(&zone.name)) } ": "
                        (words::certainty(visit.certainty)) ", "
                        @if let Some(certain_s) = visit.certain_s.filter(|seconds| *seconds > 0.0) {
                            "inside for " (words::duration(certain_s)) " at least, "
                        }
                        "up to " (words::possible_time(visit.possible_s)) "; rule " (words::in_force(visit.in_force))
                        @if visit.in_force != Tristate::No && visit.binds == Tristate::No { ", not binding" }
                    }
                }
            }
        }
    }
}

fn pictures(report: &TrackReport<'_>, frame: &Frame) -> Markup {
    let zones = map::shown(report, frame);
    let sketch = &report.audit.sketch;
    let places: Vec<_> = sketch.iter().map(|point| point.fix.position).collect();
    let plot = Plot::of(sketch);
    let on_plot = plot.map_or_else(|| vec![None; sketch.len()], |plot| plot.points(sketch));
    let data = cursor::points(report, &frame.chain(&places), &on_plot).to_string();
    html! {
        section #pictures {
            h2 { "Map" }
            figure { (map::drawing(report, frame, &zones)) (legend(report, &zones)) }
            h2 { "Distance to the nearest line" }
            @match plot {
                Some(plot) => {
                    figure {
                        (plot.drawing(report, &data))
                        // shown by the script, which alone can move it
                        div #walk hidden {
                            label for="step" { "Walk along the track: drag, or use the arrow keys" }
                            input #step type="range" min="0" max=(sketch.len().saturating_sub(1)) value="0";
                            output #said for="step" aria-live="polite" {}
                        }
                        figcaption { (plot.caption(report)) }
                    }
                }
                None => { p { "No fix lies within 20\u{a0}km of the line of a loaded zone, so there is no plot." } }
            }
        }
    }
}

fn legend(report: &TrackReport<'_>, zones: &[Shown<'_>]) -> Markup {
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
                @if !report.audit.quality.gaps.is_empty() {
                    li { (area_key("reach")) " within reach while nothing was logged, at the top speed below" }
                }
            }
            p {
                "Ring: first fix. Square: last fix. Numbers: crossings, as in the table. "
                @if let Some(first) = report.audit.quality.first_time {
                    "Times on the clock of " (words::zone_name(&report.time_zone(), first)) "."
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

fn catch_table(catches: &CatchTable) -> Markup {
    html! {
        section #catches {
            h2 { "Catches held against the track" }
            @if catches.rows.is_empty() { p { "The catch log has no rows." } } @else {
                div .wide { table {
                    thead { tr { @for column in &catches.columns { th scope="col" { (sanitised(column)) } } } }
                    tbody {
                        @for row in &catches.rows { tr { @for cell in row { td { (sanitised(cell)) } } } }
                    }
                } }
            }
        }
    }
}
