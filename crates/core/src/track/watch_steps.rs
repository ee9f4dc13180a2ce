//! What one step of a track does to the watch of a zone: a leg, with the parts of it inside, the crossings, the nearest and the
//! deepest place; and a time without a log, be it a gap or the pause between two trips.

use super::gap::GapLook;
use super::leg::{Beside, LEAST_TOLERANCE_M, Leg, Measured};
use super::logged_fix::uncertainty_of;
use super::open_visit::{Closed, Near};
use super::stay::{Along, End, Stay};
use super::watch::{FAR_M, LegEvents, SAME_M, Watch};
use super::{
    Certainty, Crossing, Direction, Evidence, Gap, LoggedFix, LoggedMoment, TrackSettings, VisitEnd,
};
use crate::boundary::SideKind;
use crate::geodesic::surface;
use crate::{Fix, Metres, Position};

/// A part of a leg on one side of every value that matters.
#[derive(Debug, Clone, Copy)]
pub(super) struct LegPart {
    from: f64,
    to: f64,
    standing: Option<Certainty>,
    /// Whether the boat must have left the straight way to be inside.
    is_stray: bool,
}

/// Where the straight way goes over the line.
#[derive(Debug, Clone, Copy)]
pub(super) struct Passing {
    share: f64,
    direction: Direction,
    over: VisitEnd,
}

impl Watch {
    /// A part of a leg that lies inside, or perhaps, on the straight way; `loose` are the shares between which the boat can
    /// have left it for the outside.
    ///
    /// What displaces another rule must be sure, so that such a time is no more than possible for it.
    pub(super) fn stay_inside(
        &mut self,
        leg: &Leg,
        shares: (f64, f64),
        certainty: Certainty,
        loose: &[(f64, f64)],
    ) {
        if let Some(open) = &mut self.open {
            open.pass(leg, shares, certainty);
        }
        let firm = if certainty == Certainty::Certain { without(loose, shares) } else { Vec::new() };
        if let Some(history) = &mut self.history {
            history.push(leg.stay(shares.0, shares.1), Certainty::Possible);
        }
        for (from, to) in firm {
            let stay = leg.stay(from, to);
            if let Some(open) = &mut self.open {
                open.be_firm(stay);
            }
            if let Some(history) = &mut self.history {
                history.push(stay, Certainty::Certain);
            }
        }
    }

    /// The nearest place on a leg to a zone not yet visited, or the deepest of a visit.
    pub(super) fn note_extremes(&mut self, beside: &Beside<'_>) {
        if !self.is_placed || (self.visited && self.open.is_none()) {
            return;
        }
        let (before, after) = beside.ends;
        let so_far_m = match (&self.open, self.closest) {
            (Some(open), _) => open.deepest.distance_m,
            (None, Some(closest)) => closest.distance_m,
            (None, None) => FAR_M,
        };
        let deepest_m = before.deepest_towards(&after).min(after.deepest_towards(&before));
        let best_m = so_far_m.min(before.signed_m).min(after.signed_m);
        let between = if -deepest_m < best_m - LEAST_TOLERANCE_M {
            beside.leg.least(beside.boundary, (before.off(), after.off()), so_far_m)
        } else {
            None
        };
        let ends = [(0.0, before.signed_m), (1.0, after.signed_m)];
        for (share, distance_m) in ends.into_iter().chain(between) {
            let best_m = match (&self.open, self.closest) {
                (Some(open), _) => open.deepest.distance_m,
                (None, Some(closest)) => closest.distance_m - SAME_M,
                (None, None) => FAR_M,
            };
            if distance_m >= best_m {
                continue;
            }
            let doubt_m = if share >= 1.0 { after.doubt_m } else { before.doubt_m.max(after.doubt_m) };
            let near = Near { distance_m, doubt_m, at: beside.leg.instant(share) };
            match &mut self.open {
                Some(open) => open.deepest = near,
                None => self.closest = Some(near),
            }
        }
    }

