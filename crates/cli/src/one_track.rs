//! One log: read as a stream, audited, and written out in every form that was asked for.

use std::fs::File;
use std::io::{self, BufRead, BufReader};
use std::path::Path;
use std::sync::Mutex;

use takeline::track::{Audit, Auditor, CatchFinding, CatchJoin, CatchSettings, TrackSettings};
use takeline::zone::ZoneSet;
use takeline::{AccuracyKind, Metres};
use takeline_formats::{LogItem, LogNote, ReadOptions, TrackReader};
use takeline_report::{
    AuditInput, AuditReport, CatchAnswer, CatchTable, ExitStatus, Season, TextOptions, TrackInput, TrackNote,
    TrackReport, TrimmedEnds, track_csv_rows, track_exit_status, track_features, track_json, track_page,
    track_row_text, track_text,
};

use crate::arguments::Format;
use crate::catches::CatchLog;
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

/// The most notes that are kept of one log; the rest is counted.
const MOST_NOTES: usize = 1_000;

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
    pub(crate) fn answer(&self, path: &Path, season: &Mutex<Season>) -> Answered {
        let read = open(path).and_then(|input| self.read(path, input));
        let read = match read {
            Ok(read) => read,
            Err(message) => return Answered::unreadable(&message),
        };
        let report = self.report(path, &read);
        if let Ok(mut season) = season.lock() {
            season.add(&report);
        }
        self.written(path, &report, &read).unwrap_or_else(|error| {
            let message = format!("{}: the answer cannot be written: {error}", path.display());
            Answered::unreadable(&message)
        })
    }

    fn read(&self, path: &Path, input: Box<dyn BufRead>) -> Result<Read, String> {
        let options = ReadOptions::default().accuracy_kind(self.accuracy_kind);
        let mut reader =
            TrackReader::open_with(&shown(path), input, options).map_err(|error| error.to_string())?;
        let mut auditor = Auditor::new(&self.zones, self.settings);
        let mut join = self.catches.as_ref().map(|rows| {
            // small craft are what this is for, as for a single fix
            let access = Some(takeline::rule::Access::Boat);
            let settings = CatchSettings { track: self.settings, access, ..CatchSettings::default() };
            CatchJoin::new(&self.zones, rows.entries.clone(), settings)
        });
        let mut notes = Notes::default();
        for item in &mut reader {
            match item.map_err(|error| error.to_string())? {
                LogItem::Fix(fix) => {
                    auditor.push(fix);
                    if let Some(join) = &mut join {
                        join.push(&fix);
                    }
                }
                LogItem::Note(note) => notes.add(note),
                // a named place, and whatever else a log may hold one day, says nothing about where the boat was
                LogItem::Waypoint(_) | _ => {}
            }
        }
        Ok(Read {
            sha256: reader.sha256(),
            audit: auditor.finish(),
            notes: notes.finish(),
            catches: join.map(CatchJoin::finish).unwrap_or_default(),
        })
    }

    fn report<'a>(&'a self, path: &Path, read: &'a Read) -> AuditReport<'a> {
        AuditReport {
            input: AuditInput { path: path.display().to_string(), sha256: read.sha256.clone() },
            audit: &read.audit,
            zones: &self.zones,
            notes: read.notes.clone(),
            catches: read.catches.iter().map(catch_answer).collect(),
            command: format!("takeline track {}{}", quoted(&path.display().to_string()), self.options),
            trimmed: self.trim_ends.map(|radius| TrimmedEnds::of(&read.audit, radius)),
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
        let features = if self.wanted.features { track_features(report) } else { Vec::new() };
        Ok(Answered {
            is_answer: true,
            status,
            talk,
            out: self.out(report)?,
            rows: if self.wanted.rows {
                track_csv_rows(report).map_err(io::Error::from)?
            } else {
                String::new()
            },
            features: features.iter().map(ToString::to_string).collect(),
            page,
        })
    }

    fn out(&self, report: &AuditReport<'_>) -> io::Result<String> {
        Ok(match (self.format, self.is_one_of_many) {
            (Format::Human, false) => {
                track_text(report, &TextOptions { width: self.width, ..TextOptions::default() })
            }
            (Format::Human, true) => format!("{}\n", track_row_text(report)),
            (Format::Json, false) => format!("{}\n", serde_json::to_string_pretty(&track_json(report))?),
            (Format::Json, true) => format!("{}\n", serde_json::to_string(&track_json(report))?),
        })
    }

    fn page(&self, report: &AuditReport<'_>, read: &Read) -> Option<Result<String, String>> {
        if !self.wanted.page {
            return None;
        }
        let Some(audit) = without_ends(report) else {
            return Some(Err(
                "a visit begins or ends where --trim-ends withholds positions, and a map without that \
                             visit would mislead; write the page without --trim-ends, or use --geojson"
                    .into(),
            ));
        };
        let catches = self.catches.as_ref().map(|_| catch_table(&read.catches));
        let page = track_page(&TrackReport {
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

/// What reading a log gave.
#[derive(Debug)]
struct Read {
    sha256: Option<String>,
    audit: Audit,
    notes: Vec<TrackNote>,
    catches: Vec<CatchFinding>,
}

/// Notes of the reader, a limited number of them.
#[derive(Debug, Default)]
struct Notes {
    kept: Vec<TrackNote>,
    rest: Option<TrackNote>,
}

impl Notes {
    fn add(&mut self, note: LogNote) {
        let (line, leaves_out) = (note.place.line, note.kind.leaves_out());
        if self.kept.len() < MOST_NOTES {
            let code = note.kind.code();
            self.kept.push(TrackNote { line, code, text: note.text, count: note.count, leaves_out });
            return;
        }
        let rest = self.rest.get_or_insert_with(|| TrackNote {
            line,
            code: "more-notes",
            text: "there are more notes from here on; they are only counted".into(),
            count: 0,
            leaves_out: false,
        });
        rest.count += note.count;
        rest.leaves_out |= leaves_out;
    }

    fn finish(mut self) -> Vec<TrackNote> {
        self.kept.extend(self.rest);
        self.kept
    }
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
    let counted = over.map(ToString::to_string);
    let carried = found.carried.iter().map(ToString::to_string);
    let reasons = found.because.iter().chain(&found.conditions).chain(&found.settle).cloned();
    let mut because: Vec<String> = reasons.chain(counted).chain(carried).collect();
    let mut said = std::collections::HashSet::new();
    because.retain(|reason| said.insert(reason.clone()));
    CatchAnswer {
        row: found.entry.row,
        asked: Some(found.entry.asked.clone()),
        time: found.entry.time,
        position: found.position.position(),
        answer: found.answer,
        because,
    }
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
        hides(visit.entered.position) || hides(visit.left.position) || places.any(hides)
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
