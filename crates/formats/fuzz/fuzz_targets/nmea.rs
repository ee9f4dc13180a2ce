//! Any bytes behind the beginning of an NMEA log are answered with items or with one error, and never with a panic.
#![no_main]

use libfuzzer_sys::fuzz_target;
use takeline_formats::{LogItem, TrackReader};

fuzz_target!(|bytes: &[u8]| {
    let log = [b"$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47\n".as_slice(), bytes].concat();
    for log in [log.as_slice(), bytes] {
        let Ok(mut reader) = TrackReader::open("fuzz", log) else { continue };
        let mut has_failed = false;
        for item in &mut reader {
            assert!(!has_failed, "an error ends the log");
            match item {
                Ok(LogItem::Fix(fix)) => {
                    assert!(fix.position.latitude().degrees().abs() <= 90.0);
                    assert!(fix.position.longitude().degrees().abs() <= 180.0);
                    assert!(fix.hdop.is_none_or(f64::is_finite) && fix.speed_m_per_s.is_none_or(f64::is_finite));
                    assert!(fix.place.line >= 1 && fix.place.byte < log.len() as u64);
                }
                Ok(LogItem::Note(note)) => assert!(note.count > 0 && note.text.len() < 2000),
                Ok(_) => {}
                Err(error) => {
                    assert!(!error.to_string().is_empty());
                    has_failed = true;
                }
            }
        }
        assert_eq!(reader.sha256().is_some(), !has_failed);
    }
});
