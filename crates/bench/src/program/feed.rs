//! Logs made from a table of fixes, a row at a time, so that none of them is ever whole in memory.

use std::fs::File;
use std::io::{BufRead, BufReader, BufWriter, Error, Result, Write};
use std::path::{Path, PathBuf};

use jiff::{SignedDuration, Timestamp};

/// How a log is made longer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Repeated {
    NotAtAll,
    /// The same way, with nine fixes more between any two that are a second apart.
    TenASecond,
    /// All of it again, some hundred days later, and so on.
    TenTimesOver,
}

/// From one time over to the next, in seconds; a workload lasts no more than a hundred days.
const TIME_OVER_S: i64 = 101 * 86_400;

#[derive(Debug, Clone, Copy)]
struct Row {
    lat_deg: f64,
    lon_deg: f64,
    unix_s: i64,
}

/// Writes the fixes of a table as a log in GPX.
pub(super) fn write_gpx(table: &Path, repeated: Repeated, out: &mut dyn Write) -> Result<()> {
    let mut out = BufWriter::with_capacity(1 << 16, out);
    begin(&mut out)?;
    let times = if repeated == Repeated::TenTimesOver { 10 } else { 1 };
    let mut before: Option<Row> = None;
    for time in 0..times {
        for row in rows(table)? {
            let mut row = row?;
            row.unix_s += time * TIME_OVER_S;
            let is_next = before.is_some_and(|before| row.unix_s - before.unix_s == 1);
            if let (Repeated::TenASecond, Some(before), true) = (repeated, before, is_next) {
                between(&mut out, before, row)?;
            }
            point(&mut out, row, 0)?;
            before = Some(row);
        }
    }
    end(&mut out)
}

/// Writes one log for each track of a table, and returns how many.
pub(super) fn write_tracks(table: &Path, folder: &Path) -> Result<usize> {
    let (mut logs, mut before_s) = (0, None);
    let mut out: Option<BufWriter<File>> = None;
    for row in rows(table)? {
        let row = row?;
        if before_s.is_none_or(|before_s: i64| row.unix_s - before_s > 3_600) {
            if let Some(mut out) = out.take() {
                end(&mut out)?;
            }
            logs += 1;
            let name: PathBuf = folder.join(format!("{logs:04}.gpx"));
            let mut next = BufWriter::new(File::create(name)?);
            begin(&mut next)?;
            out = Some(next);
        }
        if let Some(out) = &mut out {
            point(out, row, 0)?;
        }
        before_s = Some(row.unix_s);
    }
    out.map_or(Ok(()), |mut out| end(&mut out))?;
    Ok(logs)
}

/// Writes the places of the first rows of a table, without times.
pub(super) fn write_batch(table: &Path, count: usize, to: &Path) -> Result<usize> {
    let mut out = BufWriter::new(File::create(to)?);
    writeln!(out, "lat,lon")?;
    let mut written = 0;
    for row in rows(table)?.take(count) {
        let Row { lat_deg, lon_deg, .. } = row?;
        writeln!(out, "{lat_deg:.7},{lon_deg:.7}")?;
        written += 1;
    }
    out.flush()?;
    Ok(written)
}

/// Latitude and longitude of the first row of a table, as text.
pub(super) fn first_place(table: &Path) -> Result<(String, String)> {
    let row = rows(table)?.next().ok_or_else(|| Error::other("there is no fix"))??;
    Ok((format!("{:.7}", row.lat_deg), format!("{:.7}", row.lon_deg)))
}

fn rows(table: &Path) -> Result<impl Iterator<Item = Result<Row>>> {
    let opened = File::open(table).map_err(|error| Error::other(format!("{}: {error}", table.display())))?;
    let row = |line: Result<String>| {
        let line = line?;
        row_of(&line)
            .ok_or_else(|| Error::other(format!("no latitude, longitude and seconds since 1970: {line}")))
    };
    Ok(BufReader::new(opened).lines().skip(1).map(row))
}

fn row_of(line: &str) -> Option<Row> {
    let mut cells = line.split(',');
    let (lat_deg, lon_deg) = (cells.next()?.parse().ok()?, cells.next()?.parse().ok()?);
    Some(Row { lat_deg, lon_deg, unix_s: cells.next()?.trim().parse().ok()? })
}

fn between(out: &mut impl Write, from: Row, to: Row) -> Result<()> {
    for tenth in 1..10 {
        let share = f64::from(tenth) / 10.0;
        let row = Row {
            lat_deg: from.lat_deg + share * (to.lat_deg - from.lat_deg),
            lon_deg: from.lon_deg + share * (to.lon_deg - from.lon_deg),
            unix_s: from.unix_s,
        };
        point(out, row, tenth)?;
    }
    Ok(())
}

fn begin(out: &mut impl Write) -> Result<()> {
    writeln!(out, r#"<?xml version="1.0" encoding="UTF-8"?>"#)?;
    writeln!(out, r#"<gpx version="1.1" creator="bench"><trk><trkseg>"#)
}

fn point(out: &mut impl Write, row: Row, tenths: i32) -> Result<()> {
    let Row { lat_deg, lon_deg, unix_s } = row;
    let time = Timestamp::from_second(unix_s).map_err(Error::other)?;
    let time = time + SignedDuration::from_millis(i64::from(tenths) * 100);
    writeln!(out, r#"<trkpt lat="{lat_deg:.7}" lon="{lon_deg:.7}"><time>{time}</time></trkpt>"#)
}

fn end(out: &mut impl Write) -> Result<()> {
    writeln!(out, "</trkseg></trk></gpx>")?;
    out.flush()
}
