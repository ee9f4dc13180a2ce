//! What a log says does not depend on how its bytes arrive.
//!
//! Points, rows and numbers in the forms that most logs have are read by ways of their own, which see only what lies whole in
//! one block. Byte by byte nothing does, and the XML parser reads every point: so these tests hold the fast ways to the slow ones
//! as well, on logs made of sound and of nasty pieces.

use std::io::{BufReader, Read};

use proptest::prelude::*;
use proptest::sample::select;

use crate::{LogItem, TrackReader};

/// More than the first block, which is always filled before it is looked at.
const PADDING: usize = 70_000;

/// Gives the padding at once, and what follows in steps of so many bytes.
struct Drip<'a> {
    log: &'a [u8],
    padding: usize,
    step: usize,
}

impl Read for Drip<'_> {
    fn read(&mut self, into: &mut [u8]) -> std::io::Result<usize> {
        let most = if self.padding > 0 { self.padding } else { self.step };
        let given = most.min(into.len()).min(self.log.len());
        self.padding = self.padding.saturating_sub(given);
        into[..given].copy_from_slice(&self.log[..given]);
        self.log = &self.log[given..];
        Ok(given)
    }
}

/// Items and the error at the end, with the hash of a log that has none.
fn read(log: &[u8], step: usize) -> (Vec<LogItem>, Option<String>) {
    let input = BufReader::with_capacity(1, Drip { log, padding: PADDING, step });
    let mut reader = match TrackReader::open("log", input) {
        Ok(reader) => reader,
        Err(error) => return (Vec::new(), Some(error.to_string())),
    };
    let mut items = Vec::new();
    let mut end = None;
    for item in &mut reader {
        match item {
            Ok(item) => items.push(item),
            Err(error) => end = Some(error.to_string()),
        }
    }
    (items, end.or_else(|| reader.sha256()))
}

/// Overwrites, takes out and puts in single bytes.
fn spoil(log: &mut Vec<u8>, from: usize, faults: &[(prop::sample::Index, u8, u8)]) {
    for (at, kind, byte) in faults {
        if log.len() == from {
            return;
        }
        let at = from + at.index(log.len() - from);
        match kind % 3 {
            0 => log[at] = *byte,
            1 => drop(log.remove(at)),
            _ => log.insert(at, *byte),
        }
    }
}

fn faults() -> impl Strategy<Value = Vec<(prop::sample::Index, u8, u8)>> {
    let signs = select(b"<>/&\"'= \n\r.,;:-0T9Z$*\0\xff".to_vec());
    prop_oneof![
        2 => Just(Vec::new()),
        1 => prop::collection::vec((any::<prop::sample::Index>(), any::<u8>(), signs), 1..4)
    ]
}

fn joined(pieces: impl Strategy<Value = String>) -> impl Strategy<Value = String> {
    prop::collection::vec(pieces, 0..12).prop_map(|pieces| pieces.concat())
}

fn number() -> impl Strategy<Value = String> {
    let nasty = [
        "45",
        "-30.1217",
        "+.5",
        "90.",
        "-90.0000001",
        "180",
        "-180.0",
        "181",
        "360.5",
        "1e1",
        "4e-400",
        "45,1",
        "",
        " 45.5 ",
        "0x2d",
        "NaN",
        "-",
        "123456789012345678",
        "12.3456789012345678",
        "0000000000000045.5",
        "45.12345678",
        "1234567.1234567",
        "12345678.1",
        "&#52;5",
        "&amp;",
        "45.1.2",
        "−30",
        "45°N",
        "99",
        "0",
        "-1",
    ];
    prop_oneof![
        2 => "[+-]?[0-9]{1,2}\\.[0-9]{0,9}",
        1 => select(nasty.to_vec()).prop_map(str::to_owned)
    ]
}

fn time() -> impl Strategy<Value = String> {
    let nasty = [
        "",
        " ",
        "2026-05-01",
        "2026-05-01T06:30Z",
        "2026-05-01T06:30:00",
        "2026-05-01T06:30:60Z",
        "2026-05-01T24:00:00Z",
        "2026-02-29T00:00:00Z",
        "2026-05-01T06:30:00+02:00",
        "2026-05-01T06:30:00.250Z",
        " 2026-05-01T06:30:01Z\n",
        "2006-09-15T06:30:00Z",
        "1970-01-01T00:00:00Z",
        "2222-01-01T00:00:00Z",
        "2026-05-01t06:30:02z",
        "2026-05-01T06:30:00Zx",
        "06:30:00",
        "1777636800",
        "1777636800.5",
        "&lt;",
        "9999-12-31T23:59:59Z",
    ];
    prop_oneof![
        2 => "2026-05-0[12]T0[0-9]:[0-5][0-9]:[0-5][0-9]Z",
        1 => select(nasty.to_vec()).prop_map(str::to_owned)
    ]
}

