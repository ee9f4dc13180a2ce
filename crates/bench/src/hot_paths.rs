//! Small pieces of work that are the same every time, for a counter of instructions: see `instructions` beside this crate.
//!
//! What is counted is what happens inside the functions named `counted_…`; making zones and logs ready stays outside.

use std::fmt::Write as _;
use std::hint::black_box;

use clap::ValueEnum;
use jiff::Timestamp;
use takeline::track::{Auditor, TrackSettings};
use takeline::{Position, ZoneSet};
use takeline_formats::{LogItem, ReadOptions, TrackReader};

use crate::failure::Failure;
use crate::sample_log::logged;
use crate::shapes::zone_file;

/// Fixes of the small log, one a second.
const FIXES: u32 = 4_000;
/// Zones in a row, each with so many vertices.
const ZONES: u32 = 40;
const VERTICES: u32 = 60;

/// The paths that are counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum HotPath {
    /// Side and metres of each fix, by a cursor
    Cursor,
    /// An audit of the log
    Audit,
    /// The log read from GPX
    Gpx,
}

pub(crate) fn run(path: HotPath) -> Result<(), Failure> {
    let found = match path {
        HotPath::Cursor => counted_cursor(&zones()?, &track()?),
        HotPath::Audit => counted_audit(&zones()?, &track()?),
        HotPath::Gpx => counted_gpx(gpx()?.as_bytes())?,
    };
    println!("{found}");
    Ok(())
}

#[inline(never)]
fn counted_cursor(zones: &ZoneSet, track: &[(Position, Timestamp)]) -> usize {
    let mut cursor = zones.cursor();
    let mut held = 0;
    for (at, _) in track {
        black_box(cursor.nearest(black_box(*at)));
        held += cursor.holding(*at).surely.len();
    }
    held
}

#[inline(never)]
fn counted_audit(zones: &ZoneSet, track: &[(Position, Timestamp)]) -> usize {
    let mut auditor = Auditor::new(zones, TrackSettings::default());
    for (at, made) in track {
        black_box(auditor.push(logged(*at, *made)));
    }
    auditor.finish().visits.len()
}

#[inline(never)]
fn counted_gpx(log: &[u8]) -> Result<usize, Failure> {
    let mut fixes = 0;
    for item in TrackReader::open_with("log.gpx", log, ReadOptions::default().without_sha256())? {
        fixes += usize::from(matches!(black_box(item?), LogItem::Fix(_)));
    }
    Ok(fixes)
}

/// Wavy rings 2 km across, 3 km apart, in a row to the east.
fn zones() -> Result<ZoneSet, Failure> {
    let ring = |zone: u32| {
        let place = |vertex: u32| {
            let turn = f64::from(vertex) / f64::from(VERTICES) * std::f64::consts::TAU;
            let size_deg = 0.009 * (1.0 + 0.2 * (5.0 * turn).sin());
            (45.0 + size_deg * turn.sin(), -30.0 + 0.038 * f64::from(zone) + 1.41 * size_deg * turn.cos())
        };
        (0..VERTICES).map(place).collect()
    };
    let rings: Vec<Vec<(f64, f64)>> = (0..ZONES).map(ring).collect();
    Ok(ZoneSet::new(takeline::zone_file::read("zones.geojson", zone_file(&rings).as_bytes())?.zones))
}

/// Latitude, longitude and seconds since 1970 of a boat that weaves in and out of some of the zones, at 5 m/s or so.
fn rows() -> impl Iterator<Item = (f64, f64, i64)> {
    (0..FIXES).map(|second| {
        let along = f64::from(second);
        (45.0 + 0.012 * (along / 300.0).sin(), -30.0 + 4e-5 * along, 1_750_000_000 + i64::from(second))
    })
}

fn track() -> Result<Vec<(Position, Timestamp)>, Failure> {
    rows()
        .map(|(lat, lon, at_s)| Ok((Position::from_degrees(lat, lon)?, Timestamp::from_second(at_s)?)))
        .collect()
}

fn gpx() -> Result<String, Failure> {
    let mut log =
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<gpx version=\"1.1\"><trk><trkseg>\n".to_owned();
    for (lat, lon, at_s) in rows() {
        let time = Timestamp::from_second(at_s)?;
        writeln!(log, "<trkpt lat=\"{lat:.7}\" lon=\"{lon:.7}\"><time>{time}</time></trkpt>")?;
    }
    Ok(log + "</trkseg></trk></gpx>\n")
}
