//! The line itself: rings of edges on the ellipsoid, which side a position is on and how far from the line.

mod invalid;
mod spec;
mod whole;

pub use invalid::{BoundaryFault, InvalidBoundary};
pub use spec::{Arc, ArcSense, EdgeModel, PartSpec, RingSpec};
pub use whole::Boundary;
