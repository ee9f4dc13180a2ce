//! One voyage written as GPX, as a table and as NMEA: each is read without a panic and without an error, with a fix for
//! every point, in order, at its place and time.
#![no_main]

use std::fmt::Write;

use libfuzzer_sys::arbitrary::{self, Arbitrary};
use libfuzzer_sys::fuzz_target;
use takeline_formats::{LogFormat, LogItem, ReadOptions, TrackReader};

const MOST_POINTS: usize = 100;
/// Places are written to a ten-thousandth of a minute, half of which is this much of a degree.
const NEAR_DEG: f64 = 1e-6;

#[derive(Debug, Arbitrary)]
struct Voyage {
    points: Vec<Point>,
    separator: u8,
    is_old_gpx: bool,
    has_sums: bool,
    is_crlf: bool,
}

#[derive(Debug, Arbitrary)]
struct Point {
    /// Ten-thousandths of a minute.
    lat: i32,
    lon: i32,
    seconds: u8,
    is_timed: bool,
    accuracy_m: Option<u8>,
    hdop: Option<u8>,
    /// A new segment begins here.
    breaks: bool,
    /// A sentence, row or element that is no fix stands before it.
    extra: u8,
}

/// A point as each of the formats says it.
struct Written {
    lat_deg: f64,
    lon_deg: f64,
    /// Seconds since midnight.
    second: u32,
}

impl Voyage {
    fn written(&self) -> Vec<Written> {
        let mut second = 0;
        let points = self.points.iter().take(MOST_POINTS);
        points
            .map(|point| {
                // two sentences of one second would be one fix
                second += u32::from(point.seconds) + 1;
                let deg = |units: i32, most: i32| f64::from(units % (most * 600_000)) / 600_000.0;
                Written { lat_deg: deg(point.lat, 90), lon_deg: deg(point.lon, 180), second }
            })
            .collect()
    }

    fn gpx(&self, written: &[Written]) -> String {
        let version = if self.is_old_gpx { "1.0" } else { "1.1" };
        let mut text = format!(
            r#"<?xml version="1.0"?><gpx version="{version}" xmlns="http://www.topografix.com/GPX/{}"><trk><trkseg>"#,
            version.replace('.', "/")
        );
        for (point, place) in self.points.iter().zip(written) {
            if point.breaks {
                text.push_str("</trkseg><trkseg>");
            }
            text.push_str(["", "<!-- a remark -->", "\n", "<extensions><a><trkpt/></a></extensions>"][usize::from(point.extra % 4)]);
            write!(text, r#"<trkpt lat="{:.7}" lon="{:.7}">"#, place.lat_deg, place.lon_deg).expect("a text grows");
            if point.is_timed {
                write!(text, "<time>{}</time>", place.instant()).expect("a text grows");
            }
            if let Some(hdop) = point.hdop {
                write!(text, "<hdop>{}</hdop>", hdop % 20).expect("a text grows");
            }
            text.push_str("</trkpt>");
        }
        text + "</trkseg></trk></gpx>"
    }

    fn table(&self, written: &[Written]) -> String {
        let separator = [",", ";", "\t"][usize::from(self.separator % 3)];
        let mut rows = vec![["lat", "lon", "time", "accuracy_m"].join(separator)];
        for (point, place) in self.points.iter().zip(written) {
            let time = if point.is_timed { place.instant() } else { String::new() };
            let accuracy = point.accuracy_m.map_or_else(String::new, |metres| metres.to_string());
            rows.push([format!("{:.7}", place.lat_deg), format!("{:.7}", place.lon_deg), time, accuracy].join(separator));
        }
        self.lines(&rows)
    }

    fn nmea(&self, written: &[Written]) -> String {
        let mut lines = Vec::new();
        for (point, place) in self.points.iter().zip(written) {
            match point.extra % 4 {
                1 => lines.push(self.sentence("GPGSV,1,1,00")),
                2 => lines.push(self.sentence("HEHDT,274.0,T")),
                _ => {}
            }
            let (time, at) = (place.time_of_day(), place.minutes());
            lines.push(self.sentence(&format!("GPRMC,{time},A,{at},000.0,000.0,050726,,")));
            if let Some(hdop) = point.hdop {
                let hdop = f64::from(hdop % 200) / 10.0;
                lines.push(self.sentence(&format!("GPGGA,{time},{at},1,08,{hdop:.1},5.4,M,46.9,M,,")));
            }
        }
        self.lines(&lines)
    }

    fn sentence(&self, inner: &str) -> String {
        let sum = inner.bytes().fold(0, |sum, byte| sum ^ byte);
        if self.has_sums { format!("${inner}*{sum:02X}") } else { format!("${inner}") }
    }

    fn lines(&self, lines: &[String]) -> String {
        let end = if self.is_crlf { "\r\n" } else { "\n" };
        lines.iter().flat_map(|line| [line.as_str(), end]).collect()
    }
}

impl Written {
    fn clock(&self) -> [u32; 3] {
        [self.second / 3600, self.second / 60 % 60, self.second % 60]
    }

