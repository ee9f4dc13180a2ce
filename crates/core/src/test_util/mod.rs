//! Zones that are nasty to a checker of boundaries, for tests: one shape, whole and cut up.
//!
//! Behind the feature `test-util`, which no program needs.

mod chance;
mod cut_shape;
mod polygon;

pub use chance::Chance;
pub use cut_shape::{CutShape, cut_shapes};
