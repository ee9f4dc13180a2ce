//! Do two marks show a zone's line: the stretch against every zone, what is wrong with the marks, the whole answer.

mod along;
#[cfg(test)]
mod check_tests;
mod faults;
#[cfg(test)]
mod faults_tests;
#[cfg(test)]
mod laws_tests;
#[cfg(test)]
mod least_tests;
mod report;
#[cfg(test)]
mod scene_tests;
#[cfg(test)]
mod sides_tests;
mod verdict;
mod within;

pub use report::{
    ClearsReason, LinePoint, Magnetic, Meeting, Meets, Opens, Sensitivity, TransitReport, ZoneOnLine,
};
