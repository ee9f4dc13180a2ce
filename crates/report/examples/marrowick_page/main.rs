//! Writes the page of a hand-made trip to standard output:
//! `cargo run --package takeline-report --example marrowick_page > page.html`.

mod trip;

use std::error::Error;
use std::io::Write;

use takeline::track::{CatchEntry, CatchFinding, CatchPosition, Reason};
use takeline::{TakeAnswer, assess};
use takeline_report::words::English;
use takeline_report::{AuditInput, AuditReport, InputKind, TrackDocument, track_page};

fn main() -> Result<(), Box<dyn Error>> {
    let (zones, audit) = trip::marrowick_trip()?;
    let caught = |row, asked: &str, time: &str, answer, because| {
        Ok::<_, Box<dyn Error>>(CatchFinding {
            entry: CatchEntry { time: Some(time.parse()?), ..CatchEntry::named(row, asked) },
            position: CatchPosition::Unknown { before: None, after: None },
            uncertainty: None,
            answer,
            because: vec![Reason::from(because)],
            conditions: Vec::new(),
            settle: Vec::new(),
            bags: Vec::new(),
            made_in: Vec::new(),
            carried: Vec::new(),
            is_lowered_by_carrying: false,
        })
    };
    let near = assess::Reason::LineWithinDoubt {
        zone: "Sallow Cove Reserve".to_owned(),
        signed_distance_m: 4.0,
        uncertainty_95_m: 10.0,
    };
    let catches = [
        caught(2, "mackerel", "2026-07-25T05:47:00Z", TakeAnswer::Keep, assess::Reason::NoZoneApplies)?,
        caught(3, "pollack", "2026-07-25T06:00:00Z", TakeAnswer::Undecided, near)?,
    ];
    let report = AuditReport {
        input: AuditInput {
            path: "demo-data/tracks/sallow-cove.gpx".to_owned(),
            sha256: Some("3f5a".repeat(16)),
            kind: InputKind::Log,
        },
        audit: &audit,
        zones: &zones,
        notes: Vec::new(),
        catches: Some(&catches),
        catch_rows_unread: 0,
        command: "takeline track demo-data/tracks/sallow-cove.gpx".to_owned(),
        trimmed: None,
    };
    let page = track_page(&TrackDocument::of(&report, &English))?;
    std::io::stdout().write_all(page.as_bytes())?;
    Ok(())
}
