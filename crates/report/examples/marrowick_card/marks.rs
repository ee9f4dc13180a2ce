//! Marks on Marrowick, and what the library finds of their lines.

use std::error::Error;

use takeline::landmark::Landmark;
use takeline::transit::{RangeLine, Stretch, TransitQuestion, TransitReport};
use takeline::{Metres, Position, UncertaintySource, ZoneSet, landmark_file, zone_file};

type Outcome<T> = Result<T, Box<dyn Error>>;

const LANDMARKS: &[u8] = include_bytes!("../../../../demo-data/landmarks.geojson");
const ZONES: &[u8] = include_bytes!("../../../../demo-data/zones/marrowick.json");
const HARBOUR_BOARD: &[u8] = include_bytes!("../../../../demo-data/zones/harbour-board.json");
/// A summer morning, about two hours after sunrise there.
const TIME: &str = "2026-07-05T10:00:00Z";

/// The day beacon and the lone pine: a line that keeps north of Sallow Cove Reserve.
pub(crate) fn marrowick_marks() -> Outcome<(ZoneSet, TransitReport)> {
    let landmarks = landmark_file::read("demo-data/landmarks.geojson", LANDMARKS)?;
    let mark = |name| landmarks.find(name).cloned();
    checked(&RangeLine::through(mark("day-beacon")?, mark("lone-pine")?)?)
}

/// Two posts 30 m apart: a line that looks good on a map, runs slantwise into the reserve, and opens too late to show it.
pub(crate) fn misleading_marks() -> Outcome<(ZoneSet, TransitReport)> {
    let front = post("White Post", (45.124_45, -30.131_00), 3.0)?;
    // 30 m on 084°
    let rear = post("Red Post", (45.124_478, -30.130_621), 4.0)?;
    checked(&RangeLine::through(front, rear)?)
}

fn post(name: &str, at: (f64, f64), height_m: f64) -> Outcome<Landmark> {
    Ok(Landmark {
        kind: Some("post".into()),
        position_error_95: Metres::new(1.0)?,
        position_error_source: UncertaintySource::Given,
        height: Some(Metres::new(height_m)?),
        fixed: Some(true),
        last_confirmed: Some(jiff::civil::date(2026, 6, 21)),
        ..Landmark::at(name, Position::from_degrees(at.0, at.1)?)
    })
}

fn checked(line: &RangeLine) -> Outcome<(ZoneSet, TransitReport)> {
    let mut zones = zone_file::read("demo-data/zones/marrowick.json", ZONES)?.zones;
    zones.extend(zone_file::read("demo-data/zones/harbour-board.json", HARBOUR_BOARD)?.zones);
    let zones = ZoneSet::new(zones);
    let question = TransitQuestion {
        launch: Some(Position::from_degrees(45.1170, -30.1190)?),
        time: Some(TIME.parse()?),
        ..TransitQuestion::about(Stretch::new(Metres::new(100.0)?, Metres::new(1400.0)?)?)
    };
    let report = line.check(&zones, &question);
    Ok((zones, report))
}
