//! How many zones and how much of a line a file may hold: told before their boundaries fill the memory.

use std::f64::consts::TAU;

use serde_json::Value;

use super::published_reader::places_in;
use crate::Metres;
use crate::geojson_text::{Coordinates, Log, LonLat, MOST_BYTES as MOST, too_large};

/// The most bytes of a zone file that are read: 64 MiB.
pub const MOST_BYTES: usize = MOST;
/// The most zones of a file; also of all files that are loaded together by the command.
pub const MOST_ZONES: usize = 100_000;
/// The most vertices of a file.
pub const MOST_VERTICES: usize = 2_000_000;
/// The longest that all lines of a file may be together, in kilometres. A line is held as pieces of up to two kilometres,
/// so that this is what memory goes by.
pub const MOST_LINE_KM: f64 = 1_000_000.0;

/// Mean radius of the Earth (IUGG), for lengths that only have to be about right.
const EARTH_M: f64 = 6_371_008.8;

/// How much a file holds.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct FileSize {
    vertices: usize,
    line_m: f64,
}

impl FileSize {
    pub(super) fn of(features: &[Value]) -> Self {
        features.iter().map(|feature| Self::of_feature(feature, None)).fold(Self::default(), Self::and)
    }

    /// Of one feature, whose coordinates may stand apart.
    pub(super) fn of_feature(feature: &Value, coordinates: Option<&Coordinates>) -> Self {
        let mut size = Self::default();
        match coordinates {
            None => size.add_coordinates(&feature["geometry"]["coordinates"]),
            Some(Coordinates::Polygon(rings)) => rings.iter().for_each(|ring| size.add_ring(ring)),
            Some(Coordinates::MultiPolygon(parts)) => {
                parts.iter().flatten().for_each(|ring| size.add_ring(ring));
            }
        }
        if feature["geometry"].is_null() {
            size.add_published(&feature["properties"]);
        }
        size.add_circles(&feature["properties"]);
        size
    }

    /// Both together.
    pub(super) fn and(self, other: Self) -> Self {
        Self { vertices: self.vertices + other.vertices, line_m: self.line_m + other.line_m }
    }

    fn add_ring(&mut self, ring: &[LonLat]) {
        self.vertices += ring.len();
        self.add_line(ring.iter().map(|LonLat([longitude, latitude])| direction(*longitude, *latitude)));
    }

    /// Vertices that are given only as the law prints them.
    fn add_published(&mut self, properties: &Value) {
        let places: Vec<(f64, f64)> = places_in(properties).collect();
        self.vertices += places.len();
        self.add_line(
            places.iter().map(|(longitude_deg, latitude_deg)| direction(*longitude_deg, *latitude_deg)),
        );
    }

    /// A line through some directions and back to the first.
    fn add_line(&mut self, mut places: impl Iterator<Item = [f64; 3]>) {
        let Some(first) = places.next() else { return };
        let mut before = first;
        for place in places.chain([first]) {
            self.line_m += EARTH_M * angle_between(before, place);
            before = place;
        }
    }

    /// About how long all lines are.
    pub(super) fn line_length(self) -> Metres {
        Metres::computed(self.line_m)
    }

    /// Whether the file may be loaded; a fault for each limit that it exceeds.
    pub(super) fn is_within_limits(self, log: &mut Log, zones: usize) -> bool {
        let before = log.faults_so_far();
        if zones > MOST_ZONES {
            too_large(log, format!("holds {zones} zones; at most {MOST_ZONES} are read from a file"));
        }
        if self.vertices > MOST_VERTICES {
            let vertices = self.vertices;
            too_large(
                log,
                format!("holds {vertices} vertices; at most {MOST_VERTICES} are read from a file"),
            );
        }
        let line_km = self.line_m / 1000.0;
        if line_km > MOST_LINE_KM {
            too_large(
                log,
                format!(
                    "its boundaries are about {line_km:.0} km long together; at most {MOST_LINE_KM:.0} km are read from a file"
                ),
            );
        }
        log.faults_so_far() == before
    }

    fn add_coordinates(&mut self, coordinates: &Value) {
        let Some(list) = coordinates.as_array() else { return };
        if list.first().is_some_and(Value::is_number) {
            self.vertices += 1;
            return;
        }
        if !list.iter().any(|within| unit_vector(within).is_some()) {
            for within in list {
                self.add_coordinates(within);
            }
            return;
        }
        self.vertices += list.len();
        self.add_line(list.iter().filter_map(unit_vector));
    }

    /// Whole circles and arcs, each taken for a whole one.
    fn add_circles(&mut self, properties: &Value) {
        match properties {
            Value::Array(list) => {
                for within in list {
                    self.add_circles(within);
                }
            }
            Value::Object(members) => {
                for (name, within) in members {
                    match within.as_f64().filter(|_| name == "radius_m") {
                        Some(radius_m) => self.line_m += TAU * radius_m.clamp(0.0, EARTH_M),
                        None => self.add_circles(within),
                    }
                }
            }
            Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
        }
    }
}

/// The direction of a position from the middle of a sphere.
fn unit_vector(position: &Value) -> Option<[f64; 3]> {
    let list = position.as_array()?;
    Some(direction(list.first()?.as_f64()?, list.get(1)?.as_f64()?))
}

fn direction(longitude_deg: f64, latitude_deg: f64) -> [f64; 3] {
    let (lon_sin, lon_cos) = longitude_deg.to_radians().sin_cos();
    let (lat_sin, lat_cos) = latitude_deg.to_radians().sin_cos();
    [lat_cos * lon_cos, lat_cos * lon_sin, lat_sin]
}

fn angle_between(one: [f64; 3], other: [f64; 3]) -> f64 {
    let squares = one.iter().zip(other).map(|(a, b)| (a - b) * (a - b));
    let half_chord = squares.sum::<f64>().sqrt() / 2.0;
    2.0 * half_chord.min(1.0).asin()
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    /// A degree of latitude is 1/360 of the circumference of the sphere, 111 195 m.
    #[test]
    fn lines_are_about_as_long_as_they_are() {
        let square = json!([{ "geometry": { "type": "Polygon", "coordinates":
            [[[0, 0], [0, 1], [0, 0]]] }, "properties": { "radius_m": 1000 } }]);
        let size = FileSize::of(square.as_array().unwrap());
        assert_eq!(size.vertices, 3);
        assert!((size.line_m - 2.0 * 111_195.0 - TAU * 1000.0).abs() < 10.0, "{}", size.line_m);
    }

    #[test]
    fn what_is_no_coordinate_at_all_has_no_size() {
        let odd = json!([{ "geometry": null }, 7, { "geometry": { "coordinates": ["a", [[], [null, 2]]] } }]);
        let size = FileSize::of(odd.as_array().unwrap());
        assert!(size.is_within_limits(&mut Log::default(), 3));
        assert!(size.line_m.abs() < 1e-9);
    }

    #[test]
    fn a_position_nested_deep_is_walked_to() {
        let deep = json!([{ "geometry": { "coordinates": [[[[[1, 2], [2, 2]]]]] } }]);
        assert_eq!(FileSize::of(deep.as_array().unwrap()).vertices, 2);
    }
}
