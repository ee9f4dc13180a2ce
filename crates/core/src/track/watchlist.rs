//! All zones watched along a track: which of them a step can matter to, and which may sleep through it.

use std::cmp::Reverse;
use std::collections::BinaryHeap;
use std::ops::{Index, IndexMut};

use super::stay::Stays;
use super::watch::{Approach, Watch};
use crate::Position;
use crate::geodesic::{Vector, distance_m, surface};
use crate::zone::ZoneSet;

/// A zone that stays awake for less way than this, in metres, is not put to sleep: waking it costs more.
const SHORT_SLEEP_M: f64 = 200.0;
/// Later than any zone is due.
const NEVER_MM: i64 = i64::MAX;
/// What rounding can take off the way of one step, as a share of it and in metres.
const ROUNDING: (f64, f64) = (1e-9, 1e-6);

/// The watches of all zones of a set.
///
/// No distance to a line changes faster than the boat moves, over gaps and between trips too. So a zone that the boat is not in
/// sleeps until so much way is made that it can be within its doubt of the line, or nearer than ever before; until then a
/// step does nothing to it. What comes of a track is the same as if none ever slept.
#[derive(Debug)]
pub(super) struct Watchlist {
    watches: Vec<Watch>,
    /// Those that may displace others.
    displacing: Vec<usize>,
    /// Those that are awake, in order.
    awake: Vec<usize>,
    asleep: BinaryHeap<Reverse<Sleeper>>,
    /// When each zone is due among those asleep; never where it is not.
    queued_mm: Vec<i64>,
    /// Way made in all, jumps and gaps counted, in metres; never less than it was.
    way_m: f64,
    at: Option<Position>,
    is_sleepless: bool,
}

/// A zone, and the way in millimetres before which it need not be woken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Sleeper {
    due_mm: i64,
    number: usize,
}

impl Watchlist {
    pub(super) fn new(zones: &ZoneSet) -> Self {
        let watches: Vec<Watch> = zones.members().map(Watch::new).collect();
        let numbered = watches.iter().enumerate();
        let displacing = numbered.filter(|(_, watch)| watch.history().is_some()).map(|(number, _)| number);
        let displacing = displacing.collect();
        let mut list = Self {
            displacing,
            awake: Vec::new(),
            asleep: BinaryHeap::with_capacity(watches.len()),
            queued_mm: vec![NEVER_MM; watches.len()],
            way_m: 0.0,
            at: None,
            is_sleepless: false,
            watches,
        };
        // what has no area can neither be entered nor come near to
        for number in 0..list.watches.len() {
            if list.watches[number].has_area() {
                list.put_to_sleep(number);
            }
        }
        list
    }

    /// Wakes all zones for good, for tests: every zone is asked at every step.
    #[cfg(test)]
    pub(super) fn never_sleep(&mut self) {
        self.is_sleepless = true;
        let with_area = self.watches.iter().filter(|watch| watch.has_area());
        self.awake = with_area.map(|watch| watch.zone.number()).collect();
        self.asleep.clear();
    }

    pub(super) fn iter(&self) -> impl Iterator<Item = &Watch> {
        self.watches.iter()
    }

    /// Those that the boat is perhaps in, or that a visit of goes on, are among these.
    pub(super) fn awake(&self) -> impl Iterator<Item = &Watch> {
        self.awake.iter().map(|number| &self.watches[*number])
    }

    /// Every watch, to end what goes on.
    pub(super) fn iter_mut(&mut self) -> impl Iterator<Item = &mut Watch> {
        self.watches.iter_mut()
    }

    /// The stays in each zone that may displace others, by the place of the zone in its set.
    pub(super) fn histories(&self) -> impl Iterator<Item = (usize, &Stays)> {
        self.displacing.iter().filter_map(|number| Some((*number, self.watches[*number].history()?)))
    }

    /// The zones that a gap has to be told of, in order: those that are awake, and others, which wake.
    pub(super) fn wake_these(&mut self, numbers: &[usize]) -> Vec<usize> {
        let slept = numbers.iter().filter(|number| self.watches[**number].has_area());
        let slept: Vec<usize> =
            slept.filter(|number| self.awake.binary_search(number).is_err()).copied().collect();
        self.awake.extend(&slept);
        self.awake.sort_unstable();
        self.awake.clone()
    }

