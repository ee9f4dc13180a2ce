//! Writes the page of a hand-made trip to standard output:
//! `cargo run --package takeline-report --example marrowick_page > page.html`.

mod trip;

use std::error::Error;
use std::io::Write;

use takeline_report::{CatchTable, TrackInput, TrackReport, track_page};

fn main() -> Result<(), Box<dyn Error>> {
    let (zones, audit) = trip::marrowick_trip()?;
    let texts = |texts: &[&str]| texts.iter().map(|text| (*text).to_owned()).collect::<Vec<_>>();
    let catches = CatchTable {
        columns: texts(&["Row", "Fish", "Time (UTC)", "Answer", "Because"]),
        rows: vec![
            texts(&["2", "mackerel", "2026-07-25 05:47", "keep", "outside every loaded zone by 390 m ±10 m"]),
            texts(&[
                "3",
                "pollack",
                "2026-07-25 06:00",
                "undecided",
                "4 m ±10 m from the line of Sallow Cove Reserve",
            ]),
        ],
    };
    let page = track_page(&TrackReport {
        undecided_because: &[],
        remarks: &[],
        audit: &audit,
        zones: &zones,
        input: TrackInput { path: "demo-data/tracks/sallow-cove.gpx", sha256: &"3f5a".repeat(16) },
        program_version: env!("CARGO_PKG_VERSION"),
        catches: Some(&catches),
    })?;
    std::io::stdout().write_all(page.as_bytes())?;
    Ok(())
}
