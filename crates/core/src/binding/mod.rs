//! Which rules bind at a place, over a time, for a way of fishing. Every question about a rule is settled here first.
//!
//! A rule binds who is inside its zone while it is in force, if it binds their access and no rule that binds displaces it.
//! Each of these has three values, and so has the whole.

mod binds;
mod in_force;
mod reason;
mod span;

#[cfg(test)]
mod binds_tests;
#[cfg(test)]
mod span_tests;
#[cfg(test)]
mod test_fixtures;

pub use binds::{BindingZone, Displacement, ZoneHere};
pub use in_force::InForce;
pub use reason::Reason;
pub use span::BindingSpan;

pub(crate) use binds::bind;
pub(crate) use in_force::Moment;
