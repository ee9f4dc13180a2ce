//! What the water is under, all zones together.

use super::WaterStatus;
use super::located_zone::LocatedZone;
use crate::binding::{BindingZone, ZoneHere};
use crate::rule::Take;
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
pub(super) fn water(standings: &[Standing<'_>]) -> (WaterStatus, Vec<String>) {
    let restricting = || standings.iter().filter(|standing| !standing.placed.zone.rule.restricts_nothing());
    let that = |binds: Tristate| restricting().filter(move |standing| standing.binds() == binds);
    let named = |standing: &Standing<'_>, words: &str| format!("{}: {words}", standing.placed.zone.name);
    let closing: Vec<_> = that(Tristate::Yes).filter(|standing| standing.closes()).collect();
    if !closing.is_empty() {
        return (
            WaterStatus::Closed,
            closing.iter().map(|standing| named(standing, "nothing may be taken")).collect(),
        );
    }
    let surely_limited = that(Tristate::Yes).next().is_some();
    let perhaps: Vec<_> =
        that(Tristate::Undecided).filter(|standing| standing.closes() || !surely_limited).collect();
    if !perhaps.is_empty() {
        return (WaterStatus::Undecided, perhaps.into_iter().flat_map(why_undecided).collect());
    }
    if surely_limited {
        let rule = |standing: &Standing<'_>| {
            let zone = standing.placed.zone;
            named(standing, &zone.rule.describe(&zone.file.catalogue))
        };
        return (WaterStatus::Restricted, that(Tristate::Yes).map(rule).collect());
    }
    let open = standings.iter().filter(|standing| standing.binds() == Tristate::Yes);
    let open: Vec<String> =
        open.map(|standing| named(standing, "its rule restricts nothing; other rules may")).collect();
    if !open.is_empty() {
        return (WaterStatus::Unzoned, open);
    }
    (WaterStatus::Unzoned, vec!["no loaded zone applies here; other rules may".to_owned()])
}

fn why_undecided(standing: &Standing<'_>) -> Vec<String> {
    let placed = &standing.placed;
    let name = &placed.zone.name;
    let mut reasons = Vec::new();
    if placed.side == Containment::Undecided {
        reasons.push(match (&placed.zone.extent, placed.distance()) {
            (crate::zone::Extent::Unknown { reason, .. }, _) => {
                format!("{name}: where it lies is not known here ({reason})")
            }
            (_, Some((distance_m, doubt_m))) => format!(
                "{name}: its line is {:.0} m off and the doubt is {:.0} m",
                distance_m.abs(),
                doubt_m.ceil()
            ),
            _ => format!("{name}: its line is not known here"),
        });
    }
    let binding = &standing.binding;
    if binding.in_force == Tristate::Undecided {
        let why = binding.in_force_because.join("; ");
        reasons.push(format!("{name}: whether it is in force is not settled: {why}"));
    }
    if binding.access == Tristate::Undecided {
        reasons.push(format!("{name}: it binds only some ways of fishing, and which is yours is not known"));
    }
    if binding.displaced == Tristate::Undecided {
        reasons.push(format!("{name}: whether the rule of another zone displaces it here is not settled"));
    }
    reasons
}
