//! One self-contained page about a trip: a map, a plot of the distance to the line, and every finding as a table.
//!
//! The page asks nothing of the network, holds one short script that only links plot and map, and reads whole without it.
//! Why it is made this way stands in `docs/decisions/0008-html-report.md`.

mod evidence;
mod map;
mod page;
mod plot;
mod sheet;
mod visit;

#[cfg(test)]
mod page_tests;
#[cfg(test)]
#[path = "../../examples/marrowick_page/trip.rs"]
mod trip;

pub use page::track_page;
pub use sheet::PageError;
