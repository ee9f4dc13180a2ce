use proptest::prelude::*;

use super::Chance;
use super::polygon::{Convex, Straight};
use crate::geodesic::direct;
use crate::{Arc, ArcSense, EdgeModel, Metres, PartSpec, Position, RingSpec};

/// One shape whole, and the same shape as parts that share borders, overlap, nest, and have holes that others fill.
#[derive(Debug, Clone)]
pub struct CutShape {
    /// What it was made from: the same seed makes the same shape.
    pub seed: u64,
    /// The whole, as one ring or circle.
    pub whole: PartSpec,
    /// The parts that make up the same water.
    pub parts: Vec<PartSpec>,
    /// A place about which it lies.
    pub centre: Position,
    /// How far it reaches from there, in metres, at most.
    pub reach_m: f64,
}

/// Cut shapes of all kinds, anywhere on Earth.
pub fn cut_shapes() -> impl Strategy<Value = CutShape> {
    any::<u64>().prop_map(CutShape::from_seed)
}

/// Nearer to a pole than this, in degrees, lines straight in latitude and longitude bend too much to be cut as if convex.
const STRAIGHT_LAT_DEG: f64 = 80.0;

impl CutShape {
    /// Makes one shape.
    #[must_use]
    pub fn from_seed(seed: u64) -> Self {
        let mut chance = Chance::new(seed);
        let reach_m = 10.0_f64.powf(chance.between(1.7, 5.2));
        match chance.below(5) {
            0 => disc(seed, reach_m, &mut chance),
            1 => grid(seed, reach_m.min(50_000.0), &mut chance),
            _ => polygon(seed, reach_m, &mut chance),
        }
    }

    /// A place beside the lines of the parts, inner borders included, or anywhere about.
    pub fn place(&self, chance: &mut Chance) -> Position {
        if chance.one_in(3) {
            let away_m = self.reach_m * 10.0_f64.powf(chance.between(-2.0, 0.6));
            return direct(self.centre, chance.between(0.0, 360.0), away_m);
        }
        let on_line = match &self.parts[chance.below(self.parts.len())] {
            PartSpec::Circle { centre, radius } => {
                direct(*centre, chance.between(0.0, 360.0), radius.metres())
            }
            PartSpec::Polygon { exterior, holes } => {
                let ring = if holes.is_empty() || chance.one_in(2) { exterior } else { &holes[0] };
                let at = chance.below(ring.vertices.len());
                let (from, to) = (ring.vertices[at], ring.vertices[(at + 1) % ring.vertices.len()]);
                let share = if chance.one_in(4) { 0.0 } else { chance.between(0.0, 1.0) };
                match ring.edges[at] {
                    EdgeModel::RhumbLine => Straight::Rhumb.between(from, to, share),
                    EdgeModel::PlateCarree => Straight::PlateCarree.between(from, to, share),
                    EdgeModel::Geodesic | EdgeModel::Arc(_) | EdgeModel::Unstated => {
                        Straight::Geodesic.between(from, to, share)
                    }
                }
            }
        };
        direct(on_line, chance.between(0.0, 360.0), 10.0_f64.powf(chance.between(-2.7, 2.0)))
    }
}

fn position(lat: f64, lon: f64) -> Position {
    Position::new(crate::Latitude::computed(lat), crate::Longitude::wrapping(lon))
}

/// A longitude anywhere, often beside 180°.
fn longitude(chance: &mut Chance) -> f64 {
    if chance.one_in(3) { 180.0 - chance.between(0.0, 0.5) } else { chance.between(-180.0, 180.0) }
}

/// A polygon of straight lines, cut along straight lines, with more parts inside.
fn polygon(seed: u64, reach_m: f64, chance: &mut Chance) -> CutShape {
    let straight = Straight::ALL[chance.below(3)];
    let lat = match straight {
        Straight::Geodesic if chance.one_in(4) => 90.0 - chance.between(0.0, 1.0),
        Straight::Geodesic => chance.between(-90.0, 90.0),
        Straight::Rhumb | Straight::PlateCarree => chance.between(-STRAIGHT_LAT_DEG, STRAIGHT_LAT_DEG),
    };
    let reach_m = if straight == Straight::Geodesic { reach_m } else { reach_m.min(50_000.0) };
    let centre = position(if chance.one_in(2) { lat } else { -lat }, longitude(chance));
    let whole = Convex::about(centre, reach_m, straight, chance);
    let parts = cut_up(&whole, chance);
    let exterior = whole.ring(chance);
    CutShape { seed, whole: PartSpec::Polygon { exterior, holes: vec![] }, parts, centre, reach_m }
}

