//! A workload as it is read from its folder.

use std::path::Path;

use geo::Coord;
use jiff::Timestamp;
use serde::Deserialize;
use takeline::zone::Extent;
use takeline::{Boundary, EdgeModel, PartSpec, Position, RingSpec, ZoneSet};

use crate::failure::{Failure, read, read_text};

/// Zones and fixes.
pub(crate) struct Workload {
    pub(crate) name: String,
    /// Outlines, longitude first, closed.
    pub(crate) rings: Vec<Vec<Coord>>,
    pub(crate) fixes: Vec<Coord>,
    pub(crate) times: Vec<Timestamp>,
    pub(crate) zones: ZoneSet,
}

/// What is taken from a file of polygons: their coordinates.
#[derive(Debug, Deserialize)]
pub(crate) struct PolygonFile {
    pub(crate) features: Vec<Feature>,
}

/// One polygon.
#[derive(Debug, Deserialize)]
pub(crate) struct Feature {
    pub(crate) geometry: Geometry,
}

/// Rings of longitude and latitude.
#[derive(Debug, Deserialize)]
pub(crate) struct Geometry {
    pub(crate) coordinates: Vec<Vec<[f64; 2]>>,
}

impl Workload {
    pub(crate) fn read(folder: &Path) -> Result<Self, Failure> {
        let path = folder.join("zones.geojson");
        let bytes = read(&path)?;
        let zones =
            takeline::zone_file::read("zones.geojson", &bytes).map_err(|error| Failure::at(&path, error))?;
        let (fixes, times) = fixes(&folder.join("fixes.csv"))?;
        let name = folder.file_name().unwrap_or(folder.as_os_str()).to_string_lossy().into_owned();
        Ok(Self { name, rings: rings(&path, &bytes)?, fixes, times, zones: ZoneSet::new(zones.zones) })
    }

    /// Known lines by the places of their zones in the set.
    pub(crate) fn boundaries(&self) -> Vec<Option<&Boundary>> {
        self.zones
            .zones()
            .iter()
            .map(|zone| match &zone.extent {
                Extent::Known(boundary) => Some(boundary),
                Extent::Unknown { .. } => None,
            })
            .collect()
    }
}

/// The outlines of a file of polygons without holes.
pub(crate) fn rings(path: &Path, bytes: &[u8]) -> Result<Vec<Vec<Coord>>, Failure> {
    let file: PolygonFile = serde_json::from_slice(bytes).map_err(|error| Failure::at(path, error))?;
    let ring = |feature: Feature| {
        let ring = feature.geometry.coordinates.into_iter().next()?;
        Some(ring.into_iter().map(|[x, y]| Coord { x, y }).collect())
    };
    let rings: Option<Vec<Vec<Coord>>> = file.features.into_iter().map(ring).collect();
    rings.ok_or_else(|| Failure::at(path, "a polygon has no ring"))
}

/// The parts of a boundary with geodesic edges.
pub(crate) fn parts(ring: &[Coord]) -> Result<Vec<PartSpec>, Failure> {
    let vertices: Result<Vec<Position>, _> = ring.iter().map(position).collect();
    let exterior =
        RingSpec { vertices: vertices?, edges: vec![EdgeModel::Geodesic; ring.len()], sides: Vec::new() };
    Ok(vec![PartSpec::Polygon { exterior, holes: Vec::new() }])
}

/// A position of ours.
pub(crate) fn position(at: &Coord) -> Result<Position, Failure> {
    Ok(Position::from_degrees(at.y, at.x)?)
}

fn fixes(path: &Path) -> Result<(Vec<Coord>, Vec<Timestamp>), Failure> {
    let (mut fixes, mut times) = (Vec::new(), Vec::new());
    for (number, row) in read_text(path)?.lines().enumerate().skip(1) {
        let fix = fix_of(row).ok_or_else(|| {
            let line = number + 1;
            Failure::at(path, format!("line {line}: no latitude, longitude and seconds since 1970: {row}"))
        })?;
        fixes.push(fix.0);
        times.push(fix.1);
    }
    if fixes.is_empty() {
        return Err(Failure::at(path, "there is no fix"));
    }
    Ok((fixes, times))
}

fn fix_of(row: &str) -> Option<(Coord, Timestamp)> {
    let mut cells = row.split(',');
    let fix = Coord { y: cells.next()?.parse().ok()?, x: cells.next()?.parse().ok()? };
    Position::from_degrees(fix.y, fix.x).ok()?;
    Some((fix, Timestamp::from_second(cells.next()?.trim().parse().ok()?).ok()?))
}
