//! Where am I, what may I keep here: one fix against a set of zones.

mod asked_about;
mod doubt;
mod finding;
mod fish;
mod place;
mod settle;
mod spread;
#[cfg(test)]
mod spread_tests;
mod standing_at;
mod standoff;
mod together;
mod water;
mod whole;

#[cfg(test)]
mod all_zones_tests;
#[cfg(test)]
mod assess_tests;

pub use finding::{
    Assessment, Containment, NearestPoint, Question, ReadingGap, SettlingMove, TakeAnswer, TakeFinding,
    Water, ZoneFinding,
};
pub(crate) use standing_at::{Applying, AskedFish, FishNames, applying};
