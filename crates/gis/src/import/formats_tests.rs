//! One good file of each format, and what each loses.

use std::io::{Cursor, Write};

use serde_json::Value;
use takeline::zone_file::{self, LoadedFile};
use zip::ZipWriter;
use zip::write::SimpleFileOptions;

use super::*;

/// A square of invented water.
const RING: &str = "[-30.13, 45.11], [-30.11, 45.11], [-30.11, 45.125], [-30.13, 45.125], [-30.13, 45.11]";

fn text_import(label: &str, text: &str, from: Option<&str>) -> Result<Imported, ImportError> {
    import(&Source::new(label, text.into()), &Mapping::default(), from, None)
}

fn loaded(imported: &Imported) -> LoadedFile {
    zone_file::read("new.json", &imported.bytes).unwrap()
}

fn json(imported: &Imported) -> Value {
    serde_json::from_slice(&imported.bytes).unwrap()
}

/// Ids, names and shapes, one a line.
fn shapes(imported: &Imported) -> String {
    let file = json(imported);
    let features = file["features"].as_array().unwrap();
    features
        .iter()
        .map(|zone| format!("{} {} {}", zone["id"], zone["properties"]["name"], zone["geometry"]))
        .collect::<Vec<_>>()
        .join("\n")
}

fn texts(imported: &Imported, kind: NoteKind) -> String {
    let of_kind = imported.notes.iter().filter(|note| note.kind == kind);
    of_kind.map(|note| format!("{}|{}", note.place, note.text)).collect::<Vec<_>>().join("\n")
}

#[test]
fn geojson_is_straight_in_longitude_and_latitude_and_on_wgs_84() {
    let file = format!(
        r#"{{ "type": "FeatureCollection", "name": "x", "features": [ {{ "type": "Feature", "id": 7, "bbox": [-31, 45, -30, 46],
          "geometry": {{ "type": "Polygon", "coordinates": [[{RING}]] }}, "properties": {{ "NAME": "Cove\u0007", "depth": 3.5 }} }} ] }}"#
    );
    let imported = text_import("a.geojson", &file, None).unwrap();
    let zone = &json(&imported)["features"][0];
    assert_eq!((&zone["id"], &zone["properties"]["edges"]), (&"7".into(), &"lonlat".into()));
    assert_eq!(zone["properties"]["x-source"]["depth"], 3.5);
    assert_eq!(zone["geometry"]["coordinates"][0][1], serde_json::json!([-30.11, 45.11]));
    assert_eq!(json(&imported)["takeline"]["datum"], "WGS 84");
    assert!(texts(&imported, NoteKind::Changed).contains("control characters"), "{:?}", imported.notes);
    let warnings: Vec<String> = loaded(&imported).warnings.iter().map(ToString::to_string).collect();
    assert!(warnings.iter().all(|warning| warning.contains("time_zone")), "{warnings:?}");
}

#[test]
fn a_rule_that_nobody_states_is_undecided_and_asked_for() {
    let imported = text_import(
        "a.wkt",
        "POLYGON ((-30.13 45.11, -30.11 45.11, -30.11 45.125, -30.13 45.11))",
        Some("WGS 84"),
    )
    .unwrap();
    let asked = texts(&imported, NoteKind::FillIn);
    assert!(
        asked.contains("take, what may be taken: of 1 zone the") && asked.contains("source, the law"),
        "{asked}"
    );
    let properties = &json(&imported)["features"][0]["properties"];
    assert_eq!(properties["x-fill-in"], serde_json::json!(["take", "source"]));
    let zones = takeline::ZoneSet::new(loaded(&imported).zones);
    let fix = takeline::Fix::new(
        takeline::Position::from_degrees(45.112, -30.112).unwrap(),
        takeline::HorizontalUncertainty::given(1.0, takeline::AccuracyKind::P95).unwrap(),
    );
    let answer = zones.assess(&fix, &takeline::Question::default());
    assert_eq!(answer.water, takeline::WaterStatus::Undecided);
}

