//! Reads one feature: a zone with its rule, its times and its source.

use std::collections::HashSet;
use std::sync::Arc;

use jiff::Timestamp;
use jiff::tz::TimeZone;
use serde_json::{Map, Value};

use super::catalogue_reader::KnownIds;
use super::geometry_reader::extent;
use super::proofread_reader::{HeadWords, proofread};
use super::published_reader::published;
use super::rule_reader::take_rule;
use super::season_reader::{first_moment, when};
use super::wire::{WireEffective, WireObject, WireOverride, WireProperties, WireSource};
use super::{FaultKind, WarningKind};
use crate::Metres;
use crate::coast::Coast;
use crate::geojson_text::{Coordinates, Log, Slot, datum, is_feature, needed_id, shown, shown_text};
use crate::rule::{Bag, BagPer, Permit, Take, TakeRule, When};
use crate::zone::{Datum, Effective, Override, Source, Zone, ZoneFile, ZoneId};

/// Wider doubts than this are surely slips of the pen.
const LARGEST_LINE_UNCERTAINTY_M: f64 = 1_000_000.0;

/// Where the coast of a zone belongs.
pub(super) const COAST_MEND: &str = "move it to the top of the file, where it holds for all zones: \"takeline\": { …, \"coast\": [\"coast.geojson\"] }";

/// What all zones of a file share.
#[derive(Debug)]
pub(super) struct FileContext {
    pub(super) file: Arc<ZoneFile>,
    pub(super) known: KnownIds,
    pub(super) datum: Option<Datum>,
    pub(super) time_zone: Option<TimeZone>,
    /// What the head says of datum and time zone, as it is written.
    pub(super) head: HeadWords,
    /// Ids of all features.
    pub(super) ids: HashSet<String>,
    /// Coasts that sides may follow.
    pub(super) coasts: Vec<Coast>,
}

/// Coordinates that stand apart from their feature, and the text of both.
#[derive(Debug, Clone, Copy)]
pub(super) struct Apart<'t> {
    pub(super) coordinates: &'t Coordinates,
    pub(super) text: &'t [u8],
}

