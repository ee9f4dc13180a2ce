//! What can be typed after `takeline transit`.

use std::borrow::Cow;
use std::path::PathBuf;

use clap::builder::NonEmptyStringValueParser;
use clap::{Args, Subcommand};

use crate::arguments::{AccuracyKindName, Format, ZONES_HELP};
use crate::clock::{FixTime, fix_time};
use crate::coasts::CoastArguments;
use crate::quantities::{
    degrees_above_zero, heading, knots_above_zero, metres, metres_above_zero, number, whole,
};
use crate::screen::ScreenArguments;

const CHECK_EXAMPLE: &str = "\
Example (Marrowick is invented):
  takeline transit check --landmarks demo-data/landmarks.geojson \\
    --front day-beacon --rear lone-pine --near-m 100 --far-m 1400 \\
    --zones demo-data/zones

Exit status: 0 in line you are outside every zone, 1 the line runs into one,
2 typed wrongly, 3 undecided, marks that cannot be used this way, or a file
that cannot be read.

Takeline is not an instrument of navigation. Rules change, and closures by
notice cannot be known offline. The law and the local officers decide.
Weather and cold water kill.";

const FIND_EXAMPLE: &str = "\
Example (Marrowick is invented):
  takeline transit find --landmarks demo-data/landmarks.geojson \\
    --zones demo-data/zones --zone sallow-cove --launch \"45.1170 -30.1190\"

Exit status: 0 every side in range has a usable pair, 2 typed wrongly, 3 a side
has none, or a file cannot be read.

Takeline is not an instrument of navigation. Rules change, and closures by
notice cannot be known offline. The law and the local officers decide.
Weather and cold water kill.";

const CALIBRATE_EXAMPLE: &str = "\
Example (Marrowick is invented):
  takeline transit calibrate --landmarks demo-data/landmarks.geojson \\
    --front day-beacon --rear lone-pine --fixes demo-data/on-the-line.csv \\
    --zones demo-data/zones

Exit status: that of `transit check` for the line as it really runs; 3 where
the fixes cannot show it.

Takeline is not an instrument of navigation. Rules change, and closures by
notice cannot be known offline. The law and the local officers decide.
Weather and cold water kill.";

const CROSS_EXAMPLE: &str = "\
Example (Marrowick is invented):
  takeline transit cross --landmarks demo-data/landmarks.geojson \\
    --in-line \"day-beacon; lone-pine\" --bearing \"mast; 143 magnetic\" \\
    --zones demo-data/zones

Exit status: that of `here` at the position; 3 where the bearings leave it
open.

Takeline is not an instrument of navigation. Rules change, and closures by
notice cannot be known offline. The law and the local officers decide.
Weather and cold water kill.";

/// Height of an eye above the water where none is given: of somebody who sits in a low craft.
pub(crate) const EYE_HEIGHT_M: f64 = 0.9;

const MARK_HELP: &str = "\
a landmark's id or name from --landmarks, or its position in quotes: \"45.1252 -30.1310\"";

#[derive(Debug, Args)]
pub(crate) struct TransitArguments {
    #[command(subcommand)]
    pub(crate) command: TransitCommand,
}

#[derive(Debug, Subcommand)]
pub(crate) enum TransitCommand {
    /// Do two marks show a boundary, by what margin, and how do they look from inside
    Check(CheckArguments),
    /// Which pairs of marks show the sides of a zone best
    Find(FindArguments),
    /// Where do two marks really line up, going by fixes taken with them in line
    Calibrate(CalibrateArguments),
    /// Where am I, and on which side, going by marks in line, compass bearings and angles
    Cross(CrossArguments),
}

/// Two marks, and what is known about them.
#[derive(Debug, Args)]
pub(crate) struct PairArguments {
    /// Landmarks: a GeoJSON file of points, see docs/landmark-format.md
    #[arg(long, value_name = "FILE")]
    pub(crate) landmarks: Option<PathBuf>,

    /// The mark nearer to you: see --landmarks, or a position in quotes
    #[arg(long, value_name = "MARK", allow_hyphen_values = true, long_help = format!("The mark nearer to you: {MARK_HELP}"))]
    pub(crate) front: String,

    /// The mark behind it: the same way
    #[arg(long, value_name = "MARK", allow_hyphen_values = true, long_help = format!("The mark behind it: {MARK_HELP}"))]
    pub(crate) rear: String,

