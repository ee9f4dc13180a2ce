//! What the water is under, all zones together.

use super::located_zone::LocatedZone;
use super::{Reason, WaterStatus};
use crate::binding::{BindingZone, ZoneHere};
use crate::rule::Take;
use crate::zone::Extent;
use crate::{Containment, Tristate};

/// A zone at a fix, and whether its rule binds there and then.
#[derive(Debug, Clone)]
pub(super) struct Standing<'a> {
    pub(super) placed: LocatedZone<'a>,
    pub(super) binding: BindingZone,
}

impl Standing<'_> {
    pub(super) fn binds(&self) -> Tristate {
        self.binding.binds
    }

    /// Whether nothing may be taken wherever the boat is inside the zone: its rule is surely in force, binds the access and is
    /// not displaced.
    pub(super) fn may_close(&self) -> bool {
        self.closes() && self.may_hold()
    }

    /// Whether its rule binds wherever the boat is inside the zone, and it may be inside.
    pub(super) fn may_hold(&self) -> bool {
        let holds = self.binding.in_force.and(self.binding.access).and(self.binding.displaced.negated());
        holds == Tristate::Yes && self.placed.side != Containment::Outside
    }

    fn name(&self) -> String {
        self.placed.zone.name.clone()
    }

    fn closes(&self) -> bool {
        self.placed.zone.rule.take == Take::Nothing
    }
}

/// Puts the zones at a fix beside the judgement of what binds there.
pub(super) fn standings(
    placed: Vec<LocatedZone<'_>>,
    bind: impl Fn(&[ZoneHere]) -> Vec<BindingZone>,
) -> Vec<Standing<'_>> {
    let here: Vec<ZoneHere> = placed.iter().map(LocatedZone::here).collect();
    let bound = bind(&here);
    placed.into_iter().zip(bound).map(|(placed, binding)| Standing { placed, binding }).collect()
}

/// The hardest thing that surely holds, unless something harder may hold.
pub(super) fn water(standings: &[Standing<'_>]) -> (WaterStatus, Vec<Reason>) {
    let restricting = || standings.iter().filter(|standing| !standing.placed.zone.rule.restricts_nothing());
    let that = |binds: Tristate| restricting().filter(move |standing| standing.binds() == binds);
    let closing: Vec<Reason> = that(Tristate::Yes)
        .filter(|standing| standing.closes())
        .map(|standing| Reason::ZoneCloses { zone: standing.name() })
        .collect();
    if !closing.is_empty() {
        return (WaterStatus::Closed, closing);
    }
    let surely_limited = that(Tristate::Yes).next().is_some();
    let perhaps: Vec<_> =
        that(Tristate::Undecided).filter(|standing| standing.closes() || !surely_limited).collect();
    if !perhaps.is_empty() {
        return (WaterStatus::Undecided, perhaps.into_iter().flat_map(why_undecided).collect());
    }
    if surely_limited {
        let restricts = |standing: &Standing<'_>| Reason::ZoneRestricts {
            zone: standing.name(),
            rule: standing.placed.zone.rule.summary(&standing.placed.zone.file.catalogue),
        };
        return (WaterStatus::Restricted, that(Tristate::Yes).map(restricts).collect());
    }
    let open = standings.iter().filter(|standing| standing.binds() == Tristate::Yes);
    let mut because: Vec<Reason> =
        open.map(|standing| Reason::ZoneRestrictsNothing { zone: standing.name() }).collect();
    if because.is_empty() {
        because.push(Reason::NoZoneApplies);
    }
    (WaterStatus::Unzoned, because)
}

fn why_undecided(standing: &Standing<'_>) -> Vec<Reason> {
    let placed = &standing.placed;
    let zone = || standing.name();
    let mut reasons = Vec::new();
    if placed.side == Containment::Undecided {
        reasons.push(match (&placed.zone.extent, placed.distance()) {
            (Extent::Unknown { reason, .. }, _) => Reason::PlaceUnknown { zone: zone(), why: reason.clone() },
            (_, Some((signed_distance_m, uncertainty_95_m))) => {
                Reason::LineWithinDoubt { zone: zone(), signed_distance_m, uncertainty_95_m }
            }
            _ => Reason::LineUnknown { zone: zone() },
        });
    }
    let binding = &standing.binding;
    if binding.in_force == Tristate::Undecided {
        reasons.push(Reason::InForceUnsettled { zone: zone(), why: binding.in_force_because.clone() });
    }
    if binding.access == Tristate::Undecided {
        reasons.push(Reason::AccessUnsaid { zone: zone() });
    }
    if binding.displaced == Tristate::Undecided {
        reasons.push(Reason::DisplacementUnsettled { zone: zone() });
    }
    reasons
}
