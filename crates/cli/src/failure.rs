//! Why the program stops early, told with how to mend it; and what it says in between, no more than enough of a kind.

use std::io::{self, Write};

use takeline::sanitised;
use takeline::zone_file::Fault;
use takeline_report::ExitStatus;

use crate::progress::beside_progress;

/// A reason to stop.
#[derive(Debug)]
pub(crate) enum Stop {
    /// The command line makes no sense.
    Usage(String),
    /// Something could not be read.
    Unreadable(String),
    /// Standard output could not be written.
    Output(io::Error),
    /// Nobody reads the answers any more, and some questions were not looked at.
    CutShort(String),
}

impl Stop {
    /// Tells it on standard error and returns the exit status of this subcommand.
    pub(crate) fn tell(self, command: &str) -> ExitStatus {
        match self {
            Self::Usage(message) => {
                let blank = if command.is_empty() { "" } else { " " };
                say(&format!(
                    "error: {message}\n\nFor more information, try 'takeline{blank}{command} --help'."
                ));
                ExitStatus::Usage
            }
            Self::Unreadable(message) => {
                say(&format!("error: {message}"));
                ExitStatus::Undecided
            }
            Self::CutShort(message) => {
                say(&format!("note: {message}"));
                ExitStatus::Undecided
            }
            Self::Output(error) => {
                say(&format!("error: standard output cannot be written: {}", io_in_words(&error)));
                ExitStatus::Undecided
            }
        }
    }
}

impl From<io::Error> for Stop {
    /// For writing to standard output; reading has its own messages.
    fn from(error: io::Error) -> Self {
        Self::Output(error)
    }
}

impl From<serde_json::Error> for Stop {
    fn from(error: serde_json::Error) -> Self {
        Self::Output(error.into())
    }
}

/// Says something to the person on standard error; what files and arguments put into it cannot drive a terminal.
pub(crate) fn say(text: &str) {
    // where standard error is gone too there is nobody left to tell
    drop(beside_progress(|| writeln!(io::stderr(), "{}", sanitised::lines(text))));
}

/// Why a file cannot be used, in plain words where there are some; else what the system says.
#[expect(clippy::wildcard_enum_match_arm, reason = "the system says the rest well enough")]
pub(crate) fn io_in_words(error: &io::Error) -> String {
    // words that were written here say it already
    let Some(_) = error.raw_os_error() else { return error.to_string() };
    match error.kind() {
        io::ErrorKind::NotFound => "there is no such file or folder; check the name".into(),
        io::ErrorKind::PermissionDenied => "that is not permitted here".into(),
        io::ErrorKind::IsADirectory => "it is a folder".into(),
        io::ErrorKind::NotADirectory => "a part of its path is a file and not a folder".into(),
        io::ErrorKind::AlreadyExists => "a file of that name is there already".into(),
        _ => error.to_string(),
    }
}

/// That a file or folder cannot be read, why, and how to mend it.
pub(crate) fn cannot_be_read(shown: impl std::fmt::Display, error: &io::Error) -> String {
    let mend =
        if error.kind() == io::ErrorKind::NotFound { "" } else { "\n  check the path and its permissions" };
    format!("{shown} cannot be read: {}{mend}", io_in_words(error))
}

/// The most messages of one sort that are told.
pub(crate) const MOST: u64 = 20;
/// The most faults of a file that is refused.
const MOST_FAULTS: usize = 20;

/// Messages of one sort.
#[derive(Debug)]
pub(crate) struct Talk {
    /// What they are, in the plural: "rows that could not be read".
    sort: String,
    count: u64,
}

impl Talk {
    pub(crate) fn about(sort: impl Into<String>) -> Self {
        Self { sort: sort.into(), count: 0 }
    }

    /// Says one of them, if not too many were said.
    pub(crate) fn say(&mut self, text: impl FnOnce() -> String) {
        self.count += 1;
        if self.count <= MOST {
            say(&text());
        }
    }

    /// Counts some that are not worth saying, because too many were said before them.
    pub(crate) fn count(&mut self, more: u64) {
        self.count += more;
    }

    /// Says how many were only counted.
    pub(crate) fn finish(self) {
        let more = self.count.saturating_sub(MOST);
        if more > 0 {
            say(&format!("… and {more} more {}", self.sort));
        }
    }
}

/// Says what is wrong or odd about one file.
pub(crate) fn say_all<T>(sort: impl Into<String>, all: &[T], text: impl Fn(&T) -> String) {
    let mut talk = Talk::about(sort);
    for one in all {
        talk.say(|| text(one));
    }
    talk.finish();
}

/// The first faults of a file that was refused, one on each line: what is wrong is mostly wrong in one way.
pub(crate) fn first_faults(path: &str, faults: &[Fault], more: usize) -> String {
    let listed = faults.iter().take(MOST_FAULTS).map(|fault| format!("{path}: {fault}"));
    let mut lines: Vec<String> = listed.collect();
    let rest = more + faults.len().saturating_sub(MOST_FAULTS);
    if rest > 0 {
        lines.push(format!("{path}: … and {rest} more faults"));
    }
    lines.join("\n")
}
