//! `takeline track`: where one trip went, or many.

use std::collections::BTreeSet;
use std::fs::{self, File};
use std::io::{BufReader, Write};
use std::num::NonZero;
use std::path::{Path, PathBuf};
use std::sync::Mutex;

use takeline::Metres;
use takeline::rule::Access;
use takeline::track::TrackSettings;
use takeline::zone::ZoneSet;
use takeline_report::words::EnglishIn;
use takeline_report::{Backdrop, ExitStatus, IndexRow, Season, track_csv, trip_index};

use crate::arguments::{Format, TrackArguments, UnitsName};
use crate::bounded::read_whole;
use crate::catches::{self, CatchLog};
use crate::failure::{Stop, cannot_be_read, io_in_words, say, say_all};
use crate::kept_file::{KeptFile, StandardOutput, folder_of, refuse_overwriting, write_whole};
use crate::log_reading::{Found, find};
use crate::ordered_workers::{in_order, threads_or_cores};
use crate::progress::Progress;
use crate::screen::refuse_brief_json;
use crate::trip::{Along, Answered, Trip, Wanted, quoted};
use crate::{accuracy, zone_files};

/// Answers `takeline track`.
pub(crate) fn run(asked: &TrackArguments, units: UnitsName) -> Result<ExitStatus, Stop> {
    refuse_brief_json(asked.brief, asked.format)?;
    let logs = find(&asked.logs)?;
    refuse_file_for_pages(asked, logs.len())?;
    let trip = trip(asked, units, logs.len())?;
    let mut outputs = Outputs::open(asked, &logs)?;
    let season = Mutex::new(Season::default());
    let mut worst = status_of_catches(&trip);
    let progress = progress(&logs);
    let mut out = StandardOutput::new();
    let mut answered_logs = 0;
    let threads = NonZero::new(logs.len())
        .map_or(NonZero::<usize>::MIN, |logs| logs.min(threads_or_cores(asked.threads)));
    in_order(
        threads,
        logs.iter(),
        |found, give| {
            give((weight(found), answer(&trip, found, Along { season: &season, progress: &progress })))
        },
        |(done, answered): (u64, Answered)| {
            progress.add(done, || format!("{} of {} tracks", answered_logs + 1, logs.len()));
            answered.talk.iter().for_each(|text| say(text));
            let text = match trip.format {
                Format::Human if asked.brief => asked.screen.shown_in_brief(&answered.out),
                Format::Human => asked.screen.shown(&answered.out),
                Format::Json => (&*answered.out).into(),
            };
            out.write_all(text.as_bytes())?;
            // the next one may take long
            out.flush()?;
            worst = worst.worst(answered.status);
            outputs.add(&answered);
            answered_logs += 1;
            // named files are finished whoever reads the answers
            let is_in_vain = out.is_lost() && !outputs.are_wanted() && answered_logs < logs.len();
            if is_in_vain {
                let all = logs.len();
                let left = format!("after {answered_logs} of {all} logs; the rest were not looked at");
                return Err(out.cut_short(&left));
            }
            Ok(())
        },
    )?;
    drop(progress);
    if trip.is_one_of_many && trip.format == Format::Human {
        let asked = u64::try_from(logs.len()).unwrap_or(u64::MAX);
        let season = season.into_inner().unwrap_or_default().of_logs(asked);
        out.write_all(season.text(trip.width, &EnglishIn(trip.units)).as_bytes())?;
    }
    worst = worst.worst(outputs.finish());
    out.finish()?;
    Ok(worst)
}

/// One log shows how far it is read, several how many are finished.
fn progress(logs: &[Found]) -> Progress {
    let bytes: u64 = logs.iter().map(weight).sum();
    let is_known = bytes > logs.len() as u64;
    Progress::of(is_known.then_some(bytes), if logs.len() == 1 { "reading" } else { "0 tracks" })
}

/// How much work a log is: every byte, and a little for opening it.
fn weight(found: &Found) -> u64 {
    let metadata = found.as_ref().ok().and_then(|path| fs::metadata(path).ok());
    metadata.map_or(0, |file| file.len()) + 1
}

fn answer(trip: &Trip, found: &Found, along: Along<'_>) -> Answered {
    match found {
        Ok(path) => trip.answer(path, along),
        Err(message) => {
            let path = message.split(": ").next().unwrap_or_default();
            Answered::unreadable(Path::new(path), message)
        }
    }
}

