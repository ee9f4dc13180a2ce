//! Which datum a name means, and whether coordinates on it are read as they stand.

use super::fault::FaultKind;
use super::log::{Log, shown_text};
use crate::zone::Datum;

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

const MEND: &str = "transform the coordinates to WGS 84 with a geodetic library first, then write \"WGS 84\"";

/// Reads the name of a datum; a fault if coordinates on it are not read as they stand.
pub(crate) fn datum(log: &mut Log, name: &str) -> Option<Datum> {
    if Datum::is_wgs_84(name) {
        return Some(Datum::Wgs84);
    }
    let plain = Datum::plain_name(name);
    let plain = plain.as_str();
    if NEAR_WGS_84.iter().any(|near| plain.starts_with(near)) || NEAR_WGS_84_CODES.contains(&plain) {
        return Some(Datum::NearWgs84(name.trim().to_owned()));
    }
    if matches!(plain, "UNSTATED" | "UNKNOWN") {
        return Some(Datum::Unstated);
    }
    let text = format!(
        "the datum {} is not read: nothing is transformed here, and its coordinates may lie hundreds of metres off",
        shown_text(name)
    );
    log.fault(FaultKind::Datum, text, MEND);
    None
}
