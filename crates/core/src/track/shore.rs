//! When a boat was at the shore: surely ashore, rigged, carried or landed, or perhaps afloat before it.
//!
//! Only a zone that says which of its sides are shore tells this. A boat is taken to be *ashore* only at the water's edge: within two
//! boat's lengths of it as it is drawn, or behind it. Where its place is known well enough that is sure; where it is not, a launch or a
//! landing takes so long and no longer. All else that doubts alone let lie at the edge is *perhaps* ashore: it may be a stop,
//! and it may be none. So no doubt ever makes a verdict cleaner: the worse a place is known, the less is ashore.

use jiff::Timestamp;

use super::LoggedMoment;
use crate::boundary::SideKind;
use crate::geodesic::{at_most_m, distance_m};
use crate::{Boundary, Metres, Position};

/// Two lengths of a small boat, in metres: so far off the water's edge one wades (common practice, no source).
const TWO_BOATS_M: f64 = 10.0;
/// So far behind the shore, and along it, a boat is carried, in metres (common practice, no source).
const CARRIED_M: f64 = 100.0;
/// The way along the shore is summed over steps of so many metres, so that the wander of a receiver does not count as way.
const STEP_M: f64 = 50.0;
/// Rigging and launching a small boat, or landing and unloading it, takes so many seconds (common practice, no source).
const RIGGING_S: f64 = 1_200.0;
/// A boat that is seen farther off for no more than so many seconds perhaps never left the edge (common practice, no source).
const BACK_WITHIN_S: f64 = 60.0;
/// So many fixes behind the shore show that somebody landed (common practice, no source).
const LANDED_FIXES: u32 = 3;
/// More times at the shore are not told apart.
const MOST_STAYS: usize = 10_000;

/// Where a fix lies of the shore of a zone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum AtShore {
    /// Off it.
    #[default]
    Off,
    /// As near to it as doubts alone allow, or near a side that nobody has supplied, be it shore or not.
    Perhaps,
    /// At the water's edge as it is drawn, and perhaps farther off.
    Edge,
    /// Surely no farther off than the edge.
    Ashore,
    /// Surely behind the shore.
    Behind,
}

impl AtShore {
    fn is_at_edge(self) -> bool {
        matches!(self, Self::Edge | Self::Ashore | Self::Behind)
    }

    fn is_sure(self) -> bool {
        matches!(self, Self::Ashore | Self::Behind)
    }
}

/// Tells where fixes lie of the shore of a zone that has one.
#[derive(Debug)]
pub(super) struct ShoreSense {
    line_doubt_m: f64,
    largest_error_m: f64,
    /// A place, and how far it is off every side, in metres.
    clear: Option<(Position, f64)>,
    last: Option<(Position, AtShore)>,
}

impl ShoreSense {
    pub(super) fn of(boundary: &Boundary, line_doubt_m: f64) -> Option<Self> {
        let largest_error_m = boundary.largest_closure_error_m();
        let sense = Self { line_doubt_m, largest_error_m, clear: None, last: None };
        boundary.has_sides().then_some(sense)
    }

    /// Where a fix lies.
    pub(super) fn at(&mut self, boundary: &Boundary, (place, radius_m): (Position, f64)) -> AtShore {
        if let Some((_, told)) = self.last.filter(|(last, _)| *last == place) {
            return told;
        }
        let told = self.look(boundary, (place, radius_m));
        self.last = Some((place, told));
        told
    }

    fn look(&mut self, boundary: &Boundary, (place, radius_m): (Position, f64)) -> AtShore {
        let near_m = radius_m + self.line_doubt_m + TWO_BOATS_M;
        // no straight distance changes faster than the place
        let reach_m = CARRIED_M.max(near_m + self.largest_error_m);
        if self.clear.is_some_and(|(at, away_m)| away_m - at_most_m(at, place) > reach_m) {
            return AtShore::Off;
        }
        let far = boundary.how_far(place);
        let signed_m = far.signed_distance.metres();
        self.clear = Some((place, signed_m.abs()));
        if signed_m.abs() > reach_m {
            return AtShore::Off;
        }
        let side = boundary.side_nearest(place);
        let own_m = side.uncertainty.map_or(0.0, Metres::metres);
        // so far off the water's edge, as it is drawn
        let off_m = -signed_m;
        let line_m = self.line_doubt_m + own_m;
        let is_edge = off_m <= TWO_BOATS_M && signed_m <= CARRIED_M;
        match side.kind {
            SideKind::Shore if signed_m > radius_m + line_m && is_edge => AtShore::Behind,
            // what the fix and the line are off has nothing to do with each other
            SideKind::Shore if off_m + radius_m.hypot(line_m) <= TWO_BOATS_M && is_edge => AtShore::Ashore,
            SideKind::Shore if is_edge => AtShore::Edge,
            SideKind::Shore if off_m <= near_m + own_m && signed_m <= CARRIED_M => AtShore::Perhaps,
            SideKind::Unresolved if signed_m.abs() <= near_m + far.missed_m() => AtShore::Perhaps,
            SideKind::Open | SideKind::Mouth | SideKind::Shore | SideKind::Unresolved => AtShore::Off,
        }
    }
}