    /// Height of the top of the front mark above mean sea level, in metres [default: as in the file]
    #[arg(long, visible_alias = "front-height", value_name = "N", allow_negative_numbers = true, value_parser = metres)]
    pub(crate) front_height_m: Option<f64>,

    /// Height of the top of the rear mark above mean sea level, in metres [default: as in the file]
    #[arg(long, visible_alias = "rear-height", value_name = "N", allow_negative_numbers = true, value_parser = metres)]
    pub(crate) rear_height_m: Option<f64>,

    /// Uncertainty of the positions of both marks, 95 %, in metres [default: as in the file, else 10, called assumed]
    #[arg(long, visible_alias = "mark-error", value_name = "N", allow_negative_numbers = true, value_parser = metres)]
    pub(crate) mark_error_m: Option<f64>,
}

/// The observer's eye.
#[derive(Debug, Args)]
pub(crate) struct EyeArguments {
    /// Height of your eye above the water, in metres [default: 0.9]
    #[arg(long, visible_alias = "eye-height", value_name = "N", allow_negative_numbers = true, value_parser = metres)]
    pub(crate) eye_height_m: Option<f64>,

    /// How far apart the marks must look before you notice, in minutes of arc
    #[arg(long, value_name = "N", default_value_t = 5.0, allow_negative_numbers = true, value_parser = number)]
    pub(crate) eye_arcmin: f64,
}

#[derive(Debug, Args)]
#[command(after_help = CHECK_EXAMPLE)]
pub(crate) struct CheckArguments {
    #[command(flatten)]
    pub(crate) pair: PairArguments,

    #[command(flatten)]
    pub(crate) eye: EyeArguments,

    /// How near to the front mark you use the line, in metres
    #[arg(long, visible_alias = "near", value_name = "N", allow_negative_numbers = true, value_parser = metres, requires = "far_m")]
    pub(crate) near_m: Option<f64>,

    /// How far from the front mark you use it, in metres
    #[arg(long, visible_alias = "far", value_name = "N", allow_negative_numbers = true, value_parser = metres, requires = "near_m")]
    pub(crate) far_m: Option<f64>,

    #[arg(long, value_name = "PATH", help = ZONES_HELP)]
    pub(crate) zones: Vec<PathBuf>,

    #[command(flatten)]
    pub(crate) coasts: CoastArguments,

    /// A corner of the water you work in, as a position in quotes; three times or more
    #[arg(long, value_name = "POSITION", allow_hyphen_values = true, conflicts_with = "half_width_m")]
    pub(crate) corner: Vec<String>,

    /// Width of the water you work in, on each side of the line or course, in metres [default: 500]
    #[arg(long, visible_alias = "half-width", value_name = "N", value_parser = metres_above_zero, allow_negative_numbers = true)]
    pub(crate) half_width_m: Option<f64>,

    /// Where you launch, as a position in quotes [default: with --heading `launch` of your settings]
    #[arg(long, value_name = "POSITION", allow_hyphen_values = true)]
    pub(crate) launch: Option<String>,

    /// Your heading from there, in degrees true
    #[arg(long, value_name = "DEGREES", allow_negative_numbers = true, value_parser = heading)]
    pub(crate) heading: Option<f64>,

    /// How far you go on that heading, in metres; the water along it is then the water you work in
    #[arg(long, visible_alias = "course", value_name = "N", requires = "heading", value_parser = metres_above_zero, allow_negative_numbers = true, conflicts_with = "corner")]
    pub(crate) course_m: Option<f64>,

    /// Speed at which you drift, in knots
    #[arg(long, visible_alias = "drift", value_name = "N", default_value_t = 0.5, value_parser = knots_above_zero, allow_negative_numbers = true)]
    pub(crate) drift_kn: f64,

    /// Where you drift to, in degrees true [default: straight across the line]
    #[arg(long, value_name = "DEGREES", allow_negative_numbers = true, value_parser = heading)]
    pub(crate) drift_towards: Option<f64>,

    /// When you will use the marks: 2026-07-25T07:30:00+01:00, or 07:25 for today here, or "unknown" [default: today, without the sun]
    #[arg(long, value_name = "TIME", value_parser = fix_time)]
    pub(crate) time: Option<FixTime>,

    /// Write a sketch of what you will see
    #[arg(long, value_name = "OUT")]
    pub(crate) svg: Option<PathBuf>,

