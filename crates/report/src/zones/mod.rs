//! What is told of zone files themselves.

mod check;
#[cfg(test)]
mod check_tests;
mod check_words;
mod compare;
#[cfg(test)]
pub(crate) mod compare_codes_tests;
mod compare_line;
mod compare_page;
mod compare_picture;
#[cfg(test)]
mod compare_tests;
mod compare_text;
mod compare_words;
mod draft;
mod exported;
mod import;
mod list;
mod names;
mod show;

pub use check::{CheckDocument, CheckedFileDocument, FindingDocument, check_text};
pub use compare::{
    ChangedCircleDocument, ChangedFileDocument, ChangedZoneDocument, CompareDocument, DividedDocument,
    EditionFileDocument, MovedVertexDocument, RenamedDocument, RestatedDocument, RingDocument,
    VertexDocument, WholeZoneDocument,
};
pub use compare_page::compare_page;
pub use compare_text::compare_text;
pub use draft::{DraftDocument, DraftFindingDocument, DraftLineDocument, DraftQuestionDocument, draft_text};
pub use exported::{
    Exported, ExportedStandOff, effect_sentence, exported_text, left_open_sentence, line_doubt_sentence,
    not_law, outline_sentences, standoff_sentence,
};
pub use import::{
    ImportDocument, ImportInputDocument, ImportNoteDocument, OperationDocument, ReprojectedDocument,
    import_text,
};
pub use list::{ListDocument, ListedFileDocument, ManifestDocument, list_text};
pub use names::{
    FileNamesDocument, FishNamesDocument, GroupNamesDocument, NameDocument, NamesDocument, names_text,
};
pub use show::{
    ArcDocument, BoxDocument, MOST_ZONES_ON_A_PAGE, ShowDocument, ShownCircleDocument, ShownFileDocument,
    ShownRingDocument, ShownSideDocument, ShownSourceDocument, ShownVertexDocument, ShownZoneDocument,
    show_page, show_text,
};
