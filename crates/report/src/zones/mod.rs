//! What is told of zone files themselves.

mod names;

pub use names::{
    FileNamesDocument, FishNamesDocument, GroupNamesDocument, NameDocument, NamesDocument, names_text,
};
