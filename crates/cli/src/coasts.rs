//! Which coasts to use, and reading them. One bad file stops everything: a coast left out would read as water.

use std::cell::RefCell;
use std::path::{Path, PathBuf};

use clap::Args;
use takeline::coast::{self, Coast, LoadCoastError};

use crate::bounded::read_whole;
use crate::failure::{Stop, first_faults, say, say_all};
use crate::file_sort::FileSort;
use crate::trip::quoted;
use crate::zone_files;

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
    given: Vec<Coast>,
    known: RefCell<Vec<Coast>>,
}

impl Coasts {
    /// Reads the coasts that were given, each file once; warnings go to standard error.
    pub(crate) fn of(asked: &CoastArguments) -> Result<Self, Stop> {
        let mut coasts = Self::default();
        for path in &asked.coast {
            let before = coasts.known.borrow().len();
            let coast = coasts.add(path)?;
            if coasts.known.borrow().len() == before {
                say(&format!("{}: note: the same file was read before; it counts once", path.display()));
            } else {
                coasts.given.push(coast);
            }
        }
        Ok(coasts)
    }

    /// Reads a coast, and keeps it if it is a new one.
    fn add(&self, path: &Path) -> Result<Coast, Stop> {
        let label = path.display().to_string();
        if path.is_dir() {
            return Err(is_a_folder(path));
        }
        let bytes = read_whole(path, coast::MOST_BYTES)?;
        let loaded = coast::read(&label, &bytes).map_err(|error| refused(&error, (path, &bytes)))?;
        if let Some(known) = self.known.borrow().iter().find(|coast| coast.sha256 == loaded.coast.sha256) {
            return Ok(known.clone());
        }
        say_all(format!("warnings about {label}"), &loaded.warnings, |warning| {
            format!("{label}: warning: {warning}")
        });
        self.known.borrow_mut().push(loaded.coast.clone());
        Ok(loaded.coast)
    }

    /// The coasts that the sides of a zone file follow, the first that leads there: those that the file names, from its own folder
    /// on, and then those that were given. What other zone files name is not meant for it, whichever is read first.
    pub(crate) fn followed_by(&self, zone_file: &Path, names: &[String]) -> Result<Vec<Coast>, Stop> {
        let folder = zone_file.parent().unwrap_or(Path::new(""));
        let named = names.iter().map(|name| {
            self.add(&folder.join(name)).map_err(|stop| match stop {
                Stop::Unreadable(text) => {
                    Stop::Unreadable(format!("{text}\n  {} names it as its coast", zone_file.display()))
                }
                other @ (Stop::Usage(_) | Stop::Output(_) | Stop::CutShort(_)) => other,
            })
        });
        let mut followed = named.collect::<Result<Vec<Coast>, Stop>>()?;
        followed.extend(self.given.iter().cloned());
        Ok(followed)
    }

    /// All that are known, in an order that does not depend on that of the files: answers name the first that they go by.
    pub(crate) fn known(&self) -> Vec<Coast> {
        let mut known = self.known.borrow().clone();
        known.sort_by(|one, other| (one.name(), &one.sha256).cmp(&(other.name(), &other.sha256)));
        known
    }
}

impl CoastArguments {
    /// The options that give the same coasts again, quoted for a shell.
    pub(crate) fn words(&self) -> impl Iterator<Item = (&'static str, String)> {
        self.coast.iter().map(|path| ("--coast", quoted(&path.display().to_string())))
    }
}

/// A coast is one file; the files of a folder are offered.
fn is_a_folder(folder: &Path) -> Stop {
    let offered = zone_files::json_files_in(folder).first().map_or_else(
        || "give the file of the coast itself".to_owned(),
        |file| format!("give the file of the coast itself: --coast {}", file.display()),
    );
    Stop::Unreadable(format!("{} is a folder, and a coast is one file\n  {offered}", folder.display()))
}

fn refused(error: &LoadCoastError, (path, bytes): (&Path, &[u8])) -> Stop {
    let sort = FileSort::of(path, bytes);
    let other = sort.filter(|sort| *sort != FileSort::Coast).and_then(|sort| sort.given_instead(&error.path));
    if let Some(other) = other {
        return Stop::Unreadable(format!(
            "{} is not a coast: {other}; a coast is GeoJSON of lines or polygons",
            error.path
        ));
    }
    if sort == Some(FileSort::Text) {
        return Stop::Unreadable(format!(
            "{} is not a coast: it is not JSON\n  give GeoJSON of lines or polygons",
            error.path
        ));
    }
    let faults = first_faults(&error.path, &error.faults, error.more);
    Stop::Unreadable(format!(
        "{faults}\n  fix this first; until then nothing is answered, because land left out would read as water"
    ))
}
