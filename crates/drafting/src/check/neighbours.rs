//! Zones that lie side by side: borders that are nearly, but not quite, the same.

use std::collections::BTreeSet;

use rstar::primitives::{GeomWithData, Rectangle};
use rstar::{AABB, RTree};
use takeline::zone::{Extent, Zone};
use takeline::{Boundary, PartSpec, Position};

use super::notation::DEGREE_M;
use super::{Finding, FindingKind, Spot};
use crate::survey::{GeoBox, within_half_a_turn};

/// Nearer than this two borders are one, in metres: the last digit of most files.
const SAME_M: f64 = 0.5;
/// Farther apart than this they are two, in metres.
const ASIDE_M: f64 = 200.0;
/// A side is along a border if it is this many times as long as it is far from it.
const TIMES: f64 = 20.0;
/// Boxes that come so near to 180°, in degrees, are seen from its other side too: more than any room about them.
const ROOM_DEG: f64 = 1.0;
/// Vertices that are looked at in all: a file of zones that all lie over each other must not take for ever.
const MOST_LOOKS: usize = 3_000_000;

type ZoneBox = GeomWithData<Rectangle<[f64; 2]>, usize>;

/// One zone with a line, by its place in the file.
struct Known<'z> {
    boundary: &'z Boundary,
    rings: Vec<Vec<Position>>,
    /// The box of each ring; its east goes on over 180°.
    boxes: Vec<[[f64; 2]; 2]>,
}

impl<'z> Known<'z> {
    fn of(zone: &'z Zone) -> Option<Self> {
        let Extent::Known(boundary) = &zone.extent else { return None };
        let rings: Vec<Vec<Position>> = boundary
            .parts()
            .into_iter()
            .filter_map(|part| match part {
                PartSpec::Polygon { exterior, .. } => Some(exterior.vertices),
                PartSpec::Circle { .. } => None,
            })
            .collect();
        let boxes: Vec<[[f64; 2]; 2]> = rings.iter().map(|ring| box_about(ring)).collect();
        (!boxes.is_empty()).then_some(Self { boundary, rings, boxes })
    }

    /// Its boxes, and those again that reach to 180° as they look from the other side.
    fn seen_both_ways(&self) -> impl Iterator<Item = [[f64; 2]; 2]> {
        self.boxes.iter().flat_map(|own| {
            let turned = [-360.0, 360.0].map(|turn| own.map(|[lat, lon]| [lat, lon + turn]));
            let reaches =
                |[low, high]: &[[f64; 2]; 2]| low[1] <= 180.0 + ROOM_DEG && high[1] >= -180.0 - ROOM_DEG;
            std::iter::once(*own).chain(turned.into_iter().filter(reaches))
        })
    }

    /// Whether a place is so near that its distance is worth knowing.
    fn is_near(&self, place: Position) -> bool {
        let at = [place.latitude().degrees(), place.longitude().degrees()];
        let [room_lat, room_lon] = room(2.0 * ASIDE_M, at[0]);
        self.boxes.iter().any(|[low, high]| {
            let beside = |lon: f64| lon > low[1] - room_lon && lon < high[1] + room_lon;
            let level = at[0] > low[0] - room_lat && at[0] < high[0] + room_lat;
            level && [at[1] - 360.0, at[1], at[1] + 360.0].into_iter().any(beside)
        })
    }
}

/// The lowest latitude and longitude of a ring, and the highest.
fn box_about(ring: &[Position]) -> [[f64; 2]; 2] {
    let GeoBox { south_deg, west_deg, north_deg, east_deg } = GeoBox::about(ring);
    let east_deg = if east_deg < west_deg { east_deg + 360.0 } else { east_deg };
    [[south_deg, west_deg], [north_deg, east_deg]]
}

/// So many metres as degrees of latitude, and of longitude at a latitude.
fn room(room_m: f64, lat: f64) -> [f64; 2] {
    let room_lat = room_m / DEGREE_M;
    [room_lat, room_lat / lat.abs().min(89.0).to_radians().cos()]
}

