//! GeographicLib's `RhumbSolve`: `tests/CMakeLists.txt`, `man/RhumbSolve.pod`, `examples/example-Rhumb.cpp`.
//!
//! The column of areas under the line is not used: the library offers areas of rings only.

use serde::Deserialize;
use takeline::{Metres, RhumbLine};

use crate::{Largest, bearing, distance_m, position, rows, turn_deg};

#[derive(Debug, Deserialize)]
struct Row {
    kind: String,
    name: String,
    lat1_deg: f64,
    lon1_deg: f64,
    lat2_deg: f64,
    lon2_deg: String,
    azi12_deg: f64,
    s12_m: f64,
}

const TABLE: &str = include_str!("../data/geographiclib/rhumb_checks.csv");

#[test]
fn rhumb_inverse() {
    let table: Vec<Row> = rows(TABLE);
    assert_eq!(table.len(), 13);
    let inverse: Vec<&Row> = table.iter().filter(|row| row.kind == "inverse").collect();
    assert_eq!(inverse.len(), 4);
    let (mut millimetres, mut micrometres) = (Largest::default(), Largest::default());
    let (mut angle, mut printed_angle) = (Largest::default(), Largest::default());
    for row in inverse {
        let lon2_deg: f64 = row.lon2_deg.parse().expect("a longitude");
        let line = RhumbLine::between(position(row.lat1_deg, row.lon1_deg), position(row.lat2_deg, lon2_deg));
        let error_m = line.length().metres() - row.s12_m;
        // two rows have three decimals, two have six
        if row.name.starts_with("RhumbSolve") {
            millimetres.take(error_m, &row.name);
        } else {
            micrometres.take(error_m, &row.name);
        }
        // printed to 0.1" in the manual page (103:34:58.2), to 1e-11 degrees or exactly elsewhere
        let printed = if row.name == "JFK-Singapore" { &mut printed_angle } else { &mut angle };
        printed.take(turn_deg(row.azi12_deg, line.bearing().degrees()), &row.name);
    }
    millimetres.hold("rhumb_checks, length, rows to 1 mm, m", 0.000_5);
    micrometres.hold("rhumb_checks, length, rows to 1 um, m", 1e-6);
    angle.hold("rhumb_checks, bearing, degrees", 1e-11);
    printed_angle.hold("rhumb_checks, bearing printed to 0.1 seconds of arc, degrees", 1.4e-5);
}

#[test]
fn rhumb_direct() {
    let table: Vec<Row> = rows(TABLE);
    let direct: Vec<&Row> = table.iter().filter(|row| row.kind == "direct").collect();
    assert_eq!(direct.len(), 9);
    let (mut waypoint, mut near_pole, mut over_pole) = (Largest::default(), Largest::default(), 0);
    for row in direct {
        let from = position(row.lat1_deg, row.lon1_deg);
        let length = Metres::new(row.s12_m).expect("a length");
        let line = RhumbLine::leaving(from, bearing(row.azi12_deg), length).expect("not negative");
        let Some(line) = line else {
            // GeographicLib carries such a line on with a longitude that is not a number; here it is none
            assert_eq!(row.lon2_deg, "nan", "{}", row.name);
            over_pole += 1;
            continue;
        };
        let wanted = position(row.lat2_deg, row.lon2_deg.parse().expect("a longitude"));
        if row.name.starts_with("RhumbSolve") {
            near_pole.take(distance_m(line.to(), wanted), &row.name);
        } else {
            waypoint.take(distance_m(line.to(), wanted), &row.name);
        }
    }
    assert_eq!(over_pole, 1);
    // eleven decimals of a degree are 1 µm
    waypoint.hold("rhumb_checks, waypoints up to 10 000 km, m", 2e-6);
    // latitude to eight decimals (0.6 mm); the longitude's five decimals are nothing 0.7 m from the pole
    near_pole.hold("rhumb_checks, ends 0.7 m from the pole, m", 0.000_6);
}
