//! What is told of zone files themselves.

mod draft;
mod names;

pub use draft::{DraftDocument, DraftFindingDocument, DraftLineDocument, DraftQuestionDocument, draft_text};
pub use names::{
    FileNamesDocument, FishNamesDocument, GroupNamesDocument, NameDocument, NamesDocument, names_text,
};
