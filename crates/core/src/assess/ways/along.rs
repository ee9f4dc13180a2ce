//! What a straight way runs through.

use super::walk::{Walk, begins_m, walk};
use crate::Position;
use crate::binding::Moment;
use crate::geodesic::direct;
use crate::rule::{Access, KnownTime};
use crate::zone::{Extent, Zone, ZoneSet};
use crate::{Boundary, Tristate};

/// What is thinner than this, in metres along the way, is overlooked.
const THINNEST_M: f64 = 0.01;
/// Where a way crosses a line is told to this, in metres.
const TOLD_TO_M: f64 = 1e-3;
/// No more places than this are looked at for one line: a way that keeps so close to a line for so long is not told to its end.
const MOST_PLACES: usize = 20_000;

/// A straight way: from where, on which bearing in degrees, and how far in metres.
#[derive(Debug, Clone, Copy)]
pub(super) struct Straight {
    pub(super) from: Position,
    pub(super) bearing_deg: f64,
    pub(super) length_m: f64,
}

impl Straight {
    fn at(&self, along_m: f64) -> Position {
        direct(self.from, self.bearing_deg, along_m)
    }
}

/// A part of a way inside the line of a zone, as drawn: from where and to where, in metres along the way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Stretch {
    /// The zone's place in the set.
    pub(super) number: usize,
    pub(super) from_m: f64,
    pub(super) to_m: f64,
    /// Whether the rule of the zone binds whoever is inside, if nothing displaces it.
    pub(super) holds: Tristate,
}

/// What a way runs through, as far as it could be told.
#[derive(Debug, Default)]
pub(super) struct Through {
    /// In the order in which the way comes to them.
    pub(super) stretches: Vec<Stretch>,
    /// How far along the way all of them are told, in metres.
    pub(super) told_to_m: f64,
}

/// The zones that a way runs through, of those whose rule restricts something and binds or may bind.
pub(super) fn through(
    zones: &ZoneSet,
    way: Straight,
    (time, access): (KnownTime, Option<Access>),
) -> Through {
    let moment = Moment::known(time);
    let holds = |zone: &Zone| moment.in_force(zone).answer.and(zone.rule.binding(access));
    let mut told = Through { stretches: Vec::new(), told_to_m: way.length_m };
    for number in zones.on_the_way((way.from, way.at(way.length_m)), way.length_m + 1.0, 0.0) {
        let Some(zone) = zones.zones().get(number).filter(|zone| !zone.rule.restricts_nothing()) else {
            continue;
        };
        let Extent::Known(boundary) = &zone.extent else { continue };
        let holds = holds(zone);
        if holds == Tristate::No {
            continue;
        }
        let (inside, to_m) = inside(boundary, way);
        told.told_to_m = told.told_to_m.min(to_m);
        let stretch = |(from_m, to_m)| Stretch { number, from_m, to_m, holds };
        told.stretches.extend(inside.into_iter().map(stretch));
    }
    let told_to_m = told.told_to_m;
    told.stretches.retain(|stretch| stretch.from_m <= told_to_m);
    told.stretches.sort_by(|a, b| a.from_m.total_cmp(&b.from_m).then(a.number.cmp(&b.number)));
    told
}

/// From where to where a way lies inside a line, and how far that could be told.
fn inside(boundary: &Boundary, way: Straight) -> (Vec<(f64, f64)>, f64) {
    let signed_m = |along_m: f64| boundary.how_far(way.at(along_m)).signed_distance.metres();
    let is_inside = |along_m: f64| signed_m(along_m) <= 0.0;
    let mut stretches = Vec::new();
    let (mut at_m, mut was_inside, mut places) = (0.0, is_inside(0.0), 0);
    let mut entered_m = was_inside.then_some(0.0);
    loop {
        let left_m = |along_m: f64| {
            places += 1;
            let signed_m = signed_m(along_m);
            (places <= MOST_PLACES).then_some(if was_inside { -signed_m } else { signed_m })
        };
        let (crossed_m, told_to_m) = match walk((at_m, way.length_m), THINNEST_M, left_m) {
            Walk::Stopped { before_m, at_m } => (Some((before_m, at_m)), at_m),
            Walk::ToTheEnd => (None, way.length_m),
            Walk::GaveUp { at_m } => (None, at_m),
        };
        let Some(crossed) = crossed_m else {
            stretches.extend(entered_m.map(|from_m| (from_m, told_to_m)));
            return (stretches, told_to_m);
        };
        let crossed_m = begins_m(crossed, TOLD_TO_M, |along_m| is_inside(along_m) != was_inside);
        match entered_m.take() {
            Some(from_m) => stretches.push((from_m, crossed_m)),
            None => entered_m = Some(crossed_m),
        }
        (at_m, was_inside) = (told_to_m, !was_inside);
    }
}
