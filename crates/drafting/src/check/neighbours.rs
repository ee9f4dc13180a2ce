//! Zones that lie side by side: borders that are nearly, but not quite, the same.

use rstar::primitives::{GeomWithData, Rectangle};
use rstar::{AABB, RTree};
use takeline::zone::{Extent, Zone};
use takeline::{Boundary, PartSpec, Position};

use super::notation::DEGREE_M;
use super::{Finding, FindingKind, Spot};

/// Nearer than this two borders are one, in metres: the last digit of most files.
const SAME_M: f64 = 0.5;
/// Farther apart than this they are two, in metres.
const ASIDE_M: f64 = 200.0;
/// A side is along a border if it is this many times as long as it is far from it.
const TIMES: f64 = 20.0;
/// Vertices that are looked at in all: a file of zones that all lie over each other must not take for ever.
const MOST_LOOKS: usize = 3_000_000;

type ZoneBox = GeomWithData<Rectangle<[f64; 2]>, usize>;

/// One zone with a line, by its place in the file.
struct Known<'z> {
    boundary: &'z Boundary,
    rings: Vec<Vec<Position>>,
    low: [f64; 2],
    high: [f64; 2],
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
        let (mut low, mut high) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
        for place in rings.iter().flatten() {
            let at = [place.latitude().degrees(), place.longitude().degrees()];
            for axis in 0..2 {
                low[axis] = low[axis].min(at[axis]);
                high[axis] = high[axis].max(at[axis]);
            }
        }
        // a zone across 180° would seem to reach round the Earth: it is left out
        (low[0] <= high[0] && high[1] - low[1] < 180.0).then_some(Self { boundary, rings, low, high })
    }
}

/// What neighbours show of each other, each pair once.
pub(super) fn findings(zones: &[Zone], spots: &[Spot], found: &mut Vec<Finding>) {
    let known: Vec<(usize, Known<'_>)> =
        zones.iter().enumerate().filter_map(|(at, zone)| Some((at, Known::of(zone)?))).collect();
    let boxes = known
        .iter()
        .enumerate()
        .map(|(number, (_, zone))| ZoneBox::new(Rectangle::from_corners(zone.low, zone.high), number));
    let boxes = RTree::bulk_load(boxes.collect());
    let mut looks = 0;
    for (number, (at, zone)) in known.iter().enumerate() {
        let room_lat = ASIDE_M / DEGREE_M;
        let room_lon = room_lat / zone.high[0].abs().max(zone.low[0].abs()).min(89.0).to_radians().cos();
        let about = AABB::from_corners(
            [zone.low[0] - room_lat, zone.low[1] - room_lon],
            [zone.high[0] + room_lat, zone.high[1] + room_lon],
        );
        let mut others: Vec<usize> = boxes
            .locate_in_envelope_intersecting(about)
            .map(|other| other.data)
            .filter(|other| *other != number)
            .collect();
        others.sort_unstable();
        for other in others {
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

/// The vertex nearest to another zone's boundary, without being on it, at the end of a side that runs along it.
fn alongside(zone: &Known<'_>, other: &Known<'_>) -> Option<(usize, usize, f64)> {
    let mut nearest: Option<(usize, usize, f64)> = None;
    for (r, ring) in zone.rings.iter().enumerate() {
        let off_m: Vec<f64> = ring
            .iter()
            .map(|vertex| {
                let at = [vertex.latitude().degrees(), vertex.longitude().degrees()];
                let room = 2.0 * ASIDE_M / DEGREE_M / at[0].abs().min(89.0).to_radians().cos();
                let is_near = (0..2)
                    .all(|axis| at[axis] > other.low[axis] - room && at[axis] < other.high[axis] + room);
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
    let middle = |one: f64, two: f64| one.midpoint(two);
    let (lat, lon) = (
        middle(from.latitude().degrees(), to.latitude().degrees()),
        middle(from.longitude().degrees(), to.longitude().degrees()),
    );
    Position::from_degrees(lat, lon)
        .map_or(f64::INFINITY, |place| other.boundary.locate(place).signed_distance.metres().abs())
}

/// About how long a side is, in metres.
pub(super) fn span_m(from: Position, to: Position) -> f64 {
    let north = to.latitude().degrees() - from.latitude().degrees();
    let east = (to.longitude().degrees() - from.longitude().degrees())
        * from.latitude().degrees().to_radians().cos();
    north.hypot(east) * DEGREE_M
}
