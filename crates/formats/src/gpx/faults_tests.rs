//! Files that are broken or meant to do harm.

use std::io::{self, BufReader, Read, Write};

use flate2::Compression;
use flate2::write::GzEncoder;
use proptest::prelude::*;
use sha2::{Digest, Sha256};

use crate::{LogItem, ReadLogError, ReadOptions, TrackReader};

/// Number of fixes before the end, and the error there.
fn read(log: impl Read) -> (usize, Option<ReadLogError>) {
    let reader = match TrackReader::open("log", BufReader::new(log)) {
        Ok(reader) => reader,
        Err(error) => return (0, Some(error)),
    };
    let mut fixes = 0;
    for item in reader {
        match item {
            Ok(LogItem::Fix(_)) => fixes += 1,
            Ok(_) => {}
            Err(error) => return (fixes, Some(error)),
        }
    }
    (fixes, None)
}

fn code(log: impl Read) -> &'static str {
    read(log).1.map_or("none", |error| error.kind.code())
}

const HEAD: &str = "<gpx version='1.1'><trk><trkseg>\n<trkpt lat='45' lon='-30'/>\n";
const TAIL: &str = "</trkseg></trk></gpx>";

fn packed(log: &[u8]) -> Vec<u8> {
    let mut encoder = GzEncoder::new(Vec::new(), Compression::fast());
    encoder.write_all(log).unwrap();
    encoder.finish().unwrap()
}

#[test]
fn entities_are_never_expanded() {
    let bomb = "<!DOCTYPE gpx [<!ENTITY a 'ha'><!ENTITY b '&a;&a;&a;&a;'>]><gpx><name>&b;</name></gpx>";
    assert_eq!(code(bomb.as_bytes()), "doctype");
    let outside = "<!DOCTYPE gpx SYSTEM 'file:///etc/passwd'><gpx version='1.1'><name>&x;</name></gpx>";
    assert_eq!(code(outside.as_bytes()), "undefined-entity");
    assert_eq!(code(format!("{HEAD}<trkpt lat='&x;' lon='1'/>{TAIL}").as_bytes()), "undefined-entity");
    assert_eq!(
        code(format!("{HEAD}<trkpt lat='1' lon='1'><time>&nbsp;</time></trkpt>{TAIL}").as_bytes()),
        "undefined-entity"
    );
    assert_eq!(code(format!("<!DOCTYPE gpx>{HEAD}{TAIL}").as_bytes()), "none");
}

#[test]
fn a_million_levels_stop_at_the_limit() {
    let deep = "<a>".repeat(1_000_000);
    let (fixes, error) = read(format!("{HEAD}{deep}").as_bytes());
    assert_eq!((fixes, error.unwrap().kind.code()), (1, "too-deep"));
}

#[test]
fn one_endless_token_stops_at_the_limit() {
    let ten_megabytes = "x".repeat(10_000_000);
    for token in [
        format!("<trkpt lat='{ten_megabytes}'/>"),
        format!("<!--{ten_megabytes}-->"),
        format!("<{ten_megabytes}>"),
        ten_megabytes.clone(),
        format!("<![CDATA[{ten_megabytes}]]>"),
    ] {
        let (fixes, error) = read(format!("{HEAD}{token}{TAIL}").as_bytes());
        assert_eq!((fixes, error.unwrap().kind.code()), (1, "too-long"));
    }
    // without any end
    let endless = HEAD.as_bytes().chain(io::repeat(b' '));
    assert_eq!(code(endless), "too-long");
}

#[test]
fn a_file_that_was_cut_off_says_so_after_its_fixes() {
    let (fixes, error) = read(HEAD.as_bytes());
    let error = error.unwrap();
    assert_eq!((fixes, error.kind.code(), error.line), (1, "cut-off", 3));
    assert_eq!(code(format!("{HEAD}<trkpt lat='4").as_bytes()), "xml-broken");
    assert_eq!(
        error.to_string(),
        "log, line 3, byte 61: the file ends inside <trkseg>, so it was cut short; copy it again, or close the open elements by hand"
    );
}

