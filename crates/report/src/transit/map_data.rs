//! A line and its doubt for maps: GeoJSON (RFC 7946), whose properties `docs/transit-output.md` describes, and GPX 1.1 for a
//! handheld receiver or a plotter.

use std::io;

use serde_json::{Map, Value, json};
use takeline::landmark::Landmark;
use takeline::transit::{Meeting, TransitReport, ViewedWater, ZoneOnLine};
use takeline::{Metres, Position};
use takeline_formats::{GpxDocument, GpxLine, GpxPoint};

use super::document::TransitDocument;
use super::parts::{metres, number};
use super::{headline, phrases};
use crate::here::answer;
use crate::track::seam;
use crate::words::Spoken;

/// Longest step of a drawn line, in metres: straight in longitude and latitude, it leaves the geodesic by 1.2 mm at 45°,
/// and by less than a centimetre up to 80° (step² · tan φ / 8R).
const STEP_M: f64 = 250.0;

/// Returns a GeoJSON document of the line: its stretch, the marks, the lines that bound its doubt, the worst point, where
/// it meets zones, and the water that is false-safe or given away.
///
/// Each feature has a property `kind`. Lines and areas are cut at 180°.
///
/// # Accuracy
///
/// Coordinates have at most seven decimals, which is a centimetre.
#[must_use]
pub fn transit_geojson(document: &TransitDocument<'_>) -> Value {
    let report = document.report;
    let mut features = vec![stretch(report)];
    features.push(mark("front-mark", report.line.front()));
    features.push(mark("rear-mark", report.line.rear()));
    features.push(doubt(report, "left", -1.0));
    features.push(doubt(report, "right", 1.0));
    features.extend(phrases::tightest(&report.zones).and_then(worst));
    for zone in &report.zones {
        features.extend(zone.meetings.iter().map(|one| meeting(zone, one)));
    }
    features.extend(report.water.iter().flat_map(waters));
    json!({
        "type": "FeatureCollection",
        "takeline_version": env!("CARGO_PKG_VERSION"),
        "cautions": document.cautions,
        "features": features,
    })
}

fn feature(kind: &str, name: &str, geometry: &Value, more: Value) -> Value {
    let mut properties = Map::new();
    properties.insert("kind".into(), kind.into());
    properties.insert("name".into(), name.into());
    if let Value::Object(more) = more {
        properties.extend(more);
    }
    json!({ "type": "Feature", "geometry": geometry, "properties": properties })
}

fn point(position: Position) -> Value {
    json!(seam::point_geometry(position))
}

/// Places along the stretch, from near to far.
pub(super) fn distances(report: &TransitReport, step_m: f64) -> Vec<Metres> {
    let stretch = report.question.stretch;
    let (near_m, length_m) = (stretch.near().metres(), stretch.length().metres());
    let pieces = (length_m / step_m).ceil().max(1.0);
    let mut along: Vec<Metres> = Vec::new();
    let mut piece = 0.0;
    while piece < pieces {
        along.extend(Metres::new(near_m + length_m * piece / pieces).ok());
        piece += 1.0;
    }
    along.push(stretch.far());
    along
}

fn stretch(report: &TransitReport) -> Value {
    let places: Vec<Position> = distances(report, STEP_M).into_iter().map(|at| report.line.at(at)).collect();
    let (front, rear) = (&report.line.front().name, &report.line.rear().name);
    let more = json!({
        "bearing_true_deg": number(report.bearing.degrees()),
        "clears": answer(report.clears),
        "near_m": metres(report.question.stretch.near()),
        "far_m": metres(report.question.stretch.far()),
    });
    feature("stretch", &format!("{rear} over {front}"), &line(&places), more)
}

/// A line through places; null where there are none, which a stretch never has.
fn line(places: &[Position]) -> Value {
    seam::line_geometry(places).map_or(Value::Null, |geometry| json!(geometry))
}

fn mark(kind: &str, mark: &Landmark) -> Value {
    let more = json!({
        "id": mark.id.0,
        "height_m": mark.height.and_then(metres),
        "position_error_95_m": metres(mark.position_error_95),
    });
    feature(kind, &mark.name, &point(mark.position), more)
}

/// One of the two lines between which the line really runs, 95 times in 100 at each place.
fn doubt(report: &TransitReport, side: &str, sign: f64) -> Value {
    let beside = |at: Metres| {
        let off_m = sign * report.line.uncertainty_95(at).metres();
        Metres::new(off_m).map_or_else(|_| report.line.at(at), |off| report.line.beside(at, off))
    };
    let places: Vec<Position> = distances(report, STEP_M).into_iter().map(beside).collect();
    let name = format!("edge of the uncertainty, {side}");
    feature("doubt", &name, &line(&places), json!({ "side": side, "probability": 0.95 }))
}

fn worst(zone: &ZoneOnLine) -> Option<Value> {
    let worst = zone.worst?;
    let more = json!({
        "zone_id": zone.id.0, "zone_name": zone.name,
        "distance_from_front_m": metres(worst.distance_from_front),
        "signed_distance_m": metres(worst.signed_distance),
        "uncertainty_95_m": metres(worst.uncertainty_95),
        "margin_m": metres(worst.margin()),
    });
    Some(feature("worst", "least margin", &point(worst.position), more))
}

