//! Writes the card of the day beacon and the lone pine to standard output:
//! `cargo run --package takeline-report --example marrowick_card > card.html`.
//!
//! `misleading` after `--` takes two posts that stand too near to each other; `text` or `svg` after that makes the sketch.

mod marks;

use std::error::Error;
use std::io::Write;

use takeline_report::words::English;
use takeline_report::{CardInput, TransitDocument, transit_card, transit_sketch_svg, transit_sketch_text};

const BEACON_AND_PINE: &str = "takeline transit check --landmarks demo-data/landmarks.geojson --front day-beacon --rear lone-pine \
     --near-m 100 --far-m 1400 --launch \"45.1170 -30.1190\" --zones demo-data/zones --time 2026-07-05T10:00:00Z \
     --card card.html";
const MISLEADING: &str = "takeline transit check --front \"45.12445 -30.13100\" --rear \"45.124478 -30.130621\" --front-height-m 3 \
     --rear-height-m 4 --mark-error-m 1 --near-m 100 --far-m 1400 --launch \"45.1170 -30.1190\" \
     --zones demo-data/zones --time 2026-07-05T10:00:00Z --card card.html";

fn main() -> Result<(), Box<dyn Error>> {
    let asked = std::env::args().nth(1);
    let (zones, report) = match asked.as_deref() {
        Some("misleading") => marks::misleading_marks()?,
        _ => marks::marrowick_marks()?,
    };
    let command = if asked.as_deref() == Some("misleading") { MISLEADING } else { BEACON_AND_PINE };
    let document = TransitDocument::new(&report, &English);
    let written = match std::env::args().nth(2).as_deref() {
        Some("text") => transit_sketch_text(&document, &zones, 40),
        Some("svg") => transit_sketch_svg(&document, &zones),
        _ => {
            let input = CardInput { zones: &zones, command, program_version: env!("CARGO_PKG_VERSION") };
            transit_card(&document, &input)?
        }
    };
    std::io::stdout().write_all(written.as_bytes())?;
    Ok(())
}