    /// Where the straight way goes over the line, in order.
    pub(super) fn passings(&self, beside: &Beside<'_>) -> Vec<Passing> {
        if !self.is_placed {
            return Vec::new();
        }
        let ends_m = (beside.ends.0.signed_m, beside.ends.1.signed_m);
        let mut inside = ends_m.0 <= 0.0;
        beside
            .leg
            .passings(|place| beside.boundary.how_far(place).signed_distance.metres(), ends_m)
            .into_iter()
            .map(|share| {
                inside = !inside;
                let direction = if inside { Direction::In } else { Direction::Out };
                Passing { share, direction, over: beside.over(beside.leg.at(share)) }
            })
            .collect()
    }

    /// Tells the visit of the passings, and makes crossings of those where a boat crosses.
    pub(super) fn pass_over(
        &mut self,
        beside: &Beside<'_>,
        passings: Vec<Passing>,
        (first_number, done): (usize, &mut LegEvents),
    ) {
        for Passing { share, direction, over } in passings {
            let at = beside.leg.instant(share);
            let number = first_number + done.crossings.len();
            if over == VisitEnd::Crossing {
                done.crossings.push(Crossing { zone: self.zone.id.clone(), direction, at });
            }
            match &mut self.open {
                Some(open) if over == VisitEnd::Crossing => open.cross(number, (direction, at)),
                Some(open) => open.pass_over((direction, at), over),
                None => {}
            }
        }
    }

    /// Cuts a leg where the boat comes within the doubt of the line, over it, and out of it.
    pub(super) fn parts_of(&self, beside: &Beside<'_>, passings: &[Passing]) -> Vec<LegPart> {
        let Beside { leg, boundary, bounds, ends, .. } = *beside;
        let least = |place| bounds.least_m(&boundary.how_far(place));
        let outer = |place| beside.outer_m(least(place));
        let inner = |place| beside.inner_m(bounds.greatest_along_m(boundary, place));
        let outer_ends = (beside.outer_m(ends.0.least_m), beside.outer_m(ends.1.least_m));
        let inner_ends = (beside.inner_m(ends.0.greatest_m), beside.inner_m(ends.1.greatest_m));
        let mut cuts = leg.passings(outer, outer_ends);
        if self.is_placed {
            cuts.extend(leg.passings(inner, inner_ends));
        }
        if bounds.has_sides {
            // over a shore what is known jumps
            cuts.extend(passings.iter().map(|passing| passing.share));
        }
        let strays = beside.stray.within(leg, least, ((ends.0.least_m, ends.1.least_m), beside.doubt_m));
        cuts.extend(strays.iter().flat_map(|(from, to)| [*from, *to]));
        cuts.extend([0.0, 1.0]);
        cuts.sort_by(f64::total_cmp);
        cuts.windows(2)
            .filter(|pair| pair[1] > pair[0])
            .map(|pair| {
                let middle = f64::midpoint(pair[0], pair[1]);
                let far = boundary.how_far(leg.at(middle));
                let strayed = || strays.iter().any(|(from, to)| *from <= middle && middle <= *to);
                let is_outside = beside.outer_m(bounds.least_m(&far)) > 0.0;
                let standing = if is_over_land(passings, middle) {
                    // it went round, and nobody knows how
                    Some(Certainty::Possible)
                } else if is_outside {
                    strayed().then_some(Certainty::Possible)
                } else if self.is_placed && beside.inner_m(bounds.greatest_m(&far)) < 0.0 {
                    Some(Certainty::Certain)
                } else {
                    Some(Certainty::Possible)
                };
                LegPart { from: pair[0], to: pair[1], standing, is_stray: is_outside }
            })
            .collect()
    }

