//! Zone files: one GeoJSON feature collection that any GIS opens, with our properties.
//!
//! [`read()`] turns the bytes of a file into zones, or lists every fault of it. The format is described in
//! `docs/zone-format.md`; `json_schema` (feature `schema`) gives it to machines, and [`wire`] holds it as Rust types.

mod catalogue_reader;
mod coast_sides;
#[cfg(test)]
mod coast_sides_tests;
mod edge_reader;
mod file_text;
mod geometry_reader;
mod limits;
mod proofread_reader;
#[cfg(test)]
mod proofread_tests;
mod published_reader;
mod read;
mod rule_reader;
#[cfg(feature = "schema")]
mod schema;
mod season_reader;
pub mod wire;
mod zone_reader;

#[cfg(test)]
mod datum_and_time_tests;
#[cfg(test)]
mod geometry_tests;
#[cfg(test)]
mod hostile_tests;
#[cfg(test)]
mod limits_tests;
#[cfg(test)]
mod published_tests;
#[cfg(test)]
mod rule_tests;
#[cfg(all(test, feature = "schema"))]
mod schema_tests;
#[cfg(test)]
mod season_tests;
#[cfg(test)]
mod side_by_side_tests;
#[cfg(test)]
mod test_files;
#[cfg(test)]
mod whole_file_tests;
#[cfg(test)]
mod wire_tests;

pub use crate::geojson_text::{
    Fault, FaultKind, FeatureRef, FileWarning, NotJson, Place, VertexRef, WarningKind, untrusted_json,
};
pub use file_text::TextLines;
pub use limits::{MOST_BYTES, MOST_LINE_KM, MOST_VERTICES, MOST_ZONES};
pub use proofread_reader::{content_digest, file_digest};
pub use read::LoadZonesError;
pub use read::{LoadedFile, read, read_along};
#[cfg(feature = "schema")]
pub use schema::json_schema;

/// The name and version of the format.
pub const FORMAT: &str = "takeline.zones/1";
