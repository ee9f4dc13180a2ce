//! What was found in zone files: as a document, schema `takeline.zones-check/1`, and as text.

use std::collections::HashMap;

use serde::Serialize;
use takeline_drafting::check::{Checked, Finding, Severity, Spot};

use super::check_words::{repair, repair_code, text};
use crate::ExitStatus;
use crate::lines::Page;

/// What was found in zone files, schema `takeline.zones-check/1`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CheckDocument {
    /// Names the form.
    pub schema: &'static str,
    /// The files.
    pub files: Vec<CheckedFileDocument>,
    /// What was found, file by file, the gravest first.
    pub findings: Vec<FindingDocument>,
    /// 0 nothing above a note, 1 warnings, 3 errors.
    pub exit_status: ExitStatus,
}

/// A file that was checked.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CheckedFileDocument {
    /// Where it was read from.
    pub path: String,
    /// `zones` or `manifest`.
    pub what: &'static str,
    /// How many zones it has; none if it was refused, and of a manifest.
    pub zones: Option<usize>,
    /// How many errors were found.
    pub errors: usize,
    /// How many warnings were found.
    pub warnings: usize,
    /// How many notes were found.
    pub notes: usize,
}

/// One finding.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct FindingDocument {
    /// Its stable code.
    pub code: &'static str,
    /// `error`, `warning` or `note`.
    pub severity: &'static str,
    /// The file.
    pub path: String,
    /// The zone.
    pub zone_id: Option<String>,
    /// The number of its feature in the file, from 1.
    pub feature: Option<usize>,
    /// The member of the file.
    pub member: Vec<String>,
    /// The polygon of a multipolygon, from 1.
    pub part: Option<usize>,
    /// The ring, from 1.
    pub ring: Option<usize>,
    /// The vertex, from 1.
    pub vertex: Option<usize>,
    /// The line in the file, from 1.
    pub line: Option<usize>,
    /// The column, where the text is not JSON.
    pub column: Option<usize>,
    /// What was found.
    pub text: String,
    /// What would mend it.
    pub repairs: Vec<String>,
    /// Codes of the repairs, in step with them.
    pub repair_codes: Vec<&'static str>,
}

impl CheckDocument {
    /// Draws up what was found in files, each by its path.
    #[must_use]
    pub fn of(files: &[(String, Checked)]) -> Self {
        let findings: Vec<FindingDocument> = files
            .iter()
            .flat_map(|(path, checked)| checked.findings.iter().map(|found| FindingDocument::of(path, found)))
            .collect();
        let worst = files.iter().flat_map(|(_, checked)| &checked.findings).map(|found| found.severity).max();
        let exit_status = match worst {
            Some(Severity::Error) => ExitStatus::Undecided,
            Some(Severity::Warning) => ExitStatus::Restricted,
            Some(Severity::Note) | None => ExitStatus::Unrestricted,
        };
        let files = files.iter().map(|(path, checked)| CheckedFileDocument {
            path: path.clone(),
            what: if checked.is_manifest { "manifest" } else { "zones" },
            zones: checked.zones,
            errors: checked.count(Severity::Error),
            warnings: checked.count(Severity::Warning),
            notes: checked.count(Severity::Note),
        });
        Self { schema: "takeline.zones-check/1", files: files.collect(), findings, exit_status }
    }
}

impl FindingDocument {
    fn of(path: &str, found: &Finding) -> Self {
        let Spot { feature, zone_id, member, part, ring, vertex, line, column } = found.spot.clone();
        Self {
            code: found.kind.code(),
            severity: found.severity.word(),
            path: path.to_owned(),
            zone_id,
            feature,
            member,
            part,
            ring,
            vertex,
            line,
            column,
            text: text(found),
            repairs: found.repairs.iter().map(repair).collect(),
            repair_codes: found.repairs.iter().map(repair_code).collect(),
        }
    }

