//! The words for what differs between two editions.

use takeline::rule::{Access, CommonName, Condition, Possession};
use takeline::zone::{Datum, Effective, LineBelongs, Override, Status, Zone};
use takeline_drafting::editions::{Change, FromTo, PermitOf};

use crate::words::{FieldPhrase, Words, each};

/// What changed, in words: alone, or with what it was and is.
#[derive(Debug)]
pub(super) struct Said {
    /// What it is about; all that is said where there are no two sides.
    pub(super) label: String,
    /// What it was, and what it is.
    pub(super) sides: Option<[String; 2]>,
}

impl Said {
    fn alone(label: String) -> Self {
        Self { label, sides: None }
    }

    /// In one sentence: "label: now this; before, that".
    pub(super) fn text(&self) -> String {
        match &self.sides {
            None => self.label.clone(),
            Some([from, to]) => format!("{}: now {to}; before, {from}", self.label),
        }
    }
}

fn before_now(label: &str, sides: [String; 2]) -> Said {
    let said = |text: String| if text.is_empty() { "nothing".to_owned() } else { text };
    Said { label: label.to_owned(), sides: Some(sides.map(said)) }
}

fn both<T>(label: &str, values: &FromTo<T>, words: impl Fn(&T) -> String) -> Said {
    before_now(label, [words(&values.from), words(&values.to)])
}

fn optional(label: &str, values: &FromTo<Option<String>>) -> Said {
    both(label, values, |text| {
        text.as_ref().map_or_else(|| "not given".to_owned(), |text| format!("“{text}”"))
    })
}

/// What is said of a zone or a file, and what was.
pub(super) fn change(words: &dyn Words, change: &Change) -> Said {
    said_of_permits(words, change)
        .or_else(|| said_of_the_rule(words, change))
        .or_else(|| said_of_the_source(words, change))
        .or_else(|| said_of_fish(change))
        .unwrap_or_else(|| Said::alone(change.code().to_owned()))
}

#[expect(clippy::wildcard_enum_match_arm, reason = "one subject of four: `change` asks for the others")]
fn said_of_permits(words: &dyn Words, change: &Change) -> Option<Said> {
    let label = |what: &str, of: &PermitOf| format!("{what} {}", fish_of(of));
    let list = |list: &[String]| list.join("; ");
    Some(match change {
        Change::Fish { of, added, removed } => Said::alone(fish_set(of.as_ref(), added, removed)),
        Change::PermitAdded { of } if of.is_limit => Said::alone(format!("a new limit {}", fish_of(of))),
        Change::PermitAdded { of } => Said::alone(format!("a new permission to take {}", listed(of))),
        Change::PermitRemoved { of } if of.is_limit => {
            Said::alone(format!("no limit any more {}", fish_of(of)))
        }
        Change::PermitRemoved { of } => Said::alone(format!("no permission any more to take {}", listed(of))),
        Change::PermitTimes(of, times) => both(&label("when it holds", of), times, |when| words.when(when)),
        Change::Bag(of, bag) => both(&label("number", of), bag, |bag| {
            bag.map_or_else(|| "no bag limit".to_owned(), |bag| words.bag(&bag))
        }),
        Change::Size(of, size) => both(&label("length", of), size, |size| {
            size.as_ref().map_or_else(|| "any length".to_owned(), |size| words.size(size))
        }),
        Change::Gear(of, gear) => both(&label("gear", of), gear, |gear| {
            if gear.is_empty() {
                "any gear".to_owned()
            } else {
                each(gear, |gear| words.gear(gear)).join("; or ")
            }
        }),
        Change::GearForbidden(of, gear) => both(&label("forbidden gear", of), gear, |gear| {
            if gear.is_empty() { "none".to_owned() } else { each(gear, ToString::to_string).join(", ") }
        }),
        Change::Bait(of, bait) => both(&label("bait", of), bait, |bait| {
            bait.as_ref().map_or_else(|| "any bait".to_owned(), |bait| words.bait(bait))
        }),
        Change::PermitConditions(of, conditions) => {
            both(&label("conditions", of), conditions, |one| list(one))
        }
        Change::PermitClause(of, clause) => optional(&label("clause", of), clause),
        _ => return None,
    })
}

