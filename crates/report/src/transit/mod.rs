//! Marks in line: one line, a search for pairs, fixes on a line and lines that cross, as text, JSON, GeoJSON, GPX, and as a
//! card with a sketch.

mod calibration;
mod card;
mod crossed;
mod document;
mod found;
mod headline;
mod map_data;
mod parts;
mod phrases;
mod text;

pub use calibration::{CalibrationDocument, transit_calibrate_text};
pub use card::{CardError, CardInput, transit_card, transit_sketch_svg, transit_sketch_text};
pub use crossed::{
    CrossDocument, CrossReport, CrossTakeDocument, LineOfPositionDocument, PositionUnsettled,
    transit_cross_text,
};
pub use document::{
    LinePointDocument, OpensDocument, TransitDocument, WaterDocument, WorkingAreaDocument, WorstDocument,
    ZoneOnLineDocument,
};
pub use found::{
    FindDocument, FoundPairDocument, FoundSideDocument, FoundZoneDocument, PairScoreDocument,
    transit_find_text,
};
pub use map_data::{transit_geojson, transit_gpx};
pub use parts::{EyeDocument, ProblemDocument};
pub use text::transit_text;

#[cfg(test)]
mod calibration_tests;
#[cfg(test)]
mod crossed_tests;
#[cfg(test)]
mod document_tests;
#[cfg(test)]
mod found_tests;
#[cfg(test)]
mod language_tests;
#[cfg(test)]
mod map_data_tests;
#[cfg(test)]
pub(crate) mod test_fixtures;
#[cfg(test)]
mod text_tests;
#[cfg(test)]
mod units_tests;
