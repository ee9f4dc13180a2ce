//! Whether a zone's rule is in force at a moment.

use std::cell::RefCell;

use jiff::Timestamp;

use crate::Tristate;
use crate::rule::{Almanac, KnownTime, MissingTime, When, until_in_words};
use crate::zone::{Effective, Status, Zone};

/// A moment, with the sun's times kept from zone to zone.
#[derive(Debug)]
pub(crate) struct Moment {
    time: KnownTime,
    almanac: RefCell<Almanac>,
}

impl Moment {
    /// A moment whose time, if there is none, was not given.
    pub(crate) fn new(time: Option<Timestamp>) -> Self {
        Self::known(time.ok_or(MissingTime::NotGiven))
    }

    pub(crate) fn known(time: KnownTime) -> Self {
        Self { time, almanac: RefCell::new(Almanac::default()) }
    }

    /// The same sun at another time.
    pub(super) fn moved(&mut self, time: Timestamp) {
        self.time = Ok(time);
    }

    /// Whether a zone's time rule holds now.
    pub(crate) fn holds(&self, when: &When, zone: &Zone) -> (Tristate, Vec<String>) {
        let timing = when.holds_known(&mut self.almanac.borrow_mut(), self.time, &zone.time_zone);
        (timing.answer, timing.because)
    }

    /// Whether a zone's rule is law, has effect and is in season now, and why.
    pub(crate) fn in_force(&self, zone: &Zone) -> (Tristate, Vec<String>) {
        let (has_effect, effect_because) = self.has_effect(zone);
        if has_effect == Tristate::No {
            return (Tristate::No, effect_because);
        }
        let (in_season, season_because) = self.holds(&zone.when, zone);
        let answer = has_effect.and(in_season);
        let mut because: Vec<String> = [(has_effect, effect_because), (in_season, season_because)]
            .into_iter()
            .filter(|(one, _)| *one == answer)
            .flat_map(|(_, because)| because)
            .collect();
        because.dedup();
        (answer, because)
    }

    /// Whether a zone's rule is law, and this edition of it has effect now; its season is not asked.
    pub(super) fn has_effect(&self, zone: &Zone) -> (Tristate, Vec<String>) {
        match no_law(zone.status) {
            Some(reason) => (Tristate::No, vec![reason.to_owned()]),
            None => in_span(&zone.effective, zone, self.time),
        }
    }

    /// The instants after one and up to another at which a season may begin or end; none if it knows no times.
    pub(super) fn edges(&self, zone: &Zone, span: (Timestamp, Timestamp)) -> Option<Vec<Timestamp>> {
        zone.when.edges_within(span, &zone.time_zone, &mut self.almanac.borrow_mut())
    }

    /// As [`Self::in_force`], with when that changes next as the last reason.
    pub(super) fn in_force_until(&self, zone: &Zone) -> (Tristate, Vec<String>) {
        let (answer, mut because) = self.in_force(zone);
        because.extend(self.next_change(zone, answer));
        because.dedup();
        (answer, because)
    }

    /// When the answer changes next, in words; none where that is not known, or no more.
    fn next_change(&self, zone: &Zone, answer: Tristate) -> Option<String> {
        let time = self.time.ok()?;
        // before its edition and after it, the reason says all there is
        if self.has_effect(zone).0 == Tristate::No {
            return None;
        }
        let season = zone.when.next_change(time, &zone.time_zone);
        let change = [season, zone.effective.until].into_iter().flatten().filter(|at| *at > time).min()?;
        let words = until_in_words(change, &zone.time_zone);
        let is_last = zone.effective.until == Some(change);
        Some(match answer {
            Tristate::Yes => format!("in force until {words}"),
            Tristate::No if is_last => format!("not in force again in this edition, which ends {words}"),
            Tristate::No => format!("not in force until {words}"),
            Tristate::Undecided => format!("so until {words}"),
        })
    }
}

fn no_law(status: Status) -> Option<&'static str> {
    match status {
        Status::InForce => None,
        Status::Proposed => Some("it is only proposed"),
        Status::NotCommenced => Some("it has not commenced"),
        Status::Repealed => Some("it has been repealed"),
    }
}

impl Zone {
    /// Returns whether the zone's rule is law, has effect and is in season at an instant, and why.
    ///
    /// Undecided without a time, unless the rule knows no seasons.
    #[must_use]
    pub fn in_force_at(&self, time: Option<Timestamp>) -> (Tristate, Vec<String>) {
        Moment::new(time).in_force_until(self)
    }
}

fn in_span(effective: &Effective, zone: &Zone, time: KnownTime) -> (Tristate, Vec<String>) {
    if effective.from.is_none() && effective.until.is_none() {
        return (Tristate::Yes, Vec::new());
    }
    let time = match time {
        Ok(time) => time,
        Err(missing) => return (Tristate::Undecided, vec![missing.because().to_owned()]),
    };
    let words = |at: Timestamp| until_in_words(at, &zone.time_zone);
    if let Some(from) = effective.from.filter(|from| time < *from) {
        return (Tristate::No, vec![format!("this edition has effect only after {}", words(from))]);
    }
    if let Some(until) = effective.until.filter(|until| time >= *until) {
        return (Tristate::No, vec![format!("this edition had effect until {}", words(until))]);
    }
    (Tristate::Yes, Vec::new())
}
