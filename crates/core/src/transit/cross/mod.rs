//! Where lines of position cross, and how well that is known.

#[cfg(test)]
mod cross_tests;
mod crossed;
mod ellipse;
mod error;
mod line;
mod position;
mod solve;
mod start;

pub use crossed::{CrossedPosition, LineName, LineOfPosition};
pub use error::CrossError;
pub use position::cross;
