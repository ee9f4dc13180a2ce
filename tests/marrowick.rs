//! Marrowick is drawn as a place that could be: land does not cross itself, marks stand on it, nobody paddles over it but in the one log
//! that is meant to, and the sides of zones that are the shore follow it.
//!
//! The engine is not asked. `geo` judges the shapes on the plane of the degrees, where what is straight is so within 3 cm over the 100 m
//! of the longest piece of coast, and within 4 cm over the 1.5 km of the longest seaward side that meets it.

#![expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use std::fs;
use std::path::{Path, PathBuf};

use geo::{Contains as _, Coord, Intersects as _, Line, LineString, Polygon, Validation as _, Winding as _};
use serde_json::Value;

fn demo(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data").join(name)
}

fn features(name: &str) -> Vec<Value> {
    let file: Value = serde_json::from_slice(&fs::read(demo(name)).unwrap()).unwrap();
    file["features"].as_array().unwrap().clone()
}

fn coord(position: &Value) -> Coord {
    Coord { x: position[0].as_f64().unwrap(), y: position[1].as_f64().unwrap() }
}

fn ring(feature: &Value) -> LineString {
    LineString(feature["geometry"]["coordinates"][0].as_array().unwrap().iter().map(coord).collect())
}

fn land() -> Vec<(String, Polygon)> {
    features("coast/marrowick.geojson")
        .iter()
        .map(|feature| {
            (feature["properties"]["name"].as_str().unwrap().to_owned(), Polygon::new(ring(feature), vec![]))
        })
        .collect()
}

#[test]
fn the_coast_is_read_without_a_warning() {
    let loaded =
        takeline::coast::read("marrowick.geojson", &fs::read(demo("coast/marrowick.geojson")).unwrap())
            .unwrap();
    assert!(loaded.warnings.is_empty(), "{:?}", loaded.warnings);
    let coast = loaded.coast;
    assert_eq!(coast.title.as_deref(), Some("Coast of Marrowick (invented)"));
    assert_eq!((coast.licence.as_deref(), coast.uncertainty.metres()), (Some("CC0-1.0"), 5.0));
    let is_on_land = |latitude_deg, longitude_deg| {
        coast.is_on_land(takeline::Position::from_degrees(latitude_deg, longitude_deg).unwrap())
    };
    // the chapel, the beach afloat, the middle of the harbour, and the water's edge, nearer than 5 m
    assert_eq!(is_on_land(45.1210, -30.1050), takeline::Tristate::Yes);
    assert_eq!(is_on_land(45.1170, -30.1190), takeline::Tristate::No);
    assert_eq!(is_on_land(45.1068, -30.1230), takeline::Tristate::No);
    assert_eq!(is_on_land(45.1170, -30.117_03), takeline::Tristate::Undecided);
}

#[test]
fn the_coast_is_made_of_rings_that_neither_cross_themselves_nor_each_other() {
    let land = land();
    let vertices: usize = land.iter().map(|(_, shape)| shape.exterior().0.len()).sum();
    assert!((2_000..=4_000).contains(&vertices), "{vertices}");
    for (number, (name, shape)) in land.iter().enumerate() {
        assert!(shape.is_valid(), "{name}: {:?}", shape.validation_errors());
        assert!(shape.exterior().is_closed() && shape.exterior().is_ccw(), "{name}");
        for (other_name, other) in &land[number + 1..] {
            assert!(!shape.intersects(other), "{name} and {other_name}");
        }
    }
}

#[test]
fn marks_stand_on_land() {
    let land = land();
    let on = |at: Coord| land.iter().find(|(_, shape)| shape.contains(&at)).map(|(name, _)| name.as_str());
    let marks = features("landmarks.geojson");
    let found: Vec<_> = marks
        .iter()
        .map(|mark| {
            (mark["id"].as_str().unwrap(), on(coord(&mark["geometry"]["coordinates"])).unwrap_or("water"))
        })
        .collect();
    let expected = [
        ("day-beacon", "Marrowick"),
        ("chapel", "Marrowick"),
        ("lone-pine", "Marrowick"),
        ("mast", "Marrowick"),
        ("perch", "the Bar"),
        ("holm-barn", "the Holm"),
        ("holm-cairn", "the Holm"),
        ("shag-rock", "Shag Rock"),
        ("calf-hut", "the Calf"),
    ];
    assert_eq!(found, expected);
}

