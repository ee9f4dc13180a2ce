//! All pieces of a boundary under one reading of its edges, indexed, and the nearest point among them.

use rstar::RTree;

use super::piece::{Chord, Foot, Piece};
use super::ring::{CutRing, point_key};
use crate::Position;
use crate::geodesic::{
    LARGEST_RADIUS_M, SMALLEST_RADIUS_M, Surface, Vector, from_earth_centred, inverse, surface,
};

const NONE: u32 = u32::MAX;
/// Up to this distance the side comes from the piece's own plane, beyond it from the bearing at the foot.
const PLANE_SIDE_M: f64 = 50_000.0;
/// Up to this distance the foot found with straight lines through the Earth is the geodesic's to 0.1 mm.
const STRAIGHT_FOOT_M: f64 = 300_000.0;
/// Beyond this, chords through the Earth no longer order geodesics closely enough to prune by.
const PRUNABLE_M: f64 = 6_000_000.0;

/// The pieces of all rings, the zone on the left of each, with the pieces that follow and precede them.
#[derive(Debug, Clone)]
pub(super) struct Lines {
    pub(super) pieces: Vec<Piece>,
    pub(super) next: Vec<u32>,
    pub(super) previous: Vec<u32>,
    pub(super) tree: RTree<Chord>,
    reach_m: f64,
}

/// The nearest point of the lines.
#[derive(Debug, Clone, Copy)]
pub(super) struct Nearest {
    /// Geodesic distance, negative if the place is on the left.
    pub(super) signed_m: f64,
    pub(super) position: Position,
    pub(super) azimuth_deg: f64,
    /// The edge that holds it.
    pub(super) edge: u32,
}

impl Lines {
    /// Links and indexes pieces; each inner list is one ring in order, with some pieces possibly left out.
    pub(super) fn new(rings: Vec<Vec<Piece>>) -> Self {
        let (next, previous) = link(&rings);
        let pieces: Vec<Piece> = rings.into_iter().flatten().collect();
        let reach_m = pieces.iter().map(Piece::reach_m).fold(0.0, f64::max);
        let chords = pieces.iter().zip(0..).map(|(piece, number)| Chord {
            start: piece.start,
            end: piece.end,
            piece: number,
        });
        let tree = RTree::bulk_load(chords.collect());
        Self { pieces, next, previous, tree, reach_m }
    }

    /// Area on the left of the lines, in square metres: each closed way along them counted with its sign.
    pub(super) fn area_m2(&self) -> f64 {
        self.ways().into_iter().map(|way| CutRing { pieces: way, misfits_m: Vec::new() }.area_m2()).sum()
    }

    /// The closed ways along the lines.
    pub(super) fn ways(&self) -> Vec<Vec<Piece>> {
        let mut seen = vec![false; self.pieces.len()];
        let mut ways = Vec::new();
        for first in 0..self.pieces.len() {
            let mut way = Vec::new();
            let mut at = first;
            while at < self.pieces.len() && !seen[at] {
                seen[at] = true;
                way.push(self.pieces[at]);
                at = self.next[at] as usize;
            }
            if !way.is_empty() {
                ways.push(way);
            }
        }
        ways
    }

    /// Finds the nearest point; none if there are no pieces.
    pub(super) fn nearest(&self, place: Position) -> Option<Nearest> {
        let here = surface(place);
        let candidates = self.candidates(&here);
        let best_m = candidates.iter().map(|(_, foot)| foot.chord_m).fold(f64::INFINITY, f64::min);
        if !best_m.is_finite() {
            return None;
        }
        let (piece, share) = if best_m > STRAIGHT_FOOT_M {
            self.refine(place, &candidates)
        } else {
            let limit_m = best_m + slack_m(best_m);
            let close = candidates.iter().filter(|(_, foot)| foot.chord_m <= limit_m);
            let geodesic = |foot: &Foot| inverse(place, from_earth_centred(foot.point)).distance_m;
            close
                .map(|(piece, foot)| (*piece, foot.share, geodesic(foot)))
                .min_by(|a, b| a.2.total_cmp(&b.2))
                .map(|(piece, share, _)| (piece, share))?
        };
        Some(self.measure(place, &here, (piece, share)))
    }

    /// Pieces that may hold the nearest point, each with its own nearest point.
    fn candidates(&self, here: &Surface) -> Vec<(u32, Foot)> {
        let mut found: Vec<(u32, Foot)> = Vec::new();
        let mut best_m = f64::INFINITY;
        for (chord, distance_2) in self.tree.nearest_neighbor_iter_with_distance_2(here.point.to_array()) {
            // the piece is nowhere nearer than its chord less the reach of its bulge
            if distance_2.sqrt() - self.reach_m > best_m + slack_m(best_m) {
                break;
            }
            let foot = self.pieces[chord.piece as usize].foot(here.point);
            best_m = best_m.min(foot.chord_m);
            found.push((chord.piece, foot));
        }
        found
    }

