//! `takeline zones show`: a zone file read back, to be proofread against the law; and the record that it was.

use std::io::Write;
use std::path::{Path, PathBuf};

use clap::builder::NonEmptyStringValueParser;
use clap::{Args, ValueEnum};
use jiff::ZonedDateTime;
use jiff::civil::Date;
use takeline::zone_file::{self, LoadedFile};
use takeline_drafting::proofreading::{self, Reading, RecordError};
use takeline_report::{
    ExitStatus, MOST_ZONES_ON_A_PAGE, Notation, ShowDocument, Units, json_page, show_page, show_text,
};

use super::overwriting::OverwriteArguments;
use crate::arguments::Format;
use crate::bounded::read_whole;
use crate::coasts::{CoastArguments, Coasts};
use crate::failure::{Stop, say};
use crate::kept_file::{KeptFile, StandardOutput, refuse_overwriting};
use crate::screen::ScreenArguments;
use crate::zone_files;

const SHOW_EXAMPLE: &str = "\
Two people read it: one reads the law aloud, the other follows here and ticks.

Examples (Marrowick is invented):
  takeline zones show demo-data/zones/marrowick.json --zone sallow-cove
  takeline zones show demo-data/zones/marrowick.json --html read-back.html \\
    --coast demo-data/coast/marrowick.geojson
  takeline zones show demo-data/zones/harbour-board.json \\
    --proofread-by \"A. B.\" \"C. D.\" --against \"Order of 2024 as printed\"

Exit status: 0 shown, 2 typed wrongly, 3 the zone file cannot be read.";

#[derive(Debug, Args)]
#[command(after_help = SHOW_EXAMPLE)]
pub(super) struct ShowArguments {
    /// The zone file
    #[arg(value_name = "FILE")]
    file: PathBuf,

    /// Only the zone with this id; once for each zone [default: all]
    #[arg(long = "zone", value_name = "ID", value_parser = NonEmptyStringValueParser::new())]
    ids: Vec<String>,

    /// How positions are written [default: as the law prints them, where the file keeps that; else ddm]
    #[arg(long, value_enum, value_name = "NOTATION")]
    notation: Option<NotationName>,

    #[command(flatten)]
    coasts: CoastArguments,

    /// Write a page with maps, to be laid beside the law's page and printed
    #[arg(long, value_name = "OUT")]
    html: Option<PathBuf>,

    /// Write into the file who read these zones against the law: names or initials, best of two people
    #[arg(long, value_name = "NAME", num_args = 1.., value_parser = NonEmptyStringValueParser::new())]
    proofread_by: Vec<String>,

    /// The edition of the law that they read them against
    #[arg(long, value_name = "EDITION", requires = "proofread_by", value_parser = NonEmptyStringValueParser::new())]
    against: Option<String>,

    /// The day they did, like 2026-06-03 [default: today, by this device's clock]
    #[arg(long, value_name = "DATE", requires = "proofread_by")]
    proofread_on: Option<Date>,

    /// Text for people or JSON for programs
    #[arg(long, value_enum, value_name = "FORMAT", default_value = "human")]
    format: Format,

    #[command(flatten)]
    overwriting: OverwriteArguments,

