//! Landmark files: one GeoJSON feature collection of points that any GIS opens.
//!
//! [`read()`] turns the bytes of a file into landmarks, or lists every fault of it. [`LoadedLandmarks::find`] looks one up
//! by what people call it. The format is described in `docs/landmark-format.md`.

mod find;
mod landmark_reader;
mod read;

#[cfg(test)]
mod fault_tests;
#[cfg(test)]
mod find_tests;
#[cfg(test)]
mod hostile_tests;
#[cfg(test)]
mod test_files;
#[cfg(test)]
mod whole_file_tests;

pub use crate::geojson_text::{Fault, FaultKind, FeatureRef, FileWarning, Place, VertexRef, WarningKind};
pub use find::{LandmarkNotFound, NearLandmark};
pub use read::LoadLandmarksError;
pub use read::{LandmarkFile, LoadedLandmarks, MOST_BYTES, MOST_LANDMARKS, read};

/// The name and version of the format.
pub const FORMAT: &str = "takeline.landmarks/1";
