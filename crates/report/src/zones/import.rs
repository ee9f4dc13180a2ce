//! What came over of a file of a geographic information system, and what did not.

use serde::Serialize;

use crate::lines::Page;

/// What `takeline zones import` did, schema `takeline.zones-import/1`.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ImportDocument {
    /// Names the form.
    pub schema: &'static str,
    /// The file that was imported.
    pub input: ImportInputDocument,
    /// The zone file that was written.
    pub out: String,
    /// How many zones it has.
    pub zones: usize,
    /// The datum that it names; none: nobody states one.
    pub datum: Option<String>,
    /// How positions were brought to WGS 84; none: they are as they were.
    pub reprojected: Option<ReprojectedDocument>,
    /// What has to be filled in before the file can be trusted.
    pub fill_in: Vec<ImportNoteDocument>,
    /// What is otherwise than it was.
    pub changed: Vec<ImportNoteDocument>,
    /// What did not come over.
    pub lost: Vec<ImportNoteDocument>,
    /// What the reader of zone files warns of.
    pub warnings: Vec<ImportNoteDocument>,
    /// 0 nothing to look at, 1 something needs eyes.
    pub exit_status: u8,
}

/// The file that was imported.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ImportInputDocument {
    /// Its path.
    pub path: String,
    /// What it is.
    pub format: &'static str,
    /// How many features it has.
    pub features: usize,
}

/// How positions were brought to WGS 84.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ReprojectedDocument {
    /// The coordinate system of the source.
    pub from: String,
    /// The operations that were used.
    pub operations: Vec<OperationDocument>,
}

/// One operation.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OperationDocument {
    /// What its registry calls it.
    pub name: String,
    /// The accuracy that the registry states, in metres.
    pub stated_accuracy_m: f64,
}

/// One thing to know.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ImportNoteDocument {
    /// Where in the source; none for the whole.
    pub place: Option<String>,
    /// What it is.
    pub text: String,
}

/// The most notes of a sort that people are shown; JSON has them all.
const MOST_SHOWN: usize = 20;

/// Writes it for people: the first lines say how much came over and how much needs eyes.
#[must_use]
pub fn import_text(document: &ImportDocument, width: usize) -> String {
    let mut page = Page::new(width);
    let ImportInputDocument { path, format, features } = &document.input;
    page.heading(&format!("{} came over: {}", counted(document.zones, "zone", "zones"), summary(document)));
    page.paragraph("  ", &format!("Written to {}", document.out));
    page.paragraph("  ", &format!("From {path}"));
    page.paragraph(
        "  ",
        &format!("{format}, {}, {}", counted(*features, "feature", "features"), datum(document)),
    );
    if let Some(by) = &document.reprojected {
        page.paragraph("  ", &format!("Positions brought from {} to WGS 84 by", by.from));
        for operation in &by.operations {
            page.paragraph(
                "    ",
                &format!("{}, accuracy stated: {} m", operation.name, operation.stated_accuracy_m),
            );
        }
    }
    notes(&mut page, "To fill in before you trust it", &document.fill_in);
    notes(&mut page, "Changed", &document.changed);
    notes(&mut page, "Lost", &document.lost);
    notes(&mut page, "Warnings about the new file", &document.warnings);
    page.finish()
}

fn summary(document: &ImportDocument) -> String {
    let of = |count: usize, what: &str| {
        if count == 0 { format!("nothing {what}") } else { format!("{count} {what}") }
    };
    format!(
        "{}, {}, {}",
        of(document.fill_in.len(), "to fill in"),
        of(document.changed.len(), "changed"),
        of(document.lost.len(), "lost")
    )
}

fn datum(document: &ImportDocument) -> String {
    document.datum.as_ref().map_or_else(|| "datum not stated".into(), |datum| format!("datum {datum}"))
}

fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

fn notes(page: &mut Page, heading: &str, notes: &[ImportNoteDocument]) {
    if notes.is_empty() {
        return;
    }
    page.paragraph("", heading);
    for note in notes.iter().take(MOST_SHOWN) {
        let place = note.place.as_ref().map_or_else(String::new, |place| format!("{place}: "));
        page.paragraph("  ", &format!("{place}{}", note.text));
    }
    if let Some(more) = notes.len().checked_sub(MOST_SHOWN).filter(|more| *more > 0) {
        page.paragraph("  ", &format!("and {more} more; --format json lists them all"));
    }
}
