//! The map: zones, their lines with doubt, the track, what gaps let the boat reach, and numbered crossings.

use std::collections::BTreeMap;

use maud::{Markup, html};
use takeline::zone::{Extent, Zone};
use takeline::{Boundary, Position};

use super::map_track::{self, Stretches};
use super::sheet::Sheet;
use crate::drawing::chart::{self, PathData, unit};
use crate::drawing::frame::{Frame, WIDTH, short_way_deg};
use crate::drawing::graticule;
use crate::drawing::label::{LETTER_HEIGHT, Labels, text_width};
use crate::lines::sanitised;

/// Side of the badge of a crossing as a phone shows it.
const BADGE: f64 = 38.0;
/// Places across and down at which the deepest visible inside of a zone is sought for its name.
const SOUNDINGS: u8 = 11;
/// Letters of a name on the map; the legend has the whole name.
const LONGEST_NAME: usize = 26;

/// A zone that the frame shows.
pub(super) struct Shown<'a> {
    pub(super) number: usize,
    pub(super) zone: &'a Zone,
    boundary: &'a Boundary,
    pub(super) line_known: bool,
    rings: Vec<Vec<(f64, f64)>>,
    /// 95 % doubt of the line as this trip met it, in metres.
    pub(super) doubt_m: Option<f64>,
}

/// The frame of a report: the track, what gaps let it reach near by, and the nearest lines if they are not far.
pub(super) fn frame_of(sheet: &Sheet<'_>) -> Option<Frame> {
    let mut places: Vec<Position> = sheet.way.iter().map(|point| point.fix.position).collect();
    places.extend(sheet.document.crossings.iter().filter_map(|crossing| crossing.at.place.0));
    let bare = Frame::about(&places)?;
    let extent_m = (WIDTH.hypot(bare.height)) / bare.units_per_m;
    let zones = sheet.document.zones().zones();
    for approach in sheet.approaches() {
        let zone = approach.zone_number.and_then(|number| zones.get(number));
        if let Some(Extent::Known(boundary)) = zone.map(|zone| &zone.extent)
            && let Some(place) = approach.at.place.0
            && approach.signed_distance.metres().abs() < extent_m.max(500.0)
        {
            places.push(boundary.locate(place).nearest);
        }
    }
    Frame::about(&places)
}

/// The zones that the frame shows, in the order of the set.
pub(super) fn shown<'a>(sheet: &Sheet<'a>, frame: &Frame) -> Vec<Shown<'a>> {
    let doubts = line_doubts(sheet);
    let zones = sheet.document.zones().zones().iter().enumerate();
    zones
        .filter_map(|(number, zone)| {
            let (boundary, line_known) = match &zone.extent {
                Extent::Known(boundary) => (boundary, true),
                Extent::Unknown { somewhere_in, .. } => (somewhere_in.as_ref()?, false),
            };
            let rings: Vec<_> = boundary
                .outlines()
                .iter()
                .map(|ring| chart::thinned(&frame.chain(ring)))
                .filter(|ring| frame.shows(ring))
                .collect();
            let doubt_m = doubts.get(&number).copied().filter(|_| line_known);
            (!rings.is_empty()).then_some(Shown { number, zone, boundary, line_known, rings, doubt_m })
        })
        .collect()
}

/// The largest doubt with which this trip met each zone's line, by the number of the zone.
fn line_doubts(sheet: &Sheet<'_>) -> BTreeMap<usize, f64> {
    let mut doubts = BTreeMap::new();
    let visits = sheet.document.visits.iter();
    let of_visits = visits.map(|visit| (Some(visit.zone_number), visit.deepest_uncertainty_95));
    let of_approaches = sheet.approaches().map(|approach| (approach.zone_number, approach.uncertainty_95));
    for (number, doubt) in of_visits.chain(of_approaches) {
        if let Some(number) = number {
            let largest = doubts.entry(number).or_insert(0.0_f64);
            *largest = largest.max(doubt.metres());
        }
    }
    doubts
}

impl Shown<'_> {
    fn path(&self) -> String {
        let mut path = PathData::default();
        for ring in &self.rings {
            path.add(ring, true);
        }
        path.into_text()
    }

    /// Where its name can stand: the deepest places of it that the frame shows, deepest first.
    fn soundings(&self, frame: &Frame) -> Vec<(f64, f64)> {
        let [(south_deg, north_deg), (west_deg, east_deg)] = frame.edges_deg();
        let share = |step: u8| (f64::from(step) + 0.5) / f64::from(SOUNDINGS);
        let mut found = Vec::new();
        for (row, column) in (0..SOUNDINGS).flat_map(|row| (0..SOUNDINGS).map(move |column| (row, column))) {
            let latitude_deg = south_deg + share(row) * (north_deg - south_deg);
            let off_deg = west_deg + share(column) * (east_deg - west_deg);
            let longitude_deg = short_way_deg(frame.middle_longitude_deg() + off_deg);
            if let Ok(place) = Position::from_degrees(latitude_deg, longitude_deg) {
                let inside_m = -self.boundary.locate(place).signed_distance.metres();
                if inside_m > 0.0 {
                    found.push((inside_m, frame.at_degrees(latitude_deg, off_deg)));
                }
            }
        }
        found.sort_by(|one, other| other.0.total_cmp(&one.0));
        found.into_iter().map(|(_, point)| point).collect()
    }
}

