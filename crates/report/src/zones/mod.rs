//! What is told of zone files themselves.

mod check;
#[cfg(test)]
mod check_tests;
mod check_words;
mod names;

pub use check::{CheckDocument, CheckedFileDocument, FindingDocument, check_text};
pub use names::{
    FileNamesDocument, FishNamesDocument, GroupNamesDocument, NameDocument, NamesDocument, names_text,
};
