//! Which zones have a say in what a zone displaces, or is displaced by: by the ids that overrides cite.

use std::collections::{BTreeSet, HashMap, HashSet};

/// A zone of several files: the place of its file, and its own place in that.
pub(super) type Key = (usize, usize);

/// Overrides among the zones of several files, by ids.
#[derive(Debug, Default)]
pub(super) struct Related {
    /// Zones that bear an id which is cited.
    bearing: HashMap<String, Vec<Key>>,
    /// Zones that cite an id.
    citing: HashMap<String, Vec<Key>>,
    /// Zones that cite an id which no zone of their own file bears.
    reaching_out: bool,
}

/// A zone, its id, and the ids that it cites.
pub(super) type Cited<'a> = (Key, &'a str, Vec<&'a str>);

impl Related {
    pub(super) fn of<'a>(zones: impl Iterator<Item = Cited<'a>> + Clone) -> Self {
        let mut found = Self::default();
        for (key, _, cited) in zones.clone() {
            for id in cited {
                found.citing.entry(id.to_owned()).or_default().push(key);
            }
        }
        if found.citing.is_empty() {
            return found;
        }
        let mut own: HashSet<(usize, &str)> = HashSet::new();
        for (key, id, _) in zones.clone() {
            if found.citing.contains_key(id) {
                found.bearing.entry(id.to_owned()).or_default().push(key);
                own.insert((key.0, id));
            }
        }
        found.reaching_out =
            zones.into_iter().any(|(key, _, cited)| cited.iter().any(|id| !own.contains(&(key.0, *id))));
        found
    }

    /// Zones without which a circle of overrides through several files would not be seen.
    pub(super) fn in_circles(&self) -> impl Iterator<Item = Key> + '_ {
        let all = self.bearing.values().chain(self.citing.values()).flatten().copied();
        all.filter(|_| self.reaching_out)
    }

    /// Adds to zones those that cite one of them, those that one of them cites, and those that bear the id of one of them: what
    /// has to be there for every link between the zones given to be as it is among all.
    pub(super) fn add_to<'a>(
        &self,
        zones: &mut BTreeSet<Key>,
        names: impl Fn(Key) -> (&'a str, Vec<&'a str>),
    ) {
        if self.citing.is_empty() {
            return;
        }
        let mut more = Vec::new();
        for key in zones.iter() {
            let (id, cited) = names(*key);
            let by_id = |of: &HashMap<String, Vec<Key>>, id: &str| of.get(id).cloned().unwrap_or_default();
            more.extend(by_id(&self.citing, id));
            more.extend(by_id(&self.bearing, id));
            more.extend(cited.iter().flat_map(|id| by_id(&self.bearing, id)));
        }
        zones.extend(more);
    }
}
