use std::ffi::OsStr;
use std::path::{Path, PathBuf};

use super::{here, threads, track};
use crate::arguments::ProgramArguments;
use crate::failure::Failure;
use crate::sheet;

/// The boats of the workloads go at up to 9 m/s and wander besides. A long log that shows so much only late would be refused
/// with the program's own 12 kn.
pub(super) const TOP_SPEED: [&str; 2] = ["--top-speed-kn", "20"];

/// The program, a workload and how often.
#[derive(Debug, Clone)]
pub(super) struct Run<'a> {
    pub(super) program: &'a Path,
    pub(super) zones: PathBuf,
    pub(super) fixes: PathBuf,
    pub(super) log: PathBuf,
    pub(super) passes: usize,
}

/// Measures what there are workloads for. Memory comes first: the system counts for a new process at least what this one
/// holds, so nothing large may have been read yet.
pub(crate) fn run(asked: &ProgramArguments) -> Result<(), Failure> {
    let passes = asked.passes.passes();
    let done = format!(
        "{}, whole processes: user and system time unless the row says otherwise; program and peer take turns, {passes} rounds, \
         medians. Reports are JSON, written to nowhere; `track` is told {}.",
        asked.program.file_name().unwrap_or_default().to_string_lossy(),
        TOP_SPEED.join(" ")
    );
    sheet::begin("Program", &done);
    let of = |name: &str| {
        let folder = asked.folders.iter().find(|folder| folder.file_name() == Some(OsStr::new(name)));
        folder.map(|folder| Run {
            program: &asked.program,
            zones: folder.join("zones.geojson"),
            fixes: folder.join("fixes.csv"),
            log: folder.join("track.gpx"),
            passes,
        })
    };
    let missing = "no folder of that name was given";
    match of("W2") {
        Some(run) => {
            track::memory(&run)?;
            track::whole(&run)?;
            threads::measure(&run)?;
        }
        None => sheet::left_out(("W2", "track, threads"), missing),
    }
    match of("W4") {
        Some(run) => here::measure(&run)?,
        None => sheet::left_out(("W4", "here"), missing),
    }
    Ok(())
}
