//! Numbers of vertices as the file lists them: of a position that is given twice running, only the last one counts.

use serde_json::Value;
use takeline::Position;

use super::conformance::rings;
use super::{Finding, FindingKind, Repair, Spot};

/// Two positions nearer than this are one, in degrees, as for the reader.
const SAME_DEG: f64 = 1e-9;

/// Gives what was found in rings that were read the numbers that their vertices have in the file.
pub(super) fn renumber(file: &Value, found: &mut [Finding]) {
    // what the reader says bears them already
    let ours = |one: &&mut Finding| !matches!(one.kind, FindingKind::Fault(_) | FindingKind::Odd(_));
    for finding in found.iter_mut().filter(ours).filter(|one| one.spot.vertex.is_some()) {
        let Some(counted) = counted(file, &finding.spot) else { continue };
        let number = |vertex: usize| {
            let listed = vertex.checked_sub(1).and_then(|at| counted.get(at));
            listed.copied().unwrap_or(vertex)
        };
        finding.spot.vertex = finding.spot.vertex.map(number);
        for repair in &mut finding.repairs {
            match repair {
                Repair::Ring { change, .. } => *change = change.renumbered(number),
                Repair::Insert { after, .. } => *after = number(*after),
                Repair::Words(_) | Repair::Date(_) | Repair::MonthDay(..) => {}
            }
        }
    }
}

/// For each vertex of a ring that counts, its number in the file; none where all do.
fn counted(file: &Value, spot: &Spot) -> Option<Vec<usize>> {
    let feature = file.get("features")?.get(spot.feature?.checked_sub(1)?)?;
    let geometry = feature.get("geometry").unwrap_or(&Value::Null);
    let places = if geometry.is_null() {
        published(feature.get("properties")?, spot)
    } else {
        let listed = rings(geometry)
            .into_iter()
            .find(|(part, ring, _)| *part == spot.part && Some(*ring) == spot.ring);
        let place = |place: &Value| Some([place.get(0)?.as_f64()?, place.get(1)?.as_f64()?]);
        listed?.2.iter().map(place).collect::<Option<Vec<_>>>()?
    };
    let mut counted: Vec<usize> = Vec::new();
    for (at, place) in places.iter().enumerate() {
        // a repeat replaces the one before it, as it does for the reader
        if at > 0 && is_same(places[at - 1], *place) {
            counted.pop();
        }
        counted.push(at + 1);
    }
    (counted.len() < places.len()).then_some(counted)
}

/// The places of a ring whose vertices are given as texts.
fn published(properties: &Value, spot: &Spot) -> Vec<[f64; 2]> {
    let listed = properties.get("as_published").and_then(Value::as_array);
    let own = |entry: &&Value| {
        let number = |name: &str| entry.get(name).and_then(Value::as_u64).unwrap_or(1);
        let is_own = |name: &str, wanted: Option<usize>| {
            usize::try_from(number(name)).ok() == Some(wanted.unwrap_or(1))
        };
        is_own("part", spot.part) && is_own("ring", spot.ring)
    };
    let place = |entry: &Value| {
        let text = entry.as_str().or_else(|| entry.get("text")?.as_str())?;
        let position = Position::parse(text).ok()?.position;
        Some([position.longitude().degrees(), position.latitude().degrees()])
    };
    listed.into_iter().flatten().filter(own).filter_map(place).collect()
}

fn is_same(one: [f64; 2], other: [f64; 2]) -> bool {
    (0..2).all(|axis| (one[axis] - other[axis]).abs() <= SAME_DEG)
}
