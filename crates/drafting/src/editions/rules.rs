//! What a zone says, compared member by member.

use takeline::rule::{Access, Condition, Permit, Take};
use takeline::zone::{Override, Status, Zone, ZoneSummary};

use super::change::{Change, Effect, FromTo, Told};
use super::fish::TwoCatalogues;
use super::permits::sorted;
use super::{effect, permits};

/// Everything that changed of a zone but its line.
pub(super) fn compare(old: &Zone, new: &Zone) -> Vec<Told> {
    let catalogues = TwoCatalogues::of(&old.file.catalogue, &new.file.catalogue);
    let mut told = Vec::new();
    in_force(old, new, &mut told);
    take(old, new, &catalogues, &mut told);
    terms(old, new, &mut told);
    line(old, new, &mut told);
    names_and_sources(old, new, &mut told);
    told
}

/// Adds what differs between two values.
fn tell<T: PartialEq + Clone>(
    told: &mut Vec<Told>,
    (from, to): (&T, &T),
    change: impl FnOnce(FromTo<T>) -> Change,
    effect: impl FnOnce(&T, &T) -> Effect,
) {
    if let Some(both) = FromTo::of(from, to) {
        told.push(Told::new(change(both), effect(from, to)));
    }
}

/// A rule that displaces another may loosen by being in force: of such a rule nothing is proved.
fn unless_it_displaces(old: &Zone, new: &Zone, effect: Effect) -> Effect {
    let displaces = !old.overrides.is_empty() || !new.overrides.is_empty();
    if displaces { Effect::Undecided } else { effect }
}

fn in_force(old: &Zone, new: &Zone, told: &mut Vec<Told>) {
    let proved = |effect| unless_it_displaces(old, new, effect);
    tell(told, (&old.status, &new.status), Change::Status, |from, to| match (from, to) {
        (Status::InForce, _) => proved(Effect::Looser),
        (_, Status::InForce) => proved(Effect::Stricter),
        _ => Effect::Reference,
    });
    tell(told, (&old.effective, &new.effective), Change::Effective, |from, to| {
        proved(effect::of_effect(*from, *to))
    });
    tell(told, (&old.when, &new.when), Change::Season, |from, to| proved(effect::of_times(from, to)));
    let (from, to) = (access(&old.rule.binds), access(&new.rule.binds));
    tell(told, (&from, &to), Change::Binds, |from, to| proved(of_binds(from, to)));
    tell(told, (&old.may_change_by_notice, &new.may_change_by_notice), Change::ByNotice, |_, _| {
        Effect::Undecided
    });
    let (from, to) = (overrides(&old.overrides), overrides(&new.overrides));
    tell(told, (&from, &to), Change::Overrides, |_, _| Effect::Undecided);
}

fn access(list: &[Access]) -> Vec<Access> {
    [Access::Boat, Access::Shore, Access::Diving].into_iter().filter(|one| list.contains(one)).collect()
}

/// A list of nobody binds everybody.
fn of_binds(from: &[Access], to: &[Access]) -> Effect {
    let covers = |wide: &[Access], narrow: &[Access]| {
        wide.is_empty() || (!narrow.is_empty() && narrow.iter().all(|one| wide.contains(one)))
    };
    effect::by_growth(covers(to, from), covers(from, to))
}

fn overrides(list: &[Override]) -> Vec<Override> {
    let mut list = list.to_vec();
    list.sort_by(|one, two| (&one.zone, &one.clause).cmp(&(&two.zone, &two.clause)));
    list
}

fn take(old: &Zone, new: &Zone, catalogues: &TwoCatalogues<'_>, told: &mut Vec<Told>) {
    if let Some(effect) = effect::of_take(&old.rule.take, &new.rule.take) {
        let (from, to) = (old.rule.summary(catalogues.old), new.rule.summary(catalogues.new));
        told.push(Told::new(Change::Take(FromTo { from, to }), effect));
    }
    match (&old.rule.take, &new.rule.take) {
        (Take::Only(before), Take::Only(now)) => {
            told.extend(permits::compare((before, now), catalogues, false));
        }
        (Take::AllExcept(before), Take::AllExcept(now)) if !catalogues.change(before, now).is_none() => {
            told.push(permits::fish_changed((before, now), catalogues, None));
        }
        // what such permissions say is in what the zone says now or said before, beside each other on the page
        _ => {}
    }
    let limits: (&[Permit], &[Permit]) = (&old.rule.limits, &new.rule.limits);
    told.extend(permits::compare(limits, catalogues, true));
}

fn terms(old: &Zone, new: &Zone, told: &mut Vec<Told>) {
    tell(told, (&old.rule.possession, &new.rule.possession), Change::Possession, |from, to| {
        effect::of_possession(*from, *to)
    });
    let (from, to) = (crossing(old), crossing(new));
    tell(told, (&from, &to), Change::Crossing, |from, to| effect::of_crossing(from, to));
    let (from, to) = (sorted(&old.rule.conditions), sorted(&new.rule.conditions));
    tell(told, (&from, &to), Change::Conditions, |_, _| Effect::Undecided);
}

/// How one may cross; where the file does not say, nothing.
fn crossing(zone: &Zone) -> Vec<Condition> {
    if zone.rule.passage.is_none() { Vec::new() } else { ZoneSummary::from(zone).passage }
}

fn line(old: &Zone, new: &Zone, told: &mut Vec<Told>) {
    use takeline::zone::LineBelongs;
    tell(told, (&old.line_belongs, &new.line_belongs), Change::OnTheLine, |_, to| match to {
        LineBelongs::ToZone => Effect::Stricter,
        LineBelongs::Outside => Effect::Looser,
    });
    tell(told, (&old.line_uncertainty, &new.line_uncertainty), Change::LineUncertainty, |_, _| {
        Effect::Undecided
    });
    tell(told, (&old.datum, &new.datum), Change::Datum, |_, _| Effect::Undecided);
    let name = |zone: &Zone| zone.time_zone.iana_name().map(str::to_owned);
    if old.time_zone != new.time_zone {
        let both = FromTo { from: name(old), to: name(new) };
        told.push(Told::new(Change::TimeZone(both), Effect::Undecided));
    }
}

fn names_and_sources(old: &Zone, new: &Zone, told: &mut Vec<Told>) {
    let (before, now) = (&old.source, &new.source);
    // the words of the law changed; whether the members of the file followed them, nobody knows
    tell(told, (&before.quoted_text, &now.quoted_text), Change::QuotedText, |_, _| Effect::Undecided);
    tell(told, (&old.id, &new.id), Change::Id, |_, _| Effect::Reference);
    tell(told, (&old.name, &new.name), Change::Name, |_, _| Effect::Reference);
    tell(told, (&before.instrument, &now.instrument), Change::Instrument, |_, _| Effect::Reference);
    tell(told, (&before.clause, &now.clause), Change::Clause, |_, _| Effect::Reference);
    tell(told, (&before.url, &now.url), Change::Url, |_, _| Effect::Reference);
    tell(told, (&before.retrieved, &now.retrieved), Change::Retrieved, |_, _| Effect::Reference);
    tell(told, (&before.licence, &now.licence), Change::Licence, |_, _| Effect::Reference);
}
