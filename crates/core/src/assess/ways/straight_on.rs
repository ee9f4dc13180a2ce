//! What lies along the bow, and on the straight way home.

use super::super::Question;
use super::along::{Straight, Stretch, through};
use super::clearance::{Asked, Waters};
use super::land::Land;
use super::search::Search;
use super::{Crossing, OnHeading, WayHome};
use crate::geodesic::inverse;
use crate::once::say_once;
use crate::zone::{Zone, ZoneSet};
use crate::{Fix, Metres, Position, TrueBearing};

/// Along the bow nothing is looked for farther off than this, in metres.
const FARTHEST_M: f64 = ZoneSet::FAR_M;

/// What lies along the bow of a boat.
pub(in super::super) fn on_heading(
    (zones, land): (&ZoneSet, &Land<'_>),
    (fix, question): (&Fix, &Question),
    heading: TrueBearing,
) -> OnHeading {
    let (bearing_deg, from) = (heading.degrees(), fix.position);
    let met_m = land.met_at_m(bearing_deg, FARTHEST_M);
    let way = Straight { from, bearing_deg, length_m: met_m.unwrap_or(FARTHEST_M) };
    let (time, access) = (question.time_of(fix), question.circumstances.access);
    let restricts = |zone: &Zone| !zone.rule.restricts_nothing();
    let mut waters = Waters::new(Asked { zones, fix, time, access }, &restricts);
    let clear = clear_on(&mut waters, land, way);
    let clear_m = clear.ok();
    let through = through(zones, way, (time, access));
    let boundary = through.stretches.iter().flat_map(|stretch| stretch.lines(through.told_to_m));
    let boundary = boundary.min_by(|a, b| a.1.total_cmp(&b.1));
    let id = |number: usize| zones.zones().get(number).map(|zone| zone.id.clone());
    let to_m = clear_m.unwrap_or(through.told_to_m);
    let entered = through.stretches.iter().filter(|stretch| stretch.from_m > 0.0 && stretch.from_m < to_m);
    let mut crosses = entered.filter_map(|stretch| id(stretch.number)).collect();
    say_once(&mut crosses);
    OnHeading {
        heading,
        boundary: boundary.map(|(_, at_m)| Metres::computed(at_m)),
        boundary_of: boundary.and_then(|(number, _)| id(number)),
        clear: clear_m.map(Metres::computed),
        none_nearer_than: clear.err().filter(|none_m| *none_m < way.length_m).map(Metres::computed),
        land: met_m.map(Metres::computed),
        over_land: land.over_land((bearing_deg, to_m), met_m),
        crosses,
        looked_to: Metres::computed(through.told_to_m),
    }
}

impl Stretch {
    /// Where the way meets the line of the zone, with its place in the set.
    fn lines(&self, told_to_m: f64) -> impl Iterator<Item = (usize, f64)> {
        let enters = Some(self.from_m).filter(|at_m| *at_m > 0.0);
        let leaves = Some(self.to_m).filter(move |at_m| *at_m < told_to_m);
        let number = self.number;
        enters.or(leaves).map(move |at_m| (number, at_m)).into_iter()
    }
}

/// The first clear place on a way, or how far there is none; ever more zones are looked at until there is one, or no more may be had.
fn clear_on(waters: &mut Waters<'_>, land: &Land<'_>, way: Straight) -> Result<f64, f64> {
    let mut look_m = way.length_m.min(2_000.0);
    loop {
        waters.look_to(look_m);
        let search = Search::new(way.from, (waters, land), look_m);
        let found = search.first_clear(way.bearing_deg, look_m);
        match found {
            Err(none_m) if none_m >= look_m && look_m < way.length_m => {}
            found => return found,
        }
        look_m = (4.0 * look_m).min(way.length_m);
    }
}

/// The straight way home, and what it crosses.
pub(in super::super) fn way_home(
    (zones, land): (&ZoneSet, &Land<'_>),
    (fix, question): (&Fix, &Question),
    home: Position,
) -> WayHome {
    let line = inverse(fix.position, home);
    let way = Straight { from: fix.position, bearing_deg: line.azimuth_start_deg, length_m: line.distance_m };
    let through = through(zones, way, (question.time_of(fix), question.circumstances.access));
    let crossing = |stretch: &Stretch| {
        let summary = zones.summary(stretch.number, zones.zones().get(stretch.number)?);
        Some(Crossing {
            zone: summary.id.clone(),
            name: summary.name.clone(),
            from: Metres::computed(stretch.from_m),
            to: Metres::computed(stretch.to_m),
            binds: stretch.holds,
            passage: summary.passage.clone(),
        })
    };
    let met_m = land.met_at_m(line.azimuth_start_deg, line.distance_m);
    WayHome {
        distance: Metres::computed(line.distance_m),
        bearing: TrueBearing::wrapping(line.azimuth_start_deg),
        to: home,
        crosses: through.stretches.iter().filter_map(crossing).collect(),
        land: met_m.map(Metres::computed),
        over_land: land.over_land((line.azimuth_start_deg, line.distance_m), met_m),
        looked_to: Metres::computed(through.told_to_m),
        seconds: question.seconds_for(line.distance_m),
    }
}
