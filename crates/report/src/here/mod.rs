//! Where am I, what may I keep here: the answer as text, as one line, and as JSON.

mod deciding;
mod document;
mod headline;
mod text;

pub use document::{
    DisplacingDocument, FileDocument, HereDocument, MisreadingDocument, NearestDocument, PositionDocument,
    SettlingMoveDocument, SourceDocument, StandoffDocument, TakeDocument, ZoneDocument, here_json,
};
pub use headline::take_answer_word;
pub use text::{TextOptions, here_row_text, here_text};

pub(crate) use deciding::deciding_zone;
pub(crate) use document::{answer_key, water_key};
pub(crate) use headline::{measure, verdict};
pub(crate) use text::{answer, bear_in_mind, body, source};

#[cfg(test)]
mod document_tests;
#[cfg(test)]
pub(crate) mod test_fixtures;
#[cfg(test)]
mod text_tests;
