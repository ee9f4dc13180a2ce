//! `takeline zones check`: is this zone file sound.

use std::io::Write;
use std::num::NonZero;
use std::path::{Path, PathBuf};

use clap::Args;
use takeline::{Position, zone_file};
use takeline_drafting::check::{self, Against, Checked, Today};
use takeline_report::{CheckDocument, ExitStatus, check_text, json_page};

use crate::arguments::{Format, ZONES_HELP};
use crate::bounded::read_whole;
use crate::clock::{FixTime, fix_time};
use crate::coasts::{CoastArguments, Coasts};
use crate::failure::Stop;
use crate::kept_file::{StandardOutput, refuse_overwriting};
use crate::manifests::Held;
use crate::quantities::{count, metres_above_zero};
use crate::screen::ScreenArguments;
use crate::{manifests, zone_files};

pub(super) const CHECK: &str = "zones check";

const CHECK_EXAMPLE: &str = "\
Finds what is wrong with zone files, and what may be: each finding has a code, a
place, and what would mend it where that is plain. Hold a zone against what the
law or a chart says of it with --area-m2, --perimeter-m, --corners and --near.

Example (Marrowick is invented):
  takeline zones check demo-data/zones
  takeline zones check demo-data/zones/harbour-board.json --corners 4 \\
    --near \"45.11 -30.20\"

Exit status: 0 nothing above a note, 1 warnings, 2 typed wrongly, 3 errors,
or a file cannot be read.";

#[derive(Debug, Args)]
#[command(after_help = CHECK_EXAMPLE)]
pub(super) struct CheckArguments {
    #[arg(value_name = "PATH", help = ZONES_HELP)]
    pub(super) paths: Vec<PathBuf>,

    /// Same as PATH
    #[arg(long = "zones", value_name = "PATH")]
    pub(super) zones: Vec<PathBuf>,

    #[command(flatten)]
    against: AgainstArguments,

    #[command(flatten)]
    coast: CoastArguments,

    /// Hold dates against this time [default: this device's clock], or unknown
    #[arg(long, value_name = "TIME", value_parser = fix_time)]
    time: Option<FixTime>,

    /// Text for people or JSON for programs
    #[arg(long, value_enum, value_name = "FORMAT", default_value = "human")]
    format: Format,

    #[command(flatten)]
    screen: ScreenArguments,
}

/// What the law or a chart says of a zone.
#[derive(Debug, Args)]
#[command(next_help_heading = "Held against the law")]
struct AgainstArguments {
    /// The zone that is meant, by its id [default: the only one of the file]
    #[arg(long, value_name = "ID")]
    zone: Option<String>,

    /// Its area in square metres, within 1 %
    #[arg(long, visible_alias = "against", value_name = "N", allow_negative_numbers = true, value_parser = above_zero)]
    area_m2: Option<f64>,

    /// Its perimeter in metres, within 1 %
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = metres_above_zero)]
    perimeter_m: Option<f64>,

    /// How many corners it has
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = count)]
    corners: Option<NonZero<usize>>,

    /// A place in it or near: within half its perimeter, or 1 km
    #[arg(long, value_name = "\"LAT LON\"", allow_hyphen_values = true)]
    near: Option<String>,
}

impl AgainstArguments {
    fn against(&self) -> Result<Against, Stop> {
        let near = self.near.as_deref().map(|typed| {
            Position::parse(typed)
                .map(|parsed| parsed.position)
                .map_err(|error| Stop::Usage(format!("--near: {error}")))
        });
        Ok(Against {
            zone: self.zone.clone(),
            area_m2: self.area_m2,
            perimeter_m: self.perimeter_m,
            corners: self.corners.map(NonZero::get),
            near: near.transpose()?,
        })
    }
}

fn above_zero(text: &str) -> Result<f64, String> {
    let number = text.parse::<f64>().ok().filter(|number| number.is_finite() && *number > 0.0);
    number.ok_or_else(|| {
        "write square metres as a number above 0 (1 km² is 1000000, 1 hectare 10000)".to_owned()
    })
}

/// Answers `takeline zones check`.
pub(super) fn check(asked: &CheckArguments) -> Result<ExitStatus, Stop> {
    let against = asked.against.against()?;
    let places = zone_files::places(&[&asked.paths[..], &asked.zones].concat())?;
    let files = zone_files::paths(&places)?;
    refuse_overwriting(files.iter().map(PathBuf::as_path), [])?;
    if against.is_empty() && against.zone.is_some() {
        return Err(Stop::Usage(
            "--zone says which zone is held against --area-m2, --perimeter-m, --corners or --near: give one of these too".to_owned(),
        ));
    }
    if !against.is_empty() && files.len() != 1 {
        return Err(Stop::Usage(
            "what is held against one zone needs one file: give the file that has it".to_owned(),
        ));
    }
    let today = FixTime::or_now(asked.time.as_ref()).map(Today::at);
    let coasts = Coasts::of(&asked.coast)?;
    let (mut checked, mut digests) = (Vec::new(), Vec::new());
    for file in &files {
        let label = file.display().to_string();
        let bytes = read_whole(file, zone_file::MOST_BYTES)?;
        digests.push((file.clone(), zone_file::file_digest(&bytes)));
        let found = check_one((file, &label), &bytes, (&coasts, today), &against)?;
        checked.push((label, found));
    }
    let held = manifests::hold(&places, &digests)?;
    let held = held.iter().filter(|held| !held.differences.is_empty());
    let of_folder =
        |held: &Held| (held.path.display().to_string(), check::hold_to_manifest(&held.differences));
    checked.extend(held.map(of_folder));
    let document = CheckDocument::of(&checked);
    let text = match asked.format {
        Format::Human => check_text(&document, asked.screen.width()),
        Format::Json => format!("{}\n", json_page(&document)?),
    };
    let mut out = StandardOutput::new();
    out.write_all(text.as_bytes())?;
    out.finish()?;
    Ok(document.exit_status)
}

fn check_one(
    (file, label): (&Path, &str),
    bytes: &[u8],
    (coasts, today): (&Coasts, Option<Today>),
    against: &Against,
) -> Result<Checked, Stop> {
    zone_files::refuse_an_index(label, bytes)?;
    zone_files::refuse_another_sort(file, label, bytes)?;
    let named = zone_file::read(label, bytes).map(|loaded| loaded.coasts).unwrap_or_default();
    let coasts = coasts.followed_by(file, &named)?;
    Ok(check::check(label, bytes, &coasts, today, against))
}
