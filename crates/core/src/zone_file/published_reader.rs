//! Reads the text of each vertex as the law prints it: held to the vertex, or a ring is made from it.

use std::collections::BTreeMap;

use serde_json::Value;

use super::geometry_reader::{ListedParts, counted};
use super::wire::{WireProperties, WirePublished};
use super::{FaultKind, WarningKind};
use crate::angle::wrap_degrees;
use crate::geodesic::inverse;
use crate::geojson_text::{Log, TextOr, VertexRef, datum, shown_text};
use crate::zone::PublishedVertex;
use crate::{ParsedPosition, Position};

const LIST_MEND: &str = "write a list of positions as printed: [ \"45°07.05′N 030°07.30′W\", … ]";
const ENTRY_MEND: &str = "write the position as printed, or { \"text\": …, \"point\": …, \"vertex\": … }";
/// Where text and vertex are in different datums, they may be so far apart in degrees, about 1.1 km: a text says of old Pacific
/// charts that they are off by more, but a vertex so far from its text needs a person to look.
const SHIFT_DEG: f64 = 0.01;
/// Rounding of a decimal number in a file, and of what is worked out from the text.
const ROUNDING_DEG: f64 = 1e-9;
/// A file with more decimals than these says no more.
const MOST_DECIMALS: i32 = 9;

/// Reads `as_published`, in the order of the file. What cannot be read is a fault.
pub(super) fn published(log: &mut Log, wire: &WireProperties) -> Vec<PublishedVertex> {
    log.not_empty_list("as_published", &wire.as_published, LIST_MEND);
    let mut number = 0;
    let read = |log: &mut Log, entry: &TextOr<WirePublished>| {
        number += 1;
        one(log, entry, number)
    };
    log.entries("as_published", &wire.as_published, (LIST_MEND, ENTRY_MEND), read).unwrap_or_default()
}

fn one(log: &mut Log, entry: &TextOr<WirePublished>, number: usize) -> Option<PublishedVertex> {
    let plain = WirePublished::default();
    let (text, wire) = match entry {
        TextOr::Text(text) => (log.own_text(text), &plain),
        TextOr::Object(wire) => {
            log.unknown_members(wire);
            (log.needed_text("text", &wire.text, "copy the position as the law prints it"), wire)
        }
    };
    let mend = "count from 1, as the file lists them";
    let mut counted = |name: &str, slot, otherwise: usize| {
        let given = log.given(name, slot, mend).map_or(otherwise, |given: &u32| *given as usize);
        if given == 0 {
            log.within(name, |log| log.fault(FaultKind::WrongValue, "0 counts nothing", mend));
        }
        given
    };
    let part = counted("part", &wire.part, 1);
    let ring = counted("ring", &wire.ring, 1);
    let vertex = counted("vertex", &wire.vertex, number);
    let (point, datum) = (log.text("point", &wire.point), log.text("datum", &wire.datum));
    let text = text?;
    match Position::parse(&text) {
        Ok(ParsedPosition { position, precision, .. }) => {
            Some(PublishedVertex { text, point, part, ring, vertex, datum, position, precision })
        }
        Err(error) => {
            let told = format!("{} is not read as a position: {error}", shown_text(&text));
            log.fault(FaultKind::WrongValue, told, "");
            None
        }
    }
}

