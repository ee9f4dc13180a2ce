//! For tests: zones that are nasty to a checker of boundaries, one shape, whole and cut up; and samples of all reasons.
//!
//! Behind the feature `test-util`, which no program needs.

mod chance;
mod cut_shape;
mod polygon;
pub mod samples;

pub use chance::Chance;
pub use cut_shape::{CutShape, cut_shapes};
