//! Which zone files to read, and reading them. One bad file stops everything: a zone left out would read as open water.

use std::env;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use takeline::zone::ZoneSet;
use takeline::zone_file;

use crate::stop::{Stop, say};

const WHERE_ZONES_COME_FROM: &str = "give --zones FILE or FOLDER, or set TAKELINE_ZONES, or put zone files into \
                                     takeline/zones in your config folder ($XDG_CONFIG_HOME, else $HOME/.config)";

/// Loads every zone that was asked for; warnings go to standard error.
pub(crate) fn load(asked: &[PathBuf]) -> Result<ZoneSet, Stop> {
    let mut zones = Vec::new();
    let mut read_before = Vec::new();
    let places = places(asked)?;
    for file in files(&places)? {
        let label = file.display().to_string();
        let bytes = fs::read(&file).map_err(|error| unreadable(&file, &error))?;
        let loaded = zone_file::read(&label, &bytes).map_err(|error| {
            Stop::Unreadable(format!(
                "{error}\n  no zone is used until this is mended, because a zone left out would read as open water"
            ))
        })?;
        for warning in &loaded.warnings {
            say(&format!("{label}: warning: {warning}"));
        }
        if read_before.contains(&loaded.file.sha256) {
            say(&format!("{label}: note: the same file was read before; it counts once"));
            continue;
        }
        read_before.push(loaded.file.sha256.clone());
        zones.extend(loaded.zones);
    }
    if zones.is_empty() {
        let places: Vec<_> = places.iter().map(|place| place.display().to_string()).collect();
        return Err(Stop::Unreadable(format!(
            "there is no zone in {}\n  {WHERE_ZONES_COME_FROM}",
            places.join(", ")
        )));
    }
    let zones = ZoneSet::new(zones);
    refuse_circles(&zones)?;
    Ok(zones)
}

/// Zones of several files can displace each other in a circle, which no file shows alone.
fn refuse_circles(zones: &ZoneSet) -> Result<(), Stop> {
    let Some(circle) = zones.override_circles().first() else { return Ok(()) };
    let named = |number: &usize| {
        let zone = &zones.zones()[*number];
        format!("{} of {}", zone.id, zone.file.path)
    };
    let named: Vec<String> = circle.iter().map(named).collect();
    Err(Stop::Unreadable(format!(
        "the overrides of these zones go round in a circle, so that nobody can say which rule binds: {}\n  take one of \
         these overrides out, the one that the law does not say, or load the files one by one",
        named.join("; ")
    )))
}

/// The files that [`load`] reads.
pub(crate) fn paths(asked: &[PathBuf]) -> Result<Vec<PathBuf>, Stop> {
    files(&places(asked)?)
}

fn places(asked: &[PathBuf]) -> Result<Vec<PathBuf>, Stop> {
    if !asked.is_empty() {
        return Ok(asked.to_vec());
    }
    let list = env::var_os("TAKELINE_ZONES").unwrap_or_default();
    let listed: Vec<_> = env::split_paths(&list).filter(|path| !path.as_os_str().is_empty()).collect();
    if !listed.is_empty() {
        return Ok(listed);
    }
    let folder = config_folder().map(|folder| folder.join("takeline").join("zones"));
    match folder.filter(|folder| folder.is_dir()) {
        Some(folder) => Ok(vec![folder]),
        None => Err(Stop::Unreadable(format!("no zones are given\n  {WHERE_ZONES_COME_FROM}"))),
    }
}

fn config_folder() -> Option<PathBuf> {
    let named = |name| env::var_os(name).filter(|value| !value.is_empty()).map(PathBuf::from);
    named("XDG_CONFIG_HOME").or_else(|| named("HOME").map(|home| home.join(".config")))
}

fn files(places: &[PathBuf]) -> Result<Vec<PathBuf>, Stop> {
    let mut files = Vec::new();
    for place in places {
        if place.is_dir() {
            files.extend(in_folder(place)?);
        } else {
            files.push(place.clone());
        }
    }
    Ok(files)
}

/// The zone files directly in a folder, by name; folders inside it are not entered.
fn in_folder(folder: &Path) -> Result<Vec<PathBuf>, Stop> {
    let entries = fs::read_dir(folder).and_then(Iterator::collect::<io::Result<Vec<_>>>);
    let entries = entries.map_err(|error| unreadable(folder, &error))?;
    let mut files: Vec<_> =
        entries.iter().map(fs::DirEntry::path).filter(|path| is_zone_file(path)).collect();
    files.sort();
    if files.is_empty() {
        let folder = folder.display();
        return Err(Stop::Unreadable(format!(
            "there is no file named *.json or *.geojson in {folder}\n  {WHERE_ZONES_COME_FROM}"
        )));
    }
    Ok(files)
}

fn is_zone_file(path: &Path) -> bool {
    let is_hidden = path.file_name().is_some_and(|name| name.as_encoded_bytes().starts_with(b"."));
    let extension = path.extension().unwrap_or_default();
    let is_json = extension.eq_ignore_ascii_case("json") || extension.eq_ignore_ascii_case("geojson");
    is_json && !is_hidden && !path.is_dir()
}

fn unreadable(path: &Path, error: &io::Error) -> Stop {
    Stop::Unreadable(format!(
        "{} cannot be read: {error}\n  check the path and its permissions",
        path.display()
    ))
}
