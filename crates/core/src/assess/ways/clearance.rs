//! How far a place is clear of all water that is closed or limited, or how deep in it, whatever lies on top of what.

use std::cell::{Cell, OnceCell};
use std::sync::Arc;

use super::super::error_budget::ErrorBudget;
use crate::binding::Moment;
use crate::geodesic::surface;
use crate::rule::{Access, KnownTime};
use crate::zone::{Extent, Link, Zone, ZoneSet};
use crate::{Boundary, Fix, Position, Tristate};

/// After so many distances the zones are joined, which takes as long: then the borders between them are none.
const JOIN_AFTER: usize = 1_000;
/// Deeper than this in what is joined, in metres, no zone by itself is asked.
const DEEP_M: f64 = 1.0;
/// Rules that yield to rules that yield and so on are followed so far; what hangs on more stays undecided.
const DEEPEST: usize = 12;

/// Which part of a doubt counts that is not the same everywhere: what arcs miss their circles by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Inexact {
    /// As it is here.
    Here,
    /// Only where what is left then changes by no more than the way made.
    IfEven,
}

/// A zone that may close or limit the water somewhere near.
#[derive(Debug)]
struct Member<'a> {
    number: usize,
    /// Its line, or that of the area which it lies somewhere in; none for one that may be anywhere.
    area: Option<&'a Boundary>,
    is_known: bool,
    doubt: ErrorBudget,
    /// Whether its rule binds whoever is inside, if nothing displaces it.
    holds: Tristate,
    /// Whether it is one of those to keep clear of; others are here because they displace such a one.
    counts: bool,
}

/// The water about a fix that is, or may be, closed or limited: all zones together.
pub(super) struct Waters<'a> {
    zones: &'a ZoneSet,
    fix: &'a Fix,
    time: KnownTime,
    access: Option<Access>,
    counts: &'a dyn Fn(&Zone) -> bool,
    /// Those within [`Self::known_to_m`], and those that may be anywhere; by their places in the set.
    members: Vec<Member<'a>>,
    known_to_m: f64,
    /// What those of them hold together that yield to no other; none where there are too few, or they cannot be joined.
    joined: OnceCell<Option<Arc<Boundary>>>,
    distances: Cell<usize>,
}

/// What is asked about all the water: of which fix, when, and how the fishing is done.
#[derive(Clone, Copy)]
pub(super) struct Asked<'a> {
    pub(super) zones: &'a ZoneSet,
    pub(super) fix: &'a Fix,
    pub(super) time: KnownTime,
    pub(super) access: Option<Access>,
}

impl<'a> Waters<'a> {
    /// The zones that `counts` names, near a fix.
    pub(super) fn new(asked: Asked<'a>, counts: &'a dyn Fn(&Zone) -> bool) -> Self {
        let Asked { zones, fix, time, access } = asked;
        let mut waters = Self {
            zones,
            fix,
            time,
            access,
            counts,
            members: Vec::new(),
            known_to_m: f64::NEG_INFINITY,
            joined: OnceCell::new(),
            distances: Cell::new(0),
        };
        waters.look_to(0.0);
        waters
    }

    /// How far from the fix all that is said of a place is said of all zones, in metres.
    pub(super) fn known_to_m(&self) -> f64 {
        self.known_to_m
    }

    /// How many distances were asked so far.
    pub(super) fn distances(&self) -> usize {
        self.distances.get()
    }

    /// Takes in the zones that may matter so far from the fix, in metres.
    pub(super) fn look_to(&mut self, far_m: f64) {
        if far_m <= self.known_to_m {
            return;
        }
        self.known_to_m = far_m;
        let _ = self.joined.take();
        let reach_m = far_m + self.radius_m() + 1.0;
        let boxes = self.zones.boxes_about(surface(self.fix.position).point);
        let near = boxes.take_while(|(_, away_m)| *away_m <= reach_m).map(|(number, _)| number);
        let mut numbers: Vec<usize> = near.chain(self.zones.anywhere().iter().copied()).collect();
        numbers.sort_unstable();
        let moment = Moment::known(self.time);
        let known = std::mem::take(&mut self.members);
        let mut known = known.into_iter().peekable();
        for number in numbers {
            // both are in the order of the set, and what was near is near still
            match known.next_if(|member| member.number == number) {
                Some(member) => self.members.push(member),
                None => self.members.extend(self.member(number, &moment)),
            }
        }
    }

