//! Reads the taxa and groups of a file, and lists of their ids.

use std::collections::BTreeMap;

use super::FaultKind;
use super::wire::{WireGroup, WireHeader, WireName, WireTaxon};
use crate::geojson_text::{Log, Slot, TextOr, shown_text};
use crate::rule::{Catalogue, CommonName, Group, GroupId, Taxon, TaxonId, TaxonSet};

const IDS_MEND: (&str, &str) = ("write a list of ids: [\"…\", \"…\"]", "write an id in quotes");

/// What an id of a file stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Sort {
    Taxon,
    Group,
}

/// The taxon and group ids of one file.
#[derive(Debug, Default)]
pub(super) struct KnownIds {
    sorts: BTreeMap<String, Sort>,
}

/// Reads both lists. Groups and parents may name what stands further down.
pub(super) fn catalogue(log: &mut Log, header: &WireHeader) -> (Catalogue, KnownIds) {
    let before = log.faults_so_far();
    let mut known = KnownIds::default();
    let taxa_mends = ("write a list of taxa: [ { \"id\": … } ]", "write an object with an \"id\"");
    let groups_mends = ("write a list of groups: [ { \"id\": …, \"members\": […] } ]", taxa_mends.1);
    log.entries("taxa", &header.taxa, taxa_mends, |log, wire| known.learn(log, &wire.id, Sort::Taxon));
    log.entries("groups", &header.groups, groups_mends, |log, wire| known.learn(log, &wire.id, Sort::Group));
    // the first pass has reported what cannot be read at all; this one reads what can be
    let taxa = readable(log, "taxa", &header.taxa, |log, wire| taxon(log, wire, &known));
    let groups = readable(log, "groups", &header.groups, |log, wire| group(log, wire, &known));
    let catalogue = Catalogue { taxa, groups };
    log.rule_faults(before, || catalogue.faults());
    (catalogue, known)
}

fn readable<T, R>(
    log: &mut Log,
    name: &str,
    slot: &Slot<Vec<Slot<T>>>,
    mut read: impl FnMut(&mut Log, &T) -> Option<R>,
) -> Vec<R> {
    let Some(list) = slot.get() else { return Vec::new() };
    log.within(name, |log| {
        let readable = list.iter().enumerate().filter_map(|(i, entry)| entry.get().map(|wire| (i, wire)));
        readable.filter_map(|(i, wire)| log.entry(i, |log| read(log, wire))).collect()
    })
}

impl KnownIds {
    fn learn(&mut self, log: &mut Log, slot: &Slot<String>, sort: Sort) -> Option<()> {
        let id = log.needed_text("id", slot, "give it a short id: \"id\": \"…\"")?;
        if self.sorts.contains_key(&id) {
            let text = format!("the id {} is given twice", shown_text(&id));
            log.fault(FaultKind::DuplicateId, text, "give each taxon and each group an id of its own");
            return None;
        }
        self.sorts.insert(id, sort);
        Some(())
    }

    fn find(&self, log: &mut Log, id: &str) -> Option<Sort> {
        let found = self.sorts.get(id).copied();
        if found.is_none() {
            let mend = log.did_you_mean(id, self.sorts.keys());
            let mend = mend.unwrap_or_else(|| "add it to \"taxa\" or \"groups\", or correct it".to_owned());
            let text = format!("no taxon and no group has the id {}", shown_text(id));
            log.fault(FaultKind::UnknownId, text, mend);
        }
        found
    }

    fn find_taxon(&self, log: &mut Log, id: &str) -> Option<TaxonId> {
        match self.find(log, id)? {
            Sort::Taxon => Some(TaxonId(id.to_owned())),
            Sort::Group => {
                let text = format!("{} is a group", shown_text(id));
                log.fault(FaultKind::WrongValue, text, "name taxa here, one by one");
                None
            }
        }
    }

    /// A list of taxon and group ids; none if missing.
    pub(super) fn set(&self, log: &mut Log, name: &str, slot: &Slot<Vec<Slot<String>>>) -> Option<TaxonSet> {
        let mut set = TaxonSet::default();
        log.entries(name, slot, IDS_MEND, |log, id| self.add(log, id, &mut set))?;
        Some(set)
    }

    /// A list of taxon ids that a set leaves out; empty if missing.
    pub(super) fn taxa(&self, log: &mut Log, name: &str, slot: &Slot<Vec<Slot<String>>>) -> Vec<TaxonId> {
        log.entries(name, slot, IDS_MEND, |log, id| self.find_taxon(log, id.trim())).unwrap_or_default()
    }

    /// Adds one id to a set.
    pub(super) fn add(&self, log: &mut Log, id: &str, set: &mut TaxonSet) -> Option<()> {
        let id = id.trim();
        match self.find(log, id)? {
            Sort::Taxon => set.taxa.push(TaxonId(id.to_owned())),
            Sort::Group => set.groups.push(GroupId(id.to_owned())),
        }
        Some(())
    }
}

fn taxon(log: &mut Log, wire: &WireTaxon, known: &KnownIds) -> Option<Taxon> {
    log.unknown_members(wire);
    let names = names(log, &wire.names);
    let parent = log.text("parent", &wire.parent);
    let parent = parent.and_then(|id| log.within("parent", |log| known.find_taxon(log, &id)));
    let scientific = log.text("scientific", &wire.scientific);
    let fao = log.text("fao", &wire.fao);
    let id = wire.id.get()?;
    Some(Taxon { id: TaxonId(id.trim().to_owned()), scientific, names, fao, parent })
}

fn group(log: &mut Log, wire: &WireGroup, known: &KnownIds) -> Option<Group> {
    log.unknown_members(wire);
    if wire.members.is_missing() {
        log.missing("members", "list the ids that belong to it: \"members\": [\"…\"]");
    }
    log.not_empty_list("members", &wire.members, "list at least one id");
    let names = names(log, &wire.names);
    let members = known.set(log, "members", &wire.members);
    let except = known.taxa(log, "except", &wire.except);
    let id = wire.id.get()?;
    let members = TaxonSet { except, ..members? };
    Some(Group { id: GroupId(id.trim().to_owned()), names, members })
}

fn names(log: &mut Log, slot: &Slot<Vec<Slot<TextOr<WireName>>>>) -> Vec<CommonName> {
    let mends = (
        "write a list of names: [\"…\", \"…\"]",
        "write a name in quotes, or { \"text\": \"…\", \"region\": \"…\" }",
    );
    let found = log.entries("names", slot, mends, |log, wire| match wire {
        TextOr::Text(text) => {
            let text = log.own_text(text)?;
            Some(CommonName { text, region: None })
        }
        TextOr::Object(wire) => {
            log.unknown_members(wire);
            let text = log.needed_text("text", &wire.text, "write the name: \"text\": \"…\"");
            let region = log.text("region", &wire.region);
            Some(CommonName { text: text?, region })
        }
    });
    found.unwrap_or_default()
}
