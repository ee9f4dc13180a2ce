//! Which logs are meant, and one log from its reader to an audit: put in order while it fits into memory, and streamed where it
//! does not.

use std::path::{Path, PathBuf};
use std::{fs, io};

use takeline::track::{
    Audit, Auditor, CatchFinding, CatchJoin, CatchSettings, LogOrder, LoggedFix, OrderFindings, OrderedLog,
    TrackSettings,
};
use takeline_formats::{LogItem, LogNote, LogNoteKind};
use takeline_report::{InputKind, TrackNote};

use crate::failure::{Stop, cannot_be_read, say};
use crate::trip::Trip;
use crate::zone_files::looks_like_zones;

/// The most notes that are kept of one log; the rest is counted.
const MOST_NOTES: usize = 1_000;

/// What reading a log gave.
#[derive(Debug)]
pub(crate) struct Reading {
    pub(crate) kind: InputKind,
    pub(crate) audit: Audit,
    pub(crate) notes: Vec<TrackNote>,
    pub(crate) catches: Vec<CatchFinding>,
}

/// Takes the items of a log.
#[derive(Debug)]
pub(crate) struct LogReading<'a> {
    trip: &'a Trip,
    waiting: LogOrder,
    /// Points of routes: of use only where there is no track.
    planned: Vec<LoggedFix>,
    has_fixes: bool,
    dates_doubtful: bool,
    engines: Option<Engines>,
    notes: Notes,
}

/// What the fixes go to, once it is known how to read them.
#[derive(Debug)]
struct Engines {
    auditor: Auditor,
    join: Option<CatchJoin>,
    findings: OrderFindings,
    top_speed_kn: f64,
    last: Option<LoggedFix>,
}

impl<'a> LogReading<'a> {
    pub(crate) fn new(trip: &'a Trip) -> Self {
        Self {
            trip,
            waiting: LogOrder::new(trip.settings),
            planned: Vec::new(),
            has_fixes: false,
            dates_doubtful: false,
            engines: None,
            notes: Notes::default(),
        }
    }

    /// Takes the next item of the log.
    ///
    /// # Errors
    ///
    /// Why the log cannot be answered, and how to mend it.
    pub(crate) fn take(&mut self, item: LogItem) -> Result<(), String> {
        match item {
            LogItem::Fix(fix) => {
                self.has_fixes = true;
                self.planned.clear();
                self.push(fix)
            }
            LogItem::Unplaced(record) => {
                self.waiting.push_unplaced(record);
                Ok(())
            }
            LogItem::RoutePoint(point) => {
                if self.planned.len() >= LogOrder::MOST_HELD {
                    return Err(too_many_points());
                }
                if !self.has_fixes {
                    self.planned.push(LoggedFix { time: None, ..point });
                }
                Ok(())
            }
            LogItem::Note(note) => {
                let is_doubted =
                    matches!(note.kind, LogNoteKind::DateSuspicious | LogNoteKind::TimeZoneUnknown);
                if is_doubted && !self.dates_doubtful && self.engines.is_some() {
                    return Err(too_long("has dates that look wrong only far into the log"));
                }
                self.dates_doubtful |= is_doubted;
                self.notes.add(note);
                Ok(())
            }
            // a named place, and whatever else a log may hold one day, says nothing about where the boat was
            LogItem::Waypoint(_) | _ => Ok(()),
        }
    }

    fn push(&mut self, fix: LoggedFix) -> Result<(), String> {
        self.waiting.push(fix);
        if self.waiting.is_full() {
            let log = self.in_order_but_the_last();
            return self.go_on(&log);
        }
        Ok(())
    }

    /// Ends the log.
    ///
    /// # Errors
    ///
    /// As [`LogReading::take`].
    pub(crate) fn finish(mut self) -> Result<Reading, String> {
        if !self.has_fixes && !self.planned.is_empty() {
            return Ok(self.plan());
        }
        let log = self.in_order();
        if self.engines.is_some() {
            self.go_on(&log)?;
        } else {
            let mut engines = Engines::start(self.trip, &log, self.dates_doubtful);
            engines.feed(&log);
            self.engines = Some(engines);
        }
        let Some(engines) = self.engines else { return Err("there is nothing to judge".into()) };
        let mut audit = engines.auditor.finish();
        audit.quality.order = engines.findings;
        let catches = engines.join.map(CatchJoin::finish).unwrap_or_default();
        Ok(Reading { kind: InputKind::Log, audit, notes: self.notes.finish(), catches })
    }

