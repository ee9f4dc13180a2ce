//! The sketch as a drawing.

use maud::{Markup, PreEscaped, html};
use takeline::landmark::Landmark;
use takeline::transit::{Side, TransitReport};

use super::scene::{Scene, View};
use super::silhouette;
use super::sketch_text::caption;
use crate::drawing::COLOURS;
use crate::drawing::chart::unit;
use crate::lines::sanitised;
use crate::transit::document::TransitDocument;
use crate::transit::words;
use crate::written;

pub(super) const SKETCH_STYLE: &str = include_str!("sketch.css");
const PANEL_WIDTH: f64 = 240.0;
const HEIGHT: f64 = 272.0;
const HORIZON: f64 = 160.0;
/// Height of the mark that shows highest, and the least that still is a shape.
const TALLEST: f64 = 136.0;
const SMALLEST: f64 = 22.0;
/// How far apart the marks are drawn where they are open; the true angle is far too small to draw.
const GAP: f64 = 56.0;

/// Returns the sketch as a drawing of its own: the marks from inside, on the line and outside.
///
/// The heights of the marks over the horizon are to scale where both are known. The gap between them is not: the true one
/// stands beneath, in minutes of arc. The drawing has a title and a description for those who do not see it.
///
/// # Edge cases
///
/// Where the marks tell no side, the drawing holds a sentence that says why.
#[must_use]
pub fn transit_sketch_svg(document: &TransitDocument<'_>) -> String {
    written::markup(sketch(document, true).into_string())
}

/// The drawing; one that stands alone brings its own colours.
pub(super) fn sketch(document: &TransitDocument<'_>, alone: bool) -> Markup {
    let style = alone.then(|| format!("{COLOURS}{SKETCH_STYLE}"));
    match Scene::of(document) {
        Ok(scene) => drawing(document.report, &scene, style.as_deref()),
        Err(because) => none(&because, style.as_deref()),
    }
}

fn drawing(report: &TransitReport, scene: &Scene, style: Option<&str>) -> Markup {
    let heights = Heights::of(scene);
    let captions = scene.views.iter().map(|view| caption(scene, view)).collect::<Vec<_>>().join(" ");
    let (front, rear) = (&report.line.front().name, &report.line.rear().name);
    html! {
        svg .drawing .sketch role="img" xmlns="http://www.w3.org/2000/svg" aria-labelledby="sketch-title sketch-words"
            viewBox={ "0 0 " (unit(3.0 * PANEL_WIDTH)) " " (unit(HEIGHT)) } {
            title #sketch-title { "How the marks look: " (sanitised(rear)) " behind " (sanitised(front)) }
            desc #sketch-words { (captions) }
            @if let Some(style) = style { style { (PreEscaped(style)) } }
            @for (left, view) in [0.0, PANEL_WIDTH, 2.0 * PANEL_WIDTH].into_iter().zip(&scene.views) {
                (panel(report, (scene, view), &heights, left))
            }
        }
    }
}

/// How high the marks are drawn.
struct Heights {
    front: f64,
    rear: f64,
}

impl Heights {
    fn of(scene: &Scene) -> Self {
        let Some(sights) = scene.sights else { return Self { front: 0.7 * TALLEST, rear: TALLEST } };
        let [front, rear] = sights.map(|sight| (sight.elevation.arcmin() + scene.dip_arcmin).max(0.0));
        let scale = TALLEST / front.max(rear).max(1e-6);
        Self { front: (front * scale).max(SMALLEST), rear: (rear * scale).max(SMALLEST) }
    }
}

fn panel(report: &TransitReport, (scene, view): (&Scene, &View), heights: &Heights, left: f64) -> Markup {
    let middle = left + PANEL_WIDTH / 2.0;
    let (front_x, rear_x) = match view.side() {
        Some(Side::Left) => (middle + GAP / 2.0, middle - GAP / 2.0),
        Some(Side::Right) => (middle - GAP / 2.0, middle + GAP / 2.0),
        None => (middle, middle),
    };
    let [front_seen, rear_seen] = scene.in_sight();
    let line = &report.line;
    html! {
        g .view {
            rect .air x=(unit(left + 6.0)) y="8" width=(unit(PANEL_WIDTH - 12.0)) height=(unit(HORIZON - 8.0)) {}
            // the rear mark first, so that the front mark stands before it
            @if rear_seen { (mark("rear", line.rear(), rear_x, heights.rear)) }
            @if front_seen { (mark("front", line.front(), front_x, heights.front)) }
            rect .water x=(unit(left + 6.0)) y=(unit(HORIZON)) width=(unit(PANEL_WIDTH - 12.0)) height="14" {}
            line .horizon x1=(unit(left + 6.0)) x2=(unit(left + PANEL_WIDTH - 6.0)) y1=(unit(HORIZON)) y2=(unit(HORIZON)) {}
            (words_below(view, middle))
        }
    }
}

fn mark(class: &str, mark: &Landmark, x: f64, height: f64) -> Markup {
    html! {
        g .{ "mark " (class) } transform={ "translate(" (unit(x)) " " (unit(HORIZON)) ")" } {
            (silhouette::shape(mark, height))
        }
    }
}

fn words_below(view: &View, middle: f64) -> Markup {
    let off = match view.side() {
        Some(_) => format!("{} off", words::short_length(view.off)),
        None => "in line".into(),
    };
    let opening = view.side().map(|side| {
        format!("rear {}, {}", words::side(side), words::minutes_of_arc(view.seen.rear_from_front))
    });
    html! {
        text .title x=(unit(middle)) y=(unit(HORIZON + 44.0)) text-anchor="middle" { (view.title()) }
        text x=(unit(middle)) y=(unit(HORIZON + 73.0)) text-anchor="middle" { (off) }
        @if let Some(opening) = opening {
            text x=(unit(middle)) y=(unit(HORIZON + 102.0)) text-anchor="middle" { (opening) }
        }
    }
}

fn none(because: &str, style: Option<&str>) -> Markup {
    const LETTERS_IN_A_LINE: usize = 52;
    const LINE: f64 = 28.0;
    let because = sanitised(because);
    let lines = textwrap::wrap(&because, LETTERS_IN_A_LINE);
    let baselines = std::iter::successors(Some(58.0), |baseline| Some(baseline + LINE));
    let placed: Vec<(f64, _)> = baselines.zip(&lines).collect();
    let height = placed.last().map_or(58.0, |(baseline, _)| *baseline) + 16.0;
    html! {
        svg .drawing .sketch role="img" xmlns="http://www.w3.org/2000/svg" aria-labelledby="sketch-title sketch-words"
            viewBox={ "0 0 " (unit(3.0 * PANEL_WIDTH)) " " (unit(height)) } {
            title #sketch-title { "No sketch of the marks" }
            desc #sketch-words { (because) }
            @if let Some(style) = style { style { (PreEscaped(style)) } }
            text .title x="8" y="28" { "No sketch of the marks." }
            @for (baseline, line) in placed { text x="8" y=(unit(baseline)) { (line) } }
        }
    }
}
