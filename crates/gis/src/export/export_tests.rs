//! Files that are written, read back by others: GPX by the `gpx` crate and, where `TAKELINE_GPX_XSD` names the schema of GPX 1.1, by
//! xmllint; GeoJSON by the MUSTs of RFC 7946 and by our own reader of coasts.

use std::process::Command;

use serde_json::Value;
use takeline::coast;
use takeline::zone::Extent;
use takeline::{Boundary, EdgeModel, Metres, PartSpec, Position, RingSpec};
use takeline_drafting::standoff::{StandOff, StandOffSide, StandOffWanted};

use super::{Drawn, GpxKind, Notation, Shape, Sheet, corners_csv, csv, geojson, gpx, kml};

fn place(lat: f64, lon: f64) -> Position {
    Position::from_degrees(lat, lon).unwrap()
}

fn ring(corners: &[(f64, f64)]) -> RingSpec {
    RingSpec {
        vertices: corners.iter().map(|(lat, lon)| place(*lat, *lon)).collect(),
        edges: vec![EdgeModel::Geodesic; corners.len()],
        sides: Vec::new(),
    }
}

/// A zone with a hole, across 180°.
fn across() -> Boundary {
    let exterior = ring(&[(-17.0, 179.8), (-17.0, -179.8), (-16.7, -179.8), (-16.7, 179.8)]);
    let hole = ring(&[(-16.9, 179.9), (-16.9, -179.9), (-16.8, -179.9), (-16.8, 179.9)]);
    Boundary::build(&[PartSpec::Polygon { exterior, holes: vec![hole] }]).unwrap()
}

fn sheet(shapes: Vec<Shape>) -> Sheet {
    let drawn = |shape| Drawn {
        name: "line <1> & \u{1b}more".into(),
        description: "200 m outside".into(),
        properties: vec![("kind", "stand-off".into())],
        shape,
    };
    Sheet {
        title: "Marrowick".into(),
        remarks: vec!["Takeline is not an instrument of navigation.".into(), "SHA-256 00".into()],
        drawn: shapes.into_iter().map(drawn).collect(),
    }
}

fn area_sheet(boundary: &Boundary, tolerance_m: f64) -> Sheet {
    sheet(vec![Shape::Areas(boundary.to_multi_polygon(Metres::new(tolerance_m).unwrap()).unwrap())])
}

fn line_sheet(boundary: &Boundary) -> Sheet {
    let wanted = StandOffWanted {
        distance: Metres::new(200.0).unwrap(),
        side: StandOffSide::Outside,
        tolerance: Metres::new(0.1).unwrap(),
        most_points: None,
    };
    let kept = StandOff::of(&[boundary], &wanted).unwrap();
    sheet(kept.lines.iter().map(|line| Shape::Line(line.all_the_way().collect())).collect())
}

