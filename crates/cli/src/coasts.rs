//! Which coasts to use, and reading them. One bad file stops everything: a coast left out would read as water.

use std::path::PathBuf;

use clap::Args;
use takeline::coast::{self, Coast, LoadCoastError};

use crate::bounded::read_whole;
use crate::failure::{Stop, first_faults, say, say_all};
use crate::trip::quoted;

/// The coasts that a command was given.
#[derive(Debug, Clone, Default, Args)]
pub(crate) struct CoastArguments {
    /// Coastline as GeoJSON lines or polygons, to know land from water; may be given several times
    #[arg(long, value_name = "FILE")]
    pub(crate) coast: Vec<PathBuf>,
}

impl CoastArguments {
    /// Loads every coast that was asked for, each file once; warnings go to standard error.
    pub(crate) fn load(&self) -> Result<Vec<Coast>, Stop> {
        let mut coasts: Vec<Coast> = Vec::new();
        for path in &self.coast {
            let label = path.display().to_string();
            let loaded = coast::read(&label, &read_whole(path, coast::MOST_BYTES)?)
                .map_err(|error| refused(&error))?;
            say_all(format!("warnings about {label}"), &loaded.warnings, |warning| {
                format!("{label}: warning: {warning}")
            });
            if coasts.iter().any(|coast| coast.sha256 == loaded.coast.sha256) {
                say(&format!("{label}: note: the same file was read before; it counts once"));
                continue;
            }
            coasts.push(loaded.coast);
        }
        Ok(coasts)
    }

    /// The options that give the same coasts again, quoted for a shell.
    pub(crate) fn words(&self) -> impl Iterator<Item = (&'static str, String)> {
        self.coast.iter().map(|path| ("--coast", quoted(&path.display().to_string())))
    }
}

fn refused(error: &LoadCoastError) -> Stop {
    let faults = first_faults(&error.path, &error.faults, error.more);
    Stop::Unreadable(format!(
        "{faults}\n  fix this first; until then nothing is answered, because land left out would read as water"
    ))
}
