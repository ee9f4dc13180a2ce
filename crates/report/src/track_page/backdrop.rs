//! A coastline or another drawing that lies beneath the map. It is drawn and nothing else: no answer asks it.

use geojson::{Feature, Geometry, GeometryValue};
use maud::{Markup, html};
use serde_json::Value;
use sha2::{Digest, Sha256};
use takeline::Position;

use crate::drawing::chart::{PathData, simplified, thinned};
use crate::drawing::frame::{Frame, WIDTH};

/// Lines and areas to draw beneath a map, from one GeoJSON file.
///
/// # Examples
///
/// ```
/// use takeline_report::Backdrop;
///
/// let line = br#"{ "type": "LineString", "coordinates": [[-30.12, 45.11], [-30.11, 45.12]] }"#;
/// assert!(Backdrop::read("coast.json", line).is_ok());
/// let refused = Backdrop::read("coast.json", br#"{ "type": "Point", "coordinates": [-30.12, 45.11] }"#);
/// assert!(refused.unwrap_err().to_string().starts_with("coast.json: it has no line and no polygon"));
/// ```
#[derive(Debug, Clone)]
pub struct Backdrop {
    path: String,
    sha256: String,
    parts: Vec<Part>,
}

/// A line, or the rings of an area.
#[derive(Debug, Clone)]
enum Part {
    Line(Vec<Position>),
    Area(Vec<Vec<Position>>),
}

/// Why a file is no backdrop.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{path}: {}{reason}", feature.as_ref().map_or_else(String::new, |feature| format!("{feature}: ")))]
pub struct BackdropError {
    /// The file.
    pub path: String,
    /// Its feature, by its place in the file, counted from 1, and its id if it has one.
    pub feature: Option<String>,
    /// What is wrong with it, and what mends it.
    pub reason: String,
}

impl Backdrop {
    /// Reads lines and polygons of a GeoJSON file (RFC 7946); points are left out.
    ///
    /// # Errors
    ///
    /// [`BackdropError`] names the file, the feature and what mends it: text that is no GeoJSON, a coordinate that no place has,
    /// a line of one point, or a file without a line or polygon.
    pub fn read(path: &str, bytes: &[u8]) -> Result<Self, BackdropError> {
        let wrong = |feature, reason| BackdropError { path: path.to_owned(), feature, reason };
        // some programs begin a file with a byte order mark
        let text = bytes.strip_prefix("\u{feff}".as_bytes()).unwrap_or(bytes);
        let document: Value = serde_json::from_slice(text)
            .map_err(|error| wrong(None, format!("it is not JSON: {error}; give a GeoJSON file")))?;
        let mut parts = Vec::new();
        match document.get("type").and_then(Value::as_str) {
            Some("FeatureCollection") => {
                let features = document.get("features").and_then(Value::as_array);
                let features =
                    features.ok_or_else(|| wrong(None, "its \"features\" are not a list".to_owned()))?;
                for (number, feature) in features.iter().enumerate() {
                    let called = called(number + 1, feature);
                    of_feature(feature, &mut parts).map_err(|reason| wrong(Some(called), reason))?;
                }
            }
            Some("Feature") => of_feature(&document, &mut parts).map_err(|reason| wrong(None, reason))?,
            Some(_) => of_geometry_value(document, &mut parts).map_err(|reason| wrong(None, reason))?,
            None => return Err(wrong(None, "it is not GeoJSON: it has no \"type\"".to_owned())),
        }
        if parts.is_empty() {
            let reason =
                "it has no line and no polygon, so there is nothing to draw; give a coastline or an area";
            return Err(wrong(None, reason.to_owned()));
        }
        let sha256 =
            Sha256::digest(bytes).iter().flat_map(|byte| [byte >> 4, byte & 15]).map(digit).collect();
        Ok(Self { path: path.to_owned(), sha256, parts })
    }

    /// The path as given.
    #[must_use]
    pub fn path(&self) -> &str {
        &self.path
    }

    /// SHA-256 of the bytes, lower-case hexadecimal.
    #[must_use]
    pub fn sha256(&self) -> &str {
        &self.sha256
    }

    /// What the frame shows of it, no finer than the map can show.
    pub(super) fn drawing(&self, frame: &Frame) -> Markup {
        // each area is a path of its own: under the even-odd rule areas that overlap would cut holes into each other
        let (mut lines, mut areas) = (PathData::default(), Vec::new());
        for part in &self.parts {
            match part {
                Part::Line(line) => {
                    for piece in clipped_line(&frame.chain(line), frame.height) {
                        lines.add(&simplified(&thinned(&piece)), false);
                    }
                }
                Part::Area(rings) => {
                    let mut area = PathData::default();
                    for ring in rings {
                        let piece = clipped_ring(frame.chain(ring), frame.height);
                        area.add(&simplified(&thinned(&piece)), true);
                    }
                    areas.push(area);
                }
            }
        }
        html! {
            @for area in areas.into_iter().filter(|area: &PathData| !area.is_empty()) {
                path .backdrop.area fill-rule="evenodd" d=(area.into_text()) {}
            }
            @if !lines.is_empty() { path .backdrop d=(lines.into_text()) {} }
        }
    }
}

/// A digit of hexadecimal.
fn digit(nibble: u8) -> char {
    char::from_digit(nibble.into(), 16).unwrap_or('0')
}

fn called(number: usize, feature: &Value) -> String {
    let id = match feature.get("id") {
        Some(Value::String(id)) => format!(" (id \"{}\")", id.escape_debug()),
        Some(Value::Number(id)) => format!(" (id {id})"),
        _ => String::new(),
    };
    format!("feature {number}{id}")
}

