//! One log: read as a stream, audited, and written out in every form that was asked for.

use std::fs::File;
use std::io::{self, BufRead, BufReader};
use std::path::Path;
use std::sync::Mutex;

use takeline::track::TrackSettings;
use takeline::zone::ZoneSet;
use takeline::{AccuracyKind, Metres};
use takeline_formats::{ReadOptions, TrackReader};
use takeline_report::words::{English, EnglishIn};
use takeline_report::{
    AuditInput, AuditReport, Backdrop, ExitStatus, IndexRow, InputKind, Season, TrackDocument, TrimmedEnds,
    Units, json_line, json_page, track_csv_rows, track_features, track_page_over, track_row_text, track_text,
};

use crate::arguments::Format;
use crate::catches::CatchLog;
use crate::failure::cannot_be_read;
use crate::log_reading::{LogReading, Reading, is_standard_input};
use crate::progress::Progress;

/// Everything that is the same for each log.
#[derive(Debug)]
pub(crate) struct Trip {
    pub(crate) zones: ZoneSet,
    pub(crate) settings: TrackSettings,
    pub(crate) accuracy_kind: AccuracyKind,
    pub(crate) catches: Option<CatchLog>,
    pub(crate) trim_ends: Option<Metres>,
    pub(crate) format: Format,
    pub(crate) units: Units,
    pub(crate) width: usize,
    /// Whether there is more than one log.
    pub(crate) is_one_of_many: bool,
    pub(crate) wanted: Wanted,
    /// What lies beneath the map of each page.
    pub(crate) backdrops: Vec<Backdrop>,
    /// The options of the command that makes a report again, quoted for a shell.
    pub(crate) options: String,
}

/// Which files are wanted beside the answer.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Wanted {
    pub(crate) page: bool,
    pub(crate) features: bool,
    pub(crate) rows: bool,
}

/// What all logs add to while they are answered.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Along<'a> {
    pub(crate) season: &'a Mutex<Season>,
    pub(crate) progress: &'a Progress,
}

/// What came of one log. Only text is kept, so that a thousand tracks do not fill the memory.
#[derive(Debug)]
pub(crate) struct Answered {
    /// Whether the log could be read, so that there is something to write.
    pub(crate) is_answer: bool,
    pub(crate) status: ExitStatus,
    /// What the person has to be told.
    pub(crate) talk: Vec<String>,
    /// For standard output.
    pub(crate) out: String,
    pub(crate) rows: String,
    pub(crate) features: Vec<String>,
    pub(crate) page: Option<String>,
    /// Its row in the index of several pages.
    pub(crate) index_row: Option<IndexRow>,
}

impl Answered {
    /// Nothing but a reason why there is no answer.
    pub(crate) fn unreadable(path: &Path, message: &str) -> Self {
        Self {
            is_answer: false,
            status: ExitStatus::Undecided,
            talk: vec![format!("error: {message}")],
            out: String::new(),
            rows: String::new(),
            features: Vec::new(),
            page: None,
            index_row: Some(IndexRow::unreadable(&path.display().to_string())),
        }
    }
}

impl Trip {
    /// Reads and answers one log.
    pub(crate) fn answer(&self, path: &Path, along: Along<'_>) -> Answered {
        let read = open(path).and_then(|input| self.read(path, input, along.progress));
        let read = match read {
            Ok(read) => read,
            Err(message) => return Answered::unreadable(path, &message),
        };
        let report = self.report(path, &read);
        let shown_in = EnglishIn(self.units);
        let document = TrackDocument::of(&report, &shown_in);
        if let Ok(mut season) = along.season.lock() {
            season.add(&document);
        }
        let metric = (self.units != Units::Metric).then(|| TrackDocument::of(&report, &English));
        let data = metric.as_ref().unwrap_or(&document);
        self.written(path, &document, data).unwrap_or_else(|error| {
            let message = format!("{}: the answer cannot be written: {error}", path.display());
            Answered::unreadable(path, &message)
        })
    }

    fn read(&self, path: &Path, input: Box<dyn BufRead>, progress: &Progress) -> Result<Read, String> {
        // of several it is told which are finished
        let input = if self.is_one_of_many { input } else { progress.counts(input) };
        let options = ReadOptions::default().accuracy_kind(self.accuracy_kind);
        let mut reader =
            TrackReader::open_with(&shown(path), input, options).map_err(|error| error.to_string())?;
        let mut reading = LogReading::new(self);
        for item in &mut reader {
            let item = item.map_err(|error| error.to_string())?;
            reading.take(item).map_err(|message| named(path, &message))?;
        }
        let sha256 = reader.sha256();
        if !self.is_one_of_many {
            progress.turn_to("judging");
        }
        let reading = reading.finish().map_err(|message| named(path, &message))?;
        Ok(Read { sha256, reading })
    }

