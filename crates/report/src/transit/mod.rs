//! Marks in line: one line, a search for pairs, fixes on a line and lines that cross, as text, JSON, GeoJSON, GPX, and as a
//! card with a sketch.

mod calibration_document;
mod calibration_text;
mod card;
mod compass;
mod crossed_document;
mod crossed_text;
mod document;
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

pub use calibration_document::CalibrationDocument;
pub use calibration_text::transit_calibrate_text;
pub use card::{CardError, CardInput, transit_card, transit_sketch_svg, transit_sketch_text};
pub use crossed_document::{CrossDocument, CrossReport, CrossTakeDocument, LineOfPositionDocument};
pub use crossed_text::transit_cross_text;
pub use document::{OpensDocument, TransitDocument, WorkingAreaDocument, WorstDocument};
pub use features::transit_geojson;
pub use found_document::{
    FindDocument, FoundPairDocument, FoundSideDocument, FoundZoneDocument, PairScoreDocument,
};
pub use found_text::transit_find_text;
pub use parts::{EyeDocument, ProblemDocument};
pub use text::{TRANSIT_LIMITS, transit_text};
pub use waypoints::transit_gpx;
pub use zone_document::{LinePointDocument, WaterDocument, ZoneOnLineDocument};

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
pub(crate) mod test_fixtures;
#[cfg(test)]
mod text_tests;
#[cfg(test)]
mod waypoints_tests;
