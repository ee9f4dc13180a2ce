//! Which zone files are loaded from where, and what is known of each.

use std::collections::HashSet;

use jiff::{SignedDuration, Timestamp};
use serde::Serialize;
use takeline_drafting::catalogue::{Difference, ManifestEntry};

use super::check::counted as number_of;
use crate::lines::Page;
use crate::track::times::{counted, utc_spaced};

/// How long before an edition runs out one is told, as in `here`.
const RUNS_OUT_SOON: SignedDuration = SignedDuration::from_hours(30 * 24);
/// The code of a file that was written down and is not there.
const MISSING: &str = "manifest-missing";
/// Digits of a digest that tell files apart.
const SHORT_DIGEST: usize = 12;

/// The files, schema `takeline.zones-list/1`.
#[derive(Debug, Clone, Serialize)]
pub struct ListDocument {
    /// Names the form.
    pub schema: &'static str,
    /// Where the paths come from: `given`, `TAKELINE_ZONES` or `config-folder`.
    pub from: &'static str,
    /// The files, in the order in which they are read.
    pub files: Vec<ListedFileDocument>,
    /// The manifests of the folders.
    pub manifests: Vec<ManifestDocument>,
}

/// One file.
#[derive(Debug, Clone, Serialize)]
pub struct ListedFileDocument {
    /// Where it is.
    pub path: String,
    /// What is known of it; null where it is refused.
    pub file: Option<ManifestEntry>,
    /// How many things are odd about it.
    pub warnings: usize,
    /// `good`, `runs-out` within 30 days, `ran-out` or `not-stated`.
    pub validity: &'static str,
    /// Why it cannot be loaded, or null.
    pub refused: Option<String>,
}

/// A manifest, and how its folder differs from it.
#[derive(Debug, Clone, Serialize)]
pub struct ManifestDocument {
    /// Where it is.
    pub path: String,
    /// How the folder differs, in words.
    pub differences: Vec<String>,
    /// The codes of the differences, in step with them.
    pub difference_codes: Vec<&'static str>,
    /// The names of the files that they are about, in step with them.
    pub difference_files: Vec<String>,
}

impl ListedFileDocument {
    /// A file that can be loaded.
    #[must_use]
    pub fn read(path: String, file: ManifestEntry, warnings: usize, now: Timestamp) -> Self {
        let validity = match file.valid_until {
            None => "not-stated",
            Some(until) if now >= until => "ran-out",
            Some(until) if until.duration_since(now) <= RUNS_OUT_SOON => "runs-out",
            Some(_) => "good",
        };
        Self { path, file: Some(file), warnings, validity, refused: None }
    }

    /// A file that cannot.
    #[must_use]
    pub const fn refused(path: String, why: String) -> Self {
        Self { path, file: None, warnings: 0, validity: "not-stated", refused: Some(why) }
    }
}

impl ManifestDocument {
    /// How a folder differs from the manifest at this path.
    #[must_use]
    pub fn of(path: String, differences: &[Difference]) -> Self {
        Self {
            path,
            differences: differences.iter().map(difference_words).collect(),
            difference_codes: differences.iter().map(Difference::code).collect(),
            difference_files: differences.iter().map(|difference| difference.name().to_owned()).collect(),
        }
    }
}

/// How a folder differs from its manifest, as a sentence without a capital.
pub(super) fn difference_words(difference: &Difference) -> String {
    match difference {
        Difference::Changed(name) => {
            format!("{name} is not the file that was written down: it was changed or replaced")
        }
        Difference::Missing(name) => {
            format!(
                "{name} was written down and is missing: no command answers from this folder until it is back, or the manifest is written again"
            )
        }
        Difference::Renamed { from, to } => format!("{from} bears the name {to} now; it is the same file"),
        Difference::Extra(name) => format!("{name} was not written down"),
    }
}

/// The files as text.
#[must_use]
pub fn list_text(document: &ListDocument, width: usize) -> String {
    let mut page = Page::new(width);
    page.paragraph("", &headline(document));
    let mut read_before = HashSet::new();
    for one in &document.files {
        page.heading(&one.path);
        match (&one.file, &one.refused) {
            (Some(file), _) => {
                if !read_before.insert(&file.sha256) {
                    page.field("NOTE", "the same file stands above; it counts once");
                }
                file_lines(&mut page, file, one);
            }
            (None, why) => page.field("REFUSED", why.as_deref().unwrap_or("it cannot be read")),
        }
    }
    for manifest in &document.manifests {
        page.heading(&manifest.path);
        if manifest.differences.is_empty() {
            page.paragraph("  ", "The folder is as it was written down.");
        }
        page.fields("WARNING", &manifest.differences);
    }
    page.finish()
}

/// How much is loaded, or why nothing is: what many read alone.
fn headline(document: &ListDocument) -> String {
    let mut read_before = HashSet::new();
    let read = document.files.iter().filter_map(|one| one.file.as_ref());
    let (mut zones, mut copies) = (0, 0);
    for file in read {
        if read_before.insert(&file.sha256) {
            zones += file.zones;
        } else {
            copies += 1;
        }
    }
    let refused = document.files.iter().filter(|one| one.file.is_none()).count();
    let codes = || document.manifests.iter().flat_map(|manifest| &manifest.difference_codes);
    let missing = codes().filter(|code| **code == MISSING).count();
    let mut stops = Vec::new();
    if refused > 0 {
        stops.push(format!("{} REFUSED", number_of(refused, "file")));
    }
    if missing > 0 {
        stops.push(format!("{} MISSING", number_of(missing, "file")));
    }
    if !stops.is_empty() {
        return format!("{}: NO ZONE IS USED until this is mended", stops.join(", "));
    }
    let differs = if codes().next().is_some() { ". NOT AS THE MANIFEST SAYS: look below" } else { "" };
    let twice = if copies > 0 { format!(" ({copies} of them read before)") } else { String::new() };
    format!(
        "ZONE FILES: {} in {}{twice}, {}{differs}",
        number_of(zones, "zone"),
        number_of(document.files.len(), "file"),
        from_words(document.from)
    )
}

fn from_words(from: &str) -> String {
    match from {
        "given" => "as given".to_owned(),
        "config-folder" => "from your config folder".to_owned(),
        other => format!("from {other}"),
    }
}

fn file_lines(page: &mut Page, file: &ManifestEntry, one: &ListedFileDocument) {
    if let Some(title) = &file.title {
        page.field("title", title);
    }
    page.field("edition", file.edition.as_deref().unwrap_or("not stated"));
    if let Some(issued) = file.issued {
        page.field("issued", &issued.to_string());
    }
    let until = file.valid_until.map_or_else(|| "not stated".to_owned(), utc_spaced);
    let remark = match one.validity {
        "ran-out" => ": IT HAS RUN OUT; get the current one",
        "runs-out" => ": runs out within 30 days; look for the next one",
        _ => "",
    };
    page.field("valid until", &format!("{until}{remark}"));
    page.field("zones", &file.zones.to_string());
    let proofread = match (file.proofread_zones, file.proofread_by.as_slice()) {
        (0, _) => "none of them".to_owned(),
        (count, by) => format!("{count} of {}, by {}", file.zones, by.join(", ")),
    };
    page.field("proofread", &proofread);
    if one.warnings > 0 {
        page.field("warnings", &one.warnings.to_string());
    }
    let digits: String = file.sha256.chars().take(SHORT_DIGEST).collect();
    page.field("sha256", &format!("{digits}, {}", counted(file.bytes, "byte", "bytes")));
}
