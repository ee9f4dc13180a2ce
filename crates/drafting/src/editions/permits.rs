//! Permissions and limits, paired by their fish and compared one by one.

use takeline::rule::{Bait, Limits, Permit, TaxonSet};

use super::change::{Change, Effect, FromTo, PermitOf, Told};
use super::fish::{SetChange, TwoCatalogues};
use super::{effect, times};

/// Compares two lists of permissions, or of limits.
pub(super) fn compare(
    (old, new): (&[Permit], &[Permit]),
    catalogues: &TwoCatalogues<'_>,
    is_limit: bool,
) -> Vec<Told> {
    let mut left: Vec<&Permit> = new.iter().collect();
    let mut told = Vec::new();
    let mut unpaired = Vec::new();
    let same_fish = |one: &Permit, other: &Permit| match (&one.taxa, &other.taxa) {
        (None, None) => true,
        (Some(one), Some(other)) => catalogues.change(one, other).is_none(),
        _ => false,
    };
    for permit in old {
        let of_fish = |other: &&Permit| same_fish(permit, other);
        let alike = left.iter().position(|other| of_fish(other) && fields_alike(permit, other));
        let Some(at) = alike.or_else(|| left.iter().position(of_fish)) else {
            unpaired.push(permit);
            continue;
        };
        told.extend(compare_one((permit, left.remove(at)), catalogues, is_limit));
    }
    // one that is left over on each side is the same with other fish, and so are two for a group of one name
    let name = |permit: &Permit, catalogue| permit_of(permit, catalogue, is_limit).fish;
    let (one_each, mut gone) = (unpaired.len() == 1 && left.len() == 1, Vec::new());
    for permit in unpaired {
        let named = name(permit, catalogues.old);
        let at = left.iter().position(|other| one_each || name(other, catalogues.new) == named);
        let pair = at.and_then(|at| Some((at, permit.taxa.as_ref()?, left[at].taxa.as_ref()?)));
        let Some((at, from, to)) = pair else {
            gone.push(permit);
            continue;
        };
        let now = left.remove(at);
        told.push(fish_changed((from, to), catalogues, Some((now, is_limit))));
        told.extend(compare_one((permit, now), catalogues, is_limit));
    }
    let removed = gone.into_iter().map(|permit| {
        let of = permit_of(permit, catalogues.old, is_limit);
        Told::new(Change::PermitRemoved { of }, effect::by_growth(!is_limit, is_limit))
    });
    let added = left.into_iter().map(|permit| {
        let of = permit_of(permit, catalogues.new, is_limit);
        Told::new(Change::PermitAdded { of }, effect::by_growth(is_limit, !is_limit))
    });
    told.extend(removed);
    told.extend(added);
    told
}

fn fields_alike(one: &Permit, other: &Permit) -> bool {
    times::plain(&one.when) == times::plain(&other.when)
        && one.limits == other.limits
        && one.clause == other.clause
}

/// What became of the fish of a permission, of a limit, or of what a zone excepts.
pub(super) fn fish_changed(
    (from, to): (&TaxonSet, &TaxonSet),
    catalogues: &TwoCatalogues<'_>,
    of: Option<(&Permit, bool)>,
) -> Told {
    let SetChange { added, removed, is_unclear } = catalogues.change(from, to);
    // more fish are more freedom, but in a limit, and in what is excepted
    let binds = of.is_none_or(|(_, is_limit)| is_limit);
    let grew = !added.is_empty() && removed.is_empty() && !is_unclear;
    let shrank = !removed.is_empty() && added.is_empty() && !is_unclear;
    let effect = effect::by_growth(grew, shrank);
    let of = of.map(|(permit, is_limit)| permit_of(permit, catalogues.new, is_limit));
    Told::new(Change::Fish { of, added, removed }, if binds { effect } else { effect.other_way() })
}

fn permit_of(permit: &Permit, catalogue: &takeline::rule::Catalogue, is_limit: bool) -> PermitOf {
    let names = permit.taxa.as_ref().map(|set| {
        let names = catalogue.set_names(set);
        let except = names.except.iter().map(|name| format!("but not {name}"));
        names.listed.iter().cloned().chain(except).collect()
    });
    PermitOf { fish: names, is_limit }
}

fn compare_one((old, new): (&Permit, &Permit), catalogues: &TwoCatalogues<'_>, is_limit: bool) -> Vec<Told> {
    let of = || permit_of(new, catalogues.new, is_limit);
    let (before, now) = (&old.limits, &new.limits);
    let mut told = Vec::new();
    if let Some(both) = FromTo::of(&times::plain(&old.when), &times::plain(&new.when)) {
        let longer = times::of_times(&both.from, &both.to);
        let effect = if is_limit { longer } else { longer.other_way() };
        told.push(Told::new(Change::PermitTimes(of(), both), effect));
    }
    if let Some(bag) = FromTo::of(&before.bag, &now.bag) {
        let effect = effect::of_bag(bag.from, bag.to);
        told.push(Told::new(Change::Bag(of(), bag), effect));
    }
    if let Some(size) = FromTo::of(&before.size, &now.size) {
        let effect = effect::of_size(size.from.as_ref(), size.to.as_ref());
        told.push(Told::new(Change::Size(of(), size), effect));
    }
    if let Some(gear) = FromTo::of(&sorted(&before.gear), &sorted(&now.gear)) {
        let effect = effect::of_gear(&gear.from, &gear.to);
        told.push(Told::new(Change::Gear(of(), gear), effect));
    }
    if let Some(gear) = FromTo::of(&sorted(&before.gear_forbidden), &sorted(&now.gear_forbidden)) {
        let effect = effect::of_gear_forbidden(&gear.from, &gear.to);
        told.push(Told::new(Change::GearForbidden(of(), gear), effect));
    }
    let bait = |limits: &Limits| limits.bait.as_ref().map(bait_in_order);
    if let Some(bait) = FromTo::of(&bait(before), &bait(now)) {
        let effect = effect::of_bait(bait.from.as_ref(), bait.to.as_ref());
        told.push(Told::new(Change::Bait(of(), bait), effect));
    }
    if let Some(words) = FromTo::of(&sorted(&before.conditions), &sorted(&now.conditions)) {
        told.push(Told::new(Change::PermitConditions(of(), words), Effect::Undecided));
    }
    if let Some(clause) = FromTo::of(&old.clause, &new.clause) {
        told.push(Told::new(Change::PermitClause(of(), clause), Effect::Reference));
    }
    told
}

fn bait_in_order(bait: &Bait) -> Bait {
    match bait {
        Bait::Only(list) => Bait::Only(sorted(list)),
        Bait::Not(list) => Bait::Not(sorted(list)),
    }
}

/// A list whose order says nothing, in one order.
pub(super) fn sorted<T: Ord + Clone>(list: &[T]) -> Vec<T> {
    let mut list = list.to_vec();
    list.sort();
    list.dedup();
    list
}
