//! The picture of one changed zone: both lines, the water gained and the water lost.

use maud::{Markup, html};
use takeline::zone::{Extent, Zone};
use takeline::{Boundary, Position};
use takeline_drafting::editions::LineChange;

use crate::drawing::chart::{PathData, simplified, unit};
use crate::drawing::frame::{Frame, WIDTH};
use crate::drawing::graticule::{STRIP, net, numbers, strip};
use crate::drawing::label::Labels;
use crate::words::Spoken;

/// A vertex that moved gets a mark while there are no more than this.
const MOST_MARKED: usize = 40;

/// The picture of a zone whose line changed; none where one of the lines is not known.
pub(super) fn picture(
    words: Spoken<'_>,
    number: usize,
    (old, new): (&Zone, &Zone),
    line: &LineChange,
) -> Option<Markup> {
    let (Extent::Known(before), Extent::Known(now)) = (&old.extent, &new.extent) else { return None };
    let places: Vec<Position> = before.outlines().into_iter().chain(now.outlines()).flatten().collect();
    let frame = Frame::between(&places, (300.0, 620.0))?;
    let mut labels = Labels::new(frame.height);
    let water = line.water.as_ref();
    let pieces = |pieces: Option<&Vec<Vec<Vec<Position>>>>| {
        pieces
            .map(|pieces| pieces.iter().map(|piece| path(piece, &frame)).collect::<String>())
            .unwrap_or_default()
    };
    let (gained, lost) = (pieces(water.map(|water| &water.gained)), pieces(water.map(|water| &water.lost)));
    let title = format!("{}: the old line, the new line, and the water between them", new.name);
    Some(html! {
        svg .drawing role="img" aria-labelledby={ "title-" (number) } viewBox={ "0 0 " (unit(WIDTH)) " " (unit(frame.height + STRIP)) } {
            title id={ "title-" (number) } { (title) }
            defs { clipPath id={ "frame-" (number) } { rect width=(unit(WIDTH)) height=(unit(frame.height)) {} } }
            rect .sea width=(unit(WIDTH)) height=(unit(frame.height)) {}
            g clip-path={ "url(#frame-" (number) ")" } {
                (net(&frame))
                @if !gained.is_empty() { path .gained fill="url(#gained)" fill-rule="evenodd" d=(gained) {} }
                @if !lost.is_empty() { path .lost fill="url(#lost)" fill-rule="evenodd" d=(lost) {} }
                path .old-line d=(outline(before, &frame)) {}
                path .new-line d=(outline(now, &frame)) {}
                (marks(line, &frame))
                (numbers(&frame, &mut labels))
            }
            rect .neatline width=(unit(WIDTH)) height=(unit(frame.height)) {}
            (strip(&frame, words.units()))
        }
    })
}

fn path(rings: &[Vec<Position>], frame: &Frame) -> String {
    let mut path = PathData::default();
    for ring in rings {
        path.add(&simplified(&frame.chain(ring)), true);
    }
    path.into_text()
}

fn outline(boundary: &Boundary, frame: &Frame) -> String {
    path(&boundary.outlines(), frame)
}

/// Where vertices went, with their new numbers.
fn marks(line: &LineChange, frame: &Frame) -> Markup {
    let shown = if line.moved.len() <= MOST_MARKED { &line.moved[..] } else { &[] };
    html! {
        @for moved in shown {
            @let (from, to) = (frame.place(moved.from.position), frame.place(moved.to.position));
            path .went d={ "M" (unit(from.0)) " " (unit(from.1)) "L" (unit(to.0)) " " (unit(to.1)) } {}
            circle .was cx=(unit(from.0)) cy=(unit(from.1)) r="4.5" {}
            circle .is cx=(unit(to.0)) cy=(unit(to.1)) r="4.5" {}
        }
    }
}

/// The two hatches: they differ by form, by direction and by hue, so that print and every eye tells them apart.
pub(super) fn hatches() -> Markup {
    html! {
        svg .hatches width="0" height="0" aria-hidden="true" {
            defs {
                pattern #gained width="10" height="10" patternUnits="userSpaceOnUse" {
                    rect .gained-wash width="10" height="10" {}
                    path .gained-ink d="M-2 2L2 -2M-2 12L12 -2M8 12L12 8" {}
                }
                pattern #lost width="14" height="14" patternUnits="userSpaceOnUse" {
                    rect .lost-wash width="14" height="14" {}
                    circle .lost-ink cx="3.5" cy="3.5" r="2" {}
                    circle .lost-ink cx="10.5" cy="10.5" r="2" {}
                }
            }
        }
    }
}

/// What the forms mean.
pub(super) fn legend() -> Markup {
    let swatch = |class: &str| {
        html! {
            svg .swatch viewBox="0 0 28 16" width="28" height="16" aria-hidden="true" {
                rect .{ (class) } fill={ "url(#" (class) ")" } x="1" y="1" width="26" height="14" {}
            }
        }
    };
    let stroke = |class: &str| {
        html! {
            svg .swatch viewBox="0 0 28 16" width="28" height="16" aria-hidden="true" { path .(class) d="M1 8H27" {} }
        }
    };
    html! {
        ul .legend {
            li { (swatch("gained")) " new in the zone" }
            li { (swatch("lost")) " no longer in it" }
            li { (stroke("old-line")) " old line" }
            li { (stroke("new-line")) " new line" }
        }
    }
}
