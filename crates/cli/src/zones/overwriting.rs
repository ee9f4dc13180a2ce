//! The one rule for every file that a command of `takeline zones` writes: nothing that is there is replaced unasked, and nothing that
//! the same run reads is replaced at all.

use std::path::Path;

use clap::Args;

use crate::failure::Stop;
use crate::kept_file::{KeptFile, refuse_what_was_read};

/// Whether a file that is there may be replaced.
#[derive(Debug, Clone, Copy, Default, Args)]
pub(super) struct OverwriteArguments {
    /// Replace the file to be written, if it is there already
    #[arg(long)]
    overwrite: bool,
}

impl OverwriteArguments {
    /// Refuses what is there already, before any work is done; pipes and devices may be written to as often as one likes.
    pub(super) fn refuse(self, (option, path): (&'static str, &Path)) -> Result<(), Stop> {
        if self.overwrite || !path.is_file() {
            return Ok(());
        }
        Err(Stop::Usage(format!(
            "{option}: {} is there already, and nothing is replaced unasked; name another file, or add --overwrite",
            path.display()
        )))
    }

    /// Writes a whole file, if nothing has come to its place meanwhile and it was not read, by its own name or because a zone file names
    /// it.
    pub(super) fn write(self, (option, path): (&'static str, &Path), bytes: &[u8]) -> Result<(), Stop> {
        refuse_what_was_read(option, path)?;
        self.refuse((option, path))?;
        let mut kept = KeptFile::create(path).map_err(Stop::Unreadable)?;
        kept.write_bytes(bytes).and_then(|()| kept.finish()).map_err(Stop::Unreadable)
    }
}
