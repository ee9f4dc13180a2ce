//! A coast as data: where land is by a survey, and the lines that no boat crosses.
//!
//! [`read()`] turns the bytes of a GeoJSON file of lines or polygons into a [`Coast`], or lists every fault of it. What a coast says
//! is no law: it never moves a boundary. The format is described in `docs/coast-format.md`.

mod barrier;
#[cfg(test)]
mod barrier_tests;
mod coastline;
#[cfg(test)]
mod coastline_tests;
mod geometry_reader;
#[cfg(test)]
mod hostile_tests;
mod read;
#[cfg(test)]
mod read_tests;
mod skyline;
#[cfg(test)]
mod test_coasts;

pub use crate::geojson_text::{Fault, FaultKind, FeatureRef, FileWarning, Place, VertexRef, WarningKind};
pub use coastline::{Coast, CoastLine, CoastOddity, InvalidCoast, LineKind, NoStretch};
pub use read::{LoadCoastError, LoadedCoast, MOST_BYTES, MOST_VERTICES, read};

pub(crate) use barrier::{Barrier, NoCrossing};

/// The name and version of the format.
pub const FORMAT: &str = "takeline.coast/1";
