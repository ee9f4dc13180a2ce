//! Whole-process runs of `takeline here`, from the start of the program to its last byte.

use std::fmt::Write as _;
use std::hint::black_box;
use std::io::Write as _;
use std::path::PathBuf;
use std::process::{Command, Stdio};

use criterion::{Criterion, criterion_group, criterion_main};

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn here(zones: &str) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_takeline"));
    command.current_dir(root()).args(["here", "--time", "2026-07-01T10:00:00Z", "--zones", zones]);
    command.stdout(Stdio::null()).stderr(Stdio::null());
    command
}

/// Rows on a grid over the demo zones.
fn rows(count: usize) -> String {
    let mut rows = String::from("lat,lon\n");
    for row in 0..count {
        let (north, east) = (row % 100, row / 100 % 100);
        writeln!(rows, "45.{:04},-30.{:04}", 40 + 20 * north, 400 + 16 * east).expect("writes to memory");
    }
    rows
}

fn batch(zones: &str, rows: &str) {
    let mut child = here(zones).args(["--fixes", "-"]).stdin(Stdio::piped()).spawn().expect("starts");
    child.stdin.take().expect("is piped").write_all(rows.as_bytes()).expect("reads its input");
    black_box(child.wait().expect("ends"));
}

/// A zone file of so many zones with 60 vertices each on a grid of islands; 3 000 of them are 7 MB.
fn many_zones(count: u32) -> String {
    let zone = |number: u32| {
        let (lat, lon) = (40.0 + 0.1 * f64::from(number / 60), -35.0 + 0.15 * f64::from(number % 60));
        let vertex = |corner: u32| {
            let turn = f64::from(corner) * std::f64::consts::TAU / 60.0;
            let reach = 0.03 * (1.0 + 0.2 * (5.0 * turn).sin());
            format!("[{:.7},{:.7}]", lon + reach * 1.4 * turn.cos(), lat + reach * turn.sin())
        };
        let ring: Vec<String> = (0..60).chain([0]).map(vertex).collect();
        format!(
            r#"{{"type":"Feature","id":"z{number}","geometry":{{"type":"Polygon","coordinates":[[{}]]}},
"properties":{{"name":"Zone {number}","edges":"lonlat","take":"none","source":{{"instrument":"invented"}}}}}}"#,
            ring.join(",")
        )
    };
    let zones: Vec<String> = (0..count).map(zone).collect();
    format!(
        r#"{{"type":"FeatureCollection","takeline":{{"format":"takeline.zones/1","datum":"WGS 84","time_zone":"UTC",
"taxa":[],"groups":[]}},"features":[{}]}}"#,
        zones.join(",\n")
    )
}

fn whole_process(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("takeline here");
    group.sample_size(10);
    group.bench_function("one fix, demo zones", |bencher| {
        bencher
            .iter(|| black_box(here("demo-data/zones").args(["45.117", "-30.119"]).status().expect("runs")));
    });
    let rows = rows(10_000);
    group.bench_function("10 000 rows, demo zones", |bencher| {
        bencher.iter(|| batch("demo-data/zones", &rows));
    });
    let folder = tempfile::tempdir().expect("there is room");
    let file = folder.path().join("many.json");
    std::fs::write(&file, many_zones(3_000)).expect("there is room");
    let file = file.to_str().expect("is text").to_owned();
    group.bench_function("one fix, 3 000 zones of 60 vertices", |bencher| {
        bencher.iter(|| black_box(here(&file).args(["45.117", "-30.119"]).status().expect("runs")));
    });
    group.finish();
}

criterion_group!(benches, whole_process);
criterion_main!(benches);
