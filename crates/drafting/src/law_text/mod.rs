//! The text of a law, line by line: points, sides between them, and what it states of the whole.
//!
//! Every line is read, or refused with the reason and the readings that it may have had, or listed as no coordinates. Positions
//! are read by [`takeline::Position::parse`] and nothing else; what is decided here is only which characters make a position.

mod account;
mod caveats;
mod cutting;
mod datums;
mod heading;
mod labels;
mod line;
mod mask;
mod number;
mod patterns;
mod phrases;
mod read;
mod units;
mod vocabulary;

#[cfg(test)]
mod read_tests;

pub(crate) use datums::same_datum;
pub use line::{
    Bound, Gap, LawText, Line, Outcome, Piece, PrintedPoint, Quantity, Role, SideWords, Statement,
};
pub use read::read;
