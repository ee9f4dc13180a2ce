//! What may be wrong with the fish of a zone file.

use std::collections::{HashMap, HashSet};

use super::{Catalogue, Group, GroupId, TaxonId, TaxonSet};

/// Something wrong with the fish of a zone file: where, what, and how to mend it.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{place}: {what}; {mend}")]
pub struct CatalogueFault {
    /// Where: "taxon \"sprat\"", "group \"bait-fish\"", or the label the caller gave for a set.
    pub place: String,
    /// What is wrong.
    pub what: String,
    /// How to mend it.
    pub mend: String,
}

impl CatalogueFault {
    pub(super) fn new(place: &str, what: impl Into<String>, mend: impl Into<String>) -> Self {
        Self { place: place.to_owned(), what: what.into(), mend: mend.into() }
    }
}

impl Catalogue {
    /// Returns everything wrong with the catalogue, in file order: identifiers that are empty, doubled or unknown,
    /// codes that are not three letters, parents and groups that go round in circles.
    ///
    /// Evaluation comes to an end on a faulty catalogue too, but its answers mean nothing: refuse the file.
    #[must_use]
    pub fn faults(&self) -> Vec<CatalogueFault> {
        let mut faults = self.doubled_ids();
        for taxon in &self.taxa {
            let place = format!("taxon \"{}\"", taxon.id.0);
            if let Some(fao) = &taxon.fao
                && !(fao.len() == 3 && fao.bytes().all(|b| b.is_ascii_alphabetic()))
            {
                let what = format!("FAO code \"{fao}\" is not three letters");
                faults.push(CatalogueFault::new(
                    &place,
                    what,
                    "write the code of the ASFIS list, or leave it out",
                ));
            }
        }
        faults.extend(self.parent_faults());
        let known = Known::of(self);
        for group in &self.groups {
            faults.extend(known.set_faults(&group.members, &format!("group \"{}\"", group.id.0)));
        }
        faults.extend(self.group_circles());
        faults
    }

    /// Returns what is wrong with one set of taxa: identifiers that the catalogue does not know.
    #[must_use]
    pub fn set_faults(&self, set: &TaxonSet, place: &str) -> Vec<CatalogueFault> {
        Known::of(self).set_faults(set, place)
    }

    fn unknown(&self, place: &str, kind: &str, id: &str) -> CatalogueFault {
        let ids =
            self.taxa.iter().map(|t| t.id.0.as_str()).chain(self.groups.iter().map(|g| g.id.0.as_str()));
        let mend = match super::naming::suggestions(id, ids).first() {
            Some(near) => format!("did you mean \"{near}\"? else add it to the file"),
            None => "add it to the file, or correct the identifier".to_owned(),
        };
        CatalogueFault::new(place, format!("the file has no {kind} \"{id}\""), mend)
    }

    fn doubled_ids(&self) -> Vec<CatalogueFault> {
        let mut met = HashSet::new();
        let mut faults = Vec::new();
        let taxa = self.taxa.iter().map(|taxon| ("taxon", taxon.id.0.as_str()));
        let groups = self.groups.iter().map(|group| ("group", group.id.0.as_str()));
        for (kind, id) in taxa.chain(groups) {
            let place = format!("{kind} \"{id}\"");
            if id.trim().is_empty() {
                faults.push(CatalogueFault::new(&place, "the identifier is empty", "give it one"));
            } else if !met.insert(id) {
                let what = "another taxon or group has the same identifier";
                faults.push(CatalogueFault::new(&place, what, "give each its own"));
            }
        }
        faults
    }

    fn parent_faults(&self) -> Vec<CatalogueFault> {
        let parents: HashMap<&TaxonId, Option<&TaxonId>> =
            self.taxa.iter().map(|taxon| (&taxon.id, taxon.parent.as_ref())).collect();
        let mut faults = Vec::new();
        let mut done: HashSet<&TaxonId> = HashSet::new();
        for taxon in &self.taxa {
            let place = format!("taxon \"{}\"", taxon.id.0);
            if let Some(parent) = &taxon.parent
                && !parents.contains_key(parent)
            {
                faults.push(self.unknown(&place, "taxon", &parent.0));
            }
            let mut path: Vec<&TaxonId> = Vec::new();
            let mut on_path: HashSet<&TaxonId> = HashSet::new();
            let mut at = Some(&taxon.id);
            while let Some(id) = at
                && !done.contains(id)
            {
                if !on_path.insert(id) {
                    let what = format!("its parents lead in a circle through \"{}\"", id.0);
                    faults.push(CatalogueFault::new(&place, what, "take out one of the parents"));
                    break;
                }
                path.push(id);
                at = parents.get(id).copied().flatten();
            }
            done.extend(path);
        }
        faults
    }

    fn group_circles(&self) -> Vec<CatalogueFault> {
        let by_id: HashMap<&GroupId, &Group> = self.groups.iter().map(|group| (&group.id, group)).collect();
        let mut clear: HashSet<&GroupId> = HashSet::new();
        let mut faults = Vec::new();
        for group in &self.groups {
            if let Some(through) = circle_from(group, &by_id, &mut clear) {
                let what = format!("its groups lead in a circle through \"{}\"", through.0);
                let place = format!("group \"{}\"", group.id.0);
                faults.push(CatalogueFault::new(&place, what, "take one of the groups out of the other"));
            }
        }
        faults
    }
}

/// The identifiers of a catalogue, gathered once for all its sets.
struct Known<'a> {
    catalogue: &'a Catalogue,
    taxa: HashSet<&'a TaxonId>,
    groups: HashSet<&'a GroupId>,
}

impl<'a> Known<'a> {
    fn of(catalogue: &'a Catalogue) -> Self {
        let taxa = catalogue.taxa.iter().map(|taxon| &taxon.id).collect();
        let groups = catalogue.groups.iter().map(|group| &group.id).collect();
        Self { catalogue, taxa, groups }
    }

    fn set_faults(&self, set: &TaxonSet, place: &str) -> Vec<CatalogueFault> {
        let mut faults = Vec::new();
        for id in set.taxa.iter().chain(&set.except).filter(|id| !self.taxa.contains(id)) {
            faults.push(self.catalogue.unknown(place, "taxon", &id.0));
        }
        for id in set.groups.iter().filter(|id| !self.groups.contains(id)) {
            faults.push(self.catalogue.unknown(place, "group", &id.0));
        }
        faults
    }
}

/// Looks for a circle among the groups below this one; groups found free of one are not looked at again.
///
/// The walk keeps its own stack: a file with a long chain of groups must not exhaust the program's.
fn circle_from<'a>(
    start: &'a Group,
    by_id: &HashMap<&GroupId, &'a Group>,
    clear: &mut HashSet<&'a GroupId>,
) -> Option<&'a GroupId> {
    let mut through = None;
    let mut open: HashSet<&GroupId> = HashSet::from([&start.id]);
    let mut stack: Vec<(&Group, usize)> = if clear.contains(&start.id) { vec![] } else { vec![(start, 0)] };
    while let Some((group, next)) = stack.pop() {
        let Some(member) = group.members.groups.get(next) else {
            open.remove(&group.id);
            clear.insert(&group.id);
            continue;
        };
        stack.push((group, next + 1));
        let Some(&below) = by_id.get(member) else { continue };
        if open.contains(&below.id) {
            through = through.or(Some(&below.id));
        } else if !clear.contains(&below.id) {
            open.insert(&below.id);
            stack.push((below, 0));
        }
    }
    through
}
