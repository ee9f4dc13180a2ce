//! The search for pairs among 500 landmarks against the demo zones.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use takeline::landmark::Landmark;
use takeline::transit::{Eye, PairQuestion, Stretch, find_pairs};
use takeline::{Metres, Position, ZoneSet};

fn zones() -> ZoneSet {
    let mut zones = Vec::new();
    for name in ["marrowick.json", "harbour-board.json"] {
        let path = format!("{}/../../demo-data/zones/{name}", env!("CARGO_MANIFEST_DIR"));
        let bytes = std::fs::read(path).expect("the demo zones are there");
        zones.extend(takeline::zone_file::read(name, &bytes).expect("they are sound").zones);
    }
    ZoneSet::new(zones)
}

/// The fractional parts of multiples of an irrational number lie evenly in 0 to 1.
fn spread(number: u32, irrational: f64) -> f64 {
    (f64::from(number) * irrational).fract()
}

/// Landmarks all over the isle and the waters about it, known to 3 m.
fn landmarks(count: u32) -> Vec<Landmark> {
    (0..count)
        .map(|number| {
            let lat_deg = 45.08 + 0.07 * spread(number, 0.618_033_988_7);
            let lon_deg = -30.16 + 0.10 * spread(number, 0.414_213_562_4);
            let place = Position::from_degrees(lat_deg, lon_deg).expect("is a place");
            let mut landmark = Landmark::at(&format!("mark {number}"), place);
            landmark.position_error_95 = Metres::new(3.0).expect("is finite");
            landmark.height = Metres::new(5.0 + 45.0 * spread(number, 0.732_050_807_6)).ok();
            landmark
        })
        .collect()
}

fn question(zone_number: usize) -> PairQuestion {
    let metres = |metres| Metres::new(metres).expect("is finite");
    PairQuestion {
        launch: Position::from_degrees(45.117, -30.119).expect("is a place"),
        range: metres(10_000.0),
        reach: Stretch::new(metres(100.0), metres(8_000.0)).expect("is a stretch"),
        eye: Eye::default(),
        zone_number,
        at_most: 10,
        day: None,
    }
}

fn find(criterion: &mut Criterion) {
    let (zones, landmarks) = (zones(), landmarks(500));
    let mut group = criterion.benchmark_group("find pairs, 500 landmarks, demo zones");
    group.sample_size(10);
    for id in ["sallow-cove", "curlew-pinnacle", "fulmar-bight", "lantern-reach"] {
        let number = zones.zones().iter().position(|zone| zone.id.0 == id).expect("is a demo zone");
        group.bench_function(id, |bencher| {
            bencher.iter(|| find_pairs(&zones, black_box(&landmarks), &question(number)));
        });
    }
    group.finish();
}

criterion_group!(benches, find);
criterion_main!(benches);
