//! `takeline track`: where one trip went, or many.

use std::fs::File;
use std::io::{self, BufReader, IsTerminal, Write};
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
use crate::in_order::in_order;
use crate::one_track::{Answered, Trip, Wanted, quoted};
use crate::standard_output::StandardOutput;
use crate::stop::{Stop, say};
use crate::talk::say_all;
use crate::track_logs::{self, Found};
use crate::track_outputs::Outputs;
use crate::zone_files;

/// Answers `takeline track`.
pub(crate) fn run(asked: &TrackArguments) -> Result<ExitStatus, Stop> {
    let logs = track_logs::find(&asked.logs)?;
    let trip = trip(asked, logs.len())?;
    let mut outputs = Outputs::open(asked, &logs)?;
    let season = Mutex::new(Season::default());
    let mut worst = status_of_catches(&trip);
    let mut progress = Progress::of(logs.len());
    let mut out = StandardOutput::new();
    let mut answered_logs = 0;
    in_order(
        logs.len(),
        |number| answer(&trip, &logs[number], &season),
        |answered: Answered| {
            progress.step();
            answered.talk.iter().for_each(|text| say(text));
            out.write_all(answered.out.as_bytes())?;
            worst = worst.worst(answered.status);
            outputs.add(&answered);
            answered_logs += 1;
            // named files are finished whoever reads the answers
            let is_in_vain = out.is_lost() && !outputs.are_wanted() && answered_logs < logs.len();
            if is_in_vain { Err(cut_short(answered_logs, logs.len())) } else { Ok(()) }
        },
    )?;
    progress.finish();
    if trip.is_one_of_many && trip.format == Format::Human {
        let season = season.into_inner().unwrap_or_default();
        out.write_all(season.text(trip.width).as_bytes())?;
    }
    worst = worst.worst(outputs.finish());
    out.finish()?;
    Ok(worst)
}

fn cut_short(answered: usize, all: usize) -> Stop {
    Stop::CutShort(format!(
        "standard output was closed after {answered} of {all} logs; the others were not looked at"
    ))
}

fn answer(trip: &Trip, found: &Found, season: &Mutex<Season>) -> Answered {
    match found {
        Ok(path) => trip.answer(path, season),
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

/// How far the work is, where somebody watches and the answers go elsewhere.
#[derive(Debug)]
struct Progress {
    done: usize,
    count: usize,
    is_watched: bool,
}

const CLEAR_LINE: &str = "\r\u{1b}[K";

impl Progress {
    fn of(count: usize) -> Self {
        let is_watched = count > 1 && io::stderr().is_terminal() && !io::stdout().is_terminal();
        Self { done: 0, count, is_watched }
    }

    fn step(&mut self) {
        self.done += 1;
        if self.is_watched {
            // where standard error is gone there is nobody left to watch
            drop(write!(io::stderr(), "{CLEAR_LINE}{} of {} tracks\r", self.done, self.count));
        }
    }

    fn finish(&self) {
        if self.is_watched {
            drop(write!(io::stderr(), "{CLEAR_LINE}"));
        }
    }
}
