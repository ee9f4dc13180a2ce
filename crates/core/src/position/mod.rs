//! A place on the WGS 84 ellipsoid, and its text forms.

mod error;
mod format;
mod parse;
mod place;
mod repair;
mod tokens;

#[cfg(test)]
mod corpus_tests;
#[cfg(test)]
mod format_tests;
#[cfg(test)]
mod parse_tests;

pub use error::{Axis, ParsePositionError, ParsePositionErrorKind, PositionWarning};
pub use format::PrintedPrecision;
pub use format::widest_step_deg;
pub use parse::{ParsedLatitude, ParsedLongitude, ParsedPosition};
pub use place::Position;
