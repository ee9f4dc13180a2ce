//! Where was I: the audit of a track as text, as one line, as JSON, as GeoJSON and as rows of a table.

mod document;
mod features;
mod headline;
mod log_state;
mod report;
pub(crate) mod seam;
mod season;
mod table;
mod text;
mod verdict;
mod words;

pub use document::{
    CarriedDocument, CatchDocument, ClosestDocument, ConditionDocument, ContradictedDocument,
    CrossingDocument, GapDocument, InputDocument, MomentDocument, NoteDocument, OffTheWayDocument,
    OrderDocument, OutcomeDocument, QualityDocument, SettingsDocument, SpeedDocument, StopDocument,
    SuspectDocument, TrackDocument, VisitDocument, VisitSourceDocument, ZoneFileDocument, track_json,
};
pub use features::{track_features, track_geojson};
pub(crate) use log_state::order_sentences;
pub use report::{
    AuditInput, AuditReport, CarriedAnswer, CatchAnswer, InputKind, TRACK_LIMITS, TrackNote, TrimmedEnds,
};
pub use season::Season;
pub use table::{TRACK_CSV_COLUMNS, track_csv, track_csv_rows};
pub use text::{track_row_text, track_text};
pub use verdict::{track_exit_status, track_remarks, track_undecided_because};

#[cfg(test)]
mod document_tests;
#[cfg(test)]
mod features_tests;
#[cfg(test)]
mod test_fixtures;
#[cfg(test)]
mod text_tests;
pub(crate) use words::span;