    fn member(&self, number: usize, moment: &Moment) -> Option<Member<'a>> {
        let zone = self.zones.zones().get(number)?;
        let counts = (self.counts)(zone);
        if !counts && zone.overrides.is_empty() {
            return None;
        }
        let holds = moment.in_force(zone).answer.and(zone.rule.binding(self.access));
        (holds != Tristate::No).then(|| Member {
            number,
            area: zone.extent.area(),
            is_known: matches!(zone.extent, Extent::Known(_)),
            doubt: ErrorBudget::of(self.fix, zone),
            holds,
            counts,
        })
    }

    fn radius_m(&self) -> f64 {
        self.fix.uncertainty.radius_95().metres()
    }

    /// A zone that nobody knows the place of, so that no place is surely clear of it, but where another rule may displace its own.
    pub(super) fn anywhere(&self) -> Option<&'a Zone> {
        let mut anywhere = self.members.iter().filter(|member| member.counts && member.area.is_none());
        anywhere.next().and_then(|member| self.zones.zones().get(member.number))
    }

    /// A zone that nobody knows the place of and whose rule nothing displaces.
    pub(super) fn everywhere(&self) -> Option<&'a Zone> {
        let yields = |number: usize| !self.zones.overrides().over(number).is_empty();
        let mut unknown = self.members.iter().filter(|member| member.counts && member.area.is_none());
        unknown.find(|member| !yields(member.number)).and_then(|member| self.zones.zones().get(member.number))
    }

    /// Those to keep clear of whose place is known, by their places in the set.
    pub(super) fn counting(&self) -> Vec<usize> {
        let counting = self.members.iter().filter(|member| member.counts && member.is_known);
        counting.map(|member| member.number).collect()
    }

    /// By how much a place is surely clear of all of them, in metres; negative where it is not.
    pub(super) fn clear_m(&self, place: Position) -> f64 {
        self.least_m(place, Inexact::Here)
    }

    /// The most that [`Self::clear_m`] can be here; it changes by no more than the way made.
    ///
    /// So where it is negative, no place within as many metres is clear.
    pub(super) fn at_most_clear_m(&self, place: Position) -> f64 {
        if let Some(joined) = self.joined() {
            self.distances.set(self.distances.get() + 1);
            // what is clear of all is outside of what they hold together
            let outside_m = joined.how_far(place).least.metres();
            if outside_m < -DEEP_M {
                return outside_m;
            }
        }
        self.least_m(place, Inexact::IfEven)
    }

    fn joined(&self) -> Option<&Boundary> {
        if self.distances.get() < JOIN_AFTER {
            return None;
        }
        let joined = self.joined.get_or_init(|| {
            let yields = |number: &usize| !self.zones.overrides().over(*number).is_empty();
            let numbers: Vec<usize> = self.counting().into_iter().filter(|number| !yields(number)).collect();
            (numbers.len() > 1).then(|| self.zones.union_of(numbers)).flatten()
        });
        joined.as_deref()
    }

    fn least_m(&self, place: Position, inexact: Inexact) -> f64 {
        let point = surface(place).point;
        // a look at zones that are far off, or that nobody knows the place of, costs something too
        self.distances.set(self.distances.get() + 1);
        let mut least_m = f64::INFINITY;
        for member in self.members.iter().filter(|member| member.counts) {
            // the box has all doubt in it but that of the fix
            if self.zones.box_away_m(member.number, point) - self.radius_m() < least_m {
                least_m = least_m.min(self.not_bound_m(member, (place, inexact), least_m, DEEPEST));
            }
        }
        least_m
    }

    /// By how much a place could be elsewhere and the rule of a zone would surely still not bind there, in metres; negative where
    /// it is not sure even here. It is sure as [`crate::binding::bind`] has it: outside, or where another rule displaces it.
    ///
    /// Made of signed distances by the least and the greatest of several only, so it changes by no more than the way made. What
    /// is `enough_m` or more may be told as less.
    fn not_bound_m(
        &self,
        member: &Member<'_>,
        asked: (Position, Inexact),
        enough_m: f64,
        deepest: usize,
    ) -> f64 {
        let (_, outside_m) = self.sides_m(member, asked);
        let displaces = |link: &Link| {
            let is_sure = link.certainty == Tristate::Yes;
            let by = self.member_numbered(link.by).filter(|_| is_sure)?;
            Some(self.bound_m(by, asked, deepest.checked_sub(1)?))
        };
        if outside_m >= enough_m {
            return outside_m;
        }
        let over = self.zones.overrides().over(member.number);
        over.iter().filter_map(displaces).fold(outside_m, f64::max)
    }

    /// The same of a rule that surely binds: inside, and where none displaces it.
    fn bound_m(&self, member: &Member<'_>, asked: (Position, Inexact), deepest: usize) -> f64 {
        if member.holds != Tristate::Yes || !member.is_known {
            return f64::NEG_INFINITY;
        }
        let (inside_m, _) = self.sides_m(member, asked);
        let over = self.zones.overrides().over(member.number);
        let displacing = over.iter().filter_map(|link| self.member_numbered(link.by));
        // what hangs on ever more rules is not sure
        let not_bound_m = |by: &Member<'_>| match deepest.checked_sub(1) {
            Some(deepest) => self.not_bound_m(by, asked, f64::INFINITY, deepest),
            None => f64::NEG_INFINITY,
        };
        displacing.map(not_bound_m).fold(inside_m, f64::min)
    }

    fn member_numbered(&self, number: usize) -> Option<&Member<'a>> {
        let at = self.members.binary_search_by_key(&number, |member| member.number).ok()?;
        self.members.get(at)
    }

    /// By how much a place is surely inside a zone, and surely outside of it, in metres; negative where it is not.
    fn sides_m(&self, member: &Member<'_>, (place, inexact): (Position, Inexact)) -> (f64, f64) {
        let Some(boundary) = member.area else { return (f64::NEG_INFINITY, f64::NEG_INFINITY) };
        self.distances.set(self.distances.get() + 1);
        let far = boundary.how_far(place);
        let (middle_m, whole_m) = (far.signed_distance.metres(), member.doubt.whole(&far).metres());
        let random_m = member.doubt.random_95_m();
        let (mut inside_m, mut outside_m) = (-far.greatest_known_m() - random_m, middle_m - whole_m);
        if inexact == Inexact::IfEven {
            // on its own side of the line the whole doubt, too, makes a margin that changes by no more than the way made, but
            // where several readings are mixed with arcs that miss their circles
            let is_even = boundary.is_read_one_way() || boundary.keeps_to_its_arcs();
            if !is_even || middle_m >= 0.0 {
                inside_m = -far.greatest.metres() - random_m;
            }
            if !is_even || middle_m <= 0.0 {
                outside_m = far.least.metres() - random_m;
            }
        }
        (inside_m, outside_m)
    }
}
