//! Reads what holds for a whole landmark file: the header `takeline`, and the older members beside it.

use serde_json::{Map, Value};

use super::wire::WireHeader;
use super::{FORMAT, FaultKind, LandmarkFile, WarningKind};
use crate::geojson_text::{Log, Slot, datum, reference_system, shown_text};
use crate::zone::Datum;

pub(super) const FORMAT_MEND: &str =
    "write \"takeline\": { \"format\": \"takeline.landmarks/1\", \"datum\": \"WGS 84\" }";

/// Fills in what the file says of itself; none if it says that it is of another format.
pub(super) fn file_info(
    log: &mut Log,
    members: &Map<String, Value>,
    file: LandmarkFile,
) -> Option<LandmarkFile> {
    let system = reference_system(log, members);
    let slot = members.get("takeline").map_or(Slot::Missing, Slot::<WireHeader>::from_value);
    let header = log.given("takeline", &slot, FORMAT_MEND).cloned().unwrap_or_default();
    if !slot.is_missing() {
        log.within("takeline", |log| is_ours(log, &header))?;
    }
    let mut said = |name: &str, own: &Slot<String>| {
        let texts = both(log, members, (name, own));
        log_displaced(log, name, &texts);
        texts.0.or(texts.1)
    };
    let title = said("title", &header.title);
    let edition = said("edition", &header.edition);
    let licence = said("licence", &header.licence);
    let publisher = said("publisher", &header.publisher);
    let datum = stated_datum(log, members, &header).or(system).unwrap_or(Datum::Unstated);
    Some(LandmarkFile { title, edition, datum, licence, publisher, ..file })
}

/// Whether the header is one of this format; else nothing more is read, for every feature would be wrong.
fn is_ours(log: &mut Log, header: &WireHeader) -> Option<()> {
    let mend = "write \"format\": \"takeline.landmarks/1\"";
    let other = log.needed_text("format", &header.format, mend).filter(|format| format != FORMAT);
    if let Some(other) = other {
        let text = format!("the format {} is not read as landmarks by this version", shown_text(&other));
        let mend = if other.starts_with("takeline.zones/") {
            "this is a file of zones; give a file of landmarks"
        } else {
            mend
        };
        log.within("format", |log| log.fault(FaultKind::NotALandmarkFile, text, mend));
        return None;
    }
    log.unknown_members(header);
    Some(())
}

/// What the header and what the older member beside it says.
fn both(
    log: &mut Log,
    members: &Map<String, Value>,
    (name, own): (&str, &Slot<String>),
) -> (Option<String>, Option<String>) {
    let own = log.within("takeline", |log| log.text(name, own));
    let beside = members.get(name).map_or(Slot::Missing, Slot::<String>::from_value);
    (own, log.text(name, &beside))
}

fn log_displaced(log: &mut Log, name: &str, texts: &(Option<String>, Option<String>)) {
    if let (Some(own), Some(beside)) = texts
        && own != beside
    {
        let text =
            format!("{} has no effect, because \"takeline\" says {}", shown_text(beside), shown_text(own));
        log.within(name, |log| log.warn(WarningKind::NoEffect, text));
    }
}

fn stated_datum(log: &mut Log, members: &Map<String, Value>, header: &WireHeader) -> Option<Datum> {
    let (own, beside) = both(log, members, ("datum", &header.datum));
    let own = own.and_then(|name| log.within("takeline", |log| log.within("datum", |log| datum(log, &name))));
    let beside = beside.and_then(|name| log.within("datum", |log| datum(log, &name)));
    if let (Some(own), Some(beside)) = (&own, &beside)
        && own != beside
    {
        let text = "\"takeline\" names one datum, and the member beside it another";
        log.within("datum", |log| log.fault(FaultKind::Contradiction, text, "keep the one that is right"));
    }
    own.or(beside)
}
