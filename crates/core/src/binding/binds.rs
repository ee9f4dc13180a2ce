//! Which of the rules at a place bind at one moment.

use std::collections::HashMap;

use jiff::Timestamp;

use super::{InForce, Moment, Reason};
use crate::Tristate;
use crate::rule::Access;
use crate::zone::{Zone, ZoneSet};

/// A zone that may matter at a place: whether the place is inside it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ZoneHere {
    /// The zone's place in [`ZoneSet::zones`].
    pub number: usize,
    /// Whether the place is inside, its doubt counted.
    pub inside: Tristate,
}

/// A zone whose rule displaces another one's, or may.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Displacement {
    /// The zone that displaces: its place in [`ZoneSet::zones`].
    pub by: usize,
    /// The clause that says so.
    pub clause: String,
    /// Whether it does: yes where its own rule surely binds; undecided where that is not settled, or where the id that it
    /// cites fits zones of several other files. Never no.
    pub certainty: Tristate,
}

/// Whether a zone's rule binds, and each thing that this hangs on.
#[derive(Debug, Clone, PartialEq)]
pub struct BindingZone {
    /// The zone's place in [`ZoneSet::zones`].
    pub number: usize,
    /// Whether the place is inside it.
    pub inside: Tristate,
    /// Whether its rule is in force.
    pub in_force: Tristate,
    /// Why.
    pub in_force_because: Vec<Reason>,
    /// Whether its rule binds the access asked about.
    pub access: Tristate,
    /// Whether another rule displaces it here and now.
    pub displaced: Tristate,
    /// Which rules do, or may.
    pub displaced_by: Vec<Displacement>,
    /// Whether its rule binds: inside, in force, for this access, and not displaced.
    pub binds: Tristate,
}

impl ZoneSet {
    /// Answers which of the zones at a place bind at a moment, for a way of getting at the fish.
    ///
    /// `here` lists the zones that the place may be inside of, each once; the rest of the set counts as surely outside. The
    /// answer has one entry for each, in the same order. A number that the set does not have is left out.
    ///
    /// # Edge cases
    ///
    /// A rule that is itself displaced, or does not bind the access, displaces nothing. Undecided goes on: a rule that may
    /// bind may displace, and what it may displace may bind. Zones that displace each other in a circle stay undecided,
    /// unless one of them surely does not bind and so opens it. Without a time, rules with a season are undecided; without an
    /// access, rules that bind only some are.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::{Tristate, ZoneSet, binding::ZoneHere, rule::Access};
    ///
    /// let file = br#"{ "type": "FeatureCollection",
    ///   "takeline": { "format": "takeline.zones/1", "datum": "WGS 84" },
    ///   "features": [
    ///     { "type": "Feature", "id": "reserve", "geometry": { "type": "Point", "coordinates": [-30.13, 45.11] },
    ///       "properties": { "radius_m": 900, "take": "none", "source": { "instrument": "Marrowick Order 3" } } },
    ///     { "type": "Feature", "id": "lane", "geometry": { "type": "Point", "coordinates": [-30.13, 45.11] },
    ///       "properties": { "radius_m": 200, "take": "anything", "binds": ["shore"],
    ///                       "overrides": [ { "zone": "reserve", "clause": "clause 6" } ],
    ///                       "source": { "instrument": "Marrowick Order 3" } } } ] }"#;
    /// let zones = ZoneSet::new(takeline::zone_file::read("marrowick.json", file)?.zones);
    /// let here = [0, 1].map(|number| ZoneHere { number, inside: Tristate::Yes });
    /// // the lane is for those on the shore: from a boat the reserve stays as it is
    /// let binds = |access| zones.binding_zones(&here, None, access).iter().map(|zone| zone.binds).collect::<Vec<_>>();
    /// assert_eq!(binds(Some(Access::Boat)), [Tristate::Yes, Tristate::No]);
    /// assert_eq!(binds(Some(Access::Shore)), [Tristate::No, Tristate::Yes]);
    /// assert_eq!(binds(None), [Tristate::Undecided, Tristate::Undecided]);
    /// # Ok::<(), takeline::zone_file::LoadZonesError>(())
    /// ```
    #[must_use]
    pub fn binding_zones(
        &self,
        here: &[ZoneHere],
        time: Option<Timestamp>,
        access: Option<Access>,
    ) -> Vec<BindingZone> {
        self.binding_at(here, &Moment::new(time), access)
    }

