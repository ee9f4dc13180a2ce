//! Tables: one fix a row, columns named by the header.

mod columns;
mod cut_row;
mod place;
#[cfg(test)]
mod place_tests;
mod reader;
#[cfg(test)]
mod reader_tests;

pub(crate) use columns::KNOT_M_PER_S;
pub(crate) use columns::{Columns, separator_of};
pub use columns::{FixColumn, fix_column, fix_date_and_time, fix_separator, unread_accuracy_mend};
pub use cut_row::CutRow;
pub use place::PlaceColumns;
pub(crate) use reader::CsvReader;
