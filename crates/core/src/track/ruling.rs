//! Whether a zone's rule bound the boat while it was there, moment by moment.

use std::collections::BTreeMap;

use jiff::Timestamp;

use super::open_visit::Closed;
use super::stay::{End, Stay, Stays};
use super::terms::{self, Known};
use super::watchlist::Watchlist;
use super::{Certainty, LoggedFix, Reason, RuledTime, TrackSettings, Visit};
use crate::assess::Displacing;
use crate::binding::{self, BindingSpan, BindingZone, Moment, ZoneHere};
use crate::rule::{self, MissingTime};
use crate::zone::{Zone, ZoneSet};
use crate::{DateDoubt, Tristate};

/// How many reasons of one kind are given.
const MOST_REASONS: usize = 4;

/// Asks the rule of a visit that has ended, at every moment of it.
///
/// A visit is divided where the rule, or one that displaces it, comes into force or goes out of it, and where the boat came
/// into a zone that displaces it or left that.
pub(super) fn rule(closed: Closed, zones: &ZoneSet, watches: &Watchlist, settings: &TrackSettings) -> Visit {
    let Closed { mut visit, stays, slow, had_gap } = closed;
    let mut asked = Asked {
        zones,
        number: visit.zone_number,
        settings,
        others: watches.histories().filter(|(number, _)| *number != visit.zone_number).collect(),
        found: Found { parts: std::mem::take(&mut visit.ruled), ..Found::default() },
    };
    for stay in stays.possible() {
        asked.stay(*stay, &stays);
    }
    let found = asked.found;
    found.conclude(&mut visit, zones);
    if let Some(zone) = zones.zones().get(visit.zone_number) {
        let known = Known { slow, had_gap };
        visit.conditions = terms::held_to(zone.rule.passage.as_ref(), &visit, known, settings);
    }
    visit
}

/// What is known of a zone's rule at a suspect fix, which may be wrong; `sides` are the zones that it is perhaps in.
pub(super) fn at_suspect(
    zones: &ZoneSet,
    number: usize,
    sides: &[(usize, Certainty)],
    (logged, settings): (&LoggedFix, &TrackSettings),
) -> RuledTime {
    let is_doubted = logged.time.is_some_and(|time| DateDoubt::of(time).is_some());
    let made = logged.made_between().filter(|made| !is_doubted && is_dated(*made, settings));
    let mut here = vec![ZoneHere { number, inside: Tristate::Yes }];
    here.extend(unplaced(zones, number));
    here.extend(
        sides.iter().filter(|(other, _)| *other != number).map(|(other, side)| here_as(*other, *side)),
    );
    let binding: Vec<BindingZone> = match made {
        Some((from, to)) if from < to => {
            let spans = zones.binding_spans(&here, from, to, settings.access);
            spans.into_iter().filter_map(|span| span.zones.into_iter().next()).collect()
        }
        made => {
            let time = made.map(|(from, _)| from);
            zones.binding_zones(&here, time, settings.access).into_iter().take(1).collect()
        }
    };
    RuledTime {
        from: made.map(|(from, _)| from),
        to: made.map(|(_, to)| to),
        inside: Tristate::Undecided,
        in_force: agreed(binding.iter().map(|zone| zone.in_force)),
        binds: agreed(binding.iter().map(|zone| zone.binds)).and(Tristate::Undecided),
    }
}

/// Whether nothing speaks against the dates of a span.
fn is_dated((from, to): (Timestamp, Timestamp), settings: &TrackSettings) -> bool {
    !settings.dates_doubtful && [from, to].into_iter().all(|at| DateDoubt::of(at).is_none())
}

/// What all answers say; undecided where they do not all say the same.
fn agreed(mut answers: impl Iterator<Item = Tristate>) -> Tristate {
    let Some(first) = answers.next() else { return Tristate::Undecided };
    if answers.all(|answer| answer == first) { first } else { Tristate::Undecided }
}

fn here_as(number: usize, side: Certainty) -> ZoneHere {
    let inside = if side == Certainty::Certain { Tristate::Yes } else { Tristate::Undecided };
    ZoneHere { number, inside }
}

