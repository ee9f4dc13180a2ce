//! Whether a boat can have been slower than some speed for long, and whether it surely was, given how well its fixes are known.
//!
//! Two fixes that lie farther apart than their uncertainties and the slow speed allow prove that the boat was faster somewhere
//! between them; no time that holds such a pair was slow all through. A boat surely stayed at a place if in all that time it never got
//! farther from a fix than a slow boat would have, with what fixes may be off and what it can have made out and back between them added,
//! and did not circle there. It surely was slow if its way, along steps too short to hide a tack, was.
//!
//! A time at an end of a log, or beside the time between two trips, may have been ashore until the boat is surely seen under way
//! ([`super::afloat`]): nothing is sure then.

use jiff::Timestamp;

use super::afloat::{Afloat, Ashore};
use super::logged_fix::DATED_WITHIN_S;
use super::shore::ShoreTimes;
use super::slowness::{Chain, Slowness};
use super::{LoggedFix, METRES_PER_SECOND_IN_A_KNOT, TrackSettings};
use crate::Position;
use crate::rule::Passage;

/// A stop of a boat that should go on without stopping, in seconds, that no wave or paddle stroke explains (common
/// practice, no source).
pub(super) const STOP_THAT_COUNTS_S: f64 = 60.0;
/// Time surely below a least speed, in seconds, that no wave or paddle stroke explains (common practice, no source).
pub(super) const SLOWNESS_THAT_COUNTS_S: f64 = 30.0;
/// A least speed is kept where in no time of so many seconds the boat can have been slower on the whole: fixes good to some metres
/// tell no shorter ones (common practice, no source).
pub(super) const SLOWNESS_SHOWN_S: f64 = 120.0;

/// Fixes nearer in time than this, in seconds, are not looked at one by one.
const EVERY_S: f64 = 0.9;
/// So many fixes are held at most; beyond that every second one.
const HELD: usize = 64;
/// So many fixes in a row on either side have to prove it, so that one that is off by more than its uncertainty does not.
const AROUND: usize = 3;
/// They are so many seconds apart and more: what puts one fix off puts off those of the same moment too (common practice, no source).
const PROVED_EVERY_S: f64 = 2.5;
/// The longest time, in seconds, over which the boat is asked whether it was surely slow; times are joined. A boat at the speed of a
/// stop makes 62 m in it: no place at which one stays is larger than that.
const LONGEST_LOOK_S: f64 = 240.0;
/// The way is summed over steps of so many seconds, so that the wander of a receiver does not count as way: that of a boat that may
/// be too slow, and that of one that may have stopped.
const STEPS_S: (f64, f64) = (5.0, 10.0);
/// Over longer steps, in seconds, a boat may have tacked or turned, and nobody knows its way.
const LONGEST_STEP_S: f64 = 10.0;
/// A way that bends within a step of about 5 s may be so many times as long as the step: that of a third of a circle.
const BENDS: f64 = 1.25;
/// Over a longer one a boat may have tacked, so that the way may be so many times as long.
const TACKS: f64 = 2.0;
/// Steps up to so many seconds are short.
const SHORT_STEP_S: f64 = 6.5;
/// A boat that makes more way at a place than this, in metres a second, 1 to 1.5 knots, was not lying there: it circled (common practice,
/// no source). The more the wander of its fixes explains, the more it may be.
const CIRCLING_M_PER_S: (f64, f64) = (METRES_PER_SECOND_IN_A_KNOT, 1.5 * METRES_PER_SECOND_IN_A_KNOT);
/// Two fixes of one place lie so far apart on average, as a share of the 95 % radius of one (normal, independent errors).
const WANDER: f64 = 0.724;
/// Whether it does is told after so many seconds.
const CIRCLING_FOR_S: f64 = 60.0;
/// A boat that is off a place for less than so many seconds and then there again perhaps never left it: some fixes were off.
const BACK_WITHIN_S: f64 = 90.0;
/// Shorter times at a place, in seconds, are no stay.
const PLACE_FOR_S: f64 = 15.0;
/// What a boat can have made between two fixes, out and back, in metres a second.
const OUT_AND_BACK_M_PER_S: f64 = TrackSettings::ASSUMED_TOP_SPEED_KN * METRES_PER_SECOND_IN_A_KNOT / 2.0;
/// A boat under way makes so many metres a second and more: 2 knots (common practice, no source).
pub(super) const UNDER_WAY_M_PER_S: f64 = 2.0 * METRES_PER_SECOND_IN_A_KNOT;
/// A boat has left a place if it is seen farther from it than so many times what both fixes may be off.
const GONE: f64 = 1.5;
/// Who logs nothing for so many seconds may have landed (common practice, no source).
const LANDED_AFTER_S: f64 = 900.0;
/// How far off the flat reckoning of short distances may be, as a share of them.
pub(super) const FLATNESS: f64 = 0.01;

