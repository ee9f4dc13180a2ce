//! What may be wrong with a take rule as a file gives it.

use super::allowance::same_gear;
use super::{Catalogue, CatalogueFault, Limits, Passage, Permit, Size, Take, TakeRule};

impl TakeRule {
    /// Returns what is wrong with the rule: fish that the file does not have, sizes and speeds that are no numbers or
    /// exclude everything, gear that is allowed and forbidden at once.
    ///
    /// Places read "permission 2", "limit 1", "exceptions", "passage", counted from 1 in file order.
    #[must_use]
    pub fn faults(&self, catalogue: &Catalogue) -> Vec<CatalogueFault> {
        let mut faults = Vec::new();
        match &self.take {
            Take::Only(permits) => faults.extend(permit_faults(permits, "permission", catalogue)),
            Take::AllExcept(set) => faults.extend(catalogue.set_faults(set, "exceptions")),
            Take::Nothing | Take::Anything => {}
        }
        faults.extend(permit_faults(&self.limits, "limit", catalogue));
        faults.extend(self.passage.iter().flat_map(passage_faults));
        faults
    }
}

fn permit_faults(permits: &[Permit], kind: &str, catalogue: &Catalogue) -> Vec<CatalogueFault> {
    let mut faults = Vec::new();
    for (index, permit) in permits.iter().enumerate() {
        let place = format!("{kind} {}", index + 1);
        if let Some(set) = &permit.taxa {
            faults.extend(catalogue.set_faults(set, &place));
        }
        faults.extend(permit.limits.size.as_ref().and_then(|size| size_fault(size, &place)));
        faults.extend(gear_faults(&permit.limits, &place));
    }
    faults
}

fn size_fault(size: &Size, place: &str) -> Option<CatalogueFault> {
    let odd = [size.min_cm, size.max_cm].into_iter().flatten().find(|cm| !cm.is_finite() || *cm < 0.0);
    if let Some(cm) = odd {
        let what = format!("a size of {cm} cm is not possible");
        return Some(CatalogueFault::new(place, what, "give centimetres, 0 or more"));
    }
    match (size.min_cm, size.max_cm) {
        (Some(min), Some(max)) if min > max => {
            let what = format!("the smallest size, {min} cm, is above the largest, {max} cm");
            Some(CatalogueFault::new(place, what, "swap the two, or correct one of them"))
        }
        _ => None,
    }
}

fn gear_faults(limits: &Limits, place: &str) -> Vec<CatalogueFault> {
    let allowed = limits.gear.iter().map(|gear| &gear.kind);
    let twice =
        allowed.filter(|kind| limits.gear_forbidden.iter().any(|forbidden| same_gear(forbidden, kind)));
    twice
        .map(|kind| {
            let what = format!("{kind} is both allowed and forbidden");
            CatalogueFault::new(place, what, "take it out of one of the two lists")
        })
        .collect()
}

fn passage_faults(passage: &Passage) -> Vec<CatalogueFault> {
    let numbers =
        [("lowest speed", passage.min_speed_kn, "kn"), ("longest stop", passage.max_stop_min, "min")];
    let odd = numbers.into_iter().filter_map(|(name, number, unit)| {
        let number = number.filter(|number| !number.is_finite() || *number < 0.0)?;
        let what = format!("a {name} of {number} {unit} is not possible");
        Some(CatalogueFault::new("passage", what, "give a number of 0 or more"))
    });
    odd.collect()
}
