//! How much memory things take.

use std::ffi::OsStr;
use std::path::Path;
use std::process::Command;

use takeline::{Boundary, ZoneSet};

use crate::arguments::Held;
use crate::failure::{Failure, read};
use crate::peers::DegreesTree;
use crate::workload::{parts, rings};

/// What a process of its own found: a line of three numbers of bytes.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Memory {
    /// What became resident while it was made.
    pub(crate) made: f64,
    /// What became resident when it was copied, which leaves out what making it needed for a while.
    pub(crate) copied: f64,
    /// The most that was resident in the process until it was made.
    pub(crate) peak: f64,
}

/// Measures in a process of its own, where nothing was freed before.
pub(crate) fn measured(what: &str, file: &Path) -> Result<Memory, Failure> {
    let me = std::env::current_exe()?;
    let asked: [&OsStr; 3] = ["held".as_ref(), what.as_ref(), file.as_os_str()];
    let output = Command::new(me).args(asked).output()?;
    let text = String::from_utf8_lossy(&output.stdout);
    let figures: Vec<f64> = text.split_whitespace().filter_map(|figure| figure.parse().ok()).collect();
    match figures.as_slice() {
        [made, copied, peak] => Ok(Memory { made: *made, copied: *copied, peak: *peak }),
        _ => Err(Failure::at(file, String::from_utf8_lossy(&output.stderr).trim())),
    }
}

/// Makes something and prints what it takes.
pub(crate) fn held(what: Held, file: &Path) -> Result<(), Failure> {
    let bytes = read(file)?;
    let Memory { made, copied, peak } = match what {
        Held::Index => {
            let parts: Result<Vec<_>, Failure> =
                rings(file, &bytes)?.iter().map(|ring| parts(ring)).collect();
            let parts = parts?;
            growth(|| parts.iter().map(|parts| Boundary::build(parts)).collect::<Result<Vec<_>, _>>())?
        }
        Held::DegreesTree => {
            let rings = rings(file, &bytes)?;
            growth(|| Ok::<_, Failure>(DegreesTree::new(&rings)))?
        }
        Held::ZoneFile => {
            let name = file.display().to_string();
            growth(|| takeline::zone_file::read(&name, &bytes).map(|loaded| ZoneSet::new(loaded.zones)))?
        }
    };
    println!("{made:.0} {copied:.0} {peak:.0}");
    Ok(())
}

/// Bytes that became resident while a thing was made, and for each of two copies of it behind the first, which fills the gaps
/// that making it left.
fn growth<T: Clone, E>(make: impl FnOnce() -> Result<T, E>) -> Result<Memory, Failure>
where
    Failure: From<E>,
{
    let before = resident_bytes()?;
    let thing = make()?;
    let made = resident_bytes()? - before;
    let peak = status("VmHWM:")?;
    let first = thing.clone();
    let between = resident_bytes()?;
    let others = [thing.clone(), thing.clone()];
    let copied = (resident_bytes()? - between) / 2.0;
    std::hint::black_box((&thing, &first, &others));
    Ok(Memory { made, copied, peak })
}

/// Bytes of this process that are in memory now.
fn resident_bytes() -> Result<f64, Failure> {
    status("VmRSS:")
}

/// A line of /proc/self/status. `statm` counts in pages of a size that it does not tell.
fn status(key: &str) -> Result<f64, Failure> {
    let text = std::fs::read_to_string("/proc/self/status")?;
    let line = text.lines().find_map(|line| line.strip_prefix(key));
    let kilobytes = line.and_then(|rest| rest.trim().trim_end_matches(" kB").trim().parse::<f64>().ok());
    kilobytes
        .map(|figure| figure * 1024.0)
        .ok_or_else(|| Failure::new(format!("/proc/self/status has no {key}")))
}
