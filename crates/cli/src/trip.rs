//! One log: read as a stream, audited, and written out in every form that was asked for.

use std::fs::File;
use std::io::{self, BufRead, BufReader};
use std::path::Path;
use std::sync::Mutex;

use takeline::track::{Audit, CarriedFinding, CatchFinding, CatchPosition, TrackSettings};
use takeline::zone::ZoneSet;
use takeline::{AccuracyKind, Metres};
use takeline_formats::{ReadOptions, TrackReader};
use takeline_report::words::{English, Words};
use takeline_report::{
    AuditInput, AuditReport, CarriedAnswer, CatchAnswer, CatchTable, ExitStatus, InputKind, Season,
    TextOptions, TrackInput, TrackReport, TrimmedEnds, json_line, json_page, track_csv_rows,
    track_exit_status, track_features, track_json, track_page, track_remarks, track_row_text, track_text,
    track_undecided_because,
};

use crate::arguments::Format;
use crate::catches::CatchLog;
use crate::log_reading::{LogReading, Reading};
use crate::progress::Progress;
use crate::track_logs::is_standard_input;

/// Everything that is the same for each log.
#[derive(Debug)]
pub(crate) struct Trip {
    pub(crate) zones: ZoneSet,
    pub(crate) settings: TrackSettings,
    pub(crate) accuracy_kind: AccuracyKind,
    pub(crate) catches: Option<CatchLog>,
    pub(crate) trim_ends: Option<Metres>,
    pub(crate) format: Format,
    pub(crate) width: usize,
    /// Whether there is more than one log.
    pub(crate) is_one_of_many: bool,
    pub(crate) wanted: Wanted,
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
}

impl Answered {
    /// Nothing but a reason why there is no answer.
    pub(crate) fn unreadable(message: &str) -> Self {
        Self {
            is_answer: false,
            status: ExitStatus::Undecided,
            talk: vec![format!("error: {message}")],
            out: String::new(),
            rows: String::new(),
            features: Vec::new(),
            page: None,
        }
    }
}

