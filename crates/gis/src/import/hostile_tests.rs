//! Files that are broken, cut short, or made to hurt. Each is refused with a reason; none panics, and none comes over in part.

use proptest::prelude::*;

use super::*;

fn refused(label: &str, bytes: impl Into<Vec<u8>>) -> String {
    let source = Source::new(label, bytes.into());
    import(&source, &Mapping::default(), None, None).expect_err(label).to_string()
}

/// A name, what is in it, and words of what is said.
const REFUSED: [(&str, &str, &str); 24] = [
    ("a.txt", "", "its name does not say what it is"),
    ("a.geojson", "{", "it is not JSON"),
    ("a.geojson", "[]", "no GeoJSON object"),
    ("a.geojson", r#"{ "type": "FeatureCollection", "features": [] }"#, "nothing in it"),
    ("a.geojson", r#"{ "type": "FeatureCollection", "takeline": {}, "features": [] }"#, "zone file already"),
    ("a.geojson", r#"{ "type": "Polygon", "coordinates": [[[1]]] }"#, "feature 1"),
    (
        "a.geojson",
        r#"{ "type": "Polygon", "coordinates": [[[500000, 4000000], [1, 1], [2, 2]]] }"#,
        "500000, 4000000 is no longitude",
    ),
    ("a.geojson", r#"{ "type": "LineString", "coordinates": [[1, 1], [2, 2]] }"#, "encloses nothing"),
    (
        "a.geojson",
        r#"{ "type": "Polygon", "coordinates": [[[0, 0], [1, 1], [1, 0], [0, 1], [0, 0]]] }"#,
        "as a zone it would be refused",
    ),
    (
        "a.geojson",
        r#"{ "type": "Polygon", "coordinates": [], "crs": { "properties": { "name": "EPSG:3857" } } }"#,
        "EPSG:3857",
    ),
    ("a.kml", "<kml><Placemark><Polygon>", "ends inside <Polygon>"),
    ("a.kml", "<kml><Placemark><Polygon></Placemark></kml>", "at byte"),
    ("a.kml", "<kml><Placemark><Point/></Placemark></kml>", "has no coordinates"),
    (
        "a.kml",
        "<kml><Placemark><LinearRing><coordinates>1,2 x,3</coordinates></LinearRing></Placemark></kml>",
        "\"x\" is not a number",
    ),
    (
        "a.kml",
        "<kml><Placemark><LinearRing><coordinates>1, 2 3,4</coordinates></LinearRing></Placemark></kml>",
        "placemark 1",
    ),
    ("a.kml", "<!DOCTYPE k [<!ENTITY a \"b\">]><kml>&a;</kml>", "entities of its own"),
    ("a.kml", "<kml><NetworkLink><Link><href>b.kml</href></Link></NetworkLink></kml>", "b.kml"),
    ("a.gpx", "<gpx><rte><rtept lat=\"1\"/></rte></gpx>", "route 1, point 1: it has no lon"),
    (
        "a.wkt",
        "POLYGON ((0 0, 1 0, 1 1, 0 0)) POLYGON ((2 2, 3 2, 3 3, 2 2))",
        "something follows the geometry",
    ),
    ("a.wkt", "CIRCULARSTRING (0 0, 1 1, 2 0)", "line 1"),
    ("a.csv", "a,b\n1,2\n", "no column of latitudes"),
    ("a.csv", "zone,lat,lon\nx,91.5,200\n", "as a zone it would be refused"),
    ("a.csv", "zone,lat,lon\na,1,2\nb,1,2\na,3,4\n", "line 4: the zone \"a\" goes on"),
    ("a.csv", "zone,lat,lon\na,45 07,-30 07 60\n", "line 2"),
];

#[test]
fn what_is_wrong_is_named_with_its_place_and_a_mend() {
    for (label, text, expected) in REFUSED {
        let told = refused(label, text);
        assert!(
            told.contains(expected) || told.contains("is no longitude") && expected.contains("as a zone"),
            "{label} {text}: {told}"
        );
    }
}

#[test]
fn nothing_is_nested_too_deep_to_be_refused() {
    refused("a.wkt", format!("{}POINT (1 1){}", "GEOMETRYCOLLECTION (".repeat(100_000), ")".repeat(100_000)));
    refused("a.kml", "<Folder>".repeat(100_000));
    refused(
        "a.geojson",
        format!("{}{}", r#"{"type":"GeometryCollection","geometries":["#.repeat(10_000), "]}".repeat(10_000)),
    );
    let mut source = Source::new("a.wkt", "POLYGON ((0 0, 1 0, 1 1, 0 0))".into());
    let deep = "GEOGCS[\"a\",".repeat(100_000);
    assert!(import(&source, &Mapping::default(), Some(&deep), None).is_err());
    source.label = "a.shp".into();
    assert!(import(&source, &Mapping::default(), None, None).is_err());
}

#[test]
fn a_file_that_unpacks_without_end_is_refused() {
    use std::io::{Cursor, Write};
    let mut writer = zip::ZipWriter::new(Cursor::new(Vec::new()));
    writer.start_file("doc.kml", zip::write::SimpleFileOptions::default()).unwrap();
    for _ in 0..65 {
        writer.write_all(&vec![b' '; 1024 * 1024]).unwrap();
    }
    let told = refused("a.kmz", writer.finish().unwrap().into_inner());
    assert!(told.contains("unpacks to more than 64 MiB"), "{told}");
}

#[test]
fn small_files_do_not_fill_the_memory() {
    let elements = format!("<kml>{}</kml>", "<a/>".repeat(1_000_001));
    assert!(refused("a.kml", elements).contains("too many elements"));
    let attributes = (0..300).map(|at| format!(" a{at}=\"\"")).collect::<Vec<_>>().concat();
    assert!(refused("a.kml", format!("<kml{attributes}/>")).contains("more than 256 attributes"));
    let values = format!("{{\"type\":\"Polygon\",\"coordinates\":[{}0]}}", "0,".repeat(8_000_001));
    assert!(refused("a.geojson", values).contains("at most 8000000 are read"));
    let zones = (0..=100_001).map(|at| format!("{at},1,1\n")).collect::<Vec<_>>().concat();
    let told = refused("a.csv", format!("zone,lat,lon\n{zones}"));
    assert!(told.contains("more than 100000 zones"), "{told}");
}

/// Views that run for ever in place of the tables of a `GeoPackage`, and a column that computes.
#[test]
#[cfg(feature = "geopackage")]
fn a_geopackage_that_computes_is_refused_at_once() {
    use rusqlite::{Connection, MAIN_DB};
    const FOR_EVER: &str = "WITH RECURSIVE c(n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM c)";
    let contents = "CREATE TABLE gpkg_contents(table_name, data_type); INSERT INTO gpkg_contents VALUES ('t', 'features');";
    let columns = "CREATE TABLE gpkg_geometry_columns(table_name, column_name, srs_id); INSERT INTO gpkg_geometry_columns VALUES ('t', 'g', 4326);";
    let systems = "CREATE TABLE gpkg_spatial_ref_sys(srs_id, organization, organization_coordsys_id, definition); INSERT INTO gpkg_spatial_ref_sys VALUES (4326, 'EPSG', 4326, '');";
    let table = "CREATE TABLE t(g BLOB);";
    let cases = [
        (
            format!(
                "CREATE VIEW gpkg_contents AS {FOR_EVER} SELECT 't' table_name, 'features' data_type FROM c; {columns}{systems}{table}"
            ),
            "gpkg_contents",
        ),
        (
            format!(
                "{contents}CREATE VIEW gpkg_geometry_columns AS {FOR_EVER} SELECT 't' table_name, 'g' column_name, 4326 srs_id FROM c; {systems}{table}"
            ),
            "gpkg_geometry_columns",
        ),
        (
            format!(
                "{contents}{columns}CREATE VIEW gpkg_spatial_ref_sys AS {FOR_EVER} SELECT 4326 srs_id FROM c WHERE n < 0; {table}"
            ),
            "gpkg_spatial_ref_sys",
        ),
        (
            format!(
                "{contents}{columns}{systems}CREATE TABLE t(g BLOB, x AS (zeroblob(60000000))); INSERT INTO t VALUES (NULL);"
            ),
            "\"t\"",
        ),
        (format!("{contents}{columns}{systems}CREATE VIEW t AS {FOR_EVER} SELECT NULL g FROM c;"), "\"t\""),
    ];
    for (schema, named) in cases {
        let database = Connection::open_in_memory().unwrap();
        database.execute_batch(&schema).unwrap();
        let told = refused("a.gpkg", database.serialize(MAIN_DB).unwrap().to_vec());
        assert!(told.contains("is no plain table") && told.contains(named), "{told}");
    }
}

fn gis_file(name: &str) -> Vec<u8> {
    std::fs::read(format!("{}/../../tests/data/gis/{name}", env!("CARGO_MANIFEST_DIR"))).unwrap()
}

fn shapefile(shp: Vec<u8>, dbf: Vec<u8>) -> Result<Imported, ImportError> {
    let source = Source { dbf: Some(dbf), prj: Some(gis_file("marrowick.prj")), ..Source::new("m.shp", shp) };
    import(&source, &Mapping::default(), None, None)
}

#[test]
fn a_shapefile_whose_files_do_not_belong_together_is_refused() {
    let (shp, dbf) = (gis_file("marrowick.shp"), gis_file("marrowick.dbf"));
    assert_eq!(shapefile(shp.clone(), dbf.clone()).unwrap().zones, 18);
    let head = usize::from(u16::from_le_bytes([dbf[8], dbf[9]]));
    let mut deleted = dbf.clone();
    deleted[head] = b'*';
    let told = shapefile(shp.clone(), deleted).unwrap_err().to_string();
    assert!(told.contains("row 1 of the .dbf is marked as deleted"), "{told}");
    let mut fewer = dbf.clone();
    fewer[4] -= 1;
    let told = shapefile(shp.clone(), fewer).unwrap_err().to_string();
    assert!(told.contains("18 shapes and the .dbf 17 rows"), "{told}");
    let told = shapefile(shp[..shp.len() - 100].to_vec(), dbf).unwrap_err().to_string();
    assert!(told.contains("says that it has"), "{told}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// One byte changed, or the end cut off: read, or refused.
    #[test]
    fn damaged_files_never_panic(at in 0_usize..100_000, byte: u8, cut in 0_usize..100_000) {
        for name in ["marrowick.shp", "marrowick.kml", "marrowick.dbf", "marrowick.gpkg"] {
            let mut bytes = gis_file(name);
            let length = bytes.len();
            bytes[at % length] = byte;
            if cut % 3 == 0 {
                bytes.truncate(cut % length);
            }
            if name == "marrowick.dbf" {
                let _outcome = shapefile(gis_file("marrowick.shp"), bytes);
            } else {
                let _outcome = import(&Source::new(name, bytes), &Mapping::default(), None, None);
            }
        }
    }
}
