//! The bytes that are imported, and what they are.

use super::fault::ImportFault;

/// A file to import, with what lies beside it.
#[derive(Debug, Clone, Default)]
pub struct Source {
    /// What messages call it; its ending says what it is.
    pub label: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
    /// For a Shapefile: the `.dbf`, attributes.
    pub dbf: Option<Vec<u8>>,
    /// For a Shapefile: the `.prj`, the coordinate system.
    pub prj: Option<Vec<u8>>,
    /// For a Shapefile: the `.cpg`, how letters are written in the `.dbf`.
    pub cpg: Option<Vec<u8>>,
    /// For a `GeoPackage` of several layers: which one.
    pub layer: Option<String>,
}

/// The formats that are read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Format {
    /// GeoJSON (RFC 7946), or of the time before it.
    GeoJson,
    /// KML 2.2.
    Kml,
    /// KML packed.
    Kmz,
    /// GPX 1.0 or 1.1: routes and tracks.
    Gpx,
    /// Shapefile, with `.dbf` and `.prj`.
    Shapefile,
    /// Shapefile packed, all its files in one.
    PackedShapefile,
    /// OGC `GeoPackage`.
    GeoPackage,
    /// Well-known text, one geometry a line.
    Wkt,
    /// Rows of vertices, or of well-known text.
    Csv,
}

/// Endings of names.
const ENDINGS: [(&str, Format); 10] = [
    ("geojson", Format::GeoJson),
    ("json", Format::GeoJson),
    ("kml", Format::Kml),
    ("kmz", Format::Kmz),
    ("gpx", Format::Gpx),
    ("shp", Format::Shapefile),
    ("zip", Format::PackedShapefile),
    ("gpkg", Format::GeoPackage),
    ("wkt", Format::Wkt),
    ("csv", Format::Csv),
];

impl Format {
    /// The format of a file by the ending of its name; none where that says nothing.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline_gis::import::Format;
    /// assert_eq!(Format::of_name("reserves.SHP"), Some(Format::Shapefile));
    /// assert_eq!(Format::of_name("reserves"), None);
    /// ```
    #[must_use]
    pub fn of_name(name: &str) -> Option<Self> {
        let (_, ending) = name.rsplit_once('.')?;
        let ending = ending.to_ascii_lowercase();
        ENDINGS.iter().find(|(known, _)| *known == ending).map(|(_, format)| *format)
    }

    /// What it is called.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::GeoJson => "GeoJSON",
            Self::Kml => "KML",
            Self::Kmz => "KMZ",
            Self::Gpx => "GPX",
            Self::Shapefile => "Shapefile",
            Self::PackedShapefile => "Shapefile in a zip file",
            Self::GeoPackage => "GeoPackage",
            Self::Wkt => "WKT",
            Self::Csv => "CSV",
        }
    }
}

impl Source {
    /// A source of one file.
    #[must_use]
    pub fn new(label: impl Into<String>, bytes: Vec<u8>) -> Self {
        Self { label: label.into(), bytes, ..Self::default() }
    }

    pub(super) fn format(&self) -> Result<Format, ImportFault> {
        Format::of_name(&self.label).ok_or_else(|| {
            ImportFault::whole(
                "its name does not say what it is",
                "let it end in .geojson, .json, .kml, .kmz, .gpx, .shp, .zip (a packed Shapefile), .gpkg, .wkt or .csv",
            )
        })
    }

    pub(super) fn text(&self) -> Result<&str, ImportFault> {
        text(&self.bytes)
    }
}

/// Text in UTF-8, without a byte order mark.
pub(super) fn text(bytes: &[u8]) -> Result<&str, ImportFault> {
    let text = std::str::from_utf8(bytes).map_err(|error| {
        ImportFault::whole(
            format!("byte {} is no UTF-8 text", error.valid_up_to() + 1),
            "save it again as UTF-8",
        )
    })?;
    Ok(text.trim_start_matches('\u{feff}'))
}
