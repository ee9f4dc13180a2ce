//! The text of a law, line by line: points, sides between them, and what it states of the whole.
//!
//! Every line is read, or refused with the reason and the readings that it may have had, or listed as no coordinates. Positions
//! are read by [`takeline::Position::parse`] and nothing else; what is decided here is only which characters make a position.

mod cutting;
mod heading;
mod labels;
mod line;
mod phrases;
mod read;

#[cfg(test)]
mod read_tests;

pub use line::{
    AreaUnit, Bound, LawText, Line, Outcome, Piece, PrintedPoint, Quantity, Role, SideWords, Statement,
};
pub use read::read;