    fn report<'a>(&'a self, path: &Path, read: &'a Read) -> AuditReport<'a> {
        AuditReport {
            input: AuditInput {
                path: path.display().to_string(),
                sha256: read.sha256.clone(),
                kind: read.reading.kind,
            },
            audit: &read.reading.audit,
            zones: &self.zones,
            notes: read.reading.notes.clone(),
            catches: self.catches.as_ref().map(|_| read.reading.catches.as_slice()),
            catch_rows_unread: self.catches.as_ref().map_or(0, |log| log.faults.len() as u64),
            command: format!("takeline track {}{}", quoted(&path.display().to_string()), self.options),
            trimmed: self.trim_ends.map(|radius| TrimmedEnds::of(&read.reading.audit, radius)),
        }
    }

    /// Writes what people read, in their units, and what programs read, in metres and knots.
    fn written(
        &self,
        path: &Path,
        document: &TrackDocument<'_>,
        data: &TrackDocument<'_>,
    ) -> io::Result<Answered> {
        let mut status = document.exit_status;
        let mut talk = Vec::new();
        let page =
            self.wanted.page.then(|| track_page_over(document, &self.backdrops)).transpose().unwrap_or_else(
                |error| {
                    talk.push(format!("error: {}: no page was written: {error}", path.display()));
                    status = status.worst(ExitStatus::Undecided);
                    None
                },
            );
        // a table or map of visits would tell of a plan as of a trip that was made
        let is_plan = document.input.kind == InputKind::Plan;
        if is_plan && (self.wanted.features || self.wanted.rows) {
            talk.push(format!(
                "error: {}: it is left out of the table and the map data, because it holds only routes, and those are for trips",
                path.display()
            ));
            status = status.worst(ExitStatus::Undecided);
        }
        let features = if self.wanted.features && !is_plan { track_features(data) } else { Vec::new() };
        Ok(Answered {
            is_answer: true,
            status,
            talk,
            out: self.out(match self.format {
                Format::Human => document,
                Format::Json => data,
            })?,
            rows: if self.wanted.rows && !is_plan {
                track_csv_rows(data).map_err(io::Error::from)?
            } else {
                String::new()
            },
            features: features.iter().map(json_line).collect::<Result<_, _>>()?,
            page,
            index_row: (self.wanted.page && self.is_one_of_many).then(|| IndexRow::of(document)),
        })
    }

    fn out(&self, document: &TrackDocument<'_>) -> io::Result<String> {
        Ok(match (self.format, self.is_one_of_many) {
            (Format::Human, false) => track_text(document, self.width),
            (Format::Human, true) => format!("{}\n", track_row_text(document)),
            (Format::Json, false) => format!("{}\n", json_page(document)?),
            (Format::Json, true) => format!("{}\n", json_line(document)?),
        })
    }
}

/// What reading a log gave, and the log's name for evidence.
#[derive(Debug)]
struct Read {
    sha256: Option<String>,
    reading: Reading,
}

fn named(path: &Path, message: &str) -> String {
    format!("{}: {message}", shown(path))
}

pub(crate) fn open(path: &Path) -> Result<Box<dyn BufRead>, String> {
    if is_standard_input(path) {
        return Ok(Box::new(BufReader::new(io::stdin())));
    }
    let file = File::open(path).map_err(|error| cannot_be_read(path.display(), &error))?;
    Ok(Box::new(BufReader::new(file)))
}

fn shown(path: &Path) -> String {
    if is_standard_input(path) { "standard input".into() } else { path.display().to_string() }
}

/// Writes a word so that a shell takes it as it is.
pub(crate) fn quoted(word: &str) -> String {
    let is_plain = |letter: char| letter.is_alphanumeric() || "_./+-:=@,".contains(letter);
    if !word.is_empty() && word.chars().all(is_plain) {
        return word.to_owned();
    }
    format!("'{}'", word.replace('\'', r"'\''"))
}

#[cfg(test)]
mod tests {
    use super::quoted;

    #[test]
    fn a_word_survives_a_shell() {
        assert_eq!(quoted("logs/july.gpx"), "logs/july.gpx");
        assert_eq!(quoted("Bob's trip.gpx"), r"'Bob'\''s trip.gpx'");
        assert_eq!(quoted("$HOME"), "'$HOME'");
    }
}
