//! Point to geodesic segment, as published on the GeographicLib forum and in the tests of the crate icao-wgs84 2.0.0.

use serde::Deserialize;
use takeline::{EdgeModel, Position};

use crate::one_edge::OneEdge;
use crate::{Largest, distance_m, position, rows};

#[derive(Debug, Deserialize)]
struct Row {
    name: String,
    lat_a: f64,
    lon_a: f64,
    lat_b: f64,
    lon_b: f64,
    lat_p: f64,
    lon_p: f64,
    lat_foot_deg: Option<f64>,
    lon_foot_deg: Option<f64>,
    along_from_a_m: Option<f64>,
    cross_track_m: Option<f64>,
    shortest_distance_to_segment_m: f64,
    tolerance_m: f64,
}

impl Row {
    fn foot(&self) -> Option<Position> {
        Some(position(self.lat_foot_deg?, self.lon_foot_deg?))
    }
}

#[test]
fn point_to_line_published() {
    let table: Vec<Row> = rows(include_str!("../data/icao-wgs84/point_to_line_published.csv"));
    assert_eq!(table.len(), 5);
    let (mut distance, mut foot, mut along) = (Largest::default(), Largest::default(), Largest::default());
    let mut sides = 0;
    for row in &table {
        // published to 1 mm
        assert_eq!(row.tolerance_m, 0.001);
        let a = position(row.lat_a, row.lon_a);
        let edge = OneEdge::new(a, position(row.lat_b, row.lon_b), EdgeModel::Geodesic, 0.02);
        let place = position(row.lat_p, row.lon_p);
        let located = edge.locate(place);
        distance.take(located.signed_distance.metres().abs() - row.shortest_distance_to_segment_m, &row.name);
        if let Some(wanted) = row.foot() {
            foot.take(distance_m(located.nearest, wanted), &row.name);
        }
        if let Some(along_m) = row.along_from_a_m {
            along.take(distance_m(a, located.nearest) - along_m, &row.name);
        }
        if let Some(cross_track_m) = row.cross_track_m.filter(|cross| cross.abs() > 1.0) {
            // that crate's sign: negative with the position to the right of the way from A to B
            assert_eq!(edge.is_right(place), cross_track_m < 0.0, "{}", row.name);
            sides += 1;
        }
    }
    assert_eq!(sides, 2);
    distance.hold("point_to_line_published, distance, m", 0.001);
    // at 1000 km and more the distance is flat about the foot: 1 m along the line changes it by less than 1 µm, so
    // a nearest distance good to 1 mm does not fix the foot better than some metres
    foot.hold("point_to_line_published, foot, m", 0.5);
    along.hold("point_to_line_published, along-track distance, m", 0.5);
}
