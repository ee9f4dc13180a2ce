//! Where was I: the audit of a track as text, as one line, as JSON, as GeoJSON and as rows of a table.

mod assembly;
mod document;
mod features;
mod keys;
mod log_state;
mod report;
pub(crate) mod seam;
mod season;
mod table;
mod text;
mod verdict;

pub use document::{
    CatchDocument, ClosestDocument, ConditionDocument, ContradictedDocument, CrossingDocument, GapDocument,
    InputDocument, MomentDocument, OffTheWayDocument, OrderDocument, OutcomeDocument, QualityDocument,
    SettingsDocument, ShownPlace, SpeedDocument, StopDocument, SuspectDocument, TrackDocument, VisitDocument,
    VisitSourceDocument, ZoneFileDocument,
};
pub use features::{track_features, track_geojson};
pub(crate) use log_state::MostlySuspect;
pub use report::{AuditInput, AuditReport, CarriedAnswer, CatchAnswer, InputKind, TrackNote, TrimmedEnds};
pub use season::Season;
pub use table::{TRACK_CSV_COLUMNS, track_csv, track_csv_rows};
pub use text::{track_row_text, track_text};
pub(crate) use verdict::{Headline, Third, Verdict};

#[cfg(test)]
mod document_tests;
#[cfg(test)]
mod features_tests;
#[cfg(test)]
mod test_fixtures;
#[cfg(test)]
mod text_tests;