    /// As [`Self::binding_zones`], at a moment that knows why it has no time, where it has none.
    pub(crate) fn binding_at(
        &self,
        here: &[ZoneHere],
        moment: &Moment,
        access: Option<Access>,
    ) -> Vec<BindingZone> {
        bind(self, here, access, |_, zone| moment.in_force_until(zone))
    }
}

impl ZoneSet {
    /// The zones of the set whose rule may bind somebody somewhere at a moment, from wherever they fish: by their places.
    ///
    /// What another rule displaces at some places binds at others, so it is among them.
    #[cfg(feature = "transit")]
    pub(crate) fn may_bind_somewhere(&self, time: Option<Timestamp>) -> Vec<usize> {
        let anywhere = |number| ZoneHere { number, inside: Tristate::Undecided };
        let here: Vec<ZoneHere> = (0..self.zones().len()).map(anywhere).collect();
        let moment = Moment::new(time);
        let bound = bind(self, &here, None, |_, zone| moment.in_force(zone));
        bound.into_iter().filter(|one| one.binds != Tristate::No).map(|one| one.number).collect()
    }
}

/// The zones here, with whether they bind; `in_force` says whether a zone's rule is, by its place in the set.
pub(crate) fn bind(
    zones: &ZoneSet,
    here: &[ZoneHere],
    access: Option<Access>,
    in_force: impl Fn(usize, &Zone) -> InForce,
) -> Vec<BindingZone> {
    let judged = |one: &ZoneHere| {
        let zone = zones.zones().get(one.number)?;
        let InForce { answer: in_force, because: in_force_because } = in_force(one.number, zone);
        Some(BindingZone {
            number: one.number,
            inside: one.inside,
            in_force,
            in_force_because,
            access: zone.rule.binding(access),
            displaced: Tristate::No,
            displaced_by: Vec::new(),
            binds: Tristate::No,
        })
    };
    let mut judged: Vec<BindingZone> = here.iter().filter_map(judged).collect();
    settle(zones, &mut judged);
    judged
}

impl BindingZone {
    /// Whether its rule would bind if nothing displaced it.
    fn reaches(&self) -> Tristate {
        self.inside.and(self.in_force).and(self.access)
    }
}

/// Settles what displaces what.
///
/// Everything begins undecided and is decided only by what is decided already, until nothing changes: the least fixed point
/// in Kleene's logic, which is the order of the law where there is one and undecided where there is none.
fn settle(zones: &ZoneSet, judged: &mut [BindingZone]) {
    let graph = zones.overrides();
    let place: HashMap<usize, usize> = judged.iter().enumerate().map(|(at, one)| (one.number, at)).collect();
    let mut linked: Vec<usize> = Vec::new();
    for (at, one) in judged.iter_mut().enumerate() {
        if graph.over(one.number).is_empty() {
            one.binds = one.reaches();
        } else {
            one.displaced = Tristate::Undecided;
            one.binds = one.reaches().and(Tristate::Undecided);
            linked.push(at);
        }
    }
    // in this order one pass settles all but circles
    linked.sort_by_key(|at| (graph.turn(judged[*at].number), *at));
    let mut changed = true;
    while changed {
        changed = false;
        for at in &linked {
            let number = judged[*at].number;
            let displacing = graph.over(number).iter().map(|link| {
                let by = place.get(&link.by).map_or(Tristate::No, |by| judged[*by].binds);
                by.and(link.certainty)
            });
            let displaced = Tristate::any(displacing);
            if displaced != judged[*at].displaced {
                let one = &mut judged[*at];
                one.displaced = displaced;
                one.binds = one.reaches().and(displaced.negated());
                changed = true;
            }
        }
    }
    for at in linked {
        judged[at].displaced_by = displacements(zones, judged[at].number, |by| {
            place.get(&by).map_or(Tristate::No, |by| judged[*by].binds)
        });
    }
}

fn displacements(zones: &ZoneSet, number: usize, binds: impl Fn(usize) -> Tristate) -> Vec<Displacement> {
    let said = |link: &crate::zone::Link| {
        let certainty = binds(link.by).and(link.certainty);
        let cited = zones.zones().get(link.by)?.overrides.get(link.citation)?;
        let clause = cited.clause.clone();
        (certainty != Tristate::No).then_some(Displacement { by: link.by, clause, certainty })
    };
    zones.overrides().over(number).iter().filter_map(said).collect()
}
