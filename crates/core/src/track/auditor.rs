//! The engine: push a fix, get events; an audit of a file is the same engine run to the end.

use std::collections::{HashMap, HashSet};

use jiff::Timestamp;

use super::cleaning::{Cleaned, Cleaner, OVER_TOP_SPEED, has_no_accuracy, uncertainty_of};
use super::gap::GapKind;
use super::jumps::JUMP_WITHIN_S;
use super::leg::Leg;
use super::open_visit::{Closed, Near};
use super::presence::is_of_a_set_clock;
use super::ruling;
use super::sketch::Sketch;
use super::stray::Stray;
use super::watch::{FAR_M, Happenings, Start, Step, Watch};
use super::{
    Audit, Certainty, ClockSeam, ClosestApproach, Crossing, Gap, Instant, LoggedFix, MisreadFix, NearLine,
    Quality, SuspectFix, Suspicion, TrackEvent, TrackPoint, TrackSettings, UnplacedRecord, Visit,
};
use crate::zone::{Extent, Zone, ZoneSet};
use crate::{Boundary, Fix, Metres};

/// Audits a track, one fix after another.
///
/// Memory does not grow with the length of the log, only with what happens in it.
///
/// # Accuracy
///
/// Crossings of a line lie on it to a millimetre (the way between two fixes is a geodesic made at even speed). The
/// closest approach to a zone and the deepest point of a visit are found to 0.1 m, on the straight way between fixes too;
/// the greatest depth that a gap allowed is told as up to 0.5 m more than it is, and never less.
///
/// # Edge cases
///
/// Without times there are places but no durations and no gaps. A way in and out again over less than 10 cm between two fixes
/// is not seen. A fix that is suspect makes no more than a possible visit of each zone that holds it.
#[derive(Debug)]
pub struct Auditor<'a> {
    settings: TrackSettings,
    cleaner: Cleaner,
    zones: &'a ZoneSet,
    watches: Vec<Watch<'a>>,
    last: Option<LoggedFix>,
    /// The last fix that was told, believed or not, and whether it was.
    told: Option<(LoggedFix, bool)>,
    /// How many fixes were believed before the last one.
    number: u64,
    /// The most that any line may be off by itself, in metres.
    largest_doubt_m: f64,
    travelled_m: f64,
    /// Straight across the gaps, in metres.
    gap_m: f64,
    quality: Quality,
    /// How many gaps of each kind are listed.
    listed_gaps: HashMap<GapKind, usize>,
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
            told: None,
            number: 0,
            largest_doubt_m: zones.zones().iter().map(line_and_misfit_m).fold(0.0, f64::max),
            travelled_m: 0.0,
            gap_m: 0.0,
            quality: Quality::default(),
            listed_gaps: HashMap::new(),
            crossings: Vec::new(),
            visits: Vec::new(),
            sketch: Sketch::default(),
        }
    }

    /// Takes the next fix of the log and tells what it made happen.
    ///
    /// Events come up to two fixes late, and at the beginning and behind a step that no boat makes up to twenty: a fix is
    /// believed only when those after it bear it out. Fixes that repeat one place
    /// for minutes wait until the log goes on from there or jumps.
    pub fn push(&mut self, fix: LoggedFix) -> Vec<TrackEvent> {
        self.quality.fixes += 1;
        self.quality.without_time += u64::from(fix.time.is_none());
        self.quality.without_accuracy += u64::from(has_no_accuracy(&fix, &self.settings));
        self.note_misread(&fix);
        if let Some(made) = fix.made_between() {
            self.hear(made);
        }
        let mut cleaned = Vec::new();
        self.cleaner.push(fix, &mut cleaned);
        let mut events = Vec::new();
        for item in cleaned {
            self.take(&item, &mut events);
        }
        events
    }

    /// Takes a record that tells no usable place. Before the first fix of its boat it has to come before that, and anywhere
    /// before the end of the boat otherwise.
    ///
    /// Between two fixes that are believed it changes nothing: what lies between them is looked at all the same. Before the
    /// first and after the last the boat was wherever the top speed allows. Hours in which it stands, by its time or, where it
    /// has none, by its place in the log, are never taken for the time between two trips.
    pub fn push_unplaced(&mut self, record: &UnplacedRecord) {
        match record.time {
            Some(time) => {
                if is_of_a_set_clock(time) {
                    self.hear((time, time));
                }
                self.cleaner.push_unplaced(time);
            }
            None => self.cleaner.push_timeless(record.place),
        }
    }

    /// Keeps the least and the greatest of all times of the log, in whatever order they come.
    fn hear(&mut self, (from, to): (Timestamp, Timestamp)) {
        self.quality.first_time = Some(self.quality.first_time.map_or(from, |first| first.min(from)));
        self.quality.last_time = Some(self.quality.last_time.map_or(to, |last| last.max(to)));
    }

    /// Ends what was logged by one boat: what is pushed next is another's, and nothing joins the two.
    pub fn next_boat(&mut self) -> Vec<TrackEvent> {
        let mut cleaned = Vec::new();
        self.cleaner.finish(&mut cleaned);
        self.cleaner = Cleaner::after_a_break(self.settings);
        let mut events = Vec::new();
        for item in cleaned {
            self.take(&item, &mut events);
        }
        self.close_all(&mut events);
        (self.last, self.told) = (None, None);
        // nothing of the next boat's touches what was this one's
        self.number = self.number.saturating_add(1);
        events
    }

    /// Ends what was logged by one clock, and takes what lies between it and what was logged by another, if both are one boat's:
    /// a gap of a length that nobody knows.
    pub fn push_seam(&mut self, seam: &ClockSeam) -> Vec<TrackEvent> {
        let mut events = self.next_boat();
        let times = seam.before.time.zip(seam.after.time);
        let time_between = times.map(|(one, other)| (one.min(other), one.max(other)));
        let ends = [seam.before, seam.after].map(|fix| LoggedFix { time: None, time_between, ..fix });
        self.note_gap(&Gap { seconds: None, ..Gap::between(&ends[0], &ends[1]) }, &mut events);
        self.close_all(&mut events);
        self.number = self.number.saturating_add(1);
        events
    }

    /// Ends the audit.
    #[must_use]
    pub fn finish(mut self) -> Audit {
        let mut cleaned = Vec::new();
        self.cleaner.finish(&mut cleaned);
        let mut events = Vec::new();
        for item in cleaned {
            self.take(&item, &mut events);
        }
        self.close_all(&mut events);
        self.visits.sort_by(|a, b| {
            let key = |visit: &Visit| (visit.entered().time, visit.zone_number, visit.evidence);
            key(a).cmp(&key(b))
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
            gap_path: Metres::computed(self.gap_m),
            sketch,
        }
    }

    /// Ends every visit that goes on.
    fn close_all(&mut self, events: &mut Vec<TrackEvent>) {
        let ended = |watch: &mut Watch<'_>| [watch.close(), watch.close_suspected()];
        let closed = self.watches.iter_mut().flat_map(ended).flatten().collect();
        self.add_visits(closed, events);
    }

    fn take(&mut self, item: &Cleaned, events: &mut Vec<TrackEvent>) {
        match item {
            Cleaned::Suspect(suspect) => self.note_suspect(*suspect, events),
            Cleaned::Gap(gap) => self.note_gap(gap, events),
            Cleaned::LostTrip => self.quality.lost_trips += 1,
            Cleaned::Fix { fix, broken, still_step_s } => {
                self.follow(*fix, (*broken, *still_step_s), events);
            }
        }
    }

    /// One stretch that was written down wrong is enough: where the boat was then is not known.
    fn note_misread(&mut self, fix: &LoggedFix) {
        if self.zones.has_box_within(fix.position, ZoneSet::FAR_M) {
            return;
        }
        if self.quality.misread.is_none() {
            let found = self.zones.likely_misreading(fix.position);
            self.quality.misread = found.map(|misreading| MisreadFix { fix: *fix, misreading });
        }
        self.quality.far_since_misread += u64::from(self.quality.misread.is_some());
    }

    fn note_suspect(&mut self, suspect: SuspectFix, events: &mut Vec<TrackEvent>) {
        let kind = kind_number(suspect.suspicion);
        self.quality.counts[kind] += 1;
        if self.quality.counts[kind] <= Quality::MOST_LISTED as u64 {
            self.quality.suspects.push(suspect);
        }
        events.push(TrackEvent::Suspect(suspect));
        // a duplicate lies where the fix does that it repeats
        if suspect.suspicion != Suspicion::Duplicate {
            self.stand_at_suspect(&suspect.fix, events);
        }
        if matches!(suspect.suspicion, Suspicion::Spike | Suspicion::ColdStart) {
            self.go_astray(suspect.fix, false, events);
        }
    }

    /// What is suspect stays possible, and so does the way to it, from it and between two of them, if a boat makes it.
    fn go_astray(&mut self, to: LoggedFix, is_believed: bool, events: &mut Vec<TrackEvent>) {
        let Some((from, was_believed)) = self.told.replace((to, is_believed)) else { return };
        if is_believed && was_believed {
            return;
        }
        let ends = [from, to].map(|logged| fix_of(&logged, &self.settings));
        let leg = Leg::between(from, to, self.number);
        let spare_m: f64 = ends.iter().map(|fix| fix.uncertainty.radius_95().metres()).sum();
        let stray = Stray::of(&leg, (spare_m, None), &self.settings);
        let is_untimed = from.made_between().is_none() && to.made_between().is_none();
        let is_soon = leg.seconds().is_some_and(|seconds| (0.0..=JUMP_WITHIN_S).contains(&seconds));
        let is_made = is_soon || is_untimed && from.place.stretch == to.place.stretch;
        // where nobody knows which side of a jump is wrong, what lies between stays possible too
        let is_jump = stray.needs_more_than(OVER_TOP_SPEED) && (is_believed || was_believed);
        if !is_made || is_jump || leg.length_m <= 0.0 {
            return;
        }
        let off_m = stray.most_m() + spare_m + self.largest_doubt_m;
        let near = self.zones.near_numbered(leg.at(0.5), Metres::computed(leg.length_m / 2.0 + off_m));
        let passed: Vec<_> = near
            .into_iter()
            .filter_map(|(number, _)| {
                let (share, distance_m, doubt_m) = self.watches[number].nearest_on(&leg, &ends)?;
                (distance_m <= doubt_m + stray.most_m()).then_some((number, share, distance_m, doubt_m))
            })
            .collect();
        let sides: Vec<_> = passed.iter().map(|(number, ..)| (*number, Certainty::Possible)).collect();
        let mut closed = Vec::new();
        for (number, share, distance_m, doubt_m) in passed {
            let at = leg.instant(share);
            let there = LoggedFix { position: at.position, time: at.time, time_between: at.between, ..to };
            let ruled = ruling::at_suspect(self.zones, number, &sides, (&there, &self.settings));
            let near = Near { distance_m, doubt_m, at };
            closed.extend(self.watches[number].suspect(near, ruled, &self.settings));
        }
        self.add_visits(closed, events);
    }

    /// What is suspect is never certain, but it stays possible: a zone that holds the fix may have been visited.
    fn stand_at_suspect(&mut self, logged: &LoggedFix, events: &mut Vec<TrackEvent>) {
        let fix = fix_of(logged, &self.settings);
        let reach_m = fix.uncertainty.radius_95().metres() + self.largest_doubt_m;
        let near = self.zones.near_numbered(fix.position, Metres::computed(reach_m));
        let standing: Vec<_> = near
            .into_iter()
            .filter_map(|(number, located)| {
                let (standing, distance_m, doubt_m) = self.watches[number].standing_of(&fix, &located);
                Some((number, standing?, distance_m, doubt_m))
            })
            .collect();
        let sides: Vec<_> = standing.iter().map(|(number, standing, ..)| (*number, *standing)).collect();
        let at = Instant { position: logged.position, time: logged.time, between: logged.time_between };
        let mut closed = Vec::new();
        for (number, _, distance_m, doubt_m) in standing {
            let ruled = ruling::at_suspect(self.zones, number, &sides, (logged, &self.settings));
            let near = Near { distance_m, doubt_m, at };
            closed.extend(self.watches[number].suspect(near, ruled, &self.settings));
        }
        self.add_visits(closed, events);
    }

    fn note_gap(&mut self, gap: &Gap, events: &mut Vec<TrackEvent>) {
        let is_told = gap.is_told(&self.settings);
        self.quality.gap_count += u64::from(is_told);
        self.quality.pauses += u64::from(gap.between_trips);
        self.quality.impossible_gaps += u64::from(gap.impossible);
        if is_told {
            let listed = self.listed_gaps.entry(gap.kind()).or_default();
            if *listed < Quality::MOST_LISTED {
                *listed += 1;
                self.quality.gaps.push(*gap);
            }
        }
        if is_told {
            events.push(TrackEvent::Gap(*gap));
        }
        let mut closed = Vec::new();
        if gap.between_trips {
            let after = fix_of(&gap.after, &self.settings);
            for number in 0..self.watches.len() {
                closed.extend(self.watches[number].pass_pause(gap, &after, self.number));
            }
            self.add_visits(closed, events);
            return;
        }
        // the way to a fix that no boat can have reached is nobody's
        self.gap_m += if gap.impossible { 0.0 } else { gap.metres.metres() };
        let within_reach = self.within_reach(gap);
        for number in 0..self.watches.len() {
            if !within_reach.contains(&number) {
                self.watches[number].pass_gap_outside(gap);
                continue;
            }
            let done = self.watches[number].pass_gap(gap, &self.settings, self.number);
            closed.extend(self.note(number, done, events));
        }
        // a time at an end of the log stands beside its one fix, and what follows beside neither
        self.number = self.number.saturating_add(u64::from(gap.open.is_some()));
        self.add_visits(closed, events);
    }

    /// The zones whose line or inside the boat can have reached in a gap; some more are no harm.
    fn within_reach(&self, gap: &Gap) -> HashSet<usize> {
        let spare_m: f64 = [gap.before, gap.after]
            .iter()
            .map(|fix| uncertainty_of(fix, &self.settings).radius_95().metres())
            .sum::<f64>()
            + 4.0 * self.largest_doubt_m;
        let way_m = gap.longest_way_m(&self.settings) + spare_m;
        let near = |fix: &LoggedFix| self.zones.near_numbered(fix.position, Metres::computed(way_m));
        [gap.before, gap.after].iter().flat_map(near).map(|(number, _)| number).collect()
    }

    /// Follows the track to a fix that is believed.
    fn follow(
        &mut self,
        logged: LoggedFix,
        (broken, still_step_s): (bool, Option<f64>),
        events: &mut Vec<TrackEvent>,
    ) {
        let to = fix_of(&logged, &self.settings);
        let last = self.last.replace(logged);
        self.go_astray(logged, true, events);
        let mut closed = Vec::new();
        if let Some(before) = last.filter(|_| !broken) {
            let from = fix_of(&before, &self.settings);
            let leg = Leg::between(before, logged, self.number);
            let spare_m = from.uncertainty.radius_95().metres() + to.uncertainty.radius_95().metres();
            let stray = Stray::of(&leg, (spare_m, still_step_s), &self.settings);
            self.travelled_m += leg.length_m;
            for number in 0..self.watches.len() {
                if !self.watches[number].is_due(self.travelled_m, (&to, &stray)) {
                    self.watches[number].pass_quietly(&leg);
                    continue;
                }
                let done = self.watches[number].pass(&Step {
                    leg: &leg,
                    from: &from,
                    to: &to,
                    stray,
                    travelled_m: self.travelled_m,
                    first_crossing: self.crossings.len(),
                    linger_s: self.settings.linger_s,
                    is_plan: self.settings.is_plan,
                });
                closed.extend(self.note(number, done, events));
            }
            self.number += 1;
        } else {
            self.number += u64::from(last.is_some());
            let at = Instant { position: logged.position, time: logged.time, between: logged.time_between };
            let start = Start {
                fix: &to,
                at,
                number: self.number,
                travelled_m: self.travelled_m,
                linger_s: self.settings.linger_s,
            };
            for number in 0..self.watches.len() {
                let done = self.watches[number].start(&start);
                closed.extend(self.note(number, done, events));
            }
        }
        self.add_visits(closed, events);
        let standing = self.watches.iter().filter_map(Watch::standing).max();
        self.sketch.push(TrackPoint { fix: logged, standing, nearest: None, after_break: broken });
    }

    /// Tells what a leg did to one zone, and returns the visits that it ended.
    fn note(&mut self, number: usize, done: Happenings, events: &mut Vec<TrackEvent>) -> Vec<Closed> {
        if let Some((certainty, at)) = done.entered {
            events.push(TrackEvent::Entered { zone: self.watches[number].zone.id.clone(), certainty, at });
        }
        for crossing in done.crossings {
            events.push(TrackEvent::Crossed(crossing.clone()));
            self.crossings.push(crossing);
        }
        done.left
    }

    /// Asks the rules of visits that have ended, once every zone has been watched as far: others may displace them.
    fn add_visits(&mut self, closed: Vec<Closed>, events: &mut Vec<TrackEvent>) {
        for closed in closed {
            let visit = ruling::rule(closed, self.zones, &self.watches, &self.settings);
            events.push(TrackEvent::Left(visit.clone()));
            self.visits.push(visit);
        }
    }
}

