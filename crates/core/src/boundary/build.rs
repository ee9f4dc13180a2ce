//! From parts as given to indexed lines: clean, cut, turn, take out seams, check.

use super::crossing;
use super::edge::{EdgeReading, check_radius};
use super::invalid::PositionText;
use super::lines::Lines;
use super::order::uncrossed_order;
use super::parity::inside_by_parity;
use super::piece::Piece;
use super::ring::{CleanRing, CutRing, RingFault, same_point};
use super::seam::{seams, split_at_180};
use super::whole::Circle;
use super::{BoundaryFault, InvalidBoundary, PartSpec, RingSpec};
use crate::geodesic::{Vector, from_earth_centred, inverse};

/// Readings of unstated edges that differ by less than this are not told apart; the gap counts as doubt whole.
const SMALL_GAP_M: f64 = 0.05;

/// Nearer to another ring than this, in metres, a place tells nothing about which side of it a ring is on.
const CLEAR_M: f64 = 0.1;

/// Which edge a piece belongs to, in the terms of what was given.
#[derive(Debug, Clone, Copy)]
pub(super) struct EdgeName {
    pub(super) part: usize,
    pub(super) ring: usize,
    pub(super) vertex: usize,
    pub(super) misfit_m: f64,
}

#[derive(Debug)]
pub(super) struct Built {
    pub(super) readings: Vec<(EdgeReading, Lines)>,
    pub(super) circles: Vec<Circle>,
    pub(super) edges: Vec<EdgeName>,
    pub(super) small_gap_m: f64,
    pub(super) perimeter_m: f64,
}

/// Which part and ring a ring is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct RingName {
    part: usize,
    ring: usize,
}

impl RingName {
    fn is_hole(self) -> bool {
        self.ring > 0
    }

    fn fault(self, (vertex, fault): RingFault) -> InvalidBoundary {
        InvalidBoundary { part: self.part, ring: self.ring, vertex, fault }
    }
}

pub(super) fn build(parts: &[PartSpec]) -> Result<Built, InvalidBoundary> {
    if parts.is_empty() {
        return Err(RingName { part: 0, ring: 0 }.fault((None, BoundaryFault::Empty)));
    }
    let circles = circles(parts)?;
    let (names, mut rings) = clean_rings(parts)?;
    split_at_180(&mut rings);
    let mut gap_m: f64 = 0.0;
    for (name, ring) in names.iter().zip(&rings) {
        gap_m = gap_m.max(ring.reading_gap_m(SMALL_GAP_M).map_err(|fault| name.fault(fault))?);
    }
    let wanted = if gap_m > SMALL_GAP_M { &EdgeReading::ALL[..] } else { &EdgeReading::ALL[..1] };
    let mut built = Built {
        readings: Vec::new(),
        edges: Vec::new(),
        small_gap_m: if gap_m > SMALL_GAP_M { 0.0 } else { gap_m },
        perimeter_m: circles.iter().map(Circle::perimeter_m).sum(),
        circles,
    };
    for reading in wanted {
        let under = UnderReading::new(&names, &rings, *reading, parts)?;
        if built.readings.is_empty() {
            built.perimeter_m += under.perimeter_m;
            built.edges = under.edges;
        }
        built.readings.push((*reading, under.lines));
    }
    Ok(built)
}

fn circles(parts: &[PartSpec]) -> Result<Vec<Circle>, InvalidBoundary> {
    let mut circles = Vec::new();
    for (part, spec) in parts.iter().enumerate() {
        if let PartSpec::Circle { centre, radius } = spec {
            check_radius(radius.metres()).map_err(|fault| RingName { part, ring: 0 }.fault((None, fault)))?;
            circles.push(Circle { centre: *centre, radius_m: radius.metres() });
        }
    }
    Ok(circles)
}

fn clean_rings(parts: &[PartSpec]) -> Result<(Vec<RingName>, Vec<CleanRing>), InvalidBoundary> {
    let mut names = Vec::new();
    let mut rings = Vec::new();
    for (part, spec) in parts.iter().enumerate() {
        if let PartSpec::Polygon { exterior, holes } = spec {
            for (ring, spec) in std::iter::once(exterior).chain(holes).enumerate() {
                let name = RingName { part, ring };
                rings.push(CleanRing::new(spec).map_err(|fault| name.fault(fault))?);
                names.push(name);
            }
        }
    }
    Ok((names, rings))
}