    /// Write a card: half a sheet, front and back, to print or to keep on the phone
    #[arg(long, value_name = "OUT")]
    pub(crate) card: Option<PathBuf>,

    /// Write the line and the marks for a map
    #[arg(long, value_name = "OUT")]
    pub(crate) geojson: Option<PathBuf>,

    /// Write the line and the marks for a GPS receiver
    #[arg(long, value_name = "OUT")]
    pub(crate) gpx: Option<PathBuf>,

    /// What came from the settings, as it would be typed
    #[arg(skip)]
    pub(crate) from_settings: Vec<String>,

    #[command(flatten)]
    pub(crate) form: FormArguments,
}

/// How the answer is written.
#[derive(Debug, Args)]
pub(crate) struct FormArguments {
    /// Only the first lines: the answer, why, and what settles it
    #[arg(long)]
    pub(crate) brief: bool,

    /// Text for people or JSON for programs
    #[arg(long, value_enum, value_name = "FORMAT", default_value = "human")]
    pub(crate) format: Format,

    #[command(flatten)]
    pub(crate) screen: ScreenArguments,
}

impl FormArguments {
    /// A text as it was asked for.
    pub(super) fn shown<'t>(&self, text: &'t str) -> Cow<'t, str> {
        if self.brief { self.screen.shown_in_brief(text) } else { self.screen.shown(text) }
    }
}

#[derive(Debug, Args)]
#[command(after_help = FIND_EXAMPLE)]
pub(crate) struct FindArguments {
    /// Landmarks: a GeoJSON file of points, see docs/landmark-format.md
    #[arg(long, value_name = "FILE")]
    pub(crate) landmarks: PathBuf,

    #[arg(long, value_name = "PATH", help = ZONES_HELP)]
    pub(crate) zones: Vec<PathBuf>,

    #[command(flatten)]
    pub(crate) coasts: CoastArguments,

    /// The zone to keep out of, by its id [default: the one nearest to the launch]
    #[arg(long, value_name = "ID", value_parser = NonEmptyStringValueParser::new())]
    pub(crate) zone: Option<String>,

    /// Where you launch, as a position in quotes [default: `launch` of your settings]
    #[arg(long, value_name = "POSITION", allow_hyphen_values = true)]
    pub(crate) launch: Option<String>,

    /// How far from the launch you go, in metres
    #[arg(long, visible_alias = "range", value_name = "N", default_value_t = 3000.0, value_parser = metres_above_zero, allow_negative_numbers = true)]
    pub(crate) range_m: f64,

    /// How near to a front mark you would use it, in metres
    #[arg(long, visible_alias = "near", value_name = "N", default_value_t = 100.0, value_parser = metres_above_zero, allow_negative_numbers = true)]
    pub(crate) near_m: f64,

    /// How far from a front mark you would use it, in metres
    #[arg(long, visible_alias = "far", value_name = "N", default_value_t = 5000.0, value_parser = metres_above_zero, allow_negative_numbers = true)]
    pub(crate) far_m: f64,

    /// How many pairs to list for each side
    #[arg(long, value_name = "N", default_value_t = 3, allow_negative_numbers = true, value_parser = pairs)]
    pub(crate) at_most: u16,

    #[command(flatten)]
    pub(crate) eye: EyeArguments,

    /// When you will use the marks: 2026-07-25T07:30:00+01:00, or 07:25 for today here, or "unknown" [default: today]
    #[arg(long, value_name = "TIME", value_parser = fix_time)]
    pub(crate) time: Option<FixTime>,

    #[command(flatten)]
    pub(crate) form: FormArguments,
}

#[derive(Debug, Args)]
#[command(after_help = CALIBRATE_EXAMPLE)]
pub(crate) struct CalibrateArguments {
    #[command(flatten)]
    pub(crate) pair: PairArguments,

    #[command(flatten)]
    pub(crate) eye: EyeArguments,

    /// Fixes taken while the marks were in line: CSV, GPX (track or waypoints) or NMEA 0183; - reads standard input
    #[arg(long, value_name = "FILE|-")]
    pub(crate) fixes: PathBuf,

    /// Accuracy of fixes that state none, in metres [default: 10 m at 95 %, called assumed]
    #[arg(long, visible_alias = "accuracy", value_name = "N", allow_negative_numbers = true, value_parser = metres)]
    pub(crate) accuracy_m: Option<f64>,

