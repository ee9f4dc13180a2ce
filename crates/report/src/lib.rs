//! Takeline answers as text, JSON, GeoJSON, GPX and HTML.
//!
//! Core values in, strings and serialisable documents out. The documents live here; what they hold of the core, such as reasons,
//! limits and counts, serialises itself there. Tests of the keys hold the JSON to its contract, wherever it is written.

mod cautions;
mod coast_document;
mod drawing;
mod exit_status;
mod figures;
#[cfg(test)]
mod figures_tests;
mod here;
mod html_page;
mod lines;
mod survey_figures;
mod track;
mod track_page;
mod transit;
pub mod words;
mod written;
mod zones;

pub use cautions::{CAUTIONS, TRANSIT_LIMITS};
pub use coast_document::CoastDocument;
pub use exit_status::{ExitStatus, exit_status};
pub use figures::Units;
pub use here::{
    DisplacingDocument, FileDocument, HereDocument, MisreadingDocument, PositionDocument, SourceDocument,
    StandoffDocument, TakeDocument, WayHomeDocument, ZoneDocument, here_brief, here_row_text, here_text,
};
pub use survey_figures::Notation;
pub use track::{
    AuditInput, AuditReport, CarriedDocument, CatchDocument, ClosestDocument, ConditionDocument,
    ContradictedDocument, CrossableDocument, CrossingDocument, GapDocument, Headline, InputDocument,
    InputKind, Judged, MomentDocument, MostlySuspect, OnLandDocument, OutcomeDocument, QualityDocument,
    SaidCode, Season, SettingsDocument, ShownPlace, SpeedDocument, StopDocument, SuspectDocument,
    TRACK_CSV_COLUMNS, Third, TrackDocument, TrackNote, TrimmedEnds, Unsettled, Verdict, VerdictReason,
    VisitDocument, VisitSourceDocument, ZoneFileDocument, ZoneTally, track_csv, track_csv_rows,
    track_features, track_geojson, track_row_text, track_text,
};
pub use track_page::{Backdrop, BackdropError, IndexRow, PageError, track_page, track_page_over, trip_index};
pub use transit::{
    CalibrationDocument, CardError, CardInput, CrossDocument, CrossReport, CrossTakeDocument, EyeDocument,
    FindDocument, FoundPairDocument, FoundSideDocument, FoundZoneDocument, LineOfPositionDocument,
    LinePointDocument, OpensDocument, PairScoreDocument, PositionUnsettled, ProblemDocument, TransitDocument,
    WaterDocument, WorkingAreaDocument, WorstDocument, ZoneOnLineDocument, transit_calibrate_text,
    transit_card, transit_cross_text, transit_find_text, transit_geojson, transit_gpx, transit_sketch_svg,
    transit_sketch_text, transit_text,
};
pub use written::{json_line, json_page};
pub use zones::{
    ArcDocument, BoxDocument, MOST_ZONES_ON_A_PAGE, ShowDocument, ShownCircleDocument, ShownFileDocument,
    ShownRingDocument, ShownSideDocument, ShownSourceDocument, ShownVertexDocument, ShownZoneDocument,
    show_page, show_text,
};
pub use zones::{
    ChangedCircleDocument, ChangedFileDocument, ChangedZoneDocument, CompareDocument, DividedDocument,
    EditionFileDocument, MovedVertexDocument, RenamedDocument, RestatedDocument, RingDocument,
    VertexDocument, WholeZoneDocument, compare_page, compare_text,
};
pub use zones::{CheckDocument, CheckedFileDocument, FindingDocument, check_text};
pub use zones::{
    DraftDocument, DraftFindingDocument, DraftLineDocument, DraftQuestionDocument, FileNamesDocument,
    FishNamesDocument, GroupNamesDocument, NameDocument, NamesDocument, draft_text, names_text,
};
pub use zones::{
    Exported, ExportedStandOff, effect_sentence, exported_text, left_open_sentence, line_doubt_sentence,
    not_law, outline_sentences, standoff_sentence,
};
pub use zones::{
    ImportDocument, ImportInputDocument, ImportNoteDocument, OperationDocument, ReprojectedDocument,
    import_text,
};
pub use zones::{ListDocument, ListedFileDocument, ManifestDocument, list_text};
