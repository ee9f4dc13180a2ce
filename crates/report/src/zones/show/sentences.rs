//! A rule in whole sentences, none of them shortened, and what a file leaves open.

use takeline::SideKind;
use takeline::rule::{Condition, Limits, Permit, Possession, SetNames, Take, TaxonSet, When};
use takeline::zone::{Datum, Status, Zone};

use super::document::{ShownSideDocument, ShownZoneDocument};
use crate::words::Spoken;

/// What may be taken, in one sentence.
pub(super) fn take(zone: &Zone, words: Spoken<'_>) -> String {
    let only = words.access(&zone.rule.binds);
    let binds = if only.is_empty() { only } else { format!(", for those who fish {only}") };
    match &zone.rule.take {
        Take::Nothing => format!("Nothing may be taken{binds}."),
        Take::Only(permits) if permits.is_empty() => format!("Nothing may be taken{binds}."),
        Take::Anything if zone.rule.limits.is_empty() => format!("Anything may be taken{binds}."),
        Take::Anything => format!("Anything may be taken, within the limits below{binds}."),
        Take::AllExcept(set) => format!("Anything may be taken except {}{binds}.", fish(zone, set)),
        Take::Only(permits) => {
            let all: Vec<String> = permits.iter().map(|permit| fish_of(zone, permit)).collect();
            format!("Only {} may be taken, as below{binds}.", all.join("; "))
        }
    }
}

/// The whole rule: sentences, each with the code of what it is about.
pub(super) fn rule(zone: &Zone, words: Spoken<'_>) -> Vec<(&'static str, String)> {
    let mut lines = vec![("take", take(zone, words))];
    if let Take::Only(permits) = &zone.rule.take {
        let may = |permit| ("permit", permission(zone, permit, "May be taken", words));
        lines.extend(permits.iter().map(may));
    }
    let limits = zone.rule.limits.iter();
    lines.extend(limits.map(|limit| ("limit", permission(zone, limit, "Limit", words))));
    let passage = zone.rule.to_cross();
    let to_cross = |condition| ("to-cross", format!("To cross: {}.", words.condition(condition)));
    lines.extend(passage.iter().map(to_cross));
    lines.push(("aboard", possession(zone.rule.possession).to_owned()));
    let also = |text: &String| ("condition", format!("Also: {}.", text.trim_end().trim_end_matches('.')));
    lines.extend(zone.rule.conditions.iter().map(also));
    let displaces = zone.overrides.iter();
    lines.extend(
        displaces.map(|one| ("sets-aside", format!("Sets aside the rule of {} ({}).", one.zone, one.clause))),
    );
    if zone.may_change_by_notice {
        lines.push(("may-change", "May be changed by a notice.".to_owned()));
    }
    lines
}

/// One permission or limit, with all that belongs to it.
fn permission(zone: &Zone, permit: &Permit, what: &str, words: Spoken<'_>) -> String {
    let clause = permit.clause.as_ref().map_or_else(String::new, |clause| format!(" ({clause})"));
    let mut parts = limits(&permit.limits, words);
    if permit.when != When::Always {
        parts.insert(0, words.when(&permit.when));
    }
    let parts = if parts.is_empty() { "without a limit".to_owned() } else { parts.join("; ") };
    format!("{what}: {}: {parts}{clause}.", fish_of(zone, permit))
}

fn limits(limits: &Limits, words: Spoken<'_>) -> Vec<String> {
    let Limits { gear, gear_forbidden, bait, bag, size, conditions } = limits;
    let mut said = Vec::new();
    if !gear.is_empty() {
        said.push(Condition::OnlyWith { gear: gear.clone() });
    }
    said.extend(gear_forbidden.iter().map(|gear| Condition::NotWith { gear: gear.clone() }));
    said.extend(bait.clone().map(|rule| Condition::Bait { rule }));
    said.extend(size.clone().map(|size| Condition::Size { size }));
    said.extend(bag.map(|bag| Condition::Bag { bag }));
    let said = said.iter().map(|condition| words.condition(condition));
    said.chain(conditions.iter().cloned()).collect()
}

fn fish_of(zone: &Zone, permit: &Permit) -> String {
    permit.taxa.as_ref().map_or_else(|| "any fish".to_owned(), |set| fish(zone, set))
}

