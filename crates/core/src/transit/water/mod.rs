//! The water of a working area, by what it is and by what the marks look like from it.

mod line_plane;
mod viewed_water;
#[cfg(test)]
mod water_tests;

pub use viewed_water::ViewedWater;
pub(crate) use viewed_water::{Looking, PROMISED_SHARE, looked_at};
