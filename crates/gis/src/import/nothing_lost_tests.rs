//! What says the same thing twice, what says it elsewhere than usual, and what a reader might pass over: it comes over, is told, or is
//! refused; it is never gone.

use std::io::{Cursor, Write};

use serde_json::Value;

use super::*;

fn read_with(label: &str, text: &str, mapping: &str) -> Result<Imported, ImportError> {
    import(&Source::new(label, text.into()), &mapping.parse().unwrap(), None, None)
}

fn read(label: &str, text: &str) -> Imported {
    read_with(label, text, "").unwrap()
}

fn refused(label: &str, text: &str) -> String {
    read_with(label, text, "").expect_err(text).to_string()
}

fn json(imported: &Imported) -> Value {
    serde_json::from_slice(&imported.bytes).unwrap()
}

/// All that is told, one a line.
fn told(imported: &Imported) -> String {
    let lines = imported.notes.iter().map(|note| format!("{:?} {}|{}\n", note.kind, note.place, note.text));
    lines.collect::<Vec<_>>().concat()
}

/// Rows of a triangle.
fn triangle(before: &str, south: f64, west: f64, size: f64) -> String {
    [(0.0, 0.0), (0.0, size), (size, size)]
        .map(|(north, east)| format!("{before}{},{}\n", south + north, west + east))
        .concat()
}

#[test]
fn a_zone_whose_name_begins_with_a_number_sign_is_no_remark() {
    let table = format!(
        "# a table of\n# invented zones\n\nzone,lat,lon\n{}{}",
        triangle("#1 Gull Bank,", 45.1, -30.2, 0.02),
        triangle("2 Tern Reef,", 45.2, -30.2, 0.02)
    );
    let imported = read("a.csv", &table);
    assert_eq!(imported.zones, 2);
    assert!(told(&imported).contains("lines that begin with #: 2"), "{}", told(&imported));
    let wkt = "zone,wkt\n#1,\"POLYGON ((-30.13 45.11, -30.11 45.11, -30.11 45.125, -30.13 45.11))\"\n";
    assert_eq!(read("a.csv", wkt).zones, 1);
    let later = table.replace("2 Tern Reef,45.2,-30.2\n", "# the second\n2 Tern Reef,45.2,-30.2\n");
    assert!(refused("a.csv", &later).contains("line 8: the row has 1 cells, and the row of names has 3"));
    assert!(refused("a.csv", "zone,Name,name,lat,lon\n").contains("\"name\" is given twice"));
}

#[test]
fn rings_of_a_table_belong_to_their_parts() {
    let head = "zone,part,ring,lat,lon\n";
    let outer = |part: u8| triangle(&format!("a,{part},1,"), 45.0 + f64::from(part), -30.0, 0.1);
    let hole = triangle("a,1,2,", 46.02, -29.95, 0.02);
    let imported = read("a.csv", &format!("{head}{}{}{hole}", outer(1), outer(2)));
    let shape = &json(&imported)["features"][0]["geometry"]["coordinates"];
    assert_eq!((shape[0].as_array().unwrap().len(), shape[1].as_array().unwrap().len()), (2, 1), "{shape}");
    let goes_on = refused("a.csv", &format!("{head}{}{hole}{}", outer(1), outer(1)));
    assert!(
        goes_on.contains("line 8: the ring \"1\" of part \"1\" of the zone \"a\" goes on here"),
        "{goes_on}"
    );
}

#[test]
fn what_a_spreadsheet_would_run_comes_back_as_it_was() {
    let table = format!(
        "zone_id,vertex,lat,lon,lat_deg\n{}",
        triangle("'=1+1,1,", 45.1, -30.2, 0.02).replace('\n', ",0\n")
    );
    let imported = read_with("a.csv", &table, "[fields]\nid = \"zone_id\"").unwrap();
    assert_eq!(json(&imported)["features"][0]["id"], "=1+1");
    assert!(
        told(&imported).contains("the column \"vertex\", which is of the vertices"),
        "{}",
        told(&imported)
    );
}