/// A box of parallels and meridians, often touching the equator, cut along both.
fn grid(seed: u64, reach_m: f64, chance: &mut Chance) -> CutShape {
    let lat = if chance.one_in(3) { 0.0 } else { chance.between(-STRAIGHT_LAT_DEG, STRAIGHT_LAT_DEG) };
    let corner = position(lat, longitude(chance));
    let size_deg = reach_m / 160_000.0;
    let stretch = 1.0 / lat.to_radians().cos();
    let Some(whole) = Convex::parallels_and_meridians(corner, [size_deg, size_deg * stretch]) else {
        return polygon(seed, reach_m, chance);
    };
    let mut cells = vec![[0.0, 0.0, 1.0, 1.0]];
    for _ in 0..=chance.below(8) {
        let [south, west, north, east] = cells.swap_remove(chance.below(cells.len()));
        if chance.one_in(2) {
            let middle = chance.between(0.75 * south + 0.25 * north, 0.25 * south + 0.75 * north);
            cells.extend([[south, west, middle, east], [middle, west, north, east]]);
        } else {
            let middle = chance.between(0.75 * west + 0.25 * east, 0.25 * west + 0.75 * east);
            cells.extend([[south, west, north, middle], [south, middle, north, east]]);
        }
    }
    let (south_lat, west_lon) = (corner.latitude().degrees(), corner.longitude().degrees());
    let parts = cells
        .into_iter()
        .map(|[south, west, north, east]| {
            let at = |north: f64, east: f64| {
                let lon = west_lon + east * size_deg * stretch;
                position(south_lat + north * size_deg, crate::angle::wrap_degrees(lon))
            };
            let vertices = vec![at(south, west), at(south, east), at(north, east), at(north, west)];
            Convex { straight: Straight::PlateCarree, vertices }.part(chance)
        })
        .collect();
    let exterior = whole.ring(chance);
    let centre = whole.middle();
    CutShape { seed, whole: PartSpec::Polygon { exterior, holes: vec![] }, parts, centre, reach_m }
}

/// Parts that make up a polygon.
fn cut_up(whole: &Convex, chance: &mut Chance) -> Vec<PartSpec> {
    let mut pieces = vec![whole.clone()];
    for _ in 0..chance.below(7) {
        let piece = pieces.swap_remove(chance.below(pieces.len()));
        let halves = piece.halves(chance);
        if halves.iter().all(Convex::is_ample) {
            pieces.extend(halves);
        } else {
            pieces.push(piece);
        }
    }
    let mut parts = Vec::new();
    for piece in &pieces {
        match chance.below(5) {
            0 => {
                // a hole that another part fills
                let inscribed = piece.inscribed(chance);
                let inner =
                    if chance.one_in(2) && inscribed.is_ample() { inscribed } else { piece.shrunk(0.6) };
                let holes = vec![inner.nasty_ring(chance)];
                parts.push(PartSpec::Polygon { exterior: piece.nasty_ring_with(false, chance), holes });
                parts.push(inner.part(chance));
            }
            1 => parts.extend([piece.part(chance), piece.part(chance)]),
            _ => parts.push(piece.part(chance)),
        }
    }
    for _ in 0..chance.below(3) {
        let inner = if chance.one_in(2) { whole.inscribed(chance) } else { whole.shrunk(0.8) };
        if inner.is_ample() {
            parts.push(inner.part(chance));
        }
    }
    parts
}

/// A circle, cut into sectors, with more parts inside.
fn disc(seed: u64, reach_m: f64, chance: &mut Chance) -> CutShape {
    let lat = if chance.one_in(4) { 90.0 - chance.between(0.0, 0.5) } else { chance.between(-90.0, 90.0) };
    let centre = position(lat, longitude(chance));
    let radius = Metres::computed(reach_m);
    let circle = PartSpec::Circle { centre, radius };
    let rim = |bearing_deg: f64| direct(centre, bearing_deg, reach_m);
    let sense = ArcSense::Clockwise;
    let arc = EdgeModel::Arc(Arc { centre, radius, sense });
    let count = 2 + chance.below(4);
    let step_deg = 360.0 / f64::from(u32::try_from(count).unwrap_or(2));
    let turn_deg = chance.between(0.0, 360.0);
    let mut from_deg = turn_deg;
    let mut parts = Vec::new();
    for _ in 0..count {
        let mut vertices = vec![centre, rim(from_deg)];
        let mut edges = vec![EdgeModel::Geodesic, arc];
        if chance.one_in(2) {
            vertices.push(rim(from_deg + chance.between(0.2, 0.8) * step_deg));
            edges.push(arc);
        }
        vertices.push(rim(from_deg + step_deg));
        edges.push(EdgeModel::Geodesic);
        if chance.one_in(2) {
            vertices.push(direct(centre, from_deg + step_deg, reach_m * chance.between(0.2, 0.8)));
            edges.push(EdgeModel::Geodesic);
        }
        parts.push(PartSpec::Polygon {
            exterior: RingSpec { vertices, edges, sides: Vec::new() },
            holes: vec![],
        });
        from_deg += step_deg;
    }
    if chance.one_in(3) {
        parts.push(circle.clone());
    }
    if chance.one_in(3) {
        let away_m = reach_m * chance.between(0.0, 0.5);
        let inner = Metres::computed(reach_m - away_m - 0.1 * reach_m);
        let inner_centre = direct(centre, chance.between(0.0, 360.0), away_m);
        parts.push(PartSpec::Circle { centre: inner_centre, radius: inner });
    }
    CutShape { seed, whole: circle, parts, centre, reach_m }
}
