//! Kept fish, carried afterwards through zones whose rules speak of fish aboard.

use jiff::Timestamp;

use super::judge::Judged;
use crate::Tristate;
use crate::assess::{AskedFish, FishNames};
use crate::rule::{Condition, Possession};
use crate::track::{Certainty, Reason, Remedy, RuledTime, Visit};
use crate::zone::{Zone, ZoneId, ZoneSet};

/// A zone that a kept fish was carried into after it was caught, and what its rule says about that.
///
/// Zones that let it be aboard without any condition are not reported.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct CarriedFinding {
    /// The zone.
    pub zone: ZoneId,
    /// Its place among the zones of the set.
    pub zone_number: usize,
    /// Its name.
    pub zone_name: String,
    /// Whether the boat was inside for sure.
    pub certainty: Certainty,
    /// From when the rule spoke of it: when the boat came in, or within the doubt of the line, or the rule into force; where it
    /// was in before, when it was caught. None if nothing says when.
    pub entered: Option<Timestamp>,
    /// When it was last inside, or within the doubt.
    pub left: Option<Timestamp>,
    /// How many times it came in; the one reported is the one that the rule is hardest on, the earliest of those.
    pub times: u32,
    /// Whether the fish was allowed aboard: yes under conditions; undecided is "cannot tell".
    pub allowed: Tristate,
    /// Why.
    pub because: Vec<Reason>,
    /// What had to be met; a log of positions cannot tell whether all of it was.
    pub conditions: Vec<Condition>,
    /// What would settle it.
    pub settle: Vec<Remedy>,
}

impl CarriedFinding {
    /// Returns the whole of it as one reason.
    #[must_use]
    pub fn reason(&self) -> Reason {
        Reason::CarriedInto {
            zone: self.zone_name.clone(),
            entered: self.entered,
            certainty: self.certainty,
            because: self.because.clone(),
        }
    }
}

/// Finds where one row's fish was carried: which visits, or parts of them, came after the catch.
///
/// Where neither the row nor the log says when, every visit may have.
pub(super) fn carried(
    zones: &ZoneSet,
    names: &FishNames<'_>,
    judged: &Judged<'_>,
    visits: &[Visit],
) -> Vec<CarriedFinding> {
    let entry = &judged.finding.entry;
    if !entry.may_be_aboard() {
        return Vec::new();
    }
    let mut found: Vec<CarriedFinding> = Vec::new();
    for visit in visits {
        let zone = &zones.zones()[visit.zone_number];
        if zone.rule.possession == Possession::Allowed || was_caught_in(judged, (zone, visit)) {
            continue;
        }
        let parts = visit.ruled.iter().filter_map(|part| one_part(names, judged, (zone, visit), part));
        let hardest = parts.reduce(|one, other| if is_harder(&other, &one) { other } else { one });
        let Some(one) = hardest else { continue };
        match found.iter_mut().find(|other| other.zone_number == one.zone_number) {
            Some(other) => other.also(one),
            None => found.push(one),
        }
    }
    found.sort_by_key(|one| one.zone_number);
    found
}

/// Whether the fish was caught during a visit to a zone that applied then: that is a matter of its rule on taking.
///
/// Unless the rule did not apply at the catch (outside its doubt, displaced, not yet in force) and may do so before the boat
/// leaves.
fn was_caught_in(judged: &Judged<'_>, (zone, visit): (&Zone, &Visit)) -> bool {
    let Some(caught) = judged.finding.entry.time else { return false };
    let was_there = visit.entered().time.is_some_and(|entered| entered <= caught);
    let is_elsewhere = judged.finding.position.position().is_some()
        && !judged.applying.iter().any(|one| std::ptr::eq(one.zone, zone));
    was_there && !is_elsewhere
}

/// What the rule says of the fish aboard in a part of a visit; none if that was before the catch, or the rule did not bind,
/// or lets it be aboard without conditions.
fn one_part(
    names: &FishNames<'_>,
    judged: &Judged<'_>,
    (zone, visit): (&Zone, &Visit),
    part: &RuledTime,
) -> Option<CarriedFinding> {
    let (entry, circumstances) = (&judged.finding.entry, &judged.circumstances);
    // with a date that may be wrong nobody knows which was first
    let caught = entry.time.filter(|_| !entry.is_date_doubtful);
    let is_after = part.to.zip(caught).is_none_or(|(to, caught)| to > caught);
    if !is_after || part.binds == Tristate::No {
        return None;
    }
    let is_dated = entry.time.is_some() && part.to.is_some() && !entry.is_date_doubtful;
    let from = part.from.max(caught);
    let asked = |time: Option<Timestamp>| {
        names.possess(zone, AskedFish { asked: &entry.asked, circumstances, time: judged.known(time) })
    };
    let rulings = [asked(from), asked(part.to)];
    let ruling = rulings.into_iter().max_by_key(|ruling| hardness(ruling.allowed))?;
    let certainty =
        if part.inside == Tristate::Yes && is_dated { Certainty::Certain } else { Certainty::Possible };
    let mut carried = CarriedFinding {
        zone: zone.id.clone(),
        zone_number: visit.zone_number,
        zone_name: zone.name.clone(),
        certainty,
        entered: from,
        left: visit.left().time,
        times: 1,
        allowed: ruling.allowed,
        because: ruling.because.into_iter().map(Reason::from).collect(),
        conditions: ruling.conditions,
        settle: ruling.settle.into_iter().map(Remedy::from).collect(),
    };
    if part.binds == Tristate::Undecided && part.inside == Tristate::Yes && carried.allowed == Tristate::No {
        carried.allowed = Tristate::Undecided;
        carried.because.push(Reason::BindingUnsettled { zone: zone.name.clone() });
    }
    carried.soften(entry.kept, is_dated);
    (carried.allowed != Tristate::Yes || !carried.conditions.is_empty()).then_some(carried)
}

impl CarriedFinding {
    /// The fish may have been aboard another boat of the same log.
    pub(super) fn by_some_boat(&mut self) {
        self.certainty = Certainty::Possible;
        if self.allowed == Tristate::No {
            self.allowed = Tristate::Undecided;
        }
        self.because.push(Reason::SeveralBoats);
        self.settle.push(Remedy::GiveLogOfThatBoat);
    }

    /// Nothing is made of what is not sure.
    fn soften(&mut self, kept: Option<bool>, is_dated: bool) {
        if self.allowed != Tristate::Yes && kept.is_none() {
            self.allowed = Tristate::Undecided;
            self.because.push(Reason::KeptUnsaid);
            self.settle.push(Remedy::SayWhetherKept);
        }
        if self.allowed == Tristate::No && self.certainty == Certainty::Possible {
            self.allowed = Tristate::Undecided;
        }
        if !is_dated {
            self.because.push(Reason::BeforeOrAfterUnknown);
        } else if self.certainty == Certainty::Possible {
            self.because.push(Reason::PerhapsNeverInside);
        }
    }

    /// Counts one more time; keeps the one that the rule is harder on.
    fn also(&mut self, other: Self) {
        let times = self.times.saturating_add(1);
        if is_harder(&other, self) {
            *self = other;
        }
        self.times = times;
    }
}

fn is_harder(one: &CarriedFinding, other: &CarriedFinding) -> bool {
    let key = |carried: &CarriedFinding| (hardness(carried.allowed), carried.certainty);
    key(one) > key(other)
}

fn hardness(allowed: Tristate) -> u8 {
    match allowed {
        Tristate::Yes => 0,
        Tristate::Undecided => 1,
        Tristate::No => 2,
    }
}
