//! What positions are: degrees that a zone file may have as they stand, or something that has to be brought to WGS 84 first.

use takeline::zone::Datum;

use super::fault::ImportFault;
use super::layer::{StatedSystem, Xy};
use super::source::Format;
use super::well_known_text::{Node, parse};

/// A position that was brought to WGS 84.
#[derive(Debug, Clone, PartialEq)]
pub struct Brought {
    /// Longitude and latitude on WGS 84, in degrees.
    pub lon_lat_deg: [f64; 2],
    /// The operation that was chosen there, in words.
    pub operation: String,
    /// The accuracy stated for it, in metres, not said how often.
    pub accuracy_m: f64,
}

/// Brings easting and northing, or longitude and latitude, to WGS 84; else says why not.
pub type Bring = Box<dyn Fn([f64; 2]) -> Result<Brought, String>>;

/// Finds the way from a coordinate system (a code such as `EPSG:27700`, or well-known text) to WGS 84; else says why there is none.
pub type Reproject<'r> = &'r dyn Fn(&str) -> Result<Bring, String>;

/// What positions are.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum System {
    /// Degrees on a datum that zone files may have; none: nobody says which.
    Degrees(Option<String>),
    /// Anything else.
    Foreign {
        /// A code or well-known text.
        definition: String,
        /// What people call it.
        name: String,
    },
    /// Something that says two things, or what nobody here turns round; why.
    Unusable(String),
}

/// Coordinate systems of longitude and latitude.
const GEOGRAPHIC: [&str; 7] =
    ["GEOGCS", "GEOGCRS", "GEOGRAPHICCRS", "GEODCRS", "GEODETICCRS", "BASEGEOGCRS", "BASEGEODCRS"];
/// Names of datums as `.prj` files and GML write them, without blanks and punctuation, and how zone files call them.
const OTHER_NAMES: [(&str, &str); 5] = [
    ("WORLDGEODETICSYSTEM1984ENSEMBLE", "WGS 84"),
    ("NORTHAMERICAN1983", "NAD 83"),
    ("EUROPEANTERRESTRIALREFERENCESYSTEM1989", "ETRS89"),
    ("EUROPEANTERRESTRIALREFERENCESYSTEM1989ENSEMBLE", "ETRS89"),
    ("NZGD2000", "NZGD2000"),
];
/// The ellipsoids of WGS 84 and of the datums near it, GRS 1980: half the longer axis in metres, and the flattening, of which WGS 84 has
/// 1/298.257 223 563 and GRS 1980 1/298.257 222 101 (EPSG registry, ellipsoids 7030 and 7019); and what may be rounded.
const ELLIPSOID: ([f64; 2], [f64; 2]) = ([6_378_137.0, 298.257_223], [0.01, 1e-5]);
/// One degree in radians, and how well files give it.
const DEGREE: (f64, f64) = (0.017_453_292_519_943_3, 1e-9);

impl System {
    pub(super) fn of(stated: &StatedSystem) -> Self {
        match stated {
            StatedSystem::ByFormat => Self::Degrees(Some("WGS 84".into())),
            StatedSystem::Unstated => Self::Degrees(None),
            StatedSystem::Named(name) => Self::named(name),
        }
    }

    /// By a name, a code, or well-known text.
    pub(super) fn named(name: &str) -> Self {
        let name = name.trim();
        if let Some(node) = parse(name) {
            return Self::by_text(&node, name);
        }
        let code = code_of(name);
        let short = code.as_deref().unwrap_or(name);
        // "NAD83 / UTM zone 10N" and "ETRS89-LAEA" are no degrees
        let is_plain =
            short.chars().filter(char::is_ascii_alphanumeric).count() <= 12 && !short.contains(['/', '+']);
        match Datum::named(short).filter(|_| is_plain) {
            Some(Datum::Wgs84) => Self::Degrees(Some("WGS 84".into())),
            Some(Datum::NearWgs84(datum)) => Self::Degrees(Some(datum)),
            Some(Datum::Unstated) => Self::Degrees(None),
            None => Self::Foreign { definition: short.to_owned(), name: short.to_owned() },
        }
    }