    pub(super) fn apply(&mut self, beside: &Beside<'_>, part: LegPart, done: &mut LegEvents) {
        let leg = beside.leg;
        let Some(mut certainty) = part.standing else {
            if let Some(open) = &mut self.open {
                open.outside_s += leg.seconds().unwrap_or(0.0) * (part.to - part.from);
                if open.outside_s > beside.merge_within_s {
                    done.left.extend(self.close());
                }
            }
            return;
        };
        if !self.is_sure_on(beside, part) {
            certainty = Certainty::Possible;
        }
        let near_at = |share: f64| {
            let far = beside.boundary.how_far(leg.at(share));
            let doubt_m = beside.doubt_m + if beside.bounds.has_sides { far.missed_m() } else { 0.0 };
            Near { distance_m: far.signed_distance.metres(), doubt_m, at: leg.instant(share) }
        };
        if self.open.is_none() {
            let first = near_at(part.from);
            self.open_at(first, Evidence::BetweenFixes);
            done.entered = Some((certainty, first.at));
        }
        let middle = f64::midpoint(part.from, part.to);
        if part.is_stray {
            self.stray_inside(beside, part, near_at(middle));
            return;
        }
        let loose = if certainty == Certainty::Certain { beside.loose() } else { Vec::new() };
        self.stay_inside(leg, (part.from, part.to), certainty, &loose);
        if let Some(open) = &mut self.open {
            open.be_inside(near_at(middle), certainty);
        }
    }

    /// Whether the straight way can be believed where it lies surely inside: in a plan, and where it goes on from a fix that
    /// was surely inside itself. Between two fixes outside the boat may have gone round, and where it was faster than it can
    /// be it went some other way.
    fn is_sure_on(&self, beside: &Beside<'_>, part: LegPart) -> bool {
        let is_sure = |end: &Measured| self.standing_at(end) == Some(Certainty::Certain);
        let (before, after) = &beside.ends;
        let goes_on = (part.from <= 0.0 && is_sure(before)) || (part.to >= 1.0 && is_sure(after));
        beside.is_plan || (goes_on && !beside.stray.is_too_fast())
    }

    /// A part on which the boat must have left the straight way to be inside.
    fn stray_inside(&mut self, beside: &Beside<'_>, part: LegPart, near: Near) {
        let (leg, shares) = (beside.leg, (part.from, part.to));
        let most_in_m = beside.stray.at_m(f64::midpoint(shares.0, shares.1)) - near.distance_m;
        if let Some(open) = &mut self.open {
            open.stray(leg, shares, (near, most_in_m, beside.stray.off_the_way()));
        }
        if let Some(history) = &mut self.history {
            history.push(leg.stay(shares.0, shares.1), Certainty::Possible);
        }
    }
}

impl Beside<'_> {
    /// What lies at a place of the line: a side that a boat crosses, or none.
    fn over(&self, place: Position) -> VisitEnd {
        if !self.bounds.has_sides {
            return VisitEnd::Crossing;
        }
        let is_crossable_near = || {
            let crossable = self.boundary.locate_crossable(place);
            crossable.is_some_and(|near| near.signed_distance.metres().abs() <= self.doubt_m)
        };
        match self.boundary.side_nearest(place).kind {
            SideKind::Open | SideKind::Mouth => VisitEnd::Crossing,
            // a boat that hugs the shore crosses beside it
            SideKind::Shore if !is_crossable_near() => VisitEnd::Shore,
            SideKind::Shore | SideKind::Unresolved => VisitEnd::InDoubt,
        }
    }
}

/// Whether a share of a leg lies between a passing out over a shore and one in over a shore.
fn is_over_land(passings: &[Passing], share: f64) -> bool {
    passings.windows(2).any(|pair| {
        let is_shore = pair.iter().all(|passing| passing.over == VisitEnd::Shore);
        is_shore && pair[0].direction == Direction::Out && pair[0].share <= share && share <= pair[1].share
    })
}

/// What is left of a part without others, which are in order.
fn without(others: &[(f64, f64)], (from, to): (f64, f64)) -> Vec<(f64, f64)> {
    let mut left = Vec::new();
    let mut begins = from;
    for (other_from, other_to) in others {
        if begins < other_from.min(to) {
            left.push((begins, other_from.min(to)));
        }
        begins = begins.max(*other_to);
    }
    if begins < to {
        left.push((begins, to));
    }
    left
}

