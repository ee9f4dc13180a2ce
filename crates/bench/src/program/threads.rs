//! Two threads against one, by the clock.

use std::ffi::OsStr;

use super::feed::{write_batch, write_tracks};
use super::run_all::{Run, TOP_SPEED};
use crate::child;
use crate::failure::Failure;
use crate::goal::Goal;
use crate::rounds::Rounds;
use crate::sheet::{self, time};

/// Rows of the batch.
const BATCH: usize = 200_000;

pub(super) fn measure(run: &Run<'_>) -> Result<(), Failure> {
    let folder = tempfile::tempdir()?;
    let logs = folder.path().join("logs");
    std::fs::create_dir(&logs)?;
    let count = write_tracks(&run.fixes, &logs)?;
    let what = format!("`track` of {count} logs, one thread over two, by the clock");
    let [speed, knots] = TOP_SPEED.map(OsStr::new);
    let asked = ["track".as_ref(), logs.as_os_str(), "--format".as_ref(), "json".as_ref(), speed, knots];
    row(run, &what, &asked)?;
    let batch = folder.path().join("batch.csv");
    let count = write_batch(&run.fixes, BATCH, &batch)?;
    let what = format!("`here` of {count} fixes, one thread over two, by the clock");
    row(run, &what, &["here".as_ref(), "--fixes".as_ref(), batch.as_os_str()])
}

fn row(run: &Run<'_>, what: &str, asked: &[&OsStr]) -> Result<(), Failure> {
    let with = |threads: &str| -> Result<f64, Failure> {
        let mut asked = asked.to_vec();
        asked.extend([OsStr::new("--zones"), run.zones.as_os_str(), "--threads".as_ref(), threads.as_ref()]);
        Ok(child::run(run.program, &asked, None)?.wall_s)
    };
    if let Err(refusal) = with("1") {
        sheet::left_out(("W2", what), &refusal.to_string());
        return Ok(());
    }
    let rounds = Rounds::try_run(run.passes, &mut [&mut || with("1"), &mut || with("2")])?;
    let goal = Some(Goal::at_least(1.8));
    let (one, two) = (time(rounds.seconds(0)), time(rounds.seconds(1)));
    sheet::row(
        ("W2", what),
        &format!("{two} with two"),
        &format!("{one} with one"),
        (rounds.ratio(0, 1), goal),
    );
    Ok(())
}
