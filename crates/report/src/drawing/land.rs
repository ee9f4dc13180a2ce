//! Land beneath a map: coasts that were supplied and other drawings, no finer than the map can show.

use maud::{Markup, html};
use takeline::coast::{Coast, LineKind};
use takeline::{Position, UncertaintySource};

use super::chart::{PathData, simplified, thinned};
use super::frame::{Frame, WIDTH};
use crate::figures::{self, Units};
use crate::lines::sanitised;

/// Lines and areas to draw.
#[derive(Debug, Clone)]
pub(crate) struct Land {
    parts: Vec<Part>,
}

/// A line, or the rings of an area.
#[derive(Debug, Clone)]
pub(crate) enum Part {
    Line(Vec<Position>),
    Area(Vec<Vec<Position>>),
}

impl Land {
    pub(crate) const fn of_parts(parts: Vec<Part>) -> Self {
        Self { parts }
    }

    /// The land of a coast: each island with its lakes, and open lines.
    pub(crate) fn of(coast: &Coast) -> Self {
        let mut parts = Vec::new();
        for line in coast.lines() {
            match (line.kind, parts.last_mut()) {
                (LineKind::Open, _) => parts.push(Part::Line(line.positions.clone())),
                (LineKind::Lake, Some(Part::Area(rings))) => rings.push(line.positions.clone()),
                (LineKind::Island | LineKind::Lake, _) => {
                    parts.push(Part::Area(vec![line.positions.clone()]));
                }
            }
        }
        Self { parts }
    }

    /// What the frame shows of it, no finer than the map can show.
    pub(crate) fn drawing(&self, frame: &Frame) -> Markup {
        // each area is a path of its own: under the even-odd rule areas that overlap would cut holes into each other
        let (mut lines, mut areas) = (PathData::default(), Vec::new());
        for part in &self.parts {
            match part {
                Part::Line(line) => {
                    for piece in clipped_line(&frame.chain(line), frame.height) {
                        lines.add(&simplified(&thinned(&piece)), false);
                    }
                }
                Part::Area(rings) => {
                    let mut area = PathData::default();
                    for ring in rings {
                        let piece = clipped_ring(frame.chain(ring), frame.height);
                        area.add(&simplified(&thinned(&piece)), true);
                    }
                    areas.push(area);
                }
            }
        }
        html! {
            @for area in areas.into_iter().filter(|area: &PathData| !area.is_empty()) {
                path .backdrop.area fill-rule="evenodd" d=(area.into_text()) {}
            }
            @if !lines.is_empty() { path .backdrop d=(lines.into_text()) {} }
        }
    }

    /// Whether the frame shows any of it.
    pub(crate) fn is_shown(&self, frame: &Frame) -> bool {
        self.parts.iter().any(|part| match part {
            Part::Line(line) => !clipped_line(&frame.chain(line), frame.height).is_empty(),
            Part::Area(rings) => {
                rings.iter().any(|ring| !clipped_ring(frame.chain(ring), frame.height).is_empty())
            }
        })
    }
}

/// A small piece of land, for legends.
pub(crate) fn key() -> Markup {
    html! {
        svg .swatch viewBox="0 0 24 16" width="24" height="16" aria-hidden="true" {
            rect .key-backdrop x="1" y="2" width="22" height="12" {}
        }
    }
}

/// What a legend says of a coast: `land, by coast.geojson (2026-03-01, ±10 m)`.
pub(crate) fn words(coast: &Coast, units: Units) -> Markup {
    html! {
        "land, by "
        @match &coast.title {
            Some(title) => { (sanitised(title)) }
            None => { span .path { (sanitised(&coast.path)) } }
        }
        " (" @if let Some(date) = coast.date { (date) ", " }
        (figures::doubt(units, coast.uncertainty))
        @if coast.uncertainty_source == UncertaintySource::Assumed { ", assumed" } ")"
    }
}

/// What a coast rests on, as rows of a list of facts.
pub(crate) fn facts(coast: &Coast, units: Units) -> Markup {
    let rows = [("Title", &coast.title), ("Source", &coast.source), ("Licence", &coast.licence)];
    html! {
        dl .facts {
            div { dt { "File" } dd .path { (sanitised(&coast.path)) } }
            @for (label, text) in rows {
                @if let Some(text) = text { div { dt { (label) } dd { (sanitised(text)) } } }
            }
            @if let Some(date) = coast.date { div { dt { "Surveyed" } dd { (date) } } }
            div { dt { "Uncertainty, 95\u{a0}%" } dd {
                (figures::doubt(units, coast.uncertainty))
                @if coast.uncertainty_source == UncertaintySource::Assumed { " (assumed)" }
            } }
            div { dt { "SHA-256" } dd .hash { (sanitised(&coast.sha256)) } }
        }
    }
}

/// The part of a ring within the frame, after Sutherland and Hodgman (1974): cut at one edge after another.
fn clipped_ring(ring: Vec<(f64, f64)>, height: f64) -> Vec<(f64, f64)> {
    let mut points = ring;
    for edge in edges(height) {
        let mut kept = Vec::with_capacity(points.len());
        for (number, point) in points.iter().enumerate() {
            let before = if number == 0 { points.last() } else { points.get(number - 1) };
            let Some(before) = before else { continue };
            if (edge(*before) >= 0.0) != (edge(*point) >= 0.0) {
                kept.push(between(*before, *point, edge(*before), edge(*point)));
            }
            if edge(*point) >= 0.0 {
                kept.push(*point);
            }
        }
        points = kept;
    }
    points
}

/// The pieces of a line within the frame.
fn clipped_line(line: &[(f64, f64)], height: f64) -> Vec<Vec<(f64, f64)>> {
    let mut pieces = Vec::new();
    let mut piece: Vec<(f64, f64)> = Vec::new();
    for (from, to) in line.iter().zip(line.iter().skip(1)) {
        match clipped_leg((*from, *to), height) {
            Some((from, to)) => {
                if piece.last() != Some(&from) {
                    pieces.push(std::mem::replace(&mut piece, vec![from]));
                }
                piece.push(to);
            }
            None => pieces.push(std::mem::take(&mut piece)),
        }
    }
    pieces.push(piece);
    pieces.retain(|piece| piece.len() > 1);
    pieces
}

fn clipped_leg(leg: ((f64, f64), (f64, f64)), height: f64) -> Option<((f64, f64), (f64, f64))> {
    let (mut from, mut to) = leg;
    for edge in edges(height) {
        match (edge(from) >= 0.0, edge(to) >= 0.0) {
            (true, true) => {}
            (true, false) => to = between(from, to, edge(from), edge(to)),
            (false, true) => from = between(from, to, edge(from), edge(to)),
            (false, false) => return None,
        }
    }
    Some((from, to))
}

/// How far a point lies within each edge of the frame, with a little water around so that no cut shows.
fn edges(height: f64) -> [impl Fn((f64, f64)) -> f64; 4] {
    const AROUND: f64 = 8.0;
    [0, 1, 2, 3].map(|edge| {
        move |(x, y): (f64, f64)| match edge {
            0 => x + AROUND,
            1 => WIDTH + AROUND - x,
            2 => y + AROUND,
            _ => height + AROUND - y,
        }
    })
}

/// Where a leg meets an edge, by how far its ends lie within it.
fn between(from: (f64, f64), to: (f64, f64), from_within: f64, to_within: f64) -> (f64, f64) {
    let share = from_within / (from_within - to_within);
    (from.0 + share * (to.0 - from.0), from.1 + share * (to.1 - from.1))
}
