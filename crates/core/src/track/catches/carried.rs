//! Kept fish, carried afterwards through zones whose rules speak of fish aboard.

use std::fmt;

use jiff::Timestamp;

use super::judge::Judged;
use super::watch::{Moment, Stay};
use crate::assess::{AskedFish, FishNames, applying};
use crate::rule::{Circumstances, Ruling};
use crate::track::Certainty;
use crate::zone::{Zone, ZoneId, ZoneSet};
use crate::{Fix, Kleene};

/// A zone that a kept fish was carried into after it was caught, and what its rule says about that.
///
/// Zones that let it be aboard without any condition are not reported.
#[derive(Debug, Clone, PartialEq)]
pub struct CarriedFinding {
    /// The zone.
    pub zone: ZoneId,
    /// Its place among the zones of the set.
    pub zone_number: usize,
    /// Its name.
    pub zone_name: String,
    /// Whether the boat was inside for sure.
    pub certainty: Certainty,
    /// When it came in, or within the doubt of the line; where it was in before the catch, when it was last inside.
    pub entered: Timestamp,
    /// When it was last inside, or within the doubt.
    pub left: Timestamp,
    /// How many times it came in; the one reported is the one that the rule is hardest on, the earliest of those.
    pub times: u32,
    /// Whether the fish was allowed aboard: yes under conditions; undecided is "cannot tell".
    pub allowed: Kleene,
    /// Why.
    pub because: Vec<String>,
    /// What had to be met; a log of positions cannot tell whether all of it was.
    pub conditions: Vec<String>,
    /// What would settle it.
    pub settle: Vec<String>,
}

impl fmt::Display for CarriedFinding {
    /// Writes "carried into Nursery Bank at 2026-07-01T09:00:00Z: no fish at all may be aboard here".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let perhaps = if self.certainty == Certainty::Certain { "" } else { "perhaps " };
        write!(f, "{perhaps}carried into {} at {}: {}", self.zone_name, self.entered, self.because.join("; "))
    }
}

/// Finds where one row's fish was carried.
pub(super) fn carried(
    zones: &ZoneSet,
    names: &FishNames<'_>,
    judged: &Judged<'_>,
    stays: &[Stay],
) -> Vec<CarriedFinding> {
    let (entry, circumstances) = (&judged.finding.entry, &judged.circumstances);
    let placed = judged.finding.position.position().is_some();
    let Some(caught) = entry.time.filter(|_| entry.may_be_aboard()) else { return Vec::new() };
    let mut found: Vec<CarriedFinding> = Vec::new();
    for stay in stays {
        let zone = &zones.zones()[stay.zone_number];
        let applied = judged.applying.iter().any(|one| std::ptr::eq(one.zone, zone));
        let Some((certainty, moments)) = after_the_catch(stay, caught, placed && !applied) else { continue };
        let asked =
            |moment: &Moment| aboard(zones, names, (zone, &moment.fix), (&entry.asked, circumstances));
        let rulings = [asked(&moments.0), asked(&moments.1)];
        let Some(mut ruling) = rulings.into_iter().max_by_key(|ruling| hardness(ruling.allowed)) else {
            continue;
        };
        soften(&mut ruling, certainty, entry.kept);
        if ruling.allowed == Kleene::Yes && ruling.conditions.is_empty() {
            continue;
        }
        let one = CarriedFinding {
            zone: zone.id.clone(),
            zone_number: stay.zone_number,
            zone_name: zone.name.clone(),
            certainty,
            entered: moments.0.time,
            left: stay.left.time,
            times: 1,
            allowed: ruling.allowed,
            because: ruling.because,
            conditions: ruling.conditions,
            settle: ruling.settle,
        };
        match found.iter_mut().find(|other| other.zone_number == one.zone_number) {
            Some(other) => other.also(one),
            None => found.push(one),
        }
    }
    found.sort_by_key(|one| one.zone_number);
    found
}

impl CarriedFinding {
    /// Counts one more time; keeps the one that the rule is harder on.
    fn also(&mut self, other: Self) {
        let times = self.times.saturating_add(1);
        if (hardness(other.allowed), other.certainty) > (hardness(self.allowed), self.certainty) {
            *self = other;
        }
        self.times = times;
    }
}

fn hardness(allowed: Kleene) -> u8 {
    match allowed {
        Kleene::Yes => 0,
        Kleene::Undecided => 1,
        Kleene::No => 2,
    }
}

/// The first and last moment of a stay with the fish aboard, if it was carried in from elsewhere.
fn after_the_catch(stay: &Stay, caught: Timestamp, elsewhere: bool) -> Option<(Certainty, (Moment, Moment))> {
    let later = |moments: (Moment, Moment)| (moments.0.time > caught).then_some(moments);
    if let Some(sure) = stay.sure.and_then(later) {
        return Some((Certainty::Certain, sure));
    }
    if stay.entered.time > caught {
        return Some((Certainty::Possible, (stay.entered, stay.left)));
    }
    // The boat was in when the fish was caught. What was caught there is a matter of the rule on taking, unless the rule
    // did not apply at the catch (outside its doubt, displaced, not yet in force) and may do so before the boat leaves.
    let (_, last) = stay.sure?;
    (elsewhere && last.time > caught).then_some((Certainty::Certain, (last, last)))
}

/// What one zone says of a fish aboard at a moment, its being in force and displaced by others counted.
fn aboard(
    zones: &ZoneSet,
    names: &FishNames<'_>,
    (zone, fix): (&Zone, &Fix),
    (asked, circumstances): (&str, &Circumstances),
) -> Ruling {
    let everywhere = applying(zones, fix, circumstances);
    let Some(here) = everywhere.iter().find(|one| std::ptr::eq(one.zone, zone)) else {
        return Ruling::yes("the rule was not in force");
    };
    let mut ruling = names.possess(zone, AskedFish { asked, circumstances, time: fix.time });
    if here.applies == Kleene::Undecided && ruling.allowed == Kleene::No {
        ruling.allowed = Kleene::Undecided;
        ruling.because.push(format!("whether {} applied there and then is not settled", zone.name));
    }
    ruling
}

/// Nothing is made of what is not sure.
fn soften(ruling: &mut Ruling, certainty: Certainty, kept: Option<bool>) {
    if ruling.allowed != Kleene::Yes && kept.is_none() {
        ruling.allowed = Kleene::Undecided;
        ruling.because.push("the row does not say whether the fish was kept".to_owned());
        ruling.settle.push("say whether it was kept".to_owned());
    }
    if ruling.allowed == Kleene::No && certainty == Certainty::Possible {
        ruling.allowed = Kleene::Undecided;
    }
    if certainty == Certainty::Possible {
        ruling.because.push("the boat was within the doubt of the line, and perhaps never inside".to_owned());
    }
}
