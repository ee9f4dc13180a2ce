//! The nearest clear place about a fix, by straight ways.
//!
//! Places are told by bearing and distance from the fix. No two places are farther apart on the Earth, which bulges outwards
//! everywhere, than on that plane. So where a place lies so many metres deep in closed water, a circle of that radius about it on
//! the plane holds no clear place.

use super::clearance::Waters;
use super::land::Land;
use super::walk::{Walk, begins_m, walk};
use crate::angle::wrap_degrees;
use crate::best_first::BestFirst;
use crate::geodesic::direct;
use crate::{Position, golden_section};

/// A place counts as clear if it is so by this, in metres: it stays so when it is written down to a centimetre.
const SPARE_M: f64 = 0.05;
/// Clear water narrower than this, in metres, is overlooked: no boat is narrower.
const NARROWEST_M: f64 = 0.25;
/// The shortest way is found to this, in metres, or to the share of it that follows, if that is more; then it is polished.
const TOLERANCE_M: f64 = 0.5;
const TOLERANCE_SHARE: f64 = 1e-4;
/// No more distances than this are asked for, a tenth of a second of them.
const MOST_DISTANCES: usize = 100_000;
/// So many bearings are tried first.
const FIRST_BEARINGS: u32 = 16;
/// At last some bearings are tried, if nothing was found yet, each for no more than so many distances: one that runs along a
/// border, where every step is short, must not use up those of the others.
const LAST_BEARINGS: u32 = 64;
const LAST_DISTANCES: usize = 2_000;
/// They are tried so many times as far as there surely is nothing, and as often as nothing is found so many times as far again.
pub(super) const LAST_TIMES: f64 = 8.0;
/// But never less far than this, in metres.
pub(super) const LAST_LEAST_M: f64 = 1_000.0;
/// Distances along a way are told to this, in metres.
const TOLD_TO_M: f64 = 1e-3;
/// Ways that part by less than this, in degrees, are one way.
const OTHER_WAY_DEG: f64 = 30.0;
/// Ways that differ by less than this, in metres, or by the share of them that follows, are equally short.
const EQUAL_M: f64 = 1.0;
const EQUAL_SHARE: f64 = 0.05;

/// A straight way to a clear place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Way {
    pub(super) bearing_deg: f64,
    pub(super) distance_m: f64,
}

/// What became of a search.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Found {
    /// The shortest one.
    Shortest(Way),
    /// One, when no more distances could be asked for; none is shorter than so many metres.
    Perhaps(Way, f64),
    /// None up to the distance searched.
    NoneWithin,
    /// None, when no more distances could be asked for; none is shorter than so many metres.
    GaveUp(f64),
}

/// All ways on bearings from one to another; nothing nearer than so many metres is clear on any of them.
#[derive(Debug, Clone, Copy)]
struct Sector {
    from_deg: f64,
    to_deg: f64,
    near_m: f64,
}

impl Sector {
    fn middle_deg(&self) -> f64 {
        self.from_deg.midpoint(self.to_deg)
    }

    fn half_rad(&self) -> f64 {
        (self.to_deg - self.from_deg).to_radians() / 2.0
    }

    fn halves(self) -> [Self; 2] {
        let middle_deg = self.middle_deg();
        [Self { to_deg: middle_deg, ..self }, Self { from_deg: middle_deg, ..self }]
    }

    fn is_narrow(&self) -> bool {
        2.0 * self.near_m * self.half_rad() <= NARROWEST_M
    }

    /// How far the sector holds no clear place, where none is within so many metres of the middle of its near end; none
    /// where that says nothing about its sides.
    fn covered_to_m(&self, deep_m: f64) -> Option<f64> {
        let half_rad = self.half_rad();
        let to_side_m = 2.0 * self.near_m * (half_rad / 2.0).sin();
        let across_m = self.near_m * half_rad.sin();
        (to_side_m <= deep_m)
            .then(|| self.near_m * half_rad.cos() + (deep_m + across_m).sqrt() * (deep_m - across_m).sqrt())
    }
}

/// What is searched: the water and the land about a fix.
pub(super) struct Search<'s, 'a> {
    from: Position,
    waters: &'s mut Waters<'a>,
    land: &'s Land<'s>,
    /// No way farther than this is looked for, in metres.
    most_m: f64,
    /// No more distances than this are asked for.
    most_distances: usize,
}

impl<'s, 'a> Search<'s, 'a> {
    pub(super) fn new(
        from: Position,
        (waters, land): (&'s mut Waters<'a>, &'s Land<'s>),
        most_m: f64,
    ) -> Self {
        Self { from, waters, land, most_m, most_distances: MOST_DISTANCES }
    }
}

