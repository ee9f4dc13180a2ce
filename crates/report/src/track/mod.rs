//! Where was I: the audit of a track as text, as one line, as JSON, as GeoJSON and as rows of a table.

mod assembly;
mod document;
mod features;
mod land_document;
mod report;
pub(crate) mod seam;
mod season;
mod table;
mod text;
pub(crate) mod times;
mod verdict;

pub use document::{
    CarriedDocument, CatchDocument, ClosestDocument, ConditionDocument, ContradictedDocument,
    CrossingDocument, GapDocument, InputDocument, MomentDocument, OutcomeDocument, QualityDocument, SaidCode,
    SettingsDocument, ShownPlace, SpeedDocument, StopDocument, SuspectDocument, TrackDocument, VisitDocument,
    VisitSourceDocument, ZoneFileDocument,
};
pub use features::{track_features, track_geojson};
pub use land_document::{CrossableDocument, OnLandDocument};
pub use report::{AuditInput, AuditReport, InputKind, TrackNote, TrimmedEnds};
pub use season::{Season, ZoneTally};
pub use table::{TRACK_CSV_COLUMNS, track_csv, track_csv_rows};
pub use text::{track_row_text, track_text};
pub use verdict::{Headline, Judged, MostlySuspect, Third, Unsettled, Verdict, VerdictReason};

#[cfg(test)]
mod document_tests;
#[cfg(test)]
mod features_tests;
#[cfg(test)]
pub(crate) mod test_fixtures;
#[cfg(test)]
mod text_tests;
