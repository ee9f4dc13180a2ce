//! One's own defaults: a file of settings, used where the command line and the environment say nothing.

use std::collections::BTreeMap;
use std::ffi::{OsStr, OsString};
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::{env, fs};

use clap::{Args, ValueEnum};
use etcetera::BaseStrategy;
use takeline::{AccuracyKind, HorizontalUncertainty, Metres, Position};
use takeline_report::ExitStatus;
use toml::{Spanned, Value};

use crate::arguments::{
    AccessName, AccuracyKindName, Command, HereArguments, TrackArguments, UnitsName, columns,
};
use crate::bounded::read_whole;
use crate::coasts::CoastArguments;
use crate::failure::{Stop, say};
use crate::kept_file::StandardOutput;
use crate::quantities::{knots_above_zero, metres, metres_above_zero};
use crate::refusal::or;
use crate::transit::{EyeArguments, TransitArguments, TransitCommand};
use crate::trip::quoted;
use crate::zone_files;

const VARIABLE: &str = "TAKELINE_SETTINGS";
/// No file of a few defaults is longer.
const MOST_BYTES: usize = 65_536;
/// How alike a key has to be to be offered, 0 to 1 (common practice, no source).
const ALIKE: f64 = 0.6;

/// The keys, and what each may hold. They are the options without their dashes.
const KEYS: [(&str, &str); 11] = [
    ("access", "boat, shore or diving"),
    ("accuracy", "what your receiver shows: \"5 m\""),
    ("accuracy-kind", "p68, rms or p95"),
    ("coast", "files of coastlines: [\"charts/marrowick-coast.geojson\"]"),
    ("eye-height", "height of your eye above the water: \"0.8 m\""),
    ("launch", "where you launch: \"45.1170 -30.1190\""),
    ("standoff", "the distance you want to keep outside every zone: \"50 m\""),
    ("top-speed", "the fastest that your boat goes: \"8 kn\""),
    ("units", "metric, nautical or us"),
    ("width", "columns of a text: 60"),
    ("zones", "zone files or folders: [\"zones/marrowick.json\"]"),
];

const ZONES_EXAMPLE: &str = "zones/marrowick.json";
const COAST_EXAMPLE: &str = "charts/marrowick-coast.geojson";

/// What was found.
#[derive(Debug, Default)]
pub(crate) struct Settings {
    /// The file it was read from; none if there is none.
    place: Option<PathBuf>,
    accuracy_m: Option<f64>,
    accuracy_kind: Option<AccuracyKindName>,
    access: Option<AccessName>,
    coasts: Vec<PathBuf>,
    eye_height_m: Option<f64>,
    launch: Option<String>,
    standoff_m: Option<f64>,
    top_speed_kn: Option<f64>,
    /// Used where `--units` is not given.
    pub(crate) units: Option<UnitsName>,
    width: Option<u16>,
    zones: Vec<PathBuf>,
}

