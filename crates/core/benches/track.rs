//! The audit of a ten-hour track at 1 Hz against the demo zones.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use takeline::track::{Auditor, LogPlace, LoggedFix, TrackSettings};
use takeline::{GeodesicSegment, Metres, Position, TrueBearing, ZoneSet};

fn zones() -> ZoneSet {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo-data/zones/marrowick.json");
    let bytes = std::fs::read(path).expect("the demo zones are there");
    ZoneSet::new(takeline::zone_file::read("marrowick.json", &bytes).expect("they are sound").zones)
}

/// Round the isle and over its zones at 4 knots, a turn every ten minutes.
fn fixes(count: i32) -> Vec<LoggedFix> {
    let start: jiff::Timestamp = "2026-07-01T06:00:00Z".parse().expect("is a time");
    let mut here = Position::from_degrees(45.117, -30.119).expect("is a place");
    (0..count)
        .map(|second| {
            let turn = 40.0 * f64::from(second / 600) + 3.0 * f64::from(second % 7);
            let bearing = TrueBearing::from_degrees(turn).expect("is finite");
            let step = Metres::new(2.06).expect("is finite");
            here = GeodesicSegment::leaving(here, bearing, step).expect("is not negative").to();
            LoggedFix {
                position: here,
                time: Some(start + jiff::SignedDuration::from_secs(i64::from(second))),
                uncertainty: None,
                hdop: None,
                speed_m_per_s: None,
                time_between: None,
                jump_kn: None,
                place: LogPlace::default(),
            }
        })
        .collect()
}

fn audit(criterion: &mut Criterion) {
    let (zones, fixes) = (zones(), fixes(36_000));
    let mut group = criterion.benchmark_group("audit");
    group.sample_size(10);
    group.bench_function("36 000 fixes, demo zones", |bencher| {
        bencher.iter(|| {
            let mut auditor = Auditor::new(&zones, TrackSettings::default());
            for fix in &fixes {
                black_box(auditor.push(*fix));
            }
            auditor.finish()
        });
    });
    group.finish();
}

criterion_group!(benches, audit);
criterion_main!(benches);
