//! The water of a working area, by what it is and by what the marks look like from it.

mod curves;
mod looked_at;
mod rings;
mod slabs;
#[cfg(test)]
mod water_tests;

pub use looked_at::ViewedWater;
pub(crate) use looked_at::{Looking, looked_at};
