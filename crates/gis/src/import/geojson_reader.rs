//! GeoJSON from elsewhere, by RFC 7946 or of the time before.

use geojson::{Feature, Geometry, GeometryValue, Position};
use serde_json::{Map, Value};
use takeline::zone_file::{self, untrusted_json};

use super::coordinate_system::System;
use super::fault::ImportFault;
use super::layer::{Area, Layer, Line, Shape, SourceFeature, StatedSystem, Xy};
use super::note::Notes;
use super::source::Source;

const MEND: &str = "save it again as GeoJSON from the program that made it";

/// Reads a feature collection, one feature, or one geometry.
pub(super) fn read(source: &Source) -> Result<Layer, ImportFault> {
    let root = untrusted_json(source.text()?.as_bytes())
        .map_err(|error| ImportFault::whole(format!("it is not JSON that can be read: {error}"), MEND))?;
    let Value::Object(mut root) = root else {
        return Err(ImportFault::whole("it is JSON, but no GeoJSON object", MEND));
    };
    refuse_own_file(&root)?;
    let mut notes = Notes::default();
    let system = system_of(root.remove("crs"))?;
    let features = features_of(root, &mut notes)?;
    let one = |(at, feature): (usize, Value)| {
        let place = format!("feature {}", at + 1);
        refuse_another_system(&feature, &system, &place)?;
        feature_of(place, feature, &mut notes)
    };
    let features: Result<_, _> = features.into_iter().enumerate().map(one).collect();
    // before RFC 7946 nobody said how a side runs
    let is_straight_in_lonlat = system == StatedSystem::ByFormat;
    Ok(Layer { system, is_straight_in_lonlat, features: features?, notes })
}

/// Files of Takeline are GeoJSON too, and say what they are.
fn refuse_own_file(root: &Map<String, Value>) -> Result<(), ImportFault> {
    let Some(head) = root.get("takeline") else { return Ok(()) };
    match head.get("format").and_then(Value::as_str) {
        Some(format) if format != zone_file::FORMAT => Err(ImportFault::whole(
            format!("it says that it is {format:?}, and not a file of zones from elsewhere"),
            "import the file that has the zones",
        )),
        _ => Err(ImportFault::whole("it is a zone file already", "use it as it is, with --zones")),
    }
}

/// GeoJSON before RFC 7946 lets every object have a coordinate system of its own: one that differs from that of the file is refused.
fn refuse_another_system(object: &Value, system: &StatedSystem, place: &str) -> Result<(), ImportFault> {
    if let Some(crs) = object.get("crs")
        && System::of(&system_of(Some(crs.clone()))?) != System::of(system)
    {
        return Err(ImportFault::at(
            place,
            format!("it has a coordinate system of its own, {crs}, and the file another"),
            "save each coordinate system in a file of its own, with crs beside type at the top",
        ));
    }
    let inner = object.get("geometries").and_then(Value::as_array).into_iter().flatten();
    inner.chain(object.get("geometry")).try_for_each(|inner| refuse_another_system(inner, system, place))
}

/// The member `crs` of GeoJSON before RFC 7946.
fn system_of(crs: Option<Value>) -> Result<StatedSystem, ImportFault> {
    match crs {
        None => Ok(StatedSystem::ByFormat),
        Some(Value::Null) => Ok(StatedSystem::Unstated),
        Some(crs) => {
            let name = crs.pointer("/properties/name").and_then(Value::as_str);
            name.map(|name| StatedSystem::Named(name.to_owned())).ok_or_else(|| {
                ImportFault::whole(
                    format!("its member crs, {crs}, names no coordinate system"),
                    "write { \"type\": \"name\", \"properties\": { \"name\": \"EPSG:…\" } }, or delete crs if the positions are on WGS 84",
                )
            })
        }
    }
}

