//! What a zone says, compared member by member.

use std::collections::HashMap;

use takeline::rule::{Access, Condition, Permit, Take};
use takeline::zone::{Datum, Override, Proofread, PublishedVertex, Status, Zone, ZoneSummary};

use super::change::{Change, Effect, FromTo, Told};
use super::fish::TwoCatalogues;
use super::permits::sorted;
use super::{effect, permits, times};

/// Everything that changed of a zone but its line; the fish are those of the two files.
pub(super) fn compare(old: &Zone, new: &Zone, catalogues: &TwoCatalogues<'_>) -> Vec<Told> {
    let mut told = Vec::new();
    in_force(old, new, &mut told);
    take(old, new, catalogues, &mut told);
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
    let (from, to) = (times::plain(&old.when), times::plain(&new.when));
    tell(told, (&from, &to), Change::Season, |from, to| proved(times::of_times(from, to)));
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
    let within = |one: &[Condition], other: &[Condition]| one.iter().all(|term| other.contains(term));
    if !(within(&from, &to) && within(&to, &from)) {
        let effect = effect::of_crossing(&from, &to);
        told.push(Told::new(Change::Crossing(FromTo { from, to }), effect));
    }
    let (from, to) = (sorted(&old.rule.conditions), sorted(&new.rule.conditions));
    tell(told, (&from, &to), Change::Conditions, |_, _| Effect::Undecided);
}

/// How one may cross; where the file does not say, nothing.
fn crossing(zone: &Zone) -> Vec<Condition> {
    if zone.rule.passage.is_none() { Vec::new() } else { ZoneSummary::from(zone).passage }
}

fn line(old: &Zone, new: &Zone, told: &mut Vec<Told>) {
    use takeline::zone::LineBelongs;
    tell(told, (&old.line_belongs, &new.line_belongs), Change::OnTheLine, |_, to| {
        let effect = match to {
            LineBelongs::ToZone => Effect::Stricter,
            LineBelongs::Outside => Effect::Looser,
        };
        unless_it_displaces(old, new, effect)
    });
    tell(told, (&old.line_uncertainty, &new.line_uncertainty), Change::LineUncertainty, |_, _| {
        Effect::Undecided
    });
    if !is_one_datum(&old.datum, &new.datum) {
        let both = FromTo { from: old.datum.clone(), to: new.datum.clone() };
        told.push(Told::new(Change::Datum(both), Effect::Undecided));
    }
    let name = |zone: &Zone| zone.time_zone.iana_name().map(str::to_owned);
    if !times::is_one_clock(&old.time_zone, &new.time_zone) {
        let both = FromTo { from: name(old), to: name(new) };
        told.push(Told::new(Change::TimeZone(both), Effect::Undecided));
    }
}

/// Whether two names are of one datum, however they are spelt.
fn is_one_datum(one: &Datum, other: &Datum) -> bool {
    let plain = |name: &str| -> String {
        name.chars().filter(|letter| letter.is_alphanumeric()).flat_map(char::to_lowercase).collect()
    };
    match (one, other) {
        (Datum::NearWgs84(one), Datum::NearWgs84(other)) => plain(one) == plain(other),
        _ => one == other,
    }
}

/// Adds what differs between two texts, blanks not counted.
fn tell_text(
    told: &mut Vec<Told>,
    (from, to): (Option<&String>, Option<&String>),
    change: impl FnOnce(FromTo<Option<String>>) -> Change,
    effect: Effect,
) {
    let blank = |text: Option<&String>| text.map(|text| without_blanks(text));
    if blank(from) != blank(to) {
        told.push(Told::new(change(FromTo { from: from.cloned(), to: to.cloned() }), effect));
    }
}

/// A text with single blanks where it has any, and none at its ends.
fn without_blanks(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The texts of positions, of those that only one edition has.
fn as_published(old: &Zone, new: &Zone, told: &mut Vec<Told>) {
    let texts = |zone: &Zone| -> Vec<(String, Option<String>)> {
        let text = |vertex: &PublishedVertex| (without_blanks(&vertex.text), vertex.point.clone());
        zone.as_published.iter().map(text).collect()
    };
    let (before, now) = (texts(old), texts(new));
    let only = |own: &[(String, Option<String>)], other: &[(String, Option<String>)]| {
        let mut left: HashMap<&(String, Option<String>), usize> = HashMap::new();
        for text in other {
            *left.entry(text).or_default() += 1;
        }
        let is_new = |text: &&(String, Option<String>)| match left.get_mut(*text) {
            Some(count) if *count > 0 => {
                *count -= 1;
                false
            }
            _ => true,
        };
        own.iter().filter(is_new).map(|(text, _)| text.clone()).collect::<Vec<_>>()
    };
    let (gone, came) = (only(&before, &now), only(&now, &before));
    let count = gone.len().max(came.len());
    if count > 0 {
        let first = FromTo { from: gone.into_iter().next(), to: came.into_iter().next() };
        told.push(Told::new(Change::AsPublished { count, first }, Effect::Reference));
    }
}

/// Who read the zone against the law, the names in one order.
fn proofread(zone: &Zone) -> Option<Proofread> {
    zone.proofread.clone().map(|read| Proofread { by: sorted(&read.by), ..read })
}

fn names_and_sources(old: &Zone, new: &Zone, told: &mut Vec<Told>) {
    let (before, now) = (&old.source, &new.source);
    // the words of the law changed; whether the members of the file followed them, nobody knows
    let quoted = (before.quoted_text.as_ref(), now.quoted_text.as_ref());
    tell_text(told, quoted, Change::QuotedText, Effect::Undecided);
    as_published(old, new, told);
    tell(told, (&proofread(old), &proofread(new)), Change::Proofread, |_, _| Effect::Reference);
    tell(told, (&old.id, &new.id), Change::Id, |_, _| Effect::Reference);
    tell(told, (&old.name, &new.name), Change::Name, |_, _| Effect::Reference);
    tell(told, (&before.instrument, &now.instrument), Change::Instrument, |_, _| Effect::Reference);
    tell(told, (&before.clause, &now.clause), Change::Clause, |_, _| Effect::Reference);
    tell(told, (&before.url, &now.url), Change::Url, |_, _| Effect::Reference);
    tell(told, (&before.retrieved, &now.retrieved), Change::Retrieved, |_, _| Effect::Reference);
    tell(told, (&before.licence, &now.licence), Change::Licence, |_, _| Effect::Reference);
}
