//! What can be typed, and nothing about what it means.

use std::ffi::OsString;
use std::num::NonZero;
use std::path::PathBuf;

use clap::builder::NonEmptyStringValueParser;
use clap::{Args, Parser, Subcommand, ValueEnum};
use takeline::AccuracyKind;
use takeline::rule::Access;
use takeline_report::Units;
use takeline_report::words::EnglishIn;

use crate::clock::{FixTime, fix_time};
use crate::coasts::CoastArguments;
use crate::failure::Stop;
use crate::manual::{CompletionsArguments, ManualArguments};
use crate::quantities::{
    above_zero, fish_length_cm, heading, hours, knots_above_zero, metres, metres_above_zero, whole,
};
use crate::screen::ScreenArguments;
use crate::settings::{Settings, SettingsArguments};
use crate::transit::TransitArguments;
use crate::words_meant::is_option;
use crate::zones::ZonesArguments;

const FIRST_SCREEN: &str = "\
Try this first, in the folder that holds demo-data (the isle of Marrowick is
invented):
  takeline here 45.1182 -30.1217 --zones demo-data/zones

and for what any command takes, with examples: takeline here --help

Takeline is not an instrument of navigation. Rules change, and closures by
notice cannot be known offline. The law and the local officers decide.
Weather and cold water kill.";

const HERE_EXAMPLE: &str = "\
Examples (Marrowick is invented):
  takeline here 45.1182 -30.1217 --zones demo-data/zones --species pollack
  takeline here \"45°07.09'N 30°07.30'W\" --accuracy 5m --time 07:25 \\
    --zones demo-data/zones/marrowick.json demo-data/zones/harbour-board.json
  takeline here 45.1170 -30.1190 --zones demo-data/zones \\
    --coast demo-data/coast/marrowick.geojson --heading 270 --speed 2.5kn
  takeline here --fixes demo-data/fixes.csv --zones demo-data/zones

The position may come before --zones or after its paths. A length is in the
unit of its option, or has one: 30ft, 4in, 0.5nm (nautical miles), 10m, 12cm.

Exit status: 0 nothing restricts, 1 a restriction applies, 2 typed wrongly,
3 undecided or unreadable.

Takeline is not an instrument of navigation. Rules change, and closures by
notice cannot be known offline. The law and the local officers decide.
Weather and cold water kill.";

