//! A zone: where a rule applies, from which text, as of when; and sets of zones, indexed.

mod cursor;
#[cfg(test)]
mod cursor_tests;
mod datum;
mod far_coast;
mod misreading;
mod override_graph;
mod proofread;
mod published;
#[cfg(test)]
pub(crate) mod test_sets;
mod unions;
mod zone_set;
mod zone_type;

pub use cursor::{Holding, ZoneSetCursor};
pub use datum::Datum;
pub use far_coast::FarCoast;
pub(crate) use misreading::other_readings;
pub use misreading::{Misreading, Slip};
pub(crate) use override_graph::{Link, OverrideGraph};
pub use proofread::Proofread;
pub use published::PublishedVertex;
pub use zone_set::ZoneSet;
pub(crate) use zone_set::{ZoneOfSet, box_about};
pub use zone_type::{
    Effective, Extent, LineBelongs, Override, Source, Status, Zone, ZoneFile, ZoneId, ZoneSummary,
};
