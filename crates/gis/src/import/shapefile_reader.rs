//! Shapefiles, with the attributes of the `.dbf` and the coordinate system of the `.prj` beside them.

use std::io::Cursor;

use shapefile::record::polygon::GenericPolygon;
use shapefile::record::polyline::GenericPolyline;
use shapefile::record::traits::HasXY;
use shapefile::{PolygonRing, Shape as EsriShape, ShapeReader};

use super::dbf_rows;
use super::fault::ImportFault;
use super::layer::{Area, Layer, Line, Shape, SourceFeature, StatedSystem, Xy};
use super::note::Notes;
use super::source::{Source, text};

const MEND: &str = "write the Shapefile again from the program that made it";

/// Reads all shapes with their attributes.
pub(super) fn read(source: &Source) -> Result<Layer, ImportFault> {
    let mut notes = Notes::default();
    whole_length(&source.bytes)?;
    let mut reader =
        ShapeReader::new(Cursor::new(source.bytes.as_slice())).map_err(|error| broken("", &error))?;
    let mut features = Vec::new();
    for (at, shape) in reader.iter_shapes().enumerate() {
        let place = format!("shape {}", at + 1);
        let shape = shape.map_err(|error| broken(&place, &error))?;
        let shape = shape_of(shape, &mut notes, &place)?;
        features.push(SourceFeature { place, shape, ..SourceFeature::default() });
    }
    match &source.dbf {
        Some(dbf) => add_attributes(dbf, source.cpg.as_deref(), &mut features)?,
        None => notes.lost("", "all attributes: there is no .dbf file beside it"),
    }
    let prj = source.prj.as_deref().map(text).transpose()?.map(str::trim).filter(|prj| !prj.is_empty());
    let system = prj.map_or(StatedSystem::Unstated, |prj| StatedSystem::Named(prj.to_owned()));
    Ok(Layer { system, is_straight_in_lonlat: false, features, notes })
}

fn broken(place: &str, error: &dyn std::fmt::Display) -> ImportFault {
    ImportFault::at(place, format!("the .shp cannot be read: {error}"), MEND)
}

/// The head says how long the file is, in words of two bytes; shapes behind that would not be seen.
fn whole_length(bytes: &[u8]) -> Result<(), ImportFault> {
    let said = bytes.get(24..28).and_then(|four| four.try_into().ok()).map(i32::from_be_bytes);
    let said = said.and_then(|words| usize::try_from(words).ok()).map(|words| words.saturating_mul(2));
    match said {
        Some(said) if said == bytes.len() => Ok(()),
        Some(said) => Err(ImportFault::whole(
            format!("the .shp says that it has {said} bytes, and has {}", bytes.len()),
            MEND,
        )),
        None => Err(ImportFault::whole("the .shp is too short to be one", MEND)),
    }
}

fn shape_of(shape: EsriShape, notes: &mut Notes, place: &str) -> Result<Shape, ImportFault> {
    let mut read = Shape::default();
    match shape {
        EsriShape::NullShape => {}
        EsriShape::Point(point) => read.points.push([point.x, point.y]),
        EsriShape::PointM(point) => read.points.push([point.x, point.y]),
        EsriShape::PointZ(point) => read.points.push([point.x, point.y]),
        EsriShape::Polyline(line) => read.lines = lines(&line),
        EsriShape::PolylineM(line) => read.lines = lines(&line),
        EsriShape::PolylineZ(line) => read.lines = lines(&line),
        EsriShape::Polygon(polygon) => read.areas = areas(&polygon, notes, place),
        EsriShape::PolygonM(polygon) => read.areas = areas(&polygon, notes, place),
        EsriShape::PolygonZ(polygon) => {
            read.areas = areas(&polygon, notes, place);
            notes.count_lost("heights", read.count());
        }
        EsriShape::Multipoint(_)
        | EsriShape::MultipointM(_)
        | EsriShape::MultipointZ(_)
        | EsriShape::Multipatch(_) => {
            return Err(ImportFault::at(
                place,
                "it is a group of points or a surface with heights, which is no area",
                "delete it from the source, or draw the area as a polygon",
            ));
        }
    }
    Ok(read)
}

