//! The places that are so far off a boundary, by the boundary's own distance.

use takeline::{Boundary, GeodesicSegment, Latitude, Located, Longitude, Metres, Position, TrueBearing};

use super::StandOffSide;

/// A line is halved so often at most between two places on it: half way into a corner of 20° the rest is shorter by 3 % each time.
const MOST_HALVINGS: u32 = 400;
/// A part of a line that is longer than this share of it is a step astray …
const SHORTER: f64 = 0.9;
/// … of which there may be so many, because a corner may be farther off than the ends are apart; then all guesses are half way.
const MOST_CORNERS_ASTRAY: u32 = 6;
/// More places than a leg of a rough line needs that is halved well.
const MOST_PLACES: usize = 4_000;
/// The cosine of a turn that is no corner: there half way between is a better guess.
const SMOOTH: f64 = 0.985;
/// A corner that is nearer to an end of the way than this share of it is that end.
const SAME_CORNER: f64 = 0.01;
/// A corner is looked for within so many times the way across it.
const FARTHEST_CORNER: f64 = 50.0;
/// So many places are looked at between two points of a line.
const LOOKED_AT: u32 = 10;
/// Up to this length all straight lines are one, to 2 mm at [`ON_A_MAP_DEG`] (length² · tan φ / 8R).
const STRAIGHT_M: f64 = 100.0;
/// So near to a pole no line is drawn that is straight in longitude and latitude.
pub(super) const ON_A_MAP_DEG: f64 = 85.0;
/// Two places nearer than this are one.
const TOGETHER_M: f64 = 0.002;
/// A part of a line that is shorter than this, in metres, may lead back.
const SHORTEST_TURNED_M: f64 = 0.05;
/// So often a place is brought nearer to its level.
const MOST_STEPS: u32 = 24;
/// How near it has to come.
const ON_LEVEL_M: f64 = 1e-4;

/// All places on one side of a boundary that are so far off it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Level<'b> {
    pub(super) boundary: &'b Boundary,
    pub(super) side: StandOffSide,
    pub(super) at_m: f64,
}

/// What may still be done to follow a level between two places.
#[derive(Debug, Clone, Copy)]
struct Left {
    halvings: u32,
    corners: u32,
    /// How many places there may be then.
    places: usize,
}

/// A closed way along a level.
pub(super) struct Followed {
    /// Its places; the first is not said again at the end.
    pub(super) places: Vec<Position>,
    /// Those of them that were walked to.
    pub(super) walked: Vec<Position>,
    /// Whether a way was found from each place to the next.
    pub(super) is_whole: bool,
}

/// Where a place lies of a level.
struct Off {
    /// How much farther off the boundary than the level it is; the level is that much nearer to the boundary.
    beyond_m: f64,
    located: Located,
}

