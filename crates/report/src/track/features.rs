//! GeoJSON (RFC 7946) of a track and what it touched. `docs/track-output.md` describes the properties.

use geojson::{Feature, FeatureCollection, Geometry};
use serde_json::{Map, Value, json};
use takeline::track::TrackPoint;
use takeline::{Metres, Position};

use super::{CrossingDocument, GapDocument, SuspectDocument, TrackDocument, VisitDocument, seam};

/// Corners of the outline of what a gap lets a boat reach.
const OUTLINE_CORNERS: u32 = 64;

/// Returns the features of one track: its way, gaps, visits, crossings and suspect fixes, in that order; first of all, where it is
/// not settled, one without a geometry that says why.
///
/// Each feature has a property `kind`. Lines are cut at gaps, at 180° and where positions are withheld.
///
/// # Accuracy
///
/// Coordinates have at most seven decimals, which is a centimetre. The way is that of [`takeline::track::Audit::sketch`],
/// which is thinned in a long log.
#[must_use]
pub fn track_features(document: &TrackDocument<'_>) -> Vec<Feature> {
    let mut features = Vec::new();
    let shown_way = document.shown_way();
    if !document.undecided_because.is_empty() {
        let more = json!({ "undecided_because": document.undecided_because });
        features.push(feature(document, "undecided", None, more));
    }
    for part in unbroken(&shown_way) {
        features.extend(way(document, part));
    }
    features.extend(document.quality.gaps.iter().filter_map(|one| gap(document, one)));
    for (number, one) in document.visits.iter().enumerate() {
        features.extend(visit(document, number + 1, one, &shown_way));
    }
    features.extend(document.crossings.iter().filter_map(|one| crossing(document, one)));
    features.extend(document.quality.suspects.iter().filter_map(|one| suspect(document, one)));
    features
}

/// Returns a whole GeoJSON document of the features of one or more tracks.
#[must_use]
pub fn track_geojson(features: Vec<Feature>) -> FeatureCollection {
    FeatureCollection::new(features)
}

fn feature(document: &TrackDocument<'_>, kind: &str, geometry: Option<Geometry>, more: Value) -> Feature {
    let mut properties = Map::new();
    properties.insert("kind".into(), kind.into());
    properties.insert("track".into(), document.input.path.into());
    if let Value::Object(more) = more {
        properties.extend(more);
    }
    Feature { geometry, properties: Some(properties), ..Feature::default() }
}

/// The parts of a way without a break.
fn unbroken(way: &[TrackPoint]) -> impl Iterator<Item = &[TrackPoint]> {
    way.chunk_by(|_, next| !next.after_break)
}

fn way(document: &TrackDocument<'_>, part: &[TrackPoint]) -> Option<Feature> {
    let positions: Vec<Position> = part.iter().map(|point| point.fix.position).collect();
    let geometry = seam::line_geometry(&positions)?;
    let time = |point: Option<&TrackPoint>| point.and_then(|point| point.fix.time);
    let more = json!({ "first_time": time(part.first()), "last_time": time(part.last()) });
    Some(feature(document, "track", Some(geometry), more))
}

fn gap(document: &TrackDocument<'_>, one: &GapDocument<'_>) -> Option<Feature> {
    let ends = [one.from.place.0?, one.to.place.0?];
    let outline = document.outline(one, OUTLINE_CORNERS);
    if outline.iter().any(|position| document.hides(*position)) {
        return None;
    }
    let geometry = seam::area_geometry(&outline).or_else(|| seam::line_geometry(&ends))?;
    let more = json!({
        "from_time": one.from.time, "to_time": one.to.time, "seconds": one.seconds,
        "distance_m": one.distance.metres(), "reach_m": one.reach.map(Metres::metres), "impossible": one.impossible,
        "open_end": one.open_end,
    });
    Some(feature(document, "gap", Some(geometry), more))
}

/// A visit as the way between its ends; where that is cut, as several features with the same number.
fn visit(
    document: &TrackDocument<'_>,
    number: usize,
    one: &VisitDocument<'_>,
    shown_way: &[TrackPoint],
) -> Vec<Feature> {
    let more = json!({
        "visit": number, "zone_id": one.zone_id, "zone_name": one.zone_name,
        "certainty": one.certainty, "evidence": one.evidence,
        "in_force": crate::here::answer(one.in_force),
        "binds": crate::here::answer(one.binds),
        "outcome": one.outcome.answer,
        "entered_time": one.entered.time, "left_time": one.left.time,
        "deepest_m": one.deepest.map(Metres::metres), "deepest_uncertainty_95_m": one.deepest_uncertainty_95.metres(),
    });
    let lines = visit_lines(document, one, shown_way);
    let geometries = lines.iter().filter_map(|line| seam::line_geometry(line));
    geometries.map(|geometry| feature(document, "visit", Some(geometry), more.clone())).collect()
}

fn visit_lines(
    document: &TrackDocument<'_>,
    one: &VisitDocument<'_>,
    shown_way: &[TrackPoint],
) -> Vec<Vec<Position>> {
    let (entered, left) = (one.entered.place.0, one.left.place.0);
    let Some((from, to)) = one.entered.time.zip(one.left.time) else {
        // without times nobody can say which points of the way lie between
        return vec![entered.into_iter().collect(), left.into_iter().collect()];
    };
    let during = |point: &&TrackPoint| point.fix.time.is_some_and(|time| from <= time && time <= to);
    let is_shown = |point: &TrackPoint| !document.hides(point.fix.position);
    let whole = || document.report.audit.sketch.iter().filter(during);
    let starts_shown = whole().next().is_none_or(is_shown);
    let ends_shown = whole().next_back().is_none_or(is_shown);
    let shown: Vec<TrackPoint> = shown_way.iter().filter(during).copied().collect();
    let positions = |part: &[TrackPoint]| part.iter().map(|point| point.fix.position).collect();
    let mut lines: Vec<Vec<Position>> = unbroken(&shown).map(positions).collect();
    if lines.is_empty() && starts_shown {
        return vec![entered.into_iter().chain(left).collect()];
    }
    if let Some(first) = lines.first_mut().filter(|_| starts_shown) {
        first.splice(0..0, entered);
    }
    if let Some(last) = lines.last_mut().filter(|_| ends_shown) {
        last.extend(left);
    }
    lines
}

fn crossing(document: &TrackDocument<'_>, one: &CrossingDocument<'_>) -> Option<Feature> {
    let position = one.at.place.0?;
    let more = json!({
        "zone_id": one.zone_id, "zone_name": one.zone_name(),
        "direction": one.direction, "time": one.at.time, "between": one.at.between,
    });
    let geometry = seam::point_geometry(position);
    Some(feature(document, "crossing", Some(geometry), more))
}

fn suspect(document: &TrackDocument<'_>, one: &SuspectDocument) -> Option<Feature> {
    let position = one.place.0?;
    let more = json!({
        "suspicion": one.kind, "line": one.line, "time": one.time, "needed_kn": one.needed_kn,
    });
    let geometry = seam::point_geometry(position);
    Some(feature(document, "suspect", Some(geometry), more))
}
