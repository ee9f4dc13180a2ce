//! What a file is that was given as another sort: which option it belongs to.

use std::path::Path;

use serde_json::Value;
use takeline::{coast, landmark_file, zone_file};

use crate::log_reading::is_log;

/// A sort of file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum FileSort {
    Zones,
    Coast,
    Landmarks,
    /// GeoJSON that does not say of what.
    Unsaid,
    Log,
    /// Text that is none of these, nor JSON.
    Text,
}

impl FileSort {
    /// What a file is, by what it says of itself or by how it begins; none if neither tells.
    pub(crate) fn of(path: &Path, bytes: &[u8]) -> Option<Self> {
        if begins_as_json(bytes) {
            return Self::of_json(&serde_json::from_slice(bytes).ok()?);
        }
        let beginning = String::from_utf8_lossy(bytes.get(..LOOKED_AT).unwrap_or(bytes));
        let is_log = is_log(path) || beginning.contains("<gpx") || beginning.starts_with(['$', '!']);
        let is_text = std::str::from_utf8(bytes).is_ok_and(|text| !text.contains('\0'));
        match (is_log, is_text && !bytes.trim_ascii().is_empty()) {
            (true, _) => Some(Self::Log),
            (false, true) => Some(Self::Text),
            (false, false) => None,
        }
    }

    fn of_json(value: &Value) -> Option<Self> {
        let header = value.get("takeline");
        match header.and_then(|header| header.get("format")).and_then(Value::as_str) {
            Some(zone_file::FORMAT) => Some(Self::Zones),
            Some(coast::FORMAT) => Some(Self::Coast),
            Some(landmark_file::FORMAT) => Some(Self::Landmarks),
            Some(_) => None,
            None => {
                let kind = value.get("type").and_then(Value::as_str).unwrap_or_default();
                (header.is_none() && GEOJSON.contains(&kind)).then_some(Self::Unsaid)
            }
        }
    }

    /// What it is and how it is given, where that is another way than the one it was given in.
    pub(crate) fn given_instead(self, shown: &str) -> Option<String> {
        let (what, how) = match self {
            Self::Zones => ("a zone file", format!("give it after --zones: --zones {shown}")),
            Self::Coast => ("a coast", format!("give it after --coast: --coast {shown}")),
            Self::Landmarks => {
                ("a file of landmarks", format!("`takeline transit` takes it: --landmarks {shown}"))
            }
            Self::Log => ("a log", format!("give it to `takeline track`: takeline track {shown}")),
            Self::Unsaid | Self::Text => return None,
        };
        Some(format!("it is {what}\n  {how}"))
    }
}

/// The types of GeoJSON (RFC 7946, section 1.4) that may hold a coast.
const GEOJSON: [&str; 6] =
    ["FeatureCollection", "Feature", "LineString", "MultiLineString", "Polygon", "MultiPolygon"];
/// So much of a text is looked at.
const LOOKED_AT: usize = 4096;

/// Whether bytes are text that begins as JSON does.
pub(crate) fn begins_as_json(bytes: &[u8]) -> bool {
    let text = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes).trim_ascii_start();
    text.starts_with(b"{") || text.starts_with(b"[")
}