impl Search<'_, '_> {
    /// The shortest way; `hints` are bearings worth trying first.
    pub(super) fn shortest(&mut self, hints: &[f64]) -> Found {
        // a good way early on saves looking beyond it everywhere
        let fan = (0..FIRST_BEARINGS).map(|step| f64::from(step) * 360.0 / f64::from(FIRST_BEARINGS));
        let most_m = self.waters.known_to_m().min(self.most_m);
        let best = self.shortest_of(hints.iter().copied().chain(fan), most_m);
        match self.shortest_between((0.0, 360.0), best) {
            Found::Shortest(way) => Found::Shortest(self.polished(way)),
            Found::Perhaps(way, none_nearer_m) if way.distance_m <= none_nearer_m + EQUAL_M => {
                Found::Shortest(way)
            }
            Found::GaveUp(none_nearer_m) => self.any(none_nearer_m),
            found @ (Found::Perhaps(..) | Found::NoneWithin) => found,
        }
    }

    /// The shortest way on these bearings.
    fn shortest_of(&self, bearings_deg: impl Iterator<Item = f64>, mut most_m: f64) -> Option<Way> {
        let mut best = None;
        for bearing_deg in bearings_deg {
            if let Some(distance_m) = self.first_clear_m(bearing_deg, most_m) {
                most_m = distance_m;
                best = shorter(best, Some(Way { bearing_deg, distance_m }));
            }
        }
        best
    }

    /// The shortest way on some bearings, where all could not be searched.
    fn any(&mut self, none_nearer_m: f64) -> Found {
        let mut most_m = (LAST_TIMES * none_nearer_m).max(LAST_LEAST_M).min(self.most_m);
        loop {
            self.waters.look_to(most_m);
            if let Some(way) = self.shortest_of_a_fan(most_m) {
                return Found::Perhaps(way, none_nearer_m);
            }
            if most_m >= self.most_m {
                return Found::GaveUp(none_nearer_m);
            }
            most_m = (LAST_TIMES * most_m).min(self.most_m);
        }
    }

    /// The shortest way on bearings all round, each with looks of its own.
    fn shortest_of_a_fan(&mut self, mut most_m: f64) -> Option<Way> {
        let mut best = None;
        for step in 0..LAST_BEARINGS {
            let bearing_deg = f64::from(step) * 360.0 / f64::from(LAST_BEARINGS);
            self.most_distances = self.waters.distances() + LAST_DISTANCES;
            if let Some(distance_m) = self.first_clear_m(bearing_deg, most_m) {
                most_m = distance_m;
                best = Some(Way { bearing_deg, distance_m });
            }
        }
        best
    }

    /// A way in another direction that is as short.
    pub(super) fn as_short_as(&mut self, way: Way) -> Option<Way> {
        let longest_m = way.distance_m + EQUAL_M.min(EQUAL_SHARE * way.distance_m);
        let all = self.most_m;
        self.most_m = longest_m + TOLERANCE_M;
        let others = (way.bearing_deg + OTHER_WAY_DEG, way.bearing_deg + 360.0 - OTHER_WAY_DEG);
        let found = self.shortest_between(others, None);
        self.most_m = all;
        let Found::Shortest(other) = found else { return None };
        let other = self.polished(other);
        let is_other = wrap_degrees(other.bearing_deg - way.bearing_deg).abs() >= OTHER_WAY_DEG;
        (is_other && other.distance_m <= longest_m).then_some(other)
    }

    /// Branch and bound: the sector whose near end is nearest is looked at first, so that nothing is missed before it.
    fn shortest_between(&mut self, (from_deg, to_deg): (f64, f64), known: Option<Way>) -> Found {
        let mut best = known;
        let mut waiting = BestFirst::with(0.0, Sector { from_deg, to_deg, near_m: 0.0 });
        while let Some((_, sector)) = waiting.pop() {
            let tolerance_m = |way: Way| TOLERANCE_M.max(TOLERANCE_SHARE * way.distance_m);
            if best.is_some_and(|way| sector.near_m >= way.distance_m - tolerance_m(way))
                || sector.near_m >= self.most_m
            {
                break;
            }
            if self.waters.distances() > self.most_distances {
                return best.map_or(Found::GaveUp(sector.near_m), |way| Found::Perhaps(way, sector.near_m));
            }
            if sector.near_m >= self.waters.known_to_m() {
                self.waters.look_to((2.0 * sector.near_m).max(100.0));
            }
            let (left, clear) = self.looked_at(sector);
            best = shorter(best, clear);
            for sector in left.into_iter().flatten() {
                waiting.push(-sector.near_m, sector);
            }
        }
        best.map_or(Found::NoneWithin, Found::Shortest)
    }

