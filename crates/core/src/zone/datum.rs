//! Datums of coordinates, and what they add to a doubt.

use crate::Metres;

/// Spellings of WGS 84, without blanks and punctuation; its realisations start with `WGS84G`.
const WGS_84: &[&str] =
    &["WGS84", "W84", "WGS1984", "WORLDGEODETICSYSTEM1984", "EPSG4326", "EPSG4979", "CRS84"];

/// Datums that agree with WGS 84 to about 2 m: how their spellings start.
const NEAR_WGS_84: &[&str] = &[
    "NAD83",
    "NAD1983",
    "NORTHAMERICANDATUM1983",
    "GDA94",
    "GDA1994",
    "GDA2020",
    "GEOCENTRICDATUMOFAUSTRALIA",
    "ETRS89",
    "ETRS1989",
    "ETRF",
    "ITRF",
    "NZGD2000",
    "NEWZEALANDGEODETICDATUM2000",
];

/// The same by code of the EPSG registry: NAD 83, GDA94, GDA2020, ETRS89, NZGD2000.
const NEAR_WGS_84_CODES: &[&str] = &["EPSG4269", "EPSG4283", "EPSG7844", "EPSG4258", "EPSG4167"];

/// What the names of those hold that have drifted farther from WGS 84 than the others, and how far, in metres, to the year 2035.
const DRIFTED: &[(&str, f64)] = &[
    ("PA11", 5.0),
    ("MA11", 5.0),
    ("PACP00", 5.0),
    ("MARP00", 5.0),
    ("GDA94", 3.0),
    ("GDA1994", 3.0),
    ("GEOCENTRICDATUMOFAUSTRALIA1994", 3.0),
    ("EPSG4283", 3.0),
];

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

    /// Returns the datum of a name, however it is spelt; none where coordinates on it would be wrong as they stand.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::zone::Datum;
    /// assert_eq!(Datum::named("EPSG:4283"), Some(Datum::NearWgs84("EPSG:4283".into())));
    /// assert_eq!(Datum::named("unstated"), Some(Datum::Unstated));
    /// assert_eq!(Datum::named("NAD 27"), None);
    /// ```
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        if Self::is_wgs_84(name) {
            return Some(Self::Wgs84);
        }
        let plain = Self::plain_name(name);
        let plain = plain.as_str();
        if NEAR_WGS_84.iter().any(|near| plain.starts_with(near)) || NEAR_WGS_84_CODES.contains(&plain) {
            return Some(Self::NearWgs84(name.trim().to_owned()));
        }
        matches!(plain, "UNSTATED" | "UNKNOWN").then_some(Self::Unstated)
    }

    /// A name without blanks, punctuation and what stands before every name of the same registry.
    fn plain_name(name: &str) -> String {
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
    /// two metres today), but 3 for GDA94 and 5 for the realisations of NAD 83 on the Pacific and Mariana plates, which drift by some
    /// 7 cm a year: PROJ 9's time-dependent operations give 2.3 m by 12° S 131° E and 4.0 m by 21° N 157° W at the end of 2026; 200
    /// where the datum is unstated, the size of the larger shifts of national datums (common practice, no source).
    #[must_use]
    pub fn uncertainty_95(&self) -> Metres {
        Metres::computed(match self {
            Self::Wgs84 => 0.0,
            Self::NearWgs84(name) => {
                let plain = Self::plain_name(name);
                let drifted = DRIFTED.iter().find(|(part, _)| plain.contains(part));
                drifted.map_or(2.0, |(_, drifted_m)| *drifted_m)
            }
            Self::Unstated => 200.0,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// PROJ 9.6, WGS 84 taken as ITRF2014 of the end of 2026, worked out by a reviewer: GDA94 to ITRF2014 2.28 m by 12° S 131° E, NAD83(PA11)
    /// 4.0 m by 21° N 157° W.
    #[test]
    fn what_has_drifted_is_in_more_doubt() {
        let doubt_m = |name: &str| Datum::named(name).unwrap().uncertainty_95().metres();
        for (name, apart_m, most_m) in [
            ("NAD83(PA11)", 4.0, 5.0),
            ("NAD_1983_PA11", 4.0, 5.0),
            ("GDA94", 2.28, 3.0),
            ("EPSG:4283", 2.28, 3.0),
            ("Geocentric Datum of Australia 1994", 2.28, 3.0),
            ("GDA2020", 0.5, 2.0),
            ("NAD83(2011)", 1.5, 2.0),
            ("WGS 84", 0.0, 0.0),
        ] {
            assert!(doubt_m(name) >= apart_m && doubt_m(name) <= most_m, "{name}: {}", doubt_m(name));
        }
    }
}
