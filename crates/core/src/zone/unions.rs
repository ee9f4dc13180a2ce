//! Outlines of what several zones hold together, built once.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

use super::{Extent, Zone};
use crate::Boundary;

/// Unions of more vertices than this are not built while somebody waits: their zones stay apart.
const MOST_VERTICES: usize = 50_000;
/// So many unions are kept; then they are built anew.
const MOST_KEPT: usize = 64;

/// What zones hold together, by their places in the set; none where they cannot be joined.
type Kept = HashMap<Vec<usize>, Option<Arc<Boundary>>>;

/// Unions by the places of their zones in the set; shared by copies of the set, which hold the same zones.
#[derive(Debug, Clone, Default)]
pub(super) struct Unions {
    kept: Arc<Mutex<Kept>>,
}

impl Unions {
    /// What the zones hold together; none where they cannot be joined.
    pub(super) fn of(&self, zones: &[Zone], mut numbers: Vec<usize>) -> Option<Arc<Boundary>> {
        numbers.sort_unstable();
        // whatever happened to another thread, what is kept is whole
        let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(found) = kept.get(&numbers) {
            return found.clone();
        }
        let boundaries: Vec<&Boundary> =
            numbers.iter().filter_map(|number| known(zones.get(*number)?)).collect();
        let vertices: usize = boundaries.iter().map(|boundary| boundary.vertex_count()).sum();
        let joined = (vertices <= MOST_VERTICES).then(|| Boundary::union(&boundaries).ok()).flatten();
        let found = joined.map(Arc::new);
        if kept.len() >= MOST_KEPT {
            kept.clear();
        }
        kept.insert(numbers, found.clone());
        found
    }
}

fn known(zone: &Zone) -> Option<&Boundary> {
    match &zone.extent {
        Extent::Known(boundary) => Some(boundary),
        Extent::Unknown { .. } => None,
    }
}
