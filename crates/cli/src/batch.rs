//! `takeline here --fixes`: one answer per row, the bad rows told and the rest answered.

use std::borrow::Cow;
use std::fs::{self, File, Metadata};
use std::io::{self, BufReader, IsTerminal, Read, Write};
use std::mem;
use std::num::NonZero;
use std::ops::ControlFlow;
use std::path::Path;

use takeline::Question;
use takeline::zone::ZoneSet;
use takeline_report::words::EnglishIn;
use takeline_report::{ExitStatus, HereDocument, here_row_text, json_line};

use crate::accuracy;
use crate::arguments::Format;
use crate::failure::{MOST, Stop, Talk, io_in_words, say};
use crate::fix_rows::{Chunk, Columns, Lines, RowDefaults, RowFix, read_fix};
use crate::kept_file::StandardOutput;
use crate::log_reading::is_standard_input;
use crate::ordered_workers::{Give, in_order};
use crate::progress::Progress;

/// Answers are handed on when there are so many bytes of them: however many zones a row is in, few rows wait.
const PIECE_BYTES: usize = 131_072;

/// What every row is asked and how its answer is written.
#[derive(Debug)]
pub(crate) struct Batch {
    pub(crate) zones: ZoneSet,
    pub(crate) question: Question,
    pub(crate) defaults: RowDefaults,
    pub(crate) format: Format,
    pub(crate) words: EnglishIn,
    pub(crate) threads: NonZero<usize>,
}

impl Batch {
    /// Answers row by row, in constant memory; returns the worst status of all rows.
    pub(crate) fn run(&self, source: &Path, out: &mut StandardOutput) -> Result<ExitStatus, Stop> {
        let mut talks = Talks {
            faults: Talk::about("rows that could not be read"),
            warnings: Talk::about("warnings like these"),
        };
        let outcome = self.rows(source, out, &mut talks);
        talks.faults.finish();
        talks.warnings.finish();
        outcome
    }

    fn rows(&self, source: &Path, out: &mut StandardOutput, talks: &mut Talks) -> Result<ExitStatus, Stop> {
        let progress = progress(source);
        let mut lines = Lines::of_fixes(BufReader::new(open(source)?));
        let columns = header(&mut lines, source)?;
        lines.expect(&columns);
        let mut worst = None;
        let mut rows = 0;
        in_order(
            self.threads,
            Chunks { lines, failure: None },
            |chunk, give| match chunk {
                Ok(chunk) => self.answer_chunk(&columns, &chunk, give),
                Err(error) => give(Err(unreadable(source, &error))),
            },
            |piece: Result<Piece, Stop>| {
                let piece = piece?;
                if let Some(line) = piece.first_line.filter(|_| out.is_lost()) {
                    return Err(out.cut_short(&format!(
                        "before line {line}; that line and all after it were not assessed"
                    )));
                }
                rows += piece.rows;
                progress.add(piece.bytes_read, || format!("{rows} rows"));
                talks.hear(piece.said);
                out.write_all(&piece.out)?;
                // the next rows may come from a live feed, much later
                out.flush()?;
                worst = [worst, piece.worst].into_iter().flatten().reduce(ExitStatus::worst);
                Ok(())
            },
        )?;
        worst.ok_or_else(|| {
            Stop::Unreadable(format!(
                "{} has no fixes\n  give one row per fix below the header",
                name(source)
            ))
        })
    }

    fn answer_chunk(
        &self,
        columns: &Columns,
        chunk: &Chunk,
        give: Give<'_, Result<Piece, Stop>>,
    ) -> ControlFlow<()> {
        let mut lines = chunk.lines();
        let mut piece = Piece::default();
        // bytes that are there can always be read
        while let Ok(Some((number, row))) = lines.next() {
            let reading = (columns, lines.has_decimal_commas());
            let read = row.and_then(|row| read_fix(&row, reading, &self.defaults));
            if let Err(stop) = self.answer(number, read, &mut piece) {
                give(Ok(piece))?;
                return give(Err(stop));
            }
            if piece.out.len() >= PIECE_BYTES {
                give(Ok(mem::take(&mut piece)))?;
            }
        }
        piece.bytes_read = chunk.len();
        give(Ok(piece))
    }

    fn answer(&self, number: u64, read: Result<RowFix, String>, piece: &mut Piece) -> Result<(), Stop> {
        piece.first_line.get_or_insert(number);
        piece.rows += 1;
        let status = match read {
            Ok(read) => {
                for warning in &read.warnings {
                    piece.said.warn(|| format!("line {number}: warning: {warning}"));
                }
                let mut assessment = self.zones.assess(&read.fix, &self.question);
                accuracy::tell(&mut assessment, read.remark, true);
                let document = HereDocument::of(&assessment, &self.words).with_row(number);
                self.write(&document, &mut piece.out)?;
                document.exit_status
            }
            Err(reason) => {
                piece.said.fault(|| format!("line {number}: {}", shortened(&reason)));
                ExitStatus::Undecided
            }
        };
        piece.worst = Some(piece.worst.map_or(status, |worst| worst.worst(status)));
        Ok(())
    }

