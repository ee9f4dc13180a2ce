//! Well-known text of shapes, one a line, with `SRID=…;` before it or not.

use std::str::FromStr;

use wkt::Wkt;
use wkt::types::{Coord, Polygon};

use super::fault::ImportFault;
use super::layer::{Area, Layer, Line, Shape, SourceFeature, StatedSystem, Xy};
use super::note::Notes;
use super::source::Source;

/// How deep collections may be nested.
const DEEPEST: usize = 8;
const MEND: &str = "write POLYGON ((lon lat, lon lat, …)) or MULTIPOLYGON (((…))), one geometry a line";

/// Reads a file of geometries.
pub(super) fn read(source: &Source) -> Result<Layer, ImportFault> {
    let mut notes = Notes::default();
    let mut system = None;
    let mut features = Vec::new();
    for (at, line) in source.text()?.lines().enumerate() {
        if line.trim().is_empty() {
            continue;
        }
        let place = format!("line {}", at + 1);
        let (of_line, text) = srid_of(line, &place)?;
        if system.get_or_insert_with(|| of_line.clone()) != &of_line {
            return Err(ImportFault::at(
                &place,
                "its SRID differs from that of the lines before",
                "import each by itself",
            ));
        }
        let shape = shape_of(text, &mut notes, &place)?;
        features.push(SourceFeature { place, shape, ..SourceFeature::default() });
    }
    let system = system.unwrap_or(StatedSystem::Unstated);
    Ok(Layer { system, is_straight_in_lonlat: false, features, notes })
}

/// `SRID=4326;POLYGON …`, which databases write; the number is one of the EPSG registry.
fn srid_of<'t>(line: &'t str, place: &str) -> Result<(StatedSystem, &'t str), ImportFault> {
    let line = line.trim();
    let is_srid = line.get(..5).is_some_and(|start| start.eq_ignore_ascii_case("SRID="));
    if !is_srid {
        return Ok((StatedSystem::Unstated, line));
    }
    let read =
        line[5..].split_once(';').and_then(|(code, rest)| Some((code.trim().parse::<u32>().ok()?, rest)));
    match read {
        Some((0, rest)) => Ok((StatedSystem::Unstated, rest)),
        Some((code, rest)) => Ok((StatedSystem::Named(format!("EPSG:{code}")), rest)),
        None => Err(ImportFault::at(
            place,
            "after SRID= there is no number and semicolon",
            "write SRID=4326;POLYGON …",
        )),
    }
}

/// Reads one geometry.
pub(super) fn shape_of(text: &str, notes: &mut Notes, place: &str) -> Result<Shape, ImportFault> {
    one_geometry(text.trim(), place)?;
    let read = Wkt::<f64>::from_str(text.trim())
        .map_err(|error| ImportFault::at(place, format!("it is no well-known text: {error}"), MEND))?;
    let mut shape = Shape::default();
    let mut extra = [0; 2];
    add(&read, (&mut shape, &mut extra));
    let [heights, measures] = extra;
    notes.count_lost("heights", heights);
    notes.count_lost("measures", measures);
    Ok(shape)
}

/// Refuses what the reader would not see: text behind a geometry; and what would be too deep for it, since it calls itself.
fn one_geometry(text: &str, place: &str) -> Result<(), ImportFault> {
    let (mut open, mut closed_at) = (0_usize, None);
    for (at, letter) in text.char_indices() {
        if closed_at.is_some() {
            return Err(ImportFault::at(place, "something follows the geometry", MEND));
        }
        match letter {
            '(' => open += 1,
            ')' => open = open.saturating_sub(1),
            _ => continue,
        }
        if open > DEEPEST {
            return Err(ImportFault::at(place, "collections are nested too deep", MEND));
        }
        closed_at = (open == 0).then_some(at);
    }
    Ok(())
}

/// Adds a geometry; `extra` counts heights and measures.
fn add(geometry: &Wkt<f64>, (shape, extra): (&mut Shape, &mut [usize; 2])) {
    let mut line =
        |coords: &[Coord<f64>]| -> Vec<Xy> { coords.iter().map(|coord| xy(coord, extra)).collect() };
    match geometry {
        Wkt::Point(point) => shape.points.extend(line(point.coord().map_or(&[], std::slice::from_ref))),
        Wkt::MultiPoint(points) => {
            for point in points.points() {
                shape.points.extend(line(point.coord().map_or(&[], std::slice::from_ref)));
            }
        }
        Wkt::LineString(of) => {
            shape.lines.push(Line { positions: line(of.coords()), is_meant_closed: false });
        }
        Wkt::MultiLineString(lines) => {
            for of in lines.line_strings() {
                shape.lines.push(Line { positions: line(of.coords()), is_meant_closed: false });
            }
        }
        Wkt::Polygon(polygon) => shape.areas.extend(area(polygon, line)),
        Wkt::MultiPolygon(polygons) => {
            for polygon in polygons.polygons() {
                shape.areas.extend(area(polygon, &mut line));
            }
        }
        Wkt::GeometryCollection(geometries) => {
            for geometry in geometries.geometries() {
                add(geometry, (&mut *shape, &mut *extra));
            }
        }
    }
}

fn area(polygon: &Polygon<f64>, mut line: impl FnMut(&[Coord<f64>]) -> Vec<Xy>) -> Option<Area> {
    let (exterior, holes) = polygon.rings().split_first()?;
    let exterior = line(exterior.coords());
    Some(Area { exterior, holes: holes.iter().map(|hole| line(hole.coords())).collect() })
}

fn xy(coord: &Coord<f64>, [heights, measures]: &mut [usize; 2]) -> Xy {
    *heights += usize::from(coord.z.is_some_and(|z| z != 0.0));
    *measures += usize::from(coord.m.is_some());
    [coord.x, coord.y]
}
