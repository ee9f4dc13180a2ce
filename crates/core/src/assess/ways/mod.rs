//! Ways from a fix: to the nearest water that no loaded zone closes or limits, along the bow, and home.

mod along;
mod clearance;
mod enclosed;
mod finding;
mod land;
mod search;
mod straight_on;
mod walk;
mod way_out;
#[cfg(test)]
mod ways_tests;

pub use finding::{Crossing, NoWayOut, OnHeading, OtherWay, OverLand, WayHome, WayOut};
pub(super) use land::Land;
pub(super) use straight_on::{on_heading, way_home};
pub(super) use walk::{Walk, walk};
pub(super) use way_out::{add_way_out, farthest_asked_m};
