//! Words on the map and the marks that they belong to: crossings by the number of their visit, catches by their letters, names of zones.
//!
//! A mark keeps its size while the map is drawn larger. What finds no room on the whole map is labelled once the map is drawn
//! [`NEAR`] times as large, or not at all: its dot stays, and the lists below have it.

use std::collections::{BTreeMap, BTreeSet};

use maud::{Markup, html};
use takeline::track::Direction;

use super::sheet::{Sheet, ShownCrossing};
use crate::drawing::chart::unit;
use crate::drawing::frame::Frame;
use crate::drawing::label::{LETTER_HEIGHT, Labels, text_width};
use crate::lines::sanitised;

/// The script shows the second set of labels from this enlargement on; the same number stands there.
pub(super) const NEAR: f64 = 4.0;
/// Room about the letters of a label.
const AIR: f64 = 12.0;
/// Labels of crossings on the whole map: more would hide the track.
const MOST_LABELS: usize = 40;
/// Catches whose marks would lie on one another share a label.
const ONE_PLACE: f64 = 12.0;
/// How far from its mark a label may stand: that of a crossing, and that of a catch, which the table names by it.
const REACHES: [f64; 6] = [14.0, 30.0, 52.0, 80.0, 120.0, 170.0];
const CROSSING_REACHES: usize = 3;

/// Where words lie on a map of one size, and where its track runs.
#[derive(Debug)]
pub(super) struct Layer {
    pub(super) words: Labels,
    track: Labels,
}

impl Layer {
    /// Takes the room if it is free, of the track too if that is asked.
    pub(super) fn take(&mut self, at: (f64, f64), (width, height): (f64, f64), off_track: bool) -> bool {
        (!off_track || self.track.is_free(at, width, height)) && self.words.take(at, width, height)
    }
}

/// Where words of the whole map lie, and those of the map drawn larger.
#[derive(Debug)]
pub(super) struct Room {
    pub(super) whole: Layer,
    pub(super) near: Layer,
}

/// From which enlargement on a label is shown, and where it stands beside its mark.
#[derive(Debug, Clone, Copy)]
struct Place {
    beside: (f64, f64),
    is_near: bool,
}

/// A place of the whole map on the map drawn larger.
pub(super) fn enlarged(at: (f64, f64)) -> (f64, f64) {
    (at.0 * NEAR, at.1 * NEAR)
}

impl Room {
    /// Room on the map and on the map drawn larger, with the track as it runs on each.
    pub(super) fn new(frame: &Frame, track: [Vec<(f64, f64)>; 2]) -> Self {
        let [whole, near] = track;
        let layer =
            |words: Labels, track: Vec<(f64, f64)>| Layer { track: words.without(track.into_iter()), words };
        Self {
            whole: layer(Labels::new(frame.height), whole),
            near: layer(Labels::enlarged(frame.height, NEAR), near),
        }
    }

    /// Takes room beside a mark, off the track before on it and nearest first; none where all is taken.
    fn beside(
        &mut self,
        mark: (f64, f64),
        size: (f64, f64),
        reaches: usize,
        may_be_whole: bool,
    ) -> Option<Place> {
        let moved = |from: (f64, f64), by: (f64, f64)| (from.0 + by.0, from.1 + by.1);
        let larger = enlarged(mark);
        for off_track in [true, false] {
            for beside in offsets(size, reaches).filter(|_| may_be_whole) {
                if self.whole.take(moved(mark, beside), size, off_track) {
                    self.near.take(moved(larger, beside), size, false);
                    return Some(Place { beside, is_near: false });
                }
            }
        }
        [true, false].into_iter().find_map(|off_track| {
            let mut all = offsets(size, reaches);
            let beside = all.find(|beside| self.near.take(moved(larger, *beside), size, off_track))?;
            Some(Place { beside, is_near: true })
        })
    }

    /// A label that is called the same, its link, and its leader; none where there is no room.
    fn labelled(
        &mut self,
        mark: (f64, f64),
        (label, href): (&str, &str),
        reaches: usize,
        may_be_whole: bool,
    ) -> Option<(Markup, bool)> {
        let size = (text_width(label) + AIR, LETTER_HEIGHT + AIR / 2.0);
        let Place { beside: (x, y), is_near } = self.beside(mark, size, reaches, may_be_whole)?;
        let drawn = html! {
            g .near[is_near] {
                line x1="0" y1="0" x2=(unit(x)) y2=(unit(y)) {}
                a href=(href) {
                    text x=(unit(x)) y=(unit(y)) text-anchor="middle" dominant-baseline="central" { (label) }
                }
            }
        };
        Some((drawn, is_near))
    }
}