    /// The routes of a file that holds nothing else, each for itself.
    fn plan(self) -> Reading {
        let settings = TrackSettings { is_plan: true, ..self.trip.settings };
        let mut auditor = Auditor::new(&self.trip.zones, settings);
        for route in self.planned.chunk_by(|one, other| one.place.stretch == other.place.stretch) {
            for point in route {
                let _events = auditor.push(*point);
            }
            let _events = auditor.next_boat();
        }
        let entries = self.trip.catches.as_ref().map(|rows| rows.entries.clone());
        let settings = catch_settings(self.trip.settings);
        let join = entries.map(|entries| CatchJoin::new(&self.trip.zones, entries, settings));
        Reading {
            kind: InputKind::Plan,
            audit: auditor.finish(),
            notes: self.notes.finish(),
            catches: join.map(CatchJoin::finish).unwrap_or_default(),
        }
    }

    fn in_order(&mut self) -> OrderedLog {
        std::mem::replace(&mut self.waiting, LogOrder::new(self.trip.settings)).finish()
    }

    /// Puts what waits in order, but for the last fixes where they share a time or have none: those that come next tell more
    /// of it.
    fn in_order_but_the_last(&mut self) -> OrderedLog {
        let last = self.waiting.split_off_last();
        let log = self.in_order();
        for fix in last {
            self.waiting.push(fix);
        }
        log
    }

    /// Answers what waits of a log that is longer than can be held; such a log has to be in order as it stands.
    fn go_on(&mut self, log: &OrderedLog) -> Result<(), String> {
        let first = log.boats.first().and_then(|boat| boat.iter().find(|fix| fix.time.is_some()));
        let Some(engines) = &mut self.engines else {
            if log.findings.is_reordered() {
                return Err(too_long("is not in the order of time"));
            }
            let mut engines = Engines::start(self.trip, log, self.dates_doubtful);
            engines.feed(log);
            self.engines = Some(engines);
            return Ok(());
        };
        let runs_back = engines.last.zip(first).is_some_and(|(last, first)| first.time < last.time);
        if log.findings.is_reordered() || runs_back {
            return Err(too_long("is not in the order of time"));
        }
        if log.settings.top_speed_kn > engines.top_speed_kn {
            let knots = log.settings.top_speed_kn;
            return Err(format!(
                "the log has more than {} fixes and shows {knots:.1} kn only far into the log; \
                 give --top-speed-kn {knots:.1}, or cut the log by days",
                LogOrder::MOST_HELD
            ));
        }
        engines.feed(log);
        Ok(())
    }
}

fn too_long(what: &str) -> String {
    format!("the log has more than {} fixes and {what}; sort it, or cut it by days", LogOrder::MOST_HELD)
}

fn too_many_points() -> String {
    format!("the routes have more than {} points; cut the file into several", LogOrder::MOST_HELD)
}

fn catch_settings(track: TrackSettings) -> CatchSettings {
    CatchSettings { track, access: track.access, ..CatchSettings::default() }
}

impl Engines {
    fn start(trip: &Trip, log: &OrderedLog, dates_doubtful: bool) -> Self {
        let mut settings = log.settings;
        settings.dates_doubtful |= dates_doubtful;
        let join = trip
            .catches
            .as_ref()
            .map(|rows| CatchJoin::new(&trip.zones, rows.entries.clone(), catch_settings(settings)));
        Self {
            auditor: Auditor::new(&trip.zones, settings),
            join,
            findings: OrderFindings::default(),
            top_speed_kn: settings.top_speed_kn,
            last: None,
        }
    }

