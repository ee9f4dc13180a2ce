//! Track logs that nobody here wrote, and what somebody else counts in them.

use std::fs;
use std::path::{Path, PathBuf};

use takeline::track::LoggedFix;
use takeline_formats::{LogItem, LogNote, LogNoteKind, TrackReader, Waypoint};

fn data(folder: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/data").join(folder)
}

#[derive(Debug, Default)]
struct Read {
    fixes: Vec<LoggedFix>,
    route_points: Vec<LoggedFix>,
    waypoints: Vec<Waypoint>,
    notes: Vec<LogNote>,
}

fn read(name: &str, log: &[u8]) -> Read {
    let mut read = Read::default();
    for item in TrackReader::open(name, log).expect("a log") {
        match item.expect("sound to the end") {
            LogItem::Fix(fix) => read.fixes.push(fix),
            LogItem::RoutePoint(point) => read.route_points.push(point),
            LogItem::Waypoint(waypoint) => read.waypoints.push(waypoint),
            LogItem::Note(note) => read.notes.push(note),
            // told by a note as well
            LogItem::Unplaced(_) => {}
            _ => unreachable!("an item of a kind that this test does not know"),
        }
    }
    read
}

/// The sample, its dilutions of 20 and more made 19. Another parser counts their points; as they were published nobody knows
/// where the receiver was, and those of tracks are left out with a note.
fn with_small_dilutions(name: &str, log: Vec<u8>) -> Vec<u8> {
    const BEGINS: &str = "<hdop>";
    let Ok(text) = std::str::from_utf8(&log) else { return log };
    let mut pieces = text.split(BEGINS);
    let mut small = pieces.next().unwrap_or_default().to_owned();
    for piece in pieces {
        let (figure, rest) = piece.split_once('<').expect("the element ends");
        let is_large = figure.trim().parse::<f64>().is_ok_and(|figure| figure >= 20.0);
        small.extend([BEGINS, if is_large { "19" } else { figure }, "<", rest]);
    }
    if small != text {
        let notes = read(name, &log).notes;
        assert!(notes.iter().any(|note| note.kind == LogNoteKind::FixVoid), "{name}: {notes:?}");
    }
    small.into_bytes()
}

#[test]
fn gpx_samples_have_what_another_parser_counts() {
    let folder = data("gpx-samples");
    let mut table = csv::Reader::from_path(folder.join("expected.csv")).expect("the table");
    let mut rows = 0;
    for row in table.records().map(Result::unwrap) {
        rows += 1;
        let name = &row[0];
        let count = |column: usize| row[column].parse::<usize>().unwrap();
        let found = read(name, &with_small_dilutions(name, fs::read(folder.join(name)).unwrap()));
        assert_eq!(found.fixes.len(), count(1), "{name}: points of tracks");
        assert_eq!(found.route_points.len(), count(2), "{name}: points of routes");
        assert_eq!(found.waypoints.len(), count(3), "{name}: waypoints");
        let mut points = [found.fixes.as_slice(), found.route_points.as_slice()].concat();
        points.sort_by_key(|point| point.place.byte);
        let with = |has: fn(&LoggedFix) -> bool| points.iter().filter(|fix| has(fix)).count();
        assert_eq!(with(|fix| fix.time.is_some()), count(4), "{name}: times");
        let stretches = points.last().map_or(0, |fix| fix.place.stretch as usize + 1);
        assert_eq!(stretches, count(5), "{name}: segments and routes with points");
        assert_eq!(with(|fix| fix.hdop.is_some()), count(6), "{name}: dilutions of precision");
        assert_eq!(with(|fix| fix.speed_m_per_s.is_some()), count(7), "{name}: speeds");
        if let Some(last) = points.last() {
            let degrees = |column: usize| row[column].parse::<f64>().unwrap();
            // both parsers read the same digits to the nearest double
            let read = [last.position.latitude().degrees(), last.position.longitude().degrees()];
            assert_eq!(
                read.map(f64::to_bits),
                [degrees(8), degrees(9)].map(f64::to_bits),
                "{name}: last point"
            );
        }
        assert!(found.notes.iter().all(|note| !note.kind.leaves_out()), "{name}: {:?}", found.notes);
    }
    assert_eq!(rows, 11);
}

#[test]
fn published_sentences_give_the_published_positions() {
    let mut table = csv::Reader::from_path(data("nmea").join("nmea_sentences.csv")).expect("the table");
    let mut rows = 0;
    for row in table.records().map(Result::unwrap) {
        rows += 1;
        let sentence = &row[0];
        let found = read("row", sentence.as_bytes());
        // the second row is about the checksum *47, which belongs to the sentence before it
        let (body, checksum) = sentence.split_once('*').unwrap();
        assert_eq!(checksum, &row[1], "{sentence}");
        let wrong = if row[5].contains("(*47)") { "47" } else { "00" };
        let refused = read("row", format!("{body}*{wrong}").as_bytes());
        assert!(refused.fixes.is_empty(), "{sentence}");
        assert_eq!(refused.notes[0].kind, LogNoteKind::ChecksumWrong, "{sentence}");
        if sentence.contains(",V,") {
            assert!(found.fixes.is_empty(), "{sentence}");
            assert_eq!(found.notes[0].kind, LogNoteKind::FixVoid, "{sentence}");
        }
        if row[3].is_empty() {
            continue;
        }
        let degrees = |column: usize| row[column].parse::<f64>().unwrap();
        let [fix] = found.fixes.as_slice() else { panic!("{sentence}: {found:?}") };
        assert!((fix.position.latitude().degrees() - degrees(3)).abs() < 1e-9, "{sentence}");
        assert!((fix.position.longitude().degrees() - degrees(4)).abs() < 1e-9, "{sentence}");
    }
    // one of the ten lines is the header
    assert_eq!(rows, 9);
}
