//! One zone watched along a track: when the boat may have been inside, for how long and how deep, and when the zone can matter
//! next.

use std::sync::OnceLock;

use jiff::Timestamp;

use super::gap::Outline;
use super::leg::{Beside, LEAST_TOLERANCE_M, Leg, Measured, SPARE_M, Stray};
use super::open_visit::{Closed, Near, Open};
use super::pace::Paces;
use super::shore::{AtShore, ShoreSense};
use super::stay::{Along, End, Stay, Stays};
use super::{Certainty, Crossing, Evidence, LoggedMoment, RuledTime, TrackSettings};
use crate::boundary::Bounds;
use crate::boundary::Trails;
use crate::geodesic::Surface;
use crate::zone::{Extent, Zone, ZoneOfSet};
use crate::{Boundary, Fix, HowFar};

/// Zones whose line never came nearer than this, in metres, are not among the closest approaches.
pub(super) const FAR_M: f64 = 20_000.0;

/// Places whose distances to a line differ by less, in metres, are equally near to it, and the first of them is told.
pub(super) const SAME_M: f64 = 1e-6;

/// What is known of the boat and one zone so far.
#[derive(Debug)]
pub(super) struct Watch {
    pub(super) zone: ZoneOfSet,
    has_area: bool,
    /// Whether its line is known, and not only the area that it lies in.
    pub(super) is_placed: bool,
    /// The doubt of the line itself, 95 %, without that of how its edges are read, in metres.
    pub(super) line_doubt_m: f64,
    /// What arcs that miss their printed circle and the like may add to the doubt anywhere on the line, in metres.
    ///
    /// Which edge is nearest may change from one step to the next, and the doubt jumps with it, so that nothing may be
    /// concluded from what it is here.
    pub(super) closure_error_m: f64,
    /// The same where what an edge may be off counts near it only.
    pub(super) largest_error_m: f64,
    pub(super) bounds: Bounds,
    pub(super) outline: OnceLock<Outline>,
    trails: Option<Trails>,
    shore: Option<ShoreSense>,
    /// Where the fixes of the step lie of the shore, if the zone says where that is.
    pub(super) at_shore: [Option<(LoggedMoment, AtShore)>; 2],
    /// When a zone that the boat is not in can matter next.
    due: Due,
    /// Metres of way before which nothing about this zone can change but how deep the boat has been in it.
    pub(super) quiet_until_m: f64,
    /// Metres of way before which it cannot have been deeper in it than ever.
    pub(super) shallow_until_m: f64,
    /// Metres of way, and of what the boat can have left it by, before which it cannot have gone over the line.
    pub(super) firm_until_m: f64,
    /// The doubt of the fix that this was reckoned with, in metres; a greater one may change the standing at once.
    quiet_fix_m: f64,
    /// The last fix that was measured, and what came of it.
    measured: Option<(Fix, Measured)>,
    /// The standing at the last fix, known also while nothing changes.
    pub(super) standing: Option<Certainty>,
    /// How far the boat can have strayed in the gap just before, in metres.
    pub(super) strayed_m: f64,
    pub(super) open: Option<Open>,
    /// A visit known from suspect fixes alone.
    suspected: Option<Open>,
    /// Every stay so far, where the zone may displace others.
    pub(super) history: Option<Stays>,
    pub(super) closest: Option<Near>,
    pub(super) visited: bool,
}

/// What has to be asked of a zone on a leg.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Ask {
    Nothing,
    /// Only whether the boat was deeper in it than ever: it is surely inside all along.
    HowDeep,
    All,
}

/// What one leg did.
#[derive(Debug, Default)]
pub(super) struct LegEvents {
    pub(super) crossings: Vec<Crossing>,
    pub(super) entered: Option<(Certainty, LoggedMoment)>,
    pub(super) left: Vec<Closed>,
}

/// A fix that the track begins with, or goes on with after a break.
#[derive(Debug, Clone, Copy)]
pub(super) struct Start<'s> {
    pub(super) fix: &'s Fix,
    pub(super) here: &'s Surface,
    pub(super) at: LoggedMoment,
    /// How many believed fixes went before it.
    pub(super) number: u64,
    pub(super) travelled_m: f64,
    /// Way made in all, jumps and gaps counted, in metres.
    pub(super) way_m: f64,
    pub(super) merge_within_s: f64,
}

