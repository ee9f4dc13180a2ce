//! Any bytes given to the zone file reader are answered with zones or with faults, and never with a panic.
#![no_main]

use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    match takeline::zone_file::read("fuzz.json", bytes) {
        Ok(loaded) => assert!(!loaded.zones.is_empty()),
        Err(refused) => assert!(!refused.faults.is_empty() && !refused.to_string().is_empty()),
    }
});
