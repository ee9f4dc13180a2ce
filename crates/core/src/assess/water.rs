//! What the water is under, all zones together.

use super::Water;
use super::place::Placed;
use crate::rule::{Circumstances, Take};
use crate::{Containment, Kleene};

/// What one zone does here: whether it applies, displaced zones and other people's rules left out, and how hard.
#[derive(Debug, Clone)]
pub(super) struct Standing<'a> {
    pub(super) placed: Placed<'a>,
    pub(super) applies: Kleene,
    /// The zones that displace it here, each with its citation.
    pub(super) displaced_by: Vec<String>,
}

impl Standing<'_> {
    fn closes(&self) -> bool {
        self.placed.zone.rule.take == Take::Nothing
    }
}

/// Settles which zones apply: a zone that surely applies displaces those it cites.
pub(super) fn standings<'a>(placed: Vec<Placed<'a>>, circumstances: &Circumstances) -> Vec<Standing<'a>> {
    let mut displaced: Vec<Vec<String>> = vec![Vec::new(); placed.len()];
    for over in placed.iter().filter(|over| over.applies() == Kleene::Yes) {
        for cited in &over.zone.overrides {
            for (at, under) in placed.iter().enumerate() {
                let same_file = under.zone.file.sha256 == over.zone.file.sha256;
                if same_file && under.zone.id == cited.zone && under.zone.id != over.zone.id {
                    displaced[at].push(format!("displaced here by {} ({})", over.zone.name, cited.clause));
                }
            }
        }
    }
    placed
        .into_iter()
        .zip(displaced)
        .map(|(placed, displaced_by)| {
            let applies = if displaced_by.is_empty() {
                placed.applies().and(placed.zone.rule.binding(circumstances.access))
            } else {
                Kleene::No
            };
            Standing { placed, applies, displaced_by }
        })
        .collect()
}

/// The hardest thing that surely holds, unless something harder may hold.
pub(super) fn water(standings: &[Standing<'_>]) -> (Water, Vec<String>) {
    let that = |applies: Kleene| standings.iter().filter(move |standing| standing.applies == applies);
    let named = |standing: &Standing<'_>, words: &str| format!("{}: {words}", standing.placed.zone.name);
    let closing: Vec<_> = that(Kleene::Yes).filter(|standing| standing.closes()).collect();
    if !closing.is_empty() {
        return (
            Water::Closed,
            closing.iter().map(|standing| named(standing, "nothing may be taken")).collect(),
        );
    }
    let surely_limited = that(Kleene::Yes).next().is_some();
    let perhaps: Vec<_> =
        that(Kleene::Undecided).filter(|standing| standing.closes() || !surely_limited).collect();
    if !perhaps.is_empty() {
        return (Water::Undecided, perhaps.into_iter().flat_map(why_undecided).collect());
    }
    if surely_limited {
        let rule = |standing: &Standing<'_>| {
            let zone = standing.placed.zone;
            named(standing, &zone.rule.describe(&zone.file.catalogue))
        };
        return (Water::Limited, that(Kleene::Yes).map(rule).collect());
    }
    (Water::NoLoadedZone, vec!["no loaded zone applies here; other rules may".to_owned()])
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
    if placed.in_force == Kleene::Undecided {
        reasons.push(format!(
            "{name}: whether it is in force is not settled: {}",
            placed.in_force_because.join("; ")
        ));
    }
    if reasons.is_empty() {
        reasons.push(format!("{name}: it binds only some ways of fishing, and which is yours is not known"));
    }
    reasons
}
