//! The map: zones by what they mean for the trip, their boundaries with uncertainty, and over them the track with its marks.

use std::collections::BTreeMap;

use maud::{Markup, html};
use takeline::zone::{Extent, Zone};
use takeline::{Boundary, Position};

use super::backdrop::Backdrop;
use super::marks::{self, Lettered, Room};
use super::meaning::{ALL, Meaning, Standing};
use super::sheet::Sheet;
use super::way::{self, Runs};
use crate::drawing::chart::unit;
use crate::drawing::frame::{Frame, WIDTH, short_way_deg};
use crate::drawing::graticule;
use crate::drawing::label::{LETTER_HEIGHT, text_width};
use crate::drawing::land::Land;
use crate::drawing::zone_line::ZoneLine;
use crate::lines::sanitised;

/// Places across and down at which the deepest visible inside of a zone is sought for its name.
const SOUNDINGS: u8 = 11;
/// Letters of a name on the map; the legend has the whole name.
const LONGEST_NAME: usize = 26;
/// A boundary that comes nearer than this share of the track's own extent is drawn into the frame.
const NEAR_SHARE: f64 = 0.12;
/// And any that comes nearer than so many metres.
const NEAR_M: f64 = 100.0;

/// A zone that the frame shows.
pub(super) struct Shown<'a> {
    pub(super) zone: &'a Zone,
    pub(super) standing: Standing,
    boundary: &'a Boundary,
    pub(super) line_known: bool,
    pub(super) line: ZoneLine,
    /// The middle of what the frame shows of each of its rings.
    middles: Vec<(f64, f64)>,
    /// 95 % uncertainty of its boundary as this trip met it, in metres.
    pub(super) doubt_m: Option<f64>,
}

/// The frame of a report: the track, and boundaries close beside it. Zones farther off never make the trip small.
pub(super) fn frame_of(sheet: &Sheet<'_>) -> Option<Frame> {
    let mut places: Vec<Position> = sheet.way.iter().map(|point| point.fix.position).collect();
    places.extend(sheet.document.crossings.iter().filter_map(|crossing| crossing.at.place.0));
    let bare = Frame::about(&places)?;
    let near_m = (NEAR_SHARE * WIDTH.hypot(bare.height) / bare.units_per_m).max(NEAR_M);
    let zones = sheet.document.zones().zones();
    for approach in sheet.approaches() {
        let zone = approach.zone_number.and_then(|number| zones.get(number));
        if let Some(Extent::Known(boundary)) = zone.map(|zone| &zone.extent)
            && let Some(place) = approach.at.place.0
            && approach.signed_distance.metres().abs() < near_m
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
            let line = ZoneLine::of(boundary, frame)?;
            let outlines = boundary.outlines();
            let middles = outlines.iter().filter_map(|ring| frame.middle_of(&frame.chain(ring))).collect();
            Some(Shown {
                zone,
                standing: Standing::of(sheet.document, number, zone),
                boundary,
                line_known,
                line,
                middles,
                doubt_m: doubts.get(&number).copied().filter(|_| line_known),
            })
        })
        .collect()
}

/// The largest uncertainty with which this trip met each zone's boundary, by the number of the zone.
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
        if found.is_empty() {
            // too narrow for the grid
            return self.middles.clone();
        }
        found.sort_by(|one, other| other.0.total_cmp(&one.0));
        found.into_iter().map(|(_, point)| point).collect()
    }

    fn class(&self) -> &'static str {
        self.standing.meaning.class()
    }
}

