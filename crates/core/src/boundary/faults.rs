//! From what building has found to a fault with its place.

use super::build::EdgeName;
use super::near::Pair;
use super::order::uncrossed_order;
use super::outline::NoOutline;
use super::piece::Piece;
use super::ring::{CleanRing, RingFault, point_key};
use super::{BoundaryFault, InvalidBoundary, PartSpec, PositionText, RingSpec};
use crate::geodesic::{Vector, from_earth_centred};

/// Which part and ring a ring is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct RingName {
    pub(super) part: usize,
    pub(super) ring: usize,
}

impl RingName {
    pub(super) fn is_hole(self) -> bool {
        self.ring > 0
    }

    pub(super) fn fault(self, (vertex, fault): RingFault) -> InvalidBoundary {
        InvalidBoundary { part: self.part, ring: self.ring, vertex, fault }
    }
}

impl EdgeName {
    fn ring_name(self) -> RingName {
        RingName { part: self.part, ring: self.ring }
    }

    /// The fault of an edge that runs together with another so that the sides are left open.
    pub(super) fn unsettled(self, near: Vector) -> InvalidBoundary {
        let near = PositionText(from_earth_centred(near));
        self.ring_name().fault((Some(self.vertex), BoundaryFault::Unsettled { near }))
    }
}

const HOLE_OUTSIDE: &str = "a hole lies outside its outer ring, or overlaps another hole";
const NOTHING_LEFT: &str = "a hole takes away the whole of its outer ring, so that nothing is left; \
                            leave the hole out, or the part";

/// What is needed to name a place in the terms of what was given.
#[derive(Debug, Clone, Copy)]
pub(super) struct Faults<'a> {
    pub(super) names: &'a [RingName],
    pub(super) parts: &'a [PartSpec],
}

impl Faults<'_> {
    /// Two edges of one part that cross.
    pub(super) fn crossing(&self, edges: &[EdgeName], pair: &Pair, pieces: &[Piece]) -> InvalidBoundary {
        let [a, b] = pair.pieces.map(|piece| &pieces[piece as usize]);
        self.met(edges, [a.edge, b.edge], a.at(pair.meeting.shares[0]))
    }

    fn met(&self, edges: &[EdgeName], numbers: [u32; 2], near: Vector) -> InvalidBoundary {
        let [one, other] =
            [numbers[0].min(numbers[1]), numbers[0].max(numbers[1])].map(|n| edges[n as usize]);
        let name = one.ring_name();
        let near = PositionText(from_earth_centred(near));
        if name != other.ring_name() {
            let fault = BoundaryFault::RingsCross { part: other.part, ring: other.ring, near };
            return name.fault((Some(one.vertex), fault));
        }
        let order = self.ring_of(name).and_then(uncrossed_order);
        name.fault((Some(one.vertex), BoundaryFault::SelfCrossing { other: other.vertex, near, order }))
    }

    fn ring_of(&self, name: RingName) -> Option<&RingSpec> {
        match self.parts.get(name.part)? {
            PartSpec::Polygon { exterior, holes } => std::iter::once(exterior).chain(holes).nth(name.ring),
            PartSpec::Circle { .. } => None,
        }
    }

    /// Rings that make no outline.
    pub(super) fn no_outline(
        &self,
        why: NoOutline,
        (rings, edges): (&[CleanRing], &[EdgeName]),
        (found, pieces): (&[Pair], &[Piece]),
    ) -> InvalidBoundary {
        match why {
            NoOutline::Open { edge, near } => edges[edge as usize].unsettled(near),
            NoOutline::Nothing { ring } => {
                let name = self.names[ring];
                let has_hole = self.names.iter().find(|other| other.part == name.part && other.is_hole());
                match has_hole {
                    Some(hole) => hole.fault((None, BoundaryFault::Nesting(NOTHING_LEFT))),
                    None => name.fault((None, BoundaryFault::NoArea)),
                }
            }
            NoOutline::Contradiction { ring, edge, near } => {
                let name = self.names[ring];
                if let Some(fault) = passed_twice(&rings[ring]) {
                    return name.fault(fault);
                }
                let of = |piece: u32| edges[pieces[piece as usize].edge as usize];
                let met_itself = found.iter().find(|pair| {
                    let [one, other] = pair.pieces.map(of);
                    one.ring_name() == name && other.ring_name() == name && one.vertex != other.vertex
                });
                if let Some(pair) = met_itself {
                    return self.crossing(edges, pair, pieces);
                }
                let hole = self.names.iter().rfind(|other| other.part == name.part && other.is_hole());
                match hole {
                    Some(hole) => {
                        let hole = if name.is_hole() { name } else { *hole };
                        hole.fault((None, BoundaryFault::Nesting(HOLE_OUTSIDE)))
                    }
                    None => edges[edge as usize].unsettled(near),
                }
            }
        }
    }
}

/// The first vertex that a ring passes twice, if any.
fn passed_twice(ring: &CleanRing) -> Option<RingFault> {
    let mut edges: Vec<_> = ring.edges.iter().collect();
    edges.sort_by_key(|edge| (point_key(edge.from), edge.vertex));
    let twice = edges.windows(2).filter(|pair| point_key(pair[0].from) == point_key(pair[1].from));
    let first = twice.min_by_key(|pair| pair[0].vertex)?;
    Some((Some(first[0].vertex), BoundaryFault::RepeatedVertex { other: first[1].vertex }))
}

/// A vertex that a ring passes twice with lines of the outline leaving it both times: the ring has two lobes there, and
/// which of them are inside is not settled.
pub(super) fn pinch(ring: &CleanRing, first_edge: u32, leaves: impl Fn(u32) -> bool) -> Option<RingFault> {
    let kept = |edge: u32| leaves(first_edge + edge);
    let edges = (0..).zip(&ring.edges).filter(|(at, _)| kept(*at)).map(|(_, edge)| *edge).collect();
    passed_twice(&CleanRing { edges })
}
