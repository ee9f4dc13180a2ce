//! Any text at all is read as a position or refused; what is read is on the Earth and reads again when printed.
#![no_main]

use libfuzzer_sys::fuzz_target;
use takeline::{Latitude, Longitude, Position};

fuzz_target!(|data: &[u8]| {
    let text = String::from_utf8_lossy(data);
    let half = text.chars().count() / 2;
    let at = text.char_indices().nth(half).map_or(0, |(at, _)| at);
    let (left, right) = text.split_at(at);
    let _ = Latitude::parse(&text);
    let _ = Longitude::parse(&text);
    let _ = Position::parse_pair(left, right);
    match Position::parse(&text) {
        Ok(parsed) => {
            let latitude_deg = parsed.position.latitude().degrees();
            let longitude_deg = parsed.position.longitude().degrees();
            assert!((-90.0..=90.0).contains(&latitude_deg));
            assert!((-180.0..=180.0).contains(&longitude_deg));
            let printed = parsed.position.to_degrees_minutes();
            let again = Position::parse(&printed).expect("what is printed reads").position;
            assert!((again.latitude().degrees() - latitude_deg).abs() < 0.00051 / 60.0);
            assert!((again.longitude().degrees() - longitude_deg).abs() < 0.00051 / 60.0);
        }
        Err(error) => {
            assert!(!error.to_string().is_empty());
            for reading in error.readings() {
                assert!(Position::parse(reading).is_ok_and(|read| read.warnings.is_empty()), "{reading}");
            }
        }
    }
});