/// The rings that the texts make, for a zone whose geometry is null.
pub(super) fn rings_of(log: &mut Log, published: &[PublishedVertex]) -> Option<ListedParts> {
    let before = log.faults_so_far();
    let mut rings: BTreeMap<(usize, usize), Vec<&PublishedVertex>> = BTreeMap::new();
    for (i, one) in published.iter().enumerate() {
        log.entry(i, |log| can_be_drawn(log, one));
        rings.entry((one.part, one.ring)).or_default().push(one);
    }
    let several = rings.keys().any(|(part, _)| *part > 1);
    let mut found = ListedParts { parts: Vec::new(), several };
    for ((part, ring), mut vertices) in rings {
        vertices.sort_by_key(|one| one.vertex);
        let is_counted = vertices.iter().enumerate().all(|(i, one)| one.vertex == i + 1);
        let follows = if ring == 1 { part == found.parts.len() + 1 } else { part == found.parts.len() };
        let rings_before = if ring == 1 { 0 } else { found.parts.last().map_or(0, Vec::len) };
        if !is_counted || !follows || ring != rings_before + 1 {
            let text = format!("part {part}, ring {ring} is not counted without a gap from vertex 1 on");
            log.fault(FaultKind::Geometry, text, "number parts, rings and vertices from 1, each once");
            return None;
        }
        let positions = vertices.iter().map(|one| one.position).collect();
        let place = VertexRef { part: several.then_some(part), ring, vertex: None };
        let listed = counted(log, positions, place);
        if ring == 1 {
            found.parts.push(Vec::new());
        }
        if let Some(rings) = found.parts.last_mut() {
            rings.push(listed);
        }
    }
    (log.faults_so_far() == before).then_some(found)
}

/// The centre of a circle, for a zone whose geometry is null.
pub(super) fn centre_of(log: &mut Log, published: &[PublishedVertex]) -> Option<Position> {
    let [centre] = published else {
        let text = format!("holds {} positions beside \"radius_m\"", published.len());
        log.fault(FaultKind::Contradiction, text, "write the centre only, or take \"radius_m\" out");
        return None;
    };
    let before = log.faults_so_far();
    log.entry(0, |log| can_be_drawn(log, centre));
    (log.faults_so_far() == before).then_some(centre.position)
}

/// A fault where a text has a datum that nothing converts here; a warning where it was read with a doubt.
fn can_be_drawn(log: &mut Log, one: &PublishedVertex) {
    if let Some(name) = &one.datum {
        log.within("datum", |log| datum(log, name));
    }
    for warning in Position::parse(&one.text).map(|parsed| parsed.warnings).unwrap_or_default() {
        log.warn(WarningKind::PublishedInDoubt, warning.to_string());
    }
}

/// Holds each text to its vertex: a contradiction is a fault that shows both.
pub(super) fn compare(log: &mut Log, published: &[PublishedVertex], listed: &ListedParts) {
    let half_step_deg = half_step_deg(listed.rings().flat_map(|(_, ring)| &ring.vertices));
    let mut seen = BTreeMap::new();
    let mut within_print = Vec::new();
    for (i, one) in published.iter().enumerate() {
        let place = (one.part, one.ring, one.vertex);
        if let Some(first) = seen.insert(place, i) {
            let text = format!("is for the same vertex as entry {}", first + 1);
            log.entry(i, |log| log.fault(FaultKind::Contradiction, text, "number the vertices, each once"));
            continue;
        }
        match vertex_of(listed, one) {
            None => {
                let text =
                    format!("part {}, ring {}, vertex {} is not in the geometry", place.0, place.1, place.2);
                let mend = "take the entry out, or say which vertex it is";
                log.entry(i, |log| log.fault(FaultKind::Contradiction, text, mend));
            }
            Some(vertex) => within_print.extend(held_to(log, (i, one), vertex, half_step_deg)),
        }
    }
    tell_within_print(log, &within_print);
}

/// Holds the text of a circle to its centre.
pub(super) fn compare_centre(log: &mut Log, published: &[PublishedVertex], centre: Position) {
    let half_step_deg = half_step_deg([&centre]);
    for (i, one) in published.iter().enumerate() {
        if i > 0 || (one.part, one.ring, one.vertex) != (1, 1, 1) {
            let mend = "write the centre only, once";
            log.entry(i, |log| log.fault(FaultKind::Contradiction, "is not the centre of the circle", mend));
            return;
        }
        let off = held_to(log, (i, one), centre, half_step_deg);
        tell_within_print(log, &off.into_iter().collect::<Vec<_>>());
    }
}

