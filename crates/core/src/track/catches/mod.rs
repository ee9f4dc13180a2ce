//! What was caught: the rows of a catch log, joined to the track, held against the rules that held there and then.
//!
//! Audit, not advice: what is not settled is "cannot tell" and never a breach.

mod bag_note;
mod bags;
mod carried;
#[cfg(test)]
mod catches_tests;
mod entry;
mod finding;
mod join;
mod judge;
mod ledger;
mod minute;

pub use bag_note::BagNote;
pub use carried::CarriedFinding;
pub use entry::{CatchEntry, CatchSettings};
pub use finding::{CatchFinding, CatchPosition};
pub use join::CatchJoin;
