//! Bag limits over the rows of a log.
//!
//! Each limit of each zone counts the fish that it speaks of and that were kept where it applies, per person or boat and
//! per local day. A row that goes over is judged again with that limit spent: another permission may still allow it.

use std::collections::BTreeMap;

use jiff::Timestamp;
use jiff::civil::Date;

use super::judge::{Judged, allowed};
use crate::assess::FishNames;
use crate::rule::{Bag, BagPer, Permit, Take, TakeRule};
use crate::track::{BagNote, BagUnknown, Reason, Remedy};
use crate::zone::{Zone, ZoneSet};
use crate::{TakeAnswer, Tristate};

/// A permit or limit of a rule, by its place: permits of "only" first, then limits.
type Slot = usize;

/// A row against one zone's limits.
type Notes = Vec<(Slot, BagNote)>;

/// The rows that are held against one limit.
type Subjects = BTreeMap<usize, Counted>;

/// Adds the bag notes and lowers the answers of rows that go over.
pub(super) fn count(zones: &ZoneSet, names: &FishNames<'_>, judged: &mut [Judged<'_>]) {
    let ledgers = ledgers(zones, names, judged);
    for row in 0..judged.len() {
        let with_bags = of_row(zones, &ledgers, (row, judged));
        for (zone_number, (applies, notes)) in with_bags {
            let zone = &zones.zones()[zone_number];
            let sure = spent(zone, &notes, BagNote::surely_over);
            let perhaps = spent(zone, &notes, BagNote::perhaps_over);
            let says = |rule: &TakeRule| applies.negated().or(judged[row].ruled(names, zone, rule).allowed);
            let effects = (says(&sure), says(&perhaps));
            lower(&mut judged[row], effects, &notes);
            judged[row].finding.bags.extend(notes.into_iter().map(|(_, note)| note));
        }
    }
}

