//! The names that zone files know: what can be asked about with `--species` and `--gear`.

use std::collections::HashMap;
use std::sync::Arc;

use serde::Serialize;
use takeline::rule::{Catalogue, CommonName, Gear, Permit, Take, TakeRule};
use takeline::zone::{Zone, ZoneFile, ZoneSet};

use crate::lines::Page;

/// The names of every loaded file, schema `takeline.zones-names/1`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct NamesDocument {
    /// Names the form.
    pub schema: &'static str,
    /// The files, in the order in which they were read.
    pub files: Vec<FileNamesDocument>,
}

/// The names of one file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct FileNamesDocument {
    /// Where it was read from.
    pub path: String,
    /// SHA-256 of its bytes.
    pub sha256: String,
    /// Its title.
    pub title: Option<String>,
    /// Its edition.
    pub edition: Option<String>,
    /// Its fish and what else it lists singly.
    pub fish: Vec<FishNamesDocument>,
    /// Its groups.
    pub groups: Vec<GroupNamesDocument>,
    /// The gear that its rules name, allowed or forbidden, by the alphabet.
    pub gear: Vec<String>,
}

/// One fish.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct FishNamesDocument {
    /// Its identifier in the file.
    pub id: String,
    /// Common names.
    pub names: Vec<NameDocument>,
    /// Scientific name.
    pub scientific: Option<String>,
    /// Three-letter code of the FAO.
    pub fao: Option<String>,
    /// The identifier of what it is a kind of.
    pub parent: Option<String>,
}

/// A group of fish, as the file defines it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct GroupNamesDocument {
    /// Its identifier in the file.
    pub id: String,
    /// What it is called.
    pub names: Vec<NameDocument>,
    /// Identifiers of the fish in it.
    pub fish: Vec<String>,
    /// Identifiers of the groups in it.
    pub groups: Vec<String>,
    /// Identifiers of fish that are taken out of it.
    pub except: Vec<String>,
}

/// A common name, and where people use it if not everywhere.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct NameDocument {
    /// The name.
    pub name: String,
    /// Where it is used; none: everywhere.
    pub region: Option<String>,
}

impl NamesDocument {
    /// Collects the names of all files of a set.
    #[must_use]
    pub fn of(zones: &ZoneSet) -> Self {
        let mut files: Vec<(&Arc<ZoneFile>, Vec<&Zone>)> = Vec::new();
        let mut places: HashMap<*const ZoneFile, usize> = HashMap::new();
        for zone in zones.zones() {
            let place = *places.entry(Arc::as_ptr(&zone.file)).or_insert_with(|| {
                files.push((&zone.file, Vec::new()));
                files.len() - 1
            });
            if let Some((_, of_file)) = files.get_mut(place) {
                of_file.push(zone);
            }
        }
        let files = files.into_iter().map(|(file, zones)| FileNamesDocument::of(file, &zones)).collect();
        Self { schema: "takeline.zones-names/1", files }
    }
}

impl FileNamesDocument {
    fn of(file: &ZoneFile, zones: &[&Zone]) -> Self {
        let mut gear: Vec<String> = zones.iter().flat_map(|zone| gear_of(&zone.rule)).cloned().collect();
        gear.sort();
        gear.dedup();
        let Catalogue { taxa, groups } = &file.catalogue;
        let fish = taxa.iter().map(|taxon| FishNamesDocument {
            id: taxon.id.0.clone(),
            names: names(&taxon.names),
            scientific: taxon.scientific.clone(),
            fao: taxon.fao.clone(),
            parent: taxon.parent.as_ref().map(|parent| parent.0.clone()),
        });
        let groups = groups.iter().map(|group| GroupNamesDocument {
            id: group.id.0.clone(),
            names: names(&group.names),
            fish: group.members.taxa.iter().map(|id| id.0.clone()).collect(),
            groups: group.members.groups.iter().map(|id| id.0.clone()).collect(),
            except: group.members.except.iter().map(|id| id.0.clone()).collect(),
        });
        Self {
            path: file.path.clone(),
            sha256: file.sha256.clone(),
            title: file.title.clone(),
            edition: file.edition.clone(),
            fish: fish.collect(),
            groups: groups.collect(),
            gear,
        }
    }
}

