//! A zone file from a file of a geographic information system.
//!
//! [`import()`] reads the bytes of one source, maps its attributes with a [`Mapping`], brings positions to a datum that zone files
//! may have, and writes a zone file that loads at once. What the source does not say is never guessed: a zone whose rule is not
//! known is undecided wherever it may matter, and [`Imported::notes`] list what was lost, what was changed and what must be filled
//! in. A source of which one feature cannot be used is refused as a whole, because a zone left out would read as open water.
//!
//! One reader for each format fills a `layer`, which says nothing yet about rules; `coordinate_system` says what the positions
//! are, `place` makes rings of them, `members` reads attributes, and `zones` puts the file together.

mod coordinate_system;
mod csv_reader;
mod dbf_rows;
mod fault;
mod geojson_reader;
#[cfg(feature = "geopackage")]
mod geopackage_reader;
mod gpx_reader;
mod kml_reader;
mod layer;
mod mapping;
mod members;
mod note;
mod packed;
mod place;
mod rings;
mod shapefile_reader;
mod source;
#[cfg(feature = "geopackage")]
mod well_known_binary;
mod well_known_text;
mod wkt_reader;
mod xml_tree;
mod zones;

#[cfg(test)]
mod formats_tests;
#[cfg(test)]
mod hostile_tests;
#[cfg(test)]
mod mapping_tests;
#[cfg(test)]
mod nothing_lost_tests;

pub use coordinate_system::{Bring, Brought, Reproject};
pub use fault::{ImportError, ImportFault};
pub use mapping::{InvalidMapping, Mapping};
pub use note::{Note, NoteKind};
pub use source::{Format, Source};
pub use zones::{Imported, ReprojectedBy, import};
