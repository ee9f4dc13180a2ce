//! NMEA 0183: sentences, the instants they belong to, and the reader that joins them to fixes.

mod epoch;
mod reader;
#[cfg(test)]
mod reader_tests;
mod sentence;
#[cfg(test)]
mod sentence_tests;

pub(crate) use reader::NmeaReader;
pub(crate) use sentence::looks_like_one;
