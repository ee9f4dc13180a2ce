//! Jumps of a receiver: which parts of a log cannot both be true, and which of them the rest of it bears out.
//!
//! A step within five minutes that no boat makes has a wrong place on one side of it: where a receiver settled slowly, caught a
//! reflected signal, reckoned on without one, or snapped back from that. Which side it is the log as a whole tells, or nothing
//! does. What stands next to such steps is cut into parts; of all ways through the parts that a boat can have made, the one
//! that the receiver bears out longest is believed. What is not on it is left out, and so is what a way nearly as good
//! contradicts.

use super::cleaning::{OVER_TOP_SPEED, SAME_TIME_S};
use super::logged_fix::{is_one_place, is_zero_island, uncertainty_of};
use super::{LoggedFix, METRES_PER_SECOND_IN_A_KNOT, TrackSettings};
use crate::geodesic::{Vector, inverse, surface};

/// A step that took longer than this, in seconds, may have been made ashore, and is no jump (common practice, no source).
pub(super) const JUMP_WITHIN_S: f64 = 300.0;
/// Where a step took longer than this, in seconds, a boat that is faster than assumed may have made it, up to so many knots
/// (common practice, no source).
const LONG_STEP_S: f64 = 15.0;
const FAST_KN: f64 = 40.0;
/// The doubts of fixes hide what a step of a second needs, and not what all steps within so many seconds do together (common
/// practice, no source).
const TOGETHER_S: f64 = 10.0;
/// A receiver that is wrong may have been so for so many seconds before or after a jump (common practice, no source), and for so
/// many fixes.
const WRONG_FOR_S: f64 = 600.0;
const WRONG_FOR: usize = 10;
/// What the receiver contradicts for so many times as long is not believed, and what it contradicts for less is not sure; without
/// times its fixes are counted (common practice, no source).
const TIMES_AS_LONG: f64 = 3.0;
const TIMES_AS_MANY: usize = 3;
/// A receiver was silent where nothing was logged for longer than a gap, and than so many times the middle step of the log.
const TIMES_THE_STEP: f64 = 5.0;
/// With more parts than this no way through them is sought, and none is believed.
const MOST_PARTS: usize = 4_000;

/// A place at which the receiver said once or more, one after another, that the boat was.
#[derive(Debug, Clone, Copy)]
struct Place {
    point: Vector,
    /// The doubt of the first fix there, in metres.
    radius_m: f64,
    /// When it was first and last said, in seconds from the first fix.
    from_s: f64,
    to_s: f64,
    /// The fixes that say so, by their places in the log.
    first: usize,
    last: usize,
    stretch: u32,
}

/// Places one after another that a boat can have gone through, next to a jump or not.
#[derive(Debug, Clone, Copy)]
struct Part {
    from: usize,
    to: usize,
    /// For how long the receiver said so, in seconds, so that a log which is dense in places says no more there.
    weight_s: f64,
    /// The speed, in knots, that the jump before it needs, and the one behind it; none where there is no jump.
    jump_before: Option<f64>,
    jump_behind: Option<f64>,
}

/// Marks the fixes of a boat that its jumps leave in doubt with the speed that the jump would have needed, in knots.
pub(super) fn doubt_jumps(boat: &mut [LoggedFix], settings: &TrackSettings) {
    let places = places(boat, settings);
    let reach = Reach {
        places: &places,
        m_per_s: OVER_TOP_SPEED * settings.top_speed_m_per_s(),
        is_given: settings.top_speed_given,
    };
    let jumps = reach.jumps();
    if settings.is_plan || jumps.iter().all(Option::is_none) {
        return;
    }
    let middle_s = middle_step_s(&places);
    let silent_s = settings.gap_after_s.max(TIMES_THE_STEP * middle_s);
    // a receiver may have been wrong on one side of a silence alone, or on both: what either leaves in doubt is so
    for silent_s in [silent_s, f64::INFINITY] {
        let parts = parts((&places, &jumps), silent_s, middle_s);
        let in_doubt = in_doubt(&parts, &reach);
        for (part, _) in parts.iter().zip(in_doubt).filter(|(_, in_doubt)| *in_doubt) {
            let needed_kn = part.jump_before.or(part.jump_behind).unwrap_or(0.0);
            for place in &places[part.from..part.to] {
                for fix in &mut boat[place.first..=place.last] {
                    fix.jump_kn = fix.jump_kn.or(Some(needed_kn));
                }
            }
        }
    }
}

fn middle_step_s(places: &[Place]) -> f64 {
    let mut steps_s: Vec<f64> = places.windows(2).map(|pair| pair[1].from_s - pair[0].to_s).collect();
    let middle = steps_s.len() / 2;
    *steps_s.select_nth_unstable_by(middle, f64::total_cmp).1
}

