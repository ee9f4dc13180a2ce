//! GPX 1.0 and 1.1: elements, points, and the reader that walks over them.

#[cfg(test)]
mod faults_tests;
mod plain;
mod point;
mod reader;
#[cfg(test)]
mod reader_tests;

pub(crate) use reader::GpxReader;
