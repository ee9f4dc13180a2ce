//! Meridians and parallels with their degrees and minutes, scale bars and north.

use maud::{Markup, html};

use super::chart::unit;
use super::frame::{Frame, WIDTH, short_way_deg};
use super::label::{LETTER_HEIGHT, Labels, text_width};
use crate::figures::{self, Units};

/// Steps between lines, in hundredths of a minute.
const STEPS: [i32; 18] =
    [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 3000, 6000, 12_000, 30_000, 60_000, 180_000, 300_000];
const HUNDREDTHS_PER_DEGREE: f64 = 6000.0;
/// Not more lines than this across the frame, so that a phone has room for their numbers.
const MOST_LINES: f64 = 4.5;
/// Height of the strip below the map that holds scale and north.
pub(crate) const STRIP: f64 = 84.0;

/// A line of the graticule: its number and its label.
struct Line {
    degrees: f64,
    label: String,
}

fn lines((low_deg, high_deg): (f64, f64), letters: [char; 2], wraps: bool) -> Vec<Line> {
    let (low, high) = (low_deg * HUNDREDTHS_PER_DEGREE, high_deg * HUNDREDTHS_PER_DEGREE);
    let step =
        STEPS.into_iter().find(|step| (high - low) / f64::from(*step) <= MOST_LINES).unwrap_or(600_000);
    let mut found = Vec::new();
    let mut at = (low / f64::from(step)).ceil() * f64::from(step);
    while at <= high {
        let degrees = at / HUNDREDTHS_PER_DEGREE;
        let named = if wraps { short_way_deg(degrees) } else { degrees };
        found.push(Line { degrees, label: degrees_and_minutes(named, step, letters) });
        at += f64::from(step);
    }
    found
}

/// `45°07.5'N`, with as many decimals as the step between lines needs.
fn degrees_and_minutes(degrees: f64, step: i32, [positive, negative]: [char; 2]) -> String {
    let decimals: usize = if step % 100 == 0 {
        0
    } else if step % 10 == 0 {
        1
    } else {
        2
    };
    let width = if decimals == 0 { 2 } else { decimals + 3 };
    let hundredths = (degrees.abs() * HUNDREDTHS_PER_DEGREE).round();
    let whole = (hundredths / HUNDREDTHS_PER_DEGREE).floor();
    let minutes = (hundredths - whole * HUNDREDTHS_PER_DEGREE) / 100.0;
    let letter = if degrees < 0.0 { negative } else { positive };
    format!("{whole:.0}°{minutes:0width$.decimals$}'{letter}")
}

fn parallels(frame: &Frame) -> Vec<(f64, String)> {
    let [latitudes, _] = frame.edges_deg();
    let seen = (latitudes.0.max(-90.0), latitudes.1.min(90.0));
    let at = |line: Line| (frame.at_degrees(line.degrees, 0.0).1, line.label);
    lines(seen, ['N', 'S'], false).into_iter().map(at).collect()
}

fn meridians(frame: &Frame) -> Vec<(f64, String)> {
    let [latitudes, (west_deg, east_deg)] = frame.edges_deg();
    let middle_deg = frame.middle_longitude_deg();
    // close to a pole the frame is wider than all meridians together
    let seen = (west_deg.max(-180.0) + middle_deg, east_deg.min(180.0) + middle_deg);
    let at = |line: Line| (frame.at_degrees(latitudes.0, line.degrees - middle_deg).0, line.label);
    lines(seen, ['E', 'W'], true).into_iter().map(at).collect()
}

/// The lines, to lie under everything.
pub(crate) fn net(frame: &Frame) -> Markup {
    html! {
        g .graticule {
            @for (y, _) in parallels(frame) {
                line x1="0" x2=(unit(WIDTH)) y1=(unit(y)) y2=(unit(y)) {}
            }
            @for (x, _) in meridians(frame) {
                line x1=(unit(x)) x2=(unit(x)) y1="0" y2=(unit(frame.height)) {}
            }
        }
    }
}