fn lines<P: HasXY>(line: &GenericPolyline<P>) -> Vec<Line> {
    let positions = |part: &Vec<P>| part.iter().map(|point| [point.x(), point.y()]).collect();
    line.parts().iter().map(|part| Line { positions: positions(part), is_meant_closed: false }).collect()
}

/// Rings that run clockwise are areas, the others holes in them; which in which, the file does not say.
fn areas<P: HasXY>(polygon: &GenericPolygon<P>, notes: &mut Notes, place: &str) -> Vec<Area> {
    let positions = |points: &[P]| -> Vec<Xy> { points.iter().map(|point| [point.x(), point.y()]).collect() };
    let mut areas = Vec::new();
    let mut holes = Vec::new();
    for ring in polygon.rings() {
        match ring {
            PolygonRing::Outer(points) => areas.push(Area { exterior: positions(points), holes: Vec::new() }),
            PolygonRing::Inner(points) => holes.push(positions(points)),
        }
    }
    let outer = areas.len();
    for hole in holes {
        // of several areas inside one another, the innermost has the hole
        let around = (0..outer).filter(|at| is_inside(&hole, &areas[*at].exterior));
        let innermost = around.min_by(|a, b| size(&areas[*a].exterior).total_cmp(&size(&areas[*b].exterior)));
        if let Some(at) = innermost {
            areas[at].holes.push(hole);
        } else {
            notes.changed(
                place,
                "a ring that runs as a hole does, counter-clockwise, lies in no other: it is read as an area",
            );
            areas.push(Area { exterior: hole, holes: Vec::new() });
        }
    }
    for at in 0..outer {
        let inside =
            (0..outer).any(|other| other != at && is_inside(&areas[at].exterior, &areas[other].exterior));
        let is_in_hole =
            areas.iter().flat_map(|area| &area.holes).any(|hole| is_inside(&areas[at].exterior, hole));
        if inside && !is_in_hole {
            notes.changed(
                place,
                "a ring lies inside another and runs the same way: it is read as a part and leaves no hole; look whether it was meant as one",
            );
        }
    }
    areas
}

/// Whether a ring lies in another that it does not cross: most of its vertices do, since some may touch.
fn is_inside(ring: &[Xy], around: &[Xy]) -> bool {
    let inside = ring.iter().filter(|xy| is_around(around, **xy)).count();
    inside * 2 > ring.len()
}

/// Whether a ring runs round a place, on the plane of its numbers.
fn is_around(ring: &[Xy], [x, y]: Xy) -> bool {
    let sides = ring.iter().zip(ring.iter().cycle().skip(1));
    let crossed = sides
        .filter(|([ax, ay], [bx, by])| (*ay > y) != (*by > y) && x < ax + (y - ay) * (bx - ax) / (by - ay));
    crossed.count() % 2 == 1
}

/// How much a ring encloses, on the plane of its numbers.
fn size(ring: &[Xy]) -> f64 {
    let sides = ring.iter().zip(ring.iter().cycle().skip(1));
    sides.map(|([ax, ay], [bx, by])| ax * by - bx * ay).sum::<f64>().abs()
}

fn add_attributes(dbf: &[u8], cpg: Option<&[u8]>, features: &mut [SourceFeature]) -> Result<(), ImportFault> {
    let is_utf_8 = cpg.is_some_and(|cpg| cpg.to_ascii_lowercase().starts_with(b"utf"));
    let rows = dbf_rows::read(dbf, is_utf_8)?;
    if rows.len() != features.len() {
        return Err(ImportFault::whole(
            format!(
                "the .shp has {} shapes and the .dbf {} rows, so nobody knows which belongs to which",
                features.len(),
                rows.len()
            ),
            MEND,
        ));
    }
    for (feature, row) in features.iter_mut().zip(rows) {
        feature.attributes = row;
    }
    Ok(())
}
