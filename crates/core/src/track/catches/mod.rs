//! What was caught: the rows of a catch log, joined to the track, held against the rules that held there and then.
//!
//! Audit, not advice: what is not settled is "cannot tell" and never a breach.

mod bags;
#[cfg(test)]
mod catches_tests;
mod finding;
mod join;
mod judge;

pub use finding::{CarriedFinding, CatchEntry, CatchFinding, CatchPosition, CatchSettings, MadeIn};
pub use join::CatchJoin;
