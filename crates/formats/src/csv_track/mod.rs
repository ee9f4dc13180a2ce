//! Tables: one fix a row, columns named by the header.

mod columns;
mod reader;
#[cfg(test)]
mod reader_tests;

pub(crate) use columns::{Columns, KNOT_M_PER_S, separator_of};
pub use columns::{FixColumn, fix_column, fix_date_and_time, fix_separator};
pub(crate) use reader::CsvReader;
