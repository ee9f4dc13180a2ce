//! What is written: standard output, and the files that `takeline transit check` writes beside it.

use std::ffi::OsString;
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use serde::Serialize;
use takeline::transit::TransitReport;
use takeline::zone::ZoneSet;
use takeline_report::{CardInput, transit_card, transit_geojson, transit_gpx, transit_sketch_svg};

use super::arguments::CheckArguments;
use crate::one_track::quoted;
use crate::stop::Stop;
use crate::zone_files;

/// Options that name a file to write; the command that makes an answer again leaves them out.
const OUTPUT_OPTIONS: [&str; 4] = ["--svg", "--card", "--geojson", "--gpx"];

/// Writes a text to standard output.
pub(crate) fn print(text: &str) -> Result<(), Stop> {
    let mut out = io::stdout().lock();
    out.write_all(text.as_bytes())?;
    out.flush()?;
    Ok(())
}

/// Writes a document to standard output.
pub(crate) fn print_json(document: &impl Serialize) -> Result<(), Stop> {
    print(&format!("{}\n", serde_json::to_string_pretty(document)?))
}

/// Refuses to write over what is read, zone files of a folder too, and two outputs into one file.
pub(crate) fn refuse_to_overwrite(asked: &CheckArguments) -> Result<(), Stop> {
    let zones = zone_files::paths(&asked.zones)?;
    let read: Vec<PathBuf> = zones.iter().chain(&asked.pair.landmarks).map(|path| place(path)).collect();
    let mut written: Vec<(PathBuf, &str)> = Vec::new();
    for (option, out) in OUTPUT_OPTIONS.iter().zip([&asked.svg, &asked.card, &asked.geojson, &asked.gpx]) {
        let Some(out) = out.as_deref().map(place) else { continue };
        if read.contains(&out) {
            return Err(Stop::Usage(format!("{option} would write over a file that is read; name another")));
        }
        if let Some((_, other)) = written.iter().find(|(before, _)| *before == out) {
            return Err(Stop::Usage(format!(
                "{other} and {option} name the same file; name another for one"
            )));
        }
        written.push((out, option));
    }
    Ok(())
}

/// A path by which two names of one file are known to be the same, whether it is there yet or not.
fn place(path: &Path) -> PathBuf {
    let folder =
        path.parent().map(|folder| if folder.as_os_str().is_empty() { Path::new(".") } else { folder });
    let in_folder = || Some(fs::canonicalize(folder?).ok()?.join(path.file_name()?));
    fs::canonicalize(path).ok().or_else(in_folder).unwrap_or_else(|| path.to_owned())
}

/// Writes the files that were asked for.
pub(crate) fn write_files(
    asked: &CheckArguments,
    report: &TransitReport,
    zones: &ZoneSet,
) -> Result<(), Stop> {
    if let Some(path) = &asked.svg {
        write_file(path, &transit_sketch_svg(report))?;
    }
    if let Some(path) = &asked.geojson {
        write_file(path, &format!("{}\n", serde_json::to_string_pretty(&transit_geojson(report))?))?;
    }
    if let Some(path) = &asked.gpx {
        write_file(path, &transit_gpx(report)?)?;
    }
    if let Some(path) = &asked.card {
        let input = CardInput {
            zones,
            program_version: env!("CARGO_PKG_VERSION"),
            command: &command(std::env::args_os(), report, zones),
        };
        let card = transit_card(report, &input)
            .map_err(|error| Stop::Unreadable(format!("no card was written: {error}")))?;
        write_file(path, &card)?;
    }
    Ok(())
}

fn write_file(path: &Path, text: &str) -> Result<(), Stop> {
    fs::write(path, text).map_err(|error| {
        Stop::Unreadable(format!(
            "{} cannot be written: {error}\n  check the folder, its permissions and the space left",
            path.display()
        ))
    })
}

/// The command that makes the answer again: what was typed, without files to write, with the time that was taken and
/// the zone files that were found.
fn command(typed: impl Iterator<Item = OsString>, report: &TransitReport, zones: &ZoneSet) -> String {
    let mut words = vec!["takeline".to_owned()];
    let (mut has_time, mut has_zones) = (false, false);
    let mut typed = typed.skip(1).map(|word| word.to_string_lossy().into_owned());
    while let Some(word) = typed.next() {
        let option = word.split('=').next().unwrap_or_default();
        if OUTPUT_OPTIONS.contains(&option) {
            if option == word {
                typed.next();
            }
            continue;
        }
        has_time |= option == "--time";
        has_zones |= option == "--zones";
        words.push(quoted(&word));
    }
    if let Some(time) = report.question.time.filter(|_| !has_time) {
        words.push(format!("--time {time}"));
    }
    if !has_zones {
        words.extend(zone_options(zones));
    }
    words.join(" ")
}

/// The zone files that the environment or the config folder named.
fn zone_options(zones: &ZoneSet) -> Vec<String> {
    let mut options: Vec<String> = Vec::new();
    for zone in zones.zones() {
        let option = format!("--zones {}", quoted(&zone.file.path));
        if !options.contains(&option) {
            options.push(option);
        }
    }
    options
}
