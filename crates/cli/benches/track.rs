//! Whole-process runs of `takeline track`: how long ten hours at 1 Hz take, and that memory does not grow with a log.
//!
//! The peak of memory is read from `/proc` while the program runs, so that part needs Linux.

use std::fmt::Write as _;
use std::hint::black_box;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

use criterion::{Criterion, criterion_group, criterion_main};

/// A GPX log of so many fixes at 1 Hz and 4 knots, a turn every ten minutes, about the demo isle.
fn log(fixes: u32) -> String {
    let mut gpx = String::from(
        r#"<?xml version="1.0"?><gpx version="1.1" creator="invented for Takeline"><trk><trkseg>"#,
    );
    let start: jiff::Timestamp = "2026-07-01T06:00:00Z".parse().expect("is a time");
    let (mut lat, mut lon) = (45.117, -30.119);
    for second in 0..fixes {
        let turn = f64::from(40 * (second / 600) % 360 + 3 * (second % 7)).to_radians();
        lat += 2.06 * turn.cos() / 111_130.0;
        lon += 2.06 * turn.sin() / 78_800.0;
        let time = start + jiff::SignedDuration::from_secs(i64::from(second));
        writeln!(gpx, r#"<trkpt lat="{lat:.7}" lon="{lon:.7}"><time>{time}</time></trkpt>"#)
            .expect("writes to memory");
    }
    gpx.push_str("</trkseg></trk></gpx>");
    gpx
}

fn track(file: &Path, zones: &str) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_takeline"));
    command.current_dir(PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../.."));
    command.args(["track", "--format", "json", "--zones", zones]).arg(file);
    command.stdout(Stdio::null()).stderr(Stdio::null());
    command
}

fn ten_hours(criterion: &mut Criterion) {
    let folder = tempfile::tempdir().expect("there is room");
    let file = folder.path().join("ten-hours.gpx");
    std::fs::write(&file, log(36_000)).expect("there is room");
    let mut group = criterion.benchmark_group("takeline track");
    group.sample_size(10);
    group.bench_function("36 000 fixes, demo zones", |bencher| {
        bencher.iter(|| black_box(track(&file, "demo-data/zones").status().expect("runs")));
    });
    group.finish();
}

/// One zone far from the track, so that nothing happens that an audit would have to remember.
fn memory(_criterion: &mut Criterion) {
    let folder = tempfile::tempdir().expect("there is room");
    for fixes in [100_000, 1_000_000] {
        let file = folder.path().join(format!("{fixes}.gpx"));
        std::fs::write(&file, log(fixes)).expect("there is room");
        let mut child = track(&file, "demo-data/zones/harbour-board.json").spawn().expect("starts");
        let status = format!("/proc/{}/status", child.id());
        let mut peak = String::from("not known");
        while child.try_wait().expect("can be asked").is_none() {
            let text = std::fs::read_to_string(&status).unwrap_or_default();
            if let Some(line) = text.lines().find_map(|line| line.strip_prefix("VmHWM:")) {
                line.trim().clone_into(&mut peak);
            }
            std::thread::sleep(Duration::from_millis(20));
        }
        #[expect(clippy::print_stdout, reason = "the figure that this part of the bench is for")]
        {
            println!("{fixes} fixes: peak of memory {peak}");
        }
    }
}

criterion_group!(benches, ten_hours, memory);
criterion_main!(benches);
