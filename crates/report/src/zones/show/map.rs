//! The map of one zone: its line, the numbers of its corners, its neighbours, the coast.

use maud::{Markup, html};
use takeline::coast::Coast;
use takeline::zone::{Extent, Zone};
use takeline::{Boundary, Position};
use takeline_drafting::survey::GeoBox;

use super::document::{ShownVertexDocument, ShownZoneDocument};
use crate::drawing::chart::unit;
use crate::drawing::frame::{Frame, WIDTH, short_way_deg};
use crate::drawing::graticule;
use crate::drawing::label::{LETTER_HEIGHT, Labels, text_width};
use crate::drawing::land::{self, Land};
use crate::drawing::zone_line::{self, ZoneLine};
use crate::lines::sanitised;
use crate::words::Spoken;

/// How far from its corner a number may stand.
const REACHES: [f64; 3] = [20.0, 34.0, 54.0];
/// Corners that have a dot, labelled or not.
const MOST_DOTS: usize = 200;
/// Of more corners than these, not all along a shore are numbered.
const MOST_NUMBERED: usize = 60;
/// Neighbours that are drawn.
const MOST_NEIGHBOURS: usize = 40;
/// Letters of a neighbour's name.
const LONGEST_NAME: usize = 22;

/// Another zone of the file: its line, and where its name may stand.
type Neighbour<'z> = (&'z Zone, ZoneLine, (f64, f64));

/// All zones of a file, each with the box that holds it.
pub(super) struct Neighbourhood<'z> {
    zones: Vec<(&'z Zone, &'z Boundary, GeoBox)>,
}

impl<'z> Neighbourhood<'z> {
    pub(super) fn of(zones: &'z [Zone]) -> Self {
        let known = zones.iter().filter_map(|zone| match &zone.extent {
            Extent::Known(boundary) => Some((zone, boundary, boundary.outlines())),
            Extent::Unknown { .. } => None,
        });
        let boxed = |(zone, boundary, outlines): (&'z Zone, &'z Boundary, Vec<Vec<Position>>)| {
            (zone, boundary, GeoBox::about(outlines.iter().flatten()))
        };
        Self { zones: known.map(boxed).collect() }
    }

    /// The others that a frame shows, and how many more there are.
    fn shown(&self, own: &Zone, frame: &Frame) -> (Vec<Neighbour<'z>>, usize) {
        let others = self.zones.iter().filter(|(zone, ..)| zone.id != own.id);
        let near = others.filter(|(_, _, about)| may_show(frame, about));
        let mut shown = near.filter_map(|(zone, boundary, _)| {
            let line = ZoneLine::of(boundary, frame)?;
            let outlines = boundary.outlines();
            let middle = outlines.iter().find_map(|ring| frame.middle_of(&frame.chain(ring)));
            Some((*zone, line, middle.unwrap_or((-1.0, -1.0))))
        });
        let drawn = shown.by_ref().take(MOST_NEIGHBOURS).collect();
        (drawn, shown.count())
    }
}

/// Whether a box may reach into a frame.
fn may_show(frame: &Frame, about: &GeoBox) -> bool {
    let [(south_deg, north_deg), (west_deg, east_deg)] = frame.edges_deg();
    let width_deg = about.east_deg - about.west_deg;
    let width_deg = if width_deg < 0.0 { width_deg + 360.0 } else { width_deg };
    let from_deg = short_way_deg(about.west_deg - frame.middle_longitude_deg());
    let crosses = from_deg <= east_deg && from_deg + width_deg >= west_deg;
    let crosses_round = from_deg + 360.0 <= east_deg || from_deg + width_deg - 360.0 >= west_deg;
    about.south_deg <= north_deg && about.north_deg >= south_deg && (crosses || crosses_round)
}