/// Seconds from the first fix.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Span {
    pub(super) from_s: f64,
    pub(super) to_s: f64,
}

/// A time in which it surely was slow, and until when that was seen.
#[derive(Debug, Clone, Copy)]
struct Stay {
    span: Span,
    seen_to_s: f64,
}

#[derive(Debug, Clone, Copy)]
pub(super) struct Sample {
    pub(super) at_s: f64,
    east_m: f64,
    north_m: f64,
    pub(super) doubt_m: f64,
}

impl Sample {
    pub(super) fn apart_m(&self, other: &Self) -> f64 {
        (self.east_m - other.east_m).hypot(self.north_m - other.north_m)
    }
}

/// A time over which it is asked whether the boat was surely slow.
#[derive(Debug, Clone, Copy)]
struct Look {
    from: Sample,
    /// The farthest that it can have been from there, in metres.
    reach_m: f64,
    /// The farthest that a fix lay from there, in metres.
    apart_m: f64,
    /// The last end of a step, and the way up to it.
    stepped: (Sample, f64),
}

impl Look {
    fn at(from: Sample) -> Self {
        Self { from, reach_m: 0.0, apart_m: 0.0, stepped: (from, 0.0) }
    }
}

/// Metres of a degree about a place.
#[derive(Debug, Clone, Copy)]
struct Frame {
    base: Position,
    north_m: f64,
    east_m: f64,
}

impl Frame {
    fn about(base: Position) -> Self {
        let latitude = base.latitude().degrees().to_radians();
        let north_m = 111_132.95 - 559.85 * (2.0 * latitude).cos();
        let east_m = 111_412.88 * latitude.cos() - 93.5 * (3.0 * latitude).cos();
        Self { base, north_m, east_m }
    }

    /// Whether figures are good to [`FLATNESS`] there.
    fn holds(&self, place: Position) -> bool {
        let north_deg = place.latitude().degrees() - self.base.latitude().degrees();
        north_deg.abs() < 0.1 && self.base.latitude().degrees().abs() < 80.0
    }

    fn metres(&self, place: Position) -> (f64, f64) {
        let north_deg = place.latitude().degrees() - self.base.latitude().degrees();
        let mut east_deg = place.longitude().degrees() - self.base.longitude().degrees();
        if east_deg.abs() > 180.0 {
            east_deg -= 360.0_f64.copysign(east_deg);
        }
        (east_deg * self.east_m, north_deg * self.north_m)
    }
}

/// What is known of slowness so far. Does not grow with the log, only with what happens in it.
#[derive(Debug)]
struct Pace {
    slow_m_per_s: f64,
    /// Shorter times are of no matter, in seconds.
    least_s: f64,
    /// Whether the way has to be short, and not only how far it came.
    is_way: bool,
    held: Vec<Sample>,
    /// The first held fix from which nothing is proved yet.
    open: usize,
    /// Since when it can have been slow.
    since_s: f64,
    /// The longest time that is of no matter, in seconds.
    short_s: f64,
    chains: Vec<Chain>,
    look: Option<Look>,
    /// The first of the fixes that repeat the last place.
    repeated: Option<Sample>,
    /// The last place that it left, and since when it was there.
    place: Option<(Sample, f64)>,
    sure: Vec<Stay>,
}

impl Pace {
    fn new(slow_m_per_s: f64, least_s: f64, is_way: bool) -> Self {
        Self {
            slow_m_per_s,
            least_s,
            is_way,
            held: Vec::new(),
            open: 0,
            since_s: 0.0,
            short_s: 0.0,
            chains: Vec::new(),
            look: None,
            repeated: None,
            place: None,
            sure: Vec::new(),
        }
    }

