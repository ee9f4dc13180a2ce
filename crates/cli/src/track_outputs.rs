//! The files that `takeline track` writes beside its answer.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use takeline_report::{ExitStatus, track_csv};

use crate::arguments::TrackArguments;
use crate::failure::{Stop, say};
use crate::kept_file::{KeptFile, folder_of, write_whole};
use crate::overwriting::refuse_overwriting;
use crate::track_logs::Found;
use crate::trip::Answered;
use crate::zone_files;

/// Files under construction. One that fails is told and left as it was; the others are written all the same.
#[derive(Debug)]
pub(crate) struct Outputs {
    rows: Option<Growing>,
    features: Option<Growing>,
    has_features: bool,
    /// For each log the page that it gets.
    pages: Option<Vec<PathBuf>>,
    /// How many logs were added.
    added: usize,
    is_answered: bool,
    status: ExitStatus,
}

/// A file that grows with each log; none once it has failed.
#[derive(Debug)]
struct Growing {
    path: PathBuf,
    file: Option<KeptFile>,
}

impl Growing {
    fn create(path: &Path, start: &str) -> Result<Self, String> {
        let mut growing = Self { path: path.to_owned(), file: Some(KeptFile::create(path)?) };
        growing.write(start)?;
        Ok(growing)
    }

    fn write(&mut self, text: &str) -> Result<(), String> {
        let done = self.file.as_mut().map_or(Ok(()), |file| file.write(text));
        if done.is_err() {
            self.file = None;
        }
        done
    }
}

impl Outputs {
    /// Begins what was asked for, and refuses to write over what is read.
    pub(crate) fn open(asked: &TrackArguments, logs: &[Found]) -> Result<Self, Stop> {
        let pages = asked.html.as_deref().map(|out| pages(out, logs));
        refuse(asked, logs, pages.as_deref().unwrap_or_default())?;
        let mut outputs = Self {
            rows: None,
            features: None,
            has_features: false,
            pages,
            added: 0,
            is_answered: false,
            status: ExitStatus::Unrestricted,
        };
        let header = track_csv(std::iter::empty()).map_err(std::io::Error::from)?;
        outputs.rows = outputs.begin(asked.csv.as_deref(), &header);
        outputs.features =
            outputs.begin(asked.geojson.as_deref(), "{\"type\":\"FeatureCollection\",\"features\":[");
        Ok(outputs)
    }

    fn begin(&mut self, path: Option<&Path>, start: &str) -> Option<Growing> {
        match Growing::create(path?, start) {
            Ok(growing) => Some(growing),
            Err(message) => {
                self.keep(Err(message));
                None
            }
        }
    }

    /// Tells what failed, and remembers it for the exit status.
    fn keep(&mut self, done: Result<(), String>) {
        if let Err(message) = done {
            say(&format!("error: {message}"));
            self.status = self.status.worst(ExitStatus::Undecided);
        }
    }

    /// Whether any file is written beside the answer.
    pub(crate) fn are_wanted(&self) -> bool {
        self.rows.is_some() || self.features.is_some() || self.pages.is_some()
    }

    /// Adds the next log.
    pub(crate) fn add(&mut self, answered: &Answered) {
        self.is_answered |= answered.is_answer;
        let done = self.add_rows(&answered.rows);
        self.keep(done);
        let done = self.add_features(&answered.features);
        self.keep(done);
        let place = self.pages.as_ref().and_then(|pages| pages.get(self.added)).cloned();
        self.added += 1;
        if let Some((place, page)) = place.zip(answered.page.as_ref()) {
            let done = write_page(&place, page, self.pages.as_ref().is_some_and(|pages| pages.len() > 1));
            self.keep(done);
        }
    }

    fn add_rows(&mut self, rows: &str) -> Result<(), String> {
        self.rows.as_mut().map_or(Ok(()), |table| table.write(rows))
    }

    fn add_features(&mut self, features: &[String]) -> Result<(), String> {
        let Some(collection) = &mut self.features else { return Ok(()) };
        for feature in features {
            collection.write(if self.has_features { ",\n" } else { "\n" })?;
            collection.write(feature)?;
            self.has_features = true;
        }
        Ok(())
    }

    /// Ends all files and returns 3 if any of them failed. Where no log was answered there is nothing to put anywhere.
    pub(crate) fn finish(mut self) -> ExitStatus {
        let features = self.features.take().map(|mut features| features.write("\n]}\n").map(|()| features));
        for growing in [self.rows.take().map(Ok), features].into_iter().flatten() {
            let done = growing.and_then(|growing| self.end(growing));
            self.keep(done);
        }
        self.status
    }

    fn end(&self, growing: Growing) -> Result<(), String> {
        if !self.is_answered {
            let path = growing.path.display();
            say(&format!("note: {path} is left as it was: no log gave an answer to put there"));
            return Ok(());
        }
        growing.file.map_or(Ok(()), KeptFile::finish)
    }
}

/// Refuses outputs that are read, or named twice.
fn refuse(asked: &TrackArguments, logs: &[Found], pages: &[PathBuf]) -> Result<(), Stop> {
    let zones = zone_files::paths(&asked.zones)?;
    let logs = logs.iter().filter_map(|found| found.as_deref().ok());
    let read = logs.chain(zones.iter().map(PathBuf::as_path)).chain(asked.catches.as_deref());
    let tables = [("--csv", &asked.csv), ("--geojson", &asked.geojson)];
    let written = tables.into_iter().filter_map(|(option, out)| Some((option, out.as_deref()?)));
    refuse_overwriting(read, written.chain(pages.iter().map(|page| ("--html", page.as_path()))))
}

/// Where the page of each log goes: the place as named for one log, a folder for several.
fn pages(out: &Path, logs: &[Found]) -> Vec<PathBuf> {
    if logs.len() == 1 {
        return vec![out.to_owned()];
    }
    let mut taken = BTreeSet::new();
    let path = |found: &Found| found.as_deref().unwrap_or(Path::new("")).to_owned();
    logs.iter().map(|found| out.join(page_name(&path(found), &mut taken))).collect()
}

/// The name of the log with `.html` behind it; a number before that where another log has the same name.
fn page_name(path: &Path, taken: &mut BTreeSet<String>) -> String {
    let name = path.file_name().map_or_else(|| "track".into(), |name| name.to_string_lossy().into_owned());
    let numbered = (2..).map(|number| format!("{name}-{number}.html"));
    let mut names = std::iter::once(format!("{name}.html")).chain(numbered);
    names.find(|name| taken.insert(name.clone())).unwrap_or_default()
}

/// Writes a page; its folder is made with the first of several.
fn write_page(place: &Path, page: &str, is_one_of_many: bool) -> Result<(), String> {
    let folder = folder_of(place);
    if is_one_of_many {
        fs::create_dir_all(folder).map_err(|error| {
            format!("{} cannot be made: {error}\n  check the place and its permissions", folder.display())
        })?;
    }
    write_whole(place, page)
}
