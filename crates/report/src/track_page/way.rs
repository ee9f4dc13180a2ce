//! The track on a drawing, by how sure it is that the boat was inside; its ends, which way it went, marks of time, and what gaps
//! let the boat reach.

use jiff::Timestamp;
use jiff::tz::TimeZone;
use maud::{Markup, html};
use takeline::track::{Certainty, TrackPoint};

use super::marks::pin;
use super::sheet::Sheet;
use crate::drawing::chart::{PathData, unit};
use crate::drawing::frame::Frame;
use crate::drawing::label::{LETTER_HEIGHT, Labels, text_width};
use crate::track::times::clock_minutes;

/// Minutes between marks of time.
const STEPS_MIN: [i64; 12] = [1, 2, 5, 10, 15, 30, 60, 120, 180, 360, 720, 1440];
/// How many marks of time a map has at most.
const MOST_MARKS: i64 = 12;
/// Room of a mark of time.
const TICK: f64 = 8.0;
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
    let marks: Vec<_> = even_times(first, last, zone, MOST_MARKS)
        .into_iter()
        .filter_map(|time| Some((time, place_at(sketch, drawn, time)?)))
        .collect();
    for (_, at) in &marks {
        // no time is written over the mark of another
        labels.take(*at, TICK, TICK);
    }
    html! {
        g .times {
            @for (time, at) in marks {
                @let label = clock_minutes(time, zone);
                @let width = text_width(&label) + 14.0;
                @let right = labels.take((at.0 + 6.0 + width / 2.0, at.1), width, LETTER_HEIGHT);
                @let left = !right && labels.take((at.0 - 6.0 - width / 2.0, at.1), width, LETTER_HEIGHT);
                (pin(at, &html! {
                    circle .tick r="4" { title { (label) } }
                    @if right { text x="10" y="5" { (label) } }
                    @if left { text x="-10" y="5" text-anchor="end" { (label) } }
                }))
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

/// Units of the drawing between two arrows, and over which the way about an arrow is taken.
const BETWEEN_ARROWS: f64 = 95.0;
const ABOUT_ARROW: f64 = 9.0;
/// How many arrows a map has at most.
const MOST_ARROWS: f64 = 30.0;
/// The room that an arrow takes.
const ARROW: f64 = 18.0;

/// Arrows along the way, evenly on the drawing: none in a gap, where the way turns on the spot, or on what was written before.
pub(super) fn arrows(sketch: &[TrackPoint], drawn: &[(f64, f64)], labels: &mut Labels) -> Markup {
    let whole: f64 = legs(sketch, drawn).map(|(from, to)| length(from, to)).sum();
    let step = BETWEEN_ARROWS.max(whole / MOST_ARROWS);
    let mut next = step / 2.0;
    let mut arrows = Vec::new();
    let mut so_far = 0.0;
    for (from, to) in legs(sketch, drawn) {
        let leg = length(from, to);
        while next <= so_far + leg && leg > 0.0 {
            arrows.push(next);
            next += step;
        }
        so_far += leg;
    }
    html! {
        g .arrows {
            @for along in arrows {
                @if let Some((at, turned_deg)) = arrow(sketch, drawn, along, step, labels) {
                    (pin(at, &html! { path d="M-5 -7L7 0L-5 7L-2 0Z" transform={ "rotate(" (unit(turned_deg)) ")" } {} }))
                }
            }
        }
    }
}

/// Where an arrow stands and how it is turned: near so much of the way, a little before or after where another is there already, as
/// on the way home over the way out.
fn arrow(
    sketch: &[TrackPoint],
    drawn: &[(f64, f64)],
    along: f64,
    step: f64,
    labels: &mut Labels,
) -> Option<((f64, f64), f64)> {
    [0.0, 0.3, -0.3, 0.45, -0.45].into_iter().find_map(|share| {
        let along = along + share * step;
        let at = along_way(sketch, drawn, along)?;
        let before = along_way(sketch, drawn, along - ABOUT_ARROW)?;
        let after = along_way(sketch, drawn, along + ABOUT_ARROW)?;
        let is_on_way = length(before, after) > ABOUT_ARROW && labels.take(at, ARROW, ARROW);
        is_on_way.then(|| (at, (after.1 - before.1).atan2(after.0 - before.0).to_degrees()))
    })
}

fn length(from: (f64, f64), to: (f64, f64)) -> f64 {
    (to.0 - from.0).hypot(to.1 - from.1)
}

/// The ways from fix to fix, gaps left out.
fn legs<'a>(
    sketch: &'a [TrackPoint],
    drawn: &'a [(f64, f64)],
) -> impl Iterator<Item = ((f64, f64), (f64, f64))> + 'a {
    let ends = drawn.iter().zip(drawn.iter().skip(1)).zip(sketch.iter().skip(1));
    ends.filter(|(_, point)| !point.after_break).map(|((from, to), _)| (*from, *to))
}

/// Where so much of the way is made.
fn along_way(sketch: &[TrackPoint], drawn: &[(f64, f64)], along: f64) -> Option<(f64, f64)> {
    let mut so_far = 0.0;
    for (from, to) in legs(sketch, drawn) {
        let leg = length(from, to);
        if so_far + leg >= along && leg > 0.0 {
            let share = ((along - so_far) / leg).max(0.0);
            return Some((from.0 + share * (to.0 - from.0), from.1 + share * (to.1 - from.1)));
        }
        so_far += leg;
    }
    None
}

/// Points along the way, close enough that no word slips between two.
pub(super) fn samples(sketch: &[TrackPoint], drawn: &[(f64, f64)]) -> Vec<(f64, f64)> {
    const CLOSE: f64 = 12.0;
    let mut samples: Vec<(f64, f64)> = Vec::new();
    for (from, to) in legs(sketch, drawn) {
        let far = length(from, to);
        let mut at = 0.0;
        while at <= far {
            let share = if far > 0.0 { at / far } else { 0.0 };
            let point = (from.0 + share * (to.0 - from.0), from.1 + share * (to.1 - from.1));
            if samples.last().is_none_or(|last| length(*last, point) >= CLOSE / 2.0) {
                samples.push(point);
            }
            at += CLOSE;
        }
    }
    samples
}

/// First and last fix, which keep their size.
pub(super) fn ends(drawn: &[(f64, f64)]) -> Markup {
    html! {
        g .ends {
            @if let [first, .., last] = drawn {
                (pin(*first, &html! { circle .start r="7" { title { "first fix shown" } } }))
                (pin(*last, &html! { rect .end x="-6" y="-6" width="12" height="12" { title { "last fix shown" } } }))
            }
        }
    }
}
