//! A zone file that was refused.

use std::fmt;

use super::Fault;
use crate::geojson_text::{FAULT_LIMIT, Refusal, write_faults};

/// A zone file that was refused. Nothing of it was loaded.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct LoadZonesError {
    /// The path or label that the caller gave.
    pub path: String,
    /// Every fault that was found, in file order, up to [`Self::FAULT_LIMIT`].
    pub faults: Vec<Fault>,
    /// How many more there were.
    pub more: usize,
}

impl LoadZonesError {
    /// How many faults are kept; the rest is only counted.
    pub const FAULT_LIMIT: usize = FAULT_LIMIT;

    pub(super) fn new(path: &str, Refusal { faults, more }: Refusal) -> Self {
        Self { path: path.to_owned(), faults, more }
    }
}

impl std::error::Error for LoadZonesError {}

impl fmt::Display for LoadZonesError {
    /// Writes one line for each fault: file, place, what is wrong, how to mend it.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write_faults(f, &self.path, (&self.faults, self.more))
    }
}
