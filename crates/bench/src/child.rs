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

/// Runs a program whose output nobody wants. Any status but 2 is an answer of ours.
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
    if ended.status.code().is_none_or(|code| code == 2 || code > 3) {
        return Err(Failure::at(program, first_line(&mut told)));
    }
    let cpu_s = (ended.rusage.utime + ended.rusage.stime).as_secs_f64();
    Ok(Used { cpu_s, wall_s, peak_bytes: ended.rusage.maxrss as f64 })
}

fn first_line(told: &mut File) -> String {
    let mut text = String::new();
    let read = told.rewind().and_then(|()| told.read_to_string(&mut text));
    let line = text.lines().next().filter(|_| read.is_ok());
    line.map_or_else(|| "it failed and did not say why".to_owned(), str::to_owned)
}