fn meeting(zone: &ZoneOnLine, meeting: &Meeting) -> Value {
    let what = phrases::meets(meeting.what);
    let more = json!({
        "zone_id": zone.id.0, "zone_name": zone.name, "what": what,
        "distance_from_front_m": metres(meeting.distance_from_front),
        "angle_deg": number(meeting.angle_deg),
    });
    feature("meeting", &format!("{what} {}", zone.name), &point(meeting.position), more)
}

fn waters(water: &ViewedWater) -> Vec<Value> {
    let side = water.inside.code();
    let kinds = [
        (
            "false-safe",
            "inside a zone, and the marks do not say so",
            water.false_clear_m2(),
            &water.false_clear,
        ),
        ("given-away", "in no loaded zone, but the marks say inside", water.forgone_m2, &water.forgone),
    ];
    let drawn = kinds.into_iter().filter_map(|(kind, name, area_m2, rings)| {
        let more = json!({ "area_m2": number(area_m2), "rear_shows_inside": side });
        Some(feature(kind, name, &areas(rings)?, more))
    });
    drawn.collect()
}

/// All rings as one area; none where there is none.
fn areas(rings: &[Vec<Position>]) -> Option<Value> {
    let mut polygons: Vec<Value> = Vec::new();
    for ring in rings {
        let Some(geometry) = seam::area_geometry(ring).map(|geometry| json!(geometry)) else { continue };
        let coordinates = geometry["coordinates"].clone();
        match (geometry["type"].as_str(), coordinates) {
            (Some("MultiPolygon"), Value::Array(several)) => polygons.extend(several),
            (_, one) => polygons.push(one),
        }
    }
    match polygons.as_slice() {
        [] => None,
        [one] => Some(json!({ "type": "Polygon", "coordinates": one })),
        _ => Some(json!({ "type": "MultiPolygon", "coordinates": polygons })),
    }
}

/// Usual leg of the route, in metres: a receiver that goes by rhumb line leaves the geodesic by 2 cm at 45° (leg² · tan φ /
/// 8R); only a stretch of more than 49 km has longer ones.
const LEG_M: f64 = 1_000.0;
/// Most points of the route, which small receivers have room for.
const MOST_LEGS: f64 = 49.0;
/// Returns GPX 1.1: the two marks, the near and the far end and the worst point as waypoints, the stretch as a route.
///
/// Names have at most twelve plain characters and start with the bearing, so that several lines can be told apart on a
/// handheld; descriptions say the rest.
///
/// # Accuracy
///
/// Coordinates have eight decimals of a degree, about a millimetre.
///
/// # Errors
///
/// [`io::Error`] if the text cannot be written, which memory never refuses.
pub fn transit_gpx(document: &TransitDocument<'_>) -> io::Result<String> {
    let mut description = vec![verdict(document)];
    description.extend(document.clears_because.iter().cloned());
    description.extend(document.opens.sentence.clone());
    description.extend(document.cautions.map(str::to_owned));
    let written = GpxDocument {
        name: marks(document.report),
        description: description.join(" | "),
        waypoints: waypoints(document.report, document.words),
        routes: vec![route(document)],
        tracks: Vec::new(),
    };
    written.written()
}

fn verdict(document: &TransitDocument<'_>) -> String {
    document.headline.verdict.first().cloned().unwrap_or_default()
}

fn marks(report: &TransitReport) -> String {
    format!("{} over {}", report.line.rear().name, report.line.front().name)
}

/// The bearing as three digits after a letter: `T087`.
fn tag(report: &TransitReport) -> String {
    let digits: String = report.bearing.to_string().chars().take_while(char::is_ascii_digit).collect();
    format!("T{digits}")
}

fn waypoints(report: &TransitReport, words: Spoken<'_>) -> Vec<GpxPoint> {
    let (line, stretch) = (&report.line, report.question.stretch);
    let tag = tag(report);
    let place = |name: &str, position, description: String| {
        GpxPoint::new(position, format!("{tag} {name}")).described(description)
    };
    let end = |which: &str, at: Metres| {
        format!("{which} end of the line, {} off the front mark", phrases::along(words, at))
    };
    let mut places = vec![
        place("FRONT", line.front().position, format!("front mark: {}", line.front().name)),
        place("REAR", line.rear().position, format!("rear mark: {}", line.rear().name)),
        place("NEAR", line.at(stretch.near()), end("near", stretch.near())),
        place("FAR", line.at(stretch.far()), end("far", stretch.far())),
    ];
    if let Some((zone, worst)) = phrases::tightest(&report.zones).and_then(|zone| Some((zone, zone.worst?))) {
        let off = headline::off(&worst, words);
        let at = phrases::along(words, worst.distance_from_front);
        let margin = phrases::along(words, worst.margin());
        let description = format!("least margin, {margin}: {off} {}, {at} off the front mark", zone.name);
        places.push(place("WORST", worst.position, description));
    }
    places
}

fn route(document: &TransitDocument<'_>) -> GpxLine {
    let (report, words) = (document.report, document.words);
    let step_m = LEG_M.max(report.question.stretch.length().metres() / MOST_LEGS);
    let tag = tag(report);
    let description = format!("{}: {}. {}", marks(report), verdict(document), document.cautions[0]);
    let point = |(number, at): (usize, Metres)| {
        GpxPoint::new(report.line.at(at), format!("{tag} {:02}", number + 1))
            .described(format!("{} off the front mark", phrases::along(words, at)))
    };
    let points = distances(report, step_m).into_iter().enumerate().map(point).collect();
    GpxLine { name: tag.clone(), description, points }
}