const TRACK_EXAMPLE: &str = "\
Examples (Marrowick is invented):
  takeline track demo-data/trips/launch-and-cross.gpx --zones demo-data/zones
  takeline track demo-data/trips/catch-day.csv --zones demo-data/zones \\
    --catches demo-data/trips/catches.csv --top-speed 8mph --html trip.html
  takeline track demo-data/trips/*.gpx --zones demo-data/zones

Several zone files may follow --zones; a log behind them stays a log. A length
or speed is in the unit of its option, or has one: 30ft, 0.5nm, 12kn, 5m/s.

Exit status: 0 nothing in the log is against a loaded rule, 1 something is,
2 typed wrongly, 3 not settled or unreadable.

Takeline is not an instrument of navigation. Rules change, and closures by
notice cannot be known offline. The law and the local officers decide.
Weather and cold water kill.";

const CATCHES_HELP: &str =
    "Catch log of this trip: CSV with the columns time, species and others, see docs/catch-log.md";

const SETTINGS_HELP: &str = "\
File of your own defaults, or \"none\" [default: the path in TAKELINE_SETTINGS, else the file that `takeline settings` \
names]";

const FIXES_HELP: &str = "\
Many fixes: CSV with columns such as lat, lon, time, accuracy_m, under any heading that `track` reads; - reads standard input";

pub(crate) const ZONES_HELP: &str = "\
Zone files, or folders of them; several may follow each other [default: the paths in TAKELINE_ZONES, else takeline/zones in your \
config folder]";

/// Which side of a protected-area boundary you are on, and what you may keep there
#[derive(Debug, Parser)]
#[command(name = "takeline", version, propagate_version = true, arg_required_else_help = true, after_help = FIRST_SCREEN)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    pub(crate) command: Command,

    /// Units for texts and pages (JSON, CSV and GeoJSON stay metric) [default: metric]
    #[arg(long, value_enum, value_name = "UNITS", global = true)]
    pub(crate) units: Option<UnitsName>,

    #[arg(long, global = true, help = SETTINGS_HELP, value_name = "PATH|none", value_parser = clap::value_parser!(OsString))]
    pub(crate) settings: Option<OsString>,
}

/// How `--units` names them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum UnitsName {
    /// Metres and kilometres, knots, hectares
    Metric,
    /// Metres, cables and nautical miles, knots
    Nautical,
    /// Feet, yards and miles, miles an hour, acres
    Us,
}

impl UnitsName {
    /// The word for it.
    pub(crate) const fn word(self) -> &'static str {
        match self {
            Self::Metric => "metric",
            Self::Nautical => "nautical",
            Self::Us => "us",
        }
    }
}

impl From<UnitsName> for Units {
    fn from(name: UnitsName) -> Self {
        match name {
            UnitsName::Metric => Self::Metric,
            UnitsName::Nautical => Self::Nautical,
            UnitsName::Us => Self::Us,
        }
    }
}

impl Arguments {
    /// Gives the command what the settings say and nobody typed. What shows settings, or needs none, reads none.
    pub(crate) fn use_settings(&mut self) -> Result<(), Stop> {
        match &self.command {
            Command::Here(_) | Command::Track(_) | Command::Transit(_) | Command::Zones(_) => {
                let settings = Settings::load(self.settings.as_deref())?;
                self.units = self.units.or(settings.units);
                settings.fill(&mut self.command);
            }
            Command::Settings(_) | Command::Completions(_) | Command::Manual(_) => {}
        }
        Ok(())
    }
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Where am I, and what may I keep here
    Here(HereArguments),
    /// Did I slip? Which zones a trip went into, when, and how sure that is
    Track(TrackArguments),
    /// Marks in line: check a pair, find one, calibrate one, or fix your position by them
    Transit(TransitArguments),
    /// Zone files: draft them from law texts, check, read back, import, export, compare
    Zones(ZonesArguments),
    /// Your own defaults: what is set, and where the file is
    Settings(SettingsArguments),
    /// Print a completion script for your shell
    Completions(CompletionsArguments),
    /// Print a manual page, or write them all
    Manual(ManualArguments),
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

    /// Accuracy that your receiver shows, in metres [default: 10 m at 95 %, called assumed]
    #[arg(long, visible_alias = "accuracy", value_name = "N", allow_negative_numbers = true, value_parser = metres)]
    pub(crate) accuracy_m: Option<f64>,

    /// What the accuracy means: 68 % radius, root mean square, 95 % radius [default: p68]
    #[arg(long, value_enum, value_name = "KIND")]
    pub(crate) accuracy_kind: Option<AccuracyKindName>,

    /// Time of the fix: 2026-07-25T07:30:00+01:00, or 07:25 for today here, or "unknown" [default: now; with --fixes: unknown]
    #[arg(long, value_name = "TIME", value_parser = fix_time)]
    pub(crate) time: Option<FixTime>,

    /// Fish that you ask about, by any name; once for each fish (`takeline zones names` lists them)
    #[arg(long, value_name = "NAME", value_parser = NonEmptyStringValueParser::new())]
    pub(crate) species: Vec<String>,

    /// Gear in use, in the words of the zone file (`takeline zones names` lists them)
    #[arg(long, value_name = "KIND", value_parser = NonEmptyStringValueParser::new())]
    pub(crate) gear: Option<String>,

    /// What is on the hook
    #[arg(long, value_name = "NAME", value_parser = NonEmptyStringValueParser::new())]
    pub(crate) bait: Option<String>,

    /// Length of the fish, in centimetres
    #[arg(long, visible_alias = "length", value_name = "N", allow_negative_numbers = true, value_parser = fish_length_cm, requires = "species")]
    pub(crate) length_cm: Option<f64>,

    /// How many you would have kept, counting this one
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = count, requires = "species")]
    pub(crate) count: Option<u32>,

    /// From where the fishing is done [default: boat]
    #[arg(long, value_enum, value_name = "KIND")]
    pub(crate) access: Option<AccessName>,

    /// Distance to keep outside every zone, in metres
    #[arg(long, visible_alias = "standoff", value_name = "N", allow_negative_numbers = true, value_parser = metres)]
    pub(crate) standoff_m: Option<f64>,

    /// Heading, in degrees true: how far it is along the bow to the boundary and to clear water
    #[arg(long, value_name = "DEG", allow_negative_numbers = true, value_parser = heading)]
    pub(crate) heading: Option<f64>,

    /// Speed over the ground, in knots: how long the ways take
    #[arg(long, visible_alias = "speed", value_name = "N", allow_negative_numbers = true, value_parser = knots_above_zero)]
    pub(crate) speed_kn: Option<f64>,

    /// Where you launched, as a position in quotes: the way home, and what it crosses [default: `launch` of your settings]
    #[arg(long, value_name = "POSITION", allow_hyphen_values = true)]
    pub(crate) launch: Option<String>,

    /// With --fixes: look for the way out of closed water for each row too
    #[arg(long, requires = "fixes")]
    pub(crate) way_out: bool,

    #[command(flatten)]
    pub(crate) coasts: CoastArguments,

    /// List every zone, not only those that matter here
    #[arg(long)]
    pub(crate) all: bool,

    /// Only the first three lines: the answer, why, and what settles it or warns of it
    #[arg(long, conflicts_with = "fixes")]
    pub(crate) brief: bool,

    #[arg(long, help = FIXES_HELP, value_name = "FILE|-")]
    pub(crate) fixes: Option<PathBuf>,

    /// Threads that share the rows of --fixes [default: one for each core]
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = threads)]
    pub(crate) threads: Option<NonZero<usize>>,

    /// Text for people or JSON for programs [default: human; with --fixes: json, one line per row]
    #[arg(long, value_enum, value_name = "FORMAT")]
    pub(crate) format: Option<Format>,

    #[command(flatten)]
    pub(crate) screen: ScreenArguments,
}

#[derive(Debug, Args)]
#[command(after_help = TRACK_EXAMPLE)]
pub(crate) struct TrackArguments {
    /// Track logs: GPX, NMEA 0183 or CSV, gzip or not; folders of them; - reads standard input
    #[arg(value_name = "FILE", required = true)]
    pub(crate) logs: Vec<PathBuf>,

    #[arg(long, value_name = "PATH", help = ZONES_HELP)]
    pub(crate) zones: Vec<PathBuf>,

    /// Accuracy for fixes that state none, in metres [default: 10 m at 95 %, called assumed]
    #[arg(long, visible_alias = "accuracy", value_name = "N", allow_negative_numbers = true, value_parser = metres)]
    pub(crate) accuracy_m: Option<f64>,

    /// What accuracies mean, here and in the log: 68 % radius, root mean square, 95 % radius [default: p68]
    #[arg(long, value_enum, value_name = "KIND")]
    pub(crate) accuracy_kind: Option<AccuracyKindName>,

    /// Metres (95 %) per unit of horizontal dilution of precision, if the log has that [default: not estimated]
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = above_zero)]
    pub(crate) metres_per_hdop: Option<f64>,

    /// Your boat's top speed, in knots: how far it could have gone while nothing was logged [default: 12, called assumed]
    #[arg(long, visible_alias = "top-speed", value_name = "N", allow_negative_numbers = true, value_parser = knots_above_zero)]
    pub(crate) top_speed_kn: Option<f64>,

    /// Begin a new trip after this many hours without a fix (1 or more) [default: 6, where the boat is elsewhere after it]
    #[arg(long, visible_alias = "new-trip-after", value_name = "HOURS", allow_negative_numbers = true, value_parser = pause_hours)]
    pub(crate) new_trip_after_h: Option<f64>,

    /// From where the fishing was done; nothing is assumed, as `here` assumes a boat [default: not known, so that a rule that binds only some is undecided]
    #[arg(long, value_enum, value_name = "KIND")]
    pub(crate) access: Option<AccessName>,

    #[command(flatten)]
    pub(crate) coasts: CoastArguments,

    #[arg(long, value_name = "CSV", help = CATCHES_HELP)]
    pub(crate) catches: Option<PathBuf>,

    /// Write a page with a map; with several logs a folder of pages, with an index
    #[arg(long, value_name = "OUT")]
    pub(crate) html: Option<PathBuf>,

    /// Draw the lines and polygons of a GeoJSON file beneath the map of --html; no answer uses them
    #[arg(long, value_name = "FILE", requires = "html")]
    pub(crate) backdrop: Vec<PathBuf>,

    /// Write the track, visits, crossings and gaps as GeoJSON
    #[arg(long, value_name = "OUT")]
    pub(crate) geojson: Option<PathBuf>,

    /// Write a table with one row per visit
    #[arg(long, value_name = "OUT")]
    pub(crate) csv: Option<PathBuf>,

    /// Hide positions within this many metres of the start and the finish
    #[arg(long, value_name = "M", allow_negative_numbers = true, value_parser = metres_above_zero)]
    pub(crate) trim_ends: Option<f64>,

    /// Threads that share the logs; the answers come in order all the same [default: one for each core]
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = threads)]
    pub(crate) threads: Option<NonZero<usize>>,

    /// Only the first lines: the answer, why, and what settles it
    #[arg(long)]
    pub(crate) brief: bool,

    /// Text for people or JSON for programs, one line per log where there are several
    #[arg(long, value_enum, value_name = "FORMAT", default_value = "human")]
    pub(crate) format: Format,

    #[command(flatten)]
    pub(crate) screen: ScreenArguments,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
pub(crate) enum AccuracyKindName {
    /// Radius within which 68 of 100 fixes lie
    P68,
    /// Root mean square of the errors
    Rms,
    /// Radius within which 95 of 100 fixes lie
    P95,
}

impl AccuracyKindName {
    /// The word for it, as it is typed.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::P68 => "p68",
            Self::Rms => "rms",
            Self::P95 => "p95",
        }
    }
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
    /// Anything afloat: kayak, canoe, dinghy and skiff are read as boat
    #[value(aliases = ["kayak", "canoe", "dinghy", "skiff"])]
    Boat,
    /// Standing or wading, from rocks, beach or pier
    Shore,
    /// Under water, with or without a tank
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

impl Format {
    /// The words of an answer: the texts of JSON have metres too, whatever units people are shown.
    pub(crate) fn words(self, units: Units) -> EnglishIn {
        match self {
            Self::Human => EnglishIn(units),
            Self::Json => EnglishIn(Units::Metric),
        }
    }
}

/// Lets `-30.2` through as a coordinate and keeps a misspelt option from being taken for one.
fn position_word(word: &str) -> Result<String, String> {
    if is_option(word) { Err("is an option".into()) } else { Ok(word.to_owned()) }
}

fn count(text: &str) -> Result<u32, String> {
    text.parse().map_err(|_| "write a whole number, 0 or more".to_owned())
}

/// The narrowest and the widest that a text can be made.
const WIDTHS: (u32, u32) = (20, 500);

pub(crate) fn columns(text: &str) -> Result<u16, String> {
    let columns = whole(text, WIDTHS)?;
    u16::try_from(columns).map_err(|_| "too wide".to_owned())
}

/// More threads than this are a slip of the finger.
const MOST_THREADS: usize = 1_024;

fn threads(text: &str) -> Result<NonZero<usize>, String> {
    let count = text.parse().map_err(|_| {
        format!("write a whole number from 1 to {MOST_THREADS}, or leave it out for one on each core")
    })?;
    NonZero::new(count)
        .filter(|count| count.get() <= MOST_THREADS)
        .ok_or_else(|| format!("has to be from 1 to {MOST_THREADS}; leave it out for one on each core"))
}

/// The shortest time, in hours, that can be told to lie between two trips (common practice, no source): whoever means minutes, or
/// leaves out a digit, would have every silence of the log unjudged.
const SHORTEST_PAUSE_H: f64 = 1.0;

fn pause_hours(text: &str) -> Result<f64, String> {
    let hours = hours(text)?;
    if hours.is_finite() && hours >= SHORTEST_PAUSE_H {
        Ok(hours)
    } else {
        Err(format!("has to be {SHORTEST_PAUSE_H} hour or more; shorter silences are judged as gaps"))
    }
}