/// Everything built under one reading of the unstated edges.
struct UnderReading {
    lines: Lines,
    edges: Vec<EdgeName>,
    perimeter_m: f64,
}

impl UnderReading {
    fn new(
        names: &[RingName],
        rings: &[CleanRing],
        reading: EdgeReading,
        parts: &[PartSpec],
    ) -> Result<Self, InvalidBoundary> {
        let (mut cut, edges) = cut_rings(names, rings, reading)?;
        let whole = Lines::new(cut.iter().map(|ring| ring.pieces.clone()).collect());
        if let Some(found) = crossing::find(&whole) {
            return Err(crossing_fault(&edges, found, parts));
        }
        let mut reversed = Vec::with_capacity(cut.len());
        let mut perimeter_m = 0.0;
        for (name, ring) in names.iter().zip(&mut cut) {
            let Some(turns_left) = ring.turns_left() else {
                return Err(name.fault((None, BoundaryFault::NoArea)));
            };
            let turn = turns_left == name.is_hole();
            if turn {
                ring.reverse();
            }
            reversed.push(turn);
            perimeter_m += ring.perimeter_m();
        }
        check_nesting(names, &cut)?;
        let is_seam = seams(rings, &reversed);
        check_pinches(names, rings, &is_seam)?;
        let lines = if is_seam.contains(&true) {
            let kept = |ring: CutRing| ring.pieces.into_iter().filter(|piece| !is_seam[piece.edge as usize]);
            Lines::new(cut.into_iter().map(|ring| kept(ring).collect()).collect())
        } else {
            Lines::new(cut.into_iter().map(|ring| ring.pieces).collect())
        };
        Ok(Self { lines, edges, perimeter_m })
    }
}

fn cut_rings(
    names: &[RingName],
    rings: &[CleanRing],
    reading: EdgeReading,
) -> Result<(Vec<CutRing>, Vec<EdgeName>), InvalidBoundary> {
    let mut cut = Vec::with_capacity(rings.len());
    let mut edges = Vec::new();
    for (name, ring) in names.iter().zip(rings) {
        let first = u32::try_from(edges.len()).unwrap_or(u32::MAX);
        let pieces = ring.pieces(reading, first).map_err(|fault| name.fault(fault))?;
        edges.extend(ring.edges.iter().zip(&pieces.misfits_m).map(|(edge, misfit_m)| EdgeName {
            part: name.part,
            ring: name.ring,
            vertex: edge.vertex,
            misfit_m: *misfit_m,
        }));
        cut.push(pieces);
    }
    Ok((cut, edges))
}

fn crossing_fault(edges: &[EdgeName], found: crossing::Crossing, parts: &[PartSpec]) -> InvalidBoundary {
    let (one, other) = (edges[found.edge as usize], edges[found.other_edge as usize]);
    let name = RingName { part: one.part, ring: one.ring };
    let near = PositionText(found.near);
    if (one.part, one.ring) != (other.part, other.ring) {
        let fault = BoundaryFault::RingsCross { part: other.part, ring: other.ring, near };
        return name.fault((Some(one.vertex), fault));
    }
    let order = ring_of(parts, name).and_then(uncrossed_order);
    name.fault((Some(one.vertex), BoundaryFault::SelfCrossing { other: other.vertex, near, order }))
}

fn ring_of(parts: &[PartSpec], name: RingName) -> Option<&RingSpec> {
    match parts.get(name.part)? {
        PartSpec::Polygon { exterior, holes } => std::iter::once(exterior).chain(holes).nth(name.ring),
        PartSpec::Circle { .. } => None,
    }
}

/// A ring that passes one of its own vertices twice has two lobes, and which of them are inside is not settled.
fn check_pinches(names: &[RingName], rings: &[CleanRing], is_seam: &[bool]) -> Result<(), InvalidBoundary> {
    let mut first = 0;
    for (name, ring) in names.iter().zip(rings) {
        let mut kept: Vec<_> = ring
            .edges
            .iter()
            .enumerate()
            .filter(|(at, _)| !is_seam[first + at])
            .map(|(_, edge)| edge)
            .collect();
        first += ring.edges.len();
        kept.sort_by_key(|edge| super::ring::point_key(edge.from));
        if let Some(twice) = kept.windows(2).find(|pair| same_point(pair[0].from, pair[1].from)) {
            let fault = BoundaryFault::RepeatedVertex { other: twice[1].vertex };
            return Err(name.fault((Some(twice[0].vertex), fault)));
        }
    }
    Ok(())
}