impl Level<'_> {
    /// How far off the boundary a place is on this side, under the reading that has it nearest; negative on the other side.
    pub(super) fn distance_m(&self, place: Position) -> f64 {
        let far = self.boundary.how_far(place);
        match self.side {
            StandOffSide::Outside => far.least.metres(),
            StandOffSide::Inside => -far.greatest.metres(),
        }
    }

    /// How much farther off the boundary than the level a place is.
    pub(super) fn beyond_m(&self, place: Position) -> f64 {
        self.distance_m(place) - self.at_m
    }

    fn off(&self, place: Position) -> Off {
        let located = self.boundary.locate(place);
        let distance_m = match self.side {
            StandOffSide::Outside => located.least.metres(),
            StandOffSide::Inside => -located.greatest.metres(),
        };
        Off { beyond_m: distance_m - self.at_m, located }
    }

    /// Brings a place to the level: straight to the nearest point of the boundary, or straight away from it. None where that does
    /// not come to an end, as where the place has no way out of a corner.
    ///
    /// From beyond the level one step is exact: what is nearest stays nearest on the way there.
    pub(super) fn reach(&self, mut place: Position) -> Option<Position> {
        for _ in 0..MOST_STEPS {
            let Off { beyond_m, located } = self.off(place);
            if beyond_m.abs() <= ON_LEVEL_M {
                return Some(place);
            }
            // a place on the other side of the line has its level behind the line
            let is_across = self.at_m + beyond_m < 0.0;
            let (bearing, way_m) = match (is_across, beyond_m > 0.0) {
                (true, _) => (located.bearing, -beyond_m),
                (false, true) => (located.bearing, beyond_m),
                (false, false) => (located.bearing.reversed(), -beyond_m),
            };
            place = GeodesicSegment::leaving(place, bearing, Metres::new(way_m).ok()?).ok()?.to();
        }
        None
    }

    /// How much farther than the level places on a straight line are off the boundary, in metres: on the geodesic, and, where the
    /// line is long enough for that to matter, on the line that is straight in longitude and latitude.
    pub(super) fn along(&self, way: &GeodesicSegment) -> impl Iterator<Item = f64> {
        let shares = || (1..=LOOKED_AT).map(|step| f64::from(step) / f64::from(LOOKED_AT + 1));
        let is_long = way.length().metres() > STRAIGHT_M
            && [way.from(), way.to()].iter().all(|end| end.latitude().degrees().abs() < ON_A_MAP_DEG);
        let on_a_map = shares().filter(move |_| is_long).filter_map(move |share| on_a_map(way, share));
        shares()
            .filter_map(move |share| part_of(way, share))
            .chain(on_a_map)
            .map(|place| self.beyond_m(place))
    }

    /// Fills a line in until straight lines between its places keep to the level within a tolerance, in metres.
    pub(super) fn follow(&self, ring: &[Position], tolerance_m: f64) -> Followed {
        let next = ring.iter().cycle().skip(1);
        let mut places = Vec::with_capacity(2 * ring.len());
        let (mut walked, mut is_whole) = (Vec::new(), true);
        for (from, to) in ring.iter().zip(next) {
            places.push(*from);
            let before = places.len();
            let left =
                Left { halvings: MOST_HALVINGS, corners: MOST_CORNERS_ASTRAY, places: before + MOST_PLACES };
            if self.fill((*from, *to), tolerance_m, left, &mut places) {
                continue;
            }
            // where one walk does not arrive, no other would help the ring
            match is_whole.then(|| self.walk(*from, *to, tolerance_m)).flatten() {
                Some(way) => {
                    places.truncate(before);
                    places.extend(&way);
                    walked.extend(way);
                }
                None => is_whole = false,
            }
        }
        Followed { places, walked, is_whole }
    }

    /// Says whether all of it keeps to the level; if not, the last look sees what was not kept.
    fn fill(
        &self,
        (from, to): (Position, Position),
        tolerance_m: f64,
        left: Left,
        into: &mut Vec<Position>,
    ) -> bool {
        let way = GeodesicSegment::between(from, to);
        if way.length().metres() <= TOGETHER_M {
            return true;
        }
        if self.along(&way).all(|beyond_m| beyond_m.abs() <= tolerance_m) {
            return self.leads_on(&way);
        }
        if left.halvings == 0 || into.len() > left.places {
            return false;
        }
        let Some(middle) = part_of(&way, 0.5) else { return false };
        let beyond_m = self.beyond_m(middle);
        let corner = (beyond_m > 0.0 && left.corners > 0).then(|| self.corner(&way)).flatten();
        let corner = corner.filter(|corner| self.beyond_m(*corner).abs() < beyond_m);
        let corner = corner.and_then(|corner| self.reach(corner)).filter(|corner| is_between(&way, *corner));
        let Some(between) = corner.or_else(|| self.reach(middle)) else { return false };
        let after = |one: Position, other: Position| {
            let is_led_astray = corner.is_some() && gap_m(one, other) > SHORTER * way.length().metres();
            let corners = left.corners - u32::from(is_led_astray);
            Left { halvings: left.halvings - 1, corners, ..left }
        };
        let is_kept = self.fill((from, between), tolerance_m, after(from, between), into);
        into.push(between);
        self.fill((between, to), tolerance_m, after(between, to), into) && is_kept
    }

    /// Whether a straight part of a level has the zones on its left. What runs back goes the wrong way round: past sides that were
    /// passed already, and not past those that are still to come.
    fn leads_on(&self, way: &GeodesicSegment) -> bool {
        let bearing_deg = way.initial_bearing().degrees();
        way.length().metres() < SHORTEST_TURNED_M
            || part_of(way, 0.5).is_some_and(|middle| turn_cos(self.ahead(middle), bearing_deg) > 0.0)
    }

    /// Where the level lines through both ends of a way meet, if they went straight on: near the corner between two places that have
    /// different parts of the boundary nearest. None where they meet far off, or behind where the way begins.
    fn corner(&self, way: &GeodesicSegment) -> Option<Position> {
        let towards = |place: Position| self.off(place).located.bearing.degrees().to_radians();
        let (at_from, at_to) = (towards(way.from()), towards(way.to()));
        let ahead = way.initial_bearing().degrees().to_radians();
        // along the level line from its first end, so far that the way from there to the last end is square to what is nearest to that
        let turned = (at_from - at_to).sin();
        let along_m = way.length().metres() * (ahead - at_to).cos() / -turned;
        let is_smooth = (at_from - at_to).cos() > SMOOTH;
        if is_smooth || along_m.is_nan() || along_m.abs() > FARTHEST_CORNER * way.length().metres() {
            return None;
        }
        let square = if along_m < 0.0 { -90.0 } else { 90.0 };
        let bearing_deg = at_from.to_degrees() + square;
        if turn_cos(bearing_deg, self.ahead(way.from())) < 0.0 {
            return None;
        }
        let bearing = TrueBearing::from_degrees(bearing_deg).ok()?;
        let leg = GeodesicSegment::leaving(way.from(), bearing, Metres::new(along_m.abs()).ok()?).ok()?;
        is_between(way, leg.to()).then_some(leg.to())
    }
}

