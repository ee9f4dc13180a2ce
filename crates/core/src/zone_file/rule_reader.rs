//! Reads what a zone says about taking, possessing and crossing.

use super::catalogue_reader::KnownIds;
use super::season_reader::{when, yes_no};
use super::wire::{
    TakeWord, WireBag, WireBait, WireCrossing, WireGear, WireGearKind, WireLimit, WireMeasure,
    WireProperties, WireSize, WireTake, WireTakeObject,
};
use super::{FaultKind, WarningKind};
use crate::geojson_text::{Log, Slot, TextOr, Word};
use crate::rule::{
    Bag, Bait, CatalogueFault, Gear, GearAllowance, Limits, Measure, Passage, Permit, Size, Take, TakeRule,
    TaxonSet, When,
};

const TAKE_MEND: &str =
    "write \"take\": \"none\", \"anything\", { \"only\": [ids] } or { \"all_except\": [ids] }";
const OBJECT_MEND: &str = "write an object: { … }";

/// Reads the take rule of a zone.
pub(super) fn take_rule(log: &mut Log, wire: &WireProperties, known: &KnownIds) -> TakeRule {
    let take = log.needed("take", &wire.take, TAKE_MEND);
    let take = take.and_then(|wire| log.within("take", |log| self::take(log, wire, known)));
    let take = take.unwrap_or(Take::Nothing);
    let mends = ("write a list of limits: [ { … } ]", OBJECT_MEND);
    let found = log.entries("limits", &wire.limits, mends, |log, wire| Some(limit(log, wire, known)));
    let mut limits = found.unwrap_or_default();
    limits.extend(limits_for_every_fish(log, wire));
    if take == Take::Nothing && !limits.is_empty() {
        let text = "limits on gear, bait, bag or size have no effect where nothing may be taken";
        log.warn(WarningKind::NoEffect, text);
    }
    log.not_empty_list("binds", &wire.binds, "leave it out if the rule binds everybody");
    TakeRule {
        take,
        limits,
        possession: log.word("possession", &wire.possession).unwrap_or_default(),
        passage: crossing(log, &wire.crossing),
        binds: log.words("binds", &wire.binds),
        conditions: log.texts("conditions", &wire.conditions),
    }
}

fn take(log: &mut Log, wire: &WireTake, known: &KnownIds) -> Option<Take> {
    match wire {
        WireTake::Word(Word(TakeWord::None)) => Some(Take::Nothing),
        WireTake::Word(Word(TakeWord::Anything)) => Some(Take::Anything),
        WireTake::Object(wire) => take_object(log, wire, known),
    }
}

fn take_object(log: &mut Log, wire: &WireTakeObject, known: &KnownIds) -> Option<Take> {
    log.unknown_members(wire);
    match (wire.only.is_missing(), wire.all_except.is_missing()) {
        (false, true) => only(log, wire, known).map(Take::Only),
        (true, false) => {
            let mend = "write \"take\": \"anything\" if nothing is excepted";
            log.not_empty_list("all_except", &wire.all_except, mend);
            known.set(log, "all_except", &wire.all_except).map(Take::AllExcept)
        }
        (true, true) => {
            log.fault(FaultKind::MissingMember, "says neither \"only\" nor \"all_except\"", TAKE_MEND);
            None
        }
        (false, false) => {
            let text = "says both \"only\" and \"all_except\"";
            log.fault(FaultKind::Contradiction, text, "keep one of the two");
            None
        }
    }
}

/// Ids that stand alone share one permit; objects get one each.
fn only(log: &mut Log, wire: &WireTakeObject, known: &KnownIds) -> Option<Vec<Permit>> {
    log.not_empty_list("only", &wire.only, "write \"take\": \"none\" if nothing may be taken");
    let mends = (
        "write a list: [\"sprat\"], also for a single id",
        "write an id in quotes, or an object like { \"taxa\": [\"sprat\"], \"gear\": … }",
    );
    let mut plain = TaxonSet::default();
    let found = log.entries("only", &wire.only, mends, |log, wire| match wire {
        TextOr::Text(id) => {
            known.add(log, id, &mut plain);
            None
        }
        TextOr::Object(wire) => Some(permit(log, wire, known)),
    });
    let mut permits = found?;
    if plain != TaxonSet::default() {
        let taxa = Some(plain);
        permits.insert(0, Permit { taxa, when: When::Always, limits: Limits::default(), clause: None });
    }
    Some(permits)
}

