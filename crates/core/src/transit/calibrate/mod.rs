//! Where two marks really line up, from fixes taken while they were seen in line.

#[cfg(test)]
mod calibrate_tests;
mod calibration;
mod fit;
mod from_fixes;
mod reason;
mod sightings;

pub use calibration::{Calibration, CalibrationError, LineOffset, MarkError, Told};
pub use reason::{CalibrationReason, FurtherFixes, UnusedFix, UnusedFixes};
