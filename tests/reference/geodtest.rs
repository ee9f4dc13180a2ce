//! Karney's test set for geodesics (2010), doi:10.5281/zenodo.32156: 100 rows of it, made in multiple precision.

use serde::Deserialize;
use takeline::{GeodesicSegment, Metres};

use crate::{Largest, bearing, distance_m, position, rows, turn_deg};

const TABLE: &str = include_str!("../data/geodtest/geodtest_100.csv");

#[derive(Debug, Deserialize)]
struct Row {
    lat1_deg: f64,
    lon1_deg: f64,
    azi1_deg: f64,
    lat2_deg: f64,
    lon2_deg: f64,
    azi2_deg: f64,
    s12_m: f64,
    m12_m: f64,
}

/// Karney (2013) states 15 nm for the method in double precision; the table is exact to 1e-18 degrees. Positions
/// held in degrees as doubles round to 1.6 nm of longitude, once at either end.
const LENGTH_TOLERANCE_M: f64 = 20e-9;

#[test]
fn geodtest_100_lengths_and_bearings() {
    let table: Vec<Row> = rows(TABLE);
    assert_eq!(table.len(), 100);
    let (mut length, mut sideways) = (Largest::default(), Largest::default());
    for (number, row) in table.iter().enumerate() {
        let from = position(row.lat1_deg, row.lon1_deg);
        let to = position(row.lat2_deg, row.lon2_deg);
        let segment = GeodesicSegment::between(from, to);
        let name = (number + 1).to_string();
        length.take(segment.length().metres() - row.s12_m, &name);
        // a bearing matters by what it moves the other end: reduced length times angle; where that is small
        // (nearly opposite ends) the bearing itself is badly defined
        for (got, wanted) in
            [(segment.initial_bearing(), row.azi1_deg), (segment.final_bearing(), row.azi2_deg)]
        {
            sideways.take(turn_deg(wanted, got.degrees()).to_radians() * row.m12_m, &name);
        }
    }
    length.hold("geodtest_100, length, m", LENGTH_TOLERANCE_M);
    // one unit in the last place of a bearing of 180° or more, over a quarter of the Earth, is 3 nm; two roundings
    sideways.hold("geodtest_100, bearing as displacement of the other end, m", LENGTH_TOLERANCE_M);
}

#[test]
fn geodtest_100_ends() {
    let table: Vec<Row> = rows(TABLE);
    assert_eq!(table.len(), 100);
    let (mut end, mut heading) = (Largest::default(), Largest::default());
    for (number, row) in table.iter().enumerate() {
        let from = position(row.lat1_deg, row.lon1_deg);
        let length = Metres::new(row.s12_m).expect("a length");
        let segment = GeodesicSegment::leaving(from, bearing(row.azi1_deg), length).expect("not negative");
        let name = (number + 1).to_string();
        end.take(distance_m(segment.to(), position(row.lat2_deg, row.lon2_deg)), &name);
        // near a pole the bearing turns with the longitude; weighed with the parallel's radius it is a length
        let parallel_m = 6.4e6 * row.lat2_deg.to_radians().cos();
        heading
            .take(turn_deg(row.azi2_deg, segment.final_bearing().degrees()).to_radians() * parallel_m, &name);
    }
    end.hold("geodtest_100, end of the direct problem, m", LENGTH_TOLERANCE_M);
    heading.hold("geodtest_100, final bearing of the direct problem, weighed, m", LENGTH_TOLERANCE_M);
}
