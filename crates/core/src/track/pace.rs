//! Whether a boat can have been slower than some speed for long, and whether it surely was, given how well its fixes are known.
//!
//! Two fixes that lie farther apart than their uncertainties and the slow speed allow prove that the boat was faster somewhere
//! between them; no time that holds such a pair was slow all through. A boat was surely slow where it never got farther from a fix than
//! that speed takes it, uncertainties added.

use jiff::Timestamp;

use super::logged_fix::DATED_WITHIN_S;
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
/// The longest time, in seconds, over which the boat is asked whether it was surely slow; times are joined.
const LONGEST_LOOK_S: f64 = 180.0;
/// The way is summed over steps of so many seconds, so that the wander of a receiver does not count as way.
const STEP_S: f64 = 10.0;
/// A boat under way makes so many metres a second and more: 2 knots (common practice, no source).
const UNDER_WAY_M_PER_S: f64 = 2.0 * METRES_PER_SECOND_IN_A_KNOT;
/// A boat has left a place if it is seen farther from it than so many times what both fixes may be off.
const GONE: f64 = 1.5;
/// How far off the flat reckoning of short distances may be, as a share of them.
const FLATNESS: f64 = 0.01;

/// Seconds from the first fix.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Span {
    from_s: f64,
    to_s: f64,
}

/// A time in which it surely was slow, and until when that was seen.
#[derive(Debug, Clone, Copy)]
struct Stay {
    span: Span,
    seen_to_s: f64,
}

/// Times that overlap in each of which the boat can have been slow, none longer than this.
#[derive(Debug, Clone, Copy)]
struct Chain {
    span: Span,
    longest_s: f64,
}

#[derive(Debug, Clone, Copy)]
struct Sample {
    at_s: f64,
    east_m: f64,
    north_m: f64,
    doubt_m: f64,
}

