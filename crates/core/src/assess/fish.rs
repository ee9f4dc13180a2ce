//! What may be done with one fish, all zones together.

use super::water::Standing;
use super::{Reason, Remedy, TakeAnswer, TakeFinding};
use crate::Tristate;
use crate::binding::Moment;
use crate::rule::{
    Allowance, Catalogue, Circumstances, Gear, Inquiry, NameMatch, Ruling, TaxonId, When, ZoneRuling, combine,
};
use crate::zone::Zone;

/// The names of all files, to find in one file's terms a fish that only another file names.
pub(super) struct Names<'a> {
    zones: &'a [Zone],
    catalogues: Vec<&'a Catalogue>,
}

/// What a name means in one zone's file.
pub(super) enum Meaning {
    Taxa(Vec<TaxonId>),
    Unknown(Vec<String>),
}

impl<'a> Names<'a> {
    pub(super) fn of(zones: &'a [Zone]) -> Self {
        let mut catalogues: Vec<&Catalogue> = Vec::new();
        let mut last: Option<&std::sync::Arc<crate::zone::ZoneFile>> = None;
        for zone in zones {
            if last.is_none_or(|file| !std::sync::Arc::ptr_eq(file, &zone.file)) {
                catalogues.push(&zone.file.catalogue);
                last = Some(&zone.file);
            }
        }
        Self { zones, catalogues }
    }

    /// Whether a word for gear was given that no rule of the set knows.
    pub(super) fn gear_is_unknown(&self, circumstances: &Circumstances) -> bool {
        let known = |gear: &Gear| self.zones.iter().any(|zone| zone.rule.names_gear(gear));
        circumstances.gear.as_ref().is_some_and(|gear| !known(gear))
    }

    /// A name means first what the zone's own file says; else what another file says, joined by scientific name.
    pub(super) fn meaning(&self, name: &str, own: &Catalogue) -> Meaning {
        let mut suggestions = match own.resolve(name) {
            NameMatch::Taxa(taxa) => return Meaning::Taxa(taxa),
            NameMatch::Unknown { suggestions } => suggestions,
        };
        for other in &self.catalogues {
            match other.resolve(name) {
                NameMatch::Taxa(taxa) => {
                    if let Some(joined) = joined(&taxa, other, own) {
                        return Meaning::Taxa(joined);
                    }
                }
                NameMatch::Unknown { suggestions: more } => suggestions.extend(more),
            }
        }
        let mut seen = std::collections::HashSet::new();
        suggestions.retain(|suggestion| seen.insert(suggestion.clone()));
        suggestions.truncate(3);
        Meaning::Unknown(suggestions)
    }
}

/// The same taxa in another catalogue, if it has every one of them by scientific name.
fn joined(taxa: &[TaxonId], from: &Catalogue, to: &Catalogue) -> Option<Vec<TaxonId>> {
    let mut all = Vec::new();
    for id in taxa {
        let taxon = from.taxa.iter().find(|taxon| taxon.id == *id)?;
        match to.resolve(taxon.scientific.as_deref()?) {
            NameMatch::Taxa(same) => all.extend(same),
            NameMatch::Unknown { .. } => return None,
        }
    }
    Some(all)
}

/// Judges one fish; with the zones whose rules refuse it to whoever is in them, though the side may be open.
pub(super) fn judge<'s, 'z>(
    asked: &str,
    standings: &'s [Standing<'z>],
    names: &Names<'_>,
    (circumstances, moment): (&Circumstances, &Moment),
) -> (TakeFinding, Vec<&'s Standing<'z>>) {
    let mut refusing = Vec::new();
    let mut keep = Vec::new();
    let mut possess = Vec::new();
    let gear_is_unknown = names.gear_is_unknown(circumstances);
    for standing in standings.iter().filter(|standing| standing.binds() != Tristate::No) {
        let zone = standing.placed.zone;
        let in_force = |when: &When| moment.holds(when, zone);
        let catalogue = &zone.file.catalogue;
        let inquiry = Inquiry { catalogue, circumstances, in_force: &in_force, gear_is_unknown };
        let (kept, aboard) = match names.meaning(asked, &zone.file.catalogue) {
            Meaning::Taxa(taxa) => {
                (zone.rule.keep_any_of(&inquiry, &taxa), zone.rule.possess(&inquiry, &taxa))
            }
            Meaning::Unknown(suggestions) => {
                (zone.rule.keep_unknown(&inquiry, &suggestions), zone.rule.possess(&inquiry, &[]))
            }
        };
        if kept.allowed == Tristate::No && standing.may_hold() {
            refusing.push(standing);
        }
        let spoken = |ruling: Ruling| ZoneRuling { zone: &zone.name, applies: standing.binds(), ruling };
        keep.push(spoken(kept));
        possess.push(spoken(aboard));
    }
    if keep.is_empty() {
        return (no_zone(asked), refusing);
    }
    let refuses = |one: &&ZoneRuling<'_>| one.applies == Tristate::Yes && one.ruling.allowed == Tristate::No;
    let refused_by = keep.iter().filter(refuses).map(|one| one.zone.to_owned()).collect();
    let finding = finding(asked, combine(&keep), combine(&possess));
    (TakeFinding { refused_by, ..finding }, refusing)
}

fn finding(asked: &str, keep: Ruling, possess: Ruling) -> TakeFinding {
    TakeFinding {
        asked: asked.to_owned(),
        answer: match keep.allowed {
            Tristate::Yes => TakeAnswer::Keep,
            Tristate::No => TakeAnswer::Release,
            Tristate::Undecided => TakeAnswer::Undecided,
        },
        because: of_rules(keep.because),
        conditions: keep.conditions,
        settle: keep.settle.into_iter().map(|remedy| Remedy::Rule { remedy }).collect(),
        refused_by: Vec::new(),
        refused_by_one_of: Vec::new(),
        possession: possess.allowed,
        possession_because: of_rules(possess.because),
        possession_conditions: possess.conditions,
        within: keep.within,
        otherwise: keep.otherwise,
        way_to_keep: None,
    }
}

fn of_rules(because: Vec<crate::rule::Reason>) -> Vec<Reason> {
    because.into_iter().map(|reason| Reason::Rule { reason }).collect()
}

fn no_zone(asked: &str) -> TakeFinding {
    TakeFinding {
        asked: asked.to_owned(),
        answer: TakeAnswer::Unzoned,
        because: vec![Reason::NoZoneApplies],
        conditions: Vec::new(),
        settle: Vec::new(),
        refused_by: Vec::new(),
        refused_by_one_of: Vec::new(),
        possession: Tristate::Yes,
        possession_because: Vec::new(),
        possession_conditions: Vec::new(),
        within: Allowance::default(),
        otherwise: Vec::new(),
        way_to_keep: None,
    }
}
