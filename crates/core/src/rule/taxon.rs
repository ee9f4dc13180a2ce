//! What a fish is called, and which sets of fish a law speaks of.

/// Identifier of a taxon inside one zone file.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct TaxonId(pub String);

/// Identifier of a group inside one zone file.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct GroupId(pub String);

/// One name people use.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CommonName {
    /// The name.
    pub text: String,
    /// Where it is used, in free text, if that matters.
    pub region: Option<String>,
}

/// A kind of animal or plant that the file knows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Taxon {
    /// Its identifier.
    pub id: TaxonId,
    /// Scientific name.
    pub scientific: Option<String>,
    /// Names people use; the first is the one shown.
    pub names: Vec<CommonName>,
    /// FAO three-letter code (ASFIS list).
    pub fao: Option<String>,
    /// The broader taxon it belongs to, if the file has it (a genus for its species).
    pub parent: Option<TaxonId>,
}

/// A set of taxa as this law defines it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Group {
    /// Its identifier.
    pub id: GroupId,
    /// Names people use for it; the first is the one shown. Empty: the identifier is shown.
    pub names: Vec<CommonName>,
    /// What belongs to it.
    pub members: TaxonSet,
}

/// Taxa and groups, and what is taken out of them.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct TaxonSet {
    /// Taxa that belong to it, with everything below them.
    pub taxa: Vec<TaxonId>,
    /// Groups that belong to it.
    pub groups: Vec<GroupId>,
    /// Taxa taken out again.
    pub except: Vec<TaxonId>,
}

/// The names of a set of fish, as people should see them.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct SetNames {
    /// Groups, then taxa; empty: no fish at all.
    pub listed: Vec<String>,
    /// Taxa taken out again.
    pub except: Vec<String>,
}

/// Everything a zone file says about fish and their names.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Catalogue {
    /// Taxa, in file order.
    pub taxa: Vec<Taxon>,
    /// Groups, in file order.
    pub groups: Vec<Group>,
}

/// What a name that somebody typed may mean in one catalogue.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NameMatch {
    /// These taxa, in file order; more than one if the name is ambiguous or names a group.
    Taxa(Vec<TaxonId>),
    /// Nothing bears that name; these names look like it (nearest first, possibly none). Never taken for a match.
    Unknown {
        /// Names that look like it.
        suggestions: Vec<String>,
    },
}
