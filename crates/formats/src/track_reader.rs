//! A log of any format: which one it is, told from its first bytes, and its items one after another.

use std::fmt;
use std::io::{BufRead, Read};
use std::iter::FusedIterator;

use takeline::AccuracyKind;
use takeline::track::LogPlace;

use crate::csv_track::{Columns, CsvReader, separator_of};
use crate::gpx::GpxReader;
use crate::nmea::{self, NmeaReader};
use crate::notes::shown;
use crate::source::{Fault, LineSpan, Source};
use crate::{LogItem, ReadLogError, ReadLogErrorKind};

/// The formats that are read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum LogFormat {
    /// GPX 1.0 or 1.1.
    Gpx,
    /// Sentences of NMEA 0183.
    Nmea,
    /// A table with a header.
    Csv,
}

impl LogFormat {
    /// Returns the name of the format in machine-readable output.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::Gpx => "gpx",
            Self::Nmea => "nmea",
            Self::Csv => "csv",
        }
    }
}

/// How a log is to be read.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct ReadOptions {
    /// What an accuracy means whose name does not say it; as a 68 % radius unless told otherwise, the cautious reading.
    pub accuracy_kind: AccuracyKind,
    /// The most bytes of the unpacked log; none by default, for memory does not grow with them.
    pub limit_bytes: Option<u64>,
    /// Whether to compute the SHA-256 of the log; yes by default. It costs time: the bench shows how much.
    pub sha256: bool,
}

impl Default for ReadOptions {
    fn default() -> Self {
        Self { accuracy_kind: AccuracyKind::default(), limit_bytes: None, sha256: true }
    }
}

impl ReadOptions {
    /// Sets what an accuracy means whose name does not say it.
    #[must_use]
    pub fn accuracy_kind(mut self, kind: AccuracyKind) -> Self {
        self.accuracy_kind = kind;
        self
    }

    /// Sets the most bytes of the unpacked log.
    #[must_use]
    pub fn limit_bytes(mut self, limit: u64) -> Self {
        self.limit_bytes = Some(limit);
        self
    }

    /// Leaves out the SHA-256.
    #[must_use]
    pub fn without_sha256(mut self) -> Self {
        self.sha256 = false;
        self
    }
}

/// Reads a track log item by item.
///
/// # Edge cases
///
/// Fixes come in the order of the log, raw: with their spikes, repeats and steps backwards. An error ends the log; what
/// came before it was read rightly. A note about a fix comes after the fix.
///
/// # Examples
///
/// ```
/// use takeline_formats::{LogItem, TrackReader};
/// let log = "lat,lon,time\n45.1175,-30.1217,2026-05-01T06:30:00Z\n45.1176,-30.121x,\n";
/// let mut reader = TrackReader::open("morning.csv", log.as_bytes())?;
/// let mut fixes = 0;
/// let mut notes = vec![];
/// for item in &mut reader {
///     match item? {
///         LogItem::Fix(_) => fixes += 1,
///         LogItem::Note(note) => notes.push(format!("line {}: {}", note.place.line, note.kind.code())),
///         _ => {}
///     }
/// }
/// assert_eq!(fixes, 1);
/// assert_eq!(notes, ["line 3: row-unreadable"]);
/// assert_eq!(reader.sha256().map(|hash| hash.len()), Some(64));
/// # Ok::<(), takeline_formats::ReadLogError>(())
/// ```
pub struct TrackReader<R: Read> {
    name: String,
    lines: Lines<R>,
    has_ended: bool,
    has_failed: bool,
}

enum Lines<R: Read> {
    Gpx(Box<GpxReader<R>>),
    Nmea(Box<NmeaReader<R>>),
    Csv(Box<CsvReader<R>>),
}

impl<R: BufRead> TrackReader<R> {
    /// Looks at the beginning of a log, packed with gzip or not, and tells its format from the content.
    ///
    /// The name stands in errors; its ending counts only where the content does not tell.
    ///
    /// # Errors
    ///
    /// [`ReadLogError`] if the input fails, is in no format that is read, or has a header without positions.
    pub fn open(name: &str, input: R) -> Result<Self, ReadLogError> {
        Self::open_with(name, input, ReadOptions::default())
    }

