//! The files that `takeline track` writes beside its answer.

use std::collections::BTreeSet;
use std::fs::{self, File};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

use takeline_report::track_csv;

use crate::arguments::TrackArguments;
use crate::one_track::Answered;
use crate::stop::Stop;
use crate::zone_files;

/// Files under construction.
#[derive(Debug)]
pub(crate) struct Outputs {
    rows: Option<Output>,
    features: Option<Output>,
    has_features: bool,
    page: Option<PathBuf>,
    /// With several logs: names of pages that are taken.
    pages: Option<BTreeSet<String>>,
}

#[derive(Debug)]
struct Output {
    path: PathBuf,
    file: BufWriter<File>,
}

impl Output {
    fn create(path: &Path) -> Result<Self, Stop> {
        let file = File::create(path).map_err(|error| unwritable(path, &error))?;
        Ok(Self { path: path.to_owned(), file: BufWriter::new(file) })
    }

    fn write(&mut self, text: &str) -> Result<(), Stop> {
        self.file.write_all(text.as_bytes()).map_err(|error| unwritable(&self.path, &error))
    }

    fn finish(mut self) -> Result<(), Stop> {
        self.file.flush().map_err(|error| unwritable(&self.path, &error))
    }
}

impl Outputs {
    /// Opens what was asked for, and refuses to write over what is read.
    pub(crate) fn open(asked: &TrackArguments, logs: &[&Path]) -> Result<Self, Stop> {
        let zones = zone_files::paths(&asked.zones)?;
        let read = logs.iter().copied().chain(zones.iter().map(PathBuf::as_path));
        let read: Vec<PathBuf> =
            read.chain(asked.catches.as_deref()).filter_map(|path| fs::canonicalize(path).ok()).collect();
        for (option, out) in [("--csv", &asked.csv), ("--geojson", &asked.geojson), ("--html", &asked.html)] {
            let place = out.as_ref().and_then(|out| fs::canonicalize(out).ok());
            if place.is_some_and(|place| !place.is_dir() && read.contains(&place)) {
                return Err(Stop::Usage(format!(
                    "{option} would write over a file that is read; name another"
                )));
            }
        }
        let mut outputs = Self {
            rows: asked.csv.as_deref().map(Output::create).transpose()?,
            features: asked.geojson.as_deref().map(Output::create).transpose()?,
            has_features: false,
            page: asked.html.clone(),
            pages: (logs.len() > 1).then(BTreeSet::new),
        };
        if let Some(rows) = &mut outputs.rows {
            let header =
                track_csv(std::iter::empty()).map_err(|error| unwritable(&rows.path, &error.into()))?;
            rows.write(&header)?;
        }
        if let Some(features) = &mut outputs.features {
            features.write("{\"type\":\"FeatureCollection\",\"features\":[")?;
        }
        if let Some(folder) = outputs.page.as_deref().filter(|_| outputs.pages.is_some()) {
            fs::create_dir_all(folder).map_err(|error| unwritable(folder, &error))?;
        }
        Ok(outputs)
    }

    /// Adds one log.
    pub(crate) fn add(&mut self, answered: &Answered) -> Result<(), Stop> {
        if let Some(rows) = &mut self.rows {
            rows.write(&answered.rows)?;
        }
        if let Some(features) = &mut self.features {
            for feature in &answered.features {
                features.write(if self.has_features { ",\n" } else { "\n" })?;
                features.write(feature)?;
                self.has_features = true;
            }
        }
        let Some((out, page)) = self.page.as_ref().zip(answered.page.as_ref()) else { return Ok(()) };
        let place = match &mut self.pages {
            Some(taken) => out.join(page_name(&answered.path, taken)),
            None => out.clone(),
        };
        fs::write(&place, page).map_err(|error| unwritable(&place, &error))
    }

    /// Ends all files.
    pub(crate) fn finish(self) -> Result<(), Stop> {
        if let Some(mut features) = self.features {
            features.write("\n]}\n")?;
            features.finish()?;
        }
        self.rows.map_or(Ok(()), Output::finish)
    }
}

/// The name of the log with `.html` behind it; a number before that where another log has the same name.
fn page_name(path: &Path, taken: &mut BTreeSet<String>) -> String {
    let name = path.file_name().map_or_else(|| "track".into(), |name| name.to_string_lossy().into_owned());
    let numbered = (2..).map(|number| format!("{name}-{number}.html"));
    let mut names = std::iter::once(format!("{name}.html")).chain(numbered);
    names.find(|name| taken.insert(name.clone())).unwrap_or_default()
}

fn unwritable(path: &Path, error: &io::Error) -> Stop {
    Stop::Unreadable(format!(
        "{} cannot be written: {error}\n  check the folder, its permissions and the space left",
        path.display()
    ))
}
