//! Marks in line: do two landmarks show a zone's line, which pair would, where do they really line up, and where do lines
//! of position cross.

mod along;
mod calibrate;
mod calibrate_fit;
mod calibrate_sightings;
#[cfg(test)]
mod calibrate_tests;
mod calibrate_words;
mod calibration;
mod check;
#[cfg(test)]
mod check_tests;
mod cross;
mod cross_ellipse;
mod cross_error;
mod cross_line;
mod cross_solve;
mod cross_start;
mod crossed;
mod error;
mod eye;
mod faults;
mod find;
mod found;
mod light;
mod problem;
mod question;
mod range_line;
mod report;
mod seen;
mod water;
mod water_curves;
mod water_rings;
mod water_slabs;
#[cfg(test)]
mod water_tests;
mod within;

pub use calibration::{Calibration, CalibrationError, LineOffset, MarkError, Told};
#[cfg(test)]
mod cross_tests;

pub use cross::cross;
pub use cross_error::CrossError;
pub use crossed::{CrossedPosition, ErrorEllipse, LineOfPosition};
pub use error::TransitError;
pub use eye::{Eye, Sight};
pub use find::find_pairs;
pub use found::{FoundPair, PairQuestion, PairScore, SidePairs, ZoneSide};
pub use problem::{Problem, ProblemCode, Severity};
pub use question::{Drift, Stretch, TransitQuestion, WorkingArea};
pub use range_line::RangeLine;
pub use report::{LinePoint, Magnetic, Meeting, Meets, Opens, Sensitivity, TransitReport, ZoneOnLine};
pub use seen::{Look, OnLine, Seen, Side};
pub use water::LookedAtWater;

/// Zones nearer than this to the stretch or the working area are told, in metres.
pub const NEAR_M: f64 = 2_000.0;
