//! Where am I, what may I keep here: one fix against a set of zones.

mod error_budget;
mod finding;
mod fish;
mod located_zone;
mod question;
mod reason;
mod resolve;
mod spread;
#[cfg(test)]
mod spread_tests;
mod standing_at;
mod standoff;
mod together;
mod verdict;
mod water;
mod ways;
mod whole;

#[cfg(test)]
mod all_zones_tests;
#[cfg(test)]
mod assess_tests;

pub use finding::{
    Assessment, ClearingMove, Containment, CrossablePoint, NearestPoint, NearestSide, ReadingGap, TakeAnswer,
    TakeFinding, WaterStatus, ZoneFinding,
};
pub use question::Question;
pub use reason::{Assumption, Displacing, Reason, Remedy, Warning};
pub(crate) use standing_at::{Applying, AskedFish, FishNames, applying};
pub use verdict::{Undecided, Verdict};
pub use ways::{Crossing, NoWayOut, OnHeading, OtherWay, OverLand, WayHome, WayOut};
