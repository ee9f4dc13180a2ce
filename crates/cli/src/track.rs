//! `takeline track`: where one trip went, or many.

use std::fs::{self, File};
use std::io::{BufReader, Write};
use std::num::NonZero;
use std::path::Path;
use std::sync::Mutex;

use takeline::Metres;
use takeline::rule::Access;
use takeline::track::TrackSettings;
use takeline::zone::ZoneSet;
use takeline_report::{ExitStatus, Season};

use crate::accuracy;
use crate::arguments::{AccuracyKindName, Format, TrackArguments};
use crate::catches::{self, CatchLog};
use crate::failure::{Stop, say};
use crate::ordered_workers::{in_order, threads_or_cores};
use crate::progress::Progress;
use crate::standard_output::StandardOutput;
use crate::talk::say_all;
use crate::track_logs::{self, Found};
use crate::track_outputs::Outputs;
use crate::trip::{Along, Answered, Trip, Wanted, quoted};
use crate::zone_files;

/// Answers `takeline track`.
pub(crate) fn run(asked: &TrackArguments) -> Result<ExitStatus, Stop> {
    let logs = track_logs::find(&asked.logs)?;
    let trip = trip(asked, logs.len())?;
    let mut outputs = Outputs::open(asked, &logs)?;
    let season = Mutex::new(Season::default());
    let mut worst = status_of_catches(&trip);
    let progress = progress(&logs);
    let mut out = StandardOutput::new();
    let mut answered_logs = 0;
    let threads = NonZero::new(logs.len())
        .map_or(NonZero::<usize>::MIN, |logs| logs.min(threads_or_cores(asked.threads)));
    in_order(
        threads,
        logs.iter(),
        |found, give| {
            give((weight(found), answer(&trip, found, Along { season: &season, progress: &progress })))
        },
        |(done, answered): (u64, Answered)| {
            progress.add(done, || format!("{} of {} tracks", answered_logs + 1, logs.len()));
            answered.talk.iter().for_each(|text| say(text));
            out.write_all(answered.out.as_bytes())?;
            // the next one may take long
            out.flush()?;
            worst = worst.worst(answered.status);
            outputs.add(&answered);
            answered_logs += 1;
            // named files are finished whoever reads the answers
            let is_in_vain = out.is_lost() && !outputs.are_wanted() && answered_logs < logs.len();
            if is_in_vain {
                let all = logs.len();
                let left = format!("after {answered_logs} of {all} logs; the others were not looked at");
                return Err(out.cut_short(&left));
            }
            Ok(())
        },
    )?;
    drop(progress);
    if trip.is_one_of_many && trip.format == Format::Human {
        let asked = u64::try_from(logs.len()).unwrap_or(u64::MAX);
        let season = season.into_inner().unwrap_or_default().of_logs(asked);
        out.write_all(season.text(trip.width).as_bytes())?;
    }
    worst = worst.worst(outputs.finish());
    out.finish()?;
    Ok(worst)
}

/// One log shows how far it is read, several how many are finished.
fn progress(logs: &[Found]) -> Progress {
    let bytes: u64 = logs.iter().map(weight).sum();
    let is_known = bytes > logs.len() as u64;
    Progress::of(is_known.then_some(bytes), if logs.len() == 1 { "reading" } else { "0 tracks" })
}

/// How much work a log is: every byte, and a little for opening it.
fn weight(found: &Found) -> u64 {
    let metadata = found.as_ref().ok().and_then(|path| fs::metadata(path).ok());
    metadata.map_or(0, |file| file.len()) + 1
}

fn answer(trip: &Trip, found: &Found, along: Along<'_>) -> Answered {
    match found {
        Ok(path) => trip.answer(path, along),
        Err(message) => Answered::unreadable(message),
    }
}

