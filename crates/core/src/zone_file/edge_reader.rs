//! Reads how the edges of a zone run, and what its sides are.

use serde_json::Value;

use super::coast_sides::ReadEdge;
use super::geometry_reader::{ListedParts, RADIUS_MEND, found_position, radius};
use super::wire::{Along, WireArc, WireEdge, WireRuns, WireSide};
use super::{FaultKind, WarningKind};
use crate::geojson_text::{Log, Slot, Vocabulary, Word, shown};
use crate::{Arc, EdgeModel, Metres, Side, SideKind};

const EDGES_MEND: &str = "write \"geodesic\", \"rhumb\" (parallels and meridians too), \"lonlat\" or \"unstated\", \
                          { \"runs\": …, \"side\": \"shore\" }, or a list with one entry for each edge";
const ARC_MEND: &str =
    "write { \"arc\": { \"centre\": [longitude, latitude], \"radius_m\": …, \"turn\": … } }";

/// Reads `edges`: for each ring, in the order of the file, one entry for each edge that counts.
pub(super) fn edges(log: &mut Log, slot: &Slot<Value>, listed: &ListedParts) -> Option<Vec<Vec<ReadEdge>>> {
    let alike =
        |edge: ReadEdge| listed.rings().map(|(_, ring)| vec![edge.clone(); ring.vertices.len()]).collect();
    let value = match slot {
        Slot::Missing => return Some(alike(EdgeModel::Unstated.into())),
        Slot::Given(value) | Slot::Wrong(value) => value.as_ref(),
    };
    log.within("edges", |log| match value {
        Value::String(_) => line(log, value).map(ReadEdge::from).map(alike),
        Value::Object(_) => edge(log, value).map(alike),
        Value::Array(entries) => edge_lists(log, entries, listed),
        Value::Null | Value::Bool(_) | Value::Number(_) => {
            log.wrong(value, EDGES_MEND);
            None
        }
    })
}

fn edge_lists(log: &mut Log, entries: &[Value], listed: &ListedParts) -> Option<Vec<Vec<ReadEdge>>> {
    let rings: Vec<_> = listed.rings().collect();
    let lists: Vec<&[Value]> = if entries.iter().all(Value::is_array) {
        entries.iter().filter_map(|entry| entry.as_array().map(Vec::as_slice)).collect()
    } else {
        vec![entries]
    };
    if lists.len() != rings.len() {
        let text = format!("there are {} lists of edges for {} rings", lists.len(), rings.len());
        let mend = "write one list for each ring, in the order of the file: [[…], […]]";
        log.fault(FaultKind::Geometry, text, mend);
        return None;
    }
    let before = log.faults_so_far();
    let mut found = Vec::with_capacity(rings.len());
    for ((place, ring), list) in rings.iter().zip(lists) {
        if list.len() != ring.edges {
            let text = format!("has {} edges, but {} entries", ring.edges, list.len());
            let mend = "write one entry for each edge; the first leaves vertex 1, the last closes the ring";
            log.fault_at(*place, FaultKind::Geometry, (text, mend));
            continue;
        }
        let read: Vec<_> =
            list.iter().enumerate().map(|(i, entry)| log.entry(i, |log| edge(log, entry))).collect();
        // an edge between a vertex and its repeat has no length and no entry
        found.push(ring.listed_as.iter().filter_map(|i| read.get(*i).cloned().flatten()).collect());
    }
    (log.faults_so_far() == before).then_some(found)
}

fn edge(log: &mut Log, value: &Value) -> Option<ReadEdge> {
    match Slot::<WireEdge>::from_value(value).get() {
        Some(WireEdge::Line(Word(model))) => Some((*model).into()),
        Some(WireEdge::Side(wire)) => {
            log.unknown_members(wire);
            let (model, side) = (runs(log, wire), side(log, wire));
            let follows_coast = along(log, &wire.along);
            Some(ReadEdge { model: model?, side: side?, follows_coast })
        }
        None => line(log, value).map(ReadEdge::from),
    }
}

/// Whether an edge follows the coast. Which coast that is stands elsewhere, and people write it here.
fn along(log: &mut Log, slot: &Slot<Word<Along>>) -> bool {
    if let Slot::Wrong(value) = slot {
        log.within("along", |log| {
            let text = format!("{} is not \"coast\", all that a side can follow", shown(value));
            let mend = "write \"along\": \"coast\", and the files of the coast for the whole file: \"takeline\": { …, \"coast\": [\"coast.geojson\"] }";
            log.fault(FaultKind::WrongValue, text, mend);
        });
    }
    slot.get().is_some()
}

