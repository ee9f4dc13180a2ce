//! Shapes that are hard: a large zone beside a sparse log, combs, very many zones.

use std::hint::black_box;
use std::path::Path;

use jiff::Timestamp;
use takeline::track::{Auditor, TrackSettings};
use takeline::{Position, ZoneSet};

use crate::failure::Failure;
use crate::goal::Goal;
use crate::memory::measured;
use crate::rounds::{Rounds, seconds_of};
use crate::sample_log::logged;
use crate::sheet::{self, megabytes, time};

/// The eastern line of the zones, and the latitude of their middle.
const LINE_LON_DEG: f64 = -30.0;
const MIDDLE_LAT_DEG: f64 = 45.0;
/// Fixes of ten hours, one a minute.
const MINUTES: i32 = 600;
/// A log of so few fixes is gone through so often in one round.
const REPEATS: usize = 20;
/// Zones of a country with very many.
const SMALL_ZONES: u32 = 100_000;

/// Latitude and longitude.
type Ring = Vec<(f64, f64)>;

pub(crate) fn run(passes: usize) -> Result<(), Failure> {
    let done = format!(
        "Invented shapes at 45°N 030°W; one thread, its own processor time; contenders take turns, {passes} rounds, medians."
    );
    sheet::begin("Shapes", &done);
    sparse_log(passes)?;
    combs(passes)?;
    small_zones()
}

fn sparse_log(passes: usize) -> Result<(), Failure> {
    let log = beside_the_line()?;
    let (large, small) = (zones(&[square(10.0)])?, zones(&[square(0.01)])?);
    let rounds = Rounds::run(passes, &mut [&mut || audited(&large, &log), &mut || audited(&small, &log)]);
    let (own, peer) = (time(rounds.seconds(0)), format!("{} beside 0.01°", time(rounds.seconds(1))));
    let what = format!("audit of a fix a minute for ten hours beside a zone of 10°, {REPEATS} times");
    sheet::row(("sparse log", &what), &own, &peer, (rounds.ratio(0, 1), Some(Goal::at_most(5.0))));
    Ok(())
}

fn audited(zones: &ZoneSet, log: &[(Position, Timestamp)]) -> f64 {
    seconds_of(|| {
        for _ in 0..REPEATS {
            let mut auditor = Auditor::new(zones, TrackSettings::default());
            for (at, made) in log {
                black_box(auditor.push(logged(*at, *made)));
            }
            black_box(auditor.finish());
        }
    })
}

/// Up and down at 1 m/s, some 200 m east of the line.
fn beside_the_line() -> Result<Vec<(Position, Timestamp)>, Failure> {
    let place = |minute: i32| {
        let turn = f64::from((minute % 16 - 8).abs()) / 8.0; // 0 to 1 and back in 16 minutes
        let position = Position::from_degrees(MIDDLE_LAT_DEG + (turn - 0.5) * 0.004, LINE_LON_DEG + 0.0025)?;
        Ok((position, Timestamp::from_second(1_750_000_000 + 60 * i64::from(minute))?))
    };
    (0..MINUTES).map(place).collect()
}

/// A square west of the line, so many degrees high and wide.
fn square(size_deg: f64) -> Ring {
    let (south, north) = (MIDDLE_LAT_DEG - size_deg / 2.0, MIDDLE_LAT_DEG + size_deg / 2.0);
    let west = LINE_LON_DEG - size_deg;
    vec![(south, west), (south, LINE_LON_DEG), (north, LINE_LON_DEG), (north, west)]
}

/// Loading a ring of long narrow teeth, whose boxes all lie across each other.
fn combs(passes: usize) -> Result<(), Failure> {
    let counts = [2_000, 4_000, 8_000, 16_000, 32_000];
    let files: Vec<String> = counts.iter().map(|teeth| zone_file(&[comb(*teeth)])).collect();
    let seconds: Result<Vec<f64>, Failure> = files.iter().map(|file| load_seconds(file, passes)).collect();
    for (counts, seconds) in counts.windows(2).zip(seconds?.windows(2)) {
        let what =
            format!("zone file of {} teeth, over {}; near linear read as at most 2.5", counts[1], counts[0]);
        let goal = Some(Goal::at_most(2.5).stretch(2.2));
        sheet::row(("comb", &what), &time(seconds[1]), &time(seconds[0]), (seconds[1] / seconds[0], goal));
    }
    Ok(())
}

