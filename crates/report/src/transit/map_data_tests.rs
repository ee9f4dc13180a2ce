//! A line on a map: GeoJSON and GPX, read back.

use quick_xml::Reader;
use quick_xml::events::Event;
use serde_json::{Value, json};
use takeline::transit::TransitReport;
use takeline::{GeodesicSegment, Position};
use takeline_formats::{LogItem, TrackReader};

use super::test_fixtures::*;
use super::{TransitDocument, transit_geojson, transit_gpx};
use crate::words::English;

fn features(report: &TransitReport) -> Vec<Value> {
    transit_geojson(&TransitDocument::new(report, &English))["features"].as_array().unwrap().clone()
}

fn of_kind(report: &TransitReport, kind: &str) -> Vec<Value> {
    features(report).into_iter().filter(|feature| feature["properties"]["kind"] == kind).collect()
}

fn numbers(value: &Value) -> Vec<f64> {
    match value.as_array() {
        Some(inner) => inner.iter().flat_map(numbers).collect(),
        None => value.as_f64().into_iter().collect(),
    }
}

fn positions(value: &Value) -> Vec<Position> {
    numbers(value).chunks(2).map(|pair| at(pair[1], pair[0])).collect()
}

#[test]
fn each_kind_has_the_geometry_that_belongs_to_it() {
    for (kind, geometry, count) in [
        ("stretch", "LineString", 1),
        ("front-mark", "Point", 1),
        ("rear-mark", "Point", 1),
        ("doubt", "LineString", 2),
        ("worst", "Point", 1),
        ("meeting", "Point", 2),
        ("false-safe", "Polygon", 1),
        ("given-away", "MultiPolygon", 1),
    ] {
        let found = of_kind(&enters(), kind);
        assert_eq!(found.len(), count, "{kind}");
        assert!(found.iter().all(|feature| feature["geometry"]["type"] == geometry), "{kind}");
    }
    assert_eq!(of_kind(&enters(), "meeting")[0]["properties"]["what"], "enters");
    assert_eq!(of_kind(&clear(), "stretch")[0]["properties"]["clears"], "yes");
}

#[test]
fn every_file_says_what_it_is_not() {
    let text = transit_geojson(&TransitDocument::new(&clear(), &English)).to_string();
    assert!(text.contains("not an instrument of navigation"), "{text}");
}

/// The drawn lines against geodesics of their own: each point lies where the library's direct problem puts it, rounded to
/// seven decimals (7 mm in latitude at most), and the doubt as far beside it as the line's formula says.
#[test]
fn the_stretch_and_its_doubt_lie_where_they_should() {
    let report = clear();
    let way = positions(&of_kind(&report, "stretch")[0]["geometry"]["coordinates"]);
    let front = report.line.front().position;
    let away: Vec<f64> =
        way.iter().map(|to| GeodesicSegment::between(front, *to).length().metres()).collect();
    assert!((away[0] - 500.0).abs() < 0.02 && (away[away.len() - 1] - 3000.0).abs() < 0.02, "{away:?}");
    assert!(away.windows(2).all(|pair| pair[1] - pair[0] < 250.1), "{away:?}");
    for feature in of_kind(&report, "doubt") {
        let edge = positions(&feature["geometry"]["coordinates"]);
        let sign = if feature["properties"]["side"] == "right" { 1.0 } else { -1.0 };
        for (beside, along_m) in edge.iter().zip(&away) {
            let off_m = report.line.place(*beside).to_the_right.metres();
            let expected_m = sign * report.line.uncertainty_95(metres(*along_m)).metres();
            assert!((off_m - expected_m).abs() < 0.02, "{off_m} {expected_m}");
        }
    }
}

/// RFC 7946, section 3.1.6: outer rings run counter-clockwise; section 3.1.9: what crosses 180° is cut there.
#[test]
fn rings_run_counter_clockwise_and_are_cut_at_180_degrees() {
    for report in [clear(), over_180()] {
        for kind in ["false-safe", "given-away"] {
            let geometry = &of_kind(&report, kind)[0]["geometry"];
            let polygons = match geometry["type"].as_str() {
                Some("Polygon") => vec![geometry["coordinates"].clone()],
                _ => geometry["coordinates"].as_array().unwrap().clone(),
            };
            assert!(!polygons.is_empty());
            for polygon in polygons {
                let ring = numbers(&polygon[0]);
                let ring: Vec<&[f64]> = ring.chunks(2).collect();
                assert_eq!(ring.first(), ring.last());
                let twice_area: f64 =
                    ring.windows(2).map(|pair| pair[0][0] * pair[1][1] - pair[1][0] * pair[0][1]).sum();
                assert!(twice_area > 0.0, "{kind} {ring:?}");
            }
        }
    }
    let cut = of_kind(&over_180(), "false-safe");
    assert_eq!(cut[0]["geometry"]["type"], "MultiPolygon");
    let stretch = &of_kind(&over_180(), "stretch")[0]["geometry"];
    assert_eq!(stretch["type"], "MultiLineString");
    for part in stretch["coordinates"].as_array().unwrap() {
        let longitudes: Vec<f64> = numbers(part).into_iter().step_by(2).collect();
        assert!(longitudes.windows(2).all(|pair| (pair[1] - pair[0]).abs() < 1.0), "{longitudes:?}");
    }
}

