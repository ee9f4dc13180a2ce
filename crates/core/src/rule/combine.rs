//! What several zones say together.

use super::allowance::ways_of_both;
use super::{Allowance, Clash, Condition, LimitsOf, Reason, Remedy, Ruling};
use crate::Tristate;
use crate::once::say_once;

/// What one zone says about a fish, and whether the zone applies here and now.
#[derive(Debug, Clone, PartialEq)]
pub struct ZoneRuling<'a> {
    /// The zone's name.
    pub zone: &'a str,
    /// Whether it applies: the place is inside and the rule is in force.
    pub applies: Tristate,
    /// What it says if it applies.
    pub ruling: Ruling,
}

impl ZoneRuling<'_> {
    /// What the zone does to the answer: nothing if it does not apply, no more than a doubt if that is not settled.
    fn effect(&self) -> Tristate {
        self.applies.negated().or(self.ruling.allowed)
    }
}

/// Returns what all zones say together: each one that applies must let the fish be kept.
///
/// Bags are the smallest of each kind, sizes and gear what all allow (nothing in common gives no, with the reason),
/// forbidden gear, bait rules and conditions add up. Where a zone only may apply, a fish that it allows stays
/// allowed under its conditions, and any other fish is undecided. Rules that another zone displaces must be left out
/// by the caller. No zone at all, or none that applies, allows; to say that no loaded zone applies is the caller's.
///
/// # Edge cases
///
/// The order of the zones changes neither the answer nor the limits, only the order of the reasons.
#[must_use]
pub fn combine(zones: &[ZoneRuling<'_>]) -> Ruling {
    let zones: Vec<&ZoneRuling<'_>> = zones.iter().filter(|zone| zone.applies != Tristate::No).collect();
    let mut together = Ruling::of(Tristate::all(zones.iter().map(|zone| zone.effect())), Vec::new());
    if together.allowed != Tristate::No {
        unite_limits(&zones, &mut together);
    }
    let named = zones.len() > 1;
    let answer = together.allowed;
    for zone in zones.iter().filter(|zone| speaks(zone, answer)) {
        gather(zone, named, &mut together);
    }
    if together.allowed == Tristate::No {
        together.conditions.clear();
        together.settle.clear();
        together.set_ways(Vec::new());
    }
    say_limits_together(&zones, &mut together);
    together.once()
}

/// Whether a zone's reasons belong to an answer: of a refusal only those that refuse.
fn speaks(zone: &ZoneRuling<'_>, answer: Tristate) -> bool {
    answer != Tristate::No || zone.effect() == Tristate::No
}

fn gather(zone: &ZoneRuling<'_>, named: bool, together: &mut Ruling) {
    let name = || zone.zone.to_owned();
    let ruling = &zone.ruling;
    if zone.applies == Tristate::Undecided && ruling.allowed != Tristate::Yes {
        together.because.push(Reason::ZoneMayApply { zone: name(), because: ruling.because.clone() });
        together.settle.push(Remedy::SettleWhetherZoneApplies { zone: name() });
    } else if named {
        let of_zone = |reason: &Reason| Reason::OfZone { zone: name(), reason: Box::new(reason.clone()) };
        together.because.extend(ruling.because.iter().map(of_zone));
    } else {
        together.because.extend(ruling.because.iter().cloned());
    }
    if !named {
        together.conditions.extend(ruling.conditions.iter().cloned());
        together.settle.extend(ruling.settle.iter().cloned());
        return;
    }
    let of_zone = |one: &Condition| Condition::OfZone { zone: name(), condition: Box::new(one.clone()) };
    together.conditions.extend(ruling.conditions.iter().map(of_zone));
    let for_zone = |one: &Remedy| Remedy::OfZone { zone: name(), remedy: Box::new(one.clone()) };
    together.settle.extend(ruling.settle.iter().map(for_zone));
}

/// Intersects the limits of all zones, first those that surely apply, and lowers the answer where nothing is left.
fn unite_limits(zones: &[&ZoneRuling<'_>], together: &mut Ruling) {
    let sure = zones.iter().filter(|zone| zone.applies == Tristate::Yes);
    let ways = match intersect(sure.map(|zone| zone.ruling.sure_ways())) {
        Ok(ways) => ways,
        Err(clash) => {
            let sure = zones.iter().filter(|zone| zone.applies == Tristate::Yes);
            lower(together, clash, sure.map(|zone| zone.zone.to_owned()).collect(), Tristate::No);
            return;
        }
    };
    match intersect(zones.iter().map(|zone| zone.ruling.ways())) {
        Ok(strict) => {
            together.set_ways(strict);
            together.surely = (ways != together.ways()).then_some(ways);
        }
        Err(clash) => {
            let names = zones.iter().map(|zone| zone.zone.to_owned()).collect();
            together.set_ways(ways);
            lower(together, clash, names, Tristate::Undecided);
            together.settle.push(Remedy::SettleWhichApply);
        }
    }
}

fn intersect(all: impl Iterator<Item = Vec<Allowance>>) -> Result<Vec<Allowance>, Clash> {
    all.into_iter().try_fold(vec![Allowance::default()], |ways, more| ways_of_both(&ways, &more))
}

fn lower(together: &mut Ruling, clash: Clash, zones: Vec<String>, to: Tristate) {
    let to = if clash.is_open() { Tristate::Undecided } else { to };
    together.allowed = together.allowed.and(to);
    together.because.push(Reason::Clash { clash, between: LimitsOf::Zones(zones) });
    together.settle.extend(clash.settle());
}

/// Says the limits of all zones as one, where they are other than those of each zone.
fn say_limits_together(zones: &[&ZoneRuling<'_>], together: &mut Ruling) {
    let differs = |zone: &&ZoneRuling<'_>| zone.ruling.ways() != together.ways();
    if together.allowed == Tristate::No || zones.len() < 2 || !zones.iter().any(differs) {
        return;
    }
    let mut ways = together.ways();
    say_once(&mut ways);
    ways.retain(|way| *way != Allowance::default());
    if !ways.is_empty() {
        // first: it is the one to go by, the zones' own limits below it say where it comes from
        together.conditions.insert(0, Condition::AllZonesTogether { ways });
    }
}