/// The drawing, without its legend.
pub(super) fn drawing(sheet: &Sheet<'_>, frame: &Frame, zones: &[Shown<'_>]) -> Markup {
    let way = &sheet.way;
    let places: Vec<Position> = way.iter().map(|point| point.fix.position).collect();
    let drawn = frame.chain(&places);
    let on_map: Vec<_> = drawn.iter().copied().map(Some).collect();
    let mut labels = Labels::new(frame.height);
    // what matters most takes its room first
    let crossings = crossings(sheet, frame, &mut labels);
    let ends = ends(&drawn);
    let times = map_track::time_marks(way, &drawn, &sheet.clock, &mut labels);
    let numbers = graticule::numbers(frame, &mut labels);
    let names = names(zones, frame, &mut labels);
    html! {
        svg #map .drawing role="group" aria-label="Map of the track and the zones near it"
            viewBox={ "0 0 " (unit(WIDTH)) " " (unit(frame.height + graticule::STRIP)) } {
            defs {
                @for shown in zones { (chart::hatch(shown.number)) }
                clipPath #frame { rect width=(unit(WIDTH)) height=(unit(frame.height)) {} }
            }
            rect .sea width=(unit(WIDTH)) height=(unit(frame.height)) {}
            g clip-path="url(#frame)" {
                (graticule::net(frame))
                (fills(zones))
                (bands(zones, frame))
                (outlines(zones))
                (map_track::reachable(sheet, frame))
                (Stretches::cut(way, &on_map).strokes())
                (names) (ends) (times) (crossings)
                circle #map-cursor .cursor r="9" cx="0" cy="0" {}
            }
            (numbers)
            rect .neatline width=(unit(WIDTH)) height=(unit(frame.height)) {}
            (graticule::strip(frame))
        }
    }
}

fn fills(zones: &[Shown<'_>]) -> Markup {
    html! {
        @for shown in zones {
            path .{ "zone " (chart::hue(shown.number)) } fill=(chart::hatch_fill(shown.number)) fill-rule="evenodd" d=(shown.path()) {
                title { (sanitised(&shown.zone.name)) }
            }
        }
    }
}

/// The doubt of each line that the boat met, as wide as it is on this scale: half on each side of the line.
fn bands(zones: &[Shown<'_>], frame: &Frame) -> Markup {
    html! {
        @for shown in zones {
            @if let Some(doubt_m) = shown.doubt_m {
                path .{ "doubt " (chart::hue(shown.number)) } stroke-width=(unit(2.0 * doubt_m * frame.units_per_m)) d=(shown.path()) {}
            }
        }
    }
}

fn outlines(zones: &[Shown<'_>]) -> Markup {
    html! {
        @for shown in zones {
            path .{ "line " (chart::hue(shown.number)) } .unknown[!shown.line_known] d=(shown.path()) {}
        }
    }
}

fn names(zones: &[Shown<'_>], frame: &Frame, labels: &mut Labels) -> Markup {
    html! {
        g .names {
            @for shown in zones {
                @let name = short_name(&shown.zone.name);
                @let width = text_width(&name);
                @let free = shown.soundings(frame).into_iter().find(|at| labels.take(*at, width, LETTER_HEIGHT));
                @if let Some((x, y)) = free {
                    text x=(unit(x)) y=(unit(y + 6.0)) text-anchor="middle" { (name) }
                }
            }
        }
    }
}

fn short_name(name: &str) -> String {
    let name = sanitised(name);
    if name.chars().count() <= LONGEST_NAME {
        return name.into_owned();
    }
    let kept: String = name.chars().take(LONGEST_NAME - 1).collect();
    format!("{}…", kept.trim_end())
}

fn ends(drawn: &[(f64, f64)]) -> Markup {
    html! {
        g .ends {
            @if let [first, .., last] = drawn {
                circle .start cx=(unit(first.0)) cy=(unit(first.1)) r="7" { title { "first fix" } }
                rect .end x=(unit(last.0 - 6.0)) y=(unit(last.1 - 6.0)) width="12" height="12" { title { "last fix" } }
            }
        }
    }
}

fn crossings(sheet: &Sheet<'_>, frame: &Frame, labels: &mut Labels) -> Markup {
    html! {
        g .crossings {
            @for (number, position) in sheet.numbered_crossings() {
                @let at = frame.place(position);
                @let badge = labels.beside(at, BADGE);
                line x1=(unit(at.0)) y1=(unit(at.1)) x2=(unit(badge.0)) y2=(unit(badge.1)) {}
                circle .spot cx=(unit(at.0)) cy=(unit(at.1)) r="4" {}
                a href={ "#crossing-" (number) } aria-label={ "crossing " (number) } {
                    circle .badge cx=(unit(badge.0)) cy=(unit(badge.1)) r="12" {}
                    text x=(unit(badge.0)) y=(unit(badge.1)) text-anchor="middle" dominant-baseline="central" { (number) }
                }
            }
        }
    }
}
