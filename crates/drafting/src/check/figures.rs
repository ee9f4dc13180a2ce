//! Areas, lengths and readings of all zones of a file, held against each other.

use takeline::zone::{Extent, Zone};
use takeline::{EdgeModel, PartSpec};

use super::{Finding, FindingKind, Spot};
use crate::survey::sides_of;

/// Areas so many times larger or smaller than the median are surely slips. A rule of thumb: common practice, no source.
const TIMES: f64 = 1e4;
/// With fewer zones there is nothing to compare with.
const FEWEST: usize = 5;
/// In m²: smaller than a boat's berth.
const SMALLEST_M2: f64 = 100.0;
/// In m²: six times the largest zones that we know of. A rule of thumb: common practice, no source.
const LARGEST_M2: f64 = 1e13;
/// Readings that are nearer together are told by nobody, in metres.
const APART_M: f64 = 1.0;

/// What the measures of zones show; `spots` are those of the zones.
pub(super) fn findings(zones: &[Zone], spots: &[Spot], found: &mut Vec<Finding>) {
    let areas: Vec<Option<f64>> = zones.iter().map(zone_area_m2).collect();
    let mut sorted: Vec<f64> = areas.iter().flatten().copied().collect();
    sorted.sort_by(f64::total_cmp);
    let median_m2 = (sorted.len() >= FEWEST).then(|| sorted[sorted.len() / 2]);
    for (area_m2, spot) in areas.iter().zip(spots) {
        let Some(area_m2) = *area_m2 else { continue };
        let off = median_m2.filter(|median| area_m2 > TIMES * median || area_m2 * TIMES < *median);
        if off.is_some() || !(SMALLEST_M2..LARGEST_M2).contains(&area_m2) {
            let kind = FindingKind::OutOfProportion { area_m2, median_m2: off };
            found.push(Finding::at(kind, spot.clone()));
        }
    }
    for (zone, spot) in zones.iter().zip(spots) {
        found.extend(unstated(zone, spot));
    }
}

fn zone_area_m2(zone: &Zone) -> Option<f64> {
    match &zone.extent {
        Extent::Known(boundary) => Some(boundary.area_m2()),
        Extent::Unknown { .. } => None,
    }
}

/// The side of a zone whose readings are farthest apart.
fn unstated(zone: &Zone, spot: &Spot) -> Option<Finding> {
    let Extent::Known(boundary) = &zone.extent else { return None };
    let parts = boundary.parts();
    let several = parts.len() > 1;
    let mut widest: Option<(f64, Spot)> = None;
    for (p, part) in parts.iter().enumerate() {
        let PartSpec::Polygon { exterior, holes } = part else { continue };
        for (r, ring) in std::iter::once(exterior).chain(holes).enumerate() {
            if !ring.edges.contains(&EdgeModel::Unstated) {
                continue;
            }
            for (at, side) in sides_of(ring).enumerate() {
                let apart_m = side.readings_apart.metres();
                if apart_m >= APART_M && widest.as_ref().is_none_or(|(widest_m, _)| apart_m > *widest_m) {
                    let part = several.then_some(p + 1);
                    widest = Some((
                        apart_m,
                        Spot { part, ring: Some(r + 1), vertex: Some(at + 1), ..spot.clone() },
                    ));
                }
            }
        }
    }
    widest.map(|(apart_m, spot)| Finding::at(FindingKind::SidesUnstated { apart_m }, spot))
}
