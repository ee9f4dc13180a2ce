//! Where am I, what may I keep here: one document, and text, one line and JSON as views of it.

mod document;
mod fish_lines;
mod headline;
mod sections;
mod settling;
mod text;
mod ways;
#[cfg(test)]
mod ways_tests;

pub use document::{
    DisplacingDocument, FileDocument, HereDocument, MisreadingDocument, PositionDocument, SourceDocument,
    StandoffDocument, TakeDocument, WayHomeDocument, ZoneDocument,
};
pub use text::{here_brief, here_row_text, here_text};

pub(crate) use document::{answer_key, water_key};
pub(crate) use sections::{bear_in_mind, source};
pub(crate) use text::body;

pub(crate) use crate::words::answer;

#[cfg(test)]
mod document_tests;
#[cfg(test)]
mod first_lines_tests;
#[cfg(test)]
pub(crate) mod test_fixtures;
#[cfg(test)]
mod text_tests;
