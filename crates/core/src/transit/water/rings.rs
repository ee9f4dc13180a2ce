//! Rings round water of one kind, for drawing: the patches of successive slabs joined where they touch.

use super::curves::OnPlane;

/// Positions are left out of a ring where that moves it by no more than this, in metres.
const DRAWN_TO_M: f64 = 0.02;
/// Rings round less water than this, in square metres, are not drawn.
const LEAST_DRAWN_M2: f64 = 1.0;
/// Patches that touch over less than this, in metres, are not joined.
const LEAST_TOUCH_M: f64 = 2e-3;

/// A patch by its left and right ends where its slab begins and where it ends, in metres off the line.
#[derive(Debug, Clone, Copy)]
pub(super) struct Drawn {
    pub(super) begins_m: (f64, f64),
    pub(super) ends_m: (f64, f64),
}

/// Water that the next slab may carry on.
#[derive(Debug)]
struct Growing {
    left: Vec<OnPlane>,
    right: Vec<OnPlane>,
    ends_m: (f64, f64),
}

/// Rings in the making.
#[derive(Debug, Default)]
pub(super) struct Rings {
    growing: Vec<Growing>,
    reached_m: f64,
    closed: Vec<Vec<OnPlane>>,
}

impl Rings {
    /// Adds the water of the next slab seaward, from left to right.
    pub(super) fn add(&mut self, (from_m, to_m): (f64, f64), drawn: Vec<Drawn>) {
        let drawn = joined(drawn);
        let carries_on = (from_m - self.reached_m).abs() < LEAST_TOUCH_M;
        let before = std::mem::take(&mut self.growing);
        let touches =
            |old: &Growing, new: &Drawn| carries_on && overlap(old.ends_m, new.begins_m) > LEAST_TOUCH_M;
        // one that parts in two, or two that meet, are closed, so that no ring needs a hole
        let heirs = |old: &Growing| drawn.iter().filter(|new| touches(old, new)).count();
        let forebears: Vec<Vec<usize>> = drawn
            .iter()
            .map(|new| (0..before.len()).filter(|old| touches(&before[*old], new)).collect())
            .collect();
        let mut kept: Vec<Option<Growing>> = before.into_iter().map(Some).collect();
        for (new, old) in drawn.iter().zip(forebears) {
            let only = match old.as_slice() {
                [only] if kept[*only].as_ref().is_some_and(|old| heirs(old) == 1) => kept[*only].take(),
                _ => None,
            };
            let mut ring = only.unwrap_or(Growing { left: vec![], right: vec![], ends_m: new.begins_m });
            ring.extend(from_m, new.begins_m);
            ring.extend(to_m, new.ends_m);
            self.growing.push(ring);
        }
        self.closed.extend(kept.into_iter().flatten().filter_map(Growing::close));
        self.reached_m = to_m;
    }

    /// Returns the rings, the water on the left of each; the first place is not said again at the end.
    pub(super) fn finish(mut self) -> Vec<Vec<OnPlane>> {
        self.closed.extend(self.growing.into_iter().filter_map(Growing::close));
        self.closed
    }
}

impl Growing {
    fn extend(&mut self, along_m: f64, ends_m: (f64, f64)) {
        self.left.push(OnPlane { along_m, off_m: ends_m.0 });
        self.right.push(OnPlane { along_m, off_m: ends_m.1 });
        self.ends_m = ends_m;
    }

    fn close(self) -> Option<Vec<OnPlane>> {
        let mut ring = thinned(&self.left);
        ring.extend(thinned(&self.right).into_iter().rev());
        // a triangle's tip is said once
        ring.dedup_by(|a, b| distance_m(*a, *b) < DRAWN_TO_M);
        while ring.len() > 1 && distance_m(ring[0], ring[ring.len() - 1]) < DRAWN_TO_M {
            ring.pop();
        }
        (ring.len() > 2 && area_m2(&ring) >= LEAST_DRAWN_M2).then_some(ring)
    }
}

/// Patches of one slab with nothing between them, as one.
fn joined(drawn: Vec<Drawn>) -> Vec<Drawn> {
    let mut joined: Vec<Drawn> = Vec::with_capacity(drawn.len());
    for next in drawn {
        match joined.last_mut() {
            Some(last)
                if next.begins_m.0 - last.begins_m.1 < LEAST_TOUCH_M
                    && next.ends_m.0 - last.ends_m.1 < LEAST_TOUCH_M =>
            {
                (last.begins_m.1, last.ends_m.1) = (next.begins_m.1, next.ends_m.1);
            }
            _ => joined.push(next),
        }
    }
    joined
}

fn overlap(one: (f64, f64), other: (f64, f64)) -> f64 {
    one.1.min(other.1) - one.0.max(other.0)
}

/// The line with the places left out that lie on the straight way between those kept.
fn thinned(line: &[OnPlane]) -> Vec<OnPlane> {
    let Some(first) = line.first() else { return Vec::new() };
    let mut kept = vec![*first];
    let mut ways = Ways::from(*first);
    for (at, place) in line.iter().enumerate().skip(1) {
        ways.pass(*place);
        if !line.get(at + 1).is_some_and(|next| ways.lead_to(*next)) {
            kept.push(*place);
            ways = Ways::from(*place);
        }
    }
    kept
}

/// The straight ways from a place that pass within [`DRAWN_TO_M`] of all places after it, each looked at once: a smooth
/// side of ten thousand places would take minutes if every way was held against all of them.
#[derive(Debug)]
struct Ways {
    from: OnPlane,
    /// Least and greatest direction, in radians from seaward to the right; the places go seaward, so it never turns round.
    towards: (f64, f64),
    farthest_m: f64,
}

impl Ways {
    fn from(from: OnPlane) -> Self {
        Self { from, towards: (f64::NEG_INFINITY, f64::INFINITY), farthest_m: 0.0 }
    }

    fn pass(&mut self, place: OnPlane) {
        let away_m = distance_m(self.from, place);
        self.farthest_m = self.farthest_m.max(away_m);
        if away_m > DRAWN_TO_M {
            let (towards, reach) = (self.towards_of(place), (DRAWN_TO_M / away_m).asin());
            self.towards = (self.towards.0.max(towards - reach), self.towards.1.min(towards + reach));
        }
    }

    fn lead_to(&self, place: OnPlane) -> bool {
        let towards = self.towards_of(place);
        // a way that turns back leaves its farthest place out
        distance_m(self.from, place) >= self.farthest_m
            && self.towards.0 <= towards
            && towards <= self.towards.1
    }

    fn towards_of(&self, place: OnPlane) -> f64 {
        (place.off_m - self.from.off_m).atan2(place.along_m - self.from.along_m)
    }
}

fn distance_m(one: OnPlane, other: OnPlane) -> f64 {
    (one.along_m - other.along_m).hypot(one.off_m - other.off_m)
}

fn area_m2(ring: &[OnPlane]) -> f64 {
    let after = ring.iter().cycle().skip(1);
    // about the first place, so that no digits are lost
    let about = ring[0];
    let twice: f64 = ring
        .iter()
        .zip(after)
        .map(|(a, b)| {
            (a.along_m - about.along_m) * (b.off_m - about.off_m)
                - (b.along_m - about.along_m) * (a.off_m - about.off_m)
        })
        .sum();
    twice / 2.0
}