/// The zones that may be anywhere and displace others, which the boat may have been in at any time.
fn unplaced(zones: &ZoneSet, number: usize) -> impl Iterator<Item = ZoneHere> + '_ {
    let displaces = move |(other, zone): &(usize, &Zone)| {
        *other != number && zone.extent.area().is_none() && !zone.overrides.is_empty()
    };
    let others = zones.zones().iter().enumerate().filter(displaces);
    others.map(|(number, _)| ZoneHere { number, inside: Tristate::Undecided })
}

/// A visit's rule, asked stay by stay.
struct Asked<'a> {
    zones: &'a ZoneSet,
    number: usize,
    settings: &'a TrackSettings,
    /// When the boat was in zones that displace others.
    others: Vec<(usize, &'a Stays)>,
    found: Found,
}

/// A time through which the answer stays one, for somebody inside.
struct Span {
    from: Option<Timestamp>,
    to: Option<Timestamp>,
    /// Whether its last instant belongs to it, because no other follows.
    is_last: bool,
    zone: BindingZone,
}

impl Asked<'_> {
    /// One stay, cut where the boat goes into zones that displace others or leaves them.
    fn stay(&mut self, stay: Stay, stays: &Stays) {
        let (from, to) = (stay.from.along, stay.to.along);
        let mut cuts: Vec<End> =
            self.others.iter().flat_map(|(_, other)| other.ends_between(from, to)).collect();
        cuts.extend([stay.from, stay.to]);
        cuts.sort_by(|a, b| a.along.partial_cmp(&b.along).unwrap_or(std::cmp::Ordering::Equal));
        cuts.dedup_by(|a, b| a.along == b.along);
        if cuts.len() == 1 {
            self.piece(Stay { from: stay.from, to: stay.to }, stays);
        }
        for pair in cuts.windows(2) {
            self.piece(Stay { from: pair[0], to: pair[1] }, stays);
        }
    }

    /// A piece of a stay in which the boat stays in the same zones that displace others.
    fn piece(&mut self, piece: Stay, stays: &Stays) {
        let spans = self.spans(&piece);
        for span in &spans {
            self.found.note(span, self.zones);
        }
        let changes: Vec<Timestamp> = spans.iter().skip(1).filter_map(|span| span.from).collect();
        for (part, certainty) in stays.parts_of(piece, &changes) {
            let inside = here_as(self.number, certainty).inside;
            if part.from.along == part.to.along && piece.from.along < piece.to.along {
                // at a fix more is known of the other zones than in the gap that it stands beside
                let at_fix = self.spans(&part);
                for span in &at_fix {
                    self.found.note(span, self.zones);
                }
                self.part(part, inside, &at_fix);
            } else {
                self.part(part, inside, &spans);
            }
        }
    }

    /// A part of a piece. Where the time of an end is placed the boat was surely inside only from the latest moment that it
    /// can have come in to the earliest that it can have left.
    fn part(&mut self, part: Stay, inside: Tristate, spans: &[Span]) {
        let is_placed = part.from.between.is_some() || part.to.between.is_some();
        let made = part.from.made_between().zip(part.to.made_between()).filter(|_| is_placed);
        let Some((came, left)) = made else {
            for span in spans {
                self.found.add(part, inside, span);
            }
            return;
        };
        let over = |from, to| {
            let end = |end: End, time| End { time: Some(time), between: None, ..end };
            Stay { from: end(part.from, from), to: end(part.to, to) }
        };
        let pieces = if came.1 < left.0 {
            let doubted = |(from, to): (Timestamp, Timestamp)| (from < to).then_some((from, to));
            vec![
                (doubted(came), Tristate::Undecided),
                (Some((came.1, left.0)), inside),
                (doubted(left), Tristate::Undecided),
            ]
        } else {
            // at some moment in there, and it is not known at which
            let all = (came.0.min(left.0), came.1.max(left.1));
            let within =
                |span: &&Span| span.from.zip(span.to).is_none_or(|(from, to)| from <= all.1 && all.0 <= to);
            let in_force = agreed(spans.iter().filter(within).map(|span| span.zone.in_force));
            let binds = agreed(spans.iter().filter(within).map(|span| span.zone.binds)).and(inside);
            let (from, to) = (part.from.time, part.to.time);
            self.found.parts.push(RuledTime { from, to, inside, in_force, binds });
            return;
        };
        for (made, inside) in pieces {
            let Some((from, to)) = made else { continue };
            for span in spans {
                self.found.add(over(from, to), inside, span);
            }
        }
    }

    /// What the rule says to somebody inside over a piece.
    fn spans(&self, piece: &Stay) -> Vec<Span> {
        let over = |(number, other): &(usize, &Stays)| {
            Some(here_as(*number, other.over(piece.from.along, piece.to.along)?))
        };
        let mut here = vec![ZoneHere { number: self.number, inside: Tristate::Yes }];
        here.extend(self.others.iter().filter_map(over));
        here.extend(unplaced(self.zones, self.number));
        let own = |zones: Vec<BindingZone>| zones.into_iter().next();
        let access = self.settings.access;
        // where the dates may be wrong nobody knows what was in force
        let made = piece.from.made_between().zip(piece.to.made_between());
        let ends = [piece.from.time, piece.to.time];
        let is_doubted = ends.into_iter().flatten().any(|time| DateDoubt::of(time).is_some());
        let dated = made.filter(|((from, _), (_, to))| !is_doubted && is_dated((*from, *to), self.settings));
        let Some(((from, _), (_, to))) = dated else {
            let missing = if made.is_some() { MissingTime::LogDoubted } else { MissingTime::NotGiven };
            let zone = own(self.zones.binding_at(&here, &Moment::known(Err(missing)), access));
            return zone.map(|zone| Span { from: None, to: None, is_last: true, zone }).into_iter().collect();
        };
        let spans = self.zones.binding_spans(&here, from, to, access);
        let last = spans.len().saturating_sub(1);
        let of_own = |(number, span): (usize, BindingSpan)| {
            let zone = own(span.zones)?;
            Some(Span { from: Some(span.from), to: Some(span.to), is_last: number == last, zone })
        };
        spans.into_iter().enumerate().filter_map(of_own).collect()
    }
}

