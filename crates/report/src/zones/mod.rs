//! What is told of zone files themselves.

mod exported;
mod names;

pub use exported::{Exported, exported_text, left_open_sentence, standoff_sentence};
pub use names::{
    FileNamesDocument, FishNamesDocument, GroupNamesDocument, NameDocument, NamesDocument, names_text,
};
