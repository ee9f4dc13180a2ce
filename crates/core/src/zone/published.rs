use crate::{Position, PrintedPrecision};

/// A vertex in the law's own notation, as its zone file keeps it.
///
/// The text and the vertex were compared when the file was read, or the vertex was made from the text; see
/// `docs/zone-format.md`.
///
/// # Examples
///
/// ```
/// let bytes = r#"{ "type": "FeatureCollection",
///   "takeline": { "format": "takeline.zones/1", "datum": "WGS 84" },
///   "features": [ { "type": "Feature", "id": "sallow-cove", "geometry": null,
///     "properties": { "edges": "rhumb", "take": "none", "source": { "instrument": "Marrowick Order 3" },
///       "as_published": [ "45°06.60′N 030°07.80′W", "45°06.60′N 030°06.60′W", "45°07.50′N 030°06.60′W" ] } } ] }"#;
/// let loaded = takeline::zone_file::read("marrowick.json", bytes.as_bytes())?;
/// let second = &loaded.zones[0].as_published[1];
/// assert_eq!((second.text.as_str(), second.vertex), ("45°06.60′N 030°06.60′W", 2));
/// assert_eq!(second.position.longitude().degrees(), -30.11);
/// # Ok::<(), takeline::zone_file::LoadZonesError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct PublishedVertex {
    /// The text, as printed.
    pub text: String,
    /// What the law calls the point: `A`, `1`.
    pub point: Option<String>,
    /// The part of the zone, counted from 1.
    pub part: usize,
    /// The ring of the part, counted from 1; 1 is the outer one.
    pub ring: usize,
    /// The vertex of the ring as the file lists it, counted from 1. Of a circle, 1 is its centre.
    pub vertex: usize,
    /// The datum of the text, where the vertex was shifted to another one.
    pub datum: Option<String>,
    /// What the text says, read by [`Position::parse`]; nothing is shifted.
    pub position: Position,
    /// Half of the last printed digit.
    pub precision: PrintedPrecision,
}