#[test]
fn kml_in_folders_with_holes_and_extended_data() {
    let kml = r#"<?xml version="1.0"?><kml xmlns="http://www.opengis.net/kml/2.2"><Document><Style id="s"/><Folder><Placemark id="p1">
      <name>Cove &amp; bay</name><styleUrl>#s</styleUrl><TimeSpan/><ExtendedData><Data name="CODE"><value>C1</value></Data></ExtendedData>
      <MultiGeometry><Polygon><outerBoundaryIs><LinearRing><coordinates>
        -30.13,45.11,5 -30.11,45.11 -30.11,45.125,0 -30.13,45.125 -30.13,45.11</coordinates></LinearRing></outerBoundaryIs>
        <innerBoundaryIs><LinearRing><coordinates>-30.125,45.115 -30.12,45.115 -30.12,45.12 -30.125,45.115</coordinates></LinearRing></innerBoundaryIs>
      </Polygon></MultiGeometry></Placemark></Folder></Document></kml>"#;
    let imported = text_import("a.kml", kml, None).unwrap();
    let zone = &json(&imported)["features"][0];
    assert_eq!((&zone["id"], &zone["properties"]["name"]), (&"p1".into(), &"Cove & bay".into()));
    assert_eq!(zone["geometry"]["coordinates"].as_array().unwrap().len(), 2);
    assert_eq!(zone["properties"]["edges"], "unstated");
    let lost = texts(&imported, NoteKind::Lost);
    for what in ["heights: 1", "styles: 1", "how placemarks look: 1", "times of placemarks: 1"] {
        assert!(lost.contains(what), "{lost}");
    }
    let packed = zipped(&[("doc.kml", kml.as_bytes()), ("other.kml", b"<kml/>")]);
    let of_packed = import(&Source::new("a.kmz", packed), &Mapping::default(), None, None).unwrap();
    assert_eq!(shapes(&of_packed), shapes(&imported));
}

fn zipped(files: &[(&str, &[u8])]) -> Vec<u8> {
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in files {
        writer.start_file(*name, SimpleFileOptions::default()).unwrap();
        writer.write_all(bytes).unwrap();
    }
    writer.finish().unwrap().into_inner()
}

#[test]
fn gpx_routes_and_tracks_walk_round_zones() {
    let gpx = r#"<gpx version="1.1"><wpt lat="45" lon="-30"/><rte><name>Bank</name>
      <rtept lat="45.11" lon="-30.13"><ele>1</ele></rtept><rtept lat="45.11" lon="-30.11"/><rtept lat="45.125" lon="-30.11"/></rte>
      <trk><trkseg><trkpt lat="45.2" lon="-30.13"><time>2026-05-01T00:00:00Z</time></trkpt><trkpt lat="45.2" lon="-30.11"/>
      <trkpt lat="45.21" lon="-30.11"/><trkpt lat="45.2" lon="-30.13"/></trkseg></trk></gpx>"#;
    let imported = text_import("a.gpx", gpx, None).unwrap();
    assert_eq!(imported.zones, 2);
    assert!(texts(&imported, NoteKind::Changed).contains("route 1|the last point is joined to the first"));
    let lost = texts(&imported, NoteKind::Lost);
    assert!(
        lost.contains("1 waypoints") && lost.contains("heights: 1") && lost.contains("times of points: 1"),
        "{lost}"
    );
}

#[test]
fn csv_of_vertices_in_printed_forms_and_of_well_known_text() {
    let csv = "zone,Latitude,Longitude,ring,law\ncove,45°06.6'N,30°07.8'W,,Order 3\ncove,45.11,-30.11,,Order 3\ncove,45.125,-30.11,,Order 3\n\
               bank,45.2,-30.13,1,Order 4\nbank,45.2,-30.10,1,Order 4\nbank,45.22,-30.10,1,Order 4\nbank,45.205,-30.105,2,Order 4\nbank,45.205,-30.103,2,Order 4\nbank,45.207,-30.103,2,Order 4\n";
    let mapping: Mapping =
        "[fields]\nid = \"zone\"\ninstrument = \"law\"\n[constants]\nedges = \"rhumb\"\ntake = \"none\""
            .parse()
            .unwrap();
    let imported = import(&Source::new("a.csv", csv.into()), &mapping, Some("WGS 84"), None).unwrap();
    assert!(imported.notes.is_empty(), "{:?}", imported.notes);
    let file = json(&imported);
    assert_eq!(file["features"][0]["geometry"]["coordinates"][0][0], serde_json::json!([-30.13, 45.11]));
    assert_eq!(file["features"][1]["geometry"]["coordinates"].as_array().unwrap().len(), 2);
    assert_eq!(file["features"][1]["properties"]["source"]["instrument"], "Order 4");
    let of_text = "id,wkt\ncove,\"POLYGON ((-30.13 45.11, -30.11 45.11, -30.11 45.125, -30.13 45.11))\"\n";
    let imported = text_import("b.csv", of_text, None).unwrap();
    assert_eq!(json(&imported)["features"][0]["id"], "cove");
    assert!(texts(&imported, NoteKind::FillIn).contains("datum"));
}

