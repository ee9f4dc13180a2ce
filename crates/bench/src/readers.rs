//! How fast logs are read, against the tokens of the same bytes and against a whole reader.

use std::hint::black_box;
use std::path::Path;

use jiff::Timestamp;
use quick_xml::Reader;
use quick_xml::events::{BytesStart, Event};
use takeline_formats::{LogItem, ReadOptions, TrackReader};

use crate::arguments::ReaderArguments;
use crate::failure::{Failure, read};
use crate::goal::Goal;
use crate::rounds::{Rounds, cpu_seconds};
use crate::sheet::{self, shown};

type Count = Result<usize, Failure>;

pub(crate) fn run(asked: &ReaderArguments) -> Result<(), Failure> {
    let passes = asked.passes.passes();
    let (gpx, csv) = (read(&asked.gpx)?, read(&asked.csv)?);
    let done = format!(
        "{:.1} MB of GPX and {:.1} MB of CSV, from memory, one thread, its own processor time; readers take turns, {passes} \
         rounds, medians. A figure is our rate over the peer's in the same round.",
        gpx.len() as f64 / 1e6,
        csv.len() as f64 / 1e6
    );
    sheet::begin("Readers", &done);
    gpx_rows(&gpx, passes).map_err(|failure| failure.in_file(&asked.gpx))?;
    csv_rows(&csv, passes).map_err(|failure| failure.in_file(&asked.csv))
}

fn gpx_rows(log: &[u8], passes: usize) -> Result<(), Failure> {
    let plain = ReadOptions::default().without_sha256();
    let fixes = own(log, plain)?;
    same("quick-xml", fixes, parsed(log)?)?;
    same("gpx", fixes, whole(log)?)?;
    let rounds = Rounds::try_run(
        passes,
        &mut [
            &mut || seconds(|| own(log, plain)),
            &mut || seconds(|| own(log, ReadOptions::default())),
            &mut || seconds(|| tokens(log)),
            &mut || seconds(|| parsed(log)),
            &mut || seconds(|| whole(log)),
        ],
    )?;
    let row = |what: &str, own: usize, peer: usize, goal| row(&rounds, log, (what, own, peer, goal));
    row("over `quick-xml`, tokens alone", 0, 2, Some(Goal::at_least(0.65).stretch(1.0)));
    row("over `quick-xml` with latitude, longitude and time parsed", 0, 3, None);
    row("over the `gpx` crate", 0, 4, Some(Goal::at_least(15.0).stretch(40.0)));
    row("with the SHA-256 of the log, over tokens alone", 1, 2, None);
    Ok(())
}

fn csv_rows(log: &[u8], passes: usize) -> Result<(), Failure> {
    let plain = ReadOptions::default().without_sha256();
    same("csv", own(log, plain)?, rows(log)?)?;
    let rounds =
        Rounds::try_run(passes, &mut [&mut || seconds(|| own(log, plain)), &mut || seconds(|| rows(log))])?;
    row(&rounds, log, ("over the `csv` crate with numbers parsed", 0, 1, None));
    Ok(())
}

fn row(rounds: &Rounds, log: &[u8], asked: (&str, usize, usize, Option<Goal>)) {
    let (what, own, peer, goal) = asked;
    let rate = |contender| format!("{} MB/s", shown(log.len() as f64 / 1e6 / rounds.seconds(contender)));
    let format = if log.starts_with(b"<") { "GPX" } else { "CSV" };
    // a rate is a length over a time, so the ratio of rates is that of times turned over
    sheet::row((format, what), &rate(own), &rate(peer), (rounds.ratio(peer, own), goal));
}

/// Nobody is timed for reading something else.
fn same(peer: &str, own: usize, theirs: usize) -> Result<(), Failure> {
    if own == theirs {
        Ok(())
    } else {
        Err(Failure::new(format!("we read {own} fixes and {peer} reads {theirs}: it is not the same work")))
    }
}

fn seconds(work: impl FnOnce() -> Count) -> Result<f64, Failure> {
    let started = cpu_seconds();
    black_box(work()?);
    Ok(cpu_seconds() - started)
}

/// Fixes that our reader finds.
fn own(log: &[u8], options: ReadOptions) -> Count {
    let mut fixes = 0;
    for item in TrackReader::open_with("log", log, options)? {
        if let LogItem::Fix(fix) = item? {
            black_box(fix);
            fixes += 1;
        }
    }
    Ok(fixes)
}

/// Tokens of the XML, borrowed from the bytes.
pub(crate) fn tokens(log: &[u8]) -> Count {
    let mut xml = Reader::from_reader(log);
    let mut tokens = 0;
    loop {
        if black_box(xml.read_event()?) == Event::Eof {
            return Ok(tokens);
        }
        tokens += 1;
    }
}

/// Fixes as most would read them from the tokens.
#[expect(clippy::wildcard_enum_match_arm, reason = "other tokens are passed over, whatever they are")]
fn parsed(log: &[u8]) -> Count {
    let mut xml = Reader::from_reader(log);
    let (mut fixes, mut is_time) = (0, false);
    loop {
        match xml.read_event()? {
            Event::Start(start) if start.name().as_ref() == "trkpt" => {
                black_box((degrees(&start, "lat")?, degrees(&start, "lon")?));
                fixes += 1;
            }
            Event::Start(start) => is_time = start.name().as_ref() == "time",
            Event::Text(text) if is_time => {
                let time: Timestamp = text.parse()?;
                black_box(time);
            }
            Event::End(_) => is_time = false,
            Event::Eof => return Ok(fixes),
            _ => {}
        }
    }
}

fn degrees(start: &BytesStart<'_>, name: &str) -> Result<f64, Failure> {
    let attribute =
        start.try_get_attribute(name)?.ok_or_else(|| Failure::new(format!("a point without {name}")))?;
    Ok(attribute.value.parse()?)
}

/// Fixes by a reader that builds the whole log in memory.
fn whole(log: &[u8]) -> Count {
    let read = gpx::read(log)?;
    let segments = read.tracks.iter().flat_map(|track| &track.segments);
    Ok(segments.map(|segment| segment.points.len()).sum())
}

/// Rows of a table: latitude, longitude and seconds since 1970.
fn rows(log: &[u8]) -> Count {
    let mut reader = csv::Reader::from_reader(log);
    let mut record = csv::ByteRecord::new();
    let mut rows = 0;
    while reader.read_byte_record(&mut record)? {
        let cell = |at: usize| -> Result<&str, Failure> {
            Ok(std::str::from_utf8(record.get(at).unwrap_or_default())?)
        };
        let (lat_deg, lon_deg): (f64, f64) = (cell(0)?.parse()?, cell(1)?.parse()?);
        let unix_s: i64 = cell(2)?.parse()?;
        black_box((lat_deg, lon_deg, unix_s));
        rows += 1;
    }
    Ok(rows)
}

/// Reads a file only for its tokens.
pub(crate) fn seconds_of_tokens(path: &Path) -> Result<f64, Failure> {
    let log = read(path)?;
    seconds(|| tokens(&log))
}
