//! Marks on the map with their labels: crossings by the number of their visit, catches by their letter.
//!
//! A mark keeps its size while the map is drawn larger. What finds no room on the whole map is labelled once the map is drawn
//! [`NEAR`] times as large, or not at all: its dot stays, and the lists below have it.

use maud::{Markup, html};

use super::sheet::Sheet;
use crate::drawing::chart::unit;
use crate::drawing::frame::Frame;
use crate::drawing::label::{LETTER_HEIGHT, Labels, text_width};
use crate::lines::sanitised;

/// The script shows the second set of labels from this enlargement on; the same number stands there.
const NEAR: f64 = 4.0;
/// Room about the letters of a label.
const AIR: f64 = 12.0;
/// Labels of crossings on the whole map: more would hide the track.
const MOST_LABELS: usize = 40;

/// Where labels of the whole map lie, and those of the map drawn larger.
#[derive(Debug)]
pub(super) struct Room {
    pub(super) whole: Labels,
    near: Labels,
}

/// From which enlargement on a label is shown, and where it stands beside its mark.
#[derive(Debug, Clone, Copy)]
struct Place {
    beside: (f64, f64),
    is_near: bool,
}

impl Room {
    pub(super) fn new(frame: &Frame) -> Self {
        Self { whole: Labels::new(frame.height), near: Labels::enlarged(frame.height, NEAR) }
    }

    /// Takes room beside a mark, nearest first; none where all is taken.
    fn beside(&mut self, mark: (f64, f64), (width, height): (f64, f64), may_be_whole: bool) -> Option<Place> {
        let enlarged = (mark.0 * NEAR, mark.1 * NEAR);
        let moved = |from: (f64, f64), by: (f64, f64)| (from.0 + by.0, from.1 + by.1);
        for beside in offsets(width, height) {
            if may_be_whole && self.whole.take(moved(mark, beside), width, height) {
                self.near.take(moved(enlarged, beside), width, height);
                return Some(Place { beside, is_near: false });
            }
        }
        let mut all = offsets(width, height);
        let beside = all.find(|beside| self.near.take(moved(enlarged, *beside), width, height))?;
        Some(Place { beside, is_near: true })
    }

    /// A label that is called the same, its link, and its leader.
    fn labelled(&mut self, mark: (f64, f64), label: &str, href: &str, may_be_whole: bool) -> Markup {
        let place = self.beside(mark, (text_width(label) + AIR, LETTER_HEIGHT + AIR / 2.0), may_be_whole);
        html! {
            @if let Some(Place { beside: (x, y), is_near }) = place {
                g .near[is_near] {
                    line x1="0" y1="0" x2=(unit(x)) y2=(unit(y)) {}
                    a href=(href) {
                        text x=(unit(x)) y=(unit(y)) text-anchor="middle" dominant-baseline="central" { (label) }
                    }
                }
            }
        }
    }
}

/// Middles of a label about its mark: beside it, above and below, and askew, each further off if need be.
fn offsets(width: f64, height: f64) -> impl Iterator<Item = (f64, f64)> {
    const REACHES: [f64; 3] = [8.0, 26.0, 48.0];
    REACHES.into_iter().flat_map(move |reach| {
        let (across, down) = (width / 2.0 + reach, height / 2.0 + reach);
        let (aside, off) = (width / 2.0 + 0.5 * reach, height / 2.0 + 0.5 * reach);
        [
            (across, 0.0),
            (-across, 0.0),
            (0.0, -down),
            (0.0, down),
            (aside, -off),
            (-aside, -off),
            (aside, off),
            (-aside, off),
        ]
    })
}

/// A place on the map at which things keep their size.
pub(super) fn pin((x, y): (f64, f64), content: &Markup) -> Markup {
    html! { g transform={ "translate(" (unit(x)) " " (unit(y)) ")" } { g .still { (content) } } }
}

/// The crossings, by the number of their visit: those of visits that stand out take their room first.
pub(super) fn crossings(sheet: &Sheet<'_>, frame: &Frame, room: &mut Room) -> Markup {
    let mut all: Vec<_> = sheet.crossings().collect();
    all.sort_by_key(|crossing| !crossing.visit.is_some_and(|visit| sheet.stands_out(visit)));
    html! {
        g .crossings {
            // no dot lies on a label
            @for crossing in &all {
                (pin(frame.place(crossing.position), &html! { circle .spot r="4" { title { (crossing.label) } } }))
            }
            @for (count, crossing) in all.iter().enumerate() {
                @if let Some(visit) = crossing.visit {
                    @let at = frame.place(crossing.position);
                    @let href = format!("#visit-{}", visit + 1);
                    (pin(at, &room.labelled(at, &crossing.label, &href, count < MOST_LABELS)))
                }
            }
        }
    }
}

/// The catches whose place is known and shown, by their letters.
pub(super) fn catches(sheet: &Sheet<'_>, frame: &Frame, room: &mut Room) -> Markup {
    let placed =
        sheet.lettered_catches().filter_map(|(letter, caught)| Some((letter, caught, caught.place.0?)));
    html! {
        g .catches {
            @for (letter, caught, position) in placed {
                @let at = frame.place(position);
                (pin(at, &html! {
                    (room.labelled(at, &letter, &format!("#catch-{letter}"), true))
                    path .caught d="M0 -6L6 0L0 6L-6 0Z" { title { (letter) " " (sanitised(caught.asked.unwrap_or_default())) } }
                }))
            }
        }
    }
}