    #[command(flatten)]
    screen: ScreenArguments,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum NotationName {
    /// Decimal degrees
    Dd,
    /// Degrees and decimal minutes
    Ddm,
    /// Degrees, minutes and seconds
    Dms,
}

impl From<NotationName> for Notation {
    fn from(name: NotationName) -> Self {
        match name {
            NotationName::Dd => Self::DecimalDegrees,
            NotationName::Ddm => Self::DecimalMinutes,
            NotationName::Dms => Self::Seconds,
        }
    }
}

/// Answers `takeline zones show`.
pub(super) fn show(asked: &ShowArguments, units: Units) -> Result<ExitStatus, Stop> {
    let read = std::iter::once(&asked.file).chain(&asked.coasts.coast);
    let page = asked.html.as_deref().map(|path| ("--html", path));
    refuse_overwriting(read.map(PathBuf::as_path), page)?;
    page.map_or(Ok(()), |page| asked.overwriting.refuse(page))?;
    let coasts = Coasts::of(&asked.coasts)?;
    let mut bytes = read_whole(&asked.file, zone_file::MOST_BYTES)?;
    let label = asked.file.display().to_string();
    let mut loaded = zone_files::read_file((&asked.file, &label), &bytes, &coasts)?;
    refuse_unknown_zones(asked, &loaded)?;
    refuse_too_many_for_a_page(asked, &loaded)?;
    if !asked.proofread_by.is_empty() {
        bytes = record(asked, &label, &bytes)?;
        loaded = zone_files::read_file((&asked.file, &label), &bytes, &coasts)?;
    }
    let words = asked.format.words(units);
    let document = ShowDocument::of(&loaded, &asked.ids, &words);
    let notation = asked.notation.map(Notation::from);
    if let Some(page) = page {
        let text = show_page(&document, &loaded.zones, &coasts.known(), notation);
        asked.overwriting.write(page, text.as_bytes())?;
    }
    let mut out = StandardOutput::new();
    match asked.format {
        Format::Human => {
            let text = show_text(&document, notation, asked.screen.width());
            out.write_all(asked.screen.shown(&text).as_bytes())?;
        }
        Format::Json => writeln!(out, "{}", json_page(&document)?)?,
    }
    out.finish()?;
    Ok(ExitStatus::Unrestricted)
}

fn refuse_unknown_zones(asked: &ShowArguments, loaded: &LoadedFile) -> Result<(), Stop> {
    const LISTED: usize = 12;
    let is_there = |id: &&String| loaded.zones.iter().any(|zone| zone.id.0 == **id);
    let Some(unknown) = asked.ids.iter().find(|id| !is_there(id)) else { return Ok(()) };
    let ids: Vec<&str> = loaded.zones.iter().take(LISTED).map(|zone| zone.id.0.as_str()).collect();
    let more = if loaded.zones.len() > LISTED { ", …" } else { "" };
    Err(Stop::Usage(format!(
        "--zone: {} has no zone with the id {unknown}; it has {}{more}",
        asked.file.display(),
        ids.join(", ")
    )))
}

fn refuse_too_many_for_a_page(asked: &ShowArguments, loaded: &LoadedFile) -> Result<(), Stop> {
    let count = if asked.ids.is_empty() { loaded.zones.len() } else { asked.ids.len() };
    if asked.html.is_none() || count <= MOST_ZONES_ON_A_PAGE {
        return Ok(());
    }
    Err(Stop::Usage(format!(
        "--html: {count} zones are too many to read on one page; choose up to {MOST_ZONES_ON_A_PAGE} with --zone ID"
    )))
}

/// Writes into the file who read it, and returns its new bytes.
fn record(asked: &ShowArguments, label: &str, bytes: &[u8]) -> Result<Vec<u8>, Stop> {
    let today = ZonedDateTime::now().date();
    let on = asked.proofread_on.unwrap_or(today);
    // where somebody else reads it may be tomorrow
    if today.tomorrow().is_ok_and(|latest| on > latest) {
        return Err(Stop::Usage(format!(
            "--proofread-on: {on} is still to come by this device's clock ({today}); give the day on which it was read"
        )));
    }
    let reading = Reading { by: asked.proofread_by.clone(), on, against: asked.against.clone() };
    let ids: Vec<&str> = asked.ids.iter().map(String::as_str).collect();
    let done = proofreading::record(label, bytes, &ids, &reading);
    let (after, recorded) = done.map_err(|error| {
        if let RecordError::Refused(error) = &error {
            return zone_files::refused(error);
        }
        Stop::Unreadable(error.to_string())
    })?;
    write_bytes(&asked.file, &after)?;
    let zones = if recorded.len() == 1 { "1 zone".to_owned() } else { format!("{} zones", recorded.len()) };
    say(&format!(
        "{label}: written into it, in {zones}: proofread by {} on {on}{}; nothing else in the file was changed",
        reading.by.join(", "),
        reading.against.as_ref().map_or_else(String::new, |text| format!(", against {text}"))
    ));
    if reading.by.len() == 1 {
        say("note: two people find more than one, where one of them reads the law aloud");
    }
    if reading.against.is_none() {
        say("note: --against says which edition of the law was read, and was not given");
    }
    Ok(after)
}

fn write_bytes(path: &Path, bytes: &[u8]) -> Result<(), Stop> {
    let mut file = KeptFile::replacing(path).map_err(Stop::Unreadable)?;
    file.write_bytes(bytes).and_then(|()| file.finish()).map_err(Stop::Unreadable)
}