    fn feed(&mut self, log: &OrderedLog) {
        self.findings.add(&log.findings);
        for (number, boat) in log.boats.iter().enumerate() {
            if number > 0 {
                let _events = self.auditor.next_boat();
                if let Some(join) = &mut self.join {
                    join.next_boat();
                }
            }
            for record in log.unplaced.get(number).into_iter().flatten() {
                self.auditor.push_unplaced(record);
                if let Some(join) = &mut self.join {
                    join.push_unplaced(record);
                }
            }
            for fix in boat {
                let _events = self.auditor.push(*fix);
                if let Some(join) = &mut self.join {
                    join.push(fix);
                }
                if fix.time.is_some() {
                    self.last = Some(*fix);
                }
            }
        }
        for seam in &log.seams {
            let _events = self.auditor.push_seam(seam);
        }
    }
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
        // the answer turns on it, and it is told twice at most
        let decides = matches!(
            note.kind,
            LogNoteKind::AccuracyUnreadable | LogNoteKind::TimeZoneUnknown | LogNoteKind::DateSuspicious
        );
        if self.kept.len() < MOST_NOTES || decides {
            let code = note.kind.code();
            self.kept.push(TrackNote { line, code, text: note.text, count: note.count, leaves_out });
            return;
        }
        let rest = self.rest.get_or_insert_with(|| TrackNote {
            line,
            code: "more-notes",
            text: "there are more notes from here on; they are counted, not shown".into(),
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

/// A log to read, or why there is none where one was named.
pub(crate) type Found = Result<PathBuf, String>;

const LOG_ENDINGS: [&str; 4] = ["gpx", "nmea", "csv", "gz"];

/// Standard input.
pub(crate) fn is_standard_input(path: &Path) -> bool {
    path == Path::new("-")
}

/// Returns the logs in the order named; those of a folder or pattern by name.
pub(crate) fn find(asked: &[PathBuf]) -> Result<Vec<Found>, Stop> {
    if asked.iter().filter(|path| is_standard_input(path)).count() > 1 {
        return Err(Stop::Usage("- is given twice, but standard input can be read only once".into()));
    }
    Ok(asked.iter().flat_map(|path| of_one(path)).collect())
}

fn of_one(path: &Path) -> Vec<Found> {
    if path.is_dir() {
        return in_folder(path).unwrap_or_else(|message| vec![Err(message)]);
    }
    let text = path.to_string_lossy();
    if !is_standard_input(path) && !path.exists() && text.contains(['*', '?', '[']) {
        return by_pattern(&text).unwrap_or_else(|message| vec![Err(message)]);
    }
    vec![log(path.to_owned())]
}

/// A file that was named, unless it is plainly no log: a zone file that is taken for one would not be loaded.
fn log(path: PathBuf) -> Found {
    if !is_standard_input(&path) && path.is_file() && !is_log(&path) && looks_like_zones(&path) {
        let shown = path.display();
        return Err(format!(
            "{shown} is not a log but looks like a zone file, and its zones were not loaded\n  if it is one, give it right \
             after --zones: --zones {shown}"
        ));
    }
    Ok(path)
}

/// The logs directly in a folder; folders inside it are not entered.
fn in_folder(folder: &Path) -> Result<Vec<Found>, String> {
    let entries = fs::read_dir(folder).and_then(Iterator::collect::<io::Result<Vec<_>>>);
    let shown = folder.display();
    let entries = entries.map_err(|error| cannot_be_read(&shown, &error))?;
    let mut paths: Vec<_> = entries.iter().map(fs::DirEntry::path).collect();
    paths.sort();
    let (logs, others): (Vec<_>, Vec<_>) = paths.into_iter().partition(|path| is_log(path));
    if logs.is_empty() {
        return Err(format!(
            "there is no file named *.gpx, *.nmea, *.csv or *.gz in {shown}\n  name the logs themselves"
        ));
    }
    if let Some(names) = named(&others) {
        say(&format!(
            "note: in {shown} only files named *.gpx, *.nmea, *.csv or *.gz are read; not read: {names}\n  name those that \
             are logs themselves"
        ));
    }
    Ok(logs.into_iter().map(Ok).collect())
}

/// The names of the first few files and folders; none if there is none but hidden ones.
fn named(others: &[PathBuf]) -> Option<String> {
    const MOST: usize = 5;
    let seen: Vec<&PathBuf> = others.iter().filter(|path| !is_hidden(path)).collect();
    let name = |path: &&&PathBuf| {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        if path.is_dir() { format!("the folder {name}") } else { name }
    };
    let mut names: Vec<String> = seen.iter().take(MOST).map(|path| name(&path)).collect();
    if let Some(more) = seen.len().checked_sub(MOST).filter(|more| *more > 0) {
        names.push(format!("{more} more"));
    }
    (!names.is_empty()).then(|| names.join(", "))
}

fn is_hidden(path: &Path) -> bool {
    path.file_name().is_some_and(|name| name.as_encoded_bytes().starts_with(b"."))
}

/// Whether a file is a log by its name.
pub(crate) fn is_log(path: &Path) -> bool {
    let ending = path.extension().unwrap_or_default();
    LOG_ENDINGS.iter().any(|known| ending.eq_ignore_ascii_case(known)) && !is_hidden(path) && !path.is_dir()
}

fn by_pattern(pattern: &str) -> Result<Vec<Found>, String> {
    let paths = glob::glob(pattern).map_err(|error| {
        format!(
            "the pattern {pattern} is not understood: {}\n  * stands for any letters, ? for one",
            error.msg
        )
    })?;
    let logs: Vec<Found> = paths.filter_map(Result::ok).filter(|path| !path.is_dir()).map(log).collect();
    if logs.is_empty() {
        return Err(format!("no file is named like {pattern}\n  check the folder and the spelling"));
    }
    Ok(logs)
}
