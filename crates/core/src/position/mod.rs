//! A place on the WGS 84 ellipsoid, and its text forms.

mod coordinate;
mod error;
mod format;
mod pair;
mod parse;
mod place;
mod precision;
mod refusal;
mod repair;
mod single;
mod steps;
mod tokens;

#[cfg(test)]
mod corpus_tests;
#[cfg(test)]
mod format_tests;
#[cfg(test)]
mod parse_tests;

pub use error::{Axis, ParsePositionError, ParsePositionErrorKind, PositionWarning};
pub use parse::{ParsedLatitude, ParsedLongitude, ParsedPosition};
pub use place::Position;
pub use precision::PrintedPrecision;
pub use steps::widest_step_deg;
