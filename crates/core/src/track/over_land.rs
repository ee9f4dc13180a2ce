//! Whether a log lies on land, by the coasts that somebody supplied: a wrong datum, an exchanged sign, a car, or a boat on a roof.
//!
//! It never decides whether anything is against a rule. A coast is known to within its uncertainty, and so are fixes: only what lies
//! farther inland than both together counts, and of the way between two fixes only what no boat can have gone round in the time.

use super::leg::Leg;
use super::{LoggedFix, LoggedMoment, OnLand};
use crate::geodesic::at_most_m;
use crate::{Coast, Position, Tristate};

/// Shorter parts of a leg, in metres, are not looked at.
const SHORTEST_M: f64 = 1.0;

/// A coast, and how far off it a place in the water is, so that what is near that place need not be asked.
#[derive(Debug)]
struct Watched {
    coast: Coast,
    clear: Option<(Position, f64)>,
}

impl Watched {
    /// Whether a place is in the water by what was known of the place before.
    fn is_clear(&self, place: Position) -> bool {
        self.clear.is_some_and(|(at, away_m)| at_most_m(at, place) < away_m)
    }

    fn is_inland(&self, place: Position, spare_m: f64) -> bool {
        self.coast.see(place).surely_inland_m(spare_m).is_some()
    }

    /// Whether a leg of which neither end is inland runs so far inland somewhere.
    ///
    /// On the way from the water to a place so far inland lies the line, which is farther from either than the nearest of it.
    fn runs_inland(&self, leg: &Leg, spare_m: f64) -> bool {
        let least_m = self.coast.uncertainty.metres() + spare_m;
        let [from, to] = [leg.at(0.0), leg.at(1.0)].map(|place| self.coast.see(place).in_water_m());
        let mut waiting = vec![(0.0, from, 1.0, to)];
        while let Some((low, low_m, high, high_m)) = waiting.pop() {
            let part_m = (high - low) * leg.length_m;
            if (part_m - low_m - high_m) / 2.0 <= least_m || part_m < SHORTEST_M {
                continue;
            }
            let middle = f64::midpoint(low, high);
            let seen = self.coast.see(leg.at(middle));
            if seen.surely_inland_m(spare_m).is_some() {
                return true;
            }
            waiting.push((low, low_m, middle, seen.in_water_m()));
            waiting.push((middle, seen.in_water_m(), high, high_m));
        }
        false
    }
}

/// What is known so far of a log and land.
#[derive(Debug)]
pub(super) struct LandWatch {
    coasts: Vec<Watched>,
    found: OnLand,
    /// Whether the last fix lay on land.
    was_on_land: bool,
}

impl LandWatch {
    pub(super) fn of(coasts: &[Coast]) -> Self {
        let names = coasts.iter().map(|coast| coast.name().to_owned());
        let found = OnLand { coasts: names.collect(), ..OnLand::default() };
        let coasts = coasts.iter().map(|coast| Watched { coast: coast.clone(), clear: None }).collect();
        Self { coasts, found, was_on_land: false }
    }

    /// A fix that is believed, how far off it may be, and the way to it with how far off that the boat can have been, in metres.
    pub(super) fn push(&mut self, fix: &LoggedFix, radius_m: f64, leg: Option<(&Leg, f64)>) {
        if self.coasts.is_empty() {
            return;
        }
        self.found.of += 1;
        let unclear = || self.coasts.iter().filter(|one| !one.is_clear(fix.position));
        let is_on_land = unclear().any(|one| one.is_inland(fix.position, radius_m));
        let legs = leg.filter(|_| !is_on_land && !self.was_on_land);
        let is_over = legs.is_some_and(|(leg, stray_m)| {
            let spare_m = leg.radii_m[0].max(leg.radii_m[1]) + stray_m;
            // a circle of water that holds both ends holds the way between them
            let is_clear = |one: &Watched| one.is_clear(leg.from.position) && one.is_clear(leg.to.position);
            self.coasts.iter().any(|one| !is_clear(one) && one.runs_inland(leg, spare_m))
        });
        self.found.fixes += u64::from(is_on_land);
        self.found.legs += u64::from(is_over);
        if (is_on_land || is_over) && self.found.first.is_none() {
            self.found.first =
                Some(LoggedMoment { position: fix.position, time: fix.time, between: fix.time_between });
        }
        self.was_on_land = is_on_land;
        for one in self.coasts.iter_mut().filter(|one| !one.is_clear(fix.position)) {
            let seen = one.coast.see(fix.position);
            one.clear = (seen.is_on_land == Tristate::No).then_some((fix.position, seen.away_m));
        }
    }

    /// Nothing if no coast was supplied.
    pub(super) fn finish(self) -> Option<OnLand> {
        (!self.coasts.is_empty()).then_some(self.found)
    }
}
