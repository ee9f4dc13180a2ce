//! What can be typed, and nothing about what it means.

use std::num::NonZero;
use std::path::PathBuf;

use clap::builder::NonEmptyStringValueParser;
use clap::{Args, Parser, Subcommand, ValueEnum};
use jiff::Timestamp;
use takeline::AccuracyKind;
use takeline::rule::Access;
use takeline_report::ExitStatus;

use crate::transit::TransitArguments;
use crate::zones::ZonesArguments;

const CAUTION: &str = "\
Takeline is not an instrument of navigation. Rules change, and closures by
notice cannot be known offline. The law and the local officers decide.
Weather and cold water kill.";

const HERE_EXAMPLE: &str = "\
Example (Marrowick is invented):
  takeline here 45.1182 -30.1217 --zones marrowick.geojson --species cod

Exit status: 0 nothing restricts, 1 a restriction applies, 2 usage,
3 undecided or unreadable.

Takeline is not an instrument of navigation. Rules change, and closures by
notice cannot be known offline. The law and the local officers decide.
Weather and cold water kill.";

const TRACK_EXAMPLE: &str = "\
Example (Marrowick is invented):
  takeline track morning.gpx --zones marrowick.geojson --html morning.html

Exit status: 0 never inside a zone whose rule bound you, 1 surely inside one,
or a catch has to go back, 2 usage, 3 possible only, undecided or unreadable.

Takeline is not an instrument of navigation. Rules change, and closures by
notice cannot be known offline. The law and the local officers decide.
Weather and cold water kill.";

const CATCHES_HELP: &str =
    "Catch log of this trip: CSV with the columns time, species and others, see docs/catch-log.md";

pub(crate) const ZONES_HELP: &str = "\
Zone file, or folder of zone files; repeatable [default: the paths in TAKELINE_ZONES, else takeline/zones in your \
config folder]";

/// Which side of a marine-protected-area line you are on, and what may be kept there
#[derive(Debug, Parser)]
#[command(name = "takeline", version, propagate_version = true, arg_required_else_help = true, after_help = CAUTION)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    pub(crate) command: Command,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Where am I, what may I keep here
    Here(HereArguments),
    /// Where did this trip go, in which zones, how sure
    Track(TrackArguments),
    /// Do two marks show the line, which pair would, where do they line up, where do lines cross
    Transit(TransitArguments),
    /// Prepare large zone files, so that one fix is answered at once
    Zones(ZonesArguments),
}

#[derive(Debug, Args)]
#[command(after_help = HERE_EXAMPLE)]
pub(crate) struct HereArguments {
    /// Latitude: 45.1182 or 45°07.09'N; or latitude and longitude together in quotes
    #[arg(value_name = "LAT", allow_hyphen_values = true, value_parser = position_word)]
    #[arg(required_unless_present = "fixes", conflicts_with = "fixes")]
    pub(crate) latitude: Option<String>,

    /// Longitude: -30.1217 or 030°07.30'W
    #[arg(value_name = "LON", allow_hyphen_values = true, value_parser = position_word)]
    pub(crate) longitude: Option<String>,

    /// What stands after the position, to be refused in plain words
    #[arg(value_name = "NOTHING", allow_hyphen_values = true, value_parser = position_word, hide = true)]
    pub(crate) surplus: Vec<String>,

    #[arg(long, value_name = "PATH", help = ZONES_HELP)]
    pub(crate) zones: Vec<PathBuf>,

    /// Accuracy that the receiver shows, in metres [default: 10 m at 95 %, called assumed]
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = number)]
    pub(crate) accuracy_m: Option<f64>,

    /// What the accuracy means: 68 % radius, root mean square, 95 % radius [default: p68]
    #[arg(long, value_enum, value_name = "KIND")]
    pub(crate) accuracy_kind: Option<AccuracyKindName>,

    /// Time of the fix, RFC 3339, or "unknown" [default: now; with --fixes: unknown]
    #[arg(long, value_name = "RFC3339", value_parser = fix_time)]
    pub(crate) time: Option<FixTime>,

    /// Fish that you ask about, by any name; repeatable
    #[arg(long, value_name = "NAME", value_parser = NonEmptyStringValueParser::new())]
    pub(crate) species: Vec<String>,

    /// Gear in use, in the words of the zone file
    #[arg(long, value_name = "KIND", value_parser = NonEmptyStringValueParser::new())]
    pub(crate) gear: Option<String>,

    /// What is on the hook
    #[arg(long, value_name = "NAME", value_parser = NonEmptyStringValueParser::new())]
    pub(crate) bait: Option<String>,

    /// Length of the fish, in centimetres
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = above_zero, requires = "species")]
    pub(crate) length_cm: Option<f64>,

    /// How many are kept already, this one included
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = count, requires = "species")]
    pub(crate) count: Option<u32>,

    /// From where the fishing is done
    #[arg(long, value_enum, value_name = "KIND", default_value = "boat")]
    pub(crate) access: AccessName,

    /// Distance to keep outside every zone, in metres
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = number)]
    pub(crate) standoff_m: Option<f64>,

    /// List every zone, not only those that matter here
    #[arg(long)]
    pub(crate) all: bool,

    /// Many fixes: CSV with the header lat,lon[,time][,accuracy_m]; - reads standard input
    #[arg(long, value_name = "FILE|-")]
    pub(crate) fixes: Option<PathBuf>,

    /// Threads that share the rows of --fixes [default: one for each core]
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = threads)]
    pub(crate) threads: Option<NonZero<usize>>,

    /// Text for people or JSON for programs [default: human; with --fixes: json, one line per row]
    #[arg(long, value_enum, value_name = "FORMAT")]
    pub(crate) format: Option<Format>,

    /// Columns of the screen
    #[arg(long, value_name = "N", default_value_t = 40, value_parser = clap::value_parser!(u16).range(20..=500))]
    pub(crate) width: u16,
}

