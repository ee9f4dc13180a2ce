//! Nasty zones for tests, and the truth about them.
//!
//! A [`Recipe`] makes a [`NastyShape`]: a region of the cells of a grid whose lines are edges of a known model, whole and
//! cut up into parts that touch, overlap and nest, with T-junctions, slits, holes on the edge, needless vertices and
//! several models on one curve. Which side a [`Place`] is on is known by construction, the distance to the outline by a
//! search with `geographiclib-rs`: neither asks the library under test.
#![expect(clippy::expect_used, reason = "for tests only: what cannot be made has to stop them")]

mod cells;
mod chart;
mod cut;
mod dice;
pub mod earth;
pub mod seasons;
mod shape;
mod truth;
mod units;
mod zones;

pub use cells::{Grid, Node, Region, Step, Way};
pub use chart::{Along, Chart, Numbers};
pub use dice::Dice;
pub use shape::{NastyShape, Recipe, Tricks, recipes};
pub use truth::Place;
pub use units::bare_numbers;
pub use zones::{FISH, RandomZones};
