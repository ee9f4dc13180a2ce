//! A catch log joined to the track, fix by fix.

use jiff::Timestamp;

use super::finding::{self, MinuteFixes};
use super::judge::{Judged, carried, judge, made_in};
use super::{CarriedFinding, CatchEntry, CatchFinding, CatchPosition, CatchSettings, bags};
use crate::assess::FishNames;
use crate::rule::Possession;
use crate::track::cleaning::{Cleaned, Cleaner};
use crate::track::logged_fix::{DATED_WITHIN_S, is_zero_island};
use crate::track::{Auditor, LoggedFix, Suspicion, TrackSettings, UnplacedRecord};
use crate::zone::ZoneSet;

/// Joins a catch log to a track that is given fix by fix, and judges each row.
///
/// Keeps two fixes for each row of the log, those within two minutes of rows in whole minutes, the visits of the track, and what the audit holds back of it: a receiver that
/// repeats one place fills at most some megabytes.
///
/// Only fixes that the audit believes tell where a fish was caught, and only if their time is their own. Where a suspect
/// fix lies between the two about a catch, its place is not known.
///
/// # Examples
///
/// ```
/// use takeline::{Position, TakeAnswer, ZoneSet};
/// use takeline::track::{CatchEntry, CatchJoin, CatchSettings, LoggedFix};
///
/// let zones = ZoneSet::new(Vec::new());
/// let entry = CatchEntry { time: Some("2026-07-01T06:00:05Z".parse()?), ..CatchEntry::named(2, "sprat") };
/// let mut join = CatchJoin::new(&zones, vec![entry], CatchSettings::default());
/// for (seconds, lat_deg) in [(0, 45.117), (10, 45.1174)] {
///     let time = format!("2026-07-01T06:00:{seconds:02}Z");
///     join.push(&LoggedFix::new(Position::from_degrees(lat_deg, -30.119)?).at(time.parse()?));
/// }
/// let found = join.finish();
/// // no zone is loaded
/// assert_eq!(found[0].answer, TakeAnswer::Undecided);
/// let caught = found[0].position.position().ok_or("between the two fixes")?;
/// assert!((caught.latitude().degrees() - 45.1172).abs() < 1e-6);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug)]
pub struct CatchJoin {
    zones: ZoneSet,
    settings: CatchSettings,
    entries: Vec<CatchEntry>,
    /// Rows with a time, earliest first.
    by_time: Vec<usize>,
    /// How many of those have found their neighbours.
    found: usize,
    neighbours: Vec<Neighbours>,
    /// The times of rows in whole minutes, earliest first, and the fixes near them.
    minutes: Vec<Timestamp>,
    near_minutes: MinuteFixes,
    last: Option<LoggedFix>,
    cleaner: Cleaner,
    cleaned: Vec<Cleaned>,
    /// Whether something was suspect since the last fix.
    is_doubted: bool,
    /// The first that was, to tell by what a row without an earlier fix is doubted.
    suspect: Option<LoggedFix>,
    has_several_boats: bool,
    /// Follows the boat, where a rule says something of fish aboard.
    auditor: Option<Auditor>,
}

impl CatchJoin {
    /// Starts with the rows of a log, in any order, and keeps a handle of its own to the zones.
    #[must_use]
    pub fn new(zones: &ZoneSet, entries: Vec<CatchEntry>, settings: CatchSettings) -> Self {
        let settings = settings.with_possible_figures();
        let mut by_time: Vec<usize> = (0..entries.len()).filter(|row| entries[*row].time.is_some()).collect();
        by_time.sort_by_key(|row| entries[*row].time);
        let minutes = by_time.iter().filter_map(|row| entries[*row].time);
        let minutes = minutes.filter(|time| finding::is_whole(*time)).collect();
        let neighbours = vec![Neighbours::default(); entries.len()];
        let speaks = zones.zones().iter().any(|zone| zone.rule.possession != Possession::Allowed);
        let is_followed = speaks && entries.iter().any(CatchEntry::may_be_aboard);
        let track = TrackSettings { access: settings.access, ..settings.track };
        let auditor = is_followed.then(|| Auditor::new(zones, track));
        let cleaner = Cleaner::new(track);
        Self {
            zones: zones.clone(),
            settings,
            entries,
            by_time,
            found: 0,
            neighbours,
            minutes,
            near_minutes: MinuteFixes::default(),
            last: None,
            auditor,
            cleaner,
            cleaned: Vec::new(),
            is_doubted: false,
            suspect: None,
            has_several_boats: false,
        }
    }

    /// Ends what was logged by one boat: what is pushed next is another's, and nobody knows which of them the catches
    /// belong to. No row then has a place but its own, and each was perhaps carried wherever one of the boats went.
    pub fn next_boat(&mut self) {
        self.has_several_boats = true;
        if let Some(auditor) = &mut self.auditor {
            let _events = auditor.next_boat();
        }
    }

    /// Takes a record of the track that tells no usable place, as [`Auditor::push_unplaced`] does: what was aboard then was
    /// carried wherever the boat was.
    pub fn push_unplaced(&mut self, record: &UnplacedRecord) {
        if let Some(auditor) = &mut self.auditor {
            auditor.push_unplaced(record);
        }
    }