#[derive(Debug, Args)]
#[command(after_help = TRACK_EXAMPLE)]
pub(crate) struct TrackArguments {
    /// Track logs: GPX, NMEA 0183 or CSV, gzip or not; folders of them; - reads standard input
    #[arg(value_name = "FILE", required = true)]
    pub(crate) logs: Vec<PathBuf>,

    #[arg(long, value_name = "PATH", help = ZONES_HELP)]
    pub(crate) zones: Vec<PathBuf>,

    /// Accuracy of fixes that bring none, in metres [default: 10 m at 95 %, called assumed]
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = number)]
    pub(crate) accuracy_m: Option<f64>,

    /// What accuracies mean, here and in the log: 68 % radius, root mean square, 95 % radius [default: p68]
    #[arg(long, value_enum, value_name = "KIND")]
    pub(crate) accuracy_kind: Option<AccuracyKindName>,

    /// Metres (95 %) per unit of horizontal dilution of precision, if the log has that [default: not estimated]
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = above_zero)]
    pub(crate) metres_per_hdop: Option<f64>,

    /// Fastest that the boat can have gone, for what it could have reached in gaps [default: 12, called assumed]
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = above_zero)]
    pub(crate) top_speed_kn: Option<f64>,

    /// Take silence of so many hours, 1 and more, for the time between two trips [default: 6, where the boat is elsewhere after it]
    #[arg(long, value_name = "HOURS", allow_negative_numbers = true, value_parser = pause_hours)]
    pub(crate) new_trip_after_h: Option<f64>,

    /// From where the fishing was done [default: not known, so that a rule that binds only some is undecided]
    #[arg(long, value_enum, value_name = "KIND")]
    pub(crate) access: Option<AccessName>,

    #[arg(long, value_name = "CSV", help = CATCHES_HELP)]
    pub(crate) catches: Option<PathBuf>,

    /// Write a page with a map; with several logs a folder of pages, with an index
    #[arg(long, value_name = "OUT")]
    pub(crate) html: Option<PathBuf>,

    /// Draw the lines and polygons of a GeoJSON file beneath the map of --html; no answer uses them
    #[arg(long, value_name = "FILE", requires = "html")]
    pub(crate) backdrop: Vec<PathBuf>,

    /// Write the ways, visits, crossings and gaps for maps
    #[arg(long, value_name = "OUT")]
    pub(crate) geojson: Option<PathBuf>,

    /// Write a table with one row per visit
    #[arg(long, value_name = "OUT")]
    pub(crate) csv: Option<PathBuf>,

    /// Withhold positions within so many metres of both ends of each track
    #[arg(long, value_name = "M", allow_negative_numbers = true, value_parser = above_zero)]
    pub(crate) trim_ends: Option<f64>,

    /// Threads that share the logs; the answers come in order all the same [default: one for each core]
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = threads)]
    pub(crate) threads: Option<NonZero<usize>>,

    /// Text for people or JSON for programs, one line per log where there are several
    #[arg(long, value_enum, value_name = "FORMAT", default_value = "human")]
    pub(crate) format: Format,

    /// Columns of the screen
    #[arg(long, value_name = "N", default_value_t = 40, value_parser = clap::value_parser!(u16).range(20..=500))]
    pub(crate) width: u16,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
pub(crate) enum AccuracyKindName {
    P68,
    Rms,
    P95,
}

impl From<AccuracyKindName> for AccuracyKind {
    fn from(name: AccuracyKindName) -> Self {
        match name {
            AccuracyKindName::P68 => Self::P68,
            AccuracyKindName::Rms => Self::Rms,
            AccuracyKindName::P95 => Self::P95,
        }
    }
}

#[derive(Debug, Clone, Copy, ValueEnum)]
pub(crate) enum AccessName {
    Boat,
    Shore,
    Diving,
}

impl AccessName {
    /// The word for it, as it is typed.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::Boat => "boat",
            Self::Shore => "shore",
            Self::Diving => "diving",
        }
    }
}

