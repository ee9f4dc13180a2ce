//! KML 2.2 and 2.3: placemarks, in folders or not. WGS 84 by the format; how a side runs between two positions it does not say.

use serde_json::Value;

use super::fault::ImportFault;
use super::layer::{Area, Layer, Line, Shape, SourceFeature, StatedSystem, Xy, number};
use super::note::Notes;
use super::xml_tree::{self, Element};

/// Elements of a placemark that only say how it looks, or from where to look at it.
const LOOKS: [&str; 7] = ["styleUrl", "Style", "StyleMap", "LookAt", "Camera", "visibility", "open"];
/// Shapes that are no zones.
const NO_SHAPES: [&str; 5] = ["Model", "Track", "MultiTrack", "PhotoOverlay", "GroundOverlay"];

/// Reads all placemarks.
pub(super) fn read(bytes: &[u8]) -> Result<Layer, ImportFault> {
    let root = xml_tree::parse(bytes)?;
    let mut notes = Notes::default();
    let mut features = Vec::new();
    visit(&root, &mut features, &mut notes)?;
    Ok(Layer { system: StatedSystem::ByFormat, is_straight_in_lonlat: false, features, notes })
}

fn visit(element: &Element, features: &mut Vec<SourceFeature>, notes: &mut Notes) -> Result<(), ImportFault> {
    match element.name.as_str() {
        "Placemark" => features.push(placemark(element, features.len(), notes)?),
        "NetworkLink" => {
            return Err(ImportFault::whole(
                format!("it only links to another file, {:?}", link_of(element)),
                "import that file itself",
            ));
        }
        "kml" | "Document" | "Folder" => {
            for child in &element.children {
                visit(child, features, notes)?;
            }
        }
        "name" | "description" | "Snippet" | "ExtendedData" => {
            notes.count_lost("names and descriptions of folders and of the whole", 1);
        }
        "visibility" | "open" | "Schema" => {}
        "Style" | "StyleMap" => notes.count_lost("styles", 1),
        "GroundOverlay" | "PhotoOverlay" | "ScreenOverlay" => {
            notes.count_lost("pictures laid over the map", 1);
        }
        other if holds_placemarks(element) => {
            return Err(ImportFault::whole(
                format!("there are placemarks in the element {other:?}, where the format has none"),
                "move them into a Folder, and import it again",
            ));
        }
        _ => notes.count_lost("other elements beside placemarks", 1),
    }
    Ok(())
}

fn holds_placemarks(element: &Element) -> bool {
    element.children.iter().any(|child| child.name == "Placemark" || holds_placemarks(child))
}

fn link_of(element: &Element) -> &str {
    let link = element.first("Link").or_else(|| element.first("Url"));
    link.and_then(|link| link.text_of("href")).unwrap_or("without a name")
}

fn placemark(element: &Element, before: usize, notes: &mut Notes) -> Result<SourceFeature, ImportFault> {
    let place = format!("placemark {}", before + 1);
    let mut feature = SourceFeature { id: element.attribute("id").map(str::to_owned), ..Default::default() };
    for child in &element.children {
        match child.name.as_str() {
            "name" | "description" | "address" | "phoneNumber" | "Snippet" => {
                let text = child.text.trim();
                notes.count_lost("elements inside names and descriptions", child.children.len());
                if !text.is_empty() {
                    feature.attributes.push((child.name.clone(), Value::from(text)));
                }
            }
            "ExtendedData" => extended(child, (&mut feature.attributes, notes), &place),
            "TimeSpan" | "TimeStamp" => notes.count_lost("times of placemarks", 1),
            look if LOOKS.contains(&look) => notes.count_lost("how placemarks look", 1),
            _ => shape(child, (&mut feature.shape, notes), &place)?,
        }
    }
    feature.place = place;
    Ok(feature)
}

