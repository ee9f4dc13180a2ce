//! Which fish a typed name may mean, and which sets a fish belongs to.

use std::collections::{HashMap, HashSet};

use super::naming::{self, LONGEST_NAME};
use super::{Catalogue, CommonName, Group, GroupId, NameMatch, SetNames, Taxon, TaxonId, TaxonSet};
use crate::Tristate;

/// Steps from a taxon to its broadest ancestor that are followed; taxonomies in use have fewer than forty ranks.
const DEEPEST_LINEAGE: usize = 64;

/// The bonds of a catalogue, gathered once for each question.
pub(super) struct Lineage<'a> {
    parent: HashMap<&'a TaxonId, &'a TaxonId>,
    children: HashMap<&'a TaxonId, Vec<&'a TaxonId>>,
    groups: HashMap<&'a GroupId, &'a Group>,
}

impl<'a> Lineage<'a> {
    fn of(catalogue: &'a Catalogue) -> Self {
        let mut lineage = Self { parent: HashMap::new(), children: HashMap::new(), groups: HashMap::new() };
        for taxon in &catalogue.taxa {
            if let Some(parent) = &taxon.parent {
                lineage.parent.insert(&taxon.id, parent);
                lineage.children.entry(parent).or_default().push(&taxon.id);
            }
        }
        for group in &catalogue.groups {
            lineage.groups.entry(&group.id).or_insert(group);
        }
        lineage
    }

    /// Returns the taxon itself and what it belongs to, nearest first; stops where a chain runs in a circle.
    fn upwards<'b>(&self, taxon: &'b TaxonId) -> Vec<&'b TaxonId>
    where
        'a: 'b,
    {
        let mut line = vec![taxon];
        let mut at = taxon;
        while let Some(&parent) = self.parent.get(at) {
            if line.len() > DEEPEST_LINEAGE || line.contains(&parent) {
                break;
            }
            line.push(parent);
            at = parent;
        }
        line
    }

    /// Returns everything below the taxon, itself left out.
    fn below(&self, taxon: &TaxonId) -> HashSet<&'a TaxonId> {
        let mut found = HashSet::new();
        let mut waiting: Vec<&TaxonId> = vec![taxon];
        while let Some(at) = waiting.pop() {
            for &child in self.children.get(at).into_iter().flatten() {
                if child != taxon && found.insert(child) {
                    waiting.push(child);
                }
            }
        }
        found
    }

    /// Whether the set names the taxon or something above it, and does not take it out again.
    ///
    /// A group that is met twice adds nothing the second time, so groups that hold each other come to an end.
    fn lists(&self, set: &TaxonSet, taxon: &TaxonId) -> bool {
        let line = self.upwards(taxon);
        let names = |ids: &[TaxonId]| ids.iter().any(|id| line.contains(&id));
        let mut met: HashSet<&GroupId> = HashSet::new();
        let mut waiting = vec![set];
        while let Some(set) = waiting.pop() {
            if names(&set.except) {
                continue;
            }
            if names(&set.taxa) {
                return true;
            }
            for group in &set.groups {
                if let Some(&(id, group)) = self.groups.get_key_value(group).as_ref()
                    && met.insert(id)
                {
                    waiting.push(&group.members);
                }
            }
        }
        false
    }
}

impl Catalogue {
    /// Returns which taxa a typed name may mean.
    ///
    /// Common and scientific names, taxon and group identifiers and group names match without regard to case,
    /// accents, hyphens, spaces and simple plurals; an FAO code matches as exactly three letters. A name that several
    /// taxa bear gives them all. A broader taxon gives itself and everything below it; a group gives its members.
    ///
    /// # Edge cases
    ///
    /// Empty input, input without a letter or digit, and input longer than 120 characters are unknown, without
    /// suggestions. Suggestions are never taken for a match.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::rule::{Catalogue, NameMatch, Taxon, TaxonId};
    /// let sprat = Taxon::named("sprat", "Sprattus sprattus", &["sprat", "brisling"]);
    /// let catalogue = Catalogue { taxa: vec![sprat], groups: vec![] };
    /// assert_eq!(catalogue.resolve("Sprats"), NameMatch::Taxa(vec![TaxonId("sprat".into())]));
    /// assert_eq!(catalogue.resolve("sprta"), NameMatch::Unknown { suggestions: vec!["sprat".into()] });
    /// ```
    #[must_use]
    pub fn resolve(&self, name: &str) -> NameMatch {
        self.resolve_in(name, None)
    }

