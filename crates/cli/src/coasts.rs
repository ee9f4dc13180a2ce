//! Which coasts to use, and reading them. One bad file stops everything: a coast left out would read as water.

use std::cell::RefCell;
use std::path::{Path, PathBuf};

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

/// The coasts that are known while zones are read: those that were given, and those that zone files name.
#[derive(Debug, Default)]
pub(crate) struct Coasts {
    known: RefCell<Vec<Coast>>,
}

impl Coasts {
    /// Reads the coasts that were given, each file once; warnings go to standard error.
    pub(crate) fn of(asked: &CoastArguments) -> Result<Self, Stop> {
        let coasts = Self::default();
        for path in &asked.coast {
            if !coasts.add(path)? {
                say(&format!("{}: note: the same file was read before; it counts once", path.display()));
            }
        }
        Ok(coasts)
    }

    /// Reads a coast; whether it is a new one.
    fn add(&self, path: &Path) -> Result<bool, Stop> {
        let label = path.display().to_string();
        let loaded =
            coast::read(&label, &read_whole(path, coast::MOST_BYTES)?).map_err(|error| refused(&error))?;
        if self.known.borrow().iter().any(|coast| coast.sha256 == loaded.coast.sha256) {
            return Ok(false);
        }
        say_all(format!("warnings about {label}"), &loaded.warnings, |warning| {
            format!("{label}: warning: {warning}")
        });
        self.known.borrow_mut().push(loaded.coast);
        Ok(true)
    }

    /// Reads the coasts that a zone file names, from its own folder on.
    pub(crate) fn add_named(&self, names: &[String], zone_file: &Path) -> Result<(), Stop> {
        let folder = zone_file.parent().unwrap_or(Path::new(""));
        for name in names {
            self.add(&folder.join(name)).map_err(|stop| match stop {
                Stop::Unreadable(text) => {
                    Stop::Unreadable(format!("{text}\n  {} names it as its coast", zone_file.display()))
                }
                other @ (Stop::Usage(_) | Stop::Output(_) | Stop::CutShort(_)) => other,
            })?;
        }
        Ok(())
    }

    /// All that are known.
    pub(crate) fn known(&self) -> Vec<Coast> {
        self.known.borrow().clone()
    }
}

impl CoastArguments {
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
