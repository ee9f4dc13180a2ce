//! One fix against a large file, read whole and prepared.

use std::ffi::OsStr;
use std::path::Path;

use super::feed::first_place;
use super::run_all::Run;
use crate::child::{self, Used};
use crate::failure::{Failure, read};
use crate::goal::Goal;
use crate::rounds::{Rounds, cpu_seconds};
use crate::sheet::{self, megabytes, time};
use crate::workload::PolygonFile;

pub(super) fn measure(run: &Run<'_>) -> Result<(), Failure> {
    whole_file(run)?;
    prepared(run)
}

fn whole_file(run: &Run<'_>) -> Result<(), Failure> {
    let peak = here(run, &run.zones)?.peak_bytes;
    let bytes = read(&run.zones)?;
    let mut wall_s = Vec::new();
    let rounds = Rounds::try_run(
        run.passes,
        &mut [
            &mut || {
                let used = here(run, &run.zones)?;
                wall_s.push(used.wall_s);
                Ok(used.cpu_s)
            },
            &mut || typed(&bytes),
        ],
    )?;
    let fastest_s = wall_s.iter().copied().fold(f64::INFINITY, f64::min);
    let size = megabytes(bytes.len() as f64);
    let what = format!("`here`, one fix against {size} of zones, over `serde_json` into typed coordinates");
    let own = format!(
        "{}; by the clock at best {}, peak {}",
        time(rounds.seconds(0)),
        time(fastest_s),
        megabytes(peak)
    );
    let goal = Some(Goal::at_most(2.5));
    sheet::row(("W4", &what), &own, &time(rounds.seconds(1)), (rounds.ratio(0, 1), goal));
    Ok(())
}

/// The same with an index beside a copy of the file.
fn prepared(run: &Run<'_>) -> Result<(), Failure> {
    let what = "`here` with the prepared index, ms by the clock";
    let folder = tempfile::tempdir()?;
    let zones = folder.path().join("zones.geojson");
    std::fs::copy(&run.zones, &zones).map_err(|error| Failure::at(&run.zones, error))?;
    let asked: [&OsStr; 3] = ["zones".as_ref(), "prepare".as_ref(), zones.as_os_str()];
    let making = match child::run(run.program, &asked, None) {
        Ok(making) => making,
        Err(refusal) => {
            sheet::left_out(("W4", what), &format!("no index can be prepared ({refusal})"));
            return Ok(());
        }
    };
    let rounds = Rounds::try_run(run.passes, &mut [&mut || Ok::<_, Failure>(here(run, &zones)?.wall_s)])?;
    let used = here(run, &zones)?;
    let own = format!("{}, peak {}", time(rounds.seconds(0)), megabytes(used.peak_bytes));
    let peer = format!("prepared once in {}", time(making.cpu_s));
    sheet::row(("W4", what), &own, &peer, (rounds.seconds(0) * 1e3, Some(Goal::at_most(50.0))));
    Ok(())
}

fn here(run: &Run<'_>, zones: &Path) -> Result<Used, Failure> {
    let (lat, lon) = first_place(&run.fixes).map_err(|error| Failure::at(&run.fixes, error))?;
    let mut asked: Vec<&OsStr> = ["here", &lat, &lon].map(OsStr::new).into();
    asked.extend([OsStr::new("--zones"), zones.as_os_str()]);
    asked.extend(["--time", "2025-06-15T15:06:40Z", "--format", "json"].map(OsStr::new));
    child::run(run.program, &asked, None)
}

fn typed(bytes: &[u8]) -> Result<f64, Failure> {
    let started = cpu_seconds();
    let file: PolygonFile = serde_json::from_slice(bytes)?;
    std::hint::black_box(&file);
    Ok(cpu_seconds() - started)
}