/// The places of a log as `make_trips.py` writes it, or of the table with latitude and longitude first.
fn way(path: &Path) -> LineString {
    let text = fs::read_to_string(path).unwrap();
    let at = |latitude: &str, longitude: &str| Coord {
        x: longitude.parse().unwrap(),
        y: latitude.parse().unwrap(),
    };
    let points = text.split("<trkpt lat=\"").skip(1).map(|rest| {
        let parts: Vec<&str> = rest.splitn(4, '"').collect();
        at(parts[0], parts[2])
    });
    let rows = text.lines().skip(1).map(|row| {
        let cells: Vec<&str> = row.splitn(3, ',').collect();
        at(cells[0], cells[1])
    });
    if path.extension().is_some_and(|extension| extension == "gpx") {
        points.collect()
    } else {
        rows.collect()
    }
}

#[test]
fn only_the_log_with_a_wrong_datum_runs_over_land() {
    let land = land();
    let trips = [
        "launch-and-cross.gpx",
        "bait-stop.gpx",
        "drift-over.gpx",
        "gap.gpx",
        "cold-start.gpx",
        "wander.gpx",
        "day-out.gpx",
        "over-land.gpx",
        "catch-day.csv",
    ];
    for name in trips {
        let way = way(&demo("trips").join(name));
        assert!(way.0.len() > 300, "{name}");
        let over: Vec<_> =
            land.iter().filter(|(_, shape)| shape.intersects(&way)).map(|(name, _)| name.as_str()).collect();
        let expected: &[&str] = if name == "over-land.gpx" { &["Marrowick"] } else { &[] };
        assert_eq!(over, expected, "{name}");
    }
}

/// The sides of a zone that are of this kind, each with its way.
fn sides(zone: &Value, kind: &str) -> Vec<Line> {
    let Some(edges) = zone["properties"]["edges"].as_array() else { return Vec::new() };
    let is_of_kind = |edge: &Value| edge["side"].as_str().unwrap_or("open") == kind;
    ring(zone).lines().zip(edges).filter(|(_, edge)| is_of_kind(edge)).map(|(line, _)| line).collect()
}

#[test]
fn sides_that_are_the_shore_follow_the_coast() {
    let land = land();
    let coast: Vec<Line> = land[0].1.exterior().lines().collect();
    let mut with_shore = Vec::new();
    for zone in ["zones/marrowick.json", "zones/shore-waters.json"].into_iter().flat_map(features) {
        let shore = sides(&zone, "shore");
        for side in &shore {
            // the coast has its land to the left, a zone its water
            assert!(coast.contains(&Line::new(side.end, side.start)), "{}: {side:?}", zone["id"]);
        }
        if !shore.is_empty() {
            with_shore.push(zone["id"].as_str().unwrap().to_owned());
            let shape = Polygon::new(ring(&zone), vec![]);
            assert!(shape.is_valid() && shape.exterior().is_ccw(), "{}", zone["id"]);
            for side in sides(&zone, "open").iter().chain(&sides(&zone, "mouth")) {
                let middle = side.start + (side.end - side.start) / 2.0;
                assert!(land.iter().all(|(_, shape)| !shape.contains(&middle)), "{}: {side:?}", zone["id"]);
            }
        }
    }
    assert_eq!(with_shore, ["sallow-cove", "pier-ground", "razor-head"]);
}

/// What the examples are reasoned from: the beach is straight along a meridian, and the seaward sides end where they meet the coast.
#[test]
fn the_beach_is_a_meridian_and_the_cove_opens_between_its_points() {
    let zones = features("zones/marrowick.json");
    let cove = zones.iter().find(|zone| zone["id"] == "sallow-cove").unwrap();
    let beach: Vec<Coord> = ring(cove).0.into_iter().filter(|at| (at.x + 30.117).abs() < 1e-9).collect();
    let latitudes = |pick: fn(f64, f64) -> f64| beach.iter().map(|at| at.y).reduce(pick).unwrap();
    assert_eq!((latitudes(f64::min), latitudes(f64::max)), (45.1155, 45.1185));
    let line = |from: (f64, f64), to: (f64, f64)| Line::new(Coord::from(from), Coord::from(to));
    let seaward = [
        line((-30.15, 45.11), (-30.1313, 45.11)),
        line((-30.1311, 45.124), (-30.15, 45.124)),
        line((-30.15, 45.124), (-30.15, 45.11)),
    ];
    assert_eq!(sides(cove, "open"), seaward);
}
