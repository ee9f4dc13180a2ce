//! The line itself: rings of edges on the ellipsoid, which side a position is on and how far from the line.

mod build;
#[cfg(test)]
mod cases_tests;
mod crossing;
mod edge;
mod invalid;
#[cfg(test)]
mod laws_tests;
mod lines;
mod order;
mod parity;
mod piece;
mod ring;
mod seam;
mod spec;
mod whole;

pub use edge::EdgeReading;
pub use invalid::{BoundaryFault, InvalidBoundary, PositionText, UncrossedOrder};
pub use spec::{Arc, ArcSense, EdgeModel, PartSpec, RingSpec};
pub use whole::{Boundary, Located};