    /// Returns which taxa a typed name may mean to somebody from a region.
    ///
    /// As [`Self::resolve`], but where some taxon bears the name in that very region, taxa that bear it only in
    /// other regions are left out. Names without a region count everywhere; a region that the file does not know
    /// changes nothing.
    #[must_use]
    pub fn resolve_in(&self, name: &str, region: Option<&str>) -> NameMatch {
        let name = name.trim();
        if name.chars().take(LONGEST_NAME + 1).count() > LONGEST_NAME || naming::folded(name).is_empty() {
            return NameMatch::Unknown { suggestions: Vec::new() };
        }
        let found = self.named(name, region);
        if found.is_empty() {
            let suggestions = naming::suggestions(name, self.every_name());
            return NameMatch::Unknown { suggestions };
        }
        NameMatch::Taxa(
            self.taxa.iter().filter(|taxon| found.contains(&taxon.id)).map(|t| t.id.clone()).collect(),
        )
    }

    /// The taxa that bear the name as it was typed; where there are none, those that bear it as a plural or singular.
    fn named<'a>(&'a self, name: &str, region: Option<&str>) -> HashSet<&'a TaxonId> {
        let asked = AskedName::new(name, region);
        let exactly = self.borne_by(&AskedName { forms: Vec::new(), ..asked.clone() });
        if exactly.is_empty() { self.borne_by(&asked) } else { exactly }
    }

    fn borne_by<'a>(&'a self, asked: &AskedName<'_>) -> HashSet<&'a TaxonId> {
        let lineage = Lineage::of(self);
        let local = asked.region.is_some()
            && self.taxa.iter().any(|taxon| asked.is_common(&taxon.names, Where::JustThere));
        let scope = if local { Where::ThereOrAnywhere } else { Where::Anywhere };
        let mut found = HashSet::new();
        for taxon in self.taxa.iter().filter(|taxon| asked.is_taxon(taxon, scope)) {
            found.insert(&taxon.id);
            found.extend(lineage.below(&taxon.id));
        }
        for group in &self.groups {
            if asked.is_id(&group.id.0) || asked.is_common(&group.names, scope) {
                let members = self.taxa.iter().filter(|taxon| lineage.lists(&group.members, &taxon.id));
                found.extend(members.map(|taxon| &taxon.id));
            }
        }
        found
    }

    /// Returns the names that may be suggested: common names first for each taxon, so that they win a tie.
    fn every_name(&self) -> impl Iterator<Item = &str> {
        let of_taxa = self.taxa.iter().flat_map(|taxon| {
            let common = taxon.names.iter().map(|name| name.text.as_str());
            common.chain(taxon.scientific.as_deref()).chain([taxon.id.0.as_str()])
        });
        let of_groups = self
            .groups
            .iter()
            .flat_map(|group| group.names.iter().map(|name| name.text.as_str()).chain([group.id.0.as_str()]));
        of_taxa.chain(of_groups)
    }

    /// Returns whether a taxon belongs to a set: through groups, through what it belongs to, and minus exceptions.
    ///
    /// Yes if the set names it or something above it; an exception of it or of something above it wins. Undecided if
    /// the taxon is a broad one and the set treats something below it otherwise, and for a taxon that the catalogue
    /// does not know and the set does not name. Sets that go round in circles come to an end.
    #[must_use]
    pub fn contains(&self, set: &TaxonSet, taxon: &TaxonId) -> Tristate {
        let lineage = Lineage::of(self);
        let listed = lineage.lists(set, taxon);
        if !listed && !self.taxa.iter().any(|known| known.id == *taxon) {
            let excepted = set.except.contains(taxon);
            return if excepted { Tristate::No } else { Tristate::Undecided };
        }
        if lineage.below(taxon).into_iter().any(|below| lineage.lists(set, below) != listed) {
            return Tristate::Undecided;
        }
        listed.into()
    }

    /// Returns the taxa below this one that the set holds, and those that it does not, in file order.
    pub(super) fn divided<'a>(
        &'a self,
        set: &TaxonSet,
        taxon: &TaxonId,
    ) -> (Vec<&'a TaxonId>, Vec<&'a TaxonId>) {
        let lineage = Lineage::of(self);
        let below = lineage.below(taxon);
        let in_order = self.taxa.iter().map(|taxon| &taxon.id).filter(|id| below.contains(id));
        in_order.partition(|id| lineage.lists(set, id))
    }

    /// Returns the name of a taxon as people should see it: "sprat (Sprattus sprattus)".
    ///
    /// The first common name, the scientific name in brackets; whichever there is; or else the identifier.
    #[must_use]
    pub fn display_name(&self, taxon: &TaxonId) -> String {
        let common = self.short_name(taxon);
        match self.taxon(taxon).and_then(|taxon| taxon.scientific.as_deref()) {
            Some(scientific) if naming::folded(scientific) != naming::folded(&common) => {
                format!("{common} ({scientific})")
            }
            _ => common,
        }
    }

    /// Returns the shortest name of a taxon that people use: the first common name, or else as [`Self::display_name`].
    #[must_use]
    pub fn short_name(&self, taxon: &TaxonId) -> String {
        let Some(found) = self.taxon(taxon) else { return taxon.0.clone() };
        let common = found.names.first().map(|name| &name.text);
        common.or(found.scientific.as_ref()).unwrap_or(&found.id.0).clone()
    }

    /// Returns the names of a set: groups and taxa, and what is taken out of them again.
    #[must_use]
    pub fn set_names(&self, set: &TaxonSet) -> SetNames {
        let groups = set.groups.iter().map(|id| {
            let group = self.groups.iter().find(|group| group.id == *id);
            group.and_then(|group| group.names.first()).map_or_else(|| id.0.clone(), |name| name.text.clone())
        });
        let taxa = set.taxa.iter().map(|id| self.short_name(id));
        let except = set.except.iter().map(|id| self.short_name(id)).collect();
        SetNames { listed: groups.chain(taxa).collect(), except }
    }

    fn taxon(&self, id: &TaxonId) -> Option<&Taxon> {
        self.taxa.iter().find(|taxon| taxon.id == *id)
    }
}

