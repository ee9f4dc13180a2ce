//! Which zones the boat was in while fish may have been aboard, with little asked of the geometry.

use jiff::Timestamp;

use super::bags::number_of;
use super::finding::{seconds, uncertainty_of};
use crate::assess::sides;
use crate::geodesic::{direct, inverse};
use crate::rule::Possession;
use crate::track::{LoggedFix, TrackSettings};
use crate::zone::{Zone, ZoneSet};
use crate::{Containment, Fix};

/// Lines nearer than this, in metres, are looked at; from farther off the boat is looked at again after as many metres.
const REACH_M: f64 = 500.0;
/// The shortest way, in metres, after which the boat is looked at again between two fixes.
const SHORTEST_STEP_M: f64 = 5.0;

/// A moment of the track.
#[derive(Debug, Clone, Copy)]
pub(super) struct Moment {
    pub(super) fix: Fix,
    pub(super) time: Timestamp,
}

/// A time in or near a zone whose rule speaks of fish aboard.
#[derive(Debug, Clone)]
pub(super) struct Stay {
    pub(super) zone_number: usize,
    pub(super) entered: Moment,
    /// First and last moment inside by more than the doubt.
    pub(super) sure: Option<(Moment, Moment)>,
    pub(super) left: Moment,
}

/// Follows the boat from the first catch on.
#[derive(Debug)]
pub(super) struct Watch<'a> {
    zones: &'a ZoneSet,
    settings: TrackSettings,
    /// The first moment at which fish may have been aboard; none: never.
    from: Option<Timestamp>,
    last: Option<Moment>,
    /// Where the sides were last asked for, and how far from there they stay as they are.
    anchor: Option<(Fix, f64)>,
    /// Stays that go on, by zone, with the side they are on.
    open: Vec<(Stay, Containment)>,
    closed: Vec<Stay>,
}

impl<'a> Watch<'a> {
    pub(super) fn new(zones: &'a ZoneSet, from: Option<Timestamp>, settings: TrackSettings) -> Self {
        let speaks = |zone: &Zone| zone.rule.possession != Possession::Allowed;
        let from = from.filter(|_| zones.zones().iter().any(speaks));
        Self { zones, settings, from, last: None, anchor: None, open: Vec::new(), closed: Vec::new() }
    }

    pub(super) fn push(&mut self, fix: &LoggedFix, time: Timestamp) {
        let uncertainty = uncertainty_of(fix, &self.settings);
        let here = Moment { fix: Fix { position: fix.position, uncertainty, time: Some(time) }, time };
        if self.from.is_some_and(|from| time >= from) {
            if let Some(last) = self.last {
                // no more than a look after the first: where the boat was at the first catch, it did not come later
                self.look(last);
                self.along(last, here);
            }
            self.look(here);
        }
        self.last = Some(here);
    }

    /// Looks at the boat between two fixes wherever a side may have changed.
    fn along(&mut self, last: Moment, here: Moment) {
        // in a gap the straight way tells little, but a zone that it leads through is not passed over
        let line = inverse(last.fix.position, here.fix.position);
        let span_s = seconds(last.time, here.time);
        let worse =
            if last.fix.uncertainty.radius_95() < here.fix.uncertainty.radius_95() { here } else { last };
        let mut passing = Fix { uncertainty: worse.fix.uncertainty, ..last.fix };
        let mut way_m = 0.0;
        loop {
            way_m += self.free_m(&passing).max(SHORTEST_STEP_M);
            if way_m >= line.distance_m {
                return;
            }
            let share = way_m / line.distance_m;
            let passed = jiff::SignedDuration::try_from_secs_f64(span_s * share).unwrap_or_default();
            let Ok(time) = last.time.checked_add(passed) else { return };
            let position = direct(last.fix.position, line.azimuth_start_deg, way_m);
            passing = Fix { position, time: Some(time), ..passing };
            self.look(Moment { fix: passing, time });
        }
    }

    fn look(&mut self, here: Moment) {
        if self.free_m(&here.fix) > 0.0 {
            for (stay, side) in &mut self.open {
                stay.go_on(*side, here);
            }
            return;
        }
        let found = sides(self.zones, &here.fix, REACH_M);
        let slack_m = found.iter().map(|one| one.slack_m).fold(REACH_M, f64::min);
        self.anchor = Some((here.fix, slack_m));
        let speaking = found.iter().filter(|one| {
            one.side != Containment::Outside && one.zone.rule.possession != Possession::Allowed
        });
        let now: Vec<(usize, Containment)> =
            speaking.map(|one| (number_of(self.zones, one.zone), one.side)).collect();
        let (kept, left): (Vec<_>, Vec<_>) = std::mem::take(&mut self.open)
            .into_iter()
            .partition(|(stay, _)| now.iter().any(|(number, _)| *number == stay.zone_number));
        self.open = kept;
        self.closed.extend(left.into_iter().map(|(stay, _)| stay));
        for (number, side) in now {
            if let Some((stay, was)) = self.open.iter_mut().find(|(stay, _)| stay.zone_number == number) {
                *was = side;
                stay.go_on(side, here);
            } else {
                let stay = self.resumed(number, side, here);
                self.open.push((stay, side));
            }
        }
    }

    /// How far the boat can go on before any side may be another, in metres; 0 or less if one may be now.
    ///
    /// An accuracy that changes moves the edge of the doubt by no more than it changes.
    fn free_m(&self, fix: &Fix) -> f64 {
        self.anchor.map_or(0.0, |(anchor, slack_m)| {
            let moved_m = inverse(anchor.position, fix.position).distance_m;
            let blurred_m = fix.uncertainty.radius_95().metres() - anchor.uncertainty.radius_95().metres();
            slack_m - moved_m - blurred_m.abs()
        })
    }

    /// A new stay, or the last one in that zone if it ended only a little while ago.
    fn resumed(&mut self, number: usize, side: Containment, here: Moment) -> Stay {
        let recent = self.closed.iter().rposition(|stay| {
            stay.zone_number == number && seconds(stay.left.time, here.time) <= self.settings.linger_s
        });
        let mut stay = recent.map_or_else(
            || Stay { zone_number: number, entered: here, sure: None, left: here },
            |at| self.closed.remove(at),
        );
        stay.go_on(side, here);
        stay
    }

    /// Returns every stay, earliest first.
    pub(super) fn finish(self) -> Vec<Stay> {
        let mut stays = self.closed;
        stays.extend(self.open.into_iter().map(|(stay, _)| stay));
        stays.sort_by_key(|stay| (stay.entered.time, stay.zone_number));
        stays
    }
}

impl Stay {
    fn go_on(&mut self, side: Containment, here: Moment) {
        self.left = here;
        if side == Containment::Inside {
            let first = self.sure.map_or(here, |(first, _)| first);
            self.sure = Some((first, here));
        }
    }
}