    fn push(&mut self, sample: Sample, step_s: Option<f64>) {
        if self.held.last().is_none_or(|last| sample.at_s - last.at_s >= PROVED_EVERY_S) {
            self.prove(sample);
            self.look_back(sample);
        }
        self.doubt_repeats(sample);
        self.look_at(sample, step_s);
    }

    /// Nothing that comes is held against what was before.
    fn forget(&mut self) {
        self.held.clear();
        (self.open, self.look) = (0, None);
        (self.repeated, self.place) = (None, None);
    }

    /// Takes back that it left a place where it is seen again at once.
    fn look_back(&mut self, sample: Sample) {
        let Some((place, since_s)) = self.place else { return };
        if sample.at_s - place.at_s > BACK_WITHIN_S {
            self.place = None;
            return;
        }
        let is_there = |one: &Sample| {
            let slow_m = self.slow_m_per_s * (one.at_s - place.at_s);
            one.at_s > place.at_s && one.apart_m(&place) <= one.doubt_m + place.doubt_m + slow_m
        };
        if self.since_s > since_s && self.held.iter().rev().take(AROUND).all(is_there) {
            (self.since_s, self.place) = (since_s, None);
            // nothing is proved by the fixes that were off
            let there = self.held.iter().take_while(|one| one.at_s <= place.at_s).count();
            self.held.drain(there..self.held.len().saturating_sub(AROUND).max(there));
            self.open = there;
        }
    }

    /// A receiver that lost its way repeats a place, and then leaps to where the boat is: it did not stay there.
    fn doubt_repeats(&mut self, sample: Sample) {
        let Some(first) = self.repeated else {
            self.repeated = Some(sample);
            return;
        };
        if (first.east_m - sample.east_m).abs() + (first.north_m - sample.north_m).abs() <= 0.0 {
            return;
        }
        let is_told = self.sure.last().is_some_and(|stay| stay.seen_to_s > first.at_s);
        if is_told && first.apart_m(&sample) > self.slow_m_per_s * (sample.at_s - first.at_s) {
            while let Some(stay) = self.sure.last_mut().filter(|stay| stay.seen_to_s > first.at_s) {
                (stay.span.to_s, stay.seen_to_s) = (stay.span.to_s.min(first.at_s), first.at_s);
                if stay.span.to_s <= stay.span.from_s {
                    self.sure.pop();
                }
            }
        }
        self.repeated = Some(sample);
    }

    /// Looks whether the last fixes prove that the boat was faster since some earlier ones.
    fn prove(&mut self, sample: Sample) {
        if self.held.len() >= HELD {
            self.make_room();
        }
        if self.held.capacity() == 0 {
            self.held.reserve_exact(HELD);
        }
        self.held.push(sample);
        let Some(to) = self.held.len().checked_sub(AROUND) else { return };
        let mut proved = self.go_on_from(self.open, to);
        // a boat that lay still for long proves nothing from where it began to lie, and much from just before it went on
        for back in [32, 16, 8, 4, 2] {
            let from = to.saturating_sub(back);
            if proved.is_none() && from > self.open {
                proved = self.go_on_from(from, to);
            }
        }
        if let Some(from_s) = proved {
            self.can_be_slow(Span { from_s: self.since_s, to_s: self.held[to].at_s });
            let left = self.held.iter().rev().find(|one| one.at_s <= from_s);
            if self.place.is_none() && from_s - self.since_s >= PLACE_FOR_S {
                self.place = left.map(|one| (*one, self.since_s));
            }
            self.since_s = from_s;
        }
    }

    /// The last fix from one on, without a break, since which the boat was faster; what comes after it is open.
    fn go_on_from(&mut self, mut from: usize, to: usize) -> Option<f64> {
        let mut proved = None;
        while from < to && self.is_faster(from, to) {
            proved = Some(self.held[from].at_s);
            from += 1;
            self.open = from;
        }
        proved
    }

    /// Whether a fix and those before it all lie farther from another and those after it than a slow boat gets.
    fn is_faster(&self, from: usize, to: usize) -> bool {
        let first = (from + 1).saturating_sub(AROUND);
        self.held[first..=from].iter().rev().all(|one| {
            self.held[to..].iter().take(AROUND).all(|other| {
                let slow_m = self.slow_m_per_s * (other.at_s - one.at_s);
                one.apart_m(other) * (1.0 - FLATNESS) > one.doubt_m + other.doubt_m + slow_m
            })
        })
    }

