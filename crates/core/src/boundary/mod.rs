//! The line itself: rings of edges on the ellipsoid, which side a position is on and how far from the line.

mod bounds;
mod boxes;
mod build;
mod candidates;
#[cfg(test)]
mod cases_tests;
mod circle;
mod cursor;
#[cfg(test)]
mod cursor_tests;
mod edge_line;
mod invalid;
#[cfg(test)]
mod laws_tests;
mod lines;
mod near;
mod noding;
mod outline;
mod piece;
#[cfg(feature = "geo")]
mod plate;
mod ray;
mod repair;
mod ring;
mod side;
#[cfg(test)]
mod side_tests;
mod spec;
mod strands;
mod tangle;
#[cfg(test)]
mod union_tests;
mod whole;
mod winding;

pub(crate) use bounds::Bounds;
pub use cursor::BoundaryCursor;
pub(crate) use cursor::Trails;
pub use edge_line::EdgeLine;
pub use invalid::{BoundaryFault, InvalidBoundary, PositionText};
#[cfg(feature = "geo")]
pub(crate) use plate::OnPlate;
pub(crate) use ray::{Ray, TOUCH_M};
pub use repair::{RingChange, RingRepair, Stray, corners_off, is_one_digit_off};
pub use ring::EdgeReading;
pub use side::{OutlineRun, Side, SideKind};
pub use spec::{Arc, ArcSense, EdgeModel, PartSpec, RingSpec};
pub(crate) use strands::{NearStrand, Strand, StrandKind, StrandOddity, Strands, StretchOf};
pub(crate) use whole::Off;
pub use whole::{Boundary, HowFar, Located};
