//! What changed of the files themselves: titles, editions, and the fish that they know.

use std::collections::HashSet;
use std::sync::Arc;

use takeline::rule::{Catalogue, CommonName, Group, Taxon};
use takeline::zone::{Zone, ZoneFile};

use super::change::{Change, Effect, FromTo, Told};
use super::fish::TwoCatalogues;
use super::pairing::file_name;

/// What changed of a file: of its head, and of the fish it knows.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct FileChange {
    /// The old file.
    pub old: Arc<ZoneFile>,
    /// The new one.
    pub new: Arc<ZoneFile>,
    /// What changed.
    pub changes: Vec<Told>,
}

/// Compares the files whose zones became each other; of those left, files of one name, and two that are left alone.
pub(super) fn compare(pairs: &[(&Zone, &Zone)], old: &[Zone], new: &[Zone]) -> Vec<FileChange> {
    let mut seen: HashSet<[*const ZoneFile; 2]> = HashSet::new();
    let mut both: Vec<(&Arc<ZoneFile>, &Arc<ZoneFile>)> = Vec::new();
    for (old, new) in pairs {
        if seen.insert([Arc::as_ptr(&old.file), Arc::as_ptr(&new.file)]) {
            both.push((&old.file, &new.file));
        }
    }
    let left = |zones| -> Vec<&Arc<ZoneFile>> {
        let is_left = |file: &&Arc<ZoneFile>| !seen.iter().flatten().any(|known| *known == Arc::as_ptr(file));
        files_of(zones).into_iter().filter(is_left).collect()
    };
    let (old, mut new) = (left(old), left(new));
    let is_alone = old.len() == 1 && new.len() == 1;
    for file in old {
        let is_it = |other: &&Arc<ZoneFile>| is_alone || file_name(&file.path) == file_name(&other.path);
        if let Some(at) = new.iter().position(is_it) {
            both.push((file, new.remove(at)));
        }
    }
    let change = |(old, new): (&Arc<ZoneFile>, &Arc<ZoneFile>)| {
        let changes = of_file(old, new);
        let is_changed = !changes.is_empty();
        is_changed.then(|| FileChange { old: Arc::clone(old), new: Arc::clone(new), changes })
    };
    both.into_iter().filter_map(change).collect()
}

/// The files of some zones, each once.
fn files_of(zones: &[Zone]) -> Vec<&Arc<ZoneFile>> {
    let mut seen = HashSet::new();
    zones.iter().map(|zone| &zone.file).filter(|file| seen.insert(Arc::as_ptr(file))).collect()
}

fn of_file(old: &ZoneFile, new: &ZoneFile) -> Vec<Told> {
    let changes = [
        FromTo::of(&old.title, &new.title).map(Change::FileTitle),
        FromTo::of(&old.edition, &new.edition).map(Change::FileEdition),
        FromTo::of(&old.issued, &new.issued).map(Change::FileIssued),
        FromTo::of(&old.publisher, &new.publisher).map(Change::FilePublisher),
        FromTo::of(&old.valid_until, &new.valid_until).map(Change::ValidUntil),
        FromTo::of(&old.licence, &new.licence).map(Change::FileLicence),
    ];
    let mut told: Vec<Told> =
        changes.into_iter().flatten().map(|change| Told::new(change, Effect::Reference)).collect();
    fish(&old.catalogue, &new.catalogue, &mut told);
    told
}

fn fish(old: &Catalogue, new: &Catalogue, told: &mut Vec<Told>) {
    let both = TwoCatalogues::of(old, new);
    for (before, now) in both.fish() {
        match (before, now) {
            (Some(before), None) => {
                let fish = old.short_name(&before.id);
                told.push(Told::new(Change::FishRemoved { fish }, Effect::Undecided));
            }
            (None, Some(now)) => {
                let fish = new.short_name(&now.id);
                told.push(Told::new(Change::FishAdded { fish }, Effect::Reference));
            }
            (Some(before), Some(now)) => one_fish((before, now), &both, told),
            (None, None) => {}
        }
    }
    for group in &old.groups {
        if let Some(other) = new.groups.iter().find(|other| other.id == group.id) {
            one_group((group, other), &both, told);
        } else {
            told.push(Told::new(Change::GroupRemoved { group: name_of(group) }, Effect::Undecided));
        }
    }
    for group in new.groups.iter().filter(|group| !old.groups.iter().any(|other| other.id == group.id)) {
        told.push(Told::new(Change::GroupAdded { group: name_of(group) }, Effect::Reference));
    }
}

fn one_fish((before, now): (&Taxon, &Taxon), both: &TwoCatalogues<'_>, told: &mut Vec<Told>) {
    let fish = both.new.short_name(&now.id);
    if let Some(names) = FromTo::of(&before.names, &now.names) {
        let effect = of_names(&names);
        told.push(Told::new(Change::FishNames { fish: fish.clone(), names }, effect));
    }
    let kind = |catalogue: &Catalogue, taxon: &Taxon| {
        let parent = taxon.parent.as_ref()?;
        catalogue.taxa.iter().find(|other| other.id == *parent).map(super::fish::key)
    };
    if before.fao != now.fao || kind(both.old, before) != kind(both.new, now) {
        told.push(Told::new(Change::FishRecord { fish }, Effect::Undecided));
    }
}

fn one_group((before, now): (&Group, &Group), both: &TwoCatalogues<'_>, told: &mut Vec<Told>) {
    let group = name_of(now);
    let members = both.change(&before.members, &now.members);
    if !members.is_none() {
        let (added, removed) = (members.added, members.removed);
        told.push(Told::new(
            Change::GroupMembers { group: group.clone(), added, removed },
            Effect::Undecided,
        ));
    }
    if let Some(names) = FromTo::of(&before.names, &now.names) {
        let effect = of_names(&names);
        told.push(Told::new(Change::GroupNames { group, names }, effect));
    }
}

/// A name that now means another fish, or none, changes what an answer is about; their order only which one is shown.
fn of_names(names: &FromTo<Vec<CommonName>>) -> Effect {
    let within = |one: &[CommonName], other: &[CommonName]| one.iter().all(|name| other.contains(name));
    let is_order = within(&names.from, &names.to) && within(&names.to, &names.from);
    if is_order { Effect::Reference } else { Effect::Undecided }
}

fn name_of(group: &Group) -> String {
    group.names.first().map_or_else(|| group.id.0.clone(), |name| name.text.clone())
}