    fn by_text(root: &Node, text: &str) -> Self {
        let name = root.text().unwrap_or("without a name").to_owned();
        if let Some(why) = contradiction(root).or_else(|| turned_round(root)) {
            return Self::Unusable(format!("{name:?}, {why}"));
        }
        let datum = is_plain_degrees(root).then(|| datum_of(root)).flatten();
        match datum {
            Some(datum) => Self::Degrees(Some(datum)),
            None => Self::Foreign { definition: text.to_owned(), name },
        }
    }
}

/// `urn:ogc:def:crs:EPSG::4326` and `http://www.opengis.net/def/crs/EPSG/0/4326` as `EPSG:4326`.
fn code_of(name: &str) -> Option<String> {
    let upper = name.to_ascii_uppercase();
    let rest = upper.strip_prefix("URN:OGC:DEF:CRS:").map(|rest| rest.replace("::", ":"));
    let rest = rest.or_else(|| upper.split_once("/DEF/CRS/").map(|(_, rest)| rest.replace('/', ":")))?;
    let (authority, code) = (rest.split(':').next()?, rest.rsplit(':').next()?);
    Some(format!("{authority}:{code}"))
}

/// Whether it is of degrees from Greenwich, and shifts nothing by itself.
fn is_plain_degrees(root: &Node) -> bool {
    let is_geographic = GEOGRAPHIC.contains(&root.keyword.as_str());
    let meridian = root.first(&["PRIMEM", "PRIMEMERIDIAN"]).and_then(|node| node.numbers.first());
    let shifts = root.first(&["DATUM"]).and_then(|datum| datum.first(&["TOWGS84"]));
    let is_shifted = shifts.is_some_and(|node| node.numbers.iter().any(|number| *number != 0.0));
    is_geographic && meridian.is_none_or(|degrees| *degrees == 0.0) && !is_shifted && are_degrees(root)
}

fn are_degrees(node: &Node) -> bool {
    node.children.iter().all(|child| match child.keyword.as_str() {
        "UNIT" | "ANGLEUNIT" => {
            child.numbers.first().is_some_and(|radians| (radians - DEGREE.0).abs() < DEGREE.1)
        }
        "PRIMEM" | "PRIMEMERIDIAN" | "DATUM" | "ENSEMBLE" => true,
        _ => are_degrees(child),
    })
}

/// Two statements of one text about the same datum that cannot both hold.
fn contradiction(root: &Node) -> Option<String> {
    let geographic = root.anywhere(&GEOGRAPHIC)?;
    let datum = datum_of(geographic)?;
    let ellipsoid = geographic.anywhere(&["SPHEROID", "ELLIPSOID"]);
    if let Some([axis_m, flattening]) = ellipsoid.and_then(|node| node.numbers.get(..2)) {
        let ([own_m, own], [rounded_m, rounded]) = ELLIPSOID;
        if (axis_m - own_m).abs() > rounded_m || (flattening - own).abs() > rounded {
            let named = ellipsoid.and_then(Node::text).unwrap_or("without a name");
            return Some(format!("which gives the datum {datum} the ellipsoid {named:?} of another"));
        }
    }
    let name = geographic.text()?;
    let of_name = named_datum(name.strip_prefix("GCS_").unwrap_or(name));
    // of the datums near WGS 84 there are too many spellings to hold one against another
    let is_other = |of_name: &String| (of_name == "WGS 84") != (datum == "WGS 84");
    of_name
        .filter(is_other)
        .map(|of_name| format!("which is called after the datum {of_name}, and gives {datum} as its datum"))
}