#[test]
fn a_packed_shapefile_is_the_same_as_its_files() {
    let path =
        |ending: &str| format!("{}/../../tests/data/gis/marrowick.{ending}", env!("CARGO_MANIFEST_DIR"));
    let bytes = |ending: &str| std::fs::read(path(ending)).unwrap();
    let mut source = Source::new("m.shp", bytes("shp"));
    (source.dbf, source.prj) = (Some(bytes("dbf")), Some(bytes("prj")));
    let files = import(&source, &Mapping::default(), None, None).unwrap();
    let packed =
        zipped(&[("in/m.SHP", &source.bytes), ("in/m.dbf", &bytes("dbf")), ("in/m.prj", &bytes("prj"))]);
    let packed = import(&Source::new("m.zip", packed), &Mapping::default(), None, None).unwrap();
    assert_eq!(shapes(&packed), shapes(&files));
    assert_eq!(files.datum.as_deref(), Some("WGS 84"));
}

#[test]
fn grids_come_over_with_their_accuracy_as_doubt() {
    let wkt = "SRID=27700;POLYGON ((651000 313000, 652000 313000, 652000 314000, 651000 313000))";
    // a plane that is not the earth: what counts here is what is made of the answer
    let grid: Reproject = &|definition| {
        assert_eq!(definition, "EPSG:27700");
        Ok(Box::new(|[x, y]| {
            let lon_lat_deg = [x / 1e5 - 36.64, y / 1e5 + 41.98];
            Ok(Brought { lon_lat_deg, operation: "grid to WGS 84".into(), accuracy_m: 2.0 })
        }))
    };
    let imported = import(&Source::new("a.wkt", wkt.into()), &Mapping::default(), None, Some(grid)).unwrap();
    let by = imported.reprojected.clone().unwrap();
    assert_eq!((&*by.from, &by.operations[..]), ("EPSG:27700", &[("grid to WGS 84".to_owned(), 2.0)][..]));
    let doubt_m = json(&imported)["features"][0]["properties"]["line_uncertainty_m"].as_f64().unwrap();
    assert!((4.9..5.2).contains(&doubt_m), "2 m at one standard deviation, and a bend: {doubt_m}");
    assert_eq!(json(&imported)["takeline"]["x-import"]["operations"][0]["stated_accuracy_m"], 2.0);
    let refused = import(&Source::new("a.wkt", wkt.into()), &Mapping::default(), None, None).unwrap_err();
    assert!(refused.to_string().contains("EPSG:27700, which this build cannot bring"), "{refused}");
}

#[test]
fn parts_across_180_degrees_are_one_zone() {
    let file = r#"{ "type": "Feature", "properties": { "name": "Line" }, "geometry": { "type": "MultiPolygon", "coordinates": [
      [[[179.9, -17], [180, -17], [180, -16.9], [179.9, -16.9], [179.9, -17]]],
      [[[-180, -17], [-179.9, -17], [-179.9, -16.9], [-180, -16.9], [-180, -17]]] ] } }"#;
    let imported = text_import("a.json", file, None).unwrap();
    let loaded = loaded(&imported);
    let takeline::zone::Extent::Known(boundary) = &loaded.zones[0].extent else { panic!("known") };
    assert_eq!(boundary.outlines().len(), 1);
}