/// Way along the shore, that of a boat that is surely behind it left out. It does not ask how well places are known: what a bad
/// receiver wanders counts as way, and shows nothing.
#[derive(Debug, Clone, Copy, Default)]
struct WayAlong {
    from: Option<Position>,
    step: Option<Position>,
    way_m: f64,
    is_far: bool,
}

impl WayAlong {
    fn push(&mut self, place: Position, told: AtShore) {
        if told == AtShore::Behind {
            (self.from, self.step) = (None, None);
            return;
        }
        self.is_far |= distance_m(*self.from.get_or_insert(place), place) > CARRIED_M;
        let step_m = distance_m(*self.step.get_or_insert(place), place);
        if step_m > STEP_M {
            self.way_m += step_m;
            self.step = Some(place);
        }
    }

    /// Whether it is more than a boat is carried.
    fn is_long(&self) -> bool {
        self.is_far || self.way_m > 2.0 * CARRIED_M
    }
}

/// A time at the water's edge or behind it.
#[derive(Debug, Clone, Copy)]
struct EdgeTime {
    span: (Timestamp, Timestamp),
    is_first: bool,
    behind: u32,
    /// Whether it was surely ashore at the last fix of it.
    is_sure: bool,
    /// Seconds of it in which it was perhaps farther off.
    unsure_s: f64,
    along: WayAlong,
}

impl EdgeTime {
    fn push(&mut self, (time, place): (Timestamp, Position), told: AtShore, is_without_break: bool) {
        if !(is_without_break && self.is_sure && told.is_sure()) {
            self.unsure_s += seconds((self.span.1, time));
        }
        self.is_sure = told.is_sure();
        self.span.1 = self.span.1.max(time);
        self.behind = self.behind.saturating_add(u32::from(told == AtShore::Behind));
        self.along.push(place, told);
    }

    /// Whether it can be told from a time afloat.
    fn is_ashore(&self) -> bool {
        self.unsure_s <= RIGGING_S && !self.along.is_long()
    }
}

/// The times of a visit at the shore. Grows with what happens and not with the log.
#[derive(Debug, Default)]
pub(super) struct ShoreStays {
    /// Times at the shore without a break.
    stays: Vec<(Timestamp, Timestamp)>,
    /// Those of them at the water's edge.
    edges: Vec<EdgeTime>,
    /// Where the first fix and the last one lay.
    ends: Option<(AtShore, AtShore)>,
    /// Whether the last stay goes on.
    goes_on: bool,
    /// Whether the last time at the edge does, and whether it was seen farther off since.
    at_edge: (bool, bool),
    /// Whether it has been farther off than the edge yet.
    was_off: bool,
}

impl ShoreStays {
    pub(super) fn push(&mut self, at: LoggedMoment, told: AtShore) {
        self.ends = Some((self.ends.map_or(told, |(first, _)| first), told));
        self.was_off |= !told.is_at_edge();
        let (Some(time), true) = (at.time, told != AtShore::Off) else {
            self.break_off();
            return;
        };
        let is_full = self.stays.len() >= MOST_STAYS;
        match self.stays.last_mut() {
            Some(last) if self.goes_on || is_full => last.1 = last.1.max(time),
            _ => self.stays.push((time, time)),
        }
        self.goes_on = true;
        if told.is_at_edge() {
            self.be_at_edge((time, at.position), told);
        } else {
            self.at_edge.1 = true;
        }
    }

