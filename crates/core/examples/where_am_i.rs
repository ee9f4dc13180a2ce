//! On which side of which line am I, and how sure is that?
//!
//!     cargo run -p takeline --example where_am_i

#![expect(clippy::print_stdout, reason = "this is what the example is for")]

use takeline::{AccuracyKind, Containment, Fix, HorizontalUncertainty, Position, Question, ZoneSet};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo-data/zones/marrowick.json");
    let zones = ZoneSet::from_geojson("marrowick.json", &std::fs::read(path)?)?;
    for warning in zones.warnings() {
        println!("mind: {warning}");
    }

    // a kayak in Lantern Reach, with a receiver that says "accurate to 5 m"
    let uncertainty = HorizontalUncertainty::given(5.0, AccuracyKind::P68)?;
    let position = Position::from_degrees(45.1150, -30.1750)?;
    let fix = Fix::new(position, uncertainty).at("2026-07-01T06:25:00Z".parse()?);
    let answer = zones.assess(&fix, &Question::default());

    println!("the water is {:?}", answer.verdict().water);
    for zone in &answer.zones {
        let side = match zone.containment {
            Containment::Inside => "inside",
            Containment::Outside => "outside",
            Containment::Undecided => "too near the line to tell, of",
        };
        print!("{side} {}", zone.name);
        if let (Some(distance), Some(nearest)) = (zone.signed_distance, zone.nearest) {
            let (metres, doubt) = (distance.metres().abs(), zone.uncertainty_95.metres());
            print!(": the line is {metres:.0} ± {doubt:.0} m off, towards {:.0}°", nearest.bearing.degrees());
        }
        println!(" ({})", zone.source.instrument);
    }
    Ok(())
}