/// A leg, and what counts on it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Step<'s> {
    /// The zone that is watched, borrowed from whoever keeps the watch.
    pub(super) zone: &'s Zone,
    pub(super) leg: &'s Leg,
    pub(super) from: (&'s Fix, &'s Surface),
    pub(super) to: (&'s Fix, &'s Surface),
    pub(super) stray: Stray,
    /// Way made up to its end, in metres.
    pub(super) travelled_m: f64,
    /// The same with jumps and gaps counted.
    pub(super) way_m: f64,
    /// The number that the next crossing gets.
    pub(super) first_crossing: usize,
    pub(super) merge_within_s: f64,
    pub(super) is_plan: bool,
}

impl Watch {
    pub(super) fn new(zone: ZoneOfSet) -> Self {
        let area = zone.extent.area();
        let bounds = Bounds::of(area);
        Self {
            has_area: zone.extent.area().is_some(),
            is_placed: matches!(zone.extent, Extent::Known(_)),
            line_doubt_m: zone.line_doubt_m(),
            closure_error_m: bounds.closure_error_m(area),
            largest_error_m: area.map_or(0.0, Boundary::largest_closure_error_m),
            bounds,
            outline: OnceLock::new(),
            trails: None,
            shore: area.and_then(|area| ShoreSense::of(area, zone.line_doubt_m())),
            at_shore: [None; 2],
            due: Due::NOW,
            quiet_until_m: f64::NEG_INFINITY,
            shallow_until_m: f64::NEG_INFINITY,
            firm_until_m: f64::NEG_INFINITY,
            quiet_fix_m: 0.0,
            measured: None,
            standing: None,
            strayed_m: 0.0,
            open: None,
            suspected: None,
            history: (!zone.overrides.is_empty()).then(Stays::default),
            closest: None,
            visited: false,
            zone,
        }
    }

    fn boundary(&self) -> Option<&Boundary> {
        self.zone.extent.area()
    }

    pub(super) fn standing(&self) -> Option<Certainty> {
        self.standing
    }

    /// Every stay so far; none if the zone displaces no other.
    pub(super) fn history(&self) -> Option<&Stays> {
        self.history.as_ref()
    }

    pub(super) fn has_area(&self) -> bool {
        self.has_area
    }

    /// Whether the boat is perhaps inside, or a visit goes on.
    pub(super) fn is_active(&self) -> bool {
        self.standing.is_some() || self.open.is_some()
    }

    /// Whether it has to be asked at the next fix whatever the way to it.
    pub(super) fn is_restless(&self) -> bool {
        self.is_active() || self.strayed_m > 0.0
    }

    /// The way, jumps and gaps counted, before which it can be left alone while the boat is not in it, in metres.
    pub(super) fn due_m(&self) -> f64 {
        self.due.soonest_m()
    }

    /// Whether a step can do anything to a zone that the boat is not in.
    pub(super) fn may_matter(&self, step: Approach) -> bool {
        self.strayed_m > 0.0 || self.due.has_come(step)
    }

    /// Takes note that the box about the zone, line and closure error counted, is so far off the end of a step.
    pub(super) fn doze_by_box(&mut self, box_m: f64, step: Approach) {
        let floor_m = self.floor_m();
        self.due.put_off_by_box(box_m, floor_m, step);
    }

    /// How near the boat has to come to be nearer than ever, in metres; no distance will do where that is not asked.
    fn floor_m(&self) -> f64 {
        if self.visited || !self.is_placed {
            return f64::NEG_INFINITY;
        }
        self.closest.map_or(FAR_M, |closest| closest.distance_m)
    }

    /// What a leg that ends at this way can change, where the boat is perhaps inside or a visit goes on.
    pub(super) fn due_at(&self, travelled_m: f64, (to, stray): (&Fix, &Stray)) -> Ask {
        let radius_m = to.uncertainty.radius_95().metres();
        let narrower = self.standing == Some(Certainty::Possible) && radius_m < self.quiet_fix_m;
        let is_blurred = radius_m > self.quiet_fix_m || narrower;
        let is_quiet = travelled_m <= self.quiet_until_m && !stray.is_too_fast();
        let is_changed = match self.standing {
            None => travelled_m + stray.most_m() > self.quiet_until_m,
            // leaving the straight way makes it no more than that
            Some(Certainty::Possible) => !is_quiet,
            Some(Certainty::Certain) => !is_quiet || travelled_m + stray.most_m() > self.firm_until_m,
        };
        if !self.has_area {
            Ask::Nothing
        } else if is_blurred || is_changed {
            Ask::All
        } else if travelled_m > self.shallow_until_m {
            match self.standing {
                Some(Certainty::Certain) => Ask::HowDeep,
                Some(Certainty::Possible) | None => Ask::All,
            }
        } else {
            Ask::Nothing
        }
    }