impl From<AccessName> for Access {
    fn from(name: AccessName) -> Self {
        match name {
            AccessName::Boat => Self::Boat,
            AccessName::Shore => Self::Shore,
            AccessName::Diving => Self::Diving,
        }
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Format {
    Human,
    Json,
}

/// The time that `--time` gives.
#[derive(Debug, Clone, Copy)]
pub(crate) enum FixTime {
    At(Timestamp),
    Unknown,
}

impl FixTime {
    /// The time that was asked about: the clock's where none was given.
    pub(crate) fn or_now(asked: Option<Self>) -> Option<Timestamp> {
        asked.map_or_else(|| Some(Timestamp::now()), Self::timestamp)
    }

    pub(crate) fn timestamp(self) -> Option<Timestamp> {
        match self {
            Self::At(time) => Some(time),
            Self::Unknown => None,
        }
    }
}

/// Prints what clap has to say and returns what it means: help and version are no mistakes.
pub(crate) fn answer(refusal: &clap::Error) -> ExitStatus {
    let printed = refusal.print().is_ok();
    if refusal.use_stderr() || !printed { ExitStatus::Usage } else { ExitStatus::Unrestricted }
}

/// Lets `-30.2` through as a coordinate and keeps a misspelt option from being taken for one.
fn position_word(word: &str) -> Result<String, String> {
    let after = word.strip_prefix('-').unwrap_or_default();
    if after.starts_with(|letter: char| letter == '-' || letter.is_ascii_alphabetic()) {
        return Err(
            "an option here, where a part of the position is looked for: if it is spelt right, there is one \
                    word too many before it; `takeline here --help` lists the options"
                .into(),
        );
    }
    Ok(word.to_owned())
}

pub(crate) fn fix_time(text: &str) -> Result<FixTime, String> {
    if text == "unknown" {
        return Ok(FixTime::Unknown);
    }
    Ok(FixTime::At(timestamp(text)?))
}

/// Reads a time with its offset from UTC; no place on Earth is a day off.
pub(crate) fn timestamp(text: &str) -> Result<Timestamp, String> {
    let offset_hours = text.rfind(['+', '-']).filter(|at| *at > 10).and_then(|at| text.get(at + 1..at + 3));
    let is_a_day_off = offset_hours.is_some_and(|hours| hours.parse::<u8>().is_ok_and(|hours| hours > 23));
    if is_a_day_off {
        return Err(format!("an offset from UTC is less than 24 hours; {TIME_FORM}"));
    }
    text.parse().map_err(|_| TIME_FORM.to_owned())
}

/// How a time is written, for messages.
pub(crate) const TIME_FORM: &str =
    "a time needs date, time and offset from UTC, as in 2026-07-25T06:30:00Z or 2026-07-25T07:30:00+01:00";

/// Reads a number, and says in plain words why a text is none.
pub(crate) fn number(text: &str) -> Result<f64, String> {
    let found = |text: &str| text.parse::<f64>().ok();
    if let Some(number) = found(text) {
        return Ok(number);
    }
    let with_point = text.replace(',', ".");
    let bare = with_point.trim_end_matches(|letter: char| !letter.is_ascii_digit());
    Err(match found(bare) {
        Some(_) if bare == with_point => format!("no number: write {bare}, with a point"),
        Some(_) => format!("no number: write {bare}, without a unit"),
        None => "no number".to_owned(),
    })
}

fn count(text: &str) -> Result<u32, String> {
    text.parse().map_err(|_| "no count: write a whole number, 0 or more".to_owned())
}

/// More threads than this are a slip of the finger.
const MOST_THREADS: usize = 1_024;

fn threads(text: &str) -> Result<NonZero<usize>, String> {
    let count = text.parse().map_err(|_| {
        format!(
            "no count: write a whole number from 1 to {MOST_THREADS}, or leave it out for one on each core"
        )
    })?;
    NonZero::new(count)
        .filter(|count| count.get() <= MOST_THREADS)
        .ok_or_else(|| format!("has to be from 1 to {MOST_THREADS}; leave it out for one on each core"))
}

/// The shortest time, in hours, that can be told to lie between two trips (common practice, no source): whoever means minutes, or
/// leaves out a digit, would have every silence of the log unjudged.
const SHORTEST_PAUSE_H: f64 = 1.0;

fn pause_hours(text: &str) -> Result<f64, String> {
    let hours = number(text)?;
    if hours.is_finite() && hours >= SHORTEST_PAUSE_H {
        Ok(hours)
    } else {
        Err(format!("has to be {SHORTEST_PAUSE_H} hour or more; shorter silences are judged as gaps"))
    }
}

pub(crate) fn above_zero(text: &str) -> Result<f64, String> {
    let number = number(text)?;
    if number.is_finite() && number > 0.0 { Ok(number) } else { Err("has to be above zero".into()) }
}