/// How an edge runs that is written as an object.
fn runs(log: &mut Log, wire: &WireSide) -> Option<EdgeModel> {
    match (&wire.runs, &wire.arc) {
        (Slot::Missing, Slot::Missing) if wire.side.is_missing() && wire.along.is_missing() => {
            log.missing("side", "write \"side\": \"shore\", or an \"arc\"");
            None
        }
        (Slot::Missing, Slot::Missing) => Some(EdgeModel::Unstated),
        (Slot::Missing, arc) => arc_edge(log, arc),
        (runs, Slot::Missing) => log.within("runs", |log| match runs {
            Slot::Missing => None,
            Slot::Wrong(value) => line(log, value),
            Slot::Given(given) => match given.as_ref() {
                WireRuns::Line(Word(model)) => Some(*model),
                WireRuns::Arc(wire) => {
                    log.unknown_members(wire);
                    arc_edge(log, &wire.arc)
                }
            },
        }),
        (_, _) => {
            log.fault(FaultKind::Contradiction, "has \"runs\" and \"arc\"", "keep one of the two");
            None
        }
    }
}

fn arc_edge(log: &mut Log, slot: &Slot<WireArc>) -> Option<EdgeModel> {
    let wire = log.needed("arc", slot, ARC_MEND)?;
    log.within("arc", |log| arc(log, wire)).map(EdgeModel::Arc)
}

/// What an edge is that is written as an object; none if that is wrong.
fn side(log: &mut Log, wire: &WireSide) -> Option<Side> {
    let before = log.faults_so_far();
    let unsaid = if wire.along.is_missing() { SideKind::Open } else { SideKind::Shore };
    let kind = if wire.side.is_missing() { Some(unsaid) } else { log.word("side", &wire.side) };
    let level = log.text("level", &wire.level);
    let uncertainty = metres(log, "uncertainty_m", &wire.uncertainty_m);
    let land = metres(log, "land_m", &wire.land_m);
    let kind = kind.filter(|_| log.faults_so_far() == before)?;
    if !wire.along.is_missing() && kind != SideKind::Shore {
        let text = format!(
            "has \"side\": \"{}\" beside \"along\": \"coast\", and only a shore follows the coast",
            word(kind)
        );
        log.fault(FaultKind::Contradiction, text, "write \"side\": \"shore\", or take \"along\" out");
        return None;
    }
    if level.is_some() && kind.is_crossable() {
        log.warn(WarningKind::NoEffect, "\"level\" has no effect on a side over water");
    }
    if land.is_some() && kind != SideKind::Shore {
        log.warn(WarningKind::NoEffect, "\"land_m\" has no effect on a side that is no shore");
    }
    Some(Side { kind, level: level.map(|level| level.as_str().into()), uncertainty, land })
}

/// The word that a kind of side is written as.
fn word(kind: SideKind) -> &'static str {
    SideKind::WORDS.iter().find(|(_, known)| *known == kind).map_or("", |(word, _)| *word)
}

/// No shore is uncertain by more, and no land behind one has to be wider, in metres.
const LONGEST_M: f64 = 1_000_000.0;

/// A length in metres that may be 0.
fn metres(log: &mut Log, key: &'static str, slot: &Slot<f64>) -> Option<Metres> {
    let mend = "write metres, 0 to 1000000";
    let given = *log.given(key, slot, mend)?;
    let length = Metres::non_negative(given).ok().filter(|length| length.metres() <= LONGEST_M);
    if length.is_none() {
        log.within(key, |log| {
            log.fault(FaultKind::WrongValue, format!("{given} m is not a possible length"), mend);
        });
    }
    length
}

/// Reads one of the words for straight edges.
fn line(log: &mut Log, value: &Value) -> Option<EdgeModel> {
    let found = EdgeModel::WORDS.iter().find(|(word, _)| value.as_str() == Some(word));
    if found.is_none() {
        let is_side = |text: &&str| SideKind::WORDS.iter().any(|(word, _)| word == text);
        match value.as_str() {
            Some("coast") => log.wrong(value, "write { \"side\": \"shore\", \"along\": \"coast\" }"),
            Some(side) if is_side(&side) => {
                log.wrong(value, &format!("what a side is stands in an object: {{ \"side\": \"{side}\" }}"));
            }
            Some(_) | None => log.wrong(value, EDGES_MEND),
        }
    }
    found.map(|(_, model)| *model)
}

fn arc(log: &mut Log, wire: &WireArc) -> Option<Arc> {
    log.unknown_members(wire);
    let centre = log.needed("centre", &wire.centre, "write \"centre\": [longitude, latitude]");
    let centre = centre.and_then(|value| log.within("centre", |log| found_position(log, value)));
    if wire.radius_m.is_missing() {
        log.missing("radius_m", RADIUS_MEND);
    }
    let radius = radius(log, &wire.radius_m);
    if wire.turn.is_missing() {
        log.missing("turn", "write \"turn\": \"clockwise\" or \"counterclockwise\", seen from above");
    }
    let sense = log.word("turn", &wire.turn);
    Some(Arc { centre: centre?, radius: radius?, sense: sense? })
}