fn demo() -> Vec<takeline::zone::Zone> {
    let bytes =
        std::fs::read(concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo-data/zones/marrowick.json")).unwrap();
    takeline::zone_file::read("marrowick.json", &bytes).unwrap().zones
}

fn known(zone: &takeline::zone::Zone) -> Option<&Boundary> {
    match &zone.extent {
        Extent::Known(boundary) => Some(boundary),
        Extent::Unknown { .. } => None,
    }
}

/// What RFC 7946 says an object must and must not be, as far as such a file can break it; the sections beside.
fn assert_rfc_7946(file: &Value) {
    assert_eq!(file["type"], "FeatureCollection"); // 3.3
    let features = file["features"].as_array().unwrap(); // 3.3: an array
    // 7.1: members that define other types; 4: no crs
    for member in ["coordinates", "geometries", "geometry", "properties", "crs"] {
        assert!(file.get(member).is_none(), "{member}");
    }
    for feature in features {
        assert_eq!(feature["type"], "Feature"); // 3.2
        assert!(feature["properties"].is_object() || feature["properties"].is_null()); // 3.2
        for member in ["coordinates", "geometries", "features"] {
            assert!(feature.get(member).is_none(), "{member}"); // 7.1
        }
        let geometry = &feature["geometry"]; // 3.2: there, or null
        let coordinates = geometry["coordinates"].as_array().unwrap();
        for member in ["geometry", "properties", "features"] {
            assert!(geometry.get(member).is_none(), "{member}"); // 7.1
        }
        match geometry["type"].as_str().unwrap() {
            "LineString" => assert_line(coordinates),
            "MultiLineString" => coordinates.iter().for_each(|line| assert_line(line.as_array().unwrap())),
            "Polygon" => assert_polygon(coordinates),
            "MultiPolygon" => coordinates.iter().for_each(|area| assert_polygon(area.as_array().unwrap())),
            other => panic!("{other} is not written"),
        }
    }
}

/// Numbers of the positions of a line: two each, longitude first and in range (3.1.1, 4).
fn numbers(line: &[Value]) -> Vec<(f64, f64)> {
    let pair = |position: &Value| {
        let [lon, lat] = position.as_array().unwrap().as_slice() else { panic!("{position}") };
        let (lon, lat) = (lon.as_f64().unwrap(), lat.as_f64().unwrap());
        assert!((-180.0..=180.0).contains(&lon) && (-90.0..=90.0).contains(&lat), "{position}");
        (lon, lat)
    };
    line.iter().map(pair).collect()
}

fn assert_line(line: &[Value]) {
    let numbers = numbers(line);
    assert!(numbers.len() >= 2); // 3.1.4
    // 3.1.9: no part crosses the antimeridian
    assert!(numbers.windows(2).all(|pair| (pair[0].0 - pair[1].0).abs() < 180.0));
}

fn assert_polygon(rings: &[Value]) {
    for (at, ring) in rings.iter().enumerate() {
        let ring = ring.as_array().unwrap();
        assert_line(ring);
        let numbers = numbers(ring);
        assert!(numbers.len() >= 4 && numbers.first() == numbers.last()); // 3.1.6: closed, four positions or more
        let twice_area: f64 =
            numbers.windows(2).map(|pair| pair[0].0 * pair[1].1 - pair[1].0 * pair[0].1).sum();
        assert!((twice_area > 0.0) == (at == 0), "ring {at} is wound the wrong way"); // 3.1.6: right-hand rule
    }
}

#[test]
fn geojson_keeps_the_musts_of_rfc_7946_across_180_degrees_and_not() {
    assert_rfc_7946(&geojson(&area_sheet(&across(), 1.0)));
    assert_rfc_7946(&geojson(&line_sheet(&across())));
    let cut = geojson(&area_sheet(&across(), 1.0));
    assert_eq!(cut["features"][0]["geometry"]["type"], "MultiPolygon");
    assert_eq!(cut["features"][0]["geometry"]["coordinates"].as_array().unwrap().len(), 2);
    for zone in &demo() {
        let Some(boundary) = known(zone) else { continue };
        assert_rfc_7946(&geojson(&area_sheet(boundary, 1.0)));
    }
    assert!(geojson(&line_sheet(&across())).to_string().contains("not an instrument of navigation"));
}

/// Every place of the lines that our reader of coasts takes from the file lies as far off the zone as was asked for, between its points too.
#[test]
fn geojson_read_back_keeps_to_the_line() {
    for (sheet, distance_m, tolerance_m) in
        [(line_sheet(&across()), 200.0, 0.105), (area_sheet(&across(), 0.5), 0.0, 0.505)]
    {
        let file = geojson(&sheet);
        let bytes = file.to_string().into_bytes();
        assert!(coast::read("exported.geojson", &bytes).is_ok());
        let mut looked_at = 0;
        for feature in file["features"].as_array().unwrap() {
            for line in lines_of(&feature["geometry"]) {
                for pair in line.windows(2) {
                    // what was cut at 180° is no line of the zone
                    if pair.iter().all(|(lon, _)| lon.abs() >= 180.0) {
                        continue;
                    }
                    for share in [0.0, 0.21, 0.5, 0.83] {
                        let lon = pair[0].0 + share * (pair[1].0 - pair[0].0);
                        let at = place(pair[0].1 + share * (pair[1].1 - pair[0].1), lon);
                        let off_m = across().locate(at).signed_distance.metres().abs() - distance_m;
                        assert!(off_m.abs() <= tolerance_m, "{at} is {off_m} m off");
                        looked_at += 1;
                    }
                }
            }
        }
        assert!(looked_at > 30, "{looked_at}");
    }
}

fn lines_of(geometry: &Value) -> Vec<Vec<(f64, f64)>> {
    let lists = |value: &Value| value.as_array().unwrap().clone();
    let lines: Vec<Value> = match geometry["type"].as_str().unwrap() {
        "LineString" => vec![geometry["coordinates"].clone()],
        "MultiLineString" | "Polygon" => lists(&geometry["coordinates"]),
        _ => lists(&geometry["coordinates"]).iter().flat_map(lists).collect(),
    };
    lines.iter().map(|line| numbers(line.as_array().unwrap())).collect()
}

#[test]
fn gpx_is_read_by_others_and_by_the_schema() {
    for kind in [GpxKind::Route, GpxKind::Track] {
        let sheet = line_sheet(&across());
        let text = gpx(&sheet, kind).unwrap();
        let read = ::gpx::read(text.as_bytes()).unwrap();
        let points: Vec<usize> = match kind {
            GpxKind::Route => read.routes.iter().map(|route| route.points.len()).collect(),
            GpxKind::Track => read.tracks.iter().map(|track| track.segments[0].points.len()).collect(),
        };
        let written: Vec<usize> =
            sheet.drawn.iter().flat_map(|drawn| drawn.shape.lines()).map(|line| line.len()).collect();
        assert_eq!(points, written);
        assert!(text.contains("not an instrument of navigation") && text.contains("SHA-256"));
        assert!(!text.contains('\u{1b}') && text.contains("line &lt;1&gt; &amp;"));
        held_to_the_schema(&text, "TAKELINE_GPX_XSD");
    }
}

#[test]
fn kml_is_well_formed_and_cut_at_180_degrees_hole_and_all() {
    let text = kml(&area_sheet(&across(), 1.0)).unwrap();
    assert_eq!(
        (text.matches("<Polygon>").count(), text.matches("<innerBoundaryIs>").count()),
        (2, 0),
        "{text}"
    );
    let mut reader = quick_xml::Reader::from_str(&text);
    while !matches!(reader.read_event().unwrap(), quick_xml::events::Event::Eof) {}
    held_to_the_schema(&text, "TAKELINE_KML_XSD");
    held_to_the_schema(&kml(&line_sheet(&across())).unwrap(), "TAKELINE_KML_XSD");
}

/// The schemas are not ours to keep: whoever has one names it.
fn held_to_the_schema(text: &str, variable: &str) {
    let Ok(schema) = std::env::var(variable) else { return };
    let folder = tempfile::TempDir::new().unwrap();
    let path = folder.path().join("exported.xml");
    std::fs::write(&path, text).unwrap();
    let checked = Command::new("xmllint")
        .args(["--noout", "--nonet", "--schema", &schema])
        .arg(&path)
        .output()
        .unwrap();
    assert!(checked.status.success(), "{}", String::from_utf8_lossy(&checked.stderr));
}

#[test]
fn tables_read_back_to_the_same_places() {
    let sheet = line_sheet(&across());
    for notation in [Notation::DecimalDegrees, Notation::DegreesMinutes, Notation::DegreesMinutesSeconds] {
        let text = csv(&sheet, notation).unwrap();
        assert!(text.starts_with("# Marrowick\n# Takeline is not an instrument"), "{text}");
        let mut rows = ::csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
        let mut count = 0;
        for row in rows.records() {
            let row = row.unwrap();
            let read = Position::parse(&format!("{} {}", &row[3], &row[4])).unwrap().position;
            let exact = place(row[5].parse().unwrap(), row[6].parse().unwrap());
            let off_m = takeline::GeodesicSegment::between(read, exact).length().metres();
            assert!(off_m < 0.025, "{row:?} {off_m}");
            count += 1;
        }
        assert_eq!(count, sheet.drawn.iter().flat_map(|drawn| drawn.shape.lines()).flatten().count());
    }
    let zones = demo();
    let all: Vec<&takeline::zone::Zone> = zones.iter().collect();
    let text = corners_csv(&sheet, &all, Notation::default()).unwrap();
    let mut rows = ::csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
    assert!(rows.records().filter(|row| row.as_ref().is_ok_and(|row| &row[0] == "sallow-cove")).count() >= 3);
}