    /// Where it is, for people: `sallow-cove, ring 1, vertex 3, line 12`.
    fn place(&self) -> String {
        let zone = self.zone_id.clone().or_else(|| self.feature.map(|number| format!("feature {number}")));
        let numbered = |name: &str, number: Option<usize>| number.map(|number| format!("{name} {number}"));
        // of a vertex everybody knows in which member it is
        let member = (!self.member.is_empty() && self.vertex.is_none()).then(|| self.member.join(" > "));
        let words = [
            zone,
            member,
            numbered("part", self.part),
            // of a ring by itself people do not speak
            numbered("ring", self.ring.filter(|ring| *ring > 1)),
            numbered("vertex", self.vertex),
            numbered("line", self.line),
            numbered("column", self.column),
        ];
        words.into_iter().flatten().collect::<Vec<_>>().join(", ")
    }
}

/// What was found, as text: the verdict, then each finding with its place and what would mend it.
#[must_use]
pub fn check_text(document: &CheckDocument, width: usize) -> String {
    let mut page = Page::new(width);
    let sum = |of: fn(&CheckedFileDocument) -> usize| document.files.iter().map(of).sum::<usize>();
    let (errors, warnings, notes) =
        (sum(|file| file.errors), sum(|file| file.warnings), sum(|file| file.notes));
    page.paragraph("", &verdict(errors, warnings, notes));
    for file in &document.files {
        let what = match (file.zones, file.what) {
            (Some(zones), _) => counted(zones, "zone"),
            (None, "manifest") => "what belongs in this folder".to_owned(),
            (None, _) => "refused".to_owned(),
        };
        page.heading(&format!("{} ({what})", file.path));
        let of_file: Vec<&FindingDocument> =
            document.findings.iter().filter(|found| found.path == file.path).collect();
        for alike in alike(&of_file) {
            one(&alike, &mut page);
        }
        if of_file.is_empty() {
            page.paragraph("  ", "nothing found");
        }
    }
    page.finish()
}

/// Findings that say the same of several places, each list where its first one stands.
fn alike<'d>(findings: &[&'d FindingDocument]) -> Vec<Vec<&'d FindingDocument>> {
    let mut places: HashMap<(&str, &str, &[String]), usize> = HashMap::new();
    let mut lists: Vec<Vec<&FindingDocument>> = Vec::new();
    for found in findings.iter().copied() {
        let place = *places.entry((found.code, &found.text, &found.repairs)).or_insert_with(|| {
            lists.push(Vec::new());
            lists.len() - 1
        });
        lists[place].push(found);
    }
    lists
}

fn one(alike: &[&FindingDocument], page: &mut Page) {
    const SHOWN: usize = 4;
    let Some(found) = alike.first() else { return };
    let place = |found: &&FindingDocument| {
        let place = found.place();
        if place.is_empty() { "the whole file".to_owned() } else { place }
    };
    let rest = alike.len().saturating_sub(SHOWN);
    let more = if rest > 0 { format!("; and {rest} more") } else { String::new() };
    let places: Vec<String> = alike.iter().take(SHOWN).map(place).collect();
    page.paragraph(
        "  ",
        &format!("{} {}: {}{more}", found.severity.to_uppercase(), found.code, places.join("; ")),
    );
    page.paragraph("    ", &found.text);
    for repair in &found.repairs {
        page.paragraph("    ", &format!("perhaps: {repair}"));
    }
}

/// What comes of it, in the first line.
fn verdict(errors: usize, warnings: usize, notes: usize) -> String {
    let notes_too = if notes > 0 { format!(", {}", counted(notes, "note")) } else { String::new() };
    match (errors, warnings) {
        (0, 0) => {
            format!("NOTHING WRONG FOUND{notes_too}. That is not proof: read it back with the law beside")
        }
        (0, _) => format!(
            "{}{notes_too}: COMPARE THESE PLACES WITH THE LAW before you rely on it",
            counted(warnings, "warning")
        ),
        (_, 0) => format!("{}{notes_too}: MEND THIS FIRST", counted(errors, "error")),
        (_, _) => format!(
            "{}, {}{notes_too}: MEND THIS FIRST",
            counted(errors, "error"),
            counted(warnings, "warning")
        ),
    }
}

pub(super) fn counted(count: usize, noun: &str) -> String {
    if count == 1 { format!("1 {noun}") } else { format!("{count} {noun}s") }
}
