//! Whether a distance to every zone that counts is kept.

use std::collections::HashMap;

use super::water::Standing;
use super::{Reason, Remedy};
use crate::zone::{Extent, ZoneSet};
use crate::{Metres, Tristate};

/// Whether a stand-off is kept, and why not surely.
#[derive(Debug, Clone)]
pub(super) struct Standoff {
    pub(super) kept: Tristate,
    /// One reason for each zone that it is not surely kept from; those it is surely not kept from first.
    pub(super) because: Vec<Reason>,
    /// What would settle it, where it is open.
    pub(super) settle: Vec<Remedy>,
}

/// Whether the stand-off is kept, doubt counted: from every zone whose rule would bind the boat inside it.
///
/// A rule that is not in force, does not bind the access or restricts nothing asks for no distance; nor does one that is
/// displaced wherever it comes within the stand-off. Displaced here is not enough: beyond the zone that displaces it, it binds.
/// A zone whose line is not known may begin at the edge of the area that it lies somewhere in, or anywhere.
pub(super) fn standoff(zones: &ZoneSet, standings: &[Standing<'_>], standoff: Metres) -> Standoff {
    let by_number: HashMap<usize, &Standing<'_>> =
        standings.iter().map(|standing| (standing.placed.number, standing)).collect();
    let mut found = Standoff { kept: Tristate::Yes, because: Vec::new(), settle: Vec::new() };
    let mut open = Vec::new();
    for standing in standings {
        let kept = is_kept(standing, standoff).or(counts(zones, (standing, &by_number), standoff).negated());
        found.kept = found.kept.and(kept);
        match kept {
            Tristate::Yes => {}
            Tristate::No => found.because.push(why(standing)),
            Tristate::Undecided => {
                open.push(why(standing));
                if !standing.placed.is_known() {
                    let zone = standing.placed.zone.name.clone();
                    found.settle.push(Remedy::GetTheLine { zone });
                }
            }
        }
    }
    found.because.append(&mut open);
    if found.kept != Tristate::Undecided {
        found.settle.clear();
    }
    found
}

/// Whether a zone is that far away, whatever its rule.
fn is_kept(standing: &Standing<'_>, standoff: Metres) -> Tristate {
    let least_m = standing.placed.least_distance_m();
    match standing.placed.distance() {
        Some((distance_m, doubt_m)) if distance_m + doubt_m < standoff.metres() => Tristate::No,
        _ if least_m.is_some_and(|least_m| least_m >= standoff.metres()) => Tristate::Yes,
        _ => Tristate::Undecided,
    }
}

/// Whether a zone's rule asks for a distance.
fn counts(
    zones: &ZoneSet,
    (standing, by_number): (&Standing<'_>, &HashMap<usize, &Standing<'_>>),
    standoff: Metres,
) -> Tristate {
    let links = zones.overrides().over(standing.placed.number).iter();
    let displaced = links.filter_map(|link| {
        let by = by_number.get(&link.by)?;
        Some(displaces_all_about(zones, by, standoff).and(link.certainty))
    });
    let restricts = Tristate::from(!standing.placed.zone.rule.restricts_nothing());
    let binding = &standing.binding;
    binding.in_force.and(binding.access).and(restricts).and(Tristate::any(displaced).negated())
}

/// Whether a zone's rule displaces what it cites everywhere within the stand-off; no where it does so nowhere there.
fn displaces_all_about(zones: &ZoneSet, by: &Standing<'_>, standoff: Metres) -> Tristate {
    let least_m = by.placed.least_distance_m();
    let holds = match by.placed.distance() {
        Some((distance_m, doubt_m)) if distance_m + doubt_m <= -standoff.metres() => Tristate::Yes,
        _ if least_m.is_some_and(|least_m| least_m > standoff.metres()) => Tristate::No,
        _ => Tristate::Undecided,
    };
    // what may itself be displaced nearby is not followed any further
    let stands =
        if zones.overrides().over(by.placed.number).is_empty() { Tristate::Yes } else { Tristate::Undecided };
    holds.and(by.binding.in_force).and(by.binding.access).and(stands)
}

fn why(standing: &Standing<'_>) -> Reason {
    let placed = &standing.placed;
    let zone = placed.zone.name.clone();
    match (&placed.zone.extent, placed.distance()) {
        (_, Some((signed_distance_m, uncertainty_95_m))) => {
            Reason::WithinStandoff { zone, signed_distance_m, uncertainty_95_m }
        }
        (Extent::Unknown { reason, .. }, None) => {
            let why = reason.clone();
            match placed.least_distance_m() {
                Some(least_m) => Reason::PlaceUnknownNear { zone, why, least_m: least_m.max(0.0) },
                None => Reason::PlaceUnknown { zone, why },
            }
        }
        (Extent::Known(_), None) => Reason::LineUnknown { zone },
    }
}