fn of_feature(feature: &Value, parts: &mut Vec<Part>) -> Result<(), String> {
    let feature = <Feature as serde::Deserialize>::deserialize(feature)
        .map_err(|error| format!("it cannot be read: {error}; compare it with RFC 7946"))?;
    feature.geometry.map_or(Ok(()), |geometry| of_geometry(&geometry.value, parts))
}

fn of_geometry_value(value: Value, parts: &mut Vec<Part>) -> Result<(), String> {
    let geometry = <Geometry as serde::Deserialize>::deserialize(value)
        .map_err(|error| format!("it cannot be read: {error}; compare it with RFC 7946"))?;
    of_geometry(&geometry.value, parts)
}

fn of_geometry(geometry: &GeometryValue, parts: &mut Vec<Part>) -> Result<(), String> {
    match geometry {
        GeometryValue::Point { .. } | GeometryValue::MultiPoint { .. } => {}
        GeometryValue::LineString { coordinates } => parts.push(Part::Line(line(coordinates)?)),
        GeometryValue::MultiLineString { coordinates } => {
            for coordinates in coordinates {
                parts.push(Part::Line(line(coordinates)?));
            }
        }
        GeometryValue::Polygon { coordinates } => parts.push(area(coordinates)?),
        GeometryValue::MultiPolygon { coordinates } => {
            for coordinates in coordinates {
                parts.push(area(coordinates)?);
            }
        }
        GeometryValue::GeometryCollection { geometries } => {
            for geometry in geometries {
                of_geometry(&geometry.value, parts)?;
            }
        }
    }
    Ok(())
}

fn area(rings: &[Vec<geojson::Position>]) -> Result<Part, String> {
    rings.iter().map(|ring| line(ring)).collect::<Result<_, _>>().map(Part::Area)
}

fn line(coordinates: &[geojson::Position]) -> Result<Vec<Position>, String> {
    if coordinates.len() < 2 {
        return Err(
            "a line or ring of it has fewer than two points; give it two or more, or take it out".to_owned()
        );
    }
    coordinates.iter().map(place).collect()
}

fn place(coordinates: &geojson::Position) -> Result<Position, String> {
    let [longitude_deg, latitude_deg, ..] = coordinates.as_slice() else {
        return Err("a point of it has no latitude; write longitude and latitude in degrees".to_owned());
    };
    Position::from_degrees(*latitude_deg, *longitude_deg).map_err(|error| {
        format!(
            "[{longitude_deg}, {latitude_deg}] is not a place: {error}; write longitude first, in degrees"
        )
    })
}

/// The part of a ring within the frame, after Sutherland and Hodgman (1974): cut at one edge after another.
fn clipped_ring(ring: Vec<(f64, f64)>, height: f64) -> Vec<(f64, f64)> {
    let mut points = ring;
    for edge in edges(height) {
        let mut kept = Vec::with_capacity(points.len());
        for (number, point) in points.iter().enumerate() {
            let before = if number == 0 { points.last() } else { points.get(number - 1) };
            let Some(before) = before else { continue };
            if (edge(*before) >= 0.0) != (edge(*point) >= 0.0) {
                kept.push(between(*before, *point, edge(*before), edge(*point)));
            }
            if edge(*point) >= 0.0 {
                kept.push(*point);
            }
        }
        points = kept;
    }
    points
}

/// The pieces of a line within the frame.
fn clipped_line(line: &[(f64, f64)], height: f64) -> Vec<Vec<(f64, f64)>> {
    let mut pieces = Vec::new();
    let mut piece: Vec<(f64, f64)> = Vec::new();
    for (from, to) in line.iter().zip(line.iter().skip(1)) {
        match clipped_leg((*from, *to), height) {
            Some((from, to)) => {
                if piece.last() != Some(&from) {
                    pieces.push(std::mem::replace(&mut piece, vec![from]));
                }
                piece.push(to);
            }
            None => pieces.push(std::mem::take(&mut piece)),
        }
    }
    pieces.push(piece);
    pieces.retain(|piece| piece.len() > 1);
    pieces
}

fn clipped_leg(leg: ((f64, f64), (f64, f64)), height: f64) -> Option<((f64, f64), (f64, f64))> {
    let (mut from, mut to) = leg;
    for edge in edges(height) {
        match (edge(from) >= 0.0, edge(to) >= 0.0) {
            (true, true) => {}
            (true, false) => to = between(from, to, edge(from), edge(to)),
            (false, true) => from = between(from, to, edge(from), edge(to)),
            (false, false) => return None,
        }
    }
    Some((from, to))
}

/// How far a point lies within each edge of the frame, with a little water around so that no cut shows.
fn edges(height: f64) -> [impl Fn((f64, f64)) -> f64; 4] {
    const AROUND: f64 = 8.0;
    [0, 1, 2, 3].map(|edge| {
        move |(x, y): (f64, f64)| match edge {
            0 => x + AROUND,
            1 => WIDTH + AROUND - x,
            2 => y + AROUND,
            _ => height + AROUND - y,
        }
    })
}

/// Where a leg meets an edge, by how far its ends lie within it.
fn between(from: (f64, f64), to: (f64, f64), from_within: f64, to_within: f64) -> (f64, f64) {
    let share = from_within / (from_within - to_within);
    (from.0 + share * (to.0 - from.0), from.1 + share * (to.1 - from.1))
}
