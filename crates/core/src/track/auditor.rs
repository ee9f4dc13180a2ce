//! The engine: push a fix, get events; an audit of a file is the same engine run to the end.

use jiff::Timestamp;

use super::cleaning::{Cleaned, Cleaner, uncertainty_of};
use super::leg::Leg;
use super::sketch::Sketch;
use super::watch::{FAR_M, Happenings, Step, Watch};
use super::{
    Audit, Certainty, ClosestApproach, Crossing, Gap, Instant, LoggedFix, NearLine, Quality, SuspectFix,
    Suspicion, TrackEvent, TrackPoint, TrackSettings, Visit,
};
use crate::zone::{Zone, ZoneSet};
use crate::{Fix, Kleene, Metres};

/// Audits a track, one fix after another.
///
/// Memory does not grow with the length of the log, only with what happens in it.
///
/// # Accuracy
///
/// Crossings of a line lie on it to a millimetre (the way between two fixes is a geodesic made at even speed). The
/// closest approach to a zone and the deepest point of a visit are found to 1 % of that distance.
///
/// # Edge cases
///
/// Without times there are places but no durations and no gaps. A way in and out again over less than 10 cm between two fixes
/// is not seen.
#[derive(Debug)]
pub struct Auditor<'a> {
    settings: TrackSettings,
    cleaner: Cleaner,
    zones: &'a ZoneSet,
    watches: Vec<Watch<'a>>,
    last: Option<LoggedFix>,
    travelled_m: f64,
    quality: Quality,
    crossings: Vec<Crossing>,
    visits: Vec<Visit>,
    sketch: Sketch,
}

impl<'a> Auditor<'a> {
    /// Starts an audit against these zones.
    #[must_use]
    pub fn new(zones: &'a ZoneSet, settings: TrackSettings) -> Self {
        Self {
            settings,
            cleaner: Cleaner::new(settings),
            zones,
            watches: zones
                .zones()
                .iter()
                .enumerate()
                .map(|(number, zone)| Watch::new(zone, number))
                .collect(),
            last: None,
            travelled_m: 0.0,
            quality: Quality::default(),
            crossings: Vec::new(),
            visits: Vec::new(),
            sketch: Sketch::default(),
        }
    }

    /// Takes the next fix of the log and tells what it made happen.
    ///
    /// Events come up to two fixes late: a fix is believed only when those after it bear it out. Fixes that repeat one place
    /// for minutes wait until the log goes on from there or jumps.
    pub fn push(&mut self, fix: LoggedFix) -> Vec<TrackEvent> {
        self.quality.fixes += 1;
        self.quality.without_time += u64::from(fix.time.is_none());
        if fix.time.is_some() {
            self.quality.first_time = self.quality.first_time.or(fix.time);
            self.quality.last_time = fix.time;
        }
        let mut cleaned = Vec::new();
        self.cleaner.push(fix, &mut cleaned);
        let mut events = Vec::new();
        for item in cleaned {
            self.take(item, &mut events);
        }
        events
    }

    /// Ends what was logged by one boat: what is pushed next is another's, and nothing joins the two.
    pub fn next_boat(&mut self) -> Vec<TrackEvent> {
        let mut cleaned = Vec::new();
        self.cleaner.finish(&mut cleaned);
        self.cleaner = Cleaner::after_a_break(self.settings);
        let mut events = Vec::new();
        for item in cleaned {
            self.take(item, &mut events);
        }
        for number in 0..self.watches.len() {
            if let Some(visit) = self.watches[number].close() {
                self.add_visit(visit, &mut events);
            }
        }
        self.last = None;
        events
    }

    /// Ends the audit.
    #[must_use]
    pub fn finish(mut self) -> Audit {
        let mut cleaned = Vec::new();
        self.cleaner.finish(&mut cleaned);
        let mut events = Vec::new();
        for item in cleaned {
            self.take(item, &mut events);
        }
        for number in 0..self.watches.len() {
            if let Some(visit) = self.watches[number].close() {
                self.add_visit(visit, &mut events);
            }
        }
        self.visits.sort_by(|a, b| {
            (a.entered.time, a.zone_number, a.evidence).cmp(&(b.entered.time, b.zone_number, b.evidence))
        });
        let mut sketch = self.sketch.into_points();
        for point in &mut sketch {
            point.nearest = nearest_line(self.zones, &fix_of(&point.fix, &self.settings));
        }
        Audit {
            settings: self.settings,
            quality: self.quality,
            crossings: self.crossings,
            visits: self.visits,
            closest_approaches: closest_approaches(&self.watches),
            path: Metres::computed(self.travelled_m),
            sketch,
        }
    }

    fn take(&mut self, item: Cleaned, events: &mut Vec<TrackEvent>) {
        match item {
            Cleaned::Suspect(suspect) => self.note_suspect(suspect, events),
            Cleaned::Gap(gap) => self.note_gap(gap, events),
            Cleaned::Fix { fix, broken } => self.follow(fix, broken, events),
        }
    }

    fn note_suspect(&mut self, suspect: SuspectFix, events: &mut Vec<TrackEvent>) {
        let kind = kind_number(suspect.suspicion);
        self.quality.counts[kind] += 1;
        if self.quality.counts[kind] <= Quality::MOST_LISTED as u64 {
            self.quality.suspects.push(suspect);
        }
        events.push(TrackEvent::Suspect(suspect));
    }