#[expect(clippy::wildcard_enum_match_arm, reason = "one subject of four: `change` asks for the others")]
fn said_of_the_rule(words: &dyn Words, change: &Change) -> Option<Said> {
    Some(match change {
        Change::Status(status) => both("standing", status, |status| status_words(*status).to_owned()),
        Change::Effective(span) => both("has effect", span, |span| effective(words, *span)),
        Change::Season(when) => both("in force", when, |when| words.when(when)),
        Change::Take(rule) => both("what may be taken", rule, |rule| words.rule_summary(rule)),
        Change::Possession(fish) => both("fish from elsewhere", fish, |fish| possession(*fish).to_owned()),
        Change::Crossing(terms) => crossing_changed(words, terms),
        Change::Binds(access) => both("binds", access, |access| binds(words, access)),
        Change::Conditions(texts) => both("conditions", texts, |texts| texts.join("; ")),
        Change::Overrides(list) => both("displaces the rule of", list, |list| overrides(list)),
        Change::ByNotice(notice) => both("may change by notice", notice, |notice| yes_no(*notice).to_owned()),
        Change::OnTheLine(belongs) => both("the line itself", belongs, |belongs| {
            match belongs {
                LineBelongs::ToZone => "belongs to the zone",
                LineBelongs::Outside => "is outside",
            }
            .to_owned()
        }),
        Change::LineUncertainty(by) => both("uncertainty of the line", by, |by| format!("{} m", by.metres())),
        Change::Datum(datum) => both("datum", datum, |datum| match datum {
            Datum::Wgs84 => "WGS 84".to_owned(),
            Datum::NearWgs84(name) => name.clone(),
            Datum::Unstated => "not given".to_owned(),
        }),
        Change::TimeZone(zone) => optional("time zone", zone),
        _ => return None,
    })
}

#[expect(clippy::wildcard_enum_match_arm, reason = "one subject of four: `change` asks for the others")]
fn said_of_the_source(words: &dyn Words, change: &Change) -> Option<Said> {
    let date =
        |day: &Option<jiff::civil::Date>| day.map_or_else(|| "not given".to_owned(), |day| words.date(day));
    Some(match change {
        Change::Id(id) => both("identifier", id, ToString::to_string),
        Change::Name(name) => both("name", name, Clone::clone),
        Change::QuotedText(text) => optional("words of the law", text),
        Change::Instrument(name) => both("instrument", name, Clone::clone),
        Change::Clause(clause) => optional("clause", clause),
        Change::Url(url) => optional("where it was read", url),
        Change::AsPublished { count, first } => {
            let label = format!("positions as printed, {count} of them; the first");
            optional(&label, first)
        }
        Change::Proofread(record) => both("proofread", record, |record| {
            record
                .as_ref()
                .map_or_else(|| "not yet".to_owned(), |record| words.field(&FieldPhrase::Proofread(record)))
        }),
        Change::Retrieved(day) => both("read on", day, date),
        Change::Licence(licence) => optional("licence", licence),
        Change::FileTitle(title) => optional("title", title),
        Change::FileEdition(edition) => optional("edition", edition),
        Change::FileIssued(day) => both("issued", day, date),
        Change::FilePublisher(name) => optional("publisher", name),
        Change::ValidUntil(until) => both("the file holds until", until, |until| {
            until.map_or_else(|| "not given".to_owned(), |until| until.to_string())
        }),
        Change::FileLicence(licence) => optional("licence of the file", licence),
        _ => return None,
    })
}

#[expect(clippy::wildcard_enum_match_arm, reason = "one subject of four: `change` asks for the others")]
fn said_of_fish(change: &Change) -> Option<Said> {
    let names = |names: &Vec<CommonName>| {
        let one = |name: &CommonName| match &name.region {
            Some(region) => format!("{} (in {region})", name.text),
            None => name.text.clone(),
        };
        names.iter().map(one).collect::<Vec<_>>().join(", ")
    };
    Some(match change {
        Change::FishAdded { fish } => Said::alone(format!("the file knows {fish} now")),
        Change::FishRemoved { fish } => Said::alone(format!(
            "the file does not know {fish} any more: asking for it by name finds nothing"
        )),
        Change::FishNames { fish, names: both_names } => both(&format!("names of {fish}"), both_names, names),
        Change::FishRecord { fish } => {
            Said::alone(format!("what {fish} is a kind of, or its FAO code, is another"))
        }
        Change::GroupMembers { group, added, removed } => {
            Said::alone(format!("the group {group}: {}", came_and_went(added, removed)))
        }
        Change::GroupAdded { group } => Said::alone(format!("a new group of fish: {group}")),
        Change::GroupRemoved { group } => Said::alone(format!("no group of fish any more: {group}")),
        Change::GroupNames { group, names: both_names } => {
            both(&format!("names of the group {group}"), both_names, names)
        }
        _ => return None,
    })
}