    fn instant(&self) -> String {
        let [hour, minute, second] = self.clock();
        format!("2026-07-05T{hour:02}:{minute:02}:{second:02}Z")
    }

    fn time_of_day(&self) -> String {
        let [hour, minute, second] = self.clock();
        format!("{hour:02}{minute:02}{second:02}")
    }

    fn minutes(&self) -> String {
        let ways = [(self.lat_deg, 2, "N", "S"), (self.lon_deg, 3, "E", "W")];
        let [lat, lon] = ways.map(|(degrees, digits, more, less)| {
            let units = (degrees.abs() * 600_000.0).round() as u32;
            let (whole, minutes) = (units / 600_000, f64::from(units % 600_000) / 10_000.0);
            format!("{whole:0digits$}{minutes:07.4},{}", if degrees < 0.0 { less } else { more })
        });
        format!("{lat},{lon}")
    }
}

fuzz_target!(|voyage: Voyage| {
    let written = voyage.written();
    if written.is_empty() {
        return;
    }
    let is_timed: Vec<bool> = voyage.points.iter().map(|point| point.is_timed).collect();
    let always = vec![true; written.len()];
    check(LogFormat::Gpx, &voyage.gpx(&written), &written, &is_timed);
    check(LogFormat::Csv, &voyage.table(&written), &written, &is_timed);
    check(LogFormat::Nmea, &voyage.nmea(&written), &written, &always);
});

fn check(format: LogFormat, log: &str, written: &[Written], is_timed: &[bool]) {
    let reader = TrackReader::open_with("fuzz", log.as_bytes(), ReadOptions::default());
    let mut reader = reader.unwrap_or_else(|error| panic!("{error}\n{log}"));
    assert_eq!(reader.format(), format, "{log}");
    let mut left_out = 0;
    let mut fixes = Vec::new();
    for item in &mut reader {
        match item.unwrap_or_else(|error| panic!("{error}\n{log}")) {
            LogItem::Fix(fix) => fixes.push(fix),
            LogItem::Note(note) => left_out += u64::from(note.kind.leaves_out()) * note.count,
            other => panic!("{other:?}\n{log}"),
        }
    }
    assert_eq!((fixes.len(), left_out), (written.len(), 0), "{log}");
    for ((fix, place), is_timed) in fixes.iter().zip(written).zip(is_timed) {
        let off_deg = (fix.position.latitude().degrees() - place.lat_deg).abs();
        assert!(off_deg < NEAR_DEG, "{fix:?}\n{log}");
        let off_deg = (fix.position.longitude().degrees() - place.lon_deg).abs();
        assert!(off_deg < NEAR_DEG || (off_deg - 360.0).abs() < NEAR_DEG, "{fix:?}\n{log}");
        let time = fix.time.map(|time| time.to_string());
        assert_eq!(time, is_timed.then(|| place.instant()), "{log}");
    }
    assert!(reader.sha256().is_some());
}
