//! GeoJSON (RFC 7946) of a track and what it touched. `docs/track-output.md` describes the properties.

use jiff::Timestamp;
use serde_json::{Map, Value, json};
use takeline::track::{Crossing, Gap, SuspectFix, TrackPoint, Visit};
use takeline::{Metres, Position};

use super::{AuditReport, seam, words};

/// Corners of the outline of what a gap lets a boat reach.
const OUTLINE_CORNERS: u32 = 64;

/// Returns the features of one track: its way, gaps, visits, crossings and suspect fixes, in that order.
///
/// Each feature has a property `kind`. Lines are cut at gaps, at 180° and where positions are withheld.
///
/// # Accuracy
///
/// Coordinates have at most seven decimals, which is a centimetre. The way is that of [`takeline::track::Audit::sketch`],
/// which is thinned in a long log.
#[must_use]
pub fn track_features(report: &AuditReport<'_>) -> Vec<Value> {
    let audit = report.audit;
    let mut features = Vec::new();
    for stretch in stretches(report, &audit.sketch) {
        features.extend(way(report, &stretch));
    }
    features.extend(audit.quality.gaps.iter().filter_map(|one| gap(report, one)));
    for (number, one) in audit.visits.iter().enumerate() {
        features.extend(visit(report, number + 1, one));
    }
    features.extend(audit.crossings.iter().filter_map(|one| crossing(report, one)));
    features.extend(audit.quality.suspects.iter().filter_map(|one| suspect(report, one)));
    features
}

/// Returns a whole GeoJSON document of the features of one or more tracks.
#[must_use]
pub fn track_geojson(features: &[Value]) -> Value {
    json!({ "type": "FeatureCollection", "features": features })
}

fn feature(report: &AuditReport<'_>, kind: &str, geometry: &Value, more: Value) -> Value {
    let mut properties = Map::new();
    properties.insert("kind".into(), kind.into());
    properties.insert("track".into(), report.input.path.clone().into());
    if let Value::Object(more) = more {
        properties.extend(more);
    }
    json!({ "type": "Feature", "geometry": geometry, "properties": properties })
}

fn text(time: Option<Timestamp>) -> Option<String> {
    time.map(|time| time.to_string())
}

/// Stretches without a break, a gap or a withheld position in them.
fn stretches<'a>(report: &AuditReport<'_>, points: &'a [TrackPoint]) -> Vec<Vec<&'a TrackPoint>> {
    let mut stretches: Vec<Vec<&TrackPoint>> = Vec::new();
    let mut is_broken = true;
    for point in points {
        is_broken |= point.after_break;
        if report.hides(point.fix.position) {
            is_broken = true;
            continue;
        }
        match stretches.last_mut().filter(|_| !is_broken) {
            Some(stretch) => stretch.push(point),
            None => stretches.push(vec![point]),
        }
        is_broken = false;
    }
    stretches
}

fn way(report: &AuditReport<'_>, stretch: &[&TrackPoint]) -> Option<Value> {
    let positions: Vec<Position> = stretch.iter().map(|point| point.fix.position).collect();
    let geometry = seam::line_geometry(&positions)?;
    let time = |point: Option<&&TrackPoint>| text(point.and_then(|point| point.fix.time));
    let more = json!({ "first_time": time(stretch.first()), "last_time": time(stretch.last()) });
    Some(feature(report, "track", &geometry, more))
}

fn gap(report: &AuditReport<'_>, one: &Gap) -> Option<Value> {
    let ends = [one.before.position, one.after.position];
    let outline = one.reachable_outline(&report.audit.settings, OUTLINE_CORNERS);
    if ends.iter().chain(&outline).any(|position| report.hides(*position)) {
        return None;
    }
    let geometry = seam::area_geometry(&outline).or_else(|| seam::line_geometry(&ends))?;
    let more = json!({
        "from_time": text(one.before.time), "to_time": text(one.after.time), "seconds": one.seconds,
        "distance_m": one.metres.metres(),
        "reach_m": one.reach(&report.audit.settings).map(Metres::metres), "impossible": one.impossible,
        "open_end": one.open.map(words::open_end),
    });
    Some(feature(report, "gap", &geometry, more))
}

/// A visit as the way between its ends; where that is cut, as several features with the same number.
fn visit(report: &AuditReport<'_>, number: usize, one: &Visit) -> Vec<Value> {
    let more = json!({
        "visit": number, "zone_id": one.zone.0, "zone_name": report.zone_name(one),
        "certainty": words::certainty(one.certainty), "evidence": words::evidence(one.evidence),
        "in_force": crate::here::answer(one.in_force),
        "binds": crate::here::answer(one.binds),
        "entered_time": text(one.entered().time), "left_time": text(one.left().time),
        "deepest_m": one.deepest.map(Metres::metres), "deepest_uncertainty_95_m": one.deepest_uncertainty_95.metres(),
    });
    let lines = visit_lines(report, one);
    let geometries = lines.iter().filter_map(|line| seam::line_geometry(line));
    geometries.map(|geometry| feature(report, "visit", &geometry, more.clone())).collect()
}

fn visit_lines(report: &AuditReport<'_>, one: &Visit) -> Vec<Vec<Position>> {
    let (entered, left) = (report.shown(one.entered().position), report.shown(one.left().position));
    let Some((from, to)) = one.entered().time.zip(one.left().time) else {
        // without times nobody can say which points of the way lie between
        return vec![entered.into_iter().collect(), left.into_iter().collect()];
    };
    let during = |point: &&TrackPoint| point.fix.time.is_some_and(|time| from <= time && time <= to);
    let points: Vec<TrackPoint> = report.audit.sketch.iter().filter(during).copied().collect();
    let starts_shown = points.first().is_none_or(|point| !report.hides(point.fix.position));
    let ends_shown = points.last().is_none_or(|point| !report.hides(point.fix.position));
    let mut lines: Vec<Vec<Position>> = stretches(report, &points)
        .iter()
        .map(|stretch| stretch.iter().map(|point| point.fix.position).collect())
        .collect();
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

fn crossing(report: &AuditReport<'_>, one: &Crossing) -> Option<Value> {
    let position = report.shown(one.at.position)?;
    let between = one.at.between.map(|(before, after)| [before.to_string(), after.to_string()]);
    let more = json!({
        "zone_id": one.zone.0, "zone_name": report.name_of(&one.zone),
        "direction": words::direction(one.direction), "time": text(one.at.time), "between": between,
    });
    let geometry = json!({ "type": "Point", "coordinates": seam::point(position) });
    Some(feature(report, "crossing", &geometry, more))
}

fn suspect(report: &AuditReport<'_>, one: &SuspectFix) -> Option<Value> {
    let position = report.shown(one.fix.position)?;
    let more = json!({
        "suspicion": words::suspicion(one.suspicion), "line": one.fix.place.line,
        "time": text(one.fix.time), "needed_kn": one.needed_kn,
    });
    let geometry = json!({ "type": "Point", "coordinates": seam::point(position) });
    Some(feature(report, "suspect", &geometry, more))
}
