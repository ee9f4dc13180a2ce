//! Marks in line as somebody sees them: a sketch in text and in SVG, and a card of one page that prints on half a sheet.
//!
//! The card asks nothing of the network and holds no script. Why it is made this way stands in
//! `docs/decisions/0008-html-report.md`.

mod evidence;
mod half_sheet;
mod input;
mod margins;
mod plan;
mod plan_water;
mod problems;
mod room;
mod scene;
mod silhouette;
mod sketch_svg;
mod sketch_text;

#[cfg(test)]
mod card_tests;
#[cfg(test)]
#[path = "../../../examples/marrowick_card/marks.rs"]
mod marks;
#[cfg(test)]
mod sketch_tests;

pub use half_sheet::transit_card;
pub use input::{CardError, CardInput};
pub use sketch_svg::transit_sketch_svg;
pub use sketch_text::transit_sketch_text;
