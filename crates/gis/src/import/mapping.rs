//! The mapping file: which attribute of a source is which member of a zone, and what the source's words mean.

use std::collections::BTreeMap;

use serde::Deserialize;
use serde_json::{Map, Value};
use thiserror::Error;

use super::members::MEMBERS;

/// How attributes become members, from a TOML file (`zones/template-import-map.toml`); the default maps nothing.
///
/// # Examples
///
/// ```
/// use takeline_gis::import::Mapping;
///
/// let mapping: Mapping = r#"
///     [fields]
///     id = "SITE_CODE"
///     take = "KIND"
///     [take]
///     "No take" = "none"
/// "#.parse()?;
/// assert_ne!(mapping, Mapping::default());
/// // nobody imports water where anything goes
/// assert!("[take]\n\"General use\" = \"anything\"".parse::<Mapping>().is_err());
/// # Ok::<(), takeline_gis::import::InvalidMapping>(())
/// ```
#[derive(Debug, Clone, Default, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Mapping {
    /// Members of the head of the zone file.
    #[serde(default)]
    pub(super) file: Map<String, Value>,
    /// Which attribute each member comes from.
    #[serde(default)]
    pub(super) fields: BTreeMap<String, String>,
    /// Members that are the same for all zones, and for those whose attribute is blank.
    #[serde(default)]
    pub(super) constants: BTreeMap<String, Value>,
    /// What may be taken, by the words of the source.
    #[serde(default)]
    pub(super) take: BTreeMap<String, Value>,
    /// Shapes that are no zones: points, lines, and features of nothing.
    #[serde(default)]
    pub(super) leave_out: Vec<LeftOut>,
    /// Whether attributes that nothing maps are dropped instead of kept in `x-source`.
    #[serde(default)]
    pub(super) drop_other_attributes: bool,
}

/// What may be left out of a source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum LeftOut {
    Points,
    Lines,
    WithoutShape,
}

/// Why a mapping file cannot be used.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("{0}")]
pub struct InvalidMapping(String);

/// Members of the head that a mapping may set.
const OF_FILE: [&str; 9] =
    ["title", "edition", "issued", "valid_until", "publisher", "licence", "time_zone", "taxa", "groups"];

impl std::str::FromStr for Mapping {
    type Err = InvalidMapping;

    /// Reads TOML.
    ///
    /// # Errors
    ///
    /// [`InvalidMapping`] names the line or the member, and what may be written.
    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let mapping: Self = toml::from_str(text).map_err(|error| InvalidMapping(error.to_string()))?;
        mapping.check()?;
        Ok(mapping)
    }
}

impl Mapping {
    fn check(&self) -> Result<(), InvalidMapping> {
        let refuse = |text: String| Err(InvalidMapping(text));
        if let Some(name) = self.file.keys().find(|name| !OF_FILE.contains(&name.as_str())) {
            return refuse(format!("[file] knows no member {name:?}; it knows {}", OF_FILE.join(", ")));
        }
        let names = || MEMBERS.iter().map(|member| member.name).collect::<Vec<_>>().join(", ");
        let knows = |name: &String| MEMBERS.iter().any(|member| member.name == name);
        if let Some(name) = self.fields.keys().chain(self.constants.keys()).find(|name| !knows(name)) {
            return refuse(format!(
                "a zone has no member {name:?} that can be mapped; there are {}",
                names()
            ));
        }
        // TOML has no other way to write what JSON cannot hold
        let members = self.file.iter().chain(&self.constants).chain(&self.take);
        if let Some((name, _)) = members.into_iter().find(|(_, value)| has_no_number(value)) {
            return refuse(format!("{name:?} is nan or inf, which is no number"));
        }
        if self.constants.contains_key("id") {
            return refuse("[constants] gives every zone the same id; map id in [fields]".into());
        }
        for (words, take) in self
            .take
            .iter()
            .map(|(words, take)| (words.as_str(), take))
            .chain(self.constants.get("take").map(|take| ("take", take)))
        {
            if let Err(why) = may_be_imported(take) {
                return refuse(format!("{words:?}: {why}"));
            }
        }
        Ok(())
    }

    /// What the source's words for a rule mean; none where nobody says.
    pub(super) fn take_of(&self, words: &str) -> Option<&Value> {
        let words = words.trim();
        let same = |known: &str| known.trim().eq_ignore_ascii_case(words);
        self.take.get(words).or_else(|| self.take.iter().find(|(known, _)| same(known)).map(|(_, take)| take))
    }

    pub(super) fn leaves_out(&self, what: LeftOut) -> bool {
        self.leave_out.contains(&what)
    }
}

/// Whether a number in it is none.
fn has_no_number(value: &Value) -> bool {
    match value {
        Value::Null => true,
        Value::Array(list) => list.iter().any(has_no_number),
        Value::Object(members) => members.values().any(has_no_number),
        Value::Bool(_) | Value::Number(_) | Value::String(_) => false,
    }
}

/// Whether a rule may come from a mapping file: one that takes nothing away from the water may not.
pub(super) fn may_be_imported(take: &Value) -> Result<(), &'static str> {
    match take {
        Value::String(word) if word == "none" => Ok(()),
        Value::String(word) if word == "anything" => Err(
            "a zone in which anything may be taken would read as water without a rule, and a mistake in the mapping as open water: leave \
             these words out, and write \"anything\" into the zone file by hand when you have read the law",
        ),
        Value::Object(lists)
            if lists.len() == 1 && (lists.contains_key("only") || lists.contains_key("all_except")) =>
        {
            Ok(())
        }
        Value::Null
        | Value::Bool(_)
        | Value::Number(_)
        | Value::String(_)
        | Value::Array(_)
        | Value::Object(_) => Err("write \"none\", { only = [\"…\"] } or { all_except = [\"…\"] }"),
    }
}
