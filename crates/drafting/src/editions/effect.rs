//! Stricter or looser? Only what can be proved; everything else is undecided.

use takeline::Tristate;
use takeline::rule::{Bag, Bait, Condition, Gear, GearAllowance, Possession, Size, Take};
use takeline::zone::Effective;

use super::change::Effect;

/// Which way something went, where more of it is less freedom.
pub(super) fn by_growth(grew: bool, shrank: bool) -> Effect {
    match (grew, shrank) {
        (true, false) => Effect::Stricter,
        (false, true) => Effect::Looser,
        (true, true) | (false, false) => Effect::Undecided,
    }
}

impl Effect {
    pub(super) const fn other_way(self) -> Self {
        match self {
            Self::Stricter => Self::Looser,
            Self::Looser => Self::Stricter,
            Self::Undecided | Self::Reference => self,
        }
    }
}

/// What a rule does that has effect over another span.
pub(super) fn of_effect(from: Effective, to: Effective) -> Effect {
    let earlier = |one: &Effective, other: &Effective| match (one.from, other.from) {
        (None, _) => true,
        (Some(_), None) => false,
        (Some(one), Some(other)) => one <= other,
    };
    let later = |one: &Effective, other: &Effective| match (one.until, other.until) {
        (None, _) => true,
        (Some(_), None) => false,
        (Some(one), Some(other)) => one >= other,
    };
    let covers = |wide: &Effective, narrow: &Effective| earlier(wide, narrow) && later(wide, narrow);
    by_growth(covers(&to, &from), covers(&from, &to))
}

/// What a take rule does that is of another kind; none where it is of the same.
pub(super) fn of_take(from: &Take, to: &Take) -> Option<Effect> {
    use Take::{AllExcept, Anything, Nothing, Only};
    let is_nothing =
        |take: &Take| matches!(take, Nothing) || matches!(take, Only(permits) if permits.is_empty());
    match (from, to) {
        (from, to) if is_nothing(from) && is_nothing(to) => None,
        (_, to) if is_nothing(to) => Some(Effect::Stricter),
        (from, _) if is_nothing(from) => Some(Effect::Looser),
        (Only(_), Only(_)) | (AllExcept(_), AllExcept(_)) | (Anything, Anything) => None,
        (Anything, _) => Some(Effect::Stricter),
        (_, Anything) => Some(Effect::Looser),
        (Only(_) | AllExcept(_) | Nothing, Only(_) | AllExcept(_) | Nothing) => Some(Effect::Undecided),
    }
}

pub(super) fn of_bag(from: Option<Bag>, to: Option<Bag>) -> Effect {
    match (from, to) {
        (None, Some(_)) => Effect::Stricter,
        (Some(_), None) => Effect::Looser,
        (Some(from), Some(to)) if from.per == to.per => {
            by_growth(to.count < from.count, to.count > from.count)
        }
        (Some(from), Some(to)) => by_growth(to.count == 0 && from.count > 0, from.count == 0 && to.count > 0),
        (None, None) => Effect::Undecided,
    }
}

pub(super) fn of_size(from: Option<&Size>, to: Option<&Size>) -> Effect {
    match (from, to) {
        (None, Some(_)) => Effect::Stricter,
        (Some(_), None) => Effect::Looser,
        (Some(from), Some(to)) if from.measure == to.measure => {
            let least = |size: &Size| size.min_cm.unwrap_or(0.0);
            let most = |size: &Size| size.max_cm.unwrap_or(f64::INFINITY);
            let within =
                |narrow: &Size, wide: &Size| least(narrow) >= least(wide) && most(narrow) <= most(wide);
            by_growth(within(to, from), within(from, to))
        }
        (Some(_), Some(_)) | (None, None) => Effect::Undecided,
    }
}

fn is_named(gear: &Gear, among: &[Gear]) -> bool {
    among.iter().any(|other| other.0.trim().to_lowercase() == gear.0.trim().to_lowercase())
}

pub(super) fn of_gear_forbidden(from: &[Gear], to: &[Gear]) -> Effect {
    by_growth(from.iter().all(|gear| is_named(gear, to)), to.iter().all(|gear| is_named(gear, from)))
}

/// What a list of allowed gear does; an empty list allows any.
pub(super) fn of_gear(from: &[GearAllowance], to: &[GearAllowance]) -> Effect {
    let allows_all = |wide: &[GearAllowance], narrow: &[GearAllowance]| {
        wide.is_empty()
            || (!narrow.is_empty() && narrow.iter().all(|one| wide.iter().any(|other| allows(other, one))))
    };
    by_growth(allows_all(from, to), allows_all(to, from))
}

