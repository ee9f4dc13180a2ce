//! Whether lines leave anything out: every place at the distance has one of them by it.

use rstar::RTree;
use rstar::primitives::Line;
use takeline::{Boundary, GeodesicSegment, Position};

use super::level::{Level, leaving, part_of};
use super::line::StandOffLine;

/// The outline is asked at places so far apart, in metres, and in the middle of every shorter side.
const ASKED_EVERY_M: f64 = 250.0;
/// A line is by a place within so much and its tolerance, in metres: more than the sag of its indexed parts.
const BESIDE_M: f64 = 2.0;
/// Water has this much more room than the narrowest that a rough line shows, in metres.
const ROOM_M: f64 = 1.0;
/// Lines are indexed in straight parts through the Earth that are no longer, in metres; their sag is a decimetre.
const LONGEST_PART_M: f64 = 2_000.0;
/// Radius of a sphere that is near enough to tell metres from decimetres, in metres.
const EARTH_M: f64 = 6_371_000.0;

/// The first place found that is at the distance, has room behind it, and is beside none of the lines.
pub(super) fn missed(
    level: &Level<'_>,
    lines: &[StandOffLine],
    (tolerance_m, narrowest_m): (f64, f64),
    counts: impl Fn(Position) -> bool,
) -> Option<Position> {
    let index = RTree::bulk_load(lines.iter().flat_map(parts).collect());
    let beside_m = BESIDE_M + tolerance_m;
    let is_missed = |place: &Position| {
        counts(*place)
            && index
                .nearest_neighbor_iter_with_distance_2(on_sphere(*place))
                .next()
                .is_none_or(|(_, away_2)| away_2 > beside_m * beside_m)
    };
    asked(level.boundary)
        .flat_map(|(on, ahead_deg)| [-90.0, 90.0].map(|turn_deg| (on, ahead_deg + turn_deg)))
        .filter_map(|(on, bearing_deg)| leaving(on, bearing_deg, level.at_m + narrowest_m + ROOM_M))
        .filter(|place| level.beyond_m(*place) > narrowest_m / 2.0 + ROOM_M)
        .filter_map(|place| level.reach(place))
        .find(is_missed)
}

/// Places on the outline, each with a bearing along it, in degrees true.
fn asked(boundary: &Boundary) -> impl Iterator<Item = (Position, f64)> + '_ {
    boundary.outlines().into_iter().flat_map(|ring| {
        let next: Vec<Position> = ring.iter().copied().cycle().skip(1).take(ring.len()).collect();
        ring.into_iter().zip(next).flat_map(|(from, to)| {
            let way = GeodesicSegment::between(from, to);
            let steps = (way.length().metres() / ASKED_EVERY_M).ceil().max(2.0);
            let bearing_deg = way.initial_bearing().degrees();
            (1..)
                .map(f64::from)
                .take_while(move |step| *step < steps)
                .filter_map(move |step| part_of(&way, step / steps))
                .map(move |place| (place, bearing_deg))
        })
    })
}

/// The straight parts of a line.
fn parts(line: &StandOffLine) -> Vec<Line<[f64; 3]>> {
    let places: Vec<Position> = line.all_the_way().collect();
    let mut parts = Vec::with_capacity(places.len());
    for pair in places.windows(2) {
        let way = GeodesicSegment::between(pair[0], pair[1]);
        let count = (way.length().metres() / LONGEST_PART_M).ceil().max(1.0);
        let mut from = on_sphere(pair[0]);
        for part in (1..).map(f64::from).take_while(|part| *part <= count) {
            let to = if part < count { part_of(&way, part / count).map(on_sphere) } else { None };
            let to = to.unwrap_or_else(|| on_sphere(pair[1]));
            parts.push(Line::new(from, to));
            from = to;
        }
    }
    parts
}

fn on_sphere(place: Position) -> [f64; 3] {
    let (lat, lon) = (place.latitude().degrees().to_radians(), place.longitude().degrees().to_radians());
    [lat.cos() * lon.cos(), lat.cos() * lon.sin(), lat.sin()].map(|share| EARTH_M * share)
}