    /// How sure it is that the boat is inside, for a fix with where it lies.
    pub(super) fn standing_of(&self, fix: &Fix, far: &HowFar) -> (Option<Certainty>, f64, f64) {
        let measured = self.measured_from(fix, far);
        (self.standing_at(&measured), measured.signed_m, measured.doubt_m)
    }

    /// Where a leg comes nearest to the zone: the share of it, the signed distance and the doubt, in metres.
    pub(super) fn nearest_on(&self, leg: &Leg, ends: &[Fix; 2]) -> Option<(f64, f64, f64)> {
        let boundary = self.boundary()?;
        let [before, after] = ends.map(|fix| self.measured_from(&fix, &boundary.how_far(fix.position)));
        let at_ends = [(0.0, before.least_m), (1.0, after.least_m)].into_iter();
        let between = leg.least(boundary, (before.off(), after.off()), f64::INFINITY);
        let (share, distance_m) = at_ends.chain(between).min_by(|one, two| one.1.total_cmp(&two.1))?;
        Some((share, distance_m, before.doubt_m.max(after.doubt_m) + self.largest_error_m))
    }

    pub(super) fn measured_from(&self, fix: &Fix, far: &HowFar) -> Measured {
        let random_m = fix.uncertainty.radius_95().metres().hypot(self.line_doubt_m);
        Measured {
            signed_m: far.signed_distance.metres(),
            least_m: self.bounds.least_m(far),
            greatest_m: self.bounds.greatest_m(far),
            drawn_m: far.greatest.metres(),
            known_m: far.greatest_known_m(),
            random_m,
            doubt_m: random_m + far.reading_doubt.metres(),
            foot: None,
        }
    }

    /// Distance to the line and its doubt at a fix.
    pub(super) fn measure(&mut self, (fix, here): (&Fix, &Surface)) -> Option<Measured> {
        if let Some((_, measured)) = self.measured.filter(|(last, _)| last == fix) {
            return Some(measured);
        }
        let boundary = self.zone.extent.area()?;
        let trails = self.trails.get_or_insert_with(|| boundary.no_trails());
        let (far, foot) = trails.how_far_and_foot(boundary, fix.position, here);
        let foot = foot.map(|foot| (here.point, foot));
        let measured = Measured { foot, ..self.measured_from(fix, &far) };
        self.measured = Some((*fix, measured));
        Some(measured)
    }

    /// The first fix after a break, or of the track, and how far the box about the zone is from it, doubts counted.
    pub(super) fn start(&mut self, start: &Start<'_>, (box_m, step): (f64, Approach)) -> LegEvents {
        let mut done = LegEvents::default();
        // after a long gap there are many zones that the boat may have been to and is not near
        let radius_m = start.fix.uncertainty.radius_95().metres();
        let doubt_m = radius_m + self.line_doubt_m + self.largest_error_m;
        let is_read_one_way = self.boundary().is_some_and(Boundary::is_read_one_way);
        if is_read_one_way && box_m > FAR_M.max(clear_of_m(doubt_m) + self.strayed_m) + 1.0 {
            self.strayed_m = 0.0;
            self.standing = None;
            done.left.extend(self.close());
            self.due = Due::from_place(step.way_m, box_m, (box_m, self.floor_m()));
            return done;
        }
        let Some(measured) = self.measure((start.fix, start.here)) else { return done };
        let near = Near { distance_m: measured.signed_m, doubt_m: measured.doubt_m, at: start.at };
        self.record_approach(near);
        self.standing = self.standing_at(&measured);
        self.sense_shore(None, (start.at, radius_m));
        // one gap after another beside a zone is one visit, until the boat is seen clear of what it can reach
        let clear_m = clear_of_m(measured.doubt_m) + std::mem::take(&mut self.strayed_m);
        let was_away = self.open.as_ref().is_some_and(|open| open.outside_s > start.merge_within_s);
        if was_away || measured.signed_m > clear_m {
            done.left.extend(self.close());
        }
        if let Some(open) = &mut self.open {
            open.break_off();
        }
        if let Some(certainty) = self.standing {
            if self.open.is_none() {
                self.open_at(near, Evidence::Fixes);
                if let Some(open) = &mut self.open {
                    open.is_cut.0 = true;
                }
                done.entered = Some((certainty, start.at));
            }
            let at = (start.number, start.at.between);
            self.note_fix(near, certainty, at);
        }
        self.rest(start.fix, &measured, (start.travelled_m, start.way_m));
        done
    }