/// All names of a set; those of `words` are shortened.
fn fish(zone: &Zone, set: &TaxonSet) -> String {
    let SetNames { listed, except } = zone.file.catalogue.set_names(set);
    let but = if except.is_empty() { String::new() } else { format!(" (but not {})", except.join(", ")) };
    if listed.is_empty() { format!("nothing{but}") } else { format!("{}{but}", listed.join(", ")) }
}

fn possession(possession: Possession) -> &'static str {
    match possession {
        Possession::Unstated => "Fish caught elsewhere: the file does not say whether they may be on board.",
        Possession::Allowed => "Fish caught elsewhere may be on board.",
        Possession::WhileCrossing => "Fish caught elsewhere may be on board only while crossing.",
        Possession::AsTake => "Only fish that may be taken here may be on board.",
        Possession::Forbidden => "No fish at all may be on board.",
    }
}

/// Whether it is law, and in which span.
pub(super) fn status(zone: &Zone, words: Spoken<'_>) -> String {
    let law = match zone.status {
        Status::InForce => "law",
        Status::Proposed => "only proposed",
        Status::NotCommenced => "not yet in force",
        Status::Repealed => "repealed",
    };
    let local = |time: jiff::Timestamp| time.to_zoned_datetime(zone.time_zone.clone());
    let from = zone.effective.from.map(|from| {
        let from = local(from);
        format!(", from {} {}", words.date(from.date()), words.clock(from.time()))
    });
    let until = zone.effective.until.map(|until| format!(", until {}", words.until(&local(until))));
    format!("{law}{}{}", from.unwrap_or_default(), until.unwrap_or_default())
}

/// The datum by its name; none where the file leaves it open.
pub(super) fn datum(datum: &Datum) -> Option<String> {
    match datum {
        Datum::Wgs84 => Some("WGS 84".to_owned()),
        Datum::NearWgs84(name) => Some(name.clone()),
        Datum::Unstated => None,
    }
}

/// What a reader of the law has to look up still: each with its code.
pub(super) fn does_not_say(zone: &ShownZoneDocument<'_>, words: Spoken<'_>) -> Vec<(&'static str, String)> {
    let mut open = Vec::new();
    if zone.zone.when.stands_for_a_rule() {
        open.push(("rule", "the rule: this is a draft without one".to_owned()));
    }
    if zone.datum.is_none() {
        open.push(("datum", "the datum of its coordinates".to_owned()));
    }
    if zone.chord_sides > 0 {
        let sides = if zone.chord_sides == 1 { "1 side" } else { "some sides" };
        open.push(("coast", format!("the shore that {sides} of it follows: only the chord is known")));
    }
    let is_open = |side: &&ShownSideDocument| side.runs == "unstated" && side.side != SideKind::Unresolved;
    let unstated = zone.vertices.iter().map(|corner| &corner.to_next).filter(is_open);
    let (count, apart_m) =
        unstated.fold((0_usize, 0.0_f64), |(count, most), side| (count + 1, most.max(side.readings_apart_m)));
    if count > 0 {
        let apart = crate::figures::short_in_sentence(words.units(), apart_m);
        let text =
            format!("how {count} of its {} sides run: the readings are up to {apart} apart", zone.corners);
        open.push(("edges", text));
    }
    if !zone.vertices.is_empty() && zone.vertices.iter().all(|corner| corner.as_published.is_none()) {
        open.push(("as-published", "how the law prints its positions".to_owned()));
    }
    let rule = &zone.zone.rule;
    for (is_open, code, what) in [
        (
            rule.possession == Possession::Unstated,
            "possession",
            "whether fish caught elsewhere may be on board",
        ),
        (rule.passage.is_none(), "passage", "how one may cross"),
        (zone.source.clause.is_none(), "clause", "the clause of the law"),
        (zone.source.quoted_text.is_none(), "quoted-text", "the words of the law"),
        (zone.source.retrieved.is_none(), "retrieved", "when the law was read"),
        (zone.source.url.is_none(), "url", "where the law was read"),
        (zone.zone.file.edition.is_none(), "edition", "the edition of the file"),
        (zone.zone.file.valid_until.is_none(), "valid-until", "until when the file is good"),
    ] {
        if is_open {
            open.push((code, what.to_owned()));
        }
    }
    open
}
