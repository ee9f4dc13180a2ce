//! A coastline or another drawing that lies beneath the map. It is drawn and nothing else: no answer asks it.

use geojson::{Feature, Geometry, GeometryValue};
use serde_json::Value;
use sha2::{Digest, Sha256};
use takeline::Position;

use crate::drawing::land::{Land, Part};

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
    land: Land,
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
        Ok(Self { path: path.to_owned(), sha256, land: Land::of_parts(parts) })
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

    /// The lines and areas of it.
    pub(super) const fn land(&self) -> &Land {
        &self.land
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