    /// A leg on which nothing about this zone can have changed.
    pub(super) fn skip(&mut self, leg: &Leg) {
        self.sense_shore_along(leg);
        match self.standing {
            Some(certainty) => {
                self.stay_inside(leg, (0.0, 1.0), certainty, &[]);
                if let Some(open) = &mut self.open {
                    open.skip_fix(leg);
                }
            }
            None => {
                if let Some(open) = &mut self.open {
                    open.outside_s += leg.seconds().unwrap_or(0.0);
                }
            }
        }
    }

    /// A leg that may have changed something.
    pub(super) fn pass(&mut self, ask: Ask, step: &Step<'_>) -> LegEvents {
        let mut done = LegEvents::default();
        let (Some(before), Some(boundary)) = (self.measure(step.from), step.zone.extent.area()) else {
            return done;
        };
        let Some(after) = self.measure(step.to) else { return done };
        let leg = step.leg;
        self.sense_shore_along(leg);
        let beside = Beside {
            leg,
            boundary,
            bounds: self.bounds,
            ends: (before, after),
            doubt_m: before.random_m.max(after.random_m) + self.closure_error_m,
            stray: step.stray,
            merge_within_s: step.merge_within_s,
            is_plan: step.is_plan,
        };
        if ask == Ask::HowDeep {
            self.stay_inside(step.leg, (0.0, 1.0), Certainty::Certain, &[]);
            if let Some(open) = &mut self.open {
                open.note_depth(step.leg.instant(1.0), (after.signed_m, after.doubt_m));
            }
            self.note_extremes(&beside);
            self.rest(step.to.0, &after, (step.travelled_m, step.way_m));
            return done;
        }
        if self.is_active() || beside.may_touch() {
            let passings = self.passings(&beside);
            for part in self.parts_of(&beside, &passings) {
                self.apply(&beside, part, &mut done);
            }
            self.pass_over(&beside, passings, (step.first_crossing, &mut done));
        }
        self.note_extremes(&beside);
        let near = Near { distance_m: after.signed_m, doubt_m: after.doubt_m, at: step.leg.instant(1.0) };
        self.standing = self.standing_at(&after);
        if let Some(certainty) = self.standing {
            if self.open.is_none() {
                self.open_at(near, Evidence::Fixes);
                done.entered = done.entered.or(Some((certainty, near.at)));
            }
            let at = (step.leg.number.saturating_add(1), step.leg.to.time_between);
            self.note_fix(near, certainty, at);
        }
        if after.signed_m > clear_of_m(after.doubt_m) + 2.0 * step.stray.most_m() {
            done.left.extend(self.close());
        }
        self.rest(step.to.0, &after, (step.travelled_m, step.way_m));
        done
    }

    /// A suspect fix that may be inside. A visit that goes on and is not sure takes it in; visits known from such fixes alone
    /// are told apart, and joined over short times.
    pub(super) fn suspect(
        &mut self,
        near: Near,
        ruled: RuledTime,
        settings: &TrackSettings,
    ) -> Option<Closed> {
        self.visited = true;
        let since_s = |open: &Open| Some(near.at.time?.duration_since(open.last().time?).as_secs_f64());
        let is_over =
            |open: &Open| since_s(open).is_some_and(|seconds| seconds.abs() > settings.merge_within_s);
        // a visit that is sure needs no fix that is not; one that goes on from minutes ago or later is another
        if let Some(open) = self.open.as_mut().filter(|open| open.is_certain() || !is_over(open)) {
            if !open.is_certain() {
                open.suspect(near, 0.0);
            }
            open.note_ruled(ruled, settings.merge_within_s);
            return None;
        }
        let over = self
            .suspected
            .take_if(|open| is_over(open))
            .map(|open| open.close(&self.zone, self.zone.number()));
        let open = self.suspected.get_or_insert_with(|| Open::new(near, Evidence::Fixes, Paces::default()));
        let joined = |seconds: &f64| (0.0..=settings.gap_after_s).contains(seconds);
        let seconds = since_s(open).filter(joined).unwrap_or(0.0);
        open.suspect(near, seconds);
        open.note_ruled(ruled, settings.merge_within_s);
        over
    }

