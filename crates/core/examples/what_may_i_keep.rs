//! What may I keep here, under which conditions, and what would settle what is open?
//!
//!     cargo run -p takeline --example what_may_i_keep

#![expect(clippy::print_stdout, reason = "this is what the example is for")]

use takeline::rule::Access;
use takeline::{Fix, HorizontalUncertainty, Position, Question, TakeAnswer, ZoneSet};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo-data/zones/marrowick.json");
    let zones = ZoneSet::from_geojson("marrowick.json", &std::fs::read(path)?)?;

    // in the reserve where only a few bait species may be taken; no accuracy is known, so 10 m are assumed
    let position = Position::from_degrees(45.1150, -30.1750)?;
    let fix = Fix::new(position, HorizontalUncertainty::assumed()).at("2026-07-01T06:25:00Z".parse()?);
    let question = Question::default().fish("sprat").fish("pollack").fish("whitebait").by(Access::Boat);
    let answer = zones.assess(&fix, &question);

    for fish in &answer.take {
        let words = match fish.answer {
            TakeAnswer::Keep => "may be kept, if the conditions are met",
            TakeAnswer::Release => "has to go back",
            TakeAnswer::Undecided => "is undecided: do not keep it",
            TakeAnswer::Unzoned => "is in no loaded rule; other rules may apply",
        };
        println!("{} {words}", fish.asked);
        println!("    because {:?}", fish.because);
        println!("    if {:?}", fish.conditions);
        println!("    settled by {:?}", fish.settle);
    }
    Ok(())
}
