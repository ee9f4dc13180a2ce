//! The water on the plan: false-safe, given away, and the area that was looked at.

use maud::{Markup, html};
use takeline::Position;
use takeline::transit::{TransitReport, ViewedWater, WorkingArea};

use crate::drawing::chart::{PathData, thinned, unit};
use crate::drawing::frame::Frame;
use crate::transit::words::metres;

/// The corners of the working area; several rings where it has several parts.
pub(super) fn area(report: &TransitReport) -> Vec<Vec<Position>> {
    let (line, stretch) = (&report.line, report.question.stretch);
    match &report.question.area {
        WorkingArea::Within(boundary) => boundary.outlines(),
        WorkingArea::Strip { half_width } => {
            let half_m = half_width.metres();
            let corner = |along, across_m: f64| line.beside(along, metres(across_m));
            vec![vec![
                corner(stretch.near(), -half_m),
                corner(stretch.far(), -half_m),
                corner(stretch.far(), half_m),
                corner(stretch.near(), half_m),
            ]]
        }
    }
}

fn path(rings: &[Vec<Position>], frame: &Frame) -> String {
    let mut path = PathData::default();
    for ring in rings {
        path.add(&thinned(&frame.chain(ring)), true);
    }
    path.into_text()
}

/// The hatches; each differs from those of zones by its form.
pub(super) fn hatches() -> Markup {
    html! {
        pattern #given-away width="12" height="12" patternUnits="userSpaceOnUse" {
            rect .given-wash width="12" height="12" {}
            circle .given-dot cx="3" cy="3" r="1.7" {}
            circle .given-dot cx="9" cy="9" r="1.7" {}
        }
        pattern #false-safe width="10" height="10" patternUnits="userSpaceOnUse" {
            rect .false-wash width="10" height="10" {}
            path .false-ink d="M-1 -1L11 11M-1 11L11 -1" {}
        }
    }
}

/// Both kinds of water, and the edge of what was looked at.
pub(super) fn drawing(water: &ViewedWater, area: &[Vec<Position>], frame: &Frame) -> Markup {
    html! {
        path .given-away fill="url(#given-away)" fill-rule="evenodd" d=(path(&water.forgone, frame)) {
            title { "open water given away" }
        }
        path .false-safe fill="url(#false-safe)" fill-rule="evenodd" d=(path(&water.false_clear, frame)) {
            title { "false-safe water" }
        }
        path .area d=(path(area, frame)) {}
    }
}

/// A small square with one of the hatches.
pub(super) fn swatch(hatch: &str) -> Markup {
    html! {
        svg .swatch viewBox="0 0 24 16" width="24" height="16" aria-hidden="true" {
            rect .{ (hatch) } fill={ "url(#" (hatch) ")" } x=(unit(1.0)) y="1" width="22" height="14" {}
        }
    }
}

/// The key of the edge of the water that was looked at.
pub(super) fn area_key() -> Markup {
    html! {
        svg .swatch viewBox="0 0 24 16" width="24" height="16" aria-hidden="true" {
            rect .area x="1" y="1" width="22" height="14" {}
        }
    }
}
