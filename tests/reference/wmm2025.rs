//! The official test values of WMM2025, and the same places from pygeomag, an independent program.

use serde::Deserialize;
use takeline::magnetic::{self, MagneticField};
use takeline::{Metres, Position};

use crate::{Largest, rows, turn_deg};

const OFFICIAL: &str = include_str!("../data/wmm2025/WMM2025_TestValues.txt");
/// Half a unit of the last printed place, and the rounding of a double on top.
const HALF_A_HUNDREDTH_DEG: f64 = 0.005 + 1e-9;
const HALF_A_MILLIONTH: f64 = 0.5e-6 + 1e-9;

fn field(position: Position, height_km: f64, utc: &str) -> MagneticField {
    let height = Metres::new(1000.0 * height_km).expect("a height");
    magnetic::field(position, height, utc.parse().expect("an instant")).expect("within the model")
}

/// The instant of a decimal year that is whole or a half: 182.5 days of 365, 183 of 366.
fn instant(decimal_year: &str) -> String {
    let (year, fraction) = decimal_year.split_once('.').expect("a decimal year");
    match (year, fraction) {
        (_, "000000") => format!("{year}-01-01T00:00:00Z"),
        ("2028", "500000") => "2028-07-02T00:00:00Z".to_owned(),
        (_, "500000") => format!("{year}-07-02T12:00:00Z"),
        _ => panic!("neither a whole year nor a half: {decimal_year}"),
    }
}

/// Columns 5 to 18 of the file, in its order.
fn columns(field: MagneticField) -> [f64; 14] {
    let rate = |value: Option<f64>| value.expect("no row is at a magnetic pole");
    [
        field.declination_deg(),
        field.inclination_deg(),
        field.horizontal_nt(),
        field.north_nt(),
        field.east_nt(),
        field.down_nt(),
        field.total_nt(),
        rate(field.declination_rate_deg_per_year()),
        rate(field.inclination_rate_deg_per_year()),
        rate(field.horizontal_rate_nt_per_year()),
        field.north_rate_nt_per_year(),
        field.east_rate_nt_per_year(),
        field.down_rate_nt_per_year(),
        rate(field.total_rate_nt_per_year()),
    ]
}

/// Name of a column, and how far from the file it may be.
///
/// The file's X is up to 7.2e-4 nT from an exact evaluation, and what is made of X goes with it: H and F, their rates, and
/// by the tilt between the geocentric and the geodetic level (sin < 0.0034) a little of Z. That it is the file and not the
/// library is what `pygeomag_agrees_on_all_columns` shows, where X has 5e-6 nT. The README beside the file has the figures.
const COLUMNS: [(&str, f64); 14] = [
    ("D, deg", HALF_A_HUNDREDTH_DEG),
    ("I, deg", HALF_A_HUNDREDTH_DEG),
    ("H, nT (file's X)", 7.5e-4),
    ("X, nT (file's own error)", 7.5e-4),
    ("Y, nT", HALF_A_MILLIONTH),
    ("Z, nT (file's X, tilted)", 3.0e-6),
    ("F, nT (file's X)", 7.5e-4),
    ("dD, deg/year", HALF_A_MILLIONTH),
    ("dI, deg/year", HALF_A_MILLIONTH),
    ("dH, nT/year (file's X)", 1.5e-6),
    ("dX, nT/year (file's X)", 1.5e-6),
    ("dY, nT/year", HALF_A_MILLIONTH),
    ("dZ, nT/year", HALF_A_MILLIONTH),
    ("dF, nT/year (file's X)", 1.5e-6),
];

#[test]
fn official_test_values_of_wmm2025() {
    let mut largest: [Largest; 14] = Default::default();
    let mut read = 0;
    for line in OFFICIAL.lines().filter(|line| !line.starts_with('#')) {
        let fields: Vec<&str> = line.split_ascii_whitespace().collect();
        let [year, numbers @ ..] = &fields[..] else { panic!("an empty line") };
        let numbers: Vec<f64> = numbers.iter().map(|text| text.parse().expect("a number")).collect();
        let [height_km, latitude, longitude, printed @ ..] = &numbers[..] else {
            panic!("a short line: {line}")
        };
        assert_eq!(printed.len(), COLUMNS.len(), "{line}");
        let place = Position::from_degrees(*latitude, *longitude).expect("a position");
        let got = columns(field(place, *height_km, &instant(year)));
        for ((largest, got), wanted) in largest.iter_mut().zip(got).zip(printed) {
            largest.take(got - wanted, line.get(..40).unwrap_or(line));
        }
        read += 1;
    }
    assert_eq!(read, 100);
    for (largest, (what, allowed)) in largest.iter().zip(COLUMNS) {
        largest.hold(&format!("wmm2025, {what}"), allowed);
    }
}

#[derive(Debug, Deserialize)]
struct Row {
    utc: String,
    height_km: f64,
    latitude_deg: f64,
    longitude_deg: f64,
    declination_deg: f64,
    inclination_deg: f64,
    horizontal_nt: f64,
    north_nt: f64,
    east_nt: f64,
    down_nt: f64,
    total_nt: f64,
}

/// pygeomag rounds the polar radius to 0.1 mm: 0.045 mm are 1.2e-6 nT of Z at a pole. The rest is its rounding close to one.
const PYGEOMAG_NT: f64 = 5e-6;
/// The same across the smallest level field of the table, 25 nT, would be 1e-5; that is seen to be smaller.
const PYGEOMAG_DEG: f64 = 1e-6;

#[test]
fn pygeomag_agrees_on_all_columns() {
    let table: Vec<Row> = rows(include_str!("../data/wmm2025/pygeomag_fields.csv"));
    assert_eq!(table.len(), 125);
    let (mut angle, mut intensity) = (Largest::default(), Largest::default());
    for row in &table {
        let place = Position::from_degrees(row.latitude_deg, row.longitude_deg).expect("a position");
        let got = field(place, row.height_km, &row.utc);
        let name = format!("{} {} {}", row.utc, row.latitude_deg, row.longitude_deg);
        angle.take(turn_deg(row.declination_deg, got.declination_deg()), &name);
        angle.take(got.inclination_deg() - row.inclination_deg, &name);
        for (got, wanted) in [
            (got.horizontal_nt(), row.horizontal_nt),
            (got.north_nt(), row.north_nt),
            (got.east_nt(), row.east_nt),
            (got.down_nt(), row.down_nt),
            (got.total_nt(), row.total_nt),
        ] {
            intensity.take(got - wanted, &name);
        }
    }
    angle.hold("wmm2025 by pygeomag, D and I, deg", PYGEOMAG_DEG);
    intensity.hold("wmm2025 by pygeomag, H X Y Z F, nT", PYGEOMAG_NT);
}
