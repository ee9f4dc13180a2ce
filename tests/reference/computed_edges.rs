//! Tables computed for this project with GeographicLib 2.1.2 (C++) and GeographicLib-Python 2.1: distance from a
//! point to an edge under three edge models, and the gap between parallel and geodesic.

use serde::Deserialize;
use takeline::{EdgeModel, GeodesicSegment, Metres};

use crate::one_edge::OneEdge;
use crate::{Largest, distance_m, position, rows};

#[derive(Debug, Deserialize)]
struct PointAndEdge {
    case: String,
    lat_a_deg: f64,
    lon_a_deg: f64,
    lat_b_deg: f64,
    lon_b_deg: f64,
    lat_p_deg: f64,
    lon_p_deg: f64,
    edge_length_m: f64,
    dist_geodesic_edge_m: f64,
    along_edge_m: f64,
    lat_nearest_deg: f64,
    lon_nearest_deg: f64,
    nearest_at: String,
    side: i8,
    dist_rhumb_edge_m: f64,
    dist_lonlat_edge_m: f64,
}

impl PointAndEdge {
    fn edge(&self, model: EdgeModel) -> OneEdge {
        let a = position(self.lat_a_deg, self.lon_a_deg);
        OneEdge::new(a, position(self.lat_b_deg, self.lon_b_deg), model, 0.3)
    }
}

fn table() -> Vec<PointAndEdge> {
    let table: Vec<PointAndEdge> = rows(include_str!("../data/computed-edges/point_to_edge_computed.csv"));
    assert_eq!(table.len(), 49);
    table
}

/// The table's own 1e-6 m, and for edges that are no geodesics the 0.05 mm that a piece may lie off its curve.
#[test]
fn point_to_edge_distances_under_three_models() {
    let (mut geodesic, mut rhumb, mut lonlat) = (Largest::default(), Largest::default(), Largest::default());
    for row in &table() {
        let place = position(row.lat_p_deg, row.lon_p_deg);
        let distance = |model| row.edge(model).locate(place).signed_distance.metres().abs();
        geodesic.take(distance(EdgeModel::Geodesic) - row.dist_geodesic_edge_m, &row.case);
        rhumb.take(distance(EdgeModel::RhumbLine) - row.dist_rhumb_edge_m, &row.case);
        lonlat.take(distance(EdgeModel::PlateCarree) - row.dist_lonlat_edge_m, &row.case);
    }
    geodesic.hold("point_to_edge, geodesic edge, m", 1e-6 + 1e-6);
    rhumb.hold("point_to_edge, rhumb line edge, m", 1e-6 + 5e-5);
    lonlat.hold("point_to_edge, edge straight in longitude and latitude, m", 1e-6 + 5e-5);
}

#[test]
fn point_to_edge_nearest_point_and_side() {
    let (mut nearest, mut length, mut along) = (Largest::default(), Largest::default(), Largest::default());
    let (mut ends, mut insides) = (0, 0);
    for row in &table() {
        let edge = row.edge(EdgeModel::Geodesic);
        let place = position(row.lat_p_deg, row.lon_p_deg);
        let located = edge.locate(place);
        let (a, b) = (position(row.lat_a_deg, row.lon_a_deg), position(row.lat_b_deg, row.lon_b_deg));
        nearest
            .take(distance_m(located.nearest, position(row.lat_nearest_deg, row.lon_nearest_deg)), &row.case);
        length.take(GeodesicSegment::between(a, b).length().metres() - row.edge_length_m, &row.case);
        along.take(distance_m(a, located.nearest) - row.along_edge_m, &row.case);
        if row.nearest_at == "interior" {
            assert_eq!(edge.is_right(place), row.side > 0, "side in row {}", row.case);
            insides += 1;
        } else {
            // beyond an end the line has no side, only its prolongation has
            ends += 1;
        }
    }
    assert_eq!((insides, ends), (23, 26));
    // the table prints 1e-10 degrees, 11 µm, and the foot of a perpendicular is known worse than its length
    nearest.hold("point_to_edge, nearest point, m", 1e-4);
    length.hold("point_to_edge, edge length, m", 1e-6);
    along.hold("point_to_edge, along-track distance, m", 1e-4);
}

#[derive(Debug, Deserialize)]
struct Departure {
    lat_deg: f64,
    length_along_parallel_km: f64,
    max_departure_m: f64,
}

/// Printed to 0.1 mm, so half of that, and 0.05 mm for the pieces of the parallel.
#[test]
fn parallel_departs_from_geodesic() {
    let table: Vec<Departure> =
        rows(include_str!("../data/computed-edges/parallel_vs_geodesic_computed.csv"));
    assert_eq!(table.len(), 49);
    let (mut from_geodesic, mut from_parallel) = (Largest::default(), Largest::default());
    for row in &table {
        let name = format!("{} deg, {} km", row.lat_deg, row.length_along_parallel_km);
        let span_deg = (row.length_along_parallel_km * 1000.0 / parallel_radius_m(row.lat_deg)).to_degrees();
        let (a, b) = (position(row.lat_deg, -span_deg / 2.0), position(row.lat_deg, span_deg / 2.0));
        let middle_of_parallel = position(row.lat_deg, 0.0);
        let edge = OneEdge::new(a, b, EdgeModel::Geodesic, 0.3);
        let departure_m = edge.locate(middle_of_parallel).signed_distance.metres().abs();
        from_geodesic.take(departure_m - row.max_departure_m, &name);

        let chord = GeodesicSegment::between(a, b);
        let half = Metres::new(chord.length().metres() / 2.0).expect("a length");
        let middle = GeodesicSegment::leaving(a, chord.initial_bearing(), half).expect("not negative").to();
        let parallel = OneEdge::new(a, b, EdgeModel::RhumbLine, 0.3);
        from_parallel
            .take(parallel.locate(middle).signed_distance.metres().abs() - row.max_departure_m, &name);
    }
    from_geodesic.hold("parallel's middle to the geodesic edge, m", 5e-5 + 1e-6);
    from_parallel.hold("geodesic's middle to the parallel as an edge, m", 5e-5 + 5e-5);
}

/// Radius of a parallel of WGS 84 (a = 6378137 m, 1/f = 298.257223563; NGA.STND.0036 v1.0.0).
fn parallel_radius_m(lat_deg: f64) -> f64 {
    let flattening = 1.0 / 298.257_223_563;
    let (sin, cos) = lat_deg.to_radians().sin_cos();
    6_378_137.0 * cos / (1.0 - flattening * (2.0 - flattening) * sin * sin).sqrt()
}
