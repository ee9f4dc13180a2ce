use std::collections::{HashMap, HashSet};

use jiff::Timestamp;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use takeline::Tristate;
use takeline::zone_file::LoadedFile;

/// The name of the manifest in its folder. No zone file may bear it.
pub const FILE_NAME: &str = "takeline-manifest.json";
/// Names the form.
pub const SCHEMA: &str = "takeline.manifest/1";

/// The zone files that belong in a folder, as somebody wrote them down.
///
/// # Examples
///
/// ```
/// use takeline_drafting::catalogue::{Difference, Manifest};
///
/// let text = br#"{ "takeline_manifest": "takeline.manifest/1", "written": "2026-06-03",
///   "files": [ { "name": "cove.json", "bytes": 812, "sha256": "ab" }, { "name": "bank.json", "bytes": 5, "sha256": "cd" } ] }"#;
/// let manifest = Manifest::read(text)?;
/// let found = [("cove.json", "ab"), ("reef.json", "ef")];
/// assert_eq!(manifest.differences(found), [Difference::Missing("bank.json".into()), Difference::Extra("reef.json".into())]);
/// # Ok::<(), takeline_drafting::catalogue::ManifestError>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Manifest {
    /// Names the form: [`SCHEMA`].
    pub takeline_manifest: String,
    /// The day it was written.
    pub written: Date,
    /// The files, by name.
    pub files: Vec<ManifestEntry>,
}

/// One file of a folder.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ManifestEntry {
    /// Its name in the folder.
    pub name: String,
    /// Its size.
    pub bytes: u64,
    /// SHA-256 of its bytes, lower-case hexadecimal.
    pub sha256: String,
    /// Its title.
    #[serde(default)]
    pub title: Option<String>,
    /// Its edition.
    #[serde(default)]
    pub edition: Option<String>,
    /// The day it was issued.
    #[serde(default)]
    pub issued: Option<Date>,
    /// The instant from which its makers no longer vouch for it.
    #[serde(default)]
    pub valid_until: Option<Timestamp>,
    /// How many zones it holds.
    #[serde(default)]
    pub zones: usize,
    /// How many of them were proofread, and not changed since as far as can be told.
    #[serde(default)]
    pub proofread_zones: usize,
    /// Who did.
    #[serde(default)]
    pub proofread_by: Vec<String>,
}

impl ManifestEntry {
    /// What there is to write down of a file that was read from so many bytes.
    #[must_use]
    pub fn of(name: &str, bytes: u64, loaded: &LoadedFile) -> Self {
        let good = loaded.zones.iter().filter_map(|zone| zone.proofread.as_ref());
        let good: Vec<_> = good.filter(|record| record.unchanged != Tristate::No).collect();
        let mut proofread_by: Vec<String> = Vec::new();
        for name in good.iter().flat_map(|record| &record.by) {
            if !proofread_by.contains(name) {
                proofread_by.push(name.clone());
            }
        }
        Self {
            name: name.to_owned(),
            bytes,
            sha256: loaded.file.sha256.clone(),
            title: loaded.file.title.clone(),
            edition: loaded.file.edition.clone(),
            issued: loaded.issued,
            valid_until: loaded.file.valid_until,
            zones: loaded.zones.len(),
            proofread_zones: good.len(),
            proofread_by,
        }
    }
}

/// How a folder differs from its manifest.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Difference {
    /// A file is not the one that was written down.
    Changed(String),
    /// A file that was written down is not there.
    Missing(String),
    /// A file bears another name now; what is in it is the same.
    Renamed {
        /// The name that was written down.
        from: String,
        /// Its name now.
        to: String,
    },
    /// A file is there that was not written down.
    Extra(String),
}

impl Difference {
    /// Returns its code for machines. Codes are stable: new ones may be added.
    #[must_use]
    pub const fn code(&self) -> &'static str {
        match self {
            Self::Changed(_) => "manifest-changed",
            Self::Missing(_) => "manifest-missing",
            Self::Renamed { .. } => "manifest-renamed",
            Self::Extra(_) => "manifest-extra",
        }
    }

    /// Returns the name that the file has, or had where it is missing.
    #[must_use]
    pub fn name(&self) -> &str {
        match self {
            Self::Changed(name) | Self::Missing(name) | Self::Extra(name) => name,
            Self::Renamed { to, .. } => to,
        }
    }
}

/// Why a text is no manifest.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum ManifestError {
    /// It cannot be read.
    #[error("is no manifest of a folder of zones: {0}")]
    NotAManifest(#[from] serde_json::Error),
    /// It is of another form.
    #[error("is a manifest of the form {0}, which this version does not read")]
    OtherForm(String),
    /// A file is named twice.
    #[error("names {0} twice")]
    Twice(String),
}

impl Manifest {
    /// A manifest of these files.
    #[must_use]
    pub fn of(written: Date, mut files: Vec<ManifestEntry>) -> Self {
        files.sort_by(|one, other| one.name.cmp(&other.name));
        Self { takeline_manifest: SCHEMA.to_owned(), written, files }
    }

