//! GeoJSON, RFC 7946.

use geojson::{Geometry, GeometryValue};
use serde_json::{Map, Value, json};

use super::map_plane::{cut_areas, cut_line, rounded};
use super::{Drawn, Shape, Sheet};

/// Returns a `FeatureCollection`: a feature for each line or area.
///
/// What runs over 180° is cut there (section 3.1.9), outer rings run counterclockwise (3.1.6), coordinates have eight decimals of a
/// degree. What the sheet remarks is a foreign member (6.1), `remarks`.
#[must_use]
pub fn geojson(sheet: &Sheet) -> Value {
    let features: Vec<Value> = sheet.drawn.iter().map(feature).collect();
    json!({
        "type": "FeatureCollection",
        "title": sheet.title,
        "remarks": sheet.remarks,
        "features": features,
    })
}

fn feature(drawn: &Drawn) -> Value {
    let mut properties = Map::new();
    properties.insert("name".into(), drawn.name.clone().into());
    properties.insert("description".into(), drawn.description.clone().into());
    properties.extend(drawn.properties.iter().map(|(key, value)| ((*key).to_owned(), value.clone().into())));
    // RFC 7946 section 3.2: a feature without a place has null
    let geometry = geometry(&drawn.shape).map_or(Value::Null, |geometry| json!(geometry));
    json!({ "type": "Feature", "properties": properties, "geometry": geometry })
}

fn geometry(shape: &Shape) -> Option<Geometry> {
    match shape {
        Shape::Line(places) => {
            let lines = cut_line(places);
            let numbers = |line: &Vec<geo::Coord>| line.iter().map(rounded).collect::<Vec<_>>();
            match lines.as_slice() {
                [] => None,
                [line] => Some(GeometryValue::new_line_string(numbers(line)).into()),
                several => Some(GeometryValue::new_multi_line_string(several.iter().map(numbers)).into()),
            }
        }
        Shape::Areas(areas) => {
            let cut = cut_areas(areas);
            let rings = |area: &geo::Polygon| {
                let rings = std::iter::once(area.exterior()).chain(area.interiors());
                rings.map(|ring| ring.coords().map(rounded).collect::<Vec<_>>()).collect::<Vec<_>>()
            };
            match cut.0.as_slice() {
                [] => None,
                [area] => Some(GeometryValue::new_polygon(rings(area)).into()),
                several => Some(GeometryValue::new_multi_polygon(several.iter().map(rings)).into()),
            }
        }
    }
}