/// Marks the fixes of a boat without times that a leg out of all proportion parts from three times as many: such a leg may have
/// been made, or a receiver was wrong on one side of it.
pub(super) fn doubt_long_legs(boat: &mut [LoggedFix], longest_m: f64) {
    let is_long = |one: &LoggedFix, next: &LoggedFix| {
        let is_joined = one.place.stretch == next.place.stretch && one.time.is_none() && next.time.is_none();
        is_joined && inverse(one.position, next.position).distance_m > longest_m
    };
    let counts: Vec<usize> = boat.chunk_by(|one, next| !is_long(one, next)).map(<[_]>::len).collect();
    let mut from = 0;
    for (number, count) in counts.iter().enumerate() {
        let beside = [number.checked_sub(1), Some(number + 1)].into_iter().flatten();
        let most = beside.filter_map(|other| counts.get(other)).max();
        if most.is_some_and(|most| TIMES_AS_MANY * count <= *most) {
            for fix in boat[from..from + count].iter_mut().filter(|fix| fix.time.is_none()) {
                fix.jump_kn = Some(f64::INFINITY);
            }
        }
        from += count;
    }
}

/// The places of a log that tell a time and stand in its order.
fn places(boat: &[LoggedFix], settings: &TrackSettings) -> Vec<Place> {
    let mut places: Vec<Place> = Vec::new();
    let Some(start) = boat.iter().find_map(|fix| fix.time) else { return places };
    for (number, fix) in boat.iter().enumerate() {
        let Some(at_s) = fix.time.map(|time| time.duration_since(start).as_secs_f64()) else { continue };
        if is_zero_island(fix.position) || places.last().is_some_and(|last| at_s < last.to_s) {
            continue;
        }
        match places.last_mut() {
            Some(last) if is_one_place(&boat[last.first], fix) => (last.to_s, last.last) = (at_s, number),
            _ => places.push(Place {
                point: surface(fix.position).point,
                radius_m: uncertainty_of(fix, settings).radius_95().metres(),
                from_s: at_s,
                to_s: at_s,
                first: number,
                last: number,
                stretch: fix.place.stretch,
            }),
        }
    }
    places
}

/// What a boat can reach.
struct Reach<'p> {
    places: &'p [Place],
    m_per_s: f64,
    /// Whether that is what somebody said of the boat.
    is_given: bool,
}

impl Reach<'_> {
    /// The speed in knots that the way from one place to a later one would have needed, if no boat does that and the step is
    /// short. A receiver may have held on to the one place while the boat went on.
    fn jump_kn(&self, from: usize, to: usize) -> Option<f64> {
        let (from, to) = (&self.places[from], &self.places[to]);
        let seconds = to.from_s - from.from_s;
        let apart_m = (from.point - to.point).norm() - from.radius_m - to.radius_m;
        let m_per_s = apart_m / if seconds > 0.0 { seconds } else { SAME_TIME_S };
        let is_long = seconds >= LONG_STEP_S && !self.is_given;
        let most_m_per_s =
            if is_long { self.m_per_s.max(FAST_KN * METRES_PER_SECOND_IN_A_KNOT) } else { self.m_per_s };
        let is_jump = to.from_s - from.to_s <= JUMP_WITHIN_S && m_per_s > most_m_per_s;
        is_jump.then_some(m_per_s / METRES_PER_SECOND_IN_A_KNOT)
    }

    /// For each step whether it is a jump: by itself, or as the longest of those within some seconds that no boat makes
    /// together.
    fn jumps(&self) -> Vec<Option<f64>> {
        let mut jumps: Vec<Option<f64>> = (1..self.places.len()).map(|to| self.jump_kn(to - 1, to)).collect();
        let step_m = |step: usize| (self.places[step + 1].point - self.places[step].point).norm();
        let mut from = 0;
        for to in 1..self.places.len() {
            while from + 1 < to && self.places[to].from_s - self.places[from].from_s > TOGETHER_S {
                from += 1;
            }
            let Some(needed_kn) = self.jump_kn(from, to).filter(|_| from + 1 < to) else { continue };
            if jumps[from..to].iter().all(Option::is_none) {
                let longest = (from..to).max_by(|one, other| step_m(*one).total_cmp(&step_m(*other)));
                jumps[longest.unwrap_or(from)] = Some(needed_kn);
            }
        }
        jumps
    }

    fn goes_on(&self, one: &Part, next: &Part) -> bool {
        let is_parted = one.to == next.from && next.jump_before.is_some();
        !is_parted && self.jump_kn(one.to - 1, next.from).is_none()
    }
}

