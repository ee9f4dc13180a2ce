//! One zone watched along a track: when the boat may have been inside, for how long and how deep.

use super::cleaning::uncertainty_of;
use super::leg::Leg;
use super::movement::Movement;
use super::{Certainty, Crossing, Direction, Evidence, Gap, Instant, TrackSettings, Visit};
use crate::zone::{Extent, Zone};
use crate::{Boundary, Fix, Kleene, Located, Metres, Position};

/// Zones whose line never came nearer than this, in metres, are not among the closest approaches.
pub(super) const FAR_M: f64 = 20_000.0;

/// What is known of the boat and one zone so far.
#[derive(Debug)]
pub(super) struct Watch<'a> {
    pub(super) zone: &'a Zone,
    pub(super) number: usize,
    boundary: Option<&'a Boundary>,
    /// Metres of way before which nothing about this zone can change.
    quiet_until_m: f64,
    /// The doubt of the fix that this was reckoned with, in metres; a greater one may change the standing at once.
    quiet_fix_m: f64,
    /// The standing at the last fix, known also while nothing changes.
    standing: Option<Certainty>,
    open: Option<Open>,
    pub(super) closest: Option<Near>,
    pub(super) visited: bool,
}

/// A distance to the line, and where and when.
#[derive(Debug, Clone, Copy)]
pub(super) struct Near {
    pub(super) distance_m: f64,
    pub(super) doubt_m: f64,
    pub(super) at: Instant,
}

/// A visit that goes on.
#[derive(Debug)]
struct Open {
    first: Instant,
    last: Instant,
    evidence: Evidence,
    certain_s: f64,
    possible_s: f64,
    certain: bool,
    deepest: Near,
    path_m: f64,
    crossings: Vec<(usize, Direction, Instant)>,
    outside_s: f64,
    movement: Movement,
    had_gap: bool,
}

/// What one leg did.
#[derive(Debug, Default)]
pub(super) struct Happenings {
    pub(super) crossings: Vec<Crossing>,
    pub(super) entered: Option<(Certainty, Instant)>,
    pub(super) left: Option<Visit>,
}

/// A leg, and what counts on it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Step<'s> {
    pub(super) leg: &'s Leg,
    pub(super) from: &'s Fix,
    pub(super) to: &'s Fix,
    /// Way made up to its end, in metres.
    pub(super) travelled_m: f64,
    /// The number that the next crossing gets.
    pub(super) first_crossing: usize,
    pub(super) linger_s: f64,
}

/// A leg beside a line: the distances of its two ends, and the doubt that counts on it, in metres.
#[derive(Debug, Clone, Copy)]
struct Beside<'s> {
    leg: &'s Leg,
    boundary: &'s Boundary,
    ends: (f64, f64),
    doubt: f64,
    linger_s: f64,
}

/// A stretch of a leg on one side of every value that matters.
#[derive(Debug, Clone, Copy)]
struct Stretch {
    from: f64,
    to: f64,
    standing: Option<Certainty>,
}

impl<'a> Watch<'a> {
    pub(super) fn new(zone: &'a Zone, number: usize) -> Self {
        let boundary = match &zone.extent {
            Extent::Known(boundary) => Some(boundary),
            Extent::Unknown { somewhere_in, .. } => somewhere_in.as_ref(),
        };
        Self {
            zone,
            number,
            boundary,
            quiet_until_m: f64::NEG_INFINITY,
            quiet_fix_m: 0.0,
            standing: None,
            open: None,
            closest: None,
            visited: false,
        }
    }

    pub(super) fn standing(&self) -> Option<Certainty> {
        self.standing
    }

    /// Whether a leg that ends at this way can change anything.
    pub(super) fn is_due(&self, travelled_m: f64, to: &Fix) -> bool {
        let wider = to.uncertainty.radius_95().metres() > self.quiet_fix_m;
        self.boundary.is_some() && (wider || travelled_m > self.quiet_until_m)
    }

    /// Distance to the line and its doubt at a fix.
    pub(super) fn measure(&self, fix: &Fix) -> Option<(f64, f64)> {
        let located = self.boundary?.locate(fix.position);
        Some((located.signed_distance.metres(), self.doubt_m(fix, &located)))
    }

