//! Datums of coordinates, and what they add to a doubt.

use crate::Metres;

/// Spellings of WGS 84, without blanks and punctuation; its realisations start with `WGS84G`.
const WGS_84: &[&str] =
    &["WGS84", "W84", "WGS1984", "WORLDGEODETICSYSTEM1984", "EPSG4326", "EPSG4979", "CRS84"];

/// The datum that the coordinates of a zone are given in.
///
/// Only datums that agree with WGS 84 to about 2 m are read as they stand; others are refused when a file is loaded,
/// because the core transforms nothing.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Datum {
    /// WGS 84.
    Wgs84,
    /// Another datum that agrees with WGS 84 to about 2 m (NAD 83, GDA94, GDA2020, ETRS89 and their like), by name.
    NearWgs84(String),
    /// Nobody says.
    Unstated,
}

impl Datum {
    /// Returns whether a name is one of WGS 84, however it is spelt.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::zone::Datum;
    /// assert!(Datum::is_wgs_84("WGS-84") && Datum::is_wgs_84("urn:ogc:def:crs:OGC:1.3:CRS84"));
    /// assert!(!Datum::is_wgs_84("ED50") && !Datum::is_wgs_84(""));
    /// ```
    #[must_use]
    pub fn is_wgs_84(name: &str) -> bool {
        let plain = Self::plain_name(name);
        WGS_84.contains(&plain.as_str()) || plain.starts_with("WGS84G")
    }

    /// A name without blanks, punctuation and what stands before every name of the same registry.
    pub(crate) fn plain_name(name: &str) -> String {
        let plain: String =
            name.chars().filter(char::is_ascii_alphanumeric).collect::<String>().to_uppercase();
        let plain = plain.strip_prefix("URNOGCDEFCRS").unwrap_or(&plain);
        plain.strip_prefix("OGC13").or_else(|| plain.strip_prefix("OGC")).unwrap_or(plain).to_owned()
    }

    /// How far the datum may put a line from where WGS 84 has it, 95 %.
    ///
    /// # Units
    ///
    /// Metres: 0 for WGS 84; 2 for its near relatives (common practice, no source; NAD 83 and WGS 84 differ by one to
    /// two metres today); 200 where the datum is unstated, the size of the larger shifts of national datums
    /// (common practice, no source).
    #[must_use]
    pub fn uncertainty_95(&self) -> Metres {
        Metres::computed(match self {
            Self::Wgs84 => 0.0,
            Self::NearWgs84(_) => 2.0,
            Self::Unstated => 200.0,
        })
    }
}