/// What has been found so far.
#[derive(Default)]
struct Found {
    parts: Vec<RuledTime>,
    /// Reasons for being in force or not, each with what it is a reason for.
    in_force: Vec<(Tristate, binding::Reason)>,
    binds: Vec<Reason>,
    /// Zones that displace this one, and their clauses.
    displaced_by: BTreeMap<usize, (Tristate, String)>,
}

impl Found {
    fn note(&mut self, span: &Span, zones: &ZoneSet) {
        let zone = &span.zone;
        for reason in &zone.in_force_because {
            let reason = (zone.in_force, reason.clone());
            if !self.in_force.contains(&reason) {
                self.in_force.push(reason);
            }
        }
        let own = &zones.zones()[zone.number];
        match zone.access {
            Tristate::Yes => {}
            Tristate::No => self.because(rule::Reason::BindsOnly { access: own.rule.binds.clone() }.into()),
            Tristate::Undecided => {
                let access = own.rule.binds.clone();
                self.because(rule::Reason::BindsOnlyAccessUnsaid { access }.into());
            }
        }
        for over in &zone.displaced_by {
            let name = zones.zones().get(over.by).map_or_else(String::new, |zone| zone.name.clone());
            let by = Displacing { zone: name, clause: over.clause.clone() };
            self.because(Reason::Displaced { by, is_sure: over.certainty == Tristate::Yes });
            self.displaced_by.insert(over.by, (over.certainty, over.clause.clone()));
        }
    }

    fn because(&mut self, reason: Reason) {
        if !self.binds.contains(&reason) {
            self.binds.push(reason);
        }
    }

    /// Adds what a span says of the part of a stay that lies in it.
    fn add(&mut self, part: Stay, inside: Tristate, span: &Span) {
        let times = (part.from.time.zip(part.to.time), span.from.zip(span.to));
        let (from, to) = match times {
            (Some((from, to)), Some((begins, ends))) => {
                let (from, to) = (from.min(to).max(begins), from.max(to).min(ends));
                // a span ends where the next one begins, and that moment is the next one's
                let is_moment = begins == ends || part.from.time == part.to.time;
                let is_its_own = is_moment && (from < ends || span.is_last);
                if from > to || (from == to && !is_its_own) {
                    return;
                }
                (Some(from), Some(to))
            }
            _ => (None, None),
        };
        let zone = &span.zone;
        let ruled = RuledTime { from, to, inside, in_force: zone.in_force, binds: zone.binds.and(inside) };
        match self.parts.last_mut() {
            Some(last) if last.goes_on_as(&ruled) => last.to = ruled.to,
            _ => self.parts.push(ruled),
        }
    }