    /// The doubt of a distance to the line, 95 %, as for a single fix.
    pub(super) fn doubt_m(&self, fix: &Fix, located: &Located) -> f64 {
        fix.uncertainty.radius_95().metres().hypot(self.line_doubt_m()) + located.reading_doubt.metres()
    }

    /// The doubt of the line itself, 95 %, without that of how its edges are read.
    fn line_doubt_m(&self) -> f64 {
        self.zone.line_uncertainty.metres().hypot(self.zone.datum.uncertainty_95().metres())
    }

    /// The first fix after a break, or of the track.
    pub(super) fn start(&mut self, fix: &Fix, at: Instant, travelled_m: f64) -> Happenings {
        let mut done = Happenings::default();
        let Some((distance_m, doubt_m)) = self.measure(fix) else { return done };
        let near = Near { distance_m, doubt_m, at };
        self.note_near(near);
        self.standing = self.standing_at(distance_m, doubt_m);
        if let Some(certainty) = self.standing {
            if self.open.is_none() {
                self.open = Some(Open::new(near, Evidence::Fixes));
                self.visited = true;
                done.entered = Some((certainty, at));
            }
            self.note_inside(near, certainty);
        } else if distance_m > clear_of_m(doubt_m) {
            done.left = self.close();
        }
        self.quiet_fix_m = fix.uncertainty.radius_95().metres();
        self.rest(distance_m, doubt_m, travelled_m);
        done
    }

    /// A leg on which nothing about this zone can have changed.
    pub(super) fn pass_quietly(&mut self, leg: &Leg) {
        let Some(open) = &mut self.open else { return };
        let seconds = leg.seconds().unwrap_or(0.0);
        match self.standing {
            Some(certainty) => {
                open.possible_s += seconds;
                if certainty == Certainty::Certain {
                    open.certain_s += seconds;
                }
                open.path_m += leg.length_m;
                open.last = leg.instant(1.0);
                open.movement.push(leg, (0.0, 1.0));
            }
            None => open.outside_s += seconds,
        }
    }

    /// A leg that may have changed something.
    pub(super) fn pass(&mut self, step: &Step<'_>) -> Happenings {
        let mut done = Happenings::default();
        let (Some(before), Some(after), Some(boundary)) =
            (self.measure(step.from), self.measure(step.to), self.boundary)
        else {
            return done;
        };
        let beside = Beside {
            leg: step.leg,
            boundary,
            ends: (before.0, after.0),
            doubt: before.1.max(after.1),
            linger_s: step.linger_s,
        };
        let crossings = self.crossings(&beside);
        for stretch in self.stretches(&beside, crossings.is_empty()) {
            self.live_through(&beside, stretch, &mut done);
        }
        if let Some(open) = &mut self.open {
            for (nth, crossing) in crossings.iter().enumerate() {
                open.crossings.push((step.first_crossing + nth, crossing.direction, crossing.at));
            }
        }
        done.crossings = crossings;
        let near = Near { distance_m: after.0, doubt_m: after.1, at: step.leg.instant(1.0) };
        self.note_near(near);
        self.standing = self.standing_at(after.0, after.1);
        if let Some(certainty) = self.standing {
            self.note_inside(near, certainty);
            if let Some(open) = &mut self.open {
                open.evidence = Evidence::Fixes;
            }
        }
        if after.0 > clear_of_m(after.1) && done.left.is_none() {
            done.left = self.close();
        }
        self.quiet_fix_m = step.to.uncertainty.radius_95().metres();
        self.rest(after.0, after.1, step.travelled_m);
        done
    }

