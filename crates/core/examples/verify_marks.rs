//! Two marks in line: do they show the boundary, all along the stretch where they will be used?
//!
//!     cargo run -p takeline --example verify_marks

#![expect(clippy::print_stdout, reason = "this is what the example is for")]

use takeline::transit::{RangeLine, Stretch, TransitQuestion};
use takeline::{Metres, Tristate, ZoneSet, landmark_file};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let demo = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo-data");
    let bytes = std::fs::read(format!("{demo}/zones/marrowick.json"))?;
    let zones = ZoneSet::from_geojson("marrowick.json", &bytes)?;
    let bytes = std::fs::read(format!("{demo}/landmarks.geojson"))?;
    let marks = landmark_file::read("landmarks.geojson", &bytes)?;

    let line = RangeLine::through(marks.find("day-beacon")?.clone(), marks.find("lone-pine")?.clone())?;
    let stretch = Stretch::new(Metres::new(100.0)?, Metres::new(1400.0)?)?;
    let mut question = TransitQuestion::about(stretch);
    question.time = Some("2026-07-05T10:00:00Z".parse()?);
    let report = line.check(&zones, &question);

    let clears = match report.clears {
        Tristate::Yes => "who keeps the marks in line stays outside every zone",
        Tristate::No => "who keeps the marks in line comes into a zone",
        Tristate::Undecided => "whether the marks keep clear of every zone is not settled",
    };
    println!("{clears}; look towards {:.0}°", report.bearing.degrees());
    for point in &report.sensitivity {
        if let Some(offset) = point.offset_at_threshold {
            println!(
                "{} from the front mark the eye sees {} off the line",
                point.distance_from_front, offset
            );
        }
    }
    Ok(())
}