    /// The nearest point of distant pieces, by geodesics: best of three places on each, then golden section about it.
    fn refine(&self, place: Position, candidates: &[(u32, Foot)]) -> (u32, f64) {
        let distance_m = |piece: u32, share: f64| {
            inverse(place, from_earth_centred(self.pieces[piece as usize].at(share))).distance_m
        };
        let mut best = (candidates[0].0, 0.0, f64::INFINITY);
        for (piece, foot) in candidates {
            for share in [0.0, 0.5, 1.0, foot.share] {
                let candidate_m = distance_m(*piece, share);
                if candidate_m < best.2 {
                    best = (*piece, share, candidate_m);
                }
            }
        }
        let mut spans = vec![(best.0, best.1 - 0.5, best.1 + 0.5)];
        if best.1 <= 0.5 && self.previous[best.0 as usize] != NONE {
            spans.push((self.previous[best.0 as usize], 0.5, 1.0));
        }
        if best.1 >= 0.5 && self.next[best.0 as usize] != NONE {
            spans.push((self.next[best.0 as usize], 0.0, 0.5));
        }
        for (piece, low, high) in spans {
            let share = golden_section(low.max(0.0), high.min(1.0), |share| distance_m(piece, share));
            let candidate_m = distance_m(piece, share);
            if candidate_m < best.2 {
                best = (piece, share, candidate_m);
            }
        }
        (best.0, best.1)
    }

    fn measure(&self, place: Position, here: &Surface, (piece, share): (u32, f64)) -> Nearest {
        let on = &self.pieces[piece as usize];
        let point = on.at(share);
        let position = from_earth_centred(point);
        let line = inverse(place, position);
        let toward = if line.distance_m <= PLANE_SIDE_M {
            here.point - point
        } else {
            let foot = surface(position);
            let (sin, cos) = line.azimuth_end_deg.to_radians().sin_cos();
            -(foot.north * cos + foot.east * sin)
        };
        let side = toward.dot(self.left_at(piece, share));
        let signed_m = if side > 0.0 { -line.distance_m } else { line.distance_m };
        Nearest { signed_m, position, azimuth_deg: line.azimuth_start_deg, edge: on.edge }
    }

    /// Direction to the left at a share of a piece; at a vertex the sum of both pieces' lefts, which points into the
    /// zone for every place that has the vertex as its nearest point.
    fn left_at(&self, piece: u32, share: f64) -> Vector {
        let on = &self.pieces[piece as usize];
        let own = on.left_at(share);
        let neighbour = |number: u32, share: f64| {
            if number == NONE { Vector::default() } else { self.pieces[number as usize].left_at(share) }
        };
        if share <= 0.0 {
            own + neighbour(self.previous[piece as usize], 1.0)
        } else if share >= 1.0 {
            own + neighbour(self.next[piece as usize], 0.0)
        } else {
            own
        }
    }
}

/// How much longer the chord of the geodesically nearest point may be than the shortest chord, in metres.
///
/// A geodesic of length s has a chord c with s − c ≈ c³ / 24 R², and R is between the smallest and the largest radius
/// of curvature of the ellipsoid, 1 % apart; the next term of the series is under c²/ R² of it.
fn slack_m(chord_m: f64) -> f64 {
    if chord_m > PRUNABLE_M {
        return f64::INFINITY;
    }
    let (low, high) = (chord_m / LARGEST_RADIUS_M, chord_m / SMALLEST_RADIUS_M);
    let excess_m = chord_m * (high * high - low * low) / 24.0 * (1.0 + high * high);
    2.0 * excess_m + 1e-6
}

fn golden_section(mut low: f64, mut high: f64, value: impl Fn(f64) -> f64) -> f64 {
    let ratio = (5.0_f64.sqrt() - 1.0) / 2.0;
    let (mut left, mut right) = (high - ratio * (high - low), low + ratio * (high - low));
    let (mut at_left, mut at_right) = (value(left), value(right));
    while high - low > 1e-7 {
        if at_left < at_right {
            (high, right, at_right) = (right, left, at_left);
            left = high - ratio * (high - low);
            at_left = value(left);
        } else {
            (low, left, at_left) = (left, right, at_right);
            right = low + ratio * (high - low);
            at_right = value(right);
        }
    }
    low.midpoint(high)
}

/// Links pieces that follow each other: in their ring, and over the gaps that seams have left, from ring to ring.
fn link(rings: &[Vec<Piece>]) -> (Vec<u32>, Vec<u32>) {
    let count: usize = rings.iter().map(Vec::len).sum();
    let (mut next, mut previous) = (vec![NONE; count], vec![NONE; count]);
    let mut first = 0_usize;
    for ring in rings {
        for at in 0..ring.len() {
            let after = (at + 1) % ring.len();
            if (ring[at].end - ring[after].start).norm() < 1e-4 {
                next[first + at] = number(first + after);
                previous[first + after] = number(first + at);
            }
        }
        first += ring.len();
    }
    let pieces: Vec<&Piece> = rings.iter().flatten().collect();
    let mut starts: Vec<((u64, u64), usize)> =
        (0..count).filter(|at| previous[*at] == NONE).map(|at| (rounded_key(pieces[at].start), at)).collect();
    starts.sort_unstable();
    for at in 0..count {
        if next[at] != NONE {
            continue;
        }
        let key = rounded_key(pieces[at].end);
        if let Ok(found) = starts.binary_search_by(|(start, _)| start.cmp(&key)) {
            let after = starts.remove(found).1;
            next[at] = number(after);
            previous[after] = number(at);
        }
    }
    (next, previous)
}

fn number(at: usize) -> u32 {
    u32::try_from(at).unwrap_or(NONE)
}

/// A key for a vertex that two rings share, from its earth-centred point: rounded to about a micrometre.
fn rounded_key(point: Vector) -> (u64, u64) {
    let position = from_earth_centred(point);
    let rounded = |degrees: f64| (degrees * 1e10).round() / 1e10;
    let (lat, lon) = (rounded(position.latitude().degrees()), rounded(position.longitude().degrees()));
    Position::from_degrees(lat, lon).map_or((0, 0), point_key)
}
