//! Whether a zone's rule is in force at a moment.

use std::cell::RefCell;

use jiff::{Timestamp, ZonedDateTime};

use super::Reason;
use crate::rule::{Almanac, KnownTime, MissingTime, Timing, When};
use crate::zone::{Effective, Status, Zone};
use crate::{DateDoubt, Tristate};

/// Whether a rule is in force, and why.
#[derive(Debug, Clone, PartialEq)]
pub struct InForce {
    /// Whether it is.
    pub answer: Tristate,
    /// Why.
    pub because: Vec<Reason>,
}

/// A moment, with the sun's times kept from zone to zone.
#[derive(Debug)]
pub(crate) struct Moment {
    time: KnownTime,
    almanac: RefCell<Almanac>,
}

impl Moment {
    /// A moment whose time, if there is none, was not given; one that cannot be right counts as none.
    pub(crate) fn new(time: Option<Timestamp>) -> Self {
        let is_doubted = time.is_some_and(|time| DateDoubt::of(time).is_some());
        Self::known(if is_doubted { Err(MissingTime::Doubted) } else { time.ok_or(MissingTime::NotGiven) })
    }

    pub(crate) fn known(time: KnownTime) -> Self {
        Self { time, almanac: RefCell::new(Almanac::default()) }
    }

    /// The same sun at another time.
    pub(super) fn moved(&mut self, time: Timestamp) {
        self.time = Ok(time);
    }

    /// Whether a zone's time rule holds now.
    pub(crate) fn holds(&self, when: &When, zone: &Zone) -> Timing {
        when.holds_known(&mut self.almanac.borrow_mut(), self.time, &zone.time_zone)
    }

    /// Whether a zone's rule is law, has effect and is in season now, and why.
    pub(crate) fn in_force(&self, zone: &Zone) -> InForce {
        let mut has_effect = self.has_effect(zone);
        if has_effect.answer == Tristate::No {
            return has_effect;
        }
        let season = self.holds(&zone.when, zone);
        let answer = has_effect.answer.and(season.answer);
        if has_effect.answer != answer {
            has_effect.because.clear();
        }
        let mut because = has_effect.because;
        if season.answer == answer {
            because.extend(season.because.into_iter().map(Reason::from));
        }
        because.dedup();
        InForce { answer, because }
    }

    /// Whether a zone's rule is law, and this edition of it has effect now; its season is not asked.
    pub(super) fn has_effect(&self, zone: &Zone) -> InForce {
        match zone.status {
            Status::InForce => in_span(&zone.effective, zone, self.time),
            status @ (Status::Proposed | Status::NotCommenced | Status::Repealed) => {
                InForce { answer: Tristate::No, because: vec![Reason::NotLaw { status }] }
            }
        }
    }

    /// The instants after one and up to another at which a season may begin or end; none if it knows no times.
    pub(super) fn edges(&self, zone: &Zone, span: (Timestamp, Timestamp)) -> Option<Vec<Timestamp>> {
        zone.when.edges_within(span, &zone.time_zone, &mut self.almanac.borrow_mut())
    }

    /// As [`Self::in_force`], with when that changes next as the last reason.
    pub(super) fn in_force_until(&self, zone: &Zone) -> InForce {
        let mut in_force = self.in_force(zone);
        in_force.because.extend(self.next_change(zone, in_force.answer));
        in_force
    }

    /// When the answer changes next; none where that is not known, or no more.
    fn next_change(&self, zone: &Zone, answer: Tristate) -> Option<Reason> {
        let time = self.time.ok()?;
        // before its edition and after it, the reason says all there is
        if self.has_effect(zone).answer == Tristate::No {
            return None;
        }
        let season = zone.when.next_change(time, &zone.time_zone);
        let change = [season, zone.effective.until].into_iter().flatten().filter(|at| *at > time).min()?;
        let until = in_its_time(change, zone);
        let is_last = zone.effective.until == Some(change);
        Some(match answer {
            Tristate::Yes => Reason::InForceUntil { until },
            Tristate::No if is_last => Reason::NotInForceAgain { until },
            Tristate::No => Reason::NotInForceUntil { until },
            Tristate::Undecided => Reason::OpenUntil { until },
        })
    }
}

impl Zone {
    /// Returns whether the zone's rule is law, has effect and is in season at an instant, and why.
    ///
    /// Undecided without a time, or with one that cannot be right ([`DateDoubt`]), unless the rule knows no seasons.
    #[must_use]
    pub fn in_force_at(&self, time: Option<Timestamp>) -> InForce {
        Moment::new(time).in_force_until(self)
    }
}

fn in_span(effective: &Effective, zone: &Zone, time: KnownTime) -> InForce {
    let because =
        |answer: Tristate, reason: Option<Reason>| InForce { answer, because: Vec::from_iter(reason) };
    if effective.from.is_none() && effective.until.is_none() {
        return because(Tristate::Yes, None);
    }
    let time = match time {
        Ok(time) => time,
        Err(missing) => return because(Tristate::Undecided, Some(Reason::NoTime { missing })),
    };
    if let Some(from) = effective.from.filter(|from| time < *from) {
        return because(Tristate::No, Some(Reason::BeforeEdition { from: in_its_time(from, zone) }));
    }
    if let Some(until) = effective.until.filter(|until| time >= *until) {
        return because(Tristate::No, Some(Reason::AfterEdition { until: in_its_time(until, zone) }));
    }
    because(Tristate::Yes, None)
}

/// An instant with what the zone's clocks show at it.
fn in_its_time(instant: Timestamp, zone: &Zone) -> ZonedDateTime {
    instant.to_zoned_datetime(zone.time_zone.clone())
}
