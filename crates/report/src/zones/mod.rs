//! What is told of zone files themselves.

mod draft;
mod exported;
mod import;
mod list;
mod check;
#[cfg(test)]
mod check_tests;
mod check_words;
mod names;
mod show;

pub use exported::{Exported, exported_text, left_open_sentence, standoff_sentence};
pub use import::{
    ImportDocument, ImportInputDocument, ImportNoteDocument, OperationDocument, ReprojectedDocument,
    import_text,
};
pub use list::{ListDocument, ListedFileDocument, ManifestDocument, list_text};
pub use draft::{DraftDocument, DraftFindingDocument, DraftLineDocument, DraftQuestionDocument, draft_text};
pub use check::{CheckDocument, CheckedFileDocument, FindingDocument, check_text};
pub use names::{
    FileNamesDocument, FishNamesDocument, GroupNamesDocument, NameDocument, NamesDocument, names_text,
};
pub use show::{
    ArcDocument, BoxDocument, MOST_ZONES_ON_A_PAGE, ShowDocument, ShownCircleDocument, ShownFileDocument,
    ShownRingDocument, ShownSideDocument, ShownSourceDocument, ShownVertexDocument, ShownZoneDocument,
    show_page, show_text,
};