/// Whether a corner is none of the ends: an end that is a corner itself has either part of the boundary nearest.
fn is_between(way: &GeodesicSegment, corner: Position) -> bool {
    let near_m = SAME_CORNER * way.length().metres();
    [way.from(), way.to()].into_iter().all(|end| gap_m(end, corner) > near_m)
}

/// A place on a geodesic at a share of its length.
pub(super) fn part_of(way: &GeodesicSegment, share: f64) -> Option<Position> {
    let length = Metres::new(way.length().metres() * share).ok()?;
    GeodesicSegment::leaving(way.from(), way.initial_bearing(), length).ok().map(|part| part.to())
}

/// A place at a share of a line that is straight in longitude and latitude.
fn on_a_map(way: &GeodesicSegment, share: f64) -> Option<Position> {
    let [from, to] = [way.from(), way.to()].map(|end| (end.latitude().degrees(), end.longitude().degrees()));
    let turn_deg = Longitude::wrapping(to.1 - from.1).degrees();
    let longitude = Longitude::wrapping(from.1 + share * turn_deg);
    let latitude = Latitude::from_degrees(from.0 + share * (to.0 - from.0)).ok()?;
    Some(Position::new(latitude, longitude))
}

pub(super) fn gap_m(one: Position, other: Position) -> f64 {
    GeodesicSegment::between(one, other).length().metres()
}

/// Leaves out what says a place again.
pub(super) fn without_repeats(ring: Vec<Position>) -> Vec<Position> {
    let mut kept: Vec<Position> = Vec::with_capacity(ring.len());
    for place in ring {
        if kept.last().is_none_or(|last| gap_m(*last, place) > TOGETHER_M) {
            kept.push(place);
        }
    }
    while kept.len() > 1
        && kept.first().zip(kept.last()).is_some_and(|(one, other)| gap_m(*one, *other) <= TOGETHER_M)
    {
        kept.pop();
    }
    kept
}

/// The place that lies so far from another on a bearing, in degrees true and metres.
pub(super) fn leaving(at: Position, ahead_deg: f64, step_m: f64) -> Option<Position> {
    let bearing = TrueBearing::from_degrees(ahead_deg).ok()?;
    GeodesicSegment::leaving(at, bearing, Metres::new(step_m).ok()?).ok().map(|leg| leg.to())
}

/// The cosine of the angle between two bearings.
pub(super) fn turn_cos(one_deg: f64, other_deg: f64) -> f64 {
    (one_deg - other_deg).to_radians().cos()
}