    /// What is left to look at of a sector, and a clear place in it.
    fn looked_at(&self, sector: Sector) -> ([Option<Sector>; 2], Option<Way>) {
        if self.land.covers((sector.from_deg, sector.to_deg), sector.near_m) {
            return ([None, None], None);
        }
        let halves = || if sector.is_narrow() { [None, None] } else { sector.halves().map(Some) };
        let known_to_m = self.waters.known_to_m();
        let on = |near_m: f64| [Some(Sector { near_m: near_m.min(known_to_m), ..sector }), None];
        if sector.half_rad() > 0.4 {
            return (sector.halves().map(Some), None);
        }
        let (bearing_deg, distance_m) = (sector.middle_deg(), sector.near_m);
        let place = direct(self.from, bearing_deg, distance_m);
        // nowhere near is clear of what nobody knows the place of: so far is as good as without end
        let deep_m = (SPARE_M - self.waters.at_most_clear_m(place)).min(2.0 * self.most_m);
        if deep_m <= 0.0 {
            if let Some(met_m) = self.land.met_at_m(bearing_deg, distance_m) {
                let is_hidden = self.hides_the_rest(sector, met_m);
                return (if is_hidden { [None, None] } else { halves() }, None);
            }
            if self.waters.clear_m(place) >= SPARE_M {
                // the rest of the sector is no nearer
                return (sector.halves().map(Some), Some(Way { bearing_deg, distance_m }));
            }
        }
        match sector.covered_to_m(deep_m.max(0.0)) {
            Some(covered_to_m) if covered_to_m - distance_m > deep_m / 2.0 && deep_m >= NARROWEST_M => {
                (on(covered_to_m), None)
            }
            _ if sector.is_narrow() => (on(distance_m + deep_m.max(NARROWEST_M)), None),
            _ => (sector.halves().map(Some), None),
        }
    }

    /// Whether nothing clear is left of a sector before the land that its middle bearing meets: round the place where that is
    /// met nothing is, and so far on all of the sector is hidden by land.
    fn hides_the_rest(&self, sector: Sector, met_m: f64) -> bool {
        let place = direct(self.from, sector.middle_deg(), met_m);
        let deep_m = SPARE_M - self.waters.at_most_clear_m(place);
        let across_m = (met_m + deep_m) * sector.half_rad();
        if across_m >= deep_m {
            return false;
        }
        let ahead_m = (deep_m + across_m).sqrt() * (deep_m - across_m).sqrt();
        sector.near_m <= met_m + ahead_m
            && self.land.covers((sector.from_deg, sector.to_deg), met_m + ahead_m)
    }

    /// The first clear place along a bearing, within so many metres and before any land.
    fn first_clear_m(&self, bearing_deg: f64, most_m: f64) -> Option<f64> {
        self.first_clear(bearing_deg, most_m).ok()
    }

    /// The same, or how far there surely is none: less than was asked for where land is met, or no more distances may be had.
    pub(super) fn first_clear(&self, bearing_deg: f64, most_m: f64) -> Result<f64, f64> {
        let most_m = self.land.met_at_m(bearing_deg, most_m).map_or(most_m, |met_m| met_m.min(most_m));
        let place = |at_m: f64| direct(self.from, bearing_deg, at_m);
        let is_clear = |at_m: f64| self.waters.clear_m(place(at_m)) >= SPARE_M;
        let left_m = |at_m: f64| {
            let deep_m = SPARE_M - self.waters.at_most_clear_m(place(at_m));
            // not clear yet where arcs miss their circles
            let left_m = if deep_m <= 0.0 && !is_clear(at_m) { 0.0 } else { deep_m };
            (self.waters.distances() <= self.most_distances).then_some(left_m)
        };
        match walk((0.0, most_m), NARROWEST_M, left_m) {
            Walk::Stopped { before_m, at_m } => Ok(begins_m((before_m, at_m), TOLD_TO_M, is_clear)),
            Walk::ToTheEnd => Err(most_m),
            Walk::GaveUp { at_m } => Err(at_m),
        }
    }

    /// A way near by that is a little shorter.
    fn polished(&self, way: Way) -> Way {
        let most_m = way.distance_m + NARROWEST_M;
        // a way so much longer than the shortest one to a straight line points so far off
        let tolerance_m = TOLERANCE_M.max(TOLERANCE_SHARE * way.distance_m);
        let about_deg = (2.0 * (2.0 * tolerance_m / way.distance_m.max(0.1)).sqrt()).to_degrees().min(25.0);
        let length_m = |bearing_deg: f64| {
            // where there is none the search turns back to the way that is known
            let off_deg = (bearing_deg - way.bearing_deg).abs();
            self.first_clear_m(bearing_deg, 1.5 * most_m).unwrap_or(1e9 + off_deg)
        };
        let span = (way.bearing_deg - about_deg, way.bearing_deg + about_deg);
        let (bearing_deg, distance_m) = golden_section::least(span, 0.02, length_m);
        if distance_m <= way.distance_m { Way { bearing_deg, distance_m } } else { way }
    }
}

fn shorter(one: Option<Way>, other: Option<Way>) -> Option<Way> {
    match (one, other) {
        (Some(one), Some(other)) => Some(if other.distance_m < one.distance_m { other } else { one }),
        (one, other) => one.or(other),
    }
}