    fn note_gap(&mut self, gap: Gap, events: &mut Vec<TrackEvent>) {
        self.quality.gap_count += 1;
        if self.quality.gaps.len() < Quality::MOST_LISTED {
            self.quality.gaps.push(gap);
        }
        events.push(TrackEvent::Gap(gap));
        if gap.between_trips {
            let after = fix_of(&gap.after, &self.settings);
            for number in 0..self.watches.len() {
                if let Some(visit) = self.watches[number].pass_pause(&gap, &after) {
                    self.add_visit(visit, events);
                }
            }
            return;
        }
        if gap.impossible {
            return;
        }
        for number in 0..self.watches.len() {
            if let Some(visit) = self.watches[number].pass_gap(&gap, &self.settings) {
                self.add_visit(visit, events);
            }
        }
    }

    /// Follows the track to a fix that is believed.
    fn follow(&mut self, logged: LoggedFix, broken: bool, events: &mut Vec<TrackEvent>) {
        let to = fix_of(&logged, &self.settings);
        let before = self.last.replace(logged).filter(|_| !broken);
        if let Some(before) = before {
            let from = fix_of(&before, &self.settings);
            let leg = Leg::between(before, logged);
            self.travelled_m += leg.length_m;
            for number in 0..self.watches.len() {
                if !self.watches[number].is_due(self.travelled_m, &to) {
                    self.watches[number].pass_quietly(&leg);
                    continue;
                }
                let done = self.watches[number].pass(&Step {
                    leg: &leg,
                    from: &from,
                    to: &to,
                    travelled_m: self.travelled_m,
                    first_crossing: self.crossings.len(),
                    linger_s: self.settings.linger_s,
                });
                self.note(number, done, events);
            }
        } else {
            let at = Instant { position: logged.position, time: logged.time, between: None };
            for number in 0..self.watches.len() {
                let done = self.watches[number].start(&to, at, self.travelled_m);
                self.note(number, done, events);
            }
        }
        let standing = self.watches.iter().filter_map(Watch::standing).max();
        self.sketch.push(TrackPoint { fix: logged, standing, nearest: None, after_break: broken });
    }

    fn note(&mut self, number: usize, done: Happenings, events: &mut Vec<TrackEvent>) {
        if let Some((certainty, at)) = done.entered {
            events.push(TrackEvent::Entered { zone: self.watches[number].zone.id.clone(), certainty, at });
        }
        for crossing in done.crossings {
            events.push(TrackEvent::Crossed(crossing.clone()));
            self.crossings.push(crossing);
        }
        if let Some(visit) = done.left {
            self.add_visit(visit, events);
        }
    }

    fn add_visit(&mut self, mut visit: Visit, events: &mut Vec<TrackEvent>) {
        let zone = self.watches[visit.zone_number].zone;
        // where the dates may be wrong as a whole nobody knows what was in force
        let (from, to) =
            if self.settings.dates_doubtful { (None, None) } else { (visit.entered.time, visit.left.time) };
        (visit.in_force, visit.in_force_because) = in_force_during(zone, from, to);
        events.push(TrackEvent::Left(visit.clone()));
        self.visits.push(visit);
    }
}

fn fix_of(logged: &LoggedFix, settings: &TrackSettings) -> Fix {
    Fix { position: logged.position, uncertainty: uncertainty_of(logged, settings), time: logged.time }
}

fn kind_number(suspicion: Suspicion) -> usize {
    match suspicion {
        Suspicion::Duplicate => 0,
        Suspicion::OutOfOrder => 1,
        Suspicion::Spike => 2,
        Suspicion::ColdStart => 3,
        Suspicion::ZeroIsland => 4,
        Suspicion::Stale => 5,
    }
}

/// The line nearest to a fix, if one is within 20 km.
fn nearest_line(zones: &ZoneSet, fix: &Fix) -> Option<NearLine> {
    let near = zones.near_numbered(fix.position, Metres::ZERO);
    let (zone_number, located) = near
        .into_iter()
        .min_by(|a, b| a.1.signed_distance.metres().total_cmp(&b.1.signed_distance.metres()))?;
    let doubt = Watch::new(&zones.zones()[zone_number], zone_number).doubt_m(fix, &located);
    (located.signed_distance.metres() < FAR_M).then(|| NearLine {
        zone_number,
        signed_distance: located.signed_distance,
        uncertainty_95: Metres::computed(doubt),
    })
}

fn closest_approaches(watches: &[Watch<'_>]) -> Vec<ClosestApproach> {
    let mut approaches: Vec<ClosestApproach> = watches
        .iter()
        .filter(|watch| !watch.visited)
        .filter_map(|watch| {
            let near = watch.closest?;
            Some(ClosestApproach {
                zone: watch.zone.id.clone(),
                signed_distance: Metres::computed(near.distance_m),
                uncertainty_95: Metres::computed(near.doubt_m),
                at: near.at,
            })
        })
        .collect();
    approaches.sort_by(|a, b| {
        let by_distance = a.signed_distance.metres().total_cmp(&b.signed_distance.metres());
        by_distance.then_with(|| a.zone.cmp(&b.zone))
    });
    approaches
}

/// Whether the rule was in force at the beginning or the end of a visit: yes if at either.
fn in_force_during(zone: &Zone, from: Option<Timestamp>, to: Option<Timestamp>) -> (Kleene, Vec<String>) {
    let ((first, because), (last, later)) = (zone.in_force_at(from), zone.in_force_at(to));
    let worst = first.or(last);
    let mut reasons = if first == worst { because } else { later };
    if first != last {
        reasons.push("the rule changed while the visit went on".to_owned());
    }
    (worst, reasons)
}

impl TrackEvent {
    /// Returns whether the event is that the boat was surely inside.
    #[must_use]
    pub fn is_certain_entry(&self) -> bool {
        matches!(self, Self::Entered { certainty: Certainty::Certain, .. })
    }
}
