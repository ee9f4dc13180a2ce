//! `takeline zones import` as a user calls it: what it writes, says and refuses; with the feature `reproject`, metres of a grid.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on stops here")]

use std::fs;
use std::path::{Path, PathBuf};

use assert_cmd::Command;
use serde_json::Value;

fn gis(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/data/gis").join(name)
}

/// Status, what was said on both outputs, and where the new file would be.
fn import(folder: &Path, words: &[&str]) -> (i32, String, PathBuf) {
    let out = folder.join("new.json");
    let mut command = Command::cargo_bin("takeline").unwrap();
    command.env_remove("TAKELINE_SETTINGS").args(["zones", "import"]).args(words).arg("--out").arg(&out);
    let output = command.output().unwrap();
    let said = [output.stdout, output.stderr].map(|bytes| String::from_utf8(bytes).unwrap()).concat();
    (output.status.code().unwrap(), said, out)
}

#[test]
fn a_shapefile_comes_over_and_its_rule_is_asked_for() {
    let folder = tempfile::tempdir().unwrap();
    let shapes = gis("marrowick.shp");
    let (status, said, out) = import(folder.path(), &[shapes.to_str().unwrap()]);
    assert_eq!(status, 1, "{said}");
    assert!(said.trim_start().starts_with("18 zones came over"), "{said}");
    let on_one_line = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(on_one_line.contains("3 to fill in") && on_one_line.contains("states no rule"), "{said}");
    let zones = takeline::zone_file::read("new.json", &fs::read(&out).unwrap()).unwrap();
    assert_eq!(zones.zones.len(), 18);
    let mut here = Command::cargo_bin("takeline").unwrap();
    // in Sallow Cove Reserve, where the source knew of no rule: undecided, not open
    let answer = here
        .args(["here", "45.1182", "-30.1217", "--accuracy-m", "3", "--zones"])
        .arg(&out)
        .output()
        .unwrap();
    assert_eq!(answer.status.code(), Some(3), "{}", String::from_utf8_lossy(&answer.stdout));
}

#[test]
fn json_lists_every_note() {
    let folder = tempfile::tempdir().unwrap();
    let shapes = gis("marrowick.kml");
    let (status, said, _) = import(folder.path(), &[shapes.to_str().unwrap(), "--format", "json"]);
    let told: Value = serde_json::from_str(&said).unwrap();
    assert_eq!((told["exit_status"].as_i64(), &told["zones"]), (Some(i64::from(status)), &18.into()));
    assert_eq!(told["schema"], "takeline.zones-import/1");
    assert_eq!(told["input"]["format"], "KML");
    assert!(told["fill_in"].as_array().unwrap().len() >= 3, "{told:#}");
}

#[test]
fn what_is_refused_writes_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let broken = folder.path().join("line.wkt");
    fs::write(&broken, "LINESTRING (0 0, 1 1)").unwrap();
    let (status, said, out) = import(folder.path(), &[broken.to_str().unwrap()]);
    assert_eq!(status, 3, "{said}");
    assert!(said.contains("line 1: its shape is a line") && said.contains("nothing is written"), "{said}");
    assert!(!out.exists());
    // the source is not overwritten by its own zone file
    let mut command = Command::cargo_bin("takeline").unwrap();
    let output = command.args(["zones", "import"]).arg(&broken).arg("--out").arg(&broken).output().unwrap();
    assert_ne!(output.status.code(), Some(0));
    assert_eq!(fs::read_to_string(&broken).unwrap(), "LINESTRING (0 0, 1 1)");
}

#[test]
#[cfg(not(feature = "reproject"))]
fn metres_of_a_grid_name_the_build_that_reads_them() {
    let folder = tempfile::tempdir().unwrap();
    let (status, said, out) = import(folder.path(), &[gis("marrowick-utm.shp").to_str().unwrap()]);
    assert_eq!(status, 3, "{said}");
    assert!(said.contains("--features reproject"), "{said}");
    assert!(!out.exists());
}

/// Universal Transverse Mercator and back, by GDAL one way and by this program the other: within 1 cm.
#[test]
#[cfg(feature = "reproject")]
fn metres_of_a_grid_come_back_to_a_centimetre() {
    use takeline::GeodesicSegment;
    use takeline::zone::Extent;
    let folder = tempfile::tempdir().unwrap();
    let outlines = |name: &str| {
        let (status, said, out) = import(folder.path(), &[gis(name).to_str().unwrap(), "--overwrite"]);
        assert_eq!(status, 1, "{said}");
        let zones = takeline::zone_file::read(name, &fs::read(out).unwrap()).unwrap().zones;
        let outlines = zones.iter().map(|zone| match &zone.extent {
            Extent::Known(boundary) => boundary.outlines().into_iter().flatten().collect::<Vec<_>>(),
            Extent::Unknown { .. } => Vec::new(),
        });
        (said, outlines.collect::<Vec<_>>())
    };
    let (said, by_metres) = outlines("marrowick-utm.shp");
    assert!(said.contains("WGS_1984_UTM_Zone_26N") && said.contains("Inverse of"), "{said}");
    let (_, by_degrees) = outlines("marrowick.shp");
    assert_eq!(by_metres.len(), by_degrees.len());
    for (metres, degrees) in by_metres.iter().zip(&by_degrees) {
        for vertex in metres {
            let distances =
                degrees.iter().map(|other| GeodesicSegment::between(*vertex, *other).length().metres());
            assert!(distances.fold(f64::INFINITY, f64::min) < 0.01);
        }
    }
}