impl Trip {
    /// Reads and answers one log.
    pub(crate) fn answer(&self, path: &Path, along: Along<'_>) -> Answered {
        let read = open(path).and_then(|input| self.read(path, input, along.progress));
        let read = match read {
            Ok(read) => read,
            Err(message) => return Answered::unreadable(&message),
        };
        let report = self.report(path, &read);
        if let Ok(mut season) = along.season.lock() {
            season.add(&report);
        }
        self.written(path, &report, &read).unwrap_or_else(|error| {
            let message = format!("{}: the answer cannot be written: {error}", path.display());
            Answered::unreadable(&message)
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
            catches: read.reading.catches.iter().map(catch_answer).collect(),
            command: format!("takeline track {}{}", quoted(&path.display().to_string()), self.options),
            trimmed: self.trim_ends.map(|radius| TrimmedEnds::of(&read.reading.audit, radius)),
        }
    }

    fn written(&self, path: &Path, report: &AuditReport<'_>, read: &Read) -> io::Result<Answered> {
        let mut status = track_exit_status(report);
        let mut talk = Vec::new();
        let page = match self.page(report, read) {
            Some(Ok(page)) => Some(page),
            Some(Err(message)) => {
                talk.push(format!("error: {}: no page was written: {message}", path.display()));
                status = status.worst(ExitStatus::Undecided);
                None
            }
            None => None,
        };
        // a table or map of visits would tell of a plan as of a trip that was made
        let is_plan = report.input.kind == InputKind::Plan;
        if is_plan && (self.wanted.features || self.wanted.rows) {
            talk.push(format!(
                "error: {}: it is in no table and no map data: it holds routes only, and those are of trips",
                path.display()
            ));
            status = status.worst(ExitStatus::Undecided);
        }
        let features = if self.wanted.features && !is_plan { track_features(report) } else { Vec::new() };
        Ok(Answered {
            is_answer: true,
            status,
            talk,
            out: self.out(report)?,
            rows: if self.wanted.rows && !is_plan {
                track_csv_rows(report).map_err(io::Error::from)?
            } else {
                String::new()
            },
            features: features.iter().map(json_line).collect::<Result<_, _>>()?,
            page,
        })
    }

    fn out(&self, report: &AuditReport<'_>) -> io::Result<String> {
        Ok(match (self.format, self.is_one_of_many) {
            (Format::Human, false) => {
                track_text(report, &TextOptions { width: self.width, ..TextOptions::default() })
            }
            (Format::Human, true) => format!("{}\n", track_row_text(report)),
            (Format::Json, false) => format!("{}\n", json_page(&track_json(report))?),
            (Format::Json, true) => format!("{}\n", json_line(&track_json(report))?),
        })
    }

    fn page(&self, report: &AuditReport<'_>, read: &Read) -> Option<Result<String, String>> {
        if !self.wanted.page {
            return None;
        }
        if report.input.kind == InputKind::Plan {
            return Some(Err("it holds routes only, and a page is of a trip that was made".into()));
        }
        let Some(audit) = without_ends(report) else {
            return Some(Err(
                "a visit begins or ends where --trim-ends withholds positions, and a map without that \
                             visit would mislead; write the page without --trim-ends, or use --geojson"
                    .into(),
            ));
        };
        let catches = self.catches.as_ref().map(|_| catch_table(&read.reading.catches));
        let undecided_because = track_undecided_because(report);
        let remarks = track_remarks(report);
        let page = track_page(&TrackReport {
            undecided_because: &undecided_because,
            remarks: &remarks,
            audit: &audit,
            zones: &self.zones,
            input: TrackInput {
                path: &report.input.path,
                sha256: report.input.sha256.as_deref().unwrap_or_default(),
            },
            program_version: env!("CARGO_PKG_VERSION"),
            catches: catches.as_ref(),
        });
        Some(page.map_err(|error| error.to_string()))
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
    let file = File::open(path).map_err(|error| {
        format!("{} cannot be read: {error}\n  check the path and its permissions", path.display())
    })?;
    Ok(Box::new(BufReader::new(file)))
}

fn shown(path: &Path) -> String {
    if is_standard_input(path) { "standard input".into() } else { path.display().to_string() }
}

fn catch_answer(found: &CatchFinding) -> CatchAnswer {
    let over = found.bags.iter().filter(|bag| bag.surely_over() || bag.perhaps_over());
    let words = English;
    let counted = over.map(|note| words.bag_note(note));
    let carried = found.carried.iter().map(|one| words.track_reason(&one.reason()));
    let reasons = found.because.iter().map(|reason| words.track_reason(reason));
    let reasons = reasons.chain(found.conditions.iter().map(|condition| words.condition(condition)));
    let reasons = reasons.chain(found.settle.iter().map(|remedy| words.track_remedy(remedy)));
    let mut because: Vec<String> = reasons.chain(counted).chain(carried).collect();
    let mut said = std::collections::HashSet::new();
    because.retain(|reason| said.insert(reason.clone()));
    CatchAnswer {
        row: found.entry.row,
        asked: Some(found.entry.asked.clone()),
        time: found.entry.time,
        position: found.position.position(),
        contradicted: match found.position {
            CatchPosition::Contradicted { given, logged, .. } => Some((given, logged)),
            CatchPosition::Given(_)
            | CatchPosition::Fix(_)
            | CatchPosition::Between { .. }
            | CatchPosition::Unknown { .. } => None,
        },
        answer: found.answer,
        because,
        carried: found.carried.iter().map(carried_answer).collect(),
        is_lowered_by_carrying: found.is_lowered_by_carrying,
    }
}

fn carried_answer(found: &CarriedFinding) -> CarriedAnswer {
    let words = English;
    let because = std::iter::once(words.track_reason(&found.reason()));
    let because = because.chain(found.conditions.iter().map(|condition| words.condition(condition)));
    let because = because.chain(found.settle.iter().map(|remedy| words.track_remedy(remedy)));
    CarriedAnswer { zone: found.zone.clone(), allowed: found.allowed, because: because.collect() }
}

fn catch_table(found: &[CatchFinding]) -> CatchTable {
    let columns = ["Line", "Fish", "Time", "Answer", "Why"].map(str::to_owned).to_vec();
    let row = |found: &CatchFinding| {
        let answer = catch_answer(found);
        vec![
            answer.row.to_string(),
            answer.asked.unwrap_or_default(),
            answer.time.map_or_else(String::new, |time| time.strftime("%Y-%m-%dT%H:%M:%SZ").to_string()),
            takeline_report::take_answer_word(answer.answer).to_owned(),
            answer.because.join("; "),
        ]
    };
    CatchTable { columns, rows: found.iter().map(row).collect() }
}

/// The audit with the withheld positions taken out, for the page; none where a visit would have to go with them.
fn without_ends(report: &AuditReport<'_>) -> Option<Audit> {
    let mut audit = report.audit.clone();
    let Some(trimmed) = report.trimmed else { return Some(audit) };
    let hides = |position| trimmed.hides(position);
    let is_hidden = |visit: &takeline::track::Visit| {
        let crossings = visit.crossings.iter().filter_map(|number| report.audit.crossings.get(*number));
        let stops = visit.stops.iter().map(|stop| stop.from.position);
        let mut places = crossings.map(|crossing| crossing.at.position).chain(stops);
        hides(visit.entered().position) || hides(visit.left().position) || places.any(hides)
    };
    if audit.visits.iter().any(is_hidden) {
        return None;
    }
    let mut is_broken = false;
    audit.sketch.retain_mut(|point| {
        let is_kept = !hides(point.fix.position);
        point.after_break |= is_kept && is_broken;
        is_broken = !is_kept;
        is_kept
    });
    audit.quality.suspects.retain(|suspect| !hides(suspect.fix.position));
    audit.quality.gaps.retain(|gap| !hides(gap.before.position) && !hides(gap.after.position));
    audit.closest_approaches.retain(|closest| !hides(closest.at.position));
    Some(audit)
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