/// RFC 7946, section 11.2: more decimals than needed are no gain; trade practice is at most seven.
#[test]
fn coordinates_have_at_most_seven_decimals() {
    for report in every_report() {
        for feature in features(&report) {
            for number in numbers(&feature["geometry"]["coordinates"]) {
                let text = number.to_string();
                let decimals = text.split_once('.').map_or(0, |(_, decimals)| decimals.len());
                assert!(decimals <= 7, "{text}");
            }
        }
    }
}

#[test]
fn hostile_names_stay_text_in_geojson() {
    let text = transit_geojson(&TransitDocument::new(&hostile(), &English)).to_string();
    assert!(!text.contains(['\u{0}', '\u{1b}', '\n']), "{text}");
    let back: Value = serde_json::from_str(&text).unwrap();
    let mark = &back["features"][1];
    assert_eq!(mark["properties"]["name"], json!(HOSTILE));
}

/// What the project's own reader of GPX makes of it: named waypoints, and the points of the route.
fn read(gpx: &str) -> (Vec<(String, Position)>, Vec<Position>) {
    let (mut waypoints, mut route) = (vec![], vec![]);
    for item in TrackReader::open("line.gpx", gpx.as_bytes()).unwrap() {
        match item.unwrap() {
            LogItem::Waypoint(waypoint) => {
                waypoints.push((waypoint.name.unwrap_or_default(), waypoint.position));
            }
            LogItem::RoutePoint(point) => route.push(point.position),
            // that a route is a plan and no record; what could not be read would be missing below
            LogItem::Note(_) | _ => {}
        }
    }
    (waypoints, route)
}

/// All text of the document, and whether it is well-formed to its end.
fn text_of(gpx: &str) -> String {
    let mut reader = Reader::from_str(gpx);
    let mut text = String::new();
    let mut depth = 0_i32;
    loop {
        let event = reader.read_event().unwrap();
        depth += i32::from(matches!(event, Event::Start(_))) - i32::from(matches!(event, Event::End(_)));
        if let Event::Text(inner) = &event {
            text.push_str(inner);
        }
        if matches!(event, Event::Eof) {
            break;
        }
    }
    assert_eq!(depth, 0);
    text
}

fn is_near(one: Position, other: Position) -> bool {
    (one.latitude().degrees() - other.latitude().degrees()).abs() < 1e-7
        && (one.longitude().degrees() - other.longitude().degrees()).abs() < 1e-7
}

/// Read back by another crate: coordinates to 1e-7 degrees, a centimetre.
#[test]
fn marks_ends_and_route_are_read_back_where_they_were() {
    for report in [clear(), enters(), over_180()] {
        let (waypoints, route) = read(&transit_gpx(&TransitDocument::new(&report, &English)).unwrap());
        let worst = report.zones[0].worst.unwrap().position;
        let (near, far) = (report.line.at(metres(500.0)), report.line.at(metres(3000.0)));
        let places = [report.line.front().position, report.line.rear().position, near, far, worst];
        assert_eq!(waypoints.len(), places.len());
        for ((name, position), expected) in waypoints.iter().zip(places) {
            assert!(is_near(*position, expected), "{name} {position:?} {expected:?}");
            // common practice, no source: older handhelds show ten to fourteen characters
            assert!(name.len() <= 12 && name.is_ascii(), "{name}");
        }
        assert!(is_near(route[0], near) && is_near(route[route.len() - 1], far), "{route:?}");
        assert_eq!(route.len(), 4);
    }
    let (waypoints, _) = read(&transit_gpx(&TransitDocument::new(&clear(), &English)).unwrap());
    let names: Vec<&str> = waypoints.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(names, ["T089 FRONT", "T089 REAR", "T089 NEAR", "T089 FAR", "T089 WORST"]);
}

/// GPX 1.1, schema of the namespace: metadata, then wpt, then rte; in each of them name before desc.
#[test]
fn elements_stand_in_the_order_of_the_schema() {
    let gpx = transit_gpx(&TransitDocument::new(&clear(), &English)).unwrap();
    let at = |text: &str| gpx.find(text).unwrap_or_else(|| panic!("{text} is missing in {gpx}"));
    assert!(at("<metadata>") < at("<wpt ") && gpx.rfind("<wpt ").unwrap() < at("<rte>"));
    for part in gpx.split("<name>").skip(1) {
        assert!(part.contains("</name>") && part.find("<desc>").is_some(), "{part}");
    }
    assert!(gpx.contains("version=\"1.1\"") && gpx.contains("xmlns=\"http://www.topografix.com/GPX/1/1\""));
    assert_eq!(gpx.matches("not an instrument of navigation").count(), 2);
}

#[test]
fn hostile_names_stay_text_in_gpx() {
    let gpx = transit_gpx(&TransitDocument::new(&hostile(), &English)).unwrap();
    assert_eq!(gpx.matches("<wpt ").count(), 5, "{gpx}");
    assert!(!gpx.contains(['\u{0}', '\u{1b}', '\u{ffff}', '\u{202e}']), "{gpx}");
    assert_eq!(read(&gpx).0.len(), 5);
    assert!(text_of(&gpx).contains("pine"));
}

#[test]
fn a_long_line_has_no_more_points_than_a_small_receiver_takes() {
    let mut report = clear();
    report.question.stretch = takeline::transit::Stretch::new(metres(500.0), metres(100_000.0)).unwrap();
    let (waypoints, route) = read(&transit_gpx(&TransitDocument::new(&report, &English)).unwrap());
    assert_eq!(route.len(), 50);
    assert!(waypoints.iter().all(|(name, _)| name.len() <= 12));
}
