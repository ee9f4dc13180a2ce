//! Which format a log has, told from its beginning.

use crate::csv_track::separator_of;
use crate::shown::shown;
use crate::{LogFormat, ReadLogErrorKind, nmea};

/// How many lines may come before the first sentence or header: a logger's own greeting.
const MOST_LINES_BEFORE: usize = 50;

/// Tells the format from the first bytes of the unpacked log, without a byte order mark; the name decides only where
/// the content does not.
pub(crate) fn format_of(name: &str, begin: &[u8]) -> Result<LogFormat, ReadLogErrorKind> {
    let content = begin.trim_ascii_start();
    if content.is_empty() {
        return Err(ReadLogErrorKind::Empty);
    }
    refuse_packed(begin)?;
    if content.starts_with(b"<") {
        return Ok(LogFormat::Gpx);
    }
    let first_line = content.split(|byte| *byte == b'\n').next().unwrap_or_default();
    if separator_of(&String::from_utf8_lossy(first_line)).is_some() {
        return Ok(LogFormat::Csv);
    }
    if content.split(|byte| *byte == b'\n').take(MOST_LINES_BEFORE).any(nmea::looks_like_one) {
        return Ok(LogFormat::Nmea);
    }
    let name = name.to_ascii_lowercase();
    let name = name.strip_suffix(".gz").unwrap_or(&name);
    match name.rsplit_once('.') {
        Some((_, "csv")) => Ok(LogFormat::Csv),
        _ => Err(ReadLogErrorKind::UnknownFormat { begins: format!("\"{}\"", shown(first_line)) }),
    }
}

fn refuse_packed(begin: &[u8]) -> Result<(), ReadLogErrorKind> {
    let packed = match begin {
        [0x1f, 0x8b, ..] => Some("gzip inside gzip"),
        [b'P', b'K', 3 | 5, 4 | 6, ..] => Some("zip"),
        [b'B', b'Z', b'h', b'1'..=b'9', ..] => Some("bzip2"),
        [0xfd, b'7', b'z', b'X', b'Z', ..] => Some("xz"),
        [0x28, 0xb5, 0x2f, 0xfd, ..] => Some("zstd"),
        _ => None,
    };
    if let Some(form) = packed {
        return Err(ReadLogErrorKind::Packed { form });
    }
    let is_utf16 = matches!(begin, [0xff, 0xfe, ..] | [0xfe, 0xff, ..] | [b'<', 0, ..] | [0, b'<', ..]);
    if is_utf16 {
        return Err(ReadLogErrorKind::Encoding { problem: "the file is UTF-16 text".to_owned() });
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn code(begin: &[u8]) -> &'static str {
        format_of("log", begin).unwrap_err().code()
    }

    #[test]
    fn content_decides_and_not_the_name() {
        assert_eq!(format_of("x.csv", b" \n<?xml").unwrap(), LogFormat::Gpx);
        assert_eq!(format_of("x.gpx", b"$GPRMC,123519,A").unwrap(), LogFormat::Nmea);
        assert_eq!(format_of("x.nmea", b"time;lat;lon\n").unwrap(), LogFormat::Csv);
        assert_eq!(format_of("x", b"logger 2.1 started\n!AIVDM,1,1,,A\n").unwrap(), LogFormat::Nmea);
        assert_eq!(format_of("x.CSV.gz", b"breite,laenge\n").unwrap(), LogFormat::Csv);
    }

    #[test]
    fn what_is_no_log_says_so() {
        assert_eq!(code(b""), "empty");
        assert_eq!(code(b" \r\n"), "empty");
        assert_eq!(code(b"PK\x03\x04...."), "packed");
        assert_eq!(code(b"\x1f\x8b\x08"), "packed");
        assert_eq!(code(b"\xff\xfe<\0"), "encoding");
        assert_eq!(code(b"{\"type\":\"FeatureCollection\"}"), "unknown-format");
        assert_eq!(code(b"\x00\x01\x02\x03"), "unknown-format");
    }
}