#[test]
fn broken_xml_names_line_and_byte() {
    let log = format!("{HEAD}</trk>");
    let error = read(log.as_bytes()).1.unwrap();
    assert_eq!((error.kind.code(), error.line, error.byte), ("xml-broken", 3, HEAD.len() as u64));
    assert_eq!(code(format!("{HEAD}{TAIL}{HEAD}").as_bytes()), "xml-broken");
    assert_eq!(code(&b"<kml/>"[..]), "not-gpx");
    assert_eq!(code(format!("{HEAD}{TAIL}\n\0\0").as_bytes()), "none");
}

#[test]
fn places_are_right_across_blocks() {
    let points = "<trkpt\nlat='45' lon='-30'/>\n".repeat(20_000);
    let log = format!("<gpx version='1.1'><trk><trkseg>\n{points}{TAIL}");
    for (number, item) in TrackReader::open("log", log.as_bytes()).unwrap().enumerate() {
        let LogItem::Fix(fix) = item.unwrap() else { panic!("only fixes") };
        assert_eq!(fix.place.line, 2 + 2 * number as u64);
        assert!(log[usize::try_from(fix.place.byte).unwrap()..].starts_with("<trkpt"));
    }
}

#[test]
fn packed_logs_are_unpacked_and_hashed_as_they_came() {
    let log = format!("{HEAD}{TAIL}");
    let gz = packed(log.as_bytes());
    let mut reader = TrackReader::open("log.gpx.gz", &*gz).unwrap();
    assert_eq!(reader.sha256(), None);
    assert_eq!(reader.by_ref().filter(|item| matches!(item, Ok(LogItem::Fix(_)))).count(), 1);
    let expected: String =
        Sha256::digest(&gz).iter().fold(String::new(), |hex, byte| format!("{hex}{byte:02x}"));
    assert_eq!(reader.sha256(), Some(expected));
    assert_eq!(code(&*packed(&gz)), "packed");
    // every cut is an error, and no cut a shorter track
    for end in 3..gz.len() {
        assert_ne!(code(&gz[..end]), "none", "cut at {end}");
    }
}

#[test]
fn a_bomb_is_stopped_by_the_limit_or_by_the_length_of_a_token() {
    let gz = packed(&[HEAD.as_bytes(), &vec![b' '; 50_000_000]].concat());
    assert!(gz.len() < 300_000);
    assert_eq!(code(&*gz), "too-long");
    let lines = packed(&[b"lat,lon\n".as_slice(), &b"45,-30\n".repeat(1_000_000)].concat());
    let options = ReadOptions::default().limit_bytes(100_000);
    let last = TrackReader::open_with("log", &*lines, options).unwrap().last().unwrap();
    assert_eq!(last.unwrap_err().kind.code(), "too-large");
}

proptest! {
    #[test]
    fn any_bytes_are_answered(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        read(&*bytes);
        read(&*[HEAD.as_bytes(), &bytes].concat());
        read(&*[b"$GPGGA,1*".as_slice(), &bytes].concat());
        read(&*[b"lat,lon\n".as_slice(), &bytes].concat());
        read(&*[[0x1f, 0x8b, 8, 0].as_slice(), &bytes].concat());
    }

    #[test]
    fn any_markup_is_answered(text in "(<|>|/|&|;|'|\"|=|trkpt|lat|lon|time|45|[ -~]| |!--|\\?|\\[CDATA\\[|DOCTYPE){0,60}") {
        read(format!("{HEAD}{text}").as_bytes());
    }

    #[test]
    fn positions_come_out_as_they_went_in(lat_deg in -90.0..=90.0_f64, lon_deg in -180.0..=180.0_f64) {
        let log = format!("{HEAD}<trkpt lat='{lat_deg}' lon='{lon_deg}'/>{TAIL}");
        let Some(Ok(LogItem::Fix(fix))) = TrackReader::open("log", log.as_bytes()).unwrap().nth(1) else { panic!() };
        prop_assert_eq!(fix.position.latitude().degrees().to_bits(), lat_deg.to_bits());
        prop_assert_eq!(fix.position.longitude().degrees().to_bits(), lon_deg.to_bits());
    }
}