const SHAPE: &str = r#""coordinates":[[[-80.1,25.1],[-80.0,25.1],[-80.0,25.2],[-80.1,25.1]]]"#;
/// The member that GeoJSON had before RFC 7946; EPSG:4267 is NAD 27.
const NAD_27: &str = r#""crs":{"type":"name","properties":{"name":"EPSG:4267"}}"#;

fn collection(file: &str, feature: &str, shape: &str) -> String {
    format!(
        r#"{{"type":"FeatureCollection"{file},"features":[{{"type":"Feature"{feature},"properties":null,"geometry":{{"type":"Polygon"{shape},{SHAPE}}}}}]}}"#
    )
}

#[test]
fn a_member_given_twice_is_refused() {
    for twice in [
        collection(r#","features":[]"#, "", ""),
        collection("", r#","geometry":null"#, ""),
        collection("", "", r#","coordinates":[]"#),
    ] {
        assert!(refused("a.geojson", &twice).contains("is given twice in one object"), "{twice}");
    }
}

#[test]
fn a_coordinate_system_anywhere_in_geojson_counts_or_is_refused() {
    let of_its_own = format!(",{NAD_27}");
    for elsewhere in [collection("", &of_its_own, ""), collection("", "", &of_its_own)] {
        let told = refused("a.geojson", &elsewhere);
        assert!(told.contains("feature 1: it has a coordinate system of its own"), "{told}");
    }
    let nested =
        format!(r#"{{"type":"GeometryCollection","geometries":[{{"type":"Polygon",{NAD_27},{SHAPE}}}]}}"#);
    assert!(refused("a.geojson", &nested).contains("of its own"));
    // the same as that of the file, which has none: WGS 84
    let same = r#","crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:OGC:1.3:CRS84"}}"#;
    let imported = read("a.geojson", &collection("", same, same));
    assert_eq!(imported.datum.as_deref(), Some("WGS 84"));
    assert!(!told(&imported).contains("crs"), "{}", told(&imported));
}

#[test]
fn members_beside_those_of_geojson_are_told() {
    let imported =
        read("a.geojson", &collection(r#","name":"Invented","licence":"x""#, r#","x":1"#, r#","y":1"#));
    for lost in
        ["\"name\" of the collection", "\"licence\"", "feature 1|the member \"x\"", "no coordinates: 1"]
    {
        assert!(told(&imported).contains(lost), "{lost}: {}", told(&imported));
    }
}

#[test]
fn files_of_takeline_that_are_no_zones_are_called_what_they_are() {
    let landmarks =
        r#"{"type":"FeatureCollection","takeline":{"format":"takeline.landmarks/1"},"features":[]}"#;
    assert!(refused("a.geojson", landmarks).contains("it says that it is \"takeline.landmarks/1\""));
}

#[test]
fn numbers_that_are_none_are_refused() {
    for number in ["NaN", "inf", "-infinity", "1e999"] {
        let table = format!(
            "zone,lat,lon,unc\n{}",
            triangle("a,", 45.1, -30.2, 0.02).replace('\n', &format!(",{number}\n"))
        );
        let refused =
            read_with("a.csv", &table, "[fields]\nline_uncertainty_m = \"unc\"").unwrap_err().to_string();
        assert!(refused.contains("is no number, and line_uncertainty_m is one"), "{refused}");
    }
    let mapping = "[constants]\nline_uncertainty_m = nan".parse::<Mapping>().unwrap_err().to_string();
    assert!(mapping.contains("nan or inf"), "{mapping}");
}

fn zipped(files: &[(&str, &str)]) -> Source {
    let mut writer = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for (name, text) in files {
        writer.start_file(*name, zip::write::SimpleFileOptions::default()).unwrap();
        writer.write_all(text.as_bytes()).unwrap();
    }
    Source::new("a.kmz", writer.finish().unwrap().into_inner())
}

const POLYGON: &str = "<Polygon><outerBoundaryIs><LinearRing><coordinates>-30.13,45.11 -30.11,45.11 -30.11,45.125 -30.13,45.11\
     </coordinates></LinearRing></outerBoundaryIs></Polygon>";

fn kml(of_document: &str, of_placemark: &str) -> String {
    format!("<kml><Document>{of_document}<Placemark>{of_placemark}{POLYGON}</Placemark></Document></kml>")
}

#[test]
fn a_kmz_of_several_documents_is_refused_or_lists_what_it_leaves() {
    let kml = kml("", "");
    let several =
        import(&zipped(&[("north.kml", &kml), ("south.kml", &kml)]), &Mapping::default(), None, None);
    let several = several.unwrap_err().to_string();
    assert!(several.contains("2 .kml files in it") && several.contains("south.kml"), "{several}");
    let main = zipped(&[("doc.kml", &kml), ("south.kml", &kml), ("images/a.png", ""), ("._doc.kml", "")]);
    let main = import(&main, &Mapping::default(), None, None).unwrap();
    for lost in ["south.kml, which is packed", "images/a.png, which is packed"] {
        assert!(told(&main).contains(lost), "{}", told(&main));
    }
}

#[test]
fn kml_loses_nothing_untold() {
    let imported = read(
        "a.kml",
        &kml(
            "<name>No take</name><Folder><description>2026</description></Folder><atom/>",
            "<name>Cove</name><ExtendedData><Data name=\"name\"><displayName>Name</displayName><value>Bay</value></Data><own/></ExtendedData>",
        ),
    );
    for note in [
        "names and descriptions of folders and of the whole: 2",
        "other elements beside placemarks: 1",
        "names of attributes for people: 1",
        "the element \"own\" of its ExtendedData",
        "\"name\" is given twice in one feature and says two things",
    ] {
        assert!(told(&imported).contains(note), "{note}: {}", told(&imported));
    }
    let properties = &json(&imported)["features"][0]["properties"];
    assert_eq!((&properties["name"], &properties["x-source"]["name (2)"]), (&"Cove".into(), &"Bay".into()));
    let twice =
        kml("", "").replace("</coordinates>", "</coordinates><coordinates>1,1 2,2 2,1 1,1</coordinates>");
    assert!(refused("a.kml", &twice).contains("several elements \"coordinates\""));
    let other = kml("", "")
        .replace("</outerBoundaryIs>", "</outerBoundaryIs><innerBoundaryIs><Ring/></innerBoundaryIs>");
    assert!(refused("a.kml", &other).contains("and not a LinearRing"));
    let inside = kml("", "").replace("Document", "Group");
    assert!(refused("a.kml", &inside).contains("placemarks in the element \"Group\""));
    let height = kml("", "").replace("-30.13,45.11 ", "-30.13,45.11,x ");
    assert!(refused("a.kml", &height).contains("the height \"x\" is not a number"));
}

#[test]
fn measures_are_told_and_a_layer_that_no_format_has_is_refused() {
    let measured = "POLYGON M ((-30.13 45.11 1, -30.11 45.11 2, -30.11 45.125 3, -30.13 45.11 4))";
    assert!(told(&read("a.wkt", measured)).contains("measures: 4"));
    let source = Source { layer: Some("x".into()), ..Source::new("a.wkt", measured.into()) };
    let refused = import(&source, &Mapping::default(), None, None).unwrap_err().to_string();
    assert!(refused.contains("WKT has no layers, and \"x\" is asked for"), "{refused}");
}

/// OGC 12-128r19, 2.1.3: the `srs_id` of a geometry equals that of its column.
#[test]
#[cfg(feature = "geopackage")]
fn a_geopackage_whose_shapes_have_another_system_than_their_layer_is_refused() {
    let path = format!("{}/../../tests/data/gis/marrowick.gpkg", env!("CARGO_MANIFEST_DIR"));
    let mut bytes = std::fs::read(path).unwrap();
    let head = bytes.windows(8).position(|head| head[..3] == *b"GP\0" && head[4..] == 4326_u32.to_le_bytes());
    bytes[head.unwrap() + 4..][..4].copy_from_slice(&4267_u32.to_le_bytes());
    let refused =
        import(&Source::new("a.gpkg", bytes), &Mapping::default(), None, None).unwrap_err().to_string();
    assert!(refused.contains("in the coordinate system 4267, and its layer in 4326"), "{refused}");
}

#[test]
fn a_ring_walked_in_two_goes_is_no_two_rings() {
    let point = |(lat, lon): (f64, f64)| format!("<trkpt lat=\"{lat}\" lon=\"{lon}\"/>");
    let segment = |points: &[(f64, f64)]| -> String {
        format!("<trkseg>{}</trkseg>", points.iter().copied().map(point).collect::<String>())
    };
    let track = |segments: &[String]| format!("<gpx><trk><name>Ring</name>{}</trk></gpx>", segments.concat());
    let south = [(45.10, -30.20), (45.10, -30.15), (45.10, -30.10), (45.15, -30.10)];
    let north = [(45.20, -30.10), (45.20, -30.15), (45.20, -30.20), (45.15, -30.20)];
    let why = refused("a.gpx", &track(&[segment(&south), segment(&north)]));
    assert!(why.contains("track 1") && why.contains("line"), "{why}");
    // in one go it is a ring, and two closed rings are two parts
    let whole: Vec<(f64, f64)> = south.into_iter().chain(north).collect();
    read("a.gpx", &track(&[segment(&whole)]));
    let closed = |ring: &[(f64, f64)]| segment(&ring.iter().chain(ring.first()).copied().collect::<Vec<_>>());
    read("a.gpx", &track(&[closed(&south), closed(&north)]));
}

#[test]
fn what_other_programs_say_in_gpx_comes_over() {
    let gpx = "<gpx xmlns:o=\"http://example.invalid\"><metadata/><trk><name>Cove</name><link href=\"x\"/><extensions><o:id>cove</o:id>\
         <o:take>none</o:take><o:more><o:a/></o:more></extensions><trkseg><trkpt lat=\"45.11\" lon=\"-30.13\"><sym>a</sym></trkpt>\
         <trkpt lat=\"45.11\" lon=\"-30.11\"/><trkpt lat=\"45.12\" lon=\"-30.11\"/><extensions/></trkseg></trk></gpx>";
    let imported = read("a.gpx", gpx);
    let zone = &json(&imported)["features"][0];
    assert_eq!((&zone["id"], &zone["properties"]["x-source"]["take"]), (&"cove".into(), &"none".into()));
    for lost in [
        "track 1|the element \"link\"",
        "what lies in the element \"more\"",
        "other things that points say: 1",
        "what segments say beside their points: 1",
        "which say what the whole is: 1",
    ] {
        assert!(told(&imported).contains(lost), "{lost}: {}", told(&imported));
    }
    // an attribute of another namespace is not the one that is meant
    assert!(
        refused("a.gpx", "<gpx><rte><rtept o:lat=\"1\" lon=\"1\"/></rte></gpx>").contains("it has no lat")
    );
}

#[test]
fn attributes_that_differ_only_in_capitals_and_those_of_united_features_are_kept_or_told() {
    let feature = |west: f64, more: &str| {
        let east = west + 0.01;
        format!(
            r#"{{"type":"Feature","id":"x","geometry":{{"type":"Polygon","coordinates":[[[{west},45],[{east},45],[{east},45.1],[{west},45]]]}},"properties":{{"code":"a","CODE":"b"{more}}}}}"#
        )
    };
    let file = format!(
        r#"{{"type":"FeatureCollection","features":[{},{}]}}"#,
        feature(-30.0, r#","depth":1"#),
        feature(-29.0, r#","depth":2,"more":3"#)
    );
    let imported = read_with("a.geojson", &file, "[fields]\nid = \"code\"").unwrap();
    assert_eq!(json(&imported)["features"][0]["properties"]["x-source"], serde_json::json!({ "CODE": "b" }));
    assert!(
        told(&imported).contains("a|attributes that differ among the features of the zone: depth, more"),
        "{}",
        told(&imported)
    );
    assert!(told(&imported).contains("ids of features, which the ids of zones do not come from: 2"));
}
