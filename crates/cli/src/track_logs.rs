//! Which logs are meant: files, folders of logs, patterns that the shell left alone, standard input.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use crate::failure::{Stop, say};

/// A log to read, or why there is none where one was named.
pub(crate) type Found = Result<PathBuf, String>;

const LOG_ENDINGS: [&str; 4] = ["gpx", "nmea", "csv", "gz"];

/// Standard input.
pub(crate) fn is_standard_input(path: &Path) -> bool {
    path == Path::new("-")
}

/// Returns the logs in the order named; those of a folder or pattern by name.
pub(crate) fn find(asked: &[PathBuf]) -> Result<Vec<Found>, Stop> {
    if asked.iter().filter(|path| is_standard_input(path)).count() > 1 {
        return Err(Stop::Usage("- stands there twice, but standard input can be read only once".into()));
    }
    Ok(asked.iter().flat_map(|path| of_one(path)).collect())
}

fn of_one(path: &Path) -> Vec<Found> {
    if path.is_dir() {
        return in_folder(path).unwrap_or_else(|message| vec![Err(message)]);
    }
    let text = path.to_string_lossy();
    if !is_standard_input(path) && !path.exists() && text.contains(['*', '?', '[']) {
        return by_pattern(&text).unwrap_or_else(|message| vec![Err(message)]);
    }
    vec![Ok(path.to_owned())]
}

/// The logs directly in a folder; folders inside it are not entered.
fn in_folder(folder: &Path) -> Result<Vec<Found>, String> {
    let entries = fs::read_dir(folder).and_then(Iterator::collect::<io::Result<Vec<_>>>);
    let shown = folder.display();
    let entries = entries
        .map_err(|error| format!("{shown} cannot be read: {error}\n  check the path and its permissions"))?;
    let mut paths: Vec<_> = entries.iter().map(fs::DirEntry::path).collect();
    paths.sort();
    let (logs, others): (Vec<_>, Vec<_>) = paths.into_iter().partition(|path| is_log(path));
    if logs.is_empty() {
        return Err(format!(
            "there is no file named *.gpx, *.nmea, *.csv or *.gz in {shown}\n  name the logs themselves"
        ));
    }
    if let Some(names) = named(&others) {
        say(&format!(
            "note: in {shown} only files named *.gpx, *.nmea, *.csv or *.gz are read; not read: {names}\n  name those that \
             are logs themselves"
        ));
    }
    Ok(logs.into_iter().map(Ok).collect())
}

/// The names of the first few files and folders; none if there is none but hidden ones.
fn named(others: &[PathBuf]) -> Option<String> {
    const MOST: usize = 5;
    let seen: Vec<&PathBuf> = others.iter().filter(|path| !is_hidden(path)).collect();
    let name = |path: &&&PathBuf| {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        if path.is_dir() { format!("the folder {name}") } else { name }
    };
    let mut names: Vec<String> = seen.iter().take(MOST).map(|path| name(&path)).collect();
    if let Some(more) = seen.len().checked_sub(MOST).filter(|more| *more > 0) {
        names.push(format!("{more} more"));
    }
    (!names.is_empty()).then(|| names.join(", "))
}

fn is_hidden(path: &Path) -> bool {
    path.file_name().is_some_and(|name| name.as_encoded_bytes().starts_with(b"."))
}

fn is_log(path: &Path) -> bool {
    let ending = path.extension().unwrap_or_default();
    LOG_ENDINGS.iter().any(|known| ending.eq_ignore_ascii_case(known)) && !is_hidden(path) && !path.is_dir()
}

fn by_pattern(pattern: &str) -> Result<Vec<Found>, String> {
    let paths = glob::glob(pattern).map_err(|error| {
        format!("the pattern {pattern} makes no sense: {}\n  * stands for any letters, ? for one", error.msg)
    })?;
    let logs: Vec<Found> = paths.filter_map(Result::ok).filter(|path| !path.is_dir()).map(Ok).collect();
    if logs.is_empty() {
        return Err(format!("no file is named like {pattern}\n  check the folder and the spelling"));
    }
    Ok(logs)
}