/// Holes lie inside their outer ring and parts outside each other. Rings do not cross but may share vertices, so
/// places all over a ring are looked at.
fn check_nesting(names: &[RingName], cut: &[CutRing]) -> Result<(), InvalidBoundary> {
    let outer: Vec<usize> = (0..names.len()).filter(|at| names[*at].ring == 0).collect();
    for (at, name) in names.iter().enumerate() {
        for &other in outer.iter().filter(|other| **other != at) {
            let own = names[other].part == name.part;
            if !own && (name.ring > 0 || !boxes_meet(&cut[at].pieces, &cut[other].pieces)) {
                continue;
            }
            let places = clear_places(&cut[at].pieces, &cut[other].pieces);
            let inside = |place: &Vector| inside_by_parity(from_earth_centred(*place), &cut[other].pieces);
            if own && places.iter().any(|place| !inside(place)) {
                return Err(name.fault((None, BoundaryFault::Nesting("a hole lies outside its outer ring"))));
            }
            let overlaps = |place: &Vector| inside(place) && !in_a_hole(names, cut, place, other);
            if !own && places.iter().any(overlaps) {
                let fault = BoundaryFault::Nesting(
                    "the part lies inside another part or overlaps it; if it is a hole, write it as an inner ring",
                );
                return Err(name.fault((None, fault)));
            }
        }
    }
    Ok(())
}

fn in_a_hole(names: &[RingName], cut: &[CutRing], place: &Vector, outer: usize) -> bool {
    (0..names.len())
        .filter(|hole| names[*hole].part == names[outer].part && names[*hole].is_hole())
        // a hole is walked with the zone on its left
        .any(|hole| !inside_by_parity(from_earth_centred(*place), &cut[hole].pieces))
}

/// Places of a ring, at most some 130 spread over it, that lie clear of another ring.
fn clear_places(ring: &[Piece], other: &[Piece]) -> Vec<Vector> {
    let stride = ring.len().div_ceil(64).max(1);
    let places = ring.iter().step_by(stride).flat_map(|piece| [piece.start, piece.at(0.5)]);
    let is_clear =
        |place: &Vector| other.iter().all(|piece| (piece.foot(*place).point - *place).norm() > CLEAR_M);
    places.filter(is_clear).collect()
}

fn boxes_meet(a: &[Piece], b: &[Piece]) -> bool {
    let bounds = |pieces: &[Piece]| {
        pieces.iter().fold(([f64::MAX; 3], [f64::MIN; 3]), |(mut low, mut high), piece| {
            for (axis, value) in piece.start.to_array().into_iter().enumerate() {
                low[axis] = low[axis].min(value - 2_100.0);
                high[axis] = high[axis].max(value + 2_100.0);
            }
            (low, high)
        })
    };
    let ((a_low, a_high), (b_low, b_high)) = (bounds(a), bounds(b));
    (0..3).all(|axis| a_low[axis] <= b_high[axis] && b_low[axis] <= a_high[axis])
}

impl Circle {
    /// Area by the pieces of a 720-sided ring and the bulges between them; exact to 1e-9 of the area.
    pub(super) fn area_m2(&self) -> f64 {
        self.sampled().0
    }

    fn perimeter_m(&self) -> f64 {
        self.sampled().1
    }

    fn sampled(&self) -> (f64, f64) {
        let sides = 720_u32;
        let at = |side: u32| {
            crate::geodesic::direct(self.centre, f64::from(side) * 360.0 / f64::from(sides), self.radius_m)
        };
        let polygon_m2 = crate::geodesic::area_of((0..sides).map(at)).abs();
        let polygon_m: f64 = (0..sides).map(|side| inverse(at(side), at(side + 1)).distance_m).sum();
        // sector over triangle: the shares of a regular polygon in its circle, for radii small against the Earth's
        let angle = std::f64::consts::TAU / f64::from(sides);
        (polygon_m2 * angle / angle.sin(), polygon_m * (angle / 2.0) / (angle / 2.0).sin())
    }
}
