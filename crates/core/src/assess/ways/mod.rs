//! Ways from a fix: to the nearest water that no loaded zone closes or limits, along the bow, and home.

mod along;
mod clearance;
mod enclosed;
mod finding;
mod land;
mod search;
mod straight_on;
mod way_out;

pub use finding::{Crossing, NoWayOut, OnHeading, OtherWay, OverLand, WayHome, WayOut};
pub(super) use land::Land;
pub(super) use straight_on::{on_heading, way_home};
pub(super) use way_out::add_way_out;
