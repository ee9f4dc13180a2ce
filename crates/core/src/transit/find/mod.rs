//! The search for pairs of landmarks that show a zone's line.
//!
//! Everything is laid on a plane about the launch first. Every ordered pair is judged there against every side of the zone
//! that lies within range: stretch, coverage, what is given away, sharpness, robustness and visibility, which is the rank if
//! the pair clears. The ranks are then gone through from the best down, and each pair is held against the zones on the
//! ellipsoid until as many as are wanted clear. So no pair is lost to the shortlist: what the plane cannot settle to
//! within its own error is left to the ellipsoid.

#[cfg(test)]
mod find_tests;
mod found;
mod marks;
mod pair;
mod search;
mod side;
mod stretch_margin;
mod zones;

pub use found::{FoundPair, PairQuestion, PairReason, PairScore, SideName, SidePairs, ZoneSide};
pub use search::find_pairs;