/// The drawing, without its legend, and which letters of catches it shows.
pub(super) fn drawing(
    sheet: &Sheet<'_>,
    frame: &Frame,
    zones: &[Shown<'_>],
    backdrops: &[Backdrop],
) -> (Markup, Lettered) {
    let way = &sheet.way;
    let places: Vec<Position> = way.iter().map(|point| point.fix.position).collect();
    let drawn = frame.chain(&places);
    let on_map: Vec<_> = drawn.iter().copied().map(Some).collect();
    let larger: Vec<_> = drawn.iter().copied().map(marks::enlarged).collect();
    let mut room = Room::new(frame, [way::samples(way, &drawn), way::samples(way, &larger)]);
    // what matters most takes its room first
    let loud = marks::tags(sheet, frame, &mut room, true);
    let (catches, lettered) = marks::catches(sheet, frame, &mut room);
    let ends = way::ends(&drawn);
    let numbers = graticule::numbers(frame, &mut room.whole.words);
    let (names, for_desks) = names(zones, frame, &mut room);
    let quiet = marks::tags(sheet, frame, &mut room, false);
    let for_phones = names_for_phones(zones, &for_desks, frame, &mut room);
    let times = way::time_marks(way, &drawn, &sheet.clock, &mut room.whole.words);
    let arrows = way::arrows(way, &drawn, &mut room.whole.words);
    let map = html! {
        svg #map .drawing role="group" aria-label="Map of the track and the zones near it"
            viewBox={ "0 0 " (unit(WIDTH)) " " (unit(frame.height + graticule::STRIP)) }
            data-width=(unit(WIDTH)) data-height=(unit(frame.height)) {
            defs {
                @for meaning in hatches(zones) { (meaning.pattern(&format!("hatch-{}", meaning.class()))) }
                clipPath #frame { rect width=(unit(WIDTH)) height=(unit(frame.height)) {} }
            }
            rect .sea width=(unit(WIDTH)) height=(unit(frame.height)) {}
            g clip-path="url(#frame)" {
                g #moving {
                    (graticule::net(frame))
                    @for coast in sheet.document.zones().coasts() { (Land::of(coast).drawing(frame)) }
                    @for backdrop in backdrops { (backdrop.land().drawing(frame)) }
                    (fills(zones))
                    (bands(zones, frame))
                    (outlines(zones))
                    (way::reachable(sheet, frame))
                    (Runs::cut(way, &on_map).strokes())
                    (arrows) g .names { (names) (for_phones) } (ends) (times) (catches)
                    // no dot lies on a label
                    g .crossings { (marks::dots(sheet, frame)) (quiet) (loud) }
                    circle #map-cursor .cursor r="9" cx="0" cy="0" {}
                }
                (numbers)
            }
            rect .neatline width=(unit(WIDTH)) height=(unit(frame.height)) {}
            (graticule::strip(frame, sheet.document.words.units()))
        }
    };
    (map, lettered)
}