    fn make_room(&mut self) {
        let done = (self.open + 1).saturating_sub(AROUND);
        if done > 0 {
            self.held.drain(..done);
            self.open -= done;
        }
        if self.held.len() >= HELD / 2 {
            let mut number = 0;
            self.held.retain(|_| {
                number += 1;
                number % 2 == 1
            });
            self.open = self.open.div_ceil(2);
        }
    }

    /// A time that may have been slow all through.
    fn can_be_slow(&mut self, span: Span) {
        let long_s = span.to_s - span.from_s;
        if long_s <= self.least_s {
            self.short_s = self.short_s.max(long_s);
            return;
        }
        match self.chains.last_mut() {
            Some(last) if span.from_s <= last.span.to_s => {
                last.span.to_s = last.span.to_s.max(span.to_s);
                last.longest_s = last.longest_s.max(long_s);
            }
            _ => self.chains.push(Chain { span, longest_s: long_s }),
        }
    }

    /// Looks whether the boat was surely slow up to a fix.
    fn look_at(&mut self, sample: Sample, step_s: Option<f64>) {
        let longest_s = if self.is_way { LONGEST_STEP_S } else { TrackSettings::GAP_AFTER_S };
        let step_s = step_s.filter(|step_s| *step_s <= longest_s);
        let Some((mut look, step_s)) = self.look.zip(step_s) else {
            self.look = Some(Look::at(sample));
            return;
        };
        let apart_m = look.from.apart_m(&sample) * (1.0 + FLATNESS);
        let doubt_m = look.from.doubt_m + sample.doubt_m;
        look.apart_m = look.apart_m.max(apart_m);
        let between_m = if self.is_way { 0.0 } else { OUT_AND_BACK_M_PER_S * step_s };
        look.reach_m = look.reach_m.max(apart_m + doubt_m + between_m);
        let way_m = look.stepped.1 + self.way_m(&look.stepped.0, &sample);
        let least_step_s = if self.is_way { STEPS_S.0 } else { STEPS_S.1 };
        if sample.at_s - look.stepped.0.at_s >= least_step_s {
            look.stepped = (sample, way_m);
        }
        let long_s = sample.at_s - look.from.at_s;
        let slow_m = self.slow_m_per_s * long_s;
        let (is_still, is_gone) = if self.is_way {
            (way_m <= slow_m, long_s >= LONGEST_STEP_S && apart_m > slow_m)
        } else {
            // a boat that is seen to have left the place, or to go round it, was not staying there, however slow it was on the whole
            let wander_m_per_s = self.slow_m_per_s + WANDER * doubt_m / 2.0 / STEPS_S.1;
            let is_still = way_m <= wander_m_per_s.clamp(CIRCLING_M_PER_S.0, CIRCLING_M_PER_S.1) * long_s;
            (is_still, apart_m > GONE * doubt_m || !is_still && long_s >= CIRCLING_FOR_S)
        };
        if !is_gone && is_still && look.reach_m <= slow_m {
            self.was_slow(&look, sample.at_s);
            look = Look::at(sample);
        } else if is_gone || long_s > LONGEST_LOOK_S {
            look = Look::at(sample);
        }
        self.look = Some(look);
    }

    /// The way between two fixes: the longest that is likely for what may be too slow.
    fn way_m(&self, from: &Sample, to: &Sample) -> f64 {
        let longer = if !self.is_way {
            1.0
        } else if to.at_s - from.at_s <= SHORT_STEP_S {
            BENDS
        } else {
            TACKS
        };
        longer * from.apart_m(to)
    }

    /// A time that was surely slow. What a boat under way may have made at either end of it does not count.
    fn was_slow(&mut self, look: &Look, to_s: f64) {
        let spare_s = look.apart_m / UNDER_WAY_M_PER_S;
        let last = self.sure.last_mut().filter(|last| last.seen_to_s >= look.from.at_s);
        if let Some(last) = last {
            last.seen_to_s = to_s;
            last.span.to_s = last.span.to_s.max(to_s - spare_s);
        } else {
            let span = Span { from_s: look.from.at_s + spare_s, to_s: to_s - spare_s };
            self.sure.push(Stay { span, seen_to_s: to_s });
        }
    }

