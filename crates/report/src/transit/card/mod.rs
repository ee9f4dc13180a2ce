//! Marks in line as somebody sees them: a sketch in text and in SVG, and a card that prints on the two faces of half a sheet.
//!
//! The card asks nothing of the network and holds no script. Why it is made this way stands in
//! `docs/decisions/0008-html-report.md`.

mod evidence;
mod half_sheet;
mod hidden;
mod margins;
mod plan;
mod problems;
mod scene;
mod sketch;

#[cfg(test)]
mod card_tests;
#[cfg(test)]
#[path = "../../../examples/marrowick_card/marks.rs"]
mod marks;
#[cfg(test)]
mod sketch_tests;

pub use half_sheet::{CardError, CardInput, transit_card};
pub use sketch::{transit_sketch_svg, transit_sketch_text};
