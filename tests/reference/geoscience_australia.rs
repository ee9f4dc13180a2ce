//! Geoscience Australia's Vincenty example, Flinders Peak to Buninyong, published for GRS 80.
//!
//! GRS 80 has the equatorial radius of WGS 84 and a flattening that differs by 1.6e-11, which moves nothing within
//! 55 km by more than 2 µm. So a survey office's printed answer, to 1 mm and 0.01", can be asked of our own types.

use serde::Deserialize;
use takeline::GeodesicSegment;

use crate::{Largest, position, rows, turn_deg};

#[derive(Debug, Deserialize)]
struct Row {
    from: String,
    lat1_deg: f64,
    lon1_deg: f64,
    lat2_deg: f64,
    lon2_deg: f64,
    azi1_deg: f64,
    back_azimuth_deg: f64,
    s12_m: f64,
}

#[test]
fn flinders_buninyong() {
    let table: Vec<Row> = rows(include_str!("../data/geoscience-australia/flinders_buninyong_grs80.csv"));
    assert_eq!(table.len(), 1);
    let (mut length, mut angle) = (Largest::default(), Largest::default());
    for row in &table {
        let from = position(row.lat1_deg, row.lon1_deg);
        let segment = GeodesicSegment::between(from, position(row.lat2_deg, row.lon2_deg));
        length.take(segment.length().metres() - row.s12_m, &row.from);
        angle.take(turn_deg(row.azi1_deg, segment.initial_bearing().degrees()), &row.from);
        angle.take(turn_deg(row.back_azimuth_deg, segment.final_bearing().reversed().degrees()), &row.from);
    }
    // half of the last printed millimetre and 2 µm for the ellipsoid
    length.hold("flinders_buninyong, length, m", 0.000_502);
    // half of the last printed 0.01" (1.4e-6 degrees)
    angle.hold("flinders_buninyong, azimuths, degrees", 1.4e-6);
}
