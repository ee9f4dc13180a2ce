//! The corpus made for this project, and the printed coordinates of real regulations.

use crate::{Latitude, Longitude, Position};

const CORPUS: &str = include_str!("../../../../tests/data/position-text/corpus.tsv");
const REGULATIONS: &str = include_str!("../../../../tests/data/regulations/vertices.csv");

/// Degrees; see the README beside each file.
const TOLERANCE_DEG: f64 = 1e-9;

fn check_line(line: &str) -> Result<(), String> {
    let columns: Vec<&str> = line.split('\t').collect();
    let [text, latitude, longitude, reason] = columns.as_slice() else {
        return Err(format!("{} columns", columns.len()));
    };
    match (Position::parse(text), *latitude) {
        (Err(error), "refuse") => {
            let kind = format!("{:?}", error.kind());
            let name = kind.split([' ', '{']).next().unwrap_or_default();
            (name == *reason).then_some(()).ok_or(format!("refused as {name}: {error}"))
        }
        (Ok(read), "refuse") => Err(format!("read as {}", read.position)),
        (Err(error), _) => Err(format!("refused: {error}")),
        (Ok(read), _) => {
            let off_deg = |expected: &str, got: f64| (expected.parse::<f64>().unwrap() - got).abs();
            if off_deg(latitude, read.position.latitude().degrees()) > TOLERANCE_DEG
                || off_deg(longitude, read.position.longitude().degrees()) > TOLERANCE_DEG
            {
                return Err(format!("read as {}", read.position.to_decimal_degrees(10)));
            }
            (reason.starts_with("warn:") != read.warnings.is_empty())
                .then_some(())
                .ok_or(format!("warnings {:?}", read.warnings))
        }
    }
}

#[test]
fn every_line_of_the_corpus_is_read_or_refused_for_its_reason() {
    let lines: Vec<&str> = CORPUS.lines().skip(1).collect();
    assert_eq!(lines.len(), 318, "no line may be lost");
    let wrong: Vec<String> = lines
        .iter()
        .filter_map(|line| check_line(line).err().map(|fault| format!("{line}\n    {fault}")))
        .collect();
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), lines.len(), wrong.join("\n"));
}

/// Reads one comma-separated line with doubled quotes, as the file of printed coordinates has them.
fn cells(line: &str) -> Vec<String> {
    let mut cells = vec![String::new()];
    let mut quoted = false;
    let mut characters = line.chars().peekable();
    while let Some(character) = characters.next() {
        match character {
            '"' if quoted && characters.peek() == Some(&'"') => {
                characters.next();
                cells.last_mut().unwrap().push('"');
            }
            '"' => quoted = !quoted,
            ',' if !quoted => cells.push(String::new()),
            _ => cells.last_mut().unwrap().push(character),
        }
    }
    cells
}

#[test]
fn every_printed_coordinate_of_the_regulations_is_read_to_a_billionth_of_a_degree() {
    let mut count = 0;
    for line in REGULATIONS.lines().skip(1) {
        let cells = cells(line);
        let [_, _, latitude, longitude, latitude_deg, longitude_deg] = cells.as_slice() else {
            panic!("{line}");
        };
        let near = |got: f64, expected: &str| (got - expected.parse::<f64>().unwrap()).abs() <= TOLERANCE_DEG;
        let alone_latitude = Latitude::parse(latitude).unwrap();
        let alone_longitude = Longitude::parse(longitude).unwrap();
        assert!(near(alone_latitude.latitude.degrees(), latitude_deg), "{line}");
        assert!(near(alone_longitude.longitude.degrees(), longitude_deg), "{line}");
        for pair in [format!("{latitude} {longitude}"), format!("{latitude}, {longitude}")] {
            let read = Position::parse(&pair).unwrap_or_else(|error| panic!("{pair}: {error}"));
            assert!(near(read.position.latitude().degrees(), latitude_deg), "{pair}");
            assert!(near(read.position.longitude().degrees(), longitude_deg), "{pair}");
            assert!(read.warnings.is_empty(), "{pair}: a clean text gets no warning");
        }
        count += 1;
    }
    assert_eq!(count, 128);
}
