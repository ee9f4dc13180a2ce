//! What other rooms ask of an assessment: which zones apply at a fix, and what a name means there.

use super::Question;
use super::fish::{Meaning, Names};
use super::water::standings;
use crate::binding::Moment;
use crate::rule::{Circumstances, InForce, Inquiry, KnownTime, Ruling, TakeRule, When};
use crate::zone::{Zone, ZoneSet};
use crate::{Fix, Tristate};

/// A zone at a fix, and whether its rule applies there and then: inside, in force, binding and not displaced.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Applying<'a> {
    pub(crate) zone: &'a Zone,
    pub(crate) applies: Tristate,
}

/// A fish by the name that somebody gave it, what is known of the fishing, and when.
#[derive(Debug, Clone, Copy)]
pub(crate) struct AskedFish<'a> {
    pub(crate) asked: &'a str,
    pub(crate) circumstances: &'a Circumstances,
    pub(crate) time: KnownTime,
}

/// The names of all files of a set.
pub(crate) struct FishNames<'a>(Names<'a>);

/// The zones whose rules apply or may apply at a fix.
pub(crate) fn applying<'a>(
    zones: &'a ZoneSet,
    fix: &Fix,
    circumstances: &Circumstances,
) -> Vec<Applying<'a>> {
    let placed = super::resolve::place_all(zones, fix, &Question::default());
    standings(placed, |here| zones.binding_zones(here, fix.time, circumstances.access))
        .into_iter()
        .filter(|standing| standing.binds() != Tristate::No)
        .map(|standing| Applying { zone: standing.placed.zone, applies: standing.binds() })
        .collect()
}

impl<'a> FishNames<'a> {
    pub(crate) fn of(zones: &'a ZoneSet) -> Self {
        Self(Names::of(zones.zones()))
    }

    pub(super) fn names(&self) -> &Names<'a> {
        &self.0
    }

    fn inquiry<'b>(&self, fish: AskedFish<'b>, zone: &'b Zone, in_force: InForce<'b>) -> Inquiry<'b> {
        let circumstances = fish.circumstances;
        let gear_is_unknown = self.0.gear_is_unknown(circumstances);
        Inquiry { catalogue: &zone.file.catalogue, circumstances, in_force, gear_is_unknown }
    }

    /// What a rule of a zone says about keeping a fish; the rule may be the zone's own with limits left out.
    pub(crate) fn keep(&self, zone: &Zone, rule: &TakeRule, fish: AskedFish<'_>) -> Ruling {
        let moment = Moment::known(fish.time);
        let in_force = |when: &When| moment.holds(when, zone);
        let inquiry = self.inquiry(fish, zone, &in_force);
        match self.0.meaning(fish.asked, &zone.file.catalogue) {
            Meaning::Taxa(taxa) => rule.keep_any_of(&inquiry, &taxa),
            Meaning::Unknown(suggestions) => rule.keep_unknown(&inquiry, &suggestions),
        }
    }

    /// What a zone's rule says about having a fish aboard that was caught elsewhere.
    pub(crate) fn possess(&self, zone: &Zone, fish: AskedFish<'_>) -> Ruling {
        let moment = Moment::known(fish.time);
        let in_force = |when: &When| moment.holds(when, zone);
        let taxa = match self.0.meaning(fish.asked, &zone.file.catalogue) {
            Meaning::Taxa(taxa) => taxa,
            Meaning::Unknown(_) => Vec::new(),
        };
        zone.rule.possess(&self.inquiry(fish, zone, &in_force), &taxa)
    }
}
