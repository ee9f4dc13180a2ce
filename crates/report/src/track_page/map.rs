//! The map: zones, their lines with doubt, the track by how sure it is that the boat was inside, marks of time, what gaps let the
//! boat reach, and numbered crossings.

use std::collections::BTreeMap;

use jiff::Timestamp;
use jiff::tz::TimeZone;
use maud::{Markup, html};
use takeline::track::{Certainty, TrackPoint};
use takeline::zone::{Extent, Zone};
use takeline::{Boundary, Position};

use super::sheet::Sheet;
use crate::drawing::chart::{self, PathData, unit};
use crate::drawing::frame::{Frame, WIDTH, short_way_deg};
use crate::drawing::graticule;
use crate::drawing::label::{LETTER_HEIGHT, Labels, text_width};
use crate::lines::sanitised;
use crate::track::times::clock_minutes;

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
    let times = time_marks(way, &drawn, &sheet.clock, &mut labels);
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
                (reachable(sheet, frame))
                (Runs::cut(way, &on_map).strokes())
                (names) (ends) (times) (crossings)
                circle #map-cursor .cursor r="9" cx="0" cy="0" {}
            }
            (numbers)
            rect .neatline width=(unit(WIDTH)) height=(unit(frame.height)) {}
            (graticule::strip(frame, sheet.document.words.units()))
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

/// Minutes between marks of time.
const STEPS_MIN: [i64; 12] = [1, 2, 5, 10, 15, 30, 60, 120, 180, 360, 720, 1440];
/// How many marks of time a map has at most.
const MOST_MARKS: i64 = 12;
/// Points of the outline of what could be reached in a gap.
const OUTLINE_POINTS: u32 = 72;
/// Gaps drawn with what could be reached in them; the table has all that are listed.
const MOST_OUTLINES: usize = 200;

/// The parts of a track by standing.
#[derive(Debug, Default)]
pub(super) struct Runs {
    outside: PathData,
    possible: PathData,
    certain: PathData,
    gaps: PathData,
}

impl Runs {
    /// Cuts a drawn track where its standing changes, half way between two fixes, and where the log breaks.
    pub(super) fn cut(sketch: &[TrackPoint], drawn: &[Option<(f64, f64)>]) -> Self {
        let mut runs = Self::default();
        let mut run: Vec<(f64, f64)> = Vec::new();
        let mut before: Option<(&TrackPoint, (f64, f64))> = None;
        for (point, at) in sketch.iter().zip(drawn) {
            let joined = before.filter(|_| !point.after_break);
            match (*at, joined) {
                (Some(at), Some((last, last_at))) if last.standing == point.standing => {
                    debug_assert!(run.last() == Some(&last_at));
                    run.push(at);
                }
                (Some(at), Some((last, last_at))) => {
                    let middle = (last_at.0.midpoint(at.0), last_at.1.midpoint(at.1));
                    run.push(middle);
                    runs.finish(last.standing, &mut run);
                    run.extend([middle, at]);
                }
                (at, _) => {
                    if let Some((last, last_at)) = before {
                        runs.finish(last.standing, &mut run);
                        if let Some(at) = at {
                            runs.gaps.add(&[last_at, at], false);
                        }
                    }
                    run.extend(at);
                }
            }
            before = at.map(|at| (point, at));
        }
        if let Some((last, _)) = before {
            runs.finish(last.standing, &mut run);
        }
        runs
    }

    fn finish(&mut self, standing: Option<Certainty>, run: &mut Vec<(f64, f64)>) {
        let mut points = std::mem::take(run);
        if let [alone] = points[..] {
            points.push(alone); // a way of no length shows as a dot
        }
        let path = match standing {
            None => &mut self.outside,
            Some(Certainty::Possible) => &mut self.possible,
            Some(Certainty::Certain) => &mut self.certain,
        };
        path.add(&points, false);
    }

    /// The strokes; those that matter most lie on top.
    pub(super) fn strokes(self) -> Markup {
        html! {
            g .track {
                @for (class, path) in [
                    ("gap", self.gaps),
                    ("outside", self.outside),
                    ("possible", self.possible),
                    ("certain", self.certain),
                ] {
                    @if !path.is_empty() {
                        @let d = path.into_text();
                        @if class == "possible" || class == "certain" {
                            path .{ "casing " (class) } d=(d) {}
                        }
                        path .{ "way " (class) } d=(d) {}
                    }
                }
            }
        }
    }
}

