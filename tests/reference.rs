//! The mathematics of the core held to values that others published or computed, one module per source.
//!
//! Each folder of `tests/data` has a README with source, licence and precision. Every test asserts how many rows it
//! read, so that a file cut short is noticed, and prints the largest error it saw; docs/accuracy.md quotes those:
//!
//! ```text
//! cargo test -p takeline --test reference -- --nocapture
//! ```
#![expect(
    clippy::panic,
    clippy::float_cmp,
    reason = "tests: exact where the input is exact, and panics fail them"
)]
#![expect(clippy::print_stdout, reason = "the errors seen are what docs/accuracy.md quotes")]

#[path = "reference/computed_edges.rs"]
mod computed_edges;
#[path = "reference/geodtest.rs"]
mod geodtest;
#[path = "reference/geographiclib.rs"]
mod geographiclib;
#[path = "reference/geoscience_australia.rs"]
mod geoscience_australia;
#[path = "reference/icao_wgs84.rs"]
mod icao_wgs84;
#[path = "reference/one_edge.rs"]
mod one_edge;
#[path = "reference/planimeter.rs"]
mod planimeter;
#[path = "reference/rhumb.rs"]
mod rhumb;
#[path = "reference/vincenty_1975.rs"]
mod vincenty_1975;
#[path = "reference/wmm2025.rs"]
mod wmm2025;

use serde::de::DeserializeOwned;
use takeline::{GeodesicSegment, Position, TrueBearing};

/// Every row of a CSV table with a header.
fn rows<Row: DeserializeOwned>(table: &str) -> Vec<Row> {
    let mut reader = csv::Reader::from_reader(table.as_bytes());
    reader.deserialize().map(|row| row.expect("the row has the columns of its type")).collect()
}

/// A position whose longitude may have any number of turns on it, as reference tables print them.
fn position(lat_deg: f64, lon_deg: f64) -> Position {
    let turns = (lon_deg / 360.0).round();
    Position::from_degrees(lat_deg, lon_deg - 360.0 * turns).expect("a position of the table")
}

fn bearing(degrees: f64) -> TrueBearing {
    TrueBearing::from_degrees(if degrees < 0.0 { degrees + 360.0 } else { degrees }).expect("a bearing")
}

fn distance_m(from: Position, to: Position) -> f64 {
    GeodesicSegment::between(from, to).length().metres()
}

/// Difference of two bearings the short way round, in degrees.
fn turn_deg(from_deg: f64, to_deg: f64) -> f64 {
    let turn = (to_deg - from_deg) % 360.0;
    if turn > 180.0 {
        turn - 360.0
    } else if turn < -180.0 {
        turn + 360.0
    } else {
        turn
    }
}

/// The largest error of one kind, and the row that shows it.
#[derive(Debug, Default)]
struct Largest {
    value: f64,
    row: String,
}

impl Largest {
    fn take(&mut self, error: f64, row: impl Into<String>) {
        let row = row.into();
        assert!(error.is_finite(), "no number in row {row}");
        if error.abs() >= self.value {
            (self.value, self.row) = (error.abs(), row);
        }
    }

    /// Prints the largest error and fails if it is above the tolerance.
    fn hold(&self, what: &str, tolerance: f64) {
        println!("{what}: largest error {:.3e}, allowed {tolerance:.1e} (row {})", self.value, self.row);
        assert!(self.value <= tolerance, "{what}: {:e} above {tolerance:e} in row {}", self.value, self.row);
    }
}
