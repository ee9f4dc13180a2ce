//! What is told of zone files themselves.

mod import;
mod names;

pub use import::{
    ImportDocument, ImportInputDocument, ImportNoteDocument, OperationDocument, ReprojectedDocument,
    import_text,
};
pub use names::{
    FileNamesDocument, FishNamesDocument, GroupNamesDocument, NameDocument, NamesDocument, names_text,
};