    /// Goes to a place, the way there so long if it was gone and not only jumped, and wakes the zones to which that can
    /// matter. The step, and all zones that are awake, in order.
    ///
    /// `reach_m` is what the doubts of the fixes, and the boat by leaving its straight way, can add to the way.
    pub(super) fn go_to(
        &mut self,
        zones: &ZoneSet,
        (place, gone_m): (Position, Option<f64>),
        reach_m: f64,
    ) -> (Approach, Vec<usize>) {
        let jumped_m = |from| distance_m(from, place);
        let step_m = gone_m.or_else(|| self.at.map(jumped_m)).unwrap_or(0.0);
        self.at = Some(place);
        self.way_m += step_m * (1.0 + ROUNDING.0) + ROUNDING.1;
        let step = Approach { way_m: self.way_m, length_m: gone_m.unwrap_or(0.0), reach_m };
        self.wake(zones, place, step);
        (step, self.awake.clone())
    }

    /// Wakes the zones to which a step to a place can matter.
    fn wake(&mut self, zones: &ZoneSet, place: Position, step: Approach) {
        let due_mm = millimetres(step.way_m + step.reach_m).saturating_add(1);
        let mut here = None;
        let mut woken = 0;
        while let Some(Reverse(next)) =
            self.asleep.peek().copied().filter(|Reverse(next)| next.due_mm <= due_mm)
        {
            self.asleep.pop();
            if self.queued_mm[next.number] != next.due_mm {
                continue;
            }
            self.queued_mm[next.number] = NEVER_MM;
            // a gap has woken it before
            if self.is_awake(next.number, woken) {
                continue;
            }
            let here: Vector = *here.get_or_insert_with(|| surface(place).point);
            let watch = &mut self.watches[next.number];
            if !watch.is_active() && watch.may_matter(step) {
                watch.doze_by_box(zones.box_away_m(next.number, here), step);
            }
            if self.sleeps(next.number, step) {
                self.put_to_sleep(next.number);
            } else {
                self.awake.push(next.number);
                woken += 1;
            }
        }
        if woken > 0 {
            self.awake.sort_unstable();
        }
    }

    /// Whether it is awake; the last so many are not in order yet.
    fn is_awake(&self, number: usize, woken: usize) -> bool {
        let (ordered, new) = self.awake.split_at(self.awake.len() - woken);
        ordered.binary_search(&number).is_ok() || new.contains(&number)
    }

    /// Whether a step to a place can do anything to a zone that the boat is not in; its line is asked only if its box is near.
    pub(super) fn may_matter(
        &mut self,
        number: usize,
        (zones, here): (&ZoneSet, Vector),
        step: Approach,
    ) -> bool {
        let watch = &mut self.watches[number];
        if !self.is_sleepless && watch.may_matter(step) {
            watch.doze_by_box(zones.box_away_m(number, here), step);
        }
        self.is_sleepless || watch.may_matter(step)
    }

    /// Puts the zones to sleep that nothing can happen to for a while.
    pub(super) fn settle(&mut self, step: Approach) {
        if self.is_sleepless {
            return;
        }
        let mut awake = std::mem::take(&mut self.awake);
        awake.retain(|number| {
            let sleeps = self.sleeps(*number, step);
            if sleeps {
                self.put_to_sleep(*number);
            }
            !sleeps
        });
        self.awake = awake;
    }

    fn sleeps(&self, number: usize, step: Approach) -> bool {
        let watch = &self.watches[number];
        !watch.is_restless() && watch.due_m() > step.way_m + step.reach_m + SHORT_SLEEP_M
    }

    fn put_to_sleep(&mut self, number: usize) {
        let due_mm = millimetres(self.watches[number].due_m());
        // one that a gap has woken may still be in line, and too early is no harm
        if due_mm < self.queued_mm[number] {
            self.queued_mm[number] = due_mm;
            self.asleep.push(Reverse(Sleeper { due_mm, number }));
        }
    }
}

impl Index<usize> for Watchlist {
    type Output = Watch;

    fn index(&self, number: usize) -> &Watch {
        &self.watches[number]
    }
}

impl IndexMut<usize> for Watchlist {
    fn index_mut(&mut self, number: usize) -> &mut Self::Output {
        &mut self.watches[number]
    }
}

/// Whole millimetres, rounded down; what is beyond all numbers is taken for the greatest or the least.
#[expect(clippy::cast_possible_truncation, reason = "a cast to an integer saturates")]
fn millimetres(metres: f64) -> i64 {
    (metres * 1e3).floor() as i64
}