/// Reads the catch log and tells what has to be known about its rows.
fn read_catches(path: &Path) -> Result<CatchLog, Stop> {
    let shown = path.display();
    let file = File::open(path).map_err(|error| Stop::Unreadable(cannot_be_read(&shown, &error)))?;
    let log = catches::read_catches(BufReader::new(file))
        .map_err(|reason| Stop::Unreadable(format!("{shown}: {reason}")))?;
    for name in &log.ignored_columns {
        say(&format!("{shown}: note: the column \"{}\" is not read", name.escape_debug()));
    }
    say_all(format!("warnings about {shown}"), &log.warnings, |warning| {
        format!("{shown}, line {}: warning: {}", warning.line, warning.text)
    });
    say_all(format!("rows of {shown} that could not be read"), &log.faults, |fault| {
        format!("{shown}, line {}: {}", fault.line, fault.text)
    });
    Ok(log)
}

/// A row of the catch log that could not be read leaves the answer undecided.
fn status_of_catches(trip: &Trip) -> ExitStatus {
    let has_faults = trip.catches.as_ref().is_some_and(|log| !log.faults.is_empty());
    if has_faults { ExitStatus::Undecided } else { ExitStatus::Unrestricted }
}

fn trip(asked: &TrackArguments, units: UnitsName, logs: usize) -> Result<Trip, Stop> {
    if asked.catches.is_some() && logs > 1 {
        return Err(Stop::Usage("--catches belongs to one trip; give one log with it".into()));
    }
    let settings = settings(asked)?;
    let trim_ends = asked.trim_ends.map(Metres::non_negative).transpose();
    let zones = zone_files::load(&asked.zones)?;
    let coasts = asked.coasts.load()?;
    Ok(Trip {
        coasts,
        options: options(asked, units, &zones),
        zones,
        settings,
        accuracy_kind: accuracy::kind(asked.accuracy_kind),
        catches: asked.catches.as_deref().map(read_catches).transpose()?,
        trim_ends: trim_ends.map_err(|error| Stop::Usage(format!("--trim-ends: {error}")))?,
        format: asked.format,
        units: units.into(),
        width: asked.screen.width(),
        is_one_of_many: logs > 1,
        wanted: Wanted {
            page: asked.html.is_some(),
            features: asked.geojson.is_some(),
            rows: asked.csv.is_some(),
        },
        backdrops: asked.backdrop.iter().map(|path| read_backdrop(path)).collect::<Result<_, _>>()?,
    })
}

/// Reads what lies beneath the map; a file that cannot be read stops everything, as a bad zone file does.
fn read_backdrop(path: &Path) -> Result<Backdrop, Stop> {
    /// Far more than a coastline needs that is drawn a few centimetres wide.
    const MOST_BYTES: usize = 256 << 20;
    let bytes = read_whole(path, MOST_BYTES)?;
    Backdrop::read(&path.display().to_string(), &bytes).map_err(|error| Stop::Unreadable(error.to_string()))
}

fn settings(asked: &TrackArguments) -> Result<TrackSettings, Stop> {
    let settings = TrackSettings {
        uncertainty: accuracy::uncertainty(asked.accuracy_m, asked.accuracy_kind)?,
        metres_per_hdop: asked.metres_per_hdop,
        access: asked.access.map(Access::from),
        new_trip_after_s: asked.new_trip_after_h.map(|hours| hours * 3_600.0),
        ..TrackSettings::default()
    };
    match asked.top_speed_kn {
        Some(knots) => {
            settings.with_top_speed_kn(knots).map_err(|error| Stop::Usage(format!("--top-speed-kn: {error}")))
        }
        None => Ok(settings),
    }
}

