//! Scenes for the tests: zones whose sides lie where plain arithmetic puts them, and marks on a north–south line.

use crate::geodesic::direct;
use crate::landmark::Landmark;
use crate::transit::{ProblemCode, RangeLine, Stretch, TransitQuestion, TransitReport};
use crate::zone::ZoneSet;
use crate::{Metres, Position};

/// A place so far east and north of 45°07'N 030°07'W, by two geodesics.
pub(super) fn at(east_m: f64, north_m: f64) -> Position {
    let start = Position::from_degrees(45.1167, -30.1167).unwrap();
    direct(direct(start, 0.0, north_m), 90.0, east_m)
}

pub(super) fn mark(name: &str, position: Position, error_m: f64) -> Landmark {
    let mut mark = Landmark::at(name, position);
    mark.position_error_95 = Metres::computed(error_m);
    mark
}

/// Zones with these corners, each a closed ring in metres east and north.
pub(super) fn zones(rings: &[&[(f64, f64)]]) -> ZoneSet {
    let features: Vec<String> = rings
        .iter()
        .enumerate()
        .map(|(number, corners)| {
            let geometry = format!(r#""type": "Polygon", "coordinates": [{}]"#, ring(corners));
            feature(number, &geometry, r#""edges": "geodesic""#)
        })
        .collect();
    read(&features)
}

/// A feature of a zone file with this geometry and these further properties.
pub(super) fn feature(number: usize, geometry: &str, properties: &str) -> String {
    format!(
        r#"{{ "type": "Feature", "id": "zone-{number}", "geometry": {{ {geometry} }},
             "properties": {{ "name": "Zone {number}", {properties}, "take": "none",
                              "source": {{ "instrument": "Marrowick Waters Order" }} }} }}"#
    )
}

/// A ring of corners in metres east and north, closed, as it stands in a zone file.
pub(super) fn ring(corners: &[(f64, f64)]) -> String {
    let corner = |(east_m, north_m): &(f64, f64)| {
        let position = at(*east_m, *north_m);
        format!("[{:.12}, {:.12}]", position.longitude().degrees(), position.latitude().degrees())
    };
    let corners: Vec<String> = corners.iter().chain(&corners[..1]).map(corner).collect();
    format!("[{}]", corners.join(","))
}

/// The zones of a file with these features.
pub(super) fn read(features: &[String]) -> ZoneSet {
    let file = format!(
        r#"{{ "type": "FeatureCollection",
             "takeline": {{ "format": "takeline.zones/1", "title": "Test", "edition": "1", "datum": "WGS 84",
                            "time_zone": "UTC", "taxa": [], "groups": [] }},
             "features": [{}] }}"#,
        features.join(",")
    );
    ZoneSet::new(crate::zone_file::read("test.json", file.as_bytes()).unwrap().zones)
}

pub(super) fn question(near_m: f64, far_m: f64) -> TransitQuestion {
    TransitQuestion::about(Stretch::new(Metres::computed(near_m), Metres::computed(far_m)).unwrap())
}

/// Marks on the north–south axis, the observer to the south of both.
pub(super) fn line(separation_m: f64, error_m: f64) -> RangeLine {
    RangeLine::through(mark("front", at(0.0, 0.0), error_m), mark("rear", at(0.0, separation_m), error_m))
        .unwrap()
}

pub(super) fn has(report: &TransitReport, code: ProblemCode) -> bool {
    report.problems.iter().any(|problem| problem.code() == code)
}
