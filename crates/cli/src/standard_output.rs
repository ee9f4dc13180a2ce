//! Standard output, whoever reads it and for however long.

use std::io::{self, BufWriter, ErrorKind, StdoutLock, Write};

use crate::failure::Stop;
use crate::progress::beside_progress;

/// Standard output that goes on taking text when nobody reads any more, so that the rest of the work can be finished.
#[derive(Debug)]
pub(crate) struct StandardOutput {
    out: BufWriter<StdoutLock<'static>>,
    failure: Option<io::Error>,
}

impl StandardOutput {
    pub(crate) fn new() -> Self {
        Self { out: BufWriter::new(io::stdout().lock()), failure: None }
    }

    /// Whether writing has failed: what is written from here on is lost.
    pub(crate) fn is_lost(&self) -> bool {
        self.failure.is_some()
    }

    /// Why work stops, where what it writes is lost; `left` says before or after what, and what is left undone.
    pub(crate) fn cut_short(&mut self, left: &str) -> Stop {
        match self.failure.take() {
            Some(error) if error.kind() != ErrorKind::BrokenPipe => {
                Stop::Unreadable(format!("standard output cannot be written: {error}\n  it ended {left}"))
            }
            _ => Stop::CutShort(format!("standard output was closed {left}")),
        }
    }

    /// Writes what is left. A reader that has seen enough is no failure, anything else is.
    pub(crate) fn finish(mut self) -> Result<(), Stop> {
        self.flush()?;
        match self.failure {
            Some(error) if error.kind() != ErrorKind::BrokenPipe => Err(Stop::Output(error)),
            _ => Ok(()),
        }
    }

    fn keep_failure<T>(&mut self, done: io::Result<T>, otherwise: T) -> io::Result<T> {
        match done {
            // such a write is begun again by whoever called
            Err(error) if error.kind() == ErrorKind::Interrupted => Err(error),
            Err(error) => {
                self.failure = Some(error);
                Ok(otherwise)
            }
            done => done,
        }
    }
}

impl Write for StandardOutput {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        if self.is_lost() {
            return Ok(bytes.len());
        }
        let done = beside_progress(|| self.out.write(bytes));
        self.keep_failure(done, bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        if self.is_lost() {
            return Ok(());
        }
        let done = beside_progress(|| self.out.flush());
        self.keep_failure(done, ())
    }
}