/// The options that make a report again, wherever the zones were found this time.
fn options(asked: &TrackArguments, units: UnitsName, zones: &ZoneSet) -> String {
    let mut words: Vec<(&str, String)> = Vec::new();
    for zone in zones.zones() {
        let word = ("--zones", quoted(&zone.file.path));
        if !words.contains(&word) {
            words.push(word);
        }
    }
    words.extend(asked.accuracy_m.map(|metres| ("--accuracy-m", metres.to_string())));
    words.extend(asked.accuracy_kind.map(|kind| ("--accuracy-kind", kind.word().to_owned())));
    words.extend(asked.metres_per_hdop.map(|metres| ("--metres-per-hdop", metres.to_string())));
    words.extend(asked.top_speed_kn.map(|knots| ("--top-speed-kn", knots.to_string())));
    words.extend(asked.new_trip_after_h.map(|hours| ("--new-trip-after-h", hours.to_string())));
    words.extend(asked.access.map(|access| ("--access", access.word().to_owned())));
    words.extend(asked.coasts.words());
    words.extend(asked.catches.as_ref().map(|path| ("--catches", quoted(&path.display().to_string()))));
    words.extend(asked.backdrop.iter().map(|path| ("--backdrop", quoted(&path.display().to_string()))));
    words.extend(asked.trim_ends.map(|metres| ("--trim-ends", metres.to_string())));
    if units != UnitsName::Metric {
        words.push(("--units", units.word().to_owned()));
    }
    words
        .into_iter()
        .flat_map(|(option, value)| [" ".to_owned(), option.to_owned(), " ".to_owned(), value])
        .collect()
}

/// Files under construction. One that fails is told and left as it was; the others are written all the same.
#[derive(Debug)]
pub(crate) struct Outputs {
    rows: Option<Growing>,
    features: Option<Growing>,
    has_features: bool,
    /// For each log the page that it gets.
    pages: Option<Vec<PathBuf>>,
    /// The index of several pages, and its rows so far.
    index: Option<(PathBuf, Vec<IndexRow>)>,
    /// How many logs were added.
    added: usize,
    is_answered: bool,
    status: ExitStatus,
}

/// A file that grows with each log; none once it has failed.
#[derive(Debug)]
struct Growing {
    path: PathBuf,
    file: Option<KeptFile>,
}

impl Growing {
    fn create(path: &Path, start: &str) -> Result<Self, String> {
        let mut growing = Self { path: path.to_owned(), file: Some(KeptFile::create(path)?) };
        growing.write(start)?;
        Ok(growing)
    }

    fn write(&mut self, text: &str) -> Result<(), String> {
        let done = self.file.as_mut().map_or(Ok(()), |file| file.write(text));
        if done.is_err() {
            self.file = None;
        }
        done
    }
}

impl Outputs {
    /// Begins what was asked for, and refuses to write over what is read.
    pub(crate) fn open(asked: &TrackArguments, logs: &[Found]) -> Result<Self, Stop> {
        let pages = asked.html.as_deref().map(|out| pages(out, logs));
        let index = asked.html.as_deref().filter(|_| logs.len() > 1).map(|out| out.join(INDEX));
        let written: Vec<&Path> = pages.iter().flatten().chain(&index).map(PathBuf::as_path).collect();
        refuse(asked, logs, &written)?;
        let mut outputs = Self {
            rows: None,
            features: None,
            has_features: false,
            pages,
            index: index.map(|place| (place, Vec::new())),
            added: 0,
            is_answered: false,
            status: ExitStatus::Unrestricted,
        };
        let header = track_csv(std::iter::empty()).map_err(std::io::Error::from)?;
        outputs.rows = outputs.begin(asked.csv.as_deref(), &header);
        outputs.features =
            outputs.begin(asked.geojson.as_deref(), "{\"type\":\"FeatureCollection\",\"features\":[");
        Ok(outputs)
    }

    fn begin(&mut self, path: Option<&Path>, start: &str) -> Option<Growing> {
        match Growing::create(path?, start) {
            Ok(growing) => Some(growing),
            Err(message) => {
                self.keep(Err(message));
                None
            }
        }
    }

    /// Tells what failed, and remembers it for the exit status.
    fn keep(&mut self, done: Result<(), String>) {
        if let Err(message) = done {
            say(&format!("error: {message}"));
            self.status = self.status.worst(ExitStatus::Undecided);
        }
    }

    /// Whether any file is written beside the answer.
    pub(crate) fn are_wanted(&self) -> bool {
        self.rows.is_some() || self.features.is_some() || self.pages.is_some()
    }

    /// Adds the next log.
    pub(crate) fn add(&mut self, answered: &Answered) {
        self.is_answered |= answered.is_answer;
        let done = self.add_rows(&answered.rows);
        self.keep(done);
        let done = self.add_features(&answered.features);
        self.keep(done);
        let place = self.pages.as_ref().and_then(|pages| pages.get(self.added)).cloned();
        self.added += 1;
        if let Some((_, rows)) = &mut self.index {
            let page = place.as_ref().filter(|_| answered.page.is_some()).and_then(|place| place.file_name());
            let page = page.map(|name| name.to_string_lossy().into_owned());
            rows.extend(answered.index_row.clone().map(|row| row.with_page(page)));
        }
        if let Some((place, page)) = place.zip(answered.page.as_ref()) {
            let done = write_page(&place, page, self.pages.as_ref().is_some_and(|pages| pages.len() > 1));
            self.keep(done);
        }
    }

