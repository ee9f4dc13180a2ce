//! What is told of zone files themselves.

mod exported;
mod names;

pub use exported::{Exported, exported_text, left_open_sentence, standoff_sentence};
mod import;
mod names;

pub use import::{
    ImportDocument, ImportInputDocument, ImportNoteDocument, OperationDocument, ReprojectedDocument,
    import_text,
};
pub use names::{
    FileNamesDocument, FishNamesDocument, GroupNamesDocument, NameDocument, NamesDocument, names_text,
};