impl Sample {
    fn apart_m(&self, other: &Self) -> f64 {
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
pub(super) struct Pace {
    slow_m_per_s: f64,
    /// Shorter times are of no matter, in seconds.
    least_s: f64,
    /// Whether the way has to be short too, and not only how far it came.
    is_way: bool,
    /// A gap is longer than this, in seconds.
    gap_after_s: f64,
    frame: Option<Frame>,
    began: Option<Timestamp>,
    /// Why nothing is known: no times, or none that are sure.
    is_unknown: bool,
    held: Vec<Sample>,
    /// The first held fix from which nothing is proved yet.
    open: usize,
    /// Whether the last trip has ended, and the next fix is that of another.
    is_paused: bool,
    /// Since when it can have been slow, and until when it is known at all.
    since_s: f64,
    until_s: f64,
    longest_s: f64,
    chains: Vec<Chain>,
    look: Option<Look>,
    sure: Vec<Stay>,
}

impl Pace {
    fn new(slow_m_per_s: f64, least_s: f64, is_way: bool) -> Self {
        Self {
            slow_m_per_s,
            least_s,
            is_way,
            gap_after_s: TrackSettings::GAP_AFTER_S,
            frame: None,
            began: None,
            is_unknown: false,
            held: Vec::new(),
            open: 0,
            is_paused: false,
            since_s: 0.0,
            until_s: 0.0,
            longest_s: 0.0,
            chains: Vec::new(),
            look: None,
            sure: Vec::new(),
        }
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

    fn push(&mut self, (position, time): (Position, Option<Timestamp>), doubt_m: f64) {
        let Some(at_s) = self.seconds(time) else { return };
        if at_s < self.until_s {
            // a clock that was set back
            self.is_unknown |= at_s < self.until_s - EVERY_S;
            return;
        }
        if std::mem::take(&mut self.is_paused) {
            self.since_s = at_s;
        }
        let step_s = self.held.last().map(|last| at_s - last.at_s);
        if step_s.is_some_and(|step_s| step_s < EVERY_S) {
            self.until_s = at_s;
            return;
        }
        if self.frame.is_none_or(|frame| !frame.holds(position)) {
            // what came before is too far to be compared
            self.is_unknown |= position.latitude().degrees().abs() >= 80.0;
            self.frame = Some(Frame::about(position));
            self.held.clear();
            (self.open, self.look) = (0, None);
        }
        let Some(frame) = self.frame else { return };
        let (east_m, north_m) = frame.metres(position);
        let sample = Sample { at_s, east_m, north_m, doubt_m };
        self.until_s = at_s;
        self.prove(sample);
        self.look_at(sample, step_s);
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
        self.longest_s = self.longest_s.max(long_s);
        if long_s <= self.least_s {
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
        let is_cut = step_s.is_none_or(|step_s| step_s > self.gap_after_s);
        let Some(mut look) = self.look.filter(|_| !is_cut) else {
            self.look = Some(Look::at(sample));
            return;
        };
        let apart_m = look.from.apart_m(&sample) * (1.0 + FLATNESS);
        let doubt_m = look.from.doubt_m + sample.doubt_m;
        look.apart_m = look.apart_m.max(apart_m);
        look.reach_m = look.reach_m.max(apart_m + doubt_m);
        let (stepped, way_m) = look.stepped;
        if sample.at_s - stepped.at_s >= STEP_S {
            look.stepped = (sample, way_m + stepped.apart_m(&sample));
        }
        let long_s = sample.at_s - look.from.at_s;
        let slow_m = self.slow_m_per_s * long_s;
        let way_m = look.stepped.1 + look.stepped.0.apart_m(&sample);
        // a boat that is seen to have left the place was not staying there, however slow it was on the whole
        let is_gone = !self.is_way && apart_m > GONE * doubt_m;
        if !is_gone && look.reach_m <= slow_m && (!self.is_way || way_m <= slow_m) {
            self.was_slow(&look, sample.at_s);
            look = Look::at(sample);
        } else if is_gone || long_s > LONGEST_LOOK_S {
            look = Look::at(sample);
        }
        self.look = Some(look);
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

    /// A time in which nothing was logged, and the boat may have been there.
    fn silence(&mut self, from: Option<Timestamp>, to: Option<Timestamp>) {
        let Some((_, to_s)) = self.seconds(from).zip(self.seconds(to)) else { return };
        if self.is_paused {
            return;
        }
        self.look = None;
        self.until_s = self.until_s.max(to_s);
    }

    /// The time between two trips, which is not judged, comes next.
    fn pause(&mut self) {
        self.can_be_slow(Span { from_s: self.since_s, to_s: self.until_s });
        self.held.clear();
        (self.open, self.look, self.is_paused) = (0, None, true);
    }

    fn finish(mut self) -> Slowness {
        if !self.is_paused {
            self.can_be_slow(Span { from_s: self.since_s, to_s: self.until_s });
        }
        Slowness {
            until_s: self.until_s,
            began: self.began.filter(|_| !self.is_unknown),
            least_s: self.least_s,
            longest_s: self.longest_s,
            chains: self.chains,
            sure: self.sure,
        }
    }
}

/// When a boat can have been slow, and when it surely was.
#[derive(Debug)]
pub(super) struct Slowness {
    /// None where that is not known.
    began: Option<Timestamp>,
    until_s: f64,
    least_s: f64,
    longest_s: f64,
    chains: Vec<Chain>,
    sure: Vec<Stay>,
}

impl Slowness {
    pub(super) fn is_known(&self) -> bool {
        self.began.is_some()
    }

    fn spans(&self, times: &[(Timestamp, Timestamp)]) -> Vec<Span> {
        let Some(began) = self.began else { return Vec::new() };
        let seconds = |time: Timestamp| time.duration_since(began).as_secs_f64();
        times.iter().map(|(from, to)| Span { from_s: seconds(*from), to_s: seconds(*to) }).collect()
    }

    /// The longest that it can have been slow without a break in one of these times, in seconds. What is shorter than a time that
    /// matters counts as long as the longest such.
    pub(super) fn longest_possible_s(&self, times: &[(Timestamp, Timestamp)]) -> f64 {
        let spans = self.spans(times);
        let over = |chain: &Chain| {
            let longest = spans.iter().map(|span| chain.span.common_s(*span)).fold(0.0, f64::max);
            longest.min(chain.longest_s)
        };
        let kept = self.chains.iter().map(over).fold(0.0, f64::max);
        kept.max(self.longest_s.min(self.least_s))
    }

    /// The longest that it surely was, without a break, in one of these times, in seconds.
    pub(super) fn longest_sure_s(&self, times: &[(Timestamp, Timestamp)]) -> f64 {
        self.sure_s(times).fold(0.0, f64::max)
    }

    /// How long it surely was in these times, taken together, in seconds.
    pub(super) fn all_sure_s(&self, times: &[(Timestamp, Timestamp)]) -> f64 {
        // the sum of nothing is −0
        self.sure_s(times).sum::<f64>() + 0.0
    }

    /// Leaves out of what is sure the times at the ends of it that are given.
    pub(super) fn without_ends(mut self, (first, last): (bool, bool)) -> (Self, bool) {
        let before = self.sure.len();
        if first && self.sure.first().is_some_and(|stay| stay.span.from_s <= LONGEST_LOOK_S / 2.0) {
            self.sure.remove(0);
        }
        let is_late = |stay: &Stay| stay.seen_to_s >= self.until_s - LONGEST_LOOK_S;
        if last && self.sure.last().is_some_and(is_late) {
            self.sure.pop();
        }
        let is_less = self.sure.len() < before;
        (self, is_less)
    }

    fn sure_s(&self, times: &[(Timestamp, Timestamp)]) -> impl Iterator<Item = f64> {
        let spans = self.spans(times);
        self.sure.iter().flat_map(move |sure| {
            let common: Vec<f64> = spans.iter().map(|span| sure.span.common_s(*span)).collect();
            common
        })
    }
}

impl Span {
    fn common_s(self, other: Self) -> f64 {
        (self.to_s.min(other.to_s) - self.from_s.max(other.from_s)).max(0.0)
    }
}

/// What the terms of a crossing ask of a boat's pace; nothing where there are none.
#[derive(Debug, Default)]
pub(super) struct Paces {
    stop: Option<Pace>,
    slow: Option<Pace>,
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
        self.each(|pace| {
            pace.is_unknown |= is_placed;
            pace.push((fix.position, fix.time), doubt_m);
        });
    }

    /// The next place of which nothing else is known.
    pub(super) fn at(&mut self, place: (Position, Option<Timestamp>), doubt_m: f64) {
        self.each(|pace| pace.push(place, doubt_m));
    }

    pub(super) fn silence(&mut self, from: Option<Timestamp>, to: Option<Timestamp>) {
        self.each(|pace| pace.silence(from, to));
    }

    pub(super) fn pause(&mut self) {
        self.each(Pace::pause);
    }

    pub(super) fn finish(self) -> Slownesses {
        Slownesses { stop: self.stop.map(Pace::finish), slow: self.slow.map(Pace::finish) }
    }
}

/// What a track tells of stops, and of speeds below the least one.
#[derive(Debug)]
pub(super) struct Slownesses {
    pub(super) stop: Option<Slowness>,
    pub(super) slow: Option<Slowness>,
}
