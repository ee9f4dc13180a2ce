//! Marks in line: do two landmarks show a zone's line, which pair would, where do they really line up, and where do lines
//! of position cross.

mod calibrate;
mod check;
mod cross;
mod error;
mod eye;
mod find;
mod land;
#[cfg(test)]
mod land_tests;
mod plane;
mod problem;
mod question;
mod range_line;
mod water;

pub use calibrate::{
    Calibration, CalibrationError, CalibrationReason, FurtherFixes, LineOffset, MarkError, Told, UnusedFix,
    UnusedFixes,
};
pub use check::{
    ClearsReason, LinePoint, Magnetic, Meeting, Meets, Opens, Sensitivity, TransitReport, ZoneOnLine,
};
pub use cross::{CrossError, CrossedPosition, LineName, LineOfPosition, cross};
pub use error::TransitError;
pub use eye::{CompassPoint, Look, OnLine, Seen, Side};
pub use eye::{Eye, Sight};
pub use find::{FoundPair, PairQuestion, PairReason, PairScore, SideName, SidePairs, ZoneSide, find_pairs};
pub use problem::{CarriedBy, PlaceOfUse, Problem, ProblemCode, ProblemReason, Severity};
pub use question::{Drift, Stretch, TransitQuestion, WorkingArea};
pub use range_line::RangeLine;
pub use water::ViewedWater;

/// Zones nearer than this to the stretch are told, in metres.
pub const NEAR_M: f64 = 2_000.0;