fn line_and_misfit_m(zone: &Zone) -> f64 {
    let line_m = zone.line_uncertainty.metres().hypot(zone.datum.uncertainty_95().metres());
    line_m + zone.extent.area().map_or(0.0, Boundary::largest_misfit_m)
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
        Suspicion::Untimed => 6,
    }
}

/// The line nearest to a fix, if one is within 20 km, among those whose place is known.
fn nearest_line(zones: &ZoneSet, fix: &Fix) -> Option<NearLine> {
    let near = zones.near_numbered(fix.position, Metres::ZERO);
    let (zone_number, located) = near
        .into_iter()
        .filter(|(number, _)| matches!(zones.zones()[*number].extent, Extent::Known(_)))
        .min_by(|a, b| a.1.signed_distance.metres().total_cmp(&b.1.signed_distance.metres()))?;
    let (_, _, doubt_m) = Watch::new(&zones.zones()[zone_number], zone_number).standing_of(fix, &located);
    (located.signed_distance.metres() < FAR_M).then(|| NearLine {
        zone_number,
        signed_distance: located.signed_distance,
        uncertainty_95: Metres::computed(doubt_m),
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

impl TrackEvent {
    /// Returns whether the event is that the boat was surely inside.
    #[must_use]
    pub fn is_certain_entry(&self) -> bool {
        matches!(self, Self::Entered { certainty: Certainty::Certain, .. })
    }
}