fn permit(log: &mut Log, wire: &WireLimit, known: &KnownIds) -> Permit {
    log.unknown_members(wire);
    log.not_empty_list("taxa", &wire.taxa, "leave it out if every fish is meant");
    if wire.taxa.is_missing() && !wire.except.is_missing() {
        let text = "\"except\" needs \"taxa\" beside it";
        log.fault(FaultKind::MissingMember, text, "name in \"taxa\" the fish that it is an exception from");
    }
    let taxa = known.set(log, "taxa", &wire.taxa);
    let except = known.taxa(log, "except", &wire.except);
    let limits = Limits {
        bag: object(log, "bag", &wire.bag, bag),
        size: object(log, "size", &wire.size, |log, wire| Some(size(log, wire))),
        conditions: log.texts("conditions", &wire.conditions),
        ..gear_and_bait(log, &wire.gear, &wire.bait)
    };
    let taxa = taxa.map(|taxa| TaxonSet { except, ..taxa });
    Permit { taxa, when: when(log, &wire.when), limits, clause: log.text("clause", &wire.clause) }
}

fn limit(log: &mut Log, wire: &WireLimit, known: &KnownIds) -> Permit {
    let before = log.faults_so_far();
    let permit = permit(log, wire, known);
    if permit.limits == Limits::default() && log.faults_so_far() == before {
        let mend = "add gear, bait, bag, size or conditions, or leave the entry out";
        log.fault(FaultKind::WrongValue, "sets no limit", mend);
    }
    permit
}

fn limits_for_every_fish(log: &mut Log, wire: &WireProperties) -> Option<Permit> {
    let limits = gear_and_bait(log, &wire.gear, &wire.bait);
    let says_something = limits != Limits::default();
    says_something.then_some(Permit { taxa: None, when: When::Always, limits, clause: None })
}

fn gear_and_bait(log: &mut Log, wire_gear: &Slot<WireGear>, wire_bait: &Slot<WireBait>) -> Limits {
    let mut limits = object(log, "gear", wire_gear, |log, wire| Some(gear(log, wire))).unwrap_or_default();
    limits.bait = object(log, "bait", wire_bait, bait);
    limits
}

fn object<T, R>(
    log: &mut Log,
    name: &str,
    slot: &Slot<T>,
    read: impl FnOnce(&mut Log, &T) -> Option<R>,
) -> Option<R> {
    let wire = log.given(name, slot, OBJECT_MEND)?;
    log.within(name, |log| read(log, wire))
}

fn gear(log: &mut Log, wire: &WireGear) -> Limits {
    log.unknown_members(wire);
    if wire.only.is_missing() && wire.not.is_missing() {
        log.fault(FaultKind::MissingMember, "says neither \"only\" nor \"not\"", "add one, or leave it out");
    }
    log.not_empty_list("only", &wire.only, "leave it out if any gear may be used");
    log.not_empty_list("not", &wire.not, "leave it out if no gear is forbidden");
    let mends = (
        "write a list: [\"hook and line\"]",
        "write a kind in quotes, or { \"kind\": \"hook and line\", \"max_lines\": 1 }",
    );
    let gear = log.entries("only", &wire.only, mends, |log, wire| match wire {
        TextOr::Text(kind) => {
            let kind = Gear(log.own_text(kind)?);
            Some(GearAllowance { kind, max_lines: None, max_hooks: None, note: None })
        }
        TextOr::Object(wire) => gear_kind(log, wire),
    });
    let gear_forbidden = log.texts("not", &wire.not).into_iter().map(Gear).collect();
    Limits { gear: gear.unwrap_or_default(), gear_forbidden, ..Limits::default() }
}

fn gear_kind(log: &mut Log, wire: &WireGearKind) -> Option<GearAllowance> {
    log.unknown_members(wire);
    let kind = log.needed_text("kind", &wire.kind, "name the gear: \"kind\": \"hook and line\"");
    let mend = "write a whole number";
    let max_lines = log.given("max_lines", &wire.max_lines, mend).copied();
    let max_hooks = log.given("max_hooks", &wire.max_hooks, mend).copied();
    Some(GearAllowance { kind: Gear(kind?), max_lines, max_hooks, note: log.text("note", &wire.note) })
}