/// What could be reached while nothing was logged.
pub(super) fn reachable(sheet: &Sheet<'_>, frame: &Frame) -> Markup {
    html! {
        g .reachable {
            @for gap in sheet.gaps().take(MOST_OUTLINES) {
                @let outline = frame.chain(&sheet.document.outline(gap, OUTLINE_POINTS));
                @if !outline.is_empty() {
                    @let mut path = PathData::default();
                    @let () = path.add(&outline, true);
                    path d=(path.into_text()) {}
                }
            }
        }
    }
}

/// Instants at which to mark the time, evenly on the clock.
pub(super) fn even_times(first: Timestamp, last: Timestamp, zone: &TimeZone, most: i64) -> Vec<Timestamp> {
    let span_s = last.as_second() - first.as_second();
    let step_s = STEPS_MIN
        .into_iter()
        .map(|minutes| minutes * 60)
        .find(|step| span_s / step <= most)
        .unwrap_or(span_s.max(1));
    // steps longer than the offset of a zone from UTC are counted on its own clock
    let offset_s = i64::from(zone.to_offset(first).seconds());
    let start_s = first.as_second() + offset_s;
    let mut at_s = start_s.div_euclid(step_s) * step_s;
    let mut times = Vec::new();
    while at_s - offset_s <= last.as_second() {
        if at_s >= start_s
            && let Ok(time) = Timestamp::from_second(at_s - offset_s)
        {
            times.push(time);
        }
        at_s += step_s;
    }
    times
}

/// Seconds from one instant to another.
pub(super) fn seconds_between(from: Timestamp, to: Timestamp) -> f64 {
    to.duration_since(from).as_secs_f64()
}

/// First and last time among the fixes drawn.
pub(super) fn times_drawn(sketch: &[TrackPoint]) -> Option<(Timestamp, Timestamp)> {
    let mut times = sketch.iter().filter_map(|point| point.fix.time);
    let first = times.next()?;
    Some(times.fold((first, first), |(low, high), time| (low.min(time), high.max(time))))
}

/// Marks of time along the track, at even speed between two fixes; none inside a gap.
pub(super) fn time_marks(
    sketch: &[TrackPoint],
    drawn: &[(f64, f64)],
    zone: &TimeZone,
    labels: &mut Labels,
) -> Markup {
    let Some((first, last)) = times_drawn(sketch) else { return html! {} };
    let marks = even_times(first, last, zone, MOST_MARKS)
        .into_iter()
        .filter_map(|time| Some((time, place_at(sketch, drawn, time)?)));
    html! {
        g .times {
            @for (time, at) in marks {
                @let label = clock_minutes(time, zone);
                @let width = text_width(&label) + 14.0;
                @let right = labels.take((at.0 + 6.0 + width / 2.0, at.1), width, LETTER_HEIGHT);
                @let left = !right && labels.take((at.0 - 6.0 - width / 2.0, at.1), width, LETTER_HEIGHT);
                circle .tick cx=(unit(at.0)) cy=(unit(at.1)) r="4" {}
                @if right { text x=(unit(at.0 + 10.0)) y=(unit(at.1 + 5.0)) { (label) } }
                @if left { text x=(unit(at.0 - 10.0)) y=(unit(at.1 + 5.0)) text-anchor="end" { (label) } }
            }
        }
    }
}

fn place_at(sketch: &[TrackPoint], drawn: &[(f64, f64)], time: Timestamp) -> Option<(f64, f64)> {
    for (pair, at) in sketch.windows(2).zip(drawn.windows(2)) {
        let (Some(before), Some(after)) = (pair[0].fix.time, pair[1].fix.time) else { continue };
        if before <= time && time <= after && !pair[1].after_break {
            let whole_s = seconds_between(before, after);
            let share = if whole_s > 0.0 { seconds_between(before, time) / whole_s } else { 0.0 };
            return Some((at[0].0 + share * (at[1].0 - at[0].0), at[0].1 + share * (at[1].1 - at[0].1)));
        }
    }
    None
}
