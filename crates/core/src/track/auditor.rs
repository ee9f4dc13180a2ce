//! The engine: push a fix, get events; an audit of a file is the same engine run to the end.

use std::collections::HashMap;

use jiff::Timestamp;

use super::audit::Sketch;
use super::cleaning::{Cleaned, Cleaner, OVER_TOP_SPEED};
use super::gap::GapKind;
use super::jumps::JUMP_WITHIN_S;
use super::leg::{Leg, Stray};
use super::logged_fix::{has_no_accuracy, uncertainty_of};
use super::open_visit::{Closed, Near, Open};
use super::over_land::LandWatch;
use super::ruling;
use super::watch::{Ask, FAR_M, LegEvents, Start, Step, Watch};
use super::watchlist::Watchlist;
use super::{
    Audit, Certainty, ClockSeam, ClosestApproach, Crossing, Gap, LoggedFix, LoggedMoment, MisreadFix,
    NearLine, Quality, SuspectFix, Suspicion, TrackEvent, TrackPoint, TrackSettings, UnplacedRecord, Visit,
};
use crate::date_doubt::is_of_a_set_clock;
use crate::geodesic::{Surface, at_most_m, surface};
use crate::rule::Access;
use crate::zone::{Extent, Zone, ZoneSet};
use crate::{Boundary, CrossablePoint, Fix, Metres, Position};

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
pub struct Auditor {
    settings: TrackSettings,
    cleaner: Cleaner,
    zones: ZoneSet,
    watches: Watchlist,
    /// The last fix asked for the box about a zone that is nearest, and how far that was, in metres.
    nearest_box: Option<(Position, f64)>,
    last: Option<(LoggedFix, Surface)>,
    /// The last fix of the log, and whether it was believed.
    latest: Option<(LoggedFix, bool)>,
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
    land: LandWatch,
}

impl Auditor {
    /// Starts an audit against these zones, and keeps a handle of its own to them. If coasts came with them
    /// ([`ZoneSet::with_coasts`]), it looks whether the log lies on their land too, if it is not of somebody who fishes from the shore:
    /// [`Quality::on_land`].
    #[must_use]
    pub fn new(zones: &ZoneSet, settings: TrackSettings) -> Self {
        let settings = settings.with_possible_figures();
        Self {
            settings,
            cleaner: Cleaner::new(settings),
            zones: zones.clone(),
            watches: Watchlist::new(zones),
            nearest_box: None,
            last: None,
            latest: None,
            number: 0,
            largest_doubt_m: zones.zones().iter().map(line_and_closure_m).fold(0.0, f64::max),
            travelled_m: 0.0,
            gap_m: 0.0,
            quality: Quality::default(),
            listed_gaps: HashMap::new(),
            crossings: Vec::new(),
            visits: Vec::new(),
            sketch: Sketch::default(),
            // somebody on foot is on land, and no datum is wrong for that
            land: LandWatch::of(if settings.access == Some(Access::Shore) { &[] } else { zones.coasts() }),
        }
    }

