//! The plan: marks, their line with its doubt, zones, and the water that the marks are wrong about.

use jiff::Timestamp;
use maud::{Markup, html};
use takeline::coast::Coast;
use takeline::transit::{TransitReport, ViewedWater, WorkingArea};
use takeline::zone::Extent;
use takeline::{Position, ZoneSet};

use super::sketch::shape;
use crate::drawing::chart::{PathData, thinned, unit};
use crate::drawing::frame::{Frame, WIDTH};
use crate::drawing::graticule::bar;
use crate::drawing::label::{LETTER_HEIGHT, Labels, text_width};
use crate::drawing::land::{self, Land};
use crate::drawing::zone_line::{self, ZoneLine};
use crate::figures::{self, Units};
use crate::lines::sanitised;
use crate::track_page::meaning::{Meaning, Standing};
use crate::transit::document::TransitDocument;
use crate::transit::phrases::{self, metres};

/// Half a sheet has no room for a higher plan, and letters have to stay readable, so every plan is as high as this.
const HEIGHT: f64 = 310.0;
/// Height of the strip below that holds scale and north.
const STRIP: f64 = 40.0;
/// Height of a mark on the plan.
const MARK_HEIGHT: f64 = 22.0;
/// Steps along the stretch at which its doubt is drawn.
const STEPS: u8 = 16;
const LONGEST_NAME: usize = 24;

/// A zone that the plan shows: what it means at the time of the question, name, ways, whether its line is known.
struct Shown<'a> {
    meaning: Meaning,
    name: &'a str,
    line: ZoneLine,
    line_known: bool,
    rings: Vec<Vec<(f64, f64)>>,
}

/// The plan and its legend; none if nothing can be drawn.
pub(super) fn figure(document: &TransitDocument<'_>, zones: &ZoneSet) -> Markup {
    let report = document.report;
    let area = if report.water.is_some() { area(report) } else { Vec::new() };
    let Some(frame) = frame(report, &area) else { return html! {} };
    let shown = shown(zones, &frame, report.question.time);
    let coasts: Vec<&Coast> =
        zones.coasts().iter().filter(|coast| Land::of(coast).is_shown(&frame)).collect();
    html! {
        figure .plan {
            (drawing(document, &frame, (&shown, &coasts), &area))
            (legend(document, &shown, &coasts))
        }
    }
}

fn frame(report: &TransitReport, area: &[Vec<Position>]) -> Option<Frame> {
    let line = &report.line;
    let mut places = vec![line.front().position, line.rear().position];
    for along in [report.question.stretch.near(), report.question.stretch.far()] {
        let doubt_m = line.uncertainty_95(along).metres();
        places.extend([-doubt_m, doubt_m].map(|across_m| line.beside(along, metres(across_m))));
    }
    places.extend(area.iter().flatten());
    Frame::between(&places, (HEIGHT, HEIGHT))
}

fn shown<'a>(zones: &'a ZoneSet, frame: &Frame, time: Option<Timestamp>) -> Vec<Shown<'a>> {
    let of_zone = |(number, zone): (usize, &'a takeline::zone::Zone)| {
        let (boundary, line_known) = match &zone.extent {
            Extent::Known(boundary) => (boundary, true),
            Extent::Unknown { somewhere_in, .. } => (somewhere_in.as_ref()?, false),
        };
        let outlines = boundary.outlines();
        let rings: Vec<_> = outlines
            .iter()
            .map(|ring| thinned(&frame.chain(ring)))
            .filter(|ring| frame.shows(ring))
            .collect();
        Some(Shown {
            meaning: Standing::at(zones, number, zone, time).meaning,
            name: &zone.name,
            line: ZoneLine::of(boundary, frame)?,
            line_known,
            rings,
        })
    };
    zones.zones().iter().enumerate().filter_map(of_zone).collect()
}

