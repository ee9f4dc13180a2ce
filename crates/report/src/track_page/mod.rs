//! One self-contained page about a trip: a map, a plot of the distance to the line, and every finding as a table.
//!
//! The page asks nothing of the network, holds one script that draws the map larger and links it with the plot, and reads whole without it.
//! Why it is made this way stands in `docs/decisions/0008-html-report.md`.

mod backdrop;
mod catches;
mod evidence;
mod index;
mod map;
mod marks;
pub(crate) mod meaning;
mod page;
mod plot;
mod sheet;
mod top;
mod visit;
mod way;

#[cfg(test)]
mod page_tests;
#[cfg(test)]
mod palette_tests;
#[cfg(test)]
#[path = "../../examples/marrowick_page/trip.rs"]
mod trip;

pub use backdrop::{Backdrop, BackdropError};
pub use index::{IndexRow, trip_index};
pub(crate) use page::STYLE as PAGE_STYLE;
pub use page::{track_page, track_page_over};
pub use sheet::PageError;
