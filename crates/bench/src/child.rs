//! Other programs run to their end, with what they used.

use std::ffi::OsStr;
use std::fs::File;
use std::io::{Read, Seek};
use std::path::Path;
use std::process::{Command, Stdio};
use std::thread;
use std::time::Instant;

use wait4::Wait4;

use crate::failure::Failure;

/// What a process used.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Used {
    /// Seconds of processor time, user and system.
    pub(crate) cpu_s: f64,
    /// Seconds by the clock.
    pub(crate) wall_s: f64,
    /// The most memory that was resident. It is never less than what this program held when it started the other.
    pub(crate) peak_bytes: f64,
}

/// What is fed to a process.
pub(crate) type Feed<'a> = &'a (dyn Fn(&mut dyn std::io::Write) -> std::io::Result<()> + Sync);

/// Runs a program whose output nobody wants. It fails where the program says that it does: nobody is timed for refusing.
pub(crate) fn run(program: &Path, arguments: &[&OsStr], feed: Option<Feed<'_>>) -> Result<Used, Failure> {
    let mut told = tempfile::tempfile()?;
    let mut command = Command::new(program);
    command.args(arguments).env_remove("TAKELINE_ZONES").stdout(Stdio::null()).stderr(told.try_clone()?);
    command.stdin(if feed.is_some() { Stdio::piped() } else { Stdio::null() });
    let started = Instant::now();
    let mut child = command.spawn().map_err(|error| Failure::at(program, error))?;
    let stdin = child.stdin.take();
    let ended = thread::scope(|scope| {
        if let (Some(feed), Some(mut stdin)) = (feed, stdin) {
            // what the program does not read it does not want; it says why itself
            scope.spawn(move || drop(feed(&mut stdin)));
        }
        child.wait4()
    })?;
    let wall_s = started.elapsed().as_secs_f64();
    if let Some(refusal) = refusal(&mut told, ended.status.code())? {
        return Err(Failure::new(refusal));
    }
    let cpu_s = (ended.rusage.utime + ended.rusage.stime).as_secs_f64();
    Ok(Used { cpu_s, wall_s, peak_bytes: ended.rusage.maxrss as f64 })
}

/// What a program said that ended with a fault. Statuses 0, 1 and 3 come with answers too.
fn refusal(told: &mut File, status: Option<i32>) -> Result<Option<String>, Failure> {
    let mut text = String::new();
    told.rewind()?;
    told.read_to_string(&mut text)?;
    let error = text.lines().find_map(|line| line.strip_prefix("error: "));
    let has_answered = matches!(status, Some(0 | 1 | 3));
    let silent = || (!has_answered).then(|| "the program failed and did not say why".to_owned());
    Ok(error.map(str::to_owned).or_else(silent))
}
