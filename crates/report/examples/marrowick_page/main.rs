//! Writes the page of a hand-made trip to standard output:
//! `cargo run --package takeline-report --example marrowick_page > page.html`.

mod trip;

use std::error::Error;
use std::io::Write;

use takeline::TakeAnswer;
use takeline_report::{AuditInput, AuditReport, CatchAnswer, InputKind, TrackDocument, track_page};

fn main() -> Result<(), Box<dyn Error>> {
    let (zones, audit) = trip::marrowick_trip()?;
    let caught = |row, asked: &str, time: &str, answer, because: &str| {
        Ok::<_, Box<dyn Error>>(CatchAnswer {
            row,
            asked: Some(asked.to_owned()),
            time: Some(time.parse()?),
            position: None,
            contradicted: None,
            answer,
            because: vec![because.to_owned()],
            carried: Vec::new(),
            is_lowered_by_carrying: false,
        })
    };
    let catches = vec![
        caught(
            2,
            "mackerel",
            "2026-07-25T05:47:00Z",
            TakeAnswer::Keep,
            "outside every loaded zone by 390 m ±10 m",
        )?,
        caught(
            3,
            "pollack",
            "2026-07-25T06:00:00Z",
            TakeAnswer::Undecided,
            "4 m ±10 m from the line of Sallow Cove Reserve",
        )?,
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
        catches: Some(catches),
        command: "takeline track demo-data/tracks/sallow-cove.gpx".to_owned(),
        trimmed: None,
    };
    let page = track_page(&TrackDocument::of(&report))?;
    std::io::stdout().write_all(page.as_bytes())?;
    Ok(())
}
