//! Why the program stops early, told with how to mend it.

use std::io::{self, Write};

use takeline::sanitised;
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
                say(&format!("error: {message}\n\nFor more information, try 'takeline {command} --help'."));
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
                say(&format!("error: standard output cannot be written: {error}"));
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