/// The name of a geographic system that names no datum that is known, with the datum that its text gives and that counts.
pub(super) fn called_otherwise(stated: &StatedSystem) -> Option<(String, String)> {
    let StatedSystem::Named(text) = stated else { return None };
    let root = parse(text.trim())?;
    let name = root.text()?;
    let of_name = named_datum(name.strip_prefix("GCS_").unwrap_or(name));
    is_plain_degrees(&root)
        .then(|| datum_of(&root))
        .flatten()
        .filter(|_| of_name.is_none())
        .map(|datum| (name.to_owned(), datum))
}

/// Axes that run to the west: numbers that count the other way, which neither formats nor programs agree on.
fn turned_round(root: &Node) -> Option<String> {
    let is_turned = root.keyword == "AXIS" && root.words.iter().any(|word| word == "WEST")
        || GEOGRAPHIC.contains(&root.keyword.as_str())
            && root.first(&["AXIS"]).is_some()
            && root.children.iter().any(|axis| axis.words.iter().any(|word| word == "SOUTH"));
    if is_turned {
        return Some("whose axes do not run east and north".to_owned());
    }
    root.children.iter().find_map(turned_round)
}

fn datum_of(root: &Node) -> Option<String> {
    named_datum(root.first(&["DATUM", "GEODETICDATUM", "TRF", "ENSEMBLE"])?.text()?)
}

/// The name that zone files give a datum.
fn named_datum(written: &str) -> Option<String> {
    let short = written.strip_prefix("D_").unwrap_or(written);
    let plain: String = short.chars().filter(char::is_ascii_alphanumeric).collect::<String>().to_uppercase();
    if let Some((_, name)) = OTHER_NAMES.iter().find(|(other, _)| *other == plain) {
        return Some((*name).to_owned());
    }
    match Datum::named(short)? {
        Datum::Wgs84 => Some("WGS 84".to_owned()),
        Datum::NearWgs84(name) => Some(name.replace('_', " ")),
        Datum::Unstated => None,
    }
}

/// Refuses a coordinate system that cannot be meant as it is written.
pub(super) fn unusable(why: &str) -> ImportFault {
    ImportFault::whole(
        format!("its positions are in {why}"),
        "say by its code with --from what they are, such as --from EPSG:4326, when you know it from whoever made the file; or save the source \
         again in WGS 84 (EPSG:4326)",
    )
}

/// Refuses what would have to be brought to WGS 84 first, where nobody can do that.
pub(super) fn cannot_bring(name: &str) -> ImportFault {
    ImportFault::whole(
        format!("its positions are in {name}, which this build cannot bring to WGS 84"),
        "install takeline with PROJ (cargo install --path crates/cli --features reproject; needs cmake, a C++ compiler and sqlite3), or save the \
         source again in WGS 84 (EPSG:4326)",
    )
}

/// Refuses numbers that are no degrees.
pub(super) fn no_degrees(place: &str, [x, y]: Xy, format: Format) -> ImportFault {
    let mend = match format {
        Format::Shapefile | Format::PackedShapefile => {
            "give the .prj file beside it, or say the coordinate system with --from, such as --from EPSG:27700"
        }
        Format::GeoJson | Format::Kml | Format::Kmz | Format::Gpx => {
            "this format has longitude and latitude in degrees; if these are something else, say it with --from, such as --from EPSG:27700"
        }
        Format::GeoPackage | Format::Wkt | Format::Csv => {
            "say the coordinate system with --from, such as --from EPSG:27700; if longitude and latitude are exchanged, exchange them in the \
             source"
        }
    };
    ImportFault::at(place, format!("{x}, {y} is no longitude and latitude in degrees"), mend)
}

#[cfg(test)]
mod tests {
    use super::*;

    const ESRI_WGS_84: &str = r#"GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]"#;