    fn conclude(self, visit: &mut Visit, zones: &ZoneSet) {
        let is_certain = visit.certainty == Certainty::Certain;
        let parts = &self.parts;
        let all = |answer: fn(&RuledTime) -> Tristate, value: Tristate| {
            !parts.is_empty() && parts.iter().all(|part| answer(part) == value)
        };
        let surely = parts.iter().any(|part| part.inside == Tristate::Yes && part.in_force == Tristate::Yes);
        let in_force: fn(&RuledTime) -> Tristate = |part| part.in_force;
        visit.in_force = if surely || (!is_certain && all(in_force, Tristate::Yes)) {
            Tristate::Yes
        } else if all(in_force, Tristate::No) {
            Tristate::No
        } else {
            Tristate::Undecided
        };
        visit.binds = if parts.iter().any(|part| part.binds == Tristate::Yes) {
            Tristate::Yes
        } else if all(|part| part.binds, Tristate::No) {
            Tristate::No
        } else {
            Tristate::Undecided
        };
        let visit_s = visit.certain_s.zip(visit.possible_s);
        let in_force_s = visit_s.map(|bounds_s| self.seconds(|part| part.in_force, bounds_s));
        (visit.in_force_certain_s, visit.in_force_possible_s) = in_force_s.unzip();
        let binds_s = in_force_s.map(|bounds_s| self.seconds(|part| part.binds, bounds_s));
        (visit.binds_certain_s, visit.binds_possible_s) = binds_s.unzip();
        visit.in_force_because = self.reasons(visit.in_force);
        visit.binds_because = self.binds;
        visit.binds_because.truncate(MOST_REASONS);
        visit.displaced_by =
            self.displaced_by.keys().map(|number| zones.zones()[*number].id.clone()).collect();
        visit.ruled = self.parts;
    }

    /// Seconds surely inside while an answer surely was yes, and perhaps inside while it perhaps was, of so many surely and
    /// perhaps inside. A part of which nobody knows how long it was is nothing sure, and may be all that is possible.
    fn seconds(&self, answer: fn(&RuledTime) -> Tristate, (certain_s, possible_s): (f64, f64)) -> (f64, f64) {
        let perhaps = self.parts.iter().filter(|part| answer(part) != Tristate::No);
        let sure =
            self.parts.iter().filter(|part| part.inside == Tristate::Yes && answer(part) == Tristate::Yes);
        let longest_s = perhaps.map(RuledTime::seconds).sum::<Option<f64>>().unwrap_or(f64::INFINITY);
        let least_s: f64 = sure.filter_map(RuledTime::seconds).sum();
        let longest_s = longest_s.min(possible_s);
        // the sum of nothing is −0
        (least_s.min(certain_s).min(longest_s) + 0.0, longest_s + 0.0)
    }

    /// The reasons that decide, and whether the rule came into force or went out of it on the way.
    fn reasons(&self, answer: Tristate) -> Vec<Reason> {
        let deciding = |decides: bool| {
            let reasons = self.in_force.iter().filter(move |(of, _)| (*of == answer) == decides);
            reasons.map(|(_, reason)| Reason::InForce { reason: reason.clone() })
        };
        let mut reasons: Vec<Reason> = deciding(true).collect();
        if reasons.is_empty() && answer == Tristate::Undecided {
            reasons = deciding(false).collect();
        }
        reasons.dedup();
        reasons.truncate(MOST_REASONS);
        if self.parts.iter().any(|part| part.in_force != self.parts[0].in_force) {
            reasons.push(Reason::RuleChanged);
        }
        reasons
    }
}

impl RuledTime {
    /// Whether another moment says the same, no farther on than this; its time then belongs to this one.
    pub(super) fn takes_in(&self, next: &Self, within_s: f64) -> bool {
        let alike = (self.inside, self.in_force, self.binds) == (next.inside, next.in_force, next.binds);
        let apart_s = self.to.zip(next.from).map(|(to, from)| from.duration_since(to).as_secs_f64());
        let is_near = apart_s.map_or(self.to == next.from, |seconds| (0.0..=within_s).contains(&seconds));
        alike && is_near
    }

    /// Whether another part is the next one, and alike.
    fn goes_on_as(&self, next: &Self) -> bool {
        let alike = (self.inside, self.in_force, self.binds) == (next.inside, next.in_force, next.binds);
        alike && self.to == next.from
    }
}
