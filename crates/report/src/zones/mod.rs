//! What is told of zone files themselves.

mod compare;
mod compare_page;
mod compare_picture;
#[cfg(test)]
mod compare_tests;
mod compare_text;
mod compare_words;
mod names;

pub use compare::{
    ChangedFileDocument, ChangedZoneDocument, CompareDocument, DividedDocument, EditionFileDocument,
    MovedVertexDocument, RenamedDocument, VertexDocument, WholeZoneDocument,
};
pub use compare_page::compare_page;
pub use compare_text::compare_text;
pub use names::{
    FileNamesDocument, FishNamesDocument, GroupNamesDocument, NameDocument, NamesDocument, names_text,
};