    /// The time between two trips, which is not judged, comes next.
    fn pause(&mut self, until_s: f64) {
        self.can_be_slow(Span { from_s: self.since_s, to_s: until_s });
        self.forget();
    }

    fn finish(mut self, began: Option<Timestamp>, ashore: &Ashore) -> Slowness {
        let launched_s = |chain: &Chain| ashore.longest_left_out_s(chain.span).min(chain.longest_s);
        let at_the_shore_s = self.chains.iter().map(launched_s).fold(0.0, f64::max);
        self.leave_out(ashore);
        let mut sure = ashore.left_of(self.sure.iter().map(|stay| stay.span).collect());
        sure.retain(|span| span.to_s > span.from_s);
        let long_s: f64 = sure.iter().map(|span| span.to_s - span.from_s).sum();
        let afloat = ashore.taken_from(sure);
        let afloat_s: f64 = afloat.iter().map(|span| span.to_s - span.from_s).sum();
        let ashore_s = |chain: &Chain| ashore.longest_common_s(chain.span).min(chain.longest_s);
        Slowness {
            began,
            short_s: self.short_s,
            at_the_shore_s,
            ashore_s: long_s - afloat_s,
            perhaps_ashore: afloat_s < long_s
                || self.chains.iter().map(ashore_s).fold(0.0, f64::max) > self.least_s,
            chains: self.chains,
            sure: afloat,
        }
    }
}

impl Pace {
    /// Leaves out the times in which the boat was launched or landed.
    fn leave_out(&mut self, ashore: &Ashore) {
        if !ashore.leaves_out_any() {
            return;
        }
        let left_of = |chain: &Chain| {
            let longest_s = chain.longest_s;
            let parts = ashore.left_of(vec![chain.span]).into_iter();
            parts.map(move |span| Chain { span, longest_s: longest_s.min(span.to_s - span.from_s) })
        };
        self.chains = self.chains.iter().flat_map(left_of).collect();
    }
}

impl Span {
    pub(super) fn common_s(self, other: Self) -> f64 {
        (self.to_s.min(other.to_s) - self.from_s.max(other.from_s)).max(0.0)
    }
}

/// What the terms of a crossing ask of a boat's pace; nothing where there are none.
#[derive(Debug, Default)]
pub(super) struct Paces {
    stop: Option<Pace>,
    slow: Option<Pace>,
    /// When it was surely afloat, which is asked once for both.
    afloat: Afloat,
    frame: Option<Frame>,
    began: Option<Timestamp>,
    /// Why nothing is known: no times, or none that are sure.
    is_unknown: bool,
    /// The last fix that was looked at.
    last_s: Option<f64>,
    /// Until when anything is known at all.
    until_s: f64,
    /// Whether the last trip has ended, and the next fix is that of another.
    is_paused: bool,
    had_pause: bool,
}

impl Paces {
    pub(super) fn asked_by(passage: Option<&Passage>) -> Self {
        let Some(passage) = passage else { return Self::default() };
        let stop_s = passage.max_stop_min.map(|stop_min| 60.0 * stop_min);
        let stop_s = stop_s.or(passage.continuous.then_some(STOP_THAT_COUNTS_S));
        let knots = |knots: f64| knots * METRES_PER_SECOND_IN_A_KNOT;
        Self {
            stop: stop_s.map(|least_s| Pace::new(knots(TrackSettings::STOP_BELOW_KN), least_s, false)),
            slow: passage.min_speed_kn.map(|speed_kn| Pace::new(knots(speed_kn), SLOWNESS_SHOWN_S, true)),
            ..Self::default()
        }
    }

    fn each(&mut self, what: impl Fn(&mut Pace)) {
        [&mut self.stop, &mut self.slow].into_iter().flatten().for_each(what);
    }

    pub(super) fn is_asked(&self) -> bool {
        self.stop.is_some() || self.slow.is_some()
    }