/// A file gives fewer digits than the text, or a place that the text only rounds to: right or not, someone should know.
fn tell_within_print(log: &mut Log, vertices: &[String]) {
    const SHOWN: usize = 8;
    if vertices.is_empty() {
        return;
    }
    let list = vertices.iter().take(SHOWN).map(String::as_str).collect::<Vec<_>>().join(", ");
    let more = vertices.len().saturating_sub(SHOWN);
    let rest = if more > 0 { format!(" and {more} more") } else { String::new() };
    let text = format!(
        "the vertex is not what its text says, though within the digits that are printed: vertex {list}{rest}"
    );
    log.warn(WarningKind::PublishedDiffers, text);
}

/// Compares one text with its vertex. Returns the vertex where only the digits printed keep the two from contradicting.
fn held_to(
    log: &mut Log,
    (i, one): (usize, &PublishedVertex),
    vertex: Position,
    half_step_deg: f64,
) -> Option<String> {
    let shift_deg = if one.datum.is_some() { SHIFT_DEG } else { 0.0 };
    let off_lat = (one.position.latitude().degrees() - vertex.latitude().degrees()).abs();
    let off_lon = wrap_degrees(one.position.longitude().degrees() - vertex.longitude().degrees()).abs();
    let printed = (one.precision.latitude_half_digit_deg(), one.precision.longitude_half_digit_deg());
    // the file may say less than the text only within what the text leaves open
    let contradicts = |off: f64, half: f64| off > half + half_step_deg.min(half) + shift_deg + ROUNDING_DEG;
    if contradicts(off_lat, printed.0) || contradicts(off_lon, printed.1) {
        let apart_m = inverse(one.position, vertex).distance_m;
        let text = format!(
            "{} is {}, but vertex {} is {}, {apart_m:.0} m from there",
            shown_text(&one.text),
            one.position.to_decimal_degrees(7),
            one.vertex,
            vertex.to_decimal_degrees(7),
        );
        let mend =
            "compare both with the law and correct the one that is wrong, with as many digits as it prints";
        log.entry(i, |log| log.fault(FaultKind::Contradiction, text, mend));
        return None;
    }
    let is_rounding = |off: f64| off <= half_step_deg + shift_deg + ROUNDING_DEG;
    let name = || one.point.clone().unwrap_or_else(|| one.vertex.to_string());
    (!is_rounding(off_lat) || !is_rounding(off_lon)).then(name)
}

/// The vertex of a text; one that repeats another is where that one is.
fn vertex_of(listed: &ListedParts, one: &PublishedVertex) -> Option<Position> {
    let ring = listed.parts.get(one.part.checked_sub(1)?)?.get(one.ring.checked_sub(1)?)?;
    let place = one.vertex.checked_sub(1).filter(|place| *place < ring.positions)?;
    let kept = ring.listed_as.iter().position(|listed| *listed >= place).unwrap_or(0);
    ring.vertices.get(kept).copied()
}

/// Half of the last digit that any of the positions has: writers leave out zeros at the end.
fn half_step_deg<'p>(positions: impl IntoIterator<Item = &'p Position>) -> f64 {
    let decimals_of = |degrees: f64| {
        let is_whole = |decimals: &i32| {
            let scaled = degrees * 10.0_f64.powi(*decimals);
            (scaled - scaled.round()).abs() < ROUNDING_DEG / 10.0 * 10.0_f64.powi(*decimals)
        };
        (0..MOST_DECIMALS).find(is_whole).unwrap_or(MOST_DECIMALS)
    };
    let each = positions.into_iter().flat_map(|one| [one.latitude().degrees(), one.longitude().degrees()]);
    let most = each.map(decimals_of).max().unwrap_or(MOST_DECIMALS);
    0.5 * 10.0_f64.powi(-most)
}

/// The places that the texts of a feature name, as far as they can be read: longitude and latitude in degrees.
pub(super) fn places_in(properties: &Value) -> impl Iterator<Item = (f64, f64)> {
    let entries = properties["as_published"].as_array().map_or(&[][..], Vec::as_slice);
    entries.iter().filter_map(|entry| {
        let text = entry.as_str().or_else(|| entry["text"].as_str())?;
        let position = Position::parse(text).ok()?.position;
        Some((position.longitude().degrees(), position.latitude().degrees()))
    })
}
