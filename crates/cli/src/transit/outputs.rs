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

/// Refuses to write over what is read.
pub(crate) fn refuse_to_overwrite(asked: &CheckArguments) -> Result<(), Stop> {
    let read = asked.zones.iter().chain(&asked.pair.landmarks);
    let read: Vec<PathBuf> = read.filter_map(|path| fs::canonicalize(path).ok()).collect();
    let outs = [&asked.svg, &asked.card, &asked.geojson, &asked.gpx];
    for (option, out) in OUTPUT_OPTIONS.iter().zip(outs) {
        let place = out.as_ref().and_then(|out| fs::canonicalize(out).ok());
        if place.is_some_and(|place| !place.is_dir() && read.contains(&place)) {
            return Err(Stop::Usage(format!("{option} would write over a file that is read; name another")));
        }
    }
    Ok(())
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
            command: &command(std::env::args_os(), report),
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

/// The command that makes the answer again: what was typed, without files to write, with the time that was taken.
fn command(typed: impl Iterator<Item = OsString>, report: &TransitReport) -> String {
    let mut words = vec!["takeline".to_owned()];
    let mut has_time = false;
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
        words.push(quoted(&word));
    }
    if let Some(time) = report.question.time.filter(|_| !has_time) {
        words.push(format!("--time {time}"));
    }
    words.join(" ")
}
