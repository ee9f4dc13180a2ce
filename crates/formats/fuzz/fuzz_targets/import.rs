//! Any bytes, imported as a GIS file of any format, become a zone file that loads or are refused with a reason; they never panic.
#![no_main]

use libfuzzer_sys::fuzz_target;
use takeline_gis::import::{Mapping, Source, import};

/// A GeoPackage is a database of a library that others fuzz, and needs a C compiler.
const NAMES: [&str; 8] = ["a.geojson", "a.kml", "a.kmz", "a.gpx", "a.shp", "a.zip", "a.wkt", "a.csv"];

/// Between the shapes of a Shapefile and their table.
const MARK: &[u8] = b"\xff\xfe\xfd";

const MAP: &str = "leave_out = [\"points\", \"lines\", \"without-shape\"]\n[fields]\nid = \"id\"\nline_uncertainty_m = \"unc\"\n";

// A byte that says which format, one that says whether it is mapped, and the file; of a Shapefile the bytes behind a mark are its table.
fuzz_target!(|given: &[u8]| {
    let [format, is_mapped, bytes @ ..] = given else { return };
    let name = NAMES[usize::from(*format) % NAMES.len()];
    let mut source = Source::new(name, bytes.to_vec());
    if name == "a.shp" {
        let table = bytes.windows(MARK.len()).position(|piece| piece == MARK);
        if let Some(at) = table {
            source.bytes = bytes[..at].to_vec();
            source.dbf = Some(bytes[at + MARK.len()..].to_vec());
        }
    }
    let mapping: Mapping = if is_mapped % 2 == 1 { MAP.parse().expect("it is a mapping") } else { Mapping::default() };
    match import(&source, &mapping, None, None) {
        Ok(imported) => {
            let loaded = takeline::zone_file::read("fuzz.json", &imported.bytes).expect("it loads at once");
            assert_eq!(loaded.zones.len(), imported.zones);
            assert!(imported.zones > 0 && imported.features >= imported.zones);
            for zone in &loaded.zones {
                assert!(zone.line_uncertainty.metres() >= 0.0 && zone.line_uncertainty.metres().is_finite());
            }
        }
        Err(error) => assert!(!error.to_string().is_empty()),
    }
});