fn inside_a_point() -> impl Strategy<Value = String> {
    let long = "x".repeat(300);
    let nasty = [
        "<ele>1.5</ele>",
        "<ele/>",
        "<time/>",
        "<fix>none</fix>",
        "<fix>3d</fix>",
        " <sat>7</sat>\n",
        "<!-- -->",
        "<?p?>",
        "<![CDATA[<trkpt/>]]>",
        "text",
        "&amp;",
        "&x;",
        "<name>Elm &amp; Oak</name>",
        "<name>Söll</name>",
        "<extensions><a:hr>97</a:hr><b>  <c>1</c>\n</b></extensions>",
        "<extensions><hacc>4</hacc></extensions>",
        "<extensions><q><accuracy_95>12</accuracy_95><acc>1</acc></q></extensions>",
        "<a:b:hacc>3</a:b:hacc>",
        "<:hacc>3</:hacc>",
        "<hacc:>3</hacc:>",
        "<hacc>0</hacc>",
        "<eph>3</eph>",
        "<x hacc='3'/>",
        "<time >2026-05-01T06:30:00Z</time >",
        "<time>2026-05-01T06:30:<!-- -->09Z</time>",
        "<hdop><b>1</b></hdop>",
        "<extensions>",
        "</extensions>",
        "<a><b><c><d><e><f><g><h><i><j>1</j></i></h></g></f></e></d></c></b></a>",
        "<Time>1</Time>",
        "<trkpt lat='1' lon='1'/>",
        "<sat>7</sad>",
        "<b>a]]>b</b>",
        "<b>a>b</b>",
        "<b a='1'>2</b>",
        "\r\n\t",
    ];
    prop_oneof![
        3 => time().prop_map(|time| format!("<time>{time}</time>")),
        1 => number().prop_map(|number| format!("<hdop>{number}</hdop>")),
        1 => number().prop_map(|number| format!("<speed>{number}</speed>")),
        1 => number().prop_map(|number| format!("<extensions><hacc_68>{number}</hacc_68></extensions>")),
        3 => select(nasty.to_vec()).prop_map(str::to_owned),
        1 => Just(format!("<hdop>{long}</hdop>")),
    ]
}

fn point() -> impl Strategy<Value = String> {
    let opened = prop_oneof![
        6 => (number(), number()).prop_map(|(lat, lon)| format!("<trkpt lat=\"{lat}\" lon=\"{lon}\"")),
        1 => (number(), number()).prop_map(|(lat, lon)| format!("<trkpt\n\tlon='{lon}'\r\n lat='{lat}' ")),
        1 => number().prop_map(|lat| format!("<trkpt lat='{lat}'")),
        1 => number().prop_map(|lat| format!("<trkpt lat='{lat}' lat='1' lon='2'")),
        1 => number().prop_map(|lat| format!("<trkpt lat='{lat}'lon=\"2\"")),
        1 => number().prop_map(|lat| format!("<trkpt lat = '{lat}' lon='2' hacc='5' x='&x;'")),
        1 => number().prop_map(|lat| format!("<x:trkpt lat='{lat}' lon='2\"")),
    ]
    .boxed();
    let ended = select(vec!["</trkpt>", "</trkpt>\n", "</trkpt >", "</x:trkpt>", "</trkseg>"]);
    let inside = prop::collection::vec(inside_a_point(), 0..4).prop_map(|pieces| pieces.concat()).boxed();
    prop_oneof![
        6 => (opened.clone(), inside.clone()).prop_map(|(open, inside)| format!("{open}>{inside}</trkpt>\n")),
        1 => (opened.clone(), inside, ended).prop_map(|(open, inside, end)| format!("{open}>{inside}{end}")),
        1 => opened.prop_map(|open| format!("{open}/>")),
    ]
}

fn piece_of_gpx() -> impl Strategy<Value = String> {
    let between = [
        "</trkseg><trkseg>",
        "</trkseg></trk><trk><trkseg>\n",
        "\n\n",
        "<!-- > -->",
        "<name>n</name>",
        "</trkseg></trk><rte><rtept lat='1' lon='2'/></rte><trk><trkseg>",
        "</trkseg></trk><wpt lat='1' lon='2'><name>a</name></wpt><trk>",
        "<trkptx lat='1' lon='2'/>",
        "text & more",
        "<trkpt",
        "</trkseg></trk></gpx>",
    ];
    prop_oneof![8 => point(), 2 => select(between.to_vec()).prop_map(str::to_owned)]
}

fn row(separator: char) -> impl Strategy<Value = String> {
    let last = select(vec!["", "5", "0", "x", "-3", "\"7\"", "\"", "1,2", "3;4", "N", "\u{fffd}"]);
    let end = select(vec!["\n", "\r\n", "\n\n", ""]);
    (number(), number(), time(), last, end).prop_map(move |(lat, lon, time, last, end)| {
        format!("{lat}{separator}{lon}{separator}{time}{separator}{last}{end}")
    })
}