    /// Ends the visit that goes on, when the boat has come clear of the zone or the track ends.
    pub(super) fn close(&mut self) -> Option<Closed> {
        Some(self.open.take()?.close(&self.zone, self.zone.number()))
    }

    /// Ends the visit that goes on where the log ends, be it inside.
    pub(super) fn close_at_end(&mut self) -> Option<Closed> {
        if let Some(open) = &mut self.open {
            open.is_cut.1 = self.standing.is_some();
        }
        self.close()
    }

    /// Ends the visit known from suspect fixes, when the track ends.
    pub(super) fn close_suspected(&mut self) -> Option<Closed> {
        Some(self.suspected.take()?.close(&self.zone, self.zone.number()))
    }

    pub(super) fn standing_at(&self, measured: &Measured) -> Option<Certainty> {
        if measured.signed_m > measured.doubt_m {
            None
        } else if measured.known_m < -measured.random_m && self.is_placed {
            Some(Certainty::Certain)
        } else {
            Some(Certainty::Possible)
        }
    }

    /// Until when nothing can change: a signed distance, under each reading, changes by no more than the way made, and the
    /// nearest and the deepest place are found to [`LEAST_TOLERANCE_M`].
    fn rest(&mut self, fix: &Fix, measured: &Measured, (travelled_m, way_m): (f64, f64)) {
        let Measured { signed_m, least_m, greatest_m, drawn_m, random_m, .. } = *measured;
        let closure_error_m = self.closure_error_m;
        let off_m = least_m - self.line_doubt_m - closure_error_m;
        self.due = Due::from_place(way_m, off_m, (signed_m, self.floor_m()));
        let to_change_m = match self.standing {
            None => least_m - random_m - closure_error_m,
            // beyond a shore nothing is sure at once
            Some(Certainty::Certain) => -(greatest_m + random_m + closure_error_m).max(drawn_m),
            Some(Certainty::Possible) if self.is_placed => {
                (random_m - least_m).min(greatest_m + random_m).min(signed_m.abs())
            }
            Some(Certainty::Possible) => random_m - least_m,
        };
        let to_extreme_m = match &self.open {
            Some(open) if self.is_placed => signed_m - open.deepest.distance_m + LEAST_TOLERANCE_M,
            Some(_) | None => f64::INFINITY,
        };
        // an open visit outside the line has to see the boat come clear of it
        let clear_m = if self.open.is_some() && signed_m > 0.0 { 0.0 } else { f64::INFINITY };
        self.quiet_fix_m = fix.uncertainty.radius_95().metres();
        self.firm_until_m = travelled_m + to_change_m;
        self.quiet_until_m = travelled_m + to_change_m.min(clear_m).max(0.0);
        self.shallow_until_m = travelled_m + to_extreme_m.max(0.0);
    }

    pub(super) fn open_at(&mut self, near: Near, evidence: Evidence) {
        self.visited = true;
        let paces = Paces::asked_by(self.zone.rule.passage.as_ref());
        let mut open = Open::new(near, evidence, paces);
        for (at, told) in self.at_shore.into_iter().flatten() {
            open.at_shore(at, told);
        }
        self.open = Some(open);
    }

    fn sense_shore_along(&mut self, leg: &Leg) {
        if self.shore.is_some() {
            let [from, to] = [(0.0, leg.radii_m[0]), (1.0, leg.radii_m[1])];
            self.sense_shore(Some((leg.instant(from.0), from.1)), (leg.instant(to.0), to.1));
        }
    }

