//! GPX 1.0 and 1.1: elements, points, the reader that walks over them, and the one writer of GPX that there is.

#[cfg(test)]
mod faults_tests;
mod plain;
mod point;
mod reader;
#[cfg(test)]
mod reader_tests;
mod writer;

pub(crate) use reader::GpxReader;
pub use writer::{GpxDocument, GpxLine, GpxPoint, xml_letters};