    /// What accuracies mean: 68 % radius, root mean square, 95 % radius [default: p68]
    #[arg(long, value_enum, value_name = "KIND")]
    pub(crate) accuracy_kind: Option<AccuracyKindName>,

    /// How near to the front mark you use the line, in metres [default: where the nearest fix is]
    #[arg(long, visible_alias = "near", value_name = "N", value_parser = metres_above_zero, allow_negative_numbers = true)]
    pub(crate) near_m: Option<f64>,

    /// How far from the front mark you use it, in metres [default: where the farthest fix is]
    #[arg(long, visible_alias = "far", value_name = "N", value_parser = metres_above_zero, allow_negative_numbers = true)]
    pub(crate) far_m: Option<f64>,

    #[arg(long, value_name = "PATH", help = ZONES_HELP)]
    pub(crate) zones: Vec<PathBuf>,

    #[command(flatten)]
    pub(crate) coasts: CoastArguments,

    /// When you will use the marks: 2026-07-25T07:30:00+01:00, or 07:25 for today here, or "unknown" [default: today, without the sun]
    #[arg(long, value_name = "TIME", value_parser = fix_time)]
    pub(crate) time: Option<FixTime>,

    #[command(flatten)]
    pub(crate) form: FormArguments,
}

#[derive(Debug, Args)]
#[command(after_help = CROSS_EXAMPLE)]
pub(crate) struct CrossArguments {
    /// Landmarks: a GeoJSON file of points, see docs/landmark-format.md
    #[arg(long, value_name = "FILE")]
    pub(crate) landmarks: Option<PathBuf>,

    /// Two marks seen in line: "FRONT; REAR"; repeatable
    #[arg(long, value_name = "MARKS", allow_hyphen_values = true)]
    pub(crate) in_line: Vec<String>,

    /// A compass bearing of a mark: "MARK; 123 magnetic" or "MARK; 110 true"; repeatable
    #[arg(long, value_name = "BEARING", allow_hyphen_values = true)]
    pub(crate) bearing: Vec<String>,

    /// The angle between two marks: "LEFT; RIGHT; 43.5"; repeatable
    #[arg(long, value_name = "ANGLE", allow_hyphen_values = true)]
    pub(crate) angle: Vec<String>,

    /// Standard error (68 %) of the bearings, in degrees; 5 is realistic for a hand compass in a kayak
    #[arg(long, visible_alias = "bearing-error", value_name = "N", default_value_t = 5.0, value_parser = degrees_above_zero, allow_negative_numbers = true)]
    pub(crate) bearing_error_deg: f64,

    /// Standard error (68 %) of the angles, in degrees
    #[arg(long, visible_alias = "angle-error", value_name = "N", default_value_t = 1.0, value_parser = degrees_above_zero, allow_negative_numbers = true)]
    pub(crate) angle_error_deg: f64,

    /// Uncertainty of the positions of the marks, 95 %, in metres [default: as in the file, else 10, called assumed]
    #[arg(long, visible_alias = "mark-error", value_name = "N", allow_negative_numbers = true, value_parser = metres)]
    pub(crate) mark_error_m: Option<f64>,

    /// Roughly where you are, as a position in quotes; settles which one where bearings cross twice
    #[arg(long, value_name = "POSITION", allow_hyphen_values = true)]
    pub(crate) about: Option<String>,

    #[command(flatten)]
    pub(crate) eye: EyeArguments,

    #[arg(long, value_name = "PATH", help = ZONES_HELP)]
    pub(crate) zones: Vec<PathBuf>,

    #[command(flatten)]
    pub(crate) coasts: CoastArguments,

    /// Fish that you ask about, by any name; once for each fish (`takeline zones names` lists them)
    #[arg(long, value_name = "NAME", value_parser = NonEmptyStringValueParser::new())]
    pub(crate) species: Vec<String>,

    /// When the bearings were taken: 2026-07-25T07:30:00+01:00, or 07:25 for today here, or "unknown" [default: now]
    #[arg(long, value_name = "TIME", value_parser = fix_time)]
    pub(crate) time: Option<FixTime>,

    #[command(flatten)]
    pub(crate) form: FormArguments,
}

fn pairs(text: &str) -> Result<u16, String> {
    let pairs = whole(text, (1, 1_000))?;
    u16::try_from(pairs).map_err(|_| "too many".to_owned())
}
