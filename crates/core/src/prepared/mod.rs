//! The prepared form of a zone file: an index, by which one fix is answered without reading all zones.
//!
//! An [`Index`] says of every zone of a file where in the bytes it stands and where on Earth it lies. [`prepare`] makes one
//! from a file that loads without a fault; [`Index::of`] takes it again, for exactly the bytes that it was made from; and
//! [`zones_for`] reads with its help only the zones that can matter to a question, in the ordinary way. The answer is that of
//! all zones, to the last letter: `docs/prepared-form.md`, and decision 18 for why.

mod index;
mod near_zones;
#[cfg(test)]
mod prepared_tests;

pub use index::PreparedFile;
pub use index::{Index, MOST_INDEX_BYTES, PreparedZones, Unfit, prepare};
pub use near_zones::{FileOfZones, UnfitIndex, ZonesForFix, needs_all_zones, zones_beside, zones_for};
