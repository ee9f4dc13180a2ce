//! A long log to a report.

use std::ffi::OsStr;
use std::io::Write;

use super::feed::{Repeated, write_gpx};
use super::run_all::{Run, TOP_SPEED};
use crate::child;
use crate::failure::{Failure, read};
use crate::goal::Goal;
use crate::readers::seconds_of_tokens;
use crate::rounds::Rounds;
use crate::sheet::{self, megabytes, time};

/// The whole log, over its tokens.
pub(super) fn whole(run: &Run<'_>) -> Result<(), Failure> {
    let asked = arguments(run, run.log.as_os_str());
    let rounds = Rounds::try_run(
        run.passes,
        &mut [&mut || Ok(child::run(run.program, &asked, None)?.cpu_s), &mut || seconds_of_tokens(&run.log)],
    )?;
    let size = megabytes(read(&run.log)?.len() as f64);
    let what = format!("`track`, {size} of GPX to JSON, over `quick-xml` reading its tokens");
    let goal = Some(Goal::at_most(4.0).stretch(2.0));
    let (own, peer) = (time(rounds.seconds(0)), time(rounds.seconds(1)));
    sheet::row(("W2", &what), &own, &peer, (rounds.ratio(0, 1), goal));
    Ok(())
}

/// Ten times the fixes from standard input, in two ways.
pub(super) fn memory(run: &Run<'_>) -> Result<(), Failure> {
    let peak = |repeated: Repeated| -> Result<f64, Failure> {
        let feed = |out: &mut dyn Write| write_gpx(&run.fixes, repeated, out);
        Ok(child::run(run.program, &arguments(run, "-".as_ref()), Some(&feed))?.peak_bytes)
    };
    let once = peak(Repeated::NotAtAll)?;
    for (repeated, what) in [
        (Repeated::TenASecond, "MB more for ten times the fixes: the same trips, ten fixes a second"),
        (
            Repeated::TenTimesOver,
            "MB more for ten times the fixes: ten times the trips, all of them in the report",
        ),
    ] {
        let tenfold = peak(repeated)?;
        // what is in the report grows with the trips, so only the first has a goal
        let goal = (repeated == Repeated::TenASecond).then(|| Goal::at_most(1.0));
        let peer = format!("{} for one time", megabytes(once));
        sheet::row(("W2", what), &megabytes(tenfold), &peer, ((tenfold - once) / 1e6, goal));
    }
    Ok(())
}

fn arguments<'a>(run: &'a Run<'_>, log: &'a OsStr) -> [&'a OsStr; 8] {
    let [speed, knots] = TOP_SPEED;
    let (zones, format) = ("--zones".as_ref(), "--format".as_ref());
    [
        "track".as_ref(),
        log,
        zones,
        run.zones.as_os_str(),
        format,
        "json".as_ref(),
        speed.as_ref(),
        knots.as_ref(),
    ]
}
