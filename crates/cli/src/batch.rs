//! `takeline here --fixes`: one answer per row, the bad rows told and the rest answered.

use std::borrow::Cow;
use std::fs::File;
use std::io::{self, BufReader, Read, Write};
use std::path::Path;

use takeline::zone::ZoneSet;
use takeline::{Assessment, Question};
use takeline_report::{ExitStatus, exit_status, here_json, here_row_text, json_line};

use crate::accuracy;
use crate::arguments::Format;
use crate::doubtful_date;
use crate::fix_rows::{Columns, Lines, RowDefaults, RowFix, read_fix};
use crate::standard_output::StandardOutput;
use crate::stop::{Stop, say};
use crate::talk::Talk;

/// What every row is asked and how its answer is written.
#[derive(Debug)]
pub(crate) struct Batch {
    pub(crate) zones: ZoneSet,
    pub(crate) question: Question,
    pub(crate) defaults: RowDefaults,
    pub(crate) format: Format,
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
        let mut lines = Lines::of_fixes(BufReader::new(open(source)?));
        let columns = header(&mut lines, source)?;
        let mut worst = None;
        loop {
            if lines.input.buffer().is_empty() {
                // the next read may wait for a live feed: let go what is answered
                out.flush()?;
            }
            let Some((number, row)) = lines.next().map_err(|error| unreadable(source, &error))? else {
                break;
            };
            if out.is_lost() {
                return Err(cut_short(number));
            }
            let reading = (&columns, lines.has_decimal_commas());
            let status = match row.and_then(|row| read_fix(&row, reading, &self.defaults)) {
                Ok(read) => {
                    for warning in &read.warnings {
                        talks.warnings.say(|| format!("line {number}: warning: {warning}"));
                    }
                    self.answer(number, &read, out)?
                }
                Err(reason) => {
                    talks.faults.say(|| format!("line {number}: {}", shortened(&reason)));
                    ExitStatus::Undecided
                }
            };
            worst = Some(worst.map_or(status, |worst: ExitStatus| worst.worst(status)));
        }
        worst.ok_or_else(|| {
            Stop::Unreadable(format!(
                "there is no fix in {}\n  give one row for each fix below the header",
                name(source)
            ))
        })
    }

    fn answer(&self, number: u64, read: &RowFix, out: &mut impl Write) -> Result<ExitStatus, Stop> {
        let mut assessment = doubtful_date::assess(&self.zones, &read.fix, &self.question);
        accuracy::tell(&mut assessment, read.remark.clone(), true);
        self.write(number, &assessment, out)?;
        Ok(exit_status(&assessment))
    }

    fn write(&self, number: u64, assessment: &Assessment, out: &mut impl Write) -> Result<(), Stop> {
        match self.format {
            Format::Human => writeln!(out, "line {number}: {}", here_row_text(assessment))?,
            Format::Json => {
                let mut document = here_json(assessment);
                document.row = Some(number);
                writeln!(out, "{}", json_line(&document)?)?;
            }
        }
        Ok(())
    }
}

/// What is said about rows.
#[derive(Debug)]
struct Talks {
    faults: Talk,
    warnings: Talk,
}

fn header(lines: &mut Lines<BufReader<Box<dyn Read>>>, source: &Path) -> Result<Columns, Stop> {
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

fn cut_short(number: u64) -> Stop {
    Stop::CutShort(format!(
        "standard output was closed before line {number}; that line and all after it were not assessed"
    ))
}

/// A reason may quote the row, and a row may be long.
fn shortened(reason: &str) -> Cow<'_, str> {
    const LONGEST_REASON: usize = 400;
    match reason.char_indices().nth(LONGEST_REASON) {
        Some((end, _)) => Cow::Owned(format!("{}…", &reason[..end])),
        None => Cow::Borrowed(reason),
    }
}

fn open(source: &Path) -> Result<Box<dyn Read>, Stop> {
    if source == Path::new("-") {
        return Ok(Box::new(io::stdin()));
    }
    let file = File::open(source).map_err(|error| unreadable(source, &error))?;
    Ok(Box::new(file))
}

fn name(source: &Path) -> String {
    if source == Path::new("-") { "standard input".into() } else { source.display().to_string() }
}

fn unreadable(source: &Path, error: &io::Error) -> Stop {
    Stop::Unreadable(format!("{} cannot be read: {error}", name(source)))
}