impl Watch {
    /// A gap before a fix: what could have been reached in it, if that touches the zone at all.
    pub(super) fn pass_gap(&mut self, gap: &Gap, settings: &TrackSettings, number: u64) -> LegEvents {
        let mut done = LegEvents::default();
        self.stray_in(gap, settings);
        self.at_shore = [None; 2];
        let Some(boundary) = self.zone.extent.area() else { return done };
        let fixes = [gap.before, gap.after].map(|logged| Fix {
            position: logged.position,
            uncertainty: uncertainty_of(&logged, settings),
            time: logged.time,
        });
        let doubts_m =
            fixes.map(|fix| fix.uncertainty.radius_95().metres() + self.line_doubt_m + self.largest_error_m);
        let is_in = fixes.map(|fix| {
            let measured = self.measured_from(&fix, &boundary.how_far(fix.position));
            self.standing_at(&measured).is_some()
        });
        let is_in = (is_in[0], is_in[1]);
        let look = GapLook { gap, settings, number, is_in, spare_m: (doubts_m[0], doubts_m[1]) };
        let Some(reached) = look.reach(boundary, &self.outline) else {
            if let Some(open) = &mut self.open {
                open.gap_outside(gap.seconds.unwrap_or(0.0));
            }
            return done;
        };
        let instant = |(position, time): (Position, _)| LoggedMoment {
            position,
            time,
            between: gap.before.time.zip(gap.after.time),
        };
        let ends = [instant(reached.first), instant(reached.last)];
        let doubt_m = doubts_m[0].max(doubts_m[1]);
        if self.open.is_none() {
            self.open_at(Near { distance_m: reached.deepest_m, doubt_m, at: ends[0] }, Evidence::Gap);
            // nothing was measured at the place where it began
            (self.quiet_until_m, self.firm_until_m) = (f64::NEG_INFINITY, f64::NEG_INFINITY);
            self.shallow_until_m = f64::NEG_INFINITY;
            done.entered = Some((Certainty::Possible, ends[0]));
        }
        if let Some(open) = &mut self.open {
            open.gap(gap.seconds.map(|_| reached.longest_s), reached.stay, ends);
            open.remark(gap, settings);
            open.gaps += u64::from(gap.is_listed(settings));
            if open.evidence == Evidence::Gap && reached.deepest_m < open.deepest.distance_m {
                open.deepest = Near { distance_m: reached.deepest_m, doubt_m, at: ends[0] };
            }
        }
        if let Some(history) = &mut self.history {
            history.push(reached.stay, Certainty::Possible);
        }
        done
    }

    /// Keeps how far off its straight way the boat can have been in a gap.
    fn stray_in(&mut self, gap: &Gap, settings: &TrackSettings) {
        let anywhere_m = || settings.top_speed_m_per_s() * gap.seconds.unwrap_or(0.0).max(0.0);
        self.strayed_m = gap.reach(settings).map_or_else(anywhere_m, Metres::metres);
    }

    /// The time between two trips: only in a zone that holds both ends of it may the boat have stayed all the while.
    pub(super) fn pass_pause(&mut self, gap: &Gap, after: &Fix, number: u64) -> Option<Closed> {
        let held_after = self
            .measure((after, &surface(after.position)))
            .is_some_and(|measured| self.standing_at(&measured).is_some());
        if self.standing.is_none() || !held_after {
            return self.close_at_end();
        }
        let between = gap.before.time.zip(gap.after.time);
        let ends = [gap.before, gap.after].map(|fix| LoggedMoment {
            position: fix.position,
            time: fix.time,
            between,
        });
        let end = |along, fix: &LoggedFix| End { along, time: fix.time, between: fix.time_between };
        let stay = Stay {
            from: end(Along::at_fix(number), &gap.before),
            to: end(Along::after_fix(number, 1.0), &gap.after),
        };
        if let Some(open) = &mut self.open {
            open.pause();
            open.gap(gap.seconds, stay, ends);
            open.gaps += 1;
        }
        if let Some(history) = &mut self.history {
            history.push(stay, Certainty::Possible);
        }
        None
    }
}