    /// A gap: what could have been reached in it, if that touches the zone at all.
    pub(super) fn pass_gap(&mut self, gap: &Gap, settings: &TrackSettings) -> Option<Visit> {
        let boundary = self.boundary?;
        let doubts_m = [gap.before, gap.after].map(|fix| uncertainty_of(&fix, settings).radius_95().metres());
        let spare_m = doubts_m[0] + doubts_m[1] + 2.0 * self.line_doubt_m();
        let reached = || super::reach::reach(gap, boundary, spare_m, settings);
        if let Some(open) = &mut self.open {
            open.had_gap = true;
            open.last.between = gap.before.time.zip(gap.after.time);
            if self.standing.is_some() {
                open.possible_s += gap.seconds.unwrap_or(0.0);
            } else if let Some(reached) = reached() {
                // the boat had just come out, and can have gone back in
                open.possible_s += reached.longest_s;
            } else {
                open.outside_s += gap.seconds.unwrap_or(0.0);
            }
            return None;
        }
        let reached = reached()?;
        self.visited = true;
        let instant = |position: Position, time| Instant {
            position,
            time,
            between: gap.before.time.zip(gap.after.time),
        };
        let near = Near {
            distance_m: reached.deepest_m,
            doubt_m: self.zone.line_uncertainty.metres(),
            at: instant(reached.first.0, reached.first.1),
        };
        let mut open = Open::new(near, Evidence::Gap);
        open.possible_s = reached.longest_s;
        open.last = instant(reached.last.0, reached.last.1);
        open.had_gap = true;
        Some(open.into_visit(self.zone, self.number))
    }

    /// The time between two trips: only in a zone that holds both ends of it may the boat have stayed all the while.
    pub(super) fn pass_pause(&mut self, gap: &Gap, after: &Fix) -> Option<Visit> {
        let held_after = self
            .measure(after)
            .is_some_and(|(distance_m, doubt_m)| self.standing_at(distance_m, doubt_m).is_some());
        if self.standing.is_none() || !held_after {
            return self.close();
        }
        let open = self.open.as_mut()?;
        open.had_gap = true;
        open.last.between = gap.before.time.zip(gap.after.time);
        open.possible_s += gap.seconds.unwrap_or(0.0);
        None
    }

    /// Ends a visit that goes on when the track does not.
    pub(super) fn close(&mut self) -> Option<Visit> {
        let open = self.open.take()?;
        Some(open.into_visit(self.zone, self.number))
    }

    fn is_known(&self) -> bool {
        matches!(self.zone.extent, Extent::Known(_))
    }

    fn standing_at(&self, distance_m: f64, doubt_m: f64) -> Option<Certainty> {
        if distance_m > doubt_m {
            None
        } else if distance_m < -doubt_m && self.is_known() {
            Some(Certainty::Certain)
        } else {
            Some(Certainty::Possible)
        }
    }

    /// Until when nothing can change: the signed distance changes by no more than the way made. Where the boat is near its
    /// closest or deepest so far, one per cent of the distance is as exact as that extreme is found.
    fn rest(&mut self, distance_m: f64, doubt_m: f64, travelled_m: f64) {
        let to_change_m = (distance_m.abs() - doubt_m).max(0.0);
        let to_extreme_m = match (&self.open, self.closest) {
            (Some(open), _) if distance_m < 0.0 => distance_m - open.deepest.distance_m,
            (None, Some(closest)) if distance_m > 0.0 => distance_m - closest.distance_m,
            _ => 0.0,
        };
        let patience_m = to_extreme_m.max(0.01 * distance_m.abs());
        // an open visit outside the line has to see the boat come clear of it
        let clear_m = if self.open.is_some() && distance_m > 0.0 { 0.0 } else { f64::INFINITY };
        self.quiet_until_m = travelled_m + to_change_m.min(patience_m).min(clear_m);
    }

    fn note_near(&mut self, near: Near) {
        let nearer = self.closest.is_none_or(|closest| near.distance_m < closest.distance_m);
        if nearer && near.distance_m < FAR_M {
            self.closest = Some(near);
        }
    }

    fn note_inside(&mut self, near: Near, certainty: Certainty) {
        if let Some(open) = &mut self.open {
            open.certain |= certainty == Certainty::Certain;
            open.last = near.at;
            if near.distance_m < open.deepest.distance_m {
                open.deepest = near;
            }
        }
    }

    fn crossings(&self, beside: &Beside<'_>) -> Vec<Crossing> {
        if !self.is_known() {
            return Vec::new();
        }
        let mut inside = beside.ends.0 <= 0.0;
        beside
            .leg
            .passings(beside.boundary, 0.0, beside.ends)
            .into_iter()
            .map(|share| {
                inside = !inside;
                let direction = if inside { Direction::In } else { Direction::Out };
                Crossing { zone: self.zone.id.clone(), direction, at: beside.leg.instant(share) }
            })
            .collect()
    }