/// What the zones shown mean, each once, in the order of the legend.
pub(super) fn meanings(zones: &[Shown<'_>]) -> impl Iterator<Item = Meaning> {
    ALL.into_iter().filter(|meaning| zones.iter().any(|shown| shown.standing.meaning == *meaning))
}

/// Meanings with hatches that differ: the two kinds of no law have the same.
fn hatches(zones: &[Shown<'_>]) -> Vec<Meaning> {
    let mut hatches: Vec<Meaning> = meanings(zones).collect();
    hatches.dedup_by_key(|meaning| meaning.class());
    hatches
}

fn fills(zones: &[Shown<'_>]) -> Markup {
    html! {
        @for shown in zones {
            path .{ "zone " (shown.class()) } fill=(shown.standing.meaning.fill()) fill-rule="evenodd" d=(shown.line.area) {
                title { (sanitised(&shown.zone.name)) ": " (shown.standing.meaning.label()) (shown.standing.remark()) }
            }
        }
    }
}

/// The uncertainty of each boundary that the boat met, as wide as it is on this scale: half on each side. A shore has none: no
/// boat crosses it.
fn bands(zones: &[Shown<'_>], frame: &Frame) -> Markup {
    html! {
        @for shown in zones {
            @if let Some(doubt_m) = shown.doubt_m && !shown.line.open.is_empty() {
                path .doubt stroke-width=(unit(2.0 * doubt_m * frame.units_per_m)) d=(shown.line.open) {}
            }
        }
    }
}

fn outlines(zones: &[Shown<'_>]) -> Markup {
    html! {
        @for shown in zones {
            (shown.line.strokes(shown.class(), shown.line_known))
        }
    }
}

/// The name of each zone, with its meaning beneath where there is room for both; never the meaning alone, which hatch and legend
/// have. What finds no room for letters of a phone may find it for those of a desk, or on the map drawn larger.
fn names(zones: &[Shown<'_>], frame: &Frame, room: &mut Room) -> (Markup, Vec<usize>) {
    let mut for_desks = Vec::new();
    let drawn = html! {
        @for (number, shown) in zones.iter().enumerate() {
            @let name = short_name(&shown.zone.name);
            @let label = shown.standing.meaning.label();
            @if let Some(Named { at, has_meaning, class }) = place(room, &shown.soundings(frame), &name, label) {
                @if class == "desk" { @let () = for_desks.push(number); }
                (marks::pin(at, &html! {
                    g .(class) {
                        text y=(if has_meaning { "-.2em" } else { ".35em" }) text-anchor="middle" { (name) }
                        @if has_meaning { text .meaning y=".9em" text-anchor="middle" { (label) } }
                    }
                }))
            }
        }
    };
    (drawn, for_desks)
}

/// Names of zones that found room for letters of a desk alone: a phone shows them where all else leaves room, over the track if need be.
fn names_for_phones(zones: &[Shown<'_>], for_desks: &[usize], frame: &Frame, room: &mut Room) -> Markup {
    html! {
        @for shown in for_desks.iter().filter_map(|number| zones.get(*number)) {
            @let name = short_name(&shown.zone.name);
            @let size = (text_width(&name), LETTER_HEIGHT);
            @let places = shown.soundings(frame);
            @if let Some(at) = places.iter().find(|at| room.whole.take(**at, size, false)) {
                (marks::pin(*at, &html! { text .phone y=".35em" text-anchor="middle" { (name) } }))
            }
        }
    }
}

/// Where a name stands, whether its meaning stands beneath, and on which maps.
struct Named {
    at: (f64, f64),
    has_meaning: bool,
    class: &'static str,
}

/// The first of these places with room for name and meaning, else for the name; clear of the track if it can be.
fn place(room: &mut Room, places: &[(f64, f64)], name: &str, label: &str) -> Option<Named> {
    /// Letters of a desk beside those of a phone.
    const SMALLER: f64 = 0.6;
    let both = (text_width(name).max(text_width(label)), 2.0 * LETTER_HEIGHT);
    let alone = (text_width(name), LETTER_HEIGHT);
    let smaller = |(width, height): (f64, f64)| (SMALLER * width, SMALLER * height);
    let tries = [
        (both, true, "all"),
        (alone, false, "all"),
        (smaller(both), true, "desk"),
        (smaller(alone), false, "desk"),
    ];
    let mut found = None;
    for off_track in [true, false] {
        for (size, has_meaning, class) in tries {
            if found.is_none() {
                found = places
                    .iter()
                    .find(|at| room.whole.take(**at, size, off_track))
                    .map(|at| (size, Named { at: *at, has_meaning, class }));
            }
        }
    }
    if let Some((size, named)) = found {
        room.near.take(marks::enlarged(named.at), size, false);
        return Some(named);
    }
    [(both, true), (alone, false)].into_iter().find_map(|(size, has_meaning)| {
        let at = places.iter().find(|at| room.near.take(marks::enlarged(**at), size, false))?;
        Some(Named { at: *at, has_meaning, class: "near" })
    })
}

fn short_name(name: &str) -> String {
    let name = sanitised(name);
    if name.chars().count() <= LONGEST_NAME {
        return name.into_owned();
    }
    let kept: String = name.chars().take(LONGEST_NAME - 1).collect();
    format!("{}…", kept.trim_end())
}
