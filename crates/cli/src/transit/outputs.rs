//! What is written: standard output, and the files that `takeline transit check` writes beside it.

use std::ffi::OsString;
use std::io::Write;
use std::path::PathBuf;

use serde::Serialize;
use takeline::transit::TransitReport;
use takeline::zone::ZoneSet;
use takeline_report::{
    CardInput, TransitDocument, json_page, transit_card, transit_geojson, transit_gpx, transit_sketch_svg,
};

use super::arguments::CheckArguments;
use crate::clock::is_time_of_day;
use crate::failure::Stop;
use crate::kept_file::{StandardOutput, refuse_overwriting, write_whole};
use crate::trip::quoted;
use crate::zone_files;

/// Options that name a file to write; the command that makes an answer again leaves them out.
const OUTPUT_OPTIONS: [&str; 4] = ["--svg", "--card", "--geojson", "--gpx"];

/// Writes a text to standard output.
pub(crate) fn print(text: &str) -> Result<(), Stop> {
    let mut out = StandardOutput::new();
    out.write_all(text.as_bytes())?;
    out.finish()
}

/// Writes a document to standard output.
pub(crate) fn print_json(document: &impl Serialize) -> Result<(), Stop> {
    print(&format!("{}\n", json_page(document)?))
}

/// Refuses to write over what is read, zone files of a folder too, and two outputs into one file.
pub(crate) fn refuse_to_overwrite(asked: &CheckArguments) -> Result<(), Stop> {
    let zones = zone_files::paths(&asked.zones)?;
    let read = zones.iter().chain(&asked.pair.landmarks).chain(&asked.coasts.coast).map(PathBuf::as_path);
    let outs = [&asked.svg, &asked.card, &asked.geojson, &asked.gpx];
    let written = OUTPUT_OPTIONS.into_iter().zip(outs);
    refuse_overwriting(read, written.filter_map(|(option, out)| Some((option, out.as_deref()?))))
}

/// Refuses standard output that goes into a file which is read.
pub(crate) fn refuse_to_print_over<'a>(
    zones: &[PathBuf],
    others: impl IntoIterator<Item = &'a PathBuf>,
) -> Result<(), Stop> {
    let mut read = zone_files::paths(zones)?;
    read.extend(others.into_iter().cloned());
    refuse_overwriting(read.iter().map(PathBuf::as_path), [])
}

/// Writes the files that were asked for. One that fails does not stop the others.
pub(crate) fn write_files(
    asked: &CheckArguments,
    document: &TransitDocument<'_>,
    (report, zones): (&TransitReport, &ZoneSet),
) -> Result<(), Stop> {
    let svg = asked.svg.as_deref().map(|path| write_whole(path, &transit_sketch_svg(document, zones)));
    let features = asked.geojson.as_deref().map(|path| {
        let text = json_page(&transit_geojson(document)).map_err(|error| error.to_string())?;
        write_whole(path, &format!("{text}\n"))
    });
    let waypoints = asked
        .gpx
        .as_deref()
        .map(|path| write_whole(path, &transit_gpx(document).map_err(|error| error.to_string())?));
    let card = asked.card.as_deref().map(|path| write_whole(path, &card(asked, document, (report, zones))?));
    let failed: Vec<String> =
        [svg, features, waypoints, card].into_iter().flatten().filter_map(Result::err).collect();
    if failed.is_empty() { Ok(()) } else { Err(Stop::Unreadable(failed.join("\nerror: "))) }
}

fn card(
    asked: &CheckArguments,
    document: &TransitDocument<'_>,
    (report, zones): (&TransitReport, &ZoneSet),
) -> Result<String, String> {
    let mut again = command(std::env::args_os(), report, zones);
    again.extend(asked.from_settings.iter().map(String::as_str));
    let input = CardInput { zones, program_version: env!("CARGO_PKG_VERSION"), command: &again };
    transit_card(document, &input).map_err(|error| format!("no card was written: {error}"))
}

/// The command that makes the answer again: what was typed, without files to write, with the time that was taken and
/// the zone files that were found.
fn command(typed: impl Iterator<Item = OsString>, report: &TransitReport, zones: &ZoneSet) -> String {
    let mut words = vec!["takeline".to_owned()];
    let (mut has_time, mut has_zones) = (false, false);
    let mut typed = typed.skip(1).map(|word| word.to_string_lossy().into_owned()).peekable();
    while let Some(word) = typed.next() {
        let option = word.split('=').next().unwrap_or_default();
        if OUTPUT_OPTIONS.contains(&option) {
            if option == word {
                typed.next();
            }
            continue;
        }
        // today is another day tomorrow: the time that was taken stands there instead
        if option == "--time" && is_today(&word, typed.peek()) {
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
        // a second is as fine as anybody needs it, and what the answer shows
        words.push(format!("--time {}", time.strftime("%Y-%m-%dT%H:%M:%SZ")));
    }
    if !has_zones {
        words.extend(zone_options(zones));
    }
    words.join(" ")
}

/// Whether `--time` has a time of day behind it.
fn is_today(word: &str, next: Option<&String>) -> bool {
    let value = word.split_once('=').map(|(_, value)| value);
    value.or(next.map(String::as_str)).is_some_and(is_time_of_day)
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