    /// Looks where the fixes of a step lie of the shore; each a moment with its uncertainty in metres.
    fn sense_shore(&mut self, from: Option<(LoggedMoment, f64)>, to: (LoggedMoment, f64)) {
        let Some((sense, boundary)) = self.shore.as_mut().zip(self.zone.extent.area()) else { return };
        let mut told =
            |(at, radius_m): (LoggedMoment, f64)| (at, sense.at(boundary, (at.position, radius_m)));
        // in the order of the step: the last place is remembered
        self.at_shore = [from.map(&mut told), Some(told(to))];
        if let (Some(open), Some((at, told))) = (&mut self.open, self.at_shore[1]) {
            open.at_shore(at, told);
        }
    }

    fn record_approach(&mut self, near: Near) {
        let nearer = self.closest.is_none_or(|closest| near.distance_m < closest.distance_m - SAME_M);
        if nearer && near.distance_m < FAR_M && self.is_placed {
            self.closest = Some(near);
        }
    }

    /// A fix, with how many went before it, and from when to when it was made where its time is placed.
    fn note_fix(
        &mut self,
        near: Near,
        certainty: Certainty,
        (number, between): (u64, Option<(Timestamp, Timestamp)>),
    ) {
        let end = End { along: Along::at_fix(number), time: near.at.time, between };
        let stay = Stay { from: end, to: end };
        if let Some(open) = &mut self.open {
            open.at_fix(near, certainty, stay);
        }
        if let Some(history) = &mut self.history {
            history.push(stay, certainty);
        }
    }
}

/// Farther outside than this a visit has ended: three times the doubt and a boat's length or three, so that wander about
/// the edge of the doubt is one visit and not forty.
fn clear_of_m(doubt_m: f64) -> f64 {
    3.0 * doubt_m + 20.0
}

/// The way, jumps and gaps counted, before which nothing can come of a zone that the boat is not in, in metres.
///
/// A signed distance, under each reading, changes by no more than the way made.
#[derive(Debug, Clone, Copy)]
pub(super) struct Due {
    /// Before the boat can be within the doubt of the line: what fixes and straying add has to be taken off it.
    change_m: f64,
    /// Before it can be nearer than ever.
    extreme_m: f64,
}

/// A step as a zone sees it that the boat is not in, in metres.
#[derive(Debug, Clone, Copy)]
#[expect(clippy::struct_field_names, reason = "the unit ends the name of every bare number")]
pub(super) struct Approach {
    /// The way made up to its end, jumps and gaps counted.
    pub(super) way_m: f64,
    /// How long it is; nothing where it was jumped.
    pub(super) length_m: f64,
    /// What the doubts of its fixes, and what the boat can have left it by, add to the way.
    pub(super) reach_m: f64,
}

impl Due {
    /// At once.
    pub(super) const NOW: Self = Self { change_m: f64::NEG_INFINITY, extreme_m: f64::NEG_INFINITY };

    /// From a place where the line, its doubt taken off, is `off_m` away under the nearest reading, and `signed_m` as it is told;
    /// nearer than ever is nearer than `floor_m`.
    pub(super) fn from_place(way_m: f64, off_m: f64, (signed_m, floor_m): (f64, f64)) -> Self {
        Self { change_m: way_m + off_m - SPARE_M, extreme_m: way_m + signed_m - floor_m - SPARE_M }
    }

    /// Whether a step can do anything.
    pub(super) fn has_come(self, step: Approach) -> bool {
        step.way_m + step.reach_m >= self.change_m || step.way_m >= self.extreme_m
    }

    /// The way before which nothing has to be asked, but for what a step adds to it.
    pub(super) fn soonest_m(self) -> f64 {
        self.change_m.min(self.extreme_m)
    }

    /// Put off by the box about the zone, doubts counted, that is so far off the end of a step: if it is so far off that the
    /// step itself does nothing either.
    pub(super) fn put_off_by_box(&mut self, box_m: f64, floor_m: f64, step: Approach) {
        let on_the_step_m = box_m - step.length_m - SPARE_M;
        if box_m > 0.0 && on_the_step_m > step.reach_m && on_the_step_m > floor_m {
            let by_box = Self::from_place(step.way_m, box_m, (box_m, floor_m));
            self.change_m = self.change_m.max(by_box.change_m);
            self.extreme_m = self.extreme_m.max(by_box.extreme_m);
        }
    }
}
