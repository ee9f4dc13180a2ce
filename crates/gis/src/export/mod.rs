//! Lines and areas as the files of other programs: GPX 1.1, KML 2.2, GeoJSON (RFC 7946), and CSV in the notation of laws.
//!
//! Every file says what it was made from and what it is not.

mod csv_table;
mod doubt;
#[cfg(test)]
mod export_tests;
mod geojson_file;
mod gpx_file;
mod kml_file;
mod map_plane;
mod sheet;

pub use csv_table::{Notation, corners_csv, csv, with_nothing_put_before};
pub use doubt::{LineDoubt, line_doubt};
pub use geojson_file::geojson;
pub use gpx_file::{GpxKind, gpx};
pub use kml_file::kml;
pub use sheet::{Drawn, Shape, Sheet};