    fn add_rows(&mut self, rows: &str) -> Result<(), String> {
        self.rows.as_mut().map_or(Ok(()), |table| table.write(rows))
    }

    fn add_features(&mut self, features: &[String]) -> Result<(), String> {
        let Some(collection) = &mut self.features else { return Ok(()) };
        for feature in features {
            collection.write(if self.has_features { ",\n" } else { "\n" })?;
            collection.write(feature)?;
            self.has_features = true;
        }
        Ok(())
    }

    /// Ends all files and returns 3 if any of them failed. Where no log was answered there is nothing to put anywhere.
    pub(crate) fn finish(mut self) -> ExitStatus {
        let features = self.features.take().map(|mut features| features.write("\n]}\n").map(|()| features));
        for growing in [self.rows.take().map(Ok), features].into_iter().flatten() {
            let done = growing.and_then(|growing| self.end(growing));
            self.keep(done);
        }
        if let Some((place, rows)) = self.index.take().filter(|_| self.is_answered) {
            let done = write_page(&place, &trip_index(&rows), true);
            self.keep(done);
        }
        self.status
    }

    fn end(&self, growing: Growing) -> Result<(), String> {
        if !self.is_answered {
            let path = growing.path.display();
            say(&format!("note: {path} was left as it is, because no log gave an answer to put there"));
            return Ok(());
        }
        growing.file.map_or(Ok(()), KeptFile::finish)
    }
}

/// Refuses outputs that are read, or named twice.
fn refuse(asked: &TrackArguments, logs: &[Found], pages: &[&Path]) -> Result<(), Stop> {
    let zones = zone_files::paths(&asked.zones)?;
    let logs = logs.iter().filter_map(|found| found.as_deref().ok());
    let read = logs.chain(zones.iter().map(PathBuf::as_path)).chain(asked.catches.as_deref());
    let read = read.chain(asked.backdrop.iter().chain(&asked.coasts.coast).map(PathBuf::as_path));
    let tables = [("--csv", &asked.csv), ("--geojson", &asked.geojson)];
    let written = tables.into_iter().filter_map(|(option, out)| Some((option, out.as_deref()?)));
    refuse_overwriting(read, written.chain(pages.iter().map(|page| ("--html", *page))))
}

/// The name of the index of several pages.
const INDEX: &str = "index.html";

/// Refuses a file where a folder of pages would have to be made.
fn refuse_file_for_pages(asked: &TrackArguments, log_count: usize) -> Result<(), Stop> {
    match &asked.html {
        Some(place) if log_count > 1 && place.is_file() => Err(Stop::Unreadable(format!(
            "{} is a file; with several logs give a folder: nothing was written",
            place.display()
        ))),
        _ => Ok(()),
    }
}

/// Where the page of each log goes: the place as named for one log, a folder for several.
fn pages(out: &Path, logs: &[Found]) -> Vec<PathBuf> {
    if logs.len() == 1 {
        return vec![out.to_owned()];
    }
    let mut taken = BTreeSet::from([INDEX.to_owned()]);
    let path = |found: &Found| found.as_deref().unwrap_or(Path::new("")).to_owned();
    logs.iter().map(|found| out.join(page_name(&path(found), &mut taken))).collect()
}

/// The name of the log with `.html` behind it; a number before that where another log has the same name.
fn page_name(path: &Path, taken: &mut BTreeSet<String>) -> String {
    let name = path.file_name().map_or_else(|| "track".into(), |name| name.to_string_lossy().into_owned());
    let numbered = (2..).map(|number| format!("{name}-{number}.html"));
    let mut names = std::iter::once(format!("{name}.html")).chain(numbered);
    names.find(|name| taken.insert(name.clone())).unwrap_or_default()
}

/// Writes a page; its folder is made with the first of several.
fn write_page(place: &Path, page: &str, is_one_of_many: bool) -> Result<(), String> {
    let folder = folder_of(place);
    if is_one_of_many {
        fs::create_dir_all(folder).map_err(|error| {
            format!(
                "{} cannot be created: {}\n  check the place and its permissions",
                folder.display(),
                io_in_words(&error)
            )
        })?;
    }
    write_whole(place, page)
}