/// `Data` with a `value`, and `SimpleData` of a schema.
fn extended(element: &Element, (attributes, notes): (&mut Vec<(String, Value)>, &mut Notes), place: &str) {
    let mut add = |data: &Element, value: &Element| {
        let (name, value) = (data.attribute("name").unwrap_or("without a name"), value.text.trim());
        if !value.is_empty() {
            attributes.push((name.to_owned(), Value::from(value)));
        }
    };
    for child in &element.children {
        match child.name.as_str() {
            "Data" => {
                child.all("value").for_each(|value| add(child, value));
                notes.count_lost("names of attributes for people", child.all("displayName").count());
            }
            "SchemaData" => {
                child.all("SimpleData").for_each(|data| add(data, data));
                let others = child.children.len() - child.all("SimpleData").count();
                notes.count_lost("lists of attributes", others);
            }
            other => notes.lost(place, format!("the element {other:?} of its ExtendedData")),
        }
    }
}

fn shape(
    element: &Element,
    (shape, notes): (&mut Shape, &mut Notes),
    place: &str,
) -> Result<(), ImportFault> {
    match element.name.as_str() {
        "Polygon" => shape.areas.push(polygon(element, notes, place)?),
        "LineString" => {
            shape.lines.push(Line { positions: positions(element, notes, place)?, is_meant_closed: false });
        }
        "LinearRing" => {
            shape.areas.push(Area { exterior: positions(element, notes, place)?, holes: Vec::new() });
        }
        "Point" => shape.points.extend(positions(element, notes, place)?),
        "MultiGeometry" => {
            for child in &element.children {
                self::shape(child, (&mut *shape, &mut *notes), place)?;
            }
        }
        other if NO_SHAPES.contains(&other) => {
            return Err(ImportFault::at(
                place,
                format!("its shape is a {other}, which is no area"),
                "draw the area as a polygon, or delete this placemark from the source",
            ));
        }
        other => notes.lost(place, format!("the element {other:?}")),
    }
    Ok(())
}

fn polygon(element: &Element, notes: &mut Notes, place: &str) -> Result<Area, ImportFault> {
    const KNOWN: [&str; 5] = ["outerBoundaryIs", "innerBoundaryIs", "extrude", "tessellate", "altitudeMode"];
    for other in element.children.iter().filter(|child| !KNOWN.contains(&child.name.as_str())) {
        notes.lost(place, format!("the element {:?} of a Polygon", other.name));
    }
    let mut rings = |boundary: &str| -> Result<Vec<Vec<Xy>>, ImportFault> {
        let rings = element.all(boundary).flat_map(|boundary| &boundary.children);
        rings
            .map(|ring| match ring.name.as_str() {
                "LinearRing" => positions(ring, notes, place),
                other => Err(ImportFault::at(
                    place,
                    format!("a {boundary} holds the element {other:?}, and not a LinearRing"),
                    "draw it again",
                )),
            })
            .collect()
    };
    let mut exteriors = rings("outerBoundaryIs")?;
    let holes = rings("innerBoundaryIs")?;
    match (exteriors.pop(), exteriors.is_empty()) {
        (Some(exterior), true) => Ok(Area { exterior, holes }),
        _ => Err(ImportFault::at(
            place,
            "a Polygon has not exactly one outerBoundaryIs with one LinearRing",
            "draw it again",
        )),
    }
}

/// `lon,lat[,height]` with blanks between; blanks beside a comma are forgiven nowhere, since they could join two positions.
fn positions(element: &Element, notes: &mut Notes, place: &str) -> Result<Vec<Xy>, ImportFault> {
    let text = element.only("coordinates", place)?.map(|child| child.text.trim());
    let text = text.filter(|text| !text.is_empty()).ok_or_else(|| {
        ImportFault::at(place, format!("a {} has no coordinates", element.name), "draw it again")
    })?;
    let mut heights = 0;
    let mut read = Vec::new();
    for tuple in text.split_whitespace() {
        let numbers: Vec<&str> = tuple.split(',').collect();
        let (x, y) = match numbers.as_slice() {
            [x, y] | [x, y, ""] => (x, y),
            [x, y, height] => {
                heights += usize::from(number(place, "the height", height)? != 0.0);
                (x, y)
            }
            _ => {
                return Err(ImportFault::at(
                    place,
                    format!("{tuple:?} is no position"),
                    "write longitude,latitude without a blank, and a blank before the next",
                ));
            }
        };
        read.push([number(place, "the longitude", x)?, number(place, "the latitude", y)?]);
    }
    notes.count_lost("heights", heights);
    Ok(read)
}
