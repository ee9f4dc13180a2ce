//! Any bytes given to the landmark file reader are answered with landmarks or with faults, and never with a panic.
#![no_main]

use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    match takeline::landmark_file::read("fuzz.geojson", bytes) {
        Ok(loaded) => {
            for landmark in &loaded.landmarks {
                assert_eq!(loaded.find(&landmark.id.0).map(|found| &found.id), Ok(&landmark.id));
            }
            assert!(!loaded.landmarks.is_empty());
        }
        Err(refused) => assert!(!refused.faults.is_empty() && !refused.to_string().is_empty()),
    }
});