/// Cuts the places at jumps, and next to jumps where a receiver that was wrong may have begun or ceased to be.
fn parts((places, jumps): (&[Place], &[Option<f64>]), silent_s: f64, middle_s: f64) -> Vec<Part> {
    let is_silent = |at: usize| {
        let (before, after) = (&places[at - 1], &places[at]);
        silent_s.is_finite() && (after.from_s - before.to_s > silent_s || before.stretch != after.stretch)
    };
    let mut parts = Vec::new();
    let mut from = 0_usize;
    for to in 1..=places.len() {
        if to < places.len() && jumps[to - 1].is_none() {
            continue;
        }
        let before = from.checked_sub(1).and_then(|step| jumps[step]);
        let behind = jumps.get(to - 1).copied().flatten();
        let mut cuts = vec![from, to];
        if before.is_some() {
            let ends = |at: &usize| {
                is_silent(*at)
                    || *at - from >= WRONG_FOR && places[*at].from_s - places[from].from_s >= WRONG_FOR_S
            };
            cuts.extend((from + 1..to).find(ends));
        }
        if behind.is_some() {
            let begins = |at: &usize| {
                is_silent(*at)
                    || to - *at >= WRONG_FOR && places[to - 1].to_s - places[*at - 1].to_s >= WRONG_FOR_S
            };
            cuts.extend((from + 1..to).rev().find(begins));
        }
        cuts.sort_unstable();
        cuts.dedup();
        parts.extend(cuts.windows(2).map(|ends| Part {
            from: ends[0],
            to: ends[1],
            weight_s: places[ends[1] - 1].from_s - places[ends[0]].from_s + middle_s,
            jump_before: before.filter(|_| ends[0] == from),
            jump_behind: behind.filter(|_| ends[1] == to),
        }));
        from = to;
    }
    parts
}

/// Which parts are not to be believed, or not to be sure of.
fn in_doubt(parts: &[Part], reach: &Reach<'_>) -> Vec<bool> {
    if parts.len() > MOST_PARTS {
        return vec![true; parts.len()];
    }
    let ways = Ways::through(parts, reach);
    let weight_s = |part: &usize| ways.weight_through(*part, parts);
    let best = (0..parts.len()).max_by(|one, other| weight_s(one).total_cmp(&weight_s(other))).unwrap_or(0);
    let believed = ways.by(best);
    let mut in_doubt: Vec<bool> = believed.iter().map(|is_on| !is_on).collect();
    for other in (0..parts.len()).filter(|part| !believed[*part]) {
        let way = ways.by(other);
        let weight_of = |on: &[bool], off: &[bool]| -> f64 {
            let apart = parts.iter().zip(on.iter().zip(off)).filter(|(_, (on, off))| **on && !**off);
            apart.map(|(part, _)| part.weight_s).sum()
        };
        let is_nearly_as_good = TIMES_AS_LONG * weight_of(&way, &believed) > weight_of(&believed, &way);
        for (part, (is_on, is_other)) in in_doubt.iter_mut().zip(believed.iter().zip(&way)) {
            *part |= is_nearly_as_good && *is_on && !is_other;
        }
    }
    // next to a jump what is believed has to outweigh what is not by itself
    for (one, next) in (1..parts.len()).map(|next| (next - 1, next)) {
        if parts[next].jump_before.is_none() || believed[one] == believed[next] {
            continue;
        }
        let (on, off) = if believed[one] { (one, next) } else { (next, one) };
        in_doubt[on] |= TIMES_AS_LONG * parts[off].weight_s > parts[on].weight_s;
    }
    in_doubt
}

/// For each part the way through the parts before it, and behind it, that the receiver bears out longest: for how many seconds,
/// the part's own included, and the next part of it.
struct Ways {
    to: Vec<(f64, Option<usize>)>,
    from: Vec<(f64, Option<usize>)>,
}

impl Ways {
    fn through(parts: &[Part], reach: &Reach<'_>) -> Self {
        let mut to: Vec<(f64, Option<usize>)> = Vec::with_capacity(parts.len());
        for (number, part) in parts.iter().enumerate() {
            let earlier = (0..number).filter(|one| reach.goes_on(&parts[*one], part));
            let before = earlier.max_by(|one, other| to[*one].0.total_cmp(&to[*other].0));
            to.push((part.weight_s + before.map_or(0.0, |one| to[one].0), before));
        }
        let mut from: Vec<(f64, Option<usize>)> = vec![(0.0, None); parts.len()];
        for (number, part) in parts.iter().enumerate().rev() {
            let later = (number + 1..parts.len()).filter(|next| reach.goes_on(part, &parts[*next]));
            let behind = later.max_by(|one, other| from[*one].0.total_cmp(&from[*other].0));
            from[number] = (part.weight_s + behind.map_or(0.0, |next| from[next].0), behind);
        }
        Self { to, from }
    }

    fn weight_through(&self, part: usize, parts: &[Part]) -> f64 {
        self.to[part].0 + self.from[part].0 - parts[part].weight_s
    }

    /// Which parts lie on the best way through one.
    fn by(&self, part: usize) -> Vec<bool> {
        let mut is_on = vec![false; self.to.len()];
        let mut at = Some(part);
        while let Some(one) = at {
            is_on[one] = true;
            at = self.to[one].1;
        }
        let mut at = self.from[part].1;
        while let Some(one) = at {
            is_on[one] = true;
            at = self.from[one].1;
        }
        is_on
    }
}
