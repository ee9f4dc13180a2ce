//! A zone file read back to the eye, to be laid beside the law's own page.

mod document;
mod map;
mod page;
mod sentences;
#[cfg(test)]
mod show_tests;
mod text;

pub use document::{
    ArcDocument, BoxDocument, ShowDocument, ShownCircleDocument, ShownFileDocument, ShownRingDocument,
    ShownSideDocument, ShownSourceDocument, ShownVertexDocument, ShownZoneDocument,
};
pub use page::{MOST_ZONES_ON_A_PAGE, show_page};
pub use text::show_text;