/// What an answer took from the settings, as it would be typed.
type Used = Vec<(&'static str, String)>;

/// The folder in which programs keep their settings on this system.
pub(crate) fn config_folder() -> Option<PathBuf> {
    let found = etcetera::choose_base_strategy().ok();
    found.map(|folders| folders.config_dir().join("takeline"))
}

/// Where the file lies if nobody says otherwise.
fn usual_place() -> Option<PathBuf> {
    config_folder().map(|folder| folder.join("settings.toml"))
}

impl Settings {
    /// Reads the file that is named by `--settings`, else by the environment, else the usual one if it is there.
    ///
    /// # Errors
    ///
    /// A file that was named and cannot be read, or one with a fault: nothing of it is used.
    pub(crate) fn load(asked: Option<&OsStr>) -> Result<Self, Stop> {
        let named = asked.map(OsString::from);
        let named = named.or_else(|| env::var_os(VARIABLE).filter(|value| !value.is_empty()));
        match named {
            Some(word) if word == "none" => Ok(Self::default()),
            Some(path) => Self::read(Path::new(&path)),
            None => match usual_place() {
                Some(path) if is_there(&path) => Self::read(&path),
                Some(_) | None => Ok(Self::default()),
            },
        }
    }

    fn read(path: &Path) -> Result<Self, Stop> {
        let shown = path.display();
        let bytes = read_whole(path, MOST_BYTES)?;
        let text = String::from_utf8(bytes)
            .map_err(|_| Stop::Unreadable(format!("{shown} is not UTF-8 text\n  save it as UTF-8")))?;
        let folder = path.parent().unwrap_or(Path::new(""));
        let mut settings = parsed(text.trim_start_matches('\u{feff}'), folder).map_err(|faults| {
            let lines: Vec<String> =
                faults.iter().map(|(line, fault)| format!("{shown}, line {line}: {fault}")).collect();
            Stop::Unreadable(format!(
                "{}\n  mend this first; until then no setting is used; --settings none goes without them",
                lines.join("\n")
            ))
        })?;
        settings.place = Some(path.to_owned());
        Ok(settings)
    }

    /// Gives a command what it was not given, and says what that is.
    pub(crate) fn fill(&self, command: &mut Command) {
        let used = match command {
            Command::Here(asked) => self.fill_here(asked),
            Command::Track(asked) => self.fill_track(asked),
            Command::Transit(asked) => self.fill_transit(asked),
            Command::Zones(asked) => asked.zones().map_or_else(Used::new, |zones| self.zones_of(zones)),
            Command::Settings(_) | Command::Completions(_) | Command::Manual(_) => Used::new(),
        };
        if let Some(place) = self.place.as_ref().filter(|_| !used.is_empty()) {
            say(&format!(
                "note: from your settings ({}):{}; --settings none goes without them",
                place.display(),
                typed(&used).concat()
            ));
        }
    }

    fn fill_here(&self, asked: &mut HereArguments) -> Used {
        let mut used = self.zones_of(&mut asked.zones);
        let is_typed = asked.accuracy_m.is_some();
        self.accuracy_of(&mut asked.accuracy_m, &mut used);
        // the kind is that of the file's accuracy and of tables: it says nothing of an accuracy that was typed
        if !is_typed && (asked.accuracy_m.is_some() || asked.fixes.is_some()) {
            self.kind_of(&mut asked.accuracy_kind, &mut used);
        }
        self.access_of(&mut asked.access, &mut used);
        used.extend(self.coasts_of(&mut asked.coasts));
        if asked.fixes.is_none() {
            self.launch_of(&mut asked.launch, &mut used);
        }
        give(&mut asked.standoff_m, self.standoff_m, ("--standoff-m", &mut used), f64::to_string);
        asked.screen.width = asked.screen.width.or(self.width);
        used
    }

    fn fill_track(&self, asked: &mut TrackArguments) -> Used {
        let mut used = self.zones_of(&mut asked.zones);
        let is_typed = asked.accuracy_m.is_some();
        self.accuracy_of(&mut asked.accuracy_m, &mut used);
        if !is_typed {
            self.kind_of(&mut asked.accuracy_kind, &mut used);
        }
        self.access_of(&mut asked.access, &mut used);
        used.extend(self.coasts_of(&mut asked.coasts));
        give(&mut asked.top_speed_kn, self.top_speed_kn, ("--top-speed-kn", &mut used), f64::to_string);
        asked.screen.width = asked.screen.width.or(self.width);
        used
    }

    fn fill_transit(&self, asked: &mut TransitArguments) -> Used {
        match &mut asked.command {
            TransitCommand::Check(asked) => {
                let mut used = self.eye_of(&mut asked.eye);
                // a heading is one from a launch; without it nobody asked about that
                if asked.heading.is_some() {
                    self.launch_of(&mut asked.launch, &mut used);
                }
                used.extend(self.coasts_of(&mut asked.coasts));
                // the zone files that were found stand on the card in any case
                asked.from_settings = typed(&used);
                used.extend(self.zones_of(&mut asked.zones));
                asked.form.screen.width = asked.form.screen.width.or(self.width);
                used
            }
            TransitCommand::Find(asked) => {
                let mut used = self.eye_of(&mut asked.eye);
                self.launch_of(&mut asked.launch, &mut used);
                used.extend(self.zones_of(&mut asked.zones));
                used.extend(self.coasts_of(&mut asked.coasts));
                asked.form.screen.width = asked.form.screen.width.or(self.width);
                used
            }
            TransitCommand::Calibrate(asked) => {
                let mut used = self.eye_of(&mut asked.eye);
                self.accuracy_of(&mut asked.accuracy_m, &mut used);
                self.kind_of(&mut asked.accuracy_kind, &mut used);
                used.extend(self.zones_of(&mut asked.zones));
                used.extend(self.coasts_of(&mut asked.coasts));
                asked.form.screen.width = asked.form.screen.width.or(self.width);
                used
            }
            TransitCommand::Cross(asked) => {
                let mut used = self.eye_of(&mut asked.eye);
                used.extend(self.zones_of(&mut asked.zones));
                used.extend(self.coasts_of(&mut asked.coasts));
                asked.form.screen.width = asked.form.screen.width.or(self.width);
                used
            }
        }
    }

    fn accuracy_of(&self, slot: &mut Option<f64>, used: &mut Used) {
        give(slot, self.accuracy_m, ("--accuracy-m", used), f64::to_string);
    }

    fn kind_of(&self, slot: &mut Option<AccuracyKindName>, used: &mut Used) {
        give(slot, self.accuracy_kind, ("--accuracy-kind", used), |kind| kind.word().to_owned());
    }

    fn access_of(&self, slot: &mut Option<AccessName>, used: &mut Used) {
        give(slot, self.access, ("--access", used), |access| access.word().to_owned());
    }

    fn eye_of(&self, eye: &mut EyeArguments) -> Used {
        let mut used = Used::new();
        give(&mut eye.eye_height_m, self.eye_height_m, ("--eye-height-m", &mut used), f64::to_string);
        used
    }

    fn launch_of(&self, slot: &mut Option<String>, used: &mut Used) {
        give(slot, self.launch.clone(), ("--launch", used), |launch| quoted(launch));
    }

    /// The environment goes before this file.
    fn zones_of(&self, asked: &mut Vec<PathBuf>) -> Used {
        if !asked.is_empty() || zone_files::are_named_by_environment() {
            return Used::new();
        }
        asked.clone_from(&self.zones);
        let shown = |path: &PathBuf| ("--zones", quoted(&path.display().to_string()));
        self.zones.iter().map(shown).collect()
    }

    fn coasts_of(&self, asked: &mut CoastArguments) -> Used {
        if !asked.coast.is_empty() {
            return Used::new();
        }
        asked.coast.clone_from(&self.coasts);
        asked.words().collect()
    }

    /// What is set, as it would be typed.
    fn all(&self) -> Used {
        let mut all = Used::new();
        self.access_of(&mut None, &mut all);
        self.accuracy_of(&mut None, &mut all);
        self.kind_of(&mut None, &mut all);
        all.extend(self.coasts_of(&mut CoastArguments::default()));
        give(&mut None, self.eye_height_m, ("--eye-height-m", &mut all), f64::to_string);
        self.launch_of(&mut None, &mut all);
        give(&mut None, self.standoff_m, ("--standoff-m", &mut all), f64::to_string);
        give(&mut None, self.top_speed_kn, ("--top-speed-kn", &mut all), f64::to_string);
        give(&mut None, self.units, ("--units", &mut all), |units| units.word().to_owned());
        give(&mut None, self.width, ("--width", &mut all), u16::to_string);
        all.extend(self.zones.iter().map(|path| ("--zones", quoted(&path.display().to_string()))));
        all
    }
}

fn is_there(path: &Path) -> bool {
    // one that may not be looked at is there, and reading it says so
    !fs::metadata(path)
        .is_err_and(|error| matches!(error.kind(), ErrorKind::NotFound | ErrorKind::NotADirectory))
}

fn give<T: Clone>(
    slot: &mut Option<T>,
    own: Option<T>,
    (option, used): (&'static str, &mut Used),
    text: impl Fn(&T) -> String,
) {
    if slot.is_none()
        && let Some(own) = own
    {
        used.push((option, text(&own)));
        *slot = Some(own);
    }
}

fn typed(used: &Used) -> Vec<String> {
    used.iter().map(|(option, value)| format!(" {option} {value}")).collect()
}

/// A line of the file, and what is wrong there.
type SettingFault = (usize, String);

fn parsed(text: &str, folder: &Path) -> Result<Settings, Vec<SettingFault>> {
    let line_of = |at: usize| 1 + text.bytes().take(at).filter(|byte| *byte == b'\n').count();
    let table: BTreeMap<String, Spanned<Value>> = toml::from_str(text).map_err(|error| {
        let line = line_of(error.span().map_or(0, |span| span.start));
        vec![(line, not_read(error.message()))]
    })?;
    let mut settings = Settings::default();
    let mut faults = Vec::new();
    for (key, value) in table {
        let line = line_of(value.span().start);
        if let Err(fault) = settings.take(&key, value.get_ref(), folder) {
            faults.push((line, fault));
        }
    }
    if settings.accuracy_kind.is_some() && faults.is_empty() {
        // both together have to make an uncertainty
        let metres = settings.accuracy_m.unwrap_or(1.0);
        let kind = settings.accuracy_kind.map(AccuracyKind::from).unwrap_or_default();
        if let Err(error) = HorizontalUncertainty::given(metres, kind) {
            faults.push((1, format!("accuracy: {error}")));
        }
    }
    faults.sort();
    if faults.is_empty() { Ok(settings) } else { Err(faults) }
}

impl Settings {
    fn take(&mut self, key: &str, value: &Value, folder: &Path) -> Result<(), String> {
        let about = |fault: String| format!("{key}: {fault}");
        match key {
            "zones" => self.zones = paths(value, folder, ZONES_EXAMPLE).map_err(about)?,
            "coast" => self.coasts = paths(value, folder, COAST_EXAMPLE).map_err(about)?,
            "accuracy" => {
                let metres = read(value, metres_above_zero).map_err(about)?;
                HorizontalUncertainty::given(metres, AccuracyKind::default())
                    .map_err(|error| about(error.to_string()))?;
                self.accuracy_m = Some(metres);
            }
            "accuracy-kind" => self.accuracy_kind = Some(read(value, one_of).map_err(about)?),
            "access" => self.access = Some(read(value, one_of).map_err(about)?),
            "launch" => self.launch = Some(launch(value).map_err(about)?),
            "eye-height" => self.eye_height_m = Some(read(value, metres_above_zero).map_err(about)?),
            "standoff" => {
                let metres = read(value, metres).map_err(about)?;
                Metres::non_negative(metres).map_err(|error| about(error.to_string()))?;
                self.standoff_m = Some(metres);
            }
            "top-speed" => self.top_speed_kn = Some(read(value, knots_above_zero).map_err(about)?),
            "units" => self.units = Some(read(value, one_of).map_err(about)?),
            "width" => self.width = Some(read(value, columns).map_err(about)?),
            _ => return Err(unknown(key)),
        }
        Ok(())
    }
}

/// That a line is no setting.
fn not_read(reason: &str) -> String {
    if reason.contains("duplicate") {
        return "this is set for the second time: leave one of the two out".to_owned();
    }
    "cannot be read: write key = value, with quotes round a text, such as accuracy = \"5 m\"".to_owned()
}

fn unknown(key: &str) -> String {
    let likeness =
        |known: &str| strsim::normalized_damerau_levenshtein(&key.replace('_', "-").to_lowercase(), known);
    let names = KEYS.iter().map(|(name, _)| *name);
    let nearest = names.clone().max_by(|one, other| likeness(one).total_cmp(&likeness(other)));
    let shown = key.escape_debug();
    match nearest.filter(|name| likeness(name) >= ALIKE) {
        Some(name) => format!("there is no setting {shown}; did you mean {name}?"),
        None => format!("there is no setting {shown}; there are {}", names.collect::<Vec<_>>().join(", ")),
    }
}

/// Reads a value as it would be typed: a text, or a plain number.
fn read<T>(value: &Value, reader: impl Fn(&str) -> Result<T, String>) -> Result<T, String> {
    match value {
        Value::String(text) => reader(text).map_err(|fault| format!("“{text}”: {fault}")),
        Value::Integer(number) => reader(&number.to_string()).map_err(|fault| format!("{number}: {fault}")),
        Value::Float(number) => reader(&number.to_string()).map_err(|fault| format!("{number}: {fault}")),
        Value::Boolean(_) | Value::Datetime(_) | Value::Array(_) | Value::Table(_) => {
            Err(format!("this is {}; a number, or a text in quotes, is wanted", value.type_str()))
        }
    }
}

/// A place to launch from, as it would be typed.
fn launch(value: &Value) -> Result<String, String> {
    let text = value.as_str().ok_or("a position in quotes is wanted: \"45.1170 -30.1190\"")?;
    Position::parse(text).map_err(|error| error.to_string())?;
    Ok(text.to_owned())
}

fn one_of<T: ValueEnum>(text: &str) -> Result<T, String> {
    T::from_str(text, true).map_err(|_| {
        let names = T::value_variants().iter().filter_map(ValueEnum::to_possible_value);
        let names: Vec<String> = names.map(|value| value.get_name().to_owned()).collect();
        format!("write {}", or(&names))
    })
}

/// Paths in the file: from its own folder on, or from the home folder where they begin with `~/`.
fn paths(value: &Value, folder: &Path, example: &str) -> Result<Vec<PathBuf>, String> {
    let wanted = || format!("a path in quotes, or a list of them, is wanted: [\"{example}\"]");
    let texts: Vec<&str> = match value {
        Value::String(text) => vec![text],
        Value::Array(values) => {
            values.iter().map(|value| value.as_str().ok_or_else(wanted)).collect::<Result<_, _>>()?
        }
        Value::Integer(_) | Value::Float(_) | Value::Boolean(_) | Value::Datetime(_) | Value::Table(_) => {
            return Err(wanted());
        }
    };
    if texts.is_empty() || texts.iter().any(|text| text.is_empty()) {
        return Err(wanted());
    }
    texts.into_iter().map(|text| path(text, folder)).collect()
}

fn path(text: &str, folder: &Path) -> Result<PathBuf, String> {
    match text.strip_prefix("~/") {
        Some(rest) => {
            let home = etcetera::home_dir();
            home.map(|home| home.join(rest))
                .map_err(|_| format!("“{text}”: the home folder is not known here"))
        }
        None => Ok(folder.join(text)),
    }
}

const EXAMPLE: &str = "\
Example of a settings file (Marrowick is invented):
  access = \"boat\"
  accuracy = \"5 m\"
  accuracy-kind = \"p95\"
  zones = [\"zones/marrowick.json\"]

What is typed goes before the environment, and that before this file.";

#[derive(Debug, Args)]
#[command(after_help = EXAMPLE)]
pub(crate) struct SettingsArguments {}

/// Answers `takeline settings`: what is in use, and where the file lies.
pub(crate) fn show(asked: Option<&OsStr>) -> Result<ExitStatus, Stop> {
    let settings = Settings::load(asked)?;
    let head = match (&settings.place, usual_place()) {
        (Some(place), _) => format!("Settings from {}", place.display()),
        (None, Some(place)) => format!("No settings are in use. The file would be\n  {}", place.display()),
        (None, None) => "No settings are in use, and this system has no usual place for them.".to_owned(),
    };
    let all = settings.all();
    let mut lines = vec![head];
    lines.extend(typed(&all).iter().map(|line| format!(" {line}")));
    if settings.place.is_some() && all.is_empty() {
        lines.push("  nothing is set there".to_owned());
    }
    lines.push("\nWhat can be set, one to a line, as in: access = \"boat\"".to_owned());
    lines.extend(KEYS.iter().map(|(key, what)| format!("  {key}: {what}")));
    lines.push(format!("\n--settings PATH or {VARIABLE} names another file; none goes without.\n"));
    let text = lines.join("\n");
    let mut out = StandardOutput::new();
    std::io::Write::write_all(&mut out, takeline::sanitised::lines(&text).as_bytes())?;
    out.finish()?;
    Ok(ExitStatus::Unrestricted)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(text: &str) -> Settings {
        parsed(text, Path::new("boat")).unwrap_or_else(|faults| panic!("{faults:?}"))
    }

    #[test]
    fn values_are_read_as_they_would_be_typed() {
        let settings = of(
            "# mine\naccuracy = \"30ft\"\naccuracy-kind = \"p95\"\naccess = \"kayak\"\nwidth = 60\n\
            eye-height = 0.8\ntop-speed = \"8 mph\"\nstandoff = 50\nunits = \"nautical\"\nlaunch = \"45.1170 -30.1190\"\nzones = [\"a.json\", \"/b\"]\n\
            coast = \"isle.geojson\"\n",
        );
        assert_eq!(settings.accuracy_m, Some(9.144));
        assert_eq!(settings.eye_height_m, Some(0.8));
        assert_eq!(settings.zones, [PathBuf::from("boat/a.json"), PathBuf::from("/b")]);
        assert_eq!(settings.coasts, [PathBuf::from("boat/isle.geojson")]);
        let all: Vec<&str> = settings.all().into_iter().map(|(option, _)| option).collect();
        assert_eq!(all.len(), KEYS.len() + 1, "every key is shown, and both zones: {all:?}");
    }

    #[test]
    fn a_fault_names_its_line_and_how_to_mend_it() {
        for (text, line, mend) in [
            ("\nacces = \"boat\"", 2, "there is no setting acces; did you mean access?"),
            ("eye_height = 1", 1, "did you mean eye-height?"),
            ("colour = \"red\"", 1, "there is no setting colour; there are access"),
            ("access = \"raft\"", 1, "access: “raft”: write boat, shore or diving"),
            ("access = 1", 1, "write boat"),
            ("accuracy = true", 1, "accuracy: this is boolean"),
            ("accuracy = \"5 M\"", 1, "write nm"),
            ("accuracy = 0", 1, "above zero"),
            ("standoff = -1", 1, "standoff:"),
            ("width = 5", 1, "from 20 to 500"),
            ("units = \"imperial\"", 1, "write metric, nautical or us"),
            ("zones = []", 1, "a list of them, is wanted"),
            ("zones = [1]", 1, "a list of them, is wanted"),
            ("coast = 1", 1, "a list of them, is wanted: [\"charts/"),
            ("access = boat", 1, "write key = value"),
            ("access = \"boat\"\naccess = \"shore\"", 2, "for the second time"),
            ("[here]\naccess = \"boat\"", 1, "there is no setting here"),
            ("launch = 45", 1, "a position in quotes is wanted"),
            ("launch = \"91 0\"", 1, "launch:"),
        ] {
            let faults = parsed(text, Path::new("")).unwrap_err();
            let found = faults.iter().any(|(at, fault)| *at == line && fault.contains(mend));
            assert!(found, "{text}: {faults:?}");
        }
    }
}