/// Their numbers, to lie over everything: latitudes on the left edge, longitudes on the upper one. They take their room.
pub(crate) fn numbers(frame: &Frame, labels: &mut Labels) -> Markup {
    // the upper left corner would hold both
    let high = |y: &f64| *y > 2.2 * LETTER_HEIGHT && *y < frame.height - 4.0;
    let wide = |x: &f64| *x > 70.0 && *x < WIDTH - 70.0;
    let mut free = |x: f64, y: f64, label: &str| labels.take((x, y), text_width(label), LETTER_HEIGHT);
    html! {
        g .numbers {
            @for (y, label) in parallels(frame).into_iter().filter(|(y, _)| high(y)) {
                @if free(4.0 + text_width(&label) / 2.0, y - 12.0, &label) {
                    text x="6" y=(unit(y - 5.0)) data-y=(unit(y)) { (label) }
                }
            }
            @for (x, label) in meridians(frame).into_iter().filter(|(x, _)| wide(x)) {
                @if free(x, 14.0, &label) { text x=(unit(x)) y="22" text-anchor="middle" data-x=(unit(x)) { (label) } }
            }
        }
    }
}

/// How many times as large a script may draw the map: 16, in doublings.
const DOUBLINGS: u8 = 4;

/// Two scale bars and an arrow to true north, below the map.
///
/// There are bars for the whole map and for each doubling of it. A script that draws the map larger shows those that fit and
/// stretches them; without one, only the first are seen.
pub(crate) fn strip(frame: &Frame, units: Units) -> Markup {
    let top = frame.height;
    let arrow_x = WIDTH - 40.0;
    html! {
        g .scale {
            @for doubling in 0..=DOUBLINGS { (bars(frame, units, doubling)) }
            g .north {
                path d={ "M" (unit(arrow_x)) " " (unit(top + 12.0)) "l12 58l-12 -12l-12 12z" } {}
                text x=(unit(arrow_x - 20.0)) y=(unit(top + 50.0)) text-anchor="end" { "N (true)" }
            }
        }
    }
}

fn bars(frame: &Frame, units: Units, doubling: u8) -> Markup {
    /// A bar is no longer than this share of the map, and twice that before the next doubling.
    const LONGEST: f64 = 0.3;
    let times = 2_f64.powi(i32::from(doubling));
    let bars = figures::scale_bars(units, WIDTH * LONGEST / times / frame.units_per_m);
    html! {
        g .level.off[doubling > 0] data-level=(doubling) {
            @for (y, (length_m, label)) in [24.0, 60.0].into_iter().zip(bars) {
                g .bar data-length=(format!("{:.4}", length_m * frame.units_per_m)) {
                    (bar((10.0, frame.height + y), length_m * frame.units_per_m * times, &label))
                }
            }
        }
    }
}

/// A scale bar from a point to the right, its label behind it.
pub(crate) fn bar((x, y): (f64, f64), length: f64, label: &str) -> Markup {
    let half = length / 2.0;
    html! {
        rect x=(unit(x)) y=(unit(y - 5.0)) width=(unit(half)) height="10" .filled {}
        rect x=(unit(x + half)) y=(unit(y - 5.0)) width=(unit(half)) height="10" .open {}
        text x=(unit(x + 10.0 + length)) y=(unit(y + 8.0)) { (label) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_named_in_degrees_and_minutes() {
        assert_eq!(degrees_and_minutes(45.125, 50, ['N', 'S']), "45°07.5'N");
        assert_eq!(degrees_and_minutes(-30.0, 100, ['E', 'W']), "30°00'W");
        assert_eq!(degrees_and_minutes(0.000_5, 1, ['E', 'W']), "0°00.03'E");
    }

    #[test]
    fn meridians_beyond_180_degrees_are_named_from_the_other_side() {
        let labels: Vec<String> =
            lines((179.9, 180.15), ['E', 'W'], true).into_iter().map(|line| line.label).collect();
        assert_eq!(labels, ["179°55'E", "180°00'W", "179°55'W"]);
    }
}