    #[test]
    fn plain_degrees_are_known_however_they_are_written() {
        let wgs_84 = System::Degrees(Some("WGS 84".into()));
        for name in [
            ESRI_WGS_84,
            "EPSG:4326",
            "urn:ogc:def:crs:OGC:1.3:CRS84",
            "urn:ogc:def:crs:EPSG::4326",
            "http://www.opengis.net/def/crs/EPSG/0/4326",
            r#"GEOGCRS["WGS 84",ENSEMBLE["World Geodetic System 1984 ensemble",MEMBER["World Geodetic System 1984 (Transit)"],ELLIPSOID["WGS 84",6378137,298.257223563,LENGTHUNIT["metre",1]],ENSEMBLEACCURACY[2.0]],PRIMEM["Greenwich",0,ANGLEUNIT["degree",0.0174532925199433]],CS[ellipsoidal,2],AXIS["geodetic latitude (Lat)",north,ORDER[1],ANGLEUNIT["degree",0.0174532925199433]],AXIS["geodetic longitude (Lon)",east,ORDER[2],ANGLEUNIT["degree",0.0174532925199433]],ID["EPSG",4326]]"#,
        ] {
            assert_eq!(System::named(name), wgs_84, "{name}");
        }
        let gda = ESRI_WGS_84.replace("WGS_1984", "GDA_1994");
        assert_eq!(System::named(&gda), System::Degrees(Some("GDA 1994".into())));
        assert_eq!(System::named("EPSG:4258"), System::Degrees(Some("EPSG:4258".into())));
        assert_eq!(System::named("unknown"), System::Degrees(None));
    }

    #[test]
    fn a_system_that_says_two_things_or_counts_to_the_west_is_unusable() {
        let west = ESRI_WGS_84.replace("433]]", "433],AXIS[\"Longitude\",WEST],AXIS[\"Latitude\",NORTH]]");
        let clarke = ESRI_WGS_84
            .replace("\"WGS_1984\",6378137.0,298.257223563", "\"Clarke_1866\",6378206.4,294.9786982");
        for name in [
            west.clone(),
            clarke.clone(),
            format!(r#"PROJCS["x",{clarke},UNIT["Meter",1.0]]"#),
            ESRI_WGS_84.replace("GCS_WGS_1984", "GCS_North_American_1983"),
            west.replace("WEST", "EAST").replace("NORTH", "SOUTH"),
        ] {
            assert!(matches!(System::named(&name), System::Unusable(_)), "{name}");
        }
        let east = west.replace("WEST", "EAST");
        assert_eq!(System::named(&east), System::Degrees(Some("WGS 84".into())));
        // GRS 1980 as ESRI and the EPSG registry write it
        let near = ESRI_WGS_84
            .replace("WGS_1984\",6378137.0,298.257223563", "GRS_1980\",6378137.0,298.257222101")
            .replace("GCS_WGS_1984", "GCS_North_American_1983")
            .replace("D_WGS_1984", "D_North_American_1983");
        assert_eq!(System::named(&near), System::Degrees(Some("NAD 83".into())));
    }

    #[test]
    fn what_is_not_plain_degrees_is_foreign() {
        for name in [
            "EPSG:27700",
            "NAD 27",
            "NAD83 / UTM zone 10N",
            "ETRS89-extended / LAEA Europe",
            "WGS 84 / UTM zone 30N",
            &ESRI_WGS_84.replace("Greenwich\",0.0", "Paris\",2.337229"),
            &ESRI_WGS_84.replace("0.0174532925199433", "0.015707963267949"),
            &ESRI_WGS_84.replace("D_WGS_1984", "D_North_American_1927"),
            &ESRI_WGS_84.replace("298.257223563]", "298.257223563],TOWGS84[100,0,0,0,0,0,0]"),
            &format!(r#"PROJCS["x",{ESRI_WGS_84},UNIT["Meter",1.0]]"#),
            "GEOGCS[\"broken",
        ] {
            assert!(matches!(System::named(name), System::Foreign { .. }), "{name}");
        }
    }
}
