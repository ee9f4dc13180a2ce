use super::carried::carried;
use super::judge::{Judged, judge};
use super::{CatchEntry, CatchFinding, CatchPosition, CatchSettings, bags};
use crate::assess::FishNames;
use crate::rule::Possession;
use crate::track::{Auditor, LoggedFix, TrackSettings};
use crate::zone::ZoneSet;

/// Joins a catch log to a track that is given fix by fix, and judges each row.
///
/// Keeps two fixes for each row of the log and the visits of the track, and nothing else of it, however long it is.
///
/// # Examples
///
/// ```
/// use takeline::{Position, TakeAnswer, ZoneSet};
/// use takeline::track::{CatchEntry, CatchJoin, CatchSettings, LogPlace, LoggedFix};
///
/// let zones = ZoneSet::new(Vec::new());
/// let entry = CatchEntry { time: Some("2026-07-01T06:00:05Z".parse()?), ..CatchEntry::named(2, "sprat") };
/// let mut join = CatchJoin::new(&zones, vec![entry], CatchSettings::default());
/// for (seconds, lat_deg) in [(0, 45.117), (10, 45.119)] {
///     join.push(&LoggedFix {
///         position: Position::from_degrees(lat_deg, -30.119)?,
///         time: Some(format!("2026-07-01T06:00:{seconds:02}Z").parse()?),
///         uncertainty: None, hdop: None, speed_m_per_s: None, place: LogPlace::default(),
///     });
/// }
/// let found = join.finish();
/// assert_eq!(found[0].answer, TakeAnswer::NoLoadedZone);
/// let caught = found[0].position.position().ok_or("between the two fixes")?;
/// assert!((caught.latitude().degrees() - 45.118).abs() < 1e-6);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug)]
pub struct CatchJoin<'a> {
    zones: &'a ZoneSet,
    settings: CatchSettings,
    entries: Vec<CatchEntry>,
    /// Rows with a time, earliest first.
    by_time: Vec<usize>,
    /// How many of those have found their neighbours.
    found: usize,
    neighbours: Vec<(Option<LoggedFix>, Option<LoggedFix>)>,
    last: Option<LoggedFix>,
    /// Follows the boat, where a rule says something of fish aboard.
    auditor: Option<Auditor<'a>>,
}

impl<'a> CatchJoin<'a> {
    /// Starts with the rows of a log, in any order.
    #[must_use]
    pub fn new(zones: &'a ZoneSet, entries: Vec<CatchEntry>, settings: CatchSettings) -> Self {
        let mut by_time: Vec<usize> = (0..entries.len()).filter(|row| entries[*row].time.is_some()).collect();
        by_time.sort_by_key(|row| entries[*row].time);
        let neighbours = vec![(None, None); entries.len()];
        let speaks = zones.zones().iter().any(|zone| zone.rule.possession != Possession::Allowed);
        let is_followed = speaks && entries.iter().any(CatchEntry::may_be_aboard);
        let track = TrackSettings { access: settings.access, ..settings.track };
        let auditor = is_followed.then(|| Auditor::new(zones, track));
        Self { zones, settings, entries, by_time, found: 0, neighbours, last: None, auditor }
    }

    /// Takes the next fix of the track. Fixes without a time, and fixes earlier than the one before, tell no place of a catch.
    pub fn push(&mut self, fix: &LoggedFix) {
        if let Some(auditor) = &mut self.auditor {
            let _events = auditor.push(*fix);
        }
        let Some(time) = fix.time else { return };
        if self.last.is_some_and(|last| last.time > fix.time) {
            return;
        }
        while let Some(row) = self.by_time.get(self.found).copied() {
            if self.entries[row].time > Some(time) {
                break;
            }
            self.neighbours[row] = (self.last, Some(*fix));
            self.found += 1;
        }
        self.last = Some(*fix);
    }

    /// Judges every row, in the order of the log.
    #[must_use]
    pub fn finish(mut self) -> Vec<CatchFinding> {
        for row in self.by_time.iter().skip(self.found) {
            self.neighbours[*row] = (self.last, None);
        }
        let visits = self.auditor.map(|auditor| auditor.finish().visits).unwrap_or_default();
        let names = FishNames::of(self.zones);
        let mut judged: Vec<Judged<'_>> = self
            .entries
            .into_iter()
            .zip(self.neighbours)
            .map(|(entry, neighbours)| {
                let position = match (entry.position, entry.time) {
                    (Some(position), _) => CatchPosition::Given(position),
                    (None, Some(time)) => CatchPosition::at(time, neighbours, &self.settings),
                    (None, None) => CatchPosition::Unknown { before: None, after: None },
                };
                judge(self.zones, &self.settings, (entry, position))
            })
            .collect();
        bags::count(self.zones, &names, &mut judged);
        judged
            .into_iter()
            .map(|judged| {
                let carried = carried(self.zones, &names, &judged, &visits);
                judged.finding.carried_as(carried)
            })
            .collect()
    }
}