fn drawing(
    document: &TransitDocument<'_>,
    frame: &Frame,
    (zones, coasts): (&[Shown<'_>], &[&Coast]),
    area: &[Vec<Position>],
) -> Markup {
    let report = document.report;
    let land: Vec<Land> = coasts.iter().map(|coast| Land::of(coast)).collect();
    let mut labels = Labels::new(frame.height);
    let marks = marks(report, frame, &mut labels);
    let ends = ends(report, frame, &mut labels);
    let names = names(zones, &mut labels);
    html! {
        svg #plan .drawing role="img" aria-labelledby="plan-title plan-words"
            viewBox={ "0 0 " (unit(WIDTH)) " " (unit(frame.height + STRIP)) } {
            title #plan-title { "Plan of the marks and their line" }
            desc #plan-words { (described(document, zones)) }
            defs {
                @for pattern in patterns(zones) { (pattern) }
                (hatches())
                clipPath #plan-frame { rect width=(unit(WIDTH)) height=(unit(frame.height)) {} }
            }
            rect .sea width=(unit(WIDTH)) height=(unit(frame.height)) {}
            g clip-path="url(#plan-frame)" {
                @for land in &land { (land.drawing(frame)) }
                @for shown in zones {
                    path .{ "zone " (shown.meaning.class()) } fill=(shown.meaning.fill()) fill-rule="evenodd" d=(shown.line.area) {}
                }
                @if let Some(water) = &report.water { (water_drawing(water, area, frame)) }
                @for shown in zones { (shown.line.strokes(shown.meaning.class(), shown.line_known)) }
                (line(report, frame)) (marks) (ends) (names)
            }
            rect .neatline width=(unit(WIDTH)) height=(unit(frame.height)) {}
            (strip(frame, document.words.units()))
        }
    }
}

/// The hatches of the zones, those of the page of a track, each once.
fn patterns(zones: &[Shown<'_>]) -> Vec<Markup> {
    let mut classes: Vec<&str> = Vec::new();
    let mut patterns = Vec::new();
    for shown in zones {
        let class = shown.meaning.class();
        if !classes.contains(&class) {
            classes.push(class);
            patterns.push(shown.meaning.pattern(&format!("hatch-{class}")));
        }
    }
    patterns
}

/// The plan in words, for those who do not see it.
fn described(document: &TransitDocument<'_>, zones: &[Shown<'_>]) -> String {
    let (report, words) = (document.report, document.words);
    let (front, rear) = (&report.line.front().name, &report.line.rear().name);
    let zones: Vec<_> = zones.iter().map(|shown| sanitised(shown.name)).collect();
    let lies = report.opens.as_ref().map_or_else(String::new, |opens| {
        let zone = report.zones.get(opens.zone).map_or("The zone", |zone| &zone.name);
        format!(" {} lies to the {} of the line.", sanitised(zone), words.compass_point(opens.zone_lies))
    });
    format!(
        "North is up. The line runs from {} through {} and on over the water. Zones shown: {}.{lies}",
        sanitised(rear),
        sanitised(front),
        if zones.is_empty() { "none".into() } else { zones.join(", ") }
    )
}

/// The line from the rear mark on, and its doubt along the stretch, which widens seaward.
fn line(report: &TransitReport, frame: &Frame) -> Markup {
    let (line, stretch) = (&report.line, report.question.stretch);
    let edge = |side: f64| {
        let at = move |step: u8| {
            let share = f64::from(step) / f64::from(STEPS);
            let along = metres(stretch.near().metres() + share * stretch.length().metres());
            line.beside(along, metres(side * line.uncertainty_95(along).metres()))
        };
        (0..=STEPS).map(at).collect::<Vec<_>>()
    };
    let mut band = edge(1.0);
    band.extend(edge(-1.0).into_iter().rev());
    let way = |places: &[Position], closed: bool| {
        let mut path = PathData::default();
        path.add(&frame.chain(places), closed);
        path.into_text()
    };
    let [near, far] = [stretch.near(), stretch.far()].map(|along| line.at(along));
    html! {
        path .band d=(way(&band, true)) { title { "uncertainty of the line, 95 %" } }
        path .approach d=(way(&[line.rear().position, line.front().position, near], false)) {}
        path .stretch d=(way(&[near, far], false)) {}
    }
}

/// Takes room for a text beside a point: above it, where a line seldom runs, then below, then aside.
pub(super) fn beside(labels: &mut Labels, (x, y): (f64, f64), text: &str, clear: f64) -> Option<(f64, f64)> {
    // some air to the edge of the plan
    let width = text_width(text) + 16.0;
    let aside = width / 2.0 + 8.0;
    let candidates = [
        (0.0, -clear),
        (-0.6 * aside, -clear),
        (0.6 * aside, -clear),
        (-aside, -clear),
        (aside, -clear),
        (0.0, LETTER_HEIGHT),
        (aside, 0.0),
        (-aside, 0.0),
        (0.6 * aside, LETTER_HEIGHT),
        (-0.6 * aside, LETTER_HEIGHT),
        (aside, LETTER_HEIGHT),
        (-aside, LETTER_HEIGHT),
    ];
    candidates
        .into_iter()
        .map(|(right, down)| (x + right, y + down))
        .find(|at| labels.take(*at, width, LETTER_HEIGHT))
}

fn label(at: Option<(f64, f64)>, text: &str) -> Markup {
    html! {
        @if let Some((x, y)) = at { text x=(unit(x)) y=(unit(y + 6.0)) text-anchor="middle" { (text) } }
    }
}

fn marks(report: &TransitReport, frame: &Frame, labels: &mut Labels) -> Markup {
    let line = &report.line;
    let places = [("rear", line.rear()), ("front", line.front())]
        .map(|(class, mark)| (class, mark, frame.place(mark.position)));
    for (_, _, (x, y)) in &places {
        labels.take((*x, y - MARK_HEIGHT / 2.0), 24.0, MARK_HEIGHT);
    }
    html! {
        g .marks {
            @for (class, mark, (x, y)) in places {
                g .{ "mark " (class) } transform={ "translate(" (unit(x)) " " (unit(y)) ")" } { (shape(mark, MARK_HEIGHT)) }
                @let name = phrases::cut_name(&mark.name, LONGEST_NAME);
                @let at = beside(labels, (x, y), &name, MARK_HEIGHT + LETTER_HEIGHT / 2.0);
                @if at.is_some() { (label(at, &name)) } @else { (label(beside(labels, (x, y), class, 42.0), class)) }
            }
        }
    }
}

/// Strokes across the line at the ends of the stretch, and where the boat is launched.
fn ends(report: &TransitReport, frame: &Frame, labels: &mut Labels) -> Markup {
    const HALF: f64 = 9.0;
    let (line, stretch) = (&report.line, report.question.stretch);
    let across = |along, name: &'static str| {
        let (x, y) = frame.place(line.at(along));
        let (side_x, side_y) = frame.place(line.beside(along, metres(100.0)));
        let length = (side_x - x).hypot(side_y - y).max(1e-6);
        (name, (x, y), (HALF * (side_x - x) / length, HALF * (side_y - y) / length))
    };
    let launch = report.question.launch.map(|launch| frame.place(launch));
    html! {
        g .ends {
            @for (name, (x, y), (right, down)) in [across(stretch.near(), "near"), across(stretch.far(), "far")] {
                line .end-stroke x1=(unit(x - right)) y1=(unit(y - down)) x2=(unit(x + right)) y2=(unit(y + down)) {}
                (label(beside(labels, (x, y), name, 26.0), name))
            }
            @if let Some((x, y)) = launch.filter(|(x, y)| (0.0..=WIDTH).contains(x) && (0.0..=HEIGHT).contains(y)) {
                circle .launch cx=(unit(x)) cy=(unit(y)) r="6" {}
                (label(beside(labels, (x, y), "launch", 24.0), "launch"))
            }
        }
    }
}

/// Names of zones, each in the middle of what the frame shows of it, if there is room.
fn names(zones: &[Shown<'_>], labels: &mut Labels) -> Markup {
    html! {
        g .names {
            @for shown in zones {
                @let name = phrases::cut_name(shown.name, LONGEST_NAME);
                @let at = soundings(shown).into_iter().find(|at| labels.take(*at, text_width(&name) + 16.0, LETTER_HEIGHT));
                (label(at, &name))
            }
        }
    }
}

/// Where a name can stand: places of the frame inside the zone's rings, those nearest to the middle of its shown part first.
fn soundings(shown: &Shown<'_>) -> Vec<(f64, f64)> {
    const ACROSS: u8 = 15;
    const DOWN: u8 = 11;
    let share = |step: u8, of: u8| (f64::from(step) + 0.5) / f64::from(of);
    let grid = (0..DOWN).flat_map(|row| (0..ACROSS).map(move |column| (row, column)));
    let places = grid.map(|(row, column)| (WIDTH * share(column, ACROSS), HEIGHT * share(row, DOWN)));
    let mut inside: Vec<(f64, f64)> = places.filter(|place| holds(&shown.rings, *place)).collect();
    let count = inside.iter().map(|_| 1.0).sum::<f64>().max(1.0);
    let middle_x = inside.iter().map(|place| place.0).sum::<f64>() / count;
    let middle_y = inside.iter().map(|place| place.1).sum::<f64>() / count;
    let off = |place: &(f64, f64)| (place.0 - middle_x).hypot(place.1 - middle_y);
    inside.sort_by(|one, other| off(one).total_cmp(&off(other)));
    inside
}

/// Whether a point of the drawing lies inside rings, by the even-odd rule that they are filled by.
fn holds(rings: &[Vec<(f64, f64)>], (x, y): (f64, f64)) -> bool {
    let crossed = |(one, other): (&(f64, f64), &(f64, f64))| {
        (one.1 > y) != (other.1 > y) && x < one.0 + (other.0 - one.0) * (y - one.1) / (other.1 - one.1)
    };
    let edges = rings.iter().flat_map(|ring| ring.iter().zip(ring.iter().cycle().skip(1)));
    edges.filter(|edge| crossed(*edge)).count() % 2 == 1
}

/// Two scale bars and true north, below the plan.
fn strip(frame: &Frame, units: Units) -> Markup {
    let [short, long] = figures::scale_bars(units, WIDTH * 0.26 / frame.units_per_m);
    let middle = frame.height + STRIP / 2.0;
    let arrow_x = WIDTH - 18.0;
    html! {
        g .scale {
            (bar((6.0, middle), short.0 * frame.units_per_m, &short.1))
            (bar((WIDTH * 0.42, middle), long.0 * frame.units_per_m, &long.1))
            g .north {
                path d={ "M" (unit(arrow_x)) " " (unit(middle - 15.0)) "l8 30l-8 -6l-8 6z" } {}
                text x=(unit(arrow_x - 14.0)) y=(unit(middle + 8.0)) text-anchor="end" { "true N" }
            }
        }
    }
}

fn legend(document: &TransitDocument<'_>, zones: &[Shown<'_>], coasts: &[&Coast]) -> Markup {
    let (report, words) = (document.report, document.words);
    html! {
        figcaption {
            ul .legend {
                @for shown in zones {
                    li {
                        (shown.meaning.swatch()) " " (phrases::name(shown.name)) ": " (shown.meaning.label())
                        @if !shown.line_known { " (only the water around it: its boundary is not known)" }
                    }
                }
                (zone_line::keys(zones.iter().map(|shown| &shown.line)))
                @for coast in coasts { li { (land::key()) " " (land::words(coast, words.units())) } }
                li { svg .swatch viewBox="0 0 24 16" width="24" height="16" aria-hidden="true" { rect .band x="1" y="2" width="22" height="12" {} }
                    " uncertainty of the line, 95\u{a0}%" }
                @if let Some(water) = &report.water {
                    li { (swatch("false-safe")) " inside, but the marks do not show it: " (phrases::area(words, water.false_clear_m2())) }
                    li { (swatch("given-away")) " open water lost (outside, but the marks show inside): " (phrases::area(words, water.forgone_m2)) }
                    li { (area_key()) " water measured: " (phrases::area(words, water.area_m2)) }
                }
            }
        }
    }
}

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
            path .false-ink d="M0 2.5H10M0 7.5H10" {}
        }
    }
}

/// Both kinds of water, and the edge of what was looked at.
fn water_drawing(water: &ViewedWater, area: &[Vec<Position>], frame: &Frame) -> Markup {
    html! {
        path .given-away fill="url(#given-away)" fill-rule="evenodd" d=(path(&water.forgone, frame)) {
            title { "open water lost" }
        }
        path .false-safe fill="url(#false-safe)" fill-rule="evenodd" d=(path(&water.false_clear, frame)) {
            title { "inside, but the marks do not show it" }
        }
        path .measured d=(path(area, frame)) {}
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
            rect .measured x="1" y="1" width="22" height="14" {}
        }
    }
}
