//! Whole-process runs of `takeline transit`, from the start of the program to its last byte.

use std::hint::black_box;
use std::path::PathBuf;
use std::process::{Command, Stdio};

use criterion::{Criterion, criterion_group, criterion_main};

fn transit(command: &str, landmarks: &str) -> Command {
    let mut process = Command::new(env!("CARGO_BIN_EXE_takeline"));
    process.current_dir(PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../.."));
    process.args(["transit", command, "--landmarks", landmarks, "--zones", "demo-data/zones"]);
    process.args(["--time", "2026-07-05T08:00:00Z"]);
    process.stdout(Stdio::null()).stderr(Stdio::null());
    process
}

/// So many landmarks on a crooked grid within 6 km of the isle, each of another height and sureness.
fn landmarks(count: u32) -> String {
    let mark = |number: u32| {
        let (row, column) = (number / 25, number % 25);
        // steps that share no factor with the grid, so that no two rows are alike
        let (north, east) = (f64::from(number * 37 % 101) / 101.0, f64::from(number * 53 % 97) / 97.0);
        let latitude = 45.066 + 0.108 * (f64::from(row) + north) / f64::from(count.div_ceil(25));
        let longitude = -30.196 + 0.152 * (f64::from(column) + east) / 25.0;
        let (height_m, error_m, fixed) =
            (3 + number * 29 % 60, 1 + number * 17 % 20, !number.is_multiple_of(3));
        format!(
            r#"{{"type":"Feature","id":"m{number}","geometry":{{"type":"Point","coordinates":[{longitude:.7},{latitude:.7}]}},
"properties":{{"name":"Mark {number}","height_m":{height_m},"position_error_m":{error_m},"fixed":{fixed}}}}}"#
        )
    };
    let marks: Vec<String> = (0..count).map(mark).collect();
    format!(
        r#"{{"type":"FeatureCollection","takeline":{{"format":"takeline.landmarks/1","title":"Invented","edition":"1",
"datum":"WGS 84"}},"features":[{}]}}"#,
        marks.join(",\n")
    )
}

fn whole_process(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("takeline transit");
    group.sample_size(10);
    let asked = ["--front", "day-beacon", "--rear", "lone-pine", "--near-m", "100", "--far-m", "1400"];
    group.bench_function("check, demo line and zones", |bencher| {
        bencher.iter(|| {
            black_box(transit("check", "demo-data/landmarks.geojson").args(asked).status().expect("runs"));
        });
    });
    let folder = tempfile::tempdir().expect("there is room");
    let file = folder.path().join("landmarks.geojson");
    std::fs::write(&file, landmarks(500)).expect("there is room");
    let file = file.to_str().expect("is text");
    let asked = ["--zone", "sallow-cove", "--launch", "45.1170 -30.1190"];
    // a refusal would be quick
    let once = transit("find", file).args(asked).stdout(Stdio::piped()).output().expect("runs");
    assert!(once.stdout.starts_with(b"BEST"), "pairs are found");
    group.bench_function("find, 500 landmarks, demo zones", |bencher| {
        bencher.iter(|| black_box(transit("find", file).args(asked).status().expect("runs")));
    });
    group.finish();
}

criterion_group!(benches, whole_process);
criterion_main!(benches);
