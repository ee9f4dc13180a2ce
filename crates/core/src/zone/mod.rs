//! A zone: where a rule applies, from which text, as of when; and sets of zones, indexed.

mod datum;
mod override_graph;
mod zone_set;
mod zone_type;

pub use datum::Datum;
pub(crate) use override_graph::{Link, OverrideGraph};
pub use zone_set::ZoneSet;
pub use zone_type::{Effective, Extent, LineBelongs, Override, Source, Status, Zone, ZoneFile, ZoneId};