/// Reads the catch log and tells what has to be known about its rows.
fn read_catches(path: &Path) -> Result<CatchLog, Stop> {
    let shown = path.display();
    let file = File::open(path).map_err(|error| {
        Stop::Unreadable(format!("{shown} cannot be read: {error}\n  check the path and its permissions"))
    })?;
    let log = catches::read_catches(BufReader::new(file))
        .map_err(|reason| Stop::Unreadable(format!("{shown}: {reason}")))?;
    for name in &log.ignored_columns {
        say(&format!("{shown}: note: the column \"{}\" is not read", name.escape_debug()));
    }
    say_all(format!("warnings about {shown}"), &log.warnings, |warning| {
        format!("{shown}, line {}: warning: {}", warning.line, warning.text)
    });
    say_all(format!("rows of {shown} that could not be read"), &log.faults, |fault| {
        format!("{shown}, line {}: {}", fault.line, fault.text)
    });
    Ok(log)
}

/// A row of the catch log that could not be read leaves the answer undecided.
fn status_of_catches(trip: &Trip) -> ExitStatus {
    let has_faults = trip.catches.as_ref().is_some_and(|log| !log.faults.is_empty());
    if has_faults { ExitStatus::Undecided } else { ExitStatus::Unrestricted }
}

fn trip(asked: &TrackArguments, logs: usize) -> Result<Trip, Stop> {
    if asked.catches.is_some() && logs > 1 {
        return Err(Stop::Usage("--catches belongs to one trip; give one log with it".into()));
    }
    let settings = settings(asked)?;
    let trim_ends = asked.trim_ends.map(Metres::non_negative).transpose();
    let zones = zone_files::load(&asked.zones)?;
    Ok(Trip {
        options: options(asked, &zones),
        zones,
        settings,
        accuracy_kind: accuracy::kind(asked.accuracy_kind),
        catches: asked.catches.as_deref().map(read_catches).transpose()?,
        trim_ends: trim_ends.map_err(|error| Stop::Usage(format!("--trim-ends: {error}")))?,
        format: asked.format,
        width: usize::from(asked.width),
        is_one_of_many: logs > 1,
        wanted: Wanted {
            page: asked.html.is_some(),
            features: asked.geojson.is_some(),
            rows: asked.csv.is_some(),
        },
    })
}

fn settings(asked: &TrackArguments) -> Result<TrackSettings, Stop> {
    let settings = TrackSettings {
        uncertainty: accuracy::uncertainty(asked.accuracy_m, asked.accuracy_kind)?,
        metres_per_hdop: asked.metres_per_hdop,
        access: asked.access.map(Access::from),
        new_trip_after_s: asked.new_trip_after_h.map(|hours| hours * 3_600.0),
        ..TrackSettings::default()
    };
    match asked.top_speed_kn {
        Some(knots) => settings
            .with_top_speed_kn(knots)
            .map_err(|error| Stop::Usage(format!("--top-speed-kn: {knots} {}", error.reason))),
        None => Ok(settings),
    }
}

/// The options that make a report again, wherever the zones were found this time.
fn options(asked: &TrackArguments, zones: &ZoneSet) -> String {
    let mut words: Vec<(&str, String)> = Vec::new();
    for zone in zones.zones() {
        let word = ("--zones", quoted(&zone.file.path));
        if !words.contains(&word) {
            words.push(word);
        }
    }
    words.extend(asked.accuracy_m.map(|metres| ("--accuracy-m", metres.to_string())));
    words.extend(asked.accuracy_kind.map(|kind| {
        let name = match kind {
            AccuracyKindName::P68 => "p68",
            AccuracyKindName::Rms => "rms",
            AccuracyKindName::P95 => "p95",
        };
        ("--accuracy-kind", name.to_owned())
    }));
    words.extend(asked.metres_per_hdop.map(|metres| ("--metres-per-hdop", metres.to_string())));
    words.extend(asked.top_speed_kn.map(|knots| ("--top-speed-kn", knots.to_string())));
    words.extend(asked.new_trip_after_h.map(|hours| ("--new-trip-after-h", hours.to_string())));
    words.extend(asked.access.map(|access| ("--access", access.word().to_owned())));
    words.extend(asked.catches.as_ref().map(|path| ("--catches", quoted(&path.display().to_string()))));
    words.extend(asked.trim_ends.map(|metres| ("--trim-ends", metres.to_string())));
    words
        .into_iter()
        .flat_map(|(option, value)| [" ".to_owned(), option.to_owned(), " ".to_owned(), value])
        .collect()
}