    fn be_at_edge(&mut self, at: (Timestamp, Position), told: AtShore) {
        let (goes_on, was_farther) = std::mem::replace(&mut self.at_edge, (true, false));
        let is_back = |edge: &&mut EdgeTime| !was_farther || seconds((edge.span.1, at.0)) <= BACK_WITHIN_S;
        if let Some(edge) = self.edges.last_mut().filter(|_| goes_on).filter(is_back) {
            edge.push(at, told, !was_farther);
            return;
        }
        // what is not listed is perhaps ashore
        if self.edges.len() >= MOST_STAYS {
            self.at_edge.0 = false;
            return;
        }
        let began = self.stays.first().filter(|_| self.stays.len() == 1 && self.edges.is_empty());
        let is_first = self.ends.is_some_and(|(first, _)| first != AtShore::Off)
            && began.is_some_and(|began| seconds((began.0, at.0)) <= BACK_WITHIN_S);
        let span = began.filter(|_| is_first).map_or((at.0, at.0), |began| (began.0, at.0));
        let mut edge = EdgeTime {
            span: (span.0, span.0),
            is_first,
            behind: 0,
            is_sure: told.is_sure(),
            unsure_s: 0.0,
            along: WayAlong::default(),
        };
        edge.push(at, told, !was_farther);
        self.edges.push(edge);
    }

    /// Nothing joins what comes next to what was before.
    pub(super) fn break_off(&mut self) {
        self.goes_on = false;
        self.at_edge = (false, false);
    }

    /// Whether the last fix lay at the shore.
    pub(super) fn goes_on(&self) -> bool {
        self.ends.is_some_and(|(_, last)| last != AtShore::Off)
    }

    /// Whether no fix of the visit has been off the water's edge yet.
    pub(super) fn is_all_so_far(&self) -> bool {
        self.ends.is_some() && !self.was_off && self.stays.len() <= 1
    }

    fn first_edge(&self) -> Option<&EdgeTime> {
        self.edges.first().filter(|edge| edge.is_first)
    }

    /// The time at the edge with which the visit ends.
    fn last_edge(&self) -> Option<&EdgeTime> {
        let until = self.stays.last()?.1;
        let is_back = |edge: &&EdgeTime| seconds((edge.span.1, until)) <= BACK_WITHIN_S;
        self.edges.last().filter(|_| self.goes_on && self.at_edge.0).filter(is_back)
    }

    /// Whether the visit began, and ended, at the shore: the fix lay there for sure, or it was launched or landed there.
    pub(super) fn ends_at_shore(&self) -> (bool, bool) {
        let (first, last) = self.ends.unwrap_or_default();
        let is_ashore = |edge: Option<&EdgeTime>| edge.is_some_and(EdgeTime::is_ashore);
        (first.is_sure() || is_ashore(self.first_edge()), last.is_sure() || is_ashore(self.last_edge()))
    }

    /// Of a visit that begins, and ends, at the shore or does not.
    pub(super) fn finish(self, (began, ended): (bool, bool)) -> ShoreTimes {
        let first = self.first_edge().filter(|edge| began && edge.is_ashore()).map(|edge| edge.span);
        let last = self.last_edge().filter(|edge| ended && edge.is_ashore()).map(|edge| edge.span);
        let is_landed = |edge: &&EdgeTime| {
            let is_at_an_end = Some(edge.span) == first || Some(edge.span) == last;
            edge.is_ashore() && (is_at_an_end || edge.behind >= LANDED_FIXES)
        };
        let ashore = self.edges.iter().filter(is_landed).map(|edge| edge.span).collect();
        ShoreTimes { ashore, at_shore: self.stays, is_launched: first.is_some() }
    }
}

/// Times in which a boat was at the shore.
#[derive(Debug, Default)]
pub(super) struct ShoreTimes {
    /// In which it was launched or landed: what it did then is not judged.
    pub(super) ashore: Vec<(Timestamp, Timestamp)>,
    /// All of them, those too in which it may have lain ashore, or afloat before the beach.
    pub(super) at_shore: Vec<(Timestamp, Timestamp)>,
    /// Whether the visit began with a launch.
    pub(super) is_launched: bool,
}

impl ShoreTimes {
    /// Seconds of all of them.
    pub(super) fn seconds(&self) -> f64 {
        self.at_shore.iter().copied().map(seconds).sum::<f64>() + 0.0
    }

    /// Whether most of a time was ashore.
    pub(super) fn hold_most_of(&self, (from, to): (Timestamp, Timestamp)) -> bool {
        let common_s =
            |ashore: &(Timestamp, Timestamp)| seconds((ashore.0.max(from), ashore.1.min(to))).max(0.0);
        let ashore_s: f64 = self.ashore.iter().map(common_s).sum();
        ashore_s > 0.0 && ashore_s >= seconds((from, to)) / 2.0
    }
}

fn seconds((from, to): (Timestamp, Timestamp)) -> f64 {
    to.duration_since(from).as_secs_f64()
}
