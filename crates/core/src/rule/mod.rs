//! Take rules: what may be kept, with what, when, and how one may pass.
//!
//! The types hold what a law says; the answers they give have three values ([`crate::Tristate`]) and carry their
//! reasons. This room knows nothing of geometry.

mod allowance;
mod calendar;
mod catalogue;
mod catalogue_fault;
mod combine;
mod condition;
mod fit;
mod in_force;
#[cfg(test)]
mod in_force_tests;
mod limit;
mod naming;
mod next_change;
#[cfg(test)]
mod next_change_tests;
mod possession;
mod reason;
mod remedy;
mod retention;
mod retention_of_several;
mod rule_fault;
mod season;
mod season_fault;
mod summary;
mod sun;
#[cfg(test)]
mod sun_direction_tests;
mod sun_hours;
#[cfg(test)]
mod sun_tests;
mod take;
mod taxon;
mod time_reason;

#[cfg(test)]
mod catalogue_tests;
#[cfg(test)]
mod combine_tests;
#[cfg(test)]
mod take_tests;
#[cfg(test)]
mod test_fixtures;

pub use catalogue_fault::CatalogueFault;
pub use combine::{ZoneRuling, combine};
pub use condition::Condition;
pub use in_force::Timing;
pub use limit::{Bag, BagPer, Bait, Gear, GearAllowance, Measure, Size};
pub(crate) use naming::folded;
pub use reason::{Clash, LimitsOf, Reason};
pub use remedy::Remedy;
pub use retention::{InForce, Inquiry};
pub use season::{
    AnnualWindow, DateRange, Hours, NthWeekday, SunEvent, SunHours, SunPlace, SunTime, WRITE_THE_RULE, When,
    WindowEnds,
};
pub use summary::{PermitSummary, RuleSummary, TakeSummary};
pub use sun::{Almanac, SunDirection, SunMoment, sun_direction, sun_event};
pub use take::{
    Access, Activity, Allowance, Circumstances, Limits, Passage, Permit, Possession, Ruling, Take, TakeRule,
};
pub use taxon::{Catalogue, CommonName, Group, GroupId, NameMatch, SetNames, Taxon, TaxonId, TaxonSet};
pub(crate) use time_reason::KnownTime;
pub use time_reason::{MissingTime, SunMiss, SunSpan, TimeReason};
