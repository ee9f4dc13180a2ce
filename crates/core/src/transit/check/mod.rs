//! Do two marks show a zone's line: the stretch against every zone, what is wrong with the marks, the whole answer.

mod along;
#[cfg(test)]
mod check_tests;
mod faults;
mod figures;
mod light;
mod report;
mod verdict;
mod within;

pub use report::{LinePoint, Magnetic, Meeting, Meets, Opens, Sensitivity, TransitReport, ZoneOnLine};
