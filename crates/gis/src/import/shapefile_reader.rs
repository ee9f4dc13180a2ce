//! Shapefiles, with the attributes of the `.dbf` and the coordinate system of the `.prj` beside them.

use std::io::Cursor;

use shapefile::record::polygon::GenericPolygon;
use shapefile::record::polyline::GenericPolyline;
use shapefile::record::traits::HasXY;
use shapefile::{NO_DATA, PolygonRing, Shape as EsriShape, ShapeReader};

use super::dbf_rows;
use super::fault::ImportFault;
use super::layer::{Area, Layer, Line, Shape, SourceFeature, StatedSystem};
use super::note::Notes;
use super::rings;
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
        Some(dbf) => add_attributes((dbf, source.cpg.as_deref()), &mut features, &mut notes)?,
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
        EsriShape::Polygon(polygon) => read.areas = areas(&polygon, notes, place)?,
        EsriShape::PolygonM(polygon) => {
            let points = polygon.rings().iter().flat_map(PolygonRing::points);
            notes.count_lost("measures", points.filter(|point| point.m > NO_DATA).count());
            read.areas = areas(&polygon, notes, place)?;
        }
        EsriShape::PolygonZ(polygon) => {
            let points = polygon.rings().iter().flat_map(PolygonRing::points);
            notes.count_lost("measures", points.filter(|point| point.m > NO_DATA).count());
            read.areas = areas(&polygon, notes, place)?;
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

fn areas<P: HasXY>(
    polygon: &GenericPolygon<P>,
    notes: &mut Notes,
    place: &str,
) -> Result<Vec<Area>, ImportFault> {
    let positions =
        |ring: &PolygonRing<P>| ring.points().iter().map(|point| [point.x(), point.y()]).collect();
    rings::areas(polygon.rings().iter().map(positions).collect(), notes, place)
}

fn add_attributes(
    (dbf, cpg): (&[u8], Option<&[u8]>),
    features: &mut [SourceFeature],
    notes: &mut Notes,
) -> Result<(), ImportFault> {
    let rows = dbf_rows::read(dbf, cpg, notes)?;
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
