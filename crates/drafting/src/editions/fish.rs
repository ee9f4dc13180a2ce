//! Sets of fish of two files, whose identifiers may differ.

use std::collections::BTreeMap;

use takeline::Tristate;
use takeline::rule::{Catalogue, Taxon, TaxonId, TaxonSet};

/// What a set of fish gained and lost between two files.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct SetChange {
    pub(super) added: Vec<String>,
    pub(super) removed: Vec<String>,
    /// Whether the sets differ in a way that the fish of the two files do not show.
    pub(super) is_unclear: bool,
}

impl SetChange {
    pub(super) fn is_none(&self) -> bool {
        self.added.is_empty() && self.removed.is_empty() && !self.is_unclear
    }
}

/// The fish of two files, those with one scientific name (else one identifier) together.
#[derive(Debug)]
pub(super) struct TwoCatalogues<'a> {
    pub(super) old: &'a Catalogue,
    pub(super) new: &'a Catalogue,
    fish: Vec<(Option<&'a Taxon>, Option<&'a Taxon>)>,
    /// Whether both files say the same of fish.
    is_same: bool,
}

pub(super) fn key(taxon: &Taxon) -> String {
    taxon.scientific.as_ref().map_or_else(|| format!("#{}", taxon.id.0), |name| name.trim().to_lowercase())
}

impl<'a> TwoCatalogues<'a> {
    pub(super) fn of(old: &'a Catalogue, new: &'a Catalogue) -> Self {
        let mut together: BTreeMap<String, (Option<&Taxon>, Option<&Taxon>)> = BTreeMap::new();
        for taxon in &old.taxa {
            together.entry(key(taxon)).or_default().0.get_or_insert(taxon);
        }
        for taxon in &new.taxa {
            together.entry(key(taxon)).or_default().1.get_or_insert(taxon);
        }
        Self { old, new, fish: together.into_values().collect(), is_same: old == new }
    }

    /// The fish of both, in no order that means anything.
    pub(super) fn fish(&self) -> &[(Option<&'a Taxon>, Option<&'a Taxon>)] {
        &self.fish
    }

    /// What became of a set.
    pub(super) fn change(&self, old: &TaxonSet, new: &TaxonSet) -> SetChange {
        let mut change = SetChange::default();
        if self.is_same && old == new {
            return change;
        }
        let mut unclear = false;
        for (before, now) in &self.fish {
            let was = belongs(self.old, old, (*before, *now), self.new);
            let is = belongs(self.new, new, (*now, *before), self.old);
            let name = || match (now, before) {
                (Some(now), _) => self.new.short_name(&now.id),
                (None, Some(before)) => self.old.short_name(&before.id),
                (None, None) => String::new(),
            };
            match (was, is) {
                (Tristate::No, Tristate::Yes) => change.added.push(name()),
                (Tristate::Yes, Tristate::No) => change.removed.push(name()),
                (was, is) if was != is => unclear = true,
                _ => {}
            }
        }
        change.added.sort();
        change.removed.sort();
        // a family of which a member came or went is no further change
        change.is_unclear = unclear && change.added.is_empty() && change.removed.is_empty();
        change
    }
}

/// Whether a fish belongs to a set of one file; one that the file does not know belongs where its kind does.
fn belongs(
    catalogue: &Catalogue,
    set: &TaxonSet,
    (own, others): (Option<&Taxon>, Option<&Taxon>),
    elsewhere: &Catalogue,
) -> Tristate {
    if let Some(own) = own {
        return catalogue.contains(set, &own.id);
    }
    let mut kind = others.and_then(|fish| fish.parent.clone());
    let mut steps = elsewhere.taxa.len();
    while let Some(id) = kind.take().filter(|_| steps > 0) {
        steps -= 1;
        let Some(taxon) = of_id(elsewhere, &id) else { break };
        if let Some(known) = catalogue.taxa.iter().find(|known| key(known) == key(taxon)) {
            return catalogue.contains(set, &known.id);
        }
        kind.clone_from(&taxon.parent);
    }
    Tristate::No
}

fn of_id<'a>(catalogue: &'a Catalogue, id: &TaxonId) -> Option<&'a Taxon> {
    catalogue.taxa.iter().find(|taxon| taxon.id == *id)
}