/// Reads one feature, whose coordinates may stand apart; none if any of it is wrong, and then a fault says so.
pub(super) fn zone(
    log: &mut Log,
    (feature, apart): (&Value, Option<Apart<'_>>),
    context: &FileContext,
) -> Option<Zone> {
    let members = feature.as_object().filter(|members| is_feature(members));
    let Some(members) = members else {
        let text = format!("{} is not a feature", shown(feature));
        log.fault(FaultKind::NotAZoneFile, text, "write { \"type\": \"Feature\", \"id\": …, … }");
        return None;
    };
    let id = needed_id(log, members, "sallow-cove");
    misplaced_members(log, members);
    let properties = members.get("properties").map_or(Slot::Missing, Slot::<WireProperties>::from_value);
    let mend = "write what the zone says: \"properties\": { \"take\": …, \"source\": … }";
    let wire = log.needed("properties", &properties, mend)?;
    unknown_properties(log, wire);
    let before = log.faults_so_far();
    let coordinates = apart.map(|apart| apart.coordinates);
    let as_published = published(log, wire);
    let extent = extent(log, (members.get("geometry"), coordinates), (wire, &as_published), &context.coasts);
    if extent.is_none() && log.faults_so_far() == before {
        log.fault(FaultKind::Geometry, "the geometry cannot be read", "compare it with a template");
    }
    let time_zone = time_zone(log, "time_zone", &wire.time_zone).or_else(|| context.time_zone.clone());
    let before = log.faults_so_far();
    let rule = take_rule(log, wire, &context.known);
    log.rule_faults(before, || rule.faults(&context.file.catalogue));
    let when = when(log, &wire.when);
    if time_zone.is_none() && wire.time_zone.is_missing() && has_dates(&when, &rule, &wire.effective) {
        log.warn_together(WarningKind::TimeZoneMissing);
    }
    let time_zone = time_zone.unwrap_or(TimeZone::UTC);
    let id = ZoneId(id.unwrap_or_default());
    Some(Zone {
        name: log.text("name", &wire.name).unwrap_or_else(|| id.0.clone()),
        line_uncertainty: line_uncertainty(log, wire),
        datum: zone_datum(log, wire, context),
        datum_is_of_the_file: wire.datum.is_missing(),
        line_belongs: log.word("on_the_line", &wire.on_the_line).unwrap_or_default(),
        status: log.word("status", &wire.status).unwrap_or_default(),
        effective: effective(log, &wire.effective, &time_zone),
        overrides: overrides(log, wire, &id, context),
        source: source(log, &wire.source).unwrap_or_default(),
        proofread: proofread(log, &wire.proofread, || context.content_of(feature, apart)),
        may_change_by_notice: log
            .given("may_change_by_notice", &wire.may_change_by_notice, "write true or false")
            .is_some_and(|given| *given),
        extent: extent?,
        as_published,
        file: Arc::clone(&context.file),
        id,
        time_zone,
        when,
        rule,
    })
}

/// Other programs may add members to a feature, but one of ours there would silently have no effect.
fn misplaced_members(log: &mut Log, members: &Map<String, Value>) {
    let ours = members.keys().filter(|key| WireProperties::KEYS.contains(&key.as_str()));
    for key in ours {
        let text = format!("\"{key}\" stands beside \"properties\", where it has no effect");
        log.fault(FaultKind::UnknownMember, text, "move it into \"properties\"");
    }
}

fn unknown_properties(log: &mut Log, wire: &WireProperties) {
    log.within("properties", |log| {
        for key in wire.other.keys() {
            let mend = match key.as_str() {
                "id" | "geometry" => "move it out, beside the \"type\" of the feature",
                "coast" => COAST_MEND,
                "side" | "along" | "level" | "land_m" => {
                    "move it to the edges that it is about: \"edges\": [\"rhumb\", { \"side\": \"shore\" }, …]"
                }
                _ => {
                    log.unknown_member::<WireProperties>(key);
                    continue;
                }
            };
            log.fault(FaultKind::UnknownMember, format!("\"{key}\" stands in \"properties\""), mend);
        }
    });
}

fn line_uncertainty(log: &mut Log, wire: &WireProperties) -> Metres {
    let mend = "write metres as a number from 0 to 1000000";
    let given = log.number("line_uncertainty_m", &wire.line_uncertainty_m, (0.0, mend)).unwrap_or(0.0);
    if given > LARGEST_LINE_UNCERTAINTY_M {
        let text = format!("{given} is too large");
        log.within("line_uncertainty_m", |log| log.fault(FaultKind::WrongValue, text, mend));
    }
    Metres::new(given).unwrap_or_default()
}

fn zone_datum(log: &mut Log, wire: &WireProperties, context: &FileContext) -> Datum {
    let own = log.text("datum", &wire.datum);
    let own = own.and_then(|name| log.within("datum", |log| datum(log, &name)));
    let found = own.or_else(|| context.datum.clone()).unwrap_or(Datum::Unstated);
    if found == Datum::Unstated {
        log.warn_together(WarningKind::DatumUnstated);
    }
    found
}

/// Reads the IANA name of a time zone.
pub(super) fn time_zone(log: &mut Log, name: &str, slot: &Slot<String>) -> Option<TimeZone> {
    let given = log.text(name, slot)?;
    if let Ok(found) = TimeZone::get(&given) {
        return Some(found);
    }
    if cfg!(not(feature = "tzdb")) {
        let text =
            format!("this program was built without the time zone {}; it knows only UTC", shown_text(&given));
        let mend = "build the program with the feature \"tzdb\" of the library, or write \"UTC\"";
        log.within(name, |log| log.fault(FaultKind::TimeZone, text, mend));
        return None;
    }
    let names = jiff::tz::db().available().map(|name| name.as_str().to_owned());
    let near = log.did_you_mean(&given, names);
    let mend = near.unwrap_or_else(|| "write an IANA name like \"Atlantic/Azores\", or \"UTC\"".to_owned());
    let text = format!("there is no time zone called {}", shown_text(&given));
    log.within(name, |log| log.fault(FaultKind::TimeZone, text, mend));
    None
}

fn has_dates(when: &When, rule: &TakeRule, effective: &Slot<WireEffective>) -> bool {
    let counts_days = |bag: Bag| matches!(bag.per, BagPer::PersonDay | BagPer::BoatDay);
    let seasonal = |permits: &[Permit]| {
        permits.iter().any(|permit| permit.when != When::Always || permit.limits.bag.is_some_and(counts_days))
    };
    let take = match &rule.take {
        Take::Only(permits) => seasonal(permits),
        Take::Nothing | Take::AllExcept(_) | Take::Anything => false,
    };
    !matches!(when, When::Always | When::Unknowable(_))
        || take
        || seasonal(&rule.limits)
        || !effective.is_missing()
}

fn effective(log: &mut Log, slot: &Slot<WireEffective>, time_zone: &TimeZone) -> Effective {
    let mend = "write { \"from\": \"2026-05-01\", \"last_day\": \"2026-08-31\" }";
    let Some(wire) = log.given("effective", slot, mend) else { return Effective::default() };
    log.within("effective", |log| {
        log.unknown_members(wire);
        let from = log.instant("from", &wire.from, time_zone);
        let until = log.instant("until", &wire.until, time_zone);
        let after_last_day = after_last_day(log, &wire.last_day, time_zone);
        if !wire.until.is_missing() && !wire.last_day.is_missing() {
            let text = "says both \"until\" and \"last_day\"";
            log.fault(FaultKind::Contradiction, text, "keep one of the two");
        }
        let until = until.or(after_last_day);
        if let (Some(from), Some(until)) = (from, until)
            && until <= from
        {
            let text = format!("ends at {until}, not after it starts at {from}");
            log.fault(FaultKind::Contradiction, text, "swap the two, or correct one");
        }
        Effective { from, until }
    })
}

fn after_last_day(log: &mut Log, slot: &Slot<String>, time_zone: &TimeZone) -> Option<Timestamp> {
    let day = log.date("last_day", slot)?;
    let next = day.tomorrow().ok().and_then(|next| first_moment(next, time_zone));
    if next.is_none() {
        log.within("last_day", |log| log.fault(FaultKind::WrongValue, format!("{day} is too late"), ""));
    }
    next
}

fn overrides(log: &mut Log, wire: &WireProperties, own: &ZoneId, context: &FileContext) -> Vec<Override> {
    let mends =
        ("write a list: [ { \"zone\": id, \"clause\": text } ]", "write { \"zone\": …, \"clause\": … }");
    let read = |log: &mut Log, wire: &WireOverride| {
        log.unknown_members(wire);
        let zone = log.needed_text("zone", &wire.zone, "write the id of the zone whose rule yields");
        let clause =
            log.needed_text("clause", &wire.clause, "cite the clause that says so; it is always printed");
        let zone = zone?;
        if zone == own.0 {
            log.fault(FaultKind::Contradiction, "a zone cannot displace itself", "name another zone");
        } else if !context.ids.contains(&zone) {
            let text = format!("the zone {} is not in this file", shown_text(&zone));
            log.warn(WarningKind::ZoneElsewhere, text);
        }
        Some(Override { zone: ZoneId(zone), clause: clause? })
    };
    log.entries("overrides", &wire.overrides, mends, read).unwrap_or_default()
}

fn source(log: &mut Log, slot: &Slot<WireSource>) -> Option<Source> {
    let mend = "name the law or order: \"source\": { \"instrument\": \"…\" }";
    let wire = log.needed("source", slot, mend)?;
    log.within("source", |log| {
        log.unknown_members(wire);
        Some(Source {
            instrument: log.needed_text("instrument", &wire.instrument, "name the law, order or notice")?,
            clause: log.text("clause", &wire.clause),
            quoted_text: log.text("quoted_text", &wire.quoted_text),
            url: log.text("url", &wire.url),
            retrieved: log.date("retrieved", &wire.retrieved),
            licence: log.text("licence", &wire.licence),
        })
    })
}
