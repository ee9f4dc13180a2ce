//! When a boat was surely afloat, and when it may have lain ashore.
//!
//! At an end of a log, and on both sides of the time between two trips, a boat may lie on the beach, be carried to the water and back,
//! and wait there again. It is surely afloat only once it was seen to go farther than anybody carries it; where the zone says that it
//! began at the shore, once it is off that.

use super::pace::{FLATNESS, Sample, Span, UNDER_WAY_M_PER_S};

/// A boat that goes on under way for so many seconds, some 250 m, is not carried to the water (common practice, no source).
const UNDER_WAY_FOR_S: f64 = 240.0;
/// Fixes nearer in time than this, in seconds, are not looked at one by one.
const EVERY_S: f64 = 20.0;
/// So many fixes are held at most.
const HELD: usize = 24;

/// What is known of one trip.
#[derive(Debug, Clone, Copy)]
struct Trip {
    span: Span,
    /// The first moment at which it surely had been under way, and the last from which it surely went on to be.
    under_way: Option<Span>,
}

/// When a boat was surely under way. Grows with the trips and not with the log.
#[derive(Debug, Default)]
pub(super) struct Afloat {
    held: Vec<Sample>,
    current: Option<Trip>,
    done: Vec<Trip>,
}

impl Afloat {
    /// Another trip begins.
    pub(super) fn begin(&mut self, at_s: f64) {
        let span = Span { from_s: at_s, to_s: at_s };
        self.current = Some(Trip { span, under_way: None });
        self.forget();
    }

    /// Nothing that comes is held against what was before.
    pub(super) fn forget(&mut self) {
        self.held.clear();
    }

    pub(super) fn push(&mut self, sample: Sample) {
        if self.held.last().is_some_and(|last| sample.at_s - last.at_s < EVERY_S) {
            return;
        }
        if self.current.is_none() {
            self.begin(sample.at_s);
        }
        let Some(trip) = &mut self.current else { return };
        let proved_s = trip.under_way.map_or(f64::NEG_INFINITY, |known| known.to_s);
        let went_on = |one: &&Sample| {
            let long_s = sample.at_s - one.at_s;
            let under_way_m = UNDER_WAY_M_PER_S * long_s + one.doubt_m + sample.doubt_m;
            long_s >= UNDER_WAY_FOR_S && one.apart_m(&sample) * (1.0 - FLATNESS) > under_way_m
        };
        let since = self.held.iter().rev().take_while(|one| one.at_s > proved_s).find(went_on);
        if let Some(since) = since {
            let first_s = trip.under_way.map_or(sample.at_s, |known| known.from_s);
            trip.under_way = Some(Span { from_s: first_s, to_s: since.at_s });
        }
        if self.held.capacity() == 0 {
            self.held.reserve_exact(HELD);
        }
        if self.held.len() >= HELD {
            self.held.remove(0);
        }
        self.held.push(sample);
    }

    /// The trip ends.
    pub(super) fn end(&mut self, at_s: f64) {
        if let Some(mut trip) = self.current.take() {
            trip.span.to_s = at_s;
            self.done.push(trip);
        }
        self.forget();
    }

    /// `is_open`: whether the boat was not seen to come in, and to go out. Of the times at the shore some were surely spent on
    /// it, the rest of all perhaps.
    pub(super) fn finish(self, is_open: (bool, bool), (left_out, all): (Vec<Span>, Vec<Span>)) -> Ashore {
        let is_at_shore = |at_s: f64| {
            let holds = |span: &Span| span.from_s - EVERY_S <= at_s && at_s <= span.to_s + EVERY_S;
            all.iter().any(holds)
        };
        let mut spans = all.clone();
        let last = self.done.len().saturating_sub(1);
        for (number, Trip { span, under_way }) in self.done.into_iter().enumerate() {
            if (number > 0 || is_open.0) && !is_at_shore(span.from_s) {
                spans.push(Span { to_s: under_way.map_or(span.to_s, |known| known.from_s), ..span });
            }
            if (number < last || is_open.1) && !is_at_shore(span.to_s) {
                spans.push(Span { from_s: under_way.map_or(span.from_s, |known| known.to_s), ..span });
            }
        }
        Ashore { spans, left_out }
    }
}

/// Times in which the boat may have lain ashore, so that what it did then is not judged.
#[derive(Debug)]
pub(super) struct Ashore {
    spans: Vec<Span>,
    /// Times in which it was launched or landed.
    left_out: Vec<Span>,
}

impl Ashore {
    /// What is left of times.
    pub(super) fn taken_from(&self, times: Vec<Span>) -> Vec<Span> {
        without(times, &self.spans)
    }

    pub(super) fn leaves_out_any(&self) -> bool {
        !self.left_out.is_empty()
    }

    /// What is left of times when it was neither launched nor landed.
    pub(super) fn left_of(&self, times: Vec<Span>) -> Vec<Span> {
        without(times, &self.left_out)
    }

    /// The longest time within another in which it was launched or landed, in seconds.
    pub(super) fn longest_left_out_s(&self, time: Span) -> f64 {
        self.left_out.iter().map(|ashore| ashore.common_s(time)).fold(0.0, f64::max)
    }

    /// The longest of them within a time, in seconds.
    pub(super) fn longest_common_s(&self, time: Span) -> f64 {
        self.spans.iter().map(|ashore| ashore.common_s(time)).fold(0.0, f64::max)
    }
}

fn without(mut times: Vec<Span>, others: &[Span]) -> Vec<Span> {
    for other in others {
        let halves = |time: Span| {
            let before = Span { to_s: time.to_s.min(other.from_s), ..time };
            let after = Span { from_s: time.from_s.max(other.to_s), ..time };
            [before, after].into_iter().filter(|part| part.to_s > part.from_s)
        };
        times = times.into_iter().flat_map(halves).collect();
    }
    times
}
