//! Two editions of zones, side by side: what was added, removed, renamed, moved, and what the rules say now.
//!
//! Everything is told as values: words stand elsewhere. What cannot be compared is told as undecided, never as harmless.

mod change;
mod compare;
#[cfg(test)]
mod compare_tests;
mod divided;
mod effect;
mod files;
mod fish;
mod line;
mod line_told;
mod pairing;
mod permits;
mod plane;
mod reach;
mod ring;
mod rings;
mod rules;
mod set_water;
#[cfg(test)]
mod set_water_tests;
mod sheet;
mod times;
mod water;
#[cfg(test)]
mod water_tests;

pub use change::{Change, Effect, FromTo, PermitOf, Told};
pub use compare::{Comparison, ExtentChange, ZoneChange, ZoneWater, compare};
pub use divided::Division;
pub use files::FileChange;
pub use line::{CircleChange, EdgeChange, LineChange, MovedVertex, SideChange, VertexAt, WholeRing};
pub use line_told::{LineFact, LineTold};
pub use set_water::SetWater;
pub use water::Water;