fn features_of(mut root: Map<String, Value>, notes: &mut Notes) -> Result<Vec<Value>, ImportFault> {
    match root.get("type").and_then(Value::as_str) {
        Some("FeatureCollection") => {
            let features = root.remove("features");
            let others = root.keys().filter(|key| !["type", "bbox"].contains(&key.as_str()));
            for key in others {
                notes.lost("", format!("the member {key:?} of the collection"));
            }
            match features {
                Some(Value::Array(features)) => Ok(features),
                _ => Err(ImportFault::whole("its member features is no list", MEND)),
            }
        }
        Some("Feature") => Ok(vec![Value::Object(root)]),
        Some(_) => {
            let mut feature = Map::new();
            feature.insert("type".into(), "Feature".into());
            feature.insert("properties".into(), Value::Null);
            feature.insert("geometry".into(), Value::Object(root));
            Ok(vec![Value::Object(feature)])
        }
        None => Err(ImportFault::whole("it has no type, so it is no GeoJSON", MEND)),
    }
}

fn feature_of(place: String, value: Value, notes: &mut Notes) -> Result<SourceFeature, ImportFault> {
    let feature: Feature = serde_json::from_value(value).map_err(|error| {
        ImportFault::at(&place, format!("it is no feature that can be read: {error}"), MEND)
    })?;
    let id = feature.id.map(|id| match id {
        geojson::feature::Id::String(id) => id,
        geojson::feature::Id::Number(id) => id.to_string(),
    });
    // a crs that says the same as that of the file has done what it is for
    for key in feature.foreign_members.iter().flat_map(Map::keys).filter(|key| *key != "crs") {
        notes.lost(&place, format!("the member {key:?} beside properties"));
    }
    let mut shape = Shape::default();
    if let Some(geometry) = &feature.geometry {
        let mut lost = Lost::default();
        add(geometry, (&mut shape, &mut lost), &place)?;
        notes.count_lost("heights", lost.heights);
        notes.count_lost("members of shapes that are no coordinates", lost.members);
    }
    let attributes = feature.properties.into_iter().flatten().collect();
    Ok(SourceFeature { place, id, attributes, shape })
}

/// What of a shape does not come over.
#[derive(Debug, Default)]
struct Lost {
    heights: usize,
    members: usize,
}

fn add(geometry: &Geometry, (shape, lost): (&mut Shape, &mut Lost), place: &str) -> Result<(), ImportFault> {
    let members = geometry.foreign_members.iter().flat_map(Map::keys).filter(|key| *key != "crs");
    lost.members += members.count();
    let heights = &mut lost.heights;
    let mut line = |positions: &[Position]| -> Result<Vec<Xy>, ImportFault> {
        positions.iter().map(|position| xy(position, heights, place)).collect()
    };
    match &geometry.value {
        GeometryValue::Point { coordinates } => shape.points.extend(line(std::slice::from_ref(coordinates))?),
        GeometryValue::MultiPoint { coordinates } => shape.points.extend(line(coordinates)?),
        GeometryValue::LineString { coordinates } => {
            shape.lines.push(Line { positions: line(coordinates)?, is_meant_closed: false });
        }
        GeometryValue::MultiLineString { coordinates } => {
            for positions in coordinates {
                shape.lines.push(Line { positions: line(positions)?, is_meant_closed: false });
            }
        }
        GeometryValue::Polygon { coordinates } => shape.areas.extend(area(coordinates, line)?),
        GeometryValue::MultiPolygon { coordinates } => {
            for rings in coordinates {
                shape.areas.extend(area(rings, &mut line)?);
            }
        }
        GeometryValue::GeometryCollection { geometries } => {
            for geometry in geometries {
                add(geometry, (&mut *shape, &mut *lost), place)?;
            }
        }
    }
    Ok(())
}

fn area(
    rings: &[Vec<Position>],
    mut line: impl FnMut(&[Position]) -> Result<Vec<Xy>, ImportFault>,
) -> Result<Option<Area>, ImportFault> {
    let Some((exterior, holes)) = rings.split_first() else { return Ok(None) };
    let exterior = line(exterior)?;
    let holes = holes.iter().map(|hole| line(hole)).collect::<Result<_, _>>()?;
    Ok(Some(Area { exterior, holes }))
}

fn xy(position: &Position, heights: &mut usize, place: &str) -> Result<Xy, ImportFault> {
    match position.as_slice() {
        [x, y, rest @ ..] => {
            *heights += usize::from(!rest.is_empty());
            Ok([*x, *y])
        }
        _ => Err(ImportFault::at(
            place,
            "a position has fewer than two numbers",
            "write [longitude, latitude]",
        )),
    }
}
