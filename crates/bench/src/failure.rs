//! Why nothing could be measured.

use std::fmt::Display;
use std::path::Path;
use std::process::ExitCode;

/// One sentence that says what went wrong and where.
#[derive(Debug)]
pub(crate) struct Failure(String);

impl Failure {
    pub(crate) fn new(what: impl Into<String>) -> Self {
        Self(what.into())
    }

    /// What went wrong with a file or a folder.
    pub(crate) fn at(path: &Path, what: impl Display) -> Self {
        Self(format!("{}: {what}", path.display()))
    }

    /// The same, in a file.
    pub(crate) fn in_file(self, path: &Path) -> Self {
        Self::at(path, self.0)
    }

    #[expect(clippy::print_stderr, reason = "errors go there")]
    pub(crate) fn tell(&self) -> ExitCode {
        eprintln!("error: {}", self.0);
        ExitCode::FAILURE
    }
}

impl Display for Failure {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

impl<E: std::error::Error> From<E> for Failure {
    fn from(error: E) -> Self {
        Self(error.to_string())
    }
}

/// A file, or why it cannot be read.
pub(crate) fn read(path: &Path) -> Result<Vec<u8>, Failure> {
    std::fs::read(path).map_err(|error| Failure::at(path, error))
}

/// A text file, or why it cannot be read.
pub(crate) fn read_text(path: &Path) -> Result<String, Failure> {
    String::from_utf8(read(path)?).map_err(|_| Failure::at(path, "this is no UTF-8 text"))
}
