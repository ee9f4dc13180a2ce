//! GeographicLib's own tests: `tests/geodtest.cpp`, `tests/CMakeLists.txt`, `man/GeodSolve.pod`.

use serde::Deserialize;
use takeline::{GeodesicSegment, Metres};

use crate::{Largest, bearing, position, rows, turn_deg};

#[derive(Debug, Deserialize)]
struct Row {
    lat1_deg: f64,
    lon1_deg: f64,
    azi1_deg: f64,
    lat2_deg: f64,
    lon2_deg: f64,
    azi2_deg: f64,
    s12_m: f64,
}

/// The library's own tolerances for these rows: 1e-13 degrees and 1e-8 m. A bearing from 0 to 360 has its last place
/// at 5.7e-14 degrees, twice that of an azimuth within ±180, and moving it there rounds once more: hence 1.6e-13.
#[test]
fn geographiclib_20_both_problems() {
    let table: Vec<Row> = rows(include_str!("../data/geographiclib/geographiclib_20.csv"));
    assert_eq!(table.len(), 20);
    let (mut length, mut angle, mut place) = (Largest::default(), Largest::default(), Largest::default());
    for (number, row) in table.iter().enumerate() {
        let name = (number + 1).to_string();
        let from = position(row.lat1_deg, row.lon1_deg);
        let inverse = GeodesicSegment::between(from, position(row.lat2_deg, row.lon2_deg));
        length.take(inverse.length().metres() - row.s12_m, &name);
        angle.take(turn_deg(row.azi1_deg, inverse.initial_bearing().degrees()), &name);
        angle.take(turn_deg(row.azi2_deg, inverse.final_bearing().degrees()), &name);
        let reach = Metres::new(row.s12_m).expect("a length");
        let direct = GeodesicSegment::leaving(from, bearing(row.azi1_deg), reach).expect("not negative");
        place.take(direct.to().latitude().degrees() - row.lat2_deg, &name);
        place.take(turn_deg(row.lon2_deg, direct.to().longitude().degrees()), &name);
        angle.take(turn_deg(row.azi2_deg, direct.final_bearing().degrees()), &name);
    }
    length.hold("geographiclib_20, length, m", 1e-8);
    angle.hold("geographiclib_20, bearings, degrees", 1.6e-13);
    place.hold("geographiclib_20, latitude and longitude, degrees", 1.6e-13);
}

#[derive(Debug, Deserialize)]
struct SpotCheck {
    name: String,
    lat1_deg: f64,
    lon1_deg: f64,
    lat2_deg: f64,
    lon2_deg: f64,
    azi1_deg: Option<f64>,
    azi2_deg: Option<f64>,
    s12_m: f64,
    published_decimals_s12: i32,
}

/// Azimuths are printed to 4 or 5 decimals at least, some from seconds of arc to one decimal (0.05" = 1.4e-5
/// degrees): half of the fourth decimal holds for all. Lengths to half of the last decimal printed.
#[test]
fn inverse_spot_checks() {
    let table: Vec<SpotCheck> = rows(include_str!("../data/geographiclib/inverse_spot_checks.csv"));
    assert_eq!(table.len(), 14);
    let (mut places, mut angle, mut angles) = (Largest::default(), Largest::default(), 0);
    for row in &table {
        let from = position(row.lat1_deg, row.lon1_deg);
        let segment = GeodesicSegment::between(from, position(row.lat2_deg, row.lon2_deg));
        let last_place_m = 10.0_f64.powi(-row.published_decimals_s12.min(8));
        places.take((segment.length().metres() - row.s12_m) / last_place_m, &row.name);
        for (got, wanted) in
            [(segment.initial_bearing(), row.azi1_deg), (segment.final_bearing(), row.azi2_deg)]
        {
            if let Some(wanted) = wanted {
                angle.take(turn_deg(wanted, got.degrees()), &row.name);
                angles += 1;
            }
        }
    }
    assert_eq!(angles, 17);
    places.hold("inverse_spot_checks, length, last printed places", 0.5);
    angle.hold("inverse_spot_checks, azimuths, degrees", 5e-5);
}