/// The notes of one row, by zone, each with whether the zone applies.
fn of_row(
    zones: &ZoneSet,
    ledgers: &BTreeMap<(usize, Slot), (Subjects, Ledger)>,
    (row, judged): (usize, &[Judged<'_>]),
) -> BTreeMap<usize, (Tristate, Notes)> {
    let mut found: BTreeMap<usize, (Tristate, Notes)> = BTreeMap::new();
    for one in &judged[row].applying {
        let number = number_of(zones, one.zone);
        for ((_, slot), (subjects, ledger)) in ledgers.range((number, 0)..=(number, Slot::MAX)) {
            let Some(subject) = subjects.get(&row) else { continue };
            let Some((permit, bag)) = bagged(&one.zone.rule, *slot) else { continue };
            let others = ledger.others(subject, each_day(bag));
            let note = note((number, one.zone), (permit, bag), (subject, others), &judged[row]);
            found.entry(number).or_insert((one.applies, Vec::new())).1.push((*slot, note));
        }
    }
    found
}

fn note(
    (zone_number, zone): (usize, &Zone),
    (permit, bag): (&Permit, Bag),
    (subject, others): (&Counted, Others),
    judged: &Judged<'_>,
) -> BagNote {
    let mut not_known = Vec::new();
    if subject.at.is_none() {
        not_known.push(BagUnknown::Day);
    }
    if subject.who.is_none() {
        not_known.push(BagUnknown::Person);
    }
    not_known.push(match bag.per {
        BagPer::PersonDay | BagPer::BoatDay => BagUnknown::OthersOfTheDay,
        BagPer::PersonTrip | BagPer::BoatTrip => BagUnknown::OthersOfTheTrip,
        BagPer::PersonAtOnce | BagPer::BoatAtOnce => BagUnknown::StillAboard,
    });
    BagNote {
        zone: zone.id.clone(),
        zone_number,
        zone_name: zone.name.clone(),
        clause: permit.clause.clone(),
        bag,
        person: if per_person(bag) { judged.finding.entry.person.clone() } else { None },
        day: subject.at.map(|(_, day)| day),
        first: others.before + 1,
        last: others.sure + subject.count,
        at_most: others.at_most + subject.count,
        not_known,
    }
}

/// Lowers an answer by what the rule says with its spent limits, surely and perhaps.
fn lower(judged: &mut Judged<'_>, (sure, perhaps): (Tristate, Tristate), notes: &Notes) {
    let finding = &mut judged.finding;
    let over = |that: fn(&BagNote) -> bool| {
        let those = notes.iter().filter(move |(_, note)| that(note));
        those.map(|(_, note)| Reason::CountsAgainstBag { note: note.clone() }).collect::<Vec<_>>()
    };
    let before = allowed(finding.answer);
    let after =
        before.and(sure).and(if perhaps == Tristate::Yes { Tristate::Yes } else { Tristate::Undecided });
    if before == Tristate::No {
        finding.because.extend(over(BagNote::surely_over));
    } else if after == Tristate::No {
        finding.because = over(BagNote::surely_over);
        finding.conditions.clear();
        finding.settle.clear();
        finding.answer = TakeAnswer::Release;
    } else if after == Tristate::Undecided
        && perhaps != Tristate::Yes
        && notes.iter().any(|(_, note)| note.perhaps_over())
    {
        finding.because.splice(0..0, over(BagNote::perhaps_over));
        finding.settle.push(Remedy::SayWhatWasKept);
        finding.answer = TakeAnswer::Undecided;
    }
}

/// The rule with those limits at zero that are spent.
fn spent(zone: &Zone, notes: &Notes, over: fn(&BagNote) -> bool) -> TakeRule {
    let mut rule = zone.rule.clone();
    let is_spent = |at: Slot| notes.iter().any(|(slot, note)| *slot == at && over(note));
    let permits = match &mut rule.take {
        Take::Only(permits) => permits.as_mut_slice(),
        Take::Nothing | Take::AllExcept(_) | Take::Anything => &mut [],
    };
    for (slot, permit) in permits.iter_mut().chain(&mut rule.limits).enumerate() {
        if let Some(bag) = permit.limits.bag.as_mut().filter(|_| is_spent(slot)) {
            bag.count = 0;
        }
    }
    rule
}

/// Every limit that at least one row counts against, with its subjects and its ledger.
fn ledgers(
    zones: &ZoneSet,
    names: &FishNames<'_>,
    judged: &[Judged<'_>],
) -> BTreeMap<(usize, Slot), (Subjects, Ledger)> {
    let anybody_named = judged.iter().any(|one| one.finding.entry.person.is_some());
    let mut subjects: BTreeMap<(usize, Slot), Subjects> = BTreeMap::new();
    for (row, one) in judged.iter().enumerate() {
        for applying in &one.applying {
            let zone = applying.zone;
            for (slot, bag) in slots(&zone.rule) {
                let counts = counts(names, zone, slot, one).and(applying.applies);
                if counts != Tristate::No {
                    let counted = counted((row, one), (zone, bag), counts, anybody_named);
                    subjects.entry((number_of(zones, zone), slot)).or_default().insert(row, counted);
                }
            }
        }
    }
    let with_ledger = |((number, slot), subjects): ((usize, Slot), Subjects)| {
        let zone = &zones.zones()[number];
        let mut all: Vec<Counted> = subjects.values().cloned().collect();
        if let Some((_, bag)) = bagged(&zone.rule, slot) {
            let at_once = matches!(bag.per, BagPer::PersonAtOnce | BagPer::BoatAtOnce);
            for (row, one) in judged.iter().enumerate() {
                let unplaced = one.finding.position.position().is_none();
                if !subjects.contains_key(&row) && (at_once || unplaced) {
                    let sure = if at_once { Tristate::Yes } else { Tristate::Undecided };
                    let counts = counts(names, zone, slot, one).and(sure);
                    if counts != Tristate::No {
                        all.push(counted((row, one), (zone, bag), counts, anybody_named));
                    }
                }
            }
        }
        all.retain(|counted| judged[counted.row].finding.entry.may_be_aboard());
        ((number, slot), (subjects, Ledger::of(&all)))
    };
    subjects.into_iter().map(with_ledger).collect()
}

fn counted(
    (row, one): (usize, &Judged<'_>),
    (zone, bag): (&Zone, Bag),
    counts: Tristate,
    anybody_named: bool,
) -> Counted {
    let entry = &one.finding.entry;
    let named: Who = entry.person.as_ref().map(|person| person.trim().to_lowercase());
    let who = match named {
        _ if !per_person(bag) => Some(None),
        None if anybody_named => None,
        known => Some(known),
    };
    let at = entry.time.map(|time| (time, zone.time_zone.to_datetime(time).date()));
    let sure = counts == Tristate::Yes && entry.kept == Some(true);
    Counted { row, who, at, count: u64::from(entry.count), sure }
}

/// Whether a permit or limit speaks of a fish, whatever its size and number.
///
/// Gear and bait are part of what a permission speaks of. A fish that nothing in the rule allows to be taken that way
/// perhaps counts nevertheless, since the text does not say.
fn counts(names: &FishNames<'_>, zone: &Zone, slot: Slot, one: &Judged<'_>) -> Tristate {
    let Some((permit, _)) = bagged(&zone.rule, slot) else { return Tristate::No };
    let is_permission = matches!(&zone.rule.take, Take::Only(permits) if slot < permits.len());
    let speaks = |with_gear: bool| {
        let mut permit = permit.clone();
        permit.limits.bag = None;
        permit.limits.size = None;
        if !with_gear {
            permit.limits.gear.clear();
            permit.limits.gear_forbidden.clear();
            permit.limits.bait = None;
        }
        let only = TakeRule { take: Take::Only(vec![permit]), limits: Vec::new(), ..zone.rule.clone() };
        one.ruled(names, zone, &TakeRule { binds: Vec::new(), ..only }).allowed
    };
    let by_name = speaks(false);
    if !is_permission || by_name == Tristate::No {
        return by_name;
    }
    let by_gear = speaks(true);
    let nothing_allows = one.ruled(names, zone, &zone.rule).allowed == Tristate::No;
    if by_gear == Tristate::No && nothing_allows { Tristate::Undecided } else { by_gear }
}

fn slots(rule: &TakeRule) -> impl Iterator<Item = (Slot, Bag)> + '_ {
    all_permits(rule)
        .enumerate()
        .filter_map(|(slot, permit)| Some((slot, permit.limits.bag.filter(|bag| bag.count > 0)?)))
}

fn bagged(rule: &TakeRule, slot: Slot) -> Option<(&Permit, Bag)> {
    let permit = all_permits(rule).nth(slot)?;
    Some((permit, permit.limits.bag?))
}

fn all_permits(rule: &TakeRule) -> impl Iterator<Item = &Permit> {
    let permits = match &rule.take {
        Take::Only(permits) => permits.as_slice(),
        Take::Nothing | Take::AllExcept(_) | Take::Anything => &[],
    };
    permits.iter().chain(&rule.limits)
}

fn per_person(bag: Bag) -> bool {
    matches!(bag.per, BagPer::PersonDay | BagPer::PersonTrip | BagPer::PersonAtOnce)
}

fn each_day(bag: Bag) -> bool {
    matches!(bag.per, BagPer::PersonDay | BagPer::BoatDay)
}

/// The place of a zone of the set in it.
pub(super) fn number_of(zones: &ZoneSet, zone: &Zone) -> usize {
    zones.zones().iter().position(|one| std::ptr::eq(one, zone)).unwrap_or_default()
}

/// Whose fish: a person by folded name; none for the boat, or where no row names anybody.
pub(super) type Who = Option<String>;

/// Fish that count against one limit.
#[derive(Debug, Clone)]
pub(super) struct Counted {
    pub(super) row: usize,
    /// Whose; none where that is not known though others are named.
    pub(super) who: Option<Who>,
    pub(super) at: Option<(Timestamp, Date)>,
    pub(super) count: u64,
    /// Whether it is sure that they count.
    pub(super) sure: bool,
}

/// Counts up to and including one moment.
#[derive(Debug, Clone, Copy, Default)]
struct Mark {
    time: Timestamp,
    day: Date,
    sure: u64,
    all: u64,
}

/// All that counts against one limit, by person and time.
#[derive(Debug, Default)]
pub(super) struct Ledger {
    /// None: nobody knows whose.
    by_who: BTreeMap<Option<Who>, Vec<Mark>>,
    /// Fish without a time, likewise.
    floating: BTreeMap<Option<Who>, u64>,
    all: u64,
    own: BTreeMap<usize, Counted>,
}

/// How many others count beside a row: surely before its moment, surely up to it, and at most up to it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Others {
    pub(super) before: u64,
    pub(super) sure: u64,
    pub(super) at_most: u64,
}

/// One person's fish up to a moment.
#[derive(Debug, Clone, Copy, Default)]
struct Upto {
    /// Sure ones of the day, before the moment.
    sure_before: u64,
    /// Sure ones of the day, those of the moment included.
    sure: u64,
    /// All of earlier days.
    all_earlier: u64,
    /// All, those of the moment included.
    all: u64,
}

impl Ledger {
    pub(super) fn of(counted: &[Counted]) -> Self {
        let mut ledger = Self::default();
        for one in counted {
            ledger.all += one.count;
            ledger.own.insert(one.row, one.clone());
            match one.at {
                Some((time, day)) => {
                    let sure = if one.sure && one.who.is_some() { one.count } else { 0 };
                    let marks = ledger.by_who.entry(one.who.clone()).or_default();
                    marks.push(Mark { time, day, sure, all: one.count });
                }
                None => *ledger.floating.entry(one.who.clone()).or_default() += one.count,
            }
        }
        for marks in ledger.by_who.values_mut() {
            marks.sort_by_key(|mark| mark.time);
            let mut run = (0, 0);
            for mark in marks {
                run = (run.0 + mark.sure, run.1 + mark.all);
                (mark.sure, mark.all) = run;
            }
        }
        ledger
    }

    /// Counts the others beside a row. `each_day`: the limit is for a day; else fish of earlier days perhaps count.
    pub(super) fn others(&self, subject: &Counted, each_day: bool) -> Others {
        let own = self.own.get(&subject.row);
        let own_all = own.map_or(0, |own| own.count);
        let (Some(_), Some((time, day))) = (&subject.who, subject.at) else {
            return Others { before: 0, sure: 0, at_most: self.all - own_all };
        };
        let own_sure = own.filter(|own| own.sure).map_or(0, |own| own.count);
        let his = self.upto(subject.who.as_ref(), time, day);
        let anybodys = self.upto(None, time, day);
        let of_earlier_days = if each_day { his.all_earlier + anybodys.all_earlier } else { 0 };
        let floating: u64 = [&None, &subject.who].into_iter().filter_map(|who| self.floating.get(who)).sum();
        Others {
            before: his.sure_before,
            sure: his.sure - own_sure,
            at_most: his.all + anybodys.all - of_earlier_days - own_all + floating,
        }
    }

    fn upto(&self, who: Option<&Who>, time: Timestamp, day: Date) -> Upto {
        let Some(marks) = self.by_who.get(&who.cloned()) else { return Upto::default() };
        let run = |end: usize| end.checked_sub(1).map_or((0, 0), |at| (marks[at].sure, marks[at].all));
        let earlier = run(marks.partition_point(|mark| mark.day < day));
        let before = run(marks.partition_point(|mark| mark.time < time));
        let till_now = run(marks.partition_point(|mark| mark.time <= time));
        Upto {
            sure_before: before.0 - earlier.0,
            sure: till_now.0 - earlier.0,
            all_earlier: earlier.1,
            all: till_now.1,
        }
    }
}
