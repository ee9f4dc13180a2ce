//! `takeline zones draft`: a zone file from the text of a law.

use std::io::{Read, Write};
use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use takeline::EdgeModel;
use takeline_drafting::draft::{DraftRequest, draft as drafted};
use takeline_report::{DraftDocument, ExitStatus, Units, draft_text, json_page};

use super::overwriting::OverwriteArguments;
use crate::arguments::Format;
use crate::bounded::read_whole;
use crate::failure::{Stop, cannot_be_read};
use crate::kept_file::{StandardOutput, refuse_overwriting};
use crate::log_reading::is_standard_input;
use crate::screen::ScreenArguments;

/// No law text is longer.
const MOST_BYTES: usize = 1024 * 1024;

const DRAFT_EXAMPLE: &str = "\
Reads the coordinates of one zone from the text of a law, line by line. A line
that looks like coordinates and is not read with certainty is refused, and then
no file is written. Nothing is replaced without --overwrite.

Example (Marrowick is invented):
  takeline zones draft demo-data/law/otter-ledge.txt --take none \\
    --name \"Otter Ledge\" --out otter-ledge.json

Exit status: 0 written, 1 written and to be looked at, 2 typed wrongly,
3 not written.";

#[derive(Debug, Args)]
#[command(after_help = DRAFT_EXAMPLE)]
pub(super) struct DraftArguments {
    /// The text of the law; - reads standard input
    #[arg(value_name = "TEXT")]
    text: PathBuf,

    /// Where to write the zone file
    #[arg(long, value_name = "FILE")]
    out: PathBuf,

    /// Id of the zone [default: the name of the zone file, without its ending]
    #[arg(long, value_name = "ID")]
    id: Option<String>,

    /// Name of the zone
    #[arg(long, value_name = "NAME")]
    name: Option<String>,

    /// What the law is called
    #[arg(long, value_name = "LAW")]
    instrument: Option<String>,

    /// How sides run where the text does not say it
    #[arg(long, value_enum, value_name = "MODEL")]
    edges: Option<EdgesName>,

    /// Datum of the coordinates, if the text does not name it
    #[arg(long, value_name = "DATUM")]
    datum: Option<String>,

    /// That the law lets nothing be taken
    #[arg(long, value_enum, value_name = "RULE")]
    take: Option<TakeName>,

    /// Write the file although the text contradicts itself: the coordinates count
    #[arg(long)]
    despite_contradictions: bool,

    /// Text for people or JSON for programs
    #[arg(long, value_enum, value_name = "FORMAT", default_value = "human")]
    format: Format,

    #[command(flatten)]
    overwriting: OverwriteArguments,

    #[command(flatten)]
    screen: ScreenArguments,
}

/// How `--edges` names them.
#[derive(Debug, Clone, Copy, ValueEnum)]
enum EdgesName {
    /// Shortest lines on the ellipsoid
    Geodesic,
    /// Lines of constant bearing; parallels and meridians too
    Rhumb,
}

/// How `--take` names it.
#[derive(Debug, Clone, Copy, ValueEnum)]
enum TakeName {
    /// Nothing may be taken
    None,
}

/// Answers `takeline zones draft`.
pub(super) fn draft(asked: &DraftArguments, units: Units) -> Result<ExitStatus, Stop> {
    let out = asked.out.as_path();
    refuse_overwriting([asked.text.as_path()], [("--out", out)])?;
    asked.overwriting.refuse(("--out", out))?;
    let text = text_of(&asked.text)?;
    let made = drafted(&text, &request(asked));
    let written = match &made.file {
        Some(file) => {
            asked.overwriting.write(("--out", out), file.as_bytes())?;
            Some(out.display().to_string())
        }
        None => None,
    };
    let document = DraftDocument::of(&made, written, units);
    let answer = match asked.format {
        Format::Human => draft_text(&document, asked.screen.width(), units),
        Format::Json => format!("{}\n", json_page(&document)?),
    };
    let mut output = StandardOutput::new();
    output.write_all(answer.as_bytes())?;
    output.finish()?;
    Ok(document.exit_status)
}

fn request(asked: &DraftArguments) -> DraftRequest {
    let stem = asked.out.file_stem().map(|stem| stem.to_string_lossy().into_owned());
    DraftRequest {
        id: asked.id.clone().or(stem).unwrap_or_else(|| "zone".to_owned()),
        name: asked.name.clone(),
        instrument: asked.instrument.clone(),
        edges: asked.edges.map(|edges| match edges {
            EdgesName::Geodesic => EdgeModel::Geodesic,
            EdgesName::Rhumb => EdgeModel::RhumbLine,
        }),
        datum: asked.datum.clone(),
        nothing_may_be_taken: asked.take.is_some(),
        despite_contradictions: asked.despite_contradictions,
    }
}

fn text_of(path: &Path) -> Result<String, Stop> {
    let (shown, bytes) = if is_standard_input(path) {
        let mut bytes = Vec::new();
        let most = u64::try_from(MOST_BYTES).unwrap_or(u64::MAX);
        let read = std::io::stdin().take(most).read_to_end(&mut bytes);
        read.map_err(|error| Stop::Unreadable(cannot_be_read("standard input", &error)))?;
        ("standard input".to_owned(), bytes)
    } else {
        (path.display().to_string(), read_whole(path, MOST_BYTES)?)
    };
    if bytes.len() >= MOST_BYTES {
        return Err(Stop::Unreadable(format!(
            "{shown} is longer than any law text that is read; give the part with one zone"
        )));
    }
    String::from_utf8(bytes).map_err(|_| {
        Stop::Unreadable(format!(
            "{shown} is not UTF-8 text; save it as UTF-8, or paste the text into a file"
        ))
    })
}
