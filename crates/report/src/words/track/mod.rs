//! The words of the audit of a track: for the text, the row, the page, and what JSON and tables give beside the figures.
//!
//! Text and page word some facts each in their own way; both ways stand here, one below the other.

mod findings;
mod headline;
mod log;
mod spans;

pub use findings::TRACK_LIMITS;
pub(crate) use findings::*;
pub(crate) use headline::headline;
pub(crate) use log::{first_remarks, order_sentences};
pub(crate) use spans::*;
