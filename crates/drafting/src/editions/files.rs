//! What changed of the files themselves: titles, editions, and the fish that they know.

use std::sync::Arc;

use takeline::rule::{Catalogue, Group, Taxon};
use takeline::zone::{Zone, ZoneFile};

use super::change::{Change, Effect, FromTo, Told};
use super::fish::TwoCatalogues;

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

/// The files whose zones became each other, and what changed of them.
pub(super) fn compare(pairs: &[(&Zone, &Zone)]) -> Vec<FileChange> {
    let mut seen: Vec<(&Arc<ZoneFile>, &Arc<ZoneFile>)> = Vec::new();
    let mut changes = Vec::new();
    for (old, new) in pairs {
        let known = seen.iter().any(|(one, two)| Arc::ptr_eq(one, &old.file) && Arc::ptr_eq(two, &new.file));
        if known {
            continue;
        }
        seen.push((&old.file, &new.file));
        let told = of_file(&old.file, &new.file);
        if !told.is_empty() {
            changes.push(FileChange {
                old: Arc::clone(&old.file),
                new: Arc::clone(&new.file),
                changes: told,
            });
        }
    }
    changes
}

fn of_file(old: &ZoneFile, new: &ZoneFile) -> Vec<Told> {
    let changes = [
        FromTo::of(&old.title, &new.title).map(Change::FileTitle),
        FromTo::of(&old.edition, &new.edition).map(Change::FileEdition),
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
        // a name that now means another fish, or none, changes what an answer is about
        told.push(Told::new(Change::FishNames { fish: fish.clone(), names }, Effect::Undecided));
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
        told.push(Told::new(Change::GroupNames { group, names }, Effect::Undecided));
    }
}

fn name_of(group: &Group) -> String {
    group.names.first().map_or_else(|| group.id.0.clone(), |name| name.text.clone())
}