fn load_seconds(file: &str, passes: usize) -> Result<f64, Failure> {
    zones_of(file)?;
    let rounds = Rounds::run(passes, &mut [&mut || seconds_of(|| zones_of(file).is_ok())]);
    Ok(rounds.seconds(0))
}

/// Teeth 5 km long side by side, pointing north, in all 0.4° wide.
fn comb(teeth: u32) -> Ring {
    let width_deg = 0.4 / f64::from(teeth);
    let tooth = |number: u32| {
        let west = LINE_LON_DEG + f64::from(number) * width_deg;
        [
            (MIDDLE_LAT_DEG, west),
            (MIDDLE_LAT_DEG + 0.045, west + 0.25 * width_deg),
            (MIDDLE_LAT_DEG + 0.045, west + 0.5 * width_deg),
            (MIDDLE_LAT_DEG, west + 0.75 * width_deg),
        ]
    };
    let back = [(MIDDLE_LAT_DEG - 0.01, LINE_LON_DEG + 0.4), (MIDDLE_LAT_DEG - 0.01, LINE_LON_DEG)];
    (0..teeth).flat_map(tooth).chain(back).collect()
}

/// Memory that a file of very many small zones takes.
fn small_zones() -> Result<(), Failure> {
    let rings: Vec<Ring> = (0..SMALL_ZONES).map(small).collect();
    let folder = tempfile::tempdir()?;
    let path = folder.path().join("zones.geojson");
    let text = zone_file(&rings);
    write(&path, &text)?;
    let memory = measured("zone-file", &path)?;
    let what = format!(
        "peak MB of a process that loads {SMALL_ZONES} zones of 4 vertices, its file of {} in memory",
        megabytes(text.len() as f64)
    );
    let own = format!("{}; {} of them zones", megabytes(memory.peak), megabytes(memory.made));
    sheet::row(("many zones", &what), &own, "–", (memory.peak / 1e6, Some(Goal::at_most(250.0))));
    Ok(())
}

fn write(path: &Path, text: &str) -> Result<(), Failure> {
    std::fs::write(path, text).map_err(|error| Failure::at(path, error))
}

/// One of many squares of some 100 m in rows of 400.
fn small(number: u32) -> Ring {
    let (south, west) =
        (30.0 + f64::from(number / 400) * 0.01, LINE_LON_DEG + f64::from(number % 400) * 0.01);
    vec![(south, west), (south, west + 0.001), (south + 0.001, west + 0.001), (south + 0.001, west)]
}

fn zones(rings: &[Ring]) -> Result<ZoneSet, Failure> {
    zones_of(&zone_file(rings))
}

fn zones_of(file: &str) -> Result<ZoneSet, Failure> {
    Ok(ZoneSet::new(takeline::zone_file::read("zones.geojson", file.as_bytes())?.zones))
}

/// A zone file of closed zones with geodesic edges.
pub(crate) fn zone_file(rings: &[Ring]) -> String {
    let feature = |(number, ring): (usize, &Ring)| {
        let places: Vec<String> =
            ring.iter().chain(ring.first()).map(|(lat, lon)| format!("[{lon:.9},{lat:.9}]")).collect();
        format!(
            r#"{{"type":"Feature","id":"zone-{number}","properties":{{"name":"zone {number}","edges":"geodesic","take":"none","source":{{"instrument":"generated"}}}},"geometry":{{"type":"Polygon","coordinates":[[{}]]}}}}"#,
            places.join(",")
        )
    };
    let features: Vec<String> = rings.iter().enumerate().map(feature).collect();
    format!(
        r#"{{"type":"FeatureCollection","takeline":{{"format":"takeline.zones/1","datum":"WGS 84","time_zone":"UTC"}},"features":[{}]}}"#,
        features.join(",\n")
    )
}