fn sentence() -> impl Strategy<Value = String> {
    let address = select(vec!["GPRMC", "GNGGA", "GPGLL", "GPZDA", "GPGST", "GNGNS", "GPGSV", "PXYZ", "RMC"]);
    let clock = prop_oneof![3 => "0630[0-5][0-9](\\.[0-9]{0,3})?", 1 => "[0-9.]{0,8}"];
    let lat = prop_oneof![3 => "45[0-5][0-9]\\.[0-9]{1,4},N", 1 => "[0-9.]{0,9},[NSx]?"];
    let lon = prop_oneof![3 => "030[0-5][0-9]\\.[0-9]{1,4},W", 1 => "[0-9.]{0,9},[EWx]?"];
    let ways = (address, clock, lat, lon, any::<bool>(), select(vec!["\n", "\r\n", "\n\n", " tail\n", ""]));
    ways.prop_map(|(address, clock, lat, lon, is_sound, end)| {
        let fields = match &address[2..] {
            "RMC" => format!("{clock},A,{lat},{lon},2.0,84.4,010526,,,A"),
            "GGA" => format!("{clock},{lat},{lon},1,08,0.9,5.4,M,46.9,M,,"),
            "GNS" => format!("{clock},{lat},{lon},AA,08,0.9,5.4,46.9,,"),
            "GLL" => format!("{lat},{lon},{clock},A"),
            "ZDA" => format!("{clock},01,05,2026,00,00"),
            _ => format!("{clock},1.0,2.0,3.0,40.0,1.5,2.5,3.5"),
        };
        let body = format!("{address},{fields}");
        let sum = body.bytes().fold(u8::from(!is_sound), |sum, byte| sum ^ byte);
        format!("${body}*{sum:02X}{end}")
    })
}

fn same_in_all_steps(log: &[u8], step: usize) {
    let whole = read(log, usize::MAX);
    for step in [1, step] {
        assert_eq!(read(log, step), whole, "steps of {step}: {}", String::from_utf8_lossy(log).trim());
    }
}

proptest! {
    #[test]
    fn a_gpx_file_in_pieces_says_the_same(pieces in joined(piece_of_gpx()), step in 2_usize..400, faults in faults()) {
        let padding = " ".repeat(PADDING);
        let mut log = format!("<gpx version='1.1'>{padding}<trk><trkseg>").into_bytes();
        let from = log.len();
        log.extend(pieces.bytes());
        log.extend(b"</trkseg></trk></gpx>\n");
        spoil(&mut log, from, &faults);
        same_in_all_steps(&log, step);
    }

    #[test]
    fn a_table_in_pieces_says_the_same(
        header in select(vec!["lat,lon,time,accuracy_m", "lat;lon;time;hdop", "lat,lon,unix,speed_kn", "lon,lat,time,x"]),
        rows in joined(row(',')),
        other_rows in joined(row(';')),
        step in 2_usize..400,
        faults in faults(),
    ) {
        let padding = "\n".repeat(PADDING);
        let mut log = format!("{header}{padding}").into_bytes();
        let from = log.len() - 1;
        log.extend(if header.contains(';') { other_rows } else { rows }.bytes());
        spoil(&mut log, from, &faults);
        same_in_all_steps(&log, step);
    }

    /// A column of winds has every row read the slow way. Both tables have as many bytes, so that places are the same too.
    #[test]
    fn a_table_of_places_and_times_says_the_same_as_one_with_another_column(
        rows in prop::collection::vec((number(), number(), time()), 0..12),
        header in select(vec!["lat,lon,time", "lon,lat,unix"]),
    ) {
        let (mut plain, mut other) = (format!("{header}     \n"), format!("{header},wind\n"));
        for (lat, lon, time) in rows {
            let row = [lat, lon, time].map(|field| field.replace([',', '\n'], "")).join(",");
            plain.extend([row.as_str(), "\r\n"]);
            other.extend([row.as_str(), ",\n"]);
        }
        prop_assert_eq!(read(plain.as_bytes(), usize::MAX).0, read(other.as_bytes(), usize::MAX).0);
    }

    #[test]
    fn sentences_in_pieces_say_the_same(pieces in joined(sentence()), step in 2_usize..400, faults in faults()) {
        let padding = "\n".repeat(PADDING);
        let mut log = format!("$GPGSV,1,1,00*79{padding}").into_bytes();
        let from = log.len() - 1;
        log.extend(pieces.bytes());
        spoil(&mut log, from, &faults);
        same_in_all_steps(&log, step);
    }
}

#[test]
fn a_point_cut_anywhere_says_the_same() {
    let padding = " ".repeat(PADDING);
    let point = "<trkpt lat='45.1175' lon='-30.1217'><time>2026-05-01T06:30:00Z</time><hdop>x</hdop></trkpt>";
    let log = format!("<gpx version='1.1'>{padding}<trk><trkseg>\n{point}\n{point}</trkseg></trk></gpx>");
    let whole = read(log.as_bytes(), usize::MAX);
    assert_eq!(whole.0.iter().filter(|item| matches!(item, LogItem::Fix(_))).count(), 2);
    for step in 1..200 {
        assert_eq!(read(log.as_bytes(), step), whole, "steps of {step}");
    }
}