    fn write(&self, document: &HereDocument<'_>, out: &mut impl Write) -> Result<(), Stop> {
        match self.format {
            Format::Human => writeln!(out, "{}", here_row_text(document))?,
            Format::Json => writeln!(out, "{}", json_line(document)?)?,
        }
        Ok(())
    }
}

/// The rows below the header, some at a time; at last the error that ended them, if one did.
struct Chunks {
    lines: Lines<BufReader<Box<dyn Read + Send>>>,
    failure: Option<io::Error>,
}

impl Iterator for Chunks {
    type Item = io::Result<Chunk>;

    fn next(&mut self) -> Option<Self::Item> {
        if let Some(error) = self.failure.take() {
            return Some(Err(error));
        }
        match self.lines.next_chunk() {
            Ok(chunk) => chunk.map(Ok),
            Err((chunk, error)) => {
                self.failure = Some(error);
                Some(Ok(chunk))
            }
        }
    }
}

/// Answers of some rows that follow each other.
#[derive(Debug, Default)]
struct Piece {
    /// The line of the first of them.
    first_line: Option<u64>,
    rows: u64,
    out: Vec<u8>,
    said: Said,
    worst: Option<ExitStatus>,
    /// How many bytes of the input are done with, that were not before.
    bytes_read: u64,
}

/// What has to be said about rows, in their order, when it is their turn.
#[derive(Debug, Default)]
struct Said {
    sentences: Vec<Sentence>,
    faults: u64,
    warnings: u64,
}

#[derive(Debug)]
enum Sentence {
    Fault(String),
    Warning(String),
}

impl Said {
    /// Keeps it, if it is among the first; the rest is never told, and only counted.
    fn fault(&mut self, text: impl FnOnce() -> String) {
        self.faults += 1;
        if self.faults <= MOST {
            self.sentences.push(Sentence::Fault(text()));
        }
    }

    /// As [`Said::fault`].
    fn warn(&mut self, text: impl FnOnce() -> String) {
        self.warnings += 1;
        if self.warnings <= MOST {
            self.sentences.push(Sentence::Warning(text()));
        }
    }
}

/// What is said about rows.
#[derive(Debug)]
struct Talks {
    faults: Talk,
    warnings: Talk,
}

impl Talks {
    fn hear(&mut self, said: Said) {
        for sentence in said.sentences {
            match sentence {
                Sentence::Fault(text) => self.faults.say(|| text),
                Sentence::Warning(text) => self.warnings.say(|| text),
            }
        }
        self.faults.count(said.faults.saturating_sub(MOST));
        self.warnings.count(said.warnings.saturating_sub(MOST));
    }
}

/// Where the answers themselves run over the screen they are the progress.
fn progress(source: &Path) -> Progress {
    if io::stdout().is_terminal() {
        return Progress::unseen();
    }
    let file = fs::metadata(source).ok().filter(|_| !is_standard_input(source));
    Progress::of(file.filter(Metadata::is_file).map(|file| file.len()), "0 rows")
}

fn header(lines: &mut Lines<BufReader<Box<dyn Read + Send>>>, source: &Path) -> Result<Columns, Stop> {
    let first = lines.next().map_err(|error| unreadable(source, &error))?;
    let Some((number, header)) = first else {
        return Err(Stop::Unreadable(format!(
            "{} is empty\n  the first line has to be a header: lat,lon,time,accuracy_m",
            name(source)
        )));
    };
    let columns = header
        .and_then(|header| Columns::from_header(&header))
        .map_err(|reason| Stop::Unreadable(format!("{}, line {number}: {reason}", name(source))))?;
    for ignored in &columns.ignored {
        say(&format!("note: the column \"{}\" is not read", ignored.escape_debug()));
    }
    Ok(columns)
}

/// A reason may quote the row, and a row may be long.
fn shortened(reason: &str) -> Cow<'_, str> {
    const LONGEST_REASON: usize = 400;
    match reason.char_indices().nth(LONGEST_REASON) {
        Some((end, _)) => Cow::Owned(format!("{}…", &reason[..end])),
        None => Cow::Borrowed(reason),
    }
}

fn open(source: &Path) -> Result<Box<dyn Read + Send>, Stop> {
    if is_standard_input(source) {
        return Ok(Box::new(io::stdin()));
    }
    let file = File::open(source).map_err(|error| unreadable(source, &error))?;
    Ok(Box::new(file))
}

fn name(source: &Path) -> String {
    if is_standard_input(source) { "standard input".into() } else { source.display().to_string() }
}

fn unreadable(source: &Path, error: &io::Error) -> Stop {
    Stop::Unreadable(format!("{} cannot be read: {}", name(source), io_in_words(error)))
}
