//! `takeline transit calibrate`: where the marks really line up.

use std::path::Path;

use takeline::transit::{Calibration, CalibrationError, Stretch, TransitQuestion};
use takeline::{Fix, HorizontalUncertainty, Metres, Position, PrintedPrecision, widest_step_deg};
use takeline_formats::{LogItem, LogNoteKind, ReadOptions, TrackReader};
use takeline_report::words::{English, Words};
use takeline_report::{CalibrationDocument, ExitStatus, Units, transit_calibrate_text};

use super::arguments::CalibrateArguments;
use super::marks::{eye, length, range_line};
use super::outputs;
use crate::arguments::Format;
use crate::clock::FixTime;
use crate::failure::{Stop, Talk, say};
use crate::trip::open;
use crate::{accuracy, plausibility, zone_files};

/// The most bytes of a file of fixes that are read, unpacked: 64 MiB.
const MOST_BYTES: u64 = 64 * 1024 * 1024;
/// The most fixes, about a day of one each second.
const MOST_FIXES: usize = 100_000;

/// Answers `takeline transit calibrate`.
pub(crate) fn run(asked: &CalibrateArguments, units: Units) -> Result<ExitStatus, Stop> {
    let line = range_line(&asked.pair)?;
    let eye = eye(&asked.eye)?;
    let assumed = accuracy::uncertainty(asked.accuracy_m, asked.accuracy_kind)?;
    let read = asked.pair.landmarks.iter().chain(&asked.coasts.coast).chain([&asked.fixes]);
    outputs::refuse_to_print_over(&asked.zones, read)?;
    let fixes = read_fixes(asked, assumed)?;
    let calibration = line
        .calibrate(&fixes, eye)
        .map_err(|error| Stop::Unreadable(format!("{}: {}", asked.fixes.display(), refused(&error))))?;
    let zones = zone_files::load(&asked.zones, &asked.coasts)?;
    plausibility::refuse_slip("--front", &zones, line.front().position)?;
    let mut question = TransitQuestion::about(stretch(asked, &calibration)?);
    question.eye = eye;
    question.leave_out_land = asked.near_m.is_none() && asked.far_m.is_none();
    question.time = FixTime::or_now(asked.time.as_ref());
    question.hour_is_known = asked.time.is_some();
    let report = calibration.shown.check(&zones, &question);
    let words = asked.form.format.words(units);
    let document = CalibrationDocument::new(&calibration, Some(&report), &words);
    let document = document.with_coasts(zones.coasts());
    let document =
        if FixTime::is_by_clock(asked.time.as_ref()) { document.with_time_by_clock() } else { document };
    match asked.form.format {
        Format::Human => {
            let text = transit_calibrate_text(&document, asked.form.screen.width());
            outputs::print(&asked.form.shown(&text))?;
        }
        Format::Json => outputs::print_json(&document)?,
    }
    Ok(document.exit_status)
}

/// Why fixes cannot be used, each by its number.
fn refused(error: &CalibrationError) -> String {
    let CalibrationError::NoUsableFix { front, rear, fixes, unused } = error else {
        return error.to_string();
    };
    let each: Vec<String> = unused.iter().map(|unused| English.unused_fixes(unused)).collect();
    format!("none of the {fixes} fixes can be used for {front} and {rear}: {}", each.join("; "))
}

/// Every fix of the file, waypoints too: on the water one sets a waypoint when the marks close.
fn read_fixes(asked: &CalibrateArguments, assumed: HorizontalUncertainty) -> Result<Vec<Fix>, Stop> {
    let path = &asked.fixes;
    let input = open(path).map_err(Stop::Unreadable)?;
    let options =
        ReadOptions::default().accuracy_kind(accuracy::kind(asked.accuracy_kind)).limit_bytes(MOST_BYTES);
    let unreadable = |error: takeline_formats::ReadLogError| Stop::Unreadable(error.to_string());
    let reader = TrackReader::open_with(&path.display().to_string(), input, options).map_err(unreadable)?;
    let mut fixes = Vec::new();
    let mut notes = Talk::about(format!("notes about {}", path.display()));
    for item in reader {
        match item.map_err(unreadable)? {
            LogItem::Fix(fix) => {
                let uncertainty = fix.uncertainty.unwrap_or(assumed);
                fixes.push(Fix::new(fix.position, uncertainty).at_time(fix.time));
            }
            LogItem::Waypoint(waypoint) => {
                let uncertainty = waypoint.uncertainty.unwrap_or(assumed);
                fixes.push(Fix::new(waypoint.position, uncertainty).at_time(waypoint.time));
            }
            LogItem::Note(note)
                if note.kind == LogNoteKind::AccuracyUnreadable && asked.accuracy_m.is_none() =>
            {
                return Err(Stop::Unreadable(format!(
                    "{}, line {}: {}\n  or give --accuracy-m for fixes whose accuracy cannot be read",
                    path.display(),
                    note.place.line,
                    note.text
                )));
            }
            LogItem::Note(note) => {
                notes.say(|| format!("{}, line {}: {}", path.display(), note.place.line, note.text));
            }
            // a point of a route is a plan; a note says so
            LogItem::RoutePoint(_) | _ => {}
        }
        if fixes.len() > MOST_FIXES {
            return Err(Stop::Unreadable(format!(
                "{} holds more than {MOST_FIXES} fixes, the most that are read\n  cut it to the time on the line",
                path.display()
            )));
        }
    }
    notes.finish();
    count_few_digits(path, &mut fixes);
    Ok(fixes)
}

/// Where all fixes have few digits, what these leave open is a doubt of every one, as it is in a track.
fn count_few_digits(path: &Path, fixes: &mut [Fix]) {
    let positions: Vec<Position> = fixes.iter().map(|fix| fix.position).collect();
    let Some(step_deg) = widest_step_deg(&positions).filter(|_| !positions.is_empty()) else { return };
    let mut widest_m = 0.0_f64;
    for fix in fixes {
        let precision = PrintedPrecision::on_step(fix.position, step_deg);
        widest_m = widest_m.max(precision.north_south().metres());
        fix.uncertainty = fix.uncertainty.with_rounding(precision.north_south(), precision.east_west());
    }
    say(&format!(
        "{}: note: the fixes have few digits: each may be off by {widest_m:.0} m north and south, and somewhat less east and \
         west, which is added to its uncertainty",
        path.display()
    ));
}

/// The stretch as given, else that of the fixes.
fn stretch(asked: &CalibrateArguments, calibration: &Calibration) -> Result<Stretch, Stop> {
    let of_fixes = |pick: fn(f64, f64) -> f64| {
        let away = calibration.at_fixes.iter().map(|offset| offset.distance_from_front.metres());
        away.reduce(pick)
    };
    let near_m = asked.near_m.or_else(|| of_fixes(f64::min)).unwrap_or_default();
    let far_m = asked.far_m.or_else(|| of_fixes(f64::max)).unwrap_or_default();
    // fixes at one distance make no stretch; the corrected line is then judged about them
    let (near_m, far_m) = if far_m - near_m < 10.0 && asked.near_m.is_none() && asked.far_m.is_none() {
        ((near_m - 50.0).max(1.0), far_m + 50.0)
    } else {
        (near_m, far_m)
    };
    let near = length("--near-m", Metres::new(near_m))?;
    Stretch::new(near, length("--far-m", Metres::new(far_m))?).map_err(|error| Stop::Usage(error.to_string()))
}