/// Middles of a label about its mark: beside it, above and below, and askew, each further off if need be.
fn offsets((width, height): (f64, f64), reaches: usize) -> impl Iterator<Item = (f64, f64)> {
    REACHES.into_iter().take(reaches).flat_map(move |reach| {
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

/// The dots of all crossings, each with its label as a title.
pub(super) fn dots(sheet: &Sheet<'_>, frame: &Frame) -> Markup {
    html! {
        @for crossing in sheet.crossings() {
            (pin(frame.place(crossing.position), &html! { circle .spot r="4" { title { (crossing.label) } } }))
        }
    }
}

/// The labels of crossings, by the number of their visit: where each visit first goes in and last goes out, no more. Those of visits
/// that stand out, or else of the others.
pub(super) fn tags(sheet: &Sheet<'_>, frame: &Frame, room: &mut Room, stand_out: bool) -> Markup {
    let of_visits = tagged(sheet);
    let chosen = of_visits.iter().filter(|(visit, _)| sheet.stands_out(*visit) == stand_out);
    html! {
        @for (count, (visit, crossing)) in chosen.enumerate() {
            @let at = frame.place(crossing.position);
            @let href = format!("#visit-{}", visit + 1);
            @if let Some((label, _)) = room.labelled(at, (&crossing.label, &href), CROSSING_REACHES, count < MOST_LABELS) {
                (pin(at, &label))
            }
        }
    }
}

/// The crossings that have a label: of each visit the first in and the last out.
fn tagged(sheet: &Sheet<'_>) -> Vec<(usize, ShownCrossing)> {
    let mut tagged: BTreeMap<(usize, bool), ShownCrossing> = BTreeMap::new();
    for crossing in sheet.crossings() {
        let Some(visit) = crossing.visit else { continue };
        let is_out = crossing.direction == Direction::Out;
        if is_out || !tagged.contains_key(&(visit, is_out)) {
            tagged.insert((visit, is_out), crossing);
        }
    }
    tagged.into_iter().map(|((visit, _), crossing)| (visit, crossing)).collect()
}

/// Which letters of catches stand on the map.
#[derive(Debug, Default)]
pub(super) struct Lettered {
    /// On the whole map.
    whole: BTreeSet<String>,
    /// On the map drawn larger only.
    near: BTreeSet<String>,
}

impl Lettered {
    /// What the table has to say of a letter that the map does not show.
    pub(super) fn remark(&self, letter: &str) -> Option<&'static str> {
        if self.whole.contains(letter) {
            None
        } else if self.near.contains(letter) {
            Some("on the map only when drawn larger")
        } else {
            Some("not on the map")
        }
    }
}

/// A place on the map and the catches made there, by letter and name.
type CaughtThere<'a> = ((f64, f64), Vec<(String, &'a str)>);

/// The catches whose place is known and shown, by their letters: those of one place have one label.
pub(super) fn catches(sheet: &Sheet<'_>, frame: &Frame, room: &mut Room) -> (Markup, Lettered) {
    let mut lettered = Lettered::default();
    let mut places: Vec<CaughtThere<'_>> = Vec::new();
    for (letter, caught) in sheet.lettered_catches() {
        let Some(position) = caught.place.0 else { continue };
        let at = frame.place(position);
        let is_there = |other: (f64, f64)| (other.0 - at.0).hypot(other.1 - at.1) < ONE_PLACE;
        let one = (letter, caught.asked.unwrap_or_default());
        match places.iter_mut().find(|(other, _)| is_there(*other)) {
            Some((_, caught)) => caught.push(one),
            None => places.push((at, vec![one])),
        }
    }
    let drawn = html! {
        g .catches {
            @for (at, caught) in &places {
                @let letters: Vec<&str> = caught.iter().map(|(letter, _)| letter.as_str()).collect();
                @let href = format!("#catch-{}", letters.first().copied().unwrap_or_default());
                @let label = room.labelled(*at, (&run_of(&letters), &href), REACHES.len(), true);
                @if let Some((_, is_near)) = &label {
                    @let shown = if *is_near { &mut lettered.near } else { &mut lettered.whole };
                    @let () = shown.extend(letters.iter().map(|letter| (*letter).to_owned()));
                }
                (pin(*at, &html! {
                    @if let Some((label, _)) = &label { (label) }
                    path .caught d="M0 -6L6 0L0 6L-6 0Z" {
                        title { @for (number, (letter, asked)) in caught.iter().enumerate() { @if number > 0 { "; " } (letter) " " (sanitised(asked)) } }
                    }
                }))
            }
        }
    };
    (drawn, lettered)
}

/// Letters in short: `A`, `E–F` for a run of the table, `A, C` for others.
fn run_of(letters: &[&str]) -> String {
    let mut runs: Vec<(&str, &str)> = Vec::new();
    for letter in letters {
        match runs.last_mut() {
            Some((_, last)) if follows(last, letter) => *last = letter,
            _ => runs.push((letter, letter)),
        }
    }
    let shown = |(first, last): &(&str, &str)| {
        if first == last { (*first).to_owned() } else { format!("{first}–{last}") }
    };
    runs.iter().map(shown).collect::<Vec<_>>().join(", ")
}

/// Whether a letter is the next in the table, where that can be seen of its last sign.
fn follows(before: &str, after: &str) -> bool {
    let split = |text: &'_ str| {
        let last = text.chars().last().map_or(0, u32::from);
        (text.chars().count(), text.chars().rev().skip(1).collect::<String>(), last)
    };
    let ((long, stem, last), (other_long, other_stem, other_last)) = (split(before), split(after));
    long == other_long && stem == other_stem && last + 1 == other_last
}

#[cfg(test)]
mod tests {
    use super::run_of;

    #[test]
    fn letters_of_one_place_are_written_in_runs() {
        assert_eq!(run_of(&["A"]), "A");
        assert_eq!(run_of(&["E", "F"]), "E–F");
        assert_eq!(run_of(&["A", "C", "D", "E"]), "A, C–E");
        assert_eq!(run_of(&["Z", "AA", "AB"]), "Z, AA–AB");
    }
}
