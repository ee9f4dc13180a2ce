//! Marks in line: one line, a search for pairs, fixes on a line and lines that cross, as text, JSON, GeoJSON, GPX, and as a
//! card with a sketch.

mod calibration_document;
mod calibration_text;
mod card;
mod compass;
mod crossed_document;
mod crossed_text;
mod document;
mod exit;
mod features;
mod found_document;
mod found_text;
mod headline;
mod parts;
mod sentence;
mod text;
mod waypoints;
mod words;
mod zone_document;

pub use calibration_document::{
    CalibrationDocument, LineOffsetDocument, MarkErrorDocument, transit_calibrate_json,
};
pub use calibration_text::transit_calibrate_text;
pub use card::{CardError, CardInput, transit_card, transit_sketch_svg, transit_sketch_text};
pub use crossed_document::{
    CrossDocument, CrossTakeDocument, EllipseDocument, LineOfPositionDocument, transit_cross_json,
};
pub use crossed_text::{CrossReport, transit_cross_text};
pub use document::{OpensDocument, TransitDocument, WorkingAreaDocument, WorstDocument, transit_json};
pub use exit::{
    transit_calibrate_exit_status, transit_cross_exit_status, transit_exit_status, transit_find_exit_status,
};
pub use features::transit_geojson;
pub use found_document::{
    FindDocument, FoundPairDocument, FoundSideDocument, FoundZoneDocument, PairScoreDocument,
    transit_find_json,
};
pub use found_text::{FindReport, transit_find_text};
pub use parts::{DriftDocument, EyeDocument, MarkDocument, PlaceDocument, ProblemDocument};
pub use sentence::transit_sentence;
pub use text::{TRANSIT_LIMITS, transit_text};
pub use waypoints::transit_gpx;
pub use zone_document::{
    LinePointDocument, MeetingDocument, SensitivityDocument, WaterDocument, ZoneOnLineDocument,
};

#[cfg(test)]
mod calibration_text_tests;
#[cfg(test)]
mod crossed_text_tests;
#[cfg(test)]
mod document_tests;
#[cfg(test)]
mod features_tests;
#[cfg(test)]
mod found_text_tests;
#[cfg(test)]
mod test_fixtures;
#[cfg(test)]
mod text_tests;
#[cfg(test)]
mod waypoints_tests;