/// The map of one zone with its legend; none where nothing of it can be drawn.
pub(super) fn figure(
    (number, shown): (usize, &ShownZoneDocument<'_>),
    neighbourhood: &Neighbourhood<'_>,
    coasts: &[Coast],
    words: Spoken<'_>,
) -> Option<Markup> {
    let (boundary, is_known) = match &shown.zone.extent {
        Extent::Known(boundary) => (boundary, true),
        Extent::Unknown { somewhere_in, .. } => (somewhere_in.as_ref()?, false),
    };
    let places: Vec<Position> = boundary.outlines().into_iter().flatten().collect();
    let frame = Frame::about(&places)?;
    let line = ZoneLine::of(boundary, &frame)?;
    let (neighbours, more) = neighbourhood.shown(shown.zone, &frame);
    let mut room = Labels::new(frame.height);
    let numbers = graticule::numbers(&frame, &mut room);
    let (corners, unlabelled) = corners(&shown.vertices, &frame, &mut room);
    let names = names(&neighbours, &mut room);
    let clip = format!("frame-{number}");
    let land: Vec<Land> = coasts.iter().map(Land::of).collect();
    Some(html! {
        figure .map {
            svg .drawing role="img" aria-label={ "Map of " (sanitised(shown.name)) }
                viewBox={ "0 0 " (unit(WIDTH)) " " (unit(frame.height + graticule::STRIP)) } {
                defs { clipPath id=(clip) { rect width=(unit(WIDTH)) height=(unit(frame.height)) {} } }
                rect .sea width=(unit(WIDTH)) height=(unit(frame.height)) {}
                g clip-path={ "url(#" (clip) ")" } {
                    (graticule::net(&frame))
                    @for land in &land { (land.drawing(&frame)) }
                    g .idle { @for (zone, line, _) in &neighbours {
                        path .neighbour fill-rule="evenodd" d=(line.area) { title { (sanitised(&zone.name)) } }
                        (line.strokes("idle", true))
                    } }
                    path .own.closed fill-rule="evenodd" d=(line.area) {}
                    (line.strokes("closed", is_known))
                    g .names { (names) }
                    g .corners { (corners) }
                    (numbers)
                }
                rect .neatline width=(unit(WIDTH)) height=(unit(frame.height)) {}
                (graticule::strip(&frame, words.units()))
            }
            figcaption {
                @if !is_known { p { "Its boundary is not known: it lies somewhere in here." } }
                @if unlabelled > 0 { p { (unlabelled) " of its " (shown.corners) " corners have no number on the map; the table has them all in order." } }
                ul .legend {
                    (zone_line::keys(std::iter::once(&line)))
                    @for (coast, land) in coasts.iter().zip(&land) {
                        @if land.is_shown(&frame) { li { (land::key()) " " (land::words(coast, words.units())) } }
                    }
                    @if !neighbours.is_empty() { li { (neighbour_key()) " other zones of this file"
                        @if more > 0 { " (" (more) " more are not drawn)" } } }
                    @if coasts.is_empty() { li { "no coast was given (--coast)" } }
                }
            }
        }
    })
}

fn neighbour_key() -> Markup {
    html! {
        svg .swatch viewBox="0 0 24 16" width="24" height="16" aria-hidden="true" {
            g .idle { rect .{ "zone idle" } fill="none" x="1" y="2" width="22" height="12" {} }
        }
    }
}

/// Dots and numbers of corners, and how many have no number.
fn corners(vertices: &[ShownVertexDocument], frame: &Frame, room: &mut Labels) -> (Markup, usize) {
    const DOT: f64 = 10.0;
    let places: Vec<(f64, f64)> = vertices.iter().map(|corner| frame.place(corner.position)).collect();
    let has_all_dots = vertices.len() <= MOST_DOTS;
    if has_all_dots {
        // numbers keep off the dots; dots that meet are drawn all the same
        for place in &places {
            room.take(*place, DOT, DOT);
        }
    }
    let middle = middle(&places);
    let mut beside: Vec<Option<(f64, f64)>> = vec![None; vertices.len()];
    for at in in_order_of_weight(vertices) {
        let (Some(corner), Some(place), Some(beside)) =
            (vertices.get(at), places.get(at), beside.get_mut(at))
        else {
            continue;
        };
        let width = text_width(&corner.name) + 4.0;
        *beside = outward(*place, middle).into_iter().find(|at| room.take(*at, width, LETTER_HEIGHT));
    }
    let labelled: Vec<_> = vertices
        .iter()
        .zip(places)
        .zip(beside)
        .map(|((corner, place), beside)| (corner.name.clone(), place, beside))
        .collect();
    let unlabelled = labelled.iter().filter(|(_, _, beside)| beside.is_none()).count();
    let drawn = html! {
        @for (label, (x, y), beside) in &labelled {
            @if let Some((to_x, to_y)) = beside {
                @if (to_x - x).hypot(to_y - y) > 40.0 { line x1=(unit(*x)) y1=(unit(*y)) x2=(unit(*to_x)) y2=(unit(*to_y)) {} }
            }
            @if has_all_dots || beside.is_some() { circle .corner r="3.5" cx=(unit(*x)) cy=(unit(*y)) {} }
            @if let Some((to_x, to_y)) = beside {
                text x=(unit(*to_x)) y=(unit(*to_y)) text-anchor="middle" dominant-baseline="central" { (sanitised(label)) }
            }
        }
    };
    (drawn, unlabelled)
}

/// The corners to number, those first that a law prints: where a line over water begins or ends. Of many others, only each tenth.
fn in_order_of_weight(vertices: &[ShownVertexDocument]) -> Vec<usize> {
    let is_printed = |at: usize| {
        let before = at.checked_sub(1).unwrap_or(vertices.len().saturating_sub(1));
        let sides = [vertices.get(before), vertices.get(at)];
        sides.into_iter().flatten().any(|corner| corner.to_next.side.is_crossable())
    };
    let is_few = vertices.len() <= MOST_NUMBERED;
    let (printed, others): (Vec<usize>, Vec<usize>) = (0..vertices.len()).partition(|at| is_printed(*at));
    let others = others.into_iter().filter(|at| is_few || (at + 1).is_multiple_of(10));
    printed.into_iter().chain(others).collect()
}

fn middle(places: &[(f64, f64)]) -> (f64, f64) {
    let (mut x, mut y, mut count) = (0.0, 0.0, 0.0_f64);
    for place in places {
        x += place.0;
        y += place.1;
        count += 1.0;
    }
    (x / count.max(1.0), y / count.max(1.0))
}

/// Places for a number about a corner: away from the middle of the zone first.
fn outward((x, y): (f64, f64), middle: (f64, f64)) -> Vec<(f64, f64)> {
    const TURNS: [f64; 8] = [0.0, 0.7, -0.7, 1.4, -1.4, 2.1, -2.1, 3.1];
    let away = (y - middle.1).atan2(x - middle.0);
    let at = |reach: f64, turn: f64| (x + reach * (away + turn).cos(), y + reach * (away + turn).sin());
    REACHES.into_iter().flat_map(|reach| TURNS.into_iter().map(move |turn| at(reach, turn))).collect()
}

/// The names of neighbours that find room.
fn names(neighbours: &[Neighbour<'_>], room: &mut Labels) -> Markup {
    html! {
        @for (zone, _, (x, y)) in neighbours {
            @let name: String = sanitised(&zone.name).chars().take(LONGEST_NAME).collect();
            @if room.take((*x, *y), text_width(&name), LETTER_HEIGHT) {
                text x=(unit(*x)) y=(unit(*y)) text-anchor="middle" dominant-baseline="central" { (name) }
            }
        }
    }
}