    /// The next fix.
    pub(super) fn push(&mut self, fix: &LoggedFix, doubt_m: f64) {
        let is_placed =
            fix.time_between.is_some_and(|(from, to)| to.duration_since(from).as_secs_f64() > DATED_WITHIN_S);
        self.is_unknown |= is_placed;
        self.at((fix.position, fix.time), doubt_m);
    }

    /// The next place of which nothing else is known.
    pub(super) fn at(&mut self, (position, time): (Position, Option<Timestamp>), doubt_m: f64) {
        let Some(at_s) = self.seconds(time) else { return };
        if at_s < self.until_s {
            // a clock that was set back
            self.is_unknown |= at_s < self.until_s - EVERY_S;
            return;
        }
        if std::mem::take(&mut self.is_paused) {
            self.each(|pace| pace.since_s = at_s);
            self.afloat.begin(at_s);
        }
        self.until_s = at_s;
        let step_s = self.last_s.map(|last_s| at_s - last_s);
        if step_s.is_some_and(|step_s| step_s < EVERY_S) {
            return;
        }
        if self.frame.is_none_or(|frame| !frame.holds(position)) {
            // what came before is too far to be compared
            self.is_unknown |= position.latitude().degrees().abs() >= 80.0;
            self.frame = Some(Frame::about(position));
            self.each(Pace::forget);
            self.afloat.forget();
        }
        let Some(frame) = self.frame else { return };
        self.last_s = Some(at_s);
        let (east_m, north_m) = frame.metres(position);
        let sample = Sample { at_s, east_m, north_m, doubt_m };
        self.each(|pace| pace.push(sample, step_s));
        self.afloat.push(sample);
    }

    /// Seconds from the first moment, which this is if there was none.
    fn seconds(&mut self, time: Option<Timestamp>) -> Option<f64> {
        let Some(time) = time else {
            self.is_unknown = true;
            return None;
        };
        let began = *self.began.get_or_insert(time);
        Some(time.duration_since(began).as_secs_f64())
    }

    /// A time in which nothing was logged, and the boat may have been there.
    pub(super) fn silence(&mut self, from: Option<Timestamp>, to: Option<Timestamp>) {
        if !self.is_asked() {
            return;
        }
        let Some((from_s, to_s)) = self.seconds(from).zip(self.seconds(to)) else { return };
        if !self.is_paused {
            self.each(|pace| pace.look = None);
            if to_s - from_s > LANDED_AFTER_S {
                self.afloat.end(self.until_s);
            }
            self.until_s = self.until_s.max(to_s);
        }
    }

    /// The time between two trips, which is not judged, comes next.
    pub(super) fn pause(&mut self) {
        let until_s = self.until_s;
        self.had_pause = true;
        if !std::mem::replace(&mut self.is_paused, true) {
            self.each(|pace| pace.pause(until_s));
            self.afloat.end(until_s);
            self.last_s = None;
        }
    }

    /// `is_open`: whether the boat was not seen to come in, and to go out.
    pub(super) fn finish(mut self, is_open: (bool, bool), shore: &ShoreTimes) -> Slownesses {
        if !self.is_paused {
            let until_s = self.until_s;
            self.each(|pace| pace.pause(until_s));
            self.afloat.end(until_s);
        }
        let began = self.began.filter(|_| !self.is_unknown);
        let spans = |times: &[(Timestamp, Timestamp)]| {
            let seconds = |time: Timestamp| self.began.map(|began| time.duration_since(began).as_secs_f64());
            let span = |(from, to): &(Timestamp, Timestamp)| {
                Some(Span { from_s: seconds(*from)?, to_s: seconds(*to)? })
            };
            times.iter().filter_map(span).collect::<Vec<_>>()
        };
        let (surely, all) = (spans(&shore.ashore), spans(&shore.at_shore));
        let ashore = self.afloat.finish(is_open, (surely, all));
        let finish = |pace: Pace| pace.finish(began, &ashore);
        Slownesses { stop: self.stop.map(finish), slow: self.slow.map(finish), had_pause: self.had_pause }
    }
}

/// What a track tells of stops, and of speeds below the least one.
#[derive(Debug)]
pub(super) struct Slownesses {
    pub(super) stop: Option<Slowness>,
    pub(super) slow: Option<Slowness>,
    /// Whether the time between two trips was left out.
    pub(super) had_pause: bool,
}
