//! What is told of zone files themselves.

mod list;
mod names;
mod show;

pub use list::{ListDocument, ListedFileDocument, ManifestDocument, list_text};
pub use names::{
    FileNamesDocument, FishNamesDocument, GroupNamesDocument, NameDocument, NamesDocument, names_text,
};
pub use show::{
    ArcDocument, BoxDocument, MOST_ZONES_ON_A_PAGE, ShowDocument, ShownCircleDocument, ShownFileDocument,
    ShownRingDocument, ShownSideDocument, ShownSourceDocument, ShownVertexDocument, ShownZoneDocument,
    show_page, show_text,
};
