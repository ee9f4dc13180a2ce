//! Stand-off lines: what keeps one distance from zones, outside or inside.
//!
//! Where such a line runs, whether two arms of it meet and what it leaves free in between is found on a plane (`plane`, `trace`), with
//! shapes that are a little too wide. From there every point is brought to its distance by the boundary itself (`level`), so that no
//! plane has a say in where a point lies; where that does not do, it is walked step by step (`walk`). `line` leaves the shores out,
//! thins, splits, and looks once more at all that is left; `complete` looks for places that have no line by them.

mod complete;
mod level;
mod line;
mod plane;
#[cfg(test)]
mod standoff_tests;
mod thin;
mod trace;
mod walk;

pub use line::{LeftOut, NoStandOff, StandOff, StandOffLine, StandOffSide, StandOffWanted};
