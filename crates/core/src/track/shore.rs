//! When a boat was at the shore, where it may have lain ashore: rigged, carried, landed.
//!
//! Only a zone that says which of its sides are shore tells this. Near such a side is nearer than its own uncertainty, that of the fix
//! and two boat's lengths together; farther out a boat that lies still lies there afloat.

use jiff::Timestamp;

use super::LoggedMoment;
use crate::boundary::SideKind;
use crate::geodesic::at_most_m;
use crate::{Boundary, Metres, Position};

/// Two lengths of a small boat, in metres: so far off the water's edge one wades (common practice, no source).
const TWO_BOATS_M: f64 = 10.0;
/// So far behind the shore a boat is carried, in metres (common practice, no source).
const CARRIED_M: f64 = 100.0;
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
    /// Near a side that nobody has supplied, be it shore or not.
    Perhaps,
    /// Near it, or a little behind it.
    Near,
    /// Surely behind it.
    Behind,
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
        match side.kind {
            SideKind::Shore if signed_m > near_m - TWO_BOATS_M + own_m && signed_m <= CARRIED_M => {
                AtShore::Behind
            }
            SideKind::Shore if -signed_m <= near_m + own_m && signed_m <= CARRIED_M => AtShore::Near,
            SideKind::Unresolved if signed_m.abs() <= near_m + far.missed_m() => AtShore::Perhaps,
            SideKind::Open | SideKind::Mouth | SideKind::Shore | SideKind::Unresolved => AtShore::Off,
        }
    }
}

/// A time at the shore without a break.
#[derive(Debug, Clone, Copy)]
struct ShoreStay {
    span: (Timestamp, Timestamp),
    behind: u32,
    is_perhaps: bool,
    is_first: bool,
}

/// The times of a visit at the shore. Grows with what happens and not with the log.
#[derive(Debug, Default)]
pub(super) struct ShoreStays {
    stays: Vec<ShoreStay>,
    /// Where the first fix and the last one lay.
    ends: Option<(AtShore, AtShore)>,
    /// Whether the last stay goes on.
    goes_on: bool,
}

impl ShoreStays {
    pub(super) fn push(&mut self, at: LoggedMoment, told: AtShore) {
        let is_first = self.ends.is_none();
        self.ends = Some((self.ends.map_or(told, |(first, _)| first), told));
        let (Some(time), true) = (at.time, told != AtShore::Off) else {
            self.goes_on = false;
            return;
        };
        let is_perhaps = told == AtShore::Perhaps;
        let behind = u32::from(told == AtShore::Behind);
        let is_full = self.stays.len() >= MOST_STAYS;
        match self.stays.last_mut() {
            Some(last) if self.goes_on || is_full => {
                last.span.1 = last.span.1.max(time);
                last.behind = last.behind.saturating_add(behind);
                last.is_perhaps |= is_perhaps || is_full;
            }
            _ => self.stays.push(ShoreStay { span: (time, time), behind, is_perhaps, is_first }),
        }
        self.goes_on = true;
    }

    /// Nothing joins what comes next to what was before.
    pub(super) fn break_off(&mut self) {
        self.goes_on = false;
    }

    /// Whether the last fix lay at the shore.
    pub(super) fn goes_on(&self) -> bool {
        self.ends.is_some_and(|(_, last)| last != AtShore::Off)
    }

    /// Whether no fix of the visit has been off the shore yet.
    pub(super) fn is_all_so_far(&self) -> bool {
        self.ends.is_some_and(|(first, _)| first != AtShore::Off) && self.goes_on && self.stays.len() == 1
    }

    /// Whether the first fix, and the last one, lay at the shore for sure.
    pub(super) fn ends_at_shore(&self) -> (bool, bool) {
        let is_shore = |told| matches!(told, AtShore::Near | AtShore::Behind);
        self.ends.map_or((false, false), |(first, last)| (is_shore(first), is_shore(last)))
    }

    /// Of a visit that begins, and ends, at the shore or does not.
    pub(super) fn finish(self, (began, ended): (bool, bool)) -> ShoreTimes {
        let last = if self.goes_on { self.stays.len().checked_sub(1) } else { None };
        let mut times = ShoreTimes::default();
        for (number, stay) in self.stays.iter().enumerate() {
            let is_at_an_end = stay.is_first && began || ended && last == Some(number);
            let is_ashore = !stay.is_perhaps && (is_at_an_end || stay.behind >= LANDED_FIXES);
            let into = if is_ashore { &mut times.ashore } else { &mut times.perhaps };
            into.push(stay.span);
        }
        times
    }
}

/// Times in which a boat was at the shore.
#[derive(Debug, Default)]
pub(super) struct ShoreTimes {
    /// In which it was launched or landed: what it did then is not judged.
    pub(super) ashore: Vec<(Timestamp, Timestamp)>,
    /// In which it may have lain ashore, or afloat before the beach.
    pub(super) perhaps: Vec<(Timestamp, Timestamp)>,
}

impl ShoreTimes {
    /// Seconds of all of them.
    pub(super) fn seconds(&self) -> f64 {
        let all = self.ashore.iter().chain(&self.perhaps);
        all.map(|(from, to)| to.duration_since(*from).as_secs_f64()).sum::<f64>() + 0.0
    }

    /// Whether most of a time was ashore.
    pub(super) fn hold_most_of(&self, (from, to): (Timestamp, Timestamp)) -> bool {
        let common_s = |ashore: &(Timestamp, Timestamp)| {
            ashore.1.min(to).duration_since(ashore.0.max(from)).as_secs_f64().max(0.0)
        };
        let ashore_s: f64 = self.ashore.iter().map(common_s).sum();
        ashore_s > 0.0 && ashore_s >= to.duration_since(from).as_secs_f64() / 2.0
    }
}