fn came_and_went(added: &[String], removed: &[String]) -> String {
    let new = (!added.is_empty()).then(|| format!("now with {}", added.join(", ")));
    let gone = (!removed.is_empty()).then(|| format!("no longer with {}", removed.join(", ")));
    let said: Vec<String> = [new, gone].into_iter().flatten().collect();
    if said.is_empty() {
        "another set, whose difference the names do not show".to_owned()
    } else {
        said.join("; ")
    }
}

fn fish_set(of: Option<&PermitOf>, added: &[String], removed: &[String]) -> String {
    let what = match of {
        None => "fish that may not be taken",
        Some(of) if of.is_limit => "fish that the limit is for",
        Some(_) => "fish that may be taken",
    };
    format!("{what}: {}", came_and_went(added, removed))
}

fn listed(of: &PermitOf) -> String {
    of.fish.as_ref().map_or_else(|| "any fish".to_owned(), |fish| fish.join(", "))
}

fn fish_of(of: &PermitOf) -> String {
    format!("for {}", listed(of))
}

fn yes_no(answer: bool) -> &'static str {
    if answer { "yes" } else { "no" }
}

pub(super) fn status_words(status: Status) -> &'static str {
    match status {
        Status::InForce => "law",
        Status::Proposed => "only proposed",
        Status::NotCommenced => "made, not yet commenced",
        Status::Repealed => "repealed",
    }
}

fn effective(words: &dyn Words, span: Effective) -> String {
    let day = |at: jiff::Timestamp| {
        let at = at.to_zoned_datetime(jiff::tz::TimeZone::UTC);
        format!("{} {} UTC", words.date(at.date()), words.clock(at.time()))
    };
    match (span.from.map(day), span.until.map(day)) {
        (None, None) => "without a first or last day".to_owned(),
        (Some(from), None) => format!("from {from}"),
        (None, Some(until)) => format!("until {until}"),
        (Some(from), Some(until)) => format!("from {from} until {until}"),
    }
}

fn possession(fish: Possession) -> &'static str {
    match fish {
        Possession::Unstated => "the file does not say",
        Possession::Allowed => "may be on board",
        Possession::WhileCrossing => "may be on board while crossing",
        Possession::AsTake => "only what may be taken here may be on board",
        Possession::Forbidden => "no fish may be on board",
    }
}

/// The terms that differ; all of them where one edition has none.
fn crossing_changed(words: &dyn Words, terms: &FromTo<Vec<Condition>>) -> Said {
    let without = |own: &[Condition], other: &[Condition]| -> Vec<Condition> {
        own.iter().filter(|term| !other.contains(term)).cloned().collect()
    };
    let label = "terms of crossing";
    if terms.from.is_empty() || terms.to.is_empty() {
        return both(label, terms, |terms| crossing(words, terms));
    }
    let from = without(&terms.from, &terms.to);
    let to = without(&terms.to, &terms.from);
    let said = |terms: &[Condition]| each(terms, |term| words.condition(term)).join("; ");
    before_now(label, [said(&from), said(&to)])
}

fn crossing(words: &dyn Words, terms: &[Condition]) -> String {
    if terms.is_empty() {
        return "the file does not say".to_owned();
    }
    each(terms, |term| words.condition(term)).join("; ")
}

fn binds(words: &dyn Words, access: &[Access]) -> String {
    if access.is_empty() {
        "everybody".to_owned()
    } else {
        format!("only who fishes {}", words.access(access))
    }
}

fn overrides(list: &[Override]) -> String {
    let one = |one: &Override| format!("{} ({})", one.zone, one.clause);
    if list.is_empty() {
        "no other zone".to_owned()
    } else {
        list.iter().map(one).collect::<Vec<_>>().join(", ")
    }
}

/// The rule of a zone in one phrase: what may be taken, when, and whether it is law.
pub(super) fn rule(words: &dyn Words, zone: &Zone) -> String {
    let mut said = words.rule_summary(&zone.rule.summary(&zone.file.catalogue));
    if zone.when != takeline::rule::When::Always {
        said = format!("{said}, {}", words.when(&zone.when));
    }
    if zone.status == Status::InForce { said } else { format!("{said} ({})", status_words(zone.status)) }
}

/// A count with its noun.
pub(super) fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

/// A length to the digits that it deserves here, and its unit: vertices are known to far less than a metre.
pub(super) fn metres(length_m: f64) -> String {
    if length_m < 0.01 {
        "less than 1 cm".to_owned()
    } else if length_m < 10.0 {
        format!("{length_m:.2} m")
    } else if length_m < 1000.0 {
        format!("{length_m:.1} m")
    } else {
        format!("{:.2} km", length_m / 1000.0)
    }
}