    /// Reads a manifest.
    ///
    /// # Errors
    ///
    /// [`ManifestError`] says why the text is none. Zones are never read from it, whatever it holds.
    pub fn read(bytes: &[u8]) -> Result<Self, ManifestError> {
        let manifest: Self = serde_json::from_slice(bytes)?;
        if manifest.takeline_manifest != SCHEMA {
            return Err(ManifestError::OtherForm(manifest.takeline_manifest));
        }
        let mut names: Vec<&str> = manifest.files.iter().map(|file| file.name.as_str()).collect();
        names.sort_unstable();
        match names.windows(2).find(|pair| pair[0] == pair[1]) {
            Some(pair) => Err(ManifestError::Twice(pair[0].to_owned())),
            None => Ok(manifest),
        }
    }

    /// How files, by name and SHA-256, differ from it: those of the manifest in its order, then the others.
    ///
    /// A file that is gone is only renamed where one that was not written down holds the same bytes.
    #[must_use]
    pub fn differences<'f>(&self, found: impl IntoIterator<Item = (&'f str, &'f str)>) -> Vec<Difference> {
        let found: Vec<(&str, &str)> = found.into_iter().collect();
        let digests: HashMap<&str, &str> = found.iter().copied().collect();
        let listed: HashSet<&str> = self.files.iter().map(|file| file.name.as_str()).collect();
        let mut extra: Vec<(&str, &str)> =
            found.iter().filter(|(name, _)| !listed.contains(name)).copied().collect();
        let mut differences = Vec::new();
        for file in &self.files {
            match digests.get(file.name.as_str()) {
                Some(digest) if digest.eq_ignore_ascii_case(&file.sha256) => {}
                Some(_) => differences.push(Difference::Changed(file.name.clone())),
                None => {
                    let same = extra.iter().position(|(_, digest)| digest.eq_ignore_ascii_case(&file.sha256));
                    differences.push(match same.map(|at| extra.remove(at)) {
                        Some((to, _)) => Difference::Renamed { from: file.name.clone(), to: to.to_owned() },
                        None => Difference::Missing(file.name.clone()),
                    });
                }
            }
        }
        differences.extend(extra.into_iter().map(|(name, _)| Difference::Extra(name.to_owned())));
        differences
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn entry(name: &str, sha256: &str) -> ManifestEntry {
        ManifestEntry {
            name: name.to_owned(),
            bytes: 10,
            sha256: sha256.to_owned(),
            title: Some("Marrowick".into()),
            edition: Some("2026-1".into()),
            issued: Some("2026-03-01".parse().unwrap()),
            valid_until: Some("2026-10-01T00:00:00Z".parse().unwrap()),
            zones: 3,
            proofread_zones: 2,
            proofread_by: vec!["A. B.".into()],
        }
    }

    fn manifest() -> Manifest {
        Manifest::of("2026-06-03".parse().unwrap(), vec![entry("cove.json", "ab"), entry("bank.json", "cd")])
    }

    #[test]
    fn a_manifest_is_read_as_it_was_written() {
        let written = serde_json::to_vec(&manifest()).unwrap();
        assert_eq!(Manifest::read(&written).unwrap(), manifest());
        assert_eq!(manifest().files[0].name, "bank.json", "by name");
    }

    #[test]
    fn a_folder_is_held_to_its_manifest() {
        let found = |files: &[(&'static str, &'static str)]| manifest().differences(files.iter().copied());
        assert_eq!(found(&[("bank.json", "cd"), ("cove.json", "ab")]), []);
        assert_eq!(
            found(&[("bank.json", "00"), ("reef.json", "ef")]),
            [
                Difference::Changed("bank.json".into()),
                Difference::Missing("cove.json".into()),
                Difference::Extra("reef.json".into())
            ]
        );
        let renamed = Difference::Renamed { from: "cove.json".into(), to: "creek.json".into() };
        assert_eq!(found(&[("bank.json", "cd"), ("creek.json", "ab")]), [renamed]);
    }

    #[test]
    fn zones_are_no_manifest() {
        let zones = br#"{ "type": "FeatureCollection", "takeline": { "format": "takeline.zones/1" }, "features": [] }"#;
        assert!(matches!(Manifest::read(zones), Err(ManifestError::NotAManifest(_))));
        let later =
            br#"{ "takeline_manifest": "takeline.manifest/2", "written": "2026-06-03", "files": [] }"#;
        assert!(matches!(Manifest::read(later), Err(ManifestError::OtherForm(_))));
        let twice =
            Manifest::of("2026-06-03".parse().unwrap(), vec![entry("a.json", "1"), entry("a.json", "2")]);
        let twice = serde_json::to_vec(&twice).unwrap();
        assert!(matches!(Manifest::read(&twice), Err(ManifestError::Twice(_))));
    }
}
