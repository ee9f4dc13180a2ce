//! How fast logs are read, beside their tokenizers over the same bytes. The track is invented, about 45°07'N 030°07'W, one fix a
//! second.
//!
//! Peers: the XML parser alone over a slice (`tokens`) and over a buffered reader, the crate `gpx`, the crate `csv` with its
//! numbers parsed, the crate `nmea` sentence by sentence. The SHA-256 of the log is left out where the name does not say
//! `hashed`. `TAKELINE_LOG=track.gpx` times a file instead of the invented track, with the peers of its format.

use std::fmt::Write;
use std::hint::black_box;
use std::io::BufReader;
use std::time::Duration;

use criterion::measurement::WallTime;
use criterion::{BenchmarkGroup, Criterion, Throughput, criterion_group, criterion_main};
use quick_xml::Reader;
use quick_xml::events::Event;
use takeline_formats::{LogFormat, LogItem, ReadOptions, TrackReader};

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

/// With `inside` behind the time of each point.
fn gpx(inside: &str) -> String {
    let mut log =
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<gpx version=\"1.1\" creator=\"bench\" xmlns:x=\"urn:x\"><trk><trkseg>\n"
            .to_owned();
    for (lat_deg, lon_deg, time) in rows() {
        writeln!(log, "<trkpt lat=\"{lat_deg:.7}\" lon=\"{lon_deg:.7}\"><time>{time}</time>{inside}</trkpt>")
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

fn csv_unix() -> String {
    let mut log = "lat,lon,unix\n".to_owned();
    for ((lat_deg, lon_deg, _), second) in rows().zip(1_777_593_600_u32..) {
        writeln!(log, "{lat_deg:.7},{lon_deg:.7},{second}").expect("text grows");
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
    let mut xml = Reader::from_str(log);
    let mut events = 0;
    loop {
        let event = xml.read_event().expect("sound XML");
        if let Event::Eof = event {
            return events;
        }
        black_box(&event);
        events += 1;
    }
}

fn buffered_tokens(log: &str) -> u32 {
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

/// The crate that holds the whole file in memory.
fn gpx_crate(log: &str) -> usize {
    let read = gpx::read(log.as_bytes()).expect("sound GPX");
    read.tracks.iter().flat_map(|track| &track.segments).map(|segment| segment.points.len()).sum()
}

/// Every row cut, its first two fields parsed.
fn csv_crate(log: &str) -> f64 {
    let mut reader = csv::Reader::from_reader(log.as_bytes());
    let mut row = csv::ByteRecord::new();
    let mut sum = 0.0;
    while reader.read_byte_record(&mut row).expect("a sound table") {
        for field in row.iter().take(2) {
            let text = std::str::from_utf8(field).expect("ASCII");
            sum += text.parse::<f64>().expect("a number");
        }
        black_box(row.get(2));
    }
    sum
}

fn nmea_crate(log: &str) -> usize {
    log.lines().filter(|line| black_box(nmea::parse_str(line)).is_ok()).count()
}

fn fixes(log: &str, options: ReadOptions) -> u32 {
    let reader = TrackReader::open_with("bench", log.as_bytes(), options).expect("a log");
    reader.fold(0, |count, item| count + u32::from(matches!(black_box(item), Ok(LogItem::Fix(_)))))
}

fn time_peers(group: &mut BenchmarkGroup<'_, WallTime>, name: &str, log: &str, format: LogFormat) {
    match format {
        LogFormat::Gpx => {
            group.bench_function(format!("{name}: tokens"), |bencher| bencher.iter(|| tokens(log)));
            group.bench_function(format!("{name}: tokens, buffered"), |bencher| {
                bencher.iter(|| buffered_tokens(log));
            });
            group.bench_function(format!("{name}: crate gpx"), |bencher| bencher.iter(|| gpx_crate(log)));
        }
        LogFormat::Csv => {
            group.bench_function(format!("{name}: crate csv"), |bencher| bencher.iter(|| csv_crate(log)));
        }
        LogFormat::Nmea | _ => {
            group.bench_function(format!("{name}: crate nmea"), |bencher| bencher.iter(|| nmea_crate(log)));
        }
    }
}

fn time_log(group: &mut BenchmarkGroup<'_, WallTime>, name: &str, log: &str) {
    let format = TrackReader::open(name, log.as_bytes()).expect("a log").format();
    group.throughput(Throughput::Bytes(log.len() as u64));
    time_peers(group, name, log, format);
    for (what, options) in
        [("ours", ReadOptions::default().without_sha256()), ("ours, hashed", ReadOptions::default())]
    {
        group.bench_function(format!("{name}: {what}"), |bencher| bencher.iter(|| fixes(log, options)));
    }
}

fn read(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("read");
    group.sample_size(20).warm_up_time(Duration::from_millis(500)).measurement_time(Duration::from_secs(2));
    if let Ok(path) = std::env::var("TAKELINE_LOG") {
        let log = std::fs::read_to_string(path).expect("a log of ASCII text");
        time_log(&mut group, "file", &log);
        return;
    }
    let extended = "<ele>1.2</ele><extensions><x:hr>97</x:hr></extensions>";
    let logs = [
        ("gpx", gpx("")),
        ("gpx, extensions", gpx(extended)),
        // a form that only the XML parser reads
        ("gpx, remarks", gpx("<!-- -->")),
        ("csv", csv()),
        ("csv, unix", csv_unix()),
        ("nmea", nmea()),
    ];
    for (name, log) in &logs {
        assert_eq!(fixes(log, ReadOptions::default()), FIXES);
        time_log(&mut group, name, log);
    }
    group.finish();
}

criterion_group!(benches, read);
criterion_main!(benches);
