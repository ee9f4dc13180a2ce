//! What RFC 7946 asks for and our reader does not: winding, closed rings, the cut at 180°.

use std::collections::HashSet;

use serde_json::Value;

use super::{Finding, FindingKind, Spot};

/// What the text of a file shows that its zones do not.
pub(super) fn findings(file: &Value, found: &mut Vec<Finding>) {
    if file.get("crs").is_some() {
        let spot = Spot { member: vec!["crs".to_owned()], ..Spot::default() };
        found.push(Finding::at(FindingKind::ReferenceSystem, spot));
    }
    let features = file.get("features").and_then(Value::as_array);
    for (at, feature) in features.into_iter().flatten().enumerate() {
        let zone_id = feature.get("id").and_then(Value::as_str).map(str::to_owned);
        let spot = Spot { feature: Some(at + 1), zone_id, ..Spot::default() };
        of_geometry(feature.get("geometry").unwrap_or(&Value::Null), &spot, found);
    }
    found.extend(unused_names(file));
}

/// The rings of a geometry as lists, each with its part.
pub(super) fn rings<'v>(geometry: &'v Value) -> Vec<(Option<usize>, usize, &'v Vec<Value>)> {
    let coordinates = geometry.get("coordinates").and_then(Value::as_array);
    let several = geometry.get("type").and_then(Value::as_str) == Some("MultiPolygon");
    let is_polygon = geometry.get("type").and_then(Value::as_str) == Some("Polygon");
    let of_polygon = |part: Option<usize>, polygon: &'v Vec<Value>| {
        let rings = polygon.iter().enumerate();
        rings.filter_map(move |(r, ring)| Some((part, r + 1, ring.as_array()?))).collect::<Vec<_>>()
    };
    match coordinates {
        Some(polygons) if several => {
            let parts = polygons.iter().enumerate();
            parts.filter_map(|(p, part)| Some(of_polygon(Some(p + 1), part.as_array()?))).flatten().collect()
        }
        Some(polygon) if is_polygon => of_polygon(None, polygon),
        Some(_) | None => Vec::new(),
    }
}

/// Longitude and latitude of a listed position.
fn numbers(position: &Value) -> Option<[f64; 2]> {
    let list = position.as_array()?;
    Some([list.first()?.as_f64()?, list.get(1)?.as_f64()?])
}

fn of_geometry(geometry: &Value, spot: &Spot, found: &mut Vec<Finding>) {
    // each oddity once for a zone
    let mut told: HashSet<&'static str> = HashSet::new();
    for (part, ring, listed) in rings(geometry) {
        let spot = Spot { part, ring: Some(ring), ..spot.clone() };
        let places: Vec<[f64; 2]> = listed.iter().filter_map(numbers).collect();
        if places.len() < 3 {
            continue;
        }
        let crosses = places.windows(2).any(|pair| (pair[1][0] - pair[0][0]).abs() > 180.0)
            || places.iter().any(|place| place[0].abs() > 180.0);
        let area = signed_area(&places);
        // a bow-tie winds both ways
        let winds_wrong = area.abs() > 1e-12 && (area > 0.0) != (ring == 1);
        let has_heights =
            listed.iter().any(|place| place.as_array().is_some_and(|numbers| numbers.len() > 2));
        let odd = [
            (crosses, FindingKind::AcrossAntimeridian),
            (winds_wrong, FindingKind::Winding),
            (places.first() != places.last(), FindingKind::RingNotClosed),
            (has_heights, FindingKind::Heights),
        ];
        for (is_so, kind) in odd {
            if is_so && told.insert(kind.code()) {
                found.push(Finding::at(kind, spot.clone()));
            }
        }
    }
}

/// Twice the area in square degrees, positive where the ring turns left; longitudes counted on across 180°.
fn signed_area(places: &[[f64; 2]]) -> f64 {
    let mut lons = Vec::with_capacity(places.len());
    for place in places {
        let before = lons.last().copied().unwrap_or(place[0]);
        let step: f64 = place[0] - before;
        lons.push(before + step - 360.0 * (step / 360.0).round());
    }
    (0..places.len())
        .map(|at| {
            let next = (at + 1) % places.len();
            lons[at] * places[next][1] - lons[next] * places[at][1]
        })
        .sum()
}

/// Fish and groups that the file defines and none of its rules and groups name.
fn unused_names(file: &Value) -> Option<Finding> {
    let header = file.get("takeline")?;
    let listed = |name: &str| header.get(name).and_then(Value::as_array).into_iter().flatten();
    let id = |entry: &Value| entry.get("id").and_then(Value::as_str).map(str::to_owned);
    let mut named: HashSet<&str> = HashSet::new();
    for entry in listed("taxa").chain(listed("groups")) {
        for member in ["parent", "members", "except"] {
            words(entry.get(member).unwrap_or(&Value::Null), &mut named);
        }
    }
    for feature in file.get("features").and_then(Value::as_array).into_iter().flatten() {
        words(feature.get("properties").unwrap_or(&Value::Null), &mut named);
    }
    let unused: Vec<String> = listed("taxa")
        .chain(listed("groups"))
        .filter_map(id)
        .filter(|id| !named.contains(id.as_str()))
        .collect();
    let spot = Spot { member: vec!["takeline".to_owned()], ..Spot::default() };
    (!unused.is_empty()).then(|| Finding::at(FindingKind::NamesUnused(unused), spot))
}

fn words<'v>(value: &'v Value, into: &mut HashSet<&'v str>) {
    match value {
        Value::String(text) => {
            into.insert(text);
        }
        Value::Array(list) => list.iter().for_each(|entry| words(entry, into)),
        Value::Object(members) => members.values().for_each(|member| words(member, into)),
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}