/// Which regions a common name may carry to count.
#[derive(Clone, Copy, PartialEq)]
enum Where {
    /// Any, or none.
    Anywhere,
    /// The asked one, or none.
    ThereOrAnywhere,
    /// The asked one.
    JustThere,
}

/// A typed name, made ready for comparing.
#[derive(Clone)]
struct AskedName<'a> {
    code: Option<&'a str>,
    folded: String,
    /// What it may be the plural of, itself included; none where only the name as typed counts.
    forms: Vec<String>,
    region: Option<String>,
}

impl<'a> AskedName<'a> {
    fn new(name: &'a str, region: Option<&str>) -> Self {
        let folded = naming::folded(name);
        let code = (name.len() == 3 && name.bytes().all(|b| b.is_ascii_alphabetic())).then_some(name);
        let region = region.map(naming::folded).filter(|region| !region.is_empty());
        Self { code, forms: naming::forms(&folded), folded, region }
    }

    fn is_taxon(&self, taxon: &Taxon, scope: Where) -> bool {
        let is_code = match (self.code, &taxon.fao) {
            (Some(code), Some(fao)) => code.eq_ignore_ascii_case(fao.trim()),
            _ => false,
        };
        // Scientific names have no plural: "Asterias" is not several of anything.
        let is_scientific =
            taxon.scientific.as_deref().is_some_and(|name| naming::folded(name) == self.folded);
        is_code || is_scientific || self.is_id(&taxon.id.0) || self.is_common(&taxon.names, scope)
    }

    fn is_id(&self, id: &str) -> bool {
        self.is_same(id)
    }

    fn is_common(&self, names: &[CommonName], scope: Where) -> bool {
        names.iter().any(|name| self.in_scope(name, scope) && self.is_same(&name.text))
    }

    fn is_same(&self, text: &str) -> bool {
        let text = naming::folded(text);
        text == self.folded || naming::forms(&text).iter().any(|form| self.forms.contains(form))
    }

    fn in_scope(&self, name: &CommonName, scope: Where) -> bool {
        let there = name.region.as_deref().map(naming::folded);
        match scope {
            Where::Anywhere => true,
            Where::ThereOrAnywhere => there.is_none() || there == self.region,
            Where::JustThere => there.is_some() && there == self.region,
        }
    }
}

impl Taxon {
    /// Makes a taxon with a scientific name and names that people use, the one to show first.
    #[must_use]
    pub fn named(id: &str, scientific: &str, names: &[&str]) -> Self {
        let names = names.iter().map(|text| CommonName { text: (*text).to_owned(), region: None }).collect();
        let scientific = (!scientific.is_empty()).then(|| scientific.to_owned());
        Self { id: TaxonId(id.to_owned()), scientific, names, fao: None, parent: None }
    }
}
