//! The files of a workload.

use std::io::{Result, Write};

use jiff::Timestamp;

/// A fix: latitude and longitude in degrees, seconds since 1970.
pub(super) type Fix = (f64, f64, i64);

/// Begins a zone file.
pub(super) fn begin_zones(out: &mut impl Write, title: &str) -> Result<()> {
    writeln!(
        out,
        r#"{{"type":"FeatureCollection","takeline":{{"format":"takeline.zones/1","title":"{title}","edition":"1","datum":"WGS 84","time_zone":"UTC","taxa":[],"groups":[]}},"features":["#
    )
}

/// One zone of a file, closed to all fishing; a line of its own.
pub(super) fn zone(out: &mut impl Write, number: usize, ring: &[(f64, f64)]) -> Result<()> {
    let comma = if number == 0 { "" } else { "," };
    write!(
        out,
        r#"{comma}{{"type":"Feature","id":"zone-{number}","properties":{{"name":"zone {number}","edges":"geodesic","take":"none","line_uncertainty_m":0,"source":{{"instrument":"generated"}}}},"geometry":{{"type":"Polygon","coordinates":[["#
    )?;
    for (lat_deg, lon_deg) in ring {
        write!(out, "[{lon_deg:.7},{lat_deg:.7}],")?;
    }
    let (lat_deg, lon_deg) = ring.first().copied().unwrap_or_default();
    writeln!(out, "[{lon_deg:.7},{lat_deg:.7}]]]}}}}")
}

/// Ends a zone file.
pub(super) fn end_zones(out: &mut impl Write) -> Result<()> {
    writeln!(out, "]}}")
}

/// A table of fixes.
pub(super) fn csv(out: &mut impl Write, fixes: &[Fix]) -> Result<()> {
    writeln!(out, "lat,lon,unix")?;
    for (lat_deg, lon_deg, unix_s) in fixes {
        writeln!(out, "{lat_deg:.7},{lon_deg:.7},{unix_s}")?;
    }
    Ok(())
}

/// A log in GPX.
pub(super) fn gpx(out: &mut impl Write, fixes: &[Fix]) -> Result<()> {
    writeln!(
        out,
        r#"<?xml version="1.0" encoding="UTF-8"?>
<gpx version="1.1" creator="bench" xmlns="http://www.topografix.com/GPX/1/1">
<trk><name>bench</name><trkseg>"#
    )?;
    for (lat_deg, lon_deg, unix_s) in fixes {
        let time = Timestamp::from_second(*unix_s).unwrap_or_default();
        writeln!(out, r#"<trkpt lat="{lat_deg:.7}" lon="{lon_deg:.7}"><time>{time}</time></trkpt>"#)?;
    }
    writeln!(out, "</trkseg></trk></gpx>")
}
