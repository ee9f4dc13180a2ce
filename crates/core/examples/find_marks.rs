//! Which two marks on shore show the sides of a zone best?
//!
//!     cargo run -p takeline --example find_marks

#![expect(clippy::print_stdout, reason = "this is what the example is for")]

use takeline::transit::{Eye, PairQuestion, Stretch, find_pairs};
use takeline::{Metres, Position, ZoneSet, landmark_file};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let demo = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo-data");
    let bytes = std::fs::read(format!("{demo}/zones/marrowick.json"))?;
    let zones = ZoneSet::from_geojson("marrowick.json", &bytes)?;
    let bytes = std::fs::read(format!("{demo}/landmarks.geojson"))?;
    let marks = landmark_file::read("landmarks.geojson", &bytes)?;

    let cove = zones.zones().iter().position(|zone| zone.id.to_string() == "sallow-cove");
    let question = PairQuestion {
        launch: Position::from_degrees(45.1170, -30.1190)?,
        range: Metres::new(5000.0)?,
        reach: Stretch::new(Metres::new(100.0)?, Metres::new(3000.0)?)?,
        eye: Eye::default(),
        zone_number: cove.ok_or("there is no Sallow Cove")?,
        at_most: 2,
        day: Some("2026-07-05".parse()?),
    };
    for found in find_pairs(&zones, &marks.landmarks, &question)? {
        println!("the side that looks {}, {}", found.side.name.faces.code(), found.side.length);
        for pair in &found.pairs {
            let (front, rear) = (&pair.line.front().name, &pair.line.rear().name);
            println!("    {front} in line with {rear}: margin {}, clears: {:?}", pair.margin, pair.clears);
        }
    }
    Ok(())
}