    /// Lets no zone sleep, for tests: what comes of a track is the same.
    #[cfg(test)]
    pub(super) fn never_sleep(&mut self) {
        self.watches.never_sleep();
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
        (self.last, self.latest) = (None, None);
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
        self.quality.on_land = self.land.finish();
        self.visits.sort_by(|a, b| {
            let key = |visit: &Visit| (visit.entered().time, visit.zone_number, visit.evidence);
            key(a).cmp(&key(b))
        });
        let mut sketch = self.sketch.into_points();
        for point in &mut sketch {
            point.nearest = nearest_line(&self.zones, &fix_of(&point.fix, &self.settings));
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
        let ended = |watch: &mut Watch| [watch.close_at_end(), watch.close_suspected()];
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
        if self.is_near_any_box(fix.position) {
            return;
        }
        if self.quality.misread.is_none() {
            let found = self.zones.likely_misreading(fix.position);
            self.quality.misread = found.map(|misreading| MisreadFix { fix: *fix, misreading });
        }
        self.quality.far_since_misread += u64::from(self.quality.misread.is_some());
    }

    /// Whether some zone may be within [`ZoneSet::FAR_M`].
    fn is_near_any_box(&mut self, position: Position) -> bool {
        // no straight distance changes faster than the place
        let is_sure = |(at, away_m)| at_most_m(at, position) + away_m < ZoneSet::FAR_M - 1.0;
        if self.nearest_box.is_some_and(is_sure) {
            return true;
        }
        let away_m = self.zones.nearest_box_m(surface(position).point);
        self.nearest_box = Some((position, away_m));
        away_m <= ZoneSet::FAR_M
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
        let Some((from, was_believed)) = self.latest.replace((to, is_believed)) else { return };
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
            let ruled = ruling::at_suspect(&self.zones, number, &sides, (&there, &self.settings));
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
            .filter_map(|(number, off)| {
                let (standing, distance_m, doubt_m) = self.watches[number].standing_of(&fix, &off.far);
                Some((number, standing?, distance_m, doubt_m))
            })
            .collect();
        let sides: Vec<_> = standing.iter().map(|(number, standing, ..)| (*number, *standing)).collect();
        let at = moment_of(logged);
        let mut closed = Vec::new();
        for (number, _, distance_m, doubt_m) in standing {
            let ruled = ruling::at_suspect(&self.zones, number, &sides, (logged, &self.settings));
            let near = Near { distance_m, doubt_m, at };
            closed.extend(self.watches[number].suspect(near, ruled, &self.settings));
        }
        self.add_visits(closed, events);
    }

    fn note_gap(&mut self, gap: &Gap, events: &mut Vec<TrackEvent>) {
        let is_listed = gap.is_listed(&self.settings);
        self.quality.gap_count += u64::from(is_listed);
        self.quality.pauses += u64::from(gap.between_trips);
        self.quality.impossible_gaps += u64::from(gap.impossible);
        if is_listed {
            let listed = self.listed_gaps.entry(gap.kind()).or_default();
            if *listed < Quality::MOST_LISTED {
                *listed += 1;
                self.quality.gaps.push(*gap);
            }
        }
        if is_listed {
            events.push(TrackEvent::Gap(*gap));
        }
        let mut closed = Vec::new();
        if gap.between_trips {
            let after = fix_of(&gap.after, &self.settings);
            for number in self.watches.wake_these(&[]) {
                closed.extend(self.watches[number].pass_pause(gap, &after, self.number));
            }
            self.add_visits(closed, events);
            return;
        }
        // the way to a fix that no boat can have reached is nobody's
        self.gap_m += if gap.impossible { 0.0 } else { gap.metres.metres() };
        let within_reach = self.within_reach(gap);
        for number in self.watches.wake_these(&within_reach) {
            if !self.watches[number].is_active() && within_reach.binary_search(&number).is_err() {
                continue;
            }
            let done = self.watches[number].pass_gap(gap, &self.settings, self.number);
            let now = moment_of(&gap.after);
            closed.extend(self.note((number, now), done, events));
        }
        // a time at an end of the log stands beside its one fix, and what follows beside neither
        self.number = self.number.saturating_add(u64::from(gap.open.is_some()));
        self.add_visits(closed, events);
    }

    /// The zones whose line or inside the boat can have reached in a gap, in order; some more are no harm, and those that it is
    /// in already need not be among them.
    fn within_reach(&self, gap: &Gap) -> Vec<usize> {
        let doubt_m = |fix: &LoggedFix| uncertainty_of(fix, &self.settings).radius_95().metres();
        let spare_m = 2.0 * doubt_m(&gap.before).max(doubt_m(&gap.after)) + 4.0 * self.largest_doubt_m + 1.0;
        let way_m = gap.longest_way_m(&self.settings) + spare_m;
        // no boat makes the way between the two, so it may have been about either of them
        let roamed_m = self.settings.top_speed_m_per_s() * gap.seconds.unwrap_or(0.0).max(0.0);
        let near_m = if gap.impossible { roamed_m + spare_m } else { spare_m };
        self.zones.on_the_way((gap.before.position, gap.after.position), way_m, near_m)
    }

    /// Follows the track to a fix that is believed.
    fn follow(
        &mut self,
        logged: LoggedFix,
        (broken, still_step_s): (bool, Option<f64>),
        events: &mut Vec<TrackEvent>,
    ) {
        let here = surface(logged.position);
        let last = self.last.replace((logged, here));
        self.go_astray(logged, true, events);
        let closed = if let Some((before, there)) = last.filter(|_| !broken) {
            let mut leg = Leg::over((before, &there), (logged, &here), self.number);
            let closed = self.go_on(&mut leg, [&there, &here], still_step_s, events);
            self.number += 1;
            closed
        } else {
            self.number += u64::from(last.is_some());
            self.land.push(&logged, uncertainty_of(&logged, &self.settings).radius_95().metres(), None);
            self.start_at((&logged, &here), events)
        };
        self.add_visits(closed, events);
        let standing = self.watches.awake().filter_map(Watch::standing).max();
        self.sketch.push(TrackPoint { fix: logged, standing, nearest: None, after_break: broken });
    }

    /// The way from one fix to the next.
    fn go_on(
        &mut self,
        leg: &mut Leg,
        places: [&Surface; 2],
        still_step_s: Option<f64>,
        events: &mut Vec<TrackEvent>,
    ) -> Vec<Closed> {
        let (from, to) = (fix_of(&leg.from, &self.settings), fix_of(&leg.to, &self.settings));
        let radii_m = [from, to].map(|fix| fix.uncertainty.radius_95().metres());
        leg.radii_m = radii_m;
        let leg = &*leg;
        let stray = Stray::of(leg, (radii_m[0] + radii_m[1], still_step_s), &self.settings);
        self.travelled_m += leg.length_m;
        self.land.push(&leg.to, radii_m[1], Some((leg, stray.most_m())));
        let reach_m = radii_m[0].max(radii_m[1]) + stray.most_m() + leg.length_m * Stray::SHORTEST;
        let (step, awake) = self.watches.go_to(&self.zones, (to.position, Some(leg.length_m)), reach_m);
        let mut closed = Vec::new();
        for number in awake {
            let watch = &mut self.watches[number];
            let is_active = watch.is_active();
            let ask = if is_active { watch.due_at(self.travelled_m, (&to, &stray)) } else { Ask::All };
            if ask == Ask::Nothing {
                watch.skip(leg);
                continue;
            }
            if !is_active && !self.watches.may_matter(number, (&self.zones, places[1].point), step) {
                continue;
            }
            let done = self.watches[number].pass(
                ask,
                &Step {
                    zone: &self.zones.zones()[number],
                    leg,
                    from: (&from, places[0]),
                    to: (&to, places[1]),
                    stray,
                    travelled_m: self.travelled_m,
                    way_m: step.way_m,
                    first_crossing: self.crossings.len(),
                    merge_within_s: self.settings.merge_within_s,
                    is_plan: self.settings.is_plan,
                },
            );
            closed.extend(self.note((number, moment_of(&leg.to)), done, events));
        }
        self.watches.settle(step);
        closed
    }

    /// The first fix of the track, or after a break.
    fn start_at(
        &mut self,
        (logged, here): (&LoggedFix, &Surface),
        events: &mut Vec<TrackEvent>,
    ) -> Vec<Closed> {
        let fix = fix_of(logged, &self.settings);
        let reach_m = fix.uncertainty.radius_95().metres();
        let (step, awake) = self.watches.go_to(&self.zones, (logged.position, None), reach_m);
        let start = Start {
            fix: &fix,
            here,
            at: moment_of(logged),
            number: self.number,
            travelled_m: self.travelled_m,
            way_m: step.way_m,
            merge_within_s: self.settings.merge_within_s,
        };
        let mut closed = Vec::new();
        for number in awake {
            let is_active = self.watches[number].is_active();
            if is_active || self.watches.may_matter(number, (&self.zones, here.point), step) {
                let box_m = self.zones.box_away_m(number, here.point);
                let done = self.watches[number].start(&start, (box_m, step));
                closed.extend(self.note((number, start.at), done, events));
            }
        }
        self.watches.settle(step);
        closed
    }

    /// Says what a leg did to one zone, and returns the visits that it ended.
    fn note(
        &mut self,
        (number, now): (usize, LoggedMoment),
        done: LegEvents,
        events: &mut Vec<TrackEvent>,
    ) -> Vec<Closed> {
        let is_now_certain = self.watches[number].open.as_mut().is_some_and(Open::is_to_announce);
        let later = is_now_certain.then_some((Certainty::Certain, now));
        let entries = match done.entered {
            Some(first @ (Certainty::Certain, _)) => [Some(first), None],
            first => [first, later],
        };
        for (certainty, at) in entries.into_iter().flatten() {
            let zone = self.watches[number].zone.id.clone();
            events.push(TrackEvent::Entered { zone, zone_number: number, certainty, at });
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
            let visit = ruling::rule(closed, &self.zones, &self.watches, &self.settings);
            events.push(TrackEvent::Left(visit.clone()));
            self.visits.push(visit);
        }
    }
}

fn moment_of(fix: &LoggedFix) -> LoggedMoment {
    LoggedMoment { position: fix.position, time: fix.time, between: fix.time_between }
}

fn line_and_closure_m(zone: &Zone) -> f64 {
    zone.line_doubt_m() + zone.extent.area().map_or(0.0, Boundary::largest_closure_error_m)
}

fn fix_of(logged: &LoggedFix, settings: &TrackSettings) -> Fix {
    Fix { position: logged.position, uncertainty: uncertainty_of(logged, settings), time: logged.time }
}

fn kind_number(suspicion: Suspicion) -> usize {
    Suspicion::ALL.iter().position(|kind| *kind == suspicion).unwrap_or(0)
}

/// The line nearest to a fix, if one is within 20 km, among those whose place is known.
fn nearest_line(zones: &ZoneSet, fix: &Fix) -> Option<NearLine> {
    let near = zones.near_numbered(fix.position, Metres::ZERO);
    let (zone_number, far) = near
        .into_iter()
        .filter(|(number, _)| matches!(zones.zones()[*number].extent, Extent::Known(_)))
        .map(|(number, off)| (number, off.far))
        .min_by(|a, b| a.1.signed_distance.metres().total_cmp(&b.1.signed_distance.metres()))?;
    let (_, _, doubt_m) = Watch::new(zones.member(zone_number)).standing_of(fix, &far);
    (far.signed_distance.metres() < FAR_M).then(|| NearLine {
        zone_number,
        signed_distance: far.signed_distance,
        uncertainty_95: Metres::computed(doubt_m),
    })
}

/// The nearest place of the sides that a boat can cross, where some are other than open water.
fn crossable(zone: &Zone, from: Position) -> Option<CrossablePoint> {
    let boundary = zone.extent.area().filter(|boundary| boundary.has_sides())?;
    boundary.locate_crossable(from).map(CrossablePoint::from)
}

fn closest_approaches(watches: &Watchlist) -> Vec<ClosestApproach> {
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
                crossable: crossable(&watch.zone, near.at.position),
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
