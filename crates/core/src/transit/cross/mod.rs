//! Where lines of position cross, and how well that is known.

#[cfg(test)]
mod cross_tests;
mod crossed;
mod ellipse;
mod line;
mod position;
mod solve;
mod start;

pub use crossed::CrossError;
pub use crossed::{CrossedPosition, LineName, LineOfPosition};
pub use position::cross;
