//! Marks in line: do two landmarks show a zone's line, which pair would, where do they really line up, and where do lines
//! of position cross.

mod calibration;
mod crossed;
mod error;
mod eye;
mod find;
mod found;
mod problem;
mod question;
mod range_line;
mod report;
mod seen;
mod water;

pub use calibration::{Calibration, LineOffset, MarkError, Told};
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