/// What neighbours show of each other, each pair once.
pub(super) fn findings(zones: &[Zone], spots: &[Spot], found: &mut Vec<Finding>) {
    let known: Vec<(usize, Known<'_>)> =
        zones.iter().enumerate().filter_map(|(at, zone)| Some((at, Known::of(zone)?))).collect();
    let boxes = known.iter().enumerate().flat_map(|(number, (_, zone))| {
        let seen = zone.seen_both_ways().collect::<Vec<_>>();
        seen.into_iter().map(move |[low, high]| ZoneBox::new(Rectangle::from_corners(low, high), number))
    });
    let boxes = RTree::bulk_load(boxes.collect());
    let mut looks = 0;
    for (number, (at, zone)) in known.iter().enumerate() {
        for other in beside(&boxes, number, zone) {
            let (other_at, other) = &known[other];
            if zone.rings == other.rings {
                if at < other_at {
                    let kind = FindingKind::SameLine { other: zones[*other_at].id.0.clone() };
                    found.push(Finding::at(kind, spots[*at].clone()));
                }
                continue;
            }
            looks += zone.rings.iter().map(Vec::len).sum::<usize>();
            if looks > MOST_LOOKS {
                let kind = FindingKind::NeighboursLeft { zones: known.len() - number };
                found.push(Finding::at(kind, Spot::default()));
                return;
            }
            if let Some((ring, vertex, signed_m)) = alongside(zone, other) {
                let kind = FindingKind::NearlyShared {
                    other: zones[*other_at].id.0.clone(),
                    apart_m: signed_m.abs(),
                    overlaps: signed_m < 0.0,
                };
                let part = (zone.rings.len() > 1).then_some(ring + 1);
                let spot = Spot { part, ring: Some(1), vertex: Some(vertex + 1), ..spots[*at].clone() };
                found.push(Finding::at(kind, spot));
            }
        }
    }
}

/// The zones whose boxes meet those of another, with room about them.
fn beside(boxes: &RTree<ZoneBox>, number: usize, zone: &Known<'_>) -> BTreeSet<usize> {
    let about = |[low, high]: &[[f64; 2]; 2]| {
        let [room_lat, room_lon] = room(ASIDE_M, high[0].abs().max(low[0].abs()));
        AABB::from_corners([low[0] - room_lat, low[1] - room_lon], [high[0] + room_lat, high[1] + room_lon])
    };
    let met = zone.boxes.iter().flat_map(|own| boxes.locate_in_envelope_intersecting(about(own)));
    met.map(|other| other.data).filter(|other| *other != number).collect()
}

/// The vertex nearest to another zone's boundary, without being on it, at the end of a side that runs along it.
fn alongside(zone: &Known<'_>, other: &Known<'_>) -> Option<(usize, usize, f64)> {
    let mut nearest: Option<(usize, usize, f64)> = None;
    for (r, ring) in zone.rings.iter().enumerate() {
        let off_m: Vec<f64> = ring
            .iter()
            .map(|vertex| {
                let is_near = other.is_near(*vertex);
                if is_near { other.boundary.locate(*vertex).signed_distance.metres() } else { f64::INFINITY }
            })
            .collect();
        for from in 0..ring.len() {
            let to = (from + 1) % ring.len();
            let farther_m = off_m[from].abs().max(off_m[to].abs());
            if farther_m > ASIDE_M || farther_m <= SAME_M {
                continue;
            }
            let long_m = span_m(ring[from], ring[to]);
            let off_at = if off_m[from].abs() > SAME_M { from } else { to };
            let is_along =
                long_m > TIMES * farther_m && half_way_m(ring[from], ring[to], other) <= 2.0 * farther_m;
            if is_along && nearest.is_none_or(|(_, _, best_m)| off_m[off_at].abs() < f64::abs(best_m)) {
                nearest = Some((r, off_at, off_m[off_at]));
            }
        }
    }
    nearest
}

/// About how far the middle of a side is from the other boundary: of a side that only begins and ends there, far.
fn half_way_m(from: Position, to: Position, other: &Known<'_>) -> f64 {
    let lat = from.latitude().degrees().midpoint(to.latitude().degrees());
    let lon = from.longitude().degrees() + 0.5 * east_deg(from, to);
    Position::from_degrees(lat, within_half_a_turn(lon))
        .map_or(f64::INFINITY, |place| other.boundary.locate(place).signed_distance.metres().abs())
}

/// About how long a side is, in metres.
pub(super) fn span_m(from: Position, to: Position) -> f64 {
    let north = to.latitude().degrees() - from.latitude().degrees();
    let east = east_deg(from, to) * from.latitude().degrees().to_radians().cos();
    north.hypot(east) * DEGREE_M
}

/// How far one place lies to the east of another, the short way round, in degrees.
fn east_deg(from: Position, to: Position) -> f64 {
    within_half_a_turn(to.longitude().degrees() - from.longitude().degrees())
}

#[cfg(test)]
mod tests {
    use takeline::rule::Take;
    use takeline::{EdgeModel, RingSpec};

    use super::*;

    fn boxed(id: &str, (south, west): (f64, f64), (north, east): (f64, f64)) -> Zone {
        let corners = [(south, west), (south, east), (north, east), (north, west)];
        let vertices = corners.map(|(lat, lon)| Position::from_degrees(lat, lon).unwrap()).to_vec();
        let exterior = RingSpec { vertices, edges: vec![EdgeModel::RhumbLine; 4], sides: Vec::new() };
        let part = PartSpec::Polygon { exterior, holes: Vec::new() };
        Zone::new(id, id, Extent::Known(Boundary::build(&[part]).unwrap()), Take::Nothing.into())
    }

    fn told(zones: &[Zone]) -> usize {
        let spots = vec![Spot::default(); zones.len()];
        let mut found = Vec::new();
        findings(zones, &spots, &mut found);
        found.iter().filter(|one| matches!(one.kind, FindingKind::NearlyShared { .. })).count()
    }

    /// A sliver of 0.0001° of longitude, some 10 m.
    #[test]
    fn neighbours_are_compared_across_180_degrees_as_anywhere() {
        for middle in [30.0, 180.0, 179.9999, -179.95] {
            let lon = |off: f64| within_half_a_turn(middle + off);
            let zones = [
                boxed("west", (-17.0, lon(-0.1)), (-16.9, lon(0.0))),
                boxed("east", (-17.0, lon(0.0001)), (-16.9, lon(0.1))),
            ];
            assert_eq!(told(&zones), 2, "at {middle}");
        }
        let apart =
            [boxed("a", (-17.0, 179.8), (-16.9, 179.9)), boxed("b", (-17.0, -179.9), (-16.9, -179.8))];
        assert_eq!(told(&apart), 0);
    }
}
