//! How fast logs are read. The track is invented, about 45°07'N 030°07'W, one fix a second.
//!
//! `tokens` is the XML parser alone over the same bytes: what reading GPX is measured against. The SHA-256 of the log
//! is left out where the name does not say `hashed`.

use std::fmt::Write;
use std::hint::black_box;
use std::io::BufReader;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use quick_xml::Reader;
use quick_xml::events::Event;
use takeline_formats::{LogItem, ReadOptions, TrackReader};

const FIXES: u32 = 50_000;

/// Latitude, longitude and time of the fixes.
fn rows() -> impl Iterator<Item = (f64, f64, String)> {
    (0..FIXES).map(|second| {
        let turn = f64::from(second) / 3000.0;
        let (hour, minute) = (second / 3600, second / 60 % 60);
        let time = format!("2026-05-01T{hour:02}:{minute:02}:{:02}Z", second % 60);
        (45.12 + 0.02 * turn.sin(), -30.12 + 0.03 * turn.cos(), time)
    })
}

fn gpx() -> String {
    let mut log =
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<gpx version=\"1.1\"><trk><trkseg>\n".to_owned();
    for (lat_deg, lon_deg, time) in rows() {
        writeln!(log, "<trkpt lat=\"{lat_deg:.7}\" lon=\"{lon_deg:.7}\"><time>{time}</time></trkpt>")
            .expect("text grows");
    }
    log + "</trkseg></trk></gpx>\n"
}

fn csv() -> String {
    let mut log = "lat,lon,time\n".to_owned();
    for (lat_deg, lon_deg, time) in rows() {
        writeln!(log, "{lat_deg:.7},{lon_deg:.7},{time}").expect("text grows");
    }
    log
}

fn nmea() -> String {
    let mut log = String::new();
    for (lat_deg, lon_deg, time) in rows() {
        let time: String = time[11..19].chars().filter(char::is_ascii_digit).collect();
        let (lat_min, lon_min) = ((lat_deg - 45.0) * 60.0, (-30.0 - lon_deg) * 60.0);
        let body = format!("GPRMC,{time},A,45{lat_min:07.4},N,030{lon_min:07.4},W,2.0,84.4,010526,,,A");
        let checksum = body.bytes().fold(0, |sum, byte| sum ^ byte);
        writeln!(log, "${body}*{checksum:02X}").expect("text grows");
    }
    log
}

fn tokens(log: &str) -> u32 {
    let mut xml = Reader::from_reader(BufReader::with_capacity(65_536, log.as_bytes()));
    let (mut buffer, mut events) = (Vec::new(), 0);
    loop {
        buffer.clear();
        let event = xml.read_event_into(&mut buffer).expect("sound XML");
        if let Event::Eof = event {
            return events;
        }
        black_box(&event);
        events += 1;
    }
}

fn fixes(log: &str, options: ReadOptions) -> u32 {
    let reader = TrackReader::open_with("bench", log.as_bytes(), options).expect("a log");
    reader.fold(0, |count, item| count + u32::from(matches!(black_box(item), Ok(LogItem::Fix(_)))))
}

fn read(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("read");
    let gpx = gpx();
    group.throughput(Throughput::Bytes(gpx.len() as u64));
    group.bench_function("gpx, tokens", |bencher| bencher.iter(|| tokens(&gpx)));
    for (name, log) in [("gpx", gpx.clone()), ("csv", csv()), ("nmea", nmea())] {
        group.throughput(Throughput::Bytes(log.len() as u64));
        for (what, options) in
            [("", ReadOptions::default().without_sha256()), (", hashed", ReadOptions::default())]
        {
            assert_eq!(fixes(&log, options), FIXES);
            group.bench_function(format!("{name}{what}"), |bencher| bencher.iter(|| fixes(&log, options)));
        }
    }
    group.finish();
}

criterion_group!(benches, read);
criterion_main!(benches);