fn bait(log: &mut Log, wire: &WireBait) -> Option<Bait> {
    log.unknown_members(wire);
    match (wire.only.is_missing(), wire.not.is_missing()) {
        (false, true) => {
            let mend = "write \"conditions\": [\"no bait\"] if nothing at all may be on the hook";
            log.not_empty_list("only", &wire.only, mend);
            Some(Bait::Only(log.texts("only", &wire.only)))
        }
        (true, false) => {
            log.not_empty_list("not", &wire.not, "leave it out if any bait may be used");
            Some(Bait::Not(log.texts("not", &wire.not)))
        }
        (true, true) => {
            log.fault(FaultKind::MissingMember, "says neither \"only\" nor \"not\"", "add one of the two");
            None
        }
        (false, false) => {
            log.fault(FaultKind::Contradiction, "says both \"only\" and \"not\"", "keep one of the two");
            None
        }
    }
}

fn bag(log: &mut Log, wire: &WireBag) -> Option<Bag> {
    log.unknown_members(wire);
    let count = log.needed("count", &wire.count, "write how many as a whole number");
    if wire.per.is_missing() {
        log.missing("per", "write for whom: \"per\": \"person-day\"");
    }
    let per = log.word("per", &wire.per);
    Some(Bag { count: *count?, per: per? })
}

fn size(log: &mut Log, wire: &WireSize) -> Size {
    log.unknown_members(wire);
    let rule = (0.0, "write centimetres, 0 or more");
    let min_cm = log.number("min_cm", &wire.min_cm, rule);
    let max_cm = log.number("max_cm", &wire.max_cm, rule);
    if wire.min_cm.is_missing() && wire.max_cm.is_missing() {
        log.fault(FaultKind::MissingMember, "says neither \"min_cm\" nor \"max_cm\"", "add one of the two");
    }
    if let (Some(min), Some(max)) = (min_cm, max_cm)
        && max < min
    {
        let text = format!("allows nothing: at least {min} cm and at most {max} cm");
        log.fault(FaultKind::Contradiction, text, "swap the two, or correct one");
    }
    Size { min_cm, max_cm, measure: measure(log, wire) }
}

fn measure(log: &mut Log, wire: &WireSize) -> Measure {
    if let Slot::Wrong(value) = &wire.measure {
        log.within("measure", |log| log.wrong_word::<Measure>(value));
    }
    match wire.measure.get() {
        None => Measure::Unstated,
        Some(WireMeasure::Usual(Word(measure))) => measure.clone(),
        Some(WireMeasure::Other(wire)) => log.within("measure", |log| {
            log.unknown_members(wire);
            let mend = "write the law's words: \"words\": \"…\"";
            log.needed_text("words", &wire.words, mend).map_or(Measure::Unstated, Measure::Other)
        }),
    }
}

fn crossing(log: &mut Log, slot: &Slot<WireCrossing>) -> Option<Passage> {
    object(log, "crossing", slot, |log, wire| {
        log.unknown_members(wire);
        let continuous = log.given("continuous", &wire.continuous, "write true or false").copied();
        Some(Passage {
            allowed: yes_no(log, "allowed", &wire.allowed),
            gear_state: log.text("gear_state", &wire.gear_state),
            continuous: continuous.unwrap_or(false),
            min_speed_kn: log.number("min_speed_kn", &wire.min_speed_kn, (0.0, "write knots, 0 or more")),
            max_stop_min: log.number("max_stop_min", &wire.max_stop_min, (0.0, "write minutes, 0 or more")),
            anchoring: yes_no(log, "anchoring", &wire.anchoring),
            conditions: log.texts("conditions", &wire.conditions),
            clause: log.text("clause", &wire.clause),
        })
    })
}

impl Log {
    /// Reports what the rules themselves find wrong, unless reading has found something already.
    pub(super) fn rule_faults(&mut self, since: usize, faults: impl FnOnce() -> Vec<CatalogueFault>) {
        if self.faults_so_far() > since {
            return;
        }
        for CatalogueFault { place, what, mend } in faults() {
            self.fault(FaultKind::Rule, format!("{place}: {what}"), mend);
        }
    }
}