/// Whether an allowance lets everything be used that another does.
fn allows(wide: &GearAllowance, narrow: &GearAllowance) -> bool {
    let no_fewer = |wide: Option<u32>, narrow: Option<u32>| match (wide, narrow) {
        (None, _) => true,
        (Some(wide), Some(narrow)) => wide >= narrow,
        (Some(_), None) => false,
    };
    is_named(&narrow.kind, std::slice::from_ref(&wide.kind))
        && no_fewer(wide.max_lines, narrow.max_lines)
        && no_fewer(wide.max_hooks, narrow.max_hooks)
        && (wide.note.is_none() || wide.note == narrow.note)
}

pub(super) fn of_bait(from: Option<&Bait>, to: Option<&Bait>) -> Effect {
    let key = |text: &String| text.trim().to_lowercase();
    let within = |narrow: &[String], wide: &[String]| {
        narrow.iter().all(|bait| wide.iter().any(|other| key(other) == key(bait)))
    };
    match (from, to) {
        (None, Some(_)) => Effect::Stricter,
        (Some(_), None) => Effect::Looser,
        (Some(Bait::Only(from)), Some(Bait::Only(to))) => by_growth(within(to, from), within(from, to)),
        (Some(Bait::Not(from)), Some(Bait::Not(to))) => by_growth(within(from, to), within(to, from)),
        (Some(_), Some(_)) | (None, None) => Effect::Undecided,
    }
}

pub(super) fn of_possession(from: Possession, to: Possession) -> Effect {
    use Possession::{Allowed, AsTake, Forbidden, Unstated, WhileCrossing};
    match (from, to) {
        // what a file leaves unsaid may be either
        (Unstated, _) | (_, Unstated) | (WhileCrossing | AsTake, WhileCrossing | AsTake) => Effect::Undecided,
        (_, Forbidden) | (Allowed, _) => Effect::Stricter,
        (Forbidden, _) | (_, Allowed) => Effect::Looser,
    }
}

/// What the terms of crossing do: those that are the same are left out, and each of the others has to point the same way.
pub(super) fn of_crossing(from: &[Condition], to: &[Condition]) -> Effect {
    let allows = |terms: &[Condition]| {
        terms.iter().find_map(|term| {
            let Condition::Crossing { allowed, .. } = term else { return None };
            Some(*allowed)
        })
    };
    // how one may cross means nothing where nobody may
    match (allows(from), allows(to)) {
        (Some(Tristate::Yes), Some(Tristate::No)) => return Effect::Stricter,
        (Some(Tristate::No), Some(Tristate::Yes)) => return Effect::Looser,
        _ => {}
    }
    let gone: Vec<&Condition> = from.iter().filter(|one| !to.contains(one)).collect();
    let new: Vec<&Condition> = to.iter().filter(|one| !from.contains(one)).collect();
    let mut effects: Vec<Effect> = Vec::new();
    for one in &gone {
        let other = new.iter().find(|other| other.code() == one.code());
        effects.push(other.map_or_else(|| by_growth(false, asks(one)), |other| of_term(one, other)));
    }
    let only_new = new.iter().filter(|one| !gone.iter().any(|other| other.code() == one.code()));
    effects.extend(only_new.map(|one| by_growth(asks(one), false)));
    let all = |effect: Effect| !effects.is_empty() && effects.iter().all(|one| *one == effect);
    by_growth(all(Effect::Stricter), all(Effect::Looser))
}

/// Whether a term surely asks something of a boat.
fn asks(term: &Condition) -> bool {
    matches!(
        term,
        Condition::GearState { .. }
            | Condition::KeepGoing
            | Condition::MinSpeed { .. }
            | Condition::MaxStop { .. }
            | Condition::NoAnchoringOnTheWay
            | Condition::Anchoring { allowed: Tristate::No }
    )
}

fn of_term(from: &Condition, to: &Condition) -> Effect {
    match (from, to) {
        (Condition::MinSpeed { speed_kn: from }, Condition::MinSpeed { speed_kn: to }) => {
            by_growth(to > from, to < from)
        }
        (Condition::MaxStop { stop_min: from }, Condition::MaxStop { stop_min: to }) => {
            by_growth(to < from, to > from)
        }
        (Condition::Crossing { allowed: from, .. }, Condition::Crossing { allowed: to, .. })
        | (Condition::Anchoring { allowed: from }, Condition::Anchoring { allowed: to }) => by_growth(
            *from == Tristate::Yes && *to == Tristate::No,
            *from == Tristate::No && *to == Tristate::Yes,
        ),
        _ => Effect::Undecided,
    }
}