    /// As [`TrackReader::open`], with options.
    ///
    /// # Errors
    ///
    /// As [`TrackReader::open`]; also if the log is longer than the options allow.
    pub fn open_with(name: &str, input: R, options: ReadOptions) -> Result<Self, ReadLogError> {
        let lines = Lines::open(name, input, options).map_err(|fault| named(name, fault))?;
        Ok(Self { name: name.to_owned(), lines, has_ended: false, has_failed: false })
    }
}

impl<R: Read> TrackReader<R> {
    /// Returns the format that the content has.
    #[must_use]
    pub fn format(&self) -> LogFormat {
        match self.lines {
            Lines::Gpx(_) => LogFormat::Gpx,
            Lines::Nmea(_) => LogFormat::Nmea,
            Lines::Csv(_) => LogFormat::Csv,
        }
    }

    /// Returns the SHA-256 of the log as it came, still packed, in lower-case hexadecimal.
    ///
    /// None before the iterator has come to its end, after an error, and with [`ReadOptions::without_sha256`].
    #[must_use]
    pub fn sha256(&self) -> Option<String> {
        if !self.has_ended || self.has_failed {
            return None;
        }
        match &self.lines {
            Lines::Gpx(reader) => reader.source().sha256(),
            Lines::Nmea(reader) => reader.source().sha256(),
            Lines::Csv(reader) => reader.source().sha256(),
        }
    }
}

impl<R: Read> Lines<R> {
    fn open(name: &str, input: R, options: ReadOptions) -> Result<Self, Fault> {
        let mut source = Source::new(input, options.sha256, options.limit_bytes)?;
        if source.peek()?.starts_with(b"\xef\xbb\xbf") {
            source.skip(3);
        }
        let format = format_of(name, source.peek()?).map_err(|kind| source.fault_here(kind))?;
        Ok(match format {
            LogFormat::Gpx => {
                let blank = source.peek()?.iter().take_while(|byte| byte.is_ascii_whitespace()).count();
                source.skip(blank);
                Self::Gpx(Box::new(GpxReader::new(source, options.accuracy_kind)))
            }
            LogFormat::Nmea => Self::Nmea(Box::new(NmeaReader::new(source))),
            LogFormat::Csv => {
                let (columns, place) = header(&mut source)?;
                Self::Csv(Box::new(CsvReader::new(source, columns, place, options.accuracy_kind)))
            }
        })
    }
}

/// Reads the first line that is not blank.
fn header<R: Read>(source: &mut Source<R>) -> Result<(Columns, LogPlace), Fault> {
    loop {
        let Some(span) = source.next_line()? else { return Err(source.fault_here(ReadLogErrorKind::Empty)) };
        let problem = "the first line is too long".to_owned();
        if let LineSpan::TooLong = span {
            return Err(source.fault_here(ReadLogErrorKind::Header { problem }));
        }
        let text = String::from_utf8_lossy(source.line(&span)).trim_end_matches('\r').to_owned();
        if text.trim().is_empty() {
            continue;
        }
        let place = LogPlace { line: source.token_line(), byte: source.token_byte(), stretch: 0 };
        return match Columns::of(&text) {
            Ok(columns) => Ok((columns, place)),
            Err(problem) => Err(source.fault_here(ReadLogErrorKind::Header { problem })),
        };
    }
}

fn named(name: &str, fault: Fault) -> ReadLogError {
    let Fault { line, byte, kind } = fault;
    ReadLogError { name: name.to_owned(), line, byte, kind }
}

impl<R: Read> Iterator for TrackReader<R> {
    type Item = Result<LogItem, ReadLogError>;

    #[inline]
    fn next(&mut self) -> Option<Self::Item> {
        if self.has_ended {
            return None;
        }
        let read = match &mut self.lines {
            Lines::Gpx(reader) => reader.next_item(),
            Lines::Nmea(reader) => reader.next_item(),
            Lines::Csv(reader) => reader.next_item(),
        };
        match read {
            Ok(Some(item)) => Some(Ok(item)),
            Ok(None) => {
                self.has_ended = true;
                None
            }
            Err(fault) => {
                self.has_ended = true;
                self.has_failed = true;
                Some(Err(named(&self.name, fault)))
            }
        }
    }
}

impl<R: Read> FusedIterator for TrackReader<R> {}

impl<R: Read> fmt::Debug for TrackReader<R> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("TrackReader")
            .field("name", &self.name)
            .field("format", &self.format())
            .field("has_ended", &self.has_ended)
            .finish_non_exhaustive()
    }
}

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
mod detect_tests {
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
