//! Coasts that the tests start from.

use serde::Deserialize;

use super::{Coast, CoastLine};
use crate::{Metres, Position};

pub(super) fn place(latitude_deg: f64, longitude_deg: f64) -> Position {
    Position::from_degrees(latitude_deg, longitude_deg).expect("is a place")
}

pub(super) fn metres(metres: f64) -> Metres {
    Metres::new(metres).expect("is finite")
}

pub(super) fn line(places: &[(f64, f64)]) -> Vec<Position> {
    places.iter().map(|(latitude_deg, longitude_deg)| place(*latitude_deg, *longitude_deg)).collect()
}

/// A square isle of Marrowick, some 3 km wide, its corners listed clockwise from the south-west.
pub(super) const ISLE: [(f64, f64); 4] = [(45.10, -30.14), (45.13, -30.14), (45.13, -30.10), (45.10, -30.10)];

pub(super) fn isle() -> Coast {
    Coast::from_lines(vec![CoastLine::island(line(&ISLE))], metres(10.0)).expect("is sound")
}

/// A coast of many vertices about a place, like a star of random rays; the rays in metres, evenly spread from north clockwise.
pub(super) fn star(centre: Position, rays_m: &[f64]) -> Vec<Position> {
    let turn_deg = 360.0 / f64::from(u32::try_from(rays_m.len()).expect("few rays"));
    (0..)
        .zip(rays_m)
        .map(|(at, ray_m)| crate::geodesic::direct(centre, turn_deg * f64::from(at), *ray_m))
        .collect()
}

/// The nine islands of Natural Earth, 1 : 10m, version 4.1.0 (tests/data/natural-earth/README.md), with their ids.
pub(super) fn islands() -> Vec<(String, Vec<Position>)> {
    #[derive(Deserialize)]
    struct File {
        features: Vec<Feature>,
    }
    #[derive(Deserialize)]
    struct Feature {
        properties: Properties,
        geometry: Geometry,
    }
    #[derive(Deserialize)]
    struct Properties {
        id: String,
    }
    #[derive(Deserialize)]
    struct Geometry {
        coordinates: Vec<Vec<[f64; 2]>>,
    }
    let file: File = serde_json::from_str(NATURAL_EARTH).expect("has the keys of its type");
    assert_eq!(file.features.len(), 9);
    let ring = |feature: Feature| {
        let mut ring: Vec<Position> =
            feature.geometry.coordinates[0].iter().map(|[lon, lat]| place(*lat, *lon)).collect();
        ring.pop();
        (feature.properties.id, ring)
    };
    file.features.into_iter().map(ring).collect()
}

pub(super) const NATURAL_EARTH: &str =
    include_str!("../../../../tests/data/natural-earth/ne_10m_islands.geojson");