fn names(names: &[CommonName]) -> Vec<NameDocument> {
    let one = |name: &CommonName| NameDocument { name: name.text.clone(), region: name.region.clone() };
    names.iter().map(one).collect()
}

fn gear_of(rule: &TakeRule) -> Vec<&String> {
    let only: &[Permit] = match &rule.take {
        Take::Only(permits) => permits,
        Take::Nothing | Take::AllExcept(_) | Take::Anything => &[],
    };
    let permits = only.iter().chain(&rule.limits);
    let named = permits.flat_map(|permit| {
        let allowed = permit.limits.gear.iter().map(|one| &one.kind);
        allowed.chain(&permit.limits.gear_forbidden)
    });
    named.map(|Gear(word)| word).collect()
}

/// The names as text.
#[must_use]
pub fn names_text(document: &NamesDocument, width: usize) -> String {
    let mut page = Page::new(width);
    let files = document.files.len();
    let counted =
        if files == 1 { "1 zone file knows".to_owned() } else { format!("{files} zone files know") };
    page.paragraph("", &format!("NAMES that {counted}"));
    page.paragraph(
        "",
        "Each may be given to --species or --gear; capitals, accents, hyphens and a plural s make no difference.",
    );
    for file in &document.files {
        page.heading(&file.path);
        file_lines(file, &mut page);
    }
    page.finish()
}

fn file_lines(file: &FileNamesDocument, page: &mut Page) {
    let heading = [file.title.clone(), file.edition.as_ref().map(|edition| format!("edition {edition}"))];
    let heading: Vec<String> = heading.into_iter().flatten().collect();
    if !heading.is_empty() {
        page.paragraph("  ", &heading.join(", "));
    }
    let shown: HashMap<&str, String> = file.fish.iter().map(|fish| (fish.id.as_str(), first(fish))).collect();
    let groups = file.groups.iter();
    let shown_groups: HashMap<&str, &str> = groups
        .map(|group| (group.id.as_str(), group.names.first().map_or(&*group.id, |name| &name.name)))
        .collect();
    page.paragraph("  ", if file.fish.is_empty() { "Fish: none by name" } else { "Fish" });
    for fish in &file.fish {
        page.paragraph("    ", &fish_line(fish));
    }
    page.paragraph("  ", if file.groups.is_empty() { "Groups: none" } else { "Groups" });
    for group in &file.groups {
        let of_fish = |ids: &[String]| -> Vec<String> {
            ids.iter().map(|id| shown.get(id.as_str()).unwrap_or(id).clone()).collect()
        };
        let of_groups = group.groups.iter().map(|id| (*shown_groups.get(&**id).unwrap_or(&&**id)).to_owned());
        let members: Vec<String> = of_fish(&group.fish).into_iter().chain(of_groups).collect();
        let mut line = format!("{}: {}", all_names(&group.names, &group.id), members.join(", "));
        if !group.except.is_empty() {
            line = format!("{line}; but not {}", of_fish(&group.except).join(", "));
        }
        page.paragraph("    ", &line);
    }
    page.paragraph("  ", if file.gear.is_empty() { "Gear: none named by its rules" } else { "Gear" });
    for gear in &file.gear {
        page.paragraph("    ", gear);
    }
}

fn first(fish: &FishNamesDocument) -> String {
    let common = fish.names.first().map(|name| name.name.clone());
    common.or_else(|| fish.scientific.clone()).unwrap_or_else(|| fish.id.clone())
}

fn fish_line(fish: &FishNamesDocument) -> String {
    let names = all_names(&fish.names, fish.scientific.as_deref().unwrap_or(&fish.id));
    match &fish.scientific {
        Some(scientific) if !fish.names.is_empty() => format!("{names} ({scientific})"),
        Some(_) | None => names,
    }
}

fn all_names(names: &[NameDocument], otherwise: &str) -> String {
    if names.is_empty() {
        return otherwise.to_owned();
    }
    let one = |name: &NameDocument| match &name.region {
        Some(region) => format!("{} (in {region})", name.name),
        None => name.name.clone(),
    };
    names.iter().map(one).collect::<Vec<_>>().join(", ")
}