    /// Cuts a leg where the boat comes within the doubt of the line, over it, and out of it.
    fn stretches(&self, beside: &Beside<'_>, stays_on_one_side: bool) -> Vec<Stretch> {
        let Beside { leg, boundary, ends, doubt, .. } = *beside;
        let mut cuts = vec![0.0, 1.0];
        if !stays_on_one_side || ends.0.min(ends.1) - leg.length_m <= doubt {
            cuts.extend(
                [doubt, -doubt].into_iter().flat_map(|value_m| leg.passings(boundary, value_m, ends)),
            );
        }
        cuts.sort_by(f64::total_cmp);
        cuts.windows(2)
            .filter(|pair| pair[1] > pair[0])
            .map(|pair| {
                let middle = leg.at(f64::midpoint(pair[0], pair[1]));
                let distance_m = boundary.locate(middle).signed_distance.metres();
                Stretch { from: pair[0], to: pair[1], standing: self.standing_at(distance_m, doubt) }
            })
            .collect()
    }

    fn live_through(&mut self, beside: &Beside<'_>, stretch: Stretch, done: &mut Happenings) {
        let leg = beside.leg;
        let seconds = leg.seconds().unwrap_or(0.0) * (stretch.to - stretch.from);
        let Some(certainty) = stretch.standing else {
            if let Some(open) = &mut self.open {
                open.outside_s += seconds;
                if open.outside_s > beside.linger_s {
                    done.left = self.close();
                }
            }
            return;
        };
        let near_at = |share: f64| Near {
            distance_m: beside.boundary.locate(leg.at(share)).signed_distance.metres(),
            doubt_m: beside.doubt,
            at: leg.instant(share),
        };
        if self.open.is_none() {
            self.visited = true;
            let first = near_at(stretch.from);
            self.open = Some(Open::new(first, Evidence::BetweenFixes));
            done.entered = Some((certainty, first.at));
        }
        for share in [f64::midpoint(stretch.from, stretch.to), stretch.to] {
            self.note_inside(near_at(share), certainty);
        }
        if let Some(open) = &mut self.open {
            open.outside_s = 0.0;
            open.possible_s += seconds;
            if certainty == Certainty::Certain {
                open.certain_s += seconds;
            }
            open.path_m += leg.length_m * (stretch.to - stretch.from);
            open.movement.push(leg, (stretch.from, stretch.to));
        }
    }
}

/// Farther outside than this a visit has ended: three times the doubt and a boat's length or three, so that wander about
/// the edge of the doubt is one visit and not forty.
fn clear_of_m(doubt_m: f64) -> f64 {
    3.0 * doubt_m + 20.0
}

impl Open {
    fn new(first: Near, evidence: Evidence) -> Self {
        Self {
            first: first.at,
            last: first.at,
            evidence,
            certain_s: 0.0,
            possible_s: 0.0,
            certain: false,
            deepest: first,
            path_m: 0.0,
            crossings: Vec::new(),
            outside_s: 0.0,
            movement: Movement::default(),
            had_gap: false,
        }
    }

    fn into_visit(self, zone: &Zone, number: usize) -> Visit {
        let first_in = self.crossings.iter().find(|(_, direction, _)| *direction == Direction::In);
        let last_out = self.crossings.iter().rev().find(|(_, direction, _)| *direction == Direction::Out);
        let entered = first_in.map_or(self.first, |(_, _, at)| *at);
        let left = last_out.map_or(self.last, |(_, _, at)| *at);
        let moved = self.movement.finish();
        Visit {
            zone: zone.id.clone(),
            zone_number: number,
            certainty: if self.certain { Certainty::Certain } else { Certainty::Possible },
            evidence: self.evidence,
            entered,
            left,
            certain_s: self.certain_s,
            possible_s: self.possible_s,
            deepest: Metres::computed(-self.deepest.distance_m),
            deepest_uncertainty_95: Metres::computed(self.deepest.doubt_m),
            path: Metres::computed(self.path_m),
            speeds: moved.speeds(),
            stops: moved.stops(TrackSettings::STOP_BELOW_KN),
            crossings: self.crossings.iter().map(|(crossing, _, _)| *crossing).collect(),
            in_force: Kleene::Undecided,
            in_force_because: Vec::new(),
            conditions: super::conditions::tested(
                zone.rule.passage.as_ref(),
                &moved,
                (self.certain, self.had_gap),
            ),
            movement: moved.sentences(),
        }
    }
}