    /// Takes the next fix of the track. Fixes that are suspect, without a time, or with one that is not their own, tell no
    /// place of a catch.
    pub fn push(&mut self, fix: &LoggedFix) {
        if let Some(auditor) = &mut self.auditor {
            let _events = auditor.push(*fix);
        }
        self.cleaner.push(*fix, &mut self.cleaned);
        self.take_cleaned();
    }

    fn take_cleaned(&mut self) {
        let mut cleaned = std::mem::take(&mut self.cleaned);
        for item in cleaned.drain(..) {
            match item {
                Cleaned::Fix { fix, .. } if is_dated(&fix) => self.pass(&fix),
                Cleaned::Suspect(suspect) if suspect.suspicion != Suspicion::Duplicate => {
                    self.is_doubted = true;
                    self.near_minutes.doubt(&suspect.fix, &self.minutes);
                    self.suspect = self.suspect.or(Some(suspect.fix));
                }
                Cleaned::Fix { .. } | Cleaned::Suspect(_) | Cleaned::Gap(_) | Cleaned::LostTrip => {}
            }
        }
        self.cleaned = cleaned;
    }

    /// Gives the rows up to a fix their neighbours.
    fn pass(&mut self, fix: &LoggedFix) {
        let Some(time) = fix.time else { return };
        if self.last.is_some_and(|last| last.time > fix.time) {
            return;
        }
        while let Some(row) = self.by_time.get(self.found).copied() {
            if self.entries[row].time > Some(time) {
                break;
            }
            let is_earlier =
                |suspect: &LoggedFix| suspect.time.is_some() && suspect.time <= self.entries[row].time;
            self.neighbours[row] = Neighbours {
                before: self.last,
                after: Some(*fix),
                suspect: self.suspect.filter(is_earlier),
                is_doubted: self.is_doubted && self.entries[row].time < Some(time),
            };
            self.found += 1;
        }
        self.near_minutes.push(fix, &self.minutes);
        (self.is_doubted, self.suspect) = (false, None);
        self.last = Some(*fix);
    }

    /// Judges every row, in the order of the log.
    #[must_use]
    pub fn finish(mut self) -> Vec<CatchFinding> {
        self.cleaner.finish(&mut self.cleaned);
        self.take_cleaned();
        for row in self.by_time.iter().skip(self.found) {
            self.neighbours[*row] = Neighbours { before: self.last, ..Neighbours::default() };
        }
        let visits = self.auditor.map(|auditor| auditor.finish().visits).unwrap_or_default();
        let names = FishNames::of(&self.zones);
        let mut judged: Vec<Judged<'_>> = self
            .entries
            .into_iter()
            .zip(self.neighbours)
            .map(|(entry, about)| {
                let is_doubted = about.is_doubted || self.near_minutes.is_doubted(entry.time);
                let about = Neighbours { is_doubted, ..about };
                let about = if self.has_several_boats { Neighbours::default() } else { about };
                let near: &[LoggedFix] =
                    if self.has_several_boats { &[] } else { self.near_minutes.about(entry.time) };
                let position = about.place(&entry, near, &self.settings);
                judge(&self.zones, &self.settings, (entry, position, near))
            })
            .collect();
        bags::count(&self.zones, &names, &mut judged);
        judged
            .into_iter()
            .map(|mut judged| {
                judged.finding.made_in = made_in(&self.zones, &names, &judged);
                let mut carried = carried(&self.zones, &names, &judged, &visits);
                if self.has_several_boats {
                    carried.iter_mut().for_each(CarriedFinding::by_some_boat);
                }
                judged.finding.carried_as(carried)
            })
            .collect()
    }
}

/// The fixes about a row's time.
#[derive(Debug, Clone, Copy, Default)]
struct Neighbours {
    before: Option<LoggedFix>,
    after: Option<LoggedFix>,
    /// A suspect fix that is earlier, to tell of where there is no other.
    suspect: Option<LoggedFix>,
    /// Whether a suspect fix lies between the two.
    is_doubted: bool,
}

impl Neighbours {
    /// Where a row's fish was caught. A row that says so itself is believed as far as the track lets it be.
    fn place(self, entry: &CatchEntry, near: &[LoggedFix], settings: &CatchSettings) -> CatchPosition {
        let (before, after) = (self.before, self.after);
        match (entry.position.filter(|position| !is_zero_island(*position)), entry.time) {
            (Some(position), _) => CatchPosition::given((position, entry), ((before, after), near), settings),
            (None, Some(_)) if self.is_doubted => {
                CatchPosition::Unknown { before: before.or(self.suspect), after }
            }
            (None, Some(time)) => CatchPosition::at(time, (before.or(self.suspect), after), settings),
            (None, None) => CatchPosition::Unknown { before: None, after: None },
        }
    }
}

/// Whether a fix has a time of its own.
fn is_dated(fix: &LoggedFix) -> bool {
    let within_s = |(from, to): (Timestamp, Timestamp)| to.duration_since(from).as_secs_f64();
    fix.time_between.is_none_or(|between| within_s(between) <= DATED_WITHIN_S)
}
