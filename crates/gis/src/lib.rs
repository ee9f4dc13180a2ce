//! Zones from the files of geographic information systems, and lines for them.
//!
//! [`import`] makes a zone file of GeoJSON from elsewhere, KML, GPX, Shapefile, `GeoPackage`, WKT and CSV; [`export`] writes zones and
//! lines beside them for other programs. Everything here works on bytes and values: it prints nothing and reads no file, no network
//! and no clock.

pub mod export;
pub mod import;
