use quick_xml::Reader;
use quick_xml::events::Event;
use takeline::Position;
use takeline_formats::{LogItem, TrackReader};

use super::test_fixtures::*;
use super::{TransitDocument, transit_gpx};
use crate::words::English;

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
fn hostile_names_stay_text() {
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
