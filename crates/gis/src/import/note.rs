//! What has to be said of a source that was imported.

use std::collections::BTreeMap;

/// Something that a reader of the new zone file has to know.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Note {
    /// What sort of note it is.
    pub kind: NoteKind,
    /// Where in the source; empty for the whole.
    pub place: String,
    /// What it is.
    pub text: String,
}

/// Sorts of notes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum NoteKind {
    /// The zone file needs it, and the source does not say it.
    FillIn,
    /// It came over otherwise than it was.
    Changed,
    /// It did not come over.
    Lost,
    /// What the reader of zone files says of the new file.
    Warning,
}

/// Notes as they come up.
#[derive(Debug, Default)]
pub(super) struct Notes {
    notes: Vec<Note>,
    /// What is only counted: the words after the count.
    counted: BTreeMap<&'static str, usize>,
}

impl Notes {
    pub(super) fn add(&mut self, kind: NoteKind, place: &str, text: impl Into<String>) {
        self.notes.push(Note { kind, place: place.to_owned(), text: text.into() });
    }

    pub(super) fn changed(&mut self, place: &str, text: impl Into<String>) {
        self.add(NoteKind::Changed, place, text);
    }

    pub(super) fn lost(&mut self, place: &str, text: impl Into<String>) {
        self.add(NoteKind::Lost, place, text);
    }

    /// Counts something that is lost; `what` follows the count: "heights".
    pub(super) fn count_lost(&mut self, what: &'static str, count: usize) {
        if count > 0 {
            *self.counted.entry(what).or_default() += count;
        }
    }

    /// All notes: what must be filled in first, then what was changed, then what was lost.
    pub(super) fn in_order(mut self) -> Vec<Note> {
        let counted = self.counted.iter().map(|(what, count)| Note {
            kind: NoteKind::Lost,
            place: String::new(),
            text: format!("{what}: {count}"),
        });
        self.notes.extend(counted);
        self.notes.sort_by_key(|note| note.kind); // stable
        self.notes
    }
}
