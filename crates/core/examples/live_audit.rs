//! Follows a boat fix by fix, as an app does, and looks back at the trip when it ends.
//!
//!     cargo run -p takeline --example live_audit

#![expect(clippy::print_stdout, reason = "this is what the example is for")]

use takeline::jiff::{SignedDuration, Timestamp};
use takeline::track::{Auditor, Certainty, LoggedFix, TrackEvent, TrackSettings};
use takeline::{Position, ZoneSet};

/// What the app keeps between two fixes. It borrows nothing.
struct App {
    zones: ZoneSet,
    auditor: Auditor,
}

impl App {
    fn on_fix(&mut self, fix: LoggedFix) {
        for event in self.auditor.push(fix) {
            // first possible, and once more when the boat is surely inside
            if let TrackEvent::Entered { zone_number, certainty, at, .. } = &event {
                let zone = &self.zones.zones()[*zone_number];
                let how = if *certainty == Certainty::Certain { "is" } else { "may be" };
                println!("the boat {how} in {} at {:?}", zone.name, at.time);
            } else if let TrackEvent::Left(visit) = &event {
                println!("the boat has left {}", visit.zone);
            }
        }
    }
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo-data/zones/marrowick.json");
    let zones = ZoneSet::from_geojson("marrowick.json", &std::fs::read(path)?)?;
    let mut app = App { auditor: Auditor::new(&zones, TrackSettings::default()), zones };

    // west from the beach at Sallow Cove, at about three knots
    let start: Timestamp = "2026-07-01T05:30:00Z".parse()?;
    for step in 0..180_u32 {
        let position = Position::from_degrees(45.1170, -30.1190 - f64::from(step) * 2e-4)?;
        let time = start.checked_add(SignedDuration::from_secs(i64::from(step) * 10))?;
        app.on_fix(LoggedFix::new(position).at(time));
    }

    let audit = app.auditor.finish();
    println!("{:.0} m in all", audit.path.metres());
    for visit in &audit.visits {
        println!("{}: a visit from {:?} to {:?}", visit.zone, visit.entered().time, visit.left().time);
    }
    Ok(())
}
